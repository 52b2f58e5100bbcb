package web

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/arrange"
	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

// newBoard puts a picture into words.
func newBoard(pic picture, rev int64) *Board {
	m := maker{p: pic.plan, d: pic.design, r: pic.design.Coverage, sys: pic.plan.Show}
	g := pic.frame
	b := &Board{
		Rev:      rev,
		Frame:    FrameView{g.Origin[0], g.Origin[1], g.Cell, g.NX, g.NY},
		Lip:      m.lip(),
		Zones:    m.zones(),
		Heads:    m.heads(),
		Barriers: m.barriers(),
		Findings: orEmpty(m.d.Findings),
		Parts:    m.d.Parts,
		Costs:    m.costs(),
		Pipes:    m.pipes(), PipeKeys: m.pipeKeys(), Pressures: m.pressures(),
		Supply: m.supply(&m.d.Pressure.Supply),
		Ground: m.ground(),
	}
	if pic.running != nil {
		m.running, m.r = pic.running, pic.running.Coverage
		b.As, b.Says = asRunning, m.runningSays()
	}
	if pic.digs {
		b.Digs = m.digs()
	}
	b.MinutesSays = zones.PeakSays(m.p, m.r)
	b.Readings, b.More, b.Areas, b.Off, b.Gaps = m.readings(), m.more(), m.areas(), m.offTarget(), m.gaps()
	return b
}

// maker makes the parts of a Board.
type maker struct {
	p *plan.Plan
	d *design.Design
	r *coverage.Result
	// running is what r is of when it is not of the drawing.
	running *design.Running
	sys     units.System
}

func (m *maker) areas() []AreaView {
	views := make([]AreaView, 0, len(m.r.Areas))
	for _, a := range m.r.Areas {
		views = append(views, AreaView{
			ID:       a.ID,
			Name:     m.p.AreaName(a.ID),
			Size:     m.sys.Area(a.AreaSqFt),
			Evenness: m.sys.Percent(a.DU),
			CU:       m.sys.Percent(a.CU),
			SC:       fmt.Sprintf("%.2f", a.SC),
			Rate:     m.sys.Rate(a.Mean),
			FlowRate: m.sys.Rate(a.FlowRate),
			Mean:     m.sys.Rate(a.Mean),
			Least:    m.sys.Rate(a.Least),
			Most:     m.sys.Rate(a.Most),
			Driest2:  m.sys.Percent(a.Driest2),
			Dry:      m.sys.Percent(a.DryShare),
			Wet:      m.sys.Percent(a.WetShare),
			TwoHeads: m.sys.Percent(a.TwoHeads),
			WithLip:  m.sys.Percent(a.WithLip.DU),
			Zones:    plan.Series(m.names("zones", a.Zones)),
		})
	}
	return views
}

func (m *maker) zones() []ZoneView {
	views := make([]ZoneView, 0, len(m.r.Zones))
	weeks := zones.PeakMinutes(m.p, m.r)
	for _, z := range m.r.Zones {
		v := ZoneView{
			ID:          z.ID,
			Name:        m.p.Zones[z.ID].Name,
			Station:     m.p.Zones[z.ID].Station,
			Heads:       z.Heads,
			Flow:        m.sys.Flow(z.FlowGPM),
			RateFlow:    m.sys.Rate(z.RateByFlow),
			RateSpacing: m.sys.Rate(z.RateBySpacing),
			RateGrid:    m.sys.Rate(z.RateByGrid),
			Plantings:   strings.Join(z.Plantings, "; "),
			Areas:       plan.Series(m.names("areas", z.Areas)),
		}
		v.Matched, v.MatchedRank = m.matched(z)
		if weeks[z.ID] > 0 {
			v.Minutes = arrange.Minutes(weeks[z.ID])
		}
		if z.Evenness != nil {
			v.Evenness = m.sys.Percent(z.Evenness.DU)
		}
		views = append(views, v)
	}
	return views
}

// matched says how far a zone's nozzles are from one rate, and how many heads are
// turned down, which is judged by itself. Figure and rank are those of the finding,
// so that table and findings never disagree.
func (m *maker) matched(z coverage.ZoneReading) (text, rank string) {
	if z.Heads < 2 {
		return "", ""
	}
	codes, zone := []string{plan.RatesMixed, plan.RotorNozzleByArc}, plan.RefTo("zones", z.ID)
	rank = m.rankAbout(codes, zone)
	accepted := slices.ContainsFunc(m.d.Findings, func(f plan.Finding) bool {
		return f.Accepted != nil && slices.Contains(codes, f.Code) && slices.Contains(f.About, zone)
	})
	text = "within " + m.sys.Percent(z.WorstOff)
	if rank != good || accepted {
		text = m.p.HeadName(z.WorstHead) + " is " + m.sys.Percent(z.WorstOff) + " off"
	}
	if accepted {
		text += ", accepted"
	}
	if z.TurnedDown > 0 {
		text += fmt.Sprintf("; %d turned down", z.TurnedDown)
	}
	return text, rank
}

