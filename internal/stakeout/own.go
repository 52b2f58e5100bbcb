package stakeout

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// own proposes stakes that the crew sets where a plan has fewer than two fixed points: a
// line of its own beside everything, long enough for tapes from its ends to cross well.
func (w *work) own(targets []Target) {
	if len(w.g.spots) > 1 {
		return
	}
	var all orb.MultiPoint
	for _, t := range targets {
		all = append(all, t.At)
	}
	box := all.Bound()
	side := max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
	long := min(max(math.Ceil(1.1*side), 20), float64(Reach))
	mid := box.Center()
	sin, cos := math.Sincos(float64(w.p.Site.NorthDeg) * math.Pi / 180)
	aside := side/2 + 0.25*long
	a := orb.Point{mid[0] - cos*long/2 + sin*aside, mid[1] - sin*long/2 - cos*aside}
	if len(w.g.spots) == 1 {
		a = w.g.spots[0].at
	} else {
		w.g.spot(a, "stake that you set first", "", ofStake)
	}
	b := orb.Point{a[0] + cos*long, a[1] + sin*long}
	w.g.spot(b, "stake that you set "+w.p.Show.Length(lengthOf(long))+" "+w.p.Compass(a, b)+" of it", "", ofStake)
	first, second := w.point(0), w.point(1)
	p, q := w.s.Points[first], w.s.Points[second]
	if p.Own {
		w.s.Own = fmt.Sprintf("Nothing fixed is drawn: no building, paving, fence or lot that is there before the work. Set stake %s at the lower left of the yard and stake %s %s due %s of it by compass, then measure from them. Walk all the flags before you dig: the yard itself has to agree.",
			p.Letter, q.Letter, w.p.Show.Length(lengthOf(long)), w.p.Compass(a, b))
		return
	}
	w.s.Own = fmt.Sprintf("Only one fixed point is drawn: %s, the %s. Set stake %s %s due %s of it by compass, then measure from both. Walk all the flags before you dig: the yard itself has to agree.",
		p.Letter, p.Name, q.Letter, w.p.Show.Length(lengthOf(long)), w.p.Compass(a, b))
}

// fromFlags places what sees too few fixed points from flags that were placed by those,
// and tells what is left.
func (w *work) fromFlags(later []Target) {
	if len(later) == 0 {
		return
	}
	for _, f := range w.s.Flags {
		w.g.spots = append(w.g.spots, spot{at: f.At, name: "flag " + f.Tag, of: f.Of, rank: ofFlag, tag: f.Tag})
		_ = w.tree.Add(planted{f.At, len(w.g.spots) - 1})
	}
	for _, t := range later {
		if !w.place(t) {
			w.s.Left = append(w.s.Left, Left{Of: t.Of, Tag: t.Tag, What: t.What, At: t.At, Why: w.why(t)})
		}
	}
}
