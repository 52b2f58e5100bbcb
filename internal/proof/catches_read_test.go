package proof

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func readInto(t testing.TB, p *plan.Plan, id plan.ID, text string) *CatchesRead {
	t.Helper()
	r, err := ReadCatches(p, id, strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// However a file is written: with names or without, by number or id, in inches or
// millimetres, with decimal commas, in any column order.
func TestCatchesAreRead(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "side-lawn", CansByGrid, 24)
	for name, text := range map[string]string{
		"named":           "can,catch_ml,note\n1,20,\n2,21.5,tipped\nc3,22\n",
		"spreadsheet":     "\ufeffCan;Catch (ml)\r\n1;20,0\r\n2;21,5\r\n3;22\r\n",
		"tabs":            "Note\tML\tNo.\n\t20\t1\n\t21.5\t2\n\t22\t3\n",
		"without names":   "1,20\n2,21.5\n3,22\n",
		"catches alone":   "20\n21.5\n22\n",
		"with a comment":  "# by hand\n20\n\n21.5\n22\n",
		"one not read":    "can,ml\n1,20\n2,21.5\n3,22\n4,-\n5,\n",
		"an extra column": "can,ml,who\n1,20,me\n2,21.5,me\n3,22,me\n",
	} {
		r := readInto(t, p, id, text)
		if len(r.Errors) > 0 || r.Read != 3 {
			t.Errorf("%s: %d read, %v", name, r.Read, r.Errors)
			continue
		}
		cans := takenUp(t, p, r.Patch).Proof.Audits[id].Cans
		for can, want := range map[plan.ID]float64{"c1": 20, "c2": 21.5, "c3": 22} {
			if cans[can].ML == nil || *cans[can].ML != want || cans[can].X != p.Proof.Audits[id].Cans[can].X {
				t.Errorf("%s: can %s is %+v, want %g ml where it stood", name, can, cans[can], want)
			}
		}
		if len(cans) != 24 || cans["c4"].ML != nil {
			t.Errorf("%s: %d cans, the fourth %+v", name, len(cans), cans["c4"])
		}
	}
	r := readInto(t, p, id, "can,depth_mm\n1,6.35\n2,12.7\n")
	a := takenUp(t, p, r.Patch).Proof.Audits[id]
	if a.Scale != ByDepth || math.Abs(float64(*a.Cans["c1"].Depth)-0.25) > 1e-12 {
		t.Errorf("6.35 mm is read as %v in of cans marked in %q", a.Cans["c1"].Depth, a.Scale)
	}
	metric := withOwn(p)
	metric.Show = units.Metric
	for name, c := range map[string]struct {
		p    *plan.Plan
		text string
	}{
		"millimetres in brackets":             {p, "can,Depth (mm)\n1,6.35\n"},
		"millimetres in a metric plan":        {metric, "can,depth\n1,6.35\n"},
		"inches in brackets in a metric plan": {metric, "can,Depth (in)\n1,0.25\n"},
		"inches":                              {p, "can;Catch (in)\n1;0,25\n"},
		"without names":                       {takenUp(t, metric, readInto(t, metric, id, "can,mm\n2,5\n").Patch), "1,6.35\n"},
	} {
		a := takenUp(t, c.p, readInto(t, c.p, id, c.text).Patch).Proof.Audits[id]
		if d := a.Cans["c1"].Depth; a.Scale != ByDepth || d == nil || math.Abs(float64(*d)-0.25) > 1e-12 {
			t.Errorf("%s: %v in of cans marked in %q, want a quarter inch", name, d, a.Scale)
		}
	}
	if c := takenUp(t, metric, readInto(t, metric, id, "can,ml,X (m),y\n25,18,10,20\n").Patch).Proof.Audits[id].Cans["c25"]; math.Abs(float64(c.X)-32.808) > 0.001 || math.Abs(float64(c.Y)-65.617) > 0.001 {
		t.Errorf("10 and 20 m are read as %g and %g ft", c.X, c.Y)
	}
	r = readInto(t, p, id, "can,ml,x_ft,y_ft\n25,18,70,40\nby the gate,19,71,41.5\n")
	if len(r.Errors) == 0 {
		t.Errorf("a can with blanks in its id is taken: %s", r.Patch)
	}
	r = readInto(t, p, id, "can,ml,x_m,y_m\n25,18,10,20\ngate,19,71,41.5\n")
	a = takenUp(t, p, r.Patch).Proof.Audits[id]
	if c := a.Cans["c25"]; len(a.Cans) != 26 || math.Abs(float64(c.X)-32.808) > 0.001 || *a.Cans["gate"].ML != 19 {
		t.Errorf("cans that a file sets down: %+v, %+v", a.Cans["c25"], a.Cans["gate"])
	}
	if again := readInto(t, takenUp(t, p, readInto(t, p, id, "20\n21\n").Patch), id, "20\n21\n"); again.Patch != nil || len(again.Errors) > 0 {
		t.Errorf("read twice it changes %s", again.Patch)
	}
}

func TestCatchesRefusedInWords(t *testing.T) {
	t.Parallel()
	p, id := setOut(t, demoYard(t), "side-lawn", CansByGrid, 24)
	for text, want := range map[string]string{
		"":                              "The file is empty",
		"\n \n":                         "The file is empty",
		"can,note\n1,wet\n":             "No column has the catches",
		"can,ml\n1,many\n":              "Line 2, column catch_ml: “many” is not a number",
		"can,ml\n1,-3\n":                "below nothing",
		"can,ml\n99,3\n":                "The audit has no can “99”: it has 24 cans",
		"can,ml\n1,3\n1,4\n":            "stands in line 2 already",
		"can,ml\n1,3,4,5\n":             "is left over",
		"can,ml\n1,-\n":                 "The file has no catch",
		"can,ml,ml\n1,3,4\n":            "Two columns",
		"can,ml,depth_in\n1,3,\n2,,1\n": "Give all in one way",
		"can,ml\n1,9e9\n":               "100000",
		"can,Catch (oz)\n1,3\n":         "No column has the catches",
		"can,ml\n\"1,3\n":               "quotation mark",
		"\x00":                          "not text in UTF-8",
	} {
		r := readInto(t, p, id, text)
		said := ""
		for _, e := range r.Errors {
			said += e.Error() + " "
		}
		if r.Patch != nil || !strings.Contains(said, want) {
			t.Errorf("%q: %s, patch %s; want %q", text, said, r.Patch, want)
		}
	}
	if _, err := ReadCatches(p, "gone", strings.NewReader("1")); err == nil || !strings.Contains(err.Error(), `no audit "gone"`) {
		t.Errorf("an audit that is not there: %v", err)
	}
}

// FuzzCatches reads any text as a file of catches: with mistakes there is no patch, and a
// patch is one that the plan takes.
func FuzzCatches(f *testing.F) {
	for _, text := range []string{
		"can,catch_ml,note\n1,20,\n2,21.5,tipped\n", "Can;Catch (ml)\r\n1;20,0\r\n", "20\n21\n", "1,20\n", "can,depth_mm\n1,6.35\n",
		"can,ml,x_ft,y_ft\n25,18,70,40\n", "can,ml,depth_in\n1,3,\n2,,1\n", "#\n", "\ufeff", "can,ml\n1,1e400\n",
	} {
		f.Add([]byte(text))
	}
	p, id := setOut(f, demoYard(f), "side-lawn", CansByGrid, 24)
	text := p.Encode()
	f.Fuzz(func(t *testing.T, file []byte) {
		r := readInto(t, p, id, string(file))
		if len(r.Errors) > 0 != (r.Patch == nil) && r.Says != "The audit has these catches already." {
			t.Errorf("%d mistakes, patch %s", len(r.Errors), r.Patch)
		}
		if r.Patch == nil {
			return
		}
		if _, err := plan.Preview(text, r.Patch); err != nil {
			t.Errorf("the patch is refused: %v", err)
		}
	})
}
