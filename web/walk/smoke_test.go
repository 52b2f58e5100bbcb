//go:build browser

package walk

import "testing"

func TestHarness(t *testing.T) {
	p := open(t, 800, 600)
	p.visit("about:blank")
	if got := eval[int](p, "1 + 1"); got != 2 {
		t.Fatal(got)
	}
	p.quiet()
}
