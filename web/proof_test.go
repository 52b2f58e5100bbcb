package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"net/http"
	"os"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/units"
)

// noNulls fails where an answer has a null that is none of the given members: lists are
// empty rather than absent, so that a page can go through them.
func noNulls(t *testing.T, v any, but ...string) {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	for _, member := range but {
		text = strings.ReplaceAll(text, `"`+member+`":null`, "")
	}
	if at := strings.Index(text, "null"); at >= 0 {
		t.Errorf("a null at …%s", text[max(0, at-60):at+4])
	}
}

// yardPage is the page for the yard of the plan in the fixture.
func (f *fixture) yardPage(t *testing.T) string {
	t.Helper()
	w := f.do("GET", "/plans/"+f.plan.ID+"/yard", "")
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	checkMarkup(t, "the yard", w.Body.String())
	return w.Body.String()
}

// Before anything is entered the demo has its steps, its zones with what they should
// show, its walk and the first thing to do about the wires; and the page is a log with
// blanks for all of it.
func TestTheProofOfTheDemoBegins(t *testing.T) {
	f := demoFixture(t)
	var v ProofView
	if code := f.asks("/proof?rev=1", &v); code != http.StatusOK || v.Rev != 1 || v.Start.Says == "" {
		t.Fatalf("%d %+v", code, v.Start)
	}
	noNulls(t, v)
	if len(v.Start.Steps) < 8 || len(v.Start.Zones) != 6 || len(v.Start.Tests) != 0 {
		t.Errorf("%d steps, %d zones, %d tests", len(v.Start.Steps), len(v.Start.Zones), len(v.Start.Tests))
	}
	page := f.yardPage(t)
	has := func(what string) {
		t.Helper()
		if !strings.Contains(page, html.EscapeString(what)) {
			t.Errorf("the log does not say %q", what)
		}
	}
	for _, step := range v.Start.Steps {
		if step.ID == "" || step.Title == "" || step.How == "" || step.On != "" {
			t.Errorf("%+v", step)
		}
		has(step.Title)
		has(step.How)
		has(step.Caution)
	}
	for i, z := range v.Start.Zones {
		if z.Station != fmt.Sprint(i+1) || z.Flow == "" || z.Pressure == "" || z.HeadTag == "" || z.Static == "" || z.MeterTime == "" {
			t.Errorf("zone %d: %+v", i+1, z)
		}
		has(z.Flow)
		has(z.MeterTime)
	}
	seen := map[plan.ID]bool{}
	for _, h := range v.Heads {
		if seen[h.ID] || h.Tag == "" || h.Where == "" || h.Nozzle == "" || h.Arc == "" || h.Edge == "" || h.Throw == "" {
			t.Errorf("%+v", h)
		}
		seen[h.ID] = true
		has(h.Edge)
	}
	if len(seen) != 48 {
		t.Errorf("%d heads are walked to", len(seen))
	}
	if v.Wires.Next == nil || v.Wires.Next.Kind != proof.StepNote || len(v.Wires.Terminals) != 7 || v.Wires.Caution == "" {
		t.Errorf("%+v", v.Wires)
	}
	has(v.Wires.Caution)
	has("None of 48 heads is set yet.")
	if n := strings.Count(page, `class="yard-blank"`) + strings.Count(page, `yard-blank"></td>`); n < 2*len(v.Start.Steps)+3*6+2*7+2*48 {
		t.Errorf("%d blanks to write in", n)
	}
	if !strings.Contains(page, `data-yard="`+f.plan.ID+`" data-rev="1"`) {
		t.Error("the script does not find where to work")
	}
	w := f.do("GET", "/plans/"+f.plan.ID+"/yard?show=log", "")
	if log := w.Body.String(); w.Code != http.StatusOK || strings.Contains(log, "data-yard") || !strings.Contains(log, `id="print-sheet"`) || !strings.Contains(log, v.Start.Steps[0].Title) {
		t.Errorf("the log to print: %d", w.Code)
	}
	if code := f.asks("/proof?rev=2", &v); code != http.StatusPreconditionFailed {
		t.Errorf("for a revision that is not stored: %d", code)
	}
}

