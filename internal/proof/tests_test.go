package proof

import (
	"math/rand/v2"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

// What is made of a pressure test: the meter's dial goes before the gauge, and what is
// within the gauge or too short tells nothing (trade.md B16).
func TestB16_PressureTests(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	for _, c := range []struct {
		test         plan.PressureTest
		known, holds bool
		says         string
	}{
		{plan.PressureTest{}, false, false, "nothing is noted yet. It is to be held for 60 minutes at least."},
		{plan.PressureTest{Start: 62}, false, false, "the end is not noted yet"},
		{plan.PressureTest{Start: 62, End: 62, Minutes: 90}, true, true, "62 psi, then 62 psi after 90 minutes. It holds."},
		{plan.PressureTest{Start: 62, End: 61, Minutes: 120, Meter: "still"}, true, true, "after 2 hours. It holds, and the meter stands still."},
		{plan.PressureTest{Start: 62, End: 60, Minutes: 60}, true, true, "It holds."}, // as much as a gauge may be off
		{plan.PressureTest{Start: 62, End: 59.9, Minutes: 60}, true, false, "does not hold"},
		{plan.PressureTest{Start: 62, End: 40, Minutes: 5}, true, false, "lost 22 psi"}, // short, but it fell
		{plan.PressureTest{Start: 62, End: 62, Minutes: 10}, false, false, "60 minutes at least"},
		{plan.PressureTest{Start: 62, End: 62, Minutes: 90, Meter: "moved"}, true, false, "dial of the meter moved"},
		{plan.PressureTest{Minutes: 60, Meter: "still"}, true, true, "the meter was still"},
		{plan.PressureTest{Start: 55, End: 62, Minutes: 90}, false, false, "The pressure rose"},
		{plan.PressureTest{Start: 55, End: 62, Minutes: 90, Meter: "still"}, true, true, "The pressure rose"},
		{plan.PressureTest{Of: "z3", Start: 62, End: 62, Minutes: 10}, true, true, "The lateral of zone 3 (Side lawn)"},
		{plan.PressureTest{Of: "zgone", Start: 62, End: 50, Minutes: 10}, true, false, "A lateral of a zone that is gone"},
	} {
		got := judged(p, "t1", c.test)
		if got.Known != c.known || got.Holds != c.holds || !strings.Contains(got.Says, c.says) {
			t.Errorf("%+v: known %v holds %v: %s", c.test, got.Known, got.Holds, got.Says)
		}
		if got.Holds && !got.Known {
			t.Errorf("%+v holds without being known", c.test)
		}
	}
}

func TestTestsGoByDate(t *testing.T) {
	t.Parallel()
	p, d := demo(t)
	p.Proof.Tests = map[plan.ID]plan.PressureTest{"t1": {On: "2026-05-03"}, "t2": {On: "2026-05-01"}, "t3": {On: "2026-05-03"}}
	var got []plan.ID
	for _, x := range StartUp(p, d).Tests {
		got = append(got, x.ID)
	}
	if len(got) != 3 || got[0] != "t2" || got[1] != "t1" || got[2] != "t3" {
		t.Error(got)
	}
}
