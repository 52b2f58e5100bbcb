package wire

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// One line does for a small lot: the conductors and the length of the one cable.
func TestRow37_SmallLotIsOneLine(t *testing.T) {
	t.Parallel()
	y := line(60, 100, 130, 170, 185, 200)
	w := Of(y.Plan, y.digs)
	// 200 ft, 4 ft of coils, 6 ft up to the controller, 30 in in each of six boxes.
	if want := "18 AWG direct-burial, 9 conductors, 225 ft"; w.Says != want {
		t.Errorf("%q, want %q", w.Says, want)
	}
	if w.Cable != Multi || w.Drops || w.Common != 18 || w.Used != 6 || len(w.Cables) != 1 || w.Conduit != 6 {
		t.Errorf("cable %s, drops %v, common %d, %d stations, %d cables, %v ft of conduit", w.Cable, w.Drops, w.Common, w.Used, len(w.Cables), w.Conduit)
	}
	if c := w.Cables[0]; c.Conductors != 9 || c.Laid != 225 || c.Length != 236.25 || len(c.For) != 6 {
		t.Errorf("cable %+v", c)
	}
	if r := w.Runs[5]; r.Length != 225 || !slices.Equal(r.Colours, []string{"brown"}) {
		t.Errorf("run %+v", r)
	}
}

// The published limit of 18 AWG, 850 ft by the table and 846 by its own
// resistances, is where the common grows, which all share; beyond 1212 ft of 18 x
// 14 either grows, whichever is less copper.
func TestRow37_CommonGrowsFirst(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		feet        float64
		hot, common int
	}{{845, 18, 18}, {847, 18, 16}, {1038, 18, 16}, {1039, 18, 14}, {1212, 18, 14}} {
		y := line(c.feet, c.feet+0.1).bare()
		w := Of(y.Plan, y.digs)
		if r := w.Runs[1]; r.Hot != c.hot || r.Common != c.common || w.Drops != (c.common != 18) || r.Volts < 20 {
			t.Errorf("%.0f ft: %d x %d with %.2f V, drops %v, want %d x %d", c.feet, r.Hot, r.Common, r.Volts, w.Drops, c.hot, c.common)
		}
	}
	far := line(100, 200, 6000)
	w := Of(far.Plan, far.digs)
	if r := w.Runs; r[0].Hot != 18 || r[2].Hot > 10 || r[2].Common != w.Common || r[2].Volts < 20 || w.Cable != Single {
		t.Errorf("a far valve makes the near ones thick: %+v", r)
	}
	if want := "18 AWG to 2 valves and 10 AWG to 1 valve with a common of 8 AWG direct-burial, "; !strings.HasPrefix(w.Says, want) {
		t.Errorf("%q, want it to begin %q", w.Says, want)
	}
}

