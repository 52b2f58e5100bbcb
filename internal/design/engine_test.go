package design

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/parts"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/trench"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

func text(t *testing.T, d *Design) []byte {
	t.Helper()
	b, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// edit is one thing a user does to a plan.
type edit struct {
	name string
	do   func(rng *rand.Rand, p *plan.Plan)
}

func pick[T any](rng *rand.Rand, things map[plan.ID]T) plan.ID {
	ids := plan.SortedIDs(things)
	if len(ids) == 0 {
		return ""
	}
	return ids[rng.IntN(len(ids))]
}

// onHead edits one head, if there is any.
func onHead(f func(rng *rand.Rand, p *plan.Plan, h *plan.Head)) func(*rand.Rand, *plan.Plan) {
	return func(rng *rand.Rand, p *plan.Plan) {
		id := pick(rng, p.Heads)
		if id == "" {
			return
		}
		h := p.Heads[id]
		f(rng, p, &h)
		p.Heads[id] = h
	}
}

// onPipe edits one pipe, if there is any.
func onPipe(f func(rng *rand.Rand, p *plan.Plan, v *plan.Pipe)) func(*rand.Rand, *plan.Plan) {
	return func(rng *rand.Rand, p *plan.Plan) {
		id := pick(rng, p.Pipes)
		if id == "" {
			return
		}
		v := p.Pipes[id]
		f(rng, p, &v)
		p.Pipes[id] = v
	}
}

var edits = []edit{
	{"move a head", onHead(func(rng *rand.Rand, _ *plan.Plan, h *plan.Head) {
		h.X, h.Y = h.X+units.Feet(rng.Float64()*6-3), h.Y+units.Feet(rng.Float64()*6-3)
	})},
	{"turn a head", onHead(func(rng *rand.Rand, _ *plan.Plan, h *plan.Head) { h.StartDeg = units.Degrees(rng.IntN(24) * 15) })},
	{"put a head in another zone", onHead(func(rng *rand.Rand, p *plan.Plan, h *plan.Head) { h.Zone = pick(rng, p.Zones) })},
	{"take a head out of its zone", onHead(func(_ *rand.Rand, _ *plan.Plan, h *plan.Head) { h.Zone = "" })},
	{"change a nozzle, fitting or not", onHead(func(rng *rand.Rand, p *plan.Plan, h *plan.Head) { h.Nozzle, h.ThrowFt = pick(rng, p.Nozzles), nil })},
	{"change a status", onHead(func(rng *rand.Rand, _ *plan.Plan, h *plan.Head) {
		h.Status = []plan.Status{plan.New, plan.Existing, plan.Remove}[rng.IntN(3)]
	})},
	{"rename a head", onHead(func(rng *rand.Rand, _ *plan.Plan, h *plan.Head) { h.Tag = fmt.Sprint(rng.IntN(99)) })},
	{"delete a head", func(rng *rand.Rand, p *plan.Plan) { delete(p.Heads, pick(rng, p.Heads)) }},
	{"copy a head", func(rng *rand.Rand, p *plan.Plan) {
		if id := pick(rng, p.Heads); id != "" {
			h := p.Heads[id]
			h.X++
			p.Heads[plan.ID(fmt.Sprintf("h%d", rng.IntN(1e6)))] = h
		}
	}},
	{"renumber a zone", func(rng *rand.Rand, p *plan.Plan) {
		if id := pick(rng, p.Zones); id != "" {
			z := p.Zones[id]
			z.Station, z.Pressure = rng.IntN(9), units.PSI(rng.IntN(3)*20)
			p.Zones[id] = z
		}
	}},
	{"change an area", func(rng *rand.Rand, p *plan.Plan) {
		id := pick(rng, p.Areas)
		a := p.Areas[id]
		a.Outline = append(geom.Outline(nil), a.Outline...)
		for i := range a.Outline {
			a.Outline[i].X += 0.25
		}
		a.Watering = []plan.WateringKind{plan.Overhead, plan.PointSource}[rng.IntN(2)]
		p.Areas[id] = a
	}},
	{"change the supply", func(rng *rand.Rand, p *plan.Plan) { p.Supply.DesignFlowGPM = units.GPM(rng.IntN(20)) }},
	{"show other units", func(rng *rand.Rand, p *plan.Plan) { p.Show = []units.System{units.US, units.Metric}[rng.IntN(2)] }},
	{"change the edge lip", func(rng *rand.Rand, p *plan.Plan) {
		lip := units.Feet(rng.IntN(3)) / 4
		p.Options.EdgeLipFt = &lip
	}},
	{"accept a finding", func(rng *rand.Rand, p *plan.Plan) {
		p.Accepted = map[plan.ID]plan.Accepted{"a1": {Code: plan.LowValveFlow, About: []plan.Ref{"zones/z5"}, Reason: "known", On: "2026-05-01"}}
	}},
	{"write a note", func(rng *rand.Rand, p *plan.Plan) {
		p.Notes = map[plan.ID]plan.Note{"n1": {Text: fmt.Sprint(rng.IntN(9))}}
	}},
	{"size a pipe", onPipe(func(rng *rand.Rand, _ *plan.Plan, v *plan.Pipe) {
		v.NominalIn = []units.Inches{0, 0.75, 1, 1.25}[rng.IntN(4)]
	})},
	{"bend a pipe", onPipe(func(rng *rand.Rand, _ *plan.Plan, v *plan.Pipe) {
		v.Via = geom.Line{{X: float64(rng.IntN(60)), Y: float64(rng.IntN(60))}}
	})},
	{"choose another class", onPipe(func(rng *rand.Rand, p *plan.Plan, v *plan.Pipe) { v.Class = pick(rng, p.PipeClasses) })},
	{"delete a pipe", func(rng *rand.Rand, p *plan.Plan) { delete(p.Pipes, pick(rng, p.Pipes)) }},
	{"change a row of pipe", func(rng *rand.Rand, p *plan.Plan) {
		if id := pick(rng, p.PipeClasses); id != "" {
			c := p.PipeClasses[id]
			c.C = float64(120 + rng.IntN(30))
			p.PipeClasses[id] = c
		}
	}},
	{"change the curve of a device", func(rng *rand.Rand, p *plan.Plan) {
		if id := pick(rng, p.Devices); id != "" {
			d := p.Devices[id]
			d.Loss = []catalog.LossPoint{{Flow: 10, Loss: units.PSI(rng.IntN(12))}}
			p.Devices[id] = d
		}
	}},
	{"choose a zone's valve", func(rng *rand.Rand, p *plan.Plan) {
		low, _ := catalog.FindDevice("valve-1-low")
		if p.Devices == nil {
			p.Devices = map[plan.ID]catalog.Device{}
		}
		p.Devices["low"] = low
		if id := pick(rng, p.Zones); id != "" {
			z := p.Zones[id]
			z.Valve = []plan.ID{"", "low"}[rng.IntN(2)]
			p.Zones[id] = z
		}
	}},
	{"set a spot height", func(rng *rand.Rand, p *plan.Plan) {
		if p.Elevations == nil {
			p.Elevations = map[plan.ID]plan.Elevation{}
		}
		p.Elevations[plan.ID(fmt.Sprintf("s%d", rng.IntN(4)))] = plan.Elevation{X: units.Feet(rng.IntN(90)), Y: units.Feet(rng.IntN(90)), Z: units.Feet(rng.IntN(9))}
	}},
	{"measure the supply", func(rng *rand.Rand, p *plan.Plan) { p.Supply.StaticPSI = units.PSI(40 + rng.IntN(30)) }},
	{"say where it lies", func(rng *rand.Rand, p *plan.Plan) {
		latitude := float64(rng.IntN(60))
		p.Site.Latitude, p.Supply.Freeze = &latitude, ""
	}},
	{"lower a fence", func(rng *rand.Rand, p *plan.Plan) {
		if id := pick(rng, p.Barriers); id != "" {
			b := p.Barriers[id]
			b.HeightFt = units.Feet(1 + rng.IntN(8))
			p.Barriers[id] = b
		}
	}},
	{"move a sleeve", func(rng *rand.Rand, p *plan.Plan) {
		if p.Sleeves == nil {
			p.Sleeves = map[plan.ID]plan.Sleeve{}
		}
		x, y := units.Feet(rng.IntN(90)), units.Feet(rng.IntN(90))
		p.Sleeves[plan.ID(fmt.Sprintf("s%d", rng.IntN(3)))] = plan.Sleeve{From: plan.Spot{X: x, Y: y}, To: plan.Spot{X: x + 5, Y: y}, NominalIn: 2, Carries: []string{"", "pipe", "wire"}[rng.IntN(3)]}
	}},
	{"lay wire", func(rng *rand.Rand, p *plan.Plan) {
		if p.Wires == nil {
			p.Wires = map[plan.ID]plan.WireRun{}
		}
		p.Wires[plan.ID(fmt.Sprintf("w%d", rng.IntN(3)))] = plan.WireRun{Line: geom.Line{{X: 88.5, Y: 39}, {X: float64(rng.IntN(90)), Y: float64(rng.IntN(90))}}}
	}},
	{"move the controller", func(rng *rand.Rand, p *plan.Plan) {
		p.Controller.At = &plan.Spot{X: units.Feet(rng.IntN(90)), Y: units.Feet(rng.IntN(90))}
	}},
	{"set a figure of one's own", func(rng *rand.Rand, p *plan.Plan) {
		id := []plan.ID{plan.TrenchWidth, plan.SleevePast, plan.SleeveTimes, plan.BoreLongest, plan.RootsPerInch, plan.WireSpares}[rng.IntN(6)]
		p.Options.Figures = map[plan.ID]plan.Figure{id: {Value: float64(rng.IntN(20))}}
	}},
	{"plant a tree", func(rng *rand.Rand, p *plan.Plan) {
		if p.Trees == nil {
			p.Trees = map[plan.ID]plan.Tree{}
		}
		p.Trees["t9"] = plan.Tree{X: units.Feet(rng.IntN(90)), Y: units.Feet(rng.IntN(90)), TrunkIn: 9}
	}},
}

// clone copies a plan by way of its text, so that no edit shares memory with a
// plan the engine has seen.
func clone(t *testing.T, p *plan.Plan) *plan.Plan {
	t.Helper()
	q, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// After any edits an engine says what a fresh run says, byte for byte. Every
// third step goes back to the plan before, as a preview that is not kept does.
func TestEngineEqualsAFreshRun(t *testing.T) {
	for _, c := range []struct {
		lot   string
		steps int
	}{{"demo.json", 60}, {"mistakes/33-size-grows.json", 120}, {"mistakes/13-beds-and-lawn.json", 60}, {"mistakes/06-arc-wets-walk.json", 60}} {
		rng := rand.New(rand.NewPCG(7, uint64(c.steps)))
		var engine Engine
		p := load(t, c.lot)
		var done []string
		for step := range c.steps {
			q := clone(t, p)
			e := edits[rng.IntN(len(edits))]
			done = append(done, e.name)
			e.do(rng, q)
			q, err := plan.Decode(q.Encode())
			if err != nil {
				continue // the edit made what a user cannot store
			}
			got, err := engine.Run(context.Background(), q)
			if err != nil {
				t.Fatalf("%s, after %q: %v", c.lot, done, err)
			}
			want := run(t, q)
			if !bytes.Equal(text(t, got), text(t, want)) {
				t.Fatalf("%s: the engine differs from a fresh run after %q", c.lot, done)
			}
			if diff := cmp.Diff([]any{want.Pipework, want.Digs, want.Wiring}, []any{got.Pipework, got.Digs, got.Wiring}); diff != "" {
				t.Fatalf("%s: pipes, trenches or wire differ from a fresh run after %q:\n%s", c.lot, done, diff)
			}
			if step%3 != 0 {
				p = q
			}
		}
	}
}

// A stage runs again only when something it reads has changed.
func TestStagesRunOnlyWhenWhatTheyReadChanges(t *testing.T) {
	var engine Engine
	p := load(t, "mistakes/06-arc-wets-walk.json")
	first, err := engine.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	run := func(change func(*plan.Plan)) *Design {
		q := clone(t, p)
		change(q)
		d, err := engine.Run(context.Background(), q)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	unread := run(func(q *plan.Plan) {
		q.Name, q.Notes = "Another name", map[plan.ID]plan.Note{"n1": {Text: "x"}}
	})
	if unread.Coverage != first.Coverage || unread.Parts != first.Parts {
		t.Error("a note made a stage run again")
	}
	if unread.Pipework != first.Pipework || unread.Pressure != first.Pressure {
		t.Error("a note made pipes be looked at again")
	}
	named := run(func(q *plan.Plan) {
		a := q.Areas["front-lawn"]
		a.Name = "Another name"
		q.Areas["front-lawn"] = a
	})
	if named.Coverage == first.Coverage || named.Pipework != first.Pipework || named.Digs == first.Digs {
		t.Error("an area is read by coverage and trenches, and not by pipework")
	}
}

// Each stage sees only what it has declared, so the declarations cannot lie: a
// stage that is given the whole plan says the same.
func TestStagesReadOnlyWhatTheyDeclare(t *testing.T) {
	p := load(t, "demo.json")
	whole, err := new(Engine).cover(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	viewed, err := new(Engine).cover(context.Background(), p.View(coverageReads))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text(t, &Design{Coverage: whole.result, Findings: whole.findings}), text(t, &Design{Coverage: viewed.result, Findings: viewed.findings})) {
		t.Error("coverage reads more of the plan than it declares")
	}
	net := pipework.Of(p)
	if diff := cmp.Diff(net, pipework.Of(p.View(pipeworkReads))); diff != "" {
		t.Errorf("pipework reads more of the plan than it declares:\n%s", diff)
	}
	if diff := cmp.Diff(pipework.Check(p, net), pipework.Check(p.View(drawnReads), net)); diff != "" {
		t.Errorf("the checks of pipes read more of the plan than they declare:\n%s", diff)
	}
	r, found := pressure.Compute(p, net)
	seen, foundSeen := pressure.Compute(p.View(pressureReads), net)
	if !bytes.Equal(text(t, &Design{Pressure: r, Findings: found}), text(t, &Design{Pressure: seen, Findings: foundSeen})) {
		t.Error("pressure reads more of the plan than it declares")
	}
	timed := coverage.CheckProgram(p, whole.result, r.Supply.DesignGPM)
	if diff := cmp.Diff(timed, coverage.CheckProgram(p.View(timeReads), whole.result, r.Supply.DesignGPM)); diff != "" {
		t.Errorf("the checks of a week's time read more of the plan than they declare:\n%s", diff)
	}
	digs := trench.Of(p, net)
	if diff := cmp.Diff(digs, trench.Of(p.View(digsRead), net)); diff != "" {
		t.Errorf("trenches read more of the plan than they declare:\n%s", diff)
	}
	if diff := cmp.Diff(trench.Check(p, net, digs), trench.Check(p.View(digsRead), net, digs)); diff != "" {
		t.Errorf("the checks of trenches read more of the plan than they declare:\n%s", diff)
	}
	wired := wire.Of(p, digs)
	if diff := cmp.Diff(wired, wire.Of(p.View(wireReads), digs)); diff != "" {
		t.Errorf("wiring reads more of the plan than it declares:\n%s", diff)
	}
	if diff := cmp.Diff(wire.Check(p, digs, wired), wire.Check(p.View(wireReads), digs, wired)); diff != "" {
		t.Errorf("the checks of wiring read more of the plan than they declare:\n%s", diff)
	}
	bought, _ := parts.Compute(p, net, digs, wired)
	if list, _ := parts.Compute(p.View(partsReads), net, digs, wired); cmp.Diff(bought, list) != "" {
		t.Errorf("the parts list reads more of the plan than it declares:\n%s", cmp.Diff(bought, list))
	}
}

func TestCancelledRunLeavesTheEngineGood(t *testing.T) {
	var engine Engine
	p := load(t, "mistakes/06-arc-wets-walk.json")
	if _, err := engine.Run(context.Background(), p); err != nil {
		t.Fatal(err)
	}
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	q := clone(t, p)
	onHead(func(_ *rand.Rand, _ *plan.Plan, h *plan.Head) { h.X++ })(rand.New(rand.NewPCG(1, 1)), q)
	if _, err := engine.Run(cancelled, q); err == nil {
		t.Fatal("a cancelled run succeeded")
	}
	got, err := engine.Run(context.Background(), q)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text(t, got), text(t, run(t, q))) {
		t.Error("after a cancelled run the engine differs from a fresh one")
	}
	if engine.Field() == nil {
		t.Error("no field after a run")
	}
}

func TestReportHoldsToItsSchema(t *testing.T) {
	for _, lot := range []string{"demo.json", "mistakes/44-outside-table.json", "mistakes/45-zone-without-heads.json"} {
		p := load(t, lot)
		var out bytes.Buffer
		asked, err := Ask(t.Context(), p, 1, 3)
		if err != nil {
			t.Fatal(err)
		}
		if err := WriteJSON(&out, p, run(t, p), asked); err != nil {
			t.Fatal(err)
		}
		checkAgainstSchema(t, out.Bytes())
	}
	var out bytes.Buffer
	empty := plan.Empty("Empty", units.US)
	if err := WriteJSON(&out, empty, run(t, empty), Asked{}); err != nil {
		t.Fatal(err)
	}
	checkAgainstSchema(t, out.Bytes())
}
