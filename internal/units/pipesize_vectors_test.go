package units

import (
	"encoding/json"
	"os"
	"testing"
)

// The same cases hold the page's writer (web/editor/pipenames.ts). Metric
// designations: ISO 6708.
func TestPipeSizesReadAsOnTheBoard(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/pipesize.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Inches     Inches
		US, Metric string
	}
	if err := json.Unmarshal(data, &cases); err != nil {
		t.Fatal(err)
	}
	if len(cases) < 10 {
		t.Fatalf("%d cases", len(cases))
	}
	for _, c := range cases {
		if got := US.PipeSize(c.Inches); got != c.US {
			t.Errorf("%v in: got %s, want %s", c.Inches, got, c.US)
		}
		if got := Metric.PipeSize(c.Inches); got != c.Metric {
			t.Errorf("%v in, metric: got %s, want %s", c.Inches, got, c.Metric)
		}
	}
}
