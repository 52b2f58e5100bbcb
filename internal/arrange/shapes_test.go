package arrange

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// thorough asks for every search in full: minutes, not seconds.
func thorough() bool { return os.Getenv("EVENFALL_THOROUGH") != "" }

// result prints a line of the page of results: go run ./cmd/dev layouts gathers
// them by table, in the order they are printed.
func result(table string, cells ...string) {
	fmt.Printf("layout-result\t%s\t%s\n", table, strings.Join(cells, "\t"))
}

// ownShapes are ten shapes of our own, each alone on a plan with the usual
// set-backs and lip. small are searched in every test.
var ownShapes = []struct {
	name    string
	outline geom.Outline
	holes   []geom.Outline
	small   bool
}{
	{"T, 60 ft by 18 ft on a stem of 20 ft by 26 ft", geom.Outline{{X: 20, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 26}, {X: 60, Y: 26}, {X: 60, Y: 44}, {X: 0, Y: 44}, {X: 0, Y: 26}, {X: 20, Y: 26}}, nil, false},
	{"triangle, 56 ft by 44 ft", geom.Outline{{X: 0, Y: 0}, {X: 56, Y: 0}, {X: 20, Y: 44}}, nil, false},
	{"trapezoid, 60 ft and 34 ft by 28 ft", geom.Outline{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 44, Y: 28}, {X: 10, Y: 28}}, nil, false},
	{"quarter disc, 40 ft", sectorOf(0, 0, 0, 40, 0, 90), nil, true},
	{"thin L, 50 ft and 38 ft by 8 ft", geom.Outline{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 8}, {X: 8, Y: 8}, {X: 8, Y: 38}, {X: 0, Y: 38}}, nil, true},
	{"comb, three teeth of 12 ft by 18 ft on 70 ft by 14 ft", geom.Outline{
		{X: 0, Y: 0}, {X: 70, Y: 0}, {X: 70, Y: 32}, {X: 58, Y: 32}, {X: 58, Y: 14}, {X: 41, Y: 14}, {X: 41, Y: 32},
		{X: 29, Y: 32}, {X: 29, Y: 14}, {X: 12, Y: 14}, {X: 12, Y: 32}, {X: 0, Y: 32},
	}, nil, false},
	{"lawn of 70 ft by 50 ft with three beds", rect(0, 0, 70, 50), []geom.Outline{round(18, 32, 5), round(40, 15, 4), round(56, 36, 6)}, false},
	{"polygon of twelve sides, 48 ft across", polygonOf(12, 24), nil, false},
	{"kidney, 50 ft across", kidney(), nil, false},
	{"wedge on a cul-de-sac, 31 ft to 52 ft by 30 ft", sectorOf(0, 0, 45, 75, 70, 40), nil, false},
}

// sectorOf is the ground between two circles, or of a disc for 0.
func sectorOf(x, y, inner, outer, start, sweep float64) geom.Outline {
	var o geom.Outline
	at := func(r, deg float64) {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		o = append(o, geom.Vertex{X: x + r*cos, Y: y + r*sin})
	}
	const steps = 36
	for i := range steps + 1 {
		at(outer, start+sweep*float64(i)/steps)
	}
	if inner == 0 {
		return append(o, geom.Vertex{X: x, Y: y})
	}
	for i := range steps + 1 {
		at(inner, start+sweep*float64(steps-i)/steps)
	}
	return o
}

func round(x, y, r float64) geom.Outline {
	o := sectorOf(x, y, 0, r, 0, 360)
	return o[:len(o)-2]
}

func polygonOf(n int, r float64) geom.Outline {
	var o geom.Outline
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		o = append(o, geom.Vertex{X: 30 + r*cos, Y: 30 + r*sin})
	}
	return o
}

func kidney() geom.Outline {
	var o geom.Outline
	for i := range 120 {
		a := 2 * math.Pi * float64(i) / 120
		r := 25 * (1 - 0.4*math.Exp(-(a-math.Pi/2)*(a-math.Pi/2)/0.35))
		o = append(o, geom.Vertex{X: 30 + r*math.Cos(a), Y: 30 + r*math.Sin(a)})
	}
	return o
}

// Ten shapes: an even layout with little past the edge, or a sentence that says
// why not; and what of it is to be expected in the field.
func TestLayouts_TenShapes(t *testing.T) {
	const table = "Ten shapes of our own, usual set-backs and lip, generic nozzles"
	result(table, "shape", "nozzles", "heads", "drawn", "field", "1 in 10", "past the edge", "settings", "what is said")
	for _, sh := range ownShapes {
		if !sh.small && !thorough() {
			continue
		}
		t.Run(sh.name, func(t *testing.T) {
			p := plan.Empty("shape", units.US)
			p.Areas = map[plan.ID]plan.Area{"a": lawn(sh.outline, sh.holes...)}
			for _, families := range [][]catalog.Family{nil, {catalog.Spray}} {
				o := Usual()
				o.Families = families
				if !thorough() {
					o.Effort = 3000
				}
				got, err := Propose(context.Background(), p, o, nil)
				if err != nil {
					t.Fatal(err)
				}
				showShape(table, sh.name, families, got)
				holdShape(t, sh.name, p, got)
			}
		})
	}
}

func showShape(table, name string, asked []catalog.Family, got *Proposal) {
	a := got.Answers[0]
	ask := "by width"
	if len(asked) > 0 {
		ask = familyWord(asked[0])
	}
	if len(got.Offers) == 0 {
		result(table, name, ask, "–", "–", "–", "–", "–", "–", a.Why)
		return
	}
	for i, offer := range got.Offers {
		l := a.Layouts[offer.Picks[0].Layout]
		m, said := l.Measures, offer.Name
		if a.Why != "" && i == 0 {
			said += ". " + a.Why
		}
		result(table, name, familyWord(l.Family)+map[bool]string{true: ", tidy"}[l.Tidy], fmt.Sprint(m.Heads), fmt.Sprintf("%.3f", m.DU), fmt.Sprintf("%.3f", m.FieldMean),
			fmt.Sprintf("%.3f", m.FieldP10), fmt.Sprintf("%.1f %%", 100*m.PastEdge), fmt.Sprint(m.Settings), said)
		name, ask = "", ""
	}
}

// holdShape holds what is offered for one shape to what is promised.
func holdShape(t *testing.T, name string, p *plan.Plan, got *Proposal) {
	t.Helper()
	a := got.Answers[0]
	wide := widestOf(t, p) > 15
	even := false
	for _, l := range a.Layouts {
		m := l.Measures
		if m.PastEdge > 0.0505 {
			t.Errorf("%s: %s puts %.4f past the edge", name, l.Says, m.PastEdge)
		}
		if m.DU < evenEnough && a.Why == "" {
			t.Errorf("%s: %s and nothing is said", name, l.Says)
		}
		even = even || m.DU >= evenEnough
		switch {
		case l.Family == catalog.Spray && wide && m.DU >= 0.90 && m.FieldP10 < 0.75,
			(l.Family == catalog.Stream || !wide) && m.DU >= 0.90 && m.FieldP10 < 0.70:
			t.Errorf("%s: %s is %.3f one time in ten in the field", name, l.Says, m.FieldP10)
		}
	}
	if !even && a.Why == "" {
		t.Errorf("%s: no even layout, and no reason", name)
	}
}

func widestOf(t *testing.T, p *plan.Plan) units.Feet {
	t.Helper()
	s, err := newSite(p)
	if err != nil {
		t.Fatal(err)
	}
	g, err := s.ground("a")
	if err != nil {
		t.Fatal(err)
	}
	return g.widest
}
