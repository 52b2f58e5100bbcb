package design

import (
	"context"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/parts"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// What each stage reads of the plan. It is given nothing else (plan.Plan.View),
// so that it cannot come to depend on more, and it runs again only when some of
// it has changed. The names and the system of units are read for the sentences
// of the findings.
const (
	coverageReads = plan.PartShow | plan.PartSite | plan.PartOptions | plan.PartAreas | plan.PartBarriers |
		plan.PartTrees | plan.PartKeepDry | plan.PartElevations | plan.PartHeads | plan.PartZones |
		plan.PartNozzles | plan.PartBodies | plan.PartSensors
	pipeworkReads = plan.PartElevations | plan.PartSupply | plan.PartHeads | plan.PartZones | plan.PartBodies |
		plan.PartPipeClasses | plan.PartNodes | plan.PartPipes
	drawnReads    = pipeworkReads | plan.PartShow | plan.PartDevices
	pressureReads = pipeworkReads | plan.PartShow | plan.PartSite | plan.PartNozzles | plan.PartDevices // net is of no more
	digsRead      = pipeworkReads | plan.PartShow | plan.PartSite | plan.PartOptions | plan.PartAreas | plan.PartBarriers | plan.PartTrees |
		plan.PartDevices | plan.PartSleeves | plan.PartController | plan.PartSensors | plan.PartWires | plan.PartBoxes
	wireReads  = digsRead | plan.PartWiring
	partsReads = wireReads | plan.PartNozzles
	checkReads = plan.PartShow | plan.PartSite | plan.PartOptions | plan.PartSupply | plan.PartHeads | plan.PartZones | plan.PartBodies |
		plan.PartElevations | plan.PartController
	timeReads   = coverageReads | pressureReads | plan.PartWatering | plan.PartController
	acceptReads = plan.PartAccepted

	anyReads = coverageReads | drawnReads | pressureReads | partsReads | checkReads | timeReads
)

// Engine runs the stages on one plan after another and keeps what the next run
// can use again. What it returns is what a fresh Run returns, byte for byte. Its
// zero value is ready. It is not safe for use by two goroutines at once.
type Engine struct {
	field *coverage.Field

	water    memo[water]
	pipes    memo[*pipework.Network]
	drawn    memo[[]plan.Finding]
	pressed  memo[pressed]
	timed    memo[[]plan.Finding]
	dug      memo[dug]
	wired    memo[wired]
	list     memo[bought]
	finished memo[[]plan.Finding]
	running  running // only when it was asked for
}

type water struct {
	result   *coverage.Result
	findings []plan.Finding
}

type pressed struct {
	result   *pressure.Result
	findings []plan.Finding
}

// dug is what the trenches come to.
type dug struct {
	digs     *trench.Digs
	findings []plan.Finding
}

// wired is what the wiring comes to.
type wired struct {
	wiring   *wire.Wiring
	findings []plan.Finding
}

type bought struct {
	list     *parts.List
	findings []plan.Finding
}

// Run reckons a plan from nothing.
func Run(ctx context.Context, p *plan.Plan) (*Design, error) { return new(Engine).Run(ctx, p) }

// Run runs the stages on p, top to bottom. What it returns may be shared with
// other runs and is not to be changed. A run that is cancelled leaves the engine
// as good as new.
func (e *Engine) Run(ctx context.Context, p *plan.Plan) (*Design, error) {
	s := stateOf(p)
	w, err := e.water.get(s, coverageReads, func(v *plan.Plan) (water, error) { return e.cover(ctx, v) })
	if err != nil {
		return nil, err
	}
	net, err := e.pipes.get(s, pipeworkReads, func(v *plan.Plan) (*pipework.Network, error) { return pipework.Of(v), nil })
	if err != nil {
		return nil, err
	}
	asDrawn, err := e.drawn.get(s, drawnReads, func(v *plan.Plan) ([]plan.Finding, error) { return pipework.Check(v, net), nil })
	if err != nil {
		return nil, err
	}
	pr, err := e.pressed.get(s, pressureReads, func(v *plan.Plan) (pressed, error) {
		result, findings := pressure.Compute(v, net)
		return pressed{result, findings}, nil
	})
	if err != nil {
		return nil, err
	}
	late, err := e.timed.get(s, timeReads, func(v *plan.Plan) ([]plan.Finding, error) {
		return coverage.CheckProgram(v, w.result, pr.result.Supply.DesignGPM), nil
	})
	if err != nil {
		return nil, err
	}
	dug, err := e.dug.get(s, digsRead, func(v *plan.Plan) (dug, error) {
		digs := trench.Of(v, net)
		return dug{digs, trench.Check(v, net, digs)}, nil
	})
	if err != nil {
		return nil, err
	}
	wired, err := e.wired.get(s, wireReads, func(v *plan.Plan) (wired, error) {
		w := wire.Of(v, dug.digs)
		return wired{w, wire.Check(v, dug.digs, w)}, nil
	})
	if err != nil {
		return nil, err
	}
	b, err := e.list.get(s, partsReads, func(v *plan.Plan) (bought, error) {
		list, findings := parts.Compute(v, net, dug.digs, wired.wiring)
		return bought{list, findings}, nil
	})
	if err != nil {
		return nil, err
	}
	unfinished, err := e.finished.get(s, checkReads, func(v *plan.Plan) ([]plan.Finding, error) { return plan.Check(v), nil })
	if err != nil {
		return nil, err
	}
	findings := plan.Accept(p.View(acceptReads), slices.Concat(w.findings, asDrawn, pr.findings, late, dug.findings, wired.findings, b.findings, unfinished))
	plan.InUnits(p.Show, findings)
	plan.SortFindings(findings)
	return &Design{Coverage: w.result, Pipework: net, Pressure: pr.result, Digs: dug.digs, Wiring: wired.wiring, Parts: b.list, Findings: findings}, nil
}

// cover brings the field to the plan and checks what the water does.
func (e *Engine) cover(ctx context.Context, v *plan.Plan) (water, error) {
	if e.field == nil {
		e.field = coverage.New()
	}
	result, _, err := e.field.Update(ctx, v)
	if err != nil {
		e.field = nil
		return water{}, err
	}
	return water{result, coverage.Check(v, result, e.field)}, nil
}

// Field is the field of the last run that succeeded, for reading the map; nil
// before there was one.
func (e *Engine) Field() *coverage.Field { return e.field }
