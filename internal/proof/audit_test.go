package proof

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

// withCatches is a plan with an audit of the demo's back lawn whose cans caught so much,
// somewhere on it.
func withCatches(t testing.TB, a plan.Audit, ml ...float64) *plan.Plan {
	t.Helper()
	p := demoYard(t)
	a.Area = "back-lawn"
	a.Cans = map[plan.ID]plan.CatchCan{}
	for i, v := range ml {
		a.Cans[plan.ID(fmt.Sprintf("c%d", i+1))] = plan.CatchCan{X: units.Feet(20 + 5*(i%6)), Y: units.Feet(80 + 4*(i/6)), ML: &v}
	}
	p.Proof.Audits = map[plan.ID]plan.Audit{"x": a}
	return p
}

func figure(t *testing.T, a *Audited, name string) AuditFigure {
	t.Helper()
	for _, f := range a.Figures {
		if f.Name == name {
			return f
		}
	}
	t.Errorf("no figure %q in %v", name, a.Figures)
	return AuditFigure{}
}

// Published vectors through a plan: agronomy reference b-c1 (16 values, 20 to 50 by 2) and
// c-3 (28 ml, 10 minutes, 16.5 in²: 0.621 in/h).
func TestPublishedVectorsThroughAPlan(t *testing.T) {
	t.Parallel()
	var ml []float64
	for v := 20.0; v <= 50; v += 2 {
		ml = append(ml, v)
	}
	a := audited(t, withCatches(t, plan.Audit{ThroatIn2: 16.5, Runs: map[plan.ID]float64{"z4": 10}}, ml...), "x")
	if m := a.Measured; math.Abs(float64(m.DULowQuarter)-23.0/35) > 1e-12 || math.Abs(float64(m.CU)-27.0/35) > 1e-12 || math.Abs(float64(m.DULowHalf)-27.0/35) > 1e-12 {
		t.Errorf("DU %.6f, CU %.6f, low half %.6f; want .657143, .771429, .771429", m.DULowQuarter, m.CU, m.DULowHalf)
	}
	if got := figure(t, a, "Distribution uniformity, low quarter (DU)").Measured; got != "66 %" {
		t.Errorf("DU is printed as %q", got)
	}
	low := 0
	for _, c := range a.Cans {
		if c.Low {
			low++
			if c.Number > 4 {
				t.Errorf("can %d with %s is taken for one of the driest quarter", c.Number, c.Catch)
			}
		}
	}
	if low != 4 {
		t.Errorf("%d cans of the driest quarter, want 4", low)
	}
	a = audited(t, withCatches(t, plan.Audit{ThroatIn2: 16.5, Runs: map[plan.ID]float64{"z4": 10}}, 28, 28, 28, 28), "x")
	if got := figure(t, a, "Rate").Measured; got != "0.62 in/h" {
		t.Errorf("rate of c-3 is %q, want 0.62 in/h", got)
	}
	if got := figure(t, a, "Mean catch").Measured; got != "28.0 ml" {
		t.Errorf("mean catch is %q", got)
	}
}

// What is predicted at a can, by hand: in a square of four quarter circles as wide as
// their throw the rate in the middle is 4(1 - √½)·P0 with P0 = 3/π of the head-to-head
// rate of 0.5 in/h, and the middle of a side has P0 but for the blur.
func TestPredictedByHand(t *testing.T) {
	t.Parallel()
	p := lawn(15, 15, 15)
	zero, ml := 0.0, 20.0
	p.Options.EdgeLipFt = (*units.Feet)(&zero)
	p.Proof.Audits = map[plan.ID]plan.Audit{"x": {Area: "lawn", ThroatIn2: 16, Runs: map[plan.ID]float64{"z": 30}, Cans: map[plan.ID]plan.CatchCan{
		"c1": {X: 7.5, Y: 7.5, ML: &ml}, "c2": {X: 7.5, Y: 0.8, ML: &ml},
	}}}
	a := audited(t, p, "x")
	p0 := 0.5 * 3 / math.Pi
	for i, want := range []float64{p0 * 4 * (1 - math.Sqrt(0.5)) / 2, p0 / 2} {
		if got := float64(*a.Cans[i].Expected); math.Abs(got/want-1) > 0.012 {
			t.Errorf("can %d: %.4f in predicted, want %.4f", i+1, got, want)
		}
	}
	if got := figure(t, a, "Rate").Expected; got != "0.52 in/h" {
		t.Errorf("rate predicted as %q", got)
	}
}

