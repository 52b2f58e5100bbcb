package zones

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// steep is the slope from which the toe of an area has its own valve: 25 %, where
// 23 CCR 492.7 limits the rate.
const steep = 0.25

// The slope classes of a head's ground.
const (
	gentle = ""
	above  = "steep slope"
	toe    = "toe of a steep slope"
)

// key is what the heads of one zone have in common, but for their rate.
type key struct {
	cover, exposure, soil, slope string
	regulated                    units.PSI // what their bodies hold; 0: not regulated
	planned                      units.PSI // the zone's planned pressure; 0: each nozzle's best
}

func (k key) compare(o key) int {
	return cmp.Or(strings.Compare(k.cover, o.cover), strings.Compare(k.exposure, o.exposure), strings.Compare(k.soil, o.soil),
		strings.Compare(k.slope, o.slope), cmp.Compare(k.regulated, o.regulated), cmp.Compare(k.planned, o.planned))
}

// ground says the key in words, but for pressures: "turf, sun, clay loam".
func (k key) ground() string {
	if k.cover == "" {
		return "no planting of their own"
	}
	words := []string{plan.Words(k.cover), plan.Words(k.exposure)}
	for _, w := range []string{k.soil, k.slope} {
		if w != "" {
			words = append(words, plan.Words(w))
		}
	}
	return strings.Join(words, ", ")
}

// keys reads keys off a plan.
type keys struct {
	p    *plan.Plan
	only string               // the one texture that is known, taken for areas that do not say theirs
	fall map[plan.ID]downhill // of steep areas
}

// downhill is how far down its fall an area begins and ends, in feet.
type downhill struct{ cos, sin, top, toe float64 }

func (d downhill) share(at orb.Point) float64 {
	return (float64(at[0]*d.cos) + float64(at[1]*d.sin) - d.top) / (d.toe - d.top)
}

func newKeys(p *plan.Plan, areas []plan.ID) *keys {
	k := &keys{p: p, fall: map[plan.ID]downhill{}}
	var soils []string
	for _, id := range areas {
		a := p.Areas[id]
		if a.Soil != "" && !slices.Contains(soils, a.Soil) {
			soils = append(soils, a.Soil)
		}
		if float64(a.SlopeShare) >= steep {
			sin, cos := math.Sincos(float64(a.SlopeTowardDeg) * math.Pi / 180)
			d := downhill{cos: cos, sin: sin, top: math.Inf(1), toe: math.Inf(-1)}
			poly, _ := geom.Polygon(a.Outline, nil) // reading the plan has seen to it
			for _, ring := range poly {
				for _, at := range ring {
					z := float64(at[0]*cos) + float64(at[1]*sin)
					d.top, d.toe = min(d.top, z), max(d.toe, z)
				}
			}
			if d.toe > d.top {
				k.fall[id] = d
			}
		}
	}
	if len(soils) == 1 {
		k.only = soils[0]
	}
	return k
}

// of is the key of a head that stands for an area ("" for none).
func (k *keys) of(head, area plan.ID) key {
	var out key
	if a, ok := k.p.Areas[area]; ok {
		out.cover, out.exposure, out.soil = string(a.Cover()), string(a.Sunlight()), cmp.Or(a.Soil, k.only)
		if d, ok := k.fall[area]; ok {
			out.slope = above
			h := k.p.Heads[head]
			if d.share(orb.Point{float64(h.X), float64(h.Y)}) > 2.0/3 { // as the finding measures it
				out.slope = toe
			}
		}
	}
	now, _ := pressure.PlannedAt(k.p, head)
	if now.Regulated {
		out.regulated = now.Nozzle
	}
	if own, ok := workAt(k.p, head, 0); !ok || !sameWork(own, now) {
		out.planned = k.p.Zones[k.p.Heads[head].Zone].Pressure
	}
	return out
}

// workAt is how a head works in a zone of a planned pressure.
func workAt(p *plan.Plan, head plan.ID, psi units.PSI) (pressure.Planned, bool) {
	h := p.Heads[head]
	h.Zone = "zone"
	alone := plan.Plan{
		Heads: map[plan.ID]plan.Head{head: h}, Zones: map[plan.ID]plan.Zone{"zone": {Pressure: psi}},
		Nozzles: p.Nozzles, Bodies: p.Bodies,
	}
	return pressure.PlannedAt(&alone, head)
}

func sameWork(a, b pressure.Planned) bool {
	return a.Nozzle == b.Nozzle && a.Flow == b.Flow && a.Regulated == b.Regulated
}
