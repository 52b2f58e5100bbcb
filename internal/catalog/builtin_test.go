package catalog

import (
	"fmt"
	"math"
	"regexp"
	"sort"
	"testing"

	"evenfall/internal/units"
)

func nozzle(t *testing.T, id string) Nozzle {
	t.Helper()
	n, ok := FindNozzle(id)
	if !ok {
		t.Fatalf("no built-in nozzle %q", id)
	}
	return n
}

// planID is what a plan accepts as an id, so that a catalogue id serves as one.
var planID = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]{0,39}$`)

func TestBuiltinNozzlesAreSoundSortedAndGeneric(t *testing.T) {
	all := Nozzles()
	if !sort.SliceIsSorted(all, func(i, j int) bool { return all[i].ID < all[j].ID }) {
		t.Error("nozzles are not sorted by id")
	}
	names := map[string]string{}
	for i, e := range all {
		if err := e.Validate(); err != nil {
			t.Errorf("%s: %v", e.ID, err)
		}
		if !planID.MatchString(e.ID) {
			t.Errorf("%s: no plan would take this id", e.ID)
		}
		if !e.Generic || e.Source == "" || e.Thread == "" {
			t.Errorf("%s: want generic with a source and a thread, got %+v", e.ID, e.Nozzle)
		}
		if i > 0 && all[i-1].ID == e.ID {
			t.Errorf("%s: twice", e.ID)
		}
		if was, ok := names[e.Name]; ok {
			t.Errorf("%s and %s are both named %q", was, e.ID, e.Name)
		}
		names[e.Name] = e.ID
	}
}

func TestBuiltinBodiesAreSoundAndFitSomething(t *testing.T) {
	all := Bodies()
	if !sort.SliceIsSorted(all, func(i, j int) bool { return all[i].ID < all[j].ID }) {
		t.Error("bodies are not sorted by id")
	}
	heights := map[units.Inches]bool{}
	for _, e := range all {
		if err := e.Validate(); err != nil {
			t.Errorf("%s: %v", e.ID, err)
		}
		if !planID.MatchString(e.ID) {
			t.Errorf("%s: no plan would take this id", e.ID)
		}
		heights[e.Height] = true
		fits := false
		for _, n := range Nozzles() {
			fits = fits || e.Fits(n.Nozzle)
		}
		if !fits {
			t.Errorf("%s takes no nozzle of the set", e.ID)
		}
	}
	for _, h := range []units.Inches{4, 6, 12} {
		if !heights[h] {
			t.Errorf("no body of %g in", float64(h))
		}
	}
	for _, id := range []string{"body-4", "body-12-reg-check", "body-6-reg40", "body-rotor-4-reg-check"} {
		if _, ok := FindBody(id); !ok {
			t.Errorf("no body %q", id)
		}
	}
}

// rate is the head-to-head precipitation rate of a nozzle at its best pressure
// on a square of its throw, taken from a full circle.
func rate(t *testing.T, n Nozzle, fullCircleShare float64) float64 {
	t.Helper()
	throw, flow, err := n.At(n.BestPSI)
	if err != nil {
		t.Fatal(err)
	}
	return 96.25 * float64(flow) / fullCircleShare / float64(throw*throw)
}

func TestHeadToHeadRatesAreInTheFamilysBand(t *testing.T) {
	// Common practice, from memory: sprays 1.5-2 in/h, streams 0.4-0.6 in/h.
	for _, e := range Nozzles() {
		share := 1.0
		if !e.FlowFollowsArc {
			share = float64(e.ArcMost) / 360
		}
		switch got := 0.0; e.Family {
		case Spray:
			if got = rate(t, e.Nozzle, share); got < 1.5 || got > 2 {
				t.Errorf("%s: rate %.3f in/h, want 1.5 to 2", e.ID, got)
			}
		case Stream:
			if got = rate(t, e.Nozzle, share); got < 0.4 || got > 0.6 {
				t.Errorf("%s: rate %.3f in/h, want 0.4 to 0.6", e.ID, got)
			}
		}
	}
}

func TestFixedSpraysAreMatched(t *testing.T) {
	// Matched precipitation: flow goes with the arc, 90:120:180:240:270:360.
	for _, size := range []int{8, 10, 12, 15} {
		full := nozzle(t, fmt.Sprintf("spray-%d-f", size))
		for _, a := range fixedArcs {
			n := nozzle(t, fmt.Sprintf("spray-%d-%s", size, a.code))
			for i, r := range n.Rows {
				got := float64(r.Flow) / float64(full.Rows[i].Flow)
				want := float64(a.sweep) / 360
				if math.Abs(got/want-1) > 0.005 {
					t.Errorf("%s at %g psi: %.4f of the full circle, want %.4f", n.Name, float64(r.Pressure), got, want)
				}
			}
			if !n.Fixed() || n.FlowFollowsArc {
				t.Errorf("%s: want a fixed arc with the row its own flow", n.Name)
			}
		}
	}
}

func TestAdjustableAndStreamFlowGoesWithTheArc(t *testing.T) {
	for _, id := range []string{"spray-10-adj", "spray-15-adj"} {
		n := nozzle(t, id)
		var got [4]float64
		for i := range got {
			q, err := n.Flow(30, units.Degrees(90*(i+1)), 0)
			if err != nil {
				t.Fatal(err)
			}
			got[i] = float64(q)
		}
		for i := range got {
			if want := got[0] * float64(i+1); math.Abs(got[i]-want) > 1e-12 {
				t.Errorf("%s over %d°: %v gpm, want %v", id, 90*(i+1), got[i], want)
			}
		}
	}
	narrow, wide, full := nozzle(t, "stream-20"), nozzle(t, "stream-20-270"), nozzle(t, "stream-20-360")
	quarter, err1 := narrow.Flow(40, 90, 20)
	three, err2 := wide.Flow(40, 270, 20)
	whole, err3 := full.Flow(40, 360, 20)
	if err1 != nil || err2 != nil || err3 != nil {
		t.Fatal(err1, err2, err3)
	}
	if math.Abs(float64(3*quarter-three)) > 1e-12 || math.Abs(float64(4*quarter-whole)) > 1e-12 {
		t.Errorf("stream 90:270:360 flows %v, %v, %v gpm, want 1:3:4", quarter, three, whole)
	}
}

func TestRotorNozzlesOfOneSizeStandOneToFour(t *testing.T) {
	for _, ids := range [][4]string{
		{"rotor-30-0_75", "rotor-30-1_5", "rotor-30-2_25", "rotor-30-3"},
		{"rotor-45-1_65", "rotor-45-3_3", "rotor-45-4_95", "rotor-45-6_6"},
	} {
		quarter := nozzle(t, ids[0])
		for i, id := range ids {
			n := nozzle(t, id)
			if got, want := float64(n.Rows[3].Flow), float64(i+1)*float64(quarter.Rows[3].Flow); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: %v gpm at 45 psi, want %v", id, got, want)
			}
		}
	}
}

func TestRotorFlowIsTheSameWhateverItsArc(t *testing.T) {
	n := nozzle(t, "rotor-30-1_5")
	for _, sweep := range []units.Degrees{40, 90, 180, 360} {
		if q, err := n.Flow(45, sweep, 30); err != nil || q != 1.5 {
			t.Errorf("over %g°: %v gpm, %v; want 1.5", float64(sweep), q, err)
		}
	}
}

func TestTablesNeverFallAsPressureRises(t *testing.T) {
	for _, e := range Nozzles() {
		for i := 1; i < len(e.Rows); i++ {
			a, b := e.Rows[i-1], e.Rows[i]
			if b.Throw < a.Throw || b.Flow <= a.Flow {
				t.Errorf("%s: %+v then %+v", e.ID, a, b)
			}
		}
	}
}

func TestFlowKeepsToTheOrificeLaw(t *testing.T) {
	// q = k·√p: twice the pressure gives 41 % more. The printed rows are
	// rounded to a thousandth of a gpm, which is 0.5 % of the smallest.
	for _, e := range Nozzles() {
		best := e.Rows[0]
		for _, r := range e.Rows {
			want := math.Sqrt(float64(r.Pressure / best.Pressure))
			if got := float64(r.Flow / best.Flow); math.Abs(got/want-1) > 0.01 {
				t.Errorf("%s from %g to %g psi: %.4f times the flow, want %.4f", e.ID, float64(best.Pressure), float64(r.Pressure), got, want)
			}
		}
	}
	n := nozzle(t, "rotor-30-3")
	_, low, err1 := n.At(30)
	_, high, err2 := n.At(60)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if got := float64(high/low) - 1; math.Abs(got-0.414) > 0.005 {
		t.Errorf("60 psi against 30: %.1f %% more, want 41 %%", 100*got)
	}
}

func TestTurningDownDoesWhatTheFamilyDoes(t *testing.T) {
	rateAt := func(n Nozzle, p units.PSI, sweep units.Degrees, throw units.Feet) float64 {
		q, err := n.Flow(p, sweep, throw)
		if err != nil {
			t.Fatal(err)
		}
		return float64(q) * 360 / float64(sweep) / float64(throw*throw)
	}
	// A spray's flow falls as its throw does: 10 to 7 ft raises the rate by 10/7.
	n := nozzle(t, "spray-10-f")
	if got := rateAt(n, 30, 360, 7) / rateAt(n, 30, 360, 10); math.Abs(got-1.4286) > 1e-3 {
		t.Errorf("spray 10 ft at 7 ft: %.4f times the rate, want 1.4286", got)
	}
	n = nozzle(t, "stream-25-360") // keeps its rate
	if got := rateAt(n, 40, 360, 19) / rateAt(n, 40, 360, 25); math.Abs(got-1) > 1e-9 {
		t.Errorf("stream 25 ft at 19 ft: %.4f times the rate, want 1", got)
	}
	n = nozzle(t, "rotor-30-3") // keeps its flow
	if q, err := n.Flow(45, 360, 24); err != nil || q != 3 {
		t.Errorf("rotor turned down: %v gpm, %v; want 3", q, err)
	}
}
