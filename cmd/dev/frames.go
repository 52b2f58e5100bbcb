package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"text/tabwriter"
)

// frameGoal is a figure of TestDragFrames: at most this many milliseconds with
// the processor slowed so many times.
type frameGoal struct {
	what, line, percentile, slowed string
	most                           float64
}

var frameGoals = []frameGoal{
	{"frame interval, half of all", "frame interval", "p50", "1", 16.7},
	{"frame interval, 95 of 100", "frame interval", "p95", "1", 16.7},
	{"frame interval on a slow machine, half of all", "frame interval", "p50", "6", 16.7},
	{"pointer to painted map, 95 of 100", "pointer to painted map", "p95", "1", 33},
}

// frames measures a drag in a browser and holds the figures against the goals.
func frames(ctx context.Context, root string) error {
	var out bytes.Buffer
	c := exec.CommandContext(ctx, "go", "test", "-tags", "browser", "-count=1", "-v", "-run", "^TestDragFrames$", "./web/walk")
	c.Dir, c.Stdout, c.Stderr = root, io.MultiWriter(os.Stdout, &out), os.Stderr
	if err := c.Run(); err != nil {
		return err
	}
	return compareFrames(os.Stdout, frameFigures(&out))
}

var (
	slowedLine = regexp.MustCompile(`slowed ([0-9.]+) times, load`)
	frameLine  = regexp.MustCompile(`: (frame interval|pointer to painted map): p50 ([0-9.]+) ms, p95 ([0-9.]+) ms`)
)

// frameKey names one figure of the log.
type frameKey struct{ line, percentile, slowed string }

// frameFigures reads the log of TestDragFrames: how far the processor is slowed,
// then the figures of that run.
func frameFigures(r io.Reader) map[frameKey]string {
	found := map[frameKey]string{}
	slowed := ""
	for lines := bufio.NewScanner(r); lines.Scan(); {
		if m := slowedLine.FindStringSubmatch(lines.Text()); m != nil {
			slowed = m[1]
		}
		if m := frameLine.FindStringSubmatch(lines.Text()); m != nil {
			found[frameKey{m[1], "p50", slowed}] = m[2]
			found[frameKey{m[1], "p95", slowed}] = m[3]
		}
	}
	return found
}

// compareFrames prints each goal with what was measured.
func compareFrames(w io.Writer, found map[frameKey]string) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\nwhat, ms\tslowed\tgoal\tmeasured\t")
	for _, g := range frameGoals {
		text, ok := found[frameKey{g.line, g.percentile, g.slowed}]
		if !ok {
			return fmt.Errorf("the log has no %s of %s slowed %s times", g.percentile, g.line, g.slowed)
		}
		var figure float64
		if _, err := fmt.Sscan(text, &figure); err != nil {
			return fmt.Errorf("%s %s is %q: %w", g.line, g.percentile, text, err)
		}
		verdict := "met"
		if figure > g.most {
			verdict = "not met in this run"
		}
		fmt.Fprintf(t, "%s\t%s×\t≤ %g\t%s\t%s\n", g.what, g.slowed, g.most, text, verdict)
	}
	return t.Flush()
}
