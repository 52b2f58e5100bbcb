package audit

import (
	"context"
	"math"
	"slices"
)

// How widely sets of faults are sought. Chosen: wider changes no verdict of the tests.
const (
	kept      = 32  // sets of a size that are added to, of the smallest sizes
	keptOfAll = 200 // suspicions in all sets of a size that are added to
	hopeless  = 7.0 // a set whose logarithm is that far below the best is not added to
)

// levels are the noises that are reckoned with, over the usual. Chosen: the steps are
// finer than what 24 catches tell of their noise.
var levels = []float64{0.5, 0.7, 1, 1.4, 2, 2.8, 4, 5.6}

// usualLevel is the one of the usual noise.
const usualLevel = 2

// logLevel is the logarithm of the chance of a level before a can is read: a distribution
// of Student's about the usual one, for a gusty day is not so rare as a normal one has it.
// Chosen.
func logLevel(level int) float64 {
	stray := math.Log(levels[level]) / 0.35
	return -1.5 * math.Log(1+stray*stray/3)
}

// account is one way to explain the catches: what is wrong, at which noise.
type account struct {
	level  int
	wrong  []int   // suspicions, in order
	weight float64 // logarithm of its chance, all constants left out
}

// field is a yard at one level of noise. Products of patterns are over the variance of the
// catches without anything wrong, so that they say how well two can be told apart.
type field struct {
	y      *yard
	level  int
	sharp  matrix      // that variance, inverted
	start  float64     // weight of nothing wrong
	rows   [][]float64 // products of a pattern with all, made as they are asked for
	hit    []float64   // product of each pattern with caught less drawn
	square []float64   // and with itself
}

func newField(y *yard, level int) *field {
	f := &field{y: y, level: level}
	n := len(y.caught)
	varies := y.variance(levels[level])
	for _, s := range y.common {
		varies.addOuter(s.spread*s.spread, s.pattern)
	}
	for _, h := range y.heads {
		varies.addOuter(headVaries*headVaries, h.Upright)
	}
	f.sharp = varies.inverse() // leaves the root
	off := make([]float64, n)
	for c, v := range y.caught {
		off[c] = v - y.drawn[c]
	}
	pull := make([]float64, n)
	f.start = logLevel(level)
	for i := range n {
		pull[i] = dot(f.sharp.row(i), off)
		f.start -= pull[i]*off[i]/2 + math.Log(varies.row(i)[i])
	}
	f.hit, f.square = make([]float64, len(y.suspect)), make([]float64, len(y.suspect))
	for x := range y.suspect {
		s := &y.suspect[x]
		f.hit[x] = s.over(pull)
		for _, c := range s.cans {
			f.square[x] += s.pattern[c] * s.over(f.sharp.row(c))
		}
	}
	f.rows = make([][]float64, len(y.suspect))
	return f
}

// over is the product of its pattern with v.
func (s *suspicion) over(v []float64) float64 {
	sum := 0.0
	for _, c := range s.cans {
		sum += s.pattern[c] * v[c]
	}
	return sum
}

// variance is that of the catches by noise and by the small leans of heads as they are
// set, at a level of noise.
func (y *yard) variance(level float64) matrix {
	v := newMatrix(len(y.caught))
	for c, s := range y.noise {
		v.row(c)[c] = level * level * s * s
	}
	tilt := tiltVaries / float64(StandardTilt)
	for _, h := range y.heads {
		for k := range h.Leaning {
			// The squares of the cosines of evenly spread directions come to half of them.
			v.addOuter(tilt*tilt*2/float64(len(h.Leaning)), leaned(h, k))
		}
	}
	return v
}

// product is the row of a suspicion.
func (f *field) product(x int) []float64 {
	if f.rows[x] == nil {
		s, pull := &f.y.suspect[x], make([]float64, f.sharp.n)
		for _, c := range s.cans {
			for i, v := range f.sharp.row(c) {
				pull[i] += s.pattern[c] * v
			}
		}
		f.rows[x] = make([]float64, len(f.y.suspect))
		for o := range f.y.suspect {
			f.rows[x][o] = f.y.suspect[o].over(pull)
		}
	}
	return f.rows[x]
}

// set is an account being added to: what is left open of the amounts of its faults.
type set struct {
	wrong  []int
	spread matrix    // covariance of their amounts
	amount []float64 // their means
	weight float64
}