// good is the rank of what nothing was found about.
const good = "good"

// rankAbout is the worst rank among the findings of some codes that are about
// any of the things; good if there is none. An accepted finding counts as none.
func (m *maker) rankAbout(codes []string, things ...plan.Ref) string {
	for _, f := range m.d.Findings { // worst first
		if f.Accepted != nil || f.Rank == plan.Notice || !slices.Contains(codes, f.Code) {
			continue
		}
		if slices.ContainsFunc(things, func(r plan.Ref) bool { return slices.Contains(f.About, r) }) {
			return string(f.Rank)
		}
	}
	return good
}

func (m *maker) heads() map[plan.ID]HeadView {
	views := make(map[plan.ID]HeadView, len(m.r.Heads))
	passed, running := m.passedBy(), m.headRuns()
	for _, h := range m.r.Heads {
		v := HeadView{
			Flow:         m.sys.Flow(h.FlowGPM),
			Throw:        m.sys.Length(h.Throw),
			TableThrow:   m.sys.Length(h.TableThrow),
			ThrowFt:      float64(h.Throw),
			TableThrowFt: float64(h.TableThrow),
			Rate:         m.sys.Rate(h.Rate),
			Pressure:     m.sys.Pressure(h.Pressure),
			OnTarget:     m.sys.Flow(h.OnTarget),
			Stopped:      m.sys.Flow(h.Stopped),
			Stops:        append(m.caught(h), passed[h.ID]...),
		}
		if h.Area != "" {
			v.Area = m.p.AreaName(h.Area)
		}
		if n := h.Nearest; n != nil {
			v.Nearest = fmt.Sprintf("%s, %s away (%s of the throw)", m.p.HeadName(n.Head), m.sys.Length(n.DistanceFt), m.sys.Percent(n.OverThrow))
		}
		if run, ok := running[h.ID]; ok {
			m.runs(&v, run)
		}
		views[h.ID] = v
	}
	return views
}

// offCodes are the findings that water off its target raises.
var offCodes = []string{plan.ThrowOnPaving, plan.BandWetted, plan.ThrowOnGround, plan.ThrowUndrawn, plan.SprayOnWall, plan.LeavesLot}

// offTarget lists where water lands off its target. As in the text report, what
// gets less than 0.05 % of all the water is left out.
func (m *maker) offTarget() []OffView {
	views := make([]OffView, 0, len(m.r.OffTarget))
	for _, o := range m.r.OffTarget {
		if o.Share < offTold {
			continue
		}
		refs := make([]plan.Ref, len(o.Heads))
		for i, id := range o.Heads {
			refs[i] = plan.RefTo("heads", id)
		}
		v := OffView{
			ID:    o.Surface,
			Name:  offName(m.p, o),
			GPM:   m.sys.Flow(o.GPM),
			Share: m.smallShare(o.Share),
			Heads: orEmpty(o.Heads),
			Rank:  m.rankAbout(offCodes, refs...),
		}
		v.Text = fmt.Sprintf("%s: %s, %s of all the water", v.Name, v.GPM, v.Share)
		views = append(views, v)
	}
	return views
}

// offName is what a surface is called in a list: an area by its own name.
func offName(p *plan.Plan, o coverage.OffTarget) string {
	if o.Kind != "" {
		return p.AreaName(o.Surface)
	}
	return plan.Capital(coverage.SurfaceName(p, o.Surface))
}

// offTold is the least share of all the water that is told by surface.
const offTold units.Ratio = 0.0005

// smallShare prints a share with a decimal where a whole percent would hide it:
// 12 %, 0.4 %.
func (m *maker) smallShare(r units.Ratio) string {
	if r < 0.0995 {
		return fmt.Sprintf("%.1f %%", 100*float64(r))
	}
	return m.sys.Percent(r)
}

func (m *maker) gaps() []GapView {
	views := make([]GapView, 0, len(m.r.Gaps))
	for _, g := range m.r.Gaps {
		rings := []orb.Ring{}
		for _, polygon := range g.Outline {
			rings = append(rings, polygon...)
		}
		views = append(views, GapView{
			Area:    g.Area,
			Text:    fmt.Sprintf("%s dry, %s", m.sys.Area(g.AreaSqFt), m.p.AreaName(g.Area)),
			At:      g.At,
			Outline: rings,
		})
	}
	return views
}

// names are the labels of things of one collection.
func (m *maker) names(collection string, ids []plan.ID) []string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = m.p.Label(plan.RefTo(collection, id))
	}
	return names
}

// orEmpty keeps a list that is not there from becoming null.
func orEmpty[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
