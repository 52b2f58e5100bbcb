package plan_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// draw writes the plans that the sketches in these tests describe:
//
//	go test ./internal/plan -run Sketch -draw
var draw = flag.Bool("draw", false, "write testdata/plans from the sketches")

// sketch builds a plan the short way. What is wrong in a sketch comes to light
// when it is encoded and read back.
type sketch struct {
	*plan.Plan
	zone plan.ID // of the heads that are placed next
}

func newSketch(name string) *sketch {
	p := plan.Empty(name, units.US)
	p.Site.LocateOn, p.Site.LocateTicket = "2026-04-20", "R-1042"
	p.Supply.Backflow = "pressure vacuum breaker"
	p.Areas = map[plan.ID]plan.Area{}
	p.Barriers = map[plan.ID]plan.Barrier{}
	p.Trees = map[plan.ID]plan.Tree{}
	p.KeepDry = map[plan.ID]plan.KeepDry{}
	p.Elevations = map[plan.ID]plan.Elevation{}
	p.Heads = map[plan.ID]plan.Head{}
	p.Zones = map[plan.ID]plan.Zone{}
	p.Nozzles = map[plan.ID]catalog.Nozzle{}
	p.Bodies = map[plan.ID]catalog.Body{}
	p.Sensors = map[plan.ID]plan.Sensor{}
	p.Notes = map[plan.ID]plan.Note{}
	p.Accepted = map[plan.ID]plan.Accepted{}
	return &sketch{Plan: p}
}

// corners makes an outline from x, y, x, y, …
func corners(xy ...float64) geom.Outline {
	var o geom.Outline
	for i := 0; i+1 < len(xy); i += 2 {
		o = append(o, geom.Vertex{X: xy[i], Y: xy[i+1]})
	}
	return o
}

func box(x0, y0, x1, y1 float64) geom.Outline { return corners(x0, y0, x1, y0, x1, y1, x0, y1) }

// ellipse is a polygon of n corners, to a thousandth of a foot.
func ellipse(x, y, a, b float64, n int) geom.Outline {
	var o geom.Outline
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		o = append(o, geom.Vertex{X: math.Round((x+a*cos)*1000) / 1000, Y: math.Round((y+b*sin)*1000) / 1000})
	}
	return o
}

func (s *sketch) area(id plan.ID, name string, kind plan.Kind, o geom.Outline) {
	a := plan.Area{Name: name, Kind: kind, Outline: o, Status: plan.Existing}
	s.Areas[id] = a
}

func (s *sketch) planting(id plan.ID, name string, cover plan.Cover, o geom.Outline) {
	s.Areas[id] = plan.Area{Name: name, Kind: plan.Planting, Outline: o, Planting: cover, Status: plan.Existing}
}

// change alters an area that is drawn already.
func (s *sketch) change(id plan.ID, f func(*plan.Area)) {
	a := s.Areas[id]
	f(&a)
	s.Areas[id] = a
}

// valve starts a zone; the heads that follow are in it. Its id is z and the
// station.
func (s *sketch) valve(station int, name string) {
	s.zone = plan.ID(fmt.Sprintf("z%d", station))
	s.Zones[s.zone] = plan.Zone{Name: name, Station: station, Flag: "white, printed number"}
}

// head places one head with a throw in feet (0: the table's), and tags it by
// its zone. It copies the nozzle and the body in.
func (s *sketch) head(nozzle, body plan.ID, x, y, throw, start, sweep float64) plan.ID {
	h := plan.Head{
		Nozzle: nozzle, Body: body, X: units.Feet(x), Y: units.Feet(y),
		StartDeg: units.Degrees(start), SweepDeg: units.Degrees(sweep), Zone: s.zone,
	}
	if throw > 0 {
		h.ThrowFt = feet(throw)
	}
	count := 1
	for _, other := range s.Heads {
		if other.Zone == s.zone {
			count++
		}
	}
	id := plan.ID(fmt.Sprintf("h%d", len(s.Heads)+1))
	if s.zone != "" {
		station := s.Zones[s.zone].Station
		h.Tag = fmt.Sprintf("%d-%d", station, count)
		id = plan.ID("h" + h.Tag)
	}
	n, ok := catalog.FindNozzle(string(nozzle))
	b, ok2 := catalog.FindBody(string(body))
	if !ok || !ok2 {
		panic(fmt.Sprintf("no nozzle %s or body %s in the catalogue", nozzle, body))
	}
	s.Nozzles[nozzle], s.Bodies[body] = n, b
	s.Heads[id] = h
	return id
}

// reset changes a head that stands already; a new nozzle is copied in.
func (s *sketch) reset(id plan.ID, f func(*plan.Head)) {
	h := s.Heads[id]
	f(&h)
	s.Heads[id] = h
	n, ok := catalog.FindNozzle(string(h.Nozzle))
	if !ok {
		panic("no nozzle " + h.Nozzle)
	}
	s.Nozzles[h.Nozzle] = n
	used := map[plan.ID]bool{}
	for _, h := range s.Heads {
		used[h.Nozzle] = true
	}
	for id := range s.Nozzles {
		if !used[id] {
			delete(s.Nozzles, id)
		}
	}
}

// rising gives a rectangle from the origin spot heights at its corners, its north
// higher by so much.
func (s *sketch) rising(x1, y1, by float64) {
	for i, at := range [][3]float64{{0, 0, 0}, {x1, 0, 0}, {0, y1, by}, {x1, y1, by}} {
		s.Elevations[plan.ID(fmt.Sprintf("e%d", i+1))] = plan.Elevation{X: units.Feet(at[0]), Y: units.Feet(at[1]), Z: units.Feet(at[2]), Status: plan.Existing}
	}
}

func feet(v float64) *units.Feet {
	f := units.Feet(v)
	return &f
}

// checkDrawn compares a plan with its file, or writes the file with -draw. The
// file must be canonical and readable.
func checkDrawn(t *testing.T, name string, p *plan.Plan) {
	t.Helper()
	doc := p.Encode()
	read, err := plan.Decode(doc)
	if err != nil {
		t.Fatalf("%s cannot be read: %v", name, err)
	}
	if !bytes.Equal(read.Encode(), doc) {
		t.Fatalf("%s is not canonical", name)
	}
	path := filepath.Join("..", "..", "testdata", "plans", name)
	if *draw {
		if err := os.WriteFile(path, doc, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(file, doc) {
		t.Errorf("%s differs from its sketch; draw it again with -draw", name)
	}
}
