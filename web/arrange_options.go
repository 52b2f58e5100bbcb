package web

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"slices"

	"evenfall/internal/arrange"
	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

// arrangeOptions answers with what a page needs before it asks for layouts.
func (s *Site) arrangeOptions(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var v *ArrangeOptions
	err = s.compute(r.Context(), q.o.estimating, func(ctx context.Context) error {
		v, err = optionsOf(ctx, q.p, q.rev)
		return err
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, v)
}

func optionsOf(ctx context.Context, p *plan.Plan, rev int64) (*ArrangeOptions, error) {
	places, err := arrange.Places(ctx, p)
	if err != nil {
		return nil, err
	}
	usual := arrange.Usual()
	v := &ArrangeOptions{
		Rev: rev, Areas: []ArrangeArea{}, Families: stockOf(p), Limits: limitsOf(usual),
		Seed: usual.Seed, SeedMost: arrange.SeedMost, Facing: usual.Facing, Group: groupOptions(p),
	}
	for i := range places {
		v.Areas = append(v.Areas, areaOption(p, &places[i]))
	}
	for _, d := range []units.Degrees{5, 10, 15, 30, 45} {
		v.Angles = append(v.Angles, ChoiceView{fmt.Sprintf("%g", float64(d)), p.Show.Angle(d), d == usual.AngleStep})
	}
	for _, f := range []units.Feet{0.5, 1, 2} {
		v.Throws = append(v.Throws, ChoiceView{fmt.Sprintf("%g", float64(f)), p.Show.Length(f), f == usual.ThrowStep})
	}
	for _, e := range arrange.Efforts() {
		v.Efforts = append(v.Efforts, ChoiceView{e.Name, e.Words, e.Of == usual.Effort})
	}
	for _, row := range plan.LocalRuleRows() {
		v.Rules = append(v.Rules, ruleView(p, row))
	}
	return v, nil
}

func areaOption(p *plan.Plan, l *arrange.Place) ArrangeArea {
	v := ArrangeArea{
		ID: l.Area, Name: plan.Capital(p.AreaName(l.Area)), Cover: plan.Words(string(l.Cover)),
		Heads: len(l.Goes), Stay: len(l.Stays), Can: l.Refuses == "", Why: l.Refuses,
	}
	if l.Ground > 0 {
		v.Size = p.Show.Area(l.Ground)
	}
	if l.Typical > 0 {
		v.Width = p.About(l.Typical) + " wide"
	}
	if l.Family != "" {
		v.Family, v.Suggests = string(l.Family), l.Why
	}
	switch {
	case v.Heads+v.Stay == 0:
		v.Says = "No heads yet"
	case v.Stay == 0:
		v.Says = plan.Plural(v.Heads, "head makes", "heads make") + " room"
	case v.Heads == 0:
		v.Says = plan.Plural(v.Stay, "head stays", "heads stay")
	default:
		v.Says = fmt.Sprintf("%s room, %d %s", plan.Plural(v.Heads, "head makes", "heads make"), v.Stay, plan.Choose(v.Stay, "stays", "stay"))
	}
	return v
}

// stockOf is the nozzles that may be used by family: the plan's own rows, and
// those of the catalogue that it has none of.
func stockOf(p *plan.Plan) []StockFamily {
	used := map[plan.ID]int{}
	for _, h := range p.Heads {
		used[h.Nozzle]++
	}
	rows := map[plan.ID]catalog.Nozzle{}
	for _, e := range catalog.Nozzles() {
		rows[plan.ID(e.ID)] = e.Nozzle
	}
	for id, n := range p.Nozzles {
		rows[id] = n
	}
	var out []StockFamily
	for _, f := range []catalog.Family{catalog.Strip, catalog.Spray, catalog.Stream, catalog.Rotor} {
		v := StockFamily{ID: string(f), Name: plan.Capital(arrange.FamilyWord(f)), Nozzles: []StockNozzle{}}
		var least, most units.Feet
		for _, id := range plan.SortedIDs(rows) {
			n := rows[id]
			if n.Family != f {
				continue
			}
			_, own := p.Nozzles[id]
			throw, flow, err := n.At(n.BestPSI)
			if err != nil { // a row of the plan's that does not reach its own pressure
				throw, flow = n.Rows[0].Throw, n.Rows[0].Flow
			}
			if least == 0 || throw < least {
				least = throw
			}
			most = max(most, throw)
			v.Nozzles = append(v.Nozzles, StockNozzle{ID: id, Name: catalog.NameIn(p.Show, n.Name), Says: nozzleSays(p.Show, n, throw, flow), Own: own, Used: used[id], throw: throw})
		}
		if len(v.Nozzles) == 0 {
			continue
		}
		slices.SortStableFunc(v.Nozzles, func(a, b StockNozzle) int { return cmp.Compare(a.throw, b.throw) })
		v.Says = plan.Plural(len(v.Nozzles), "nozzle", "nozzles") + ", throw " + p.Show.NominalLength(least)
		if most > least {
			v.Says += " to " + p.Show.NominalLength(most)
		}
		out = append(out, v)
	}
	return out
}

// nozzleSays tells what a nozzle does at the pressure it is planned at.
func nozzleSays(sys units.System, n catalog.Nozzle, throw units.Feet, flow units.GPM) string {
	arc := "any arc"
	switch {
	case n.Family == catalog.Strip:
		arc = "a strip"
	case n.Fixed():
		arc = sys.Angle(n.ArcMost)
	case n.ArcLeast > 1 || n.ArcMost < 360:
		arc = sys.Angle(n.ArcLeast) + " to " + sys.Angle(n.ArcMost)
	}
	of := ""
	if n.FlowFollowsArc {
		of = " for the full circle"
	}
	return fmt.Sprintf("%s, throw %s, %s%s at %s", arc, sys.Length(throw), sys.Flow(flow), of, sys.NominalPressure(n.BestPSI))
}

func limitsOf(o arrange.Options) []PastLimit {
	return []PastLimit{
		{"hard", "Paving, buildings and off the lot", 100 * float64(o.Hard), 100},
		{"bare", "Bare and undrawn ground", 100 * float64(o.Bare), 100},
		{"other", "Other planting", 100 * float64(o.Other), 100},
	}
}

func ruleView(p *plan.Plan, row plan.LocalRuleRow) LocalRuleView {
	feet, source := p.LocalRule(row.ID)
	_, edited := p.Options.LocalRules[row.ID]
	if source == "" {
		source = "this plan"
	}
	return LocalRuleView{
		ID: row.ID, Words: row.Words, Value: p.Show.Length(feet), Feet: float64(feet), Usual: p.Show.Length(row.Usual),
		Source: source, Edited: edited,
	}
}

func groupOptions(p *plan.Plan) GroupOptions {
	w, supply := zones.WindowOf(p), pressure.SupplyOf(p)
	return GroupOptions{
		Limit: p.Show.Flow(supply.DesignGPM), GPM: float64(supply.DesignGPM),
		Days: w.Days, Hours: w.Hours, NeedIn: float64(w.Need), Need: p.Show.Depth(w.Need),
	}
}
