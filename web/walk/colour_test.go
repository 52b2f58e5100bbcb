//go:build browser

package walk

import (
	"bytes"
	"fmt"
	"image"
	_ "image/png"
	"os"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// zoneMarks reads, for each zone with heads, its station, the numbers in the
// marks of its heads and the shapes of them, each about its own middle.
const zoneMarks = `(() => {
	const b = document.querySelector("#board").getBoundingClientRect();
	const out = {}, seen = [];
	const nameOf = (letters, box) => {
		const same = (s) => s.letters === letters && s.box.every((v, i) => Math.abs(v - box[i]) < 0.3);
		if (!seen.some(same)) seen.push({ letters, box });
		return letters + " " + seen.findIndex(same);
	};
	for (const [id, h] of Object.entries(evenfall.state.plan.heads)) {
		if (!h.zone) continue;
		const el = document.querySelector('#scene .heads [data-ref="heads/' + id + '"]');
		const mark = el.querySelector(".mark"), box = mark.getBBox();
		const [px, py] = evenfall.pixels([h.x_ft, h.y_ft]);
		const shape = nameOf(mark.getAttribute("d").replace(/[^A-Z]/g, ""), [box.x - (px - b.left), box.y - (py - b.top), box.width, box.height]);
		const z = (out[h.zone] ??= { station: String(evenfall.state.plan.zones[h.zone].station), numbers: [], shapes: [] });
		const number = el.querySelector(".mark-number").textContent;
		if (!z.numbers.includes(number)) z.numbers.push(number);
		if (!z.shapes.includes(shape)) z.shapes.push(shape);
	}
	return Object.values(out);
})()`

// No colour is needed to tell zones apart: each has a number and a shape of its
// own. Pictures of the board as people with the three kinds of colour blindness
// see it are kept when asked for.
func TestRowA22_ZonesAreToldApartWithoutColour(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	plain := p.shot("colour-all")
	for _, kind := range []emulation.SetEmulatedVisionDeficiencyType{
		emulation.SetEmulatedVisionDeficiencyTypeDeuteranopia,
		emulation.SetEmulatedVisionDeficiencyTypeProtanopia,
		emulation.SetEmulatedVisionDeficiencyTypeTritanopia,
	} {
		if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedVisionDeficiency, emulation.SetEmulatedVisionDeficiencyParams{Type: kind}); err != nil {
			t.Fatal(err)
		}
		if bytes.Equal(p.shot(fmt.Sprintf("colour-%s", kind)), plain) {
			t.Errorf("the picture for %s is that of full colour vision", kind)
		}
	}
	type marks struct {
		Station         string
		Numbers, Shapes []string
	}
	zones := eval[[]marks](p, zoneMarks)
	if len(zones) < 3 {
		t.Fatalf("the demo has marks of %d zones: not the case that was to be looked at", len(zones))
	}
	shapes := map[string]string{}
	for _, z := range zones {
		if len(z.Numbers) != 1 || z.Numbers[0] != z.Station {
			t.Errorf("the heads of station %s carry the numbers %q", z.Station, z.Numbers)
		}
		if len(z.Shapes) != 1 {
			t.Errorf("the heads of station %s have the shapes %q", z.Station, z.Shapes)
		}
		if other, taken := shapes[z.Shapes[0]]; taken {
			t.Errorf("the stations %s and %s share a shape", other, z.Station)
		}
		shapes[z.Shapes[0]] = z.Station
	}
}

// The picture in the README is one of the board in the size the tests take it.
func TestPictureOfTheReadmeIsOfTheBoard(t *testing.T) {
	f, err := os.Open(picture)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	kept, format, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	now, _, err := image.Decode(bytes.NewReader(p.shot("demo-now")))
	if err != nil {
		t.Fatal(err)
	}
	if format != "png" || kept.Bounds() != now.Bounds() {
		t.Errorf("%s is a %s of %v, want a png of %v", picture, format, kept.Bounds(), now.Bounds())
	}
	if off := unlikeness(kept, now); off > 0.02 {
		t.Errorf("%s is %.0f %% off the board of today; take it anew with EVENFALL_PICTURE=1", picture, 100*off)
	} else {
		t.Logf("the picture is %.1f %% off the board of today", 100*off)
	}
}

// unlikeness is how far two pictures are apart on average, 0 to 1, seen so
// coarsely that letters and thin lines do not matter.
func unlikeness(a, b image.Image) float64 {
	const block = 40
	sum, n := 0.0, 0
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y += block {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x += block {
			ra, rb := brightness(a, x, y, block), brightness(b, x, y, block)
			sum += max(ra-rb, rb-ra)
			n++
		}
	}
	return sum / float64(n)
}

// brightness is the mean of a square of a picture, 0 to 1.
func brightness(m image.Image, x0, y0, size int) float64 {
	sum, n := 0.0, 0
	for y := y0; y < min(y0+size, m.Bounds().Max.Y); y += 4 {
		for x := x0; x < min(x0+size, m.Bounds().Max.X); x += 4 {
			r, g, b, _ := m.At(x, y).RGBA()
			sum += float64(r+g+b) / (3 * 0xffff)
			n++
		}
	}
	return sum / float64(max(n, 1))
}
