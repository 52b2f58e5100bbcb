package packs

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

func (b *builder) trenching(j job) phase {
	steps := []task{do("Mark the trenches with white paint from the pipe plan; take up sod in strips and keep it moist in the shade.", "C4, C7")}
	if len(b.p.Trees) > 0 {
		steps = append(steps, do("Near trees dig by hand and leave roots thicker than a thumb: go under them, or around.", "C7"))
	}
	if j.sleeves {
		steps = append(steps, do("Sleeves first: a spare beside each, past both edges of the paving, ends taped, staked and measured.", "C7, C10"),
			warn("Before boring or jetting under paving, every line that crosses there is dug open by hand and seen. Keep out of the line of the rod; longer bores are for who bores for a living."))
	}
	return phase{"Trenches" + map[bool]string{true: " and sleeves"}[j.sleeves], append(steps,
		do(fmt.Sprintf("Dig to %s of cover over the main and %s over laterals, deeper where the list says, the floor smooth and free of stones.", b.inches(b.figure(plan.DepthMain)), b.inches(b.figure(plan.DepthLateral))), "C7"),
		warn("Keep spoil, people and machines back from the edge. Who goes into a trench deeper than a person's waist needs shoring by the rules of the trade."))}
}

func (b *builder) laying(j job) phase {
	p := phase{title: "Pipe, boxes and wire"}
	add := func(s ...task) { p.steps = append(p.steps, s...) }
	add(do("Read the print on each length against the plan: size and pressure class. The main is always under pressure: no pipe of a lower class in it than the plan names.", "C4"))
	if j.cement {
		add(warn("Primer and solvent cement: gloves and eye protection, fresh air, no flame and no smoking; never in a closed space. Read the can."),
			do("PVC: cut square, take off burrs, dry-fit, prime where code or the can asks, cement both, push home with a quarter turn and hold half a minute. Let it cure as the can says before it moves or takes pressure.", "C4"))
	}
	if j.clamps {
		add(do("Polyethylene: cut square, slide the clamps on, push the insert fitting fully home and tighten clamps of stainless steel. Soften cold pipe in hot water, never by flame. Lay it a little slack: it shrinks when the water comes.", "C4"))
	}
	if j.soldered {
		add(warn("Soldering: flame, flux and a fire risk at the wall. Lead-free solder alone on drinking water; in many places a licensed plumber's work."))
	}
	if j.threaded {
		add(do("Threaded pipe: tape or paste on the outer thread alone, and never onto a thread cut into Schedule 40 plastic.", "C4"))
	}
	add(do("Main first, then valves: manifolds dry-fitted, unions in reach, arrows with the flow.", "C4, C10"))
	if j.breakers {
		add(do("After each zone valve its atmospheric breaker, at the height of the detail, with no shut-off behind it.", "C10"))
	}
	add(do(fmt.Sprintf("Boxes on bricks, %s of washed gravel under them, covers at finished grade; nothing of a box rests on a pipe.", b.inches(b.figure(plan.GravelDepth))), "C10"))
	if j.wired {
		add(do(b.fixed("Wire beside and under the main, taped together every {10 ft}, a loop at every turn; never pulled tight."), "C8"),
			do(fmt.Sprintf("Splices in boxes alone, with %s of slack and connectors filled against water. The controller stays unplugged.", b.inches(b.figure(plan.WireSlack))), "C8, C10"))
	}
	add(do("Laterals next: outlets of tees to the side, toward their heads; swing joints at right angles; risers open and covered against soil. No nozzle goes in yet.", "C4, C10"))
	switch b.p.Supply.Freeze {
	case "manual_drain":
		add(do("Drains to be opened by hand at each low point, in a pocket of gravel, the pipe falling toward them all the way.", "C4"))
	case "automatic_drain":
		add(do("Automatic drains at each low point of the laterals, facing down into a pocket of gravel, the pipe falling toward them all the way; none in the main.", "C4"))
	}
	return p
}

