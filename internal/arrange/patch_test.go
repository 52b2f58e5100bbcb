package arrange

import (
	"bytes"
	"context"
	"fmt"
	"runtime"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// quick is a search that costs little.
func quick() Options {
	o := Usual()
	o.Effort = 1500
	return o
}

// oldLawns is a plan of two lawns with heads that stand badly, on pipes: four on
// the west lawn in zone 1, of which one is locked and one stands in the middle of
// the pipe, and two on the east lawn in zone 2.
func oldLawns(t *testing.T) *plan.Plan {
	t.Helper()
	p := plan.Empty("lawns", units.US)
	box := func(x0, y0, x1, y1 float64) geom.Outline {
		return geom.Outline{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	p.Areas = map[plan.ID]plan.Area{
		"west": {Name: "West lawn", Kind: plan.Planting, Outline: box(0, 0, 30, 20)},
		"east": {Name: "East lawn", Kind: plan.Planting, Outline: box(60, 0, 90, 20)},
	}
	n, _ := catalog.FindNozzle("spray-10-q")
	b, _ := catalog.FindBody("body-4")
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{"spray-10-q": n}, map[plan.ID]catalog.Body{"body-4": b}
	p.Zones = map[plan.ID]plan.Zone{"z1": {Name: "West", Station: 1}, "z2": {Name: "East", Station: 2}}
	p.Heads, p.Nodes, p.Pipes = map[plan.ID]plan.Head{}, map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}
	back := units.Feet(0.5)
	put := func(id plan.ID, tag string, zone plan.ID, x, y units.Feet, start units.Degrees) {
		p.Heads[id] = plan.Head{Tag: tag, Nozzle: "spray-10-q", Body: "body-4", X: x, Y: y, StartDeg: start, SweepDeg: 90, Zone: zone, SetBack: &back}
		p.Nodes["n"+id] = plan.Node{Kind: "head", X: x, Y: y, Head: id, Zone: zone}
	}
	put("ha", "1-1", "z1", 1, 1, 0)
	put("hb", "1-2", "z1", 28, 1, 90)
	put("hc", "1-3", "z1", 20, 12, 0)
	put("hd", "1-4", "z1", 0.5, 19.5, 270)
	h := p.Heads["hd"]
	h.Locked = true
	p.Heads["hd"] = h
	put("he", "2-1", "z2", 61, 1, 0)
	put("hf", "2-2", "z2", 75, 10, 0)
	p.Nodes["v1"] = plan.Node{Kind: "joint", X: 40, Y: -5, Zone: "z1"}
	p.Pipes["p1"] = plan.Pipe{From: "v1", To: "nhb", Zone: "z1"}
	p.Pipes["p2"] = plan.Pipe{From: "nhb", To: "nhc", Zone: "z1"}
	p.Pipes["p3"] = plan.Pipe{From: "nhc", To: "nha", Zone: "z1"}
	p.Pipes["p4"] = plan.Pipe{From: "nhc", To: "nhd", Zone: "z1"}
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// whole checks what must hold of a plan after a layout: no node of a head that is
// gone, no pipe of a node that is gone, every row there.
func wholePlan(t *testing.T, p *plan.Plan) {
	t.Helper()
	for id, n := range p.Nodes {
		if n.Head != "" {
			h, ok := p.Heads[n.Head]
			if !ok {
				t.Errorf("node %s is of head %s, which is gone", id, n.Head)
			}
			if n.X != h.X || n.Y != h.Y {
				t.Errorf("node %s stands at %g, %g, its head at %g, %g", id, n.X, n.Y, h.X, h.Y)
			}
		} else if n.Kind == "head" {
			t.Errorf("node %s is of no head", id)
		}
	}
	for id, v := range p.Pipes {
		if _, ok := p.Nodes[v.From]; !ok {
			t.Errorf("pipe %s begins nowhere", id)
		}
		if _, ok := p.Nodes[v.To]; !ok {
			t.Errorf("pipe %s ends nowhere", id)
		}
	}
	for id, h := range p.Heads {
		if _, ok := p.Nozzles[h.Nozzle]; !ok {
			t.Errorf("head %s has nozzle %s, which the plan has not", id, h.Nozzle)
		}
		if _, ok := p.Bodies[h.Body]; !ok {
			t.Errorf("head %s has body %s, which the plan has not", id, h.Body)
		}
	}
}

// apply applies a patch twice: the second time changes nothing.
func apply(t *testing.T, doc []byte, patch plan.Patch) []byte {
	t.Helper()
	once, _, err := plan.Apply(doc, patch)
	if err != nil {
		t.Fatal(err)
	}
	twice, _, err := plan.Apply(once, patch)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(once, twice) {
		t.Error("a layout applied twice is not what it was applied once")
	}
	return once
}

func TestLayoutsApplyToThePlan(t *testing.T) {
	t.Parallel()
	p := oldLawns(t)
	doc := p.Encode()
	got, err := Propose(context.Background(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(p.Encode(), doc) {
		t.Fatal("the search changed the plan it was asked about")
	}
	for _, a := range got.Answers {
		if len(a.Layouts) == 0 {
			t.Fatalf("%s: %s", a.Area, a.Why)
		}
		for i, l := range a.Layouts {
			t.Run(fmt.Sprint(a.Area, i), func(t *testing.T) { checkApplied(t, p, &l) })
		}
	}
	// Layouts of two areas can be taken one after the other, in either order, and
	// as one step.
	for _, o := range got.Offers {
		one := apply(t, doc, o.Patch)
		first, second := o.Picks[0], o.Picks[1]
		a, b := got.Answers[0].Layouts[first.Layout].Patch, got.Answers[1].Layouts[second.Layout].Patch
		if ab := apply(t, apply(t, doc, a), b); !bytes.Equal(ab, one) {
			t.Errorf("%s: the areas one after the other are not the offer", o.Name)
		}
		if ba := apply(t, apply(t, doc, b), a); !bytes.Equal(ba, one) {
			t.Errorf("%s: the areas in the other order are not the offer", o.Name)
		}
	}
}

// checkApplied applies one layout and holds the plan to what it promises.
func checkApplied(t *testing.T, p *plan.Plan, l *Layout) {
	doc := p.Encode()
	next, err := plan.Decode(apply(t, doc, l.Patch))
	if err != nil {
		t.Fatal(err)
	}
	wholePlan(t, next)
	if next.Heads["hd"] != p.Heads["hd"] && !sameHead(next.Heads["hd"], p.Heads["hd"]) {
		t.Error("the locked head was touched")
	}
	reused := 0
	for _, h := range l.Heads {
		is, ok := next.Heads[h.ID]
		if !ok {
			t.Fatalf("head %s of the layout is not in the plan", h.ID)
		}
		if orb.Point(h.At) != (orb.Point{float64(is.X), float64(is.Y)}) || is.SweepDeg != h.Sweep || is.Nozzle != h.Nozzle {
			t.Errorf("head %s is not as it was laid out: %+v, %+v", h.ID, is, h)
		}
		if (is.ThrowFt != nil) != h.Turned && !h.Stays {
			t.Errorf("head %s: turned down %v, throw %v", h.ID, h.Turned, is.ThrowFt)
		}
		was, there := p.Heads[h.ID]
		switch {
		case there:
			reused++
			if is.Tag != was.Tag || is.Zone != was.Zone {
				t.Errorf("head %s lost its tag or zone", h.ID)
			}
		case is.Zone != map[plan.ID]plan.ID{"west": "z1", "east": "z2"}[l.Area]:
			t.Errorf("new head %s is of zone %q", h.ID, is.Zone)
		}
	}
	old := map[plan.ID]int{"west": 4, "east": 2}[l.Area]
	if reused != min(old, len(l.Heads)) {
		t.Errorf("%d of %d heads of old kept their id, of %d", reused, old, len(l.Heads))
	}
	for id, h := range p.Heads { // the other area's
		if h.Zone != p.Heads[l.Heads[0].ID].Zone && (h.Zone == "z1") != (l.Area == "west") && !sameHead(next.Heads[id], h) {
			t.Errorf("head %s of the other lawn was touched", id)
		}
	}
}

func sameHead(a, b plan.Head) bool {
	feet := func(v *units.Feet) units.Feet {
		if v == nil {
			return -1
		}
		return *v
	}
	x, y := feet(a.SetBack) == feet(b.SetBack), feet(a.ThrowFt) == feet(b.ThrowFt)
	a.SetBack, b.SetBack, a.ThrowFt, b.ThrowFt = nil, nil, nil, nil
	return x && y && a == b
}

// A head that goes takes the end of its pipe with it, and the joints that then end
// nowhere; in the middle of a pipe it leaves a joint.
func TestPipesOfHeadsThatGo(t *testing.T) {
	t.Parallel()
	p := oldLawns(t)
	j := &job{p: p, ground: &ground{id: "west", goes: []plan.ID{"ha", "hb", "hc"}, stays: []plan.ID{"hd"}}, names: newNamer(p)}
	j.nodesOf, j.pipesOf = pipework(p)
	heads := []Placed{{ID: "hd", Stays: true}, {At: orb.Point{29, 0.5}, Sweep: 90, Throw: 10, Nozzle: "spray-10-q", Body: "body-4"}}
	c := j.place(heads)
	if heads[1].ID != "hb" {
		t.Errorf("the new head took the id of %q, not of the nearest", heads[1].ID)
	}
	patch, err := c.patch()
	if err != nil {
		t.Fatal(err)
	}
	next, err := plan.Preview(p.Encode(), patch)
	if err != nil {
		t.Fatal(err)
	}
	wholePlan(t, next)
	if _, there := next.Nodes["nha"]; there {
		t.Error("the end of the pipe stays without its head")
	}
	if n := next.Nodes["nhc"]; n.Kind != "joint" {
		t.Errorf("in the middle of the pipe there is %q", n.Kind)
	}
	if len(next.Pipes) != 3 {
		t.Errorf("%d pipes are left", len(next.Pipes))
	}
}

// New ids are not those of heads there are, nor of any that something still names.
func TestNewIDsAreNew(t *testing.T) {
	t.Parallel()
	p := oldLawns(t)
	n := newNamer(p)
	next := n.fresh("west", 0)
	p.Accepted = map[plan.ID]plan.Accepted{"a": {Code: "x", About: []plan.Ref{plan.RefTo("heads", next)}, Reason: "r", On: "2026-01-01"}}
	m := newNamer(p)
	m.digest = n.digest
	seen := map[plan.ID]bool{next: true}
	for _, area := range []plan.ID{"west", "east"} {
		for i := range 300 {
			id := m.fresh(area, i)
			if seen[id] || p.Heads[id].Nozzle != "" {
				t.Fatalf("id %s comes twice", id)
			}
			seen[id] = true
		}
	}
}

// The same question has the same answer on one core and on many, told as it goes
// or not.
func TestProposeIsRepeatable(t *testing.T) { // alone: it sets how many cores there are
	p := oldLawns(t)
	o := quick()
	a, err := Propose(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	b, err := Propose(context.Background(), p, o, func(Stage) {})
	if err != nil {
		t.Fatal(err)
	}
	same := slices.EqualFunc(a.Offers, b.Offers, func(x, y Offer) bool {
		return x.Name == y.Name && x.Says == y.Says && bytes.Equal(x.Patch, y.Patch) && slices.Equal(x.Picks, y.Picks)
	})
	if !same || a.Evaluations != b.Evaluations {
		t.Error("asked twice, the search answers differently")
	}
}

// Called off, the search answers what it has.
func TestProposeStops(t *testing.T) {
	t.Parallel()
	p := oldLawns(t)
	ctx, cancel := context.WithCancel(context.Background())
	told := 0
	got, err := Propose(ctx, p, Usual(), func(s Stage) {
		if s.Best != nil {
			told++
			cancel()
		}
	})
	if err == nil || got == nil || len(got.Offers) == 0 || told != 1 {
		t.Errorf("called off after the first offers: %v, %v, told %d times", got, err, told)
	}
	if got, err := Propose(ctx, p, Usual(), nil); err == nil || got != nil {
		t.Errorf("called off before it began: %v, %v", got, err)
	}
}
