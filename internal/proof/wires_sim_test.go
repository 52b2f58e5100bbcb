package proof

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/wire"
)

// wiredYard is a system in the ground, as the tests know it: what is on each wire.
type wiredYard struct {
	zones   int
	master  bool
	common  int
	on      [][]int   // by wire: the zones on it, masterOn for the master valve; none of a spare
	coil    []float64 // by zone, then the master valve's
	adds    []float64 // by wire: ohms of a bad splice
	shorted []bool    // by wire: to the common
	stuck   []bool    // by zone: it never opens
	noise   *rand.Rand
}

const masterOn = -1

func wiredZone(z int) plan.ID { return plan.ID(fmt.Sprintf("z%02d", z+1)) }
func wiredWire(w int) plan.ID { return plan.ID(fmt.Sprintf("w%02d", w+1)) }

// plan is the plan of a yard with its wires noted and nothing tried.
func (y *wiredYard) plan(marked bool) *plan.Plan {
	p := &plan.Plan{Zones: map[plan.ID]plan.Zone{}}
	for z := range y.zones {
		p.Zones[wiredZone(z)] = plan.Zone{Station: z + 1}
	}
	if y.master {
		p.Supply.MasterValve = "master-valve-1"
		if _, _, ok := p.MasterValve(); !ok {
			panic("no such master valve")
		}
	}
	p.Proof.Wires, p.Proof.Touches, p.Proof.Readings = map[plan.ID]plan.FoundWire{}, map[plan.ID]plan.Touch{}, map[plan.ID]plan.OhmReading{}
	for w := range y.on {
		p.Proof.Wires[wiredWire(w)] = plan.FoundWire{Order: w + 1, Mark: fmt.Sprintf("tape %d", w+1), Common: marked && w == y.common}
	}
	return p
}

// conductance of a wire to the common in the ground: 0 of a dead one.
func (y *wiredYard) ohms(w int) (float64, bool) {
	if y.shorted[w] {
		return 2, true
	}
	g := 0.0
	for _, z := range y.on[w] {
		if z == masterOn {
			z = y.zones
		}
		g += 1 / y.coil[z]
	}
	if g == 0 {
		return 0, false
	}
	return 1/g + y.adds[w], true
}

// answer does what a step asks for and writes it down.
func (y *wiredYard) answer(p *plan.Plan, s *WireStep) {
	at := func(id plan.ID) int {
		for w := range y.on {
			if wiredWire(w) == id {
				return w
			}
		}
		panic("no such wire")
	}
	switch s.Kind {
	case StepRead:
		r := plan.OhmReading{Order: len(p.Proof.Readings) + 1, From: s.From, To: s.To}
		sum, path := 0.0, true
		for _, w := range []int{at(s.From), at(s.To)} {
			if w != y.common {
				ohms, ok := y.ohms(w)
				sum, path = sum+ohms, path && ok
			}
		}
		if path {
			if y.noise != nil {
				sum *= 1 + 0.04*(2*y.noise.Float64()-1)
			}
			r.Ohms = &sum
		}
		p.Proof.Readings[plan.ID(fmt.Sprintf("r%02d", r.Order))] = r
	case StepTouch:
		t := plan.Touch{Order: len(p.Proof.Touches) + 1, Wire: s.Wire}
		on := y.on[at(s.Wire)]
		for w := range y.on {
			if p.Proof.Wires[wiredWire(w)].Common && w != y.common { // powered against another hot
				if on = nil; at(s.Wire) == y.common {
					on = y.on[w]
				}
			}
		}
		if at(s.Wire) == y.common && y.zones == 1 {
			on = []int{0} // its other wire is on the common terminal: the valve does not care
		}
		for _, z := range on {
			if z >= 0 && !y.stuck[z] && !y.shorted[at(s.Wire)] {
				t.Ran = append(t.Ran, wiredZone(z))
			}
		}
		p.Proof.Touches[plan.ID(fmt.Sprintf("t%02d", t.Order))] = t
	}
}

