package packs

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"evenfall/internal/drawing"
	"evenfall/internal/sheets"
)

// listOf makes the pages of a list and looks at what stands where.
func listOf(t testing.TB, paper PaperID, set func(f *flow)) []drawing.Page {
	t.Helper()
	pages := anyListOf(t, paper, set)
	for i := range pages {
		if s := besideFrame(&pages[i]); s != "" {
			t.Error(s)
		}
	}
	return pages
}

func anyListOf(t testing.TB, paper PaperID, set func(f *flow)) []drawing.Page {
	t.Helper()
	b := bare(t, emptyPlan("Yard"), Asked{Paper: paper})
	if err := b.make(sheet{code: "C6", title: "Nozzle setting", make: func(b *builder) error { set(b.list()); return nil }}); err != nil {
		t.Fatal(err)
	}
	return b.finish().Document.Pages
}

func nozzleRows(n int) grid {
	g := grid{Head: []string{"Tag", "Nozzle", "Arc", "Throw, ft", "Left edge"}, Numbers: []bool{false, false, false, true, false}}
	for i := range n {
		g.Rows = append(g.Rows, []string{fmt.Sprintf("row-%d", i), "Stream 25 ft, 90° to 210°", "180°", fmt.Sprint(8 + i%20), "along the north edge of the front walk toward the corner of the house"})
	}
	return g
}

func TestTableOf400Rows(t *testing.T) {
	t.Parallel()
	for _, paper := range []PaperID{Letter, A4} {
		pages := listOf(t, paper, func(f *flow) { f.table(nozzleRows(400)) })
		var all []string
		for i := range pages {
			said := saysOn(&pages[i])
			if !strings.Contains(said, "Left edge") || !strings.Contains(said, "Throw, ft") {
				t.Errorf("page %d has no head", i+1)
			}
			if i > 0 && !strings.Contains(said, "continued") {
				t.Errorf("page %d does not say that it goes on", i+1)
			}
			n := strings.Count(said, "row-")
			if n < 2 {
				t.Errorf("page %d has %d rows", i+1, n)
			}
			all = append(all, said)
		}
		text := strings.Join(all, "\n")
		for i := range 400 {
			if strings.Count(text, fmt.Sprintf("row-%d\n", i)) != 1 {
				t.Errorf("row %d is not there once", i)
			}
		}
		if len(pages) > 20 {
			t.Errorf("%d pages", len(pages))
		}
	}
}

// Rows stay with what they belong to wherever the page ends.
func TestTableKeepsRowsTogether(t *testing.T) {
	t.Parallel()
	for before := range 60 {
		g := nozzleRows(before)
		g.Groups, g.Heavy = map[int]bool{len(g.Rows): true}, map[int]bool{}
		g.Rows = append(g.Rows, []string{"Group here"}, []string{"first of it", "", "", "1"}, []string{"last of it", "", "", "1"})
		g.Heavy[len(g.Rows)] = true
		g.Rows = append(g.Rows, []string{"All of it", "", "", "2"})
		pages := listOf(t, Letter, func(f *flow) { f.section("Heads"); f.table(g) })
		on := func(s string) int {
			for i := range pages {
				if strings.Contains(saysOn(&pages[i]), s) {
					return i
				}
			}
			return -1
		}
		if on("Group here") != on("first of it") || on("last of it") != on("All of it") || on("All of it") < 0 {
			t.Errorf("%d rows: group on %d, its first row on %d, its last on %d, the total on %d", before, on("Group here"), on("first of it"), on("last of it"), on("All of it"))
		}
		if last := saysOn(&pages[len(pages)-1]); len(pages) > 1 && !strings.Contains(last, "last of it") {
			t.Errorf("%d rows: the last page has a total alone:\n%s", before, last)
		}
	}
}

func TestSectionStaysWithItsTable(t *testing.T) {
	t.Parallel()
	for high := 0.0; high < 700; high += 7 {
		pages := listOf(t, Letter, func(f *flow) {
			f.gap(high)
			f.y = max(f.y, f.bottom)
			f.section("Heads here")
			f.table(nozzleRows(3))
		})
		for i := range pages {
			if said := saysOn(&pages[i]); strings.Contains(said, "Heads here") != strings.Contains(said, "row-0\n") {
				t.Errorf("with %g points used, heading and first row are on different pages", high)
			}
		}
	}
}

