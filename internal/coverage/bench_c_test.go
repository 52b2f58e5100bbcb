package coverage

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"evenfall/internal/geom"
)

// BenchmarkAgainstC runs the kernel and, in the same minute, the C of
// testdata/kernel.c compiled by gcc -O3 -march=native, on the same cells. It
// reports ours and theirs in ns for each cell, and ours over theirs.
func BenchmarkAgainstC(b *testing.B) {
	program := filepath.Join(b.TempDir(), "kernel")
	if out, err := exec.Command("gcc", "-O3", "-march=native", "-o", program, "testdata/kernel.c", "-lm").CombinedOutput(); err != nil {
		b.Fatalf("gcc: %v\n%s", err, out)
	}
	for _, c := range []struct{ cell, throw, sweep float64 }{
		{0.25, 15, 360}, {0.25, 15, 180}, {0.25, 15, 270}, {0.5, 15, 360}, {0.25, 40, 360},
	} {
		b.Run(fmt.Sprintf("cell=%g/R=%g/arc=%g", c.cell, c.throw, c.sweep), func(b *testing.B) {
			g, s := lone(c.cell, c.throw, c.sweep)
			n := float64(touched(&s.mask))
			best := time.Duration(math.MaxInt64)
			theirs := math.Inf(1)
			for b.Loop() {
				// In turns, so that both meet the same neighbours on the machine.
				theirs = min(theirs, runC(b, program, g.frame, s))
				for range 200 {
					start := time.Now()
					for range 16 {
						g.pour(s, 1)
					}
					best = min(best, time.Since(start))
					clear(g.rate)
				}
			}
			ours := float64(best.Nanoseconds()) / 16 / n
			b.ReportMetric(ours, "ns/cell")
			b.ReportMetric(theirs, "C-ns/cell")
			b.ReportMetric(ours/theirs, "ours/C")
		})
	}
}

// runC gives the C program the cells of a head and returns its ns for each.
func runC(b *testing.B, program string, f geom.Frame, s *shower) float64 {
	var in, lines bytes.Buffer
	n := 0
	span := func(y, x0, x1 int) {
		fmt.Fprintln(&lines, y, x0, x1)
		n++
	}
	for i := range s.mask.Rows() {
		spans, parts := s.mask.Row(i)
		for _, p := range spans {
			span(s.mask.Y0+i, int(p.X0), int(p.X1))
		}
		for k := 0; k < len(parts); { // neighbours as one span: kind to C
			from := k
			for k++; k < len(parts) && parts[k].X == parts[k-1].X+1; k++ {
			}
			span(s.mask.Y0+i, int(parts[from].X), int(parts[k-1].X)+1)
		}
	}
	cx, cy := f.Place(s.at)
	fmt.Fprintln(&in, f.NX, f.NY, cx, cy, s.setting.peak(), s.setting.peak()*f.Cell/s.throw, n)
	in.Write(lines.Bytes())
	cmd := exec.Command(program)
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		b.Fatalf("C: %v", err)
	}
	var each, sum float64
	if _, err := fmt.Sscan(string(out), &each, &sum); err != nil {
		b.Fatalf("C said %q: %v", out, err)
	}
	return each
}
