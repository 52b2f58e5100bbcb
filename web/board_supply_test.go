package web

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// supplyOf puts the supply of the demo, changed, into words.
func supplyOf(t *testing.T, change func(*plan.Plan)) (*maker, *SupplyView) {
	t.Helper()
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	change(p)
	m := makerOf(t, string(p.Encode()))
	return m, m.supply(&m.d.Pressure.Supply)
}

// The limits of the demo by trade.md section 6: meter 75 % 22.5 gpm, its tenth of
// static 19.3 (by the rule of squares; the table's points give 19.6), service line
// 12.9 at 5 ft/s.
func TestTheSupplyPageShowsTheDemosLimits(t *testing.T) {
	_, v := supplyOf(t, func(p *plan.Plan) { p.Supply.ServiceFPS, p.Supply.DesignFlowGPM, p.Supply.DesignFlowReason = 5, 0, "" })
	want := map[string]float64{"meter_share": 22.5, "meter_loss": 19.3, "service_velocity": 12.9}
	for _, l := range v.Limits {
		if w, ok := want[l.Code]; ok && math.Abs(l.Flow-w) > 0.4 {
			t.Errorf("%s is %.2f gpm, want about %.1f", l.Code, l.Flow, w)
		}
		delete(want, l.Code)
		if l.Missing == "" && (l.Says == "" || l.Rule == "" || l.Source == "") {
			t.Errorf("%s lacks how it came about, its rule or its source: %+v", l.Code, l)
		}
		if (l.Code == "service_velocity") != l.Sets || l.Sets != l.Least {
			t.Errorf("%s: sets %v, least %v; the service line is to set the flow", l.Code, l.Sets, l.Least)
		}
	}
	for code := range want {
		t.Errorf("no limit %s is shown", code)
	}
	if v.Known != "measured" || v.Print != "" || !strings.HasPrefix(v.SetBy, "Set by “Service line") {
		t.Errorf("known %q, print %q, set by %q", v.Known, v.Print, v.SetBy)
	}
}

// A flow of one's own is told with its reason, and the limits stay in sight.
func TestAFlowOfOnesOwnKeepsItsReason(t *testing.T) {
	_, v := supplyOf(t, func(p *plan.Plan) { p.Supply.DesignFlowGPM, p.Supply.DesignFlowReason = 11, "the neighbour's pump" })
	if v.Design != "11.0 gpm" || v.SetBy != "Chosen by you: the neighbour's pump." || len(v.Limits) < 4 {
		t.Errorf("design %q, %q, %d limits", v.Design, v.SetBy, len(v.Limits))
	}
}

// The curve is drawn to where it is known and not beyond; a zone that asks for
// more stands there without a pressure.
func TestTheCurveEndsWhereTheSupplyIsKnown(t *testing.T) {
	m, v := supplyOf(t, func(p *plan.Plan) { p.Supply.FlowGPM, p.Supply.ResidualPSI = 6, 58 })
	end := float64(m.d.Pressure.Supply.EndsAtGPM)
	for _, p := range v.Curve.Points {
		if p[0] > end+1e-9 {
			t.Fatalf("the curve is drawn at %.2f gpm and known to %.2f", p[0], end)
		}
	}
	beyond := 0
	for _, z := range v.Curve.Zones {
		if z.Flow <= end {
			if z.PSI == nil {
				t.Errorf("%s at %.2f gpm has no pressure, and the curve is known to %.2f", z.Name, z.Flow, end)
			}
			continue
		}
		beyond++
		if z.PSI != nil || !z.Over || !strings.Contains(z.Text, "beyond what is known") {
			t.Errorf("%s at %.2f gpm lies beyond the curve and is shown as %+v", z.Name, z.Flow, z)
		}
	}
	if beyond == 0 {
		t.Error("no zone lies beyond the curve: the case is not tried")
	}
	if v.Curve.Flow.Most < 12 {
		t.Errorf("the axis ends at %.1f gpm, short of the thirstiest zone", v.Curve.Flow.Most)
	}
}

// Marks of an axis are round in the plan's own units, in metric too.
func TestAxesHaveRoundMarks(t *testing.T) {
	for _, sys := range []units.System{units.US, units.Metric} {
		m := &maker{sys: sys}
		for _, most := range []units.GPM{0, 0.3, 7, 12.8, 160} {
			a := m.flowAxis(most)
			if a.Most < float64(most) || len(a.Ticks) < 3 || len(a.Ticks) > 11 {
				t.Errorf("%s %v gpm: ends at %v with %d marks", sys, most, a.Most, len(a.Ticks))
			}
			for _, k := range a.Ticks {
				if len(k.Text) > 5 {
					t.Errorf("%s %v gpm: a mark reads %q", sys, most, k.Text)
				}
			}
		}
	}
}

