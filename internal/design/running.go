package design

import (
	"context"
	"maps"
	"math"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// Running is the layout as it really runs: coverage at the pressures that the
// heads have when their zones run one by one. Heads of zones that are not solved
// run as planned.
type Running struct {
	Coverage *coverage.Result
	Given    coverage.Given
	Field    *coverage.Field // as long as the engine makes no other run
}

// running is what an engine keeps of it.
type running struct {
	field *coverage.Field
	drawn *coverage.Result // of the same state of the plan: it changes when anything coverage reads does
	last  *Running
}

// Running works out the layout as it runs, for a design that this engine made of
// p just before. It is made only when it is asked for.
func (e *Engine) Running(ctx context.Context, p *plan.Plan, d *Design) (*Running, error) {
	return e.runningAt(ctx, p, d.Coverage, GivenOf(d.Pressure))
}

func (e *Engine) runningAt(ctx context.Context, p *plan.Plan, drawn *coverage.Result, given coverage.Given) (*Running, error) {
	if k := &e.running; k.last != nil && k.drawn == drawn && maps.Equal(k.last.Given, given) {
		return k.last, nil
	}
	if e.running.field == nil {
		e.running.field = coverage.New()
	}
	result, _, err := e.running.field.UpdateAt(ctx, p.View(coverageReads), given)
	if err != nil {
		e.running = running{}
		return nil, err
	}
	e.running.drawn, e.running.last = drawn, &Running{result, given, e.running.field}
	return e.running.last, nil
}

// GivenOf are the pressures at the nozzles of all zones that are solved, rounded
// to what a gauge tells apart: a change too small to see redoes no head.
func GivenOf(r *pressure.Result) coverage.Given {
	given := coverage.Given{}
	for _, z := range r.Zones {
		if !z.Solved {
			continue
		}
		for _, h := range z.Heads {
			given[h.ID] = units.PSI(math.Round(float64(h.Nozzle)/gauge) * gauge)
		}
	}
	return given
}

// gauge is the step of a pressure given to coverage, psi. Chosen.
const gauge = 0.05
