package plan

import (
	"cmp"
	"slices"

	"evenfall/internal/units"
)

// LocalRule is one distance that custom or local code asks for, as the plan has
// it: where local code says otherwise the user writes that down, with where it
// says so.
type LocalRule struct {
	Feet   units.Feet `json:"feet"`
	Source string     `json:"source,omitzero"` // in the user's words
}

// RuleID names a local rule.
type RuleID = ID

// The local rules: distances, in feet.
const (
	SetBackPaving RuleID = "setback_paving" // heads from paving
	SetBackStreet RuleID = "setback_street" // heads from a right of way: wheels pass there
	SetBackWall   RuleID = "setback_wall"   // heads from a building, wall or fence
	SetBackLot    RuleID = "setback_lot"    // heads from the property line
	SetBackTrunk  RuleID = "setback_trunk"  // heads from a trunk
	SetBackOther  RuleID = "setback_other"  // heads from any other edge of their area
	BandPaving    RuleID = "band_paving"    // no overhead water this near to paving
	StripLeast    RuleID = "strip_least"    // ground narrower than this between paving gets no overhead water
	TrunkClear    RuleID = "trunk_clear"    // a trunk nearer than this stands in a head's way
)

// LocalRuleRow is a row of the table of local rules.
type LocalRuleRow struct {
	ID     RuleID
	Words  string // what it asks for
	Usual  units.Feet
	Source string
}

// LocalRuleRows is the table, in the order it is shown. The caller owns it.
func LocalRuleRows() []LocalRuleRow {
	const practice = "common practice"
	return []LocalRuleRow{
		{SetBackPaving, "Heads from paving, at least", 4. / 12, texas},
		{SetBackStreet, "Heads from a street or right of way, at least", 6. / 12, practice},
		{SetBackWall, "Heads from buildings, walls and fences, at least", 1, practice},
		{SetBackLot, "Heads from the property line, at least", 4. / 12, practice},
		{SetBackTrunk, "Heads from a trunk, at least", 2, practice},
		{SetBackOther, "Heads from any other edge, at least", 4. / 12, practice},
		{BandPaving, "No overhead water nearer to paving than", 0, "none by default; some codes ask for a band unless the paving drains to planting"},
		{StripLeast, "No overhead water on strips between paving narrower than", 4, texas},
		{TrunkClear, "No head aimed at a trunk nearer than", 10, practice},
	}
}

// ownRule is the source of a rule of the plan's own that names none.
const ownRule = "this plan's own rule"

// RuleIDs are the ids of the table, in its order.
func RuleIDs() []RuleID {
	var out []RuleID
	for _, r := range LocalRuleRows() {
		out = append(out, r.ID)
	}
	return out
}

// HasOwnRule reports whether the plan has a figure of its own for a rule.
func (p *Plan) HasOwnRule(id RuleID) bool { _, ok := p.Options.LocalRules[id]; return ok }

// localRule looks at one of the plan's own rules.
func (c *inspector) localRule(id RuleID, r LocalRule) {
	s := subject{collection: "options/local_rules", id: id}
	if ids := RuleIDs(); !slices.Contains(ids, id) {
		c.tell(s, "", "There is no local rule %s. The rules are %s.", quoted(string(id)), wordsOf(ids).list())
		return
	}
	c.number(s, "feet", float64(r.Feet), keptOff)
	c.text(s, "source", r.Source, false)
}

func wordsOf(ids []ID) words {
	out := make(words, len(ids))
	for i, id := range ids {
		out[i] = string(id)
	}
	return out
}

// LocalRule is what a rule asks for in this plan, and who says so.
func (p *Plan) LocalRule(id RuleID) (units.Feet, string) {
	if r, ok := p.Options.LocalRules[id]; ok {
		return r.Feet, cmp.Or(r.Source, ownRule)
	}
	for _, r := range LocalRuleRows() {
		if r.ID == id {
			return r.Usual, r.Source
		}
	}
	panic("plan: no local rule " + string(id))
}
