package simplex

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// told is a problem as the oracle reads it.
type told struct {
	Cost []float64 `json:"cost"`
	Rows []toldRow `json:"rows"`
}

type toldRow struct {
	Terms [][2]float64 `json:"terms"` // variable, factor
	Least float64      `json:"least"`
}

// tell gathers the terms of each variable: the oracle's format names one but once.
func (p *Problem) tell() told {
	d := told{Cost: p.cost}
	for _, r := range p.rows {
		at, row := map[int]int{}, toldRow{Least: r.least}
		for _, t := range r.terms {
			if i, ok := at[t.Variable]; ok {
				row.Terms[i][1] += t.Factor
				continue
			}
			at[t.Variable] = len(row.Terms)
			row.Terms = append(row.Terms, [2]float64{float64(t.Variable), t.Factor})
		}
		d.Rows = append(d.Rows, row)
	}
	return d
}

type oracleResult struct {
	Status string  `json:"status"`
	Cost   float64 `json:"cost"`
}

// oracle solves problems by HiGHS. Node and the package must be there: a missing oracle
// is a failed test.
func oracle(t *testing.T, all []told) []oracleResult {
	t.Helper()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	in, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("node", "testdata/oracle.mjs")
	c.Env = append(c.Environ(), "EVENFALL_ROOT="+root)
	c.Stdin = bytes.NewReader(in)
	var out, wrong bytes.Buffer
	c.Stdout, c.Stderr = &out, &wrong
	if err := c.Run(); err != nil {
		t.Fatalf("the oracle: %v\n%s\nIt needs Node 20 and the packages of web/package.json: run go run ./cmd/dev test -only install", err, wrong.String())
	}
	var results []oracleResult
	if err := json.Unmarshal(out.Bytes(), &results); err != nil {
		t.Fatalf("the oracle wrote %.200q: %v", out.String(), err)
	}
	if len(results) != len(all) {
		t.Fatalf("the oracle solved %d of %d problems", len(results), len(all))
	}
	return results
}

// equalities are rows that must be met exactly, each as two, by a vertex that has a few
// variables of as many as there are rows: as degenerate as can be.
func equalities(rng *rand.Rand, rows, columns, positive int) *Problem {
	var p Problem
	x := make([]float64, columns)
	for j := range columns {
		_, _ = p.Variable(rng.Float64() * 5)
		if j < positive {
			x[j] = 1 + rng.Float64()*9
		}
	}
	for range rows {
		var terms []Term
		sum := 0.0
		for j := range columns {
			if j < positive && rng.IntN(3) > 0 || rng.IntN(8) == 0 {
				f := rng.Float64()*4 - 1
				terms = append(terms, Term{j, f})
				sum += f * x[j]
			}
		}
		_, _ = p.AtLeast(sum, terms...)
		_, _ = p.AtMost(sum, terms...)
	}
	return &p
}

// yardOf is a watering problem: minutes of each zone on each allowed day, so that no
// run of days leaves an area with less than its soil can spare, with no more on a day
// than the soil holds, all within a window that may be broken for a price.
func yardOf(rng *rand.Rand, zones, days int) *Problem {
	var p Problem
	minute := make([][]int, zones) // by zone and day, -1: it may not run
	shut := rng.IntN(days)
	for z := range zones {
		flow := 4 + 12*rng.Float64()
		minute[z] = make([]int, days)
		for d := range days {
			minute[z][d] = -1
			if d%7 != shut%7 && rng.IntN(8) > 0 {
				minute[z][d], _ = p.Variable(flow)
			}
		}
	}
	all := make([][]Term, days) // minutes of each day
	for a := range zones {
		rate := map[int]float64{a: (0.4 + 1.4*rng.Float64()) / 60}
		for range rng.IntN(3) {
			rate[rng.IntN(zones)] += (0.05 + 0.6*rng.Float64()) / 60
		}
		depth := make([][]Term, days)
		for d := range days {
			for z := range zones { // in order: a map has none
				if rate[z] > 0 && minute[z][d] >= 0 {
					depth[d] = append(depth[d], Term{minute[z][d], rate[z]})
				}
			}
			if minute[a][d] >= 0 {
				all[d] = append(all[d], Term{minute[a][d], 1})
			}
		}
		need, spare := 0.08+0.2*rng.Float64(), 0.25+0.6*rng.Float64()
		for length := int(spare/need) + 1; length <= min(int(spare/need)+2, days); length++ {
			for start := range days {
				var terms []Term
				for k := range length {
					terms = append(terms, depth[(start+k)%days]...)
				}
				short, _ := p.Elastic(500)
				_, _ = p.AtLeast(need*float64(length)-spare, append(terms, short)...)
			}
		}
	}
	window := 20 * float64(zones) * (0.3 + rng.Float64())
	for d := range days {
		over, _ := p.Elastic(40)
		over.Factor = -1
		_, _ = p.AtMost(window, append(all[d], over)...)
	}
	return &p
}

