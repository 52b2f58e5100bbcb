package plan

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

func realOutlines(t testing.TB) ([]byte, *Outlines) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/geodata/parcel-and-house.geojson")
	if err != nil {
		t.Fatal(err)
	}
	o, err := FromGeoJSON(data, nil)
	if err != nil {
		t.Fatal(err)
	}
	return data, o
}

func TestRealParcelAndHouse(t *testing.T) {
	_, o := realOutlines(t)
	if len(o.Shapes) != 2 || len(o.LeftOut) != 0 {
		t.Fatalf("%d shapes, left out %q; want 2 and none", len(o.Shapes), o.LeftOut)
	}
	parcel, house := o.Shapes[0], o.Shapes[1]
	if parcel.Guess != UseLot || house.Guess != Use(Building) {
		t.Errorf("guessed %q and %q, want lot and building", parcel.Guess, house.Guess)
	}
	// Independent check: shoelace on an equal-area cylinder of the local radii,
	// worked out apart from this code: 1117.9 m² and 106.5 m².
	if got := parcel.AreaSqFt.SqMetres(); math.Abs(got-1117.9) > 0.2 {
		t.Errorf("parcel %.1f m², want 1117.9", got)
	}
	if got := house.AreaSqFt.SqMetres(); math.Abs(got-106.5) > 0.1 {
		t.Errorf("house %.1f m², want 106.5", got)
	}
	poly, err := geom.Polygon(parcel.Outline, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range house.Outline {
		if !geom.PolygonContains(poly, v.Point()) {
			t.Errorf("corner %d of the house lies off its parcel", i+1)
		}
	}
	if b := parcel.Outline.Bound(); math.Hypot(b.Min[0], b.Min[1]) > 0.01 {
		t.Errorf("the south-west corner is at %v, want the origin", b.Min)
	}
}

func TestRealParcelGoesOutAndComesBack(t *testing.T) {
	data, o := realOutlines(t)
	p, err := o.Plan("Real parcel", units.Metric, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err = Decode(p.Encode()) // the plan must be one that can be stored
	if err != nil {
		t.Fatal(err)
	}
	out, err := ToGeoJSON(p)
	if err != nil {
		t.Fatal(err)
	}
	was, _, err := readGeoJSON(data)
	if err != nil {
		t.Fatal(err)
	}
	now, _, err := readGeoJSON(out)
	if err != nil {
		t.Fatal(err)
	}
	for i := range was {
		sameRing(t, was[i].rings[0], now[i].rings[0])
	}
}

// sameRing compares corner sets to 1e-7 degrees, whatever corner and direction
// they begin with.
func sameRing(t testing.TB, want, got orb.Ring) {
	t.Helper()
	for _, w := range want {
		best := math.Inf(1)
		for _, g := range got {
			best = min(best, max(math.Abs(g[0]-w[0]), math.Abs(g[1]-w[1])))
		}
		if best > 1e-7 {
			t.Errorf("corner %.9f, %.9f came back %g degrees away", w[0], w[1], best)
		}
	}
}

// A degree of the meridian and of the parallel, from the published tables of the
// ellipsoid (for example USGS Professional Paper 1395, tables for GRS 80 and WGS
// 84): at latitude 45° one degree of latitude is 111,132 m and one of longitude
// 78,847 m; at the equator 110,574 m and 111,320 m.
func TestPlaneHasTheEarthsDegrees(t *testing.T) {
	for _, tt := range []struct{ lat, north, east float64 }{
		{0, 110574.3, 111319.5}, {45, 111131.8, 78846.8}, {60, 111412.3, 55800.0},
	} {
		plane := Origin{Latitude: tt.lat, Longitude: -100}.plane()
		const d = 0.001
		at := plane.feet(orb.Point{-100, tt.lat + d})
		if got := at[1] * units.MetresPerFoot / d; math.Abs(got-tt.north) > 2 {
			t.Errorf("at %g°: %.1f m a degree north, want %.1f", tt.lat, got, tt.north)
		}
		at = plane.feet(orb.Point{-100 + d, tt.lat})
		if got := at[0] * units.MetresPerFoot / d; math.Abs(got-tt.east) > 2 {
			t.Errorf("at %g°: %.1f m a degree east, want %.1f", tt.lat, got, tt.east)
		}
	}
}

func TestPlaneTurnsWithNorth(t *testing.T) {
	plane := Origin{Latitude: 40, Longitude: 10, NorthDeg: 90}.plane() // north is to the left
	at := plane.feet(orb.Point{10, 40.001})
	if at[0] > -360 || math.Abs(at[1]) > 0.01 {
		t.Errorf("due north came out at %v, want on the negative x axis", at)
	}
}

func TestPlaceRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Origin{
			Latitude:  rapid.Float64Range(-85, 85).Draw(t, "lat"),
			Longitude: rapid.Float64Range(-180, 180).Draw(t, "lon"),
			NorthDeg:  rapid.Float64Range(-180, 180).Draw(t, "north"),
		}
		plane := o.plane()
		want := orb.Point{rapid.Float64Range(-32808, 32808).Draw(t, "x"), rapid.Float64Range(-32808, 32808).Draw(t, "y")}
		got := plane.feet(plane.lonLat(want))
		if math.Hypot(got[0]-want[0], got[1]-want[1]) > 1e-5 {
			t.Fatalf("%v came back as %v", want, got)
		}
	})
}

