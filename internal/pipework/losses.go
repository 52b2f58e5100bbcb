package pipework

import "evenfall/internal/units"

// The losses of fittings in velocity heads: US EPA, EPANET 2.2 User Manual, chapter
// 3, "Minor Loss Coefficients for Selected Fittings": short-radius ell 0.9, 45° ell
// 0.4, tee run 0.6, tee branch 1.8. It has no cross and no tee with an outlet; they
// are taken as tees. Published figures for one fitting differ several times over
// (equivalent lengths of a 1 in ell go from 1 to 6 ft), so that these are middling.
var losses = map[FittingKind]float64{
	Ell90: 0.9, Ell45: 0.4,
	TeeRun: 0.6, TeeBranch: 1.8,
	OutletTee: 0.6,
	CrossRun:  0.6, CrossBranch: 1.8,
}

// changeLoss is the loss of a change of size, in velocity heads of the pipe that
// follows: half the share of the area lost where it narrows, and by Borda and Carnot
// where it widens (textbook forms for a sudden change; a made reducer loses less).
func changeLoss(before, after units.Inches) float64 {
	if before <= 0 || after <= 0 || before == after {
		return 0
	}
	share := float64(after/before) * float64(after/before)
	if after < before {
		return 0.5 * (1 - share)
	}
	return (share - 1) * (share - 1)
}
