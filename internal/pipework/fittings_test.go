package pipework

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// spoke is a pipe that leaves the joint of a star for a place ten feet away.
type spoke struct {
	deg  float64
	size units.Inches
}

// star is pipes that meet at the node "j"; the source is at the end of the first.
// Pipe a0 is the one the water comes by, a1 and on leave.
func star(kind string, spokes ...spoke) *plan.Plan {
	p := &plan.Plan{
		Heads:  map[plan.ID]plan.Head{"h": {Body: "b"}},
		Bodies: map[plan.ID]catalog.Body{"b": {InletIn: 0.5}},
		Zones:  map[plan.ID]plan.Zone{"z": {Name: "Z"}},
		Nodes:  map[plan.ID]plan.Node{"j": {Kind: kind}},
		Pipes:  map[plan.ID]plan.Pipe{},
	}
	switch j := p.Nodes["j"]; kind {
	case "head":
		j.Head = "h"
		p.Nodes["j"] = j
	case "valve":
		j.Zone = "z"
		p.Nodes["j"] = j
	}
	for i, s := range spokes {
		end, id := plan.ID(fmt.Sprintf("e%d", i)), plan.ID(fmt.Sprintf("a%d", i))
		sin, cos := math.Sincos(s.deg * math.Pi / 180)
		node := plan.Node{Kind: "joint", X: units.Feet(10 * cos), Y: units.Feet(10 * sin)}
		if i == 0 {
			node.Kind = "connection"
		}
		p.Nodes[end] = node
		pipe := plan.Pipe{From: end, To: "j", Class: "pvc-sch40", NominalIn: s.size}
		if kind == "valve" && i > 0 {
			pipe.Zone = "z"
		}
		p.Pipes[id] = pipe
	}
	return p
}

