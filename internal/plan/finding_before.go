package plan

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

// checkSupply looks for what makes the supply less than it is planned on.
func checkSupply(p *Plan) []Finding {
	s := p.Supply
	var found []Finding
	tell := func(f Finding) {
		if s.Connection != nil {
			f = f.Looking(s.Connection.point())
		}
		found = append(found, f)
	}
	together := s.FlowGPM > 0 && s.ResidualPSI > 0
	most := s.highestStatic()
	then := s.StaticPSI // of the day the flow was measured on
	if then == 0 {
		then = most
	}
	switch {
	case together && then > 0 && s.ResidualPSI >= then:
		f := Found(SupplyRough, fmt.Sprintf("The pressure left while %s flow, %s, is not under the %s with nothing running: one of the two was read wrong.",
			p.Show.Flow(s.FlowGPM), p.Show.Pressure(s.ResidualPSI), p.Show.Pressure(then)), "supply")
		f.Title, f.Do = "Two readings that cannot both be right", "Measure both again on the same day, with the same gauge."
		tell(f)
	case !together && s.TimedGal > 0 && s.TimedS > 0:
		tell(Found(SupplyRough, fmt.Sprintf("An open tap filled %s in %s, %s, but the pressure left at a flow is not known.",
			p.Show.Volume(s.TimedGal), p.Show.Time(s.TimedS), p.Show.Flow(units.GPM(float64(s.TimedGal)*60/float64(s.TimedS)))), "supply"))
	case s.Measured && s.FlowGPM > 0 && s.ResidualPSI == 0:
		tell(Found(SupplyRough, fmt.Sprintf("The supply was measured at %s, but the pressure left while it runs is not known.", p.Show.Flow(s.FlowGPM)), "supply"))
	case s.Measured && s.FlowGPM == 0 && s.DesignFlowGPM == 0 && most > 0 && len(s.Pump) == 0:
		f := Found(SupplyRough, fmt.Sprintf("Of the supply only the static pressure of %s is known, and no more than %s is assumed.", p.Show.Pressure(most), p.Show.Flow(assumedFlow)), "supply")
		f.Title = "Pressure known without its flow"
		tell(f)
	case together && s.Measured && s.Tap == "before_regulator" && s.MeasuredWhere == "outside_tap":
		f := Found(SupplyRough, "The system is tapped before the house's regulator, and the flow was measured at an outside tap, which commonly stands behind it.", "supply").Ranked(Notice)
		f.Title = "Measured behind the house's regulator"
		f.Why = "What a tap behind the regulator and the house's pipe gives says little of the pipe before them."
		f.Do = "Measure before the regulator, at a tap or tee near the meter, or say that this tap stands before it, as one at the connection."
		tell(f)
	}
	checkRegulator(p, most, tell)
	switch {
	case !s.Status.Stands() || !anyHead(p) || s.Kind == Pond: // nobody drinks of a pond
	case s.Kind == Reclaimed:
		f := Found(BackflowDoubtful, "The system runs on reclaimed water, which nobody may drink.", "supply")
		f.Title = "Reclaimed water is kept apart and marked"
		f.Why = "Joined to a drinking-water pipe by mistake, or drunk from an unmarked tap, it makes people ill."
		f.Do = "Purple pipe, box lids and tags; no hose taps; nothing joined to drinking water. Ask its purveyor for set-backs, hours and tests; local code decides."
		f.Source = "Purple for reclaimed water: APWA uniform color code; " + practice
		tell(f)
	case s.Backflow == "" && s.BackflowDevice == "" && s.BackflowAt == nil:
		f := Found(NoBackflow, "The plan names no device that keeps the water of its heads out of the drinking water.", "supply")
		if s.Injection || s.PushBack != "" {
			f.Rank = Stop
			f.Do = "Plan a reduced-pressure device: no other kind is for water that something is put into, and breakers do not stop water that is pushed back. Ask your purveyor before buying; local code and a licensed tester decide."
		}
		tell(f)
	}
	return found
}

