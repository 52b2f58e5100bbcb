package plan_test

import (
	"fmt"
	"slices"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// mistake is one small lot with one mistake in it, and the same lot mended. The
// row is that of plan.Rules.
type mistake struct {
	row    int
	name   string
	wrong  func() *sketch
	mended func() *sketch
}

func (m mistake) file() string { return fmt.Sprintf("mistakes/%02d-%s.json", m.row, m.name) }
func (m mistake) mendedFile() string {
	return fmt.Sprintf("mistakes/%02d-%s-mended.json", m.row, m.name)
}

var mistakes = []mistake{
	{1, "rates-mixed", ratesMixed(1), ratesMixed(2)},
	{2, "rotor-nozzle-by-arc", rotorsByArc("1_5"), rotorsByArc("0_75")},
	{3, "heads-too-far", sprayRow(2), sprayRow(3)},
	{3, "dry-patch", dryPatch(45), dryPatch(90)},
	{3, "rows-stretched", bentLawn(21.4), bentLawn(16.8)},
	{4, "neighbour-faces-away", facesAway(90, 84), facesAway(0, 90)},
	{5, "no-corner-head", cornerHead(1.6), cornerHead(0.4)},
	{6, "arc-wets-walk", arcOverEdge("walk", plan.Paving, 110), arcOverEdge("walk", plan.Paving, 90)},
	{6, "zone-wets-walk", oneZoneOverWalk(102), oneZoneOverWalk(90)},
	{6, "arc-over-gravel", arcOverGravel(180), arcOverGravel(90)},
	{6, "arc-over-undrawn", arcOverUndrawn(180), arcOverUndrawn(90)},
	{6, "band-wetted", bandByWalk(setIn), bandByWalk(2)},
	{7, "spray-on-wall", byTheHouse(0.4), byTheHouse(1)},
	{8, "thin-strip", thinStrip(true), thinStrip(false)},
	{9, "close-to-paving", closeToWalk(0.15), closeToWalk(0.4)},
	{9, "own-set-back", byStreet(0.4), byStreet(0.5)},
	{10, "turned-down", smallLawn("spray-15", 10), smallLawn("spray-10", 0)},
	{11, "pop-up-short", flowerBed("body-4-reg"), flowerBed("body-12-reg")},
	{12, "tree-in-throw", treeByHeads(0.4, 25, 49.6), treeByHeads(0.4, 17, 33, 49.6)},
	{13, "beds-and-lawn", bedAndLawn(1), bedAndLawn(2)},
	{14, "sun-and-shade", sunAndShade(1), sunAndShade(2)},
	{15, "over-design-flow", longLawn(1), longLawn(2)},
	{16, "low-valve-flow", smallZone(10), smallZone(30)},
	{17, "flow-by-bucket", lawnOn(plan.Supply{FlowGPM: 12}), lawnOn(plan.Supply{FlowGPM: 12, ResidualPSI: 52})},
	{17, "pressure-alone", lawnOn(plan.Supply{StaticPSI: 60}), lawnOn(plan.Supply{StaticPSI: 60, FlowGPM: 12, ResidualPSI: 52})},
	{18, "meter-overdrawn", lawnOn(plan.Supply{DesignFlowGPM: 18, MeterIn: 0.625}), lawnOn(plan.Supply{DesignFlowGPM: 18, MeterIn: 0.75})},
	{21, "spray-misting", highPressure("body-4"), highPressure("body-4-reg")},
	{21, "no-regulator", lawnOn(plan.Supply{StaticPSI: 95, DesignFlowGPM: 12}), lawnOn(plan.Supply{StaticPSI: 95, DesignFlowGPM: 12, Regulator: true, RegulatorPSI: 60})},
	{24, "no-backflow", withoutBackflow(true), withoutBackflow(false)},
	{30, "low-heads", slopingLawn("body-4-reg"), slopingLawn("body-4-reg-check")},
	{34, "over-gas-line", gasLine(14), gasLine(20)},
	{34, "in-root-zone", rootZone(13), rootZone(10)},
	{35, "valve-by-walk", valveAt(15, -4.6, 0), valveAt(15, -7, 0)},
	{35, "valve-in-low-spot", valveAt(15, 0.5, 2), valveAt(15, -7, 2)},
	{38, "stations-short", stations(1), stations(3)},
	{38, "no-spare-station", stations(2), stations(3)},
	{39, "sensor-wetted", sensorAt(15, 7), sensorAt(15, 40)},
	{39, "sensor-under-roof", sensorAt(15, 25), sensorAt(15, 20)},
	{40, "steep-bank", steepBank(true), steepBank(false)},
	{40, "starts-few", clayLawn(1), clayLawn(4)},
	{41, "two-short-nights", nights("mon", "thu"), nights("mon", "wed", "fri")},
	{42, "nothing-assigned", bedWithout(plan.Overhead), bedWithout(plan.ByHand)},
	{42, "point-source", bedWithout(plan.PointSource), bedWithout(plan.ByHand)},
	{43, "edge-shared", twoRates(true), twoRates(false)},
	{44, "outside-table", throwBeyond(9), throwBeyond(8)},
	{44, "nozzle-does-not-fit", bodyOf("body-rotor-4"), bodyOf("body-4-reg")},
	{45, "head-without-zone", lastHeadIn(""), lastHeadIn("z1")},
	{45, "zone-without-heads", spareZone(true), spareZone(false)},
	{45, "valve-without-place", valvesPlaced(1), valvesPlaced(2)},
	{46, "existing-bought", oldZone(plan.New), oldZone(plan.Existing)},
	{47, "leaves-lot", arcOverEdge("neighbour", plan.RightOfWay, 110), arcOverEdge("neighbour", plan.RightOfWay, 90)},
	{48, "no-locate-request", locate(""), locate("2026-04-20")},
	{49, "heads-doubled", pastedHead(true), pastedHead(false)},
	{49, "areas-doubled", pastedLawn(true), pastedLawn(false)},
}

// allMistakes are those above, and those of the pipes.
func allMistakes() []mistake {
	return slices.Concat(mistakes, pipeworkMistakes, pressureMistakes, wireMistakes, trenchMistakes)
}

func TestSketchMistakes(t *testing.T) {
	for _, m := range allMistakes() {
		checkDrawn(t, m.file(), m.wrong().Plan)
		checkDrawn(t, m.mendedFile(), m.mended().Plan)
	}
}

func TestEveryMistakeHasItsRule(t *testing.T) {
	rows := map[int]bool{}
	for _, r := range plan.Rules {
		rows[r.Row] = true
	}
	drawn := map[int]bool{}
	for _, m := range allMistakes() {
		drawn[m.row] = true
		if !rows[m.row] {
			t.Errorf("%s shows a mistake that no rule looks for", m.file())
		}
	}
	for row := range rows {
		if !drawn[row] {
			t.Errorf("no lot shows the mistake of row %d", row)
		}
	}
}

// setIn is how far heads stand in from an edge: 0.4 ft, 5 in.
const setIn = 0.4

// grid places heads at the crossings of columns and rows, the outer ones on the
// edges of a lawn: a quarter in the corners, a half along the edges, a full
// circle inside. pick chooses the nozzle by the sweep.
func (s *sketch) grid(xs, ys []float64, throw float64, body plan.ID, pick func(sweep float64) plan.ID) {
	for j, y := range ys {
		for i, x := range xs {
			start, sweep := arcAt(i, len(xs), j, len(ys))
			s.head(pick(sweep), body, x, y, throw, start, sweep)
		}
	}
}

// arcAt is the arc of the head at one crossing.
//
//	270..360   180..360   180..270
//	270..450   0..360      90..270
//	  0..90      0..180    90..180
func arcAt(i, nx, j, ny int) (start, sweep float64) {
	west, east, south, north := i == 0, i == nx-1, j == 0, j == ny-1
	switch {
	case west && south:
		return 0, 90
	case east && south:
		return 90, 90
	case east && north:
		return 180, 90
	case west && north:
		return 270, 90
	case south:
		return 0, 180
	case east:
		return 90, 180
	case north:
		return 180, 180
	case west:
		return 270, 180
	}
	return 0, 360
}

// fixedSpray picks fixed nozzles of a size by their sweep.
func fixedSpray(size string) func(sweep float64) plan.ID {
	return func(sweep float64) plan.ID {
		return plan.ID(size + map[float64]string{90: "-q", 180: "-h", 360: "-f"}[sweep])
	}
}

func always(id plan.ID) func(float64) plan.ID { return func(float64) plan.ID { return id } }

// spread sets n places out evenly from one edge to the other, setIn inside.
func spread(from, to float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		at := from + setIn + (to-from-2*setIn)*float64(i)/float64(n-1)
		out[i] = float64(units.Feet(int(at*100+0.5))) / 100
	}
	return out
}