// A zone that runs twice as long brings twice as much, and one that does not run nothing.
func TestPredictionGoesByMinutes(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "front-lawn", CansByGrid, 24)
	depths := func(west, east float64) []float64 {
		a := p.Proof.Audits[id]
		a.Runs = map[plan.ID]float64{}
		if west > 0 {
			a.Runs["z1"] = west
		}
		if east > 0 {
			a.Runs["z2"] = east
		}
		e, err := expectedOf(p, catchesOf(p, id, a))
		if err != nil {
			t.Fatal(err)
		}
		out := make([]float64, len(e.at))
		for i, d := range e.at {
			out[i] = float64(d)
		}
		return out
	}
	both, west, east := depths(20, 30), depths(10, 0), depths(0, 10)
	for i := range both {
		if math.Abs(both[i]-2*west[i]-3*east[i]) > 1e-12 {
			t.Errorf("can %d: %.4f in of both, %.4f and %.4f of ten minutes each", i+1, both[i], west[i], east[i])
		}
	}
}

func TestAuditSaysWhatIsMissing(t *testing.T) {
	t.Parallel()
	ten := map[plan.ID]float64{"z4": 10}
	many := []float64{30, 31, 29, 28, 33, 30, 31, 29}
	for _, c := range []struct {
		name  string
		p     *plan.Plan
		known bool
		want  string // in Says, Unsure, Rules, Notes or Uses
	}{
		{"no cans", withCatches(t, plan.Audit{Runs: ten}), false, "No cans are set out"},
		{"one can", withCatches(t, plan.Audit{Runs: ten, ThroatIn2: 16}, 20), false, "One can says nothing"},
		{"dry", withCatches(t, plan.Audit{Runs: ten, ThroatIn2: 16}, 0, 0, 0, 0), false, "None of the cans caught water"},
		{"no minutes", withCatches(t, plan.Audit{ThroatIn2: 16}, many...), true, "which zones ran and for how long"},
		{"zone gone", withCatches(t, plan.Audit{ThroatIn2: 16, Runs: map[plan.ID]float64{"gone": 10}}, many...), true, "gone from the plan"},
		{"other zone", withCatches(t, plan.Audit{ThroatIn2: 16, Runs: map[plan.ID]float64{"z1": 10}}, many...), true, "reaches these cans"},
		{"no opening", withCatches(t, plan.Audit{Runs: ten}, many...), true, "opening of the cans is not said"},
		{"few cans", withCatches(t, plan.Audit{Runs: ten, ThroatIn2: 16}, many...), true, "an audit has 24 or more"},
		{"no wind", withCatches(t, plan.Audit{Runs: ten, ThroatIn2: 16}, many...), true, "wind is not noted"},
		{"short run", withCatches(t, plan.Audit{Runs: map[plan.ID]float64{"z4": 3}, ThroatIn2: 16}, many...), true, "ran 3 minutes"},
		{"odd number", withCatches(t, plan.Audit{Runs: ten, ThroatIn2: 16}, many[:7]...), true, "no multiple of 4"},
		{"small catch", withCatches(t, plan.Audit{Runs: ten, ThroatIn2: 16}, 5, 6, 7, 5), true, "mean catch is 6 ml"},
		{"driest dry", withCatches(t, plan.Audit{Runs: ten, ThroatIn2: 16}, 0, 0, 20, 22, 25, 20, 21, 23), true, "no run time makes up"},
	} {
		a := audited(t, c.p, "x")
		said := strings.Join(slices.Concat([]string{a.Says, a.Uses}, a.Unsure, a.Rules, a.Notes), " | ")
		if a.Known != c.known || !strings.Contains(said, c.want) {
			t.Errorf("%s: known %v, it says %s; want %q", c.name, a.Known, said, c.want)
		}
	}
	if _, err := AuditOf(context.Background(), demoYard(t), "gone"); err == nil || !strings.Contains(err.Error(), `no audit "gone"`) {
		t.Errorf("an audit that is not there: %v", err)
	}
	if _, err := AuditOf(context.Background(), demoYard(t), ""); err == nil {
		t.Error("an older audit that is not there is reckoned")
	}
}

// Wind above what cans are read in is told, and moves the prediction downwind.
func TestWindIsTakenIntoThePrediction(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "back-lawn", CansByGrid, 24)
	calm := audited(t, caughtIn(t, p, id, nil, 0, 1), id)
	a := p.Proof.Audits[id]
	speed, from := units.MPH(8), units.Degrees(180) // from the west
	a.WindMPH, a.WindFromDeg = &speed, &from
	p.Proof.Audits[id] = a
	windy := audited(t, caughtIn(t, p, id, nil, 0, 1), id)
	if !strings.Contains(strings.Join(windy.Rules, " "), "wind was 8 mph") {
		t.Errorf("a wind of 8 mph is kept quiet: %v", windy.Rules)
	}
	middle := func(a *Audited) float64 {
		sum, at := 0.0, 0.0
		for _, c := range a.Cans {
			sum += float64(*c.Expected)
			at += float64(*c.Expected) * float64(c.X)
		}
		return at / sum
	}
	if off := middle(windy) - middle(calm); !(off > 0.2) {
		t.Errorf("a west wind moves the middle of the prediction by %.2f ft east", off)
	}
}

