package trench

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// found are the findings of a drawing with a code.
func (d drawing) found(code string) []plan.Finding {
	net := pipework.Of(d.Plan)
	var out []plan.Finding
	for _, f := range Check(d.Plan, net, Of(d.Plan, net)) {
		if f.Code == code {
			out = append(out, f)
		}
	}
	return out
}

// want holds a drawing to the findings of a code: their rank and how they begin.
func (d drawing) want(t *testing.T, name, code string, rank plan.Rank, begins ...string) {
	t.Helper()
	got := d.found(code)
	if len(got) != len(begins) {
		t.Errorf("%s: %d findings of %s, want %d: %v", name, len(got), code, len(begins), got)
		return
	}
	for i, f := range got {
		if f.Rank != rank || !strings.HasPrefix(f.Sentence, begins[i]) || f.At == nil {
			t.Errorf("%s: %s %q at %v, want %s %q", name, f.Rank, f.Sentence, f.At, rank, begins[i])
		}
	}
}

func TestRow28_PavingCrossedWithoutSleeve(t *testing.T) {
	t.Parallel()
	d := underWalk("Walk", 1, plan.Existing)
	d.want(t, "both", plan.SleeveMissing, plan.Mend, "The main and a lateral cross Walk with no sleeve, 4' 0\" under it.")
	far := underWalk("Walk", 8, plan.Existing)
	far.want(t, "8 ft apart", plan.SleeveMissing, plan.Mend, "2 ways of pipe and wire cross Walk with no sleeve, 8' 0\" in all.")
	far.sleeve("s", "", 2, 9, 0, 15, 0)
	far.want(t, "one with a sleeve", plan.SleeveMissing, plan.Mend, "A lateral crosses Walk with no sleeve, 4' 0\" under it.")
	for id, v := range d.Pipes {
		v.Status = plan.Existing
		d.Pipes[id] = v
	}
	d.want(t, "there already", plan.SleeveMissing, plan.Mend)
}

func TestRow28_SleeveTooSmall(t *testing.T) {
	t.Parallel()
	d := underWalk("Walk", 1, plan.Existing)
	d.sleeve("s", "", 2, 9, 0.5, 15, 0.5)
	d.want(t, "for two", plan.SleeveSmall, plan.Mend, "The sleeve of 2 in under Walk is too small: the pipe in it takes 2-1/2 in")
	s := d.Sleeves["s"]
	s.Status = plan.Existing
	d.Sleeves["s"] = s
	d.want(t, "there already", plan.SleeveSmall, plan.Notice, "The sleeve of 2 in under Walk is too small")
	s.NominalIn = 0
	d.Sleeves["s"] = s
	d.want(t, "by what is in it", plan.SleeveSmall, plan.Mend)
	d.sleeve("s", "", 2.5, 9, 0.5, 15, 0.5)
	d.want(t, "large enough", plan.SleeveSmall, plan.Mend)
	d.Options.Figures = map[plan.ID]plan.Figure{plan.SleeveTimes: {Value: 3, Source: "the town's own"}}
	if got := d.found(plan.SleeveSmall); len(got) != 1 || got[0].Source != "the town's own" {
		t.Errorf("three times by the town's rule: %v", got)
	}
}

func TestRow28_SleeveTooShort(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		x0, x1 float64
		begins []string
	}{
		{9, 15, nil},
		{15, 9, nil},
		{9.04, 15, nil}, // half an inch
		{9.5, 15, []string{`The sleeve under Walk ends 6" past its edge, where 12" is the least.`}},
		{15, 9.5, []string{`The sleeve under Walk ends 6" past its edge`}},
		{9, 13, []string{`The sleeve under Walk ends 1' 0" short of its edge`}},
	} {
		d := underWalk("Walk", 0, plan.Existing)
		d.sleeve("s", "", 3, c.x0, 0, c.x1, 0)
		d.want(t, "", plan.SleeveShort, plan.Mend, c.begins...)
		s := d.Sleeves["s"]
		s.Status = plan.Existing
		d.Sleeves["s"] = s
		d.want(t, "there already", plan.SleeveShort, plan.Mend)
	}
}

// A sleeve laid askew is measured along itself, not along the pipe.
func TestPastEdgesAlongASleeveAskew(t *testing.T) {
	t.Parallel()
	d := underWalk("Walk", 0, plan.Existing)
	d.sleeve("s", "", 3, 9, -0.5, 15, 0.5)
	digs := d.dug()
	a, b := SleeveEnds(d.Sleeves["s"])
	edges := PastEdges(d.Plan, a, b, &digs.Crossings[0])
	slant := math.Hypot(6, 1) / 6
	if len(edges) != 2 || math.Abs(float64(edges[0].Past)-slant) > 1e-3 || math.Abs(float64(edges[1].Past)-slant) > 1e-3 {
		t.Errorf("%+v, want %v past both", edges, slant)
	}
}

func TestRow28_LongBore(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		wide   float64
		method string
		begins []string
	}{{20, "", nil}, {21, "", []string{"The longest bore is 21' 0\", under Court: by hand 20' 0\" is the most."}}, {30, "saw_cut", nil}} {
		d := draw()
		d.node("c", "connection", 0, 0, "")
		d.node("e", "joint", 60, 0, "")
		d.pipe("m", "c", "e", "", 1)
		d.area("Court", plan.Paving, 10, -5, 10+c.wide, 5)
		d.sleeve("s", "", 2, 9, 0, 11+c.wide, 0)
		s := d.Sleeves["s"]
		s.Method = c.method
		d.Sleeves["s"] = s
		d.want(t, c.method, plan.BoreLong, plan.Notice, c.begins...)
	}
}