// records are one of everything that is entered in the yard, of the demo.
const records = `{
 "proof":{
  "checks":{"shut":{"on":"2026-05-30","by":"Kim","note":"gauge on the bib"}},
  "pressure_tests":{"t1":{"on":"2026-05-30","start_psi":60,"end_psi":59,"minutes":90,"meter":"still"}},
  "wires":{"w1":{"order":1,"mark":"red","terminal":2},"w2":{"order":2,"mark":"white","terminal":0,"common":true}},
  "touches":{"k1":{"order":1,"wire":"w1","ran":["z3"]}},
  "resistances":{"o1":{"order":1,"from":"w1","to":"w2","ohms":31}},
  "audits":{"a1":{"name":"May","on":"2026-05-30","area":"back-lawn","runs":{"z4":10},"throat_in2":16,"cans":{"c1":{"x_ft":60,"y_ft":90,"catch_ml":21},"c2":{"x_ft":70,"y_ft":90}}}}},
 "zones":{"z1":{"runs":{"r1":{"on":"2026-05-30","static_psi":62,"running_psi":40,"at_head":"h1-6","meter_gal":10,"meter_s":77}}},
  "z2":{"runs":{"r1":{"on":"2026-05-30","static_psi":62,"running_psi":24,"at_head":"h2-8","meter_gal":10,"meter_s":90}}}},
 "heads":{"h2-2":{"state":{"set_on":"2026-05-30"}},"h2-3":{"state":{"seen_on":"2026-05-30","faults":["tilted"],"tilt_deg":9,"note":"roots"},
  "built":{"on":"2026-05-30","was":{"x_ft":92.6,"y_ft":0.4}}}}}`

// What is entered comes back in the proof and on the page, each beside what it is held
// against.
func TestWhatIsEnteredInTheYardComesBack(t *testing.T) {
	f := demoFixture(t)
	f.patches(records)
	var v ProofView
	if code := f.asks("/proof", &v); code != http.StatusOK || v.Rev != 2 {
		t.Fatalf("%d %+v", code, v.Rev)
	}
	noNulls(t, v, "next")
	page := f.yardPage(t)
	has := func(what string) {
		t.Helper()
		if what == "" || !strings.Contains(page, html.EscapeString(what)) {
			t.Errorf("the log does not say %q", what)
		}
	}
	if s := v.Start.Steps[0]; s.On != "2026-05-30" || s.By != "Kim" || s.Note != "gauge on the bib" {
		t.Errorf("%+v", s)
	}
	has("Done 2026-05-30 by Kim.")
	if len(v.Start.Tests) != 1 || !v.Start.Tests[0].Known {
		t.Fatalf("%+v", v.Start.Tests)
	}
	has(v.Start.Tests[0].Says)
	good, bad := v.Start.Zones[0].Runs, v.Start.Zones[1].Runs
	if len(good) != 1 || !good[0].Known || !good[0].Good || len(good[0].Likely) != 0 {
		t.Errorf("as predicted: %+v", good)
	}
	if len(bad) != 1 || !bad[0].Known || bad[0].Good || len(bad[0].Likely) == 0 {
		t.Fatalf("a third under: %+v", bad)
	}
	for _, cell := range []string{"60 psi", "59 psi", "Still", "10 gal in 77 s", "40 psi", "24 psi"} {
		if !strings.Contains(page, ">"+cell+"</td>") {
			t.Errorf("no cell of the log has %q, which was measured", cell)
		}
	}
	has(bad[0].Says)
	has(bad[0].Likely[0].Cause)
	has(bad[0].Likely[0].Do)
	red := v.Wires.Wires[0]
	if red.Mark != "red" || red.Zone != "z3" || red.Goes != "3" || red.Moves == "" || v.Wires.Wires[1].Kind != proof.WireCommon {
		t.Errorf("%+v", v.Wires.Wires)
	}
	has(red.Moves)
	if at := v.Wires.Terminals[3]; at.Terminal != "3" || at.Wire != "red" || at.WireID != "w1" || at.Ohms == "" {
		t.Errorf("%+v", at)
	}
	for _, h := range v.Heads {
		switch h.ID {
		case "h2-2":
			if h.SetOn != "2026-05-30" || len(h.Faults) != 0 {
				t.Errorf("%+v", h)
			}
		case "h2-3":
			if len(h.Faults) != 1 || h.Note != "roots" {
				t.Errorf("%+v", h)
			}
			has(plan.Capital(h.Faults[0]) + ". roots")
		}
	}
	has("1 of 48 heads is set.")
	if len(v.Audits) != 1 || v.Audits[0].Cans != 2 || v.Audits[0].Read != 1 {
		t.Fatalf("%+v", v.Audits)
	}
	has(v.Audits[0].Says)
	has("21 ml")
	if len(v.Built) != 1 || v.Built[0].Ref != "heads/h2-3" || v.Built[0].Moved == "" {
		t.Fatalf("%+v", v.Built)
	}
	has(v.Built[0].Moved)
	has(v.Built[0].Dims)
}

