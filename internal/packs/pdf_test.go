package packs

import (
	"bytes"
	"cmp"
	"context"
	"encoding/xml"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// written is a pack as PDF.
func written(t testing.TB, in Input, asked Asked) (*Made, []byte) {
	t.Helper()
	made, err := Make(context.Background(), in, asked, nil)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := drawing.WritePDF(&b, made.Document, asked.Date); err != nil {
		t.Fatal(err)
	}
	return made, b.Bytes()
}

// On the demo's layout plan at 1 in = 10 ft, ten feet are 72 points by the numbers of
// the file: the outline of the house is found by its shape, and each of its edges is
// measured. At other scales, papers and units likewise.
func TestTenFeetAreAnInchOnPaper(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	var house []orb.Point
	for _, v := range in.Plan.Areas["house"].Outline {
		house = append(house, orb.Point{v.X, v.Y})
	}
	for _, c := range []struct {
		paper PaperID
		scale int
	}{{ArchD, 120}, {ArchD, 60}, {Tabloid, 240}, {A4, 500}} {
		made, file := written(t, in, Asked{Kind: Crew, Paper: c.paper, Scale: c.scale})
		pages := readPDF(t, file)
		for _, code := range []string{"C3", "C4"} {
			i := slices.IndexFunc(made.Sheets, func(s SheetInfo) bool { return s.Code == code })
			worst, found := 0.0, 0
			for _, p := range pages[made.Sheets[i].First].paths {
				per, ok := sameShape(p.points, house)
				if ok {
					found++
					worst = max(worst, math.Abs(per*float64(c.scale)/(72*12)-1))
				}
			}
			if found == 0 {
				t.Errorf("%s 1:%d: sheet %s has no outline of the shape of the house", c.paper, c.scale, code)
			}
			ruler, long := "this line measures 4 in", 288.0
			if c.paper == A4 {
				ruler, long = "this line measures 100 mm", 100*72/25.4
			}
			if !hasRuler(pages[made.Sheets[i].First], ruler, long) {
				t.Errorf("%s 1:%d: sheet %s has no line of %.2f points to be measured", c.paper, c.scale, code, long)
			}
			ten := 72 * 120 / float64(c.scale)
			if worst > 0.002 {
				t.Errorf("%s 1:%d: ten feet are %.4f points or so on sheet %s", c.paper, c.scale, ten*(1+worst), code)
			}
			t.Logf("shown: %s 1:%d sheet %s: %d outlines, ten feet are %.3f pt ± %.4f %%", c.paper, c.scale, code, found, ten, 100*worst)
		}
	}
}

// hasRuler reports whether a page has words, and level lines about them that reach from
// end to end so long.
func hasRuler(q pdfPage, words string, long float64) bool {
	at := slices.IndexFunc(q.texts, func(x pdfText) bool { return x.says == words })
	if at < 0 {
		return false
	}
	box := orb.MultiPoint(q.texts[at].corners[:]).Bound()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range q.paths {
		b := orb.MultiPoint(p.points).Bound()
		if b.Max[1]-b.Min[1] < 0.01 && b.Min[1] > box.Min[1] && b.Max[1] < box.Max[1] && b.Max[0]-b.Min[0] < long+1 {
			lo, hi = min(lo, b.Min[0]), max(hi, b.Max[0])
		}
	}
	return math.Abs(hi-lo-long) < 0.05
}

// sameShape reports whether points are an outline at some scale, and how many points
// of paper a foot is where it is furthest from one scale.
func sameShape(points, feet []orb.Point) (per float64, same bool) {
	if n := len(points); n == len(feet)+1 && points[0] == points[n-1] {
		points = points[:n-1]
	}
	if len(points) != len(feet) {
		return 0, false
	}
	edge := func(of []orb.Point, i int) float64 {
		a, b := of[i], of[(i+1)%len(of)]
		return math.Hypot(b[0]-a[0], b[1]-a[1])
	}
	least, most := math.Inf(1), 0.0
	for i := range feet {
		r := edge(points, i) / edge(feet, i)
		least, most = min(least, r), max(most, r)
	}
	if most > least*1.05 {
		return 0, false
	}
	return most, true
}

// The same question gives the same bytes, of crowded plans too; the demo's are held to it
// in TestEveryFileOfAPlanIsWritten.
func TestPacksRepeatTheirBytes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		namedPlan
		kinds []Kind
	}{
		{namedPlan{"manifold", designed(t, crowdedManifold())}, []Kind{Crew}},
		{namedPlan{"names", designed(t, crowdedNames())}, []Kind{Crew, Owner}},
	} {
		n := c.namedPlan
		for _, kind := range c.kinds {
			asked := Asked{Kind: kind, Paper: Letter, Date: "2026-05-01", Revision: "7", Draws: 1}
			_, first := written(t, n.in, asked)
			_, second := written(t, n.in, asked)
			if !bytes.Equal(first, second) {
				t.Errorf("%s, %s: two runs give other bytes", n.name, kind)
			}
			if !bytes.Contains(first, []byte("/PrintScaling /None")) {
				t.Errorf("%s, %s: the file does not ask to be printed at its size", n.name, kind)
			}
		}
	}
}

