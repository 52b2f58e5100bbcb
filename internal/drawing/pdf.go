package drawing

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"time"

	"github.com/go-pdf/fpdf"
)

// WritePDF writes a document as PDF: pages at true size with their bookmarks, letters
// that can be searched, layers to switch. `on` is the civil date in the file's
// description, as 2026-05-01; "" takes a fixed one. The same document and date give the
// same bytes. The error is the writer's, or names the page with something on it that
// cannot be drawn.
func WritePDF(w io.Writer, d *Document, on string) error {
	day := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	if on != "" {
		var err error
		if day, err = time.Parse(time.DateOnly, on); err != nil {
			return fmt.Errorf("%q is not a date, as 2026-05-01", on)
		}
	}
	if len(d.Pages) == 0 {
		return fmt.Errorf("a document of no pages cannot be written")
	}
	for i := range d.Pages {
		if err := d.Pages[i].check(); err != nil {
			return err
		}
	}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: d.Pages[0].Width, Ht: d.Pages[0].Height}})
	f.SetCatalogSort(true)
	f.SetCreationDate(day)
	f.SetModificationDate(day)
	f.SetProducer("Evenfall", true)
	f.SetLang("en")
	f.SetTitle(Printable(d.Title), true)
	f.SetSubject(Printable(d.Subject), true)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	for i, style := range styles {
		f.AddUTF8FontFromBytes(family, style, faces()[i].ttf)
	}
	p := &pdf{f: f, layers: map[string]int{}}
	last := d.Pages[len(d.Pages)-1].Height
	for i := range d.Pages {
		q := &d.Pages[i]
		f.AddPageFormat("P", fpdf.SizeType{Wd: q.Width, Ht: q.Height})
		p.high, p.stale = q.Height, true
		p.font(0, 10)
		if q.Name != "" {
			f.Bookmark(Printable(q.Name), 0, last-q.Height)
		}
		p.out("1 j")
		walk(p, q.Items, onPaper())
	}
	var made bytes.Buffer
	if err := f.Output(&made); err != nil {
		return err
	}
	out, err := unscaled(made.Bytes())
	if err != nil {
		return err
	}
	_, err = w.Write(out)
	return err
}

const family = "go"

// styles are those of faces, as the library of PDF names them.
var styles = [3]string{"", "B", "I"}

// unscaled asks viewers to print without fitting pages to the paper, which would spoil
// the scale (ISO 32000-1, 12.2). The library has no way to say so; the catalog is the
// last object of the file, so that only the place of the table after it moves.
func unscaled(made []byte) ([]byte, error) {
	const catalog, start = "/Type /Catalog\n", "startxref\n"
	const wish = "/ViewerPreferences <</PrintScaling /None /DisplayDocTitle true>>\n"
	at, tail := bytes.LastIndex(made, []byte(catalog)), bytes.LastIndex(made, []byte(start))
	if at < 0 || tail < at {
		return nil, fmt.Errorf("the PDF has no catalog at its end")
	}
	at += len(catalog)
	number, rest, _ := bytes.Cut(made[tail+len(start):], []byte("\n"))
	table, err := strconv.Atoi(string(number))
	if err != nil || table < at {
		return nil, fmt.Errorf("the PDF's table of objects is not at its end")
	}
	out := make([]byte, 0, len(made)+len(wish)+2)
	out = append(out, made[:at]...)
	out = append(out, wish...)
	out = append(out, made[at:tail]...)
	out = append(out, start...)
	out = strconv.AppendInt(out, int64(table+len(wish)), 10)
	out = append(out, '\n')
	return append(out, rest...), nil
}
