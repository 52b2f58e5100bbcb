package zones

import (
	"errors"
	"net/url"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func TestWhatIsAskedIsRead(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Asked", "us")
	p.Areas = map[plan.ID]plan.Area{"a1": {Name: "Lawn", Kind: plan.Planting}}
	for query, says := range map[string]string{
		"": "",
		"areas=lawn&limit=12.5&days=5&hours=6.5&need=1.2&seed=3&effort=1000": "",
		"areas=Pool": "called", "limit=0": "from 0.1", "limit=1e9": "from 0.1", "days=8": "from 1 to 7", "days=1.5": "whole",
		"hours=25": "to 24", "need=-1": "from 0.01", "effort=0": "from 1", "seed=x": "not a number",
	} {
		q, err := url.ParseQuery(query)
		if err != nil {
			t.Fatal(err)
		}
		o, err := Asked(p, q.Get)
		switch {
		case says != "" && (err == nil || !strings.Contains(err.Error(), says)):
			t.Errorf("%s: %v, want %q", query, err, says)
		case says == "" && err != nil:
			t.Errorf("%s: %v", query, err)
		case query == "" && (o.Window != UsualWindow() || o.Limit != 0 || o.Seed != 1 || o.Effort != 0):
			t.Errorf("of nothing: %+v", o)
		case says == "" && query != "" && (len(o.Areas) != 1 || o.Limit != 12.5 || o.Window != Window{Days: 5, Hours: 6.5, Need: 1.2} || o.Seed != 3 || o.Effort != 1000):
			t.Errorf("%+v", o)
		}
	}
}

// FuzzAsked: whatever an address or a command line says, it is read into options
// within their bounds, or refused in a sentence.
func FuzzAsked(f *testing.F) {
	f.Add("a1", "12", "3", "8", "1.4", "1", "")
	f.Add("x", "-1", "9", "NaN", "1e99", "1.5", "0")
	f.Fuzz(func(t *testing.T, areas, limit, days, hours, need, seed, effort string) {
		given := map[string]string{"areas": areas, "limit": limit, "days": days, "hours": hours, "need": need, "seed": seed, "effort": effort}
		o, err := Asked(plan.Empty("Asked", "us"), func(name string) string { return given[name] })
		if err != nil {
			var number *units.Refusal
			var other *plan.Problem
			if !errors.As(err, &number) && !errors.As(err, &other) {
				t.Fatalf("not a sentence of ours: %v", err)
			}
			return
		}
		w := o.Window
		if !(o.Limit >= 0 && o.Limit <= limitMost) || w.Days < 1 || w.Days > 7 || !(w.Hours > 0 && w.Hours <= 24) || !(w.Need > 0 && w.Need <= needMost) || o.Effort < 0 || o.Effort > EffortMost {
			t.Fatalf("%+v", o)
		}
	})
}
