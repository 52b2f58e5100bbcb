package watering

import (
	"context"
	"math"
	"testing"
)

// short hours, so that most of these do not fit; by turns, side by side.
func tight(seed uint64) *Input {
	in := yard(seed, 3+int(seed%4), 24, week([]string{"x.x.x.x", "x..x.x.", "xx.x...", "x.x"}[seed%4]))
	in.Calendar.Until = in.Calendar.From + 40 + int(seed%7)*60
	if seed%3 == 0 {
		in.Calendar.Together, in.Calendar.Flow = true, 18
	}
	return in
}

// What a pattern is said to cost at least, by the cuts known, it costs at least; whether
// it fits, or is hopeless, or only needs its minutes shifted.
func TestPatternsCostNoLessThanTheirBound(t *testing.T) {
	t.Parallel()
	hopeless := 0
	for seed := range uint64(40) {
		in := tight(seed)
		fields := in.fields()
		for _, p := range patterns(in.Calendar.Days, 3) {
			q := questionOf(in, fields, 6, p)
			bound, err := q.solve(context.Background(), false)
			if err != nil {
				t.Fatal(err)
			}
			exact, err := q.solve(context.Background(), true)
			if err != nil {
				t.Fatal(err)
			}
			if !bound.fits() {
				hopeless++
			}
			if bound.cost > exact.cost*(1+1e-6)+1e-6 {
				t.Errorf("seed %d, %v: bound %.4f, costs %.4f", seed, p.class, bound.cost, exact.cost)
			}
		}
	}
	if hopeless < 50 {
		t.Errorf("only %d patterns do not fit", hopeless)
	}
}

// The search finds what costs hardly more than the least of all patterns, each solved to
// the cell.
func TestSearchFindsTheLeast(t *testing.T) {
	t.Parallel()
	fit := 0
	for seed := range uint64(40) {
		in := tight(seed)
		fields, g := in.fields(), in.ground()
		m, err := in.search(context.Background(), fields, 6, g, thorough, progress{})
		if err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		for _, p := range patterns(in.Calendar.Days, 3) {
			a, err := questionOf(in, fields, 6, p).solve(context.Background(), true)
			if err != nil {
				t.Fatal(err)
			}
			least = min(least, a.cost)
		}
		if m.w.a.fits() {
			fit++
		}
		q := *m.q
		q.smooth = false
		if found, err := q.solve(context.Background(), true); err != nil || found.cost > least*1.01+1e-3 {
			t.Errorf("seed %d: %.3f, the least is %.3f (%v)", seed, found.cost, least, err)
		}
	}
	if fit < 5 || fit > 35 {
		t.Errorf("%d of 40 fit", fit)
	}
}

// Of programs that take hardly more than the least, the one with the fewest figures to key
// in is taken: stations of all programs. Three programs of a day each are not simpler than
// one of three days for a station that stays off on one of them.
func TestTheFewestFiguresAreKeyedIn(t *testing.T) {
	t.Parallel()
	worse := 0
	for seed := range uint64(40) {
		in := yard(seed, 3+int(seed%3), 24, week([]string{"x.x.x", "x..x..x"}[seed%2]))
		in.Calendar.Until = in.Calendar.From + 20*60
		fields, g := in.fields(), in.ground()
		m, err := in.search(context.Background(), fields, 6, g, thorough, progress{})
		if err != nil {
			t.Fatal(err)
		}
		if !m.Fits {
			continue
		}
		var all []*candidate
		least := math.Inf(1)
		for _, p := range patterns(in.Calendar.Days, in.Controller.programs()) {
			c := &candidate{q: questionOf(in, fields, 6, p)}
			if err := c.solve(context.Background(), true); err != nil {
				t.Fatal(err)
			}
			all, least = append(all, c), min(least, c.a.cost)
		}
		fewest, most := math.MaxInt, 0
		for _, c := range all {
			if c.a.fits() && c.a.cost <= least*(1+near) {
				fewest, most = min(fewest, c.lines), max(most, c.lines)
			}
		}
		keyed := 0
		for _, p := range m.Programs {
			keyed += len(p.Runs)
		}
		if keyed > fewest {
			t.Errorf("seed %d: %d figures are keyed in, %d serve", seed, keyed, fewest)
		}
		if most > fewest {
			worse++
		}
	}
	if worse < 8 {
		t.Errorf("only %d yards have a choice", worse)
	}
}

// Whoever asks is told how far the year is, never back, to the end.
func TestYearTellsHowFarItIs(t *testing.T) {
	t.Parallel()
	for _, days := range []string{"xxxxxxx", "x..x..."} {
		last, times := 0, 0
		in := yard(3, 5, 40, week(days))
		if _, err := PlanYear(context.Background(), in, func(done, total int) {
			if done <= last || done > total {
				t.Errorf("%d of %d after %d", done, total, last)
			}
			last, times = done, times+1
		}); err != nil {
			t.Fatal(err)
		}
		if last != parts || times < 10 {
			t.Errorf("told %d times, %d at the end", times, last)
		}
	}
}

// A year that is called off anywhere ends with that, and soon.
func TestYearIsCalledOff(t *testing.T) {
	t.Parallel()
	for at := range 6 {
		ctx, cancel := context.WithCancel(context.Background())
		after := 0
		_, err := PlanYear(ctx, yard(3, 5, 40, week("xxxxxxx")), func(done, total int) {
			if done*6 >= at*total {
				cancel()
				after++
			}
		})
		cancel()
		if err == nil || after > 6 {
			t.Errorf("called off at %d of 6: %v, told %d times after", at, err, after)
		}
	}
}

// Of two programs that do not fit that is nearer by which plants do not go short, then by
// which fewer limits are broken, then fewer minutes, then fewer starts.
func TestNearerToFitting(t *testing.T) {
	t.Parallel()
	order := []*Month{
		{},
		{Over: 5, Binds: []Bind{{Limit: Hours, By: 5}}},
		{Over: 6, Binds: []Bind{{Limit: Hours, By: 6}}},
		{Over: 5, Binds: []Bind{{Limit: Hours, By: 5}, {Limit: Starts, By: 1}}},
		{Over: 5, Binds: []Bind{{Limit: Hours, By: 5}, {Limit: Starts, By: 2}}},
		{Over: 6, Binds: []Bind{{Limit: Hours, By: 6}, {Limit: Starts, By: 1}}},
		{Binds: []Bind{{Limit: Soil, By: .1}}},
	}
	for i, m := range order {
		for k, than := range order {
			if got := m.nearer(than); got != (i < k) {
				t.Errorf("%d nearer than %d: %v", i, k, got)
			}
		}
	}
}