// Whatever sound outline stands anywhere, GeoJSON brings it back to 1e-7 degrees.
func TestGeoJSONRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-80, 80).Draw(t, "lat")
		lon := rapid.Float64Range(-179, 179).Draw(t, "lon")
		n := rapid.IntRange(3, 12).Draw(t, "corners")
		corners := make([]string, n+1)
		want := make(orb.Ring, n)
		for i := range n { // a star about the middle: never crosses itself
			r := rapid.Float64Range(1e-4, 1e-3).Draw(t, "r")
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			want[i] = orb.Point{lon + r*cos, lat + r*sin}
			corners[i] = fmt.Sprintf("[%.9f,%.9f]", want[i][0], want[i][1])
		}
		corners[n] = corners[0]
		text := fmt.Sprintf(`{"type":"Polygon","coordinates":[[%s]]}`, strings.Join(corners, ","))
		o, err := FromGeoJSON([]byte(text), nil)
		if err != nil {
			t.Fatal(err)
		}
		p, err := o.Plan("P", units.US, []Use{Use(Planting)})
		if err != nil {
			t.Fatal(err)
		}
		out, err := ToGeoJSON(p)
		if err != nil {
			t.Fatal(err)
		}
		again, err := FromGeoJSON(out, &o.Origin)
		if err != nil {
			t.Fatal(err)
		}
		back, _, err := readGeoJSON(out)
		if err != nil {
			t.Fatal(err)
		}
		for i := range want {
			best := math.Inf(1)
			for _, g := range back[0].rings[0] {
				best = min(best, max(math.Abs(g[0]-want[i][0]), math.Abs(g[1]-want[i][1])))
			}
			if best > 1e-7 {
				t.Fatalf("corner %d came back %g degrees away", i, best)
			}
		}
		if d := again.Shapes[0].AreaSqFt/o.Shapes[0].AreaSqFt - 1; math.Abs(float64(d)) > 1e-4 {
			t.Fatalf("area changed by a share of %g", d)
		}
	})
}

const ring = `[[10,50],[10.001,50],[10.001,50.001],[10,50.001],[10,50]]`

