package plan

// Rule is one mistake the program looks for: the words that are the same
// whenever it is found. Numbers in them are the published or customary limits
// that the checks use.
type Rule struct {
	Row    int    `json:"row"`  // its place in our list of beginners' mistakes
	Rank   Rank   `json:"rank"` // the usual one; a check may raise or lower it
	Title  string `json:"title"`
	Why    string `json:"why"`
	Do     string `json:"do"`
	Source string `json:"source"`
}

// The codes of the findings.
const (
	RatesMixed         = "rates-mixed"
	RotorNozzleByArc   = "rotor-nozzle-by-arc"
	SpacingWide        = "spacing-wide"
	DryPatch           = "dry-patch"
	NeighbourFacesAway = "neighbour-faces-away"
	CornerBare         = "corner-bare"
	ThrowOnPaving      = "throw-on-paving"
	ThrowOnGround      = "throw-on-ground"
	SprayOnWall        = "spray-on-wall"
	NarrowStrip        = "narrow-strip"
	HeadCloseToPaving  = "head-close-to-paving"
	TurnedDownFar      = "turned-down-far"
	PopupShort         = "popup-short"
	ThingInThrow       = "thing-in-throw"
	PlantingsMixed     = "plantings-mixed"
	ExposureMixed      = "exposure-mixed"
	ZoneOverFlow       = "zone-over-flow"
	LowValveFlow       = "low-valve-flow"
	SprayMisting       = "spray-misting"
	SlopeRate          = "slope-rate"
	NothingAssigned    = "nothing-assigned"
	NoHeadsNeeded      = "no-heads-needed"
	EdgeShared         = "edge-shared"
	OutsideTable       = "outside-table"
	NozzleNotFitting   = "nozzle-not-fitting"
	HeadWithoutZone    = "head-without-zone"
	ZoneWithoutHeads   = "zone-without-heads"
	ExistingBought     = "existing-bought"
	LeavesLot          = "leaves-lot"
)

const (
	texas     = "30 TAC 344.62 (Texas landscape irrigation rules)"
	florida   = "Florida Irrigation Society, Standards and Specifications for Turf and Landscape Irrigation Systems"
	ordinance = "California Model Water Efficient Landscape Ordinance, 23 CCR 492.7"
	practice  = "common practice"
)