// sprayLawn is a lawn from (x, 0), a whole number of 15 ft squares long, with 15
// ft sprays at every corner of the squares.
func (s *sketch) sprayLawn(id plan.ID, name string, x float64, squares int) {
	to := x + 15*float64(squares)
	s.planting(id, name, plan.Turf, box(x, 0, to, 15))
	s.grid(spread(x, to, squares+1), spread(0, 15, 2), 0, "body-4-reg", fixedSpray("spray-15"))
}

// ratesMixed has a lawn of sprays and a lawn of streams, on one valve or on two.
func ratesMixed(valves int) func() *sketch {
	return func() *sketch {
		s := newSketch("Sprays and streams")
		s.valve(1, "Lawns")
		s.sprayLawn("lawn", "Side lawn", 0, 1)
		if valves == 2 {
			s.valve(2, "Front lawn")
		}
		s.planting("front", "Front lawn", plan.Turf, box(30, 0, 80, 25))
		s.grid(spread(30, 80, 3), spread(0, 25, 2), 0, "body-4-reg40", always("stream-25"))
		return s
	}
}

// rotorsByArc has rotors in the corners with the nozzle given, and 1.5 gpm along
// the sides.
func rotorsByArc(corner string) func() *sketch {
	return func() *sketch {
		s := newSketch("Rotors")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 60, 30))
		s.valve(1, "Lawn")
		s.grid(spread(0, 60, 3), spread(0, 30, 2), 0, "body-rotor-4", func(sweep float64) plan.ID {
			if sweep == 90 {
				return plan.ID("rotor-30-" + corner)
			}
			return "rotor-30-1_5"
		})
		return s
	}
}

