package proof

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// faultyYard is a yard with five zones, two spares and something at fault.
func faultyYard(seed uint64, spoil func(y *wiredYard)) *wiredYard {
	y := newWiredYard(rand.New(rand.NewPCG(9, seed)), 5, 2, false, 26, 34)
	spoil(y)
	return y
}

// wireOf is the wire of a zone.
func (y *wiredYard) wireOf(zone int) int {
	return slices.IndexFunc(y.on, func(on []int) bool { return slices.Contains(on, zone) })
}

// readAll reads every wire against the common.
func (y *wiredYard) readAll(p *plan.Plan) {
	for w := range y.on {
		if w != y.common {
			y.answer(p, &WireStep{Kind: StepRead, From: wiredWire(y.common), To: wiredWire(w)})
		}
	}
}

func TestWires_FaultsAreTold(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		spoil func(y *wiredYard)
		kind  string // of the wire of zone 1
		says  string // among the warnings
		all   bool   // all zones are found all the same
	}{
		{"broken in the ground", func(y *wiredYard) { w := y.wireOf(0); y.on[w] = nil }, "", "No wire was found for zone 1", false},
		{"two valves on a wire", func(y *wiredYard) {
			a, b := y.wireOf(0), y.wireOf(1)
			y.on[a], y.on[b] = []int{0, 1}, nil
		}, WireSeveral, "Valves of several stations are joined to it", true},
		{"shorted to the common", func(y *wiredYard) { y.shorted[y.wireOf(0)] = true }, WireShorted, "less than any coil has", false},
		{"a corroded splice", func(y *wiredYard) { y.adds[y.wireOf(0)] = 90 }, WireZone, "corroded splice", true},
		{"a valve that does not open", func(y *wiredYard) { y.stuck[0] = true }, WireUnknown, "a coil is on it, but no zone ran", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			for seed := range uint64(20) {
				y := faultyYard(seed, c.spoil)
				at := y.wireOf(0)
				p := y.plan(true)
				y.readAll(p)
				m, _, _ := y.work(t, p, nil)
				if at >= 0 && m.Wires[at].Left { // do as it says
					y.answer(p, &WireStep{Kind: StepTouch, Wire: wiredWire(at)})
					m, _, _ = y.work(t, p, nil)
				}
				y.holds(t, m, false)
				if !slices.ContainsFunc(m.Warnings, func(s string) bool { return strings.Contains(s, c.says) }) {
					t.Errorf("no warning says %q: %q", c.says, m.Warnings)
				}
				if at >= 0 && m.Wires[at].Kind != c.kind {
					t.Errorf("the wire of zone 1 is told to be %s (%s), want %s", m.Wires[at].Kind, m.Wires[at].Is, c.kind)
				}
				if c.all != (m.Found == 5) {
					t.Errorf("%d zones found", m.Found)
				}
				if t.Failed() {
					t.Fatalf("seed %d: %q", seed, m.Says)
				}
			}
		})
	}
}

// What is wrong in the ground and goes on unnoticed by readings is never told as found:
// zones are told only of wires by which they ran, or the one that is left, which says so.
func TestWires_NothingIsInventedWhereMuchIsAtFault(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewPCG(9, 3))
	for range 300 {
		y := newWiredYard(rnd, 2+rnd.IntN(7), rnd.IntN(3), false, 22, 55)
		for range 1 + rnd.IntN(2) {
			z := rnd.IntN(y.zones)
			w := y.wireOf(z)
			if w < 0 {
				continue
			}
			switch rnd.IntN(5) {
			case 0:
				y.on[w] = nil
			case 1:
				if other := y.wireOf(rnd.IntN(y.zones)); other >= 0 && other != w {
					y.on[w], y.on[other] = append(y.on[w], y.on[other]...), nil
				}
			case 2:
				y.shorted[w] = true
			case 3:
				y.adds[w] = 80
			case 4:
				y.stuck[z] = true
			}
		}
		p := y.plan(true)
		if rnd.IntN(2) == 0 {
			y.readAll(p)
		}
		m, touches, _ := y.work(t, p, nil)
		if touches > len(y.on)+2 {
			t.Errorf("%d touches of %d wires", touches, len(y.on))
		}
		for w, at := range m.Wires {
			want := []plan.ID{}
			for _, z := range y.on[w] {
				if !y.stuck[z] {
					want = append(want, wiredZone(z))
				}
			}
			slices.Sort(want)
			if (at.Kind == WireZone || at.Kind == WireSeveral) && !at.Left && !slices.Equal(at.Zones, want) {
				t.Fatalf("%s is told to be of %v and runs %v", at.Mark, at.Zones, want)
			}
			if at.Kind == WireCommon && w != y.common {
				t.Fatalf("%s is told to be the common", at.Mark)
			}
		}
	}
}

