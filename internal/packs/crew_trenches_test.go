package packs

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// A reader who has the printed trench list and nothing else rebuilds the network: which
// point is joined to which, how far it is from each valve to each of its heads, how much
// pipe of which size lies in what, and which wire leads where. What is rebuilt is held
// to the plan's own pipework and digs.
func TestWalkingTheTrenchListRebuildsTheNetwork(t *testing.T) {
	t.Parallel()
	plans := append([]namedPlan{{"demo", demoInput(t)}, {"routed", demoRouted(t, "demo")}, {"hundred", designed(t, hundredHeads())}}, crowdedPlans(t)...)
	for _, n := range plans {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			b, err := newBuilder(t.Context(), n.in, Asked{Kind: Crew})
			if err != nil {
				t.Fatal(err)
			}
			g := b.trenchGrid(b.digging())
			short, points := b.shortGrid(b.digging()), b.pointGrid(b.digging())
			printedWhole(t, n.in, g, short, points)
			r := readTrenches(t, g, short, points)
			heads, exact := r.joinsTheWater(t, n.in)
			// In the crowded plans laterals of a zone lie side by side and cross.
			if least := map[string]int{"demo": 48, "routed": 40, "hundred": 100, "strip": 20, "manifold": 54, "names": 0}[n.name]; heads == 0 || exact < least {
				t.Errorf("%d heads were looked for, %d of them by their exact way", heads, exact)
			}
			r.holdsThePipe(t, n.in)
			r.liesInTheGround(t, n.in)
			t.Logf("%d rows, %d points, %d legs; %d heads, %d by their exact way", len(g.Rows), len(r.points), len(r.legs), heads, exact)
		})
	}
}

// printedWhole holds that every word of the lists is on a page of the sheet.
func printedWhole(t *testing.T, in Input, lists ...grid) {
	t.Helper()
	made, err := Make(t.Context(), in, Asked{Kind: Crew, Draws: 1}, nil)
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]int{}
	var count func(items []drawing.Item)
	count = func(items []drawing.Item) {
		for _, i := range items {
			switch v := i.(type) {
			case *drawing.Text:
				for _, w := range strings.Fields(v.S) {
					words[w]++
				}
			case *drawing.Layer:
				count(v.Items)
			}
		}
	}
	for _, s := range made.Sheets {
		if s.Code == "C7" {
			for _, q := range made.Document.Pages[s.First : s.First+s.Pages] {
				count(q.Items)
			}
		}
	}
	for _, g := range lists {
		for _, row := range g.Rows {
			for _, cell := range row {
				for _, w := range strings.Fields(drawing.Printable(cell)) {
					if words[w]--; words[w] < 0 && len(w) < 12 { // a longer one may be broken
						t.Fatalf("%q of row %s is not on the sheet so often", w, row[0])
					}
				}
			}
		}
	}
}

// A list that lacks a row does not join the network: the reader sees it.
func TestATrenchListWithoutARowIsMissed(t *testing.T) {
	t.Parallel()
	in := demoRouted(t, "demo")
	b, err := newBuilder(t.Context(), in, Asked{Kind: Crew})
	if err != nil {
		t.Fatal(err)
	}
	whole := b.trenchGrid(b.digging())
	seen := 0
	for i, row := range whole.Rows {
		if !strings.Contains(row[7], "lateral 4") {
			continue
		}
		less := whole
		less.Rows = slices.Delete(slices.Clone(whole.Rows), i, i+1)
		r := readTrenches(t, less, b.shortGrid(b.digging()), b.pointGrid(b.digging()))
		far := r.reached("V4", func(s string) bool { return strings.HasSuffix(s, "lateral 4") })
		lost := 0
		for _, h := range in.Design.Pipework.Zones["z4"].Heads {
			if r.at(far, in.Plan.HeadName(h)) < 0 {
				lost++
			}
		}
		if lost == 0 {
			t.Errorf("without row %s every head of zone 4 is still joined", row[0])
		}
		seen++
	}
	if seen < 3 {
		t.Errorf("%d rows of zone 4", seen)
	}
}