// sprayRow is a lawn of 30 x 15 ft with 15 ft sprays in so many columns.
func sprayRow(columns int) func() *sketch {
	return func() *sketch {
		s := newSketch("Spray lawn")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 30, 15))
		s.valve(1, "Lawn")
		s.grid(spread(0, 30, columns), spread(0, 15, 2), 0, "body-4-reg", fixedSpray("spray-15"))
		return s
	}
}

// dryPatch is a lawn of 15 ft squares with one corner head set to an arc.
func dryPatch(sweep units.Degrees) func() *sketch {
	return func() *sketch {
		s := newSketch("Corner arc left narrow")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.reset("h1-1", func(h *plan.Head) { h.Nozzle, h.SweepDeg = "spray-15-adj", sweep })
		return s
	}
}

// facesAway is a lawn of close columns, the heads of which reach the south-east
// corner only from the middle and from the north-east: these two begin at an
// angle, and sweep so far.
func facesAway(middleStart, cornerSweep units.Degrees) func() *sketch {
	return func() *sketch {
		s := newSketch("Neighbours near enough")
		s.planting("ivy", "Ivy", plan.Groundcover, box(-10, -5, 28, 20))
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 17.8, 15))
		s.change("ivy", func(a *plan.Area) {
			a.Watering, a.Holes = plan.ByHand, []geom.Outline{s.Areas["lawn"].Outline}
		})
		s.valve(1, "Lawn")
		s.grid(spread(0, 17.8, 3), spread(0, 15, 2), 0, "body-4-reg", fixedSpray("spray-15"))
		s.reset("h1-2", func(h *plan.Head) {
			h.Nozzle, h.StartDeg, h.SweepDeg = "spray-15-adj", middleStart, 180-middleStart
		})
		s.reset("h1-6", func(h *plan.Head) { h.Nozzle, h.SweepDeg = "spray-15-adj", cornerSweep })
		return s
	}
}

// cornerHead has the south-west head so far along from its corner, and a head
// halfway up the west edge, so that only the corner itself is short of water.
func cornerHead(x units.Feet) func() *sketch {
	return func() *sketch {
		s := newSketch("Corner")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.head("spray-8-h", "body-4-reg", setIn, 7.5, 7, 270, 180)
		s.reset("h1-1", func(h *plan.Head) { h.X = x })
		return s
	}
}

// arcOverEdge has something along the south of a lawn, and a corner head whose
// arc begins so much before the edge that it ends square to it.
func arcOverEdge(what string, kind plan.Kind, sweep units.Degrees) func() *sketch {
	return func() *sketch {
		s := newSketch("Arc along the " + what)
		s.Site.Lot = box(0, 0, 30, 15)
		name := "Neighbour"
		if kind == plan.Paving {
			s.Site.Lot = box(0, -5, 30, 15)
			name = "Walk"
		}
		s.area("south", name, kind, box(0, -5, 30, 0))
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.reset("h1-1", func(h *plan.Head) {
			h.Nozzle, h.SweepDeg = "spray-15-adj", sweep
			if sweep > 90 {
				h.StartDeg = 360 + 90 - sweep
			}
		})
		return s
	}
}

