package hydraulics

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/units"
)

// tape deals out what a fuzzed network is made of.
type tape struct {
	bytes []byte
	good  bool // only sensible numbers
}

func (t *tape) next() int {
	if len(t.bytes) == 0 {
		return 0
	}
	b := t.bytes[0]
	t.bytes = t.bytes[1:]
	return int(b)
}

// value is mostly a sensible number up to most, now and then one that is not.
func (t *tape) value(most float64) float64 {
	b := t.next()
	if t.good {
		// Evenly over four decades.
		return most * math.Pow(10, 4*float64(b)/255-4)
	}
	switch b {
	case 250:
		return math.NaN()
	case 251:
		return math.Inf(1)
	case 252:
		return -most
	case 253:
		return 1e300
	case 254:
		return 1e-300
	case 255:
		return most * 1000
	default:
		return most * float64(b) / 200
	}
}

func (t *tape) law() Law {
	switch t.next() % 6 {
	case 0:
		c, err := NewCurve([]LossPoint{{gpm(t.value(10)), psi(t.value(20))}, {gpm(t.value(60)), psi(t.value(20))}})
		if err != nil {
			return Fittings(inches(0.2+t.value(2)), t.value(10))
		}
		return c
	case 1:
		if !t.good {
			return Curve{}
		}
	}
	if t.good {
		return NewPipe(feet(t.value(5000)), inches(0.2+t.value(12)), 20+t.value(150), t.value(1000))
	}
	return NewPipe(feet(t.value(300)), inches(t.value(3)), t.value(150), t.value(8))
}

func (t *tape) outlet() Outlet {
	switch t.next() % 8 {
	case 0, 1, 2:
		return Orifice{t.value(2), []float64{.5, .5, .1, 1, 1.5, 0}[t.next()%5]}
	case 3:
		if t.good {
			return Regulated{Nozzle: Orifice{t.value(2), .5}, Setting: psi(1 + t.value(60)), Droop: t.value(0.1)}
		}
		return Regulated{Nozzle: t.outlet(), Setting: psi(t.value(60)), Droop: t.value(0.1)}
	case 4:
		return Outlets{Orifice{t.value(1), .5}, Orifice{t.value(1), .5}}
	case 5:
		table, err := NewTable([]OutletPoint{{psi(t.value(30)), gpm(t.value(3))}, {psi(t.value(80)), gpm(t.value(6))}})
		if err != nil {
			return nil
		}
		return table
	}
	return nil
}

func (t *tape) source() Source {
	kind := t.next() % 6
	if t.good {
		kind %= 5
	}
	switch kind {
	case 0:
		return Fixed(t.value(120))
	case 1:
		if t.good {
			static := t.value(120)
			return HydrantTest{psi(static), psi(static - t.value(60)), gpm(0.1 + t.value(40))}
		}
		return HydrantTest{psi(t.value(120)), psi(t.value(60)), gpm(t.value(40))}
	case 2:
		s, err := NewSupply([]SupplyPoint{{0, psi(t.value(120))}, {gpm(t.value(40)), psi(t.value(60))}})
		if err != nil && t.good {
			return Fixed(t.value(120))
		} else if err != nil {
			return Supply{}
		}
		return s
	case 3:
		return Capped{t.source(), psi(t.value(80)), t.value(1)}
	case 4:
		return After{Supply: t.source(), Laws: []Law{t.law()}, Up: feet(t.value(30))}
	}
	return nil
}

func (t *tape) network() *Network {
	n := &Network{}
	t.good = t.next()%4 > 0
	for i := range t.next() % 40 {
		node := Node{Elevation: feet(t.value(60)), Outlet: t.outlet()}
		if i == 0 || t.next()%16 == 0 {
			node.Source = t.source()
		}
		if t.next()%8 == 0 {
			node.Demand = gpm(t.value(10))
		}
		n.Nodes = append(n.Nodes, node)
		if i > 0 && (t.good || t.next() < 250) {
			n.Links = append(n.Links, Link{max(0, i-1-t.next()%3), i, t.law()})
		}
	}
	for range t.next() % 6 {
		ends := 41
		if t.good {
			ends = max(len(n.Nodes), 1)
		}
		if a, b := t.next()%ends, t.next()%ends; a != b || !t.good {
			n.Links = append(n.Links, Link{a, b, t.law()})
		}
	}
	return n
}

