// Package coverage reckons where the water of a plan's heads lands: the rate on
// every cell of a raster, how even it is on each planting area and for each
// zone, where it is dry, and what misses. It also checks the layout for the
// mistakes that follow from that (see Check).
//
// # The model
//
// A head at (x, y) wets a sector out to its throw R, or a strip a rectangle. The
// rate falls off along the throw by its nozzle's profile f(ρ), ρ = r/R:
//
//	p(r) = P0·f(r/R)           sector
//	p(a) = P0·f(|a|/R)         strip; a is the distance along it
//
// P0, the greatest rate, is such that the water over the whole pattern is the
// head's flow Q at its planned pressure, with its arc and its turned-down throw
// (see Running):
//
//	P0 = 96.25·Q / (θ·R²·∫f(ρ)ρ dρ)     sector of θ radians
//	P0 = 96.25·Q / (L·W·∫f(ρ) dρ)       strip L long and W wide
//
// The integral over ρ from 0 to 1 is 1/6 for the linear profile, the default of
// sprays, 1/2 for the flat one and piecewise exact for a table [2]. With rates in
// inches per hour, Q in gpm and lengths in feet the constant is 60·231/144.
//
// Buildings stop all water that meets their walls from outside. Walls, fences,
// hedges and trunks stop what meets them below their height: the stream leaves
// the nozzle at θ above level and comes down at R, y = x·tan θ·(1 - x/R), and
// passes over what is lower. What is stopped is lost; it is not spread elsewhere.
// A head that stands on the line of a wall waters the side its arc looks to; one
// drawn inside a building is not stopped by that building, and the water on the
// roof tells.
//
// Ground is what plan.Area says where areas overlap; what no area covers is
// Undrawn within the property line and Outside beyond it. Water is on target on
// planting watered overhead, off target on all else, and told by surface: bare
// and undrawn ground and other planting bear some, paving, buildings and what
// lies off the lot are planned at none, with a tolerance of 2 % of the flow in
// Check (common practice; many codes allow none).
//
// # What it leaves out
//
// Wind, but on request (see below); evaporation; the drops of one stream that fall short of it and are lower
// where they meet a wall; the shape of nozzles as they age; tilt and slope;
// differences of pressure within a zone, unless they are given (see Given); run-off. Layouts read kinder here than
// any catch-can audit: audited homes average a DU of 0.45 [6]. FieldEstimate goes
// part of the way.
//
// # At given pressures
//
// Planned pressures may be replaced by what each head really has (Given). The
// share by which a throw is turned down stays. Below the least row of its table a
// head throws R·(p/p0)^n, n the power by which its own table's throw grows, gives
// Q·√(p/p0), and its profile is the row's low-pressure one: a stream with too
// little pressure does not break up and leaves a ring. Above the last row the
// throw stays and the flow goes on by the root. All else is as before, and so is
// what an edit costs.
//
// # On request
//
// Install sets the plan out many times with small errors and gives the evenness
// that comes of it (FieldEstimate) with the map of the installation in the middle.
//
// Windy carries all water downwind by a share δ of the distance s it was thrown,
// so that water of one throw lands on a circle shifted by δ·s. At X downwind and Y
// across from the head
//
//	s = (√(X² + (1-δ²)Y²) - δX)/(1-δ²)
//	p = P0·f(s/R)/(1 + δc), c = X/s - δ
//
// and the water of a head stays its flow. Strips and part circles go by where
// water is thrown, walls by the straight way from the head to where it lands.
// δ = 0.02 for each mile an hour is derived from the usual spacing table (55 % of
// the diameter in calm air, 45 % at about 10 mph): an assumption, nobody has
// published it.
//
// # Trials
//
// A search that sets out heads asks thousands of layouts a second of one area: a
// Trial. It reads the figures of a Field of the same cell, for that area and the
// heads it is given alone, but for rims of sectors, which count by their tangent, and
// bins of a 256th of the mean: DU and CU within 0.001 of the field's.
//
// # How figures are taken
//
// The raster has cells of 0.25 ft on a house lot, larger ones on larger plans (see
// frameOf; the size is in the Result). A cell holds the rate at its middle; where
// the edge of a pattern crosses it, times the share of it that is wet, exact by
// area. Where the edge of an area crosses it, each part counts by its own share,
// and where both do, 64 sample places tell how they share the cell. Turning,
// moving or mirroring a plan changes DU and CU by less than 0.001 at 0.25 ft (by
// 0.0002 on the 200 plans of the tests).
//
// The grid is in whole numbers, so that a head taken off leaves exactly what was
// there before it came; a Result does not depend on the edits that led to a plan.
//
// # Definitions
//
//   - Edge lip: ground within the plan's edge lip (6 in unless it says otherwise)
//     of the edge of its area's ground, or within the wall lip of a wall. It is
//     left out of the readings and told apart as WithLip; where it would leave
//     less than a tenth of an area, nothing is left out. Heads stand back from
//     edges, and no arc waters the strip behind its head.
//   - Mean: of the rate over the ground, by area.
//   - DU: the mean of the driest quarter over the mean [3]. A cell that the quarter
//     ends in counts by the part of it that is needed.
//   - CU: one less the mean distance from the mean over the mean [4].
//   - SC: the mean over the rate of the driest square window that holds 5 % of the
//     ground [5]. Windows lie along the rows of the raster; one counts when at
//     least 80 % of it is ground of the area, or, when no window of a narrow area
//     is, when it is among the fullest. 0 stands for a window without any water.
//     Of a zone it is the greatest of its areas', over the zone's mean.
//     SchedulingCoefficients has windows of 1, 2 and 10 %, too.
//   - Driest 2 %: the mean of the driest fiftieth over the mean.
//   - Dry and wet share: ground below half the mean, above one and a half times it.
//   - Reached: a head reaches a place where it gives at least 5 % of its own
//     greatest rate. Two heads: ground that two or more reach.
//   - Gap: connected ground below half its area's mean, 4 square feet or more. An
//     area without any water has no mean and no gaps.
//   - Rate, three ways: flow over the ground the zone waters; spacing form, the
//     flow of a full circle over throw², as heads that stand head to head [1],
//     and the median of that over the zone; mean of the raster. Where zones share
//     an area its ground is divided as their heads stand for ground.
//   - Matched: the share by which the head farthest from its zone's rate is off.
//   - Nearest: the nearest other head in a head's arc that nothing stands before.
//   - Stands for: a head stands for the planting area, watered overhead, that most
//     of its water lands on.
//
// The ledger of a head is its water by surface; its rows and what is stopped sum
// to its flow.
//
// What it reads of a plan: areas, barriers, trees, heads, zones, nozzles, bodies,
// the lot and the options. Things with the status remove are not there.
//
// # Sources
//
//  1. "Sprinkler Precipitation Rates": 96.25·q/(S·L), q of the full circle; the
//     same in New Mexico State University, Soils 456 notes, chapter 5.
//  2. Integrals of the profiles by hand; checked against numerical ones in tests.
//  3. Irrigation Association, Landscape Irrigation Auditor, catch device worksheet.
//  4. J. E. Christiansen, Irrigation by Sprinkling, University of California
//     Bulletin 670, 1942, as restated in CSU Fresno, Irrigation Notes 880106.
//  5. CSU Fresno, Center for Irrigation Technology, Irrigation Notes 880802; window
//     sizes of 1, 2, 5 and 10 % are in use, 5 % is taken here.
//  6. M. C. Baum, M. D. Dukes and G. L. Miller, Analysis of Residential Irrigation
//     Distribution Uniformity, ASCE Journal of Irrigation and Drainage Engineering
//     131(4), 2005.
//  7. R. D. von Bernuth and B. Mecham, Defining the Run Time Multiplier: the
//     50 % by 70 % rectangle of the tests.
package coverage
