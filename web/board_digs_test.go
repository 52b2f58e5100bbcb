package web

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// dugOf is what a page is told of the trenches of a plan.
func dugOf(t *testing.T, e *design.Engine, p *plan.Plan) (*DigsView, *design.Design) {
	t.Helper()
	d, err := e.Run(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	m := maker{p: p, d: d, r: d.Coverage, sys: p.Show}
	return m.digs(), d
}

func readPlan(t *testing.T, path string) *plan.Plan {
	t.Helper()
	doc, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Every stretch, crossing and box of any plan is told once, in words without a
// blank, and what it is about is on the plan.
func TestEverythingDugIsTold(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../testdata/plans/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no plans", err)
	}
	some := 0
	for _, file := range files {
		for _, show := range []units.System{units.US, units.Metric} {
			p := readPlan(t, file)
			p.Show = show
			v, d := dugOf(t, new(design.Engine), p)
			if len(v.Stretches) != len(d.Digs.Segments) {
				t.Errorf("%s: %d of %d stretches have a key of their own", file, len(v.Stretches), len(d.Digs.Segments))
			}
			some += len(v.Stretches)
			g := sheets.DiggingOf(p, d.Digs)
			if n := g.Short.Pieces; (n > 0) != strings.HasPrefix(v.Short, fmt.Sprintf("%d piece", n)) || n == 0 && v.Short != "" {
				t.Errorf("%s: %d pieces are short, and it says %q", file, n, v.Short)
			}
			// The list is the crew's, row by row.
			paper := sheets.TrenchSheet(p, g).Rows
			for i := range g.Stretches {
				row := v.List[fmt.Sprint(i+1)]
				for k, said := range map[int]string{1: row.From, 2: row.To, 3: row.Way, 4: row.Length, 7: row.Holds, 8: row.Ground} {
					if said != paper[i][k].String() {
						t.Errorf("%s: row %d says %q, the paper %q", file, i+1, said, paper[i][k])
					}
				}
				if strings.Contains(row.Cover+row.Depth, "in") != (show == units.US) && row.Cover != "" {
					t.Errorf("%s: %q %q are not in the plan's units", file, row.Cover, row.Depth)
				}
				if row.Holds == "" || row.Ground == "" || row.Length == "" || len(row.About) == 0 {
					t.Errorf("%s: a blank in row %d: %+v", file, i+1, row)
				}
			}
			if len(v.List) != len(g.Stretches) {
				t.Errorf("%s: %d rows of %d", file, len(v.List), len(g.Stretches))
			}
			if len(v.Crossings) != len(d.Digs.Crossings) || len(v.Boxes) != len(d.Digs.Boxes) {
				t.Errorf("%s: a crossing or a box is not told", file)
			}
			for key, s := range v.Stretches {
				for _, r := range s.About {
					if p.Label(r) == "" {
						t.Errorf("%s %s: %s is not on the plan", file, key, r)
					}
				}
			}
			longest := 0
			for _, c := range v.Crossings {
				if c.Where == "" || c.Length == "" || len(c.Needs) == 0 {
					t.Errorf("%s: a blank in %+v", file, c)
				}
				if c.Longest {
					longest++
				}
			}
			if longest > 1 {
				t.Errorf("%s: %d longest crossings", file, longest)
			}
			for _, b := range v.Boxes {
				if b.Words == "" || b.Holds == "" {
					t.Errorf("%s: a blank in %+v", file, b)
				}
			}
			if v.Says == "" || v.Wire.Says == "" || len(v.Wire.Cautions) == 0 {
				t.Errorf("%s: a sentence is missing", file)
			}
		}
	}
	if some == 0 {
		t.Error("nothing was dug anywhere")
	}
}

// The trenches cost nothing while no page shows them, and a drag then sends those
// it changed, not all.
func TestADragTellsOnlyTheTrenchesThatChanged(t *testing.T) {
	t.Parallel()
	p := readPlan(t, "../testdata/plans/demo.json")
	e := new(design.Engine)
	words := func(p *plan.Plan, digs bool) []byte {
		d, err := e.Run(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		f := e.Field()
		b, err := json.Marshal(newBoard(picture{plan: p, design: d, field: f, frame: f.Frame(), digs: digs}, 1))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	if strings.Contains(string(words(p, false)), `"stretches"`) {
		t.Error("trenches are told to a page that does not show them")
	}
	before := words(p, true)
	if !strings.Contains(string(before), `"stretches"`) {
		t.Fatal("trenches are not told to a page that shows them")
	}
	ids := plan.SortedIDs(p.Heads)
	h := p.Heads[ids[0]]
	h.X += 0.5
	p.Heads[ids[0]] = h
	for id, n := range p.Nodes {
		if n.Head == ids[0] {
			n.X = h.X
			p.Nodes[id] = n
		}
	}
	change, err := wordsSince(before, words(p, true))
	if err != nil {
		t.Fatal(err)
	}
	var told struct {
		Digs struct {
			Stretches map[string]*StretchView `json:"stretches"`
		} `json:"digs"`
	}
	if err := json.Unmarshal(change, &told); err != nil {
		t.Fatal(err)
	}
	v, _ := dugOf(t, e, p)
	if n := len(told.Digs.Stretches); n == 0 || n > 12 || n > len(v.Stretches)/4 {
		t.Errorf("%d stretches of %d are told after moving one head", n, len(v.Stretches))
	}
}

func BenchmarkBoardWithTrenches(b *testing.B) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	d, err := design.Run(b.Context(), p)
	if err != nil {
		b.Fatal(err)
	}
	m := maker{p: p, d: d, r: d.Coverage, sys: p.Show}
	for b.Loop() {
		m.digs()
	}
}

// The sizes of wire to choose from are those it is made in, thinnest first, called as
// the plan shows figures, and the plan's own where it has another.
func TestGaugesToChooseFrom(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		show        units.System
		own         int
		first, last string
		count       int
	}{
		{units.US, 0, "18 AWG", "8 AWG", 6},
		{units.US, 12, "18 AWG", "8 AWG", 6},
		{units.US, 6, "18 AWG", "6 AWG", 7},
		{units.Metric, 0, "18 AWG (0.82 mm²)", "8 AWG (8.37 mm²)", 6},
	} {
		m := maker{p: &plan.Plan{Wiring: plan.Wiring{HotAWG: c.own}}, sys: c.show}
		got := m.gauges()
		if len(got) != c.count || got[0].Label != c.first || got[len(got)-1].Label != c.last || got[0].Value != "18" {
			t.Errorf("%s with %d of its own: %v", c.show, c.own, got)
		}
	}
}