// 100 ft at 0.37 A on 6.39 Ω twice: 0.473 V.
func TestRunSaysItsSum(t *testing.T) {
	t.Parallel()
	y := line(100).bare()
	w := Of(y.Plan, y.digs)
	r := w.Runs[0]
	if math.Abs(r.Drop-0.37*100*2*6.39/1000) > 1e-12 || math.Abs(r.Volts+r.Drop-24) > 1e-12 || math.Abs(float64(r.Most)-845.9) > 0.1 {
		t.Errorf("drop %v, volts %v, most %v", r.Drop, r.Volts, r.Most)
	}
	want := "24 V at the controller less 0.37 A × 100 ft × (6.39 + 6.39) Ω to 1,000 ft leaves 23.5 V at the valve as it opens, 0.47 V being lost; 20 V are the least. " +
		"These sizes, 18 AWG and a common of 18 AWG, reach 846 ft. Copper at 20 °C."
	if r.Sum != want {
		t.Errorf("%s\nwant\n%s", r.Sum, want)
	}
	y.Show = units.Metric
	want = "24 V at the controller less 0.37 A × 30.5 m × (20.96 + 20.96) Ω to 1 km leaves 23.5 V at the valve as it opens, 0.47 V being lost; 20 V are the least. " +
		"These sizes, 18 AWG (0.82 mm²) and a common of 18 AWG (0.82 mm²), reach 257.8 m. Copper at 20 °C."
	if got := Of(y.Plan, y.digs).Runs[0].Sum; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// A master valve opens with every zone: its current is on the common, too, as far as
// they share it.
func TestMasterValveLoadsTheCommon(t *testing.T) {
	t.Parallel()
	y := line(300, 500).bare()
	b := y.box(1, trench.RoundBox)
	y.lead("supply", 1, b)
	w := Of(y.Plan, y.digs)
	i, r := 0.37, 6.39/1000
	for k, want := range []float64{i * r * (300 + 300 + 300), i * r * (500 + 500 + 300), i * r * (300 + 300 + 300)} {
		if got := w.Runs[k].Drop; math.Abs(got-want) > 1e-9 {
			t.Errorf("run %d loses %.4f V, want %.4f", k, got, want)
		}
	}
	if s := w.Runs[1].Sum; !strings.Contains(s, "and less 0.37 A × 300 ft of the common × 6.39 Ω to 1,000 ft for what opens with it") {
		t.Errorf("the sum leaves the master valve out: %s", s)
	}
	z := y.Zones["z2"]
	z.Station = 1
	y.Zones["z2"] = z // and now two valves on one station
	w = Of(y.Plan, y.digs)
	for k, want := range []float64{i * r * (300 + 4*300 - 300), i * r * (500 + 500 + 600), i * r * (300 + 300 + 600)} {
		if got := w.Runs[k].Drop; math.Abs(got-want) > 1e-9 {
			t.Errorf("two on a station: run %d loses %.4f V, want %.4f", k, got, want)
		}
	}
	z.Station = 0
	y.Zones["z1"], y.Zones["z2"] = z, z // and none has a station yet
	w = Of(y.Plan, y.digs)
	for k, want := range []float64{i * r * (300 + 300 + 300), i * r * (500 + 500 + 300), i * r * (300 + 300 + 300)} {
		if got := w.Runs[k].Drop; math.Abs(got-want) > 1e-9 {
			t.Errorf("without stations: run %d loses %.4f V, want %.4f", k, got, want)
		}
	}
}

// forked is a trench that parts 50 ft out, with a valve at either end.
func forked(kind trench.BoxKind, cable string) *yard {
	y := newYard()
	fork := y.dig(0, orb.Point{50, 0}, trench.Lawn)
	a, b := y.dig(fork, orb.Point{90, 0}, trench.Lawn), y.dig(fork, orb.Point{50, 30}, trench.Lawn)
	y.valve(1, a, y.box(a, trench.RoundBox))
	y.valve(2, b, y.box(b, trench.RoundBox))
	if kind != "" {
		y.box(fork, kind)
	}
	y.Wiring.Cable = cable
	return y
}

func TestRow36_CablePartsOnlyInBoxes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind        trench.BoxKind
		cable, kept string
		fires       bool
		lines       int
	}{
		{"", "", Single, false, 2},
		{"", Multi, Multi, true, 2},
		{"", Single, Single, false, 2},
		{trench.SpliceBox, "", Multi, false, 2},
		{trench.SpliceBox, Multi, Multi, false, 2},
	} {
		y := forked(c.kind, c.cable)
		w := Of(y.Plan, y.digs)
		found := Check(y.Plan, y.digs, w)
		if w.Cable != c.kept || len(w.Lines) != c.lines || (len(found) > 0) != c.fires {
			t.Errorf("box %q, cable %q: %s, %d lines, found %v", c.kind, c.cable, w.Cable, len(w.Lines), found)
		}
		if !c.fires {
			continue
		}
		f := found[0]
		if f.Code != plan.SpliceUnboxed || f.At == nil || *f.At != (orb.Point{50, 0}) || !slices.Equal(f.About, []plan.Ref{"zones/z2"}) {
			t.Errorf("%+v", f)
		}
		if want := "The cable to zone 2 parts where no box stands, 50 ft east and 0 ft north of the origin: 2 splices would lie in the soil."; f.Sentence != want {
			t.Errorf("%q, want %q", f.Sentence, want)
		}
	}
}

