package packs

import (
	"context"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/pipesize"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// routedDemo is the demo with routes and sizes, as a user makes it in two steps.
var routedDemo = sync.OnceValues(func() (*plan.Plan, error) {
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		return nil, err
	}
	p, err := plan.Decode(doc)
	if err != nil {
		return nil, err
	}
	ctx := context.Background()
	found, err := trench.Propose(ctx, p, trench.Options{Wire: true, Seed: 1}, nil)
	if err != nil {
		return nil, err
	}
	routed, err := plan.Preview(p.Encode(), found.Offers[0].Patch)
	if err != nil {
		return nil, err
	}
	sized, err := pipesize.Propose(ctx, routed, func(int, int) {})
	if err != nil {
		return nil, err
	}
	return plan.Preview(routed.Encode(), sized.Patch)
})

func routedInput(t testing.TB) Input {
	t.Helper()
	p, err := routedDemo()
	if err != nil {
		t.Fatal(err)
	}
	return designed(t, p)
}

// A reader who has the printed trench list and nothing else rebuilds the network: which
// point is joined to which, how far it is from each valve to each of its heads, how much
// pipe of which size lies in what, and which wire leads where. What is rebuilt is held
// to the plan's own pipework and digs.
func TestWalkingTheTrenchListRebuildsTheNetwork(t *testing.T) {
	t.Parallel()
	plans := append([]namedPlan{{"demo", demoInput(t)}, {"routed", routedInput(t)}, {"hundred", designed(t, hundredHeads())}}, crowdedPlans(t)...)
	for _, n := range plans {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			b, err := newBuilder(t.Context(), n.in, Asked{Kind: Crew})
			if err != nil {
				t.Fatal(err)
			}
			g := b.trenchGrid(b.digging())
			printedWhole(t, n.in, g)
			r := readTrenches(t, g)
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

// printedWhole holds that every word of the list is on a page of the sheet.
func printedWhole(t *testing.T, in Input, g grid) {
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

// leg is trench between two points with none between.
type leg struct {
	from, to string
	length   float64
	lies     []string // "3/4 in lateral of zone 2", once for each pipe
}

// reader is what somebody has who read the list.
type reader struct {
	points map[string][]string // what stands at each, by its name
	legs   []leg
	laid   map[string]float64 // feet of each kind of pipe
	ground map[string]float64
	rows   float64
}

var (
	feetInches = regexp.MustCompile(`^(?:(\d+)')?\s*(?:(\d+)?\s*(1/2)?")?$`)
	timesWords = regexp.MustCompile(`^(\d+) × (.*)$`)
	withLength = regexp.MustCompile(`^(.*?) ((?:\d+' )?(?:\d+|\d+ 1/2|1/2)"|\d+'|\d+(?:\.\d+)? (?:m|cm))$`)
)

// readLength reads a length as it is printed, in feet.
func readLength(t *testing.T, s string) float64 {
	t.Helper()
	if v, ok := strings.CutSuffix(s, " cm"); ok {
		return readNumber(t, v) / 30.48
	}
	if v, ok := strings.CutSuffix(s, " m"); ok {
		return readNumber(t, v) / 0.3048
	}
	m := feetInches.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil || s == "" {
		t.Fatalf("%q is no length", s)
	}
	feet := 0.0
	if m[1] != "" {
		feet += readNumber(t, m[1])
	}
	if m[2] != "" {
		feet += readNumber(t, m[2]) / 12
	}
	if m[3] != "" {
		feet += 0.5 / 12
	}
	return feet
}

func readNumber(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// readTrenches reads the rows: No., From, To, On the way, Length, Cover, Depth, In it,
// Ground.
func readTrenches(t *testing.T, g grid) *reader {
	t.Helper()
	r := &reader{points: map[string][]string{}, laid: map[string]float64{}, ground: map[string]float64{}}
	point := func(cell string) string {
		name, words, _ := strings.Cut(cell, ": ")
		r.points[name] = append(r.points[name], name)
		r.points[name] = append(r.points[name], strings.Split(strings.ReplaceAll(words, " and ", ", "), ", ")...)
		return name
	}
	for _, row := range g.Rows {
		length := readLength(t, row[4])
		r.rows++
		if row[0] == "–" { // short pieces: sums alone
			for _, part := range strings.Split(row[7], "; ") {
				m := withLength.FindStringSubmatch(part)
				if m == nil {
					t.Fatalf("%q has no length", part)
				}
				r.laid[m[1]] += readLength(t, m[2])
			}
			r.readGround(t, row[8], length)
			continue
		}
		var lies []string
		for _, part := range strings.Split(row[7], "; ") {
			times, what := 1, part
			if m := timesWords.FindStringSubmatch(part); m != nil {
				times, what = int(readNumber(t, m[1])), m[2]
			}
			for range times {
				lies = append(lies, what)
				r.laid[what] += length
			}
		}
		r.readGround(t, row[8], length)
		at, done := point(row[1]), 0.0
		for _, stop := range strings.Split(row[3], "; ") {
			if stop == "" {
				continue
			}
			k := strings.LastIndex(stop, " at ")
			far := readLength(t, stop[k+4:])
			next := point(stop[:k])
			r.legs = append(r.legs, leg{at, next, far - done, lies})
			at, done = next, far
		}
		r.legs = append(r.legs, leg{at, point(row[2]), length - done, lies})
	}
	return r
}

func (r *reader) readGround(t *testing.T, cell string, whole float64) {
	t.Helper()
	if k := strings.LastIndex(cell, " ("); k > 0 && strings.HasSuffix(cell, ")") && !strings.Contains(cell[k:], "zone") {
		cell = cell[:k]
	}
	parts := strings.Split(cell, ", ")
	for i, part := range parts {
		if m := withLength.FindStringSubmatch(part); m != nil && len(parts) > 1 {
			r.ground[m[1]] += readLength(t, m[2])
			continue
		}
		if i > 0 || len(parts) > 1 {
			t.Fatalf("ground %q", cell)
		}
		r.ground[part] += whole
	}
}

// reached is how far each point is from those where something stands, along what holds
// one kind of thing.
func (r *reader) reached(stands string, holds func(string) bool) map[string]float64 {
	far := map[string]float64{}
	for name, words := range r.points {
		if slices.Contains(words, stands) {
			far[name] = 0
		}
	}
	for changed := true; changed; {
		changed = false
		for _, l := range r.legs {
			if !slices.ContainsFunc(l.lies, holds) {
				continue
			}
			for _, e := range [2][2]string{{l.from, l.to}, {l.to, l.from}} {
				at, ok := far[e[0]]
				if old, there := far[e[1]]; ok && (!there || at+l.length < old-1e-9) {
					far[e[1]], changed = at+l.length, true
				}
			}
		}
	}
	return far
}

// at is how far the point is where something stands; below nothing where it is none.
func (r *reader) at(far map[string]float64, stands string) float64 {
	best := -1.0
	for name, words := range r.points {
		if d, ok := far[name]; ok && slices.Contains(words, stands) && (best < 0 || d < best) {
			best = d
		}
	}
	return best
}

// A list that lacks a row does not join the network: the reader sees it.
func TestATrenchListWithoutARowIsMissed(t *testing.T) {
	t.Parallel()
	in := routedInput(t)
	b, err := newBuilder(t.Context(), in, Asked{Kind: Crew})
	if err != nil {
		t.Fatal(err)
	}
	whole := b.trenchGrid(b.digging())
	seen := 0
	for i, row := range whole.Rows {
		if !strings.Contains(row[7], "lateral of zone 4") || row[0] == "–" {
			continue
		}
		less := whole
		less.Rows = slices.Delete(slices.Clone(whole.Rows), i, i+1)
		r := readTrenches(t, less)
		far := r.reached("V4", func(s string) bool { return strings.HasSuffix(s, "lateral of zone 4") })
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
		lateral := fmt.Sprintf("lateral of zone %d", p.Zones[id].Station)
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
				what = fmt.Sprintf("lateral of zone %d", p.Zones[z].Station)
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