// Any network ends in a sentence or, where Check lets it through, in its solution.
func FuzzNetwork(f *testing.F) {
	f.Add([]byte{3, 100, 0, 0, 1, 1, 9, 0, 100, 9})
	for seed := range 60 {
		long := make([]byte, 900)
		state := uint32(seed)*2654435761 + 1
		for i := range long {
			state = state*1664525 + 1013904223
			if long[i] = byte(state >> 24); seed%3 > 0 && long[i] >= 250 {
				long[i] -= 100
			}
		}
		f.Add(long)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		n := (&tape{bytes: data}).network()
		st, err := Solve(n, nil)
		if err != nil {
			var fault *Fault
			if !errors.As(err, &fault) {
				t.Fatalf("accepted, and then: %v", err)
			}
			isSentence(t, fault.Sentence)
			return
		}
		if err := holds(n, st); err != nil {
			t.Error(err)
		}
		for i, p := range st.Pressure {
			if math.IsNaN(float64(p)) || math.IsInf(float64(p), 0) {
				t.Errorf("node %d has %g psi", i, float64(p))
			}
		}
	})
}

// Networks of sensible numbers, drawn far wider than any yard: nearly all are
// accepted, and every one of those is solved.
func TestWildNetworksAreSolved(t *testing.T) {
	accepted, watched, most := 0, 0, 0
	const count = 3000
	for seed := range uint64(count) {
		r := rand.New(rand.NewPCG(seed, 7))
		bytes := make([]byte, 1500)
		for i := range bytes {
			bytes[i] = byte(r.UintN(256))
		}
		bytes[0] = 1
		n := (&tape{bytes: bytes}).network()
		st, err := Solve(n, nil)
		var fault *Fault
		if errors.As(err, &fault) {
			continue
		}
		if err != nil {
			t.Errorf("seed %d, %d nodes, %d links: %v", seed, len(n.Nodes), len(n.Links), err)
			continue
		}
		accepted++
		if most = max(most, st.Steps); st.Steps > quickSteps {
			watched++
		}
		if err := holds(n, st); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
	if accepted < count/2 {
		t.Errorf("only %d of %d accepted", accepted, count)
	}
	t.Logf("%d of %d accepted, %d with watched steps, at most %d steps", accepted, count, watched, most)
}

// Any points end in a sentence or in a curve that keeps its word.
func FuzzPoints(f *testing.F) {
	f.Add([]byte{3, 10, 10, 20, 30, 40, 50, 60})
	f.Add([]byte{2, 10, 50, 20, 30})
	f.Fuzz(func(t *testing.T, data []byte) {
		tape := &tape{bytes: data}
		var losses []LossPoint
		var rows []OutletPoint
		var supply []SupplyPoint
		for range tape.next() % 8 {
			a, b := tape.value(60), tape.value(60)
			losses = append(losses, LossPoint{gpm(a), psi(b)})
			rows = append(rows, OutletPoint{psi(a), gpm(b)})
			supply = append(supply, SupplyPoint{gpm(a), psi(b)})
		}
		if c, err := NewCurve(losses); err == nil {
			if wrong := lawTrouble(tried{c}); wrong != "" {
				t.Errorf("%v: a device that %s", losses, wrong)
			}
		}
		if o, err := NewTable(rows); err == nil {
			if wrong := outletTrouble(triedOutlet{o}); wrong != "" {
				t.Errorf("%v: an outlet that %s", rows, wrong)
			}
		}
		if s, err := NewSupply(supply); err == nil {
			if wrong := sourceTrouble(s); wrong != "" {
				t.Errorf("%v: a source that %s", supply, wrong)
			}
		}
	})
}

// tried and triedOutlet hide what is theirs, so that Check tries it out.
type tried struct{ Law }

type triedOutlet struct{ Outlet }

func (o triedOutlet) Flow(p units.PSI) (units.GPM, float64) { return o.Outlet.Flow(p) }
