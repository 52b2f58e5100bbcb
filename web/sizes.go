package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"

	"evenfall/internal/coverage"
	"evenfall/internal/pipesize"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// SizesView is an offer of pipe sizes in words, with the patch that takes it. A
// plan that cannot be offered any gets only the sentence.
type SizesView struct {
	Rev     int64           `json:"rev"` // of the stored plan it was made from
	Offered bool            `json:"offered"`
	Says    string          `json:"says"`
	Patch   json.RawMessage `json:"patch,omitempty"` // none: there is nothing to change
	Label   string          `json:"label"`           // of the step that takes it
	Groups  []SizeGroup     `json:"groups"`
	Changes []SizeChange    `json:"changes"`
	Before  string          `json:"before"`
	After   string          `json:"after"`
	Holds   bool            `json:"holds"`
	Checks  []SizeCheck     `json:"checks"`
	Notes   []string        `json:"notes"`
	Caution string          `json:"caution"`
}

// SizeGroup is pipes of one zone, or of the main, that change alike.
type SizeGroup struct {
	Where  string `json:"where"`
	From   string `json:"from"`
	To     string `json:"to"`
	Pipes  int    `json:"pipes"`
	Length string `json:"length"`
	Flow   string `json:"flow"`     // the greatest
	Speed  string `json:"velocity"` // likewise
}

// SizeChange is one pipe that changes.
type SizeChange struct {
	Name string `json:"name"`
	From string `json:"from"`
	To   string `json:"to"`
}

// SizeCheck is one thing that the sizes were held to.
type SizeCheck struct {
	Says string `json:"says"`
	Good bool   `json:"good"`
}

const weighing = "Weighing sizes against each other"

// sizes answers with an offer of pipe sizes for the stored plan. Nothing is
// changed by it: the page that takes the offer makes a step of its patch.
func (s *Site) sizes(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		return sizesOf(ctx, q.p, q.rev, g.stage(weighing, 1))
	})
}

func sizesOf(ctx context.Context, p *plan.Plan, rev int64, tell coverage.Progress) (*SizesView, error) {
	v := &SizesView{Rev: rev, Groups: []SizeGroup{}, Changes: []SizeChange{}, Checks: []SizeCheck{}, Notes: []string{}, Caution: pipesize.Caution}
	o, err := pipesize.Propose(ctx, p, tell)
	var no *pipesize.Refusal
	switch {
	case errors.As(err, &no):
		v.Says = no.Sentence
		return v, nil
	case errors.Is(err, pipesize.ErrLarge):
		v.Says = err.Error()
		return v, nil
	case err != nil:
		return nil, err
	}
	v.Offered, v.Says, v.Holds, v.Patch = true, o.Says, o.Holds, json.RawMessage(o.Patch)
	v.Before, v.After = o.Before.Words(p.Show), o.After.Words(p.Show)
	v.Label = "Size " + plan.Plural(len(o.Changes), "pipe", "pipes")
	v.Notes = append(v.Notes, o.Notes...)
	supply := pressure.SupplyOf(p)
	if note := sheets.SupplyNote(p, &supply); note != "" {
		v.Notes = append(v.Notes, note)
	}
	for _, c := range o.Checks {
		v.Checks = append(v.Checks, SizeCheck{c.Says, c.Good})
	}
	for _, c := range o.Changes {
		v.Changes = append(v.Changes, SizeChange{plan.Capital(c.Name), c.From, c.To})
	}
	v.Groups = append(v.Groups, groupsOf(p, o.Changes)...)
	return v, nil
}

// whereOf names the zone of a pipe, or the main.
func whereOf(p *plan.Plan, zone plan.ID) string {
	if zone == "" {
		return "Main"
	}
	return plan.Capital(p.ZoneName(zone))
}

// groupsOf puts changes that are alike into one row each, in their order.
func groupsOf(p *plan.Plan, changes []pipesize.Change) []SizeGroup {
	type key struct {
		zone     plan.ID
		from, to string
	}
	type sums struct {
		length units.Feet
		flow   units.GPM
		speed  units.FeetPerSecond
	}
	var rows []SizeGroup
	at, sum := map[key]int{}, []sums{}
	for _, c := range changes {
		k := key{c.Zone, c.From, c.To}
		i, ok := at[k]
		if !ok {
			i = len(rows)
			at[k] = i
			rows, sum = append(rows, SizeGroup{Where: whereOf(p, c.Zone), From: c.From, To: c.To}), append(sum, sums{})
		}
		rows[i].Pipes++
		sum[i] = sums{sum[i].length + c.Length, max(sum[i].flow, c.Flow), max(sum[i].speed, c.Velocity)}
	}
	for i := range rows {
		rows[i].Length, rows[i].Flow, rows[i].Speed = p.Show.Length(sum[i].length), p.Show.Flow(sum[i].flow), p.Show.Velocity(sum[i].speed)
	}
	return rows
}