// arcOverGravel has gravel south of a lawn, and a corner head whose arc ends
// square to the west edge and begins as far before the south edge as it is wide.
func arcOverGravel(sweep units.Degrees) func() *sketch {
	return func() *sketch {
		s := newSketch("Arc over gravel")
		s.area("gravel", "Gravel", plan.Ground, box(0, -20, 30, 0))
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.reset("h1-1", func(h *plan.Head) {
			h.Nozzle, h.SweepDeg = "spray-15-adj", sweep
			if sweep > 90 {
				h.StartDeg = 360 + 90 - sweep
			}
		})
		return s
	}
}

// arcOverUndrawn is arcOverGravel on a lot where nobody drew what lies south of the
// lawn.
func arcOverUndrawn(sweep units.Degrees) func() *sketch {
	return func() *sketch {
		s := arcOverGravel(sweep)()
		s.Name = "Arc over undrawn ground"
		delete(s.Areas, "gravel")
		s.Site.Lot = box(-5, -20, 35, 20)
		return s
	}
}

// steepBank is a bank of shrubs that falls 40 %, with sprays, or with rotors at a
// fifth of their rate; top and toe on valves of their own.
func steepBank(sprays bool) func() *sketch {
	return func() *sketch {
		s := newSketch("Steep bank")
		s.planting("bank", "Bank", plan.Shrubs, box(0, 0, 60, 30))
		s.change("bank", func(a *plan.Area) { a.SlopeShare, a.SlopeTowardDeg = 0.4, 270 })
		columns, rows, body, pick := 3, 2, plan.ID("body-rotor-12"), func(sweep float64) plan.ID {
			return map[float64]plan.ID{90: "rotor-30-0_75", 180: "rotor-30-1_5"}[sweep]
		}
		if sprays {
			columns, rows, body, pick = 5, 3, "body-12-reg", fixedSpray("spray-15")
		}
		station := 0
		for j, y := range spread(0, 30, rows) {
			for i, x := range spread(0, 60, columns) {
				if i == 0 || i == 3 && j == 1 { // the middle row takes two valves
					station++
					s.valve(station, fmt.Sprintf("Bank %d", station))
				}
				start, sweep := arcAt(i, columns, j, rows)
				s.head(pick(sweep), body, x, y, 0, start, sweep)
			}
		}
		return s
	}
}

// byTheHouse is a lawn whose north row stands so far off the house.
func byTheHouse(off float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Lawn by the house")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 30, 15))
		s.area("house", "House", plan.Building, box(0, 15, 30, 40))
		s.valve(1, "Lawn")
		s.grid(spread(0, 30, 3), []float64{setIn, 15 - off}, 0, "body-4-reg", fixedSpray("spray-15"))
		return s
	}
}

// thinStrip is a planting of 3.5 ft between two walks, sprayed by strip nozzles
// of its own width, or watered by hand.
func thinStrip(sprayed bool) func() *sketch {
	return func() *sketch {
		s := newSketch("Strip between walks")
		s.area("north", "North walk", plan.Paving, box(0, 3.5, 30, 7.5))
		s.area("south", "South walk", plan.Paving, box(0, -4, 30, 0))
		s.planting("strip", "Strip", plan.Turf, box(0, 0, 30, 3.5))
		s.valve(1, "Lawn and strip")
		s.sprayLawn("lawn", "Lawn", 40, 1)
		if !sprayed {
			s.change("strip", func(a *plan.Area) { a.Watering = plan.ByHand })
			return s
		}
		s.stripHead("strip-end-left-15", setIn, 0)
		s.stripHead("strip-side-30", 15, 0)
		s.stripHead("strip-end-right-15", 30-setIn, 180)
		return s
	}
}

// stripHead places a strip nozzle narrowed to 3.1 ft, its flow made to run at
// the rate of the sprays, 1.6 in/h.
func (s *sketch) stripHead(nozzle plan.ID, x, start float64) {
	s.head(nozzle, "body-4-reg", x, setIn, 0, start, 0)
	n := s.Nozzles[nozzle]
	narrow := *n.Strip
	narrow.Left, narrow.Right = min(narrow.Left, 2.7), min(narrow.Right, 2.7)
	n.Name, n.Strip = "Narrow "+n.Name, &narrow
	n.Rows = append([]catalog.Row(nil), n.Rows...)
	for i, r := range n.Rows {
		n.Rows[i].Flow = units.GPM(float64(int(float64(r.Flow)*(3.1/6)*(1.6/1.39)*1000+0.5)) / 1000)
	}
	s.Nozzles[nozzle] = n
}

