package audit

import (
	"cmp"
	"math"
	"slices"

	"evenfall/internal/units"
)

// untold is what is told where no head reaches a can.
func untold(p Problem) *Fitted {
	f := &Fitted{Few: true, Sigma: p.Relative}
	if f.Sigma == 0 {
		f.Sigma = UsualNoise
	}
	for _, h := range p.Heads {
		f.Heads = append(f.Heads, beyondCans(h.ID))
	}
	f.Cans = make([]FittedCan, len(p.Catches))
	return f
}

// beyondCans is what is known of a head that brings no can water.
func beyondCans(id string) FittedHead {
	least, most := known.within()
	return FittedHead{ID: id, Verdict: Untold, Output: 1, Low: least, High: most}
}

// known is what is known of a head's output before a can is read.
var known = mixture{
	{share: 1 - lowOdds - highOdds, normal: normal{1, headVaries}},
	{share: lowOdds, normal: normal{0.45, 0.27}},
	{share: highOdds, normal: normal{1.5, 0.3}},
}

// mixture is a distribution by accounts, the shares sum to 1.
type mixture []part

type part struct {
	share float64
	normal
}

func (m mixture) under(v float64) float64 {
	s := 0.0
	for _, p := range m {
		s += p.share * p.normal.under(v)
	}
	return s
}

