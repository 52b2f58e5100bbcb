package arrange

import (
	"errors"
	"net/url"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func askedPlan() *plan.Plan {
	p := plan.Empty("Asked", "us")
	p.Areas = map[plan.ID]plan.Area{
		"a1": {Name: "Front lawn", Kind: plan.Planting},
		"a2": {Name: "Bed", Kind: plan.Planting},
		"a3": {Name: "Bed", Kind: plan.Planting},
		"a4": {Name: "Walk", Kind: plan.Paving},
	}
	return p
}

func TestWhatIsAskedIsRead(t *testing.T) {
	t.Parallel()
	p := askedPlan()
	q, err := url.ParseQuery("areas=bed,+a1&families=Sprays,strip&hard=1.5&bare=0&angle=5&throw=0.5&facing=0&seed=7&effort=quick")
	if err != nil {
		t.Fatal(err)
	}
	o, err := Asked(p, q.Get)
	if err != nil {
		t.Fatal(err)
	}
	if len(o.Areas) != 3 || o.Areas[0] != "a2" || o.Areas[2] != "a1" || len(o.Families) != 2 || o.Families[0] != catalog.Spray {
		t.Errorf("%+v", o)
	}
	if o.Hard != 0.015 || o.Bare != 0 || o.Other != Usual().Other || o.AngleStep != 5 || o.ThrowStep != 0.5 || o.Facing || o.Seed != 7 || o.Effort != Efforts()[0].Of {
		t.Errorf("%+v", o)
	}
	none := func(string) string { return "" }
	if o, err := Asked(p, none); err != nil || o.Effort != Usual().Effort || !o.Facing || len(o.Areas) != 0 {
		t.Errorf("of nothing: %+v, %v", o, err)
	}
}

func TestWhatCannotBeAskedIsNamed(t *testing.T) {
	t.Parallel()
	p := askedPlan()
	for query, says := range map[string]string{
		"areas=Pool":      "called \"Pool\"",
		"areas=a4":        "Walk is not a planting area",
		"families=mister": "no family of nozzles",
		"nozzles=nothing": "has the id “nothing”",
		"hard=101":        "from 0 to 100",
		"bare=NaN":        "not a number",
		"angle=0":         "from 1 to 90",
		"throw=9":         "from 0.1 to 5",
		"facing=yes":      "1 or 0",
		"seed=-1":         "from 0 to",
		"seed=1.5":        "whole number",
		"effort=endless":  "not a number",
		"effort=9999999":  "from 1 to",
	} {
		q, err := url.ParseQuery(query)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Asked(p, q.Get); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", query, err, says)
		}
	}
}

// FuzzAsked: whatever an address or a command line says, it is read into options
// within their bounds, or refused in a sentence.
func FuzzAsked(f *testing.F) {
	f.Add("a1", "spray", "", "2", "15", "1", "1", "usual")
	f.Add("Bed,a9", "x", "spray-12", "1e3", "NaN", "-1", "", "0")
	f.Fuzz(func(t *testing.T, areas, families, nozzles, share, angle, throw, seed, effort string) {
		given := map[string]string{"areas": areas, "families": families, "nozzles": nozzles, "hard": share, "bare": share, "angle": angle, "throw": throw, "seed": seed, "effort": effort}
		o, err := Asked(askedPlan(), func(name string) string { return given[name] })
		if err != nil {
			var number *units.Refusal
			var other *plan.Problem
			if !errors.As(err, &number) && !errors.As(err, &other) {
				t.Fatalf("not a sentence of ours: %v", err)
			}
			return
		}
		if !(o.Hard >= 0 && o.Hard <= 1) || !(o.AngleStep >= arcLeast && o.AngleStep <= arcMost) || !(o.ThrowStep >= throwLeast && o.ThrowStep <= throwMost) ||
			o.Seed > SeedMost || o.Effort < 1 || o.Effort > EffortMost || len(o.Areas) > 3 {
			t.Fatalf("%+v", o)
		}
	})
}
