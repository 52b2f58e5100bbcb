package proof

import (
	"context"

	"evenfall/internal/plan"
)

// Audits are all audits of a plan reckoned, in the order of AuditLines. The error is a
// sentence, or the context's.
func Audits(ctx context.Context, p *plan.Plan) ([]*Audited, error) {
	var out []*Audited
	for _, line := range AuditLines(p) {
		a, err := AuditOf(ctx, p, line.ID)
		if err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return out, nil
}
