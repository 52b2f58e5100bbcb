package sheets

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// On any plan every new segment is in one stretch or among the short pieces, names are
// not given twice, stretches start and end at named points and do not turn back, and the
// same plan has the same list.
func TestDiggingTakesEverySegmentOnce(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/plans/mistakes/*.json")
	if err != nil || len(files) < 20 {
		t.Fatal("no plans", err)
	}
	for _, f := range append(files, "../../testdata/plans/demo.json", "../../testdata/plans/demo-mended.json") {
		p, d := load(t, strings.TrimPrefix(f, "../../testdata/plans/"))
		wellDug(t, f, p, d)
	}
	for seed := range uint64(12) {
		p := yardAtRandom(rand.New(rand.NewPCG(seed, 3)))
		d, err := design.Run(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		wellDug(t, fmt.Sprintf("seed %d", seed), p, d)
	}
}

func wellDug(t *testing.T, name string, p *plan.Plan, d *design.Design) {
	t.Helper()
	g := DiggingOf(p, d.Digs)
	times := map[int]int{}
	sum, all := float64(g.Short.Length), 0.0
	names := map[string]bool{}
	for _, v := range g.Points {
		if v.Name == "" || v.Where == "" || names[v.Name] || strings.ContainsAny(v.Name, ":;") {
			t.Errorf("%s: a point is called %q, %q", name, v.Name, v.Where)
		}
		names[v.Name] = true
	}
	for i := range g.Stretches {
		s := &g.Stretches[i]
		length := units.Feet(0)
		for _, k := range s.Of {
			times[k]++
			length += d.Digs.Segments[k].Length
		}
		sum += float64(s.Length)
		last := len(s.Stops) - 1
		if s.Number != i+1 || last < 1 || math.Abs(float64(length-s.Length)) > 1e-6 || math.Abs(float64(s.Stops[last].At-s.Length)) > 1e-6 || s.Stops[0].At != 0 {
			t.Errorf("%s: stretch %d of %v ft has %v ft and stops %v", name, s.Number, s.Length, length, s.Stops)
		}
		for k := range last {
			if s.Stops[k+1].At < s.Stops[k].At {
				t.Errorf("%s: stretch %d turns back: %v", name, s.Number, s.Stops)
			}
		}
		ground := units.Feet(0)
		for _, of := range s.Grounds {
			ground += of.Length
		}
		if math.Abs(float64(ground-s.Length)) > 1e-6 || len(s.Lies) == 0 || s.IsDug() != (s.Depth > 0) {
			t.Errorf("%s: stretch %d: %+v", name, s.Number, s)
		}
	}
	pieces := 0
	for i := range d.Digs.Segments {
		seg := &d.Digs.Segments[i]
		if !seg.New || len(seg.Pipes)+len(seg.Wires)+len(seg.Ways) == 0 {
			if times[i] != 0 {
				t.Errorf("%s: segment %d is listed and nothing to dig", name, i)
			}
			continue
		}
		all += float64(seg.Length)
		if times[i] > 1 {
			t.Errorf("%s: segment %d is listed %d times", name, i, times[i])
		}
		if times[i] == 0 {
			pieces++
		}
	}
	if pieces != g.Short.Pieces || math.Abs(sum-all) > 1e-6*max(all, 1) {
		t.Errorf("%s: %d pieces short and %d told, %v ft listed of %v ft", name, pieces, g.Short.Pieces, sum, all)
	}
	again := DiggingOf(p, d.Digs)
	if !slices.EqualFunc(g.Points, again.Points, func(a, b DigPoint) bool { return a == b }) {
		t.Errorf("%s: other names the second time", name)
	}
}

// yardAtRandom has pipes drawn anyhow: side by side, across one another, to and fro, at
// one place, far out, with heads without a tag or with one tag for all.
func yardAtRandom(rng *rand.Rand) *plan.Plan {
	p := plan.Empty("Drawn anyhow", []units.System{units.US, units.Metric}[rng.IntN(2)])
	p.Areas = map[plan.ID]plan.Area{"walk": {Name: "Walk: a; b", Kind: plan.Paving, Outline: geom.Outline{{X: 20, Y: -50}, {X: 24, Y: -50}, {X: 24, Y: 90}, {X: 20, Y: 90}}}}
	p.Heads, p.Zones, p.Nodes, p.Pipes = map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}, map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}
	p.PipeClasses = map[plan.ID]catalog.PipeClass{}
	far := []float64{0, 0, 1e6}[rng.IntN(3)]
	tags := []string{"", "1-1", "T1", "V1", "head at 3; 4"}
	for z := range 1 + rng.IntN(3) {
		p.Zones[plan.ID(fmt.Sprintf("z%d", z))] = plan.Zone{Name: fmt.Sprintf("Zone %d", z+1), Station: rng.IntN(3)}
	}
	place := func() (units.Feet, units.Feet) {
		grid := []float64{0.1, 0.3, 5}[rng.IntN(3)]
		return units.Feet(far + math.Round(rng.Float64()*40/grid)*grid), units.Feet(math.Round(rng.Float64()*40/grid) * grid)
	}
	n := 4 + rng.IntN(40)
	for i := range n {
		id, zone := plan.ID(fmt.Sprintf("n%02d", i)), plan.ID(fmt.Sprintf("z%d", rng.IntN(len(p.Zones))))
		x, y := place()
		node := plan.Node{Kind: "joint", X: x, Y: y}
		switch k := rng.IntN(4); {
		case i == 0:
			node.Kind = "connection"
		case k == 0:
			node.Kind, node.Zone = "valve", zone
		case k < 3:
			head := plan.ID(fmt.Sprintf("h%02d", i))
			p.Heads[head] = plan.Head{X: x, Y: y, Tag: tags[rng.IntN(len(tags))], Zone: zone}
			node.Kind, node.Head, node.Zone = "head", head, zone
		}
		p.Nodes[id] = node
		if i == 0 {
			continue
		}
		pipe := plan.Pipe{From: plan.ID(fmt.Sprintf("n%02d", rng.IntN(i))), To: id, NominalIn: []units.Inches{0, 0.75, 1}[rng.IntN(3)]}
		if rng.IntN(3) > 0 {
			pipe.Zone = zone
		}
		if rng.IntN(6) == 0 {
			pipe.Status = plan.Existing
		}
		p.Pipes[plan.ID(fmt.Sprintf("p%02d", i))] = pipe
	}
	return p
}

// A list is made with every change of a plan that shows it.
func BenchmarkDigging(b *testing.B) {
	p, d := load(b, "demo.json")
	for b.Loop() {
		if len(DiggingOf(p, d.Digs).Stretches) == 0 {
			b.Fatal("nothing is dug")
		}
	}
}
