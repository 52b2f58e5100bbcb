//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// onPaper does what a print does to the page, and asks what is drawn.
const onPaper = `(() => {
	dispatchEvent(new Event("beforeprint"));
	const got = JSON.parse(` + drawn + `);
	const seen = (q) => [...document.querySelectorAll("#board " + q)].some((e) => e.checkVisibility() && e.getBoundingClientRect().width > 0);
	got.notes = seen(".notes [data-ref]");
	got.tags = seen(".paper-tag");
	dispatchEvent(new Event("afterprint"));
	return JSON.stringify(got);
})()`

// What is hidden on the board is not on the paper either, and the head of the
// paper says what is left out: nobody takes the picture for the whole plan. The
// tables are whole all the same.
func TestRowA15_AHiddenLayerIsLeftOutOfThePrint(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	eval[bool](p, `(void evenfall.board.commit("Write a note", { ...evenfall.board.committed, notes: { n9: { text: "Zwetschge", x_ft: 30, y_ft: 40 } } }), true)`)
	p.settled()
	whole, text := p.paper("layers-all")
	if strings.Contains(text, "Hidden in the picture") || !strings.Contains(text, "North neighbour") {
		t.Errorf("with nothing hidden the print says that something is, or does not name the ground: %.300s", text)
	}
	p.printing("print")
	all := eval[string](p, onPaper)
	p.printing("")
	for _, must := range []string{"ground", "walls", "heads", "water", "pipes", "fixtures", "names", "notes", "tags"} {
		if !strings.Contains(all, fmt.Sprintf(`"%s":true`, must)) {
			t.Fatalf("with all layers shown the print draws %s, not %s", all, must)
		}
	}
	white0 := whiteShare(whole[0])
	t.Logf("with everything %.1f %% of the first sheet is white", 100*white0)
	for _, c := range []struct {
		name, title string
		inks        bool // it covers enough of the sheet for its pixels to tell
	}{
		{"ground", "Ground", true}, {"walls", "Walls and trees", false}, {"heads", "Heads", false}, {"water", "Water map", true},
		{"pipes", "Pipes", false}, {"fixtures", "Fixtures", false}, {"names", "Names", false}, {"notes", "Notes", false},
	} {
		p.layer("Show", c.name)
		p.frame()
		p.printing("print")
		got := eval[string](p, onPaper)
		p.printing("")
		if !strings.Contains(got, fmt.Sprintf(`"%s":false`, c.name)) {
			t.Errorf("with %s hidden the print draws %s", c.title, got)
		}
		if (c.name == "heads" || c.name == "names") && !strings.Contains(got, `"tags":false`) {
			t.Errorf("with %s hidden the print has the tags of heads", c.title)
		}
		sheets, text := p.paper("layers-no-" + c.name)
		if !strings.Contains(strings.Join(strings.Fields(text), " "), "Hidden in the picture: "+c.title+".") {
			t.Errorf("with %s hidden the print does not say so: %.300s", c.title, text)
		}
		picture, table, found := strings.Cut(text, "Table of heads: 48 heads")
		if !found || !strings.Contains(table, "2-8") {
			t.Errorf("with %s hidden the table of heads is not whole", c.title)
		}
		if tagged := strings.Contains(picture, "4-13"); tagged == (c.name == "heads" || c.name == "names") {
			t.Errorf("with %s hidden the picture has the tag of head 4-13: %v", c.title, tagged)
		}
		if c.name == "names" && strings.Contains(picture, "North neighbour") {
			t.Error("with the names hidden the picture has the name of the neighbour's ground")
		}
		white := whiteShare(sheets[0])
		t.Logf("with %s hidden %.1f %% of the first sheet is white", c.title, 100*white)
		if c.inks && white <= white0+0.005 {
			t.Errorf("with %s hidden %.1f %% of the first sheet is white, with everything %.1f %%", c.title, 100*white, 100*white0)
		}
		p.layer("Show", c.name)
		p.frame()
	}
	t.Log("shown: 7 of 7 layers left out of the print and named on it")
}

// printing shows the page as on paper ("print") or as on the screen ("").
func (p *tab) printing(media string) {
	p.t.Helper()
	params := emulation.SetEmulatedMediaParams{Media: media}
	if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, params); err != nil {
		p.t.Fatal(err)
	}
}
