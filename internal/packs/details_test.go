package packs

import (
	"bytes"
	"context"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// oneSheet makes the pages of one sheet alone.
func oneSheet(t testing.TB, in Input, kind Kind, paper PaperID, code string) []*page {
	t.Helper()
	b := building(t, in, kind, paper)
	for _, s := range sheetsOf(kind) {
		if s.code == code {
			if err := b.make(s); err != nil {
				t.Fatal(err)
			}
		}
	}
	b.finish()
	return b.pages
}

func building(t testing.TB, in Input, kind Kind, paper PaperID) *builder {
	t.Helper()
	b, err := newBuilder(context.Background(), in, Asked{Kind: kind, Paper: paper, Date: "2026-05-01", Revision: "3"})
	if err != nil {
		t.Fatal(err)
	}
	b.tell = func(string, float64) {}
	return b
}

// shoot keeps pages as pictures where EVENFALL_SHOTS says.
func shoot(t testing.TB, name string, pages []*page) {
	dir := os.Getenv("EVENFALL_SHOTS")
	if dir == "" {
		return
	}
	d := &drawing.Document{Title: name}
	for _, q := range pages {
		d.Pages = append(d.Pages, q.Page)
	}
	var out bytes.Buffer
	if err := drawing.WritePDF(&out, d, ""); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, name+".pdf")
	if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command("pdftoppm", "-r", "110", "-png", path, filepath.Join(dir, name)).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, msg)
	}
}

// detailPlans are the demo, a plan with nothing, and the demo changed in what details
// show: other devices, other figures, metric.
func detailPlans(t testing.TB) []namedPlan {
	detailsOnce.Do(func() { detailsList = makeDetailPlans(t) })
	return detailsList
}

var (
	detailsOnce sync.Once
	detailsList []namedPlan // designed once: nobody changes them
)

func makeDetailPlans(t testing.TB) []namedPlan {
	out := []namedPlan{{"demo", demoInput(t)}, {"empty", designed(t, plan.Empty("Nothing yet", units.Metric))}}
	change := func(name string, with func(p *plan.Plan)) {
		p, err := plan.Decode(demoBytes(t))
		if err != nil {
			t.Fatal(err)
		}
		with(p)
		out = append(out, namedPlan{name, designed(t, p)})
	}
	device := func(id plan.ID) func(p *plan.Plan) {
		return func(p *plan.Plan) {
			d, ok := p.Device(id)
			if !ok {
				t.Fatalf("no device %s", id)
			}
			p.Devices[id] = d
			p.Supply.BackflowDevice, p.Supply.BackflowHeightFt = id, nil
		}
	}
	for _, id := range []plan.ID{"backflow-rp-1", "backflow-avb-1", "backflow-dc-1", "backflow-svb-1"} {
		change(string(id), device(id))
	}
	change("metric", func(p *plan.Plan) { p.Show = units.Metric })
	figures := func(values map[plan.ID]float64) func(p *plan.Plan) {
		return func(p *plan.Plan) {
			p.Options.Figures = map[plan.ID]plan.Figure{}
			for id, v := range values {
				p.Options.Figures[id] = plan.Figure{Value: v}
			}
		}
	}
	change("nothing-deep", figures(map[plan.ID]float64{plan.DepthLateral: 0, plan.DepthMain: 0, plan.GravelDepth: 0, plan.BricksEach: 0, plan.TrenchWidth: 0, plan.ValveUnions: 0, plan.SleevePast: 0, plan.DepthWalk: 0, plan.DepthDrive: 0, plan.DepthWire: 0, plan.WireSlack: 0}))
	change("very-deep", figures(map[plan.ID]float64{plan.DepthLateral: 120, plan.DepthMain: 120, plan.GravelDepth: 48, plan.TrenchWidth: 48, plan.SleevePast: 120, plan.DepthWalk: 120, plan.DepthDrive: 120, plan.DepthWire: 120}))
	change("frost", figures(map[plan.ID]float64{plan.DepthLateral: 18, plan.DepthMain: 36, plan.GravelDepth: 4}))
	change("long-names", func(p *plan.Plan) {
		for id, d := range p.Devices {
			d.Name = strings.Repeat("very long name ", 13)
			p.Devices[id] = d
		}
		for id, z := range p.Zones {
			z.Name = strings.Repeat("Zone", 50)
			p.Zones[id] = z
		}
		for id, c := range p.PipeClasses {
			c.Name = strings.Repeat("pipe of a class ", 12)
			p.PipeClasses[id] = c
		}
	})
	return out
}

