package packs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// photographs lists the photographs that are kept with the plan, by what they show.
func (b *builder) photographs() error {
	f := b.list()
	ids := plan.SortedIDs(b.p.Photos)
	if len(ids) == 0 {
		f.para("No photograph is kept with this plan yet. Trenches before they are filled in, what stands in each valve box, the backflow device and the wires at the controller are worth one each: nobody sees them again without digging.")
		return nil
	}
	slices.SortStableFunc(ids, func(x, y plan.ID) int { return cmp.Compare(b.p.Photos[x].On, b.p.Photos[y].On) })
	f.para(fmt.Sprintf("%s kept with the plan: they go along with it as one file for the next person.", plan.Plural(len(ids), "photograph is", "photographs are")))
	g := grid{Head: []string{"No.", "Taken on", "It shows", "Caption"}, Shares: []float64{6, 13, 34, 57}}
	for i, id := range ids {
		v := b.p.Photos[id]
		g.Rows = append(g.Rows, []string{itoa(i + 1), v.On, b.photoShows(v), strings.TrimSpace(v.Caption)})
	}
	f.table(g)
	return b.pictures(f, ids)
}

// How photographs are printed, chosen: two beside one another, of the most bytes that one
// and a book of papers may have, so that it can still be sent.
const (
	photoHigh  = 185.0 // points at the most
	photoApart = 12.0
	photoMost  = 3 << 20
	photosMost = 24 << 20
)

// printed is a photograph that can be printed.
type printed struct {
	number int // of the list
	file   []byte
	shape  float64 // its width over its height
}

// pictures prints the photographs that are at hand, two to a row, by their numbers of the
// list. The error is the context's.
func (b *builder) pictures(f *flow, ids []plan.ID) error {
	var row []printed
	bytes, left := 0, 0
	headed := false
	for i, id := range ids {
		if err := b.ctx.Err(); err != nil {
			return err
		}
		one, ok := b.photoAtHand(b.p.Photos[id])
		if !ok || bytes+len(one.file) > photosMost {
			left++
			continue
		}
		if !headed {
			headed = true
			f.section("Pictures")
		}
		bytes += len(one.file)
		one.number = i + 1
		if row = append(row, one); len(row) == 2 {
			f.photoRow(row)
			row = row[:0]
		}
	}
	if len(row) > 0 {
		f.photoRow(row)
	}
	switch {
	case left > 0 && !headed:
		f.note("The pictures themselves are kept with the plan.")
	case left > 0:
		f.note(plan.Plural(left, "picture is", "pictures are") + " not printed here: kept with the plan.")
	}
	return nil
}

// photoAtHand is a photograph that can be printed as its file has it. One whose file is
// turned otherwise than the plan says would lie on its side.
func (b *builder) photoAtHand(v plan.Photo) (printed, bool) {
	if b.in.Photo == nil {
		return printed{}, false
	}
	_, file, err := b.in.Photo(v.SHA256)
	if err != nil || len(file) > photoMost {
		return printed{}, false
	}
	wide, high, err := drawing.PhotoSize(file)
	if err != nil || v.WidthPx > 0 && v.HeightPx > 0 && (v.WidthPx > v.HeightPx) != (wide > high) && wide != high {
		return printed{}, false
	}
	return printed{file: file, shape: float64(wide) / float64(high)}, true
}

// photoRow sets photographs beside one another, each over its number.
func (f *flow) photoRow(row []printed) {
	wide := (f.wide() - photoApart) / 2
	sizes, most := make([]orb.Point, len(row)), 0.0
	for i, one := range row {
		w := min(wide, photoHigh*one.shape)
		sizes[i] = orb.Point{w, w / one.shape}
		most = max(most, sizes[i][1])
	}
	f.keep(most + 18)
	top := f.y
	for i, one := range row {
		x := f.x0 + float64(i)*(wide+photoApart)
		of := orb.Bound{Min: orb.Point{x, top - sizes[i][1]}, Max: orb.Point{x + sizes[i][0], top}}
		f.add(&drawing.Photo{Box: of, JPEG: one.file}, box(drawing.Pen{Ink: drawing.Black, Width: 0.5}, 0, of),
			&drawing.Text{At: orb.Point{x, of.Min[1] - 9}, Size: noteSize, Bold: true, S: "No. " + itoa(one.number)})
	}
	f.y = top - most - 18
}

// photoShows names what a photograph is about.
func (b *builder) photoShows(v plan.Photo) string {
	if v.About == "" {
		return ""
	}
	if name := b.p.Label(v.About); name != "" {
		return plan.Capital(name)
	}
	return "something that is gone from the plan"
}
