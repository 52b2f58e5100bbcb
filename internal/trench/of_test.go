package trench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func readPlan(t testing.TB, name string) *plan.Plan {
	t.Helper()
	doc, err := os.ReadFile("../../testdata/plans/" + name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// drawing is a plan drawn by a few calls.
type drawing struct{ *plan.Plan }

func draw() drawing {
	return drawing{&plan.Plan{
		Show: units.US, Areas: map[plan.ID]plan.Area{}, Nodes: map[plan.ID]plan.Node{}, Pipes: map[plan.ID]plan.Pipe{},
		Sleeves: map[plan.ID]plan.Sleeve{}, Wires: map[plan.ID]plan.WireRun{}, Zones: map[plan.ID]plan.Zone{},
		Trees: map[plan.ID]plan.Tree{}, Boxes: map[plan.ID]plan.Box{}, Sensors: map[plan.ID]plan.Sensor{},
	}}
}

func vertices(xy ...float64) []geom.Vertex {
	var out []geom.Vertex
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, geom.Vertex{X: xy[i], Y: xy[i+1]})
	}
	return out
}

func (d drawing) area(id plan.ID, kind plan.Kind, x0, y0, x1, y1 float64) {
	d.Areas[id] = plan.Area{Name: string(id), Kind: kind, Outline: vertices(x0, y0, x1, y0, x1, y1, x0, y1), Status: plan.Existing}
}

// node places a joint of some kind; the id of a valve is its zone's with a v.
func (d drawing) node(id plan.ID, kind string, x, y float64, zone plan.ID) {
	d.Nodes[id] = plan.Node{Kind: kind, X: units.Feet(x), Y: units.Feet(y), Zone: zone}
	if kind == "valve" {
		d.Zones[zone] = plan.Zone{Name: string(zone), Station: len(d.Zones) + 1, ValveAt: &plan.Spot{X: units.Feet(x), Y: units.Feet(y)}}
	}
}

func (d drawing) pipe(id, from, to, zone plan.ID, size units.Inches, via ...float64) {
	d.Pipes[id] = plan.Pipe{From: from, To: to, Zone: zone, NominalIn: size, Via: vertices(via...)}
}

func (d drawing) sleeve(id plan.ID, carries string, size units.Inches, x0, y0, x1, y1 float64) {
	d.Sleeves[id] = plan.Sleeve{From: plan.Spot{X: units.Feet(x0), Y: units.Feet(y0)}, To: plan.Spot{X: units.Feet(x1), Y: units.Feet(y1)}, NominalIn: size, Carries: carries}
}

func (d drawing) dug() *Digs { return Of(d.Plan, pipework.Of(d.Plan)) }

