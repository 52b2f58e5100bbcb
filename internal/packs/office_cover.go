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
	g := grid{Head: []string{"What", "Noted in this plan", "Still to get, or to write in"}, Shares: []float64{4, 4, 11}, Rows: rows}
	if len(missing) == 0 {
		g.Note = "Nothing of this is missing."
	}
	f.table(g)
	f.caution("Who may design, sign, connect and test goes by local law. Many places want a permit, a licensed irrigator or plumber for the connection to drinking water, and a licensed tester for the backflow device each year. Ask before anything is bought or dug.")
	f.para(sheets.BeforeDigging(b.p))
	f.section("What is assumed")
	f.bullets(b.assumed()...)
	b.listOfSheets(f)
	return nil
}

// property says where it is and how large the work; whole: all that is noted of the site.
func (b *builder) property(f *flow, whole bool) {
	p := b.p
	name := p.Name
	if strings.TrimSpace(name) == "" {
		name = "Plan without a name"
	}
	facts := [][2]string{{"Property", name}, {"Address", or(strings.TrimSpace(p.Site.Address), "not noted: ______________________________")}}
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
	if whole {
		facts = append(facts, b.waterFacts()...)
	}
	f.facts(facts...)
}

func orDash(s string) string {
	if strings.TrimSpace(s) == "" {
		return "–"
	}
	return s
}

// papersOf are the permits and dates of a plan as rows of what, what is noted and what
// is missing, and all that is missing in words.
func papersOf(p *plan.Plan) (rows [][]string, missing []string) {
	s := &p.Site
	note := func(what, noted, lacks string) {
		if noted != "" {
			lacks = ""
		}
		rows = append(rows, []string{what, orDash(noted), lacks})
		if lacks != "" {
			missing = append(missing, lacks)
		}
	}
	lack := func(says string) {
		row := rows[len(rows)-1]
		row[2] = joined(row[2], says)
		missing = append(missing, says)
	}
	dated := func(number, on string) string {
		switch {
		case number != "" && on != "":
			return fmt.Sprintf("%s, %s", number, on)
		case on != "":
			return on
		}
		return number
	}
	locate := dated(s.LocateTicket, s.LocateOn)
	note("Locate request", locate, "The locate request: date and ticket. No digging before every line is marked.")
	if locate != "" && s.LocateOn == "" {
		lack("The date of the locate request: marks hold for a number of days by local law.")
	}
	note("Permit", dated(s.Permit, s.PermitOn), "The permit, where local law wants one: its number and date.")
	if s.Permit != "" && s.PermitOn == "" {
		lack("The date of the permit.")
	}
	if s.Permit == "" && s.PermitOn != "" {
		lack("The number of the permit.")
	}
	note("Who signs, with licence", s.Licence, "Who signs, where local law wants a licensed irrigator or plumber.")
	note("Owners' association", s.AssociationOn, "The owners' association's approval, where there is an association.")
	note("Right of way", s.RightOfWayOn, rightOfWayLack(p))
	note("Backflow device tested", s.BackflowTestedOn, "The test by a licensed tester, once the device is set: its date.")
	if strings.TrimSpace(s.Address) == "" { // it stands by itself, above
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
	return "Leave to dig in the right of way or on a neighbour's ground, if any is: " + plan.Several(names) + "."
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
	out = append(out, "Evenness as drawn is for calm air and ideal nozzles; the field estimate (F2) is nearer to what a yard shows.", b.pressuresAssumed())
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