// many is a plan of so many heads in rows, in zones of twelve, without pipes.
func many(t testing.TB, n int) string {
	t.Helper()
	p, err := plan.Decode([]byte(yard))
	if err != nil {
		t.Fatal(err)
	}
	p.Heads, p.Zones = map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	for i := range n {
		zone := plan.ID(fmt.Sprintf("z%d", 1+i/12))
		p.Heads[plan.ID(fmt.Sprintf("h%d", i))] = plan.Head{
			Tag: fmt.Sprintf("%d-%d", 1+i/12, 1+i%12), Nozzle: "n1", Body: "b1", SweepDeg: 90, Zone: zone,
			X: units.Feet(14 * (i % 20)), Y: units.Feet(14 * (i / 20)),
		}
		p.Zones[zone] = plan.Zone{Station: 1 + i/12}
	}
	return string(p.Encode())
}

// Plans with little in them, and with much, have a proof and a page: nothing is missing
// but what is not drawn, and that is said.
func TestAnyPlanHasAProofAndAPageForTheYard(t *testing.T) {
	without := func(patch string) string {
		doc, _, err := plan.Apply([]byte(yard), plan.Patch(patch))
		if err != nil {
			t.Fatal(err)
		}
		return string(doc)
	}
	for name, c := range map[string]struct{ doc, says string }{
		"empty":         {`{"format":"evenfall-plan/1","name":"Bare","show":"us"}`, "No head and no zone is drawn yet"},
		"metric, empty": {`{"format":"evenfall-plan/1","name":"Bare","show":"metric"}`, "No head and no zone is drawn yet"},
		"no zones":      {without(`{"zones":null,"heads":{"h1":{"zone":null},"h2":{"zone":null},"h3":{"zone":null},"h4":{"zone":null}}}`), "No zone is drawn yet"},
		"no heads":      {without(`{"heads":null}`), "No head is drawn yet"},
		"no supply":     {without(`{"supply":null}`), "None of 4 heads is set yet."},
		"no controller": {yard, "None of 4 heads is set yet."},
		"300 heads":     {many(t, 300), "None of 300 heads is set yet."},
	} {
		t.Run(name, func(t *testing.T) {
			f := newFixture(t)
			f.plan = f.keep(c.doc)
			var v ProofView
			if code := f.asks("/proof", &v); code != http.StatusOK {
				t.Fatalf("%d %+v", code, v)
			}
			noNulls(t, v, "next")
			if page := f.yardPage(t); !strings.Contains(page, c.says) {
				t.Errorf("the page does not say %q", c.says)
			}
			for _, z := range v.Start.Zones {
				if z.Flow == "" && z.Unknown == "" {
					t.Errorf("nothing is predicted of %s, and it is not said why", z.Name)
				}
			}
			var r RetrofitView
			if code := f.asks("/retrofit", &r); code != http.StatusOK || r.Says == "" {
				t.Errorf("%d %+v", code, r)
			}
			noNulls(t, r)
		})
	}
}

// A layout of cans is one step of the plan; what cannot be laid out is refused in words.
func TestCansAreOfferedAsAStep(t *testing.T) {
	f := demoFixture(t)
	for _, by := range []string{"", "&by=grid", "&by=heads"} {
		var v CansView
		if code := f.asks("/cans?area=back-lawn&count=24"+by, &v); code != http.StatusOK || len(v.Cans) != 24 || len(v.Patch) == 0 || v.Label == "" || v.Says == "" || len(v.Rules) == 0 {
			t.Fatalf("%s: %d %+v", by, code, v)
		}
		noNulls(t, v, "measured_byte")
		f.patches(string(v.Patch))
		p, err := plan.Decode(f.now().Doc)
		if err != nil {
			t.Fatal(err)
		}
		kept := p.Proof.Audits[v.Audit]
		if len(kept.Cans) != 24 || kept.Area != "back-lawn" || len(kept.Runs) == 0 {
			t.Errorf("%s: %+v", by, kept)
		}
		for i, c := range v.Cans {
			if at := kept.Cans[c.ID]; float64(at.X) != c.X || float64(at.Y) != c.Y || c.Number != i+1 || c.Expected == nil || c.Predicted == "" {
				t.Errorf("%s: offered %+v, kept %+v", by, c, at)
			}
		}
	}
	for query, says := range map[string]string{
		"":                            "no area",
		"?area=nowhere":               "no area",
		"?area=drive":                 "no planting",
		"?area=back-lawn&by=guess":    "by grid or by heads",
		"?area=back-lawn&count=many":  "whole number",
		"?area=back-lawn&count=-4":    "give from 4",
		"?area=back-lawn&count=99999": "give from 4",
	} {
		w := f.do("GET", "/api/plans/"+f.plan.ID+"/cans"+query, "")
		if w.Code != http.StatusUnprocessableEntity && w.Code != http.StatusBadRequest || !strings.Contains(w.Body.String(), says) {
			t.Errorf("%s: %d %s, want %q", query, w.Code, w.Body, says)
		}
	}
}

