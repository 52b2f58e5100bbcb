package proof

import (
	"fmt"
	"strings"

	"evenfall/internal/plan"
)

// What a fault does to a head, where nobody measured it. All are chosen, from memory of
// what audits find; RetrofitPlan.Assumed names those that a plan makes use of.
const (
	blockedFlow  = 0.5  // of the flow of a nozzle that is stopped up
	blockedThrow = 0.85 // of its throw
	sunkThrow    = 0.75 // of a head below grade: grass catches the stream
	hiddenThrow  = 0.6  // of a head behind growth
	stuckThrow   = 0.5  // of one that does not rise
	wornFlow     = 1.2  // of a nozzle worn wide
	leakShare    = 0.3  // of a head's flow that is lost at its foot or seal
	unlikeFlow   = 1.5  // of a nozzle that is not the one drawn, where it is not known which
	astrayTurn   = 45.0 // degrees that an arc is off its ground
	usualTilt    = 8.0  // degrees, where it was not noted how far a head leans
	mostShift    = 0.4  // of a throw, that leaning moves a pattern by
)

// assumedWords say what a fault is taken to do.
var assumedWords = map[string]string{
	"blocked":      "a head that is stopped up gives half its flow and throws 85 % as far",
	"sunk":         "a sunk head throws 75 % as far",
	"hidden":       "a head behind growth throws 60 % as far",
	"stuck":        "a head that does not rise throws half as far",
	"worn":         "a worn nozzle gives 20 % more",
	"leaking":      "a leaking head loses 30 % of its flow",
	"wrong_nozzle": "a wrong nozzle that is not named in the catalogue's words gives half as much again",
	"off_target":   "a head turned off its ground is 45° off",
	"tilted":       "the pattern of a leaning head moves away from where it leans, as a stream without drag does; 8° where it was not noted how far",
}

// assumed are the sentences on what was taken for what nobody measured.
func (f *oldSystem) assumed(peakOnly bool, estimated bool) []string {
	var out, faults []string
	seen := map[string]bool{}
	for _, r := range f.repairs {
		if words := assumedWords[r.kind]; words != "" && !seen[r.kind] {
			faults, seen[r.kind] = append(faults, words), true
		}
	}
	if len(faults) > 0 {
		out = append(out, "Chosen, from memory of what audits find: "+strings.Join(faults, "; ")+".")
	}
	n := 0
	for _, h := range f.p.Heads { // counted: order does not matter
		if h.Status.Stands() && h.State == nil {
			n++
		}
	}
	if n > 0 {
		out = append(out, fmt.Sprintf("%s not looked at and %s taken as drawn.", plan.Plural(n, "head was", "heads were"), plan.Choose(n, "is", "are")))
	}
	if estimated {
		out = append(out, "Where no audit says how even it is, the field estimate of the plan is taken, lowered as the faults lower the drawn evenness.")
	}
	out = append(out, "Water is what the planting needs, by the run time multiplier of its evenness, at the zone's own flow: minutes are taken to be set for that before and after. Kept as they are, the same minutes would save by the flow alone.")
	if peakOnly {
		out = append(out, "The plan has no climate: the water is of a week at peak, not of a year.")
	}
	return out
}
