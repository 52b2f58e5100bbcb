//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

const geodata = "../../testdata/geodata/parcel-and-house.geojson"

// TestRealPropertyGoesThroughTheWholeJob takes the outlines of a real parcel and
// its house from the plans page to the parts list, and back out to longitude
// and latitude.
func TestRealPropertyGoesThroughTheWholeJob(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.bringIn()
	p.axe("board of the parcel")
	p.shot("property-1-outlines")

	// A lawn south of the house and a walk beside it, in the plan's own feet.
	p.lawnAndWalk()
	p.shot("property-2-ground")
	p.headsAlongLawn()
	p.settled()
	heads := p.count("heads")
	p.shot("property-3-heads")
	p.zoneEach(30, 50)
	if loose := eval[int](p, `Object.values(evenfall.state.plan.heads).filter((h) => !h.zone).length`); loose != 0 {
		t.Errorf("%d heads are in no zone", loose)
	}
	checkFiles(p, heads, 2)
	p.shot("property-4-zones")
	compareOutlines(t, p.fetchBytes(eval[string](p, "location.pathname")+"/files/outlines.geojson"))
}

// bringIn goes through the chooser: the parcel is the property line, the house
// a building.
func (p *tab) bringIn() {
	p.t.Helper()
	file, err := filepath.Abs(geodata)
	if err != nil {
		p.t.Fatal(err)
	}
	p.do(chromedp.SetUploadFiles("#outline-file", []string{file}))
	p.click("#import-outlines button[type=submit]")
	p.until(`document.querySelectorAll("dialog[open] tbody tr").length === 2`)
	p.axe("chooser of outlines")
	p.fill("#outlines-name", "A real parcel")
	for i, what := range []string{"lot", "building"} {
		eval[bool](p, fmt.Sprintf(`(() => { const s = document.querySelectorAll("dialog[open] tbody select")[%d]; s.value = %q; s.dispatchEvent(new Event("change", { bubbles: true })); return s.value === %q; })()`, i, what, what))
	}
	p.click(`dialog[open] button[value="make"]`)
	p.onBoard()
	if got := eval[string](p, `JSON.stringify([evenfall.state.plan.name, (evenfall.state.plan.site.lot ?? []).length, Object.values(evenfall.state.plan.areas).map((a) => a.kind)])`); got != `["A real parcel",8,["building"]]` {
		p.t.Fatalf("the plan made of the outlines is %s", got)
	}
}

// lawnAndWalk draws a lawn of 40 by 16 ft by clicks and typed lengths, and a
// walk along its south side.
func (p *tab) lawnAndWalk() {
	p.t.Helper()
	p.outline("planting")
	p.show(20, 6, 80, 40)
	p.tap(30, 20, altKey)
	p.toward(50, 20)
	p.typed("40<0", "16<90", "40<180")
	p.enter()
	p.settled()
	p.rectangle("paving", 30, 16, 70, 20)
	kinds := eval[string](p, `Object.values(evenfall.state.plan.areas).map((a) => a.kind).sort().join(" ")`)
	if kinds != "building paving planting" {
		p.t.Fatalf("the plan has %s", kinds)
	}
}

// headsAlongLawn sets sprays along both long sides of the lawn.
func (p *tab) headsAlongLawn() {
	p.t.Helper()
	p.click(`[data-command="tool.head"]`)
	p.choose("#kit", "Nozzle", "spray-15-adj")
	for _, y := range []float64{20.4, 35.6} {
		for _, x := range []float64{30.4, 43, 57, 69.6} {
			p.tap(x, y, altKey)
		}
	}
	p.escape()
	p.until(`Object.keys(evenfall.state.plan.heads ?? {}).length === 8`)
}

// zoneEach makes a zone of the heads in each of two boxes, west and east of the
// middle.
func (p *tab) zoneEach(from, middle float64) {
	p.t.Helper()
	p.click("#tab-zones")
	for i, x := range []float64{from - 8, middle} { // well clear of the corner head: a press near one takes hold of it
		p.boxSelect(x, 38, []float64{middle, 73}[i], 19)
		p.click("#zones .acts button")
		p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.zones ?? {}).length === %d`, i+1))
		p.settled()
	}
}

type features struct {
	Features []struct {
		Properties struct{ Kind string }
		Geometry   struct {
			Type        string
			Coordinates json.RawMessage
		}
	}
}

// compareOutlines holds the parcel and the house that were written against the
// ones that were read, to 1e-7 degrees (about a centimetre), whatever corner
// each ring begins with and whichever way it runs.
func compareOutlines(t *testing.T, written []byte) {
	t.Helper()
	original, err := os.ReadFile(geodata)
	if err != nil {
		t.Fatal(err)
	}
	var in, out features
	if err := json.Unmarshal(original, &in); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(written, &out); err != nil {
		t.Fatal(err)
	}
	for i, kind := range []string{"lot", "building"} {
		want := outerRing(t, in.Features[i].Geometry.Type, in.Features[i].Geometry.Coordinates)
		found := false
		for _, f := range out.Features {
			if f.Properties.Kind != kind {
				continue
			}
			found = true
			got := outerRing(t, f.Geometry.Type, f.Geometry.Coordinates)
			if len(got) != len(want) {
				t.Errorf("the %s has %d corners, want %d", kind, len(got), len(want))
			}
			if worst := farthest(want, got); worst > 1e-7 {
				t.Errorf("a corner of the %s was written %g degrees off", kind, worst)
			}
		}
		if !found {
			t.Errorf("the file that was written has no %s", kind)
		}
	}
}

func outerRing(t *testing.T, kind string, raw json.RawMessage) [][2]float64 {
	t.Helper()
	var err error
	var rings [][][2]float64
	if kind == "MultiPolygon" {
		var all [][][][2]float64
		if err = json.Unmarshal(raw, &all); err == nil {
			rings = all[0]
		}
	} else {
		err = json.Unmarshal(raw, &rings)
	}
	if err != nil {
		t.Fatal(err)
	}
	return rings[0]
}

// farthest is how far, in degrees, the worst corner of one ring is from the
// nearest of the other.
func farthest(want, got [][2]float64) float64 {
	worst := 0.0
	for _, w := range want {
		best := math.Inf(1)
		for _, g := range got {
			best = min(best, max(math.Abs(w[0]-g[0]), math.Abs(w[1]-g[1])))
		}
		worst = max(worst, best)
	}
	return worst
}