// No words lie on others, on any page of any pack of the demo and three crowded
// plans: by the widths in the file, and by what another reader makes of it.
func TestNoWordsLieOnOthers(t *testing.T) {
	t.Parallel()
	for _, n := range append([]namedPlan{{"demo", demoInput(t)}}, crowdedPlans(t)...) {
		for _, kind := range []Kind{Crew, Owner, Office} {
			t.Run(n.name+"-"+string(kind), func(t *testing.T) {
				t.Parallel()
				paper := Letter
				if n.in.Plan.Show == "metric" {
					paper = A4
				}
				made, file := written(t, n.in, Asked{Kind: kind, Paper: paper, Date: "2026-05-01", Revision: "3", Draws: 1})
				words, runs := 0, 0
				other := wordsOf(t, file)
				for i, q := range readPDF(t, file) {
					name := made.Document.Pages[i].Name
					runs += len(q.texts)
					overlapping(t, name, q.texts)
					pastTheEdge(t, name, q)
					upright := uprightWords(other[i], q)
					words += len(upright)
					overlapping(t, name+" (other reader)", upright)
				}
				t.Logf("shown: %d pages, %d runs of letters, %d words of another reader, %d labels in lists alone", len(made.Document.Pages), runs, words, made.Unplaced)
			})
		}
	}
}

// overlapping complains of texts that lie on each other.
func overlapping(t *testing.T, page string, texts []pdfText) {
	t.Helper()
	type box struct {
		orb.Bound
		i int
	}
	var boxes []box
	for i, x := range texts {
		if strings.TrimSpace(x.says) != "" {
			boxes = append(boxes, box{orb.MultiPoint(x.corners[:]).Bound(), i})
		}
	}
	slices.SortFunc(boxes, func(a, b box) int { return cmp.Compare(a.Min[0], b.Min[0]) })
	told := 0
	for i, a := range boxes {
		for _, b := range boxes[i+1:] {
			if b.Min[0] > a.Max[0] {
				break
			}
			if b.Min[1] > a.Max[1] || b.Max[1] < a.Min[1] {
				continue
			}
			p, q := texts[a.i], texts[b.i]
			if depth := liesOn(p.corners, q.corners); depth > 0.25 {
				if told++; told <= 4 {
					t.Errorf("%s: %q and %q lie %.1f points on each other about %.0f, %.0f", page, p.says, q.says, depth, q.corners[0][0], q.corners[0][1])
				}
			}
		}
	}
	if told > 4 {
		t.Errorf("%s: and %d more", page, told-4)
	}
}

// liesOn is how deep two rectangles lie in each other: the least way that would part
// them, 0 when they are apart.
func liesOn(a, b [4]orb.Point) float64 {
	least := math.Inf(1)
	for _, r := range [2][4]orb.Point{a, b} {
		for i := range 2 {
			x, y := r[i+1][0]-r[i][0], r[i+1][1]-r[i][1]
			long := math.Hypot(x, y)
			if long == 0 {
				return 0
			}
			reach := func(q [4]orb.Point) (lo, hi float64) {
				lo, hi = math.Inf(1), math.Inf(-1)
				for _, p := range q {
					v := (p[0]*x + p[1]*y) / long
					lo, hi = min(lo, v), max(hi, v)
				}
				return lo, hi
			}
			lo1, hi1 := reach(a)
			lo2, hi2 := reach(b)
			least = min(least, min(hi1, hi2)-max(lo1, lo2))
		}
	}
	return max(least, 0)
}

