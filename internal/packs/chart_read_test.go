package packs

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/units"
)

// The plans of the demo, of the crowded yards and of an empty one as DXF are read by
// another program without a fault: units, layers, and the extent of what is drawn.
func TestPlansAsDXFAreReadByAnotherProgram(t *testing.T) {
	t.Parallel()
	plans := append([]namedPlan{{"demo", demoInput(t)}, {"bare", designed(t, drawnYard("Bare", units.US, 1e4, 40))}}, crowdedPlans(t)...)
	args := []string{"../drawing/testdata/read_dxf.py"}
	for _, n := range plans {
		f, _ := FileOf("plan.dxf")
		var b bytes.Buffer
		if err := f.Write(context.Background(), &b, n.in, Asked{}, nil); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(t.TempDir(), n.name+".dxf")
		if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, name)
	}
	run := exec.Command("/usr/bin/python3", args...) // Debian's own, which has the reader
	run.Env = append(os.Environ(), "HOME="+t.TempDir())
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v (go run ./cmd/dev test -only install brings the reader)", err)
	}
	var found []struct {
		Version       string
		InsUnits      int
		Errors, Fixes []string
		Kinds, On     map[string]int
		Box           [2]orb.Point
	}
	if err := json.Unmarshal(out, &found); err != nil {
		t.Fatal(err)
	}
	for i, n := range plans {
		f, unit, ins := found[i], 1.0, 2
		if n.in.Plan.Show == units.Metric {
			unit, ins = 0.3048, 6
		}
		if f.Version != "AC1009" || f.InsUnits != ins || len(f.Errors)+len(f.Fixes) > 0 {
			t.Errorf("%s: version %s, units %d, %v %v", n.name, f.Version, f.InsUnits, f.Errors, f.Fixes)
		}
		v := chartOf(n.in)
		want := drawnBound(v.Items, 1/v.PerFoot)
		for k, p := range [2]orb.Point{want.Min, want.Max} {
			for axis := range 2 {
				if math.Abs(f.Box[k][axis]-p[axis]*unit) > 1e-6 {
					t.Errorf("%s: the reader's box is %v, drawn is %v ft", n.name, f.Box, want)
				}
			}
		}
		if heads := f.On[layerHeads]; heads < len(n.in.Plan.Heads) {
			t.Errorf("%s: %d things on the layer of heads, of %d heads", n.name, heads, len(n.in.Plan.Heads))
		}
		t.Logf("shown: %s: %v on %d layers, 0 errors", n.name, f.Kinds, len(f.On))
	}
}

// drawnBound is the box about what a drawing file has of items: lines and outlines, and
// fills that stand alone; ft is a point of paper in feet.
func drawnBound(items []drawing.Item, ft float64) orb.Bound {
	box := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, it := range items {
		switch it := it.(type) {
		case *drawing.Layer:
			box = box.Union(drawnBound(it.Items, ft))
		case *drawing.Line:
			if it.Pen.Width > 0 && it.Pen.Ink != 0 && len(it.Points) > 1 {
				box = box.Union(orb.MultiPoint(it.Points).Bound())
			}
		case *drawing.Area:
			if it.Pen.Width > 0 && it.Pen.Ink != 0 || it.Fill != 0 && it.Fill != drawing.White && it.Hatch == nil {
				for _, r := range it.Rings {
					box = box.Union(orb.MultiPoint(r).Bound())
				}
			}
		case *drawing.Arc:
			r := it.Radius
			if it.OnPaper {
				r *= ft
			}
			if r <= 0 {
				continue
			}
			for deg := math.Min(it.FromDeg, it.FromDeg+it.SweepDeg); ; {
				to := math.Max(it.FromDeg, it.FromDeg+it.SweepDeg)
				sin, cos := math.Sincos(deg * math.Pi / 180)
				box = box.Extend(orb.Point{it.Centre[0] + r*cos, it.Centre[1] + r*sin})
				if deg >= to {
					break
				}
				deg = math.Min(to, 90*math.Floor(deg/90)+90)
			}
		}
	}
	return box
}
