package packs

import (
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func TestTextsLook(t *testing.T) {
	t.Parallel()
	demo, empty := demoInput(t), designed(t, plan.Empty("Nothing yet", units.Metric))
	for _, s := range []struct {
		kind Kind
		code string
	}{{Crew, "C1"}, {Crew, "C2"}, {Owner, "O2"}, {Owner, "O3"}, {Owner, "O4"}, {Owner, "O5"}} {
		shoot(t, "demo-"+s.code, oneSheet(t, demo, s.kind, Letter, s.code))
		shoot(t, "empty-"+s.code, oneSheet(t, empty, s.kind, A4, s.code))
	}
}
