package arrange

import (
	"context"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// What an offer is named for shows in its figures, as they are printed.
func TestOfferNamesHold(t *testing.T) {
	t.Parallel()
	p, _ := lawnPlan(40, 22)
	yard := yardOfThree()
	for _, tt := range []struct {
		name string
		p    *plan.Plan
	}{{"one lawn", p}, {"three areas", yard}} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := Propose(context.Background(), tt.p, quick(), func(s Stage) {
				if s.Best != nil {
					namesHold(t, tt.p, s.Best)
				}
			})
			if err != nil {
				t.Fatal(err)
			}
		})
	}
}

func yardOfThree() *plan.Plan {
	p := plan.Empty("Yard", "us")
	p.Areas = map[plan.ID]plan.Area{
		"a1": {Name: "Lawn", Kind: plan.Planting, Outline: rect(0, 0, 30, 20)},
		"a2": {Name: "Side", Kind: plan.Planting, Outline: rect(36, 0, 58, 26)},
		"a3": {Name: "Strip", Kind: plan.Planting, Outline: rect(0, -14, 58, -7)},
		"a4": {Name: "Walk", Kind: plan.Paving, Outline: rect(30, 0, 36, 20)},
	}
	return p
}

func namesHold(t *testing.T, p *plan.Plan, got *Proposal) {
	t.Helper()
	names := map[string]bool{}
	for i, o := range got.Offers {
		if names[o.Name] || o.Name == "" {
			t.Errorf("two offers go by %q", o.Name)
		}
		names[o.Name] = true
		for k := range claims {
			c := &claims[k]
			best := o.Name == c.best || strings.Contains(o.Says, c.bestWhy)
			if i > 0 && (best || o.Name == c.more) && !c.ahead(p, &o.Total, &got.Offers[0].Total) {
				t.Errorf("%s is no better than the first by %s: %s | %s", o.Name, c.column, o.Says, got.Offers[0].Says)
			}
			for _, other := range got.Offers {
				if best && c.ahead(p, &other.Total, &o.Total) {
					t.Errorf("%s: %s is ahead by %s", o.Says, other.Says, c.column)
				}
			}
		}
	}
}

// An offer that is chosen for what does not show is named for what does, and one
// that nothing speaks for goes where there are enough.
func TestOfferIsNamedForWhatShows(t *testing.T) {
	t.Parallel()
	p := yardOfThree()
	pr := &proposer{p: p}
	of := func(r role, f catalog.Family, tidy bool, heads int, field, past units.Ratio) offered {
		m := Measures{Heads: heads, DU: 0.9, FieldMean: field, PastEdge: past}
		return offered{role: r, layouts: []*Layout{{Area: "a1", Family: f, Tidy: tidy, Measures: m}}, total: m}
	}
	all := []offered{
		of(roleFirst, catalog.Spray, true, 12, 0.801, 0.02),
		of(roleFewest, catalog.Spray, false, 12, 0.804, 0.02),
		of(roleOther, catalog.Stream, false, 6, 0.78, 0.03),
		of(roleInside, catalog.Spray, false, 12, 0.83, 0.0202),
		of(roleEven, catalog.Spray, false, 11, 0.80, 0.01),
	}
	pr.call(all)
	for i, want := range []string{"Neatest to stake", "", "Streams instead", "Most even", "Least past the edge"} {
		if all[i].name != want {
			t.Errorf("%d is named %q, want %q", i, all[i].name, want)
		}
	}
	if all[0].why != neatWhy || all[2].why != "Stream nozzles in place of sprays. No other has fewer heads." {
		t.Errorf("%q, %q", all[0].why, all[2].why)
	}
	all = []offered{of(roleFirst, catalog.Spray, true, 8, 0.80, 0), of(roleEven, catalog.Spray, true, 12, 0.84, 0)}
	pr.call(all)
	if want := neatWhy + " No other has fewer heads."; all[0].why != want || all[1].name != "Most even" {
		t.Errorf("%q, %q", all[0].why, all[1].name)
	}
}

// Ground that the heads which stay water well is left alone; where they leave it dry
// more are offered.
func TestNothingToArrangeWhereWhatStaysWaters(t *testing.T) {
	t.Parallel()
	p, _ := lawnPlan(40, 22)
	first, err := Propose(context.Background(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err = plan.Preview(p.Encode(), first.Offers[0].Patch)
	if err != nil {
		t.Fatal(err)
	}
	for id, h := range p.Heads {
		h.Locked = true
		p.Heads[id] = h
	}
	got, err := Propose(context.Background(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if a := got.Answers[0]; len(got.Offers)+len(a.Layouts) > 0 || !strings.HasPrefix(a.Why, "There is nothing to arrange on ") {
		t.Errorf("%d offers: %q", len(got.Offers), a.Why)
	}
	delete(p.Heads, plan.SortedIDs(p.Heads)[0])
	got, err = Propose(context.Background(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if a := got.Answers[0]; len(got.Offers) == 0 {
		t.Errorf("a corner is dry: %q", a.Why)
	}
}

// Of ground that nothing fits all say the same: the list of areas, Arrange, Improve.
func TestPlacesAndImproveSayWhatArrangeSays(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Verges", "us")
	p.Areas = map[plan.ID]plan.Area{"a1": {Name: "Verge", Kind: plan.Planting, Outline: rect(0, 0, 40, 2)}}
	places, err := Places(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Propose(context.Background(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	why := got.Answers[0].Why
	if why == "" || places[0].Refuses != why || places[0].Family != "" {
		t.Errorf("Arrange: %q\nPlaces: %q, suits %q", why, places[0].Refuses, places[0].Family)
	}
	p.Areas["a2"] = plan.Area{Name: "Lawn", Kind: plan.Planting, Outline: rect(0, 50, 40, 70)}
	p.Areas["a3"] = plan.Area{Name: "Side", Kind: plan.Planting, Outline: rect(100, 0, 120, 20)}
	p.Heads = map[plan.ID]plan.Head{"h1": {Nozzle: "spray-12-adj", Body: "body-4", X: 20, Y: 60, SweepDeg: 360}}
	better, err := Improve(t.Context(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	verge, side := "", ""
	for _, s := range better.Left {
		if strings.HasPrefix(s, "Verge") {
			verge = s
		} else if strings.HasPrefix(s, "Side") {
			side = s
		}
	}
	if !strings.HasSuffix(verge, why) || strings.Contains(verge, "first") || !strings.HasSuffix(side, "Arrange heads on it first.") {
		t.Errorf("%q", better.Left)
	}
}

// Water past what is drawn asks for the property line, where there is none.
func TestPastWhatIsDrawnAsksForThePropertyLine(t *testing.T) {
	t.Parallel()
	of := func(lot bool, away units.Ratio) string {
		p := yardOfThree()
		if lot {
			p.Site.Lot = rect(-50, -50, 100, 100)
		}
		return (&proposer{p: p}).offTheDrawing(&Proposal{Offers: []Offer{{Total: Measures{Past: []Past{{Surface: "outside", Share: away}}}}}})
	}
	if s := of(false, 0.02); !strings.Contains(s, "Draw the property line") {
		t.Errorf("%q", s)
	}
	if s := of(false, 0.0001) + of(true, 0.02); s != "" {
		t.Errorf("%q", s)
	}
}
