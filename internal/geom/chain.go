package geom

// chain finds where segments of rings meet. The segments of a ring in their
// order are a natural tree: a run of neighbours lies in a small box, so two runs
// whose boxes are apart need no closer look. A drawn outline of n segments takes
// about n·log n looks; only contrived ones come near n².
//
//	       ┌──── box of 0..7 ────┐
//	  ┌── 0..3 ──┐          ┌── 4..7 ──┐
//	0..1       2..3       4..5       6..7
type chain struct {
	ring  []spot
	boxes []box // boxes[1] holds all; the children of k are 2k and 2k+1
	size  int   // leaves of the full tree: a power of two
}

type box struct{ x0, y0, x1, y1 int64 }

var noBox = box{x0: 1 << 62, y0: 1 << 62, x1: -1 << 62, y1: -1 << 62}

func (b box) with(c box) box {
	return box{min(b.x0, c.x0), min(b.y0, c.y0), max(b.x1, c.x1), max(b.y1, c.y1)}
}

func (b box) apart(c box) bool {
	return b.x1 < c.x0 || c.x1 < b.x0 || b.y1 < c.y0 || c.y1 < b.y0
}

func newChain(ring []spot) *chain {
	c := &chain{ring: ring, size: 1}
	for c.size < len(ring) {
		c.size *= 2
	}
	c.boxes = make([]box, 2*c.size)
	for i := range c.size {
		b := noBox
		if i < len(ring) {
			p, q := c.segment(i)
			b = box{min(p.x, q.x), min(p.y, q.y), max(p.x, q.x), max(p.y, q.y)}
		}
		c.boxes[c.size+i] = b
	}
	for k := c.size - 1; k > 0; k-- {
		c.boxes[k] = c.boxes[2*k].with(c.boxes[2*k+1])
	}
	return c
}

// segment is the ith side; the last one closes the ring.
func (c *chain) segment(i int) (a, b spot) {
	if i+1 == len(c.ring) {
		return c.ring[i], c.ring[0]
	}
	return c.ring[i], c.ring[i+1]
}

// selfContact returns two segments i < j that meet other than at the corner
// that neighbours share. A crossing is preferred over a touch, because that is
// what the user sees first.
func (c *chain) selfContact() (i, j int, kind contact) {
	found := hit{}
	c.within(1, &found)
	return found.i, found.j, found.kind
}

type hit struct {
	i, j int
	kind contact
}

func (h *hit) done() bool { return h.kind == cross }

// within compares the segments below node k with one another.
func (c *chain) within(k int, h *hit) {
	if k >= c.size || h.done() {
		return
	}
	c.within(2*k, h)
	c.within(2*k+1, h)
	c.between(c, 2*k, 2*k+1, h)
}

// between compares the segments below node k of c with those below node m of
// other, which may be c itself.
func (c *chain) between(other *chain, k, m int, h *hit) {
	if h.done() || c.boxes[k].apart(other.boxes[m]) {
		return
	}
	kLeaf, mLeaf := k >= c.size, m >= other.size
	switch {
	case kLeaf && mLeaf:
		c.compare(other, k-c.size, m-other.size, h)
	case kLeaf:
		c.between(other, k, 2*m, h)
		c.between(other, k, 2*m+1, h)
	default:
		c.between(other, 2*k, m, h)
		c.between(other, 2*k+1, m, h)
	}
}

func (c *chain) compare(other *chain, i, j int, h *hit) {
	n := len(c.ring)
	if c == other && (j == i+1 || (i == 0 && j == n-1)) {
		return // neighbours: spikeFault has looked at them
	}
	a, b := c.segment(i)
	p, q := other.segment(j)
	kind := contactOf(a, b, p, q)
	if kind == cross || (kind != apart && h.kind == apart) {
		*h = hit{i, j, kind}
	}
}

// contactWith returns the first contact of the two rings.
func (c *chain) contactWith(other *chain) (i, j int, kind contact) {
	h := hit{}
	if len(c.ring) > 0 && len(other.ring) > 0 {
		c.between(other, 1, 1, &h)
	}
	return h.i, h.j, h.kind
}
