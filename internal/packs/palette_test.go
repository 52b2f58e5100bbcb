package packs

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The colours on paper are the board's: its own text is read.
func TestTheMapsColoursAreTheBoards(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../web/editor/palette.ts")
	if err != nil {
		t.Fatal(err)
	}
	src := string(text)
	find := func(pattern string) []string {
		m := regexp.MustCompile(pattern).FindStringSubmatch(src)
		if m == nil {
			t.Fatalf("palette.ts has no %s", pattern)
		}
		return m[1:]
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	light := find(`(?s)light: \[\n(.*?)\n  \],\n  dark`)[0]
	rows := regexp.MustCompile(`\[([\d.]+), \[(\d+), (\d+), (\d+)\]\]`).FindAllStringSubmatch(light, -1)
	if len(rows) != len(mapStops) {
		t.Fatalf("the board has %d stops, paper %d", len(rows), len(mapStops))
	}
	for i, m := range rows {
		if s := mapStops[i]; number(m[1]) != s.share || number(m[2]) != s.r || number(m[3]) != s.g || number(m[4]) != s.b {
			t.Errorf("stop %d is %v on paper, %v on the board", i, s, m[1:])
		}
		if got := mapInk(mapStops[i].share); got != inkOf(number(m[2]), number(m[3]), number(m[4])) {
			t.Errorf("at %s of the mean paper has %x", m[1], got)
		}
	}
	stray := find(`stray: Record<Theme, RGB> = \{ light: \[(\d+), (\d+), (\d+)\]`)
	if strayInk != inkOf(number(stray[0]), number(stray[1]), number(stray[2])) {
		t.Errorf("off target is %x on paper, %v on the board", strayInk, stray)
	}
	alpha := find(`Math.min\((\d+), FAINTEST \+ share \* (\d+)\)`)
	if number(alpha[0]) != strayMost || number(alpha[1]) != strayPerMean || number(find(`FAINTEST = (\d+)`)[0]) != strayFaintest ||
		number(find(`Math.round\(a \* ([\d.]+)\)`)[0]) != strayBetween {
		t.Error("the opacity of water off target is not the board's")
	}
}

// What a byte stands for is the board's reading of it, and every share has one class,
// in order.
func TestBytesOfTheMapHaveTheirInkAndClass(t *testing.T) {
	t.Parallel()
	inks := mapInks()
	if _, _, _, draws := inks[0].Parts(); draws {
		t.Error("nothing is drawn as something")
	}
	last := 0
	for i := 1; i < 256; i++ {
		b := byte(i)
		if _, _, _, draws := inks[i].Parts(); !draws {
			t.Errorf("byte %d draws nothing", i)
		}
		c := classOf(b)
		if onMap(b) == offMap(b) || onMap(b) != (c > 0) || onMap(b) && c < last {
			t.Errorf("byte %d: class %d after %d", i, c, last)
		}
		if onMap(b) {
			last = c
			if k := mapClasses()[c-1]; mapShare(b) < k.from || mapShare(b) >= k.below {
				t.Errorf("byte %d of share %v is in the class %q", i, mapShare(b), k.words)
			}
		}
	}
	if last != 5 || classOf(1) != 1 || classOf(101) != 3 || math.Abs(mapShare(221)-1) > 1e-12 {
		t.Error("the ends of the classes are off")
	}
}
