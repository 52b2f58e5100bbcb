package main

import (
	"strings"
	"testing"
)

const dragLog = `=== RUN   TestDragFrames/slowed_1_times
    frames_test.go:102: 300 heads, 250000 cells, slowed 1 times, load 0.50 0.40 0.30 1/100 200
    frames_test.go:103: frame interval: p50 16.7 ms, p95 16.8 ms, worst 33.3 ms over 240 frames
    frames_test.go:104: preview sent to answer: p50 3.0 ms, p95 5.0 ms
    frames_test.go:105: pointer to painted map: p50 9.0 ms, p95 21.5 ms, worst 40.0 ms over 200 previews of 240 moves
=== RUN   TestDragFrames/slowed_6_times
    frames_test.go:102: 300 heads, 250000 cells, slowed 6 times, load 0.50 0.40 0.30 1/100 200
    frames_test.go:103: frame interval: p50 33.3 ms, p95 50.0 ms, worst 66.7 ms over 240 frames
    frames_test.go:105: pointer to painted map: p50 60.0 ms, p95 80.0 ms, worst 99.0 ms over 100 previews of 240 moves
`

func TestFrameGoalsAreReadFromTheLog(t *testing.T) {
	var out strings.Builder
	if err := compareFrames(&out, frameFigures(strings.NewReader(dragLog))); err != nil {
		t.Fatal(err)
	}
	want := []string{"≤ 16.7  16.7      met", "≤ 16.7  16.8      not met in this run", "≤ 16.7  33.3      not met in this run", "≤ 33    21.5      met"}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != len(want)+1 {
		t.Fatalf("got %d lines:\n%s", len(lines), out.String())
	}
	for i, w := range want {
		if !strings.HasSuffix(strings.TrimRight(lines[i+1], " "), w) {
			t.Errorf("got %q, want it to end in %q", lines[i+1], w)
		}
	}
}

func TestAFigureThatIsMissingIsSaid(t *testing.T) {
	plain, _, _ := strings.Cut(dragLog, "=== RUN   TestDragFrames/slowed_6")
	if err := compareFrames(&strings.Builder{}, frameFigures(strings.NewReader(plain))); err == nil || !strings.Contains(err.Error(), "slowed 6 times") {
		t.Errorf("got %v, want it to name the run that is missing", err)
	}
}
