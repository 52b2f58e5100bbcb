package plan_test

import (
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// wireMistakes are drawn with the wires of wiredYard, or with a sensor.
var wireMistakes = []mistake{
	{36, "splice-in-soil", wiredYard(cable), wiredYard(cable, spliceBox)},
	{36, "little-slack", wiredYard(slack(12)), wiredYard(slack(30))},
	{37, "wire-too-thin", wiredYard(farController, gauge(18, 18)), wiredYard(farController, gauge(18, 14))},
	{39, "sensor-under-tree", sensorUp(44, 8, 9), sensorUp(44, -8, 9)},
	{39, "sensor-under-eaves", sensorUp(15, 20, 6), sensorUp(15, 20, 10)},
	{39, "sensor-low", sensorUp(38, 4, 2), sensorUp(38, 4, 9)},
}

// wiredYard is a lawn on two valves in a bed to its north, and wire runs to them that
// part halfway between the two.
//
//	     c          y 34
//	     |
//	v1 --+-- v2     y 22
func wiredYard(changes ...func(*sketch)) func() *sketch {
	return func() *sketch {
		s := longLawn(2)()
		s.Name = "Wires to two valves"
		s.planting("bed", "Bed", plan.Shrubs, box(0, 20, 45, 40))
		s.change("bed", func(a *plan.Area) { a.Watering = plan.ByHand })
		for i, id := range []plan.ID{"z1", "z2"} {
			s.zone = id
			s.valveAt(12+20*float64(i), 22)
		}
		s.Controller = plan.Controller{At: &plan.Spot{X: 22, Y: 34}, Stations: 4, Place: "on a post", Outdoors: true}
		s.Wires = map[plan.ID]plan.WireRun{
			"w1": {Line: geom.Line{{X: 22, Y: 34}, {X: 22, Y: 22}}},
			"w2": {Line: geom.Line{{X: 12, Y: 22}, {X: 32, Y: 22}}},
		}
		for _, f := range changes {
			f(s)
		}
		return s
	}
}

func cable(s *sketch) { s.Wiring.Cable = "multi" }

// spliceBox sets a box where the wires part.
func spliceBox(s *sketch) {
	s.Boxes = map[plan.ID]plan.Box{"b1": {Name: "Splice box", X: 22, Y: 22}}
}

func slack(inches float64) func(*sketch) {
	return func(s *sketch) {
		s.Options.Figures = map[plan.ID]plan.Figure{plan.WireSlack: {Value: inches, Source: "as we always do"}}
	}
}

func gauge(hot, common int) func(*sketch) {
	return func(s *sketch) { s.Wiring.HotAWG, s.Wiring.CommonAWG = hot, common }
}

// farController puts the controller 1,000 ft to the north.
func farController(s *sketch) {
	s.Controller.At.Y = 1022
	s.Wires["w1"] = plan.WireRun{Line: geom.Line{{X: 22, Y: 1022}, {X: 22, Y: 22}}}
}

// sensorUp is the lawn and house of sensorAt with a tree to the east, and a rain sensor
// at a height.
func sensorUp(x, y float64, height units.Feet) func() *sketch {
	return func() *sketch {
		s := sensorAt(x, y)()
		s.Trees["oak"] = plan.Tree{Name: "Oak", X: 48, Y: 8, TrunkIn: 9, Status: plan.Existing}
		v := s.Sensors["rain"]
		v.HeightFt = &height
		s.Sensors["rain"] = v
		return s
	}
}
