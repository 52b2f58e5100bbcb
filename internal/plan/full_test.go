package plan

import (
	"encoding/hex"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

func feetOf(v units.Feet) *units.Feet { return &v }

func numberOf(v float64) *float64 { return &v }

// months are twelve figures that rise from the first.
func months(from float64) []float64 {
	var out []float64
	for m := range 12 {
		out = append(out, from+float64(m)/4)
	}
	return out
}

// fullWeather is a year's weather.
func fullWeather() []MonthWeather {
	var out []MonthWeather
	for m := range 12 {
		by := float64(m+1) / 8
		out = append(out, MonthWeather{Lines: 30 + m, TMaxF: 50 + 2*float64(m), TMinF: 30 + 2*float64(m), SaturationKPa: 1 + by, VapourKPa: 0.5 + by, SolarMJ: 12 + by,
			NetMJ: -2 + by, WindMPH: 4 + by, SunIn: by, WindIn: by / 2, DayIn: 1.5 * by, Estimated: "wind of 2 m/s"})
	}
	return out
}

func square(x, y, side float64) geom.Outline {
	return geom.Outline{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}}
}

// fullPlan has every member of the format set to something that is not its
// default.
func fullPlan() *Plan {
	return &Plan{
		Format: Format, Name: "Corner lot", Show: units.Metric,
		Site: Site{
			Latitude: numberOf(45.5), Longitude: numberOf(-122.6), ElevationFt: feetOf(120), NorthDeg: 12.5,
			WindMPH: mphOf(10), WindFromDeg: degreesOf(200),
			Lot: square(-5, -5, 120), Climate: "dry summers", LocateOn: "2026-02-20", LocateTicket: "A-17",
			Address: "12 Elm Street", Permit: "P-2026-88", PermitOn: "2026-02-11", Licence: "R. Vale, irrigator 4711",
			AssociationOn: "2026-02-12", RightOfWayOn: "2026-02-13", BackflowTestedOn: "2026-03-30",
		},
		Options:    Options{EdgeLipFt: feetOf(0), WallLipFt: feetOf(2), CellFt: 0.5, LocalRules: map[RuleID]LocalRule{BandPaving: {Feet: 2, Source: "town code 12-3"}}, Figures: map[ID]Figure{DepthMain: {Value: 30, Source: "frost"}}},
		Areas:      fullAreas(),
		Barriers:   map[ID]Barrier{"b1": {Name: "Garden wall", Kind: Wall, Line: geom.Line{{X: 0, Y: 60}, {X: 20, Y: 60, Bulge: 0.2}, {X: 40, Y: 60}}, HeightFt: 6, Status: Existing, Locked: true}},
		Trees:      map[ID]Tree{"t1": {Name: "Oak", X: 12, Y: 12, TrunkIn: 14, RootZoneFt: 8, Status: Existing, Locked: true}},
		KeepDry:    map[ID]KeepDry{"k1": {Name: "Meter", X: 30, Y: 2, RadiusFt: 2, Status: Existing, Locked: true}},
		Elevations: map[ID]Elevation{"e1": {X: 1, Y: 2, Z: -0.5, Status: Existing}},
		Ties:       map[ID]Tie{"i1": {From: Spot{1, 2}, To: Spot{4, 6}, DistanceFt: 5, Status: Existing}},
		Supply: Supply{
			Kind: Well, Measured: true, StaticPSI: 62, MeasuredAt: "July, 06:00", FlowGPM: 12, ResidualPSI: 48,
			DesignFlowGPM: 9.5, DesignFlowReason: "the house draws 2.5", Connection: &Spot{3, 4}, MeterIn: 0.75,
			ServiceMaterial: "copper", ServiceIn: 1, ServiceLengthFt: 40, Regulator: true, Backflow: "pressure vacuum breaker",
			BackflowAt: &Spot{5, 6}, PushBack: "second_source", Injection: true, TapsAfter: true, Freeze: "blow_out", Status: Existing,
			ServiceClass: "k1", ServiceFPS: 7.5, TimedGal: 5, TimedS: 22.5, MeasuredWhere: "hydrant", HouseGPM: 3,
			Statics: map[ID]StaticReading{"r1": {PSI: 62, Hour: intOf(19), Month: 7, Where: "hose bib"}},
			Tap:     "after_regulator", RegulatorPSI: 55, NeededPSI: 40, PumpLeastGPM: 4,
			Pump:  []PumpPoint{{Flow: 0, PSI: 60}, {Flow: 12, PSI: 48}},
			Meter: "d1", Isolation: "d2", BackflowDevice: "d3", MasterValve: "d5", Filter: "d6", SwingJoint: "d7", BackflowHeightFt: feetOf(2.6),
		},
		Heads:       map[ID]Head{"h1": {Tag: "1-1", Nozzle: "n1", Body: "o1", X: 10, Y: 10, StartDeg: 45, SweepDeg: 90, ThrowFt: feetOf(9.5), SetBack: feetOf(0.5), Zone: "z1", State: fullState(), Built: fullBuilt(), Status: Existing, Locked: true}},
		Zones:       map[ID]Zone{"z1": {Name: "Front", Station: 1, Flag: "red", ValveAt: &Spot{2, 2}, Valve: "d4", Pressure: 30, AuditedDU: 0.6, Runs: fullRuns(), Built: fullBuilt(), Status: Existing, Locked: true}},
		Nozzles:     fullNozzles(),
		Bodies:      map[ID]catalog.Body{"o1": {Name: "6 in body", Generic: true, Source: "made up", Height: 6, Regulated: 30, CheckValve: true, Takes: "female", InletIn: 0.5}},
		PipeClasses: map[ID]catalog.PipeClass{"k1": fullPipeClass()},
		Devices:     fullDevices(),
		Nodes:       map[ID]Node{"j1": {Kind: "head", X: 10, Y: 10, Head: "h1", Zone: "z1", Status: Existing, Locked: true}, "j2": {Kind: "valve", X: 2, Y: 2}},
		Pipes:       map[ID]Pipe{"p1": {From: "j2", To: "j1", Via: geom.Line{{X: 2, Y: 8}}, Class: "k1", Material: "PE", NominalIn: 0.75, Zone: "z1", Status: Existing, Locked: true}},
		Sleeves:     map[ID]Sleeve{"s1": {From: Spot{0, 1}, To: Spot{0, 9}, NominalIn: 2, Carries: "wire", Method: "saw_cut", Built: fullBuilt(), Status: Existing, Locked: true}},
		Controller:  Controller{At: &Spot{1, 1}, Stations: 6, Programs: 2, Starts: 6, Adjusts: "none", Soaks: true, Place: "garage", Outdoors: true, OutletAt: &Spot{1, 2}, Status: Existing, Locked: true},
		Sensors:     map[ID]Sensor{"r1": {Kind: "rain", X: 1, Y: 1, HeightFt: feetOf(9), Wireless: true, Status: Existing, Locked: true}},
		Wires:       map[ID]WireRun{"w1": {Line: geom.Line{{X: 1, Y: 1}, {X: 2, Y: 3}}, Lay: "building", Status: Existing, Locked: true}},
		Boxes:       map[ID]Box{"x1": {Name: "By the gate", X: 4, Y: 4, Built: fullBuilt(), Status: Existing, Locked: true}},
		Wiring:      Wiring{Cable: "multi", HotAWG: 18, CommonAWG: 16},
		Prices:      map[ID]Price{"c1": {Item: "Flag", Unit: "each", Each: 0.2, Code: "F-1"}},
		Quote:       Quote{Currency: "$", PerTrenchFt: 1, PerSleeveFt: 2, PerHead: 3, PerValve: 4, Rentals: map[ID]Rental{"r1": {What: "Trencher", Days: 1, Each: 90}}, MarkUpShare: 0.2, TaxShare: 0.08, TaxOn: "all", Notes: "as agreed"},
		Watering: Watering{Days: []string{"mon", "thu"}, StartHHMM: "22:00", EndHHMM: "05:30", PeakInWk: 1.5, AuditedDU: numberOf(0.7),
			ETIn: months(2), HighF: months(70), LowF: months(-4), RainIn: months(0.5), ETZone: 12, ETFrom: "the airport, 1991 to 2020",
			ETBy: fullWeather(), Turf: "warm", Stage: Sown, Target: ByMean, Together: true},
		Proof:    fullProof(),
		Photos:   map[ID]Photo{"f1": {SHA256: hex.EncodeToString([]byte(strings.Repeat("q", 32))), WidthPx: 1600, HeightPx: 1200, On: "2026-06-01", About: "heads/h1", X: feetOf(4), Y: feetOf(5), Caption: "Box by\nthe gate"}},
		Notes:    map[ID]Note{"m1": {X: 9, Y: 9, Text: "gas line\nbelow", Status: Existing}},
		Underlay: &Underlay{SHA256: hex.EncodeToString([]byte(strings.Repeat("p", 32))), FtPerPx: 0.1, X: -5, Y: -5, RotateDeg: 3, Opacity: 0.5, Locked: true, WidthPx: 1200, HeightPx: 900, ScaledBy: fullLength(100, 20), CheckedBy: fullLength(700.5, 80)},
		Accepted: map[ID]Accepted{"f1": {Code: "pop-up too short", About: []Ref{"heads/h1"}, Rank: Mend, Reason: "kept as it is", By: "R.", On: "2026-02-28"}},
	}
}