func TestNumbersStandAtTheRight(t *testing.T) {
	t.Parallel()
	pages := listOf(t, A4, func(f *flow) {
		f.table(gridOf(sheets.Table{
			Columns: []sheets.Column{{Name: "Zone"}, {Name: "Flow, gpm"}, {Name: "Why"}},
			Rows: [][]sheets.Cell{
				{sheets.Text("1"), sheets.Number(8.4, 1), sheets.Text("x")}, {sheets.Text("2"), sheets.Number(12.25, 2), sheets.Text("")},
				{sheets.Text(sheets.NoteName), sheets.Text(""), sheets.Text("Counted as drawn.")},
			},
		}))
	})
	var right []float64
	for _, s := range textsOf(pages[0].Items) {
		switch s.S {
		case "8.4", "12.25", "Flow, gpm":
			if s.Anchor != drawing.End {
				t.Errorf("%q is not set to the right", s.S)
			}
			right = append(right, s.At[0])
		case "1", "x":
			if s.Anchor != drawing.Start {
				t.Errorf("%q is not set to the left", s.S)
			}
		}
	}
	if len(right) != 3 || right[0] != right[1] || right[1] != right[2] {
		t.Errorf("right edges: %v", right)
	}
	if said := saysOn(&pages[0]); !strings.Contains(said, "Counted as drawn.") || strings.Contains(said, sheets.NoteName+"\n") {
		t.Errorf("the note is not under the table:\n%s", said)
	}
}

// Whatever stands in a table, it is inside of the page, no column breaks a word that
// has room, and every word is there.
func TestTablesOfAnything(t *testing.T) {
	t.Parallel()
	word := rapid.OneOf(rapid.StringMatching(`[A-Za-z0-9"'/]{1,12}`), rapid.StringMatching(`[a-zA-Z]{100,200}`), rapid.String(), rapid.Just("水やり"), rapid.Just(strings.Repeat("many words in a cell ", 60)))
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(rt, "columns")
		g := grid{Head: rapid.SliceOfN(word, n, n).Draw(rt, "head"), Ticks: rapid.Bool().Draw(rt, "ticks"), Note: word.Draw(rt, "note"),
			Groups: map[int]bool{}, Heavy: map[int]bool{}}
		g.Rows = rapid.SliceOfN(rapid.SliceOfN(word, 0, n), 0, 30).Draw(rt, "rows")
		for i := range g.Rows {
			g.Groups[i] = rapid.IntRange(0, 6).Draw(rt, "group") == 0
			g.Heavy[i] = !g.Groups[i] && rapid.IntRange(0, 6).Draw(rt, "heavy") == 0
		}
		if rapid.Bool().Draw(rt, "shares") {
			g.Shares = rapid.SliceOfN(rapid.Float64Range(0.1, 9), n, n).Draw(rt, "of")
		}
		if rapid.Bool().Draw(rt, "marks") {
			g.Mark = func(int, orb.Point) []drawing.Item { return nil }
		}
		pages := anyListOf(t, rapid.SampledFrom([]PaperID{Letter, A4}).Draw(rt, "paper"), func(f *flow) { f.table(g) })
		for i := range pages {
			if s := besideFrame(&pages[i]); s != "" {
				rt.Fatal(s)
			}
		}
		size := cellSize
		if got, wide := g.widths(500, &size), 500.0; total(got) > wide+1e-6 {
			rt.Fatalf("columns of %v are wider than %g", got, wide)
		}
		var said strings.Builder
		for i := range pages {
			for _, s := range textsOf(pages[i].Items) {
				said.WriteString(strings.Join(strings.Fields(s.S), ""))
			}
		}
		letters := 0
		for _, r := range g.Rows {
			for _, c := range r {
				letters += len([]rune(strings.Join(strings.Fields(drawing.Printable(c)), "")))
			}
		}
		if got := len([]rune(said.String())); got < letters && len(g.Groups) == 0 {
			rt.Fatalf("%d letters of %d are on paper", got, letters)
		}
	})
}

