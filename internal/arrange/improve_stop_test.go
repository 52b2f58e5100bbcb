package arrange

import (
	"context"
	"errors"
	"testing"
)

// countdown is a context that is called off when it has been asked so many times, and
// keeps how many readings had been made by then.
type countdown struct {
	context.Context
	left int
	m    *mender
	at   int // readings when it was called off
}

func (c *countdown) Err() error {
	if c.left--; c.left > 0 {
		return nil
	}
	if c.left == 0 {
		c.at = c.m.readings()
	}
	return context.Canceled
}

func (m *mender) readings() int {
	if m.early == nil {
		return m.evaluations
	}
	return m.evaluations + m.early.fine.evaluations
}

// A stop is answered by what is told already: nothing is read after it but what was
// being read.
func TestImproveStopsWithoutReadingOn(t *testing.T) {
	t.Parallel()
	p := loadPlan(t, "mistakes/03-heads-too-far.json")
	mends := 0
	for _, asked := range []int{1, 20, 100, 400, 1500, 4000} {
		m := newMender(p, Usual())
		ctx := &countdown{Context: context.Background(), left: asked, m: m}
		got, err := m.improve(ctx, func(int, int) {})
		if ctx.left > 0 {
			break // it came to its end
		}
		if !errors.Is(err, context.Canceled) {
			t.Fatalf("called off when asked %d times: %v", asked, err)
		}
		if n := m.readings() - ctx.at; n > 1 {
			t.Errorf("%d readings after it was called off, when asked %d times", n, asked)
		}
		if got != nil {
			mends = max(mends, len(got.Mends))
			holds(t, p, got)
		}
	}
	if mends == 0 {
		t.Error("never is anything told")
	}
}
