package coverage

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// turnedDown finds heads turned down past the usual share of their throw, zone
// by zone, and says what rate that makes.
func turnedDown(s *survey) []plan.Finding {
	return s.byZone(func(zone plan.ID, heads []spot) []plan.Finding {
		var far []spot
		worst := 1.0
		var model spot
		for _, h := range heads {
			if h.reading.TableThrow <= 0 || h.reading.Throw <= 0 {
				continue
			}
			share := float64(h.reading.Throw / h.reading.TableThrow)
			if usual := float64(h.nozzle.TurnDown.UsualShare); over(usual, share) {
				far = append(far, h)
				if share < worst {
					worst, model = share, h
				}
			}
		}
		if len(far) == 0 {
			return nil
		}
		sys := s.p.Show
		text := fmt.Sprintf("%s %s turned down by %s, where %s is usual: %s set from %s to %s puts down %s instead of %s.",
			plan.Capital(s.named(far)), plan.Choose(len(far), "is", "are"),
			sys.Percent(units.Ratio(1-worst)), sys.Percent(1-model.nozzle.TurnDown.UsualShare),
			s.p.NozzleName(model.Nozzle), sys.Length(model.reading.TableThrow), sys.Length(model.reading.Throw),
			sys.Rate(model.reading.Rate), sys.Rate(units.InchesPerHour(model.ownRate())))
		return []plan.Finding{plan.Found(plan.TurnedDownFar, text, refs(far)...).
			Looking(s.p.MiddleOf(refs(far))).Measured("turned_down_share", 1-worst).
			Measured("rate_in_per_h", float64(model.reading.Rate))}
	})
}

// mistFrom is the pressure at the nozzle past which a spray mists, in psi: common
// practice, within the 30 psi to 45 psi of US EPA WaterSense.
const mistFrom units.PSI = 40

// misting finds sprays on bodies that do not regulate, at a pressure past which
// they mist, zone by zone. Streams and rotors are made for it.
func misting(s *survey) []plan.Finding {
	return s.byZone(func(zone plan.ID, heads []spot) []plan.Finding {
		var high []spot
		for _, h := range heads {
			sprays := h.nozzle.Family == catalog.Spray || h.nozzle.Family == catalog.Strip
			if sprays && h.body.Regulated == 0 && over(float64(h.reading.Pressure), float64(mistFrom)) {
				high = append(high, h)
			}
		}
		if len(high) == 0 {
			return nil
		}
		sys, worst := s.p.Show, slices.MaxFunc(high, func(a, b spot) int { return cmp.Compare(a.reading.Pressure, b.reading.Pressure) })
		text := fmt.Sprintf("%s %s at %s on %s that %s not regulate; a spray mists past %s and works best at %s.",
			plan.Capital(s.named(high)), plan.Choose(len(high), "runs", "run"), sys.Pressure(worst.reading.Pressure),
			plan.Choose(len(high), "a body", "bodies"), plan.Choose(len(high), "does", "do"), sys.Pressure(mistFrom), sys.Pressure(worst.nozzle.BestPSI))
		return []plan.Finding{plan.Found(plan.SprayMisting, text, refs(high)...).
			Looking(s.p.MiddleOf(refs(high))).Measured("pressure_psi", float64(worst.reading.Pressure))}
	})
}

// byZone calls check for the heads of each zone, and for those of none.
func (s *survey) byZone(check func(zone plan.ID, heads []spot) []plan.Finding) []plan.Finding {
	var found []plan.Finding
	for _, zone := range s.sortedZones() {
		found = append(found, check(zone, s.zones[zone])...)
	}
	var free []spot
	for _, h := range s.heads {
		if h.Zone == "" {
			free = append(free, h)
		}
	}
	return append(found, check("", free)...)
}

// outsideTable finds heads that ask their nozzle for a pressure, an arc or a
// throw that its table does not hold. Heads that ask for the same make one
// finding.
func outsideTable(s *survey) []plan.Finding {
	type request struct {
		nozzle         plan.ID
		quantity       string
		asked, nearest float64
	}
	var found []plan.Finding
	groups := map[request][]spot{}
	var order []request
	for _, h := range s.heads {
		_, err := Running(s.p, h.id)
		var out *catalog.OutsideError
		switch {
		case err == nil:
		case errors.As(err, &out):
			key := request{h.Nozzle, out.Quantity, out.Asked, out.Nearest}
			if groups[key] == nil {
				order = append(order, key)
			}
			groups[key] = append(groups[key], h)
		default:
			found = append(found, plan.Found(plan.OutsideTable, err.Error(), plan.RefTo("heads", h.id)).Looking(h.at))
		}
	}
	for _, key := range order {
		heads := groups[key]
		text := fmt.Sprintf("%s %s %s for %s of %s, which its table does not hold; the nearest it holds is %s.",
			plan.Capital(s.named(heads)), plan.Choose(len(heads), "asks", "ask"), s.p.NozzleName(key.nozzle),
			withArticle(key.quantity), s.quantity(key.quantity, key.asked), s.quantity(key.quantity, key.nearest))
		found = append(found, plan.Found(plan.OutsideTable, text, refs(heads)...).Looking(heads[0].at).
			Measured("asked", key.asked).Measured("nearest", key.nearest))
	}
	return found
}

func withArticle(quantity string) string {
	if quantity == "arc" {
		return "an arc"
	}
	return "a " + quantity
}

// quantity prints a value of an OutsideError in the plan's units.
func (s *survey) quantity(name string, v float64) string {
	switch name {
	case "pressure":
		return s.p.Show.Pressure(units.PSI(v))
	case "arc":
		return s.p.Show.Angle(units.Degrees(v))
	default:
		return s.p.Show.Length(units.Feet(v))
	}
}

// notFitting finds nozzles in bodies that do not take them.
func notFitting(s *survey) []plan.Finding {
	type pair struct{ nozzle, body plan.ID }
	groups := map[pair][]spot{}
	var order []pair
	for _, h := range s.heads {
		if h.body.Takes == h.nozzle.Thread {
			continue
		}
		key := pair{h.Nozzle, h.Body}
		if groups[key] == nil {
			order = append(order, key)
		}
		groups[key] = append(groups[key], h)
	}
	var found []plan.Finding
	for _, key := range slices.Clip(order) {
		heads := groups[key]
		text := fmt.Sprintf("%s %s %s in %s, which takes only nozzles of the %s thread.",
			plan.Capital(s.named(heads)), plan.Choose(len(heads), "has", "have"), s.p.NozzleName(key.nozzle), s.p.BodyName(key.body), heads[0].body.Takes)
		found = append(found, plan.Found(plan.NozzleNotFitting, text, refs(heads)...).Looking(heads[0].at))
	}
	return found
}
