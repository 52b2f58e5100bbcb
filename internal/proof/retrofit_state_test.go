package proof

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The heads of the census are those that stand, each in every state it was found in.
func TestB11_Census(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	q := withFaults(p, map[plan.ID][]string{"h2-8": {"tilted", "blocked"}, "h4-10": {"blocked"}, "h4-2": {"blocked"}, "h3-1": {}})
	h := q.Heads["h1-1"]
	h.Status = plan.Remove
	q.Heads["h1-1"] = h
	by := map[string]CensusLine{}
	for _, c := range census(q) {
		by[c.State] = c
	}
	if by["blocked"].Tags != "2-8, 4-2, 4-10" || by["tilted"].Tags != "2-8" || by[sound].Tags != "3-1" || len(by[notSeen].Heads) != 48-5 {
		t.Errorf("%+v", by)
	}
	if r := retrofit(t, p, nil); r.Offered || !strings.HasPrefix(r.Says, "Nothing is noted yet") || len(r.Census) != 1 {
		t.Errorf("%+v", r)
	}
}

// A nozzle noted by its name in the catalogue is taken as that one.
func TestB11_NozzlesAsNoted(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	for words, want := range map[string]bool{"Stream 25 ft, full": true, " stream 25 ft, FULL ": true, "a blue one": false, "": false} {
		if n, ok := nozzleCalled(p, words); ok != want || ok && n.Name != "Stream 25 ft, full" {
			t.Errorf("%q: %v %q", words, ok, n.Name)
		}
	}
}

// A stream at 25° from a head that leans 10°: on the low side it flies sin 30/sin 50 as
// far, on the other sin 70/sin 50; the middle moves by half the difference.
func TestB11_LeaningMovesThePattern(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	q := withOwn(p)
	nozzleOf(q, "h2-8", flowTimes(1))
	n := q.Nozzles["x-h2-8"]
	n.Trajectory = 25
	q.Nozzles["x-h2-8"] = n
	at := q.Heads["h2-8"]
	low, high := math.Sin(30*math.Pi/180)/math.Sin(50*math.Pi/180), math.Sin(70*math.Pi/180)/math.Sin(50*math.Pi/180)
	want := 25 * (high - low) / 2
	for _, toward := range []units.Degrees{0, 90, 210} {
		m := mending{plan: withOwn(q)}
		m.lean("h2-8", plan.HeadState{TiltDeg: 10, TiltToward: &toward})
		sin, cos := math.Sincos(float64(toward) * math.Pi / 180)
		got := m.plan.Heads["h2-8"]
		if math.Abs(float64(at.X-got.X)-want*cos) > 1e-9 || math.Abs(float64(at.Y-got.Y)-want*sin) > 1e-9 {
			t.Errorf("leaning to %g° moved by %g, %g; want %g, %g", float64(toward), got.X-at.X, got.Y-at.Y, -want*cos, -want*sin)
		}
	}
}

// What a fault is said to do to a head is what it does: its flow and throw beside those of
// the same head as drawn, and the water lost beside it.
func TestB11_FaultsDoWhatIsSaidOfThem(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	for fault, c := range map[string]struct {
		flow, throw, lost float64
		turned            units.Degrees
		says              string
	}{
		plan.Blocked:     {0.5, 0.85, 0, 0, "gives half its flow and throws 85 % as far"},
		plan.Sunk:        {1, 0.75, 0, 0, "throws 75 % as far"},
		plan.Hidden:      {1, 0.6, 0, 0, "throws 60 % as far"},
		plan.Stuck:       {1, 0.5, 0, 0, "throws half as far"},
		plan.Worn:        {1.2, 1, 0, 0, "gives 20 % more"},
		plan.Leaking:     {1, 1, 0.3, 0, "loses 30 % of its flow"},
		plan.WrongNozzle: {1.5, 1, 0, 0, "gives half as much again"},
		plan.OffTarget:   {1, 1, 0, 45, "is 45° off"},
	} {
		for _, id := range []plan.ID{"h2-1", "h1-2"} { // as its table has it, and turned down
			m := mending{plan: withOwn(p), lost: map[plan.ID]float64{}}
			m.spoil(id, plan.HeadState{Faults: []string{fault}}, func(f string) bool { return f == fault })
			was, err := coverage.Running(p, id)
			if err != nil {
				t.Fatal(err)
			}
			is, err := coverage.Running(m.plan, id)
			if err != nil {
				t.Fatal(err)
			}
			flow, throw, lost := float64(is.Flow/was.Flow), float64(is.Throw/was.Throw), m.lost[p.Heads[id].Zone]/float64(was.Flow)
			turned := units.Degrees(math.Mod(float64(m.plan.Heads[id].StartDeg-p.Heads[id].StartDeg)+720, 360))
			if math.Abs(flow-c.flow) > 1e-9 || math.Abs(throw-c.throw) > 1e-9 || math.Abs(lost-c.lost) > 1e-9 || math.Abs(float64(turned-c.turned)) > 1e-9 {
				t.Errorf("%s, %s: flow by %g, throw by %g, lost %g, turned %g°; want %+v", id, fault, flow, throw, lost, float64(turned), c)
			}
		}
		if !strings.Contains(assumedWords[fault], c.says) {
			t.Errorf("of %s it is said %q, want %q", fault, assumedWords[fault], c.says)
		}
	}
	if len(assumedWords) != len(plan.HeadFaults()) {
		t.Errorf("%d faults are told of, of %d", len(assumedWords), len(plan.HeadFaults()))
	}
}
