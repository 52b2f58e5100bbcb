package packs

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// tapedTo are the two lengths by which a place is found with two tapes, as printed.
var tapedTo = regexp.MustCompile(`^(\d+\.\d\d) m from ([A-Z]+), (\d+\.\d\d) m from ([A-Z]+), on the (left|right) from`)

// What the record says of a place leads back to it: tapes pulled as printed meet there.
func TestTheRecordLeadsBackToEachThing(t *testing.T) {
	t.Parallel()
	in := provedYard(t)
	in.Plan.Show = units.Metric
	b := building(t, in, Owner, A4)
	r := b.recordOf()
	points := map[string]orb.Point{}
	for _, q := range r.stake.Points {
		points[q.Letter] = q.At
	}
	led, old := 0, 0
	for i := range r.things {
		th := &r.things[i]
		m := tapedTo.FindStringSubmatch(r.foundOf(th))
		if m == nil {
			continue
		}
		if th.status == plan.Existing {
			old++
		}
		led++
		for k := 1; k < 5; k += 2 {
			want, err := strconv.ParseFloat(m[k], 64)
			from := points[m[k+1]]
			if got := units.Feet(math.Hypot(th.at[0]-from[0], th.at[1]-from[1])).Metres(); err != nil || math.Abs(got-want) > 0.0051 {
				t.Errorf("%s is %.3f m from %s, the record says %s", th.tag, got, m[k+1], m[k])
			}
		}
	}
	if led < 10 || old < 1 {
		t.Errorf("only %d places are found by two tapes, %d of what was there", led, old)
	}
}

// Everything that stands is in the lists with how it is found, what was moved says how
// far, and what is new, was there and goes is told apart in words.
func TestTheRecordHasEverything(t *testing.T) {
	t.Parallel()
	in := provedYard(t)
	text := writtenOn(oneSheet(t, in, Owner, Letter, recordCode))
	for _, want := range []string{
		"34 of 45 heads and 3 of 3 boxes", "3 things are to be removed", "Started up on 2026-05-20", "thin and grey: there already", "crossed out or dashed: to be removed",
		"measured where it went", "strong line: new", "there before", "to be removed", `11 1/2" north-east of where it was drawn`, `2026-05-09, as drawn, 20" deep, capped, a brick on each end`, "not yet", "Changed since",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
	r := building(t, in, Owner, Letter).recordOf()
	for _, kind := range []string{"valve", "sleeve", "main", "backflow", "head"} {
		n := 0
		for i := range r.things {
			if th := &r.things[i]; th.what == kind && th.status.Stands() {
				if n++; r.foundOf(th) == "" {
					t.Errorf("%s has no way to it", th.tag)
				}
			}
		}
		if n == 0 {
			t.Errorf("no %s is recorded", kind)
		}
	}
	if strings.Contains(text, "flag ") {
		t.Error("a record speaks of flags, and none stands any more")
	}
}

// A plan of which nothing was built says so, and leaves room to write.
func TestARecordOfNothingSaysSo(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in   Input
		says []string
		rows int
	}{
		{designed(t, plan.Empty("", units.US)), []string{"Nothing is drawn yet.", "there is nothing to record"}, 0},
		{demoInput(t), []string{"Nothing has been measured in the ground yet"}, 45},
	} {
		text := writtenOn(oneSheet(t, c.in, Owner, Letter, recordCode))
		for _, s := range c.says {
			if !strings.Contains(text, s) {
				t.Errorf("%s: %q is not said", c.in.Plan.Name, s)
			}
		}
		if n := strings.Count(text, "not yet"); n < c.rows {
			t.Errorf("%s: %d things are said to be measured not yet", c.in.Plan.Name, n)
		}
	}
}

// What was drawn elsewhere is drawn there too, with a line to where it is.
func TestWhatMovedIsDrawnTwice(t *testing.T) {
	t.Parallel()
	in := provedYard(t)
	c := newChart(in, 3.6, 1)
	c.recordGround(building(t, in, Owner, Letter).recordOf())
	rings := map[orb.Point]bool{}
	for _, item := range c.layers[layerMeasured].Items {
		if a, ok := item.(*drawing.Arc); ok {
			rings[a.Centre] = true
		}
	}
	moved := 0
	for _, h := range in.Plan.Heads {
		if h.Built == nil || h.Built.Was == nil {
			continue
		}
		if moved++; !rings[spotAt(*h.Built.Was)] {
			t.Errorf("%s is not drawn where it was", h.Tag)
		}
	}
	if moved < 5 || !c.used[signWas] || !c.used[signBuilt] {
		t.Errorf("%d heads moved; signs %v, %v", moved, c.used[signWas], c.used[signBuilt])
	}
}

// New, there before and to be removed are told apart beside each head, too, without colour:
// its number stands upright, slants, or says that it goes.
func TestNumbersTellWhatIsNew(t *testing.T) {
	t.Parallel()
	in := provedYard(t)
	c := newChart(in, 3.6, 1)
	c.recordGround(building(t, in, Owner, Letter).recordOf())
	seen := map[plan.Status]int{}
	for i := range c.labels {
		l := &c.labels[i]
		collection, id := l.of.Split()
		if collection != "heads" {
			continue
		}
		h := in.Plan.Heads[id]
		want, words := h.Status.IsNew(), h.Tag
		if h.Status == plan.Remove {
			words += " (goes)"
		}
		if got := l.want.Text; got.S != words || got.Bold != want || got.Italic == want {
			t.Errorf("head %s, status %q: %+v", h.Tag, h.Status, got)
		}
		seen[h.Status]++
	}
	if seen[plan.Existing] == 0 || seen[plan.Remove] == 0 || len(seen) < 3 {
		t.Errorf("numbers by status: %v", seen)
	}
}
