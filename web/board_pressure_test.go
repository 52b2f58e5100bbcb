package web

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/coder/websocket"

	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// The channel sends the drawing or the zones as they run, as each preview asks;
// after any order of both the page's map is what a fresh engine makes of that.
func TestTheChannelShowsTheRunningZonesWhenAsked(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(pipedYard(t))
	at, _ := f.serving()
	p, c := &page{t: t}, f.dial(at)
	pipe := firstPipe(t, f.plan.Doc)
	for i, as := range []string{"", "running", "running", "", "running"} {
		patch := fmt.Sprintf(`{"pipes":{%q:{"nominal_in":%v}}}`, pipe, []float64{0.5, 0.75, 1}[i%3])
		message := fmt.Sprintf(`{"rev":%d,"seq":%d,"patch":%s,"as":%q}`, f.plan.Rev, i+1, patch, as)
		if err := c.Write(t.Context(), websocket.MessageText, []byte(message)); err != nil {
			t.Fatal(err)
		}
		p.take(c)
		if p.board.As != as || (as != "") != (p.board.Says != "") {
			t.Errorf("asked for %q, it is of %q: %s", as, p.board.As, p.board.Says)
		}
		next, err := plan.Preview(f.plan.Doc, plan.Patch(patch))
		if err != nil {
			t.Fatal(err)
		}
		var e design.Engine
		d, err := e.Run(context.Background(), next)
		if err != nil {
			t.Fatal(err)
		}
		field := e.Field()
		if as == asRunning {
			r, err := e.Running(context.Background(), next, d)
			if err != nil {
				t.Fatal(err)
			}
			field = r.Field
		}
		if g := field.Frame(); !bytes.Equal(p.cells, field.Cells(geom.Cells{X1: g.NX, Y1: g.NY})) {
			t.Fatalf("the map as %q after %s differs from a fresh one", as, patch)
		}
	}
}

func firstPipe(t *testing.T, doc []byte) plan.ID {
	t.Helper()
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range plan.SortedIDs(p.Pipes) {
		if p.Pipes[id].Zone != "" {
			return id
		}
	}
	t.Fatal("the plan has no lateral")
	return ""
}

// What a pipe takes is told alike whichever way round it was drawn.
func TestLossesOfPipesHaveNoSign(t *testing.T) {
	doc, err := os.ReadFile("../testdata/plans/mistakes/33-size-grows.json")
	if err != nil {
		t.Fatal(err)
	}
	told := func(turn bool) map[plan.ID]string {
		p, err := plan.Decode(doc)
		if err != nil {
			t.Fatal(err)
		}
		for id, v := range p.Pipes {
			if turn {
				v.From, v.To = v.To, v.From
				slices.Reverse(v.Via)
				p.Pipes[id] = v
			}
		}
		losses := map[plan.ID]string{}
		for id, v := range makerOf(t, string(p.Encode())).pipes() {
			for _, r := range v.Runs {
				losses[id] = r.Loss
			}
		}
		return losses
	}
	if as, turned := told(false), told(true); len(as) == 0 || !maps.Equal(as, turned) {
		t.Errorf("pipes take %v, turned about %v", as, turned)
	}
}

// The column of a budget adds up as it is printed, in both systems of units: the
// first pressure less all losses is the last, and each row's the one before it
// less its own loss.
func TestBudgetsAddUpAsPrinted(t *testing.T) {
	for _, name := range []string{"mistakes/33-size-grows", "demo"} {
		for _, show := range []string{"us", "metric"} {
			doc, err := os.ReadFile("../testdata/plans/" + name + ".json")
			if err != nil {
				t.Fatal(err)
			}
			m := makerOf(t, strings.Replace(string(doc), `"show":"us"`, `"show":"`+show+`"`, 1))
			solved := 0
			for _, z := range m.pressures() {
				if !z.Solved {
					if z.Says == "" {
						t.Errorf("%s, %s: zone %s is not worked out and nothing says why", name, show, z.Zone)
					}
					continue
				}
				solved++
				if len(z.Budget) < 3 || z.Worst == "" || z.Budget[0].Loss != "" {
					t.Fatalf("%s, %s: zone %s has %d rows and the worst head %q", name, show, z.Zone, len(z.Budget), z.Worst)
				}
				sum := figure(t, z.Budget[0].Left)
				for i, s := range z.Budget[1:] {
					loss := figure(t, s.Loss)
					if s.Gains {
						loss = -loss
					}
					sum -= loss
					if math.Abs(sum-figure(t, s.Left)) > 1e-9 {
						t.Errorf("%s, %s, zone %s, row %d (%s): the column says %.4g, the row %s", name, show, z.Zone, i+1, s.Name, sum, s.Left)
					}
					if s.Rule == "" || s.Source == "" || s.Unsure != strings.Contains(s.Source, "default to replace") {
						t.Errorf("%s: the row %q opens to the rule %q, source %q, a default %v", name, s.Name, s.Rule, s.Source, s.Unsure)
					}
					if before := z.Budget[i]; s.AlongFt < before.AlongFt {
						t.Errorf("%s: %q stands before %q along the way", name, s.Name, before.Name)
					}
				}
			}
			if solved == 0 || string(m.p.Show) != show {
				t.Errorf("%s, shown in %s: %d zones are worked out", name, m.p.Show, solved)
			}
		}
	}
}