// The one audit of older documents is read as all zones having run as long.
func TestOlderAuditIsReckoned(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "side-lawn", CansByGrid, 24)
	p = caughtIn(t, p, id, nil, 0.03, 4)
	a := p.Proof.Audits[id]
	p.Proof.Cans, p.Proof.ThroatIn2, p.Proof.Minutes = a.Cans, a.ThroatIn2, a.Runs["z3"]
	p.Proof.Audits = nil
	old := audited(t, p, "")
	if !old.Known || old.Expected.N != 24 || len(old.Patch) == 0 {
		t.Errorf("known %v, %d predicted, patch %s: %s", old.Known, old.Expected.N, old.Patch, old.Says)
	}
	// It says neither where nor what ran: only what waters the ground its cans stand on goes by it.
	for id, z := range takenUp(t, p, old.Patch).Zones {
		if got := z.AuditedDU > 0; got != (id == "z3") {
			t.Errorf("zone %s goes by the cans of the side lawn: %v", id, got)
		}
	}
	if lines := AuditLines(p); len(lines) != 1 || lines[0].ID != "" || lines[0].Read != 24 {
		t.Errorf("its line is %+v", lines)
	}
}

// Cans that are left out count for nothing but stay in the list.
func TestCansLeftOut(t *testing.T) {
	t.Parallel()
	p := withCatches(t, plan.Audit{ThroatIn2: 16, Runs: map[plan.ID]float64{"z4": 10}}, 20, 22, 24, 26, 400)
	a := p.Proof.Audits["x"]
	tipped := a.Cans["c5"]
	tipped.Out = true
	a.Cans["c5"] = tipped
	out := audited(t, p, "x")
	if out.Read != 4 || out.Placed != 5 || out.Measured.Mean*16*16.387064 > 24 || !out.Cans[4].Out || out.Cans[4].Low {
		t.Errorf("%d of %d read, mean %.3f in: %+v", out.Read, out.Placed, out.Measured.Mean, out.Cans[4])
	}
}

// Cans are walked in the order of their numbers, c2 before c10, and those set down by hand
// after them without a leap.
func TestCansInOrder(t *testing.T) {
	t.Parallel()
	p := demoYard(t)
	a := plan.Audit{Area: "back-lawn", Cans: map[plan.ID]plan.CatchCan{
		"c10": {X: 1, Y: 1}, "c2": {X: 2, Y: 1}, "c1": {X: 3, Y: 1}, "zz": {X: 10, Y: 5}, "aa": {X: 10, Y: 10}, "c01": {X: 20, Y: 10}, "mm": {X: 20, Y: 5},
	}}
	got := CansInOrder(p, a)
	if len(got) != 7 || !slices.Equal(got[:3], []plan.ID{"c1", "c2", "c10"}) {
		t.Errorf("order %v", got)
	}
	way := 0.0
	for i := 4; i < 7; i++ {
		b, c := a.Cans[got[i-1]], a.Cans[got[i]]
		way += math.Hypot(float64(b.X-c.X), float64(b.Y-c.Y))
	}
	if way > 20.001 {
		t.Errorf("order %v: %.1f ft for the four set down by hand, want 20", got, way)
	}
}

// What an audit is taken for: the zones that ran and stand for the ground, and through
// them the minutes of the watering program. With a driest quarter that catches less, every
// run of the peak month is longer, in the ratio of 0.4 + 0.6 DU.
func TestAuditedUniformityChangesTheProgram(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "side-lawn", CansByGrid, 24)
	gallons := func(p *plan.Plan) (float64, units.Ratio) {
		prog, err := season.Work(context.Background(), p, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		month := prog.Year.Months[prog.Year.Peak]
		for z, zone := range prog.Asked.Input.Zones {
			if zone.ID == "z3" {
				return month.Plain[z].Minutes, month.Plain[z].DU
			}
		}
		return 0, 0
	}
	p.Watering.ETZone = 12
	even := plan.Zone{}
	for z := range p.Zones { // all but the side lawn audited before, so that no estimate is drawn
		even = p.Zones[z]
		even.AuditedDU = 0.7
		p.Zones[z] = even
	}
	before, du := gallons(p)
	if du != 0.7 {
		t.Fatalf("the program goes by %v before", du)
	}
	faulty := caughtIn(t, p, id, map[plan.ID]ruined{"h3-2": {output: 0.2}}, 0.03, 2)
	a := audited(t, faulty, id)
	next := takenUp(t, faulty, a.Patch)
	if !strings.Contains(a.Uses, "in place of 70 %") || next.Zones["z3"].AuditedDU == 0.7 || next.Zones["z4"].AuditedDU != 0.7 {
		t.Errorf("it says %q; zones 3 and 4 are then at %v and %v", a.Uses, next.Zones["z3"].AuditedDU, next.Zones["z4"].AuditedDU)
	}
	after, du := gallons(next)
	if math.Abs(float64(du-a.Measured.DULowQuarter)) > 0.0006 {
		t.Errorf("the program goes by %v, audited %v", du, a.Measured.DULowQuarter)
	}
	want := before * (0.4 + 0.6*0.7) / (0.4 + 0.6*float64(du))
	if math.Abs(after/want-1) > 0.005 {
		t.Errorf("the peak month runs the side lawn %.2f minutes after the audit, %.2f before; want %.2f", after, before, want)
	}
	if again := audited(t, next, id); again.Patch != nil || !strings.Contains(again.Uses, "already") {
		t.Errorf("taken twice: %q, %s", again.Uses, again.Patch)
	}
}