// wordsOf are the words that another reader finds on every page, with the boxes it
// has them in.
func wordsOf(t *testing.T, file []byte) [][]pdfText {
	t.Helper()
	name := filepath.Join(t.TempDir(), "pack.pdf")
	if err := os.WriteFile(name, file, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-bbox", name, "-").Output()
	if err != nil {
		t.Fatalf("%v (go run ./cmd/dev test -only install brings it)", err)
	}
	var doc struct {
		Pages []struct {
			Height float64 `xml:"height,attr"`
			Words  []struct {
				X0   float64 `xml:"xMin,attr"`
				Y0   float64 `xml:"yMin,attr"`
				X1   float64 `xml:"xMax,attr"`
				Y1   float64 `xml:"yMax,attr"`
				Says string  `xml:",chardata"`
			} `xml:"word"`
		} `xml:"body>doc>page"`
	}
	if err := xml.Unmarshal(out, &doc); err != nil {
		t.Fatal(err)
	}
	var pages [][]pdfText
	for _, q := range doc.Pages {
		var words []pdfText
		for _, w := range q.Words {
			// Its boxes reach from under the longest letter to over the highest: about a
			// third of them is never inked by capitals and figures.
			high := w.Y1 - w.Y0
			lo, hi := q.Height-w.Y1+0.2*high, q.Height-w.Y0-0.2*high
			words = append(words, pdfText{says: w.Says, corners: [4]orb.Point{{w.X0, lo}, {w.X1, lo}, {w.X1, hi}, {w.X0, hi}}})
		}
		pages = append(pages, words)
	}
	return pages
}

// uprightWords leaves out words of turned texts, whose boxes say little.
func uprightWords(words []pdfText, q pdfPage) []pdfText {
	var turned []orb.Bound
	for _, x := range q.texts {
		if x.turned {
			turned = append(turned, orb.MultiPoint(x.corners[:]).Bound().Pad(1))
		}
	}
	return slices.DeleteFunc(words, func(w pdfText) bool {
		middle := orb.MultiPoint(w.corners[:]).Bound().Center()
		return slices.ContainsFunc(turned, func(b orb.Bound) bool { return b.Contains(middle) })
	})
}

// The reader of this test finds what lies on what, and what does not.
func TestLiesOn(t *testing.T) {
	t.Parallel()
	square := func(x, y float64) [4]orb.Point { return [4]orb.Point{{x, y}, {x + 2, y}, {x + 2, y + 2}, {x, y + 2}} }
	turned := [4]orb.Point{{3, 1}, {4, 2}, {3, 3}, {2, 2}}
	for _, c := range []struct {
		a, b [4]orb.Point
		want float64
	}{
		{square(0, 0), square(1, 1.5), 0.5}, {square(0, 0), square(2.1, 0), 0}, {square(0, 0), turned, 0}, {square(0.5, 0.5), turned, 0.5}, {square(-1, 0), turned, 0},
	} {
		if got := liesOn(c.a, c.b); math.Abs(got-c.want) > 0.01 {
			t.Errorf("%v on %v: %.3f, want %.3f", c.a, c.b, got, c.want)
		}
	}
}

// Both readers see two texts that lie on each other, one of them turned, and read
// the widths that labels are placed by; a halo is read once.
func TestOverlapsAreSeen(t *testing.T) {
	t.Parallel()
	across := &drawing.Text{At: orb.Point{100, 300}, Size: 10, S: "Across (½ in) the page", Halo: true}
	for _, c := range []struct {
		other *drawing.Text
		lies  bool
	}{
		{&drawing.Text{At: orb.Point{150, 303}, Size: 10, Bold: true, S: "upon it"}, true},
		{&drawing.Text{At: orb.Point{150, 313}, Size: 10, Bold: true, S: "over it"}, false},
		{&drawing.Text{At: orb.Point{120, 280}, Size: 10, Italic: true, TurnDeg: 60, S: "turned across it"}, true},
		{&drawing.Text{At: orb.Point{300, 300}, Size: 10, Italic: true, TurnDeg: 60, Anchor: drawing.Middle, S: "turned beside it"}, false},
	} {
		d := &drawing.Document{Pages: []drawing.Page{{Name: "A", Width: 612, Height: 792, Items: []drawing.Item{across, c.other}}}}
		var b bytes.Buffer
		if err := drawing.WritePDF(&b, d, ""); err != nil {
			t.Fatal(err)
		}
		q := readPDF(t, b.Bytes())[0]
		if len(q.texts) != 2 || q.width != 612 || q.height != 792 {
			t.Fatalf("%d texts on %g by %g", len(q.texts), q.width, q.height)
		}
		for i, x := range []*drawing.Text{across, c.other} {
			got := q.texts[i]
			wide := math.Hypot(got.corners[1][0]-got.corners[0][0], got.corners[1][1]-got.corners[0][1])
			if got.says != x.S || math.Abs(wide-x.Width()) > 0.01*x.Width() {
				t.Errorf("%q is %.2f wide in the file as %q, and %.2f as labels are placed", x.S, wide, got.says, x.Width())
			}
		}
		if lies := liesOn(q.texts[0].corners, q.texts[1].corners) > 0; lies != c.lies {
			t.Errorf("%q on %q: %v", c.other.S, across.S, lies)
		}
		words := wordsOf(t, b.Bytes())[0]
		if n := strings.Count(strings.Join(says(words), " "), "Across"); n != 1 {
			t.Errorf("another reader has a text with a halo %d times", n)
		}
		if c.other.TurnDeg == 0 {
			lies := false
			for i, a := range words {
				for _, b := range words[i+1:] {
					lies = lies || liesOn(a.corners, b.corners) > 0.25
				}
			}
			if lies != c.lies {
				t.Errorf("another reader: %q on %q: %v", c.other.S, across.S, lies)
			}
		}
	}
}

func says(words []pdfText) []string {
	var out []string
	for _, w := range words {
		out = append(out, w.says)
	}
	return out
}