// The line above a budget names the pressure the worst head is planned for: it is
// what trouble is measured by, while the nozzle's table begins lower.
func TestABudgetSaysWhatItsHeadIsPlannedFor(t *testing.T) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	m := makerOf(t, string(doc))
	for _, z := range m.pressures() {
		if z.Zone == "z3" {
			want := fmt.Sprintf("Head 3-5 has the least to spare: %s at its nozzle, planned for 45 psi; its table begins at 30 psi.", z.Left)
			if z.Says != want {
				t.Errorf("says %q, want %q", z.Says, want)
			}
			return
		}
	}
	t.Error("the demo has no zone 3")
}

// figure is the number of a printed quantity.
func figure(t *testing.T, text string) float64 {
	t.Helper()
	number, _, _ := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Fatalf("%q is no quantity", text)
	}
	return v
}

// Of a pipe of the main there is a run for every zone that is worked out and fed
// through it, and one of them is its most; a lateral has its own zone's.
func TestPipesTellTheirRunsByZone(t *testing.T) {
	m := makerOf(t, pipedYard(t))
	for id, v := range m.pipes() {
		most := 0
		for _, r := range v.Runs {
			if r.Most {
				most++
			}
			if v.Zone != "" && r.Zone != v.Zone {
				t.Errorf("lateral %s of zone %s tells of zone %s", id, v.Zone, r.Zone)
			}
			if r.VelocityStep < 0 || r.VelocityStep >= len(m.pipeKeys().Velocity) || r.PressureStep < 0 || r.PressureStep >= len(m.pipeKeys().Pressure) {
				t.Errorf("pipe %s has steps without a key: %+v", id, r)
			}
		}
		if len(v.Runs) > 0 && most != 1 {
			t.Errorf("pipe %s has %d greatest flows", id, most)
		}
		if b, err := json.Marshal(v); err != nil || bytes.Contains(b, []byte("null")) {
			t.Errorf("pipe %s: %s %v", id, b, err)
		}
	}
	if got := m.pipeKeys(); strings.Join(got.Velocity, " ") != "under 2.5 2.5–4 4–5 5+ ft/s" || strings.Join(got.Pressure, " ") != "under 20 20–30 30–40 40–55 55+ psi" {
		t.Errorf("the keys are %q", got)
	}
}

// Whatever is wrong with a plan, its board as the zones run is all words.
func TestEveryMistakeHasARunningBoard(t *testing.T) {
	files, err := filepath.Glob("../testdata/plans/mistakes/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no plans", err)
	}
	f := newFixture(t)
	for _, file := range files {
		doc, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		w := f.do("GET", "/api/plans/"+f.keep(string(doc)).ID+"/board?as=running", "")
		body := strings.ReplaceAll(w.Body.String(), `"flows":null`, "") // no limit is known: there is no picture of them
		if w.Code != http.StatusOK || !strings.Contains(body, `"as":"running"`) || strings.Contains(body, "NaN") || strings.Contains(body, ":null") {
			at := max(strings.Index(body, ":null"), strings.Index(body, "NaN"), 0)
			t.Errorf("%s: %d … %.200s", filepath.Base(file), w.Code, body[max(at-100, 0):])
		}
	}
}