// The way of the water by kind of device (trade.md E3; 30 TAC 344.50(b)): an
// atmospheric breaker after every zone valve, all others before them.
func TestEveryBackflowKindHasItsPlaceInTheChain(t *testing.T) {
	for _, k := range backflowKinds() {
		at := map[string]int{}
		for i, c := range k.Chain {
			at[c.Code] = i
		}
		after := at["backflow"] > at["valve"]
		if want := k.Kind == catalog.AtmosphericBreaker; after != want {
			t.Errorf("%s stands after the zone valve: %v, want %v", k.Name, after, want)
		}
		if at["isolation"] > at["backflow"] || at["lateral"] < at["backflow"] {
			t.Errorf("%s: isolation at %d, device at %d, laterals at %d", k.Name, at["isolation"], at["backflow"], at["lateral"])
		}
		if k.Against == "" || k.Place == "" || k.Height == "" {
			t.Errorf("%s lacks words: %+v", k.Name, k)
		}
	}
	if n := len(backflowKinds()); n != 5 {
		t.Errorf("%d kinds are shown", n)
	}
}

// What pushes back, is put in or is taken off stands in the chain before the zone
// valves, and a breaker says that it is the wrong kind for it; a reduced-pressure
// device does not.
func TestRow24_ChainShowsWhatStandsAfterTheDevice(t *testing.T) {
	for device, unfit := range map[plan.ID]bool{"backflow-pvb-1": true, "backflow-rp-1": false} {
		for by, name := range map[string]string{"pump": "Booster pump", "second_source": "Second source joins"} {
			_, v := supplyOf(t, func(p *plan.Plan) {
				row, ok := catalog.FindDevice(string(device))
				if !ok {
					t.Fatalf("the catalogue has no %s", device)
				}
				if p.Devices == nil {
					p.Devices = map[plan.ID]catalog.Device{}
				}
				p.Devices[device] = row
				p.Supply.BackflowDevice, p.Supply.PushBack, p.Supply.Injection, p.Supply.TapsAfter = device, by, true, true
			})
			var chain []string
			for _, c := range v.Backflow.Chain {
				chain = append(chain, c.Name)
			}
			place := func(piece string) int { return slices.Index(chain, piece) }
			for _, piece := range []string{name, "Injector of fertilizer or chemicals", "Taps for drinking or hoses"} {
				if at := place(piece); at <= place(v.Backflow.Name) || at >= place("Zone valve") {
					t.Errorf("%s, %s: %q stands at %d in %v", device, by, piece, at, chain)
				}
			}
			if got := v.Backflow.Unfit != ""; got != unfit {
				t.Errorf("%s with %s: it says %q", device, by, v.Backflow.Unfit)
			}
		}
	}
}

// The demo's breaker stands on ground of .8 ft and its highest head on 2.4 ft, so
// its critical level must be 2.6 ft (32 in) over its own ground, not 12 in
// (trade.md section 6).
func TestTheBreakersHeightCountsFromTheHighHeadsGround(t *testing.T) {
	for _, c := range []struct {
		height units.Feet
		rank   string
		want   string
	}{{1, "mend", "too low"}, {2.7, good, "high enough"}} {
		_, v := supplyOf(t, func(p *plan.Plan) {
			row, ok := catalog.FindDevice("backflow-pvb-1")
			if !ok {
				t.Fatal("the catalogue has no pressure breaker of 1 in")
			}
			if p.Devices == nil {
				p.Devices = map[plan.ID]catalog.Device{}
			}
			p.Devices["backflow-pvb-1"] = row
			p.Supply.BackflowDevice, p.Supply.BackflowHeightFt = "backflow-pvb-1", &c.height
		})
		if v.Backflow.Rank != c.rank || !strings.Contains(v.Backflow.Height, c.want) || !strings.Contains(v.Backflow.Height, `2' 7`) {
			t.Errorf("at %.1f ft: %q (%s)", float64(c.height), v.Backflow.Height, v.Backflow.Rank)
		}
	}
}

// What is known of a supply that is assumed is told, and what is not.
func TestRow17_AnAssumedSupplyTellsWhatIsKnown(t *testing.T) {
	for _, c := range []struct {
		s    plan.Supply
		want string
		not  string
	}{
		{plan.Supply{StaticPSI: 60, FlowGPM: 12, ResidualPSI: 50}, "Nothing is marked as measured yet", "is known ("},
		{plan.Supply{Measured: true}, "Nothing is marked as measured yet", "is known ("},
		{plan.Supply{Measured: true, StaticPSI: 60}, "The pressure at rest is known (60 psi), a flow is not", "Nothing"},
		{plan.Supply{Measured: true, FlowGPM: 13, ResidualPSI: 20}, "One flow is known (13.0 gpm with 20 psi left), the pressure at rest is not", "Nothing"},
		{plan.Supply{Measured: true, Kind: plan.Well, StaticPSI: 60}, "The pump’s curve is not known", "Nothing"},
	} {
		_, v := supplyOf(t, func(p *plan.Plan) { p.Supply = c.s })
		if v.Known != "assumed" || !strings.Contains(v.Says, c.want) || strings.Contains(v.Says, c.not) {
			t.Errorf("%+v is %s: %q", c.s, v.Known, v.Says)
		}
	}
}

