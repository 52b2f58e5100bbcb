package units

import (
	"math"
	"testing"
)

func FuzzParseFlow(f *testing.F) {
	for _, s := range []string{"12.5", "12.5 gpm", "47 l/min", "2.8 m3/h", "2.8 M³/H", "1e3", "0", "-1", "gpm", "1 GAL / MIN", "10001", "NaN", "1,5", "４", "1\x00gpm"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, metric bool) {
		v, err := ParseFlow(s, system(metric))
		if err != nil {
			checkSentence(t, err.Error())
		} else if !(v > 0 && v <= MaxFlow) {
			t.Errorf("%q is read as %v gpm", s, v)
		}
	})
}

func FuzzParsePressure(f *testing.F) {
	for _, s := range []string{"45", "45 psi", "3.1 bar", "310 kPa", "1e2psi", "0", "-3 bar", "psi", "1001", "Inf", "3,1 bar", "4 5", "1e-320"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, metric bool) {
		v, err := ParsePressure(s, system(metric))
		if err != nil {
			checkSentence(t, err.Error())
		} else if !(v > 0 && v <= MaxPressure) {
			t.Errorf("%q is read as %v psi", s, v)
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	for _, s := range []string{"90", "22.5°", "-45 deg", "N 45 E", "s10w", "n e", "ne", "N 91 E", "361", "NaN", "1e2", "90 degrees°", "°"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseAngle(s)
		if err != nil {
			checkSentence(t, err.Error())
		} else if !(math.Abs(float64(v)) <= 360) {
			t.Errorf("%q is read as %v degrees", s, v)
		}
	})
}

func system(metric bool) System {
	if metric {
		return Metric
	}
	return US
}