// at is the value with a share of the chances under it.
func (m mixture) at(share float64) float64 {
	lo, hi := 0.0, 1.0
	for range 60 { // what is reckoned with is below 2^60
		if m.under(hi) >= share {
			break
		}
		lo, hi = hi, 2*hi
	}
	for range 22 { // to a millionth of it
		mid := (lo + hi) / 2
		if m.under(mid) < share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// within are the bounds that hold it with a chance of 90 %. A lower one that is next to
// nothing is nothing, so that a dead head is within.
func (m mixture) within() (least, most float64) {
	if least = m.at(0.05); least < 0.1 {
		least = 0
	}
	return least, m.at(0.95)
}

// tell puts all accounts together.
func (y *yard) tell(p Problem, accounts []account, views []settled, fields []*field) *Fitted {
	f := &Fitted{Few: len(p.Catches) < 2*len(y.heads)}
	at := map[int]int{}
	for j, i := range y.place {
		at[i] = j
	}
	likeliest, shares := 0, make([]float64, len(levels))
	for _, a := range accounts {
		shares[a.level] += a.weight
		f.Sigma += a.weight * levels[a.level] * y.rel
	}
	if caught := average(y.caught); caught > 0 { // the noise is reckoned as a share of what was drawn
		f.Sigma *= min(max(average(y.drawn)/caught, 0.25), 4)
	}
	chances := y.chances(accounts)
	for l, s := range shares {
		if s > shares[likeliest] {
			likeliest = l
		}
	}
	f.Noisy = f.Sigma > MostNoise
	for i, h := range p.Heads {
		j, reaches := at[i]
		if !reaches {
			f.Heads = append(f.Heads, beyondCans(h.ID))
			continue
		}
		f.Heads = append(f.Heads, y.tellHead(j, chances[j], views, fields[likeliest], f.Noisy))
	}
	for g, c := range y.common {
		if len(c.heads) < 3 || g == 0 && (len(y.common) > 1 || !y.oneZone()) {
			continue
		}
		var m mixture
		for _, v := range views {
			m = append(m, part{v.share, v.common[g]})
		}
		z := FittedZone{ID: c.zone, Output: m.at(0.5)}
		z.Low, z.High = m.within()
		f.Zones = append(f.Zones, z)
	}
	slices.SortFunc(f.Zones, func(a, b FittedZone) int { return cmp.Compare(a.ID, b.ID) })
	f.Among = y.among(f.Heads, accounts)
	y.tellCans(f, accounts, views)
	return f
}

func (y *yard) oneZone() bool {
	for _, h := range y.heads {
		if h.Zone != y.heads[0].Zone {
			return false
		}
	}
	return true
}

// chance is how likely a head is at fault, by all accounts.
type chance struct{ low, high, lean, any float64 }

func (y *yard) chances(accounts []account) []chance {
	all := make([]chance, len(y.heads))
	blamed := make([]bool, len(y.heads))
	for _, a := range accounts {
		clear(blamed)
		for _, x := range a.wrong {
			s := &y.suspect[x]
			switch s.kind {
			case low:
				all[s.who].low += a.weight
			case high:
				all[s.who].high += a.weight
			case lean:
				all[s.who].lean += a.weight
			default:
				continue
			}
			if !blamed[s.who] { // it may lean and be low
				blamed[s.who] = true
				all[s.who].any += a.weight
			}
		}
	}
	return all
}

func (y *yard) tellHead(j int, c chance, views []settled, f *field, noisy bool) FittedHead {
	t := FittedHead{ID: y.heads[j].ID, LowChance: c.low, HighChance: c.high, LeanChance: c.lean, Chance: c.any}
	var outputs, tilts mixture
	east, north := 0.0, 0.0
	for i := range views {
		h, share := &views[i].heads[j], views[i].share
		outputs = append(outputs, part{share, h.own})
		if h.leaning {
			east += share * h.tilt.mean * math.Cos(h.toward)
			north += share * h.tilt.mean * math.Sin(h.toward)
			tilts = append(tilts, part{share, h.tilt})
		}
	}
	t.Output = outputs.at(0.5)
	t.Low, t.High = outputs.within()
	if c.lean > 0.5 && len(tilts) > 0 {
		t.TiltToward = units.Degrees(math.Mod(math.Atan2(north, east)*180/math.Pi+360, 360))
		t.tilt(tilts, views, j)
	}
	t.Reach = f.reach(j)
	sure := Sure
	if noisy {
		sure = SureInNoise
	}
	switch {
	case 1-c.any >= sure && t.Reach >= LeastReach:
		t.Verdict, t.Chance = Fine, 1-c.any
	case c.any < sure:
		t.Verdict = Untold
	case c.lean >= max(c.low, c.high):
		t.Verdict = Leaning
	case c.low >= c.high:
		t.Verdict = Low
	default:
		t.Verdict = High
	}
	// Sure that something is the matter, and yet no more of it than sound heads have.
	if t.Verdict == Low && t.Output > LeastFine || t.Verdict == High && t.Output < MostFine || t.Verdict == Leaning && t.TiltDeg < LeastLean {
		t.Verdict = Untold
	}
	return t
}

// tilt tells how far a head leans, of the accounts by which it does, and how sure the way
// is that is told.
func (t *FittedHead) tilt(tilts mixture, views []settled, j int) {
	all := 0.0
	for _, p := range tilts {
		all += p.share
	}
	for i := range tilts {
		tilts[i].share /= all
	}
	degrees := func(share float64) units.Degrees { return StandardTilt * units.Degrees(min(share, 1)) }
	least, most := tilts.within()
	t.TiltDeg, t.TiltLow, t.TiltHigh = degrees(tilts.at(0.5)), degrees(least), degrees(most)
	way := float64(t.TiltToward) * math.Pi / 180
	for i := range views {
		if h := &views[i].heads[j]; h.leaning && math.Cos(h.toward-way) >= math.Sqrt2/2-1e-9 {
			t.WayChance += views[i].share / all
		}
	}
}

// reach is how many standard errors half of a head's output is.
func (f *field) reach(head int) float64 {
	for x := range f.y.suspect {
		if s := &f.y.suspect[x]; s.kind == low && s.who == head {
			// Its own variation is in the field; without it the square would be this.
			own := f.square[x] / max(1-headVaries*headVaries*f.square[x], 1e-9)
			return math.Sqrt(own) / 2
		}
	}
	return 0
}

// tellCans puts catches beside what was drawn and what is found.
func (y *yard) tellCans(f *Fitted, accounts []account, views []settled) {
	f.Cans = make([]FittedCan, len(y.caught))
	for _, a := range accounts {
		for _, x := range a.wrong {
			if s := &y.suspect[x]; s.onCan() {
				f.Cans[s.who].Spilt += a.weight
			}
		}
	}
	was, left := 0.0, 0.0
	for c := range f.Cans {
		can := &f.Cans[c]
		can.Drawn = y.drawn[c]
		for i := range views {
			can.Fitted += views[i].share * views[i].cans[c]
		}
		by := 1 - can.Spilt // what tipped has nothing to explain
		was += by * square((y.caught[c]-can.Drawn)/y.noise[c])
		left += by * square((y.caught[c]-can.Fitted)/y.noise[c])
	}
	if was > 0 {
		f.Explains = min(max(1-left/was, 0), 1)
	}
}

func square(v float64) float64 { return v * v }