// closeToWalk has one row of heads so far from a walk.
func closeToWalk(off float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Lawn by a walk")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 30, 15))
		s.area("walk", "Walk", plan.Paving, box(0, -4, 30, 0))
		s.valve(1, "Lawn")
		s.grid(spread(0, 30, 3), []float64{off, 15 - setIn}, 0, "body-4-reg", fixedSpray("spray-15"))
		return s
	}
}

// bandByWalk has one row of heads so far from a walk along which the plan keeps a
// band of 2 ft without overhead water.
func bandByWalk(off float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Lawn by a walk with a band")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 30, 17))
		s.area("walk", "Walk", plan.Paving, box(0, -4, 30, 0))
		s.valve(1, "Lawn")
		s.grid(spread(0, 30, 3), []float64{off, 17 - setIn}, 0, "body-4-reg", fixedSpray("spray-15"))
		s.Options.LocalRules = map[plan.RuleID]plan.LocalRule{plan.BandPaving: {Feet: 2, Source: "town code 12-3"}}
		return s
	}
}

// byStreet has one row of heads so far from a street from which the plan keeps
// heads 6 in off.
func byStreet(off float64) func() *sketch {
	return func() *sketch {
		s := closeToWalk(off)()
		s.Name = "Lawn by a street"
		s.change("walk", func(a *plan.Area) { a.Name, a.Kind = "Street", plan.RightOfWay })
		s.Options.LocalRules = map[plan.RuleID]plan.LocalRule{plan.SetBackStreet: {Feet: 0.5, Source: "town code 12-4"}}
		return s
	}
}

// smallLawn is a lawn of 20 x 10 ft with sprays of a size, set to a throw.
func smallLawn(size string, throw float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Small lawn")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 20, 10))
		s.valve(1, "Lawn")
		s.grid(spread(0, 20, 3), spread(0, 10, 2), throw, "body-4-reg", fixedSpray(size))
		return s
	}
}

// flowerBed is a bed of 20 x 10 ft on bodies of one kind.
func flowerBed(body plan.ID) func() *sketch {
	return func() *sketch {
		s := newSketch("Flower bed")
		s.planting("bed", "Bed", plan.Flowers, box(0, 0, 20, 10))
		s.valve(1, "Bed")
		s.grid(spread(0, 20, 3), spread(0, 10, 2), 0, body, fixedSpray("spray-10"))
		return s
	}
}

// treeByHeads is a lawn of 50 x 25 ft with a tree near its south edge and the
// heads of that edge at some places.
func treeByHeads(south ...float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Tree in the lawn")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 50, 25))
		s.Trees["t1"] = plan.Tree{Name: "Tree", X: 25, Y: 7, TrunkIn: 4, RootZoneFt: 6, Status: plan.Existing}
		s.valve(1, "Lawn")
		for i, x := range south {
			start, sweep := arcAt(i, len(south), 0, 2)
			throw := 25.0
			if i > 0 && i < len(south)-1 {
				throw = min(25, x, 50-x) // inside the lawn
			}
			s.stream(x, setIn, throw, start, sweep)
		}
		for i, x := range spread(0, 50, 3) {
			start, sweep := arcAt(i, 3, 1, 2)
			s.stream(x, 25-setIn, 25, start, sweep)
		}
		return s
	}
}

// bedAndLawn has a bed and a lawn on one valve or on two.
func bedAndLawn(valves int) func() *sketch {
	return func() *sketch {
		s := newSketch("Bed and lawn")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 1)
		if valves == 2 {
			s.valve(2, "Bed")
		}
		s.planting("bed", "Bed", plan.Flowers, box(30, 0, 50, 10))
		s.grid(spread(30, 50, 3), spread(0, 10, 2), 0, "body-12-reg", fixedSpray("spray-10"))
		return s
	}
}

// sunAndShade has a sunny and a shady lawn on one valve or on two.
func sunAndShade(valves int) func() *sketch {
	return func() *sketch {
		s := newSketch("Sun and shade")
		s.valve(1, "South lawn")
		s.sprayLawn("south", "South lawn", 0, 1)
		if valves == 2 {
			s.valve(2, "North lawn")
		}
		s.sprayLawn("north", "North lawn", 30, 1)
		s.change("north", func(a *plan.Area) { a.Exposure = plan.Shade })
		return s
	}
}

