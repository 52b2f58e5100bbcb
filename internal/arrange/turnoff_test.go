package arrange

import (
	"context"
	"errors"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func keptOff(t testing.TB, p *plan.Plan, area plan.ID) *TurnOff {
	t.Helper()
	got, err := KeepOff(context.Background(), p, area, Usual(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// brings is what each zone by itself puts on an area, in/h as a mean of its inner
// ground, by the ledger of zones, which KeepOff does not ask.
func brings(t testing.TB, p *plan.Plan, area plan.ID) map[plan.ID]float64 {
	t.Helper()
	g, err := coverage.ByZone(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	out := map[plan.ID]float64{}
	for _, a := range g.Areas {
		if a.ID != area {
			continue
		}
		for z, rates := range a.Rates {
			sum, ground := 0.0, 0.0
			for k, w := range a.Weights {
				ground += float64(w)
				if rates != nil {
					sum += float64(w) * float64(rates[k])
				}
			}
			out[g.Zones[z].ID] = sum / ground
		}
	}
	return out
}

func evennessOf(t testing.TB, p *plan.Plan, area plan.ID) float64 {
	t.Helper()
	r, err := coverage.Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range r.Areas {
		if a.ID == area {
			return float64(a.DU)
		}
	}
	return 0
}

// The bed lies at the end of the lawn's arcs: three heads on its edge are set to throw
// over it. Turned off, no water of the lawn's zone is left there, and the lawn reads as
// it did, since those heads only lose what they threw past its edge.
func TestE22_ABedAtTheEndOfTheArcsIsSpared(t *testing.T) {
	t.Parallel()
	p := loadPlan(t, "bed-end.json")
	got := keptOff(t, p, "bed")
	if !got.Offered || len(got.Changes) != 3 || got.After.Others > 1e-6 {
		t.Fatalf("%s %+v", got.Says, got)
	}
	after, err := plan.Preview(p.Encode(), got.Patch)
	if err != nil {
		t.Fatal(err)
	}
	for id, arc := range map[plan.ID][2]units.Degrees{"h1-4": {90, 90}, "h1-8": {90, 180}, "h1-12": {180, 90}} {
		if h := after.Heads[id]; h.StartDeg != arc[0] || h.SweepDeg != arc[1] || h.ThrowFt != nil {
			t.Errorf("head %s: an arc of %v from %v, want %v", id, h.SweepDeg, h.StartDeg, arc)
		}
	}
	if n := after.Nozzles[after.Heads["h1-8"].Nozzle]; n.Family != catalog.Stream || n.ArcAllowed(180) != nil {
		t.Errorf("head 1-8 gets %s", n.Name)
	}
	before, now := brings(t, p, "bed"), brings(t, after, "bed")
	if math.Abs(before["z1"]-float64(got.Before.Others)) > 0.02 || now["z1"] > 1e-6 || math.Abs(now["z2"]-before["z2"]) > 1e-9 {
		t.Errorf("by the ledger of zones: %v, then %v; told %.3f", before, now, float64(got.Before.Others))
	}
	if was, is := evennessOf(t, p, "lawn"), evennessOf(t, after, "lawn"); math.Abs(was-is) > 0.005 {
		t.Errorf("the lawn goes from %.4f to %.4f", was, is)
	}
	if stops := stopsOf(findingsOf(t, after)); len(stops) > 0 {
		t.Errorf("stops: %v", stops)
	}
	if want := "Changing heads 1-12, 1-4 and 1-8 keeps 100 % of the water of other zones off Flower bed: 0.26 in/h goes to none. The layout uniformity of Lawn stays 94 %."; got.Says != want {
		t.Errorf("%q", got.Says)
	}
	if c := got.Changes[1]; c.Says != "Turn the right edge of the arc of head 1-4 in by 90°, to an arc of 90°." || c.From.Sweep != 180 || c.To.Sweep != 90 {
		t.Errorf("%+v", c)
	}
	if again := keptOff(t, after, "bed"); again.Offered || again.Patch != nil || len(again.Changes) > 0 || !strings.HasPrefix(again.Says, "No head of another zone") {
		t.Errorf("sought again: %s", again.Says)
	}
}

// The demo's island lies amid the throw of the lawn's streams, some of them full
// circles: to keep them off would bare the lawn about it, and that is what is said. Only
// they give it .34 in/h where head 2-8 stands as it should (trade.md section 6).
func TestE22_AnIslandAmidTheThrowIsNotWorthIt(t *testing.T) {
	t.Parallel()
	for _, lot := range []string{"demo.json", "demo-mended.json"} {
		p := loadPlan(t, lot)
		got := keptOff(t, p, "island")
		if got.Offered || got.Patch != nil || got.Label != "" || len(got.Grounds) != 1 || !strings.HasPrefix(got.Says, "Not worth it: Island bed lies within the throw of heads 1-6, ") {
			t.Fatalf("%s: %s %+v", lot, got.Says, got)
		}
		if lot == "demo-mended.json" && math.Abs(float64(got.Before.Others)-0.34) > 0.01 {
			t.Errorf("the streams give it %.3f in/h", float64(got.Before.Others))
		}
		lawn := got.Grounds[0]
		if got.After.Others > 0.1*got.Before.Others || lawn.Before.DU-lawn.After.DU < 0.1 || lawn.After.DrySqFt-lawn.Before.DrySqFt < 100 {
			t.Errorf("%s: the least harm is shown as %+v, %.3f in/h left", lot, lawn, float64(got.After.Others))
		}
		if got.Before.Own != got.After.Own || !(got.Before.Own > 1) {
			t.Errorf("%s: its own water goes from %v to %v", lot, got.Before.Own, got.After.Own)
		}
	}
}

// What the whole is not worth may be worth in part: half of the water and more, with
// the ground of the heads kept. A bed watered at points needs no heads of its own.
func TestWhatCanBeSparedIsOfferedInPart(t *testing.T) {
	t.Parallel()
	p := loadPlan(t, "demo-mended.json")
	got := keptOff(t, p, "bed-b")
	share := 1 - float64(got.After.Others/got.Before.Others)
	if !got.Offered || share < worthShare || share > 0.99 || len(got.Notes) != 1 || !strings.HasSuffix(got.Notes[0], "still comes from other zones.") {
		t.Errorf("%s %q", got.Says, got.Notes)
	}
	if rows := got.Rows(p); len(rows) != 2 || rows[0].Area != "bed-b" || len(rows[0].Readings) != 2 || rows[0].Readings[0].Change != "better" || rows[1].Area != "front-lawn" || len(rows[1].Readings) != 5 {
		t.Errorf("%+v", rows)
	}
}

// What is to stay stays, and is named; what cannot be looked at is refused; what needs
// nothing is said.
func TestWhatIsNotTurnedOff(t *testing.T) {
	t.Parallel()
	change := func(do func(p *plan.Plan)) *plan.Plan {
		p := loadPlan(t, "bed-end.json")
		do(p)
		return p
	}
	heads := func(p *plan.Plan, do func(id plan.ID, h *plan.Head)) {
		for _, id := range plan.SortedIDs(p.Heads) {
			h := p.Heads[id]
			do(id, &h)
			p.Heads[id] = h
		}
	}
	locked := keptOff(t, change(func(p *plan.Plan) {
		heads(p, func(id plan.ID, h *plan.Head) { h.Locked = id == "h1-4" })
	}), "bed")
	if !locked.Offered || len(locked.Changes) != 2 || len(locked.Notes) != 2 || locked.Notes[0] != "Head 1-4 throws on Flower bed and is locked or there already, so nothing is changed of it." {
		t.Errorf("%s %q", locked.Says, locked.Notes)
	}
	for _, c := range []struct {
		why  string
		p    *plan.Plan
		want string
	}{
		{"all are there already", change(func(p *plan.Plan) { heads(p, func(_ plan.ID, h *plan.Head) { h.Status = plan.Existing }) }), "What throws on Flower bed from other zones, heads 1-8, 1-12 and 1-4, is locked or there already, so it stays as it is."},
		{"no heads of its own", change(func(p *plan.Plan) {
			for _, id := range plan.SortedIDs(p.Heads) {
				if p.Heads[id].Zone == "z2" {
					delete(p.Heads, id)
				}
			}
		}), "Flower bed has no heads of its own, so that it would get no water at all. Arrange heads on it first."},
		{"one zone for both", change(func(p *plan.Plan) { heads(p, func(_ plan.ID, h *plan.Head) { h.Zone = "z1" }) }), "No head of another zone throws on Flower bed to speak of, so there is nothing to turn off."},
		{"no heads", change(func(p *plan.Plan) { clear(p.Heads) }), "No head of another zone throws on Flower bed to speak of, so there is nothing to turn off."},
	} {
		got := keptOff(t, c.p, "bed")
		if got.Offered || got.Patch != nil || got.Says != c.want || len(got.Rows(c.p)) != 1 {
			t.Errorf("%s: %q", c.why, got.Says)
		}
		if shared := len(got.Notes) == 1 && strings.HasPrefix(got.Notes[0], "Zone 1 (Lawn) waters Flower bed as well as Lawn"); shared != (c.why == "one zone for both") {
			t.Errorf("%s: notes %q", c.why, got.Notes)
		}
	}
	p := loadPlan(t, "demo.json")
	for _, id := range []plan.ID{"drive", "nowhere", ""} {
		_, err := KeepOff(context.Background(), p, id, Usual(), nil)
		var no *Refusal
		if !errors.As(err, &no) || no.At != plan.RefTo("areas", id) || !strings.Contains(no.Sentence, "is no planting area of this plan") {
			t.Errorf("%q: %v", id, err)
		}
	}
}

func TestWhatToKeepOffIsAsked(t *testing.T) {
	t.Parallel()
	p := loadPlan(t, "demo.json")
	asked := func(of map[string]string) (plan.ID, Options, error) {
		return KeepOffAsked(p, func(name string) string { return of[name] })
	}
	if id, o, err := asked(map[string]string{"area": "Island bed", "angle": "5", "areas": "front-lawn"}); err != nil || id != "island" || o.AngleStep != 5 {
		t.Errorf("%s %+v %v", id, o, err)
	}
	for _, of := range []map[string]string{{}, {"area": "island,strip"}, {"area": "drive"}, {"area": "x"}, {"area": "island", "angle": "-1"}} {
		if id, _, err := asked(of); err == nil || id != "" {
			t.Errorf("%v: %s", of, id)
		}
	}
}

func TestKeepOffSpeaksMetric(t *testing.T) {
	t.Parallel()
	for lot, area := range map[string]plan.ID{"bed-end.json": "bed", "demo.json": "bed-b"} {
		p := loadPlan(t, lot)
		p.Show = units.Metric
		got := keptOff(t, p, area)
		texts := append([]string{got.Says, got.Label}, got.Notes...)
		for _, c := range got.Changes {
			texts = append(texts, c.Says)
		}
		for _, row := range got.Rows(p) {
			for _, r := range row.Readings {
				texts = append(texts, r.Before, r.After)
			}
		}
		for _, text := range texts {
			if us := usFigures.FindString(tags.ReplaceAllString(text, "")); us != "" {
				t.Errorf("%s: %q speaks of %q", lot, text, us)
			}
		}
	}
}

// tags are the numbers of heads, which may stand before "in" and "out".
var tags = regexp.MustCompile(`[0-9]+-[0-9]+`)

// The same question has the same answer; called off, there is none.
func TestKeepOffAnswersAlikeAndStops(t *testing.T) {
	t.Parallel()
	p := loadPlan(t, "bed-end.json")
	told := []int{}
	first, err := KeepOff(context.Background(), p, "bed", Usual(), func(done, total int) { told = append(told, done) })
	if err != nil || len(told) < 4 || !slices.IsSorted(told) || told[len(told)-1] >= 1000 {
		t.Fatalf("%v, told %v", err, told)
	}
	if again := keptOff(t, p, "bed"); !reflect.DeepEqual(first, again) {
		t.Errorf("%s, and asked again %s", first.Says, again.Says)
	}
	for _, after := range []int{0, 1, 3} {
		ctx, cancel := context.WithCancel(context.Background())
		n := 0
		if after == 0 {
			cancel()
		}
		got, err := KeepOff(ctx, p, "bed", Usual(), func(int, int) {
			if n++; n == after {
				cancel()
			}
		})
		if got != nil || !errors.Is(err, context.Canceled) || n != after {
			t.Errorf("called off at %d: told %d times, %v %v", after, n, got, err)
		}
		cancel()
	}
}

func BenchmarkKeepOff(b *testing.B) {
	for lot, area := range map[string]plan.ID{"bed-end": "bed", "demo-mended": "island"} {
		b.Run(lot, func(b *testing.B) {
			p := loadPlan(b, lot+".json")
			n := 0
			for b.Loop() {
				n = keptOff(b, p, area).Evaluations
			}
			b.ReportMetric(float64(n), "readings/op")
		})
	}
}