// On ground that two zones water, what one of them alone brings is no figure for the
// program; where only one of them reaches the cans it is.
func TestZoneThatDidNotRunIsMissed(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "front-lawn", CansByGrid, 24)
	a := p.Proof.Audits[id]
	a.Runs = map[plan.ID]float64{"z1": 14}
	p.Proof.Audits[id] = a
	p = caughtIn(t, p, id, nil, 0.03, 1)
	one := audited(t, p, id)
	if one.Patch != nil || !strings.Contains(one.Uses, "Run zone 2 (Front lawn, east) as well") || !strings.Contains(strings.Join(one.Rules, " "), "did not run") {
		t.Errorf("of two zones one ran: %q, rules %v, patch %s", one.Uses, one.Rules, one.Patch)
	}
	a = p.Proof.Audits[id]
	for _, c := range plan.SortedIDs(a.Cans) {
		if can := a.Cans[c]; can.X > 22 { // the west end, which zone 2 does not reach
			can.Out = true
			a.Cans[c] = can
		}
	}
	p.Proof.Audits[id] = a
	if west := audited(t, p, id); west.Patch == nil {
		t.Errorf("cans that only zone 1 reaches: %q", west.Uses)
	}
}

// The sentence of what a figure changes names the form that the plan's target goes by.
func TestUsesByTarget(t *testing.T) {
	t.Parallel()
	p := demoYard(t)
	z := p.Zones["z3"]
	z.AuditedDU = 0.8
	p.Zones["z3"] = z
	for target, want := range map[string]string{
		plan.ByMultiplier: "1/(0.4 + 0.6 DU) = 1.32 times the time by the mean rate, about 16 % longer than now",
		plan.ByLowQuarter: "1/DU = 1.67 times the time by the mean rate, about 33 % longer than now",
		plan.ByMean:       "changes no minutes",
	} {
		p.Watering.Target = target
		if got := usesText(p, []plan.ID{"z3"}, []string{"zone 3"}, 0.6); !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", target, got, want)
		}
	}
}

func TestAuditInMetric(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "side-lawn", CansByGrid, 24)
	p.Show = units.Metric
	a := audited(t, caughtIn(t, p, id, nil, 0.03, 2), id)
	said := fmt.Sprint(a.Says, a.Figures, a.Cans, a.Notes, a.Rules, offered(t, p, "side-lawn", CansByGrid, 24))
	for _, in := range []string{" in,", " ft", " in/h", "mph"} {
		if strings.Contains(strings.ReplaceAll(said, "2 to 3 ft", ""), in) {
			t.Errorf("a metric audit speaks of%s: %s", in, said)
		}
	}
	if !strings.Contains(said, "mm/h") || !strings.Contains(said, "cm²") {
		t.Errorf("no metric figures in %s", said)
	}
}

func TestAuditStops(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "side-lawn", CansByGrid, 24)
	p = caughtIn(t, p, id, nil, 0.03, 2)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := AuditOf(ctx, p, id); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped before it began: %v", err)
	}
}

// The disc about a can is stood for to the second moment.
func TestRoundsStandForADisc(t *testing.T) {
	t.Parallel()
	sum, square := orb.Point{}, 0.0
	for _, q := range rounds(2) {
		sum[0] += q[0]
		sum[1] += q[1]
		square += (q[0]*q[0] + q[1]*q[1]) / 7
	}
	if math.Hypot(sum[0], sum[1]) > 1e-12 || math.Abs(square-2) > 1e-12 {
		t.Errorf("middle %v, mean square distance %.4f, want 2 of a disc of radius 2", sum, square)
	}
}
