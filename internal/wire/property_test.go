package wire

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

func yards() int {
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		return 10_000
	}
	return 300
}

// each runs a test on yards drawn at random.
func each(t *testing.T, seed uint64, test func(t *testing.T, y *yard, w *Wiring)) {
	t.Helper()
	t.Parallel()
	for i := range yards() {
		y := drawn(rand.New(rand.NewPCG(seed, uint64(i))))
		test(t, y, Of(y.Plan, y.digs))
		if t.Failed() {
			t.Fatalf("yard %d", i)
		}
	}
}

// measured is a run's length by the rule in words, and the boxes it comes through,
// looked for anew.
func (y *yard) measured(way trench.Way) (feet float64, boxes map[int]bool) {
	boxes = map[int]bool{}
	if way.Box >= 0 {
		boxes[way.Box] = true
	}
	for _, s := range way.Segments {
		feet += float64(y.digs.Segments[s].Length)
		for _, end := range [][2]float64{y.digs.Segments[s].From, y.digs.Segments[s].To} {
			for b, box := range y.digs.Boxes {
				if end == box.At {
					boxes[b] = true
				}
			}
		}
	}
	return feet*1.02 + 6 + 2.5*float64(len(boxes)), boxes
}

// valves are the ways of valves.
func (y *yard) valves() []trench.Way {
	return slices.DeleteFunc(slices.Clone(y.digs.Ways), func(w trench.Way) bool {
		collection, _ := w.To.Split()
		return collection == "sensors"
	})
}

// What a run loses is reckoned again, segment by segment: its own current out and
// back, and the master valve's on the part of the common they share.
func TestDropsAddUpFromSegments(t *testing.T) {
	each(t, 1, func(t *testing.T, y *yard, w *Wiring) {
		ways := y.valves()
		master := slices.IndexFunc(ways, func(w trench.Way) bool { return w.To == "supply" })
		for i, way := range ways {
			r := w.Runs[i]
			feet, boxes := y.measured(way)
			if math.Abs(float64(r.Length)-feet) > 1e-6 {
				t.Errorf("%s: %v ft, want %v", r.To, r.Length, feet)
			}
			most := 0.0
			for k, other := range ways {
				if master < 0 || i == k || i != master && k != master {
					continue
				}
				shared, loops := 6.0, 0
				seen := map[int]bool{}
				for n, s := range way.Segments {
					if n >= len(other.Segments) || other.Segments[n] != s {
						break
					}
					shared += 1.02 * float64(y.digs.Segments[s].Length)
					for b, box := range y.digs.Boxes {
						far := y.digs.Segments[s].From
						if near := y.digs.Segments[s].To; apart(near, y.from(way, n)) > apart(far, y.from(way, n)) {
							far = near
						}
						if box.At == far && boxes[b] && !seen[b] {
							seen[b] = true
							loops++
						}
					}
				}
				most = max(most, shared+2.5*float64(loops))
			}
			detour := y.detour(w, way)
			want := 0.37 / 1000 * (feet*(Resistance(r.Hot, 20)+Resistance(r.Common, 20)) + (most+detour)*Resistance(r.Common, 20))
			if math.Abs(detour-float64(r.Detour)) > 1e-6 {
				t.Errorf("%s: a detour of %v ft, want %v", r.To, r.Detour, detour)
			}
			if math.Abs(r.Drop-want) > 1e-6 || math.Abs(r.Drop+r.Volts-24) > 1e-9 {
				t.Errorf("%s loses %v V and has %v, want %v lost", r.To, r.Drop, r.Volts, want)
			}
			if (r.Volts >= 20) != (float64(r.Length) <= float64(r.Most)) && math.Abs(r.Volts-20) > 1e-9 {
				t.Errorf("%s has %v V at %v ft of %v allowed", r.To, r.Volts, r.Length, r.Most)
			}
		}
	})
}

// detour is how much longer the common of a way is than the way, followed from line to
// line: a loop more in and out of each box off the way, and the ground twice.
func (y *yard) detour(w *Wiring, way trench.Way) float64 {
	end := way.Box
	at := slices.IndexFunc(w.Lines, func(l Line) bool {
		return slices.Contains(l.Serves, way.To) && slices.Contains(l.Boxes, end) && slices.Contains(l.Opened, end)
	})
	ground, turns := 0.0, 0
	for at >= 0 {
		l := w.Lines[at]
		place := [2]float64{}
		if l.From >= 0 {
			place = y.digs.Boxes[l.From].At
		} else if l.From == AtFork {
			return 0
		}
		for _, s := range l.Segments {
			if seg := y.digs.Segments[s]; seg.From == place {
				place = seg.To
			} else {
				place = seg.From
			}
			ground += float64(y.digs.Segments[s].Length)
			if place == y.digs.Boxes[end].At {
				break
			}
		}
		if l.From >= 0 && !slices.Contains(way.Segments, l.Segments[0]) {
			turns++
		} else if p := l.Parent; p >= 0 && w.Lines[p].From >= 0 && l.Segments[0] == w.Lines[p].Segments[len(w.Lines[p].Segments)-1] {
			turns++
		}
		end, at = l.From, l.Parent
	}
	for _, s := range way.Segments {
		ground -= float64(y.digs.Segments[s].Length)
	}
	return 1.02*ground + 5*float64(turns)
}