// joinsTheWater holds that the main leads from the connection to every valve and that
// laterals lead from each valve to its own heads and to no others, as far as the pipes
// are long.
func (r *reader) joinsTheWater(t *testing.T, in Input) (heads, exact int) {
	t.Helper()
	p, net := in.Plan, in.Design.Pipework
	length := map[plan.ID]float64{} // of the way from the source, or from the root of its piece
	for _, id := range net.Order {
		if up := net.Nodes[id].Up; up != "" {
			length[id] = length[net.Pipes[up].From] + float64(net.Pipes[up].Length)
		}
	}
	isMain := func(s string) bool { return strings.HasSuffix(s, "main") }
	main, mainTree := r.reached("point of connection", isMain), r.isTree(isMain)
	for _, id := range plan.SortedIDs(p.Zones) {
		z, ok := net.Zones[id]
		if !ok || !p.Zones[id].Status.IsNew() || len(z.Pipes) == 0 {
			continue
		}
		valve := fmt.Sprintf("V%d", p.Zones[id].Station)
		lateral := fmt.Sprintf("lateral %d", p.Zones[id].Station)
		if z.Fed {
			far, way := r.at(main, valve), length[z.Valve]
			if far < 0 || far > way+slackOf(way) || mainTree && far < way-slackOf(way) {
				t.Errorf("%s is %.1f ft down the printed main, %.1f ft down the plan's", valve, far, way)
			}
		}
		holds := func(s string) bool { return strings.HasSuffix(s, lateral) }
		far, tree := r.reached(valve, holds), r.isTree(holds)
		for _, h := range z.Heads {
			heads++
			way := length[net.HeadAt[h]] - length[z.Valve]
			got := r.at(far, p.HeadName(h))
			if tree {
				exact++
			}
			// Where laterals of one zone lie side by side or cross, the trench has a
			// shorter way than the pipe.
			if got < 0 || got > way+slackOf(way) || tree && got < way-slackOf(way) {
				t.Errorf("%s is %.1f ft from %s by the printed laterals, %.1f ft by the plan's", p.HeadName(h), got, valve, way)
			}
		}
	}
	return heads, exact
}

// isTree reports whether what holds one kind of thing has one way from any point to any
// other: no two pipes of it in one trench, and no ring.
func (r *reader) isTree(holds func(string) bool) bool {
	points := map[string]bool{}
	legs := 0
	for _, l := range r.legs {
		n := 0
		for _, what := range l.lies {
			if holds(what) {
				n++
			}
		}
		if n > 1 {
			return false
		}
		if n == 1 {
			legs++
			points[l.from], points[l.to] = true, true
		}
	}
	return legs == len(points)-1
}

// slackOf is by how much a way may differ: what lies shorter than a spade at each of its
// joints is in no row, and rows are rounded to the half inch.
func slackOf(way float64) float64 { return 1 + way*0.02 }

// holdsThePipe holds that there is as much of each kind of pipe in the rows as in what
// is dug.
func (r *reader) holdsThePipe(t *testing.T, in Input) {
	t.Helper()
	p := in.Plan
	want := map[string]float64{}
	most := 1
	for i := range in.Design.Digs.Segments {
		seg := &in.Design.Digs.Segments[i]
		if !seg.New {
			continue
		}
		most = max(most, len(seg.Pipes))
		for _, id := range seg.Pipes {
			what := "main"
			if z := p.Pipes[id].Zone; z != "" {
				what = fmt.Sprintf("lateral %d", p.Zones[z].Station)
			}
			if n := p.Pipes[id].NominalIn; n > 0 {
				what = p.Show.PipeSize(n) + " " + what
			}
			want[what] += float64(seg.Length)
		}
	}
	for what, feet := range want {
		if got := r.pipe(what); math.Abs(got-feet) > r.rounding()*float64(most) {
			t.Errorf("%s: %.2f ft printed, %.2f ft dug", what, got, feet)
		}
	}
}

// pipe is how much of a kind is printed, under its short name or its long one.
func (r *reader) pipe(what string) float64 {
	sum := 0.0
	for said, feet := range r.laid {
		if said == what || strings.HasPrefix(said, what+" (") {
			sum += feet
		}
	}
	return sum
}

// rounding is what rows rounded to the half inch or the centimetre may be off together.
func (r *reader) rounding() float64 { return r.rows/48 + 0.05 }

// liesInTheGround holds the lengths by ground to the totals.
func (r *reader) liesInTheGround(t *testing.T, in Input) {
	t.Helper()
	d := in.Design.Digs
	want := map[string]float64{}
	for i := range d.Segments {
		seg := &d.Segments[i]
		if !seg.New || len(seg.Pipes)+len(seg.Wires)+len(seg.Ways) == 0 {
			continue
		}
		name := map[trench.Ground]string{
			trench.Lawn: "lawn", trench.Bed: "bed", trench.Loose: "loose ground", trench.Roots: "roots", trench.Street: "right of way", trench.Paved: "paving",
			trench.Indoors: "building", trench.NotToDig: "not to be dug", trench.Wet: "water", trench.Undrawn: "ground not drawn", trench.OffLot: "off the lot",
		}[seg.Ground]
		if seg.Crossing >= 0 {
			name = in.Plan.AreaName(d.Crossings[seg.Crossing].Area)
		}
		want[name] += float64(seg.Length)
	}
	for name, feet := range want {
		if got := r.ground[name]; math.Abs(got-feet) > 2*r.rounding() {
			t.Errorf("%s: %.2f ft printed, %.2f ft dug", name, got, feet)
		}
	}
}
