package arrange

import (
	"context"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Where heads stand back from edges as usual, no layout offered on plain shapes leaves
// a corner bare, as little as it is searched.
func TestLayoutsLeaveNoCornerBare(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		outline geom.Outline
		family  catalog.Family
	}{
		{"rectangle", rect(0, 0, 40, 25), catalog.Spray},
		{"rectangle", rect(0, 0, 44, 30), catalog.Stream},
		{"L", geom.Outline{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 20}, {X: 30, Y: 20}, {X: 30, Y: 45}, {X: 0, Y: 45}}, catalog.Spray},
	} {
		t.Run(c.name+" "+string(c.family), func(t *testing.T) {
			t.Parallel()
			p := yard(map[plan.ID]plan.Area{"lawn": lawn(c.outline)})
			o := Usual()
			o.Effort, o.Families = 2000, []catalog.Family{c.family}
			if thorough() {
				o.Effort = Usual().Effort
			}
			got, err := Propose(context.Background(), p, o, nil)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Offers) == 0 {
				t.Fatal(got.Answers[0].Why)
			}
			for _, of := range got.Offers {
				next, err := plan.Preview(p.Encode(), of.Patch)
				if err != nil {
					t.Fatal(err)
				}
				field := coverage.New()
				r, _, err := field.Update(context.Background(), next)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range coverage.Check(next, r, field) {
					if f.Code == plan.CornerBare {
						t.Errorf("%s, %d heads: %s", of.Name, of.Total.Heads, f.Sentence)
					}
				}
			}
		})
	}
}

// A polygon of twelve sides stands for a circle: it has no corners to set heads in,
// nor does the edge that heads stand along.
func TestPolygonOfTwelveSidesHasNoCorners(t *testing.T) {
	t.Parallel()
	for _, across := range []float64{10, 33, 48, 71} {
		p := plan.Empty("round", units.US)
		p.Areas = map[plan.ID]plan.Area{"a": lawn(polygonOf(12, across/2))}
		g := groundOn(t, p, "a")
		if g.refuses != "" || len(g.edges) != 1 {
			t.Fatalf("%g ft across: refuses %q, %d edges", across, g.refuses, len(g.edges))
		}
		if n := len(g.edges[0].corners); n != 0 {
			t.Errorf("%g ft across: %d corners", across, n)
		}
	}
}
