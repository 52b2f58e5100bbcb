// Package units names the physical quantities the program calculates with,
// one type per unit, so that feet cannot be added to gallons by accident.
//
// The program works in United States customary units, because the published
// tables and the users' tapes are in them; metric is a matter of reading and
// printing (see System). A value is stored in the unit its name says and in no
// other.
package units

// Feet is a length in feet.
type Feet float64

// Inches is a length in inches.
type Inches float64

// SqFeet is an area in square feet.
type SqFeet float64

// GPM is a flow in United States gallons per minute.
type GPM float64

// PSI is a gauge pressure in pounds per square inch.
type PSI float64

// InchesPerHour is a precipitation rate: depth of water per hour.
type InchesPerHour float64

// MPH is a speed of wind in miles per hour.
type MPH float64

// FeetPerSecond is the velocity of water in a pipe.
type FeetPerSecond float64

// Gallons is a volume in United States gallons.
type Gallons float64

// Seconds is a time in seconds.
type Seconds float64

// Degrees is an angle in degrees, anticlockwise from east.
type Degrees float64

// Ratio is a dimensionless share; 1 is the whole.
type Ratio float64

// System is the family of units a plan is shown in.
type System string

// The systems a plan may be shown in.
const (
	US     System = "us"     // feet and inches, gpm, psi, inches an hour
	Metric System = "metric" // metres, litres a minute, bar, millimetres an hour
)
