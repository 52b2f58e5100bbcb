package packs

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/paulmach/orb"
)

// pdfPage is a page of a PDF as its own numbers put it: everything in points, each
// place taken through the transformations that stand before it in the file.
type pdfPage struct {
	width, height float64
	paths         []pdfPath
	texts         []pdfText
}

type pdfPath struct {
	points []orb.Point
	closed bool
}

// pdfText is one run of letters: its words, and the corners of the room it takes from
// its baseline to the height of a capital, by the widths that stand in the file.
type pdfText struct {
	says    string
	size    float64
	turned  bool
	corners [4]orb.Point
}

// pdfFile is a PDF by the numbers of its objects.
type pdfFile struct {
	t       testing.TB
	data    []byte
	at      map[int]int
	objects map[int]pdfObject
}

type pdfObject struct {
	dict   string
	stream []byte
}

// readPDF reads what our papers need of a PDF, and nothing else: its table of objects,
// its pages, and what stands on them. It shares no code with what wrote the file.
func readPDF(t testing.TB, data []byte) []pdfPage {
	t.Helper()
	f := &pdfFile{t: t, data: data, at: map[int]int{}, objects: map[int]pdfObject{}}
	f.table()
	trailer := string(data[bytes.LastIndex(data, []byte("trailer")):])
	catalog := f.object(pdfReference(t, trailer, "Root"))
	pages := f.object(pdfReference(t, catalog.dict, "Pages"))
	fonts := f.fonts()
	var out []pdfPage
	kids := regexp.MustCompile(`/Kids \[([^\]]*)\]`).FindStringSubmatch(pages.dict)[1]
	for _, m := range regexp.MustCompile(`(\d+) 0 R`).FindAllStringSubmatch(kids, -1) {
		page := f.object(pdfWhole(t, m[1]))
		box := regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`).FindStringSubmatch(page.dict)
		if box == nil {
			box = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`).FindStringSubmatch(pages.dict)
		}
		q := pdfPage{width: pdfNumber(t, box[1]), height: pdfNumber(t, box[2])}
		q.read(t, f.object(pdfReference(t, page.dict, "Contents")).stream, fonts)
		out = append(out, q)
	}
	return out
}

