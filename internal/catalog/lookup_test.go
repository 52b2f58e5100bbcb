package catalog

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenfall/internal/units"
)

func TestAtOnAndBetweenRows(t *testing.T) {
	n := Nozzle{Name: "test", Rows: []Row{
		{Pressure: 25, Throw: 10, Flow: 1},
		{Pressure: 36, Throw: 12, Flow: 1.2},
		{Pressure: 49, Throw: 13, Flow: 1.4},
	}}
	for _, tt := range []struct {
		name  string
		p     units.PSI
		throw units.Feet
		flow  units.GPM
	}{
		{"first row", 25, 10, 1},
		{"middle row", 36, 12, 1.2},
		{"last row", 49, 13, 1.4},
		// √30.25 = 5.5, half way from √25 to √36: flow 1.1; throw 5.25/11 of the way.
		{"between", 30.25, 10 + 2*5.25/11, 1.1},
		// √42.25 = 6.5
		{"between the last two", 42.25, 12 + 6.25/13, 1.3},
	} {
		throw, flow, err := n.At(tt.p)
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		if math.Abs(float64(throw-tt.throw)) > 1e-12 || math.Abs(float64(flow-tt.flow)) > 1e-12 {
			t.Errorf("%s: got %v ft, %v gpm; want %v, %v", tt.name, throw, flow, tt.throw, tt.flow)
		}
	}
}

func TestOutsideTheTableIsAnErrorThatNamesTheNearest(t *testing.T) {
	for _, tt := range []struct {
		name     string
		id       string
		p        units.PSI
		sweep    units.Degrees
		throw    units.Feet
		quantity string
		nearest  float64
		says     string
	}{
		{"pressure too low", "spray-15-q", 15, 90, 0, "pressure", 20,
			"Spray 15 ft, quarter is listed from 20 to 45 psi, and this is 15 psi; the nearest it is listed for is 20 psi."},
		{"pressure too high", "spray-15-q", 60, 90, 0, "pressure", 45, "the nearest it is listed for is 45 psi"},
		{"pressure no number", "spray-15-q", units.PSI(math.NaN()), 90, 0, "pressure", 45, "NaN psi"},
		{"fixed arc", "spray-15-q", 30, 100, 0, "arc", 90, "has a fixed arc of 90°, and this is 100°; set 90° or choose another nozzle"},
		{"class too narrow", "stream-25", 40, 60, 0, "arc", 90, "can be set from 90° to 210°, and this is 60°"},
		{"class too wide", "stream-25", 40, 270, 0, "arc", 210, "set 210°"},
		{"rotor too narrow", "rotor-30-1_5", 45, 30, 0, "arc", 40, "can be set from 40° to 360°"},
		{"strip with an arc", "strip-side-30", 30, 90, 0, "arc", 0, "has no arc to set"},
		{"throw too far", "spray-10-f", 30, 360, 11, "throw", 10, "throws 5 to 10 ft at 30 psi, and this is 11 ft; set 10 ft"},
		{"throw too near", "spray-10-f", 30, 360, 4, "throw", 5, "set 5 ft"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := nozzle(t, tt.id).Flow(tt.p, tt.sweep, tt.throw)
			var out *OutsideError
			if !errors.As(err, &out) || !errors.Is(err, ErrOutside) {
				t.Fatalf("got %v, want an OutsideError", err)
			}
			if out.Quantity != tt.quantity || math.Abs(out.Nearest-tt.nearest) > 1e-9 {
				t.Errorf("got %s nearest %v, want %s nearest %v", out.Quantity, out.Nearest, tt.quantity, tt.nearest)
			}
			if !strings.Contains(out.Sentence, tt.says) {
				t.Errorf("says %q, want %q in it", out.Sentence, tt.says)
			}
		})
	}
}

func TestRoundingIsForgivenAtTheLimits(t *testing.T) {
	if err := nozzle(t, "spray-10-q").ArcAllowed(89.97); err != nil {
		t.Errorf("89.97° on a fixed quarter: %v", err)
	}
	q, err := nozzle(t, "spray-10-f").Flow(30, 360, 10.004)
	if err != nil || q != 1.66 {
		t.Errorf("10.004 ft of 10: %v gpm, %v; want the whole 1.66", q, err)
	}
}

func TestNozzleWithoutRowsIsOutside(t *testing.T) {
	if _, _, err := (Nozzle{Name: "empty"}).At(30); !errors.Is(err, ErrOutside) {
		t.Errorf("got %v, want ErrOutside", err)
	}
}

// Whatever the pressure in the band, throw and flow stay between the rows that
// stand about it and never fall as the pressure rises.
func TestBetweenRowsStaysBetween(t *testing.T) {
	all := Nozzles()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom(all).Draw(t, "nozzle").Nozzle
		i := rapid.IntRange(1, len(n.Rows)-1).Draw(t, "row")
		lo, hi := n.Rows[i-1], n.Rows[i]
		p := units.PSI(rapid.Float64Range(float64(lo.Pressure), float64(hi.Pressure)).Draw(t, "p"))
		more := units.PSI(rapid.Float64Range(float64(p), float64(hi.Pressure)).Draw(t, "more"))
		throw, flow, err := n.At(p)
		throw2, flow2, err2 := n.At(more)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if throw < lo.Throw || throw > hi.Throw || flow < lo.Flow || flow > hi.Flow {
			t.Fatalf("%s at %v psi: %v ft, %v gpm is not between %+v and %+v", n.Name, p, throw, flow, lo, hi)
		}
		if throw2 < throw || flow2 < flow {
			t.Fatalf("%s from %v to %v psi: %v to %v ft, %v to %v gpm", n.Name, p, more, throw, throw2, flow, flow2)
		}
		// The built-in rows obey q = k·√p, so what lies between does, too.
		if law := float64(lo.Flow) * math.Sqrt(float64(p/lo.Pressure)); math.Abs(float64(flow)/law-1) > 0.01 {
			t.Fatalf("%s at %v psi: %v gpm, the orifice law gives %v", n.Name, p, flow, law)
		}
	})
}
