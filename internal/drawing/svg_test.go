package drawing

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"image/png"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// The SVG of a page reads as XML, has its true size, layers, and texts of the widths
// that the sheet was made with; it carries nothing that the policy of a page bars.
func TestSVGSaysWhatIsOnThePage(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := WriteSVG(&b, &someDocument().Pages[0]); err != nil {
		t.Fatal(err)
	}
	for _, barred := range []string{"<style", ` style=`, "<script", " id=", "url(", `href="http`} {
		if strings.Contains(b.String(), barred) {
			t.Errorf("the drawing has %s", barred)
		}
	}
	var doc struct {
		Width  string `xml:"width,attr"`
		Height string `xml:"height,attr"`
		Box    string `xml:"viewBox,attr"`
		Title  string `xml:"title"`
		View   struct {
			Layers []struct {
				Name string `xml:"data-layer,attr"`
			} `xml:"g"`
		} `xml:"svg"`
		Pictures []struct {
			Wide float64 `xml:"width,attr"`
			Data string  `xml:"href,attr"`
		} `xml:"image"`
		Texts []struct {
			Wide float64 `xml:"textLength,attr"`
			Says string  `xml:",chardata"`
		} `xml:"text"`
	}
	if err := xml.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Width != "11in" || doc.Height != "8.5in" || doc.Box != "0 0 792 612" || doc.Title != "C1 Everything" {
		t.Errorf("%s by %s, %s, %q", doc.Width, doc.Height, doc.Box, doc.Title)
	}
	if got := fmt.Sprint(doc.View.Layers); got != "[{Ground} {Heads}]" {
		t.Errorf("layers %s", got)
	}
	if len(doc.Texts) != 3 || doc.Texts[0].Says != `Everything (once) \ & <more>` {
		t.Errorf("%+v", doc.Texts)
	}
	if len(doc.Pictures) != 1 || doc.Pictures[0].Wide != 240 {
		t.Fatalf("%d pictures: %.60v", len(doc.Pictures), doc.Pictures)
	}
	data, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(doc.Pictures[0].Data, "data:image/png;base64,"))
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(m.Bounds(), m.At(1, 0), m.At(0, 1), m.At(1, 1)); got != "(0,0)-(3,2) {255 0 0 255} {255 0 0 255} {0 0 255 255}" {
		t.Errorf("the picture is %s", got)
	}
	if _, _, _, alpha := m.At(0, 0).RGBA(); alpha != 0 {
		t.Error("a cell of no ink is not clear")
	}
	for _, x := range doc.Texts {
		if x.Wide < 50 {
			t.Errorf("%q is held to %.1f points", x.Says, x.Wide)
		}
	}
}

// Metric paper has its size in millimetres.
func TestSVGHasTheUnitsOfItsPaper(t *testing.T) {
	t.Parallel()
	for want, q := range map[string]Page{
		`width="297mm" height="210mm"`: {Width: 297 * 72 / 25.4, Height: 210 * 72 / 25.4},
		`width="36in" height="24in"`:   {Width: 2592, Height: 1728},
	} {
		var b bytes.Buffer
		if err := WriteSVG(&b, &q); err != nil || !strings.Contains(b.String(), want) {
			t.Errorf("%v: no %s in %.200s", err, want, &b)
		}
	}
}

// Arcs go round the same way in SVG as in the list, and meet the places reckoned.
func TestSVGArcsGoTheRightWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ from, sweep float64 }{{0, 90}, {350, 355}, {90, -45}, {10, 180}} {
		var b bytes.Buffer
		q := &Page{Width: 200, Height: 200, Items: []Item{&Arc{Pen: Pen{Ink: Black, Width: 1}, Centre: orb.Point{100, 90}, Radius: 40, FromDeg: c.from, SweepDeg: c.sweep}}}
		if err := WriteSVG(&b, q); err != nil {
			t.Fatal(err)
		}
		m := regexp.MustCompile(`d="M([\d.]+) ([\d.]+)A40 40 0 0 ([01]) ([\d.]+) ([\d.]+)A40 40 0 0 ([01]) ([\d.]+) ([\d.]+)"`).FindStringSubmatch(b.String())
		if m == nil {
			t.Fatalf("no arc in %s", &b)
		}
		// y runs down: anticlockwise is flag 0.
		if want := map[bool]string{true: "0", false: "1"}[c.sweep > 0]; m[3] != want || m[6] != want {
			t.Errorf("over %v the flags are %s and %s", c.sweep, m[3], m[6])
		}
		for i, share := range []float64{0, 0.5, 1} {
			x, _ := strconv.ParseFloat(m[[]int{1, 4, 7}[i]], 64)
			y, _ := strconv.ParseFloat(m[[]int{2, 5, 8}[i]], 64)
			sin, cos := math.Sincos((c.from + share*c.sweep) * math.Pi / 180)
			if math.Hypot(x-100-40*cos, 200-y-90-40*sin) > 0.002 {
				t.Errorf("over %v the place %d is %v, %v", c.sweep, i, x, y)
			}
		}
	}
}
