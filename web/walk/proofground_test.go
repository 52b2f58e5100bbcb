//go:build browser

package walk

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// storedPlan is the plan as the program has it.
func (p *tab) storedPlan(path string) *plan.Plan {
	p.t.Helper()
	var stored struct{ Doc json.RawMessage }
	if err := json.Unmarshal(p.fetchBytes("/api"+path), &stored); err != nil {
		p.t.Fatal(err)
	}
	doc, err := plan.Decode(stored.Doc)
	if err != nil {
		p.t.Fatal(err)
	}
	return doc
}

// caught is what each can of an audit would catch of a yard as it is drawn but for one
// head, which gives a share of its water: by the raster of the coverage at the pressures
// of the pipes, which the audit, made of footprints, does not use. Catches differ from it
// by a few in a hundred, as they do, and are read to half a millilitre. "" spoils no head.
func caught(t *testing.T, p *plan.Plan, audit, spoilt plan.ID, share float64, seed uint64) map[plan.ID]float64 {
	t.Helper()
	const noise = 0.04
	a := p.Proof.Audits[audit]
	q := *p
	q.Heads, q.Nozzles = maps.Clone(p.Heads), maps.Clone(p.Nozzles)
	solved, _ := pressure.Compute(p, pipework.Of(p))
	given := design.GivenOf(solved)
	minutes := 0.0
	for _, z := range plan.SortedIDs(a.Runs) {
		if minutes != 0 && a.Runs[z] != minutes {
			t.Fatalf("the zones of the audit run unlike: %v", a.Runs)
		}
		minutes = a.Runs[z]
	}
	for id, head := range p.Heads {
		if !(a.Runs[head.Zone] > 0) {
			delete(q.Heads, id)
			continue
		}
		if id == spoilt {
			n := q.Nozzles[head.Nozzle]
			n.Rows = slices.Clone(n.Rows)
			for i := range n.Rows {
				n.Rows[i].Flow *= units.GPM(share)
			}
			q.Nozzles["spoilt"], head.Nozzle = n, "spoilt"
			q.Heads[id] = head
		}
	}
	f := coverage.New()
	if _, _, err := f.UpdateAt(context.Background(), &q, given); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(seed, 9))
	out := map[plan.ID]float64{}
	for _, id := range plan.SortedIDs(a.Cans) {
		at, _ := f.RateAt(orb.Point{float64(a.Cans[id].X), float64(a.Cans[id].Y)})
		const mlPerCubicInch = 16.387064
		ml := float64(at.Rate) * minutes / 60 * a.ThroatIn2 * mlPerCubicInch * (1 + noise*r.NormFloat64())
		out[id] = math.Round(2*ml) / 2
	}
	return out
}

// lowQuarter is the mean of the lowest quarter of the catches over their mean.
func lowQuarter(t *testing.T, caught map[plan.ID]float64) float64 {
	t.Helper()
	all := slices.Sorted(maps.Values(caught))
	if len(all) == 0 || len(all)%4 != 0 {
		t.Fatalf("%d cans have no quarter", len(all))
	}
	sum, low := 0.0, 0.0
	for i, v := range all {
		sum += v
		if i < len(all)/4 {
			low += v
		}
	}
	return 4 * low / sum
}

// buried is what the wires at a controller lead to, as only the ground knows.
type buried struct {
	marks []string           // in the order they are noted
	zone  map[string]plan.ID // by mark; of the common and of a spare none
	coil  map[plan.ID]float64
	white string // the common
}

// ohms between two wires; false: the meter shows an open circuit.
func (b buried) ohms(from, to string) (float64, bool) {
	sum := 0.0
	for _, w := range []string{from, to} {
		if w == b.white {
			continue
		}
		coil, there := b.coil[b.zone[w]]
		if !there {
			return 0, false
		}
		sum += coil
	}
	return sum, true
}

// wiresFound answers whatever the page asks of the wires until it asks for nothing more.
func (p *tab) wiresFound(b buried) (touches, readings int) {
	p.t.Helper()
	for range 4 * len(b.marks) {
		p.inYard()
		var next *struct{ Kind, From, To, Wire string }
		asks := eval[string](p, `(({ next }, { wires }) => JSON.stringify(next && { kind: next.kind, from: wires[next.from]?.mark, to: wires[next.to]?.mark, wire: wires[next.wire]?.mark }))(evenfall.yard.view.wires, evenfall.yard.plan.proof)`)
		if err := json.Unmarshal([]byte(asks), &next); err != nil {
			p.t.Fatal(err)
		}
		if next == nil {
			return touches, readings
		}
		switch next.Kind {
		case "read":
			readings++
			if ohms, ok := b.ohms(next.From, next.To); ok {
				p.thumbType("#yard-screen", "The meter shows", fmt.Sprint(ohms))
				p.thumb("#yard-screen", "Take the reading")
			} else {
				p.thumb("#yard-screen", "Open circuit")
			}
		case "touch":
			touches++
			if zone := b.zone[next.Wire]; zone != "" {
				p.thumb("#yard-screen .yard-answers", eval[string](p, fmt.Sprintf(`((z) => "Zone " + z.station + ", " + z.name)(evenfall.yard.plan.zones[%q])`, zone)))
			} else {
				p.thumb("#yard-screen .yard-answers", "Nothing ran")
			}
		default:
			p.t.Fatalf("the page asks for %+v", next)
		}
	}
	p.t.Fatal("the page goes on asking")
	return
}