// triedWires is a plan of three zones and four wires, the first the common.
func triedWires(change func(p *plan.Plan)) WireMap {
	p := &plan.Plan{Zones: map[plan.ID]plan.Zone{
		"z1": {Station: 1, Name: "Front"}, "z2": {Station: 2, Name: "Side"}, "z3": {Station: 3, Name: "Back"},
	}}
	p.Proof.Wires = map[plan.ID]plan.FoundWire{
		"a": {Order: 1, Mark: "white", Common: true}, "b": {Order: 2, Mark: "red"}, "c": {Order: 3, Mark: "blue"}, "d": {Order: 4, Mark: "green"},
	}
	p.Proof.Touches, p.Proof.Readings = map[plan.ID]plan.Touch{}, map[plan.ID]plan.OhmReading{}
	change(p)
	return Wires(p)
}

func touchRan(order int, wire plan.ID, zones ...plan.ID) plan.Touch {
	return plan.Touch{Order: order, Wire: wire, Ran: zones}
}

func TestWires_TouchesThatContradictOneAnotherAreAskedForAgain(t *testing.T) {
	t.Parallel()
	m := triedWires(func(p *plan.Plan) {
		p.Proof.Touches["1"], p.Proof.Touches["2"] = touchRan(1, "b", "z2"), touchRan(4, "b", "z3")
	})
	if want := "Red: It ran zone 2 (Side) in touch 1 and zone 3 (Back) in touch 4: touch it again."; !slices.Contains(m.Warnings, want) {
		t.Errorf("warnings %q lack %q", m.Warnings, want)
	}
	if m.Next == nil || m.Next.Kind != StepTouch || m.Next.Wire != "b" {
		t.Errorf("next is %+v, not red again", m.Next)
	}
	m = triedWires(func(p *plan.Plan) {
		p.Proof.Touches["1"], p.Proof.Touches["2"], p.Proof.Touches["3"] = touchRan(1, "b", "z2"), touchRan(4, "b", "z3"), touchRan(5, "b", "z3")
	})
	if len(m.Warnings) > 0 || m.Next == nil || m.Next.Wire != "c" || m.Wires[1].Zone() != "z3" {
		t.Errorf("after the third touch: warnings %q, next %+v, red %+v", m.Warnings, m.Next, m.Wires[1])
	}
}

// A valve that did not open at first and does now is no contradiction.
func TestWires_SomethingAfterNothingIsTaken(t *testing.T) {
	t.Parallel()
	m := triedWires(func(p *plan.Plan) {
		p.Proof.Touches["1"], p.Proof.Touches["2"] = touchRan(1, "b"), touchRan(2, "b", "z3")
	})
	if len(m.Warnings) > 0 || m.Wires[1].Zone() != "z3" || m.Next == nil || m.Next.Wire != "c" {
		t.Errorf("warnings %q, red %+v, next %+v", m.Warnings, m.Wires[1], m.Next)
	}
}

