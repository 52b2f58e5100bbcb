package proof

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// mending is the plan as it was found, with some of its faults mended.
type mending struct {
	plan  *plan.Plan
	given coverage.Given
	lost  map[plan.ID]float64 // gpm that run to waste, by zone
}

// fixed reports whether a repair is done.
type fixed func(repair) bool

// repair is one kind of thing to do in one zone.
type repair struct {
	kind string // a fault of heads, or leakFound, pressureSet
	zone plan.ID
}

// The repairs that are no head's.
const (
	leakFound   = "leak"
	pressureSet = "pressure"
)

// oldSystem is what was noted and measured of an old system.
type oldSystem struct {
	p       *plan.Plan
	of      map[plan.ID][]plan.ID    // heads that stand, by zone
	aims    map[plan.ID]aimed        // of zones with heads
	runs    map[plan.ID]plan.ZoneRun // the last before it was mended, by zone
	extra   map[plan.ID]float64      // gpm that flow more than the heads as found explain
	repairs []repair
	heads   map[repair][]plan.ID
}

// lastRun is the last run of a zone for one of some reasons; those of one day by id.
func lastRun(z plan.Zone, reasons ...string) (plan.ZoneRun, bool) {
	last, ok := plan.ZoneRun{}, false
	for _, id := range plan.SortedIDs(z.Runs) {
		if v := z.Runs[id]; slices.Contains(reasons, v.When) && (!ok || v.On >= last.On) {
			last, ok = v, true
		}
	}
	return last, ok
}

// look gathers what was noted and measured.
func look(p *plan.Plan) *oldSystem {
	f := &oldSystem{p: p, of: zoneHeads(p), aims: map[plan.ID]aimed{}, runs: map[plan.ID]plan.ZoneRun{}, extra: map[plan.ID]float64{}, heads: map[repair][]plan.ID{}}
	add := func(r repair, heads ...plan.ID) {
		if f.heads[r] == nil {
			f.repairs = append(f.repairs, r)
		}
		f.heads[r] = append(f.heads[r], heads...)
	}
	zones := zonesInOrder(p)
	for _, zone := range zones {
		f.aims[zone] = f.aimOf(zone)
		if v, ok := lastRun(p.Zones[zone], "before"); ok {
			f.runs[zone] = v
			if f.pressureOff(zone) != 0 {
				add(repair{pressureSet, zone}, f.of[zone]...)
			}
		}
	}
	for _, s := range stateWords {
		for _, zone := range zones {
			for _, id := range f.of[zone] {
				if st := p.Heads[id].State; st != nil && slices.Contains(st.Faults, s.state) {
					add(repair{s.state, zone}, id)
				}
			}
		}
	}
	return f
}

// offPressure is how far from the planned a pressure must be to be a thing to mend, as a
// share. Chosen.
const offPressure = 0.15

// pressureOff is how far the measured pressure at the heads of a zone is off the planned,
// in psi; 0 where that is no matter, or was not read at a head that no body holds.
func (f *oldSystem) pressureOff(zone plan.ID) units.PSI {
	v := f.runs[zone]
	if v.RunningPSI <= 0 || v.PSIAt != "" && v.PSIAt != "head" {
		return 0
	}
	aim := f.aims[zone]
	if off := v.RunningPSI - aim.psi; aim.free && aim.psi > 0 && math.Abs(float64(off)) > offPressure*float64(aim.psi) {
		return off
	}
	return 0
}

// aimed is the mean pressure that the heads of a zone are planned at, and whether no body
// holds any of them at it.
type aimed struct {
	psi  units.PSI
	free bool
}

// aimOf works out what the heads of a zone are planned at.
func (f *oldSystem) aimOf(zone plan.ID) aimed {
	a, n := aimed{free: true}, units.PSI(0)
	for _, id := range f.of[zone] {
		if run, err := coverage.Running(f.p, id); err == nil {
			a.psi, n = a.psi+run.Pressure, n+1
		}
		a.free = a.free && f.p.Bodies[f.p.Heads[id].Body].Regulated == 0
	}
	if n == 0 {
		return aimed{}
	}
	a.psi /= n
	return a
}

// as is the system with what done says mended and the rest as found.
func (f *oldSystem) as(done fixed) mending {
	q := *f.p
	q.Heads, q.Nozzles = maps.Clone(f.p.Heads), maps.Clone(f.p.Nozzles)
	m := mending{plan: &q, given: coverage.Given{}, lost: map[plan.ID]float64{}}
	for _, zone := range zonesInOrder(f.p) {
		if f.pressureOff(zone) != 0 && !done(repair{pressureSet, zone}) {
			for _, id := range f.of[zone] {
				m.given[id] = f.runs[zone].RunningPSI
			}
		}
		if x := f.extra[zone]; x > 0 && !done(repair{leakFound, zone}) {
			m.lost[zone] += x
		}
		for _, id := range f.of[zone] {
			if st := f.p.Heads[id].State; st != nil {
				m.spoil(id, *st, func(fault string) bool {
					return slices.Contains(st.Faults, fault) && !done(repair{fault, zone})
				})
			}
		}
	}
	return m
}

