package proof

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// use is the patch that takes the audited uniformity into the watering plan, and what it
// changes: every zone that ran and stands for the audited ground is reckoned with it.
func (out *Audited) use(ctx context.Context, p *plan.Plan, c *catches) error {
	du := units.Ratio(math.Round(float64(out.Measured.DULowQuarter)*1000) / 1000)
	zones, others, idle, err := out.auditedZones(ctx, p, c)
	if err != nil {
		return err
	}
	missing, err := missed(p, c, idle)
	if err != nil {
		return err
	}
	switch {
	case len(c.Runs) > 0 && len(c.ran(p)) == 0:
		out.Uses = "The zones that ran are gone from the plan, so that the watering plan cannot take their uniformity."
		return nil
	case len(zones) == 0 && len(c.ran(p)) == 0:
		out.Uses = "It is not said which zones ran, so that the watering plan cannot take their uniformity."
		return nil
	case len(zones) == 0:
		out.Uses = "None of the zones that ran stands for this ground, so that the watering plan has no use for the figure."
		return nil
	case len(missing) > 0:
		out.Rules = append(out.Rules, fmt.Sprintf("%s %s these cans water, too, and did not run: what they caught is not what the ground gets.",
			plan.Capital(zoneNames(p, missing)), plan.Choose(len(missing), "brings", "bring")))
		out.Uses = fmt.Sprintf("The figure is that of %s alone. Run %s as well, and the watering plan can take it.", zoneNames(p, zones), zoneNames(p, missing))
		return nil
	case du == 0:
		out.Uses = "The driest quarter caught nothing: no run time makes up for that. Mend the heads and catch again."
		return nil
	case out.Measured.N < 4:
		out.Uses = "Fewer than four cans have no driest quarter that a watering plan could go by."
		return nil
	}
	next := *p
	next.Zones = maps.Clone(p.Zones)
	names := make([]string, len(zones))
	for i, id := range zones {
		z := next.Zones[id]
		z.AuditedDU = du
		next.Zones[id] = z
		names[i] = p.ZoneName(id)
	}
	patch, err := plan.Diff(p.Encode(), next.Encode())
	if err != nil {
		return err
	}
	if string(patch) == "{}" {
		out.Uses = fmt.Sprintf("The watering plan has %s for %s already.", p.Show.Percent(du), plan.Several(names))
		return nil
	}
	out.Patch = patch
	out.Label = fmt.Sprintf("Water by the audit: DU %s for %s", p.Show.Percent(du), plan.Several(names))
	out.Uses = usesText(p, zones, names, du)
	if len(others) > 0 {
		areas := make([]string, len(others))
		for i, id := range others {
			areas[i] = p.AreaName(id)
		}
		out.Uses += fmt.Sprintf(" %s, which %s not audited, %s by the same figure.", plan.Capital(plan.Several(areas)),
			plan.Choose(len(areas), "was", "were"), plan.Choose(len(areas), "goes", "go"))
	}
	if x := float64(out.Expected.Mean); c.known && x > 0 {
		if share := out.Measured.Mean / x; math.Abs(share-1) > rateShare {
			out.Uses += fmt.Sprintf(" It takes the evenness alone: minutes still go by the predicted rate, of which the cans caught %s. Find out why first.", p.Show.Percent(units.Ratio(share)))
		}
	}
	for _, f := range out.Faults {
		if f.Sure {
			out.Uses += " Mend what is at fault first and catch again: the figure is that of the fault."
			break
		}
	}
	return nil
}

// rateShare is how far the mean catch may be off the predicted before that is told with
// what the watering plan takes. Chosen: what noise, openings and pressures come to.
const rateShare = 0.15

// auditedZones are the zones that ran and have heads that stand for the audited ground, and
// the other areas that they stand for: the watering plan takes a zone's figure for all of
// those (season); idle are those that stand for the ground and did not run.
func (out *Audited) auditedZones(ctx context.Context, p *plan.Plan, c *catches) (zones, others, idle []plan.ID, err error) {
	g, err := coverage.ByZone(ctx, p)
	if err != nil {
		return nil, nil, nil, err
	}
	ground := out.ground(g, c)
	for _, z := range g.Zones {
		if !slices.ContainsFunc(z.Own, func(id plan.ID) bool { return slices.Contains(ground, id) }) {
			continue
		}
		if !(c.Runs[z.ID] > 0) {
			idle = append(idle, z.ID)
			continue
		}
		zones = append(zones, z.ID)
		for _, id := range z.Own {
			if !slices.Contains(ground, id) && !slices.Contains(others, id) {
				others = append(others, id)
			}
		}
	}
	slices.Sort(others)
	return zones, others, idle, nil
}