// longLawn is a lawn of 45 x 15 ft on one valve or split in the middle.
func longLawn(valves int) func() *sketch {
	return func() *sketch {
		s := newSketch("Long lawn")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 3)
		if valves == 2 {
			s.valve(2, "Lawn, east")
			for _, id := range []plan.ID{"h1-3", "h1-4", "h1-7", "h1-8"} {
				s.reset(id, func(h *plan.Head) { h.Zone, h.Tag = "z2", "2"+h.Tag[1:] })
			}
		}
		return s
	}
}

// smallZone is a lawn 10 ft deep and so long, of 10 ft sprays.
func smallZone(length float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Little flow")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, length, 10))
		s.valve(1, "Lawn")
		s.grid(spread(0, length, int(length/10)+1), spread(0, 10, 2), 0, "body-4-reg", fixedSpray("spray-10"))
		return s
	}
}

// highPressure is a lawn of sprays on a valve planned at 45 psi, on bodies of one
// kind.
func highPressure(body plan.ID) func() *sketch {
	return func() *sketch {
		s := newSketch("High pressure")
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 30, 15))
		s.valve(1, "Lawn")
		z := s.Zones["z1"]
		z.Pressure = 45
		s.Zones["z1"] = z
		s.grid(spread(0, 30, 3), spread(0, 15, 2), 0, body, fixedSpray("spray-15"))
		return s
	}
}

// bedWithout is a lawn, and a bed without heads that is to be watered some way.
func bedWithout(watering plan.WateringKind) func() *sketch {
	return func() *sketch {
		s := newSketch("Bed without heads")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 1)
		s.planting("bed", "Bed", plan.Flowers, box(25, 0, 31, 15))
		s.change("bed", func(a *plan.Area) { a.Watering = watering })
		return s
	}
}

// twoRates is a lawn of sprays beside a lawn of streams, with one row of sprays
// on the line for both, or a row for each.
func twoRates(oneRow bool) func() *sketch {
	return func() *sketch {
		s := newSketch("Two rates side by side")
		s.planting("west", "West lawn", plan.Turf, box(0, 0, 15, 15))
		s.planting("east", "East lawn", plan.Turf, box(15, 0, 75, 15))
		s.valve(1, "West lawn")
		if oneRow {
			for j, y := range spread(0, 15, 2) {
				start, sweep := arcAt(0, 2, j, 2)
				s.head("spray-15-q", "body-4-reg", setIn, y, 0, start, sweep)
				s.head("spray-15-h", "body-4-reg", 15, y, 0, 180*float64(j), 180)
			}
		} else {
			s.grid(spread(0, 15, 2), spread(0, 15, 2), 0, "body-4-reg", fixedSpray("spray-15"))
		}
		s.valve(2, "East lawn")
		for i, x := range []float64{15 + setIn, 30, 45, 60, 75 - setIn} {
			for j, y := range spread(0, 15, 2) {
				if oneRow && i == 0 {
					continue
				}
				start, sweep := arcAt(i, 5, j, 2)
				s.stream(x, y, 15, start, sweep)
			}
		}
		return s
	}
}

// throwBeyond is a lawn with one head between two others, set to a throw.
func throwBeyond(throw float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Throw set past the table")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.head("spray-8-h", "body-4-reg", 7.7, setIn, throw, 0, 180)
		return s
	}
}

// bodyOf is a lawn with one head in a body of some kind.
func bodyOf(body plan.ID) func() *sketch {
	return func() *sketch {
		s := newSketch("One other body")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.reset("h1-2", func(h *plan.Head) { h.Body = body })
		b, _ := catalog.FindBody(string(body))
		s.Bodies[body] = b
		return s
	}
}

// lastHeadIn has the last head of a lawn in a zone, or in none.
func lastHeadIn(zone plan.ID) func() *sketch {
	return func() *sketch {
		s := newSketch("One head over")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.reset("h1-6", func(h *plan.Head) {
			h.Zone = zone
			if zone == "" {
				h.Tag = ""
			}
		})
		return s
	}
}

// spareZone has a second zone without heads, or not.
func spareZone(there bool) func() *sketch {
	return func() *sketch {
		s := newSketch("Spare valve")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		if there {
			s.valve(2, "Later")
		}
		return s
	}
}

