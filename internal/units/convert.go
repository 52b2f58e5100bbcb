package units

// How the units are bound together. The foot, inch and gallon are exact by
// definition (1 ft = 0.3048 m; 1 gal = 231 in³; NIST Handbook 44, Appendix C);
// the pound-force is 4.4482216152605 N.
const (
	MetresPerFoot      = 0.3048
	InchesPerFoot      = 12
	MillimetresPerInch = 25.4
	KilometresPerMile  = 1.609344
	LitresPerGallon    = 3.785411784
	KPaPerPSI          = 6.894757293168361
	BarPerPSI          = KPaPerPSI / 100
	SqMetresPerSqFoot  = MetresPerFoot * MetresPerFoot
	GPMPerCubicMetreH  = 1000.0 / 60 / LitresPerGallon // 1 m³/h in gpm
)

// Metres returns the length in metres.
func (f Feet) Metres() float64 { return float64(f) * MetresPerFoot }

// Inches returns the length in inches.
func (f Feet) Inches() Inches { return Inches(f * InchesPerFoot) }

// Times returns the area of a rectangle f by g.
func (f Feet) Times(g Feet) SqFeet { return SqFeet(float64(f) * float64(g)) }

// FeetFromMetres returns a length given in metres.
func FeetFromMetres(m float64) Feet { return Feet(m / MetresPerFoot) }

// Feet returns the length in feet.
func (in Inches) Feet() Feet { return Feet(in / InchesPerFoot) }

// Millimetres returns the length in millimetres.
func (in Inches) Millimetres() float64 { return float64(in) * MillimetresPerInch }

// SqMetres returns the area in square metres.
func (a SqFeet) SqMetres() float64 { return float64(a) * SqMetresPerSqFoot }

// LitresPerMinute returns the flow in litres a minute.
func (q GPM) LitresPerMinute() float64 { return float64(q) * LitresPerGallon }

// Bar returns the pressure in bar.
func (p PSI) Bar() float64 { return float64(p) * BarPerPSI }

// KPa returns the pressure in kilopascals.
func (p PSI) KPa() float64 { return float64(p) * KPaPerPSI }

// MillimetresPerHour returns the rate in millimetres an hour.
func (r InchesPerHour) MillimetresPerHour() float64 { return float64(r) * MillimetresPerInch }

// KilometresPerHour returns the speed in kilometres an hour; a mile is 1.609344 km.
func (v MPH) KilometresPerHour() float64 { return float64(v) * KilometresPerMile }

// PerSquareFoot turns gallons a minute on a square foot into inches an hour:
// a gallon is 231 cubic inches, 231/144 = 1.604 inches deep on a square foot,
// sixty times an hour. Printed as 96.25 (and as 96.3) throughout the trade.
const PerSquareFoot = 60.0 * 231 / 144

// PrecipitationRate returns the depth of water an hour when a flow falls evenly
// on an area: 96.25 * q / a. An area that is not above zero gives 0.
//
// Source: Klickitat PUD, "Determine Your Sprinkler System's Precipitation Rate".
func PrecipitationRate(q GPM, a SqFeet) InchesPerHour {
	if !(a > 0) {
		return 0
	}
	return InchesPerHour(PerSquareFoot * float64(q) / float64(a))
}

// SpacingRate returns the depth of water an hour of a regular layout, square or
// triangular: 96.25 * q / (s * l), q the flow of a full circle, s the distance
// between heads of a row and l between rows. In an equilateral triangle
// l = 0.866 s; a measured l already holds that factor and must not be
// multiplied by it again. Distances that are not above zero give 0.
//
// Source: "Soils 456 notes", chapter 5, New Mexico State University.
func SpacingRate(fullCircle GPM, s, l Feet) InchesPerHour {
	return PrecipitationRate(fullCircle, s.Times(l))
}