// yardAtRandom has ground of every kind in layers, pipes that share trenches for
// part of their way, and wire beside them.
func yardAtRandom(rng *rand.Rand, heads int) drawing {
	d := draw()
	side := 20 + 4*math.Sqrt(float64(heads))*3
	at := func() float64 { return math.Round(rng.Float64()*side*4) / 4 }
	d.Site.Lot = vertices(0, 0, side, 0, side, side, 0, side)
	d.area("lawn", plan.Planting, 2, 2, side-2, side-2)
	for i := range 3 + rng.IntN(6) {
		kind := []plan.Kind{plan.Planting, plan.Paving, plan.Building, plan.NoDig, plan.Ground, plan.Water, plan.RightOfWay}[rng.IntN(7)]
		x, y := at(), at()
		d.area(plan.ID(fmt.Sprintf("a%d", i)), kind, x, y, x+2+rng.Float64()*side/4, y+2+rng.Float64()*side/4)
		a := d.Areas[plan.ID(fmt.Sprintf("a%d", i))]
		a.Planting = []plan.Cover{plan.Turf, plan.Shrubs}[rng.IntN(2)]
		if w, h := a.Outline[2].X-a.Outline[0].X, a.Outline[2].Y-a.Outline[0].Y; rng.IntN(3) == 0 && w > 4 && h > 4 {
			a.Holes = []geom.Outline{vertices(x+1, y+1, x+w-1, y+1, x+w-1, y+h-1, x+1, y+h-1)}
		}
		d.Areas[plan.ID(fmt.Sprintf("a%d", i))] = a
	}
	for i := range rng.IntN(3) {
		d.Trees[plan.ID(fmt.Sprintf("t%d", i))] = plan.Tree{X: units.Feet(at()), Y: units.Feet(at()), TrunkIn: 8, RootZoneFt: units.Feet(rng.IntN(12))}
	}
	d.node("c", "connection", at(), at(), "")
	valves := 1 + heads/12
	last := plan.ID("c")
	for z := range valves {
		zone, v := plan.ID(fmt.Sprintf("z%d", z)), plan.ID(fmt.Sprintf("v%d", z))
		d.node(v, "valve", at(), at(), zone)
		d.pipe(plan.ID(fmt.Sprintf("m%d", z)), last, v, "", 1.25, at(), at())
		last = v
		from := v
		for h := range heads / valves {
			n := plan.ID(fmt.Sprintf("n%d-%d", z, h))
			x, y := at(), at()
			var via []float64
			if h > 0 && rng.IntN(2) == 0 { // along the pipe before, a few inches beside it
				b := d.Nodes[from]
				off := rng.Float64() * 0.6
				x, y = float64(b.X)+off, at()
				via = []float64{float64(b.X) + off, float64(b.Y) + 1}
			}
			d.node(n, "joint", x, y, zone)
			d.pipe(plan.ID(fmt.Sprintf("p%d-%d", z, h)), from, n, zone, 0.75, via...)
			if rng.IntN(3) > 0 {
				from = n
			}
		}
	}
	d.Controller = plan.Controller{At: &plan.Spot{X: d.Nodes["c"].X + 2, Y: d.Nodes["c"].Y}}
	c := d.Nodes["c"]
	d.Wires["w"] = plan.WireRun{Line: vertices(float64(c.X)+2, float64(c.Y), float64(c.X), float64(c.Y), at(), at())}
	return d
}

// Every pipe's stretches are as long as the pipe, and a place anywhere along it lies
// in one of them, within a trench's width.
func TestEveryPipeLiesInItsStretches(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		d := yardAtRandom(rand.New(rand.NewPCG(seed, 1)), 3+int(seed)%30)
		net := pipework.Of(d.Plan)
		digs := Of(d.Plan, net)
		in := map[plan.ID][]Segment{}
		for _, s := range digs.Segments {
			for _, id := range s.Pipes {
				in[id] = append(in[id], s)
			}
			for _, id := range s.Wires {
				in[id] = append(in[id], s)
			}
		}
		check := func(id plan.ID, line geom.Line, length float64) {
			sum := 0.0
			for _, s := range in[id] {
				sum += float64(s.Length)
			}
			// Where it lies in another's trench at an angle, its stretch is as much shorter.
			if sum > length+0.1 || sum < length*math.Cos(alongDeg*math.Pi/180)-0.1 {
				t.Errorf("seed %d: the stretches of %s are %.3f ft, itself %.3f", seed, id, sum, length)
			}
			points := line.Points()
			for i := range points[1:] {
				a, b := points[i], points[i+1]
				n := int(math.Hypot(b[0]-a[0], b[1]-a[1])/0.37) + 1
				for k := range n {
					f := (float64(k) + 0.5) / float64(n)
					at := orb.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])}
					if !slices.ContainsFunc(in[id], func(s Segment) bool {
						q := geom.NearestOnSegment(at, s.From, s.To)
						return math.Hypot(q[0]-at[0], q[1]-at[1]) <= 4.0/12+2*tiny
					}) {
						t.Fatalf("seed %d: %s lies in no stretch at %v", seed, id, at)
					}
				}
			}
		}
		for _, id := range plan.SortedIDs(net.Pipes) {
			check(id, pipework.LineOf(d.Plan, d.Pipes[id]), float64(net.Pipes[id].Length))
		}
		check("w", d.Wires["w"].Line, d.Wires["w"].Line.Length())
	}
}

