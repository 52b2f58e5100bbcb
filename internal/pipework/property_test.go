package pipework

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// drawnTree is a random tree from a connection: main, valves, laterals and heads,
// with pipes drawn either way round and their ids in no order.
func drawnTree(t *rapid.T) *plan.Plan {
	p := &plan.Plan{
		Zones: map[plan.ID]plan.Zone{}, Heads: map[plan.ID]plan.Head{}, Bodies: map[plan.ID]catalog.Body{"b": {InletIn: 0.5}},
		Nodes: map[plan.ID]plan.Node{"n0": {Kind: "connection"}}, Pipes: map[plan.ID]plan.Pipe{},
	}
	n := rapid.IntRange(1, 40).Draw(t, "pipes")
	names := rapid.Permutation(slices.Collect(func(yield func(int) bool) {
		for i := range n {
			if !yield(i) {
				return
			}
		}
	})).Draw(t, "names")
	zoneOf := []plan.ID{""}
	for i := 1; i <= n; i++ {
		on := rapid.IntRange(0, i-1).Draw(t, "on")
		up, id := plan.ID(fmt.Sprintf("n%d", on)), plan.ID(fmt.Sprintf("n%d", i))
		node := plan.Node{Kind: "joint", X: place(t), Y: place(t)}
		zone := zoneOf[on]
		behind := zone // of the pipe
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			if zone == "" {
				zone = plan.ID(fmt.Sprintf("z%d", i))
				p.Zones[zone] = plan.Zone{Name: string(zone), Station: i}
				node.Kind, node.Zone = "valve", zone
			}
		case 1:
			if zone != "" {
				h := plan.ID(fmt.Sprintf("h%d", i))
				p.Heads[h] = plan.Head{Zone: zone, Body: "b", X: node.X, Y: node.Y}
				node.Kind, node.Head = "head", h
			}
		}
		p.Nodes[id] = node
		pipe := plan.Pipe{From: up, To: id, Zone: behind, Class: "pvc-sch40", NominalIn: rapid.SampledFrom([]units.Inches{0, 0.75, 1}).Draw(t, "size")}
		for range rapid.IntRange(0, 2).Draw(t, "corners") {
			pipe.Via = append(pipe.Via, geom.Vertex{X: float64(place(t)), Y: float64(place(t))})
		}
		if rapid.Bool().Draw(t, "reversed") {
			pipe.From, pipe.To = pipe.To, pipe.From
			slices.Reverse(pipe.Via)
		}
		p.Pipes[plan.ID(fmt.Sprintf("p%d", names[i-1]))] = pipe
		zoneOf = append(zoneOf, zone)
	}
	return p
}

func place(t *rapid.T) units.Feet { return units.Feet(rapid.IntRange(-20, 20).Draw(t, "place")) }

// straightSum adds up the lengths of all pipes, chord by chord.
func straightSum(p *plan.Plan) float64 {
	sum := 0.0
	for _, e := range p.Pipes {
		x, y := p.Nodes[e.From].X, p.Nodes[e.From].Y
		for _, v := range append(slices.Clone(e.Via), geom.Vertex{X: float64(p.Nodes[e.To].X), Y: float64(p.Nodes[e.To].Y)}) {
			sum += math.Hypot(v.X-float64(x), v.Y-float64(y))
			x, y = units.Feet(v.X), units.Feet(v.Y)
		}
	}
	return sum
}

