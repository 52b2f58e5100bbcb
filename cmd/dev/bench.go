package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"text/tabwriter"
)

// goal is a figure the project means to reach. Times are reported, never
// asserted: the machine is shared. Ratios of one run are fair on any machine.
type goal struct {
	what, bench, metric string
	most, least         float64 // whichever is not zero
}

var goals = []goal{
	{"kernel, R 15 ft at 0.25 ft, ns a wetted cell", "BenchmarkAgainstC/cell=0.25/R=15/arc=360", "ns/cell", 0.6, 0},
	{"the same over gcc -O3 -march=native", "BenchmarkAgainstC/cell=0.25/R=15/arc=360", "ours/C", 0.5, 0},
	{"half circle over gcc", "BenchmarkAgainstC/cell=0.25/R=15/arc=180", "ours/C", 0.5, 0},
	{"kernel, R 15 ft at 0.5 ft, ns a wetted cell", "BenchmarkAgainstC/cell=0.5/R=15/arc=360", "ns/cell", 1.0, 0},
	{"the naive reckoning over the kernel", "BenchmarkKernel/cell=0.25/R=15/arc=360", "naive/ours", 0, 15},
	{"the naive reckoning over the wind's kernel", "BenchmarkWindKernel/cell=0.5/R=40/arc=360", "naive/ours", 0, 2},
	{"64 heads, 160,000 cells, with statistics, ms", "BenchmarkFull", "best-ms", 0.6, 0},
	{"one dragged head, with statistics, ms", "BenchmarkDrag", "best-ms", 0.2, 0},
	{"the demo after one pipe of its main, findings and running map, ms", "BenchmarkPipeEdit/main", "best-ms", 16, 0},
	{"what is dug for the demo, ms", "BenchmarkOfDemo", "best-ms", 1, 0},
	{"what is dug for 300 heads, ms", "BenchmarkOf300", "best-ms", 5, 0},
	{"the wiring of 32 valves along 300 pieces of trench, ms", "BenchmarkWiring", "ms", 1, 0},
	{"least cost of 60 pipes in 7 sizes, hardest supply, ms", "BenchmarkSizing/pipes=60/sizes=7/tightest", "ms", 50, 0},
	{"a tree of 300 nodes over the reference solver's engine", "BenchmarkNetworkAgainstReference/tree", "ours/reference", 0.5, 0},
	{"300 nodes with 30 loops over the same", "BenchmarkNetworkAgainstReference/loops", "ours/reference", 0.5, 0},
	{"the linear program of 60 zones and 14 days, ms", "BenchmarkYard/60x14", "best-ms", 50, 0},
	{"the watering programs of a year of 60 zones, days of a week, s of one core", "BenchmarkYear/zones=60/week", "cpu-s", 5, 0},
	{"the same of a fortnight whose hours are too short, s of one core", "BenchmarkYear/zones=60/fortnight/over", "cpu-s", 5, 0},
	{"the same of one lawn of 60 zones, s of one core", "BenchmarkLawn", "cpu-s", 5, 0},
	{"thirty years of weather by day, read and reckoned, ms", "BenchmarkWeather", "best-ms", 100, 0},
	{"routes of the demo, s of one core", "BenchmarkRoute/demo", "cpu-s", 2, 0},
	{"routes of a yard of 100 heads, s of one core", "BenchmarkRoute/heads=100", "cpu-s", 2, 0},
	{"routes of a park of 400 heads, s of one core", "BenchmarkRoute/heads=400", "cpu-s", 10, 0},
	{"the crew's papers of 100 heads as PDF, s of one core", "BenchmarkPack/crew", "cpu-s", 1, 0},
	{"the owner's papers of 100 heads as PDF, s of one core", "BenchmarkPack/owner", "cpu-s", 1, 0},
	{"the office's papers of 100 heads as PDF, one installation, s of one core", "BenchmarkPack/office", "cpu-s", 1, 0},
	{"a catch-can audit of the demo's front lawn, ms", "BenchmarkAuditOf/demo", "best-ms", 50, 0},
	{"one of 315 heads by 96 cans, ms", "BenchmarkAuditOf/315_heads", "best-ms", 1500, 0},
	{"what mending the demo as an old system gains, ms", "BenchmarkRetrofit", "best-ms", 500, 0},
	{"the first offers for three lawns, s", "BenchmarkFirstOffers", "s", 0.5, 0},
	{"the first layouts of a curved lawn with a bed, s", "BenchmarkSearchFirst/curved_lawn", "s", 0.5, 0},
	{"a number of heads for the same, in full, s", "BenchmarkSearchNumber/curved_lawn", "s", 4, 0},
	{"evaluations a second of that search", "BenchmarkSearchNumber/curved_lawn", "evaluations/s", 0, 50_000},
	{"to the published layout of a rectangle, s", "BenchmarkToTheTable/rectangle_30×20", "s", 12, 0},
	{"its heads over those published", "BenchmarkToTheTable/rectangle_30×20", "heads/published", 1, 0},
	{"to the published layout of an L, s", "BenchmarkToTheTable/L_60×45", "s", 12, 0},
	{"its heads over those published", "BenchmarkToTheTable/L_60×45", "heads/published", 1, 0},
	{"to the published layout of a curved lawn, s", "BenchmarkToTheTable/curved_lawn", "s", 12, 0},
	{"its heads over those published", "BenchmarkToTheTable/curved_lawn", "heads/published", 1, 0},
	{"to the published layout of a strip, s", "BenchmarkToTheTable/strip_60×7", "s", 12, 0},
	{"its heads over those published", "BenchmarkToTheTable/strip_60×7", "heads/published", 1, 0},
}

