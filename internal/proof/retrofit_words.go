package proof

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// tagsOf are the tags of heads, in their order.
func tagsOf(p *plan.Plan, ids []plan.ID) string {
	tags := make([]string, len(ids))
	for i, id := range ids {
		tags[i] = p.HeadTag(id)
	}
	slices.SortStableFunc(tags, byTag)
	return strings.Join(tags, ", ")
}

// repairWords are what is done about a fault and why it saves. Common practice, from memory.
var repairWords = map[string][2]string{
	plan.Tilted:      {"Set %s upright", "A leaning head throws short on one side and too far on the other."},
	plan.Sunk:        {"Raise %s to grade", "Grass catches the stream of a sunk head; dry rings make minutes longer for all."},
	plan.Hidden:      {"Cut back growth before %s, or set a taller body", "What the plant catches does not reach the ground behind it."},
	plan.Blocked:     {"Clean nozzle and screen of %s", "Its ground stays dry, and the whole zone runs longer for it."},
	plan.Worn:        {"Renew the nozzles of %s", "A worn nozzle gives more than its neighbours."},
	plan.Leaking:     {"Stop the leak at %s", "What runs out at foot or seal waters nothing."},
	plan.Stuck:       {"Clean or change the body of %s", "A head that does not rise waters what is at its foot."},
	plan.WrongNozzle: {"Put the nozzle as drawn in %s", "One nozzle of another rate makes the zone uneven."},
	plan.OffTarget:   {"Turn %s back to the ground meant", "What lands on paving or over the fence waters nothing."},
	leakFound:        {"Find where %s go that the heads do not explain", "The measured flow is more than the heads as found give: a leak or a broken pipe in the lateral, or nozzles larger than anybody noted. Have buried lines located before anybody digs."},
}

// mend puts a repair into words.
func (r *reckoner) mend(k repair, saves float64) Mend {
	p := r.f.p
	m := Mend{Zone: k.zone, Heads: r.f.heads[k]}
	words := repairWords[k.kind]
	m.Why = words[1]
	switch k.kind {
	case leakFound:
		m.Says = fmt.Sprintf(words[0], p.Show.Flow(units.GPM(r.f.extra[k.zone])))
	case pressureSet:
		want := r.f.aims[k.zone].psi
		v := r.f.runs[k.zone].RunningPSI
		if off := r.f.pressureOff(k.zone); off > 0 {
			m.Says = fmt.Sprintf("Hold the pressure down from %s to %s, by a regulator at the valve or bodies that regulate", p.Show.Pressure(v), p.Show.Pressure(want))
			m.Why = "Past what the nozzles are planned at more flows, and the finest drops drift away."
		} else {
			m.Says = fmt.Sprintf("Find what takes the pressure: %s where %s is planned", p.Show.Pressure(v), p.Show.Pressure(want))
			m.Why = "With too little pressure streams do not break up: rings, and dry ground between."
		}
	default:
		m.Says = fmt.Sprintf(words[0], p.HeadNames(m.Heads))
	}
	if k.zone != "" {
		m.Says = plan.Capital(p.ZoneName(k.zone)) + ": " + strings.ToLower(m.Says[:1]) + m.Says[1:]
	}
	if worth := leastWorth * r.before.total; saves > worth && saves >= 1 {
		m.Saves = units.Gallons(saves)
		m.Saving = r.amount(saves)
	} else {
		m.Saving = "none by itself"
		m.Why += " It saves no water to speak of by itself"
		if saves < -worth {
			m.Why += ": dry ground gets what it lacked, which takes more"
		}
		m.Why += "."
	}
	return m
}

// leastWorth is the share of all water under which a saving is not told as one. Chosen.
const leastWorth = 0.001

// amount is a volume of a year, or of a week at peak: whole units of the plan, above a
// thousand tens of them, for it is no surer.
func (r *reckoner) amount(gal float64) string {
	unit := 1.0
	if r.f.p.Show == units.Metric {
		unit = units.LitresPerGallon
	}
	step := 1.0
	if gal*unit >= 1000 {
		step = 10
	}
	return r.f.p.Show.Volume(units.Gallons(math.Round(gal*unit/step) * step / unit))
}

