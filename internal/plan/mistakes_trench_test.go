package plan_test

import (
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// trenchMistakes are drawn with the pipes of pipedYard, whose main goes north at
// x = 16 from y -12 to the valve at -3.
var trenchMistakes = []mistake{
	{28, "sleeve-missing", pipedYard(walk(plan.Existing)), pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -9, -4))},
	{28, "sleeve-small", pipedYard(walk(plan.Existing), sleeve("s1", "", 1.5, 16, -9, -4)), pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -9, -4))},
	{28, "sleeve-short", pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -8.5, -4.25)), pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -9, -4))},
	{28, "bore-long", pipedYard(court(25)), pipedYard(court(18))},
	{29, "wire-with-pipe", pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -9, -4), wired), pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -9, -4), sleeve("s2", "wire", 1, 16.5, -9, -4), wired)},
	{29, "no-spare-conductor", pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -9, -4), sleeve("s2", "wire", 1, 16.5, -9, -4), wired, spares(0)), pipedYard(walk(plan.Existing), sleeve("s1", "", 2, 16, -9, -4), sleeve("s2", "wire", 1, 16.5, -9, -4), wired, spares(1))},
	{29, "no-spare-sleeve", pipedYard(walk(plan.New), sleeve("s1", "pipe", 2, 16, -9, -4)), pipedYard(walk(plan.New), sleeve("s1", "pipe", 2, 16, -9, -4), sleeve("s2", "spare", 2, 16.5, -9, -4))},
	{34, "trench-by-trunk", pipedYard(treeBy(18)), pipedYard(treeBy(22))},
	{34, "trench-over-gas", pipedYard(ground("gas", "Gas line", plan.NoDig, 0, 30)), pipedYard(ground("gas", "Gas line", plan.NoDig, 20, 30))},
	{34, "trench-through-shed", pipedYard(ground("shed", "Shed", plan.Building, 12, 20)), pipedYard(ground("shed", "Shed", plan.Building, 20, 28))},
	{34, "trench-off-lot", pipedYard(lot, mainBy(-3)), pipedYard(lot, mainBy(4))},
	{35, "valve-under-hedge", pipedYard(hedge(-3)), pipedYard(hedge(-7))},
}

// walk lies across the main, 3 ft wide, 2 ft south of the valve.
func walk(status plan.Status) func(*sketch) {
	return func(s *sketch) {
		s.area("walk", "Walk", plan.Paving, box(0, -8, 30, -5))
		s.change("walk", func(a *plan.Area) { a.Status = status })
	}
}

// sleeve lies along the main at x from y to y.
func sleeve(id plan.ID, carries string, size units.Inches, x, y0, y1 units.Feet) func(*sketch) {
	return func(s *sketch) {
		if s.Sleeves == nil {
			s.Sleeves = map[plan.ID]plan.Sleeve{}
		}
		s.Sleeves[id] = plan.Sleeve{From: plan.Spot{X: x, Y: y0}, To: plan.Spot{X: x, Y: y1}, NominalIn: size, Carries: carries}
	}
}

// court is paving so many feet across, between the connection, farther south, and
// the breaker, with a sleeve for the main.
func court(across float64) func(*sketch) {
	return func(s *sketch) {
		s.connection(16, -46)
		s.area("court", "Court", plan.Paving, box(0, -16-across, 30, -16))
		sleeve("s1", "pipe", 2, 16, units.Feet(-17-across), -15)(s)
	}
}

// wired hangs a controller on a post by the connection, with wire to the main.
func wired(s *sketch) {
	s.Controller = plan.Controller{At: &plan.Spot{X: 12, Y: -11}, Stations: 4, Place: "on a post", Outdoors: true}
	s.Wires = map[plan.ID]plan.WireRun{"w1": {Line: geom.Line(corners(12, -11, 16, -11))}}
}

// spares plans so many conductors beyond those used.
func spares(n float64) func(*sketch) {
	return func(s *sketch) { s.Options.Figures = map[plan.ID]plan.Figure{plan.WireSpares: {Value: n}} }
}

// treeBy has a trunk of 4 in beside the main.
func treeBy(x units.Feet) func(*sketch) {
	return func(s *sketch) {
		s.Trees["t1"] = plan.Tree{Name: "Tree", X: x, Y: -8, TrunkIn: 4, Status: plan.Existing}
	}
}

// ground lies in the bed between breaker and valve, from x to x.
func ground(id plan.ID, name string, kind plan.Kind, x0, x1 float64) func(*sketch) {
	return func(s *sketch) { s.area(id, name, kind, box(x0, -7, x1, -5.5)) }
}

func lot(s *sketch) { s.Site.Lot = box(0, -14, 30, 15) }

// mainBy leads the main to the valve round by a place x far from the west.
func mainBy(x float64) func(*sketch) {
	return func(s *sketch) { s.repipe("p02", func(p *plan.Pipe) { p.Via = geom.Line(corners(x, -8, x, -4)) }) }
}

// hedge grows along y.
func hedge(y float64) func(*sketch) {
	return func(s *sketch) {
		s.Barriers["hedge"] = plan.Barrier{Name: "the hedge", Kind: plan.Hedge, Line: geom.Line(corners(10, y, 22, y)), HeightFt: 3, Status: plan.Existing}
	}
}
