package hydraulics

import (
	"math"

	"evenfall/internal/units"
)

// Pipe is the law of a pipe: friction by Hazen and Williams and the fittings in
// it by velocity heads. Make it with NewPipe.
type Pipe struct {
	friction float64 // psi per gpm^1.852
	minor    float64 // psi per gpm²
	creep    float64 // below this flow the loss goes by its first power, gpm
	slope    float64 // there, psi per gpm
}

const (
	// hazen is the constant of feet and cubic feet a second, and minorCFS that of
	// one velocity head, 8/(g π²): EPANET 2.2 manual, chapter 3.
	hazen     = 4.727
	flowPower = 1.852
	sizePower = 4.871
	minorCFS  = 0.02517

	// leastSlope keeps every link's slope away from nothing, psi per gpm: where
	// friction or fittings would take less, a pipe goes by the first power, off by
	// under 2e-7 psi for each gpm.
	leastSlope = 1e-7
)

// NewPipe is a pipe of a length and an inside diameter, with Hazen and Williams'
// c of its wall and the sum k of its fittings' velocity heads. What makes no
// pipe comes back as a law that Solve refuses with a sentence.
func NewPipe(length units.Feet, inside units.Inches, c, k float64) Pipe {
	d := float64(inside.Feet())
	friction := PSIPerFoot * hazen * float64(length) / (math.Pow(c, flowPower) * math.Pow(d, sizePower)) / math.Pow(gpmPerCFS, flowPower)
	minor := PSIPerFoot * minorCFS * k / (d * d * d * d) / (gpmPerCFS * gpmPerCFS)
	return pipeOf(friction, minor)
}

// Fittings is a link that only has fittings: k velocity heads at an inside diameter.
func Fittings(inside units.Inches, k float64) Pipe { return NewPipe(0, inside, 150, k) }

// pipeOf finds where the first of both, friction or fittings, takes no more than
// the least slope for each gpm; below, the loss goes by what both take there, so
// that it does not jump.
func pipeOf(friction, minor float64) Pipe {
	p := Pipe{friction: friction, minor: minor, slope: leastSlope}
	p.creep = min(math.Pow(leastSlope/friction, 1/(flowPower-1)), leastSlope/minor)
	if !math.IsInf(p.creep, 1) {
		p.slope = max(leastSlope, friction*raise(p.creep)+minor*p.creep)
	}
	return p
}

// Loss is the pressure lost to friction and fittings.
func (p Pipe) Loss(q units.GPM) (units.PSI, float64) {
	a := math.Abs(float64(q))
	if a <= p.creep {
		return units.PSI(p.slope * float64(q)), p.slope
	}
	perFlow := p.friction * raise(a)
	loss := (perFlow + p.minor*a) * float64(q)
	return units.PSI(loss), flowPower*perFlow + 2*p.minor*a
}

// Friction is the loss of a pipe without its fittings.
func Friction(length units.Feet, inside units.Inches, c float64, q units.GPM) units.PSI {
	p, _ := NewPipe(length, inside, c, 0).Loss(q)
	return p
}

// Minor is the loss of k velocity heads at an inside diameter.
func Minor(inside units.Inches, k float64, q units.GPM) units.PSI {
	p, _ := Fittings(inside, k).Loss(q)
	return p
}

// Velocity is how fast the water runs in a pipe: 0.4085 q/d².
func Velocity(q units.GPM, inside units.Inches) units.FeetPerSecond {
	d := float64(inside.Feet())
	return units.FeetPerSecond(float64(q) / gpmPerCFS / (math.Pi / 4 * d * d))
}

// FlowAtVelocity is the flow at which the water runs so fast.
func FlowAtVelocity(v units.FeetPerSecond, inside units.Inches) units.GPM {
	d := float64(inside.Feet())
	return units.GPM(float64(v) * gpmPerCFS * math.Pi / 4 * d * d)
}
