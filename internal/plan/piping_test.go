package plan

import (
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// The plan's own row stands before the catalogue's of the same id; where none is
// named there is the generic one, or none at all.
func TestRowsOfPipeAndDevicesAreThePlansOwnBeforeTheCatalogues(t *testing.T) {
	p := Empty("", units.US)
	p.Zones = map[ID]Zone{"z1": {}, "z2": {Valve: "valve-1"}, "z3": {Valve: "ours"}}
	ours := catalog.Device{Name: "Our valve", Kind: catalog.ZoneValve}
	p.Devices = map[ID]catalog.Device{"ours": ours, "valve-1": {Name: "Our 1 in valve", Kind: catalog.ZoneValve}}
	for zone, want := range map[ID]string{"z1": "Our 1 in valve", "z2": "Our 1 in valve", "z3": "Our valve", "gone": "Our 1 in valve"} {
		if _, d := p.ZoneValve(zone); d.Name != want {
			t.Errorf("valve of %s is %q, want %q", zone, d.Name, want)
		}
	}
	p.Bodies = map[ID]catalog.Body{"spray": {InletIn: 0.5}, "rotor": {InletIn: 0.75}, "dn20": {InletIn: units.Inches(20 / 25.4)}, "inch": {InletIn: 1}, "large": {InletIn: 1.5}, "none": {}}
	for body, want := range map[ID]ID{"spray": "swing-joint-0_5", "rotor": "swing-joint-0_75", "dn20": "swing-joint-0_75", "inch": "swing-joint-1", "large": "swing-joint-1", "none": "swing-joint-0_5", "gone": "swing-joint-0_5"} {
		if id, d := p.SwingJoint(body); id != want || d.Kind != catalog.SwingJoint {
			t.Errorf("without a choice under the head of %s: %s, %+v", body, id, d)
		}
	}
	p.Supply.SwingJoint = "swing-joint-0_5"
	if id, _ := p.SwingJoint("rotor"); id != "swing-joint-0_5" {
		t.Errorf("the joint chosen for all heads gives way to %s", id)
	}
	p.Supply.SwingJoint = ""
	for name, find := range map[string]func() (ID, catalog.Device, bool){
		"meter": p.Meter, "backflow": p.BackflowDevice, "isolation": p.Isolation, "filter": p.Filter, "master valve": p.MasterValve,
	} {
		if id, _, ok := find(); ok || id != "" {
			t.Errorf("a plan that says nothing has the %s %q", name, id)
		}
	}
	p.Supply.MeterIn = 0.75
	if id, d, ok := p.Meter(); !ok || id != "meter-0_75" || d.MostGPM != 30 {
		t.Errorf("a 3/4 in meter is %s, %+v", id, d)
	}
	p.Supply.MeterIn = units.Inches(20 / 25.4) // as typed in millimetres
	if id, _, ok := p.Meter(); !ok || id != "meter-0_75" {
		t.Errorf("a 20 mm meter is %s", id)
	}
	p.Supply.Meter = "ours"
	if id, d, ok := p.Meter(); !ok || id != "ours" || d.Name != "Our valve" {
		t.Errorf("the meter chosen is %s, %+v", id, d)
	}
	if got := p.DeviceName("meter-1"); got != "Water meter 1 in" {
		t.Errorf("named %q", got)
	}
	p.Show = units.Metric
	if got, class := p.DeviceName("meter-1"), p.PipeClassName("pe-100"); got != "Water meter DN 25" || class != "Polyethylene, 6.9 bar" {
		t.Errorf("in metric named %q and %q", got, class)
	}
}

// A pipe has a row when its class is known and made in its size; the service line
// also by its material in words.
func TestPipesHaveARowOnceClassAndSizeAreChosen(t *testing.T) {
	p := Empty("", units.US)
	for _, c := range []struct {
		pipe   Pipe
		inside units.Inches // 0: no row
	}{
		{Pipe{}, 0}, {Pipe{Class: "pvc-class200"}, 0}, {Pipe{NominalIn: 1}, 0}, {Pipe{Class: "lead", NominalIn: 1}, 0},
		{Pipe{Class: "pvc-class200", NominalIn: 0.5}, 0}, {Pipe{Class: "pvc-class200", NominalIn: 1}, 1.169},
	} {
		if _, s, sized := p.Row(c.pipe); sized != (c.inside > 0) || sized && s.Inside != c.inside {
			t.Errorf("%+v: %v, %+v", c.pipe, sized, s)
		}
	}
	for words, want := range map[string]units.PSI{"copper type L": 494, "Type K COPPER": 494, "poly": 100, "PE": 100, "PVC": 450, "polyvinyl chloride": 450, "old galvanised": 300, "": 0, "lead": 0} {
		p.Supply.ServiceMaterial, p.Supply.ServiceIn = words, 1
		if _, s, known := p.ServicePipe(); known != (want > 0) || known && s.Rating != want {
			t.Errorf("a service of %q: %v, rated %v, want %v", words, known, s.Rating, want)
		}
	}
	p.Supply.ServiceMaterial, p.Supply.ServiceClass = "copper", "pe-100"
	if c, _, known := p.ServicePipe(); !known || c.Material != catalog.PE {
		t.Errorf("the class chosen gives way to the words: %+v", c)
	}
}
