package plan

import (
	"encoding/json"
	"testing"

	"evenfall/internal/units"
)

// The page's table of usual distances (web/editor/localrules.ts) is held to the
// same rows.
func TestLocalRulesAreThoseOfThePage(t *testing.T) {
	var v struct {
		Rows []struct {
			ID   RuleID
			Feet units.Feet
		}
	}
	if err := json.Unmarshal(readFile(t, "../../testdata/vectors/localrules.json"), &v); err != nil {
		t.Fatal(err)
	}
	rows := LocalRuleRows()
	if len(rows) != len(v.Rows) {
		t.Fatalf("%d rows, the page has %d", len(rows), len(v.Rows))
	}
	for i, r := range rows {
		if r.ID != v.Rows[i].ID || r.Usual != v.Rows[i].Feet {
			t.Errorf("row %d is %s, %v ft; the page has %s, %v ft", i, r.ID, r.Usual, v.Rows[i].ID, v.Rows[i].Feet)
		}
		if r.Words == "" || r.Source == "" || !keptOff.holds(float64(r.Usual)) {
			t.Errorf("row %s is not whole: %+v", r.ID, r)
		}
	}
}

func TestAPlansOwnRuleGoesBeforeTheUsualOne(t *testing.T) {
	p := &Plan{Options: Options{LocalRules: map[RuleID]LocalRule{
		SetBackPaving: {Feet: 0.75, Source: "town code 12-3"}, SetBackOther: {},
	}}}
	for _, c := range []struct {
		id     RuleID
		feet   units.Feet
		source string
		length string
	}{
		{SetBackPaving, 0.75, "town code 12-3", `9"`},
		{SetBackOther, 0, ownRule, `0"`},
		{SetBackWall, 1, practice, `12"`},
		{TrunkClear, 10, practice, `10' 0"`},
	} {
		feet, source := p.LocalRule(c.id)
		if feet != c.feet || source != c.source || p.RuleLength(c.id) != c.length {
			t.Errorf("%s: %v ft, %q, %q; want %v ft, %q, %q", c.id, feet, source, p.RuleLength(c.id), c.feet, c.source, c.length)
		}
	}
	f := p.ByRule(Found(HeadCloseToPaving, "Too near."), SetBackPaving)
	if want := Rules[HeadCloseToPaving].Do; f.Do == want {
		t.Errorf("it still says %q", f.Do)
	}
	if f = p.ByRule(Found(SprayOnWall, "Too near."), SetBackWall); f.Do != Rules[SprayOnWall].Do || f.Source != Rules[SprayOnWall].Source {
		t.Errorf("a usual rule changed the words: %+v", f)
	}
}