func fullProof() Proof {
	half, leans := units.Inches(0.5), units.Degrees(270)
	wind := units.MPH(3)
	return Proof{
		StartedUp: "2026-05-31",
		Checks:    map[ID]StepDone{"fill": {On: "2026-05-30", By: "R.", Note: "spat, then seated"}},
		Tests:     map[ID]PressureTest{"t1": {On: "2026-05-29", Of: "z1", Start: 62, End: 61, Minutes: 120, Meter: "still", Note: "held"}},
		Wires:     map[ID]FoundWire{"w1": {Order: 1, Mark: "red", Terminal: 3, Note: "short"}, "w2": {Mark: "white", Common: true}},
		Touches:   map[ID]Touch{"u1": {Order: 1, Wire: "w1", Ran: []ID{"z1"}, Note: "slow"}},
		Readings:  map[ID]OhmReading{"o1": {Order: 1, From: "w1", To: "w2", Ohms: numberOf(28)}},
		Audits: map[ID]Audit{"a1": {
			Name: "Front", On: "2026-06-02", Area: "a1", Runs: map[ID]float64{"z1": 10}, ThroatIn2: 15.9, Scale: "depth", WindMPH: &wind, WindFromDeg: &leans,
			Cans: map[ID]CatchCan{"c1": {X: 3, Y: 3, Depth: &half, Note: "under a shrub", Out: true}}, Note: "calm",
		}},
		Cans: map[ID]CatchCan{"c1": {X: 3, Y: 3, ML: numberOf(21)}}, Minutes: 10, ThroatIn2: 15.9,
	}
}

