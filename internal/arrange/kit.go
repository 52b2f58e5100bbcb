package arrange

import (
	"fmt"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// setting is a nozzle in a body set to an arc and a throw.
type setting struct {
	nozzle, body plan.ID
	sweep        units.Degrees // 0 for strips
	throw        units.Feet
	turned       bool // less than the table's throw
	fixed        bool // a nozzle of this one arc
	flow         units.GPM
	rate         units.InchesPerHour // head-to-head, with the turned-down throw
	fall         *coverage.Fall
	strip        *catalog.StripShape // what a strip wets; nil but for strips
}

// kit is what may be set on one area: the settings of one rate class, and
// none besides, so that whatever a search makes of them is matched.
type kit struct {
	family catalog.Family
	rate   units.InchesPerHour // of the class
	why    string              // why this family, in a sentence
	sweeps []units.Degrees     // rising, whole steps, 360 last if there is one; empty for strips
	throws []units.Feet        // rising
	// at holds sweeps × throws settings, row by row; nil where the stock has none.
	at []*setting
	// strips are the settings of a strip kit.
	strips []setting
}

// set is the setting of a sweep and a throw by their indices; nil for none.
func (k *kit) set(sweep, throw int) *setting { return k.at[sweep*len(k.throws)+throw] }

// least is the shortest throw of the kit.
func (k *kit) least() units.Feet {
	if k.family == catalog.Strip {
		least := k.strips[0].throw
		for _, s := range k.strips {
			least = min(least, s.throw)
		}
		return least
	}
	return k.throws[0]
}

// leastSweep is the narrowest arc that a layout is given: what a narrower one
// waters is not worth a head. Chosen.
const leastSweep units.Degrees = 30

// kitsFor makes the kits that may be tried on an area, the first the one its
// width and what grows there ask for, or says why there is none.
func kitsFor(p *plan.Plan, g *ground, o Options) ([]*kit, string) {
	stock, why := stockOf(p, g, o)
	if why != "" {
		return nil, why
	}
	stays, why := rateOfStays(p, g)
	if why != "" {
		return nil, why
	}
	var kits []*kit
	for _, f := range familiesFor(g, o, stock) {
		for _, k := range kitsOf(f.family, stock, o, stays) {
			k.why = f.why
			kits = append(kits, k)
		}
	}
	if stays > 0 && len(kits) == 0 {
		return nil, fmt.Sprintf("The heads that stay on %s put down %s, and no nozzle of the stock does, within 10 %%. Add one that does, or let those heads go.",
			g.name, p.Show.Rate(stays))
	}
	short := slices.DeleteFunc(slices.Clone(kits), func(k *kit) bool { return tooLong(k, g) })
	if len(kits) > 0 && len(short) == 0 {
		least := kits[0].least()
		for _, k := range kits {
			least = min(least, k.least())
		}
		return nil, fmt.Sprintf("%s is %s wide where it is widest, and the shortest throw of the stock is %s: all of it would land past the edge. Add a nozzle that throws less far.",
			g.name, p.Show.Length(g.widest), p.Show.Length(least))
	}
	if len(kits) == 0 {
		return nil, fmt.Sprintf("No nozzle of the stock can be set for %s: check the arcs, throws and pressures of their tables.", g.name)
	}
	if why := tooNarrow(p, g, short); why != "" {
		return nil, why
	}
	return short, ""
}

// tooNarrow says that nothing but strips is left of the stock and that the ground is
// too narrow for those; "" else.
func tooNarrow(p *plan.Plan, g *ground, kits []*kit) string {
	why := ""
	for _, k := range kits {
		least, _ := k.stripWidths()
		if k.family != catalog.Strip || float64(g.widest) >= least/2 {
			return ""
		}
		if why == "" {
			why = narrowWords(p, g, least)
		}
	}
	return why
}

// narrowWords says that a ground is narrower than half of the narrowest strip, feet.
func narrowWords(p *plan.Plan, g *ground, least float64) string {
	return fmt.Sprintf("%s is %s wide at most, and the narrowest strip nozzle of the stock wets a band of %s: most of its water would land past the edges.",
		plan.Capital(g.name), p.Show.Length(g.widest), p.Show.Length(units.Feet(least)))
}

// tooLong reports whether the kit's shortest throw passes the area's width by so
// much that the water of every head would pass the edge. Strips are judged by
// their width, where they are set out. Chosen.
func tooLong(k *kit, g *ground) bool {
	return k.family != catalog.Strip && float64(k.least()) > 1.25*float64(g.widest)+0.5
}

// kitsOf makes the kits of one family, one a rate class, the one that can be set
// in most ways first. With a rate of heads that stay there is only that class.
func kitsOf(f catalog.Family, stock []item, o Options, stays units.InchesPerHour) []*kit {
	var own []item
	for _, it := range stock {
		if it.row.Family == f {
			own = append(own, it)
		}
	}
	rates := classes(own)
	if stays > 0 {
		rates = []float64{float64(stays)}
	}
	var kits []*kit
	for _, rate := range rates {
		k := newKit(f, own, rate, o, stays > 0)
		if k != nil && (stays == 0 || k.serves()) {
			kits = append(kits, k)
		}
	}
	slices.SortStableFunc(kits, func(a, b *kit) int { return b.ways() - a.ways() })
	if f == catalog.Rotor && len(kits) > 1 {
		kits = kits[:1] // what the same nozzles come to with arcs that do not match
	}
	return kits
}

// serves reports whether a kit can be set to half circles or wider: one that only
// has the rate of heads that stay in a few narrow arcs, as large rotor nozzles
// have a spray's, is no match.
func (k *kit) serves() bool {
	return len(k.strips) > 0 || len(k.sweeps) > 0 && k.sweeps[len(k.sweeps)-1] >= 180
}

// ways is in how many ways heads can be set with the kit.
func (k *kit) ways() int {
	n := len(k.strips)
	for _, s := range k.at {
		if s != nil {
			n++
		}
	}
	return n
}

// newKit makes the kit of one rate; nil when nothing has it.
func newKit(f catalog.Family, stock []item, rate float64, o Options, stays bool) *kit {
	k := &kit{family: f, rate: units.InchesPerHour(rate)}
	own := ownWithin
	if stays {
		own = setWithin // the class is theirs, whatever its middle
	}
	if f == catalog.Strip {
		for _, it := range stock {
			for _, throw := range it.throws(o.ThrowStep) {
				if s, ok := it.setting(0, throw, rate, own); ok {
					k.strips = append(k.strips, s)
				}
			}
		}
		if len(k.strips) == 0 {
			return nil
		}
		return k
	}
	k.throws, k.sweeps = throwsOf(stock, o.ThrowStep), sweepsOf(stock, o.AngleStep)
	k.at = make([]*setting, len(k.sweeps)*len(k.throws))
	for j, throw := range k.throws {
		for i, sweep := range k.sweeps {
			if s, ok := bestOf(stock, sweep, throw, rate, own); ok {
				k.at[i*len(k.throws)+j] = &s
			}
		}
		k.preferFixed(j)
	}
	k.trim()
	if len(k.throws) == 0 {
		return nil
	}
	return k
}

// besideFixed is how near to a fixed nozzle's arc an adjustable one is not worth
// having: fixed ones water more evenly (field DU 0.52 against 0.44, reference
// coverage §3), cost less and cannot drift.
const besideFixed units.Degrees = 5

// preferFixed leaves out the arcs of a throw that lie beside a fixed nozzle's.
func (k *kit) preferFixed(throw int) {
	for i := range k.sweeps {
		if s := k.set(i, throw); s == nil || !s.fixed {
			continue
		}
		for j := range k.sweeps {
			near := math.Abs(float64(k.sweeps[i]-k.sweeps[j])) <= float64(besideFixed)
			if s := k.set(j, throw); s != nil && !s.fixed && near {
				k.at[j*len(k.throws)+throw] = nil
			}
		}
	}
}

// trim leaves out arcs and throws that no setting has.
func (k *kit) trim() {
	var sweeps, throws []int
	for i := range k.sweeps {
		if slices.ContainsFunc(k.at[i*len(k.throws):(i+1)*len(k.throws)], func(s *setting) bool { return s != nil }) {
			sweeps = append(sweeps, i)
		}
	}
	for j := range k.throws {
		for i := range k.sweeps {
			if k.set(i, j) != nil {
				throws = append(throws, j)
				break
			}
		}
	}
	at := make([]*setting, 0, len(sweeps)*len(throws))
	for _, i := range sweeps {
		for _, j := range throws {
			at = append(at, k.set(i, j))
		}
	}
	k.at, k.sweeps, k.throws = at, pick(k.sweeps, sweeps), pick(k.throws, throws)
}

func pick[T any](of []T, at []int) []T {
	out := make([]T, len(at))
	for i, j := range at {
		out[i] = of[j]
	}
	return out
}