// zones are the zones before and after.
func (r *reckoner) zones() []ZoneMended {
	p, sys := r.f.p, r.f.p.Show
	var out []ZoneMended
	for _, id := range zonesInOrder(p) {
		b, a := r.before.zones[id], r.mended.zones[id]
		z := ZoneMended{ID: id, Name: plan.Capital(p.ZoneName(id)),
			FlowBefore: b.FlowGPM + units.GPM(r.before.lost[id]), FlowAfter: a.FlowGPM,
			WaterBefore: units.Gallons(r.before.water[id]), WaterAfter: units.Gallons(r.mended.water[id])}
		z.DUBefore, z.DUAudited = r.zoneDU(r.before, id)
		z.DUAfter, _ = r.zoneDU(r.mended, id)
		if q, _ := flowOf(r.f.runs[id]); q > 0 {
			z.FlowBefore, z.FlowMeasured = q, true
		}
		z.PSIBefore = r.f.runs[id].RunningPSI
		z.PSIAfter = r.f.aims[id].psi
		afterFlow, afterPSI := "reckoned", "planned"
		if v, ok := lastRun(p.Zones[id], "after"); ok {
			if q, _ := flowOf(v); q > 0 {
				z.FlowAfter, afterFlow = q, "measured"
			}
			if v.RunningPSI > 0 {
				z.PSIAfter, afterPSI = v.RunningPSI, "measured"
			}
		}
		how := "reckoned"
		if z.FlowMeasured {
			how = "measured"
		}
		z.Flow = fmt.Sprintf("%s %s, then %s %s", sys.Flow(z.FlowBefore), how, sys.Flow(z.FlowAfter), afterFlow)
		z.Pressure = fmt.Sprintf("not measured, then %s %s", sys.Pressure(z.PSIAfter), afterPSI)
		if z.PSIBefore > 0 {
			z.Pressure = fmt.Sprintf("%s measured, then %s %s", sys.Pressure(z.PSIBefore), sys.Pressure(z.PSIAfter), afterPSI)
		}
		if z.DUBefore > 0 || z.DUAfter > 0 {
			how = "expected"
			if z.DUAudited {
				how = "audited"
			}
			z.DU = fmt.Sprintf("%s %s, then %s expected", sys.Percent(z.DUBefore), how, sys.Percent(z.DUAfter))
		}
		z.Water = fmt.Sprintf("%s, then %s %s", r.amount(float64(z.WaterBefore)), r.amount(float64(z.WaterAfter)), r.per())
		switch saves := float64(z.WaterBefore - z.WaterAfter); {
		case saves >= 1:
			z.Saving = fmt.Sprintf("%s, %s", r.amount(saves), sys.Percent(units.Ratio(saves/float64(z.WaterBefore))))
		case saves <= -1:
			z.Saving = "none: it takes " + r.amount(-saves) + " more, for ground that stayed dry"
		default:
			z.Saving = "none"
		}
		out = append(out, z)
	}
	return out
}

func (r *reckoner) per() string {
	if r.peakOnly {
		return "in the week at peak"
	}
	return "a year"
}

// zoneDU is the evenness of the least even area that a zone's heads stand for, and
// whether an audit says so.
func (r *reckoner) zoneDU(o *outcome, zone plan.ID) (du units.Ratio, audited bool) {
	least := math.Inf(1)
	for _, a := range o.zones[zone].Areas {
		if o.du[a] < least {
			least = o.du[a]
			_, audited = r.audit[a]
		}
	}
	if math.IsInf(least, 1) {
		return 0, false
	}
	return units.Ratio(least), audited
}

// says is the whole in a sentence.
func (r *reckoner) says(out *RetrofitPlan) string {
	before, after := float64(out.Before), float64(out.After)
	text := fmt.Sprintf("As found %s %s, mended %s", r.amount(before), r.per(), r.amount(after))
	switch {
	case before <= 0:
		return "No planting that is watered overhead is drawn, so that no water can be reckoned."
	case before-after > leastWorth*before:
		text += fmt.Sprintf(": %s or %s less.", r.amount(before-after), r.f.p.Show.Percent(units.Ratio(1-after/before)))
		if len(out.Mends) > 0 && out.Mends[0].Saves > 0 {
			text += " Most by itself: " + out.Mends[0].Says + "."
		}
	case len(out.Mends) == 0:
		text += ": nothing was found to mend. Note how each head is found."
	default:
		text += ": mending saves no water here, it waters what stays dry."
	}
	return text
}