// Of a wire wrongly marked as the common the readings tell which it is, after one more that
// a bad splice would not give.
func TestWires_TheWrongCommonIsToldByReadings(t *testing.T) {
	t.Parallel()
	read := func(p *plan.Plan, from, to plan.ID, ohms float64) {
		p.Proof.Readings[from+to] = plan.OhmReading{Order: len(p.Proof.Readings) + 1, From: from, To: to, Ohms: &ohms}
	}
	star := func(p *plan.Plan) { // red is the common
		read(p, "a", "b", 48)
		read(p, "a", "c", 97)
		read(p, "a", "d", 95)
		p.Proof.Touches["1"] = touchRan(1, "c")
	}
	m := triedWires(star)
	if n := m.Next; n == nil || n.Kind != StepRead || n.From != "b" || n.To != "c" {
		t.Errorf("next %+v, not red against blue", m.Next)
	}
	m = triedWires(func(p *plan.Plan) { star(p); read(p, "b", "c", 49) })
	if m.Next == nil || m.Next.Kind != StepNote || !strings.Contains(m.Next.Says, "red is the common, not white") || !strings.HasPrefix(m.Warnings[0], "By the readings red") {
		t.Errorf("next %+v, warnings %q", m.Next, m.Warnings)
	}
	m = triedWires(func(p *plan.Plan) { star(p); read(p, "b", "c", 145) }) // white it is, with bad splices
	if m.Next == nil || m.Next.Kind == StepNote {
		t.Errorf("next %+v", m.Next)
	}
}

// Whoever takes a hot for the common is led to the right one, never to a third, and finds all
// zones then.
func TestWires_WhoMarksTheWrongCommonIsLedToTheRightOne(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewPCG(9, 4))
	told := 0
	for range 150 {
		y := newWiredYard(rnd, 3+rnd.IntN(6), rnd.IntN(2), false, 40, 58)
		p := y.plan(false)
		marks := func(w int, is bool) {
			v := p.Proof.Wires[wiredWire(w)]
			v.Common = is
			p.Proof.Wires[wiredWire(w)] = v
		}
		wrong := y.wireOf(rnd.IntN(y.zones))
		marks(wrong, true)
		var m WireMap
		steps := 0
		for m = Wires(p); m.Next != nil && m.Next.Kind != StepNote && steps < 60; m = Wires(p) {
			y.answer(p, m.Next)
			steps++
		}
		if m.Next == nil || m.Next.Kind != StepNote {
			continue
		}
		told++
		right := m.Wires[y.common].Mark + " is the common, not " + m.Wires[wrong].Mark
		if !strings.Contains(m.Next.Says, right) {
			t.Fatalf("%q does not say that %s", m.Next.Says, right)
		}
		marks(wrong, false)
		marks(y.common, true)
		for id := range p.Proof.Touches {
			delete(p.Proof.Touches, id) // they were made against the wrong wire
		}
		m, _, _ = y.work(t, p, nil)
		y.holds(t, m, true)
	}
	if t.Logf("told in %d of 150 yards", told); told < 145 {
		t.Errorf("told in %d of 150 yards", told)
	}
}

func TestWires_OneZoneByTwoWires(t *testing.T) {
	t.Parallel()
	twice := func(p *plan.Plan) {
		p.Proof.Touches["1"], p.Proof.Touches["2"] = touchRan(1, "b", "z2"), touchRan(2, "c", "z2")
	}
	m := triedWires(twice)
	if m.Next == nil || m.Next.Kind != StepRead || m.Next.From != "b" || m.Next.To != "c" {
		t.Errorf("next is %+v, not a reading between the two", m.Next)
	}
	ohms := 1.2
	m = triedWires(func(p *plan.Plan) {
		twice(p)
		p.Proof.Readings["1"] = plan.OhmReading{Order: 1, From: "c", To: "b", Ohms: &ohms}
	})
	if !strings.Contains(m.Wires[1].Warn, "they are joined, as the 1.2 Ω between them say") {
		t.Errorf("red: %q", m.Wires[1].Warn)
	}
	if m.Next == nil || m.Next.Wire != "d" {
		t.Errorf("next is %+v, not green, which is untried", m.Next)
	}
}

// Wires that read short to one another are told; while no common is known, neither is to be
// powered, for one may be it.
func TestWires_WiresJoinedInTheGround(t *testing.T) {
	t.Parallel()
	ohms := 0.8
	for known, want := range map[bool]string{true: "the zones of both run by either", false: "Power neither before you know."} {
		m := triedWires(func(p *plan.Plan) {
			w := p.Proof.Wires["a"]
			w.Common = known
			p.Proof.Wires["a"] = w
			p.Proof.Readings["1"] = plan.OhmReading{Order: 1, From: "b", To: "c", Ohms: &ohms}
		})
		if !slices.ContainsFunc(m.Warnings, func(s string) bool {
			return strings.HasPrefix(s, "Red and blue read 0.8 Ω to one another") && strings.Contains(s, want)
		}) {
			t.Errorf("common known %v: %q", known, m.Warnings)
		}
		if !known && m.Next != nil && m.Next.Kind == StepTouch {
			t.Errorf("it asks to power a wire: %+v", m.Next)
		}
	}
}

