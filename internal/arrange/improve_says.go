package arrange

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// boolInt is 1 for true, to choose words by.
func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (t *telling) throwWords() string {
	var from, to []string
	up := false
	for i, is := range t.mend.To {
		if f := t.feet(t.mend.From[i].Throw); !slices.Contains(from, f) {
			from = append(from, f)
		}
		if f := t.feet(is.Throw); !slices.Contains(to, f) {
			to = append(to, f)
		}
		up = is.Throw > t.mend.From[i].Throw
	}
	return fmt.Sprintf("Turn the %s of %s %s from %s to %s.", plan.Choose(len(t.mend.To), "throw", "throws"), t.names(),
		plan.Choose(boolInt(up), "up", "down"), plan.Series(from), plan.Series(to))
}

// nozzleWords tells what goes into which heads: "Change heads 2-3 and 2-4 to
// stream nozzles in the same bodies: Stream 25 ft, 90° to 210°, set to 22 ft."
func (t *telling) nozzleWords() string {
	n := len(t.mend.To)
	if t.r.of[0].nozzle == "" && t.r.of[0].body != "" {
		return fmt.Sprintf("Put the %s of %s into %s: %s.", plan.Choose(n, "nozzle", "nozzles"), t.names(),
			plan.Choose(n, "another body", "other bodies"), t.next.BodyName(t.mend.To[0].Body))
	}
	family, sets, by := catalog.Family(""), []string{}, map[string][]plan.ID{}
	same, news := true, true
	for i, is := range t.mend.To {
		row := t.next.Nozzles[is.Nozzle]
		if i > 0 && row.Family != family {
			same = false
		}
		family = row.Family
		news = news && t.p.Nozzles[t.mend.From[i].Nozzle].Family != family
		what := t.next.NozzleName(is.Nozzle) + t.setWords(is)
		if by[what] == nil {
			sets = append(sets, what)
		}
		by[what] = append(by[what], is.ID)
	}
	if len(sets) == 1 {
		if same && news {
			return fmt.Sprintf("Change %s to %s in the same %s: %s.", t.names(), plan.Choose(n, "a "+string(family)+" nozzle", string(family)+" nozzles"),
				plan.Choose(n, "body", "bodies"), sets[0])
		}
		return fmt.Sprintf("Change the %s of %s, in the same %s, to %s.", plan.Choose(n, "nozzle", "nozzles"), t.names(), plan.Choose(n, "body", "bodies"), sets[0])
	}
	var lots []string
	for _, what := range sets {
		in := fmt.Sprintf("%d of them", len(by[what]))
		if len(by[what]) <= 4 {
			in = strings.TrimPrefix(strings.TrimPrefix(t.p.HeadNames(by[what]), "heads "), "head ")
		}
		lots = append(lots, fmt.Sprintf("%s in %s", what, in))
	}
	kind := "other nozzles"
	if same && news {
		kind = string(family) + " nozzles"
	}
	return fmt.Sprintf("Change %s to %s in the same bodies: %s.", t.names(), kind, strings.Join(lots, "; "))
}

// why is what a mend cures, by what the area reads before and after it.
func (t *telling) why() string {
	b, a := t.mend.Before, t.mend.After
	sys, area := t.p.Show, t.p.AreaName(t.mend.Area)
	var parts []string
	if b.DrySqFt-a.DrySqFt >= 1 {
		to := "none"
		if a.DrySqFt > 0 {
			to = sys.Area(a.DrySqFt)
		}
		parts = append(parts, fmt.Sprintf("ground under half the mean goes from %s to %s", sys.Area(b.DrySqFt), to))
	}
	if b.RateOff > rateWithin && a.RateOff < b.RateOff {
		parts = append(parts, fmt.Sprintf("the farthest head off its zone's rate goes from %s to %s off", sys.Percent(b.RateOff), sys.Percent(a.RateOff)))
	}
	if b.HardPart-a.HardPart > 0.002 && sys.Flow(a.HardGPM) != sys.Flow(b.HardGPM) {
		parts = append(parts, fmt.Sprintf("water on what must stay dry goes from %s to %s", sys.Flow(b.HardGPM), sys.Flow(a.HardGPM)))
	}
	if sys.Percent(a.DU) != sys.Percent(b.DU) && b.DU > 0 {
		parts = append(parts, fmt.Sprintf("the evenness goes from %s to %s", sys.Percent(b.DU), sys.Percent(a.DU)))
	}
	cured := ""
	if !slices.ContainsFunc(t.after.found, func(f plan.Finding) bool { return keyOfFinding(f) == t.r.key }) {
		cured = fmt.Sprintf("It cures “%s”.", t.r.why.Title)
	}
	if len(parts) == 0 {
		return cured
	}
	return strings.TrimSpace(fmt.Sprintf("On %s %s. %s", area, plan.Series(parts), cured))
}

