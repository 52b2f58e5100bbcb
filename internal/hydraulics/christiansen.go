package hydraulics

import "math"

// OutletsFactor is what a line with n equal outlets at equal distances loses, of
// what it would lose if all its flow went to the end: Christiansen's F for friction
// that goes by the flow to the power 1.852. It is the exact sum, the first outlet
// a whole distance from the inlet.
func OutletsFactor(n int) float64 {
	sum := 0.0
	for i := 1; i <= n; i++ {
		sum += math.Pow(float64(i)/float64(n), flowPower)
	}
	return sum / float64(max(n, 1))
}

// OutletsFactorFormula is the closed form of the same (Christiansen 1942), close
// to the sum from two outlets on; 1 for one.
func OutletsFactorFormula(n int) float64 {
	if n <= 1 {
		return 1
	}
	m, k := flowPower, float64(n)
	return 1/(m+1) + 1/(2*k) + math.Sqrt(m-1)/(6*k*k)
}

// HalfSpacingFactor is the factor where the first outlet stands half a distance
// from the inlet (Jensen and Fratini 1957); 1 for one.
func HalfSpacingFactor(n int) float64 {
	if n <= 1 {
		return 1
	}
	m, k := flowPower, float64(n)
	return 2 * k / (2*k - 1) * (1/(m+1) + math.Sqrt(m-1)/(6*k*k))
}
