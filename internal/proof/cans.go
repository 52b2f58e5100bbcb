package proof

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"evenfall/internal/audit"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The ways cans are set out.
const (
	CansByGrid  = "grid"  // rows and columns a fixed distance apart, each can for as much ground as the next
	CansByHeads = "heads" // near the heads and midway between them
)

// How cans are set out, and read. What auditors do is common practice, from memory; the
// printed worksheets give forms and no distances.
const (
	LeastCans = 24 // cans an audit has at least: common practice, from memory
	MostCans  = 96 // cans that are set out unasked: about an hour's reading; chosen

	cansPerHead = 2                 // so that the fit can tell heads apart (audit.Fitted.Few)
	offHead     = 2.0               // feet from a head at least: 2 to 3 ft is common practice, from memory
	farOffHead  = 3.0               // feet from a head, of the can beside it at most: as offHead
	nearHead    = 2.5               // feet from it, of a can that is to stand near it
	offThing    = 1.0               // feet from trunks, box lids and walls of valves; chosen
	edgeClear   = 1.0               // feet from the edge of the area, where there is room: 1 to 2 ft is common practice, from memory
	leastApart  = 2.0               // feet between cans, half of it at the least where ground is narrow; chosen
	UsualCatch  = 25.0              // ml on average, for a reading of half a millilitre to matter little: common practice, from memory
	UsualThroat = 16.0              // square inches, of a can nobody has measured yet; chosen
	ownShare    = 0.05              // of the water on an area from which a zone is run in its audit; chosen
	shortRun    = 5.0               // minutes a zone runs at least; chosen. See turningRun
	longRun     = 60.0              // minutes a zone is told to run at the most; chosen
	mostAsked   = plan.MaxCans / 10 // cans that anybody sets out
	calmWind    = units.MPH(5)      // wind in which cans are read at the most: common practice, from memory
)

// CansOffer is a layout of catch-cans for an area.
type CansOffer struct {
	Says  string   // how many, how far apart, how long to run
	Rules []string // by which they were set out, with sources
	Audit plan.ID  // its id in the patch
	Area  plan.ID
	Zones []plan.ID // that bring the area water, each to be run by itself for Minutes; by id
	// Minutes is how long each of Zones should run to catch about UsualCatch on average.
	Minutes float64
	Cans    []CanPlace // in walking order
	// Untold are the heads that stand for the area of which these cans catch too little to
	// tell a fault by; by id.
	Untold []plan.ID
	Patch  plan.Patch // puts them down as an audit that nobody has read yet
	Label  string     // of that step
}

// CanPlace is where a can is to stand.
type CanPlace struct {
	ID     plan.ID
	X, Y   units.Feet
	Number int         // in walking order, from 1
	Reach  int         // heads that bring it water
	OfMean units.Ratio // predicted there over the mean of all cans; 0: nothing can be predicted
	Byte   int         // of the map (coverage.MapByte)
	Where  string      // "near 2-3", "between 2-3 and 2-4"; "" on the grid
}

// OfferCans sets out cans on a planting area watered overhead, by CansByGrid or
// CansByHeads. count is how many there are to be, 0 for as many as suit the area and its
// heads; it is rounded up so that the driest quarter is a whole number of cans. An error
// is a sentence for the user.
func OfferCans(p *plan.Plan, area plan.ID, by string, count int) (CansOffer, error) {
	if by != CansByGrid && by != CansByHeads {
		return CansOffer{}, fmt.Errorf("cans are set out by %s or by %s, not by %q", CansByGrid, CansByHeads, by)
	}
	if count < 0 || count > mostAsked {
		return CansOffer{}, fmt.Errorf("an audit of %d cans: give from 4 to %d, or 0 for as many as suit the area", count, mostAsked)
	}
	if _, ok := p.Areas[area]; !ok {
		return CansOffer{}, fmt.Errorf("the plan has no area %q to set out cans on", area)
	}
	g, ok := groundFor(p, area)
	if !ok {
		return CansOffer{}, fmt.Errorf("%s is no planting that heads water from above; cans catch on such ground alone", p.AreaName(area))
	}
	if g.free == 0 {
		return CansOffer{}, fmt.Errorf("no can can stand on %s: it has no ground off its edges, its heads and what else stands there", p.AreaName(area))
	}
	heads, _, err := coverage.Footprints(p, nil, coverage.Wind{})
	if err != nil {
		return CansOffer{}, err
	}
	s := sitting{p: p, area: area, ground: g, heads: heads, own: g.standFor(heads), asked: count}
	s.count()
	var sites []site
	if by == CansByGrid {
		sites = s.grid()
	} else {
		sites = s.byHeads()
	}
	if len(sites) == 0 {
		return CansOffer{}, fmt.Errorf("%s has no room for cans", p.AreaName(area))
	}
	return s.offer(by, walked(sites, g.along))
}

// sitting is the setting out of cans on one area.
type sitting struct {
	p      *plan.Plan
	area   plan.ID
	ground *canGround
	heads  []coverage.Footprint
	own    []int             // of heads: those that stand for the area
	asked  int               // cans that were asked for; 0: as many as suit
	want   int               // cans
	looked map[int32]brought // what is predicted on cells looked at so far
}

// site is a place for a can.
type site struct {
	at    orb.Point
	where string
}

// count settles how many cans there are to be: as asked, or enough for the rules, for telling
// the heads apart and for a can in every half throw; in any case a multiple of four.
func (s *sitting) count() {
	n := s.asked
	if n == 0 {
		n = max(LeastCans, cansPerHead*len(s.own))
		if throws := s.throws(); len(throws) > 0 {
			half := throws[len(throws)/2] / 2
			n = max(n, int(math.Ceil(s.ground.sqft/(half*half))))
		}
		n = min(n, MostCans)
	}
	room := int(s.ground.sqft / (leastApart * leastApart))
	s.want = max(min((n+3)/4*4, room/4*4), 4)
}