func demoBytes(t testing.TB) []byte {
	t.Helper()
	b, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// printedLength reads a dimension as it is printed: 4", 1' 0 1/2", 254 mm, 0.81 m.
func printedLength(t *testing.T, s string) float64 {
	t.Helper()
	whole := s
	number := func(s string) float64 {
		sum := 0.0
		for _, part := range strings.Fields(s) {
			top, bottom, fraction := strings.Cut(part, "/")
			v, err := strconv.ParseFloat(top, 64)
			if err != nil {
				t.Fatalf("%q is no dimension", whole)
			}
			if fraction {
				d, err := strconv.ParseFloat(bottom, 64)
				if err != nil {
					t.Fatalf("%q is no dimension", whole)
				}
				v /= d
			}
			sum += v
		}
		return sum
	}
	s = strings.TrimSuffix(s, practiceMark)
	if v, ok := strings.CutSuffix(s, " mm"); ok {
		return number(v) / 25.4
	}
	if v, ok := strings.CutSuffix(s, " m"); ok {
		return number(v) / 0.0254
	}
	feet, inches, ok := strings.Cut(s, "'")
	if !ok {
		feet, inches = "0", s
	}
	return 12*number(feet) + number(strings.TrimSuffix(strings.TrimSpace(inches), `"`))
}

var dimension = regexp.MustCompile(`^((?:[0-9]+' )?[0-9]+(?: [0-9]+/[0-9]+)?"|[0-9]+/[0-9]+"|[0-9]+ mm|[0-9.]+ m)(\*?)(?: .*)?$`)

// Every dimension in the draw list is as long on paper as it says by the scale that
// is printed under its detail, to the rounding of what is printed.
func TestDetailsAreToTheirScale(t *testing.T) {
	t.Parallel()
	for _, n := range detailPlans(t) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			found := 0
			for _, paper := range []PaperID{Letter, A4, ArchD} {
				for _, q := range oneSheet(t, n.in, Crew, paper, "C10") {
					found += dimensionsHold(t, q, n.in.Plan.Show)
				}
			}
			if found < 12 {
				t.Errorf("only %d dimensions were found", found)
			}
		})
	}
}

// dimensionsHold measures the dimension lines of a page: each is the line drawn just
// before its text.
func dimensionsHold(t *testing.T, q *page, sys units.System) int {
	found := 0
	for i, it := range q.Items {
		v, ok := it.(*drawing.View)
		if !ok {
			continue
		}
		scale := "" // the first text after it that ends in one
		for _, later := range q.Items[i:] {
			if x, ok := later.(*drawing.Text); ok && scale == "" {
				for _, s := range detailScales(sys) {
					if strings.HasSuffix(x.S, ", "+s.Name) && math.Abs(s.perFoot()-v.PerFoot) < 1e-9 {
						scale = s.Name
					}
				}
			}
		}
		if scale == "" {
			t.Errorf("%s: no printed scale goes with %g points to a foot", q.Name, v.PerFoot)
		}
		for k := i + 1; k < len(q.Items); k++ {
			if _, ok := q.Items[k].(*drawing.View); ok {
				break
			}
			x, ok := q.Items[k].(*drawing.Text)
			if !ok || !dimension.MatchString(x.S) {
				continue
			}
			l, ok := q.Items[k-1].(*drawing.Line)
			if !ok || len(l.Points) != 2 || !x.Halo {
				continue
			}
			long := math.Hypot(l.Points[1][0]-l.Points[0][0], l.Points[1][1]-l.Points[0][1])
			says := printedLength(t, dimension.FindStringSubmatch(x.S)[1]) / 12 * v.PerFoot
			// Printed to half an inch or a centimetre where it is long, else to 1/16 in or 1 mm.
			slack := 0.26 / 12 * v.PerFoot
			if math.Abs(long-says) > slack {
				t.Errorf("%s: %q is drawn %.2f points long and says %.2f", q.Name, x.S, long, says)
			}
			found++
		}
	}
	return found
}

// No text of a detail sheet lies on another, and none leaves the page's room.
func TestTextsOfDetailsKeepApart(t *testing.T) {
	t.Parallel()
	for _, n := range detailPlans(t) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			for _, paper := range []PaperID{Letter, A4, Tabloid, ArchD} {
				for _, q := range oneSheet(t, n.in, Crew, paper, "C10") {
					if n := overlaps(q, t); n > 0 {
						t.Errorf("%s, %s: %d texts overlap", paper, q.Name, n)
					}
				}
			}
		})
	}
}