// Rules holds the fixed words of every finding, by code.
var Rules = map[string]Rule{
	RatesMixed: {1, Stop, "Rates mixed on one valve",
		"All heads of a zone run equally long, so the faster ones flood their ground while the slower ones leave theirs dry.",
		"Give the zone nozzles of one rate, or put the others on a valve of their own.",
		"Matched precipitation: " + ordinance + "; within 10 % fine, past 25 % wrong by " + practice},
	RotorNozzleByArc: {2, Stop, "Rotor nozzle not chosen by arc",
		"A gear rotor's flow is fixed by its nozzle, not by its arc: the same nozzle on 90°, 180° and 360° waters at 4 : 2 : 1.",
		"Choose nozzles whose flows go with the arcs: 1 : 2 : 4 for 90°, 180° and 360°.",
		"Arithmetic of matched precipitation (the same flow on a quarter, a half and a full circle); " + practice},
	SpacingWide: {3, Stop, "Heads too far apart",
		"A head's own water fades out towards its throw; the ground between heads is only even when each one throws to the next.",
		"Move the heads closer, or add one between them.",
		"At most 55 % of the diameter (1.1 throws): " + florida + "; within the published radius: " + texas},
	DryPatch: {3, Stop, "Dry patch",
		"Ground that gets less than half its area's mean browns first, and running the zone long enough for it drowns the rest.",
		"Move a head towards the patch, open an arc over it, or add a head.",
		"Half the mean taken as dry: " + practice},
	NeighbourFacesAway: {4, Mend, "The neighbour faces away",
		"Head to head counts only inside the arc: a head near by that throws the other way adds nothing here.",
		"Turn or open the neighbour's arc, or let another head throw to this one.",
		"Head-to-head coverage by city ordinances (Fort Lauderdale 47-21.10); arcs: " + practice},
	CornerBare: {5, Mend, "Corner without a head",
		"Only a head in the corner waters the corner; from the sides the last gap is always stretched.",
		"Put a quarter head in the corner and share the rest of the edge out evenly.",
		"A head in every corner: " + practice},
	ThrowOnPaving: {6, Stop, "Water thrown on paving",
		"Water on paving runs to the gutter, stains and freezes, and many places forbid it.",
		"Turn the arc in to the edge, or turn the throw down.",
		"No overspray on paving: " + ordinance + "; up to 2 % of the flow let pass by " + practice},
	ThrowOnGround: {6, Mend, "Water thrown on bare ground",
		"Water on gravel, mulch or a deck feeds weeds and wears the ground, and the planting goes without it.",
		"Turn the arc in to the edge, or turn the throw down.",
		"Up to 5 % of the flow let pass on ground that nothing grows on: " + practice},
	SprayOnWall: {7, Mend, "Spray on a wall",
		"Water on siding, fences and windows stains and rots them, and is lost to the plants.",
		"Set the head at least 12 in off the wall, and turn its arc away from the wall.",
		"12 in from walls and fences: " + practice},
	NarrowStrip: {8, Stop, "Spray in a thin strip",
		"No spray keeps inside a strip this thin; most of it lands on the paving beside it.",
		"Water the strip by drip, or say it is watered by hand or not at all.",
		"No spray in strips under 48 in with paving along two sides: " + texas + "; under 10 ft no overspray: " + ordinance + "; local rules decide"},
	HeadCloseToPaving: {9, Mend, "Head too close to paving",
		"A head at the very edge is broken by feet, wheels and edging tools, and throws on the paving as it turns.",
		"Set the head at least 4 in back; 6 in to 12 in beside a drive or street without a kerb.",
		"4 in from paving: " + texas + "; drives: " + practice},
	TurnedDownFar: {10, Mend, "Turned down too far",
		"Turning the throw down shrinks the ground faster than the flow, so the rate goes up and the fan breaks up.",
		"Choose a nozzle of smaller throw.",
		"At most 25 % down: " + practice},
	PopupShort: {11, Mend, "Pop-up too short",
		"Leaves in front of the nozzle catch the water before it flies.",
		"Turf: 4 in bodies, 6 in where it is mown above 3 in. Beds: 12 in.",
		practice},
	ThingInThrow: {12, Mend, "Something stands in the throw",
		"What stands close to a head shades a wide wedge behind it, and a stream strips the bark off a trunk.",
		"Move the head, or turn its arc past the thing and water behind it from the other side.",
		"Nothing taller than the stream within 10 ft of a head: " + practice},
	PlantingsMixed: {13, Mend, "Different plantings on one valve",
		"Turf and beds need different amounts and days; on one valve one of them is always wrong.",
		"Put them on valves of their own.",
		"One hydrozone a valve: " + ordinance},
	ExposureMixed: {14, Mend, "Different sun, soil or slope on one valve",
		"Sun dries faster than shade, and the toe of a slope gets the water that runs off its top.",
		"Put them on valves of their own.",
		"One hydrozone a valve (sun, soil, slope): " + ordinance},
	ZoneOverFlow: {15, Stop, "Zone asks for more than the supply gives",
		"Past what the supply gives, pressure falls and every head of the zone throws short.",
		"Move heads to another zone, or split this one in two.",
		"Zone flow at least 5 % under the design flow: " + practice},
	LowValveFlow: {16, Notice, "Low flow for a zone valve",
		"A diaphragm valve needs some flow to close surely; 1 in valves commonly ask for 2 gpm to 3 gpm.",
		"Choose a valve made for this low a flow; its table says how low it goes.",
		practice},
	SprayMisting: {21, Notice, "Spray at too high a pressure",
		"Past its band a spray breaks its water into mist, which the wind takes, and asks for more flow than it was planned with.",
		"Use bodies regulated to 30 psi, or lower the pressure planned for the zone.",
		"Sprays work best at 30 psi, most between 30 psi and 45 psi: US EPA WaterSense on spray sprinkler bodies; misting past 40 psi by " + practice},
	SlopeRate: {40, Mend, "Rate too high for the slope",
		"Water put down faster than a slope takes it in runs off at the toe before it soaks in.",
		"Use nozzles of a lower rate, such as streams, or drip; run what stays in short cycles with time to soak between.",
		"At most 0.75 in/h on slopes past 25 % unless no runoff is shown: " + ordinance},
	NothingAssigned: {42, Mend, "Nothing waters this",
		"A planting with no head of its own dries out; if it is meant to, the plan should say so.",
		"Give it heads, or set its watering to point source, by hand or none.",
		practice},
	NoHeadsNeeded: {42, Notice, "Point source areas carry no heads",
		"Their drip line, emitters or bubblers are not part of the coverage map or of this parts list.",
		"Nothing, if that is meant.",
		practice},
	EdgeShared: {43, Mend, "One row serves two rates",
		"Where two areas of different rate meet, a head on the line gives one of them the wrong rate.",
		"Give each side its own row along the line, about 1 ft apart, each throwing to its own side.",
		practice},
	OutsideTable: {44, Stop, "Nozzle used outside its table",
		"What a nozzle does outside its table is not known, so no figure for it can be trusted.",
		"Choose a nozzle whose table holds this pressure, arc and throw.",
		"Pressure between the least and greatest published: " + texas + "; arc and throw: " + practice},
	NozzleNotFitting: {44, Stop, "Nozzle does not fit its body",
		"The thread of the nozzle is not the one the body takes.",
		"Choose a body that takes this nozzle, or a nozzle made for this body.",
		"The thread named in each row: " + practice},
	HeadWithoutZone: {45, Mend, "Head not in a zone",
		"Without a zone a head has no valve, and counts in no flow.",
		"Put it in a zone.",
		practice},
	ZoneWithoutHeads: {45, Mend, "Zone without heads",
		"Its valve is on the parts list and would water nothing.",
		"Put heads in it, or delete the zone.",
		practice},
	ExistingBought: {46, Mend, "Existing heads counted as bought",
		"The zone is there already but all its heads are marked new, so the parts list buys them again.",
		"Mark the heads that stand there already as existing.",
		practice},
	LeavesLot: {47, Mend, "Spray leaves the lot",
		"Water on the street or the neighbour's ground is wasted, and many places fine for it.",
		"Turn the arc in to the line, turn the throw down, or move the head back.",
		"No water leaves the property: US EPA WaterSense single-family new home specification; up to 2 % of the flow let pass by " + practice},
}
