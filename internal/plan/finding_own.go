package plan

import (
	"fmt"
	"strconv"
	"strings"

	"evenfall/internal/units"
)

// RuleLength prints what a local rule asks for, in the plan's units: inches up to
// four feet, as such rules are written.
func (p *Plan) RuleLength(id RuleID) string {
	d, _ := p.LocalRule(id)
	return ruleLength(p.Show, d)
}

func ruleLength(sys units.System, d units.Feet) string {
	if d.Metres() >= 1 && sys == units.Metric || d > 4 {
		return sys.Length(d)
	}
	return sys.Inches(d.Inches())
}

// ByRule returns a finding that holds the plan to a local rule. Where the plan has
// its own figure, its words name that figure and the user's source in place of the
// usual ones.
func (p *Plan) ByRule(f Finding, id RuleID) Finding {
	if !p.HasOwnRule(id) {
		return f
	}
	_, source := p.LocalRule(id)
	for _, r := range LocalRuleRows() {
		if r.ID == id {
			usual := strconv.FormatFloat(float64(r.Usual.Inches()), 'f', -1, 64)
			f.Do = strings.ReplaceAll(f.Do, "{"+usual+" in}", p.RuleLength(id))
			f.Source = fmt.Sprintf("%s %s: %s", r.Words, p.RuleLength(id), unbraced.Replace(source))
		}
	}
	return f
}

// unbraced takes braces out of a user's words: in the fixed words of findings they
// mark quantities (see InUnits).
var unbraced = strings.NewReplacer("{", "(", "}", ")")
