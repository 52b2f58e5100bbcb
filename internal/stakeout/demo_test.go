package stakeout

import (
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/testdata/plans"
)

func TestPrintDemo(t *testing.T) {
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	s := Of(p, trench.Of(p, pipework.Of(p)))
	for _, q := range s.Points {
		t.Log(q.Letter, q.Name, q.At)
	}
	for _, f := range s.Flags {
		t.Log(f.Tag, f.What, f.Angle, f.Says)
	}
	for _, f := range s.Left {
		t.Log("LEFT", f.Tag, f.Why)
	}
	t.Log(s.Own, s.Start)
}
