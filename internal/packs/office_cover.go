package packs

import (
	"fmt"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// officeCover says of what property the papers are, which permits and dates are noted
// and which are missing, what is assumed, and what sheets there are.
func (b *builder) officeCover() error {
	f := b.list()
	b.property(f, true)
	f.section("Permits and dates")
	rows, missing := papersOf(b.p)
	f.table(grid{Head: []string{"What", "Noted in this plan"}, Shares: []float64{2, 3}, Rows: rows})
	if len(missing) == 0 {
		f.para("Nothing of this is missing.")
	} else {
		f.lines("Still missing:", bodySize, true, 0, 30)
		f.gap(2)
		f.checks(missing...)
	}
	f.caution("Who may design, sign, connect and test goes by local law. Many places want a permit, a licensed irrigator or plumber for the connection to drinking water, and a licensed tester for the backflow device each year. Ask before anything is bought or dug.")
	f.para(sheets.BeforeDigging(b.p))
	f.section("What is assumed")
	f.bullets(b.assumed()...)
	f.section("Sheets of this pack")
	var list [][]string
	for _, s := range sheetsOf(Office) {
		list = append(list, []string{s.code, s.title, s.holds})
	}
	f.table(grid{Head: []string{"Sheet", "Title", "What it holds"}, Shares: []float64{1, 2, 6}, Rows: list})
	return nil
}

// property says where it is and how large the work; whole: all that is noted of the site.
func (b *builder) property(f *flow, whole bool) {
	p := b.p
	name := p.Name
	if strings.TrimSpace(name) == "" {
		name = "Plan without a name"
	}
	facts := [][2]string{{"Property", name}, {"Address", orDash(p.Site.Address)}}
	if whole && p.Site.Latitude != nil && p.Site.Longitude != nil {
		facts = append(facts, [2]string{"On earth", fmt.Sprintf("the plan's origin is at latitude %.5f°, longitude %.5f° (WGS 84)", *p.Site.Latitude, *p.Site.Longitude)})
	}
	if whole && p.Site.Climate != "" {
		facts = append(facts, [2]string{"Climate", p.Site.Climate})
	}
	watered, r := units.SqFeet(0), b.in.Design.Coverage
	for _, a := range r.Areas {
		watered += a.WithLip.AreaSqFt
	}
	heads := 0
	for _, h := range p.Heads {
		if h.Status.Stands() {
			heads++
		}
	}
	facts = append(facts, [2]string{"System", fmt.Sprintf("%s and %s; %s in %s watered overhead",
		plan.Plural(heads, "head", "heads"), plan.Plural(len(r.Zones), "zone", "zones"), p.Show.Area(watered), plan.Plural(len(r.Areas), "area", "areas"))})
	f.facts(facts...)
}

func orDash(s string) string {
	if strings.TrimSpace(s) == "" {
		return "–"
	}
	return s
}

// papersOf are the permits and dates of a plan as rows, and what is missing of them
// in words.
func papersOf(p *plan.Plan) (rows [][]string, missing []string) {
	s := &p.Site
	note := func(what, noted, lacks string) {
		rows = append(rows, []string{what, orDash(noted)})
		if noted == "" && lacks != "" {
			missing = append(missing, lacks)
		}
	}
	dated := func(number, on string) string {
		switch {
		case number != "" && on != "":
			return fmt.Sprintf("%s, of %s", number, on)
		case on != "":
			return "of " + on
		}
		return number
	}
	locate := dated(s.LocateTicket, s.LocateOn)
	note("Utility lines to be marked (locate request)", locate, "The locate request: date and ticket. No digging before every line is marked.")
	if locate != "" && s.LocateOn == "" {
		missing = append(missing, "The date of the locate request: marks hold for a number of days by local law.")
	}
	note("Permit", dated(s.Permit, s.PermitOn), "The permit, where local law wants one: number and date, or a word that none is needed.")
	if s.Permit != "" && s.PermitOn == "" {
		missing = append(missing, "The date of the permit.")
	}
	if s.Permit == "" && s.PermitOn != "" {
		missing = append(missing, "The number of the permit.")
	}
	note("Who signs, with licence", s.Licence, "Who signs for the work, with their licence, where local law wants a licensed irrigator or plumber.")
	note("Owners' association approved", s.AssociationOn, "The owners' association's approval, where there is an association.")
	note("Leave to work in the right of way", s.RightOfWayOn, rightOfWayLack(p))
	note("Backflow device tested", s.BackflowTestedOn, "The test of the backflow device by a licensed tester, once it is set: its date.")
	if s.Address == "" {
		missing = append(missing, "The address of the property.")
	}
	return rows, missing
}

// rightOfWayLack asks for the leave; where a right of way is drawn it names it.
func rightOfWayLack(p *plan.Plan) string {
	var names []string
	for _, id := range plan.SortedIDs(p.Areas) {
		if a := p.Areas[id]; a.Kind == plan.RightOfWay {
			names = append(names, p.AreaName(id))
		}
	}
	if len(names) == 0 {
		return "Leave to work in the public right of way, if any pipe, head or sleeve comes to lie in it. None is drawn."
	}
	return "Leave to work in the right of way or on a neighbour's ground (" + strings.Join(names, ", ") + "), if anything is dug there."
}

// assumed is what the papers of the office rest on, in sentences.
func (b *builder) assumed() []string {
	p, d := b.p, b.in.Design
	var out []string
	if b.supply == "" {
		out = append(out, fmt.Sprintf("The supply is as measured and noted in the plan: %s to plan on.", p.Show.Flow(d.Pressure.Supply.DesignGPM)))
	} else {
		out = append(out, b.supply)
	}
	out = append(out, uniformityAssumed, b.pressuresAssumed())
	if len(d.Coverage.LeftOut) > 0 {
		out = append(out, fmt.Sprintf("%s cannot be reckoned and their water is in no figure: see the findings.", plan.Plural(len(d.Coverage.LeftOut), "head", "heads")))
	}
	out = append(out, "Figures of nozzles, devices and pipe are those of the tables copied into the plan; typical ones that are marked so are to be replaced by the maker's own before buying.")
	out = append(out, changedFigures(p)...)
	return append(out, pricesAssumed(p))
}

// uniformityAssumed goes with every figure of evenness.
const uniformityAssumed = "Layout figures of evenness are for calm air and ideal nozzles. What a yard shows later is nearer to the field estimate, which is the layout set out many times with small errors of place, throw, flow and arc, and still kinder than any audit: no wear, no tilt, no wind."

// pressuresAssumed says at which pressures the map was drawn, and what is solved.
func (b *builder) pressuresAssumed() string {
	zones := b.in.Design.Pressure.Zones
	solved := 0
	for _, z := range zones {
		if z.Solved {
			solved++
		}
	}
	says := "The map is drawn at the pressure each zone is planned for."
	switch {
	case len(zones) == 0:
		return says + " No zone is drawn yet, so no pressure was reckoned."
	case solved == len(zones):
		return says + " Pressures in the pipes were reckoned for every zone running by itself."
	}
	return fmt.Sprintf("%s Pressures in the pipes were reckoned for %d of %s: the others are not drawn whole, and their figures rest on the plan alone.", says, solved, plan.Plural(len(zones), "zone", "zones"))
}

// changedFigures names what the plan reckons with otherwise than usual, and who says so.
func changedFigures(p *plan.Plan) []string {
	var out []string
	if v := p.Options.EdgeLipFt; v != nil {
		out = append(out, fmt.Sprintf("The edge lip left out of the sums is %s, chosen in this plan.", p.Show.Inches(v.Inches())))
	}
	if v := p.Options.WallLipFt; v != nil {
		out = append(out, fmt.Sprintf("The lip along walls left out of the sums is %s, chosen in this plan.", p.Show.Inches(v.Inches())))
	}
	for _, row := range plan.LocalRuleRows() {
		if p.HasOwnRule(row.ID) {
			feet, source := p.LocalRule(row.ID)
			out = append(out, fmt.Sprintf("%s %s, where %s is usual (%s).", row.Words, p.Show.Length(feet), p.Show.Length(row.Usual), source))
		}
	}
	for _, row := range plan.FigureRows() {
		if _, own := p.Options.Figures[row.ID]; own {
			v, source := p.Figure(row.ID)
			out = append(out, fmt.Sprintf("%s: %s, where %s is usual (%s).", row.Words, figureWords(p, row, v), figureWords(p, row, row.Usual), source))
		}
	}
	return out
}

// figureWords is a figure of a row in the plan's units.
func figureWords(p *plan.Plan, row plan.FigureRow, v float64) string {
	switch row.Unit {
	case "ft":
		return p.Show.Length(units.Feet(v))
	case "in":
		return p.Show.Inches(units.Inches(v))
	case "share":
		return p.Show.Percent(units.Ratio(v))
	}
	return fmt.Sprintf("%g", v)
}

// pricesAssumed says where prices come from. A plan notes no day of them.
func pricesAssumed(p *plan.Plan) string {
	if len(p.Prices) == 0 {
		return "The plan has no prices: the parts list tells amounts alone."
	}
	return fmt.Sprintf("%s the user's own, without a day noted: ask again before anything is ordered.", plan.Choose(len(p.Prices), "The one price is", fmt.Sprintf("The %d prices are", len(p.Prices))))
}