// Without a box at the fork the second common comes back from the box 40 ft on, which is
// nearer than the controller 50 ft before; with the box there 60 ft on it comes from the
// controller. With a box at the fork a cable leaves the other there.
func TestForksAndWhatLiesBeforeThem(t *testing.T) {
	t.Parallel()
	y := forked("", Single)
	w := Of(y.Plan, y.digs)
	if s := w.Stretches; s[0].Hots != 2 || s[0].Commons != 1 || s[0].Spares != 1 || s[0].Conductors != 4 || s[1].Hots != 1 || s[1].Commons != 2 || s[2].Commons != 1 {
		t.Errorf("by way of the box: %+v", s)
	}
	if r := w.Runs[1]; float64(r.Detour) != 2*(40*1.02+2.5) || w.Lines[1].From != 0 || !strings.Contains(r.Sum, "and less 0.37 A × 87 ft × 6.39 Ω to 1,000 ft for the common's way round by a box") {
		t.Errorf("%+v", r)
	}
	// In the box of valve 1: two of its hot, three of the common, a spare.
	if want := []Splice{{0, 3, 6}, {1, 2, 4}}; !slices.Equal(w.Splices, want) {
		t.Errorf("splices %v, want %v", w.Splices, want)
	}
	y.digs.Segments[1].Length = 60
	y.digs.Ways[0].Length = 110
	w = Of(y.Plan, y.digs)
	if s := w.Stretches[0]; s.Hots != 2 || s.Commons != 2 || s.Spares != 1 || s.Conductors != 5 || w.Lines[1].From != AtController || w.Runs[1].Detour != 0 {
		t.Errorf("from the controller: %+v", s)
	}
	y = forked(trench.SpliceBox, "")
	w = Of(y.Plan, y.digs)
	if s := w.Stretches[0]; s.Hots != 2 || s.Commons != 1 || s.Conductors != 4 {
		t.Errorf("before the box: %+v", s)
	}
	if l := w.Lines; l[0].Needs != 4 || !slices.Equal(l[0].Sold, []int{5}) || l[1].From != 2 || l[1].Needs != 2 || !slices.Equal(l[1].Sold, []int{3}) {
		t.Errorf("lines %+v", l)
	}
	if r := w.Runs[1]; !slices.Equal(r.Colours, []string{"blue", "red"}) {
		t.Errorf("zone 2 goes by %v", r.Colours)
	}
	// In the splice box: the common, in, on and off, and the hot of zone 2. At each
	// valve two joints, and a spare at the farthest.
	want := []Splice{{0, 3, 5}, {1, 2, 4}, {2, 2, 5}}
	if !slices.Equal(w.Splices, want) {
		t.Errorf("splices %v, want %v", w.Splices, want)
	}
	// 30 ft and 2 % and a loop at either end.
	if got := float64(w.Lines[1].Length); math.Abs(got-(30*1.02+2*2.5)) > 1e-9 {
		t.Errorf("the branch is %v ft", got)
	}
}

func TestConnectorsForManyWires(t *testing.T) {
	t.Parallel()
	for wires, want := range map[int]int{1: 1, 2: 1, 5: 1, 6: 2, 8: 2, 9: 3} {
		if got := connectors(wires); got != want {
			t.Errorf("%d wires: %d connectors, want %d", wires, got, want)
		}
	}
	for n, want := range map[int][]int{2: {3}, 3: {3}, 4: {5}, 8: {9}, 13: {13}, 14: {13, 3}, 26: {13, 13}, 27: {13, 13, 3}} {
		if got := packed(n); !slices.Equal(got, want) {
			t.Errorf("%d conductors: %v, want %v", n, got, want)
		}
	}
}

func TestRow36_SlackIsLongEnoughToSpliceOn(t *testing.T) {
	t.Parallel()
	for inches, fires := range map[float64]bool{23.9: true, 24: false, 30: false} {
		y := line(50)
		y.figure(plan.WireSlack, inches)
		found := Check(y.Plan, y.digs, Of(y.Plan, y.digs))
		if (len(found) > 0) != fires || fires && found[0].Code != plan.SlackShort {
			t.Errorf("%v in: %v", inches, found)
		}
	}
	bare := newYard().bare()
	if found := Check(bare.Plan, bare.digs, Of(bare.Plan, bare.digs)); len(found) > 0 {
		t.Errorf("no wire, and yet %v", found)
	}
}

func TestRow37_ChosenWireTooThin(t *testing.T) {
	t.Parallel()
	y := line(400, 850, 1000)
	y.Wiring = plan.Wiring{HotAWG: 18, CommonAWG: 18}
	w := Of(y.Plan, y.digs)
	found := Check(y.Plan, y.digs, w)
	if len(found) != 1 || found[0].Code != plan.WireThin || found[0].Rank != plan.Stop || !slices.Equal(found[0].About, []plan.Ref{"zones/z2", "zones/z3"}) {
		t.Fatalf("found %+v", found)
	}
	f := found[0]
	if want := "The valve of zone 3 gets 19.1 V as it opens through 1034 ft of 18 AWG and a common of 18 AWG, where 20 V are the least; so does 1 other valve."; f.Sentence != want {
		t.Errorf("%q, want %q", f.Sentence, want)
	}
	if want := "A common of 16 AWG with wires to the valves of 18 AWG at the farthest would do: take these, or leave both sizes open."; f.Do != want {
		t.Errorf("%q, want %q", f.Do, want)
	}
	y.Wiring = plan.Wiring{HotAWG: 18, CommonAWG: 14}
	if found := Check(y.Plan, y.digs, Of(y.Plan, y.digs)); len(found) > 0 {
		t.Errorf("thick enough, and yet %v", found)
	}
	y = line(9500)
	found = Check(y.Plan, y.digs, Of(y.Plan, y.digs))
	if len(found) != 1 || !strings.HasPrefix(found[0].Do, "No wire sold for valves does") {
		t.Errorf("found %+v", found)
	}
}