func TestOfATreeEveryPipeIsToldOnceFromTheSource(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnTree(t)
		net := Of(p)
		if len(net.Pipes) != len(p.Pipes) || len(net.Nodes) != len(p.Nodes) || len(net.Loops) > 0 || len(net.Loose) > 0 {
			t.Fatalf("%d of %d pipes, %d of %d nodes, loops %v, loose %v", len(net.Pipes), len(p.Pipes), len(net.Nodes), len(p.Nodes), net.Loops, net.Loose)
		}
		sum, laterals := 0.0, 0
		seen := map[plan.ID]bool{}
		for _, id := range net.Order {
			node := net.Nodes[id]
			if id != net.Source {
				pipe := net.Pipes[node.Up]
				if pipe.To != id || !seen[pipe.From] {
					t.Fatalf("%s hangs on %s from %s, which was not told before", id, node.Up, pipe.From)
				}
			}
			seen[id] = true
			for _, e := range node.Down {
				if net.Pipes[e].From != id {
					t.Fatalf("%s leads down by %s, which comes from %s", id, e, net.Pipes[e].From)
				}
			}
		}
		for id, pipe := range net.Pipes {
			drawn := p.Pipes[id]
			sum += float64(pipe.Length)
			if pipe.Zone != drawn.Zone {
				t.Fatalf("%s is of %q, drawn for %q", id, pipe.Zone, drawn.Zone)
			}
			if (drawn.From == pipe.To) != pipe.Reversed {
				t.Fatalf("%s: reversed %v, drawn from %s, told to %s", id, pipe.Reversed, drawn.From, pipe.To)
			}
		}
		if want := straightSum(p); math.Abs(sum-want) > 1e-6 {
			t.Fatalf("lengths add up to %v, want %v", sum, want)
		}
		for id, z := range net.Zones {
			laterals += len(z.Pipes)
			for _, e := range z.Pipes {
				if net.Pipes[e].Zone != id || !net.Pipes[e].Valved {
					t.Fatalf("%s is not behind the valve of %s", e, id)
				}
			}
			if len(z.Unfed) > 0 || !z.Fed {
				t.Fatalf("%s: unfed %v, fed %v", id, z.Unfed, z.Fed)
			}
		}
		for _, pipe := range net.Pipes {
			if pipe.Zone == "" {
				laterals++
			}
		}
		if laterals != len(p.Pipes) {
			t.Fatalf("main and laterals are %d pipes of %d", laterals, len(p.Pipes))
		}
	})
}

// A head is fed through the pipes that lead up from it, and through no others.
func TestHeadsAreFedThroughThePipesAboveThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		net := Of(drawnTree(t))
		want := map[plan.ID][]plan.ID{}
		for h, at := range net.HeadAt {
			for at != net.Source {
				up := net.Nodes[at].Up
				want[up] = append(want[up], h)
				at = net.Pipes[up].From
			}
		}
		for id, pipe := range net.Pipes {
			got := slices.Sorted(slices.Values(pipe.Heads))
			slices.Sort(want[id])
			if !slices.Equal(got, want[id]) {
				t.Fatalf("%s feeds %v, want %v", id, got, want[id])
			}
		}
	})
}

// However a plan's pipes are numbered and turned about, the same is joined to the
// same, and the same fittings are bought.
func TestTheDrawingsOrderDecidesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnTree(t)
		again := *p
		again.Pipes = map[plan.ID]plan.Pipe{}
		for id, e := range p.Pipes {
			e.From, e.To = e.To, e.From
			e.Via = slices.Clone(e.Via)
			slices.Reverse(e.Via)
			again.Pipes["q"+id] = e
		}
		a, b := Of(p), Of(&again)
		for id := range p.Pipes {
			x, y := a.Pipes[id], b.Pipes["q"+id]
			if x.From != y.From || x.Zone != y.Zone || math.Abs(float64(x.Length-y.Length)) > 1e-9 || x.Reversed == y.Reversed {
				t.Fatalf("%s: %+v, turned about %+v", id, x, y)
			}
			if diff := cmp.Diff(kinds(x.Fittings), kinds(y.Fittings)); diff != "" {
				t.Fatalf("%s: fittings differ: %s", id, diff)
			}
		}
		for id := range p.Nodes {
			if jointsIn(a.Nodes[id].Joints) != jointsIn(b.Nodes[id].Joints) {
				t.Fatalf("%s: %q, turned about %q", id, jointsIn(a.Nodes[id].Joints), jointsIn(b.Nodes[id].Joints))
			}
		}
	})
}

func kinds(list []Fitting) map[FittingKind]int {
	out := map[FittingKind]int{}
	for _, f := range list {
		out[f.Kind]++
	}
	return out
}

