package arrange

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// mender seeks mends. Its plan is a copy in which heads and rows are changed as
// the search goes along, coarser than the plan is read on the board.
type mender struct {
	was   *plan.Plan // as asked
	p     *plan.Plan // with the mends found
	o     Options
	field *coverage.Field // of the whole
	local *coverage.Field // of what a search for one finding reads
	site  *site           // made when first wanted
	names *namer          // likewise
	asked map[plan.ID]bool

	grounds map[plan.ID]*ground
	items   map[[2]plan.ID][]item // by zone and body
	flowed  map[plan.ID]float64   // of the zones as they were, gpm

	given map[string]bool // findings that nothing cures, by key
	cut   bool            // the search did not come to its end

	early *teller // tells mends as they are found, for a search that is called off

	now         trouble
	mends       []remedy
	evaluations int
}

// searchCell is the least cell that a search reads by, in feet: what is found is
// read again at the plan's own. Chosen.
const searchCell = 0.5

func newMender(p *plan.Plan, o Options) *mender {
	own := *p
	own.Heads, own.Nozzles, own.Bodies = maps.Clone(p.Heads), maps.Clone(p.Nozzles), maps.Clone(p.Bodies)
	if own.Nozzles == nil || own.Bodies == nil || own.Heads == nil {
		own.Heads, own.Nozzles, own.Bodies = orEmpty(own.Heads), orEmpty(own.Nozzles), orEmpty(own.Bodies)
	}
	own.Options.CellFt = max(own.Options.CellFt, searchCell)
	m := &mender{
		was: p, p: &own, o: o, field: coverage.NewUnseen(), local: coverage.NewUnseen(), asked: map[plan.ID]bool{}, given: map[string]bool{},
		grounds: map[plan.ID]*ground{}, items: map[[2]plan.ID][]item{}, flowed: map[plan.ID]float64{},
	}
	for _, id := range o.Areas {
		m.asked[id] = true
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		if run, err := coverage.Running(p, id); err == nil && p.Heads[id].Status.Stands() {
			m.flowed[p.Heads[id].Zone] += float64(run.Flow)
		}
	}
	return m
}

func orEmpty[T any](of map[plan.ID]T) map[plan.ID]T {
	if of == nil {
		return map[plan.ID]T{}
	}
	return of
}

// adjust is what a mend changes of one head: what it leaves alone stays as other
// mends have it.
type adjust struct {
	id     plan.ID
	to     *orb.Point
	arc    *[2]units.Degrees // start and sweep
	throw  *units.Feet       // 0: the table's
	nozzle plan.ID           // "": as it is
	body   plan.ID           // "": as it is
	added  *plan.Head        // the whole, of a head that is added
	gone   bool
}

func (a *adjust) apply(p *plan.Plan) {
	if a.gone {
		delete(p.Heads, a.id)
		return
	}
	h, there := p.Heads[a.id]
	switch {
	case a.added != nil:
		h = *a.added
	case !there:
		return
	}
	if a.to != nil {
		h.X, h.Y = units.Feet(a.to[0]), units.Feet(a.to[1])
	}
	if a.arc != nil {
		h.StartDeg, h.SweepDeg = a.arc[0], a.arc[1]
	}
	if a.throw != nil {
		h.ThrowFt = nil
		if *a.throw > 0 {
			throw := *a.throw
			h.ThrowFt = &throw
		}
	}
	h.Nozzle, h.Body = cmp.Or(a.nozzle, h.Nozzle), cmp.Or(a.body, h.Body)
	for _, id := range []plan.ID{h.Nozzle} {
		if _, has := p.Nozzles[id]; !has {
			if row, known := nozzleRow(p, id); known {
				p.Nozzles[id] = row
			}
		}
	}
	if _, has := p.Bodies[h.Body]; !has {
		if row, known := bodyRow(p, h.Body); known {
			p.Bodies[h.Body] = row
		}
	}
	p.Heads[a.id] = h
}

// remedy is one mend in the making.
type remedy struct {
	kind string
	area plan.ID
	of   []adjust
	cost float64 // what a change is worth not to be made, in square feet of dry ground
	step float64 // feet, of what can still be shifted; 0: nothing
	why  plan.Finding
	key  string // of the finding it was sought for
}

// What changes cost, in square feet of dry ground: what is easy on site is tried
// for less. Chosen.
const (
	costTurn   = 1.0
	costThrow  = 1.0
	costNozzle = 1.5
	costMove   = 2.0
	costFoot   = 0.15 // of a move
	costAdd    = 8.0
	costRemove = 1.0
	costHead   = 1.0 // each head more of those that change alike
	// worthwhile is what a mend must gain beyond its cost.
	worthwhile = 3.0
)

