package plan

import (
	"testing"

	"evenfall/internal/units"
)

func TestLabel(t *testing.T) {
	p := fullPlan()
	p.Zones["z2"] = Zone{Name: "Back"}
	p.Zones["z3"] = Zone{Station: 4}
	p.Show = units.US
	p.Heads["h2"] = Head{X: 3.5, Y: 12}
	p.Areas["a3"] = Area{Name: " "}
	for _, test := range []struct {
		ref  Ref
		want string
	}{
		{"heads/h1", "Head 1-1"},
		{"heads/h2", "Head at 3.5, 12 ft"},
		{"heads/gone", "Head gone"},
		{"zones/z1", "Zone 1 (Front)"},
		{"zones/z2", "Zone Back"},
		{"zones/z3", "Zone 4"},
		{"areas/a1", "Front lawn"},
		{"areas/a3", "Area a3"},
		{"barriers/b1", "Garden wall"},
		{"trees/t1", "Oak"},
		{"keep_dry/k1", "Meter"},
		{"nozzles/n1", "Nozzle Adjustable 10 ft"},
		{"bodies/o9", "Body o9"},
		{"elevations/e1", "Spot height e1"},
		{"proof/cans/c1", "Catch-can c1"},
		{"supply", "The supply"},
		{"site/lot", "The property line"},
	} {
		if got := p.Label(test.ref); got != test.want {
			t.Errorf("Label(%s) = %q, want %q", test.ref, got, test.want)
		}
	}
}

func TestCountIsOfAllCollections(t *testing.T) {
	p := fullPlan()
	want := 0
	for _, name := range documentShape.names {
		if s := documentShape.at(name); s != nil && s.each != nil {
			list, err := members(find(p.Encode(), name))
			if err != nil {
				t.Fatal(err)
			}
			want += len(list)
		}
	}
	// Of the proof: a step, a test, two wires, a touch, a reading, an audit with its can, and the can of before.
	want += 9 + len(p.Supply.Statics) + len(p.Quote.Rentals)
	if got := p.Count(); got != want {
		t.Errorf("Count() = %d, want %d", got, want)
	}
}

func TestRefs(t *testing.T) {
	for _, test := range []struct {
		ref        Ref
		ok         bool
		collection string
		id         ID
	}{
		{"heads/h1", true, "heads", "h1"},
		{"proof/cans/c1", true, "proof/cans", "c1"},
		{"supply", true, "supply", ""},
		{"site/lot", true, "site", "lot"},
		{"site/north", false, "site", "north"},
		{"heads", false, "heads", ""},
		{"head/h1", false, "head", "h1"},
		{"heads/", false, "heads", ""},
		{"/heads/h1", false, "/heads", "h1"},
		{"name", false, "name", ""},
		{"", false, "", ""},
	} {
		if got := test.ref.wellMade(); got != test.ok {
			t.Errorf("%q.wellMade() = %v, want %v", test.ref, got, test.ok)
		}
		if c, id := test.ref.Split(); c != test.collection || id != test.id {
			t.Errorf("%q.Split() = %q, %q, want %q, %q", test.ref, c, id, test.collection, test.id)
		}
	}
}

func TestWhatGoesWithoutSaying(t *testing.T) {
	p, err := Decode(plain1(`,"areas":{"a1":{"kind":"planting","outline":[[0,0],[9,0],[9,9]]},"a2":{"kind":"paving","outline":[[0,0],[9,0],[9,9]]}},"barriers":{"b1":{"line":[[0,0],[9,0]],"height_ft":6}}`))
	if err != nil {
		t.Fatal(err)
	}
	lawn, walk := p.Areas["a1"], p.Areas["a2"]
	for _, test := range []struct {
		what      string
		got, want any
	}{
		{"units", p.Show, units.US},
		{"status", lawn.Status, New},
		{"cover", lawn.Planting, Turf},
		{"exposure", lawn.Exposure, Sun},
		{"watering", lawn.Watering, Overhead},
		{"cover of paving", walk.Planting, Cover("")},
		{"barrier", p.Barriers["b1"].Kind, Fence},
		{"supply", p.Supply.Kind, TownMeter},
		{"edge lip", p.EdgeLip(), units.Feet(0.5)},
		{"height of a building", Area{}.Height(), units.Feet(10)},
		{"mowing", Area{}.MowHeight(), units.Inches(3)},
		{"cover unread", Area{}.Cover(), Turf},
		{"sun unread", Area{}.Sunlight(), Sun},
		{"watering unread", Area{}.WateredBy(), Overhead},
		{"keep-dry", KeepDry{}.Radius(), units.Feet(1.5)},
		{"underlay", Underlay{}.Shown(), units.Ratio(1)},
	} {
		if test.got != test.want {
			t.Errorf("%s: got %v, want %v", test.what, test.got, test.want)
		}
	}
	full := fullPlan()
	if got := full.EdgeLip(); got != 0 {
		t.Errorf("an edge lip of 0 that is said: got %v", got)
	}
	if got := full.Areas["a2"].Height(); got != 18 {
		t.Errorf("a height that is said: got %v", got)
	}
	if !Status("").IsNew() || !New.IsNew() || Existing.IsNew() || Remove.Stands() || !Existing.Stands() {
		t.Error("the statuses do not say what they are")
	}
}

func TestEncodeLeavesOutWhatGoesWithoutSaying(t *testing.T) {
	got := (&Plan{
		Name: "x", Supply: Supply{Kind: TownMeter, Status: New}, Controller: Controller{Status: New}, Heads: map[ID]Head{},
		Barriers: map[ID]Barrier{"b1": {Kind: Fence, Status: New}},
		Areas:    map[ID]Area{"a1": {Kind: Planting, Status: New, Planting: Turf, Exposure: Sun, Watering: Overhead}},
	}).Encode()
	want := `{"format":"evenfall-plan/1","name":"x","show":"us","areas":{"a1":{"name":"","kind":"planting","outline":[]}},"barriers":{"b1":{"name":"","line":[],"height_ft":0}}}` + "\n"
	if string(got) != want {
		t.Errorf("got  %swant %s", got, want)
	}
}

func TestEmptyAssumesASupply(t *testing.T) {
	p, err := Decode(Empty("New yard", units.Metric).Encode())
	if err != nil {
		t.Fatal(err)
	}
	if p.Supply.Measured || p.Supply.FlowGPM != 10 || p.Supply.ResidualPSI != 45 || p.Show != units.Metric {
		t.Errorf("got %+v", p)
	}
}