// filling is how water comes into the main for the first time, and what it must hold
// (trade.md E17, B16).
func (b *builder) filling(j job) phase {
	p := phase{title: "First water and pressure test, trenches still open"}
	add := func(s ...task) { p.steps = append(p.steps, s...) }
	add(do("Load the pipe with soil between the joints, so that it cannot shift. Every joint stays open to the eye; zone valves are closed.", ""))
	add(warn("Test with water alone, never with air: a pipe that bursts with air throws splinters. Eye protection on; nobody stands over a joint."))
	at := "the bleed of the highest and farthest zone valve" + b.farthestValve()
	if j.chosen && !j.breakers || !j.chosen && j.drunk {
		at = "that bleed"
		add(do("At the backflow device: all test cocks closed, both its shut-offs closed. Somebody stands at the bleed of the highest and farthest zone valve"+b.farthestValve()+" and opens it.", "C8, C10"))
		switch j.device.Backflow {
		case catalog.ReducedPressure:
			add(do("Open the shut-off at the connection, then the INLET slowly. The relief opening may spit; wait until it stops. Then open the OUTLET slowly.", "C10"))
		case catalog.DoubleCheck:
			add(do("Open the shut-off at the connection, then the INLET slowly until the device is full. Then open the OUTLET slowly.", "C10"))
		default:
			add(do("Open the shut-off at the connection, then the INLET slowly until the breaker seats and stops spitting. Then open the OUTLET slowly.", "C10"))
		}
	} else {
		add(do("Open the shut-off at the connection slowly, a quarter turn at a time: filling fast breaks joints.", ""))
	}
	add(do("Let the air out of the main at "+at+" until water runs without spitting, and close it. Test cocks are for the tester; they let no air out of the main.", "C4, C8"))
	hold := "Hold the pressure at rest for one to two hours, after the joints have cured: no drop at any joint, and the dial of the meter stands still."
	if j.pumped {
		hold = "Hold the pressure for one to two hours, after the joints have cured, with the pump off and the valve to the tank closed: no drop at any joint, and a gauge stands still."
	}
	add(do(hold+" What drips is cut out and made anew, and tested again.", "O8"))
	add(do("Laterals, zone by zone: cap the risers but those at the ends, open the valve slowly by its bleed until water alone comes there, close it, cap these too, open it again, look at every joint under pressure, close it.", "C9"))
	if j.chosen && !j.breakers || j.drunk && !j.chosen {
		add(do("The backflow device is tested by a licensed tester before the system is used, and every year after. Keep the report; send it where local code asks.", "C1, O8"))
	}
	add(do("If the permit asks for it, the inspector sees pipe, depth, wire and device now, in the open trench.", "C1"))
	return p
}

// farthestValve names the zone valve that air goes to, as far as the plan has valves.
func (b *builder) farthestValve() string {
	id := proof.FarthestValve(b.p)
	if id == "" {
		return ""
	}
	return ", by this plan that of " + b.p.ZoneName(id) + ","
}

func (b *builder) backfilling(j job) phase {
	return phase{"Fill back", []task{
		do("Only after the pressure test has passed: photograph pipe, splices and ends of sleeves with a tape in the picture.", "C4, C7"),
		do("Soil without stones about the pipe first, by hand. Then in layers of a hand's height, each tamped; leave the last a little high, as it settles.", "C10"),
		do("Round heads and boxes by hand, tamped, heads plumb. Tops go to finished grade once the ground is final.", "C10"),
	}}
}

// flushing comes before nozzles (trade.md E17, B16).
func (b *builder) flushing(j job) phase {
	return phase{"Flush, then nozzles", []task{
		do("Zone by zone, nozzles out and risers up: open the valve slowly by its bleed and let it run until every riser is clear, those at the ends last.", "C9"),
		do("Close the valve. Put in screens and nozzles as the setting sheet has them, from the valve outward.", "C6"),
		do("Open the zone again and set each arc: its left edge at the landmark on the sheet, then its sweep, then its throw. No water on walls, walks, street or over the fence.", "C6"),
		do("Heads flush with finished grade and plumb; what leans or sinks is dug up and set again.", "C6, C10"),
		do("Look at the zone for some minutes: no drips, no soft ground over pipe, heads go down when it stops.", "C9"),
	}}
}

func (b *builder) starting(j job) phase {
	p := phase{title: "Controller, wires and program"}
	add := func(s ...task) { p.steps = append(p.steps, s...) }
	add(warn("A controller wired to the mains, its outlet and its ground are a licensed electrician's work. It is off while low-voltage wires are joined to it."))
	if j.wired {
		add(do("With the controller off, read the resistance of each station to the common: about 20 to 60 ohms is usual. Next to nothing is a short; no reading is an open wire or splice.", "C8, O7"),
			do("Switch on and run each station for a minute: does the zone open that the list says? Correct at the terminals, and write the number at each.", "C8"))
	} else {
		add(do("Run each station for a minute: does the zone open that the list says? Write the number at each terminal.", "C8, O7"))
	}
	if len(b.p.Sensors) > 0 {
		add(do("Try each sensor: a rain sensor wetted by hand must keep a running program from watering.", "C8"))
	}
	add(do("Key in the program from the owner's program card, and set clock and date.", "O3"))
	return p
}

func (b *builder) handing(j job) phase {
	steps := []task{
		do("Mark on the layout plan what stands elsewhere than drawn: heads, valves, splices, ends of sleeves, with two distances each. That is the record drawing.", "C3, O6"),
		do("Show the owner shut-off, controller, boxes and backflow device; leave the owner's book with them.", "O1–O10"),
	}
	switch b.p.Supply.Freeze {
	case "", "none":
	case "blow_out":
		steps = append(steps, do("Show the blow-out port and the winter card.", "O4"))
	default:
		steps = append(steps, do("Show the drains and the winter card.", "O4"))
	}
	return phase{"Hand over", append(steps, do("Come back after the first weeks: settle heads and trenches, correct arcs.", "C6"))}
}
