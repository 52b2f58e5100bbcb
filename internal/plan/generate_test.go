package plan

import (
	"fmt"
	"maps"

	"pgregory.net/rapid"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// genPlan draws a plan that Decode takes. Its ids come from a small stock, so
// that two plans drawn have many things of one name.
func genPlan() *rapid.Generator[*Plan] {
	return rapid.Custom(func(t *rapid.T) *Plan {
		p := Empty(genText().Draw(t, "name"), rapid.SampledFrom([]units.System{units.US, units.Metric}).Draw(t, "show"))
		full := fullPlan()
		p.Nozzles, p.Bodies, p.Zones = full.Nozzles, full.Bodies, full.Zones
		p.PipeClasses, p.Devices = full.PipeClasses, full.Devices
		p.Heads = genThings(t, "h", genHead())
		p.Areas = genThings(t, "a", genArea())
		p.Trees = genThings(t, "t", genTree())
		p.Notes = genThings(t, "m", genNote())
		if rapid.Bool().Draw(t, "connected") {
			p.Supply.Connection = &Spot{genFeet().Draw(t, "x"), genFeet().Draw(t, "y")}
		}
		if rapid.Bool().Draw(t, "lip") {
			p.Options.EdgeLipFt = feetOf(units.Feet(rapid.Float64Range(0, 10).Draw(t, "edge lip")))
			p.Options.WallLipFt = feetOf(units.Feet(rapid.Float64Range(0, 10).Draw(t, "wall lip")))
		}
		if rapid.Bool().Draw(t, "local rules") {
			p.Options.LocalRules = rapid.MapOfN(rapid.SampledFrom(RuleIDs()), genLocalRule(), 0, 3).Draw(t, "rules")
		}
		if rapid.Bool().Draw(t, "piped") {
			p.Nodes = map[ID]Node{"j1": {Kind: "valve"}, "j2": {Kind: "joint", X: genFeet().Draw(t, "node x")}}
			p.Pipes = map[ID]Pipe{"p1": {
				From: "j1", To: "j2", Zone: rapid.SampledFrom([]ID{"", "z1"}).Draw(t, "pipe zone"),
				Class: rapid.SampledFrom([]ID{"", "k1"}).Draw(t, "class"), NominalIn: rapid.SampledFrom([]units.Inches{0, 0.75, 1, 1.25}).Draw(t, "size"),
			}}
			p.Supply = genSupply().Draw(t, "supply")
		}
		if p.Watering.Every = rapid.IntRange(0, 1).Draw(t, "by a cycle") * rapid.IntRange(1, 31).Draw(t, "every"); p.Watering.Every == 0 {
			p.Watering.Days = rapid.SliceOfNDistinct(rapid.SampledFrom(weekdays), 0, 7, rapid.ID).Draw(t, "days")
		}
		return p
	})
}

func genThings[T any](t *rapid.T, letter string, one *rapid.Generator[T]) map[ID]T {
	stock := rapid.Custom(func(t *rapid.T) ID { return ID(fmt.Sprintf("%s%d", letter, rapid.IntRange(1, 6).Draw(t, "id"))) })
	return rapid.MapOfN(stock, one, 0, 4).Draw(t, letter)
}

func genLocalRule() *rapid.Generator[LocalRule] {
	return rapid.Custom(func(t *rapid.T) LocalRule {
		return LocalRule{Feet: units.Feet(rapid.Float64Range(0, 100).Draw(t, "feet")), Source: genText().Draw(t, "source")}
	})
}

func genText() *rapid.Generator[string] {
	return rapid.OneOf(rapid.SampledFrom([]string{"", "Front lawn", `"quoted" \ back`, "<b>bed</b>", "شارع", "🌱"}), rapid.StringMatching(`[A-Za-z0-9 /~.-]{0,20}`))
}

func genFeet() *rapid.Generator[units.Feet] {
	return rapid.Map(rapid.OneOf(rapid.Float64Range(-32_000, 32_000), rapid.Map(rapid.IntRange(-400, 400), func(i int) float64 { return float64(i) / 8 })),
		func(v float64) units.Feet { return units.Feet(v) })
}

func genStatus() *rapid.Generator[Status] {
	return rapid.SampledFrom([]Status{"", New, Existing, Remove})
}

func genHead() *rapid.Generator[Head] {
	return rapid.Custom(func(t *rapid.T) Head {
		h := Head{
			Tag: genText().Draw(t, "tag"), Nozzle: rapid.SampledFrom([]ID{"n1", "n2"}).Draw(t, "nozzle"), Body: "o1",
			X: genFeet().Draw(t, "x"), Y: genFeet().Draw(t, "y"),
			StartDeg: units.Degrees(rapid.IntRange(0, 359).Draw(t, "start")), SweepDeg: units.Degrees(rapid.IntRange(1, 360).Draw(t, "sweep")),
			Zone: rapid.SampledFrom([]ID{"", "z1"}).Draw(t, "zone"), Status: genStatus().Draw(t, "status"), Locked: rapid.Bool().Draw(t, "locked"),
		}
		if rapid.Bool().Draw(t, "turned down") {
			h.ThrowFt = feetOf(units.Feet(rapid.Float64Range(1, 45).Draw(t, "throw")))
		}
		return h
	})
}

func genSupply() *rapid.Generator[Supply] {
	return rapid.Custom(func(t *rapid.T) Supply {
		s := Supply{
			FlowGPM: units.GPM(rapid.Float64Range(0, 60).Draw(t, "flow")), ResidualPSI: units.PSI(rapid.Float64Range(0, 100).Draw(t, "residual")),
			ServiceClass: rapid.SampledFrom([]ID{"", "k1"}).Draw(t, "service"), Meter: rapid.SampledFrom([]ID{"", "d1"}).Draw(t, "meter"),
			PushBack: rapid.SampledFrom(append(words{""}, pushBacks...)).Draw(t, "pushed back"), Injection: rapid.Bool().Draw(t, "injected"),
			BackflowDevice: rapid.SampledFrom([]ID{"", "d3"}).Draw(t, "backflow"), Tap: rapid.SampledFrom(append(words{""}, tapPlaces...)).Draw(t, "tap"),
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "readings") {
			s.Statics = with(s.Statics, ID("r"+itoa(i+1)), StaticReading{PSI: units.PSI(rapid.Float64Range(1, 120).Draw(t, "static")), Month: rapid.IntRange(0, 12).Draw(t, "month")})
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "points") {
			s.Pump = append(s.Pump, PumpPoint{Flow: units.GPM(5 * i), PSI: units.PSI(60 - 7*i)})
		}
		return s
	})
}

func genArea() *rapid.Generator[Area] {
	return rapid.Custom(func(t *rapid.T) Area {
		a := Area{
			Name: genText().Draw(t, "name"), Kind: Kind(rapid.SampledFrom(areaKinds).Draw(t, "kind")),
			Outline: square(rapid.Float64Range(-100, 100).Draw(t, "x"), 0, rapid.Float64Range(20, 90).Draw(t, "side")),
			Status:  genStatus().Draw(t, "status"), Planting: Cover(rapid.SampledFrom(append(words{""}, covers...)).Draw(t, "cover")),
			SlopeTowardDeg: units.Degrees(rapid.IntRange(0, 359).Draw(t, "toward")),
		}
		if rapid.Bool().Draw(t, "round") {
			a.Outline[1].Bulge = rapid.Float64Range(0.1, 0.9).Draw(t, "bulge")
		}
		if rapid.Bool().Draw(t, "pierced") {
			a.Holes = []geom.Outline{square(a.Outline[0].X+5, 5, 6)}
		}
		return a
	})
}

func genTree() *rapid.Generator[Tree] {
	return rapid.Custom(func(t *rapid.T) Tree {
		return Tree{Name: genText().Draw(t, "name"), X: genFeet().Draw(t, "x"), Y: genFeet().Draw(t, "y"), TrunkIn: 12, Status: genStatus().Draw(t, "status")}
	})
}

func genNote() *rapid.Generator[Note] {
	return rapid.Custom(func(t *rapid.T) Note {
		return Note{X: genFeet().Draw(t, "x"), Y: genFeet().Draw(t, "y"), Text: genText().Draw(t, "text")}
	})
}

// edit makes one change of the kind a user makes, on a plan of its own.
func edit(t *rapid.T, p *Plan) {
	switch rapid.IntRange(0, 7).Draw(t, "edit") {
	case 7:
		id := rapid.SampledFrom(RuleIDs()).Draw(t, "rule")
		p.Options.LocalRules = with(p.Options.LocalRules, id, genLocalRule().Draw(t, "as"))
	case 0:
		p.Heads = with(p.Heads, ID(fmt.Sprintf("h%d", rapid.IntRange(1, 12).Draw(t, "head"))), genHead().Draw(t, "as"))
	case 1:
		p.Areas = with(p.Areas, ID(fmt.Sprintf("a%d", rapid.IntRange(1, 6).Draw(t, "area"))), genArea().Draw(t, "as"))
	case 2:
		p.Heads = without(p.Heads, rapid.IntRange(0, 20).Draw(t, "nth"))
	case 3:
		p.Areas = without(p.Areas, rapid.IntRange(0, 20).Draw(t, "nth"))
	case 4:
		p.Name = genText().Draw(t, "name")
	case 5:
		p.Notes = with(p.Notes, "m1", genNote().Draw(t, "as"))
	case 6:
		p.Supply.Connection = &Spot{genFeet().Draw(t, "x"), 0}
		if rapid.Bool().Draw(t, "gone") {
			p.Supply.Connection = nil
		}
	}
}

func with[T any](things map[ID]T, id ID, v T) map[ID]T {
	out := maps.Clone(things)
	if out == nil {
		out = map[ID]T{}
	}
	out[id] = v
	return out
}

func without[T any](things map[ID]T, nth int) map[ID]T {
	out := maps.Clone(things)
	if ids := SortedIDs(things); len(ids) > 0 {
		delete(out, ids[nth%len(ids)])
	}
	return out
}
