package plan

import (
	"cmp"
	"maps"
	"slices"

	"github.com/paulmach/orb"
)

// Found is a finding of the given code with its fixed words and usual rank. It
// panics for a code that Rules does not hold.
func Found(code, sentence string, about ...Ref) Finding {
	r, ok := Rules[code]
	if !ok {
		panic("plan: no rule has the code " + code)
	}
	about = slices.Clone(about)
	slices.Sort(about)
	return Finding{
		Code: code, Rank: r.Rank, Title: r.Title, Sentence: sentence,
		Why: r.Why, Do: r.Do, Source: r.Source, About: slices.Compact(about),
	}
}

// Ranked returns the finding with another rank than the usual one.
func (f Finding) Ranked(r Rank) Finding { f.Rank = r; return f }

// Looking returns the finding with the place to look at.
func (f Finding) Looking(at orb.Point) Finding { f.At = &at; return f }

// Measured returns the finding with a value added: its name carries its unit.
func (f Finding) Measured(name string, value float64) Finding {
	values := maps.Clone(f.Values)
	if values == nil {
		values = map[string]float64{}
	}
	values[name] = value
	f.Values = values
	return f
}

// RefTo points at the thing id of a collection ("heads", "zones", "areas" …).
func RefTo(collection string, id ID) Ref { return Ref(collection + "/" + string(id)) }

// ID is the id part of the reference.
func (r Ref) ID() ID {
	_, id := r.Split()
	return id
}

// Accept marks each finding that the plan's user has accepted, and makes it a
// note. An acceptance holds for a finding of its code that is about nothing
// else than what was accepted and of no worse rank: moving a head by a foot
// leaves it, a third head turned down too far is news, and so is spacing worth
// mending that has become wrong. Among several that hold, the one with the least
// id counts.
func Accept(p *Plan, findings []Finding) []Finding {
	out := slices.Clone(findings)
	ids := SortedIDs(p.Accepted)
	for i, f := range out {
		for _, id := range ids {
			if a := p.Accepted[id]; a.Code == f.Code && a.covers(f.About) && !worse(f.Rank, a.Rank) {
				out[i].Accepted, out[i].Rank = &a, Notice
				break
			}
		}
	}
	return out
}

// worse reports whether a rank is worse than the one accepted, if that is known.
func worse(r, accepted Rank) bool {
	return accepted != "" && slices.Index(ranks, string(r)) < slices.Index(ranks, string(accepted))
}

func (a Accepted) covers(about []Ref) bool {
	if len(about) == 0 {
		return len(a.About) == 0
	}
	for _, r := range about {
		if !slices.Contains(a.About, r) {
			return false
		}
	}
	return true
}

// SortFindings orders findings for reading: worst rank first, accepted ones
// last, then by code, by what they are about and by place.
func SortFindings(findings []Finding) {
	slices.SortStableFunc(findings, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(btoi(a.Accepted != nil), btoi(b.Accepted != nil)),
			cmp.Compare(slices.Index(ranks, string(a.Rank)), slices.Index(ranks, string(b.Rank))),
			cmp.Compare(Rules[a.Code].Row, Rules[b.Code].Row),
			cmp.Compare(a.Code, b.Code),
			slices.Compare(a.About, b.About),
			byPlace(a.At, b.At),
			cmp.Compare(a.Sentence, b.Sentence),
		)
	})
}

// byPlace orders places from west to east, then south to north; none first.
func byPlace(a, b *orb.Point) int {
	switch {
	case a == nil || b == nil:
		return cmp.Compare(btoi(a != nil), btoi(b != nil))
	default:
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