// An audit is reckoned once for a revision, whoever asks, and told whole.
func TestAnAuditIsKeptForItsRevision(t *testing.T) {
	f := demoFixture(t)
	f.patches(records)
	n := 0
	f.searches(func(s *proposers) {
		s.audit = func(_ context.Context, p *plan.Plan, id plan.ID) (*proof.Audited, error) {
			n++
			of := 96
			return &proof.Audited{
				ID: id, Known: true, Says: "So it is.", Figures: []proof.AuditFigure{{Name: "DU", Measured: "0.61", Form: "…"}},
				Cans:   []proof.CanRead{{ID: "c1", X: 60, Y: 90, Number: 1, Catch: "21 ml", MeasuredByte: &of}},
				Faults: []proof.HeadFault{{Head: "h4-1", Tag: "4-1", Output: "half", Verdict: "gives half", Look: "the screen", Sure: true}},
				Patch:  plan.Patch(`{"watering":{"audited_du":0.61}}`), Label: "Water by the audit",
			}, nil
		}
	})
	var v AuditView
	for range 2 {
		if code := f.asks("/audit?audit=a1", &v); code != http.StatusOK || v.ID != "a1" || !v.Known || len(v.Cans) != 1 || *v.Cans[0].Measured != 96 ||
			v.Cans[0].Expected != nil || len(v.Faults) != 1 || !v.Faults[0].Sure || v.Label == "" || len(v.Patch) == 0 {
			t.Fatalf("%d %+v", code, v)
		}
		noNulls(t, v, "predicted_byte")
	}
	if n != 1 {
		t.Errorf("reckoned %d times for one revision", n)
	}
	f.patches(`{"proof":{"audits":{"a1":{"cans":{"c2":{"catch_ml":19}}}}}}`)
	if code := f.asks("/audit?audit=a1", &v); code != http.StatusOK || n != 2 || v.Rev != 3 {
		t.Errorf("%d, reckoned %d times, of revision %d", code, n, v.Rev)
	}
	f.patches(`{"proof":{"audits":{"a9":{"cans":{"c1":{"x_ft":60,"y_ft":90,"catch_ml":21}}}}}}`)
	for _, id := range []plan.ID{"a1", "a9", "a1"} { // one does not stand for another
		if code := f.asks("/audit?audit="+string(id), &v); code != http.StatusOK || v.ID != id || v.Rev != 4 {
			t.Errorf("asked of %s it answers %d of %s, revision %d", id, code, v.ID, v.Rev)
		}
	}
	for _, query := range []string{"", "?audit=a2", "?audit=%00"} {
		if w := f.do("GET", "/api/plans/"+f.plan.ID+"/audit"+query, ""); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), "no audit") {
			t.Errorf("%s: %d %s", query, w.Code, w.Body)
		}
	}
	f.searches(func(s *proposers) {
		s.audit = func(context.Context, *plan.Plan, plan.ID) (*proof.Audited, error) {
			return nil, errors.New("no can was read")
		}
	})
	f.patches(`{"name":"Later"}`)
	if w := f.do("GET", "/api/plans/"+f.plan.ID+"/audit?audit=a1", ""); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "No can was read.") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// What mending gains is told whole; where nothing can be told, that is.
func TestWhatMendingGainsIsTold(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.retrofit = func(_ context.Context, _ *plan.Plan, e []coverage.Estimate, tell coverage.Progress) (*proof.RetrofitPlan, error) {
			tell(1, 2)
			return &proof.RetrofitPlan{
				Offered: true, Says: "Mending saves half.",
				Census: []proof.CensusLine{{State: "tilted", Words: "leaning", Heads: []plan.ID{"h1", "h2"}, Tags: "1-1, 1-2"}},
				Zones:  []proof.ZoneMended{{ID: "z1", Name: "Front", Flow: "9 → 8 gpm", Water: "20,000 → 10,000 gal"}},
				Mends:  []proof.Mend{{Says: "Set 2 heads plumb", Saving: "10,000 gal", Heads: []plan.ID{"h1", "h2"}}},
			}, nil
		}
	})
	var v RetrofitView
	if code := f.asks("/retrofit", &v); code != http.StatusOK || !v.Offered || v.Census[0].State != "leaning" || v.Census[0].Count != 2 ||
		v.Zones[0].Flow != "9 → 8 gpm" || v.Mends[0].Saves != "10,000 gal" || len(v.Mends[0].Heads) != 2 {
		t.Fatalf("%d %+v", code, v)
	}
	noNulls(t, v)
	list := linesOf(t, f.do("GET", "/api/plans/"+f.plan.ID+"/retrofit", "", asLines).Body.String())
	if len(list) != 2 || list[0].Step != retrofitted || list[0].Share != 0.5 || list[1].Value == nil {
		t.Errorf("%+v", list)
	}
	f.searches(func(s *proposers) {
		s.retrofit = func(context.Context, *plan.Plan, []coverage.Estimate, coverage.Progress) (*proof.RetrofitPlan, error) {
			return nil, errors.New("temperatures need a latitude")
		}
	})
	if code := f.asks("/retrofit", &v); code != http.StatusOK || v.Offered || v.Says != "Temperatures need a latitude." {
		t.Errorf("%d %+v", code, v)
	}
}

