package proof

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"evenfall/internal/plan"
)

// FuzzWires gives records of any kind, contradicting ones too: each wire is told, what is
// asked for next can be done, and the same records have the same answer.
func FuzzWires(f *testing.F) {
	f.Add([]byte{3, 5, 0x11, 0x25, 0x83, 0x40, 0x07})
	f.Add([]byte{0, 0})
	f.Add([]byte{9, 70, 1, 2, 3, 4, 5, 6, 7, 8, 9})
	f.Fuzz(func(t *testing.T, in []byte) {
		take := func() int {
			if len(in) == 0 {
				return 0
			}
			b := in[0]
			in = in[1:]
			return int(b)
		}
		p := &plan.Plan{Zones: map[plan.ID]plan.Zone{}}
		p.Proof.Wires, p.Proof.Touches, p.Proof.Readings = map[plan.ID]plan.FoundWire{}, map[plan.ID]plan.Touch{}, map[plan.ID]plan.OhmReading{}
		zones, wires := take()%12, take()%80
		for z := range zones {
			p.Zones[wiredZone(z)] = plan.Zone{Station: take() % 5}
		}
		for w := range wires {
			b := take()
			p.Proof.Wires[wiredWire(w)] = plan.FoundWire{Order: b % 7, Terminal: b % 3, Common: b > 250}
		}
		for n := 0; len(in) > 0 && n < 200; n++ {
			switch b := take(); b % 3 {
			case 0:
				t := plan.Touch{Order: n, Wire: wiredWire(take() % 82)}
				for range b / 3 % 4 {
					t.Ran = append(t.Ran, wiredZone(take()%13))
				}
				p.Proof.Touches[plan.ID(fmt.Sprint("t", n))] = t
			default:
				r := plan.OhmReading{Order: n, From: wiredWire(take() % 82), To: wiredWire(take() % 82)}
				if ohms := float64(take()); b%3 == 1 {
					r.Ohms = &ohms
				}
				p.Proof.Readings[plan.ID(fmt.Sprint("r", n))] = r
			}
		}
		m := Wires(p)
		if !reflect.DeepEqual(m, Wires(p)) {
			t.Fatal("the same records have two answers")
		}
		if len(m.Wires) != wires || m.Zones != zones || m.Found < 0 || m.Found > zones || m.Says == "" || m.Touches < 0 || m.Readings < 0 {
			t.Fatalf("%d wires and %d zones give %+v", wires, zones, m)
		}
		if n := m.Next; n != nil {
			for _, id := range []plan.ID{n.From, n.To, n.Wire} {
				if _, ok := p.Proof.Wires[id]; id != "" && !ok {
					t.Fatalf("it asks for %s, which is not noted", id)
				}
			}
			if n.Says == "" || n.Kind == StepTouch && n.Wire == "" || n.Kind == StepRead && (n.From == "" || n.From == n.To) {
				t.Fatalf("it asks for %+v", n)
			}
		}
		for _, w := range m.Wires {
			if w.Kind == "" || w.Is == "" || w.Mark == "" {
				t.Fatalf("a wire is %+v", w)
			}
		}
	})
}

// BenchmarkWires tells what is known of 25 wires, half of them tried.
func BenchmarkWires(b *testing.B) {
	y := newWiredYard(rand.New(rand.NewPCG(9, 5)), 20, 4, false, 24, 30)
	p := y.plan(false)
	for range 12 {
		if m := Wires(p); m.Next != nil {
			y.answer(p, m.Next)
		}
	}
	for b.Loop() {
		Wires(p)
	}
}
