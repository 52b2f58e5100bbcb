package arrange

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

// cornersMost is how many corners without a head there may be for each head of the
// offers on yards drawn at random (of 25 yards it is 0.03): stated, so that it does not grow. Most are corners
// of what other areas leave of one, which no designer would give a head.
const cornersMost = 0.08

// What is offered on a yard drawn at random is sound: taken, and read again by the
// findings at a cell that no search used, no heads stand where a rule of the place
// forbids, none are of two rates, and none stand too far apart, doubled, throw on a
// wall or leave ground dry unless the offer says so. Grouped, no zone takes more than
// it may.
func TestOffersOnRandomYardsAreSound(t *testing.T) {
	t.Parallel()
	seeds := yards(2, 60)
	heads, corners := make([]int, seeds), make([]int, seeds)
	t.Run("yards", func(t *testing.T) {
		for seed := range seeds {
			t.Run(fmt.Sprint(seed), func(t *testing.T) {
				t.Parallel()
				p := anyYard(uint64(3000 + seed))
				p.Supply = plan.Supply{Measured: true, DesignFlowGPM: 12, DesignFlowReason: "drawn", Connection: &plan.Spot{X: 1, Y: 1}}
				heads[seed], corners[seed] = checkSound(t, p)
			})
		}
	})
	h, c := 0, 0
	for i := range heads {
		h, c = h+heads[i], c+corners[i]
	}
	t.Logf("%d corners without a head, for %d heads offered", c, h)
	if h == 0 || float64(c) > cornersMost*float64(h) {
		t.Errorf("%d corners without a head, for %d heads offered", c, h)
	}
}

func checkSound(t *testing.T, p *plan.Plan) (heads, corners int) {
	o := Usual()
	o.Effort = 200
	got, err := Propose(context.Background(), p, o, nil)
	if refused(t, err) {
		return 0, 0
	}
	measure := newTape(p)
	for i := range got.Offers {
		of := &got.Offers[i]
		next, err := plan.Preview(p.Encode(), of.Patch)
		if err != nil {
			t.Fatal(err)
		}
		for _, pick := range of.Picks {
			a := slices.IndexFunc(got.Answers, func(a Answer) bool { return a.Area == pick.Area })
			for _, h := range got.Answers[a].Layouts[pick.Layout].Heads {
				if why := measure.never(pick.Area, h.At, 0.005); !h.Stays && why != "" {
					t.Errorf("%s, head at %.3f on %s: %s", of.Name, h.At, pick.Area, why)
				}
			}
		}
		heads += of.Total.Heads
		for _, f := range foundAt(t, next, 0.2917) {
			if aboutOthers(&f, of) {
				continue // ground that no layout was found for: its answer says why
			}
			if f.Code == plan.CornerBare {
				corners += int(f.Values["corners"])
			}
			if why := unsound(&f, of); why != "" {
				t.Errorf("%s: %s\n%s", of.Name, why, of.Says)
			}
		}
		if i == 0 {
			groupedIsSound(t, next)
		}
	}
	return heads, corners
}

// foundAt are the findings of a plan about its water, read at a cell of so many feet.
func foundAt(t *testing.T, p *plan.Plan, cell units.Feet) []plan.Finding {
	t.Helper()
	p.Options.CellFt = cell
	field := coverage.New()
	r, _, err := field.Update(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(coverage.Check(p, r, field), func(f plan.Finding) bool { return f.Rank == plan.Notice })
}

// aboutOthers reports whether a finding is about an area that an offer has no layout
// for.
func aboutOthers(f *plan.Finding, of *Offer) bool {
	return slices.ContainsFunc(f.About, func(r plan.Ref) bool {
		collection, id := r.Split()
		return collection == "areas" && (f.Code == plan.DryPatch || f.Code == plan.SpacingWide || f.Code == plan.CornerBare) &&
			!slices.ContainsFunc(of.Picks, func(p Pick) bool { return p.Area == id })
	})
}

// unsound is what a finding says of an offer that the offer does not; "" for nothing.
func unsound(f *plan.Finding, of *Offer) string {
	says := func(any ...string) bool {
		return slices.ContainsFunc(any, func(s string) bool { return strings.Contains(of.Says, s) })
	}
	ok := true
	switch f.Code {
	case plan.RatesMixed, plan.HeadCloseToPaving, plan.NoDigging, plan.NozzleNotFitting, plan.OutsideTable, plan.RotorNozzleByArc:
		ok = false
	case plan.SpacingWide:
		ok = f.Rank != plan.Stop || says("farther apart than head to head", "It falls short of")
	case plan.DryPatch:
		ok = f.Rank != plan.Stop || says("It falls short of")
	case plan.HeadsDoubled:
		ok = says("on or beside another that throws the same way")
	case plan.SprayOnWall:
		ok = says("a fifth of the water")
	}
	if ok {
		return ""
	}
	return f.Sentence
}

// groupedIsSound groups the heads of a plan, takes the grouping, and holds every zone
// to what it may take, at rates that go together.
func groupedIsSound(t *testing.T, p *plan.Plan) {
	t.Helper()
	got, err := zones.Propose(context.Background(), p, zones.Options{Seed: 1, Effort: 5000}, nil)
	var no *zones.Refusal
	if errors.As(err, &no) && len(no.Sentence) > 10 {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	next, err := plan.Preview(p.Encode(), got.Patch)
	if err != nil {
		t.Fatal(err)
	}
	flow := map[plan.ID]units.GPM{}
	for _, id := range plan.SortedIDs(next.Heads) {
		z := next.Heads[id].Zone
		if flow[z] += pressure.PlannedFlow(next, id); z == "" && pressure.PlannedFlow(next, id) > 0 {
			t.Errorf("head %s is on no valve", id)
		}
	}
	for _, id := range plan.SortedIDs(flow) {
		if flow[id] > got.Limit+0.01 {
			t.Errorf("%s takes %.2f gpm, where %.2f are allowed", next.ZoneName(id), flow[id], got.Limit)
		}
	}
	for _, f := range foundAt(t, next, 0.3119) {
		if f.Code == plan.RatesMixed {
			t.Errorf("grouped: %s", f.Sentence)
		}
	}
}