func TestWires_SwappedTerminals(t *testing.T) {
	t.Parallel()
	m := triedWires(func(p *plan.Plan) {
		for at, id := range []plan.ID{"", "b", "c", "d"} {
			if id != "" {
				w := p.Proof.Wires[id]
				w.Terminal = at
				p.Proof.Wires[id] = w
			}
		}
		p.Proof.Touches["1"], p.Proof.Touches["2"], p.Proof.Touches["3"] = touchRan(1, "b", "z2"), touchRan(2, "c", "z1"), touchRan(3, "d", "z3")
	})
	if want := []string{"Red and blue are swapped: red on 1 belongs on 2, blue on 2 on 1."}; !slices.Equal(m.Warnings, want) {
		t.Errorf("warnings %q, want %q", m.Warnings, want)
	}
	if m.Wires[1].Moves != "Move from 1 to 2." || m.Wires[3].Moves != "" {
		t.Errorf("moves %q and %q", m.Wires[1].Moves, m.Wires[3].Moves)
	}
	if m.Next != nil || m.Found != 3 || m.Says != "The wires of all zones are found." {
		t.Errorf("%d found, next %+v, %q", m.Found, m.Next, m.Says)
	}
}

func TestWires_TheLastIsToldByWhatIsLeft(t *testing.T) {
	t.Parallel()
	two := func(p *plan.Plan) {
		p.Proof.Touches["1"], p.Proof.Touches["2"] = touchRan(1, "b", "z2"), touchRan(2, "c", "z1")
	}
	m := triedWires(two)
	if w := m.Wires[3]; !w.Left || w.Zone() != "z3" || w.Goes != "3" || m.Next != nil || m.Found != 3 {
		t.Errorf("green is %+v, next %+v", m.Wires[3], m.Next)
	}
	if !strings.HasSuffix(m.Says, "power it once to be sure. With the power off, put each wire on the terminal the map names.") {
		t.Errorf("of wires that hang loose it says %q", m.Says)
	}
	// A wire that reads open is a fault here, so that nothing is left to be told by.
	m = triedWires(func(p *plan.Plan) {
		two(p)
		p.Proof.Readings["1"] = plan.OhmReading{Order: 1, From: "a", To: "d"}
	})
	if w := m.Wires[3]; w.Left || w.Kind != WireSpare || m.Found != 2 || len(m.Warnings) == 0 {
		t.Errorf("green is %+v, %d found, warnings %q", m.Wires[3], m.Found, m.Warnings)
	}
}

func TestWires_RecordsOfWhatIsGone(t *testing.T) {
	t.Parallel()
	m := triedWires(func(p *plan.Plan) {
		p.Proof.Touches["1"], p.Proof.Touches["2"] = touchRan(1, "b", "z9"), touchRan(2, "x", "z1")
		p.Proof.Readings["1"] = plan.OhmReading{Order: 1, From: "x", To: "b"}
	})
	if m.Wires[1].Is != "A zone that is gone from the plan" || m.Found != 0 {
		t.Errorf("red is %q, %d found", m.Wires[1].Is, m.Found)
	}
}

func TestWires_NothingToGoOn(t *testing.T) {
	t.Parallel()
	m := Wires(&plan.Plan{})
	if m.Next != nil || m.Terminals != nil || !strings.HasPrefix(m.Says, "The plan has no zone yet") {
		t.Errorf("%+v", m)
	}
	m = Wires(&plan.Plan{Zones: map[plan.ID]plan.Zone{"z": {Name: "Beds"}}})
	if m.Next == nil || m.Next.Kind != StepNote || len(m.Terminals) != 2 || m.Terminals[1].Terminal != "–" {
		t.Errorf("%+v", m)
	}
}
