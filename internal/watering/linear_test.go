package watering

import (
	"context"
	"math"
	"strings"
	"testing"

	"evenfall/internal/simplex"
)

// A row or a variable that the linear program does not take is told, and not left out.
func TestWhatCannotBeARowIsTold(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(p *program){
		"cost": func(p *program) { p.variable(math.Inf(1)) },
		"most": func(p *program) { p.atMost(math.NaN(), simplex.Term{Variable: 0, Factor: 1}) },
		"row": func(p *program) {
			p.row(0, 0, 0, p.fields[0].pool[0], ask{math.Inf(1), p.q.p.count, p.lack[0]})
		},
	} {
		in := yard(3, 2, 10, week("x.x.x.."))
		q := questionOf(in, in.fields(), 6, patterns(in.Calendar.Days, 1)[0])
		p := q.program(q.parts()[0], nil, nil)
		p.has = append(p.has, map[[2]int]bool{})
		spoil(p)
		if err := p.solve(context.Background(), q.answer(), false); err == nil || !strings.Contains(err.Error(), "cannot be reckoned with") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