// overlaps counts pairs of texts of a page whose boxes meet.
func overlaps(q *page, t *testing.T) int {
	type boxed struct {
		orb.Bound
		s string
	}
	var all []boxed
	var look func(items []drawing.Item)
	look = func(items []drawing.Item) {
		for _, it := range items {
			switch v := it.(type) {
			case *drawing.Layer:
				look(v.Items)
			case *drawing.Text:
				c := v.Corners(v.At)
				b := orb.Bound{Min: c[0], Max: c[0]}
				for _, p := range c[1:] {
					b = b.Extend(p)
				}
				all = append(all, boxed{b, v.S})
			}
		}
	}
	look(q.Items)
	n := 0
	for i, a := range all {
		if a.Min[0] < 0 || a.Min[1] < 0 || a.Max[0] > q.Width || a.Max[1] > q.Height {
			t.Errorf("%s: %q leaves the paper", q.Name, a.s)
		}
		for _, b := range all[:i] {
			const by = 0.4 // two lines of one paragraph may touch
			if a.Min[0] < b.Max[0]-by && b.Min[0] < a.Max[0]-by && a.Min[1] < b.Max[1]-by && b.Min[1] < a.Max[1]-by {
				t.Logf("%s: %q lies on %q", q.Name, a.s, b.s)
				n++
			}
		}
	}
	return n
}

// Only what a plan needs is drawn; of one with nothing all of it, which is said.
func TestOnlyDetailsThatApply(t *testing.T) {
	t.Parallel()
	titles := func(in Input) []string {
		list, _ := building(t, in, Crew, Letter).detailsNeeded()
		var out []string
		for _, d := range list {
			out = append(out, d.title)
		}
		return out
	}
	demo := titles(demoInput(t))
	if want := []string{"Head on a swing joint", "Trench", "Wire splice", "Valve in its box", "Manifold of 3 valves", "Pressure vacuum breaker 1 in", "End of a sleeve"}; !slices.Equal(demo, want) {
		t.Errorf("the demo has %q, not %q", demo, want)
	}
	if n := len(titles(designed(t, plan.Empty("", units.US)))); n != 7 {
		t.Errorf("an empty plan shows %d details", n)
	}
	pages := oneSheet(t, designed(t, plan.Empty("", units.US)), Crew, Letter, "C10")
	if !strings.Contains(writtenOn(pages), "Nothing of this is on the plan yet") {
		t.Error("an empty plan does not say that its details are the usual ones")
	}
	p, err := plan.Decode(demoBytes(t))
	if err != nil {
		t.Fatal(err)
	}
	p.Sleeves, p.Areas = nil, nil // nothing is crossed
	for id, z := range p.Zones {
		if z.Station > 1 {
			delete(p.Zones, id)
		}
	}
	for id, h := range p.Heads {
		if _, ok := p.Zones[h.Zone]; !ok {
			delete(p.Heads, id)
		}
	}
	p.Nodes, p.Pipes = nil, nil
	if got := titles(designed(t, p)); slices.Contains(got, "End of a sleeve") || slices.Contains(got, "Trench") || !slices.Contains(got, "Valve in its box") || len(got) != 4 {
		t.Errorf("one zone without pipe has %q", got)
	}
}

// writtenOn is all that is written on pages, each run of blanks one.
func writtenOn(pages []*page) string {
	var out []string
	var look func(items []drawing.Item)
	look = func(items []drawing.Item) {
		for _, it := range items {
			switch v := it.(type) {
			case *drawing.Layer:
				look(v.Items)
			case *drawing.Text:
				out = append(out, v.S)
			}
		}
	}
	for _, q := range pages {
		look(q.Items)
	}
	return strings.Join(strings.Fields(strings.Join(out, " ")), " ")
}

func TestRow25_TheBreakerIsDrawnAtItsHeight(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	words := writtenOn(oneSheet(t, in, Crew, Letter, "C10"))
	for _, want := range []string{`2' 8" above its ground`, "Critical level", "the highest"} {
		if !strings.Contains(words, want) {
			t.Errorf("the detail does not say %q", want)
		}
	}
	p, err := plan.Decode(demoBytes(t))
	if err != nil {
		t.Fatal(err)
	}
	low := units.Feet(1)
	p.Supply.BackflowHeightFt = &low
	if words := writtenOn(oneSheet(t, designed(t, p), Crew, Letter, "C10")); !strings.Contains(words, "TOO LOW as planned") {
		t.Error("a breaker that is planned too low is not said to be")
	}
}

func TestDetailsLook(t *testing.T) {
	t.Parallel()
	for _, n := range detailPlans(t) {
		paper := Letter
		if n.in.Plan.Show == units.Metric {
			paper = A4
		}
		shoot(t, "details-"+n.name, oneSheet(t, n.in, Crew, paper, "C10"))
	}
}

func BenchmarkDetails(b *testing.B) {
	in := demoInput(b)
	for b.Loop() {
		oneSheet(b, in, Crew, Letter, "C10")
	}
}