// dear is a watering problem whose penalties are up to ten million times as dear as water,
// each area's its own, and that many of its limits break.
func dear(rng *rand.Rand, zones, days int) *Problem {
	p := yardOf(rng, zones, days)
	by := math.Pow(10, 1+4*rng.Float64())
	for j, c := range p.cost {
		if c == 40 || c == 500 {
			p.cost[j] = c * by * (1 + rng.Float64())
		}
	}
	for i := range p.rows {
		if p.rows[i].least < 0 {
			p.rows[i].least *= 0.3
		}
	}
	return p
}

// impossible is a covering problem with a row that its limits do not let be kept.
func impossible(rng *rand.Rand) *Problem {
	p := covering(rng, 20, 40)
	var terms []Term
	for j := range 5 {
		_, _ = p.AtMost(1+rng.Float64(), Term{j, 1})
		terms = append(terms, Term{j, 1})
	}
	_, _ = p.AtLeast(10.5, terms...)
	return p
}

// Costs are those of another solver to 1e-5 and rows are kept to 1e-6, reckoned here
// from the problem as the oracle was told it. EVENFALL_THOROUGH=1 draws ten times as many.
func TestCostsAreTheOracles(t *testing.T) {
	t.Parallel()
	var problems []*Problem
	var family []string
	draw := func(name string, n int, of func(*rand.Rand) *Problem) {
		if os.Getenv("EVENFALL_THOROUGH") != "" {
			n *= 10
		}
		for seed := range uint64(n) {
			problems = append(problems, of(rand.New(rand.NewPCG(seed, uint64(len(name))))))
			family = append(family, name)
		}
	}
	draw("covering", 90, func(r *rand.Rand) *Problem { return covering(r, 60, 400) })
	draw("equalities", 25, func(r *rand.Rand) *Problem { return equalities(r, 60, 400, 6) })
	draw("8 zones, 7 days", 60, func(r *rand.Rand) *Problem { return yardOf(r, 8, 7) })
	draw("20 zones, 7 days", 30, func(r *rand.Rand) *Problem { return yardOf(r, 20, 7) })
	draw("60 zones, 14 days", 5, func(r *rand.Rand) *Problem { return yardOf(r, 60, 14) })
	draw("dear to break", 40, func(r *rand.Rand) *Problem { return dear(r, 8, 7) })
	draw("impossible", 20, impossible)

	all := make([]told, len(problems))
	for i, p := range problems {
		all[i] = p.tell()
	}
	pivots, impossibles := map[string]int{}, 0
	for i, want := range oracle(t, all) {
		s, err := problems[i].Solve(context.Background())
		var not *Infeasible
		switch {
		case want.Status == "Infeasible":
			if impossibles++; !errors.As(err, &not) {
				t.Errorf("%s %d cannot be, says the oracle: %v", family[i], i, err)
			}
			continue
		case want.Status != "Optimal":
			t.Errorf("%s %d: the oracle says %s", family[i], i, want.Status)
			continue
		case err != nil:
			t.Errorf("%s %d: %v", family[i], i, err)
			continue
		}
		if math.Abs(s.Cost-want.Cost) > 1e-5*(1+math.Abs(want.Cost)) {
			t.Errorf("%s %d costs %.9g, the oracle's %.9g", family[i], i, s.Cost, want.Cost)
		}
		for n, r := range all[i].Rows {
			sum, size := 0.0, 1+math.Abs(r.Least)
			for _, term := range r.Terms {
				sum += term[1] * s.X[int(term[0])]
			}
			if sum < r.Least-1e-6*size {
				t.Errorf("%s %d: row %d is %.9g, at least %.9g", family[i], i, n, sum, r.Least)
			}
		}
		for j, x := range s.X {
			if x < 0 {
				t.Errorf("%s %d: variable %d is %g", family[i], i, j, x)
			}
		}
		pivots[family[i]] = max(pivots[family[i]], s.Pivots)
	}
	if impossibles < 15 {
		t.Errorf("the oracle found %d problems impossible; 15 at least were to be", impossibles)
	}
	t.Logf("most pivots: %v", pivots)
}

func BenchmarkYard(b *testing.B) {
	for _, of := range []struct {
		name        string
		zones, days int
	}{{"8x7", 8, 7}, {"20x7", 20, 7}, {"60x14", 60, 14}} {
		b.Run(of.name, func(b *testing.B) {
			p := yardOf(rand.New(rand.NewPCG(1, 8)), of.zones, of.days)
			pivots, best := 0, time.Duration(math.MaxInt64)
			for b.Loop() {
				p.table = nil
				start := time.Now()
				s, err := p.Solve(context.Background())
				if err != nil {
					b.Fatal(err)
				}
				pivots, best = s.Pivots, min(best, time.Since(start))
			}
			b.ReportMetric(float64(best.Nanoseconds())/1e6, "best-ms")
			b.ReportMetric(float64(pivots), "pivots")
		})
	}
}