// bench measures the kernels in one run and holds the figures against the goals.
func bench(ctx context.Context, root string, args []string) error {
	pattern := "."
	if len(args) > 0 {
		pattern = args[0]
	}
	load()
	var out bytes.Buffer
	c := exec.CommandContext(ctx, "go", "test", "-run", "^$", "-bench", pattern, "-benchmem", "-cpu", "1", "-p", "1", "./internal/...")
	c.Dir, c.Stdout, c.Stderr = root, io.MultiWriter(os.Stdout, &out), os.Stderr
	if err := c.Run(); err != nil {
		return err
	}
	if err := compare(os.Stdout, figures(&out)); err != nil {
		return err
	}
	if pattern != "." {
		return nil
	}
	load()
	return frames(ctx, root)
}

func load() {
	if b, err := os.ReadFile("/proc/loadavg"); err == nil {
		fmt.Printf("load average: %s", b)
	}
}

// figures reads the lines of go test -bench: name, runs, then value and unit in
// turn. The numbers stay text until they are compared.
func figures(r io.Reader) map[string]map[string]string {
	all := map[string]map[string]string{}
	for lines := bufio.NewScanner(r); lines.Scan(); {
		words := strings.Fields(lines.Text())
		if len(words) < 4 || !strings.HasPrefix(words[0], "Benchmark") {
			continue
		}
		metrics := map[string]string{}
		for i := 2; i+1 < len(words); i += 2 {
			metrics[words[i+1]] = words[i]
		}
		if _, taken := all[words[0]]; !taken {
			all[words[0]] = metrics
		}
	}
	return all
}

// compare prints each goal with what was measured.
func compare(w io.Writer, found map[string]map[string]string) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\nwhat\tgoal\tmeasured\t")
	for _, g := range goals {
		text, ok := found[g.bench][g.metric]
		if !ok {
			continue
		}
		var figure float64
		if _, err := fmt.Sscan(text, &figure); err != nil {
			return fmt.Errorf("%s says %q %s: %w", g.bench, text, g.metric, err)
		}
		asked, met := fmt.Sprintf("≤ %g", g.most), figure <= g.most
		if g.least > 0 {
			asked, met = fmt.Sprintf("≥ %g", g.least), figure >= g.least
		}
		verdict := "met"
		if !met {
			verdict = "not met in this run"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", g.what, asked, text, verdict)
	}
	return t.Flush()
}
