package trench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func TestValvesThatStandTogetherShareABox(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		valves []float64 // x, by station
		want   string
	}{
		{"one", []float64{0}, "round_10[z1]"},
		{"two", []float64{0, 2}, "standard[z1 z2]"},
		{"three", []float64{0, 2, 4}, "standard[z1 z2 z3]"},
		{"five", []float64{0, 1, 2, 3, 4}, "jumbo[z1 z2 z3 z4 z5]"},
		{"six", []float64{0, 0.5, 1, 1.5, 2, 2.5}, "jumbo[z1 z2 z3 z4 z5] round_10[z6]"},
		{"a row 3 ft apart", []float64{0, 3, 6}, "standard[z1 z2] round_10[z3]"},
		{"far apart", []float64{0, 5}, "round_10[z1] round_10[z2]"},
	} {
		d := draw()
		for i, x := range c.valves {
			d.node(plan.ID(fmt.Sprintf("v%d", i+1)), "valve", x, 0, plan.ID(fmt.Sprintf("z%d", i+1)))
		}
		var got []string
		for _, b := range d.dug().Boxes {
			got = append(got, fmt.Sprintf("%s%v", b.Kind, b.Zones))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: %v, want %s", c.name, got, c.want)
		}
	}
}

// A valve that is there has its box already; a new one beside it gets another.
func TestOldAndNewValvesHaveTheirOwnBoxes(t *testing.T) {
	t.Parallel()
	d := draw()
	d.node("v1", "valve", 0, 0, "z1")
	d.node("v2", "valve", 1, 0, "z2")
	z := d.Zones["z1"]
	z.Status = plan.Existing
	d.Zones["z1"] = z
	d.Boxes["b"] = plan.Box{X: 9, Y: 9}
	got := d.dug().Boxes
	if len(got) != 3 || got[0].New || !got[1].New || got[2].Kind != SpliceBox || got[2].Drawn != "b" {
		t.Errorf("%+v", got)
	}
}

// house has a controller in a house of x 0 to 20, y 0 to 20, a main going east 5 ft
// south of it to a valve at 30, and a lateral on to 40.
func house() drawing {
	d := draw()
	d.area("house", plan.Building, 0, 0, 20, 20)
	d.node("c", "connection", -10, -5, "")
	d.node("v1", "valve", 30, -5, "z1")
	d.node("e", "joint", 40, -5, "z1")
	d.pipe("m", "c", "v1", "", 1)
	d.pipe("l", "v1", "e", "z1", 0.75)
	d.Controller = plan.Controller{At: &plan.Spot{X: 10, Y: 10}}
	return d
}

func TestWaysOfWire(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		draw    func(drawing)
		length  float64
		missing string
		from    orb.Point
	}{
		{"from the wall to the main", func(d drawing) { d.Wires["w"] = plan.WireRun{Line: vertices(15, -0.5, 15, -4.5)} }, math.Hypot(5, 10.5) + 4 + 0.5 + 15, "", orb.Point{}},
		{"from the controller itself", func(d drawing) { d.Wires["w"] = plan.WireRun{Line: vertices(10, 10, 10, -5)} }, 15 + 20, "", orb.Point{}},
		{"clipped indoors, then out", func(d drawing) {
			d.Wires["w"] = plan.WireRun{Line: vertices(10, 10, 20, 10), Lay: "building"}
			d.Wires["x"] = plan.WireRun{Line: vertices(20, 10, 30, 10, 30, -5)}
		}, 10 + 10 + 15, "", orb.Point{}},
		{"all the way to the valve's box", func(d drawing) { d.Wires["w"] = plan.WireRun{Line: vertices(10, 10, 30, -4.2)} }, math.Hypot(20, 14.2) + 0.8, "", orb.Point{}},
		{"no run", func(drawing) {}, 0, "no wire run leads from the controller to the trench", orb.Point{10, 10}},
		{"a run that ends short of the trench", func(d drawing) { d.Wires["w"] = plan.WireRun{Line: vertices(15, 0, 15, -3)} }, 0, "neither trench nor wire run leads on from", orb.Point{15, -3}},
		{"no controller", func(d drawing) { d.Controller.At = nil }, 0, "the controller has no place on the plan", orb.Point{30, -5}},
		{"no place for the valve", func(d drawing) {
			delete(d.Pipes, "l")
			delete(d.Pipes, "m")
			delete(d.Nodes, "v1")
			z := d.Zones["z1"]
			z.ValveAt = nil
			d.Zones["z1"] = z
		}, 0, "its valve has no place on the plan", orb.Point{10, 10}},
		{"nothing drawn", func(d drawing) { clear(d.Pipes) }, 0, "no pipe and no wire run is drawn", orb.Point{10, 10}},
	} {
		d := house()
		c.draw(d)
		digs := d.dug()
		w := digs.Ways[0]
		if w.To != "zones/z1" || !strings.HasPrefix(w.Missing, c.missing) || (c.missing == "") != (w.Missing == "") {
			t.Errorf("%s: %+v, want missing %q", c.name, w, c.missing)
		}
		if math.Abs(float64(w.Length)-c.length) > 0.01 || w.From != c.from {
			t.Errorf("%s: %.3f ft from %v, want %.3f from %v", c.name, w.Length, w.From, c.length, c.from)
		}
	}
}

