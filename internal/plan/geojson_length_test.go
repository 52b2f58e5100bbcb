package plan

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
)

// Lengths of pipe, sleeve and wire in system.geojson are in feet, and those of their own
// coordinates by the great circle (mean radius of the earth, 6 371 008.8 m) to half a
// per cent, by which a sphere differs from the ellipsoid.
func TestLengthsOfTheSystemAreThoseOfTheirCoordinates(t *testing.T) {
	t.Parallel()
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	out, err := SystemGeoJSON(p)
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Features []struct {
			ID         string
			Properties struct {
				Length float64 `json:"length_ft"`
			}
			Geometry struct {
				Type        string
				Coordinates any
			}
		}
	}
	if err := json.Unmarshal(out, &all, json.MatchCaseInsensitiveNames(true)); err != nil {
		t.Fatal(err)
	}
	lines := map[string]int{}
	for _, f := range all.Features {
		if f.Geometry.Type != "LineString" {
			continue
		}
		collection, _, _ := strings.Cut(f.ID, "/")
		lines[collection]++
		sum, before := 0.0, [2]float64{}
		for i, at := range f.Geometry.Coordinates.([]any) {
			here := [2]float64{at.([]any)[0].(float64) * math.Pi / 180, at.([]any)[1].(float64) * math.Pi / 180}
			if i > 0 {
				a, b := math.Sin((here[1]-before[1])/2), math.Sin((here[0]-before[0])/2)
				sum += 2 * 6371008.8 / 0.3048 * math.Asin(math.Sqrt(a*a+math.Cos(here[1])*math.Cos(before[1])*b*b))
			}
			before = here
		}
		if math.Abs(sum-f.Properties.Length) > 0.005*sum+0.02 {
			t.Errorf("%s: length_ft %.2f, %.2f ft by its coordinates", f.ID, f.Properties.Length, sum)
		}
	}
	if lines["pipes"] == 0 || lines["sleeves"] == 0 {
		t.Errorf("lines of %v", lines)
	}
}
