package coverage_test

import (
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// valve puts the valve of zone 1 at a place.
func (l lot) valve(x, y float64) {
	z := l.Zones["z1"]
	z.ValveAt = &plan.Spot{X: units.Feet(x), Y: units.Feet(y)}
	l.Zones["z1"] = z
}

// every changes each head.
func (l lot) every(f func(*plan.Head)) {
	for id, h := range l.Heads {
		f(&h)
		l.Heads[id] = h
	}
}

func TestPlacesForValves(t *testing.T) {
	l := newLot(30, 30)
	l.area("bed", plan.Planting, 0, -10, 30, 0)
	l.area("walk", plan.Paving, 0, -14, 30, -10)
	l.area("house", plan.Building, 40, 0, 60, 30)
	l.Site.Lot = geom.Outline{{X: -5, Y: -14}, {X: 60, Y: -14}, {X: 60, Y: 28}, {X: -5, Y: 28}}
	l.Barriers = map[plan.ID]plan.Barrier{
		"b1": {Name: "the hedge", Kind: plan.Hedge, HeightFt: 4, Line: geom.Line{{X: 0, Y: -5}, {X: 10, Y: -5}}},
		"b2": {Name: "the fence", Kind: plan.Fence, HeightFt: 4, Line: geom.Line{{X: 20, Y: -5}, {X: 30, Y: -5}}},
	}
	l.Trees = map[plan.ID]plan.Tree{
		"t1": {Name: "the oak", X: 15, Y: 15, TrunkIn: 8}, // 1 ft for each inch
		"t2": {Name: "the elm", X: 28, Y: 15, TrunkIn: 8, RootZoneFt: 3},
	}
	l.Elevations = map[plan.ID]plan.Elevation{
		"e1": {X: 0, Y: 0}, "e2": {X: 30, Y: 0}, "e3": {X: 0, Y: 30, Z: 3}, "e4": {X: 30, Y: 30, Z: 3},
	}
	for _, c := range []struct {
		x, y float64
		says string // "" when the place is good
	}{
		{20, -4, ""}, {20, 29, "off the lot"}, {-20, 0, "off the lot"}, {-3, 5, ""}, // nothing is drawn there
		{15, -12, "on Walk"}, {50, 10, "on House"},
		{25, -9.5, `6" from paving, where 12" is the least`}, {25, -9, ""},
		{5, -6, "under the hedge"}, {5, -7, ""}, {25, -5, ""},
		{15, 10, `in the root zone of the oak, 5' 0" from the trunk`}, {15, 25, ""},
		{28, 17, "in the root zone of the elm"}, {28, 19, ""},
		{4, 2, "at the low end of Lawn, where water gathers"}, {4, 4, ""},
		{4, -2, ""}, // a bed may lie low
	} {
		l.valve(c.x, c.y)
		rank := plan.Mend
		if c.says == "" {
			rank = ""
		}
		l.want(t, plan.ValvePlace, rank, "The valve of zone 1 (Front) stands "+c.says)
	}
	l.Elevations = nil
	l.valve(4, 2)
	l.want(t, plan.ValvePlace, "") // how the ground falls is not known
	l.valve(15, -12)
	z := l.Zones["z1"]
	z.Status = plan.Existing
	l.Zones["z1"] = z
	l.want(t, plan.ValvePlace, plan.Notice, "on Walk")
	l.Site.Lot = nil
	l.valve(-20, 0)
	l.want(t, plan.ValvePlace, "") // no lot, and nothing drawn
}

func TestNothingIsDugWhereNoOneMayDig(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	l.area("gas", plan.NoDig, -1, -1, 1, 11)
	l.valve(0, 5)
	l.want(t, plan.NoDigging, plan.Stop, "Heads 1 and 4 and the valve of zone 1 (Front) stand on Gas, which is not to be dug")
	l.every(func(h *plan.Head) { h.Status = plan.Existing })
	l.want(t, plan.NoDigging, plan.Stop, "The valve of zone 1 (Front) stands on Gas")
	z := l.Zones["z1"]
	z.Status = plan.Existing
	l.Zones["z1"] = z
	l.want(t, plan.NoDigging, "") // all of it is there already
}

func TestRainSensors(t *testing.T) {
	sensor := func(x, y units.Feet, kind string, status plan.Status) lot {
		l := newLot(10, 10)
		l.square(10)
		l.area("house", plan.Building, 0, 20, 10, 30)
		l.Sensors = map[plan.ID]plan.Sensor{"s1": {Kind: kind, X: x, Y: y, Status: status}}
		return l
	}
	sensor(5, 5, "rain", plan.New).want(t, plan.SensorWetted, plan.Mend, "The rain sensor on Lawn stands in the throw of heads 1, 2, 3 and 4, which put")
	sensor(5, 5, "soil", plan.New).want(t, plan.SensorWetted, "")
	sensor(5, 5, "rain", plan.Remove).want(t, plan.SensorWetted, "")
	sensor(5, 25, "rain", plan.Existing).want(t, plan.SensorWetted, plan.Notice, "drawn inside House")
	sensor(5, 20.5, "rain", plan.New).want(t, plan.SensorWetted, "") // on its wall
	sensor(30, 5, "rain", plan.New).want(t, plan.SensorWetted, "")
}

// A sensor whose height is said is held to it: over the streams that pass it is dry,
// low at a wall it hangs under the eaves.
func TestRow39_SensorsByHeightAndUnderTrees(t *testing.T) {
	sensor := func(x, y units.Feet, height *units.Feet) lot {
		l := newLot(10, 10)
		l.square(10)
		l.area("house", plan.Building, 0, 20, 10, 30)
		l.Trees = map[plan.ID]plan.Tree{"t1": {Name: "Oak", X: 40, Y: 10, TrunkIn: 10}, "t2": {Name: "Gone", X: 60, Y: 10, TrunkIn: 10, Status: plan.Remove}}
		l.Sensors = map[plan.ID]plan.Sensor{"s1": {Kind: "rain", X: x, Y: y, HeightFt: height}}
		return l
	}
	up := func(h units.Feet) *units.Feet { return &h }
	for _, c := range []struct {
		x, y   units.Feet
		height *units.Feet
		rank   plan.Rank
		words  string
	}{
		{5, 5, nil, plan.Mend, "stands in the throw of heads 1, 2, 3 and 4"},
		{5, 5, up(1), plan.Mend, "stands in the throw of heads 1, 2, 3 and 4"},
		{5, 5, up(6), "", ""}, // no stream of 10 ft sprays comes so high
		{5, 5, up(4), plan.Notice, "The rain sensor is 4' 0\" over the ground."},
		{5, 25, up(6), plan.Notice, "drawn inside House"},
		{5, 25, up(14), "", ""}, // on the roof
		{5, 20, up(9), "", ""},
		{5, 20, up(7), plan.Notice, "hangs 7' 0\" up at the wall of House: eaves"},
		{5, 18.5, up(7), plan.Notice, "hangs 7' 0\" up at the wall of House: eaves"},
		{5, 17.5, up(7), "", ""},
		{5, 20, nil, "", ""},
		{35, 10, nil, plan.Mend, "stands under Oak, 5 ft from its trunk"},
		{35, 10, up(9), plan.Mend, "stands under Oak"},
		{51, 10, up(9), "", ""},
		{60, 11, up(9), "", ""},
		{30, 5, up(5), "", ""},
		{30, 5, up(4.9), plan.Notice, "The rain sensor is 4' 11\" over the ground."},
	} {
		sensor(c.x, c.y, c.height).want(t, plan.SensorWetted, c.rank, c.words)
	}
}

// Rows of full circles one throw apart in the row, so far between the rows.
func rows(between float64) lot {
	l := newLot(60, 3*between+20)
	for j := range 4 {
		for i := range 7 {
			l.head("spray-10-f", "body-4-reg", 10*float64(i), 10+between*float64(j), 0, 360)
		}
	}
	return l
}

// Along its row each head is reached; across, the limit is the long side of a
// rectangle, 1.2 throws; from 1.3 on it is wrong to build.
func TestRowsPulledApart(t *testing.T) {
	rows(10).want(t, plan.SpacingWide, "")
	rows(11.9).want(t, plan.SpacingWide, "")
	rows(12.1).want(t, plan.SpacingWide, plan.Mend, "1.21 times their throw")
	rows(12.9).want(t, plan.SpacingWide, plan.Mend, "1.29 times their throw")
	rows(13.1).want(t, plan.SpacingWide, plan.Stop, "1.3 times their throw")
	// A larger head beyond the gap that throws over it bridges it.
	l := rows(12.9)
	l.every(func(h *plan.Head) {
		if h.X > 5 {
			h.Status = plan.Remove
		}
	})
	l.want(t, plan.SpacingWide, plan.Stop) // no longer a row: the nearest head is 1.29 throws away
	for y := 10.0; y < 50; y += 8 {
		l.head("stream-25-360", "body-4-reg40", 9, y, 0, 360)
	}
	l.want(t, plan.SpacingWide, "")
}

// Two percent of the water of its zone, however little that is of the plan's.
func TestPavingIsJudgedZoneByZone(t *testing.T) {
	l := newLot(60, 60)
	l.edit("lawn", func(a *plan.Area) {
		a.Outline = geom.Outline{{X: -20, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 60}, {X: -20, Y: 60}}
	})
	l.area("walk", plan.Paving, -20, -10, 60, 0)
	for i := range 5 {
		for j := range 5 {
			l.head("spray-10-f", "body-4-reg", 10+10*float64(i), 12+10*float64(j), 0, 360)
		}
	}
	h := l.head("spray-10-f", "body-4-reg", 0, 9, 0, 360)
	l.Zones["z2"] = plan.Zone{Name: "Corner", Station: 2}
	h.Zone = "z2"
	l.Heads["h26"] = *h
	l.want(t, plan.ThrowOnPaving, "") // 9 ft off: a tenth of a percent
	h.Y = 7.5
	l.Heads["h26"] = *h
	l.want(t, plan.ThrowOnPaving, plan.Stop, "of its own water")
}
