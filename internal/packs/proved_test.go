package packs

import (
	"context"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/units"
)

// provedYard is the demo as it was built: some of it was there, some goes, most was measured
// where it went, and it was started up, wired and audited.
func provedYard(t testing.TB) Input {
	t.Helper()
	p, err := plan.Decode(demoRouted(t, "demo-mended").Plan.Encode())
	if err != nil {
		t.Fatal(err)
	}
	for i, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		switch {
		case i%9 == 0:
			h.Status = plan.Existing
		case i%13 == 5:
			h.Status = plan.Remove
		}
		if h.Status.Stands() && i%4 != 3 {
			h.Built = &plan.Built{On: "2026-05-18"}
			if i%3 == 0 {
				h.Built.Was = &plan.Spot{X: h.X, Y: h.Y}
				h.X, h.Y = h.X+0.8, h.Y+0.5
			}
		}
		p.Heads[id] = h
	}
	for i, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		if z.ValveAt != nil && i%2 == 0 {
			z.Built = &plan.Built{On: "2026-05-12", DepthIn: 8}
		}
		p.Zones[id] = z
	}
	for _, id := range plan.SortedIDs(p.Sleeves) {
		s := p.Sleeves[id]
		s.Built = &plan.Built{On: "2026-05-09", DepthIn: 20, Note: "capped, a brick on each end"}
		p.Sleeves[id] = s
	}
	for _, id := range plan.SortedIDs(p.Boxes) {
		x := p.Boxes[id]
		x.Built = &plan.Built{On: "2026-05-12", Was: &plan.Spot{X: x.X, Y: x.Y}}
		x.X += 2
		p.Boxes[id] = x
	}
	p.Proof = provedRecord(p)
	p.Site.BackflowTestedOn = "2026-05-19"
	p.Photos = map[plan.ID]plan.Photo{
		"ph1": {SHA256: strings.Repeat("ab", 32), WidthPx: 1600, HeightPx: 1200, On: "2026-05-12", About: "zones/z3", Caption: "Manifold of the side before it was filled in"},
		"ph2": {SHA256: strings.Repeat("cd", 32), WidthPx: 1200, HeightPx: 1600, On: "2026-05-09", Caption: "South end of the sleeve under the drive"},
	}
	return designed(t, p)
}

// provedRecord is what was tested and found on the demo: the main held, zones run, two
// wires swapped, one of them short.
func provedRecord(p *plan.Plan) plan.Proof {
	out := plan.Proof{
		StartedUp: "2026-05-20",
		Checks: map[plan.ID]plan.StepDone{
			proof.StepShut: {On: "2026-05-12", By: "Sam"}, proof.StepHold: {On: "2026-05-12", By: "Sam", Note: "one joint made anew"}, proof.StepTester: {On: "2026-05-19", By: "licensed tester 4711"},
		},
		Tests: map[plan.ID]plan.PressureTest{"t1": {On: "2026-05-12", Start: 62, End: 61, Minutes: 90, Meter: "still"}, "t2": {On: "2026-05-13", Of: "z3", Start: 62, End: 50, Minutes: 30}},
		Wires: map[plan.ID]plan.FoundWire{}, Touches: map[plan.ID]plan.Touch{}, Readings: map[plan.ID]plan.OhmReading{},
	}
	zones := zonesInOrder(p)
	for i, id := range zones {
		z := p.Zones[id]
		z.Runs = map[plan.ID]plan.ZoneRun{"r1": {On: "2026-05-20", StaticPSI: 62, RunningPSI: 40, FlowGPM: 5.1 + units.GPM(i)}}
		if i == 2 {
			delete(z.Runs, "r1")
		}
		p.Zones[id] = z
		wire := plan.ID("w" + itoa(i+1))
		out.Wires[wire] = plan.FoundWire{Order: i + 1, Mark: []string{"red", "blue", "yellow", "orange", "green", "brown"}[i%6], Terminal: []int{2, 1, 3, 4, 5, 6}[i%6]}
		out.Touches["t"+wire] = plan.Touch{Order: i + 1, Wire: wire, Ran: []plan.ID{id}}
		ohms := 28.0 + float64(i)
		if i == 4 {
			ohms = 3
		}
		out.Readings["o"+wire] = plan.OhmReading{Order: i + 1, From: wire, To: "w9", Ohms: &ohms}
	}
	out.Wires["w9"] = plan.FoundWire{Order: 9, Mark: "white", Common: true}
	out.Wires["w8"] = plan.FoundWire{Order: 8, Mark: "black"}
	out.Touches["t8"] = plan.Touch{Order: 8, Wire: "w8"}
	return out
}

