package plan

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	sf "github.com/peterstace/simplefeatures/geom"

	"evenfall/internal/units"
)

// The demo's system is read by another reader: everything of it is there once, in its
// place, with what it is.
func TestSystemGeoJSONIsReadByAnotherReader(t *testing.T) {
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
	if again, _ := SystemGeoJSON(p); !bytes.Equal(out, again) {
		t.Error("the same plan gives other bytes")
	}
	var all sf.GeoJSONFeatureCollection
	if err := json.Unmarshal(out, &all); err != nil {
		t.Fatal(err)
	}
	plane, err := p.onEarth()
	if err != nil {
		t.Fatal(err)
	}
	kinds, ids, worst := map[string]int{}, map[string]bool{}, 0.0
	near := func(way []sf.XY, i int, x, y float64) {
		ft := plane.feet(orb.Point{way[i].X, way[i].Y})
		worst = max(worst, math.Hypot(ft[0]-x, ft[1]-y))
	}
	for _, f := range all {
		id, _ := f.ID.(string)
		says := func(name string) string { s, _ := f.Properties[name].(string); return s }
		way := f.Geometry.DumpCoordinates()
		var at []sf.XY
		for i := range way.Length() {
			at = append(at, way.GetXY(i))
		}
		if ids[id] {
			t.Errorf("%s is there twice", id)
		}
		ids[id] = true
		kinds[says("kind")]++
		collection, key, _ := strings.Cut(id, "/")
		switch collection {
		case "heads":
			h := p.Heads[ID(key)]
			near(at, 0, float64(h.X), float64(h.Y))
			if says("name") != h.Tag || says("zone") != p.Zones[h.Zone].Name {
				t.Errorf("%s: %v", id, f.Properties)
			}
		case "zones":
			valve := p.Zones[ID(key)].ValveAt
			near(at, 0, float64(valve.X), float64(valve.Y))
		case "pipes":
			v := p.Pipes[ID(key)]
			from, to := p.Nodes[v.From], p.Nodes[v.To]
			near(at, 0, float64(from.X), float64(from.Y))
			near(at, len(at)-1, float64(to.X), float64(to.Y))
			if len(at) < len(v.Via)+2 || f.Properties["nominal_in"] != float64(v.NominalIn) {
				t.Errorf("%s: %d places, %v", id, len(at), f.Properties)
			}
		}
	}
	if worst > 0.001 {
		t.Errorf("a place is %.4f ft off", worst)
	}
	mains := 0
	for _, v := range p.Pipes {
		if v.Zone == "" {
			mains++
		}
	}
	for kind, want := range map[string]int{
		"head": len(p.Heads), "valve": len(p.Zones), "main": mains, "lateral": len(p.Pipes) - mains, "sleeve": len(p.Sleeves),
		"wire": len(p.Wires), "sensor": len(p.Sensors), "controller": 1, "outlet": 1, "connection": 1, "backflow": 1,
	} {
		if kinds[kind] != want {
			t.Errorf("%d of kind %s, want %d", kinds[kind], kind, want)
		}
	}
	t.Logf("shown: %d things, the worst %.5f ft off", len(all), worst)
}

// Directions are told from true north, which the plan may be turned against.
func TestSystemGeoJSONTellsBearings(t *testing.T) {
	t.Parallel()
	lat, lon := 40.0, -100.0
	for _, c := range []struct {
		north, from, sweep units.Degrees
		want               string
	}{
		{0, 0, 90, `"left_edge_bearing_deg":0`},    // from east to north
		{0, 350, 20, `"left_edge_bearing_deg":80`}, // ten degrees past east to the left
		{30, 0, 90, `"left_edge_bearing_deg":30`},  // the plan's up is 30° right of north
		{0, 180, 90, `"left_edge_bearing_deg":180`},
	} {
		p := Empty("P", units.US)
		p.Site.Latitude, p.Site.Longitude, p.Site.NorthDeg = &lat, &lon, c.north
		p.Heads = map[ID]Head{"h": {StartDeg: c.from, SweepDeg: c.sweep}}
		out, err := SystemGeoJSON(p)
		if err != nil || !strings.Contains(string(out), c.want) {
			t.Errorf("north %v, from %v over %v: %v, want %s in %s", c.north, c.from, c.sweep, err, c.want, out)
		}
	}
}

func TestSystemGeoJSONNeedsAPlace(t *testing.T) {
	t.Parallel()
	if _, err := SystemGeoJSON(Empty("P", units.US)); err == nil || !strings.Contains(err.Error(), "a latitude and a longitude first") {
		t.Errorf("got %v", err)
	}
}

func BenchmarkSystemGeoJSON(b *testing.B) {
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := SystemGeoJSON(p); err != nil {
			b.Fatal(err)
		}
	}
}
