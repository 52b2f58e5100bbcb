package arrange

import (
	"context"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// The first stage told has offers, every stage told is a whole proposal, and the
// bar never goes back.
func TestStagesAreWhole(t *testing.T) {
	t.Parallel()
	p, _ := lawnPlan(40, 22)
	doc := p.Encode()
	last := -1
	_, err := Propose(context.Background(), p, quick(), func(s Stage) {
		if last < 0 && (s.Best == nil || len(s.Best.Offers) == 0) {
			t.Error("the first stage has no offers")
		}
		if s.Done < last || s.Done > s.Total {
			t.Errorf("done %d of %d after %d", s.Done, s.Total, last)
		}
		last = s.Done
		if s.Best == nil {
			return
		}
		for _, o := range s.Best.Offers {
			if _, err := plan.Preview(doc, o.Patch); err != nil {
				t.Errorf("%s: %v", o.Name, err)
			}
			if o.Says == "" || o.Label == "" || len(o.Picks) != 1 {
				t.Errorf("offer without words: %+v", o)
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Three to five offers, no two alike, the tidy one first when it is nearly as good
// in the field as the best.
func TestE9_TidyFirstWhenNearlyAsGood(t *testing.T) {
	t.Parallel()
	p, _ := lawnPlan(40, 22)
	o := quick()
	got, err := Propose(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(got.Offers); n < 3 || n > 5 {
		t.Errorf("%d offers", n)
	}
	names := map[string]bool{}
	for _, o := range got.Offers {
		if names[o.Name] {
			t.Errorf("two offers go by %q", o.Name)
		}
		names[o.Name] = true
	}
	first := got.Answers[0].Layouts[got.Offers[0].Picks[0].Layout]
	if !first.Tidy || got.Offers[0].Name != "Neatest to stake" {
		t.Errorf("first comes %q: %s", got.Offers[0].Name, first.Says)
	}
	o.TidyWithin = -1 // never
	got, err = Propose(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	best := got.Answers[0].Layouts[0]
	for _, l := range got.Answers[0].Layouts {
		if l.Family == best.Family && l.Measures.Heads <= best.Measures.Heads && l.Measures.FieldP10 > best.Measures.FieldP10+1e-9 && l.Measures.PastEdge <= best.Measures.PastEdge {
			t.Errorf("%s comes after %s", l.Says, best.Says)
		}
	}
}

// What cannot be arranged is said in a sentence, and the other areas are arranged.
func TestWhyThereIsNone(t *testing.T) {
	t.Parallel()
	p := oldLawns(t)
	a := p.Areas["east"]
	a.Watering = plan.PointSource
	p.Areas["east"] = a
	o := quick()
	o.Areas = []plan.ID{"west", "east"}
	got, err := Propose(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	east, west := got.Answers[0], got.Answers[1]
	if len(east.Layouts) > 0 || !strings.Contains(east.Why, "East lawn") {
		t.Errorf("a lawn on drip: %+v", east)
	}
	if len(west.Layouts) == 0 || len(got.Offers) == 0 || len(got.Offers[0].Picks) != 1 {
		t.Errorf("the other lawn: %s", west.Why)
	}
	o.Areas = []plan.ID{"none"}
	if _, err := Propose(context.Background(), p, o, nil); err == nil {
		t.Error("an area that is not there is arranged")
	}
	o.Areas, o.Stock = []plan.ID{"west"}, []plan.ID{"rotor-45-6_6"}
	got, err = Propose(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a := got.Answers[0]; len(a.Layouts) > 0 || a.Why == "" || len(got.Offers) > 0 {
		t.Errorf("a 45 ft rotor on 20 ft of lawn: %+v", a)
	}
}

// Options that no search can be made by are refused.
func TestOptionsAreChecked(t *testing.T) {
	t.Parallel()
	p := oldLawns(t)
	for _, spoil := range []func(*Options){
		func(o *Options) { o.AngleStep = 0 }, func(o *Options) { o.ThrowStep = 0 },
		func(o *Options) { o.Effort = 0 }, func(o *Options) { o.Hard = -1 },
	} {
		o := quick()
		spoil(&o)
		if _, err := Propose(context.Background(), p, o, nil); err == nil {
			t.Errorf("%+v is searched by", o)
		}
	}
}

// Every reason there is none, or none that is even, comes as a sentence that names
// the area and what to do about it.
func TestReasonsAreSentences(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		spoil func(p *plan.Plan, o *Options)
		none  bool // no layout at all
		says  string
	}{
		{"nowhere to stand", func(p *plan.Plan, o *Options) {
			p.Areas["septic"] = plan.Area{Name: "Septic field", Kind: plan.NoDig, Outline: rect(-2, -2, 32, 22)}
		}, true, "stand"},
		{"two rates stay", func(p *plan.Plan, o *Options) {
			n, _ := catalog.FindNozzle("stream-16")
			p.Nozzles["stream-16"] = n
			h := p.Heads["ha"]
			h.Nozzle, h.Locked = "stream-16", true
			p.Heads["ha"] = h
		}, true, "two rates"},
		{"quarters only", func(p *plan.Plan, o *Options) {
			h := p.Heads["hd"]
			h.Locked = false
			p.Heads["hd"] = h
			o.Stock = []plan.ID{"spray-10-q"}
		}, false, "85 %"},
		{"nothing may fall on the walk all round", func(p *plan.Plan, o *Options) {
			h := p.Heads["hd"]
			h.Locked = false
			p.Heads["hd"] = h
			p.Areas["walk"] = plan.Area{Name: "Walk", Kind: plan.Paving, Outline: rect(-20, -20, 50, 40), Holes: []geom.Outline{rect(0, 0, 30, 20)}}
			o.Stock, o.Hard = []plan.ID{"spray-15-f"}, 0
		}, true, "Allow more"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := oldLawns(t)
			o := quick()
			o.Areas = []plan.ID{"west"}
			tt.spoil(p, &o)
			got, err := Propose(context.Background(), p, o, nil)
			if err != nil {
				t.Fatal(err)
			}
			a := got.Answers[0]
			if tt.none != (len(a.Layouts) == 0) || !strings.Contains(a.Why, tt.says) || !strings.Contains(a.Why, "West lawn") {
				t.Errorf("%d layouts: %q", len(a.Layouts), a.Why)
			}
		})
	}
}