// spoil makes a head as it was found.
func (m *mending) spoil(id plan.ID, st plan.HeadState, has func(string) bool) {
	h := m.plan.Heads[id]
	flow, throw := 1.0, 1.0
	times := func(fault string, q, r float64) {
		if has(fault) {
			flow, throw = flow*q, min(throw, r)
		}
	}
	times(plan.Blocked, blockedFlow, blockedThrow)
	times(plan.Sunk, 1, sunkThrow)
	times(plan.Hidden, 1, hiddenThrow)
	times(plan.Stuck, 1, stuckThrow)
	times(plan.Worn, wornFlow, 1)
	if has(plan.WrongNozzle) {
		if n, ok := nozzleCalled(m.plan, st.Nozzle); ok && n.ArcAllowed(h.SweepDeg) == nil && len(n.Rows) > 0 {
			h.Nozzle, h.ThrowFt = plan.ID("as-found-"+string(id)), nil
			m.plan.Nozzles[h.Nozzle] = n
		} else {
			flow *= unlikeFlow
		}
	}
	if has(plan.OffTarget) && h.SweepDeg < 360 {
		h.StartDeg = units.Degrees(math.Mod(float64(h.StartDeg)+astrayTurn, 360))
	}
	if flow != 1 || throw != 1 {
		n := m.plan.Nozzles[h.Nozzle]
		n.Rows = slices.Clone(n.Rows)
		for i := range n.Rows {
			n.Rows[i].Flow *= units.GPM(flow)
			n.Rows[i].Throw *= units.Feet(throw)
		}
		if h.ThrowFt != nil {
			set := *h.ThrowFt * units.Feet(throw)
			h.ThrowFt = &set
		}
		h.Nozzle = plan.ID("as-found-" + string(id))
		m.plan.Nozzles[h.Nozzle] = n
	}
	m.plan.Heads[id] = h
	if has(plan.Leaking) {
		if run, err := coverage.Running(m.plan, id); err == nil {
			m.lost[h.Zone] += leakShare * float64(run.Flow)
		}
	}
	if has(plan.Tilted) {
		m.lean(id, st)
	}
}

// lean moves the pattern of a head as leaning does: a stream without drag that leaves at
// θ flies as sin 2θ, so that on the side to which the head leans by t it falls short and
// on the other it flies farther, in the mean by R·cot 2θ·sin 2t.
func (m *mending) lean(id plan.ID, st plan.HeadState) {
	h := m.plan.Heads[id]
	run, err := coverage.Running(m.plan, id)
	if err != nil {
		return
	}
	tilt := cmp.Or(float64(st.TiltDeg), usualTilt) * math.Pi / 180
	toward := float64(h.StartDeg + h.SweepDeg/2) // not noted: forward, into its own arc
	if st.TiltToward != nil {
		toward = float64(*st.TiltToward)
	}
	up := max(float64(m.plan.Nozzles[h.Nozzle].Trajectory), 5) * math.Pi / 180
	shift := min(math.Abs(math.Sin(2*tilt)/math.Tan(2*up)), mostShift) * float64(run.Throw)
	sin, cos := math.Sincos(toward * math.Pi / 180)
	h.X -= units.Feet(shift * cos)
	h.Y -= units.Feet(shift * sin)
	m.plan.Heads[id] = h
}

// nozzleCalled is the nozzle that somebody noted in words: a name or id of the plan's
// rows or of the catalogue's.
func nozzleCalled(p *plan.Plan, words string) (catalog.Nozzle, bool) {
	words = strings.TrimSpace(words)
	if words == "" {
		return catalog.Nozzle{}, false
	}
	for _, id := range plan.SortedIDs(p.Nozzles) {
		if strings.EqualFold(words, string(id)) || strings.EqualFold(words, p.NozzleName(id)) || strings.EqualFold(words, p.Nozzles[id].Name) {
			return p.Nozzles[id], true
		}
	}
	for _, e := range catalog.Nozzles() {
		if strings.EqualFold(words, e.ID) || strings.EqualFold(words, e.Name) || strings.EqualFold(words, e.Metric) {
			return e.Nozzle, true
		}
	}
	return catalog.Nozzle{}, false
}
