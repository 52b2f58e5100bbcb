package web

import (
	"fmt"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// barriers says what streams do at walls, fences and hedges.
func (m *maker) barriers() map[plan.ID][]StreamView {
	views := make(map[plan.ID][]StreamView, len(m.r.Barriers))
	for _, b := range m.r.Barriers {
		list := make([]StreamView, 0, len(b.Heads))
		for _, c := range b.Heads {
			text := m.p.Label(plan.RefTo("heads", c.Head)) + ": " + m.stream(b, c)
			list = append(list, StreamView{c.Head, c.Does, text})
		}
		views[b.ID] = list
	}
	return views
}

// stream is what one stream does at a barrier: "passes, 4' 1\" up or more over the
// 3' hedge".
func (m *maker) stream(b coverage.BarrierReading, c coverage.Clearance) string {
	top := m.sys.Length(b.TopFt) + " " + m.barrierNoun(b.ID)
	least, most := m.sys.Length(c.LeastFt), m.sys.Length(c.MostFt)
	loses := "loses " + m.lost(c.Lost)
	switch c.Does {
	case coverage.StreamPasses:
		return fmt.Sprintf("passes, %s up or more over the %s", least, top)
	case coverage.StreamPartly:
		return fmt.Sprintf("passes in part and %s: %s to %s up along the %s", loses, least, most, top)
	default:
		return fmt.Sprintf("stopped, %s: %s up at the most at the %s", loses, most, top)
	}
}

// lost is the water of a head that is stopped, a share of its flow.
func (m *maker) lost(share units.Ratio) string { return m.smallShare(share) + " of its water" }

func (m *maker) barrierNoun(id plan.ID) string {
	if kind := m.p.Barriers[id].Kind; kind != "" {
		return string(kind)
	}
	return string(plan.Fence)
}

// caught lists what stops a head's water, most first.
func (m *maker) caught(h coverage.HeadReading) []string {
	var list []string
	for _, c := range h.Caught {
		list = append(list, fmt.Sprintf("%s stops %s", m.p.Label(c.By), m.lost(c.Share)))
	}
	return list
}

// passedBy lists the barriers that heads pass over untouched, by head.
func (m *maker) passedBy() map[plan.ID][]string {
	by := map[plan.ID][]string{}
	for _, b := range m.r.Barriers {
		for _, c := range b.Heads {
			if c.Does == coverage.StreamPasses {
				by[c.Head] = append(by[c.Head], fmt.Sprintf("Passes %s, %s up or more over its %s",
					m.p.Label(plan.RefTo("barriers", b.ID)), m.sys.Length(c.LeastFt), m.sys.Length(b.TopFt)))
			}
		}
	}
	return by
}
