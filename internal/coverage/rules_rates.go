package coverage

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Matched precipitation within a zone, as shares of the zone's rate.
const (
	matchedFine = 0.10 // within it fine: common practice
	matchedStop = 0.25 // past it wrong: common practice
)

// ownRate is HeadReading.OwnRate as a plain number.
func (h *spot) ownRate() float64 { return float64(h.reading.OwnRate) }

// ratesMixed finds heads whose nozzle is not matched to the rest of their zone.
func ratesMixed(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, zone := range s.sortedZones() {
		heads := rated(s.zones[zone])
		if len(heads) < 2 {
			continue
		}
		m := match(heads)
		if len(m.off) == 0 {
			continue
		}
		f := plan.Found(plan.RatesMixed, m.sentence(s, zone), append(refs(m.off), plan.RefTo("zones", zone))...)
		if m.rotorsOnly(heads) {
			f = plan.Found(plan.RotorNozzleByArc, m.rotorSentence(s, zone), append(refs(m.off), plan.RefTo("zones", zone))...)
		}
		if !over(m.worst, matchedStop) {
			f = f.Ranked(plan.Mend)
		}
		found = append(found, f.Looking(s.p.MiddleOf(refs(m.off))).
			Measured("zone_rate_in_per_h", m.rate).Measured("worst_off_share", m.worst))
	}
	return found
}

// odd are the heads whose nozzle is not matched to the rest of their zone, looked
// for when they are first wanted.
func (s *survey) odd() map[plan.ID]bool {
	if s.unmatched == nil {
		s.unmatched = map[plan.ID]bool{}
		for _, zone := range s.sortedZones() {
			if heads := rated(s.zones[zone]); len(heads) > 1 {
				for _, h := range match(heads).off {
					s.unmatched[h.id] = true
				}
			}
		}
	}
	return s.unmatched
}

// rated are the heads whose rate is known.
func rated(heads []spot) []spot {
	var out []spot
	for _, h := range heads {
		if h.reading.Rate > 0 {
			out = append(out, h)
		}
	}
	return out
}

// matching is how the heads of one zone stand to its rate.
type matching struct {
	rate  float64 // the zone's: the median of its heads' own rates
	worst float64 // the largest share off it
	off   []spot  // more than matchedFine off it
	rest  []spot
}

func match(heads []spot) matching {
	own := make([]HeadReading, len(heads))
	for i, h := range heads {
		own[i] = h.reading
	}
	rate := zoneRate(own)
	m := matching{rate: float64(rate)}
	for _, h := range heads {
		off := offRate(h.reading, rate)
		if !over(off, matchedFine) {
			m.rest = append(m.rest, h)
			continue
		}
		m.off = append(m.off, h)
		m.worst = max(m.worst, off)
	}
	return m
}

func (m matching) rotorsOnly(heads []spot) bool {
	return !slices.ContainsFunc(heads, func(h spot) bool { return h.nozzle.Family != catalog.Rotor })
}

// sentence names the heads off the rate and, where the bodies take it, the
// family of nozzles that the others have.
func (m matching) sentence(s *survey, zone plan.ID) string {
	times := ""
	if fast := fastest(m.off); fast > 1.5*m.rate {
		times = fmt.Sprintf(", %.1f times the rate", fast/m.rate)
	}
	text := fmt.Sprintf("%s: %s %s %s where the rest of the zone %s %s%s.",
		plan.Capital(s.p.ZoneName(zone)), s.named(m.off), plan.Choose(len(m.off), "puts down", "put down"), s.rateRange(m.off),
		"puts down", s.p.Show.Rate(units.InchesPerHour(m.rate)), times)
	model := m.rest[0].nozzle
	if slices.ContainsFunc(m.off, func(h spot) bool { return h.nozzle.Family == model.Family || h.body.Takes != model.Thread }) {
		return text + " Give the zone nozzles of one rate, or split it."
	}
	return fmt.Sprintf("%s Put %s nozzles like the others' in the same %s.", text, model.Family, plan.Choose(len(m.off), "body", "bodies"))
}

func fastest(heads []spot) float64 {
	most := 0.0
	for _, h := range heads {
		most = max(most, h.ownRate())
	}
	return most
}

// rateRange prints the own rates of heads: "1.60 in/h", "0.21 in/h to 0.84 in/h".
func (s *survey) rateRange(heads []spot) string {
	least, most := math.Inf(1), 0.0
	for _, h := range heads {
		least, most = min(least, h.ownRate()), max(most, h.ownRate())
	}
	a, b := s.p.Show.Rate(units.InchesPerHour(least)), s.p.Show.Rate(units.InchesPerHour(most))
	if a == b {
		return a
	}
	return a + " to " + b
}

// rotorSentence says what to put in each rotor so that the zone has one rate.
func (m matching) rotorSentence(s *survey, zone plan.ID) string {
	var swaps []string
	for _, h := range m.off {
		if name := s.rotorFor(h, m.rate); name != "" {
			swaps = append(swaps, fmt.Sprintf("%s (%s) %s", s.p.HeadName(h.id), s.p.Show.Angle(h.SweepDeg), name))
		}
	}
	text := fmt.Sprintf("%s: %s %s %s where the others put down %s, because a rotor's flow does not follow its arc.",
		plan.Capital(s.p.ZoneName(zone)), s.named(m.off), plan.Choose(len(m.off), "puts down", "put down"),
		s.rateRange(m.off), s.p.Show.Rate(units.InchesPerHour(m.rate)))
	switch {
	case len(swaps) == 0:
		return text + " Choose nozzles in the proportion of the arcs."
	case len(swaps) > 4:
		return text + " Give " + plan.Series(swaps[:3]) + ", and the others by their arcs alike."
	default:
		return text + " Give " + plan.Series(swaps) + "."
	}
}

// rotorFor names the rotor nozzle that brings head h to the rate, out of the
// plan's own and the built-in ones; "" when none comes within matchedFine.
func (s *survey) rotorFor(h spot, rate float64) string {
	type choice struct {
		name string
		off  float64
	}
	var best *choice
	for _, n := range s.rotorNozzles() {
		throw, flow, err := n.At(h.reading.Pressure)
		if err != nil || n.Thread != h.nozzle.Thread || n.ArcAllowed(h.SweepDeg) != nil {
			continue
		}
		if math.Abs(float64(throw/h.reading.TableThrow)-1) > 0.05 {
			continue // another throw is another layout
		}
		own := float64(units.SpacingRate(units.GPM(float64(flow)*360/float64(h.SweepDeg)), throw, throw))
		c := choice{n.Name, math.Abs(own/rate - 1)}
		if best == nil || cmp.Or(cmp.Compare(c.off, best.off), strings.Compare(c.name, best.name)) < 0 {
			best = &c
		}
	}
	if best == nil || over(best.off, matchedFine) {
		return ""
	}
	return catalog.NameIn(s.p.Show, best.name)
}

func (s *survey) rotorNozzles() []catalog.Nozzle {
	var out []catalog.Nozzle
	for _, n := range s.p.Nozzles {
		if n.Family == catalog.Rotor {
			out = append(out, n)
		}
	}
	for _, e := range catalog.Nozzles() {
		if e.Family == catalog.Rotor {
			out = append(out, e.Nozzle)
		}
	}
	return out
}