// throws are those of the heads of the area, least first.
func (s *sitting) throws() []float64 {
	out := make([]float64, 0, len(s.own))
	for _, i := range s.own {
		out = append(out, float64(s.heads[i].Run.Throw))
	}
	slices.Sort(out)
	return out
}

// offer writes down what was set out.
func (s *sitting) offer(by string, sites []site) (CansOffer, error) {
	o := CansOffer{Area: s.area, Audit: newAudit(s.p), Cans: make([]CanPlace, len(sites))}
	rates, mean, places := make([]float64, len(sites)), 0.0, make([]brought, len(sites))
	byZone := map[plan.ID]float64{}
	for n, site := range sites {
		o.Cans[n] = CanPlace{
			ID: plan.ID("c" + strconv.Itoa(n+1)), X: units.Feet(round(site.at[0])), Y: units.Feet(round(site.at[1])), Number: n + 1, Where: site.where,
		}
		at := s.bringing(orb.Point{float64(o.Cans[n].X), float64(o.Cans[n].Y)})
		for _, b := range at.from {
			byZone[b.zone] += b.rate
		}
		rates[n], o.Cans[n].Reach, places[n] = at.rate, len(at.from), at
		mean += rates[n] / float64(len(sites))
	}
	for _, id := range plan.SortedIDs(byZone) {
		if byZone[id] >= ownShare*mean*float64(len(sites)) {
			o.Zones = append(o.Zones, id)
		}
	}
	for n := range o.Cans {
		if mean > 0 {
			o.Cans[n].OfMean = units.Ratio(rates[n] / mean)
		}
		o.Cans[n].Byte = int(coverage.MapByte(o.Cans[n].OfMean))
	}
	o.Untold = s.untold(places)
	throat := lastThroat(s.p)
	if o.Minutes = minutesFor(mean, throat); o.Minutes > 0 {
		for _, id := range o.Zones {
			o.Minutes = max(o.Minutes, leastRun(s.p, id))
		}
	}
	o.Label = "Set out cans on " + s.p.AreaName(s.area)
	o.Rules = s.rules(by)
	o.Says = s.says(&o, throat)
	var err error
	o.Patch, err = s.patch(&o, throat)
	return o, err
}

// bringer is a head that brings a place water.
type bringer struct {
	head int // of sitting.heads
	zone plan.ID
	rate float64 // in/h
}

// brought is what a place is brought.
type brought struct {
	rate float64 // in/h
	from []bringer
}

// bringing is the rate that the heads of zones bring a place, and which they are.
func (s *sitting) bringing(at orb.Point) (b brought) {
	for k := range s.heads {
		f := &s.heads[k]
		if q, far := f.At(), float64(f.Farthest()); math.Abs(q[0]-at[0]) > far || math.Abs(q[1]-at[1]) > far {
			continue
		}
		zone := s.p.Heads[f.ID].Zone
		if r := float64(f.RateAt(at, nil)); r > 0 && s.p.Zones[zone].Status.Stands() && zone != "" {
			b.rate += r
			b.from = append(b.from, bringer{k, zone, r})
		}
	}
	return b
}

// round is a place to the sixteenth of a foot: nobody sets a can down nearer.
func round(ft float64) float64 { return math.Round(ft*16) / 16 }

// newAudit is an id that no audit has.
func newAudit(p *plan.Plan) plan.ID {
	for n := 1; ; n++ {
		id := plan.ID("a" + strconv.Itoa(n))
		if _, there := p.Proof.Audits[id]; !there {
			return id
		}
	}
}

// lastThroat is the opening of the cans that were used last; 0: nobody has said.
func lastThroat(p *plan.Plan) float64 {
	throat, on := p.Proof.ThroatIn2, ""
	for _, id := range plan.SortedIDs(p.Proof.Audits) {
		if a := p.Proof.Audits[id]; a.ThroatIn2 > 0 && a.On >= on {
			throat, on = a.ThroatIn2, a.On
		}
	}
	return throat
}

// minutesFor is how long all zones have to run, each as long, to catch UsualCatch on
// average; 0 where nothing falls.
func minutesFor(rate, throat float64) float64 {
	if !(rate > 0) {
		return 0
	}
	if !(throat > 0) {
		throat = UsualThroat
	}
	return min(max(math.Ceil(60*UsualCatch/audit.MillilitresPerCubicInch/throat/rate), shortRun), longRun)
}

// patch puts the cans down as an audit.
func (s *sitting) patch(o *CansOffer, throat float64) (plan.Patch, error) {
	a := plan.Audit{Area: s.area, Name: s.p.AreaName(s.area), ThroatIn2: throat, Cans: map[plan.ID]plan.CatchCan{}}
	for _, c := range o.Cans {
		a.Cans[c.ID] = plan.CatchCan{X: c.X, Y: c.Y}
	}
	if o.Minutes > 0 {
		a.Runs = map[plan.ID]float64{}
		for _, id := range o.Zones {
			a.Runs[id] = o.Minutes
		}
	}
	next := *s.p
	next.Proof.Audits = map[plan.ID]plan.Audit{o.Audit: a}
	for _, id := range plan.SortedIDs(s.p.Proof.Audits) {
		next.Proof.Audits[id] = s.p.Proof.Audits[id]
	}
	return plan.Diff(s.p.Encode(), next.Encode())
}