func pdfWhole(t testing.TB, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func pdfNumber(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func pdfReference(t testing.TB, dict, name string) int {
	t.Helper()
	m := regexp.MustCompile(`/` + name + `\s+(\d+) 0 R`).FindStringSubmatch(dict)
	if m == nil {
		t.Fatalf("no /%s in %.300q", name, dict)
	}
	return pdfWhole(t, m[1])
}

// table reads where every object stands, from the end of the file.
func (f *pdfFile) table() {
	tail := string(f.data[bytes.LastIndex(f.data, []byte("startxref")):])
	at := pdfWhole(f.t, strings.Fields(tail)[1])
	if !bytes.HasPrefix(f.data[at:], []byte("xref\n")) {
		f.t.Fatalf("the file says its table is at %d, where there is %.20q", at, f.data[at:])
	}
	for i, line := range strings.Split(string(f.data[at:]), "\n")[2:] {
		fields := strings.Fields(line)
		if len(fields) != 3 {
			break
		}
		if fields[2] == "n" {
			f.at[i] = pdfWhole(f.t, fields[0])
		}
	}
}

func (f *pdfFile) object(n int) pdfObject {
	if o, ok := f.objects[n]; ok {
		return o
	}
	at, ok := f.at[n]
	head := fmt.Sprintf("%d 0 obj\n", n)
	if !ok || !bytes.HasPrefix(f.data[at:], []byte(head)) {
		f.t.Fatalf("object %d is not where the table says", n)
	}
	rest := f.data[at+len(head):]
	end := bytes.Index(rest, []byte("endobj"))
	if s := bytes.Index(rest, []byte("stream\n")); s >= 0 && s < end {
		dict := string(rest[:s])
		m := regexp.MustCompile(`/Length (\d+)`).FindStringSubmatch(dict)
		long := pdfWhole(f.t, m[1])
		body := rest[s+len("stream\n"):][:long]
		if strings.Contains(dict, "FlateDecode") {
			z, err := zlib.NewReader(bytes.NewReader(body))
			if err != nil {
				f.t.Fatal(err)
			}
			if body, err = io.ReadAll(z); err != nil {
				f.t.Fatal(err)
			}
		}
		f.objects[n] = pdfObject{dict, body}
	} else {
		f.objects[n] = pdfObject{dict: string(rest[:end])}
	}
	return f.objects[n]
}

// fonts are the widths of letters, in thousandths of their size, by the name a font
// has on pages.
func (f *pdfFile) fonts() map[string]map[rune]float64 {
	out := map[string]map[rune]float64{}
	list := regexp.MustCompile(`(?s)/Font <<(.*?)>>`).FindStringSubmatch(f.object(2).dict)
	for _, m := range regexp.MustCompile(`/(F\w+) (\d+) 0 R`).FindAllStringSubmatch(list[1], -1) {
		font := f.object(pdfWhole(f.t, m[2]))
		below := pdfWhole(f.t, regexp.MustCompile(`/DescendantFonts \[(\d+) 0 R\]`).FindStringSubmatch(font.dict)[1])
		out[m[1]] = pdfWidths(f.t, f.object(below).dict)
	}
	return out
}

// pdfWidths reads a /W array: "first [w w w]" and "first last w".
func pdfWidths(t testing.TB, dict string) map[rune]float64 {
	at := strings.Index(dict, "/W [")
	if at < 0 {
		t.Fatalf("a font without widths: %.200q", dict)
	}
	tokens := strings.Fields(strings.NewReplacer("[", " [ ", "]", " ] ").Replace(dict[at+len("/W ["):]))
	widths := map[rune]float64{}
	for i := 0; i < len(tokens) && tokens[i] != "]"; {
		first := pdfWhole(t, tokens[i])
		if tokens[i+1] == "[" {
			for i += 2; tokens[i] != "]"; i++ {
				widths[rune(first)] = pdfNumber(t, tokens[i])
				first++
			}
			i++
			continue
		}
		for r := first; r <= pdfWhole(t, tokens[i+1]); r++ {
			widths[rune(r)] = pdfNumber(t, tokens[i+2])
		}
		i += 3
	}
	return widths
}

// pdfMatrix is a transformation: x' = a x + c y + e, y' = b x + d y + f.
type pdfMatrix [6]float64

func (m pdfMatrix) on(x, y float64) orb.Point {
	return orb.Point{m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]}
}

// after is m applied to what n gives.
func (m pdfMatrix) after(n pdfMatrix) pdfMatrix {
	o := m.on(n[4], n[5])
	return pdfMatrix{
		m[0]*n[0] + m[2]*n[1], m[1]*n[0] + m[3]*n[1],
		m[0]*n[2] + m[2]*n[3], m[1]*n[2] + m[3]*n[3], o[0], o[1],
	}
}

type pdfState struct {
	ctm    pdfMatrix
	font   string
	size   float64
	stroke bool // letters are only stroked: a halo
}

// read follows the words of a page's contents.
func (q *pdfPage) read(t testing.TB, contents []byte, fonts map[string]map[rune]float64) {
	s := pdfState{ctm: pdfMatrix{1, 0, 0, 1, 0, 0}}
	var saved []pdfState
	var args []string
	var at pdfMatrix
	var path []pdfPath
	n := func(i int) float64 { return pdfNumber(t, args[len(args)-i]) }
	for _, w := range pdfWords(contents) {
		switch w {
		case "q":
			saved = append(saved, s)
		case "Q":
			s, saved = saved[len(saved)-1], saved[:len(saved)-1]
		case "cm":
			s.ctm = s.ctm.after(pdfMatrix{n(6), n(5), n(4), n(3), n(2), n(1)})
		case "m":
			path = append(path, pdfPath{points: []orb.Point{s.ctm.on(n(2), n(1))}})
		case "l", "c":
			last := &path[len(path)-1]
			last.points = append(last.points, s.ctm.on(n(2), n(1)))
		case "h":
			path[len(path)-1].closed = true
		case "S", "f", "f*", "B":
			q.paths, path = append(q.paths, path...), nil
		case "n":
			path = nil
		case "Tr":
			s.stroke = n(1) == 1
		case "Tf":
			s.font, s.size = args[len(args)-2], n(1)
		case "BT":
			at = s.ctm
		case "Td":
			at = at.after(pdfMatrix{1, 0, 0, 1, n(2), n(1)})
		case "Tj":
			if !s.stroke {
				q.texts = append(q.texts, pdfRun(args[len(args)-1], s, at, fonts[strings.TrimPrefix(s.font, "/")]))
			}
		default:
			if c := w[0]; c == '(' || c == '/' || c == '[' || c == ']' || c == '-' || c == '.' || c >= '0' && c <= '9' {
				args = append(args, w)
				continue
			}
		}
		args = args[:0]
	}
	if len(saved) > 0 {
		t.Errorf("%d states are saved on a page and not restored", len(saved))
	}
}

// pdfRun is a run of letters, two bytes each.
func pdfRun(s string, state pdfState, at pdfMatrix, widths map[rune]float64) pdfText {
	var units []uint16
	for i := 1; i+1 < len(s); i += 2 {
		units = append(units, uint16(s[i])<<8|uint16(s[i+1]))
	}
	wide := 0.0
	for _, u := range units {
		wide += widths[rune(u)] * state.size / 1000
	}
	const high = 0.72 // of a capital, of the size
	return pdfText{
		says: string(utf16.Decode(units)), size: state.size,
		turned:  math.Abs(at[1]) > 1e-6 || at[0] < 0,
		corners: [4]orb.Point{at.on(0, 0), at.on(wide, 0), at.on(wide, high*state.size), at.on(0, high*state.size)},
	}
}

// pdfWords cuts contents into words; strings are "(" and their bytes, unescaped.
func pdfWords(b []byte) []string {
	var out []string
	for i := 0; i < len(b); {
		switch c := b[i]; c {
		case ' ', '\n', '\r', '\t':
			i++
		case '[', ']':
			out = append(out, string(c))
			i++
		case '(':
			s := []byte{'('}
			depth := 1
			for i++; ; i++ {
				if b[i] == '\\' {
					i++
					s = append(s, map[byte]byte{'r': '\r', 'n': '\n'}[b[i]])
					if s[len(s)-1] == 0 {
						s[len(s)-1] = b[i]
					}
					continue
				}
				if b[i] == '(' {
					depth++
				}
				if b[i] == ')' {
					if depth--; depth == 0 {
						break
					}
				}
				s = append(s, b[i])
			}
			out = append(out, string(s))
			i++
		default:
			j := i + 1
			for j < len(b) && !strings.ContainsRune(" \n\r\t[](/", rune(b[j])) {
				j++
			}
			out = append(out, string(b[i:j]))
			i = j
		}
	}
	return out
}
