package drawing

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"github.com/paulmach/orb"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is one style of the letters.
type face struct {
	ttf    []byte
	font   *sfnt.Font
	common [0x530]float64 // advances of the first letters, emUnits, so that lists are set fast; 0: looked up
}

var faces = sync.OnceValue(func() *[3]face {
	var out [3]face
	var buffer sfnt.Buffer
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF, goitalic.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic(fmt.Sprintf("drawing: a font of the library does not parse: %v", err))
		}
		out[i] = face{ttf: ttf, font: f}
		for r := range out[i].common {
			if w, has := out[i].look(&buffer, rune(r)); has {
				out[i].common[r] = w
			}
		}
	}
	return &out
})

func (t *Text) face() *face {
	f := faces()
	switch {
	case t.Bold:
		return &f[1]
	case t.Italic:
		return &f[2]
	}
	return &f[0]
}

const emUnits = 2048 // of the library's fonts

// advance is the width of a letter in emUnits, and whether the face has it.
func (f *face) advance(r rune) (float64, bool) {
	if r >= 0 && int(r) < len(f.common) && f.common[r] > 0 {
		return f.common[r], true
	}
	return f.look(new(sfnt.Buffer), r)
}

func (f *face) look(buffer *sfnt.Buffer, r rune) (float64, bool) {
	i, err := f.font.GlyphIndex(buffer, r)
	if err != nil {
		return emUnits / 2, false
	}
	a, err := f.font.GlyphAdvance(buffer, i, fixed.I(emUnits), font.HintingNone)
	if err != nil {
		return emUnits / 2, false
	}
	return float64(a) / 64, i != 0
}

// Width is how many points wide a text is.
func (t *Text) Width() float64 {
	f, sum := t.face(), 0.0
	for _, r := range Printable(t.S) {
		w, _ := f.advance(r)
		sum += w
	}
	return sum * t.Size / emUnits
}

// Heights of letters over and under their baseline as shares of their size: of the
// library's fonts, from their tables.
const (
	ascent  = 0.76
	descent = 0.21
)

// Corners are the corners of the room a text takes, in points about a place `at` of
// the page, where its baseline starts, is in the middle, or ends.
func (t *Text) Corners(at orb.Point) [4]orb.Point {
	w := t.Width()
	x := 0.0
	switch t.Anchor {
	case Middle:
		x = -w / 2
	case End:
		x = -w
	}
	sin, cos := math.Sincos(t.TurnDeg * math.Pi / 180)
	lo, hi := -descent*t.Size, ascent*t.Size
	var out [4]orb.Point
	for i, c := range [4]orb.Point{{x, lo}, {x + w, lo}, {x + w, hi}, {x, hi}} {
		out[i] = orb.Point{at[0] + c[0]*cos - c[1]*sin, at[1] + c[0]*sin + c[1]*cos}
	}
	return out
}

// Printable is a text as it can be set: controls left out, letters that the fonts do
// not have as a question mark.
func Printable(s string) string {
	if plain(s) {
		return s
	}
	f := faces()
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' {
			return ' '
		}
		if r < ' ' || r == 0x7f || r == '\u00ad' {
			return -1
		}
		if !f[0].has(r) {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// Prints reports whether the fonts have every letter of a text: none is lost to a
// question mark in Printable.
func Prints(s string) bool {
	if plain(s) {
		return true
	}
	f := faces()
	for _, r := range s {
		if r >= ' ' && r != 0x7f && r != '\u00ad' && !f[0].has(r) {
			return false
		}
	}
	return true
}

// has reports whether the face has a letter.
func (f *face) has(r rune) bool {
	if int(r) < len(f.common) && f.common[r] > 0 {
		return true
	}
	i, err := f.font.GlyphIndex(new(sfnt.Buffer), r)
	return err == nil && i != 0
}

// plain reports whether a text is of letters that every font has.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Unbroken are the parts of a text that a line does not break within: a figure stays with
// its inches and its unit, as 8' 2 1/2" and 12 ft do.
func Unbroken(s string) []string {
	var out []string
	for _, w := range strings.Fields(Printable(s)) {
		if n := len(out); n > 0 && belongs(out[n-1], w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// belongs reports whether a word is the inches, the fraction or the unit of the figure
// before it.
func belongs(before, w string) bool {
	last := before[len(before)-1]
	figure := last >= '0' && last <= '9'
	switch {
	case last == '\'': // feet
		return w[0] >= '0' && w[0] <= '9'
	case !figure:
		return false
	case w[0] >= '0' && w[0] <= '9':
		return len(w) >= 3 && w[1] == '/' && len(before) < 12
	}
	switch strings.TrimRight(w, ".,;:)") {
	case "ft", "in", "m", "cm", "mm", "gpm", "psi", "bar", "L/min", "in/h", "mm/h", "%", "V", "A", "AWG", "lb", "kg", "h", "min":
		return true
	}
	return false
}

// Wrap breaks a text into lines no wider than so many points, between its Unbroken parts. What
// is too long for a line is broken.
func Wrap(s string, size float64, bold bool, width float64) []string {
	fits := func(s string) bool { return (&Text{S: s, Size: size, Bold: bold}).Width() <= width }
	var lines []string
	line := ""
	for _, word := range wordsWithin(s, fits) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if fits(next) {
			line = next
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for runes := []rune(word); ; {
			n := len(runes)
			for n > 1 && !fits(string(runes[:n])) {
				n--
			}
			if n == len(runes) {
				line = string(runes)
				break
			}
			lines = append(lines, string(runes[:n]))
			runes = runes[n:]
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// wordsWithin are the Unbroken parts of a text, those that fit no line parted at their spaces.
func wordsWithin(s string, fits func(string) bool) []string {
	all := Unbroken(s)
	for i := 0; i < len(all); i++ {
		if strings.Contains(all[i], " ") && !fits(all[i]) {
			parts := strings.Fields(all[i])
			all = append(all[:i], append(parts, all[i+1:]...)...)
			i += len(parts) - 1
		}
	}
	return all
}
