package web

import (
	"encoding/json"
	"strconv"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// proofWords is what was tested, found and measured, as the pages show it. d is of p.
func proofWords(p *plan.Plan, rev int64, d *design.Design) *ProofView {
	return &ProofView{
		Rev: rev, Start: startWords(proof.StartUp(p, d)), Wires: wireWords(proof.WiresAlong(p, d.Wiring)),
		Heads: walkWords(proof.Walk(p, d, nil)), Audits: auditLines(proof.AuditLines(p)), Built: builtWords(proof.BuiltOf(p, d)),
	}
}

// startWords is the start-up log as the pages show it.
func startWords(s proof.Start) ProofStart {
	v := ProofStart{Says: s.Says, Steps: []ProofStep{}, Tests: []ProofTest{}, Zones: []ProofZone{}}
	for _, step := range s.Steps {
		row := ProofStep{ID: step.ID, Title: step.Title, How: step.How, Caution: step.Caution}
		if step.Done != nil {
			row.On, row.By, row.Note = step.Done.On, step.Done.By, step.Done.Note
		}
		v.Steps = append(v.Steps, row)
	}
	for _, t := range s.Tests {
		v.Tests = append(v.Tests, ProofTest{ID: t.ID, Says: t.Says, Holds: t.Holds, Known: t.Known})
	}
	for _, z := range s.Zones {
		row := ProofZone{
			ID: z.ID, Name: z.Name, Flow: z.Flow, Pressure: z.Pressure, Head: z.Predicted.Head, HeadTag: z.HeadTag,
			Static: z.Static, MeterTime: z.MeterTime, Unknown: z.Unknown, Runs: []ProofRun{},
		}
		if z.Station > 0 {
			row.Station = strconv.Itoa(z.Station)
		}
		for _, r := range z.Runs {
			row.Runs = append(row.Runs, runWords(r))
		}
		v.Zones = append(v.Zones, row)
	}
	return v
}

func runWords(r proof.Run) ProofRun {
	v := ProofRun{ID: r.ID, Says: r.Says, Good: r.Good, Known: r.Known, Likely: []ProofLikely{}}
	for _, l := range r.Likely {
		v.Likely = append(v.Likely, ProofLikely{Cause: l.Says, Why: l.Why, Do: l.Do})
	}
	return v
}

// wireWords is the finding of wires as the pages show it.
func wireWords(m proof.WireMap) ProofWires {
	v := ProofWires{Says: m.Says, Wires: []ProofWire{}, Terminals: []ProofTerminal{}, Warnings: orEmpty(m.Warnings), Caution: m.Caution}
	if m.Next != nil {
		v.Next = &ProofNext{Kind: m.Next.Kind, From: m.Next.From, To: m.Next.To, Wire: m.Next.Wire, Says: m.Next.Says}
	}
	for _, w := range m.Wires {
		row := ProofWire{ID: w.ID, Mark: w.Mark, Is: w.Is, Kind: w.Kind, Goes: w.Goes, Moves: w.Moves, Warn: w.Warn}
		if len(w.Zones) > 0 {
			row.Zone = w.Zones[0]
		}
		v.Wires = append(v.Wires, row)
	}
	for _, t := range m.Terminals {
		row := ProofTerminal{Terminal: t.Terminal, Zone: t.Zone, Wire: t.Wire, Ohms: t.Ohms, Warn: t.Warn}
		if len(t.Wires) > 0 {
			row.WireID = t.Wires[0]
		}
		v.Terminals = append(v.Terminals, row)
	}
	return v
}

// walkWords are the heads of the walk of setting nozzles.
func walkWords(walk []proof.HeadStep) []ProofHead {
	list := make([]ProofHead, 0, len(walk))
	for _, h := range walk {
		list = append(list, ProofHead{
			ID: h.ID, Tag: h.Tag, Zone: h.ZoneName, Where: h.Where, Nozzle: h.Nozzle, Arc: h.Arc, Edge: h.Edge, Throw: h.Throw,
			Turn: h.Turn, SetOn: h.SetOn, Faults: orEmpty(h.Faults), Note: h.Note, X: float64(h.X), Y: float64(h.Y),
		})
	}
	return list
}

// builtWords are the things whose built place was measured.
func builtWords(built []proof.BuiltThing) []ProofBuilt {
	list := make([]ProofBuilt, 0, len(built))
	for _, b := range built {
		list = append(list, ProofBuilt{Ref: b.Ref, What: b.What, On: b.On, Moved: b.Moved, Dims: b.Says})
	}
	return list
}

// auditLines are the audits of a plan, a line each.
func auditLines(audits []proof.AuditLine) []ProofAudit {
	list := make([]ProofAudit, 0, len(audits))
	for _, a := range audits {
		list = append(list, ProofAudit{ID: a.ID, Says: a.Says, Read: a.Read, Cans: a.Cans})
	}
	return list
}

// auditWords is one audit as the pages show it.
func auditWords(rev int64, a *proof.Audited) *AuditView {
	v := &AuditView{
		Rev: rev, ID: a.ID, Known: a.Known, Says: a.Says, Figures: []AuditFigure{}, Cans: []AuditCan{},
		Faults: headFaults(a.Faults), Heads: headFaults(a.Heads), Unsure: orEmpty(a.Unsure), Rules: orEmpty(a.Rules),
		Notes: orEmpty(a.Notes), Uses: a.Uses, Patch: json.RawMessage(a.Patch), Label: a.Label,
	}
	for _, f := range a.Figures {
		v.Figures = append(v.Figures, AuditFigure(f))
	}
	for _, c := range a.Cans {
		v.Cans = append(v.Cans, AuditCan{
			ID: c.ID, X: float64(c.X), Y: float64(c.Y), Number: c.Number, Catch: c.Catch, Depth: c.Depth, Predicted: c.Predicted,
			Measured: c.MeasuredByte, Expected: c.ExpectedByte, Percent: c.Percent, Foreseen: c.ExpectedPercent, Out: c.Out, Low: c.Low,
		})
	}
	return v
}

func headFaults(faults []proof.HeadFault) []AuditFault {
	list := make([]AuditFault, 0, len(faults))
	for _, f := range faults {
		list = append(list, AuditFault{
			Head: f.Head, Tag: f.Tag, Output: f.Output, Tilt: f.Tilt, Verdict: f.Verdict, Look: f.Look, Sure: f.Sure,
		})
	}
	return list
}

// cansWords is a layout of cans as the pages show it.
func cansWords(p *plan.Plan, rev int64, o proof.CansOffer) *CansView {
	v := &CansView{Rev: rev, Says: o.Says, Rules: orEmpty(o.Rules), Audit: o.Audit, Cans: []AuditCan{}, Patch: json.RawMessage(o.Patch), Label: o.Label}
	for _, c := range o.Cans {
		of := c.Byte
		can := AuditCan{ID: c.ID, X: float64(c.X), Y: float64(c.Y), Number: c.Number, Where: c.Where}
		if c.OfMean > 0 {
			can.Expected, can.Predicted = &of, p.Show.Percent(c.OfMean)+" of the mean"
		}
		v.Cans = append(v.Cans, can)
	}
	return v
}

// noRetrofit says why nothing can be told of mending.
func noRetrofit(rev int64, says string) *RetrofitView {
	return &RetrofitView{Rev: rev, Says: says, Census: []RetrofitCount{}, Zones: []RetrofitZone{}, Mends: []RetrofitMend{}, Assumed: []string{}}
}

// retrofitWords is what mending an old system comes to, as the pages show it.
func retrofitWords(rev int64, r *proof.RetrofitPlan) *RetrofitView {
	v := noRetrofit(rev, r.Says)
	v.Offered, v.Assumed = r.Offered, orEmpty(r.Assumed)
	for _, c := range r.Census {
		v.Census = append(v.Census, RetrofitCount{State: c.Words, Count: len(c.Heads), Heads: orEmpty(c.Heads), Tags: c.Tags})
	}
	for _, z := range r.Zones {
		v.Zones = append(v.Zones, RetrofitZone{ID: z.ID, Name: z.Name, Flow: z.Flow, Press: z.Pressure, DU: z.DU, Water: z.Water, Saves: z.Saving})
	}
	for _, m := range r.Mends {
		v.Mends = append(v.Mends, RetrofitMend{Says: m.Says, Saves: m.Saving, Heads: orEmpty(m.Heads), Why: m.Why})
	}
	return v
}
