package audit

import "evenfall/internal/units"

// Problem is an audit to be explained by its heads. Depths may be in any unit, inches or
// millilitres, if all are in the same.
type Problem struct {
	Heads   []Head
	Catches []float64 // of each can that was read and is not left out; not negative

	// Relative is the standard deviation of a catch as a share of it: what cans stand
	// crooked, what streams do, the wind of a minute. 0 stands for UsualNoise. It is where
	// the search starts from: how well the catches agree tells more.
	Relative float64
	// Reading is the standard deviation of reading a can, in the unit of the catches:
	// half a millilitre of a cup of volume. 0 stands for a hundredth of the mean catch.
	Reading float64
}

// Head is one head as it is drawn, by what it would bring the cans in the minutes that
// its zone ran.
type Head struct {
	ID   string
	Zone string // heads of one zone share what its valve does to all of them

	Upright []float64 // depth at each can, the head as drawn
	// Leaning[k] is the same with the head's top leaning by StandardTilt towards
	// 360°·k/len(Leaning), anticlockwise from the plan's east. Six directions at least,
	// or none: then no leaning is looked for. Every head has as many.
	Leaning [][]float64
}

// StandardTilt is the lean of the patterns in Head.Leaning. Chosen: about the most that
// a head leans and still stands; what leans less is a mix of it and of the upright.
const StandardTilt units.Degrees = 15

// Verdict is what can be told of a head.
type Verdict string

// The verdicts. All but Untold are sure: their chance is Sure at least, in a noisy audit
// SureInNoise.
const (
	Fine    Verdict = "fine"    // brings the cans what it should; a lean that changes no catch is not seen
	Low     Verdict = "low"     // at fault, likeliest bringing less than LeastFine of what it should
	High    Verdict = "high"    // at fault, likeliest bringing more than MostFine
	Leaning Verdict = "leaning" // at fault, likeliest leaning by LeastLean at least
	Untold  Verdict = "untold"  // the catches do not tell
)

// What counts as a fault, and how sure a verdict has to be. Chosen: outputs within 15 %
// are what nozzles of one sort and the pressures of one zone come to; a lean below 5° is
// hardly seen.
const (
	LeastFine                 = 0.85
	MostFine                  = 1.2
	LeastLean   units.Degrees = 5
	Sure                      = 0.85
	SureInNoise               = 0.95 // where the audit is Noisy: much of what is reckoned with is then off
)

// Fitted is what the catches tell of the heads.
type Fitted struct {
	Heads []FittedHead // as in the problem
	Zones []FittedZone // those of which three heads reach a can, or more, by name
	Among []Among      // heads one of which is at fault, when it cannot be told which
	Cans  []FittedCan  // as in the problem
	// Sigma is the standard deviation of a catch as a share of it, as the catches show it,
	// beside what the small differences of sound heads account for.
	Sigma float64
	// Explains is the share of the squared differences between catches and prediction that
	// the fit explains, 0 to 1.
	Explains float64
	// Noisy is whether Sigma is above MostNoise: the catches agree so badly with any state
	// of the heads that little can be told.
	Noisy bool
	// Few is whether there are fewer cans than twice the heads that reach them, so that
	// much has to stay untold.
	Few bool
}

// FittedHead is what can be told of a head.
type FittedHead struct {
	ID      string
	Verdict Verdict
	Chance  float64 // of Fine that it is as drawn; else that it is at fault, in whatever way

	// The chances that it brings less than LeastFine, more than MostFine, and that it leans
	// by LeastLean or more. Of a head at fault they say which way.
	LowChance, HighChance, LeanChance float64

	// Output is what it brings as a share of what it should beside the other heads of its
	// zone: 1 as drawn, 0.5 half-blocked. Low and High hold it with a chance of 90 %.
	Output, Low, High float64

	// TiltDeg is how far it leans, at most StandardTilt, and TiltToward the way its top
	// leans, anticlockwise from east; both 0 unless it is likelier to lean than not.
	TiltDeg, TiltToward units.Degrees
	// TiltLow and TiltHigh hold TiltDeg with a chance of 90 %, if it leans; WayChance is
	// that of leaning within 45° of TiltToward.
	TiltLow, TiltHigh units.Degrees
	WayChance         float64

	// Reach is how many standard errors apart half of its output would be from all of it
	// if the other heads are as drawn: at 0 no can is within its throw, below LeastReach
	// the cans tell too little of it.
	Reach float64
}

// LeastReach is the Reach that a head is told fine from. Chosen: half of its output
// would then show in 99 of 100 audits.
const LeastReach = 2.3

// FittedZone is what a zone's heads bring together, as a share of what they should: its
// valve, filter, pressure and minutes.
type FittedZone struct {
	ID                string
	Output, Low, High float64 // Low and High hold it with a chance of 90 %
}

// Among are heads at least one of which is at fault.
type Among struct {
	Heads  []string
	Chance float64 // that one or more of them is at fault
}

// FittedCan is a can beside what the heads as they are found would bring it.
type FittedCan struct {
	Drawn  float64 // by the heads as drawn, in the unit of the catches
	Fitted float64 // by the heads as found
	Spilt  float64 // the chance that it tipped, or was filled by something else
}