func TestRow29_WireAndPipeShareASleeve(t *testing.T) {
	t.Parallel()
	d := underWalk("Walk", 0, plan.Existing)
	wireAlong(d)
	d.sleeve("s", "", 3, 9, 0, 15, 0)
	d.want(t, "shared", plan.SleeveShared, plan.Mend, "Under Walk wire goes through the sleeve of the pipe")
	d.sleeve("w", "wire", 1, 9, 0.5, 15, 0.5)
	d.want(t, "its own", plan.SleeveShared, plan.Mend)
	d.Options.Figures = map[plan.ID]plan.Figure{plan.WireSpares: {Value: 0}}
	d.want(t, "no spare conductor", plan.SleeveShared, plan.Notice, "No spare conductor is planned")
}

func TestRow29_NoSpareUnderNewPaving(t *testing.T) {
	t.Parallel()
	d := underWalk("Walk", 0, plan.New)
	d.sleeve("s", "pipe", 3, 9, 0, 15, 0)
	d.want(t, "none", plan.SleeveShared, plan.Notice, "Walk is still to be laid, and no spare sleeve is planned under it.")
	d.sleeve("r", "spare", 3, 9, 1, 15, 1)
	d.want(t, "one", plan.SleeveShared, plan.Notice)
}

func TestRow34_TrenchThroughRoots(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		off, trunk, zone float64
		begins           []string
	}{
		{5, 6, 0, []string{`A trench passes 5' 0" from the trunk of a tree, where 6' 0" is the least for its 6".`}},
		{6, 6, 0, nil},
		{7, 6, 12, nil}, // among roots, by hand
		{5, 4, 12, nil},
		{2, 4, 1, []string{"A trench passes 2' 0\" from the trunk"}}, // a root zone drawn too small
	} {
		d := draw()
		d.node("c", "connection", 0, 0, "")
		d.node("e", "joint", 60, 0, "")
		d.pipe("m", "c", "e", "", 1)
		d.Trees["t"] = plan.Tree{X: 30, Y: units.Feet(c.off), TrunkIn: inches(c.trunk), RootZoneFt: units.Feet(c.zone)}
		d.want(t, "", plan.RootsCut, plan.Mend, c.begins...)
		if c.begins != nil {
			m := d.Pipes["m"]
			m.Status = plan.Existing
			d.Pipes["m"] = m
			d.want(t, "there already", plan.RootsCut, plan.Mend)
		}
	}
}

// A head among roots is told of by itself; the pipe that leads to it alone is not
// told of again, what goes on past it is.
func TestRow34_PipeToAHeadAmongRootsIsToldOnce(t *testing.T) {
	t.Parallel()
	d := draw()
	d.Heads = map[plan.ID]plan.Head{"h": {X: 30, Zone: "z1"}}
	d.node("c", "connection", 0, 0, "")
	d.node("v1", "valve", 10, 0, "z1")
	d.pipe("m", "c", "v1", "", 1)
	d.Nodes["n"] = plan.Node{Kind: "head", X: 30, Head: "h", Zone: "z1"}
	d.pipe("l", "v1", "n", "z1", 1)
	d.Trees["t"] = plan.Tree{Name: "Oak", X: 30, Y: 3, TrunkIn: 6}
	d.want(t, "to the head", plan.RootsCut, plan.Mend)
	d.node("e", "joint", 60, 0, "z1")
	d.pipe("k", "n", "e", "z1", 1)
	d.want(t, "and on", plan.RootsCut, plan.Mend, "A trench passes 3' 0\" from the trunk of Oak")
}

func TestRow34_TrenchWhereNoneCanBeDug(t *testing.T) {
	t.Parallel()
	line := func(kind plan.Kind, x0, x1 float64) drawing {
		d := draw()
		d.node("c", "connection", 0, 0, "")
		d.node("e", "joint", 60, 0, "")
		d.pipe("m", "c", "e", "", 1)
		if x1 > x0 {
			d.area("Yard thing", kind, x0, -5, x1, 5)
		}
		return d
	}
	line(plan.NoDig, 10, 12).want(t, "gas", plan.NoDigging, plan.Stop, "A trench goes through Yard thing, which is not to be dug.")
	line(plan.NoDig, 10, 10.25).want(t, "a thin line", plan.NoDigging, plan.Stop, "A trench goes through Yard thing")
	line(plan.Building, 10, 12).want(t, "house", plan.TrenchAstray, plan.Mend, "A trench goes 2' 0\" through Yard thing.")
	line(plan.Water, 10, 12).want(t, "pond", plan.TrenchAstray, plan.Mend, "A trench goes 2' 0\" through Yard thing.")
	line(plan.Building, 10, 10.5).want(t, "a wall drawn a little off", plan.TrenchAstray, plan.Mend)
	line(plan.Building, -2, 4).want(t, "out of the house it begins in", plan.TrenchAstray, plan.Mend)
	street := line(plan.RightOfWay, -5, 5)
	street.Site.Lot = vertices(5, -20, 80, -20, 80, 20, 5, 20)
	street.want(t, "to the meter in the street", plan.TrenchAstray, plan.Notice, "A trench goes 5' 0\" off the lot.")
	off := line(plan.Planting, 10, 20)
	off.Site.Lot = vertices(-5, -20, 40, -20, 40, 20, -5, 20)
	off.want(t, "off the lot", plan.TrenchAstray, plan.Mend, "A trench goes 20' 0\" off the lot.")
	off.Site.Lot = vertices(-5, -20, 59.5, -20, 59.5, 20, -5, 20)
	off.want(t, "a hand's breadth off", plan.TrenchAstray, plan.Mend)
}
