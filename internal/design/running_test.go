package design

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// piped is a lawn of four rotors in a row behind one valve, each of 3 gpm, on
// pipe of one size.
func piped(t testing.TB, size units.Inches) *plan.Plan {
	t.Helper()
	nozzle, _ := catalog.FindNozzle("rotor-30-3")
	body, _ := catalog.FindBody("body-rotor-4")
	pipe, _ := catalog.FindPipeClass("pvc-sch40")
	rows := [3][]byte{}
	for i, row := range []any{nozzle, body, pipe} {
		var err error
		if rows[i], err = json.Marshal(row); err != nil {
			t.Fatal(err)
		}
	}
	doc := `{"format":"evenfall-plan/1","name":"Row","show":"us",
		"areas":{"lawn":{"name":"Lawn","kind":"planting","outline":[[0,0],[120,0],[120,30],[0,30]]}},
		"supply":{"measured":true,"static_psi":50,"flow_gpm":20,"residual_psi":44,"meter_in":1,"connection":{"x_ft":2,"y_ft":2}},
		"zones":{"z1":{"name":"Lawn","station":1,"valve_at":{"x_ft":6,"y_ft":2}}},
		"nozzles":{"rotor-30-3":` + string(rows[0]) + `},"bodies":{"body-rotor-4":` + string(rows[1]) + `},
		"pipe_classes":{"pvc-sch40":` + string(rows[2]) + `},
		"nodes":{"c":{"kind":"connection","x_ft":2,"y_ft":2},"v":{"kind":"valve","zone":"z1","x_ft":6,"y_ft":2}},
		"pipes":{"m":{"from":"c","to":"v","class":"pvc-sch40","nominal_in":1}}}`
	p, err := plan.Decode([]byte(doc))
	if err != nil {
		t.Fatal(err)
	}
	p.Heads = map[plan.ID]plan.Head{}
	before := plan.ID("v")
	for i, x := range []units.Feet{30, 60, 90, 119} {
		head, node := plan.ID(fmt.Sprintf("h%d", i+1)), plan.ID(fmt.Sprintf("n%d", i+1))
		p.Heads[head] = plan.Head{
			Tag: fmt.Sprintf("1-%d", i+1), Nozzle: "rotor-30-3", Body: "body-rotor-4", X: x, Y: 1, SweepDeg: 180, Zone: "z1",
		}
		p.Nodes[node] = plan.Node{Kind: "head", Head: head, X: x, Y: 1}
		p.Pipes[plan.ID(fmt.Sprintf("p%d", i+1))] = plan.Pipe{From: before, To: node, Zone: "z1", Class: "pvc-sch40", NominalIn: size}
		before = node
	}
	return p
}

func ran(t testing.TB, e *Engine, p *plan.Plan) (*Design, *Running) {
	t.Helper()
	d, err := e.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	r, err := e.Running(context.Background(), p, d)
	if err != nil {
		t.Fatal(err)
	}
	return d, r
}

// On half-inch pipe the far rotors starve: they throw short, their water falls in
// a ring, and the lawn is less even than as drawn; inch pipe mends it. The
// drawing's own figures do not change with the pipe.
func TestStarvedHeadsChangeTheRunningMap(t *testing.T) {
	var e Engine
	thin, starved := ran(t, &e, piped(t, 0.5))
	under := starved.Given.Under(piped(t, 0.5))
	if !slices.Contains(under, "h4") {
		t.Fatalf("the last head has %.1f psi on half-inch pipe; %s", float64(starved.Given["h4"]), thin.Pressure.Zones[0].Says)
	}
	h := starved.Coverage.Heads[3]
	if h.ID != "h4" || !(h.Throw < thin.Coverage.Heads[3].Throw) || h.Pressure != starved.Given["h4"] {
		t.Errorf("the starved head throws %.1f ft at %.1f psi, %.1f ft as drawn", h.Throw, h.Pressure, thin.Coverage.Heads[3].Throw)
	}
	// Coverage and the solution have one law for a head, on and off its table.
	for i, got := range starved.Coverage.Heads {
		if want := thin.Pressure.Zones[0].Heads[i].Flow; math.Abs(float64(got.FlowGPM/want)-1) > 0.003 {
			t.Errorf("head %s takes %.3f gpm by the solution and %.3f on the map", got.ID, want, got.FlowGPM)
		}
	}
	low := starved.Coverage.Areas[0].DU
	wide, fed := ran(t, &e, piped(t, 1.25))
	if n := len(fed.Given.Under(piped(t, 1.25))); n > 0 {
		t.Errorf("%d heads starve on 1-1/4 in pipe", n)
	}
	if !(fed.Coverage.Areas[0].DU > low) {
		t.Errorf("uniformity is %.3f starved and %.3f fed", low, fed.Coverage.Areas[0].DU)
	}
	a, _ := json.Marshal(thin.Coverage)
	b, _ := json.Marshal(wide.Coverage)
	if !bytes.Equal(a, b) {
		t.Error("the drawing's coverage changed with the pipe")
	}
}

