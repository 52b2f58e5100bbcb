package geom

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"

	"github.com/paulmach/orb"
)

// outlineVector is a row of the file that the page's geometry is held to as
// well. Areas and perimeters are closed forms, checked by fine chords when the
// file was made. The area is that of the outline alone, without its holes.
type outlineVector struct {
	Name      string      `json:"name"`
	Outline   Outline     `json:"outline"`
	Holes     []Outline   `json:"holes"`
	Area      float64     `json:"area"`
	Perimeter float64     `json:"perimeter"`
	Inside    []orb.Point `json:"inside"`
	Outside   []orb.Point `json:"outside"`
	Reason    Reason      `json:"reason"` // empty: sound
	At        *orb.Point  `json:"at"`
}

func TestOutlineVectors(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/outline.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []outlineVector
	if err := json.Unmarshal(data, &rows); err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if row.Reason != "" {
			checkBadVector(t, row)
			continue
		}
		poly, err := Polygon(row.Outline, row.Holes)
		if err != nil {
			t.Errorf("%s: %v", row.Name, err)
			continue
		}
		if got := row.Outline.Area(); !near(got, row.Area, 1e-9*max(1, row.Area)) {
			t.Errorf("%s: area %v, want %v", row.Name, got, row.Area)
		}
		if got := row.Outline.Perimeter(); !near(got, row.Perimeter, 1e-9*max(1, row.Perimeter)) {
			t.Errorf("%s: perimeter %v, want %v", row.Name, got, row.Perimeter)
		}
		for _, p := range row.Inside {
			if !PolygonContains(poly, p) {
				t.Errorf("%s does not hold %v", row.Name, p)
			}
		}
		for _, p := range row.Outside {
			if PolygonContains(poly, p) {
				t.Errorf("%s holds %v", row.Name, p)
			}
		}
	}
}

func checkBadVector(t *testing.T, row outlineVector) {
	t.Helper()
	var f *Fault
	if err := row.Outline.Validate(); !errors.As(err, &f) || f.Reason != row.Reason {
		t.Errorf("%s: %v, want %s", row.Name, err, row.Reason)
		return
	}
	if row.At != nil && math.Hypot(f.At[0]-row.At[0], f.At[1]-row.At[1]) > 2*Grid {
		t.Errorf("%s: at %v, want %v", row.Name, f.At, *row.At)
	}
}
