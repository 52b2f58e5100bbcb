package proof

import (
	"context"
	"errors"
	"fmt"

	"evenfall/internal/audit"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// AuditOf reckons one audit of a plan: id is its key in plan.Proof.Audits, or "" for the
// one that older documents have. An error is a sentence for the user, or the context's.
// What is missing for figures is told by an answer that is not Known.
func AuditOf(ctx context.Context, p *plan.Plan, id plan.ID) (*Audited, error) {
	a, err := auditCalled(p, id)
	if err != nil {
		return nil, err
	}
	c := catchesOf(p, id, a)
	e, err := expectedOf(p, c)
	if err != nil {
		return nil, err
	}
	out := &Audited{ID: id, Name: auditName(p, c), Placed: len(c.cans), Read: len(c.read)}
	if _, there := p.Areas[a.Area]; there {
		out.Area = a.Area
	}
	out.Rules = rulesNotKept(p, c)
	if out.Measured, err = audit.FiguresOf(c.values()); err != nil {
		out.Says = notKnown(c, err)
		out.Cans = cansRead(p, c, e, out)
		return out, nil
	}
	out.Known = true
	if e.at != nil {
		// An error leaves the figures at zero: no water is predicted for any can.
		out.Expected, _ = audit.FiguresOf(counted(e.at, c))
	}
	out.Cans = cansRead(p, c, e, out)
	out.Figures = figuresOf(p, c, e, out)
	out.Notes = notesOf(p, c, e)
	if err := out.explain(ctx, p, c, e); err != nil {
		return nil, err
	}
	out.Says = out.sentence(p)
	return out, out.use(ctx, p, c)
}

// explain lays what the catches differ in at heads.
func (out *Audited) explain(ctx context.Context, p *plan.Plan, c *catches, e *expected) error {
	if !(e.meanOf(c) > 0) {
		out.Unsure = append(out.Unsure, noPrediction(c, e))
		return nil
	}
	fit, err := audit.Fit(ctx, e.problem(c))
	if err != nil {
		if ctxErr := ctx.Err(); ctxErr != nil {
			return ctxErr
		}
		out.Unsure = append(out.Unsure, plan.Capital(err.Error())+".")
		return nil
	}
	out.headsOf(p, fit)
	out.zonesOf(p, fit)
	out.unsureOf(p, c, fit)
	return nil
}

// AuditLines are the audits of a plan in a line each, the newest first; nothing is fitted.
func AuditLines(p *plan.Plan) []AuditLine {
	var out []AuditLine
	line := func(id plan.ID) {
		a, err := auditCalled(p, id)
		if err != nil {
			return
		}
		c := catchesOf(p, id, a)
		says := auditName(p, c)
		if a.On != "" {
			says += ", " + a.On
		}
		f, err := audit.FiguresOf(c.values())
		switch {
		case len(c.cans) == 0:
			says += ": no cans yet"
		case len(c.read) == 0:
			says += fmt.Sprintf(": %s, none read", plan.Plural(len(c.cans), "can", "cans"))
		case err != nil:
			says += ": " + err.Error()
		default:
			says += fmt.Sprintf(": DU %s by %s", p.Show.Percent(f.DULowQuarter), plan.Plural(f.N, "can", "cans"))
			if left := len(c.cans) - len(c.read); left > 0 {
				says += fmt.Sprintf(" of %d", len(c.cans))
			}
		}
		out = append(out, AuditLine{ID: id, Says: says, Read: len(c.read), Cans: len(c.cans)})
	}
	for _, id := range byDate(p) {
		line(id)
	}
	if len(p.Proof.Cans) > 0 {
		line("")
	}
	return out
}

// byDate are the audits, the newest first; those without a date, which are under way,
// before them.
func byDate(p *plan.Plan) []plan.ID {
	ids := plan.SortedIDs(p.Proof.Audits)
	return sortedBy(ids, func(a, b plan.ID) bool {
		on, than := p.Proof.Audits[a].On, p.Proof.Audits[b].On
		if (on == "") != (than == "") {
			return on == ""
		}
		return on > than
	})
}

// cansRead are the cans as they are shown.
func cansRead(p *plan.Plan, c *catches, e *expected, out *Audited) []CanRead {
	low := c.driest()
	list := make([]CanRead, len(c.cans))
	for i := range c.cans {
		v := &c.cans[i]
		r := CanRead{ID: v.id, X: v.can.X, Y: v.can.Y, Number: i + 1, Out: v.can.Out, Note: v.can.Note, Low: low[i]}
		if v.read {
			r.Catch = catchText(p, v, c)
			if c.known {
				depth := v.depth
				r.DepthIn, r.Depth = &depth, depthText(p.Show, depth)
			}
			if out.Measured.Mean > 0 {
				share := units.Ratio(v.value / out.Measured.Mean)
				r.Percent, r.MeasuredByte = p.Show.Percent(share), byteOf(share)
			}
		}
		if e.at != nil {
			depth := e.at[i]
			r.Expected, r.Predicted = &depth, depthText(p.Show, depth)
			if out.Expected.Mean > 0 {
				share := units.Ratio(float64(depth) / out.Expected.Mean)
				r.ExpectedPercent, r.ExpectedByte = p.Show.Percent(share), byteOf(share)
			}
		}
		list[i] = r
	}
	return list
}

func byteOf(share units.Ratio) *int {
	b := int(coverage.MapByte(share))
	return &b
}

// notKnown says what is missing for figures.
func notKnown(c *catches, err error) string {
	switch {
	case len(c.cans) == 0:
		return "No cans are set out yet."
	case len(c.read) == 0:
		return fmt.Sprintf("None of the %s has been read yet.", plan.Plural(len(c.cans), "can", "cans"))
	case errors.Is(err, audit.ErrFewCatches):
		return "One can says nothing of evenness: read the others."
	}
	return plan.Capital(err.Error()) + "."
}
