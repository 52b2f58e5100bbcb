package units

import "strings"

// Nominal sizes, as a thing is named by them and not measured: whole in US units,
// and rounded to what tells sizes apart in metric.

// NominalLength prints a size in feet: 16 ft, or 4.9 m.
func (s System) NominalLength(f Feet) string {
	if s == Metric {
		return decimals(f.Metres(), 1) + " m"
	}
	return short(float64(f)) + " ft"
}

// NominalInches prints a size in inches: 4 in, or 10 cm.
func (s System) NominalInches(in Inches) string {
	if s == Metric {
		return decimals(in.Millimetres()/10, 0) + " cm"
	}
	return short(float64(in)) + " in"
}

// NominalFlow prints a size in gpm: 0.75 gpm, or 2.8 L/min.
func (s System) NominalFlow(q GPM) string {
	if s == Metric {
		return decimals(q.LitresPerMinute(), 1) + " L/min"
	}
	return short(float64(q)) + " gpm"
}

// NominalPressure prints a setting: 30 psi, or 2.1 bar.
func (s System) NominalPressure(p PSI) string {
	if s == Metric {
		return decimals(p.Bar(), 1) + " bar"
	}
	return short(float64(p)) + " psi"
}

// short prints at most two decimals and no trailing zeros.
func short(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(decimals(v, 2), "0"), ".")
}

// Depth prints a depth of water, as rain is measured: 1.4 in, or 36 mm.
func (s System) Depth(in Inches) string {
	if s == Metric {
		return decimals(in.Millimetres(), 0) + " mm"
	}
	return short(float64(in)) + " in"
}