// ground are the areas that were audited: the one that is told, else those on which cans
// stand that count.
func (out *Audited) ground(g *coverage.ZoneGround, c *catches) []plan.ID {
	if out.Area != "" {
		return []plan.ID{out.Area}
	}
	var ids []plan.ID
	for _, a := range g.Areas {
		for _, i := range c.read {
			x, y, ok := g.Frame.CellOf(c.cans[i].place())
			if ok && slices.Contains(a.Cells, int32(y*g.Frame.NX+x)) {
				ids = append(ids, a.ID)
				break
			}
		}
	}
	return ids
}

// idleShare is the share of the water that all zones would bring the cans from which a
// zone that did not run is missed. Chosen.
const idleShare = 0.1

// missed are those of the zones that would bring the cans that count a share of their
// water to speak of, were every zone run as long.
func missed(p *plan.Plan, c *catches, zones []plan.ID) ([]plan.ID, error) {
	if len(zones) == 0 {
		return nil, nil
	}
	heads, _, err := coverage.Footprints(p, nil, coverage.Wind{})
	if err != nil {
		return nil, err
	}
	by, all := map[plan.ID]float64{}, 0.0
	for k := range heads {
		for _, i := range c.read {
			r := float64(heads[k].RateAt(c.cans[i].place(), nil))
			by[p.Heads[heads[k].ID].Zone] += r
			all += r
		}
	}
	return slices.DeleteFunc(slices.Clone(zones), func(id plan.ID) bool { return by[id] < idleShare*all }), nil
}

// zoneNames names zones in a sentence.
func zoneNames(p *plan.Plan, ids []plan.ID) string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = p.ZoneName(id)
	}
	return plan.Several(names)
}

// multiplier is how much longer than by the mean rate a uniformity makes zones run, by the
// plan's target; 0 where the target does not go by it.
func multiplier(p *plan.Plan, du units.Ratio) float64 {
	switch p.Watering.Target {
	case plan.ByMean:
		return 0
	case plan.ByLowQuarter:
		return 1 / float64(du)
	}
	return coverage.RunTimeMultiplier(du)
}

// usesText says what taking the figure changes.
func usesText(p *plan.Plan, zones []plan.ID, names []string, du units.Ratio) string {
	before, known := units.Ratio(0), true
	for i, id := range zones {
		was := p.Zones[id].AuditedDU
		if whole := p.Watering.AuditedDU; was == 0 && whole != nil {
			was = units.Ratio(*whole)
		}
		known = known && was > 0 && (i == 0 || was == before)
		before = was
	}
	who := plan.Capital(plan.Several(names))
	is := plan.Choose(len(names), "is", "are")
	by := multiplier(p, du)
	if by == 0 {
		return fmt.Sprintf("%s %s watered by the mean, whatever the uniformity: taking %s changes no minutes until the target is another.", who, is, p.Show.Percent(du))
	}
	form := "1/(0.4 + 0.6 DU)"
	if p.Watering.Target == plan.ByLowQuarter {
		form = "1/DU"
	}
	if !known {
		return fmt.Sprintf("%s %s then watered by the audited %s in place of the field estimate: %s = %.2f times the time by the mean rate.", who, is, p.Show.Percent(du), form, by)
	}
	was := multiplier(p, before)
	change := 100 * (by/was - 1)
	much := "about as long as now"
	switch {
	case change >= 0.5:
		much = fmt.Sprintf("about %.0f %% longer than now", change)
	case change <= -0.5:
		much = fmt.Sprintf("about %.0f %% shorter than now", -change)
	}
	return fmt.Sprintf("%s %s then watered by %s in place of %s: %s = %.2f times the time by the mean rate, %s.", who, is, p.Show.Percent(du), p.Show.Percent(before), form, by, much)
}