// What is dug does not depend on how often it is asked, nor on the order of maps.
func TestDigsAreTheSameEachTime(t *testing.T) {
	t.Parallel()
	d := yardAtRandom(rand.New(rand.NewPCG(5, 3)), 60)
	want := d.dug()
	for range 20 {
		if diff := cmp.Diff(want, d.dug()); diff != "" {
			t.Fatal(diff)
		}
	}
}

// A lateral 3 in beside the main lies in its trench for as long as it does, one 5 in
// off or across it in its own.
func TestPipesShareATrenchWithinItsWidth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		off, long float64 // of the lateral beside the main of 20 ft: how far off, how long
		trench    float64
	}{{0, 20, 20}, {0.25, 20, 20}, {0.33, 12, 20}, {0.42, 20, 40}, {0, 30, 30}, {0.25, 30, 30}} {
		d := draw()
		d.node("c", "connection", 0, 0, "")
		d.node("v1", "valve", 20, 0, "z1")
		d.node("e", "joint", 20-c.long, c.off, "z1")
		d.pipe("m", "c", "v1", "", 1)
		d.pipe("l", "v1", "e", "z1", 0.75, 20, c.off)
		digs := d.dug()
		if got := float64(digs.Totals.Trench); math.Abs(got-c.trench) > c.off+0.05 {
			t.Errorf("%v ft beside the main for %v ft: %.2f ft of trench, want %v", c.off, c.long, got, c.trench)
		}
		for _, s := range digs.Segments {
			if want := units.Inches(16); s.Main && s.Cover != want || !s.Main && s.Cover != 10 {
				t.Errorf("%v: cover %v", s, s.Cover)
			}
		}
	}
}

// Of what is there already nothing is dug, but for a new valve's wire.
func TestOnlyTheNewIsDug(t *testing.T) {
	t.Parallel()
	d := draw()
	d.node("c", "connection", 0, 0, "")
	d.node("v1", "valve", 20, 0, "z1")
	d.node("e", "joint", 40, 0, "z1")
	d.pipe("m", "c", "v1", "", 1)
	d.pipe("l", "v1", "e", "z1", 0.75)
	for id, v := range d.Pipes {
		v.Status = plan.Existing
		d.Pipes[id] = v
	}
	z := d.Zones["z1"]
	z.Status = plan.Existing
	d.Zones["z1"] = z
	d.Controller = plan.Controller{At: &plan.Spot{X: 0, Y: 0.5}}
	if got := d.dug().Totals.Trench; got != 0 {
		t.Errorf("all there: %v ft of trench", got)
	}
	z.Status = plan.New
	d.Zones["z1"] = z
	if got := d.dug().Totals.Trench; got != 20 {
		t.Errorf("a new valve on it: %v ft of trench, want 20 for its wire", got)
	}
	d.Wires["w"] = plan.WireRun{Line: vertices(0, 0, 20, 0), Status: plan.Existing}
	if got := d.dug().Totals.Trench; got != 0 {
		t.Errorf("with wire there: %v ft of trench", got)
	}
	l := d.Pipes["l"]
	l.Status = plan.Remove
	d.Pipes["l"] = l
	if got := d.dug(); slices.ContainsFunc(got.Segments, func(s Segment) bool { return slices.Contains(s.Pipes, "l") }) {
		t.Error("a pipe that goes lies in a trench")
	}
}

func TestSpoilIsWidthTimesDepth(t *testing.T) {
	t.Parallel()
	d := draw()
	d.node("c", "connection", 0, 0, "")
	d.node("e", "joint", 27, 0, "")
	d.pipe("m", "c", "e", "", 2)
	// 27 ft x 4 in x (16 in over a pipe of 2 in) = 27 · 1/3 · 3/2 ft³ = 1/2 yd³
	if got := d.dug().Totals.Spoil; math.Abs(got-0.5) > 1e-9 {
		t.Errorf("%v yd³, want 0.5", got)
	}
}