// anyDrawing is pipes between any nodes, of any kinds, zones and status: loops,
// pieces by themselves, two valves of a zone, one head drawn twice.
func anyDrawing(t *rapid.T) *plan.Plan {
	p := &plan.Plan{
		Zones: map[plan.ID]plan.Zone{"z1": {}, "z2": {}}, Heads: map[plan.ID]plan.Head{"h1": {Zone: "z1"}, "h2": {Zone: "z2"}, "h3": {Status: plan.Remove}},
		Nodes: map[plan.ID]plan.Node{}, Pipes: map[plan.ID]plan.Pipe{},
	}
	status := rapid.SampledFrom([]plan.Status{"", plan.Existing, plan.Remove})
	zone := rapid.SampledFrom([]plan.ID{"", "z1", "z2"})
	n := rapid.IntRange(1, 25).Draw(t, "nodes")
	for i := range n {
		p.Nodes[plan.ID(fmt.Sprintf("n%d", i))] = plan.Node{
			Kind: rapid.SampledFrom([]string{"joint", "joint", "valve", "head", "connection", "backflow", "drain"}).Draw(t, "kind"),
			X:    place(t) / 10, Y: place(t) / 10, Zone: zone.Draw(t, "zone"), Status: status.Draw(t, "status"),
			Head: rapid.SampledFrom([]plan.ID{"", "h1", "h2", "h3"}).Draw(t, "head"),
		}
	}
	for i := range rapid.IntRange(0, 40).Draw(t, "pipes") {
		end := func() plan.ID { return plan.ID(fmt.Sprintf("n%d", rapid.IntRange(0, n-1).Draw(t, "end"))) }
		p.Pipes[plan.ID(fmt.Sprintf("p%d", i))] = plan.Pipe{
			From: end(), To: end(), Zone: zone.Draw(t, "zone"), Status: status.Draw(t, "status"),
			NominalIn: rapid.SampledFrom([]units.Inches{0, 0.5, 1}).Draw(t, "size"),
		}
	}
	return p
}

func TestWhateverIsDrawnIsToldWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { holds(t, anyDrawing(t)) })
}

// holds says what must be so of any drawing.
func holds(t interface {
	Helper()
	Fatalf(string, ...any)
}, p *plan.Plan) {
	t.Helper()
	net := Of(p)
	for _, f := range Check(p, net) {
		if f.Sentence == "" || len(f.About) == 0 || f.At == nil {
			t.Fatalf("%s: %q about %v at %v", f.Code, f.Sentence, f.About, f.At)
		}
		for _, r := range f.About {
			if c, id := r.Split(); id == "" && c != "supply" {
				t.Fatalf("%s is about %q", f.Code, r)
			}
		}
	}
	// Pieces by joining sets, which shares nothing with the tree.
	of := map[plan.ID]plan.ID{}
	var find func(id plan.ID) plan.ID
	find = func(id plan.ID) plan.ID {
		if of[id] != id {
			of[id] = find(of[id])
		}
		return of[id]
	}
	for id := range net.Nodes {
		of[id] = id
	}
	standing := 0
	for id, e := range p.Pipes {
		if e.Status.Stands() && e.From != e.To {
			standing++
			if _, told := net.Pipes[id]; !told {
				t.Fatalf("%s is not told", id)
			}
			of[find(e.From)] = find(e.To)
		}
	}
	pieces := map[plan.ID]bool{}
	for id := range net.Nodes {
		pieces[find(id)] = true
	}
	if len(net.Pipes) != standing || len(net.Loops) != standing-len(net.Nodes)+len(pieces) {
		t.Fatalf("%d pipes of %d, %d loops, want %d", len(net.Pipes), standing, len(net.Loops), standing-len(net.Nodes)+len(pieces))
	}
	down := 0
	for id, node := range net.Nodes {
		loose := net.Source == "" || find(id) != find(net.Source)
		if slices.Contains(net.Loose, id) != loose {
			t.Fatalf("%s: loose %v, want %v", id, !loose, loose)
		}
		if (node.Up == "") != (loose || id == net.Source) {
			t.Fatalf("%s hangs on %q", id, node.Up)
		}
		down += len(node.Down)
		for _, l := range node.Joints {
			if len(l.Sizes) == 0 {
				t.Fatalf("%s: a fitting of no size: %+v", id, l)
			}
		}
	}
	joined := map[plan.ID]int{}
	for id, z := range net.Zones {
		for _, e := range z.Pipes {
			joined[e]++
			if net.Pipes[e].Zone != id {
				t.Fatalf("%s is told of %s", e, id)
			}
		}
	}
	for id, e := range net.Pipes {
		if joined[id] > 1 || (joined[id] == 1) != (e.Valved && net.Zones[e.Zone].Valve != "") {
			t.Fatalf("%s is told by %d zones: %+v", id, joined[id], e)
		}
		for _, f := range e.Fittings {
			if !(f.K > 0) || math.IsInf(f.K, 0) {
				t.Fatalf("%s: %s loses %v", id, f.Kind, f.K)
			}
		}
	}
}