func fullState() *HeadState {
	leans := units.Degrees(90)
	return &HeadState{SetOn: "2026-06-01", SeenOn: "2026-06-01", Faults: []string{Tilted, WrongNozzle}, TiltDeg: 8, TiltToward: &leans, Nozzle: "a spray", Note: "by the drive"}
}

func fullBuilt() *Built {
	return &Built{On: "2026-06-01", Was: &Spot{1, 2}, WasTo: &Spot{3, 4}, DepthIn: 12, Note: "round a root"}
}

func fullRuns() map[ID]ZoneRun {
	return map[ID]ZoneRun{"r1": {On: "2026-06-01", When: "before", StaticPSI: 62, RunningPSI: 44, PSIAt: "valve", AtHead: "h1", FlowGPM: 8.1, MeterGal: 5, MeterS: 37, Flushed: "2026-05-31", Note: "muddy"}}
}

func intOf(v int) *int { return &v }

func fullPipeClass() catalog.PipeClass {
	return catalog.PipeClass{
		Name: "Our pipe", Material: catalog.PE, Generic: true, Source: "made up", Convention: "as measured", C: 140, ModulusPSI: 100_000, Potable: true,
		Joint: "insert", SoldFt: 100, Sizes: []catalog.PipeSize{
			{Nominal: 0.75, Outside: 1.05, Wall: 0.06, Inside: 0.93, Rating: 200, PricePerFt: 0.4},
			{Nominal: 1, Outside: 1.315, Wall: 0.063, Inside: 1.189, Rating: 200, PricePerFt: 0.6},
		},
	}
}