// from is where a way comes to its nth segment from.
func (y *yard) from(way trench.Way, n int) [2]float64 {
	at := [2]float64{}
	for _, s := range way.Segments[:n] {
		seg := y.digs.Segments[s]
		if seg.From == at {
			at = seg.To
		} else {
			at = seg.From
		}
	}
	return at
}

// In every segment there lie a hot to each valve beyond, the commons of the lines
// that go by, and the spares along the farthest way.
func TestConductorsInEverySegment(t *testing.T) {
	each(t, 2, func(t *testing.T, y *yard, w *Wiring) {
		hots, spares, leads := map[int]int{}, map[int]int{}, map[int]int{}
		far, most := trench.Way{}, 0.0
		for _, way := range y.valves() {
			for _, s := range way.Segments {
				hots[s]++
			}
			if feet, _ := y.measured(way); feet > most+1e-9 {
				far, most = way, feet
			}
		}
		for _, s := range far.Segments {
			spares[s] = int(y.Options.Figures[plan.WireSpares].Value)
		}
		for _, way := range y.digs.Ways {
			if collection, _ := way.To.Split(); collection == "sensors" {
				for _, s := range way.Segments {
					leads[s] += 2
				}
			}
		}
		seen := 0
		for _, s := range w.Stretches {
			if s.Hots != hots[s.Segment] || s.Spares != spares[s.Segment] || s.Sensors != leads[s.Segment] || (s.Commons > 0) != (s.Hots > 0) || s.Conductors != s.Hots+s.Commons+s.Spares {
				t.Errorf("%+v: want %d hots, %d spares, %d of leads", s, hots[s.Segment], spares[s.Segment], leads[s.Segment])
			}
			if indoors := y.digs.Segments[s.Segment].Ground == trench.Indoors; s.Commons > 1 && w.Cable == Multi && !indoors && len(w.Unboxed) == 0 && !y.underRoof(s.Segment) {
				t.Errorf("%+v: %d commons where a cable could be spliced", s, s.Commons)
			}
			seen++
		}
		for i := range y.digs.Segments {
			if hots[i]+leads[i] > 0 {
				seen--
			}
		}
		if seen != 0 {
			t.Errorf("%d stretches too many", seen)
		}
	})
}

// underRoof reports whether a segment comes from indoors, so that what parts there
// does so without a splice.
func (y *yard) underRoof(segment int) bool {
	return slices.ContainsFunc(y.digs.Ways, func(way trench.Way) bool {
		return len(way.Segments) > 0 && y.digs.Segments[way.Segments[0]].Ground == trench.Indoors && slices.Contains(way.Segments, segment)
	})
}

// Every valve's box hangs on the controller by lines that are spliced in boxes alone,
// but for forks of a cable that are told.
func TestLinesHangTogether(t *testing.T) {
	each(t, 3, func(t *testing.T, y *yard, w *Wiring) {
		serves := map[plan.Ref]int{}
		forks := 0
		for i, l := range w.Lines {
			at := [2]float64{}
			switch {
			case l.From >= 0:
				at = y.digs.Boxes[l.From].At
				if p := w.Lines[l.Parent]; !slices.Contains(p.Boxes, l.From) && p.From != l.From {
					t.Errorf("line %d starts in box %d, that line %d does not come by", i, l.From, l.Parent)
				}
			case l.From == AtFork:
				if w.Cable != Multi {
					t.Errorf("line %d of %s conductors starts at a fork", i, w.Cable)
				}
				at = w.Unboxed[forks].At
				forks++
			}
			for _, s := range l.Segments {
				switch seg := y.digs.Segments[s]; at {
				case seg.From:
					at = seg.To
				case seg.To:
					at = seg.From
				default:
					t.Errorf("line %d is broken at %v", i, at)
				}
			}
			if l.To >= 0 && at != y.digs.Boxes[l.To].At {
				t.Errorf("line %d ends at %v, its box is at %v", i, at, y.digs.Boxes[l.To].At)
			}
			if l.Parent < 0 {
				for _, r := range l.Serves {
					serves[r]++
				}
			}
			spares := 0
			if i == 0 {
				spares = w.Spares
			}
			if l.Needs != 1+len(l.Serves)+spares {
				t.Errorf("line %d needs %d conductors for %v", i, l.Needs, l.Serves)
			}
			if sold := sum(l.Sold); w.Cable == Multi && (sold < l.Needs || sold > l.Needs+3) {
				t.Errorf("line %d needs %d and has %v", i, l.Needs, l.Sold)
			}
		}
		if forks != len(w.Unboxed) {
			t.Errorf("%d forks, %d told", forks, len(w.Unboxed))
		}
		for _, r := range w.Runs {
			if serves[r.To] != 1 {
				t.Errorf("%s hangs on %d lines from the controller", r.To, serves[r.To])
			}
			if len(r.Colours) == 0 || slices.Contains(r.Colours, "") {
				t.Errorf("%s goes by %v", r.To, r.Colours)
			}
		}
		found := Check(y.Plan, y.digs, w)
		for _, f := range found {
			if f.Code == plan.SpliceUnboxed && len(w.Unboxed) == 0 || y.Wiring.Cable != Multi && f.Code == plan.SpliceUnboxed {
				t.Errorf("%s %s", w.Cable, f.Sentence)
			}
		}
		if len(w.Unboxed) > 0 && !slices.ContainsFunc(found, func(f plan.Finding) bool { return f.Code == plan.SpliceUnboxed }) {
			t.Errorf("%d splices outside boxes are not told", len(w.Unboxed))
		}
	})
}