// work follows the steps to their end.
func (y *wiredYard) work(t *testing.T, p *plan.Plan, w *wire.Wiring) (m WireMap, touches, readings int) {
	t.Helper()
	asked := map[string]bool{}
	for range 200 {
		m = WiresAlong(p, w)
		if m.Next == nil {
			return m, touches, readings
		}
		key := fmt.Sprint(m.Next.Kind, m.Next.From, m.Next.To, m.Next.Wire)
		if asked[key] && m.Next.Kind == StepRead {
			t.Fatalf("it asks for %s a second time: %s", key, m.Next.Says)
		}
		asked[key] = true
		switch m.Next.Kind {
		case StepTouch:
			touches++
		case StepRead:
			readings++
		default:
			t.Fatalf("it asks to note wires that are noted: %s\n%+v\n%+v\n%q", m.Next.Says, y, p.Proof.Readings, m.Warnings)
		}
		y.answer(p, m.Next)
	}
	t.Fatalf("it never ends; last: %s", m.Next.Says)
	return
}

// holds compares the map with the ground: each zone on its wire, the common, and, where
// nothing is at fault, spares.
func (y *wiredYard) holds(t *testing.T, m WireMap, whole bool) {
	t.Helper()
	for w, at := range m.Wires {
		var want []plan.ID
		for _, z := range y.on[w] {
			if z >= 0 {
				want = append(want, wiredZone(z))
			}
		}
		slices.Sort(want)
		switch at.Kind {
		case WireCommon:
			if w != y.common {
				t.Errorf("%s is told to be the common, which is %s", at.Mark, m.Wires[y.common].Mark)
			}
		case WireZone, WireSeveral:
			if !slices.Equal(at.Zones, want) {
				t.Errorf("%s is told to be of %v, and is of %v", at.Mark, at.Zones, want)
			}
		case WireMaster:
			if !slices.Equal(y.on[w], []int{masterOn}) {
				t.Errorf("%s is told to be the master valve's, and is of %v", at.Mark, y.on[w])
			}
		case WireSpare:
			if len(y.on[w]) > 0 {
				t.Errorf("%s is told to be spare, and is of %v", at.Mark, y.on[w])
			}
		default:
			if whole {
				t.Errorf("%s is left as %s: %s", at.Mark, at.Kind, at.Is)
			}
		}
	}
	if whole && m.Found != y.zones {
		t.Errorf("%d of %d zones found", m.Found, y.zones)
	}
}

// newWiredYard draws a yard without faults, its coils between two figures.
func newWiredYard(rnd *rand.Rand, zones, spares int, master bool, least, most float64) *wiredYard {
	y := &wiredYard{zones: zones, master: master, noise: rnd, stuck: make([]bool, zones)}
	for z := range zones {
		y.on = append(y.on, []int{z})
	}
	if master {
		y.on = append(y.on, []int{masterOn})
	}
	for range spares + 1 {
		y.on = append(y.on, nil)
	}
	y.common = len(y.on) - 1
	rnd.Shuffle(len(y.on), func(i, j int) {
		y.on[i], y.on[j] = y.on[j], y.on[i]
		switch y.common {
		case i:
			y.common = j
		case j:
			y.common = i
		}
	})
	for range zones + 1 {
		y.coil = append(y.coil, least+rnd.Float64()*(most-least))
	}
	y.adds, y.shorted = make([]float64, len(y.on)), make([]bool, len(y.on))
	return y
}

// shortWires is a wiring whose wires add next to nothing.
func shortWires(zones int) *wire.Wiring {
	w := &wire.Wiring{}
	for z := range zones {
		w.Runs = append(w.Runs, wire.Run{To: plan.RefTo("zones", wiredZone(z)), Known: true, Length: 10, Hot: 18, Common: 18})
	}
	return w
}
