package proof

import (
	"fmt"
	"math"
	"slices"

	"evenfall/internal/audit"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// auditName is what an audit is called.
func auditName(p *plan.Plan, c *catches) string {
	if c.Name != "" {
		return c.Name
	}
	if a, ok := p.Areas[c.Area]; ok && a.Name != "" {
		return "Audit of " + a.Name
	}
	return "Audit"
}

// sortedBy sorts ids that are in order by a further order, which keeps theirs where it
// does not say.
func sortedBy(ids []plan.ID, before func(a, b plan.ID) bool) []plan.ID {
	slices.SortStableFunc(ids, func(a, b plan.ID) int {
		switch {
		case before(a, b):
			return -1
		case before(b, a):
			return 1
		}
		return 0
	})
	return ids
}

// catchText is a catch as it was read.
func catchText(p *plan.Plan, v *caught, c *catches) string {
	if c.Scale == ByDepth {
		if p.Show == units.Metric {
			return fmt.Sprintf("%.4g mm", v.depth.Millimetres())
		}
		return fmt.Sprintf("%.4g in", float64(v.depth))
	}
	return fmt.Sprintf("%.4g ml", *v.can.ML)
}

// depthText is a depth as small as cans catch: 0.31 in, or 7.9 mm.
func depthText(show units.System, d units.Inches) string {
	if show == units.Metric {
		return fmt.Sprintf("%.1f mm", d.Millimetres())
	}
	return fmt.Sprintf("%.2f in", float64(d))
}

// The forms of the figures, with where they come from.
const (
	formDU   = "mean of the lowest quarter over the mean (Irrigation Association, auditor's worksheet)"
	formDULH = "mean of the lower half over the mean"
	formCU   = "one less the mean distance from the mean over the mean (Christiansen 1942)"
	formSC   = "mean over the driest can (CSU Fresno, Irrigation Notes 880802)"
	formMean = "sum over the number of cans"
	formRate = "3.66 × ml / (minutes × in²) (Irrigation Association, auditor's worksheet)"
	formCups = "depth × 60 / minutes (Colorado Water Conservation Board 2006)"
	// formMetric is formRate in cm²: a millilitre stands 10 mm deep on one.
	formMetric = "600 × ml / (minutes × cm²), the form of the auditor's worksheet in metric units (Irrigation Association)"
)

// figuresOf are the published figures, measured beside predicted.
func figuresOf(p *plan.Plan, c *catches, e *expected, out *Audited) []AuditFigure {
	m, x := out.Measured, out.Expected
	percent := func(name string, of func(audit.Figures) units.Ratio, form string) AuditFigure {
		f := AuditFigure{Name: name, Measured: p.Show.Percent(of(m)), Form: form}
		if x.N > 0 {
			f.Expected = p.Show.Percent(of(x))
		}
		return f
	}
	list := []AuditFigure{
		percent("Distribution uniformity, low quarter (DU)", func(f audit.Figures) units.Ratio { return f.DULowQuarter }, formDU),
		percent("Distribution uniformity, low half", func(f audit.Figures) units.Ratio { return f.DULowHalf }, formDULH),
		percent("Christiansen's coefficient (CU)", func(f audit.Figures) units.Ratio { return f.CU }, formCU),
	}
	sc := AuditFigure{Name: "Scheduling coefficient", Measured: coefficient(m), Form: formSC}
	if x.N > 0 {
		sc.Expected = coefficient(x)
	}
	list = append(list, sc)
	if ml := c.meanML(); c.Scale != ByDepth {
		f := AuditFigure{Name: "Mean catch", Measured: fmt.Sprintf("%.1f ml", ml), Form: formMean}
		if x.N > 0 && c.known {
			f.Expected = fmt.Sprintf("%.1f ml", x.Mean*audit.MillilitresPerCubicInch*c.ThroatIn2)
		}
		list = append(list, f)
	}
	if !c.known {
		return list
	}
	depth := AuditFigure{Name: "Mean depth", Measured: depthText(p.Show, units.Inches(m.Mean)), Form: formMean}
	if x.N > 0 {
		depth.Expected = depthText(p.Show, units.Inches(x.Mean))
	}
	list = append(list, depth)
	if r, err := audit.RateOfDepth(units.Inches(m.Mean), c.sameMinutes()); err == nil {
		f := AuditFigure{Name: "Rate", Measured: p.Show.Rate(r), Form: formRate}
		switch {
		case c.Scale == ByDepth:
			f.Form = formCups
		case p.Show == units.Metric:
			f.Form = formMetric
		}
		if rx, err := audit.RateOfDepth(units.Inches(x.Mean), c.sameMinutes()); err == nil && x.N > 0 {
			f.Expected = p.Show.Rate(rx)
		}
		list = append(list, f)
	}
	return list
}

// coefficient is the scheduling coefficient; a can that stayed dry has none.
func coefficient(f audit.Figures) string {
	if f.SC == 0 {
		return "no end: the driest can stayed dry"
	}
	return fmt.Sprintf("%.2f", float64(f.SC))
}

// sentence is the audit in a sentence or two.
func (out *Audited) sentence(p *plan.Plan) string {
	s := fmt.Sprintf("DU %s by %s", p.Show.Percent(out.Measured.DULowQuarter), plan.Plural(out.Measured.N, "can", "cans"))
	if out.Placed > out.Measured.N {
		s += fmt.Sprintf(" of %d", out.Placed)
	}
	if out.Area != "" {
		s += " on " + p.AreaName(out.Area)
	}
	if out.Expected.N > 0 {
		s += fmt.Sprintf("; as drawn the same cans would give %s", p.Show.Percent(out.Expected.DULowQuarter))
	}
	s += "."
	sure := 0
	for _, f := range out.Faults {
		if f.Sure && sure < 3 {
			s += fmt.Sprintf(" Head %s %s.", f.Tag, f.Verdict)
			sure++
		}
	}
	switch more := len(out.Faults) - sure; {
	case more == 1 && sure == 0:
		s += " One head may be at fault."
	case more > 0:
		s += fmt.Sprintf(" %s may be at fault.", plan.Capital(plan.Plural(more, "other head", "other heads")))
	case sure == 0 && len(out.Heads) > 0 && len(out.Unsure) == 0:
		s += " No head is found at fault."
	}
	return s
}

// stirring is the wind in mph from which it matters where it came from. Chosen: it carries
// water a twentieth of its throw.
const stirring = 2.5

// notesOf says what the prediction was made from.
func notesOf(p *plan.Plan, c *catches, e *expected) []string {
	var out []string
	if e.at == nil {
		return nil
	}
	if e.solved {
		out = append(out, "Predicted at the pressures the drawn pipes come to.")
	} else {
		out = append(out, "Predicted at the planned pressures: the pipes are not drawn so far that they can be solved.")
	}
	switch {
	case e.wind.Speed > 0:
		out = append(out, fmt.Sprintf("Predicted in a wind of %s, which is taken to carry water 2 %% of its throw for each %s: an assumption.", p.Show.Speed(e.wind.Speed), p.Show.Speed(1)))
	case c.WindMPH != nil && *c.WindMPH > stirring:
		out = append(out, "Predicted for calm air: where the wind came from is not said.")
	}
	if gone := c.gone(p); gone > 0 {
		out = append(out, fmt.Sprintf("%s that ran %s gone from the plan: what %s brought is in the catches and in no prediction.",
			plan.Capital(plan.Plural(gone, "zone", "zones")), plan.Choose(gone, "is", "are"), plan.Choose(gone, "it", "they")))
	}
	if c.id == "" {
		out = append(out, "The audit does not say which zones ran: every zone is taken to have run as long.")
	}
	if !c.known {
		out = append(out, "The opening of the cans is not said: depths are not known, and the fit goes by how the catches compare.")
	}
	return append(out, e.left...)
}

// noPrediction says why nothing is laid at heads.
func noPrediction(c *catches, e *expected) string {
	switch {
	case e.at != nil:
		return "No head of the zones that ran reaches these cans, so that nothing can be laid at any."
	case len(c.Runs) == 0:
		return "It is not said which zones ran and for how long, so that nothing is predicted and nothing can be laid at a head."
	}
	return "The zones that ran are gone from the plan, so that nothing is predicted and nothing can be laid at a head."
}

// zonesOf tells what zones bring as a whole where that is off beyond doubt.
func (out *Audited) zonesOf(p *plan.Plan, fit *audit.Fitted) {
	if out.Measured.N == 0 {
		return
	}
	for _, z := range fit.Zones {
		if z.ID == "" || (z.Low < 1.1 && z.High > 0.9) {
			continue
		}
		what := "more"
		if z.Output < 1 {
			what = "less"
		}
		out.Notes = append(out.Notes, fmt.Sprintf(
			"%s brings %s than predicted as a whole: %.0f %% (%.0f to %.0f %%). That is laid at its minutes, the opening of the cans, its pressure or its valve, not at a head.",
			plan.Capital(p.ZoneName(plan.ID(z.ID))), what, 100*z.Output, 100*z.Low, 100*z.High))
	}
}

// unsureOf says what these cans cannot tell.
func (out *Audited) unsureOf(p *plan.Plan, c *catches, fit *audit.Fitted) {
	if fit.Noisy {
		out.Unsure = append(out.Unsure, fmt.Sprintf(
			"The catches differ by %.0f %% from what any state of the heads would bring: little can be told. Look for tipped cans, gusts or a zone that is not named.", 100*fit.Sigma))
	}
	if fit.Few {
		out.Unsure = append(out.Unsure, fmt.Sprintf(
			"%s for %s that reach them: set out two for each head or more, and more can be told.",
			plan.Capital(plan.Plural(len(c.read), "can", "cans")), plan.Plural(len(out.Heads), "head", "heads")))
	}
	for _, a := range fit.Among {
		ids := make([]plan.ID, len(a.Heads))
		for i, h := range a.Heads {
			ids[i] = plan.ID(h)
		}
		out.Unsure = append(out.Unsure, fmt.Sprintf("At least one of %s is at fault (%.0f in 100), and these cans do not tell which.", p.HeadNames(ids), math.Floor(100*a.Chance)))
	}
	var untold []plan.ID
	for _, h := range out.Heads {
		if !h.Sure && !h.Fault {
			untold = append(untold, h.Head)
		}
	}
	if len(untold) > 0 {
		out.Unsure = append(out.Unsure, fmt.Sprintf("These cans do not tell whether %s %s as drawn.", p.HeadNames(untold), plan.Choose(len(untold), "works", "work")))
	}
	for i, can := range fit.Cans {
		if can.Spilt > 0.5 {
			out.Unsure = append(out.Unsure, fmt.Sprintf("Can %d fits no state of the heads (%.0f in 100 that it tipped, or caught what no head threw): leave it out if you saw why.",
				c.read[i]+1, math.Floor(100*can.Spilt)))
		}
	}
}