// TestProvedSheetsSayWhatWasFound holds the sheets of what was proved to the records, on
// both kinds of paper, their words apart.
func TestProvedSheetsSayWhatWasFound(t *testing.T) {
	t.Parallel()
	in := auditedYard(t, provedYard(t), "back-lawn", "h4-7")
	for _, c := range []struct {
		code  string
		says  []string
		never []string
	}{
		{"O7", []string{"transformer plug", "Red and blue are swapped", "Move from 2 to 1.", "It reads 3.0 Ω to the common", "Spare or broken", "orange 31 Ω", "Changed since"}, []string{"No wire has been noted"}},
		{"O8", []string{
			"Started up on 2026-05-20: 3 of 12 steps, 5 of 6 zones run", "Pressure test of the main 2026-05-12 Sam holds", "Backflow device, by a licensed tester, every year 2026-05-19 licensed tester 4711",
			"Catch-can audit 2026-06-02", "9.20 gpm 6.10 gpm 40.1 psi at 2-8 40 psi", "Most likely: nozzles or screens of some heads are stopped up", "It lost 12 psi", "one joint made anew", "Flush, ends last",
		}, []string{"has not been started up"}},
		{"O9", []string{"Back lawn, 2026-06-02", "Distribution uniformity, low quarter", "Caught", "Predicted at the same cans", "Heads to look at", "gives about half of its water", "for 15 minutes", "driest quarter", "Taken into the watering program: zone 4"}, []string{"No catch-can audit"}},
		{"O10", []string{"2 photographs are kept", "Manifold of the side before it was filled in", "2026-05-09", "Side lawn"}, []string{"No photograph"}},
	} {
		for _, show := range []units.System{units.US, units.Metric} {
			in := in
			p := *in.Plan
			in.Plan, p.Show = &p, show
			pages := oneSheet(t, in, Owner, UsualPaper(show), c.code)
			shoot(t, c.code+"-"+string(show), pages)
			text := writtenOn(pages)
			for _, s := range c.says {
				if show == units.US && !strings.Contains(text, s) {
					t.Errorf("%s does not say %q:\n%s", c.code, s, text)
				}
			}
			for _, s := range c.never {
				if strings.Contains(text, s) {
					t.Errorf("%s says %q", c.code, s)
				}
			}
			if found := usPrint.FindString(text); show == units.Metric && found != "" {
				t.Errorf("metric %s says %q", c.code, found)
			}
			for _, q := range pages {
				if k := overlaps(q, t); k > 0 {
					t.Errorf("%s: %d texts overlap", q.Name, k)
				}
				if s := besideFrame(&q.Page); s != "" {
					t.Error(s)
				}
			}
		}
	}
}

// TestProvedSheetsOfWhatIsNotKnown: each says in a sentence what nobody did yet and has
// room to write it in.
func TestProvedSheetsOfWhatIsNotKnown(t *testing.T) {
	t.Parallel()
	for code, says := range map[string][]string{
		"O7":  {"No wire has been noted at the controller yet", "Zone 1 (Front lawn, west) red", "Common of all valves"},
		"O8":  {"has not been started up yet", "Backflow device again", "40.1 psi at 1-6", "Hold the main at pressure"},
		"O9":  {"No catch-can audit has been made yet", "Zones and their minutes", "24"},
		"O10": {"No photograph is kept with this plan yet"},
	} {
		pages := oneSheet(t, demoRouted(t, "demo-mended"), Owner, Letter, code)
		if len(pages) != 1 {
			t.Errorf("%s has %d pages", code, len(pages))
		}
		text := writtenOn(pages)
		for _, s := range says {
			if !strings.Contains(text, s) {
				t.Errorf("%s does not say %q:\n%s", code, s, text)
			}
		}
	}
	empty := designed(t, plan.Empty("", units.US))
	for code, want := range map[string]string{"O7": "No zone is drawn yet", "O8": "has not been started up", "O9": "No catch-can audit", "O10": "No photograph"} {
		if text := writtenOn(oneSheet(t, empty, Owner, Letter, code)); !strings.Contains(text, want) {
			t.Errorf("%s of an empty plan says\n%s", code, text)
		}
	}
}