func (r *remedy) apply(p *plan.Plan) {
	for i := range r.of {
		r.of[i].apply(p)
	}
}

// heads are those that change.
func (r *remedy) heads() []plan.ID {
	out := make([]plan.ID, len(r.of))
	for i := range r.of {
		out[i] = r.of[i].id
	}
	return out
}

// keep makes a remedy part of the plan, if the whole plan is the better for it.
func (m *mender) keep(ctx context.Context, r remedy) (bool, error) {
	t, err := m.readWith(ctx, append(slices.Clone(m.mends), r))
	if err != nil {
		return false, err
	}
	if t.sum+r.cost >= m.now.sum || t.worseThan(&m.now) {
		_, err = m.readWith(ctx, m.mends)
		return false, err
	}
	m.mends = append(m.mends, r)
	m.now = t
	return true, m.early.add(ctx, &r)
}

// free reports whether a head may be changed.
func (m *mender) free(id plan.ID) bool {
	h, ok := m.p.Heads[id]
	return ok && h.Status.Stands() && h.Status != plan.Existing && !h.Locked && m.mayTouch(id)
}

// mayTouch reports whether a head stands for an area that was asked for, or was
// added for one.
func (m *mender) mayTouch(id plan.ID) bool {
	return len(m.asked) == 0 || m.asked[m.areaOf(id)]
}

// areaOf is the area a head stands for; of one without water that of the site.
func (m *mender) areaOf(id plan.ID) plan.ID {
	if h := m.now.head(id); h != nil && h.Area != "" {
		return h.Area
	}
	if s := m.ofSite(); s != nil {
		return s.standFor[id]
	}
	return ""
}

func (m *mender) ofSite() *site {
	if m.site == nil {
		s, err := newSite(m.was)
		if err != nil {
			s = &site{p: m.was}
		}
		m.site = s
	}
	return m.site
}

// groundOf is the ground of an area; nil where no head may stand.
func (m *mender) groundOf(area plan.ID) *ground {
	g, made := m.grounds[area]
	if !made {
		var err error
		if g, err = m.ofSite().ground(area); err != nil || g.refuses != "" || len(g.stand) == 0 {
			g = nil
		}
		m.grounds[area] = g
	}
	return g
}

// stockFor is what may be put into a body of a zone, rows of the plan first.
func (m *mender) stockFor(zone, body plan.ID) []item {
	key := [2]plan.ID{zone, body}
	if its, made := m.items[key]; made {
		return its
	}
	var out []item
	row, _ := bodyRow(m.p, body)
	ids, _ := stockIDs(m.was, m.o)
	for _, id := range ids {
		n, known := nozzleRow(m.was, id)
		if !known || !row.Fits(n) || len(m.o.Families) > 0 && !slices.Contains(m.o.Families, n.Family) {
			continue
		}
		it := item{id: id, body: body, row: n, pressure: cmp.Or(m.p.Zones[zone].Pressure, n.BestPSI)}
		if row.Regulated > 0 && row.Regulated < it.pressure {
			it.pressure = row.Regulated
		}
		table, _, err := n.At(it.pressure)
		if err != nil {
			continue
		}
		it.table = table
		out = append(out, it)
	}
	inPlan := func(it item) int {
		if _, has := m.was.Nozzles[it.id]; has {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out, func(a, b item) int { return inPlan(a) - inPlan(b) })
	m.items[key] = out
	return out
}

// fitting is the best nozzle for a head's body to throw an arc so far at a rate: a
// fixed one before one that is adjusted, the less turned down the better, then the
// nearer to the rate. Chosen.
func (m *mender) fitting(h plan.Head, sweep units.Degrees, throw units.Feet, rate units.InchesPerHour) (best setting, ok bool) {
	if rate <= 0 || throw <= 0 {
		return best, false
	}
	least := math.Inf(1)
	for _, it := range m.stockFor(h.Zone, h.Body) {
		s, can := it.setting(sweep, throw, float64(rate), setWithin)
		if !can {
			continue
		}
		worse := math.Abs(float64(s.rate/rate)-1) + 0.2*differs(s.fixed, true)
		if s.turned {
			worse += 0.1 + 0.5*(1-float64(throw/it.table))
		}
		if worse < least-1e-9 {
			best, ok, least = s, true, worse
		}
	}
	return best, ok
}

// setTo is the adjustment that gives a head a setting.
func setTo(id plan.ID, h plan.Head, s setting) adjust {
	a := adjust{id: id}
	if s.nozzle != h.Nozzle {
		a.nozzle = s.nozzle
	}
	throw := units.Feet(0)
	if s.turned {
		throw = s.throw
	}
	a.throw = &throw
	return a
}

// whole rounds a length to whole feet.
func whole(v units.Feet) units.Feet { return units.Feet(math.Round(float64(v))) }
