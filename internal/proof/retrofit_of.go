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

// Retrofit is what mending an old system would gain, by how its heads were found, what
// was measured and audited: each zone before and after, and what to mend first for the
// most water saved. estimates are the plan's field estimates where they are known
// already; nil draws them. tell may be nil. An error is a sentence, or the context's.
func Retrofit(ctx context.Context, p *plan.Plan, estimates []coverage.Estimate, tell coverage.Progress) (*RetrofitPlan, error) {
	if tell == nil {
		tell = func(int, int) {}
	}
	out := &RetrofitPlan{Census: census(p)}
	f := look(p)
	if len(f.repairs) == 0 && len(f.runs) == 0 {
		out.Says = "Nothing is noted yet of how the old system was found. Walk it and note each head that leans, is sunk, stopped up or wrong, and run each zone once with flow and pressure read before anything is mended."
		return out, nil
	}
	r := &reckoner{ctx: ctx, f: f, field: coverage.NewUnseen()}
	drawn, _, err := r.field.Update(ctx, p)
	if err != nil {
		return nil, err
	}
	if r.need, r.peakOnly, err = needs(p, drawn.Areas); err != nil {
		return nil, err
	}
	out.PerYear = !r.peakOnly
	r.audit = audits(p, drawn.Zones, drawn.Areas)
	estimated := slices.ContainsFunc(drawn.Areas, func(a coverage.AreaReading) bool { _, ok := r.audit[a.ID]; return !ok })
	if estimates == nil {
		if estimates, err = coverage.FieldEstimate(ctx, p, coverage.UsualSeed, coverage.UsualDraws, func(d, n int) { tell(d, 2*max(n, 1)) }); err != nil {
			return nil, err
		}
	}
	r.inField(drawn.Areas, estimates)
	if err := r.ends(); err != nil {
		return nil, err
	}
	mends, err := r.order(func(d, n int) { tell(n+d, 2*max(n, 1)) })
	if err != nil {
		return nil, err
	}
	out.Mends = mends
	out.Before, out.After = units.Gallons(r.before.total), units.Gallons(r.mended.total)
	out.Zones = r.zones()
	line, more := mixed(p, drawn)
	out.Census, out.Mends = append(out.Census, line...), append(out.Mends, more...)
	out.Assumed = append(f.assumed(r.peakOnly, estimated), r.shortOf()...)
	if n := r.before.out; n > 0 {
		out.Assumed = append(out.Assumed, fmt.Sprintf("%s in no figure: outside the nozzle's table.", plan.Plural(n, "head is", "heads are")))
	}
	out.Offered = true
	out.Says = r.says(out)
	return out, nil
}

// inField is by how much an area is less even in the field than drawn.
func (r *reckoner) inField(areas []coverage.AreaReading, estimates []coverage.Estimate) {
	r.field0 = map[plan.ID]float64{}
	for _, a := range areas {
		r.field0[a.ID] = 1
		for _, e := range estimates {
			if e.ID == a.ID && a.DU > 0 {
				r.field0[a.ID] = min(float64(e.Mean/a.DU), 1)
			}
		}
	}
}

// unexplained is the share by which a measured flow may be over what its heads as found
// explain. Chosen: what measuring and nozzles may be off together.
const unexplained = 0.10

// ends works out the system as found and as mended.
func (r *reckoner) ends() error {
	var err error
	if r.before, err = r.read(func(repair) bool { return false }); err != nil {
		return err
	}
	for _, zone := range zonesInOrder(r.f.p) {
		q, _ := flowOf(r.f.runs[zone])
		reckoned := float64(r.before.zones[zone].FlowGPM) + r.before.lost[zone]
		if extra := float64(q) - reckoned; q > 0 && reckoned > 0 && extra > unexplained*reckoned {
			r.f.extra[zone] = extra
			r.before.lost[zone] += extra
			k := repair{leakFound, zone}
			r.f.repairs = append(r.f.repairs, k)
			r.f.heads[k] = []plan.ID{}
		}
	}
	if r.mended, err = r.read(func(repair) bool { return true }); err != nil {
		return err
	}
	r.price(r.before)
	r.price(r.mended)
	return nil
}

// fewRepairs is up to how many repairs all that are left are looked at for each place in
// the order; with more, what a repair saved when it was last looked at says how soon it is
// looked at again. Chosen.
const fewRepairs = 16

