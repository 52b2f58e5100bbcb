package geom

import (
	"errors"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	sf "github.com/peterstace/simplefeatures/geom"
)

// A fault inside the library is an error here, never a crash.
func TestGuardedTurnsPanicsIntoErrors(t *testing.T) {
	_, err := guarded("union", func(_, _ sf.Geometry) (sf.Geometry, error) { panic("half edge lost") }, sf.Geometry{}, sf.Geometry{})
	if err == nil || !strings.Contains(err.Error(), "half edge lost") {
		t.Errorf("panic gave %v", err)
	}
	cause := errors.New("degenerate")
	_, err = guarded("union", func(_, _ sf.Geometry) (sf.Geometry, error) { return sf.Geometry{}, cause }, sf.Geometry{}, sf.Geometry{})
	if !errors.Is(err, cause) {
		t.Errorf("error gave %v", err)
	}
}

// Shapes no outline could be must not bring anything down: what comes back is
// ground with a finite area, or an error.
func TestOperationsBearAnyShape(t *testing.T) {
	var shapes []orb.MultiPolygon
	for _, s := range badShapes() {
		poly := orb.Polygon{s.outline.Ring()}
		for _, h := range s.holes {
			poly = append(poly, h.Ring())
		}
		if len(poly[0]) < 2000 {
			shapes = append(shapes, orb.MultiPolygon{poly})
		}
	}
	ground := lotPolygon()
	for i, s := range shapes {
		for name, op := range map[string]func() (orb.MultiPolygon, error){
			"union":        func() (orb.MultiPolygon, error) { return Union(ground, s) },
			"intersection": func() (orb.MultiPolygon, error) { return Intersection(s, ground) },
			"difference":   func() (orb.MultiPolygon, error) { return Difference(ground, s) },
			"inset":        func() (orb.MultiPolygon, error) { return Inset(s, 0.5) },
			"outset":       func() (orb.MultiPolygon, error) { return Outset(s, 0.5) },
		} {
			got, err := op()
			if a := Area(got); err == nil && !(a >= 0 && a < 1e11) {
				t.Errorf("shape %d: %s has area %v", i, name, a)
			}
		}
	}
}

func TestSnapPolygonKeepsWhatWouldFold(t *testing.T) {
	// A corner a third of a lattice step off an edge would fall on it.
	waist := orb.Polygon{{{0, 0}, {10, 0}, {10, 10}, {5, Grid / 3}, {0, 10}, {0, 0}}}
	if got := snapPolygon(waist); &got[0][0] != &waist[0][0] {
		t.Errorf("snapped to %v", got)
	}
	// A slot that snapping closes is taken out.
	slot := orb.Polygon{{{0, 0}, {10, 0}, {10, 10}, {5 + Grid/3, 10}, {5 + Grid/3, 2}, {5, 2}, {5, 10}, {0, 10}, {0, 0}}}
	if got := snapPolygon(slot); len(got) != 1 || RingArea(got[0]) != 100 {
		t.Errorf("slot snapped to %v", got)
	}
	// A spike that snapping makes is taken out.
	spike := orb.Polygon{{{0, 0}, {10, 0}, {10, 10}, {5, 10}, {5 + Grid/3, 12}, {5 + Grid/4, 10}, {0, 10}, {0, 0}}}
	if got := snapPolygon(spike); len(got) != 1 || RingArea(got[0]) != 100 {
		t.Errorf("spike snapped to %v", got)
	}
	if got := snapPolygon(orb.Polygon{{{0, 0}, {1, 0}, {1, Grid / 3}, {0, 0}}}); got != nil {
		t.Errorf("sliver snapped to %v", got)
	}
}

func TestOutsetJoinsAndFills(t *testing.T) {
	apart := append(square(0, 0, 10), square(11, 0, 10)...)
	got, err := Outset(apart, 1)
	if err != nil || len(got) != 1 {
		t.Errorf("two squares a foot apart: %d pieces, %v", len(got), err)
	}
	ring, err := Difference(square(0, 0, 10), square(4, 4, 2))
	if err != nil {
		t.Fatal(err)
	}
	if got, err = Outset(ring, 1.5); err != nil || len(got) != 1 || len(got[0]) != 1 {
		t.Errorf("a hole of two feet grown shut: %v, %v", got, err)
	}
	if got, err = Inset(ring, 2.5); err != nil || Area(got) != 0 {
		t.Errorf("a ring of four feet worn away: %v, %v", got, err)
	}
}

func TestLineLengthAndBound(t *testing.T) {
	l := Line{{X: 0, Y: 0}, {X: 3, Y: 4, Bulge: 1}, {X: 5, Y: 4}}
	if got, want := l.Length(), 5+3.141592653589793; !near(got, want, 1e-12) {
		t.Errorf("length %v, want %v", got, want)
	}
	if got := (Line{}).Length(); got != 0 {
		t.Errorf("length of nothing %v", got)
	}
	b := Outline{{X: 0, Y: 0, Bulge: 1}, {X: 10, Y: 0}, {X: 10, Y: 3}, {X: 0, Y: 3}}.Bound()
	if !near(b.Min[1], -5, sagitta) || b.Max != (orb.Point{10, 3}) {
		t.Errorf("bound %v", b)
	}
}