func TestFormsOfGeoJSON(t *testing.T) {
	hole := `[[10.0002,50.0002],[10.0002,50.0004],[10.0004,50.0004],[10.0004,50.0002],[10.0002,50.0002]]`
	for _, tt := range []struct {
		name, text string
		names      []string
		holes      int
		left       []string
	}{
		{"bare polygon", `{"type":"Polygon","coordinates":[` + ring + `]}`, []string{"Shape 1"}, 0, nil},
		{"feature", `{"type":"Feature","properties":{"NAME":" Back lawn "},"geometry":{"type":"Polygon","coordinates":[` + ring + `]}}`, []string{"Back lawn"}, 0, nil},
		{"hole", `{"type":"Polygon","coordinates":[` + ring + `,` + hole + `]}`, []string{"Shape 1"}, 1, nil},
		{"heights and extras", `{"type":"Polygon","bbox":[1,2,3,4],"coordinates":[[[10,50,7],[10.001,50,7],[10,50.001,7,8],[10,50,7]]]}`, []string{"Shape 1"}, 0, nil},
		{"not closed, corner twice", `{"type":"Polygon","coordinates":[[[10,50],[10.001,50],[10.001,50],[10,50.001]]]}`, []string{"Shape 1"}, 0, nil},
		{"two parts", `{"type":"Feature","properties":{"name":"Bed"},"geometry":{"type":"MultiPolygon","coordinates":[[` + ring + `],[[[10.002,50],[10.003,50],[10.002,50.001],[10.002,50]]]]}}`, []string{"Bed (1)", "Bed (2)"}, 0, nil},
		{"collection of all sorts", `{"type":"FeatureCollection","features":[` +
			`{"type":"Feature","properties":null,"geometry":null},` +
			`{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[10,50]}},` +
			`{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[10,50],[11,50]]}},` +
			`{"type":"Feature","properties":{},"geometry":{"type":"MultiLineString","coordinates":[]}},` +
			`{"type":"Feature","properties":{},"geometry":{"type":"GeometryCollection","geometries":[{"type":"Polygon","coordinates":[` + ring + `]}]}}]}`,
			[]string{"Shape 5"}, 0, []string{"One point, which is no outline, was left out.", "2 lines, which are not closed, were left out.", "One feature without a shape was left out."}},
		{"names the system it is in", `{"type":"Polygon","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"coordinates":[` + ring + `]}`, []string{"Shape 1"}, 0, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			o, err := FromGeoJSON([]byte(tt.text), nil)
			if err != nil {
				t.Fatal(err)
			}
			var names []string
			holes := 0
			for _, s := range o.Shapes {
				names = append(names, s.Name)
				holes += len(s.Holes)
			}
			if !cmp.Equal(names, tt.names) || holes != tt.holes || !cmp.Equal(o.LeftOut, tt.left) {
				t.Errorf("got %q, %d holes, left out %q", names, holes, o.LeftOut)
			}
		})
	}
}

func TestGeoJSONThatCannotBeUsedSaysWhy(t *testing.T) {
	polygon := func(coordinates string) string { return `{"type":"Polygon","coordinates":` + coordinates + `}` }
	for _, tt := range []struct{ name, text, says string }{
		{"no JSON", `{"type":`, "breaks off being JSON near byte 8"},
		{"empty", ``, "breaks off being JSON"},
		{"a picture", "\x89PNG\r\n\x1a\n", "This is a picture, not outlines. On the board, use Trace a picture, with a PNG or a JPEG."},
		{"a photograph", "\xff\xd8\xff\xe0", "This is a picture"},
		{"a telephone's photograph", "\x00\x00\x00\x18ftypheic\x00", "This is a picture"},
		{"a list", `[]`, "wrong kind"},
		{"no type", `{"a":1}`, "has no \"type\""},
		{"unknown type", `{"type":"Circle"}`, "type \"Circle\""},
		{"member twice", `{"type":"Polygon","type":"Polygon","coordinates":[]}`, "breaks off being JSON"},
		{"nothing in it", `{"type":"FeatureCollection","features":[]}`, "There is no closed shape"},
		{"only points", `{"type":"Point","coordinates":[1,2]}`, "One point, which is no outline, was left out"},
		{"ring too shallow", polygon(`[[1,2],[3,4]]`), "coordinates that are no Polygon"},
		{"words for numbers", polygon(`[[["10","50"]]]`), "coordinates that are no Polygon"},
		{"one number a corner", polygon(`[[[10],[11],[12]]]`), "not [longitude, latitude]"},
		{"number too large", polygon(`[[[1e999,1],[2,2],[3,3]]]`), "coordinates that are no Polygon"},
		{"two corners", polygon(`[[[10,50],[10.001,50],[10,50]]]`), "it needs 3 or more"},
		{"crosses itself", polygon(`[[[10,50],[10.001,50.001],[10.001,50],[10,50.001],[10,50]]]`), "The place is near longitude 10.0005"},
		{"hole outside", polygon(`[` + ring + `,[[10.01,50],[10.011,50],[10.01,50.001],[10.01,50]]]`), "Hole 1 lies outside"},
		{"metres", polygon(`[[[448262,5411932],[448362,5411932],[448262,5412032]]]`), "look like metres or feet of a map projection"},
		{"swapped", polygon(`[[[45,-122],[45.001,-122],[45,-122.001]]]`), "seem to be swapped"},
		{"beyond the earth", polygon(`[[[200,50],[200.001,50],[200,50.001]]]`), "longitude runs from -180° to 180°"},
		{"plain feet", polygon(`[[[0,0],[60,0],[60,40],[0,40],[0,0]]]`), "if its numbers are feet or metres"},
		{"180th meridian", polygon(`[[[179.9999,-17],[-179.9999,-17],[-179.9999,-16.999],[179.9999,-17]]]`), "both sides of the 180° meridian"},
		{"pole", polygon(`[[[10,89],[10.001,89],[10,89.001]]]`), "too near the pole"},
		{"other system", `{"type":"Polygon","crs":{"type":"name","properties":{"name":"EPSG:2154"}},"coordinates":[` + ring + `]}`, "coordinate system \"EPSG:2154\""},
		{"too deep", strings.Repeat("[", 100), "nested more than 32 deep"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			o, err := FromGeoJSON([]byte(tt.text), nil)
			var p *Problem
			if !errors.As(err, &p) {
				t.Fatalf("got %+v, %v; want a Problem", o, err)
			}
			if !strings.Contains(p.Sentence, tt.says) {
				t.Errorf("says %q, want %q in it", p.Sentence, tt.says)
			}
		})
	}
}