// order puts the repairs in the order of the water they save, each after those before it:
// the one that saves most is done first, then the one that saves most of the rest.
func (r *reckoner) order(tell coverage.Progress) ([]Mend, error) {
	type waiting struct {
		repair
		saves float64
		at    int // how many were done when it was looked at
	}
	done := map[repair]bool{}
	now := r.before.total
	try := func(k repair) (float64, error) {
		trial := maps.Clone(done)
		trial[k] = true
		o, err := r.read(func(x repair) bool { return trial[x] })
		if err != nil {
			return 0, err
		}
		r.price(o)
		return now - o.total, nil
	}
	var list []waiting
	for i, k := range r.f.repairs {
		saves, err := try(k)
		if err != nil {
			return nil, err
		}
		list = append(list, waiting{k, saves, 0})
		tell(i+1, 2*len(r.f.repairs))
	}
	var out []Mend
	for len(list) > 0 {
		best := 0
		for i := range list {
			if w := &list[i]; w.at < len(done) && len(r.f.repairs) <= fewRepairs {
				saves, err := try(w.repair)
				if err != nil {
					return nil, err
				}
				w.saves, w.at = saves, len(done)
			}
		}
		for i, w := range list {
			if w.saves > list[best].saves {
				best = i
			}
		}
		if w := &list[best]; w.at < len(done) {
			saves, err := try(w.repair)
			if err != nil {
				return nil, err
			}
			w.saves, w.at = saves, len(done)
			continue
		}
		w := list[best]
		list = slices.Delete(list, best, best+1)
		done[w.repair] = true
		now -= w.saves
		out = append(out, r.mend(w.repair, w.saves))
		tell(len(r.f.repairs)+len(out), 2*len(r.f.repairs))
	}
	return out, nil
}

// mixedShare is how far the own rate of a head may be off its zone's: within 10 % is
// fine, past 25 % wrong (common practice, as coverage's findings have it).
const mixedShare = 0.25

// mixed are the heads whose nozzles do not go with those of their zone, and what to do
// about it zone by zone: what that saves is for the board's own mending to work out.
func mixed(p *plan.Plan, drawn *coverage.Result) ([]CensusLine, []Mend) {
	line := CensusLine{State: "mixed", Words: "of another rate than their zone"}
	rate, heads := map[plan.ID]float64{}, map[plan.ID][]plan.ID{}
	for _, z := range drawn.Zones {
		rate[z.ID] = float64(z.HeadToHead)
	}
	for _, h := range drawn.Heads {
		zone := p.Heads[h.ID].Zone
		if of := rate[zone]; of > 0 && math.Abs(float64(h.OwnRate)-of) > mixedShare*of {
			line.Heads, heads[zone] = append(line.Heads, h.ID), append(heads[zone], h.ID)
		}
	}
	if len(line.Heads) == 0 {
		return nil, nil
	}
	line.Tags = tagsOf(p, line.Heads)
	var mends []Mend
	for _, zone := range zonesInOrder(p) {
		if ids := heads[zone]; len(ids) > 0 {
			mends = append(mends, Mend{
				Says:   fmt.Sprintf("%s: give %s nozzles of the zone's rate, or move %s to a zone of its kind", plan.Capital(p.ZoneName(zone)), p.HeadNames(ids), plan.Choose(len(ids), "it", "them")),
				Saving: "not reckoned", Heads: ids, Zone: zone,
				Why: "As drawn they give more than a quarter more or less than the others on the valve. The board's mending of the layout finds which nozzles fit, and what they save.",
			})
		}
	}
	return []CensusLine{line}, mends
}

// shortOf tells of zones that gave less than their heads as found explain.
func (r *reckoner) shortOf() []string {
	var out []string
	for _, zone := range zonesInOrder(r.f.p) {
		q, _ := flowOf(r.f.runs[zone])
		if reckoned := float64(r.before.zones[zone].FlowGPM); q > 0 && float64(q) < (1-unexplained)*reckoned {
			out = append(out, fmt.Sprintf("%s gave %s where its heads as found take %s: its water is reckoned by its heads. What its run most likely means stands with the start-up.",
				plan.Capital(r.f.p.ZoneName(zone)), r.f.p.Show.Flow(q), r.f.p.Show.Flow(units.GPM(reckoned))))
		}
	}
	return out
}
