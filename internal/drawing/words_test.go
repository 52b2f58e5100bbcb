package drawing

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// The words of a page are read from the top down and from the left to the right,
// whatever order and whichever layer or view they were drawn in.
func TestWordsAreReadAsOnPaper(t *testing.T) {
	t.Parallel()
	text := func(x, y float64, s string) *Text { return &Text{At: orb.Point{x, y}, Size: 10, S: s} }
	v := &View{Box: orb.Bound{Max: orb.Point{200, 200}}, Middle: orb.Point{50, 50}, PerFoot: 1, Items: []Item{
		&Layer{Name: "heads", Items: []Item{text(0, 0, "1-2"), text(0, 0, " ")}}, // at 50, 50 of the page
	}}
	q := &Page{Width: 200, Height: 200, Items: []Item{
		text(10, 10, "foot"), v, text(90, 52, "beside it"), &Line{}, text(10, 190, "head\u00ad\nof it"),
	}}
	if got, want := Words(q), []string{"head of it", "1-2  beside it", "foot"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := Words(&Page{}); len(got) != 0 {
		t.Errorf("an empty page says %q", got)
	}
}