// shapes are drawings of n pipes that would cost the square of n if any step looked
// at all that went before.
var shapes = map[string]func(n int) *plan.Plan{
	"one long run": func(n int) *plan.Plan {
		return made(n, func(i int) (int, int, float64, float64) { return i, i + 1, float64(i), float64(i % 7) })
	},
	"all at one joint": func(n int) *plan.Plan {
		return made(n, func(i int) (int, int, float64, float64) {
			sin, cos := math.Sincos(float64(i))
			return 0, i + 1, 10 * cos, 10 * sin
		})
	},
	"the same pipe over and over": func(n int) *plan.Plan {
		return made(n, func(i int) (int, int, float64, float64) { return 0, 1, 5, 5 })
	},
	"a net of loops": func(n int) *plan.Plan {
		return made(n, func(i int) (int, int, float64, float64) {
			return i / 2, (i + 3) / 2 * (1 + i%2), float64(i % 50), float64(i / 50)
		})
	},
	"valves one behind the other": func(n int) *plan.Plan {
		p := made(n, func(i int) (int, int, float64, float64) { return i, i + 1, float64(i), 0 })
		for i := 1; i < n; i++ {
			id, zone := plan.ID(fmt.Sprintf("n%d", i)), plan.ID(fmt.Sprintf("z%d", i))
			v := p.Nodes[id]
			v.Kind, v.Zone = "valve", zone
			p.Nodes[id], p.Zones[zone] = v, plan.Zone{}
		}
		return p
	},
}

// made is n pipes between numbered nodes; the place is that of the far node, which
// is a head.
func made(n int, pipe func(i int) (from, to int, x, y float64)) *plan.Plan {
	p := &plan.Plan{
		Zones: map[plan.ID]plan.Zone{"z": {}}, Heads: map[plan.ID]plan.Head{}, Nodes: map[plan.ID]plan.Node{}, Pipes: map[plan.ID]plan.Pipe{},
	}
	node := func(i int) plan.ID { return plan.ID(fmt.Sprintf("n%d", i)) }
	for i := range n {
		from, to, x, y := pipe(i)
		h := plan.ID(fmt.Sprintf("h%d", to))
		p.Heads[h] = plan.Head{Zone: "z", X: units.Feet(x), Y: units.Feet(y)}
		if _, ok := p.Nodes[node(from)]; !ok {
			p.Nodes[node(from)] = plan.Node{Kind: "joint"}
		}
		p.Nodes[node(to)] = plan.Node{Kind: "head", Head: h, X: units.Feet(x), Y: units.Feet(y)}
		p.Pipes[plan.ID(fmt.Sprintf("p%d", i))] = plan.Pipe{From: node(from), To: node(to), NominalIn: 1}
	}
	first := p.Nodes[node(0)]
	first.Kind, first.Head = "connection", ""
	p.Nodes[node(0)] = first
	return p
}

// Memory is measured, since clocks lie on shared machines: twice the pipes may
// cost little more than twice of it. Lists of heads for every pipe, or of pipes for
// every joint, would cost four times.
func TestCostGoesWithTheNumberOfPipes(t *testing.T) {
	used := func(p *plan.Plan) float64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		net := Of(p)
		runtime.ReadMemStats(&after)
		if len(net.Pipes) == 0 {
			t.Fatal("nothing was read")
		}
		return float64(after.TotalAlloc - before.TotalAlloc)
	}
	for name, draw := range shapes {
		small, large := used(draw(3000)), used(draw(12000))
		if ratio := large / small; ratio > 6 {
			t.Errorf("%s: four times the pipes take %.1f times the memory", name, ratio)
		}
		holds(t, draw(1000))
	}
}

func FuzzOf(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("a connection, a valve and two heads, joined in a ring or not at all"))
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) { holds(t, anyDrawing(t)) }))
}

func BenchmarkOf(b *testing.B) {
	for _, name := range []string{"one long run", "all at one joint", "a net of loops"} {
		for _, n := range []int{100, 1000, 10000} {
			p := shapes[name](n)
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				for b.Loop() {
					Of(p)
				}
			})
		}
	}
}
