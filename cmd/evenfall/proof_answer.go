package main

import (
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/sheets"
)

// proofAnswerOf is what was tested, found and measured as it is printed for programs.
func proofAnswerOf(p *plan.Plan, v sheets.Proved) *proofAnswer {
	head := headingOf("proof", p)
	a := &proofAnswer{Format: head.Format, Name: head.Name, Plan: head.Plan}
	if v.Start != nil {
		a.Start = startAnswer(v.Start)
	}
	if v.Wires != nil {
		a.Wires = wiresAnswer(v.Wires)
	}
	if v.Heads != nil {
		a.Heads = []proofHead{}
	}
	if v.Built != nil {
		a.Built = []proofBuilt{}
	}
	if v.Audited {
		a.Audits = []proofAudit{}
	}
	for _, h := range v.Heads {
		a.Heads = append(a.Heads, proofHead{h.ID, h.Tag, h.Zone, figure(h.X), figure(h.Y), h.Where, h.Nozzle, h.Arc, h.Edge, h.Throw, h.Turn, h.SetOn, listed(h.Faults), h.Note})
	}
	for _, b := range v.Built {
		one := proofBuilt{Thing: b.Ref, What: b.What, On: b.On, X: figure(b.At[0]), Y: figure(b.At[1]), Moved: b.Moved, Depth: figure(b.Depth), Says: b.Says, Dims: []proofDim{}, Note: b.Note}
		for _, d := range b.Dims {
			one.Dims = append(one.Dims, proofDim{d.From, figure(d.Feet), d.Along, figure(d.Off), d.Check})
		}
		a.Built = append(a.Built, one)
	}
	for _, one := range v.Audits {
		a.Audits = append(a.Audits, auditAnswer(p, one))
	}
	if v.Retrofit != nil {
		a.Retrofit = retrofitAnswer(v.Retrofit)
	}
	return a
}

// listed is a list that prints as [] where it is empty.
func listed[T any](in []T) []T { return append([]T{}, in...) }

func startAnswer(s *proof.Start) *proofStart {
	a := &proofStart{Says: s.Says, Steps: []proofStep{}, Tests: []proofTest{}, Zones: []proofZone{}}
	for _, step := range s.Steps {
		one := proofStep{ID: step.ID, Title: step.Title, How: step.How, Caution: step.Caution}
		if d := step.Done; d != nil {
			one.Done, one.By, one.Note = d.On, d.By, d.Note
		}
		a.Steps = append(a.Steps, one)
	}
	for _, t := range s.Tests {
		a.Tests = append(a.Tests, proofTest{t.ID, t.Test.On, t.Of, t.Says, t.Known, t.Holds})
	}
	for _, z := range s.Zones {
		q := z.Predicted
		one := proofZone{ID: z.ID, Name: z.Name, Station: z.Station, Flow: figure(q.Flow), Head: q.Head, Pressure: figure(q.Pressure), Static: figure(q.Static),
			MeterGal: figure(q.MeterGal), MeterTime: figure(q.MeterTime), Unknown: z.Unknown, Runs: []proofRun{}}
		for _, r := range z.Runs {
			run := proofRun{r.ID, r.Run.On, r.Run.When, figure(r.Flow), figure(r.Run.RunningPSI), figure(r.Run.StaticPSI), r.Says, r.Known, r.Good, []proofLikely{}}
			for _, l := range r.Likely {
				run.Likely = append(run.Likely, proofLikely{string(l.Cause), l.Says, l.Why, l.Do, figure(l.Weight)})
			}
			one.Runs = append(one.Runs, run)
		}
		a.Zones = append(a.Zones, one)
	}
	return a
}

func wiresAnswer(m *proof.WireMap) *proofWires {
	a := &proofWires{Says: m.Says, Touches: m.Touches, Readings: m.Readings, Wires: []proofWire{}, Terminals: []proofTerminal{}, Warnings: listed(m.Warnings), Caution: m.Caution}
	if n := m.Next; n != nil {
		a.Next = &proofNext{n.Kind, n.From, n.To, n.Wire, n.Says}
	}
	for _, w := range m.Wires {
		a.Wires = append(a.Wires, proofWire{w.ID, w.Mark, w.Kind, listed(w.Zones), w.Is, w.Left, w.Goes, w.Moves, printed(w.Ohms), w.Open, w.Warn})
	}
	for _, e := range m.Terminals {
		a.Terminals = append(a.Terminals, proofTerminal{e.Terminal, listed(e.Zones), e.Zone, listed(e.Wires), e.Wire, e.Ohms, e.Warn})
	}
	return a
}

// printed is a figure that may be absent.
func printed[T ~float64](v *T) *figure {
	if v == nil {
		return nil
	}
	f := figure(*v)
	return &f
}

func auditAnswer(p *plan.Plan, a *proof.Audited) proofAudit {
	out := proofAudit{ID: a.ID, Name: a.Name, On: p.Proof.Audits[a.ID].On, Says: a.Says, Known: a.Known, DU: figure(a.Measured.DULowQuarter), DUThere: figure(a.Expected.DULowQuarter),
		Figures: []proofFigure{}, Cans: []proofCan{}, Heads: []proofHeadRead{}, Unsure: listed(a.Unsure), Rules: listed(a.Rules), Uses: a.Uses}
	for _, f := range a.Figures {
		out.Figures = append(out.Figures, proofFigure{f.Name, f.Measured, f.Expected, f.Form})
	}
	for _, c := range a.Cans {
		out.Cans = append(out.Cans, proofCan{c.ID, c.Number, figure(c.X), figure(c.Y), c.Catch, printed(c.DepthIn), printed(c.Expected), c.Out, c.Low})
	}
	for _, h := range a.Heads {
		out.Heads = append(out.Heads, proofHeadRead{h.Head, figure(h.Share), figure(h.Low), figure(h.High), figure(h.TiltDeg), figure(h.TiltToward), h.Fault, h.Sure, sheets.FaultWords(h)})
	}
	return out
}

func retrofitAnswer(v *proof.RetrofitPlan) *proofRetrofit {
	a := &proofRetrofit{Offered: v.Offered, Says: v.Says, PerYear: v.PerYear, Before: figure(v.Before), After: figure(v.After),
		Census: []proofCensus{}, Zones: []proofRetrofitZone{}, Mends: []proofMend{}, Assumed: listed(v.Assumed)}
	for _, c := range v.Census {
		a.Census = append(a.Census, proofCensus{c.State, listed(c.Heads)})
	}
	for _, z := range v.Zones {
		a.Zones = append(a.Zones, proofRetrofitZone{z.ID, figure(z.WaterBefore), figure(z.WaterAfter), z.Flow, z.Pressure, z.DU})
	}
	for _, m := range v.Mends {
		a.Mends = append(a.Mends, proofMend{m.Says, figure(m.Saves), listed(m.Heads), m.Why})
	}
	return a
}
