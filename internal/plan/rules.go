package plan

// Rule is one mistake the program looks for: the words that are the same
// whenever it is found. Numbers in them are the published or customary limits
// that the checks use; those with a unit stand in braces, as {12 in}, and are
// read in the plan's units (see InUnits).
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
	ThrowUndrawn       = "throw-undrawn"
	BandWetted         = "band-wetted"
	SprayOnWall        = "spray-on-wall"
	NarrowStrip        = "narrow-strip"
	HeadCloseToPaving  = "head-close-to-paving"
	SetBackLocal       = "set-back-local"
	TurnedDownFar      = "turned-down-far"
	PopupShort         = "popup-short"
	ThingInThrow       = "thing-in-throw"
	PlantingsMixed     = "plantings-mixed"
	ExposureMixed      = "exposure-mixed"
	ZoneOverFlow       = "zone-over-flow"
	LowValveFlow       = "low-valve-flow"
	SprayMisting       = "spray-misting"
	SlopeRate          = "slope-rate"
	CyclesShort        = "cycles-short"
	WindowShort        = "window-short"
	NothingAssigned    = "nothing-assigned"
	NoHeadsNeeded      = "no-heads-needed"
	SupplyRough        = "supply-rough"
	MeterOverdrawn     = "meter-overdrawn"
	PressureHigh       = "pressure-high"
	NoBackflow         = "no-backflow"
	VelocityHigh       = "velocity-high"
	HeadsStarved       = "heads-starved"
	HeadsHigh          = "heads-high"
	PressureSpread     = "pressure-spread"
	ClimbForgotten     = "climb-forgotten"
	BackflowDoubtful   = "backflow-doubtful"
	BackflowUnfit      = "backflow-unfit"
	TapsAfterDevice    = "taps-after-device"
	BreakerLow         = "breaker-low"
	BreakerMisplaced   = "breaker-misplaced"
	NoIsolation        = "no-isolation"
	FreezeUnready      = "freeze-unready"
	LowHeads           = "low-heads"
	NoDigging          = "no-digging"
	RootsCut           = "roots-cut"
	SleeveMissing      = "sleeve-missing"
	SleeveSmall        = "sleeve-small"
	SleeveShort        = "sleeve-short"
	SleeveShared       = "sleeve-shared"
	BoreLong           = "bore-long"
	TrenchAstray       = "trench-astray"
	ValvePlace         = "valve-place"
	StationsShort      = "stations-short"
	SensorWetted       = "sensor-wetted"
	SpliceUnboxed      = "splice-unboxed"
	SlackShort         = "wire-slack"
	WireThin           = "wire-thin"
	ValveWithoutPlace  = "valve-without-place"
	LocateMissing      = "locate-missing"
	HeadsDoubled       = "heads-doubled"
	AreasDoubled       = "areas-doubled"
	EdgeShared         = "edge-shared"
	OutsideTable       = "outside-table"
	NozzleNotFitting   = "nozzle-not-fitting"
	HeadWithoutZone    = "head-without-zone"
	ZoneWithoutHeads   = "zone-without-heads"
	ExistingBought     = "existing-bought"

	PipesLoose          = "pipes-loose"
	HeadsWithoutPipe    = "heads-without-pipe"
	LateralWithoutValve = "lateral-without-valve"
	ZonesJoined         = "zones-joined"
	ValveDoubled        = "valve-doubled"
	PipeOfOtherZone     = "pipe-of-other-zone"
	PipeEnds            = "pipe-ends"
	PipeOffPlace        = "pipe-off-place"
	SizeGrows           = "size-grows"
	SizeNotMade         = "size-not-made"
	ClassUnderPressure  = "class-under-pressure"
	PipeNotPotable      = "pipe-not-potable"
	LeavesLot           = "leaves-lot"
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
		"At most 55 % of the diameter (1.1 throws): " + florida + "; within the published radius: " + texas +
			"; the longer side of a rectangle of heads up to 60 % of it (1.2 throws) by " + practice},
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
		"A head within {1 ft} of every corner: " + practice},
	ThrowOnPaving: {6, Stop, "Water thrown on paving",
		"Water on paving runs to the gutter, stains and freezes, and many places forbid it.",
		"Turn the arc in to the edge, or turn the throw down.",
		"No overspray on paving: " + ordinance + "; up to 2 % of a zone's flow let pass by " + practice},
	ThrowOnGround: {6, Mend, "Water thrown on bare ground",
		"Water on gravel, mulch or a deck feeds weeds and wears the ground, and the planting goes without it.",
		"Turn the arc in to the edge, or turn the throw down.",
		"Up to 5 % of the flow let pass on ground that nothing grows on: " + practice},
	ThrowUndrawn: {6, Mend, "Water on ground not drawn",
		"What lies there is not drawn: on paving the water runs off, on bare ground it is lost, and a bed there needs a place in the plan.",
		"Draw what lies there; where no water is wanted, turn the arc in to the edge or the throw down.",
		"Up to 5 % of the flow let pass, as on ground that nothing grows on: " + practice},
	BandWetted: {6, Mend, "Water in the band along paving",
		"Overhead water this near to paving runs onto it, and a rule kept here allows none.",
		"Set the heads back to the edge of the band, facing away from the paving; water the band by drip, or plant nothing thirsty in it.",
		"No overhead water within {24 in} of paving that does not drain to planting: " + ordinance},
	SprayOnWall: {7, Mend, "Spray on a wall",
		"Water on siding, fences and windows stains and rots them, and is lost to the plants.",
		"Set the head at least {12 in} off the wall, and turn its arc away from the wall.",
		"{12 in} from walls and fences: " + practice},
	NarrowStrip: {8, Stop, "Spray in a thin strip",
		"No spray keeps inside a strip this thin; most of it lands on the paving beside it.",
		"Water the strip by drip, or say it is watered by hand or not at all.",
		"No spray in strips under {48 in} with paving along two sides: " + texas + "; under {10 ft} no overspray: " + ordinance + "; local rules decide"},
	HeadCloseToPaving: {9, Mend, "Head too close to paving",
		"A head at the very edge is broken by feet, wheels and edging tools, and throws on the paving as it turns.",
		"Set the head at least {4 in} back; {6 in} to {12 in} beside a drive or street without a kerb.",
		"{4 in} from paving: " + texas + "; drives: " + practice},
	SetBackLocal: {9, Mend, "Head nearer than a rule kept here",
		"The plan keeps a distance of its own, as local code or custom asks for, and an inspector may look for it.",
		"Move the head in, or correct the rule in the table of local rules.",
		practice},
	TurnedDownFar: {10, Mend, "Turned down too far",
		"Turning the throw down shrinks the ground faster than the flow, so the rate goes up and the fan breaks up.",
		"Choose a nozzle of smaller throw.",
		"At most 25 % down: " + practice},
	PopupShort: {11, Mend, "Pop-up too short",
		"Leaves in front of the nozzle catch the water before it flies.",
		"Turf: {4 in} bodies, {6 in} where it is mown above {3 in}. Beds: {12 in}.",
		practice},
	ThingInThrow: {12, Mend, "Something stands in the throw",
		"What stands close to a head shades a wide wedge behind it, and a stream strips the bark off a trunk.",
		"Move the head, or turn its arc past the thing and water behind it from the other side.",
		"Nothing taller than the stream within {10 ft} of a head: " + practice},
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
		"A diaphragm valve needs some flow to close surely; {1 in} valves commonly ask for {2 gpm} to {3 gpm}.",
		"Choose a valve made for this low a flow; its table says how low it goes.",
		practice},
	SupplyRough: {17, Mend, "Flow known without its pressure",
		"A bucket under an open tap gives the flow that is left when the pressure is used up; at the pressure that heads need, the supply may give half of it.",
		"Measure the flow again with a gauge on a second tap, and note the pressure left while it runs.",
		"Flow and residual pressure taken together, as hydrants are tested (NFPA 291); " + practice},
	MeterOverdrawn: {18, Mend, "Meter asked for too much",
		"Past three quarters of what it is made for, a meter wears fast and takes the pressure that the heads need.",
		"Plan on less flow, or ask the purveyor for a larger meter.",
		"75 % of the meter's greatest flow by " + practice + "; {20 gpm}, {30 gpm}, {50 gpm}, {100 gpm} and {160 gpm} for meters of {0.625 in} to {2 in}: AWWA C700, from memory"},
	PressureHigh: {21, Mend, "Pressure too high for the pipes",
		"High pressure wears valves, bursts fittings when a valve shuts, and turns spray to mist.",
		"Plan a regulator at the connection, and have one who may work on the service set it.",
		"A regulator past {80 psi}: International Plumbing Code 604.8; local code decides"},
	NoBackflow: {24, Notice, "No backflow device named",
		"Without one, water that has stood in the lawn can be drawn back into the drinking water when the main loses pressure.",
		"Find out which kind your purveyor asks for and name it in the plan's settings; it is to be tested before use, and local code decides who may set it.",
		"Protection of the potable supply of lawn systems: International Plumbing Code 608; local code decides"},
	VelocityHigh: {19, Mend, "Water too fast in a pipe",
		"Fast water takes the pressure the heads need, and strikes hard when a valve shuts.",
		"Choose the next larger size where it is too fast, or have sizes proposed.",
		"{5 ft/s} in plastic irrigation pipe: Ohio State University Extension Bulletin 912; {7.5 ft/s} in copper and steel by " + practice},
	HeadsStarved: {20, Stop, "Heads without enough pressure",
		"Under its table a nozzle throws short, its streams do not break up, and the ground between heads stays dry.",
		"Larger pipe, fewer heads on the valve, or nozzles made for less pressure; the zone's pressure budget shows where it goes.",
		"Pressure between the least and greatest published: " + texas},
	HeadsHigh: {21, Mend, "More pressure than the heads are made for",
		"Above its table a nozzle takes more flow, makes finer drops, and wears.",
		"Bodies that regulate, or a regulator; smaller pipe is no cure, since it takes less when less flows.",
		"Pressure between the least and greatest published: " + texas},
	PressureSpread: {22, Mend, "Pressures of a zone far apart",
		"Heads of one zone at different pressures give different depths in the same time.",
		"Feed the laterals from their middle, choose larger pipe, or bodies that regulate.",
		"At most 20 % of the nominal pressure along a lateral: Merkley and Allen, Utah State University, Sprinkle and Trickle Irrigation, lecture 7"},
	ClimbForgotten: {23, Stop, "The climb takes the pressure",
		"Water loses pressure by going up whatever the pipe: {0.433 psi} for each {1 ft}. No larger pipe brings it back.",
		"Plan these heads for less pressure, boost the supply, or put them on a valve with nothing below them.",
		"{0.433 psi} for each {1 ft}: Ohio State University Extension Bulletin 912"},
	BackflowDoubtful: {24, Notice, "Ask before setting this backflow device",
		"Codes look at lawn systems as a hazard to health; a double check keeps out only what is none.",
		"Ask your purveyor which kinds it takes before buying; local code and a licensed tester decide.",
		"Double check only where there is no hazard to health: 30 TAC 344.50 (Texas); breakers and reduced pressure listed for lawns by model plumbing codes, from memory"},
	BackflowUnfit: {24, Stop, "Backflow device of the wrong kind",
		"A breaker stops water that is sucked back, not water that is pushed back; and what is put into the water makes it a hazard to health, for which only a reduced-pressure device is made.",
		"Plan a reduced-pressure device, or leave out what pushes back or is put in. Ask your purveyor before buying; local code and a licensed tester decide.",
		"Breakers against back-siphonage only, reduced pressure where chemicals are put in: International Plumbing Code 608, from memory; local code decides"},
	TapsAfterDevice: {24, Mend, "Taps after the backflow device",
		"Water that has stood in the yard's pipes is not fit to drink, and a hose lifted high or left in a bucket undoes what a breaker guards.",
		"Take taps for drinking and hoses off before the device, each with its own breaker, and mark what stays as not for drinking; local code decides.",
		"Nothing for drinking taken off after the device: International Plumbing Code 608, from memory; local code decides"},
	BreakerLow: {25, Stop, "Vacuum breaker too low",
		"A breaker that stands lower than the water it guards against cannot open to the air when it must, and yard water can run back into the drinking water.",
		"Set it so that its critical level stands {12 in} above the highest head, an atmospheric one {6 in}, or choose a reduced-pressure device. Local code and a licensed tester decide.",
		"{12 in} and {6 in} above all downstream piping and the highest outlet, heads retracted: 30 TAC 344.50 (Texas)"},
	BreakerMisplaced: {26, Stop, "Vacuum breaker at the wrong place",
		"An atmospheric breaker must not stand under pressure for more than 12 hours a day, nor before any valve; a pressure breaker guards only what comes behind it.",
		"An atmospheric breaker after each zone valve; any other device in the main, before all of them.",
		"Atmospheric breakers: no downstream valve, at most 12 hours in 24 under pressure, 30 TAC 344.50 (Texas); local code decides"},
	NoIsolation: {27, Mend, "No valve to shut the system off",
		"Without one the house goes dry for every repair in the yard, and the system cannot be shut for winter.",
		"Plan a full-port valve at the connection, before the backflow device, where a hand reaches it.",
		practice},
	FreezeUnready: {31, Mend, "Nothing planned against frost",
		"Water left in pipes and devices splits them at the first hard frost, the backflow device first.",
		"Say how it is emptied: blown out through a port after the backflow device, or drained at the low points. If it never freezes, say that.",
		practice},
	LowHeads: {30, Notice, "Low heads need check valves",
		"After each run the pipe drains through the lowest heads: they stand in a puddle, and the next run begins with air.",
		"Choose bodies with a check valve for the low heads; they hold about {7 ft} of height, and past that the zone wants splitting.",
		"Check valves against low head drainage: city rules, as San Marcos, Texas; {7 ft} to {10 ft} of height held by " + practice},
	NoDigging: {34, Stop, "Digging where none is allowed",
		"A spade through a gas, power or drain line can kill, and is paid for by who dug.",
		"Move the head or valve, and lead its pipe round. Have the line marked before digging near it; local law decides how near.",
		"Nothing dug over lines and fields marked as not to be dug: " + practice},
	RootsCut: {34, Mend, "Head in a root zone",
		"The trench to it cuts roots that hold and feed the tree.",
		"Move it outside the drip line; else dig by hand or bore beneath the roots.",
		"Outside the drip line, or {1 ft} off for each inch of trunk: " + practice},
	TrenchAstray: {34, Mend, "Trench where none can be dug",
		"Nobody digs through a house or a pond; whoever meets it in the field leads the pipe as he thinks best, and it is too short.",
		"Lead the pipe round.",
		practice},
	SleeveMissing: {28, Mend, "Paving crossed with no sleeve",
		"Pipe laid bare under paving cannot be changed, and settles or is crushed; whoever lays the paving must know of it before.",
		"Draw a sleeve there, or lead the trench round. Have buried lines located before boring; lines that are not public are yours to find.",
		practice},
	SleeveSmall: {28, Mend, "Sleeve too small",
		"Pipe with its couplings, and wire by the bundle, stick in a sleeve that holds them on paper only.",
		"Give it the size named, or a second sleeve beside it.",
		"Twice the size of the pipe: " + practice},
	SleeveShort: {28, Mend, "Sleeve ends too near to the paving",
		"Whoever digs for its end undermines the edge, and nobody finds it.",
		"Draw it farther out; the least is told with it.",
		"{12 in} past each edge: " + practice},
	BoreLong: {28, Notice, "Long bore under paving",
		"A bore by hand wanders off, up under the paving or down, and may meet what lies beside it.",
		"Look for a way round or a narrower place, or have it bored by who does it for a living, after buried lines are located.",
		"Chosen; set the longest you bore among the plan's figures"},
	SleeveShared: {29, Mend, "Wire and pipe in one sleeve",
		"When the pipe is drawn out or leaks, the wire goes with it; wire that is pulled past pipe is skinned.",
		"Give wire a sleeve of its own beside it, with one spare conductor in it.",
		"A sleeve of its own for wire, one spare conductor: " + practice},
	ValvePlace: {35, Mend, "Valve in a bad place",
		"A valve box is opened for years: it must be found, stay dry, bear no wheels and have room for a hand.",
		"Move the valve to a bed or the edge of a lawn, at least {12 in} off paving, away from hedges and trunks.",
		practice},
	SprayMisting: {21, Notice, "Spray at too high a pressure",
		"Past its band a spray breaks its water into mist, which the wind takes, and asks for more flow than it was planned with.",
		"Use bodies regulated to {30 psi}, or lower the pressure planned for the zone.",
		"Sprays work best at {30 psi}, most between {30 psi} and {45 psi}: US EPA WaterSense on spray sprinkler bodies; misting past {40 psi} by " + practice},
	SpliceUnboxed: {36, Mend, "Splice outside a box",
		"Soil works into splices, and one that nobody finds again is dug for through the whole lot.",
		"Draw a splice box where the wires part, lead the trench through a valve box, or take single conductors, which run to each valve in one piece.",
		"Splices in boxes alone, with listed waterproof connectors: " + practice},
	SlackShort: {36, Mend, "Little slack at splices",
		"Wire that cannot be lifted out of its box is spliced lying on the ground, and pulls apart as the soil settles.",
		"Leave a loop of {24 in} to {36 in} at every splice.",
		"{24 in} to {36 in} at each splice: " + practice},
	WireThin: {37, Stop, "Wire too thin for its length",
		"A valve takes most current at the moment it opens; with too few volts it chatters or stays shut, and wire in the ground is not changed for thicker.",
		"Take thicker wire, the common first, which all valves share.",
		"At least 20 V at the valve at inrush, {850 ft} of 18 AWG at 0.37 A: published table of wire runs; resistance by a catalogue table at 20 °C"},
	StationsShort: {38, Mend, "Controller short of stations",
		"Each zone takes a terminal of its own, and a system grows: a spare one is cheaper than another controller.",
		"Choose a controller with a station for every zone and a fifth to spare.",
		"20 % spare stations: " + practice},
	SensorWetted: {39, Mend, "Rain sensor reads wrong",
		"A sensor under a throw or a roof reads the sprinklers or nothing, and the watering never stops for rain, or never starts.",
		"Move it where rain falls freely, above and outside every throw.",
		practice},
	SlopeRate: {40, Mend, "Rate too high for the slope",
		"Water put down faster than a slope takes it in runs off at the toe before it soaks in.",
		"Use nozzles of a lower rate, such as streams, or drip; run what stays in short cycles with time to soak between.",
		"At most {0.75 in/h} on slopes past 25 % unless no runoff is shown: " + ordinance},
	CyclesShort: {40, Mend, "Water faster than the soil takes it in",
		"What the ground does not take in stands on it and then runs off, and the roots get less than the minutes say.",
		"Choose a controller that has more starts or cycles and soaks by itself, allow more days, or choose nozzles of a lower rate.",
		"Longest cycle 60 × what may stand / (rate − intake): Irrigation Association scheduling method (from a copy); starts by " + practice},
	WindowShort: {41, Mend, "A week at peak does not fit the watering hours",
		"In the hottest weeks some zones get too little, or the controller runs on into the day, when wind and sun take the water.",
		"Allow more days or hours, or choose heads of a faster rate.",
		"Minutes at most days by hours, by 1/(0.4 + 0.6 DU) of the evenness to be expected in the field (Irrigation Association 2005, from memory): " + practice},
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
		"Give each side its own row along the line, about {1 ft} apart, each throwing to its own side.",
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
	ValveWithoutPlace: {45, Notice, "Valve without a place",
		"Other valves of this plan have their places; what has none is missing from the stake-out.",
		"Put the valve where its box is to stand.",
		practice},
	PipesLoose: {45, Mend, "Pipes without water",
		"What no pipe joins to the supply stays dry, and its pressures cannot be worked out.",
		"Draw the missing pipe, or drag the loose end onto the joint it belongs to.",
		practice},
	HeadsWithoutPipe: {45, Mend, "Heads without pipe",
		"A head that no pipe ends at gets no water, and is missing from pressures, trench and parts list.",
		"Draw a pipe to each of them from a lateral of their zone.",
		practice},
	LateralWithoutValve: {45, Stop, "Lateral without its valve",
		"Joined straight to the main, its heads run as long as the supply is on.",
		"Put the zone's valve where the lateral leaves the main, or join the lateral behind the valve.",
		practice},
	ZonesJoined: {45, Stop, "Two waters joined",
		"Whichever valve opens, water goes through the joining pipe to the other side, and neither gets its pressure.",
		"Delete the pipe, or end it at the head it was meant for.",
		practice},
	ValveDoubled: {45, Mend, "Zone with two valves",
		"A zone is the heads of one valve. With two it is not known which its water comes by, so its pressures are not worked out.",
		"Make the second valve a zone of its own, or join its heads to the first.",
		"One valve a zone: " + practice},
	PipeOfOtherZone: {45, Mend, "On another zone's pipe",
		"Water comes by the pipe, not by the zone that is written down, so the flows of both zones are counted wrong.",
		"Put heads and pipes in the zone whose valve they hang on, or join them to a lateral of their own.",
		practice},
	PipeEnds: {45, Notice, "Pipe ends at nothing",
		"A stub costs a cap and keeps stale water; often a head or a join is missing there.",
		"Join it, delete it, or leave it as a spare if that is meant.",
		practice},
	PipeOffPlace: {45, Mend, "Pipe not where it leads",
		"Lengths and pressures are worked out to the joint as drawn, and the trench would miss.",
		"Drag the joint onto its place.",
		"Half a foot taken as the same place: " + practice},
	SizeGrows: {33, Mend, "Pipe grows along its way",
		"The smaller pipe before it has taken the pressure already; the larger one behind it costs more and gives none back.",
		"Make it no larger than the pipe before it, or enlarge that one.",
		"Sizes never grow away from the supply: " + practice},
	SizeNotMade: {32, Mend, "Pipe not made in this size",
		"Without its inside diameter and rating nothing can be worked out for it, and nobody sells it.",
		"Choose a size that the class is made in, or another class. The smallest pipe sold beside Class 200 is Class 315.",
		"The sizes of the class's table; Class 200 is SDR 21, its smallest neighbour SDR 13.5: ASTM D2241 dimensions"},
	ClassUnderPressure: {32, Mend, "Pipe class too weak for the main",
		"The main stands under pressure day and night, and every valve that shuts adds a blow to it: pipe near its rating tires and bursts.",
		"Choose a class of higher rating or a larger size, or put a regulator before it. Local code decides on pipe under constant pressure.",
		"At most 72 % of the rating at rest, and rest and surge within it: New Mexico State University, Soils 456, chapter 8; a valve's second by " + practice},
	PipeNotPotable: {24, Mend, "Not pipe for drinking water",
		"Up to the backflow device the pipe is part of what the house drinks from.",
		"Use pipe rated for drinking water up to the device, such as Schedule 40 PVC or copper; local code decides.",
		"Plumbing codes ask for potable-water pipe on the supply side: " + practice},
	ExistingBought: {46, Mend, "Existing heads counted as bought",
		"The zone is there already but all its heads are marked new, so the parts list buys them again.",
		"Mark the heads that stand there already as existing.",
		practice},
	LeavesLot: {47, Mend, "Spray leaves the lot",
		"Water on the street or the neighbour's ground is wasted, and many places fine for it.",
		"Turn the arc in to the line, turn the throw down, or move the head back.",
		"No water leaves the property: US EPA WaterSense single-family new home specification; up to 2 % of the flow let pass by " + practice},
	HeadsDoubled: {49, Stop, "Two heads on one spot",
		"Both water the same ground, so that it gets twice the depth, and flow and parts list count a head too many.",
		"Delete one of them, or move it to where a head is missing.",
		"One head a spot, {1 ft} taken as the same spot: " + practice},
	AreasDoubled: {49, Mend, "The same area twice",
		"Where two areas of one kind lie on each other only one has the ground; the other waters nothing and stands in every list.",
		"Delete one of them.",
		practice},
	LocateMissing: {48, Notice, "Utility lines not marked yet",
		"Gas, power and water lines lie where nobody remembers; cutting one can kill.",
		"Call the utilities' locating service two to three working days before digging, wait until every line is marked, and note date and ticket in the plan's settings. Private lines are yours to find; local law decides.",
		"Notice before digging is asked for by state one-call laws (49 CFR 198.37); two to three working days by " + practice},
}
