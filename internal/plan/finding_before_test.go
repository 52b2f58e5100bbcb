package plan

import (
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// only gives the findings of a code.
func only(found []Finding, code string) []Finding {
	var out []Finding
	for _, f := range found {
		if f.Code == code {
			out = append(out, f)
		}
	}
	return out
}

func wantOne(t *testing.T, name string, found []Finding, code string, rank Rank, words string) {
	t.Helper()
	got := only(found, code)
	switch {
	case rank == "" && len(got) > 0:
		t.Errorf("%s: found %s: %s", name, code, got[0].Sentence)
	case rank != "" && (len(got) != 1 || got[0].Rank != rank || !strings.Contains(got[0].Sentence, words)):
		t.Errorf("%s: found %+v, want one %s of rank %s that says %q", name, got, code, rank, words)
	}
}

func TestWhatASupplyLacks(t *testing.T) {
	heads := map[ID]Head{"h1": {Tag: "1-1"}}
	for _, c := range []struct {
		name   string
		supply Supply
		code   string
		rank   Rank
		words  string
	}{
		{"assumed", Supply{FlowGPM: 10}, SupplyRough, "", ""},
		{"by bucket", Supply{Measured: true, FlowGPM: 10}, SupplyRough, Mend, "measured at 10.0 gpm, but the pressure left"},
		{"by container", Supply{Measured: true, StaticPSI: 60, TimedGal: 5, TimedS: 25}, SupplyRough, Mend, "filled 5 gal in 25 s, 12.0 gpm"},
		{"by container, and with its pressure", Supply{Measured: true, StaticPSI: 60, FlowGPM: 9, ResidualPSI: 40, TimedGal: 5, TimedS: 25}, SupplyRough, "", ""},
		{"more left than there was", Supply{Measured: true, StaticPSI: 60, FlowGPM: 9, ResidualPSI: 61}, SupplyRough, Mend, "is not under the 60 psi"},
		{"with its pressure", Supply{Measured: true, FlowGPM: 10, ResidualPSI: 40}, SupplyRough, "", ""},
		{"static alone", Supply{Measured: true, StaticPSI: 60}, SupplyRough, Mend, "only the static pressure of 60 psi"},
		{"static and a chosen flow", Supply{Measured: true, StaticPSI: 60, DesignFlowGPM: 9}, SupplyRough, "", ""},
		{"80 psi", Supply{StaticPSI: 80}, PressureHigh, "", ""},
		{"81 psi", Supply{StaticPSI: 81}, PressureHigh, Mend, "stands at 81 psi without a regulator"},
		{"81 psi, regulated", Supply{StaticPSI: 81, Regulator: true, RegulatorPSI: 60}, PressureHigh, "", ""},
		{"81 psi, regulated by the house", Supply{StaticPSI: 81, Tap: "after_regulator", RegulatorPSI: 60}, PressureHigh, "", ""},
		{"81 psi, before the house's regulator", Supply{StaticPSI: 81, Tap: "before_regulator", RegulatorPSI: 60}, PressureHigh, Mend, "stands at 81 psi"},
		{"95 psi at night", Supply{StaticPSI: 62, Statics: map[ID]StaticReading{"r": {PSI: 95}}}, PressureHigh, Mend, "stands at 95 psi without a regulator"},
		{"a regulator of no setting", Supply{StaticPSI: 81, Regulator: true}, PressureHigh, Notice, "its setting is not given"},
		{"more left than in any reading", Supply{Measured: true, Statics: map[ID]StaticReading{"r": {PSI: 60}}, FlowGPM: 9, ResidualPSI: 61}, SupplyRough, Mend, "is not under the 60 psi"},
		{"less left than in one reading", Supply{Measured: true, Statics: map[ID]StaticReading{"r": {PSI: 60}, "s": {PSI: 70}}, FlowGPM: 9, ResidualPSI: 61}, SupplyRough, "", ""},
		{"a pump's curve beside its pressure at rest", Supply{Measured: true, Kind: Well, StaticPSI: 60, Pump: []PumpPoint{{PSI: 60}, {Flow: 10, PSI: 40}}}, SupplyRough, "", ""},
		{"measured behind the regulator it is tapped before", Supply{Measured: true, FlowGPM: 9, ResidualPSI: 40, Tap: "before_regulator", MeasuredWhere: "outside_tap"}, SupplyRough, Notice, "commonly stands behind it"},
		{"measured where it is tapped", Supply{Measured: true, FlowGPM: 9, ResidualPSI: 40, Tap: "before_regulator", MeasuredWhere: "connection"}, SupplyRough, "", ""},
		{"a pond, which nobody drinks", Supply{Kind: Pond}, NoBackflow, "", ""},
		{"a well", Supply{Kind: Well}, NoBackflow, Notice, "names no device"},
		{"no device where fertilizer is put in", Supply{Injection: true}, NoBackflow, Stop, "names no device"},
		{"no device where a pump pushes back", Supply{PushBack: "pump"}, NoBackflow, Stop, "names no device"},
		{"reclaimed water", Supply{Kind: Reclaimed}, BackflowDoubtful, Notice, "reclaimed water, which nobody may drink"},
		{"reclaimed water asks for no device", Supply{Kind: Reclaimed}, NoBackflow, "", ""},
		{"no device", Supply{}, NoBackflow, Notice, "names no device"},
		{"a device by name", Supply{Backflow: "breaker"}, NoBackflow, "", ""},
		{"a device by place", Supply{BackflowAt: &Spot{1, 2}}, NoBackflow, "", ""},
		{"a device by its row", Supply{BackflowDevice: "d1"}, NoBackflow, "", ""},
	} {
		wantOne(t, c.name, Check(&Plan{Show: units.US, Heads: heads, Supply: c.supply}), c.code, c.rank, c.words)
	}
	wantOne(t, "no heads", Check(&Plan{Show: units.US}), NoBackflow, "", "")
}

func TestLocateRequestIsAskedForWhileThereIsDigging(t *testing.T) {
	p := &Plan{Show: units.US, Heads: map[ID]Head{"h1": {}, "h2": {Status: Existing}, "h3": {Status: Remove}}}
	wantOne(t, "one new head", Check(p), LocateMissing, Notice, "1 head is to be dug in")
	p.Site.LocateTicket = "A-1"
	wantOne(t, "a ticket", Check(p), LocateMissing, "", "")
	p.Site.LocateTicket, p.Site.LocateOn = "", "2026-05-01"
	wantOne(t, "a date", Check(p), LocateMissing, "", "")
	wantOne(t, "nothing new", Check(&Plan{Heads: map[ID]Head{"h1": {Status: Existing}}}), LocateMissing, "", "")
}

func TestStationsOfTheController(t *testing.T) {
	for _, c := range []struct {
		zones, stations, last int
		rank                  Rank
		words                 string
	}{
		{0, 0, 0, "", ""}, {4, 0, 0, "", ""}, {5, 4, 0, Mend, "has 5 zones, and its controller 4 stations"},
		{5, 5, 0, Notice, "has 5 stations for 5 zones: none to spare, where 1 is usual"}, {5, 6, 0, "", ""}, {6, 7, 0, Notice, "1 to spare, where 2 is usual"},
		{6, 8, 0, "", ""}, {3, 8, 9, Mend, "is on station 9 of a controller of 8"},
	} {
		p := &Plan{Controller: Controller{Stations: c.stations}, Zones: map[ID]Zone{}}
		for i := range c.zones {
			p.Zones[ID("z"+itoa(i))] = Zone{Station: i + 1}
		}
		if c.last > 0 {
			p.Zones["z0"] = Zone{Station: c.last}
		}
		p.Zones["gone"] = Zone{Status: Remove, Station: 99}
		wantOne(t, itoa(c.zones)+" on "+itoa(c.stations), Check(p), StationsShort, c.rank, c.words)
	}
}

// The share kept spare is the plan's own figure where it has one, and names its source.
func TestRow38_SpareStationsByThePlansOwnFigure(t *testing.T) {
	p := &Plan{Controller: Controller{Stations: 6}, Zones: map[ID]Zone{}, Options: Options{Figures: map[ID]Figure{}}}
	for i := range 5 {
		p.Zones["z"+ID(itoa(i))] = Zone{Station: i + 1}
	}
	for share, words := range map[float64]string{0: "", 0.2: "", 0.4: "1 to spare, where 2 is usual"} {
		p.Options.Figures[StationsSpare] = Figure{Value: share, Source: "district {rule} 7"}
		rank := Notice
		if words == "" {
			rank = ""
		}
		wantOne(t, "own figure", Check(p), StationsShort, rank, words)
	}
	p.Options.Figures[StationsSpare] = Figure{Value: 0.4, Source: "district {rule} 7"}
	for _, f := range Check(p) {
		if f.Code == StationsShort && (f.Source != "40 % spare stations: district (rule) 7" || f.Do != "Choose a controller of 7 stations, or keep fewer of them spare.") {
			t.Errorf("%q, %q", f.Source, f.Do)
		}
	}
}

func TestLowHeadsByTheGround(t *testing.T) {
	slope := func(fall units.Feet, body catalog.Body) *Plan {
		return &Plan{
			Show:       units.US,
			Elevations: map[ID]Elevation{"e1": {}, "e2": {Y: 100, Z: fall}, "e3": {X: 50, Z: 90, Status: Remove}},
			Zones:      map[ID]Zone{"z1": {Name: "Lawn", Station: 1}},
			Bodies:     map[ID]catalog.Body{"b": body},
			Heads:      map[ID]Head{"h1": {Tag: "1-1", Zone: "z1", Body: "b"}, "h2": {Tag: "1-2", Zone: "z1", Body: "b", Y: 50}, "h3": {Tag: "1-3", Zone: "z1", Body: "b", Y: 100}, "h4": {Tag: "1-4", Y: -10, Body: "b"}},
		}
	}
	plain, check := catalog.Body{}, catalog.Body{CheckValve: true}
	for _, c := range []struct {
		fall  units.Feet
		body  catalog.Body
		rank  Rank
		words string
	}{
		{0.4, plain, "", ""}, {0.6, plain, Notice, `Head 1-1 of zone 1 (Lawn) stands 7" lower than head 1-3, with nothing`},
		{2, plain, Notice, "Heads 1-1 and 1-2 of zone 1 (Lawn) stand up to 2' 0"},
		{2, check, "", ""}, {7.5, check, Notice, `stands 7' 6" lower than head 1-3, more than a check valve holds`},
	} {
		wantOne(t, "", Check(slope(c.fall, c.body)), LowHeads, c.rank, c.words)
	}
	flat := slope(2, plain)
	delete(flat.Elevations, "e2")
	delete(flat.Elevations, "e3")
	wantOne(t, "one height says nothing of a fall", Check(flat), LowHeads, "", "")
	graded := slope(2, plain)
	graded.Elevations["e4"] = Elevation{Y: 100, Status: New}
	graded.Elevations["e2"] = Elevation{Y: 100, Z: 2, Status: Existing}
	graded.Elevations["e1"] = Elevation{Status: Existing}
	wantOne(t, "levelled", Check(graded), LowHeads, "", "")
}
