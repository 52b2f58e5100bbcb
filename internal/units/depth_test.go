package units

import "testing"

func TestDepthsOfWaterPrint(t *testing.T) {
	t.Parallel()
	for in, want := range map[Inches][2]string{1.4: {"1.4 in", "36 mm"}, 0.875: {"0.88 in", "22 mm"}, 2: {"2 in", "51 mm"}} {
		if us, metric := US.Depth(in), Metric.Depth(in); us != want[0] || metric != want[1] {
			t.Errorf("%g: %q, %q", float64(in), us, metric)
		}
	}
}