// oldZone is a zone that is there already, its heads of some status.
func oldZone(heads plan.Status) func() *sketch {
	return func() *sketch {
		s := newSketch("Old zone")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		z := s.Zones["z1"]
		z.Status = plan.Existing
		s.Zones["z1"] = z
		for id, h := range s.Heads {
			h.Status = heads
			s.Heads[id] = h
		}
		return s
	}
}

// bentLawn is a lawn round a corner, its arms so wide, with streams of 16 ft along
// both edges of each: near enough along the edges, and as far across as it is wide.
func bentLawn(width float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Lawn round the corner")
		far, in := 53.4, width-setIn
		s.planting("lawn", "Lawn", plan.Turf, corners(0, 0, far, 0, far, width, width, width, width, far, 0, far))
		s.planting("ivy", "Ivy", plan.Groundcover, box(-10, -10, far+10, far+10))
		s.change("ivy", func(a *plan.Area) {
			a.Watering, a.Holes = plan.ByHand, []geom.Outline{s.Areas["lawn"].Outline}
		})
		s.valve(1, "Lawn, south arm")
		outer := spread(0, far, 5)
		for i, x := range outer {
			start, sweep := arcAt(i, len(outer), 0, 2)
			s.stream(x, setIn, 16, start, sweep)
		}
		inner := spread(in-setIn, far, 4)
		s.stream(in, in, 16, 90, 270)
		s.stream(inner[1], in, 16, 180, 180)
		s.stream(inner[2], in, 16, 180, 180)
		s.stream(inner[3], in, 16, 180, 90)
		s.valve(2, "Lawn, west arm")
		for i, y := range outer[1:] {
			start, sweep := arcAt(0, 2, i+1, len(outer))
			s.stream(setIn, y, 16, start, sweep)
		}
		s.stream(in, inner[1], 16, 90, 180)
		s.stream(in, inner[2], 16, 90, 180)
		s.stream(in, inner[3], 16, 180, 90)
		return s
	}
}

// oneZoneOverWalk is a large lawn, and a small one on a valve of its own with a
// walk to its south and one arc that begins so much before the edge that it ends
// square to it: little of all the water, much of the small zone's.
func oneZoneOverWalk(sweep units.Degrees) func() *sketch {
	return func() *sketch {
		s := newSketch("One zone wets the walk")
		s.area("walk", "Walk", plan.Paving, box(60, -5, 75, 0))
		s.valve(1, "Large lawn")
		s.sprayLawn("large", "Large lawn", 0, 3)
		for id, h := range s.Heads { // on two valves, within the supply
			if h.X > 20 {
				s.reset(id, func(h *plan.Head) { h.Zone, h.Tag = "z2", "2"+h.Tag[1:] })
			}
		}
		s.valve(2, "Large lawn, east")
		s.valve(3, "Small lawn")
		s.sprayLawn("small", "Small lawn", 60, 1)
		s.reset("h3-1", func(h *plan.Head) {
			h.Nozzle, h.SweepDeg = "spray-15-adj", sweep
			if sweep > 90 {
				h.StartDeg = 360 + 90 - sweep
			}
		})
		return s
	}
}

// lawnOn is a lawn on a supply that was measured.
func lawnOn(supply plan.Supply) func() *sketch {
	return func() *sketch {
		s := newSketch("Lawn on a known supply")
		supply.Measured, supply.Backflow = true, s.Supply.Backflow
		supply.Connection = &plan.Spot{X: 0, Y: -10}
		s.Supply = supply
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		return s
	}
}

func withoutBackflow(missing bool) func() *sketch {
	return func() *sketch {
		s := newSketch("Lawn on the house's water")
		s.Supply.Connection = &plan.Spot{X: 0, Y: -10}
		if missing {
			s.Supply.Backflow = ""
		}
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		return s
	}
}

// slopingLawn rises 2 ft from its south edge to its north, on bodies of one kind.
func slopingLawn(body plan.ID) func() *sketch {
	return func() *sketch {
		s := newSketch("Sloping lawn")
		s.rising(30, 15, 2)
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 30, 15))
		s.valve(1, "Lawn")
		s.grid(spread(0, 30, 3), spread(0, 15, 2), 0, body, fixedSpray("spray-15"))
		return s
	}
}

// gasLine has a strip that is not to be dug across a lawn, from x on.
func gasLine(x float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Gas line in the lawn")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.area("gas", "Gas line", plan.NoDig, box(x, 0, x+2, 15))
		return s
	}
}

