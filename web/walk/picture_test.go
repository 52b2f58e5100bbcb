//go:build browser

package walk

import (
	"bytes"
	"encoding/base64"
	bits "encoding/binary"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The places of the test picture that are known, in its pixels: at 400 px to
// 10 m, a bar, a second one across it, and a square of 10 m.
const (
	barX0, barX1, barY       = 300, 700, 700
	crossX, crossY0, crossY1 = 1700, 300, 900
	squareX, squareY         = 900, 500 // upper left; 400 px on a side
)

// yardPicture is a picture of 2000 × 1500 pixels: lawn and paving in the colours
// of a photograph, with two bars and a square to trace.
func yardPicture() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, 2000, 1500))
	for y := range 1500 {
		for x := range 2000 {
			n := uint8((x*7919 + y*104729 + x*y) >> 3 & 31)
			c := color.RGBA{96 + n, 124 + n, 70 + n/2, 255}
			if y > 1150 {
				c = color.RGBA{150 + n, 146 + n, 140 + n, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	fill := func(x0, y0, x1, y1 int, c color.Color) {
		draw.Draw(m, image.Rect(x0, y0, x1, y1), image.NewUniform(c), image.Point{}, draw.Src)
	}
	white, roof := color.RGBA{250, 250, 245, 255}, color.RGBA{134, 84, 70, 255}
	fill(squareX, squareY, squareX+400, squareY+400, roof)
	fill(barX0, barY-3, barX1, barY+3, white)
	fill(crossX-3, crossY0, crossX+3, crossY1, white)
	fill(0, 0, 120, 120, color.RGBA{220, 30, 30, 255}) // tells which corner is the upper left
	return m
}

// pictureFile writes the test picture as PNG and returns its path.
func pictureFile(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, yardPicture()); err != nil {
		t.Fatal(err)
	}
	return keepFile(t, "yard.png", b.Bytes())
}

func keepFile(t *testing.T, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// underlay is the picture of the plan as the page has it.
type underlay struct {
	SHA256    string  `json:"sha256"`
	Width     float64 `json:"width_px"`
	Height    float64 `json:"height_px"`
	FtPerPx   float64 `json:"ft_per_px"`
	X         float64 `json:"x_ft"`
	Y         float64 `json:"y_ft"`
	RotateDeg float64 `json:"rotate_deg"`
	Opacity   float64 `json:"opacity"`
	Locked    bool    `json:"locked"`
}

func (p *tab) underlay() underlay {
	p.t.Helper()
	var u underlay
	if err := json.Unmarshal([]byte(eval[string](p, `JSON.stringify(evenfall.state.plan.underlay ?? {})`)), &u); err != nil {
		p.t.Fatal(err)
	}
	return u
}

// ground is where a pixel of the picture lies on the plan, in feet.
func (u underlay) ground(x, y float64) (float64, float64) {
	dx, dy := x*u.FtPerPx, (u.Height-y)*u.FtPerPx
	sin, cos := math.Sincos(u.RotateDeg * math.Pi / 180)
	return u.X + dx*cos - dy*sin, u.Y + dx*sin + dy*cos
}

// lay chooses a picture for the open plan and waits until it is shown.
func (p *tab) lay(file string) {
	p.t.Helper()
	p.do(chromedp.SetUploadFiles("#picture-file", []string{file}))
	p.until(`document.querySelector("#underlay").dataset.state === "shown" && evenfall.state.plan.underlay?.width_px`)
	p.settled()
}

// pick shows the whole, zooms in on a pixel of the picture and clicks it.
func (p *tab) pick(x, y float64, mods int64) {
	p.t.Helper()
	p.press("f")
	p.frame()
	gx, gy := p.underlay().ground(x, y)
	for range 40 {
		if eval[bool](p, `evenfall.drawing.view.scale * evenfall.state.plan.underlay.ft_per_px >= 6 || evenfall.drawing.view.scale >= 400`) {
			break
		}
		px, py := p.pixels(gx, gy)
		p.wheel(px, py, -240)
		p.frame()
	}
	p.tap(gx, gy, mods)
	p.frame()
}

// says is what the page last announced.
func (p *tab) says(words string) {
	p.t.Helper()
	p.until(fmt.Sprintf(`document.querySelector("#live").textContent.includes(%q)`, words))
}

func TestRowA7_AKnownBarScalesThePictureAndWhatIsTracedIsTrue(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Traced")
	p.click("#empty-picture")
	p.lay(pictureFile(t))
	p.until(`document.querySelector("#board").dataset.tool === "picture" && document.querySelector("#picture-status").textContent.includes("Not scaled yet")`)
	if u := p.underlay(); u.Width != 2000 || u.Height != 1500 || u.Locked {
		t.Fatalf("the picture is laid as %+v", u)
	}
	p.shot("picture-1-laid")

	// The same place, twice or by a double-click, gives no scale.
	gx, gy := p.underlay().ground(barX0, barY)
	p.tap(gx, gy, 0)
	p.says("First place")
	p.tap(gx, gy, 0)
	p.says("same place")
	p.escape()
	p.until(`!evenfall.drawing.tool.busy`)

	p.pick(barX0, barY, 0)
	p.pick(barX1, barY, 0)
	p.until(`!document.querySelector("#entry").hidden && document.activeElement.dataset.field === "measured"`)
	p.shot("picture-2-distance")
	for _, c := range []struct{ typed, says string }{
		{"0", "more than zero"}, {"-5", "more than zero"}, {"NaN", "not a length"}, {"1e9", "1e9"}, {"10 mm", "Check the number"}, {"10 km", "10 km"}, {"9999 m", "Check the number"},
	} {
		eval[bool](p, `(document.activeElement.select(), true)`)
		p.insert(c.typed)
		p.enter()
		p.until(`document.querySelector("#entry-message").textContent !== ""`)
		if says := eval[string](p, `document.querySelector("#entry-message").textContent`); !strings.Contains(says, c.says) {
			t.Errorf("to %q the box says %q, want something of %q", c.typed, says, c.says)
		}
		if !eval[bool](p, `document.activeElement.dataset.field === "measured"`) {
			t.Fatalf("after %q the focus is not in the box", c.typed)
		}
	}
	eval[bool](p, `(document.activeElement.select(), true)`)
	p.insert("10 m")
	p.enter()
	p.until(`evenfall.state.plan.underlay.scaled_by`)
	p.settled()
	u := p.underlay()
	metres := u.FtPerPx * 0.3048
	t.Logf("scale %.6f m/px, %.3f %% off", metres, 100*(metres/0.025-1))
	if math.Abs(metres/0.025-1) > 0.001 || !u.Locked {
		t.Errorf("10 m over 400 px gives %v m/px, locked %v; want 0.025 within 0.1 %%, locked", metres, u.Locked)
	}

	// The second known distance: 600 px that are said to be 14.55 m, not 15.
	p.until(`document.querySelector("#kit select") && evenfall.drawing.kit.pictureDo === "check"`)
	p.pick(crossX, crossY0, 0)
	p.pick(crossX, crossY1, 0)
	p.until(`document.activeElement.dataset.field === "measured"`)
	p.insert("14.55 m")
	p.enter()
	p.until(`!document.querySelector(".picture-check").hidden`)
	check := eval[string](p, `document.querySelector(".picture-check").textContent + " " + document.querySelector(".picture-check").dataset.rank`)
	if !strings.Contains(check, "3.1 % too long") || !strings.Contains(check, "1' 6\"") && !strings.Contains(check, "17.") || !strings.Contains(check, "Scale by the longer one") || !strings.HasSuffix(check, "poor") {
		t.Errorf("the check says %q", check)
	}
	p.settled()
	p.shot("picture-3-check")
	p.axe("picture checked")
	// The distance mended by its field, the two agree.
	eval[bool](p, `(document.querySelector("#picture details").open = true, true)`)
	p.fill(`[data-known="check"] .field:nth-child(3) input`, "15 m")
	p.click(`[data-known="check"] button`)
	p.until(`document.querySelector(".picture-check").dataset.rank === "good"`)
	p.settled()

	// A square of 10 m, traced.
	p.outline("planting")
	eval[bool](p, `(document.querySelector("#scene").focus(), true)`)
	for _, c := range [][2]float64{{0, 0}, {400, 0}, {400, 400}, {0, 400}} {
		p.pick(squareX+c[0], squareY+c[1], altKey)
	}
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	p.settled()
	area := eval[float64](p, `(() => { const o = Object.values(evenfall.state.plan.areas)[0].outline; let s = 0;
		for (let i = 0; i < o.length; i++) { const a = o[i], b = o[(i + 1) % o.length]; s += a[0] * b[1] - b[0] * a[1]; } return Math.abs(s) / 2 * 0.3048 ** 2; })()`)
	t.Logf("shown: scale %.6f m/px for 0.025, traced square of 100 m² has %.3f m²", metres, area)
	if math.Abs(area-100) > 0.2 {
		t.Errorf("the traced square of 10 m has %v m², want 100 within 0.2", area)
	}
	p.press("v")
	p.shot("picture-4-traced")

	// The page loaded again is the same.
	const shown = `JSON.stringify([document.querySelector("#underlay").style.transform, document.querySelector("#underlay").style.opacity])`
	same := func() string {
		return fmt.Sprint(p.underlay(), p.fetch("/api"+eval[string](p, "location.pathname")), eval[string](p, shown))
	}
	p.press("f")
	p.frame()
	before := same()
	p.visit(eval[string](p, "location.href"))
	p.onBoard()
	p.until(`document.querySelector("#underlay").dataset.state === "shown"`)
	p.click(`[data-command="view.fit"]`)
	p.frame()
	if after := same(); after != before {
		t.Errorf("loaded again it is\n%s\nand was\n%s", after, before)
	}

	// Locked it stays; free it moves, and what is drawn does not.
	drawn := eval[string](p, `JSON.stringify(evenfall.state.plan.areas)`)
	at := p.underlay()
	lx, ly := at.ground(squareX-60, squareY+200)
	p.press("v")
	p.drag(lx, ly, lx+5, ly+4, 0)
	p.settled()
	if now := p.underlay(); now != at {
		t.Errorf("locked, the picture was dragged from %+v to %+v", at, now)
	}
	p.click("#tab-layers")
	p.click(`#picture .tick input`)
	p.until(`!evenfall.state.plan.underlay.locked && evenfall.state.selection.includes("underlay/picture")`)
	p.drag(lx, ly, lx+5, ly+4, altKey)
	p.until(fmt.Sprintf(`evenfall.state.plan.underlay.x_ft !== %v`, at.X))
	p.settled()
	moved := p.underlay()
	if math.Abs(moved.X-at.X-5) > 0.3 || math.Abs(moved.Y-at.Y-4) > 0.3 || moved.FtPerPx != at.FtPerPx {
		t.Errorf("dragged 5 ft east and 4 ft north the picture went from %+v to %+v", at, moved)
	}
	if now := eval[string](p, `JSON.stringify(evenfall.state.plan.areas)`); now != drawn {
		t.Errorf("moving the picture changed the drawing from %s to %s", drawn, now)
	}
	// Each was a step that undo takes back.
	p.click("#undo")
	p.until(fmt.Sprintf(`evenfall.state.plan.underlay.x_ft === %v && !evenfall.state.plan.underlay.locked`, at.X))
	p.click("#undo")
	p.until(`evenfall.state.plan.underlay.locked`)
	p.settled()
}

// Everything the pointer does to the picture is done by keys and fields too.
func TestRowA7_ThePictureIsScaledTurnedFadedAndRemovedByKeys(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "By keys")
	p.lay(pictureFile(t))
	// The crosshair, by arrows and Enter.
	p.until(`document.querySelector("#board").dataset.tool === "picture" && document.activeElement.id === "scene"`)
	for range 3 {
		p.press(kb.ArrowLeft, chromedp.ModifierShift)
	}
	p.enter()
	p.says("First place")
	for range 5 {
		p.press(kb.ArrowRight, chromedp.ModifierShift)
	}
	p.enter()
	p.until(`document.activeElement.dataset.field === "measured"`)
	p.write("50'")
	p.enter()
	p.until(`evenfall.state.plan.underlay.scaled_by`)
	px := eval[float64](p, `(({from, to}) => Math.hypot(to.x_px - from.x_px, to.y_px - from.y_px))(evenfall.state.plan.underlay.scaled_by)`)
	if u := p.underlay(); math.Abs(u.FtPerPx*px-50) > 1e-9 {
		t.Errorf("50 ft over %v px gives %v ft/px", px, u.FtPerPx)
	}
	p.escape() // no second distance
	p.until(`document.querySelector("#board").dataset.tool === "select"`)

	// The same by numbers: 400 px are 10 m.
	eval[bool](p, `(document.querySelector("#picture details").open = true, true)`)
	for i, text := range []string{"300, 700", "700, 700", "10 m"} {
		p.fill(fmt.Sprintf(`[data-known="scale"] .field:nth-child(%d) input`, i+1), text)
	}
	eval[bool](p, `(document.querySelector('[data-known="scale"] button').focus(), true)`)
	p.enter()
	p.until(`Math.abs(evenfall.state.plan.underlay.ft_per_px * 0.3048 - 0.025) < 1e-12`)
	p.settled()
	for _, c := range []struct{ from, says string }{{"300", "two numbers"}, {"left, 700", "not a number"}, {"700, 700", "same"}, {"300, 1600", "beside the picture"}} {
		p.fill(`[data-known="scale"] .field:nth-child(1) input`, c.from)
		p.click(`[data-known="scale"] button`)
		p.until(fmt.Sprintf(`[...document.querySelectorAll('[data-known="scale"] .error:not([hidden])')].some((e) => e.textContent.includes(%q))`, c.says))
	}

	// Strength: one step however far the slider goes in one go.
	rev := eval[int](p, "evenfall.state.rev")
	eval[bool](p, `(document.querySelector("#picture-strength").focus(), true)`)
	for range 8 {
		p.press(kb.ArrowLeft)
	}
	p.until(`evenfall.state.plan.underlay.opacity === 0.6 && document.querySelector(".picture-fade output").textContent === "60 %"`)
	p.settled()
	if now := eval[int](p, "evenfall.state.rev"); now != rev+1 {
		t.Errorf("eight presses of the slider made %d steps, want 1", now-rev)
	}
	if got := eval[string](p, `getComputedStyle(document.querySelector("#underlay")).opacity`); got != "0.6" {
		t.Errorf("the picture is shown at %s", got)
	}
	// Turned by a typed angle it turns about its middle.
	u := p.underlay()
	mx, my := u.ground(1000, 750)
	p.fill(`#picture .pairs .field.text input`, "12.5")
	p.until(`evenfall.state.plan.underlay.rotate_deg === 12.5`)
	u = p.underlay()
	if x, y := u.ground(1000, 750); math.Hypot(x-mx, y-my) > 1e-4 {
		t.Errorf("turned, the middle went from %v, %v to %v, %v", mx, my, x, y)
	}
	p.settled()
	p.shot("picture-5-turned")
	// It is a row of the table, and its fields are there.
	p.click("#tab-objects")
	p.until(`[...document.querySelectorAll("#objects [role=gridcell], #objects td, #objects th")].some((c) => c.textContent === "Picture")`)
	eval[bool](p, `(evenfall.board.select(["underlay/picture"]), document.querySelector("#tab-selected").click(), true)`)
	p.until(`[...document.querySelectorAll("#selected label")].some((l) => l.textContent.startsWith("Strength"))`)
	p.axe("picture selected")
	p.shot("picture-6-row")
	p.click("#tab-layers")
	eval[bool](p, `([...document.querySelectorAll("#picture button")].find((b) => b.textContent === "Remove").focus(), true)`)
	p.enter()
	p.until(`!evenfall.state.plan.underlay && document.querySelector("#underlay").hidden && document.activeElement.id === "picture-choose"`)
	p.click("#undo")
	p.until(`evenfall.state.plan.underlay?.rotate_deg === 12.5 && !document.querySelector("#underlay").hidden`)
	p.settled()
}

// A photograph of a phone: its pixels lie on their side and a note says so. The
// browser shows it upright, and that is what is measured.
func TestRowA7_APhotoLiesAsItIsShown(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "On its side")
	// Turned a quarter to the left as stored; orientation 6 turns it back.
	upright := yardPicture()
	side := image.NewRGBA(image.Rect(0, 0, 1500, 2000))
	for y := range 2000 {
		for x := range 1500 {
			side.SetRGBA(x, y, upright.RGBAAt(1999-y, x))
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, side, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	p.lay(keepFile(t, "phone.jpg", withOrientation(b.Bytes(), 6)))
	u := p.underlay()
	if u.Width != 2000 || u.Height != 1500 {
		t.Fatalf("a photo of 1500 × 2000 turned by its note is taken as %v × %v", u.Width, u.Height)
	}
	p.escape()
	p.frame()
	shot, err := png.Decode(bytes.NewReader(p.shot("picture-7-phone")))
	if err != nil {
		t.Fatal(err)
	}
	sample := func(x, y float64) color.RGBA {
		px, py := p.pixels(u.ground(x, y))
		return color.RGBAModel.Convert(shot.At(int(px), int(py))).(color.RGBA)
	}
	if c := sample(60, 60); c.R < 180 || c.G > 90 {
		t.Errorf("the upper left is %v, want red", c)
	}
	if c := sample(1100, 700); c.R < 110 || c.G > 110 {
		t.Errorf("the square is %v, want the colour of the roof", c)
	}
	// Seven of the eight notes turn or mirror; none is shown but as measured.
	p.click("#undo")
	p.until(`!evenfall.state.plan.underlay`)
}

// withOrientation puts an EXIF segment with an orientation into a JPEG
// (CIPA DC-008, tag 0x0112).
func withOrientation(b []byte, orientation uint16) []byte {
	tiff := []byte("II*\x00\x08\x00\x00\x00\x01\x00")
	tiff = bits.LittleEndian.AppendUint16(tiff, 0x0112)
	tiff = bits.LittleEndian.AppendUint16(tiff, 3)
	tiff = bits.LittleEndian.AppendUint32(tiff, 1)
	tiff = bits.LittleEndian.AppendUint16(tiff, orientation)
	tiff = append(tiff, 0, 0, 0, 0, 0, 0)
	body := append([]byte("Exif\x00\x00"), tiff...)
	segment := bits.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(2+len(body)))
	return append(append(append(bytes.Clone(b[:2]), segment...), body...), b[2:]...)
}

// A picture is dropped on the board or pasted as well; what is none is told.
func TestRowA7_APictureIsDroppedOrPasted(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Dropped")
	p.excuse("status of 415", "status of 422")
	var small bytes.Buffer
	if err := png.Encode(&small, image.NewRGBA(image.Rect(0, 0, 60, 40))); err != nil {
		t.Fatal(err)
	}
	transfer := func(body []byte, name, kind, then string) {
		t.Helper()
		eval[bool](p, fmt.Sprintf(`(async () => {
			const packed = atob(%q), bytes = Uint8Array.from(packed, (c) => c.charCodeAt(0));
			const data = new DataTransfer();
			data.items.add(new File([bytes], %q, { type: %q }));
			%s
			return true;
		})()`, base64.StdEncoding.EncodeToString(body), name, kind, then))
	}
	const drop = `document.querySelector("#scene").dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));`
	const paste = `document.body.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));`
	for _, c := range []struct{ body, name, kind, says string }{
		{"%PDF-1.7", "plan.pdf", "application/pdf", "Export the page as PNG"},
		{`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`, "plan.svg", "image/svg+xml", "SVG drawing"},
		{small.String()[:50], "half.png", "image/png", "not whole"},
		{"a note", "note.txt", "text/plain", "not a picture"},
	} {
		transfer([]byte(c.body), c.name, c.kind, drop)
		p.until(fmt.Sprintf(`document.querySelector("#notice").textContent.includes(%q) && document.querySelector("#picture .error").textContent.includes(%q)`, c.says, c.says))
		if eval[bool](p, `!!evenfall.state.plan.underlay`) {
			t.Fatalf("%s was laid under the plan", c.name)
		}
	}
	transfer(small.Bytes(), "small.png", "image/png", drop)
	p.until(`evenfall.state.plan.underlay?.width_px === 60 && document.querySelector("#notice").hidden`)
	p.settled()
	p.click("#undo")
	p.until(`!evenfall.state.plan.underlay`)
	transfer(small.Bytes(), "small.png", "image/png", paste)
	p.until(`evenfall.state.plan.underlay?.height_px === 40`)
	p.settled()
}

// A plan file carried to another machine comes without its picture. The plan is
// whole, a calm sentence says what is missing, and choosing the file again mends
// it in place.
func TestRowA7_APictureThatIsNotOnThisMachineIsChosenAgain(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.excuse(toldNotFound)
	p.visit(prog.url)
	doc := snapGround()
	doc["underlay"] = map[string]any{
		"sha256": strings.Repeat("5", 64), "width_px": 2000, "height_px": 1500, "ft_per_px": 0.05, "x_ft": -10, "y_ft": -15, "rotate_deg": 2, "locked": true,
		"scaled_by": map[string]any{"from": map[string]any{"x_px": 0, "y_px": 0}, "to": map[string]any{"x_px": 400, "y_px": 0}, "distance_ft": 20},
	}
	p.visit(prog.url + "/plans/" + p.create(doc))
	p.onBoard()
	p.until(`document.querySelector("#notice").textContent.includes("The picture under this plan is not on this machine: choose it again.")`)
	if kind := eval[string](p, `document.querySelector("#notice").dataset.kind`); kind != "hint" {
		t.Errorf("a picture that is elsewhere is told as %q", kind)
	}
	if n := p.areas(); n != 3 {
		t.Errorf("without its picture the plan has %d areas, want 3", n)
	}
	p.click("#tab-layers")
	p.until(`document.querySelector("#picture-choose").textContent === "Choose it again…"`)
	p.shot("picture-8-missing")
	p.axe("picture missing")
	before := p.underlay()
	p.lay(pictureFile(t))
	after := p.underlay()
	if after.SHA256 == before.SHA256 {
		t.Error("the picture that was chosen has the checksum of the missing one")
	}
	after.SHA256 = before.SHA256
	if after != before {
		t.Errorf("chosen again it lies at %+v, before at %+v", after, before)
	}
	p.until(`document.querySelector("#notice").hidden && !document.querySelector("#underlay").hidden`)
}

// The map lies over the picture and hides it where it is painted, so its colours
// mean the same with a picture under it; the picture keeps its own in the dark.
func TestRowA7_TheMapIsReadOverThePicture(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.visit(prog.url + "/plans/" + eval[string](p, `fetch("/api/demo", { method: "POST", headers: { "Content-Type": "application/json" }, body: "{}" }).then((r) => r.json()).then((a) => a.id)`))
	p.onBoard()
	p.lay(pictureFile(t))
	p.escape()
	p.click("#tab-layers")
	eval[bool](p, `(document.querySelector("#picture details").open = true, true)`)
	for i, text := range []string{"0, 750", "2000, 750", "150'"} {
		p.fill(fmt.Sprintf(`[data-known="scale"] .field:nth-child(%d) input`, i+1), text)
	}
	p.click(`[data-known="scale"] button`)
	p.until(`evenfall.state.plan.underlay.scaled_by`)
	eval[bool](p, `(document.querySelector("#picture details").open = false, true)`)
	p.settled()
	colours := func(at [][2]float64) []color.Color {
		t.Helper()
		p.frame()
		shot, err := png.Decode(bytes.NewReader(p.shot("picture-map")))
		if err != nil {
			t.Fatal(err)
		}
		var list []color.Color
		for _, c := range at {
			px, py := p.pixels(c[0], c[1])
			list = append(list, color.RGBAModel.Convert(shot.At(int(px), int(py))))
		}
		return list
	}
	// Places all over the planting, with everything but the map out of the way.
	const across = `(() => {
		const places = [], inside = (o, x, y) => o.reduce((in_, [ax, ay], i) => { const [bx, by] = o[(i + 1) % o.length]; return (ay > y) !== (by > y) && x < ax + ((y - ay) * (bx - ax)) / (by - ay) ? !in_ : in_; }, false);
		for (const a of Object.values(evenfall.state.plan.areas)) if (a.kind === "planting")
			for (let x = 1.3; x < 120; x += 3.1) for (let y = 1.7; y < 120; y += 3.1) if (inside(a.outline, x, y)) places.push([x, y]);
		return JSON.stringify(places);
	})()`
	var on [][2]float64
	if err := json.Unmarshal([]byte(eval[string](p, across)), &on); err != nil {
		t.Fatal(err)
	}
	eval[bool](p, `(["heads", "names", "ground", "walls", "pipes", "fixtures", "notes"].forEach((n) => evenfall.board.layers.show(n, false)), evenfall.drawing.setAids({ grid: false }), true)`)
	p.click(`[data-command="view.fit"]`)
	with := colours(on)
	eval[bool](p, `(evenfall.board.layers.show("picture", false), true)`)
	p.until(`getComputedStyle(document.querySelector("#underlay")).display === "none"`)
	without := colours(on)
	board, mapped, changed := color.RGBA{253, 253, 249, 255}, 0, 0
	for i := range on {
		if without[i] == board {
			continue // no map there
		}
		mapped++
		if with[i] != without[i] {
			changed++
		}
	}
	t.Logf("shown: of %d places in the planting %d have the map, %d look different over the picture", len(on), mapped, changed)
	if mapped < 100 || changed > mapped/10 { // along edges the map ends, or water off its target lies faint over the picture
		t.Errorf("of %d places in the planting %d have the map and %d look different over the picture", len(on), mapped, changed)
	}
	eval[bool](p, `(evenfall.board.layers.showAll(), true)`)
	spot := func(x, y float64) [2]float64 { gx, gy := p.underlay().ground(x, y); return [2]float64{gx, gy} }
	beside := [][2]float64{spot(60, 60), spot(1900, 1400)}
	light := colours(beside)
	for _, theme := range []string{"light", "dark"} {
		p.media(theme)
		for _, size := range [][2]int64{{1280, 800}, {1024, 768}, {768, 1024}} {
			p.do(chromedp.EmulateViewport(size[0], size[1]))
			p.frame()
			p.click(`[data-command="view.fit"]`)
			p.frame()
			p.shot(fmt.Sprintf("picture-map-%s-%d", theme, size[0]))
			p.axe(fmt.Sprintf("picture, %s, %d wide", theme, size[0]))
		}
	}
	p.do(chromedp.EmulateViewport(1280, 800))
	p.click(`[data-command="view.fit"]`)
	for i, dark := range colours(beside) {
		d, l := dark.(color.RGBA), light[i].(color.RGBA)
		for _, off := range []int{int(d.R) - int(l.R), int(d.G) - int(l.G), int(d.B) - int(l.B)} {
			if max(off, -off) > 12 { // its grain; inverted it would be far more
				t.Errorf("at %v the picture is %v in the dark and %v in the light", beside[i], d, l)
				break
			}
		}
	}
}

// Stored bytes that are a picture and a page at once do nothing when their
// address is opened, and an SVG is never stored.
func TestRowB7_AStoredPictureOpenedByItselfRunsNothing(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Both")
	// The browser's own page around a picture would dress itself, and says that it may not.
	p.excuse("Content Security Policy directive 'default-src 'none''", "Blocked script execution", toldNotFound)
	var small bytes.Buffer
	if err := png.Encode(&small, image.NewRGBA(image.Rect(0, 0, 60, 40))); err != nil {
		t.Fatal(err)
	}
	const page = `<!DOCTYPE html><title>no</title><script>document.title = "ran"; fetch("/api/plans")</script><svg onload="document.title='ran'"></svg>`
	for name, body := range map[string][]byte{"png": append(bytes.Clone(small.Bytes()), page...)} {
		packed := base64.StdEncoding.EncodeToString(body)
		said := eval[string](p, fmt.Sprintf(`fetch("/api" + location.pathname + "/picture", { method: "POST", headers: { "Content-Type": "image/png" }, body: Uint8Array.from(atob(%q), (c) => c.charCodeAt(0)) }).then((r) => r.text())`, packed))
		var answer struct{ SHA256 string }
		if err := json.Unmarshal([]byte(said), &answer); err != nil || answer.SHA256 == "" {
			t.Fatalf("%s: %s", name, said)
		}
		p.visit(prog.url + "/api/pictures/" + answer.SHA256)
		got := eval[string](p, `JSON.stringify([document.contentType, document.title.includes("ran"), document.querySelectorAll("script, svg").length, document.querySelectorAll("img").length])`)
		if got != `["image/png",false,0,1]` {
			t.Errorf("opened by itself the picture is %s", got)
		}
	}
	p.visit(prog.url)
	said := eval[string](p, `fetch("/api/plans/none/picture", { method: "POST", headers: { "Content-Type": "image/svg+xml" }, body: "<svg/>" }).then((r) => String(r.status))`)
	if said != "404" {
		t.Errorf("a picture for no plan: %s", said)
	}
}