// checkRegulator looks for a regulator that is missing, or has no setting.
func checkRegulator(p *Plan, most units.PSI, tell func(Finding)) {
	s := p.Supply
	held := s.Tap == "after_regulator" && s.RegulatorPSI > 0
	switch {
	case most > highestPSI && !s.Regulator && !held:
		tell(Found(PressureHigh, fmt.Sprintf("The supply stands at %s without a regulator, where %s is the most.", p.Show.Pressure(most), p.Show.Pressure(highestPSI)), "supply").
			Measured("pressure_psi", float64(most)))
	case s.Regulator && s.RegulatorPSI == 0:
		f := Found(PressureHigh, "A regulator is planned and its setting is not given, so that pressures are worked out as if it were not there.", "supply").Ranked(Notice)
		f.Title = "Regulator without its setting"
		f.Why = "Who sets it has no figure to set it to, and heads may show more pressure here than they will have."
		f.Do = "Give the setting: a little above what the most demanding zone needs at its valve, and under what its lightest heads bear."
		tell(f)
	}
}

// highestStatic is the greatest of the readings with nothing running: what pipes and
// fittings must bear.
func (s Supply) highestStatic() units.PSI {
	most := s.StaticPSI
	for _, r := range s.Statics {
		most = max(most, r.PSI)
	}
	return most
}

// highestPSI is the pressure from which plumbing codes ask for a regulator.
const highestPSI units.PSI = 80

func anyHead(p *Plan) bool {
	for _, h := range p.Heads {
		if h.Status.Stands() {
			return true
		}
	}
	return false
}

// checkLocate asks for the locate request while there is something to dig for.
func checkLocate(p *Plan) []Finding {
	if p.Site.LocateOn != "" || p.Site.LocateTicket != "" {
		return nil
	}
	count := 0
	for _, h := range p.Heads {
		if h.Status.IsNew() {
			count++
		}
	}
	if count == 0 {
		return nil
	}
	return []Finding{Found(LocateMissing, fmt.Sprintf("%s %s dug in, and the plan has no locate request yet.",
		Plural(count, "head", "heads"), Choose(count, "is to be", "are to be")), "site")}
}

// checkStations holds the zones against the controller's terminals, and against the
// share of them that is kept free.
func checkStations(p *Plan) []Finding {
	c := p.Controller
	if c.Stations == 0 || !c.Status.Stands() {
		return nil
	}
	zones, beyond := 0, []ID{}
	for _, id := range SortedIDs(p.Zones) {
		if z := p.Zones[id]; z.Status.Stands() {
			zones++
			if z.Station > c.Stations {
				beyond = append(beyond, id)
			}
		}
	}
	spare, source := p.Figure(StationsSpare)
	var f Finding
	switch want := int(math.Ceil(float64(zones) * (1 + spare))); {
	case zones > c.Stations:
		f = Found(StationsShort, fmt.Sprintf("The plan has %s, and its controller %s.", Plural(zones, "zone", "zones"), Plural(c.Stations, "station", "stations")), "controller")
	case len(beyond) > 0:
		f = Found(StationsShort, fmt.Sprintf("%s is on station %d of a controller of %d.", Capital(p.ZoneName(beyond[0])), p.Zones[beyond[0]].Station, c.Stations), "controller", RefTo("zones", beyond[0]))
	case want > c.Stations:
		f = Found(StationsShort, fmt.Sprintf("The controller has %s for %s: %s to spare, where %d is usual.",
			Plural(c.Stations, "station", "stations"), Plural(zones, "zone", "zones"), none(c.Stations-zones), want-zones), "controller").Ranked(Notice)
		f.Title = "Few spare stations"
		if _, own := p.Options.Figures[StationsSpare]; own {
			f.Do = fmt.Sprintf("Choose a controller of %s, or keep fewer of them spare.", Plural(want, "station", "stations"))
			f.Source = fmt.Sprintf("%s spare stations: %s", p.Show.Percent(units.Ratio(spare)), unbraced.Replace(source))
		}
	default:
		return nil
	}
	if c.At != nil {
		f = f.Looking(c.At.point())
	}
	return []Finding{f}
}

func none(n int) string {
	if n == 0 {
		return "none"
	}
	return itoa(n)
}

// point is the place in the plane, in feet.
func (s Spot) point() orb.Point { return orb.Point{float64(s.X), float64(s.Y)} }