// rootZone has a tree north of a lawn with a root zone of so many feet.
func rootZone(radius float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Tree behind the lawn")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.Trees["t1"] = plan.Tree{Name: "Tree", X: 15, Y: 26, TrunkIn: 12, RootZoneFt: units.Feet(radius), Status: plan.Existing}
		return s
	}
}

// valveAt has the valve of a lawn at a place; the lawn rises so much to the north,
// and south of it are a walk and a bed.
func valveAt(x, y, rise float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Place for a valve")
		if rise > 0 {
			s.rising(30, 15, rise)
		}
		s.area("walk", "Walk", plan.Paving, box(0, -4, 30, -1))
		s.planting("bed", "Bed", plan.Shrubs, box(0, -10, 30, -4))
		s.change("bed", func(a *plan.Area) { a.Watering = plan.ByHand })
		s.valve(1, "Lawn")
		s.valveAt(x, y)
		s.planting("lawn", "Lawn", plan.Turf, box(0, 0, 30, 15))
		s.grid(spread(0, 30, 3), spread(0, 15, 2), 0, "body-4-reg-check", fixedSpray("spray-15"))
		return s
	}
}

// stations has two zones on a controller of so many stations.
func stations(n int) func() *sketch {
	return func() *sketch {
		s := longLawn(2)()
		s.Name = "Controller"
		s.Controller = plan.Controller{At: &plan.Spot{X: -5, Y: 5}, Stations: n, Place: "indoors"}
		return s
	}
}

// clayLawn is a lawn of sprays on clay loam, with a controller of so many starts.
func clayLawn(starts int) func() *sketch {
	return func() *sketch {
		s := stations(3)()
		s.Name, s.Controller.Starts = "Clay", starts
		s.Watering = plan.Watering{Days: []string{"mon", "wed", "fri"}, StartHHMM: "22:00", EndHHMM: "06:00"}
		for _, id := range plan.SortedIDs(s.Areas) {
			s.change(id, func(a *plan.Area) { a.Soil = "clay_loam" })
		}
		return s
	}
}

// nights are lawns of sprays on quick soil that may be watered for 50 minutes on some days.
func nights(days ...string) func() *sketch {
	return func() *sketch {
		s := stations(3)()
		s.Name, s.Watering = "Short nights", plan.Watering{Days: days, StartHHMM: "04:00", EndHHMM: "04:50"}
		for _, id := range plan.SortedIDs(s.Areas) {
			s.change(id, func(a *plan.Area) { a.Soil = "loam" })
			s.Options.Figures = map[plan.ID]plan.Figure{s.Areas[id].SoilIntake(): {Value: 1.8, Source: "measured with a ring on the lawn"}}
		}
		return s
	}
}

// sensorAt is a lawn with a house to its north, y from 20 to 30, and a rain sensor.
func sensorAt(x, y float64) func() *sketch {
	return func() *sketch {
		s := newSketch("Rain sensor")
		s.area("house", "House", plan.Building, box(0, 20, 30, 30))
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.Sensors["rain"] = plan.Sensor{Kind: "rain", X: units.Feet(x), Y: units.Feet(y)}
		return s
	}
}

// valvesPlaced has two zones, of which so many have a place for their valve.
func valvesPlaced(n int) func() *sketch {
	return func() *sketch {
		s := longLawn(2)()
		s.Name = "Places for valves"
		s.planting("bed", "Bed", plan.Shrubs, box(0, 20, 30, 24))
		s.change("bed", func(a *plan.Area) { a.Watering = plan.ByHand })
		for i, id := range []plan.ID{"z1", "z2"} {
			if i < n {
				s.zone = id
				s.valveAt(10+2*float64(i), 22)
			}
		}
		return s
	}
}

// locate is a lawn with a locate request of some day, or none.
func locate(on string) func() *sketch {
	return func() *sketch {
		s := newSketch("Before digging")
		s.Site.LocateOn, s.Site.LocateTicket = on, ""
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		return s
	}
}

// pastedHead has a corner head pasted on its own spot, or not.
func pastedHead(twice bool) func() *sketch {
	return func() *sketch {
		s := newSketch("Head pasted twice")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		if twice {
			h := s.Heads["h1-1"]
			h.Tag = "1-7"
			s.Heads["h1-7"] = h
		}
		return s
	}
}

// pastedLawn has a lawn pasted on its own place, or not.
func pastedLawn(twice bool) func() *sketch {
	return func() *sketch {
		s := newSketch("Lawn pasted twice")
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		if twice {
			a := s.Areas["lawn"]
			a.Name = "Lawn 2"
			s.Areas["lawn-2"] = a
		}
		return s
	}
}