// Wire is led with the main rather than a little shorter with laterals.
func TestWireKeepsToTheMain(t *testing.T) {
	t.Parallel()
	d := draw()
	d.node("c", "connection", 0, 0, "")
	d.node("v1", "valve", 30, 0, "z1")
	d.node("a", "joint", 1, 1, "z1")
	d.pipe("m", "c", "v1", "", 1, 0, -3, 30, -3)
	d.pipe("l", "v1", "a", "z1", 0.75)
	d.Controller = plan.Controller{At: &plan.Spot{X: 0, Y: 0.5}}
	digs := d.dug()
	for _, i := range digs.Ways[0].Segments {
		if !digs.Segments[i].Main {
			t.Errorf("wire goes by %v", digs.Segments[i].Pipes)
		}
	}
}

func TestSensorsAndMasterValveHaveTheirWays(t *testing.T) {
	t.Parallel()
	d := house()
	d.Wires["w"] = plan.WireRun{Line: vertices(10, 10, 10, -5)}
	d.Sensors["rain"] = plan.Sensor{Kind: "rain", X: 20.5, Y: 10}
	d.Sensors["radio"] = plan.Sensor{Kind: "rain", X: 20, Y: 0, Wireless: true}
	d.Sensors["soil"] = plan.Sensor{Kind: "soil", X: 40, Y: -4.5}
	digs := d.dug()
	var got []string
	for _, w := range digs.Ways {
		got = append(got, fmt.Sprintf("%s %.1f", w.To, float64(w.Length)))
	}
	if want := []string{"zones/z1 35.0", "sensors/rain 10.5", "sensors/soil 45.5"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Each way is a chain of segments from the controller on, no longer than its parts
// and the steps between them, and every segment knows of it.
func TestWaysAreWhole(t *testing.T) {
	t.Parallel()
	found := 0
	for seed := range uint64(60) {
		d := yardAtRandom(rand.New(rand.NewPCG(seed, 4)), 5+int(seed)%40)
		digs := d.dug()
		for i, w := range digs.Ways {
			if w.Missing != "" {
				continue
			}
			found++
			sum := units.Feet(0)
			at := orb.Point{float64(d.Controller.At.X), float64(d.Controller.At.Y)}
			for _, k := range w.Segments {
				s := digs.Segments[k]
				sum += s.Length
				a, b := math.Hypot(s.From[0]-at[0], s.From[1]-at[1]), math.Hypot(s.To[0]-at[0], s.To[1]-at[1])
				if min(a, b) > 2*joinReach+0.5 {
					t.Fatalf("seed %d: from %v the way of %s goes on at %v", seed, at, w.To, s)
				}
				if at = s.To; b < a {
					at = s.From
				}
				if !slices.Contains(s.Ways, i) {
					t.Fatalf("seed %d: %v does not know of way %d", seed, s, i)
				}
			}
			if w.Length < sum-1e-9 || w.Length > sum+20 {
				t.Errorf("seed %d: the way of %s is %v ft, its segments %v", seed, w.To, w.Length, sum)
			}
		}
	}
	if found < 30 {
		t.Errorf("%d ways only", found)
	}
}
