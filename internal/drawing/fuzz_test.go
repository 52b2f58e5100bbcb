package drawing

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/paulmach/orb"
)

// FuzzWriters draws lists of odd numbers and words. A writer refuses what it cannot
// draw, or writes a file that reads as what it is.
func FuzzWriters(f *testing.F) {
	numbers := func(vs ...float64) []byte {
		var b []byte
		for _, v := range vs {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		return b
	}
	f.Add("H1 Größe", "Heads", numbers(1, 2, 3, 4, 5, 6, 7, 8, 90, 10))
	f.Add(`\U+00e9 %%d ^J {nb} (((`, "a<b>&\"'", numbers(0, 0, 0, 0, 0, 0, 0, 0, 0, 0))
	f.Add("\x00\xff\u202eabc\u2028\U0001f33f", "", numbers(math.NaN(), 1, 1, 1, 1, 1, 1, 1, 1, 1))
	f.Add("", "0", numbers(1e300, math.Inf(1), -1e-300, 5e8, -5e8, 12, 360, -720, 1, 1))
	f.Add(strings.Repeat("W", 400), strings.Repeat("layer ", 40), numbers(1e8, -1e8, 1e-9, 400, 3, 1e5, 44, 0.001, 1e9, 1e-12))
	f.Fuzz(func(t *testing.T, says, layer string, raw []byte) {
		var n []float64
		for len(raw) >= 8 && len(n) < 64 {
			n, raw = append(n, math.Float64frombits(binary.LittleEndian.Uint64(raw))), raw[8:]
		}
		if len(n) < 10 {
			return
		}
		d := oddDocument(says, layer, n)
		finite := true
		for _, v := range n {
			finite = finite && !math.IsNaN(v) && !math.IsInf(v, 0)
		}
		var pdf, svg, dxf, dump bytes.Buffer
		q := &d.Pages[0]
		faults := []error{
			WritePDF(&pdf, d, ""), WriteSVG(&svg, q), Dump(&dump, q),
			WriteDXF(&dxf, q.Items[0].(*View), n[0] > 0),
		}
		if faults[0] == nil != (faults[1] == nil) || faults[0] == nil != (faults[2] == nil) {
			t.Fatalf("the writers do not agree: %v", faults)
		}
		if !finite && faults[0] == nil {
			t.Fatal("a number that is none was drawn")
		}
		if faults[0] == nil {
			soundPDF(t, pdf.Bytes())
			soundXML(t, svg.Bytes())
		}
		if faults[3] == nil {
			soundDXF(t, dxf.String())
		}
	})
}

// oddDocument spreads numbers over one item of each kind, in a view and out of it.
func oddDocument(says, layer string, n []float64) *Document {
	at := func(i int) orb.Point { return orb.Point{n[i%len(n)], n[(i+1)%len(n)]} }
	pen := Pen{Ink: RGB(uint32(len(says))), Width: n[2], Dash: []float64{n[3], n[4]}}
	var ring []orb.Point
	for i := range n {
		ring = append(ring, at(i))
	}
	items := []Item{
		&Layer{Name: layer, Items: []Item{
			&Line{Pen: pen, Points: ring},
			&Area{Pen: pen, Fill: Grey, Hatch: &Hatch{Pen: pen, Deg: n[5], Every: n[6]}, Rings: [][]orb.Point{ring, {at(3)}, nil}},
			&Arc{Pen: pen, Fill: Pale, Centre: at(0), Radius: n[7], FromDeg: n[8], SweepDeg: n[9], OnPaper: n[0] > 2},
		}},
		&Text{At: at(1), Size: n[5], TurnDeg: n[6], S: says, Halo: true, Anchor: Anchor(len(says) % 3), Bold: len(says)%2 == 0},
		&Image{Box: orb.Bound{Min: at(0), Max: at(2)}, Columns: 2, Rows: 2, Inks: []Ink{0, Black}, Cells: []byte{0, 1, 1, byte(len(says) % 3 / 2)}},
	}
	view := &View{Box: orb.Bound{Min: at(8), Max: at(4)}, Middle: at(6), PerFoot: n[1], Items: items}
	return &Document{Title: says, Subject: layer, Pages: []Page{
		{Name: says, Width: 612, Height: 792, Items: append([]Item{view}, items...)}, {Name: layer, Width: 100, Height: 100},
	}}
}

// soundPDF holds the table of objects to where they are, and looks for numbers that
// the file's words have none of.
func soundPDF(t *testing.T, b []byte) {
	t.Helper()
	tail := bytes.Fields(b[bytes.LastIndex(b, []byte("startxref")):])
	at, err := strconv.Atoi(string(tail[1]))
	if err != nil || !bytes.HasPrefix(b[at:], []byte("xref\n")) {
		t.Fatalf("the table of objects is not at %s", tail[1])
	}
	for i, line := range strings.Split(string(b[at:]), "\n")[2:] {
		f := strings.Fields(line)
		if len(f) != 3 {
			break
		}
		if o, _ := strconv.Atoi(f[0]); f[2] == "n" && !bytes.HasPrefix(b[o:], []byte(strconv.Itoa(i)+" 0 obj")) {
			t.Fatalf("object %d is not at %d", i, o)
		}
	}
}

func soundXML(t *testing.T, b []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			for _, a := range e.Attr {
				if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") && a.Name.Local != "data-layer" {
					t.Fatalf("%s has %s=%q", e.Name.Local, a.Name.Local, a.Value)
				}
			}
		}
	}
}

// soundDXF reads pairs of code and value, and numbers where the release has numbers.
func soundDXF(t *testing.T, s string) {
	t.Helper()
	if !utf8.ValidString(s) || strings.IndexFunc(s, func(r rune) bool { return r > '~' || r < ' ' && r != '\n' }) >= 0 {
		t.Fatal("the file has letters past ASCII")
	}
	lines := strings.Split(strings.TrimSuffix(s, "\n"), "\n")
	if len(lines)%2 == 1 || lines[len(lines)-1] != "EOF" {
		t.Fatalf("%d lines, the last %q", len(lines), lines[len(lines)-1])
	}
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(lines[i])
		if err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		if v, err := strconv.ParseFloat(lines[i+1], 64); code >= 10 && code < 60 && (err != nil || math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("line %d: %d %q", i+2, code, lines[i+1])
		}
	}
}
