package coverage_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// lot is a plan under construction, for a mistake at a time.
type lot struct{ *plan.Plan }

// newLot is a lawn of so many feet at (0, 0), one zone, and a supply that gives
// plenty. The edge lip is 0: heads stand on the edges.
func newLot(w, h float64) lot {
	p := plan.Empty("Lot", units.US)
	none := units.Feet(0)
	p.Options.EdgeLipFt, p.Options.WallLipFt = &none, &none
	p.Supply.DesignFlowGPM, p.Supply.Measured = 100, true
	p.Areas = map[plan.ID]plan.Area{}
	p.Heads, p.Zones = map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{"z1": {Name: "Front", Station: 1}}
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}
	l := lot{p}
	l.area("lawn", plan.Planting, 0, 0, w, h)
	return l
}

func (l lot) area(id plan.ID, kind plan.Kind, x0, y0, x1, y1 float64) {
	l.Areas[id] = plan.Area{Name: plan.Capital(string(id)), Kind: kind, Outline: geom.Outline{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}
}

// edit changes an area.
func (l lot) edit(id plan.ID, f func(*plan.Area)) {
	a := l.Areas[id]
	f(&a)
	l.Areas[id] = a
}

// head puts a head of a built-in nozzle on the lot; its tag is its number.
func (l lot) head(nozzle, body string, x, y, start, sweep float64) *plan.Head {
	n, ok := catalog.FindNozzle(nozzle)
	if !ok {
		panic("no nozzle " + nozzle)
	}
	b, ok := catalog.FindBody(body)
	if !ok {
		panic("no body " + body)
	}
	l.Nozzles[plan.ID(nozzle)], l.Bodies[plan.ID(body)] = n, b
	id := plan.ID(fmt.Sprintf("h%02d", len(l.Heads)+1))
	h := plan.Head{
		Tag: fmt.Sprint(len(l.Heads) + 1), Nozzle: plan.ID(nozzle), Body: plan.ID(body), Zone: "z1",
		X: units.Feet(x), Y: units.Feet(y), StartDeg: units.Degrees(start), SweepDeg: units.Degrees(sweep),
	}
	l.Heads[id] = h
	return &h
}

// set changes the last head put on the lot.
func (l lot) set(f func(*plan.Head)) {
	id := plan.ID(fmt.Sprintf("h%02d", len(l.Heads)))
	h := l.Heads[id]
	f(&h)
	l.Heads[id] = h
}

// square puts four quarter sprays of 10 ft in the corners of a lawn.
func (l lot) square(side float64) {
	l.head("spray-10-q", "body-4-reg", 0, 0, 0, 90)
	l.head("spray-10-q", "body-4-reg", side, 0, 90, 90)
	l.head("spray-10-q", "body-4-reg", side, side, 180, 90)
	l.head("spray-10-q", "body-4-reg", 0, side, 270, 90)
}

func (l lot) check(t *testing.T) []plan.Finding {
	t.Helper()
	f := coverage.New()
	r, _, err := f.Update(context.Background(), l.Plan)
	if err != nil {
		t.Fatal(err)
	}
	return coverage.Check(l.Plan, r, f)
}

// of returns the findings of a code.
func of(found []plan.Finding, code string) []plan.Finding {
	return slices.DeleteFunc(slices.Clone(found), func(f plan.Finding) bool { return f.Code != code })
}

// want holds the check of a lot to one finding of a code and rank with some
// words in it, or to none of the code when rank is "".
func (l lot) want(t *testing.T, code string, rank plan.Rank, words ...string) {
	t.Helper()
	got := of(l.check(t), code)
	if rank == "" {
		if len(got) > 0 {
			t.Errorf("found %s: %s", code, got[0].Sentence)
		}
		return
	}
	if len(got) != 1 || got[0].Rank != rank {
		t.Errorf("found %+v, want one %s of rank %s", got, code, rank)
		return
	}
	for _, w := range words {
		if !strings.Contains(got[0].Sentence, w) {
			t.Errorf("%s does not say %q: %s", code, w, got[0].Sentence)
		}
	}
}

// Limits: head to head is 1.0 throw; up to 1.1 worth mending; past it wrong.
func TestSpacingLimits(t *testing.T) {
	for _, c := range []struct {
		side float64
		rank plan.Rank
	}{{9, ""}, {10, ""}, {10.5, plan.Mend}, {11, plan.Mend}, {11.1, plan.Stop}, {14, plan.Stop}} {
		l := newLot(c.side, c.side)
		l.square(c.side)
		l.want(t, plan.SpacingWide, c.rank)
	}
}

func TestSpacingCountsTheLongerThrow(t *testing.T) {
	// A 5 ft spray beside a 12 ft one that throws at it is reached, 10 ft off.
	l := newLot(10, 5)
	l.head("spray-12-q", "body-4-reg", 0, 0, 0, 90)
	l.head("spray-5-q", "body-4-reg", 10, 0, 90, 90)
	l.want(t, plan.SpacingWide, "")
}

func TestHeadsToBeRemovedWaterNothing(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	l.set(func(h *plan.Head) { h.Status = plan.Remove })
	l.want(t, plan.CornerBare, plan.Mend)
	l.set(func(h *plan.Head) { h.Status = plan.Existing })
	l.want(t, plan.CornerBare, "")
}

// Limits: within 10 % of the zone's rate fine, past 25 % wrong.
func TestMatchedRateLimits(t *testing.T) {
	for _, c := range []struct {
		times float64
		rank  plan.Rank
	}{{1, ""}, {1.1, ""}, {0.9, ""}, {1.12, plan.Mend}, {0.76, plan.Mend}, {1.25, plan.Mend}, {1.3, plan.Stop}, {0.7, plan.Stop}} {
		l := newLot(10, 10)
		l.square(10)
		l.head("spray-10-h", "body-4-reg", 5, 0, 0, 180)
		n := l.Nozzles["spray-10-h"]
		n.Rows = slices.Clone(n.Rows)
		for i := range n.Rows { // 0.83 is twice the quarter's 0.415
			n.Rows[i].Flow = units.GPM(float64(l.Nozzles["spray-10-q"].Rows[i].Flow) * 2 * c.times)
		}
		l.Nozzles["spray-10-h"] = n
		l.want(t, plan.RatesMixed, c.rank)
	}
}

func TestTurningDownWithinTheUsualIsNotMixing(t *testing.T) {
	// 8 ft out of 10 puts down 1.25 times the rate: the set is matched all the same.
	l := newLot(8, 8)
	l.square(8)
	eight := units.Feet(8)
	l.set(func(h *plan.Head) { h.ThrowFt = &eight })
	l.want(t, plan.RatesMixed, "")
	l.want(t, plan.TurnedDownFar, "")
	l.set(func(h *plan.Head) { seven := units.Feet(7.4); h.ThrowFt = &seven })
	l.want(t, plan.TurnedDownFar, plan.Mend, "Head 4", `10' 0"`, "26 %", "25 % is usual")
}

func TestTurnedDownByExactlyAQuarterIsUsual(t *testing.T) {
	l := newLot(12, 12)
	l.head("stream-16", "body-4", 0, 0, 0, 90)
	l.set(func(h *plan.Head) { twelve := units.Feet(12); h.ThrowFt = &twelve })
	l.want(t, plan.TurnedDownFar, "")
}

func TestRotorAdviceNamesTheNozzle(t *testing.T) {
	l := newLot(60, 60)
	for _, at := range [][4]float64{{0, 0, 0, 90}, {30, 0, 0, 180}, {30, 30, 0, 360}, {0, 30, 270, 180}} {
		l.head("rotor-30-1_5", "body-rotor-4", at[0], at[1], at[2], at[3])
	}
	l.want(t, plan.RatesMixed, "")
	l.want(t, plan.RotorNozzleByArc, plan.Stop, "heads 1 and 3", "head 1 (90°) Rotor 30 ft, 0.75 gpm nozzle", "head 3 (360°) Rotor 30 ft, 3 gpm nozzle")
}

func TestSprayOnAStreamZoneGetsStreamsWhereTheyFit(t *testing.T) {
	l := newLot(16, 16)
	for i, at := range [][2]float64{{0, 0}, {16, 0}, {16, 16}} {
		l.head("stream-16", "body-4", at[0], at[1], float64(i)*90, 90)
	}
	l.head("spray-15-q", "body-4", 0, 16, 270, 90)
	l.want(t, plan.RatesMixed, plan.Stop, "head 4 puts down 1.60 in/h", "3.8 times", "Put stream nozzles like the others' in the same body.")
}

func TestHeadsKeepOffWallsButNotOffHedges(t *testing.T) {
	fence := func(kind plan.BarrierKind, status plan.Status) lot {
		l := newLot(10, 10)
		l.square(10)
		l.Barriers = map[plan.ID]plan.Barrier{"b1": {Kind: kind, Status: status, HeightFt: 6, Line: geom.Line{{X: -5, Y: 0}, {X: 15, Y: 0}}}}
		return l
	}
	fence(plan.Fence, plan.New).want(t, plan.SprayOnWall, plan.Mend, "Heads 1 and 2", `less than 12"`)
	fence(plan.Hedge, plan.New).want(t, plan.SprayOnWall, "")
	fence(plan.Fence, plan.Remove).want(t, plan.SprayOnWall, "")
	metric := fence(plan.Wall, plan.New)
	metric.Show = units.Metric
	metric.want(t, plan.SprayOnWall, plan.Mend, "less than 305 mm")
}

func TestHeadOnPavingIsWrong(t *testing.T) {
	l := newLot(10, 10)
	l.area("walk", plan.Paving, -4, 0, 0, 10)
	l.square(10) // heads 1 and 4 on the very edge
	l.want(t, plan.HeadCloseToPaving, plan.Stop, "Heads 1 and 4 stand on paving")
	l = newLot(10, 10)
	l.area("walk", plan.Paving, -4, 0, -0.25, 10)
	l.square(10)
	l.want(t, plan.HeadCloseToPaving, plan.Mend, `3"`, `where 4" is the least`)
	l.area("walk", plan.Paving, -4, 0, -0.34, 10)
	l.want(t, plan.HeadCloseToPaving, "")
}

func TestThinStrips(t *testing.T) {
	strip := func(width float64, nozzle string, sides int) lot {
		l := newLot(30, width)
		l.area("drive", plan.Paving, 0, width, 30, width+10)
		if sides > 1 {
			l.area("street", plan.RightOfWay, 0, -10, 30, 0)
		}
		if strings.HasPrefix(nozzle, "strip") {
			l.head(nozzle, "body-4-reg", 15, 0.4, 0, 0)
		} else {
			l.head(nozzle, "body-4-reg", 15, 0.4, 0, 180)
		}
		return l
	}
	strip(3.9, "spray-5-h", 2).want(t, plan.NarrowStrip, plan.Stop, `48"`)
	strip(3.9, "strip-side-30", 2).want(t, plan.NarrowStrip, plan.Stop)
	strip(6, "spray-6-h", 2).want(t, plan.NarrowStrip, plan.Notice, `10' 0"`)
	strip(6, "strip-side-30", 2).want(t, plan.NarrowStrip, "")
	strip(11, "spray-10-h", 2).want(t, plan.NarrowStrip, "")
	strip(3.9, "spray-5-h", 1).want(t, plan.NarrowStrip, "")
}

func TestBodyHeights(t *testing.T) {
	for _, c := range []struct {
		cover plan.Cover
		mow   units.Inches
		body  string
		rank  plan.Rank
	}{
		{plan.Turf, 0, "body-4-reg", ""}, {plan.Turf, 3, "body-4-reg", ""}, {plan.Turf, 3.5, "body-4-reg", plan.Mend}, {plan.Turf, 4, "body-6-reg", ""},
		{plan.Flowers, 0, "body-6-reg", plan.Mend}, {plan.Shrubs, 0, "body-12-reg", ""}, {plan.TreeBed, 0, "body-4-reg", ""},
	} {
		l := newLot(10, 10)
		l.edit("lawn", func(a *plan.Area) { a.Planting, a.MowHeightIn = c.cover, c.mow })
		l.head("spray-10-q", c.body, 0, 0, 0, 90)
		l.want(t, plan.PopupShort, c.rank)
	}
}

func TestThingsInTheThrow(t *testing.T) {
	tree := func(x, y float64) lot {
		l := newLot(15, 15)
		l.head("spray-15-q", "body-4-reg", 0, 0, 0, 90)
		l.Trees = map[plan.ID]plan.Tree{"t1": {Name: "the oak", X: units.Feet(x), Y: units.Feet(y), TrunkIn: 10}}
		return l
	}
	tree(5, 5).want(t, plan.ThingInThrow, plan.Mend, "The oak stands in the throw of head 1", `7' 1"`)
	tree(8, 8).want(t, plan.ThingInThrow, "")   // 11 ft off
	tree(5, 0.1).want(t, plan.ThingInThrow, "") // at the arc's very end
	tree(-5, -5).want(t, plan.ThingInThrow, "") // behind the head
	hedge := func(height units.Feet, y float64) lot {
		l := newLot(20, 15)
		l.head("spray-15-h", "body-4-reg", 10, 0, 0, 180)
		l.Barriers = map[plan.ID]plan.Barrier{"b1": {Name: "low hedge", Kind: plan.Hedge, HeightFt: height, Line: geom.Line{{X: 5, Y: y}, {X: 15, Y: y}}}}
		return l
	}
	// 7.5 ft out, half of the throw, the stream of 28° is at 7.5·tan 28°·½ + 4 in = 2.3 ft.
	hedge(3, 7.5).want(t, plan.ThingInThrow, plan.Mend, "Low hedge stands in the throw")
	hedge(2, 7.5).want(t, plan.ThingInThrow, "")
	hedge(6, 15).want(t, plan.ThingInThrow, "") // along the far edge
}

func TestThingsToKeepDry(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	l.KeepDry = map[plan.ID]plan.KeepDry{"k1": {Name: "the meter", X: 5, Y: 5}}
	l.want(t, plan.ThingInThrow, plan.Mend, "The meter is to stay dry", "heads 1, 2, 3 and 4 wet it")
	l.KeepDry["k1"] = plan.KeepDry{X: 40, Y: 5}
	l.want(t, plan.ThingInThrow, "")
}

func TestHydrozones(t *testing.T) {
	two := func(f func(*plan.Area)) lot {
		l := newLot(10, 10)
		l.square(10)
		l.area("bed", plan.Planting, 20, 0, 30, 10)
		l.edit("bed", f)
		l.head("spray-10-q", "body-12-reg", 20, 0, 0, 90)
		return l
	}
	two(func(*plan.Area) {}).want(t, plan.PlantingsMixed, "")
	two(func(a *plan.Area) { a.Planting = plan.Shrubs }).want(t, plan.PlantingsMixed, plan.Mend, "Zone 1 (Front) waters shrubs (Bed) and turf (Lawn) together")
	two(func(a *plan.Area) { a.Exposure = plan.Shade }).want(t, plan.ExposureMixed, plan.Mend, "shade (Bed) and sun (Lawn)")
	two(func(a *plan.Area) { a.Soil = "clay" }).want(t, plan.ExposureMixed, "") // the lawn's is not said
	soils := two(func(a *plan.Area) { a.Soil = "clay" })
	soils.edit("lawn", func(a *plan.Area) { a.Soil = "sandy_loam" })
	soils.want(t, plan.ExposureMixed, plan.Mend, "clay (Bed) and sandy loam (Lawn)")
	slope := newLot(10, 30)
	slope.edit("lawn", func(a *plan.Area) { a.SlopeShare, a.SlopeTowardDeg = 0.3, 270 })
	slope.head("spray-10-h", "body-4-reg", 5, 0, 0, 180)
	slope.head("spray-10-h", "body-4-reg", 5, 30, 180, 180)
	slope.want(t, plan.ExposureMixed, plan.Mend, "the top (head 2) and the toe (head 1) of Lawn, which falls 30 %")
	slope.edit("lawn", func(a *plan.Area) { a.SlopeShare = 0.2 })
	slope.want(t, plan.ExposureMixed, "")
}

func TestNothingAssigned(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	l.area("bed", plan.Planting, 40, 0, 50, 10)
	l.want(t, plan.NothingAssigned, plan.Mend, "Bed is to be watered overhead, but no head stands for it")
	for _, w := range []plan.WateringKind{plan.ByHand, plan.NoWatering, plan.PointSource} {
		l.edit("bed", func(a *plan.Area) { a.Watering = w })
		l.want(t, plan.NothingAssigned, "")
	}
	l.want(t, plan.NoHeadsNeeded, plan.Notice, "Bed is watered by point source")
	// A trace over the edge, as the raster makes where the lot stands askew, is no
	// water; and what no head waters is not told as a dry patch as well.
	skew := newLot(10, 10)
	skew.square(10)
	skew.area("bed", plan.Planting, 0, 10, 10, 20)
	h := skew.Heads["h03"]
	h.StartDeg = 179.9
	skew.Heads["h03"] = h
	skew.want(t, plan.NothingAssigned, plan.Mend, "Bed is to be watered overhead, but no head stands for it")
	skew.want(t, plan.DryPatch, "")
	// Heads that cannot run at the pressure planned still stand there.
	off := newLot(10, 10)
	off.square(10)
	z := off.Zones["z1"]
	z.Pressure = 80
	off.Zones["z1"] = z
	off.want(t, plan.NothingAssigned, "")
	begun := newLot(10, 10)
	begun.want(t, plan.NothingAssigned, plan.Notice, "Lawn is to be watered overhead and has no head yet")
	begun.area("bed", plan.Planting, 40, 0, 50, 10)
	begun.want(t, plan.NothingAssigned, plan.Notice, "Bed and Lawn are to be watered overhead and have no head yet")
}

func TestOutsideTheTable(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	z := l.Zones["z1"]
	z.Pressure = 10
	l.Zones["z1"] = z
	l.want(t, plan.OutsideTable, plan.Stop, "Heads 1, 2, 3 and 4 ask Spray 10 ft, quarter for a pressure of 10 psi", "the nearest it holds is 20 psi")
	l.Show = units.Metric
	l.want(t, plan.OutsideTable, plan.Stop, "0.69 bar", "1.38 bar")
	wide := newLot(10, 10)
	wide.head("spray-10-q", "body-4-reg", 0, 0, 0, 120)
	wide.want(t, plan.OutsideTable, plan.Stop, "an arc of 120°", "nearest it holds is 90°")
}

// A plan with nothing in it, or only half drawn, has no weakness yet.
func TestEmptyAndHalfDrawnPlans(t *testing.T) {
	empty := lot{plan.Empty("", units.US)}
	if got := empty.check(t); len(got) > 0 {
		t.Errorf("an empty plan has %v", got)
	}
	one := newLot(20, 20)
	one.head("spray-10-q", "body-4-reg", 0, 0, 0, 90)
	for _, f := range one.check(t) {
		if f.Code == plan.SpacingWide || f.Code == plan.NeighbourFacesAway {
			t.Errorf("one head alone is said to be wrong: %s", f.Sentence)
		}
	}
}

// BenchmarkCheck300 is the findings of a lawn of 300 heads.
func BenchmarkCheck300(b *testing.B) {
	l := newLot(190, 140)
	for i := range 20 {
		for j := range 15 {
			l.head("spray-10-f", "body-4-reg", float64(i)*10, float64(j)*10, 0, 360)
		}
	}
	f := coverage.New()
	r, _, err := f.Update(context.Background(), l.Plan)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		coverage.Check(l.Plan, r, f)
	}
}