func jointsIn(list []Joint) string {
	var out []string
	for _, j := range list {
		s := string(j.Kind)
		for _, in := range j.Sizes {
			s += fmt.Sprintf(" %v", float64(in))
		}
		if j.Thread > 0 {
			s += fmt.Sprintf(" thread %v", float64(j.Thread))
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

func lossesIn(list []Fitting) string {
	var out []string
	for _, f := range list {
		out = append(out, fmt.Sprintf("%s %.3g", f.Kind, f.K))
	}
	return strings.Join(out, ", ")
}

// What a joint takes follows from how its pipes lie. Losses are the EPANET manual's
// (see losses); 1 in Schedule 40 is 1.029 in wide and 3/4 in 0.804, so that a step
// down loses (1 − .804²/1.029²) / 2 = 0.195 velocity heads.
func TestFittingsFollowFromTheWayPipesLie(t *testing.T) {
	const big, small = 1, 0.75
	for _, c := range []struct {
		name   string
		kind   string
		spokes []spoke
		joints string
		losses []string // of a1, a2 …
	}{
		{"straight on", "joint", []spoke{{180, big}, {0, big}}, "", []string{""}},
		{"bent within what pipe takes", "joint", []spoke{{180, big}, {11, big}}, "", []string{""}},
		{"a quarter turn", "joint", []spoke{{180, big}, {90, big}}, "ell_90 1", []string{"ell_90 0.9"}},
		{"half of one", "joint", []spoke{{180, big}, {45, big}}, "ell_45 1", []string{"ell_45 0.4"}},
		{"sharper than a quarter", "joint", []spoke{{180, big}, {-135, big}}, "ell_90 1, ell_45 1", []string{"ell_90 0.9, ell_45 0.4"}},
		{"right back", "joint", []spoke{{180, big}, {180, big}}, "ell_90 1, ell_90 1", []string{"ell_90 0.9, ell_90 0.9"}},
		{"smaller straight on", "joint", []spoke{{180, big}, {0, small}}, "reducer 1 0.75", []string{"reducer 0.195"}},
		{"smaller round a corner", "joint", []spoke{{180, big}, {90, small}}, "ell_90 1, reducer 1 0.75", []string{"ell_90 0.9, reducer 0.195"}},
		{"not sized", "joint", []spoke{{180, 0}, {90, 0}}, "ell_90 0", []string{"ell_90 0.9"}},
		{"a tee", "joint", []spoke{{180, big}, {0, small}, {90, small}}, "tee 1 0.75 0.75", []string{"tee_run 0.6, reducer 0.195", "tee_branch 1.8"}},
		{"a tee from its side", "joint", []spoke{{90, big}, {0, small}, {180, small}}, "tee 0.75 0.75 1", []string{"tee_branch 1.8", "tee_branch 1.8"}},
		{"a slanting branch", "joint", []spoke{{180, big}, {0, big}, {45, big}}, "tee 1 1 1, ell_45 1", []string{"tee_run 0.6", "tee_branch 1.8, ell_45 0.4"}},
		{"a cross", "joint", []spoke{{180, big}, {0, big}, {90, small}, {270, small}}, "cross 1 1 0.75 0.75", []string{"cross_run 0.6", "cross_branch 1.8", "cross_branch 1.8"}},
		{"two tees for four that do not cross", "joint", []spoke{{180, big}, {0, big}, {60, small}, {120, small}}, "tee 1 1 0.75, ell_45 0.75, tee 1 1 0.75, ell_45 0.75",
			[]string{"tee_run 1.2", "tee_run 0.6, tee_branch 1.8, ell_45 0.4", "tee_branch 1.8, ell_45 0.4"}},
		{"a row of tees for five", "joint", []spoke{{180, big}, {0, big}, {85, small}, {90, small}, {95, small}}, "tee 1 1 0.75, tee 1 1 0.75, tee 1 1 0.75",
			[]string{"tee_run 1.8", "tee_run 1.2, tee_branch 1.8", "tee_run 0.6, tee_branch 1.8", "tee_branch 1.8"}},
		{"an end", "joint", []spoke{{180, big}}, "cap 1", nil},
		{"the last head", "head", []spoke{{180, small}}, "outlet_ell 0.75 thread 0.5", nil},
		{"a head on the way", "head", []spoke{{180, big}, {0, small}}, "outlet_tee 1 0.75 thread 0.5", []string{"outlet_tee 0.6, reducer 0.195"}},
		{"a head at a corner", "head", []spoke{{180, big}, {90, big}}, "outlet_tee 1 1 thread 0.5, ell_90 1", []string{"outlet_tee 0.6, ell_90 0.9"}},
		{"a head at a tee", "head", []spoke{{180, big}, {0, big}, {90, big}}, "outlet_tee 1 1 thread 0.5, tee 1 1 1", []string{"outlet_tee 0.6, tee_run 0.6", "outlet_tee 0.6, tee_branch 1.8"}},
		{"a device", "backflow", []spoke{{180, big}, {90, big}}, "adapter 1, adapter 1", []string{""}},
		{"a valve with two laterals", "valve", []spoke{{180, big}, {90, small}, {-90, small}}, "adapter 1, tee 0.75 0.75 0.75, adapter 0.75", []string{"", ""}},
		{"a drain", "drain", []spoke{{180, big}}, "adapter 1", nil},
	} {
		net := Of(star(c.kind, c.spokes...))
		if got := jointsIn(net.Nodes["j"].Joints); got != c.joints {
			t.Errorf("%s: joints %q, want %q", c.name, got, c.joints)
		}
		for i, want := range c.losses {
			if got := lossesIn(net.Pipes[plan.ID(fmt.Sprintf("a%d", i+1))].Fittings); got != want {
				t.Errorf("%s: a%d loses by %q, want %q", c.name, i+1, got, want)
			}
		}
	}
}

// A joint turned and mirrored stays the joint it is.
func TestFittingsDoNotDependOnTheCompass(t *testing.T) {
	for _, spokes := range [][]spoke{
		{{180, 1}, {0, 0.75}, {90, 0.75}}, {{180, 1}, {0, 1}, {90, 0.75}, {270, 0.75}}, {{180, 1}, {90, 1}}, {{90, 1}, {0, 0.75}, {180, 0.75}},
	} {
		want := jointsIn(Of(star("joint", spokes...)).Nodes["j"].Joints)
		for deg := 7.0; deg < 360; deg += 29 {
			for _, mirror := range []float64{1, -1} {
				turned := slices.Clone(spokes)
				for i := range turned {
					turned[i].deg = mirror*turned[i].deg + deg
				}
				if got := jointsIn(Of(star("joint", turned...)).Nodes["j"].Joints); got != want {
					t.Errorf("turned by %v°, mirrored %v: %q, want %q", deg, mirror, got, want)
				}
			}
		}
	}
}

func TestCornersOfAPipeTakeElls(t *testing.T) {
	p := star("joint", spoke{180, 1}, spoke{0, 1})
	e := p.Pipes["a1"] // from (10, 0) to (0, 0): up, back along an arc tangent to both, down
	e.Via = geom.Line{{X: 10, Y: 5}, {X: 10, Y: 10, Bulge: 1}, {X: 0, Y: 10}, {X: 0, Y: 10}}
	p.Pipes["a1"] = e
	pipe := Of(p).Pipes["a1"]
	if got := jointsIn(pipe.Joints); got != "" {
		t.Errorf("bent pipe takes %q", got)
	}
	e.Via = geom.Line{{X: 10, Y: 10}, {X: 0, Y: 10}}
	p.Pipes["a1"] = e
	pipe = Of(p).Pipes["a1"]
	if got := jointsIn(pipe.Joints); got != "ell_90 1, ell_90 1" {
		t.Errorf("two corners take %q", got)
	}
	if got := lossesIn(pipe.Fittings); got != "ell_90 0.9, ell_90 0.9, ell_90 0.9" {
		t.Errorf("two corners and the joint lose by %q", got)
	}
}

func TestTheMainGoesPastAValveByATee(t *testing.T) {
	net := Of(yard())
	if got := jointsIn(net.Nodes["v1"].Joints); got != "tee 1 1 1, adapter 1, adapter 1" {
		t.Errorf("joints %q", got)
	}
	if got := lossesIn(net.Pipes["m3"].Fittings); got != "tee_run 0.6" {
		t.Errorf("the main past it loses by %q", got)
	}
	if got := lossesIn(net.Pipes["a1"].Fittings); got != "tee_branch 1.8" {
		t.Errorf("its lateral loses by %q", got)
	}
}

// A fitting is bought when any pipe at it is new, and one of another material takes
// an adapter.
func TestNewPipeOnOldTakesNewFittings(t *testing.T) {
	p := star("joint", spoke{180, 1}, spoke{0, 1}, spoke{90, 1})
	for _, id := range []plan.ID{"a0", "a1"} {
		e := p.Pipes[id]
		e.Status = plan.Existing
		p.Pipes[id] = e
	}
	e := p.Pipes["a2"]
	e.Class = "pe-100"
	p.Pipes["a2"] = e
	joints := Of(p).Nodes["j"].Joints
	if got := jointsIn(joints); got != "tee 1 1 1, transition 1 1" {
		t.Errorf("joints %q", got)
	}
	for _, j := range joints {
		if !j.New || j.Class != "pvc-sch40" {
			t.Errorf("%s: new %v, class %s", j.Kind, j.New, j.Class)
		}
	}
	e.Status = plan.Existing
	p.Pipes["a2"] = e
	for _, j := range Of(p).Nodes["j"].Joints {
		if j.New {
			t.Errorf("%s between old pipes is bought", j.Kind)
		}
	}
}
