package arrange

import (
	"context"
	"fmt"
	"os"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// plainYard is a lawn with what usually lies about one: a house along one side, a
// walk and a drive, a fence, beds.
func plainYard(w, d float64, house, walk, drive, fence, beds bool) *plan.Plan {
	p, _ := lawnPlan(w, d)
	for id, a := range p.Areas {
		a.Name = "Lawn"
		p.Areas[id] = a
	}
	if house {
		p.Areas["house"] = plan.Area{Name: "House", Kind: plan.Building, Outline: rect(0, d, w, d+25)}
	}
	if walk {
		p.Areas["walk"] = plan.Area{Name: "Walk", Kind: plan.Paving, Outline: rect(-4, -4, w+4, 0)}
	}
	if drive {
		p.Areas["drive"] = plan.Area{Name: "Drive", Kind: plan.Paving, Outline: rect(w, 0, w+12, d)}
	}
	if fence {
		p.Barriers = map[plan.ID]plan.Barrier{"fence": {Name: "Fence", Kind: plan.Fence, HeightFt: 6, Line: geom.Line{{X: 0, Y: -4}, {X: 0, Y: d}}}}
	}
	if beds {
		p.Areas["bed"] = plan.Area{Name: "Bed", Kind: plan.Planting, Planting: plan.Shrubs, Outline: rect(-8, 0, 0, d)}
	}
	return p
}

// Every layout offered on a plain yard, once applied, is free of findings that name
// its heads as throwing on a wall or on paving. What leaves the drawing, where no
// property line is drawn, is no more than was asked for, and none to speak of in the
// first.
func TestLayoutsThrowOnNoWallAndNoPaving(t *testing.T) {
	t.Parallel()
	yards := map[string]*plan.Plan{
		"30x20 against a house":      plainYard(30, 20, true, false, false, false, false),
		"40x25 between three":        plainYard(40, 25, true, true, true, false, false),
		"25x25 fence and bed":        plainYard(25, 25, true, false, false, true, false),
		"45x14 side yard, bed, walk": plainYard(45, 14, true, true, false, false, true),
		"14x40 house at the end":     plainYard(14, 40, true, true, true, true, false),
	}
	for name, p := range yards {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o := Usual()
			o.Effort = 1500
			o.Areas = []plan.ID{"lawn"}
			got, err := Propose(context.Background(), p, o, nil)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Offers) == 0 {
				t.Fatal(got.Answers[0].Why)
			}
			for i, of := range got.Offers {
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
					if os.Getenv("EVENFALL_TELL") != "" {
						fmt.Println(name, "|", of.Name, of.Says, "|", f.Rank, f.Code, f.Sentence)
					}
					switch f.Code {
					case plan.LeavesLot:
						if f.Rank != plan.Notice && (i == 0 || off(r) > o.Bare+0.005) {
							t.Errorf("%s (%s): %s", of.Name, of.Says, f.Sentence)
						}
					case plan.SprayOnWall, plan.ThrowOnPaving:
						if f.Rank != plan.Notice {
							t.Errorf("%s (%s): %s", of.Name, of.Says, f.Sentence)
						}
					}
				}
			}
		})
	}
}

// off is the share of the water that leaves the drawing.
func off(r *coverage.Result) units.Ratio {
	for _, o := range r.OffTarget {
		if o.Surface == coverage.Outside {
			return o.Share
		}
	}
	return 0
}