// Photographs are pictures that the plan names: they stand on the page with what they
// show, the last taken first, and one more than a plan may have is refused in words.
func TestPhotographsStandOnThePage(t *testing.T) {
	f := photographed(t)
	_, second, _ := f.send(jpegKind, jpegOf(t, 30, 40))
	f.patches(`{"photos":{"f0":{"sha256":"` + second + `","on":"2026-04-01"},"f2":{"sha256":"` + second + `","on":"2026-06-01","about":"zones/z9","caption":"box"}}}`)
	page := f.yardPage(t)
	at := -1
	for _, says := range []string{"Box, Zone z9, 2026-06-01", "Cracked riser, Head 1-2, 2026-05-30", "2026-04-01"} {
		next := strings.Index(page, `alt="`+says+`"`)
		if next <= at {
			t.Errorf("%q stands at %d, after %d", says, next, at)
		}
		at = next
	}
	if !strings.Contains(page, `width="40" height="30"`) {
		t.Error("the size of a photograph is not said")
	}
	all := map[string]any{}
	for i := range plan.MaxPhotos {
		all[fmt.Sprintf("n%d", i)] = map[string]any{"sha256": second}
	}
	b, err := json.Marshal(map[string]any{"photos": all})
	if err != nil {
		t.Fatal(err)
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(b), patchType, "If-Match: "+tag(f.now().Rev)); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "Take some away.") {
		t.Errorf("%d %.300s", w.Code, w.Body)
	}
}

// Words that would do harm are only ever text, wherever in the yard they were typed.
func TestWordsFromTheYardAreText(t *testing.T) {
	f := demoFixture(t)
	for i, s := range payloads {
		if i%4 != 0 {
			continue
		}
		quoted, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		patch := records
		for _, word := range []string{`"Kim"`, `"gauge on the bib"`, `"red"`, `"roots"`, `"May"`} {
			patch = strings.ReplaceAll(patch, word, string(quoted))
		}
		f.patches(patch)
		f.patches(`{"photos":{"f1":{"sha256":"` + strings.Repeat("ab", 32) + `","caption":` + string(quoted) + `}}}`)
		f.yardPage(t)
		checkData(t, f.do("GET", "/api/plans/"+f.plan.ID+"/proof", ""))
	}
}

func BenchmarkProof_Demo(b *testing.B) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	next, _, err := plan.Apply(doc, plan.Patch(`{"zones":{"z1":{"runs":{"r1":{"on":"2026-05-30","static_psi":60,"running_psi":31,"flow_gpm":6.1}}},"z2":{"runs":{"r1":{"on":"2026-05-30","static_psi":60,"running_psi":31,"flow_gpm":6.1}}}},"heads":{"h1-1":{"state":{"set_on":"2026-05-30"}}}}`))
	if err != nil {
		b.Fatal(err)
	}
	p2, err := plan.Decode(next)
	if err != nil {
		b.Fatal(err)
	}
	e := new(design.Engine)
	d, err := e.Run(b.Context(), p)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("words", func(b *testing.B) {
		for b.Loop() {
			proofWords(p, 1, d)
		}
	})
	b.Run("words_with_runs", func(b *testing.B) {
		for b.Loop() {
			proofWords(p2, 1, d)
		}
	})
	b.Run("engine_after_a_record", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			q := p
			if i%2 == 0 {
				q = p2
			}
			if _, err := e.Run(b.Context(), q); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("engine_again", func(b *testing.B) {
		for b.Loop() {
			if _, err := e.Run(b.Context(), p); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("engine_cold", func(b *testing.B) {
		for b.Loop() {
			if _, err := new(design.Engine).Run(b.Context(), p); err != nil {
				b.Fatal(err)
			}
		}
	})
}
