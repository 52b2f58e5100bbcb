package coverage

// mean is the mean rate in units of the grid.
func (h *histogram) mean() float64 {
	if h.total == 0 {
		return 0
	}
	return h.sum / float64(h.total)
}

// lowest is the mean rate of the driest share of the ground; the cell that the
// share ends in counts by the part of it that is needed.
func (h *histogram) lowest(share float64) float64 {
	need := share * float64(h.total)
	if !(need > 0) {
		return 0
	}
	var buf [smear]atom
	got, sum := 0.0, 0.0
	for _, b := range h.bins {
		w := float64(b.weight)
		if got+w <= need {
			got += w
			sum += w*h.low(b) + float64(b.excess)
			continue
		}
		for _, a := range h.atoms(b, buf[:]) {
			take := min(a.weight, need-got)
			got += take
			sum += take * a.rate
			if got >= need {
				return sum / need
			}
		}
	}
	return sum / max(got, 1)
}

// under is the weight of the ground below a rate, and what it falls short of
// that rate in all. Ground at exactly the rate is not below it.
func (h *histogram) under(rate float64) (weight, short float64) {
	var buf [smear]atom
	for _, b := range h.bins {
		low := h.low(b)
		if low >= rate {
			break
		}
		if low+float64(int64(1)<<h.shift) <= rate {
			w := float64(b.weight)
			weight += w
			short += w*(rate-low) - float64(b.excess)
			continue
		}
		for _, a := range h.atoms(b, buf[:]) {
			if a.rate < rate {
				weight += a.weight
				short += a.weight * (rate - a.rate)
			}
		}
	}
	return weight, short
}

// lowQuarter is DU, the mean of the driest quarter over the mean [3]; 0 when no
// water falls.
func (h *histogram) lowQuarter() float64 { return ratio(h.lowest(0.25), h.mean()) }

// christiansen is CU [4]: one less the mean distance from the mean over the
// mean. What falls short below the mean is half of all distances.
func (h *histogram) christiansen() float64 {
	m := h.mean()
	if m == 0 {
		return 0
	}
	_, short := h.under(m)
	return 1 - 2*short/(float64(h.total)*m)
}

// ratio is a/b, 0 when b is 0.
func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}
