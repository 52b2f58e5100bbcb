package hydraulics

import (
	"bytes"
	"encoding/json"
	"math"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"evenfall/internal/units"
)

func feet(v float64) units.Feet     { return units.Feet(v) }
func inches(v float64) units.Inches { return units.Inches(v) }
func gpm(v float64) units.GPM       { return units.GPM(v) }
func psi(v float64) units.PSI       { return units.PSI(v) }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// referenceResult is what the reference solver found.
type referenceResult struct {
	Pressure []float64 `json:"pressure"`
	Flow     []float64 `json:"flow"`
	NS       float64   `json:"ns"` // the best time of one solution
}

// reference solves networks by EPANET. Node and the package must be there: a
// missing oracle is a failed test.
func reference(t testing.TB, networks []drawn, again int, accuracy float64) []referenceResult {
	t.Helper()
	root := must(filepath.Abs("../.."))
	c := exec.Command("node", "testdata/reference.mjs", strconv.Itoa(again), strconv.FormatFloat(accuracy, 'g', -1, 64))
	c.Env = append(c.Environ(), "EVENFALL_ROOT="+root)
	c.Stdin = bytes.NewReader(must(json.Marshal(networks)))
	var out, errors bytes.Buffer
	c.Stdout, c.Stderr = &out, &errors
	if err := c.Run(); err != nil {
		t.Fatalf("the reference solver: %v\n%s\nIt needs Node 20 and the packages of web/package.json: run go run ./cmd/dev test -only install", err, errors.String())
	}
	var results []referenceResult
	if err := json.Unmarshal(out.Bytes(), &results); err != nil {
		t.Fatalf("the reference solver wrote %.200q: %v", out.String(), err)
	}
	if len(results) != len(networks) {
		t.Fatalf("the reference solver solved %d of %d networks", len(results), len(networks))
	}
	return results
}

// differences are the greatest between ours and the reference's.
type differences struct {
	psi, gpm          float64
	compared, looping int
}

// compare solves networks by both and holds them to a difference in psi and gpm.
func compare(t *testing.T, all []drawn, most float64) differences {
	t.Helper()
	var found differences
	for seed, want := range reference(t, all, 0, 1e-8) {
		d := all[seed]
		got, err := Solve(d.network(), nil)
		if err != nil {
			t.Errorf("network %d: %v", seed, err)
			continue
		}
		for i, p := range want.Pressure {
			if d.Nodes[i].K > 0 && got.Pressure[i] < 1 {
				t.Errorf("network %d: node %d has %.2f psi: below %g psi outlets differ by design, draw it otherwise", seed, i, float64(got.Pressure[i]), gentle)
			}
			off := math.Abs(p - float64(got.Pressure[i]))
			if found.psi = max(found.psi, off); !(off <= most) {
				t.Errorf("network %d: node %d has %.6f psi, the reference %.6f", seed, i, float64(got.Pressure[i]), p)
			}
		}
		for i, q := range want.Flow {
			off := math.Abs(q - float64(got.Flow[i]))
			if found.gpm = max(found.gpm, off); !(off <= most) {
				t.Errorf("network %d: link %d carries %.6f gpm, the reference %.6f", seed, i, float64(got.Flow[i]), q)
			}
		}
		if found.compared++; len(d.Links) >= len(d.Nodes) {
			found.looping++
		}
	}
	return found
}

func TestPressuresAndFlowsMatchTheReferenceSolver(t *testing.T) {
	var all []drawn
	for seed := range uint64(240) {
		size, loops := 4+int(seed)%60, 0
		if seed%3 > 0 {
			loops = 1 + int(seed)%7
		}
		all = append(all, draw(seed, size, loops, false))
	}
	found := compare(t, all, 1e-4)
	if found.compared < 200 || found.looping < 50 {
		t.Errorf("compared %d networks, %d with loops: want 200 and 50", found.compared, found.looping)
	}
	t.Logf("%d networks, %d with loops: worst %.1e psi, %.1e gpm", found.compared, found.looping, found.psi, found.gpm)
}

// The reference is itself good to about 4e-4 only where pipes carry nothing: it
// lets a trace run into a dead end, which all pipes before it carry too.
func TestDeadEndsMatchTheReferenceSolver(t *testing.T) {
	var all []drawn
	for seed := range uint64(40) {
		all = append(all, draw(1000+seed, 4+int(seed), int(seed)%4, true))
	}
	found := compare(t, all, 2e-3)
	t.Logf("%d networks: worst %.1e psi, %.1e gpm", found.compared, found.psi, found.gpm)
}