// fullDevices has one device of each kind.
func fullDevices() map[ID]catalog.Device {
	all := map[ID]catalog.Device{}
	for i, kind := range deviceKinds {
		d := catalog.Device{
			Name: "Our " + kind, Kind: catalog.DeviceKind(kind), Generic: true, Source: "made up", Replace: true, Nominal: 1,
			LeastGPM: 0.5, MostGPM: 40, LeastPSI: 10, MostPSI: 150, Loss: []catalog.LossPoint{{Flow: 5, Loss: 1}, {Flow: 20, Loss: 6}},
		}
		if d.Kind == catalog.Backflow {
			d.Backflow = catalog.PressureBreaker
		}
		all[ID("d"+itoa(i+1))] = d
	}
	return all
}

func fullLength(y float64, ft units.Feet) *KnownLength {
	return &KnownLength{From: PicturePoint{X: 0, Y: y}, To: PicturePoint{X: 10 * float64(ft), Y: y}, DistanceFt: ft}
}

func fullAreas() map[ID]Area {
	return map[ID]Area{
		"a1": {
			Name: "Front lawn", Kind: Planting, Outline: square(0, 0, 50), Holes: []geom.Outline{square(10, 30, 5)},
			Status: Existing, Locked: true, Note: "worn\tnear the walk", Planting: Shrubs, MowHeightIn: 2.5, Soil: "clay_loam",
			SlopeShare: 0.12, SlopeTowardDeg: 270, Exposure: PartShade, Watering: PointSource,
			PlantFactor: 0.4, Density: 0.9, Microclimate: 1.2, RootsIn: 14, Depletion: 0.4, PlantHeightIn: 30, OwnZonesOnly: true,
		},
		"a2": {Name: "House", Kind: Building, Outline: geom.Outline{{X: 60, Y: 0}, {X: 90, Y: 0, Bulge: 0.25}, {X: 90, Y: 30}}, HeightFt: feetOf(18)},
	}
}

func fullNozzles() map[ID]catalog.Nozzle {
	return map[ID]catalog.Nozzle{
		"n1": {
			Name: "Adjustable 10 ft", Family: catalog.Spray, Generic: true, Source: "made up", ArcLeast: 1, ArcMost: 360,
			FlowFollowsArc: true, Trajectory: 25, Profile: catalog.Profile{Kind: catalog.ProfileTable, Shares: []float64{1, 0.5, 0}},
			TurnDown: catalog.TurnDown{UsualShare: 0.75, LeastShare: 0.5, FlowPower: 1}, BestPSI: 30,
			Rows:   []catalog.Row{{Pressure: 20, Throw: 8.5, Flow: 1.2}, {Pressure: 30, Throw: 10, Flow: 1.5}},
			Thread: "male", Low: &catalog.LowPressure{Profile: catalog.Profile{Kind: catalog.ProfileFlat}, Source: "made up"},
		},
		"n2": {
			Name: "Side strip", Family: catalog.Strip, Source: "made up", Trajectory: 10, Profile: catalog.Profile{Kind: catalog.ProfileFlat},
			Strip:    &catalog.StripShape{Ahead: true, Back: true, Left: 0, Right: 5},
			TurnDown: catalog.TurnDown{UsualShare: 0.75, LeastShare: 0.5, FlowPower: 1}, BestPSI: 30,
			Rows:   []catalog.Row{{Pressure: 30, Throw: 15, Flow: 0.9}},
			Thread: "male",
		},
	}
}