func TestGeoJSONKeepsToThePlansPlace(t *testing.T) {
	text := []byte(`{"type":"Polygon","coordinates":[` + ring + `]}`)
	o, err := FromGeoJSON(text, &Origin{Latitude: 50, Longitude: 9.999})
	if err != nil {
		t.Fatal(err)
	}
	if x := o.Shapes[0].Outline[0].X; math.Abs(x-235.2) > 0.5 { // 0.001° at 50°: 71.7 m
		t.Errorf("first corner at x %.2f ft, want 235.2", x)
	}
	_, err = FromGeoJSON(text, &Origin{Latitude: 20, Longitude: 9.999})
	if err == nil || !strings.Contains(err.Error(), "from the plan's place") {
		t.Errorf("a place 30° off: got %v", err)
	}
	_, err = FromGeoJSON(text, &Origin{Latitude: math.NaN()})
	if err == nil || !strings.Contains(err.Error(), "cannot be used") {
		t.Errorf("no place: got %v", err)
	}
}

func TestGuesses(t *testing.T) {
	for _, tt := range []struct {
		properties string
		want       Use
	}{
		{`{"building":"yes"}`, Use(Building)},
		{`{"building":"no","landuse":"grass"}`, Use(Planting)},
		{`{"layer":"Buildings"}`, Use(Building)},
		{`{"kind":"right_of_way"}`, Use(RightOfWay)},
		{`{"APN":"12-34"}`, UseLot},
		{`{"layer":"parcels"}`, UseLot},
		{`{"name":"Drive"}`, Use(Paving)},
		{`{"leisure":"garden"}`, Use(Planting)},
		{`{"natural":"water"}`, Use(Water)},
		{`{"surface":"gravel"}`, Use(Ground)},
		{`{"name":"Septic field"}`, Use(NoDig)},
		{`{"highway":"residential"}`, Use(RightOfWay)},
		{`{"name":"Blotter"}`, Use(Planting)}, // "lot" inside a word says nothing
		{`{}`, Use(Planting)},
	} {
		text := `{"type":"Feature","properties":` + tt.properties + `,"geometry":{"type":"Polygon","coordinates":[` + ring + `]}}`
		o, err := FromGeoJSON([]byte(text), nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := o.Shapes[0].Guess; got != tt.want {
			t.Errorf("%s: guessed %q, want %q", tt.properties, got, tt.want)
		}
	}
}

func TestTheShapeAboutAnotherIsTheLot(t *testing.T) {
	inner := `[[10.0002,50.0002],[10.0004,50.0002],[10.0004,50.0004],[10.0002,50.0002]]`
	o, err := FromGeoJSON([]byte(`{"type":"MultiPolygon","coordinates":[[`+inner+`],[`+ring+`]]}`), nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := []Use{o.Shapes[0].Guess, o.Shapes[1].Guess}; !cmp.Equal(got, []Use{Use(Planting), UseLot}) {
		t.Errorf("guessed %q", got)
	}
}

func TestUsesThatCannotBeAreRefused(t *testing.T) {
	_, o := realOutlines(t)
	holed := *o
	holed.Shapes = []ImportShape{{Name: "Ring", Holes: []geom.Outline{{}}}}
	for _, tt := range []struct {
		name string
		o    *Outlines
		uses []Use
		says string
	}{
		{"too few", o, []Use{UseLot}, "2 shapes and 1 choices"},
		{"two lots", o, []Use{UseLot, UseLot}, "the second lot"},
		{"unknown", o, []Use{UseLot, "barn"}, "become \"barn\""},
		{"lot with a hole", &holed, []Use{UseLot}, "a lot has none"},
	} {
		_, err := tt.o.Plan("P", units.US, tt.uses)
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: got %v, want %q in it", tt.name, err, tt.says)
		}
	}
	p, err := o.Plan("P", units.US, []Use{UseSkip, UseSkip})
	if err != nil || len(p.Areas) != 0 || p.Site.Lot != nil {
		t.Errorf("skipping all: %v, %d areas", err, len(p.Areas))
	}
}

func TestToGeoJSONNeedsAPlace(t *testing.T) {
	_, err := ToGeoJSON(Empty("P", units.US))
	if err == nil || !strings.Contains(err.Error(), "a latitude and a longitude first") {
		t.Errorf("got %v", err)
	}
}

func TestToGeoJSONWritesAreasAndBarriers(t *testing.T) {
	lat, lon := 40.0, -100.0
	p := Empty("P", units.US)
	p.Site.Latitude, p.Site.Longitude = &lat, &lon
	square := geom.Outline{{X: 0, Y: 0}, {X: 0, Y: 50}, {X: 50, Y: 50}, {X: 50, Y: 0}} // clockwise
	island := geom.Outline{{X: 10, Y: 10}, {X: 20, Y: 10, Bulge: 1}, {X: 20, Y: 20}}
	p.Areas = map[ID]Area{"a1": {Name: "Lawn", Kind: Planting, Outline: square, Holes: []geom.Outline{island}}}
	p.Barriers = map[ID]Barrier{"b1": {Name: "Fence", Line: geom.Line{{X: 0, Y: 50}, {X: 50, Y: 50}}, HeightFt: 6}}
	out, err := ToGeoJSON(p)
	if err != nil {
		t.Fatal(err)
	}
	back, left, err := readGeoJSON(out)
	if err != nil {
		t.Fatal(err)
	}
	g := back[0]
	if len(back) != 1 || g.name != "Lawn" || g.guess != Use(Planting) || len(left) != 1 {
		t.Errorf("came back as %d shapes, %q, %q, left out %q", len(back), g.name, g.guess, left)
	}
	if g.rings[0].Orientation() != orb.CCW || g.rings[1].Orientation() != orb.CW {
		t.Error("want the outline anticlockwise and the hole clockwise")
	}
	for _, r := range g.rings {
		if !r.Closed() {
			t.Error("a ring is not closed")
		}
	}
	if !strings.Contains(string(out), `"kind":"fence","height_ft":6`) {
		t.Errorf("no fence in %s", out)
	}
}

// Whatever is sent, import answers with sound shapes or a sentence.
func FuzzGeoJSON(f *testing.F) {
	data, _ := realOutlines(f)
	f.Add(data)
	f.Add([]byte(`{"type":"Polygon","coordinates":[` + ring + `]}`))
	f.Add([]byte(`{"type":"GeometryCollection","geometries":[{"type":"MultiPolygon","coordinates":[[` + ring + `]]},null]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		o, err := FromGeoJSON(data, nil)
		if err != nil {
			var p *Problem
			if !errors.As(err, &p) || p.Sentence == "" {
				t.Fatalf("not a Problem: %v", err)
			}
			return
		}
		uses := make([]Use, len(o.Shapes))
		for i := range uses {
			uses[i] = Use(Planting)
		}
		p, err := o.Plan("P", units.US, uses)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Decode(p.Encode()); err != nil {
			t.Fatalf("the imported plan cannot be stored: %v", err)
		}
		out, err := ToGeoJSON(p)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := FromGeoJSON(out, &o.Origin); err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
	})
}