// What is there already is neither laid nor bought, and takes no gauge.
func TestExistingValvesHaveTheirWire(t *testing.T) {
	t.Parallel()
	y := line(100, 200)
	z := y.Zones["z2"]
	z.Status = plan.Existing
	y.Zones["z2"] = z
	w := Of(y.Plan, y.digs)
	if len(w.Runs) != 2 || w.Runs[1].New || w.Runs[1].Hot != 0 || w.Used != 2 || len(w.Stretches) != 1 || len(w.Cables) != 1 || w.Cables[0].Conductors != 3 {
		t.Errorf("%+v", w)
	}
	z = y.Zones["z1"]
	z.Status = plan.Existing
	y.Zones["z1"] = z
	w = Of(y.Plan, y.digs)
	if w.Says != "No wire is to be laid." || len(w.Cables) > 0 || w.Conduit > 0 {
		t.Errorf("%q, %v", w.Says, w.Cables)
	}
}

func TestWaysThatAreMissingAreSaid(t *testing.T) {
	t.Parallel()
	y := line(100, 200)
	y.digs.Ways[1].Missing, y.digs.Ways[1].Segments = "no wire run leads from the controller to the trench", nil
	w := Of(y.Plan, y.digs)
	if want := "18 AWG direct-burial, 3 conductors, 110 ft. No way is drawn for the wire of 1 valve yet."; w.Says != want {
		t.Errorf("%q, want %q", w.Says, want)
	}
	if r := w.Runs[1]; r.Known || r.Missing == "" || r.Length > 0 {
		t.Errorf("%+v", r)
	}
	if w = Of(newYard().Plan, &trench.Digs{}); w.Says != "No valve is placed that wire could lead to." {
		t.Errorf("%q", w.Says)
	}
}

func TestSensorsLeads(t *testing.T) {
	t.Parallel()
	y := line(100)
	y.Sensors = map[plan.ID]plan.Sensor{"a": {Kind: "rain", HeightFt: new(units.Feet(9))}, "b": {Kind: "rain", Wireless: true}}
	y.lead("sensors/a", 1, -1)
	y.lead("sensors/b", 1, -1)
	w := Of(y.Plan, y.digs)
	c := w.Cables[len(w.Cables)-1]
	// 100 ft, 2 of coils, 6 up to the controller, a loop in the box and one at the end, 9 up the wall.
	if len(w.Cables) != 2 || c.What != "sensor" || c.Conductors != 2 || float64(c.Laid) != 100+2+6+2.5+9 {
		t.Errorf("%+v", w.Cables)
	}
	if s := w.Stretches[0]; s.Sensors != 2 || s.Conductors != 3 {
		t.Errorf("%+v", s)
	}
}

// A valve with no box has its splices in the soil.
func TestRow36_ValveWithoutABox(t *testing.T) {
	t.Parallel()
	y := line(100)
	place := y.dig(1, orb.Point{200, 0}, trench.Lawn)
	y.lead("supply", place, -1)
	w := Of(y.Plan, y.digs)
	found := Check(y.Plan, y.digs, w)
	if len(found) != 1 || found[0].Code != plan.SpliceUnboxed || found[0].Sentence != "The wires of the master valve are spliced where no box stands." || *found[0].At != (orb.Point{200, 0}) {
		t.Errorf("found %+v", found)
	}
	y.box(place, trench.RoundBox)
	if found := Check(y.Plan, y.digs, Of(y.Plan, y.digs)); len(found) > 0 {
		t.Errorf("boxed, and yet %v", found)
	}
}

// Cable has conductors; strands are the copper within one. It is listed for the soil,
// and its splices are.
func TestE19_WordsOfWire(t *testing.T) {
	t.Parallel()
	all := Cautions(units.Metric)
	for _, y := range []*yard{line(40, 80), forked("", Multi), forked("", Single), line(3000)} {
		w := Of(y.Plan, y.digs)
		all = append(all, w.Says, w.Why)
		for _, c := range w.Cables {
			all = append(all, c.Why)
		}
		for _, r := range w.Runs {
			all = append(all, r.Sum)
		}
	}
	said := strings.Join(all, "\n")
	for _, want := range []string{"direct burial", "listed for wet ground", "only in boxes", "Local code decides how deep", "electrician", "3.05 m", "conductors"} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing says %q:\n%s", want, said)
		}
	}
	for _, word := range []string{"strand", "{", "%!", "NaN", "Inf", "  "} {
		if strings.Contains(said, word) {
			t.Errorf("it says %q:\n%s", word, said)
		}
	}
}
