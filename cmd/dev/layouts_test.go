package main

import (
	"strings"
	"testing"
)

func TestLayoutResultsAreGatheredByTable(t *testing.T) {
	t.Parallel()
	printed := "=== RUN   TestLayouts_A\nlayout-result\tFirst\tshape\theads\nnoise\n    x_test.go:3: layout-result\tSecond\ta\n" +
		"layout-result\tFirst\tL\t14\nok\n"
	got := string(layoutsDocument(gatherLayouts(strings.NewReader(printed)), 2, true))
	const first, second = "## First\n| shape | heads |\n|---|---|\n| L | 14 |\n", "## Second\n| a |\n|---|\n"
	if !strings.Contains(got, first) || !strings.Contains(got, second) || strings.Contains(got, "noise") || !strings.Contains(got, "failed") {
		t.Errorf("the page reads\n%s", got)
	}
}
