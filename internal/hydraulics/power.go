package hydraulics

import "math"

// raise is x^0.852 for x > 0, several times as fast as math.Pow and alike to
// 4e-15: x is 2^e·c·(1+r), c one of 256 middles between 1 and 2, |r| at most
// 1/512, so that the powers of 2^e and c come from tables and that of 1+r from
// five terms of its series.
func raise(x float64) float64 {
	const middles = 8 // bits
	bits := math.Float64bits(x)
	e := int(bits>>52) - 1023 + powerSpan
	if e < 0 || e > 2*powerSpan {
		return math.Pow(x, flowPower-1)
	}
	i := bits >> (52 - middles) & (1<<middles - 1)
	m := math.Float64frombits(bits&(1<<52-1) | 1023<<52)
	r := (m - powers.middle[i]) * powers.inverse[i]
	series := 1 + r*(series1+r*(series2+r*(series3+r*(series4+r*series5))))
	return powers.ofTwo[e] * powers.ofMiddle[i] * series
}

// The series of (1+r)^0.852.
const (
	series1 = flowPower - 1
	series2 = series1 * (series1 - 1) / 2
	series3 = series2 * (series1 - 2) / 3
	series4 = series3 * (series1 - 3) / 4
	series5 = series4 * (series1 - 4) / 5

	powerSpan = 64 // the tables hold 2^-64 to 2^64
)

type powerTables struct {
	middle, inverse, ofMiddle [256]float64
	ofTwo                     [2*powerSpan + 1]float64
}

var powers = func() *powerTables {
	var t powerTables
	for i := range t.middle {
		t.middle[i] = 1 + (float64(i)+0.5)/256
		t.inverse[i] = 1 / t.middle[i]
		t.ofMiddle[i] = math.Pow(t.middle[i], flowPower-1)
	}
	for i := range t.ofTwo {
		t.ofTwo[i] = math.Pow(2, float64(i-powerSpan)*(flowPower-1))
	}
	return &t
}()