func sum(all []int) (n int) {
	for _, v := range all {
		n += v
	}
	return n
}

// Of all pairs of sizes that leave every valve its volts none takes less copper than
// what is chosen, and none is left out where one does.
func TestRow37_ChosenSizesAreTheLeastThatDo(t *testing.T) {
	each(t, 4, func(t *testing.T, y *yard, w *Wiring) {
		var common float64
		for _, l := range w.Lines {
			common += float64(l.Length)
		}
		least, copper := math.Inf(1), common*section(w.Common)
		enough := true
		for _, r := range w.Runs {
			copper += float64(r.Length) * section(r.Hot)
			enough = enough && r.Volts >= 20
			if r.Hot < w.Common {
				t.Errorf("%s has %d AWG and a common of %d", r.To, r.Hot, w.Common)
			}
		}
		thin := true
		for _, hot := range []int{18, 16, 14, 12, 10, 8} {
			for _, c := range []int{18, 16, 14, 12, 10, 8} {
				if c > hot {
					continue
				}
				chosen := *y.Plan
				chosen.Wiring = plan.Wiring{Cable: w.Cable, HotAWG: hot, CommonAWG: c}
				other := Of(&chosen, y.digs)
				does, each := true, common*section(c)
				for k, r := range other.Runs {
					does = does && r.Volts >= 20
					each += float64(r.Length) * section(hot)
					if r.Hot != hot || r.Common != c {
						t.Errorf("%d x %d was chosen, and %s has %d x %d", hot, c, r.To, r.Hot, r.Common)
					}
					if hot <= w.Runs[k].Hot && c <= w.Common && r.Drop > w.Runs[k].Drop+1e-12 {
						t.Errorf("%d x %d loses more than %d x %d", hot, c, w.Runs[k].Hot, w.Common)
					}
				}
				if does {
					least = min(least, each)
				}
				if hot == 18 && c == 18 {
					thin = does
				}
				fires := slices.ContainsFunc(Check(&chosen, y.digs, other), func(f plan.Finding) bool { return f.Code == plan.WireThin })
				if fires == does {
					t.Errorf("%d x %d does: %v; told: %v", hot, c, does, fires)
				}
			}
		}
		if enough == math.IsInf(least, 1) && len(w.Runs) > 0 || enough && copper > least+1e-6 {
			t.Errorf("chosen: enough %v, %.0f of copper; the least that does has %.0f", enough, copper, least)
		}
		if w.Drops == thin && len(w.Runs) > 0 {
			t.Errorf("18 AWG does: %v, and the sum is shown: %v", thin, w.Drops)
		}
	})
}

// What is bought is what is laid, and the same every time, whichever way round the
// digs have their segments.
func TestWiringIsTheSameEveryTime(t *testing.T) {
	each(t, 5, func(t *testing.T, y *yard, w *Wiring) {
		for i := range y.digs.Segments {
			s := &y.digs.Segments[i]
			s.From, s.To = s.To, s.From
		}
		if diff := cmp.Diff(w, Of(y.Plan, y.digs)); diff != "" {
			t.Errorf("reckoned again (-first +again):\n%s", diff)
		}
		connectors, valves := 0, 0
		for _, s := range w.Splices {
			connectors += s.Connectors
			if s.Connectors < 1 || s.Wires < s.Connectors {
				t.Errorf("%+v", s)
			}
		}
		for _, r := range w.Runs {
			valves++
			if !slices.ContainsFunc(w.Splices, func(s Splice) bool { return s.Box == r.Box }) {
				t.Errorf("%s is spliced nowhere", r.To)
			}
		}
		if valves > 0 && connectors < valves+w.Spares+1 {
			t.Errorf("%d connectors for %d valves and %d spares", connectors, valves, w.Spares)
		}
		var hot, common float64
		for _, c := range w.Cables {
			if c.Laid <= 0 || c.Length < c.Laid || c.Why == "" || len(c.For) == 0 {
				t.Errorf("%+v", c)
			}
			switch c.What {
			case "hot":
				hot += float64(c.Laid)
			case "common":
				common += float64(c.Laid)
			}
		}
		if w.Cable == Single {
			for _, r := range w.Runs {
				hot -= float64(r.Length)
			}
			for _, l := range w.Lines {
				common -= float64(l.Length)
			}
			if math.Abs(hot) > 1e-6 || math.Abs(common) > 1e-6 {
				t.Errorf("bought %v ft of hots and %v of commons too many", hot, common)
			}
		}
	})
}
