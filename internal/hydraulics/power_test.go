package hydraulics

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestRaiseIsThePower(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 200_000 {
		x := math.Exp2(160*r.Float64() - 80)
		want := math.Pow(x, 0.852)
		if got := raise(x); math.Abs(got-want) > 4e-15*want {
			t.Fatalf("%g^0.852 is %.17g, want %.17g", x, got, want)
		}
	}
	for _, x := range []float64{5e-324, math.MaxFloat64, 1, 2, math.Nextafter(2, 0), math.Nextafter(1, 0)} {
		if got, want := raise(x), math.Pow(x, 0.852); math.Abs(got-want) > 4e-15*want {
			t.Errorf("%g^0.852 is %.17g, want %.17g", x, got, want)
		}
	}
}