// Where every head lies below the device, its own pipe decides its height: 12 in
// above the ground at the device, and not above the head.
func TestRowE3_ABreakerAboveAllHeadsIsHeldByItsOwnPipe(t *testing.T) {
	_, v := supplyOf(t, func(p *plan.Plan) {
		p.Devices["backflow-pvb-1"], _ = catalog.FindDevice("backflow-pvb-1")
		p.Supply.BackflowDevice = "backflow-pvb-1"
		at := *p.Supply.BackflowAt
		p.Elevations = map[plan.ID]plan.Elevation{"top": {X: at.X, Y: at.Y, Z: 30}}
		for i, spot := range []plan.Spot{{X: -200, Y: -200}, {X: 300, Y: -200}, {X: 300, Y: 300}, {X: -200, Y: 300}} {
			p.Elevations[plan.ID("low"+string(rune('a'+i)))] = plan.Elevation{X: spot.X, Y: spot.Y, Z: 0}
		}
	})
	if h := v.Backflow.Height; !strings.Contains(h, "below it. So the device’s own pipe decides: the critical level must be at least 1' 0\"") || strings.Contains(h, "above it, the critical level") {
		t.Error(h)
	}
}

// The picture of the chain shows a blow-out port wherever the parts list has one,
// before the zone valves (trade.md A7).
func TestRow31_ChainAndPartsListAgreeOnTheBlowOutPort(t *testing.T) {
	for _, device := range []plan.ID{"", "backflow-pvb-1", "backflow-avb-1", "backflow-rp-1"} {
		for _, freeze := range []string{"", "none", "blow_out", "manual_drain"} {
			m, v := supplyOf(t, func(p *plan.Plan) {
				p.Supply.Freeze, p.Supply.BackflowDevice, p.Supply.Status = freeze, device, plan.New
				if device != "" {
					p.Devices[device], _ = catalog.FindDevice(string(device))
				}
			})
			listed, drawn, valve := false, -1, -1
			for _, l := range m.d.Parts.Total {
				listed = listed || strings.HasPrefix(l.Item, "Blow-out port")
			}
			for i, c := range v.Backflow.Chain {
				switch c.Code {
				case "blow_out":
					drawn = i
				case "valve":
					valve = i
				}
			}
			if listed != (drawn >= 0) || listed != (freeze == "blow_out") || drawn > valve {
				t.Errorf("%s, %q: listed %v, drawn at %d with the valves at %d", device, freeze, listed, drawn, valve)
			}
			if behind := strings.Contains(strings.Join(v.Freeze.Parts, " "), "after the backflow device"); behind && device == "backflow-avb-1" {
				t.Errorf("%s: %q", device, v.Freeze.Parts)
			}
		}
	}
}

// What takes pressure is told whether the plan names it or the usual one is taken:
// the zones' valves at the most that each kind passes, a joint at one head's flow.
func TestTheUsualDevicesAreToldToo(t *testing.T) {
	_, v := supplyOf(t, func(p *plan.Plan) {
		p.Supply.SwingJoint, p.Supply.Meter = "", ""
		z := p.Zones["z5"]
		z.Valve = "valve-1-low"
		p.Devices["valve-1-low"], _ = catalog.FindDevice("valve-1-low")
		p.Zones["z5"] = z
	})
	told := map[string]string{}
	for _, d := range v.Devices {
		told[d.Role+" "+string(d.ID)] = d.Takes
	}
	for of, at := range map[string]string{
		"meter meter-0_75": " at 12.9 gpm", "backflow_device backflow-pvb-1": " at 12.9 gpm",
		"swing_joint swing-joint-0_75": " at 3.00 gpm", "swing_joint swing-joint-0_5": " gpm", // rotors, and the others
		"zone_valve valve-1": " at 12.0 gpm", "zone_valve valve-1-low": " at 2.60 gpm",
	} {
		if !strings.HasSuffix(told[of], at) {
			t.Errorf("%s is told as %q, want%s", of, told[of], at)
		}
	}
}

// An empty plan says that its supply is assumed, and what every print says.
func TestTheSupplyOfANewPlanIsAssumed(t *testing.T) {
	m := makerOf(t, string(plan.Empty("New", units.Metric).Encode()))
	v := m.supply(&m.d.Pressure.Supply)
	if v.Known != "assumed" || !strings.Contains(v.Print, "ASSUMED") || v.Says == "" || v.SetBy != "Assumed until you measure." {
		t.Errorf("known %q, print %q, set by %q", v.Known, v.Print, v.SetBy)
	}
	if _, err := json.Marshal(v); err != nil {
		t.Error(err) // no figure that JSON has no word for
	}
	for _, broken := range []pressure.Supply{{}, {Curve: []pressure.CurvePoint{{Flow: 0, PSI: 0}, {Flow: 0, PSI: 0}}}} {
		if _, err := json.Marshal(m.supply(&broken)); err != nil {
			t.Errorf("%+v: %v", broken, err)
		}
	}
}
