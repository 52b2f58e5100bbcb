package hydraulics

import "slices"

// factor solves the symmetric equations of a network, A x = b, by LDLᵀ. The order
// of elimination and the places of all entries are found once; numbers are then
// put in as often as need be. Nodes of least degree go first, so that a tree
// fills in nothing.
type factor struct {
	place []int // of a node in the order of elimination
	node  []int // the inverse
	off   []int // entry of each link in below

	first []int32   // of each column in rows and below
	rows  []int32   // places after the column's, in rising order
	below []float64 // entries under the diagonal: of A, then of L
	diag  []float64 // of A, then of D

	// spread is where each pair of entries of a column lands when the column is
	// eliminated, column by column, pairs in order.
	spread []int32
}

func newFactor(n *Network) *factor {
	size := len(n.Nodes)
	f := &factor{place: make([]int, size), node: make([]int, 0, size), off: make([]int, len(n.Links)), diag: make([]float64, size)}
	later := f.eliminate(n)

	f.first = make([]int32, size+1)
	for k, v := range f.node {
		for i, w := range later[v] {
			later[v][i] = int32(f.place[w])
		}
		slices.Sort(later[v])
		f.rows = append(f.rows, later[v]...)
		f.first[k+1] = int32(len(f.rows))
	}
	f.below = make([]float64, len(f.rows))
	for k := range f.node {
		column := f.rows[f.first[k]:f.first[k+1]]
		for i, a := range column {
			for _, b := range column[i+1:] {
				f.spread = append(f.spread, f.entry(int(a), b))
			}
		}
	}
	for i, l := range n.Links {
		a, b := f.place[l.From], f.place[l.To]
		f.off[i] = int(f.entry(min(a, b), int32(max(a, b))))
	}
	return f
}

// entry is the index of a row in a column.
func (f *factor) entry(column int, row int32) int32 {
	i, ok := slices.BinarySearch(f.rows[f.first[column]:f.first[column+1]], row)
	if !ok {
		panic("hydraulics: an entry that elimination did not make")
	}
	return f.first[column] + int32(i)
}

// eliminate orders the nodes, those with the fewest neighbours left first, and
// returns for each the neighbours it had when its turn came.
func (f *factor) eliminate(n *Network) [][]int32 {
	size := len(n.Nodes)
	degree := make([]int, size)
	for _, l := range n.Links {
		degree[l.From]++
		degree[l.To]++
	}
	near, room := make([][]int32, size), make([]int32, 2*len(n.Links))
	for i, d := range degree {
		near[i], room = room[:0:d], room[d:]
	}
	for _, l := range n.Links {
		meet(near, int32(l.From), int32(l.To))
	}

	// waiting holds the nodes by degree; what was put in under a degree that has
	// changed since is passed over.
	waiting := make([][]int32, size+1)
	for i := size - 1; i >= 0; i-- {
		waiting[len(near[i])] = append(waiting[len(near[i])], int32(i))
	}
	done := make([]bool, size)
	for d := 0; len(f.node) < size; {
		last := len(waiting[d]) - 1
		if last < 0 {
			d++
			continue
		}
		v := waiting[d][last]
		waiting[d] = waiting[d][:last]
		if done[v] || len(near[v]) != d {
			continue
		}
		done[v], f.place[v] = true, len(f.node)
		f.node = append(f.node, int(v))
		for i, a := range near[v] {
			at := slices.Index(near[a], v)
			near[a][at] = near[a][len(near[a])-1]
			near[a] = near[a][:len(near[a])-1]
			for _, b := range near[v][:i] {
				meet(near, a, b)
			}
		}
		for _, a := range near[v] {
			waiting[len(near[a])] = append(waiting[len(near[a])], a)
			d = min(d, len(near[a]))
		}
	}
	return near
}

// meet makes two nodes neighbours, once.
func meet(near [][]int32, a, b int32) {
	if !slices.Contains(near[a], b) {
		near[a], near[b] = append(near[a], b), append(near[b], a)
	}
}

// clear makes A nothing.
func (f *factor) clear() {
	clear(f.below)
	clear(f.diag)
}

// add puts a link of conductance g into A.
func (f *factor) add(link int, l *Link, g float64) {
	f.below[f.off[link]] -= g
	f.diag[f.place[l.From]] += g
	f.diag[f.place[l.To]] += g
}

// decompose turns A into L and D, and says whether A was positive definite.
func (f *factor) decompose() bool {
	pair := 0
	for k, d := range f.diag {
		if !(d > 0) {
			return false
		}
		column := f.below[f.first[k]:f.first[k+1]]
		rows := f.rows[f.first[k]:f.first[k+1]]
		for i, v := range column {
			l := v / d
			f.diag[rows[i]] -= l * v
			for _, w := range column[i+1:] {
				f.below[f.spread[pair]] -= l * w
				pair++
			}
			column[i] = l
		}
	}
	return true
}

// solve replaces b, in the order of the nodes' places, by x.
func (f *factor) solve(b []float64) {
	for k := range b {
		for e := f.first[k]; e < f.first[k+1]; e++ {
			b[f.rows[e]] -= f.below[e] * b[k]
		}
	}
	for k := len(b) - 1; k >= 0; k-- {
		v := b[k] / f.diag[k]
		for e := f.first[k]; e < f.first[k+1]; e++ {
			v -= f.below[e] * b[f.rows[e]]
		}
		b[k] = v
	}
}