// leftWords is a finding that is left, with why no mend is offered for it.
func (m *mender) leftWords(f plan.Finding) string {
	heads, free := 0, 0
	for _, r := range f.About {
		if collection, id := r.Split(); collection == "heads" {
			heads++
			if m.free(id) {
				free++
			}
		}
	}
	switch f.Code {
	case plan.NothingAssigned:
		return f.Sentence + " " + m.firstWords(f)
	case plan.NarrowStrip, plan.EdgeShared:
		return f.Sentence + " It takes another layout: arrange it anew."
	}
	if heads > 0 && free == 0 {
		return f.Sentence + " Its heads are locked or there already, so they stay as they are."
	}
	if m.cut && !m.given[keyOfFinding(f)] {
		return f.Sentence + " The search ended before it: improve again."
	}
	return f.Sentence + " No single change cures it."
}

// firstWords says of areas without heads to arrange some first, and of those that
// Arrange refuses why.
func (m *mender) firstWords(f plan.Finding) string {
	o := Usual()
	o.Families, o.Stock = m.o.Families, m.o.Stock
	can, whys := 0, []string{}
	for _, r := range f.About {
		if collection, id := r.Split(); collection == "areas" {
			why := ""
			if g, err := m.ofSite().ground(id); err == nil {
				_, why = fitting(m.p, g, o)
			}
			if why == "" {
				can++
			} else {
				whys = append(whys, why)
			}
		}
	}
	first := "Arrange heads on " + plan.Choose(can, "it", "them") + " first."
	switch {
	case len(whys) == 0:
		return first
	case can > 0:
		whys = append(whys, "Arrange heads on "+plan.Choose(can, "the other", "the others")+" first.")
	}
	return strings.Join(whys, " ")
}

// whole is the improvement in a sentence.
func (m *mender) whole(mends, left int, t *trouble) string {
	on := ""
	if len(m.o.Areas) > 0 {
		var names []string
		for _, id := range m.o.Areas {
			names = append(names, m.was.AreaName(id))
		}
		on = " on " + plan.Several(names)
	}
	switch {
	case mends == 0 && left > 0 && m.cut:
		return fmt.Sprintf("The search ended before it found a change%s. Improve again.", on)
	case left > 0 && m.cut:
		return fmt.Sprintf("%s some of what was found wrong%s. Take what helps and improve again: the search ended before it had looked at everything.",
			plan.Choose(mends, "1 change cures", fmt.Sprintf("%d changes cure", mends)), on)
	case len(t.result.Heads)+len(t.result.LeftOut) == 0:
		return "There are no heads yet to improve. Arrange some first."
	case mends == 0 && left == 0:
		return fmt.Sprintf("Nothing needs mending%s: no ground is dry, no head stands too far from the next, rates agree, and no water to speak of falls on what must stay dry.", on)
	case mends == 0:
		return fmt.Sprintf("No single change cures what is wrong%s. Arrange the area anew, or see what is left.", on)
	case left == 0:
		return fmt.Sprintf("%s all that was found wrong%s.", plan.Choose(mends, "1 change cures", fmt.Sprintf("%d changes cure", mends)), on)
	}
	return fmt.Sprintf("%s what was found wrong%s; %s left that no single change cures.", plan.Choose(mends, "1 change cures some of", fmt.Sprintf("%d changes cure some of", mends)), on,
		plan.Choose(left, "1 thing is", fmt.Sprintf("%d things are", left)))
}
