package audit

// nonNegative finds the x ≥ 0 that makes ½·xᵀ·h·x − f·x least, h being positive definite:
// least squares by its normal equations without negative unknowns [5]. Free are the
// unknowns above nothing, rising is the slope of the sum at the others (not negative
// there, 0 at the free ones). It starts from all of them free, as most are.
func nonNegative(h matrix, f []float64) (x []float64, free []bool, rising []float64) {
	n := len(f)
	x, free, rising = make([]float64, n), make([]bool, n), make([]float64, n)
	for i := range free {
		free[i] = true
	}
	if full := constrained(h, f, free); least(full, free) >= 0 {
		copy(x, full)
		return x, free, rising
	}
	for i := range free {
		free[i] = false
	}
	scale := 1e-12
	for _, v := range f {
		scale = max(scale, 1e-12*max(v, -v))
	}
	// Each round frees one unknown and lowers the sum, so that no set of them comes twice;
	// the bound is only against rounding.
	for range 10*n + 10 {
		most, steepest := scale, -1
		for i := range n {
			if free[i] {
				continue
			}
			if down := f[i] - dot(h.row(i), x); down > most {
				most, steepest = down, i
			}
		}
		if steepest < 0 {
			break
		}
		free[steepest] = true
		for {
			z := constrained(h, f, free)
			if least(z, free) > 0 {
				x = z
				break
			}
			by, at := 1.0, -1
			for i := range n {
				if free[i] && z[i] <= 0 {
					a := 0.0
					if x[i] > 0 {
						a = x[i] / (x[i] - z[i])
					}
					if at < 0 || a < by {
						by, at = a, i
					}
				}
			}
			if at < 0 {
				break
			}
			for i := range n {
				if free[i] {
					x[i] += by * (z[i] - x[i])
				}
			}
			x[at], free[at] = 0, false
		}
	}
	for i := range n {
		if !free[i] {
			rising[i] = max(dot(h.row(i), x)-f[i], 0)
		}
	}
	return x, free, rising
}

// constrained solves for the free unknowns, the others being nothing.
func constrained(h matrix, f []float64, free []bool) []float64 {
	var at []int
	for i, is := range free {
		if is {
			at = append(at, i)
		}
	}
	part, v := newMatrix(len(at)), make([]float64, len(at))
	for i, a := range at {
		v[i] = f[a]
		for j, b := range at {
			part.row(i)[j] = h.row(a)[b]
		}
	}
	part.cholesky()
	part.lower(v)
	part.upper(v)
	x := make([]float64, len(f))
	for i, a := range at {
		x[a] = v[i]
	}
	return x
}

// least is the least of the free unknowns, 0 without any.
func least(x []float64, free []bool) float64 {
	lowest, any := 0.0, false
	for i, is := range free {
		if is && (!any || x[i] < lowest) {
			lowest, any = x[i], true
		}
	}
	return lowest
}