// After any edits the running layout is what a fresh engine makes of the plan,
// byte for byte, figures and map.
func TestRunningEqualsFreshAfterEdits(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	p := piped(t, 0.75)
	var e Engine
	for i := range 40 {
		switch id := plan.ID(fmt.Sprintf("p%d", 1+r.IntN(4))); r.IntN(3) {
		case 0:
			h := p.Heads["h2"]
			h.StartDeg = units.Degrees(r.IntN(180))
			p.Heads["h2"] = h
		case 1:
			pipe := p.Pipes[id]
			pipe.NominalIn = []units.Inches{0.5, 0.75, 1, 1.25, 0}[r.IntN(5)]
			p.Pipes[id] = pipe
		case 2:
			pipe := p.Pipes[id]
			pipe.Via = geom.Line{{X: 100 * r.Float64(), Y: 20 * r.Float64()}}
			p.Pipes[id] = pipe
		}
		_, kept := ran(t, &e, p)
		var f Engine
		_, fresh := ran(t, &f, p)
		a, err := json.Marshal(kept.Coverage)
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(fresh.Coverage)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a, b) {
			t.Fatalf("after %d edits the running layouts differ:\n%s\n%s", i+1, a, b)
		}
		if !bytes.Equal(cells(kept.Field), cells(fresh.Field)) {
			t.Fatalf("after %d edits the running maps differ", i+1)
		}
	}
}

func cells(f *coverage.Field) []byte {
	g := f.Frame()
	return slices.Clone(f.Cells(geom.Cells{X1: g.NX, Y1: g.NY}))
}

// A run that is cancelled leaves the engine as good as new.
func TestRunningCancelled(t *testing.T) {
	p := piped(t, 1)
	var e Engine
	d, err := e.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	off, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := e.Running(off, p, d); err == nil {
		t.Fatal("a cancelled run came to its end")
	}
	_, kept := ran(t, &e, p)
	var f Engine
	_, fresh := ran(t, &f, p)
	if !bytes.Equal(cells(kept.Field), cells(fresh.Field)) {
		t.Error("after a cancelled run the map differs from a fresh one")
	}
}

// BenchmarkPipeEdit is one pipe of the demo given another size: all stages, the
// findings, and the layout as it then runs. A pipe of the main feeds all zones and
// changes every head that is not regulated; best-ms is the best of the run, for
// the machine is shared.
func BenchmarkPipeEdit(b *testing.B) {
	doc, err := os.ReadFile(plans + "/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	for _, of := range []string{"main", "lateral"} {
		b.Run(of, func(b *testing.B) {
			p, err := plan.Decode(doc)
			if err != nil {
				b.Fatal(err)
			}
			edited := firstOf(b, p, of == "main")
			sizes := []units.Inches{p.Pipes[edited].NominalIn, 1.5}
			var e Engine
			best := time.Duration(math.MaxInt64)
			i := 0
			for b.Loop() {
				pipe := p.Pipes[edited]
				pipe.NominalIn = sizes[i%2]
				i++
				p.Pipes[edited] = pipe
				begun := time.Now()
				ran(b, &e, p)
				best = min(best, time.Since(begun))
			}
			b.ReportMetric(float64(best.Microseconds())/1000, "best-ms")
		})
	}
}

// firstOf is the first sized pipe of the main, or of zone 3.
func firstOf(b *testing.B, p *plan.Plan, main bool) plan.ID {
	for _, id := range plan.SortedIDs(p.Pipes) {
		if q := p.Pipes[id]; q.NominalIn > 0 && (main && q.Zone == "" || !main && q.Zone == "z3") {
			return id
		}
	}
	b.Fatal("the demo has no such pipe")
	return ""
}