// auditedYard is a yard with an audit of 24 cans on one area, one head giving half.
func auditedYard(t testing.TB, in Input, area, low plan.ID) Input {
	t.Helper()
	offer, err := proof.OfferCans(in.Plan, area, proof.CansByGrid, 24)
	if err != nil {
		t.Fatal(err)
	}
	doc, _, err := plan.Apply(in.Plan.Encode(), offer.Patch)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	a := p.Proof.Audits[offer.Audit]
	a.On, a.ThroatIn2, a.Runs = "2026-06-02", 16, map[plan.ID]float64{}
	for _, z := range offer.Zones {
		a.Runs[z] = 15
	}
	p.Proof.Audits[offer.Audit] = a
	before, err := proof.AuditOf(context.Background(), p, offer.Audit)
	if err != nil {
		t.Fatal(err)
	}
	faulty, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	h := faulty.Heads[low]
	h.Status = plan.Remove
	faulty.Heads[low] = h
	without, err := proof.AuditOf(context.Background(), faulty, offer.Audit)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range before.Cans {
		can := a.Cans[c.ID]
		if c.Expected == nil || without.Cans[i].ID != c.ID || without.Cans[i].Expected == nil {
			t.Fatalf("can %d: nothing is predicted", c.Number)
		}
		mean := (float64(*c.Expected) + float64(*without.Cans[i].Expected)) / 2
		ml := math.Round(mean*16*16.387*(1+0.05*math.Sin(float64(7*i)))*2) / 2
		can.ML = &ml
		a.Cans[c.ID] = can
	}
	return designed(t, p)
}

// TestACanBeyondTheColoursKeepsItsFigure: the map's colours end at twice the mean, what is
// written in a can does not, so that the map agrees with its table.
func TestACanBeyondTheColoursKeepsItsFigure(t *testing.T) {
	t.Parallel()
	in := auditedYard(t, provedYard(t), "back-lawn", "h4-7")
	id := plan.SortedIDs(in.Plan.Proof.Audits)[0]
	a := in.Plan.Proof.Audits[id]
	var kept []plan.CatchCan // so far apart that figures have room in them
	for _, c := range plan.SortedIDs(a.Cans) {
		can := a.Cans[c]
		if slices.ContainsFunc(kept, func(k plan.CatchCan) bool { return math.Hypot(float64(k.X-can.X), float64(k.Y-can.Y)) < 12 }) {
			delete(a.Cans, c)
			continue
		}
		kept = append(kept, can)
	}
	first := plan.SortedIDs(a.Cans)[0]
	can := a.Cans[first]
	full := 5 * *can.ML
	can.ML = &full
	a.Cans[first] = can
	read, err := proof.AuditOf(context.Background(), in.Plan, id)
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(read.Cans, func(c proof.CanRead) bool { return c.ID == first })
	want, over := strings.CutSuffix(read.Cans[at].Percent, " %")
	if n, err := strconv.Atoi(want); !over || err != nil || n <= 200 {
		t.Fatalf("the can caught %s of the mean", read.Cans[at].Percent)
	}
	var shown strings.Builder
	for _, q := range oneSheet(t, designed(t, in.Plan), Owner, UsualPaper(units.US), "O9") {
		if err := drawing.Dump(&shown, &q.Page); err != nil {
			t.Fatal(err)
		}
	}
	found := len(regexp.MustCompile(`\b`+want+`\b["\n]`).FindAllString(shown.String(), -1))
	if found < 2 {
		t.Errorf("%s stands %d times on the sheet, want it in the map and in the table", want, found)
	}
}