func TestColumnsKeepWordsWhole(t *testing.T) {
	t.Parallel()
	g := grid{Head: []string{"No.", "Cover", "Depth", "Ground"}, Shares: []float64{1, 1, 1, 40},
		Rows: [][]string{{"12", "16 in", "17.25 in", "lawn"}}}
	size := cellSize
	for i, w := range g.widths(532, &size) {
		for _, s := range strings.Fields(g.Head[i] + " " + g.Rows[0][i]) {
			if need := (&drawing.Text{S: s, Size: size, Bold: true}).Width() + 2*cellPad; s != "17.25" && need > w+0.1 {
				t.Errorf("%q is %.1f points wide and its column %.1f", s, need, w)
			}
		}
	}
}

func TestParagraphsHaveNoOrphans(t *testing.T) {
	t.Parallel()
	for start := range 50 {
		var first, second int
		pages := listOf(t, Letter, func(f *flow) {
			f.y = f.bottom + float64(start)*3
			f.para(strings.Repeat("A paragraph of words that goes over several lines of a page of paper. ", 8))
		})
		for i := range pages {
			n := strings.Count(saysOn(&pages[i]), "aragraph")
			if i == 0 {
				first = n
			} else {
				second += n
			}
		}
		for i := range pages {
			body := 0
			for _, s := range textsOf(pages[i].Items) {
				if s.Size == bodySize && !s.Bold && strings.Contains(s.S, " ") {
					body++
				}
			}
			if body == 1 {
				t.Errorf("from %d points over the end: one line alone on page %d", start*3, i+1)
			}
		}
		if first+second < 8 {
			t.Errorf("words are missing: %d and %d", first, second)
		}
	}
}

func TestBoxedFlowLeavesOutWhatDoesNotFit(t *testing.T) {
	t.Parallel()
	b := bare(t, emptyPlan("Yard"), Asked{})
	q := &page{}
	box := orb.Bound{Min: orb.Point{100, 100}, Max: orb.Point{250, 200}}
	f := b.flowIn(q, box)
	for range 30 {
		f.para("Some words beside a plan.")
	}
	f.table(nozzleRows(4))
	f.caution("Call first.")
	if !f.full || len(b.pages) != 0 {
		t.Errorf("full: %v, pages: %d", f.full, len(b.pages))
	}
	for _, s := range textsOf(q.Items) {
		if s.box.Min[1] < 100-0.01 || s.box.Max[0] > 250.01 {
			t.Errorf("%q stands out of its box at %v", s.S, s.box)
		}
	}
}

func TestFlowHoldsAnything(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		words := rapid.SliceOfN(rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-z]{1,9}( [a-z]{1,9}){0,80}`), rapid.StringMatching(`[A-Z]{200,300}`), rapid.Just(strings.Repeat("long words ", 700))), 1, 12).Draw(rt, "words")
		pages := anyListOf(t, A4, func(f *flow) {
			for i, s := range words {
				switch i % 8 {
				case 0:
					f.caution(s)
				case 1:
					f.section(s)
				case 2:
					f.para(s)
				case 3:
					f.checks(s, s)
				case 4:
					f.bullets(s)
				case 5:
					f.steps(i, s)
				case 6:
					f.facts([2]string{s, s})
				case 7:
					f.note(s)
				}
			}
		})
		for i := range pages {
			if s := besideFrame(&pages[i]); s != "" {
				rt.Fatal(s)
			}
			for _, it := range pages[i].Items {
				if a, is := it.(*drawing.Area); is {
					for _, p := range a.Rings[0] {
						if math.IsNaN(p[0]) || p[1] < margin-1 || p[1] > pages[i].Height-margin+1 {
							rt.Fatalf("a box stands out of the page at %v", p)
						}
					}
				}
			}
		}
	})
}

func BenchmarkTable400(b *testing.B) {
	g := nozzleRows(400)
	in := bare(b, emptyPlan("Yard"), Asked{})
	in.now = sheet{code: "C6", title: "Nozzle setting"}
	for b.Loop() {
		in.pages = nil
		in.list().table(g)
	}
}