// seek finds the likeliest sets of faults, of any size: from nothing wrong, the best sets
// of a size with one suspicion more, as long as that makes likelier ones. What leave is
// true of is not suspected.
func (f *field) seek(ctx context.Context, leave func(*suspicion) bool) ([]account, error) {
	sets := []set{{weight: f.start}}
	accounts := []account{{f.level, nil, f.start}}
	best := f.start
	most := min(len(f.y.heads), len(f.y.caught)/2)
	var more []added
	for size := 1; size <= most && len(sets) > 0; size++ {
		more = more[:0]
		for i := range sets {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			more = f.offers(more, &sets[i], i, best-hopeless, leave)
		}
		var next []set
		seen := map[string]bool{}
		for a := range likeliest(more) {
			if len(next) == min(kept, max(keptOfAll/size, 2)) || a.weight < best-hopeless {
				break
			}
			wrong := slices.Sorted(slices.Values(append(slices.Clone(sets[a.to].wrong), a.what)))
			key := keyOf(wrong)
			if seen[key] {
				continue
			}
			seen[key] = true
			s := f.weigh(wrong)
			next = append(next, s)
			accounts = append(accounts, account{f.level, wrong, s.weight})
			best = max(best, s.weight)
		}
		sets = next
	}
	return accounts, nil
}

func keyOf(wrong []int) string {
	key := make([]byte, 0, 3*len(wrong))
	for _, x := range wrong {
		key = append(key, byte(x), byte(x>>8), byte(x>>16))
	}
	return string(key)
}

// offers appends what may be added to a set, of weight at least.
func (f *field) offers(more []added, s *set, to int, least float64, leave func(*suspicion) bool) []added {
	m := len(s.wrong)
	rows := make([][]float64, m)
	for i, x := range s.wrong {
		rows[i] = f.product(x)
	}
	along := make([]float64, m)
candidates:
	for x := range f.y.suspect {
		c := &f.y.suspect[x]
		if leave != nil && leave(c) {
			continue
		}
		for _, o := range s.wrong {
			if o == x || !c.with(&f.y.suspect[o]) {
				continue candidates
			}
		}
		for i := range rows {
			along[i] = rows[i][x]
		}
		own, hit := f.square[x], f.hit[x]
		for i := range along {
			own -= along[i] * dot(s.spread.row(i), along)
			hit -= along[i] * s.amount[i]
		}
		if gain, enough := c.gain(max(own, 0), hit, least-s.weight); enough {
			more = append(more, added{to, x, s.weight + gain})
		}
	}
	return more
}

// gain is what a suspicion adds to the logarithm of a chance, own being its pattern's
// square and hit its product with what is unexplained, both beside what is suspected
// already; and whether that is enough. What it costs is only worked out while it may be.
func (s *suspicion) gain(own, hit, least float64) (gain float64, enough bool) {
	prior := 1 / (s.spread * s.spread)
	sharp := prior + own
	pull := s.mean*prior + hit
	gain = s.odds + pull*pull/sharp/2 - s.mean*s.mean*prior/2
	if gain < least {
		return gain, false
	}
	if gain -= math.Log(sharp/prior) / 2; gain < least {
		return gain, false
	}
	gain += logNormal(s.sign() * pull / math.Sqrt(sharp))
	return gain, gain >= least
}

// weigh works out a set of suspicions from nothing.
func (f *field) weigh(wrong []int) set {
	m := len(wrong)
	s := set{wrong: wrong, weight: f.start}
	sharp, pull := newMatrix(m), make([]float64, m)
	for i, x := range wrong {
		c, row := &f.y.suspect[x], f.product(x)
		for j, o := range wrong {
			sharp.row(i)[j] = row[o]
		}
		prior := 1 / (c.spread * c.spread)
		sharp.row(i)[i] += prior
		pull[i] = c.mean*prior + f.hit[x]
		s.weight += c.odds - c.mean*c.mean*prior/2 + math.Log(prior)/2
	}
	s.spread = sharp.inverse() // leaves the root
	s.amount = make([]float64, m)
	for i := range m {
		s.amount[i] = dot(s.spread.row(i), pull)
		s.weight -= math.Log(sharp.row(i)[i])
	}
	s.weight += dot(s.amount, pull) / 2
	for i, x := range wrong {
		s.weight += logNormal(f.y.suspect[x].sign() * s.amount[i] / math.Sqrt(s.spread.row(i)[i]))
	}
	return s
}
