package watering

// driest finds the driest share of cells by what each got, by selection and not by
// sorting: every cell has the same weight, and the one on the border counts in part, so
// that the share is exact (agronomy 0, no. 3). order, as long as water, is set so that
// its first `whole` cells are in it and the next one by `part`; of cells on the border
// the first are. scratch is as long as water too.
func driest(water, scratch []float64, order []int32, share float64) (whole int, part float64) {
	exact := share * float64(len(water))
	whole = min(int(exact), len(water))
	part = exact - float64(whole)
	copy(scratch, water)
	border := selected(scratch, min(whole, len(water)-1))
	n := 0
	for c, v := range water {
		if v < border {
			order[n] = int32(c)
			n++
		}
	}
	for c, v := range water {
		if v == border && n <= whole && n < len(order) {
			order[n] = int32(c)
			n++
		}
	}
	return whole, part
}

// driestMean is the mean of the driest share of what cells got, which it permutes. It
// does what driest and meanOf do where which cells they are is not asked.
func driestMean(water []float64, share float64) float64 {
	exact := share * float64(len(water))
	whole := min(int(exact), len(water))
	sum := 0.0
	if whole < len(water) {
		sum = (exact - float64(whole)) * selected(water, whole)
	}
	for _, v := range water[:whole] {
		sum += v
	}
	return sum / exact
}

// selected permutes values so that the k-th is where sorting would have put it, no
// greater ones before and no smaller ones after, and gives it.
func selected(v []float64, k int) float64 {
	low, high := 0, len(v)-1
	for low < high {
		middle := median(v[low], v[(low+high)/2], v[high])
		i, j := low, high
		for i <= j {
			for v[i] < middle {
				i++
			}
			for v[j] > middle {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			high = j
		case k >= i:
			low = i
		default:
			return v[k]
		}
	}
	return v[k]
}

func median(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }

// meanOf is the mean of a figure of each cell over the driest share as driest left it.
func meanOf[T float32 | float64](figure []T, order []int32, whole int, part float64) float64 {
	sum := 0.0
	for _, c := range order[:whole] {
		sum += float64(figure[c])
	}
	if part > 0 && whole < len(order) {
		sum += part * float64(figure[order[whole]])
	}
	return sum / (float64(whole) + part)
}
