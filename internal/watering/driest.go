package watering

// driest finds the driest share of cells by what each got, by selection and not by
// sorting: every cell has the same weight, and the one on the border counts in part, so
// that the share is exact (agronomy 0, no. 3). order is permuted so that the first
// `whole` cells are in it and the next one by `part`.
func driest(water []float64, order []int32, share float64) (whole int, part float64) {
	exact := share * float64(len(water))
	whole = min(int(exact), len(water))
	part = exact - float64(whole)
	for i := range order {
		order[i] = int32(i)
	}
	if whole < len(water) {
		selectCell(water, order, whole)
	}
	return whole, part
}

// selectCell permutes order so that its k-th cell is where sorting would have put it,
// no wetter ones before and no drier ones after.
func selectCell(water []float64, order []int32, k int) {
	low, high := 0, len(order)-1
	for low < high {
		middle := median(water[order[low]], water[order[(low+high)/2]], water[order[high]])
		i, j := low, high
		for i <= j {
			for water[order[i]] < middle {
				i++
			}
			for water[order[j]] > middle {
				j--
			}
			if i <= j {
				order[i], order[j] = order[j], order[i]
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
			return
		}
	}
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

// driestMean is the mean of the driest share of what cells got, which it permutes. It
// does what driest and meanOf do where which cells they are is not asked, in half the time.
func driestMean(water []float64, share float64) float64 {
	exact := share * float64(len(water))
	whole := min(int(exact), len(water))
	if whole < len(water) {
		selectValue(water, whole)
	}
	sum := 0.0
	for _, v := range water[:whole] {
		sum += v
	}
	if whole < len(water) {
		sum += (exact - float64(whole)) * water[whole]
	}
	return sum / exact
}

// selectValue permutes values so that the k-th is where sorting would have put it, no
// greater ones before and no smaller ones after.
func selectValue(v []float64, k int) {
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
			return
		}
	}
}
