package packs

import (
	"fmt"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// blowLimit is the pressure at the hose that a pipe may be blown out with: PVC 80 psi,
// polyethylene 50 psi, common practice (trade.md A7).
var blowLimit = map[catalog.PipeMaterial]units.PSI{catalog.PVC: 80, catalog.PE: 50}

// winterCard is how the system is made safe from freezing by the way the plan has
// chosen, and started again.
func (b *builder) winterCard() error {
	f := b.list()
	switch b.p.Supply.Freeze {
	case "blow_out":
		b.blowOut(f)
	case "manual_drain":
		b.drainByHand(f)
	case "automatic_drain":
		b.drainByItself(f)
	case "none":
		f.para("The plan takes it that the ground and the device do not freeze here, so nothing is drained.")
		f.bullets("If frost is forecast: shut the system off at its valve, and open the drain or a bleed at the lowest place.",
			"Wrap what stands above ground: pipe, device, valves. Leave the openings free that let air in or water out.",
			"A device that has frozen is not used before it is looked at and tested: by who is licensed for it.")
	default:
		f.caution("The plan does not say yet how the pipes are kept from freezing. Settle it before the first frost: blow out, drain by hand, or drains that open by themselves. Pipe that freezes full breaks.")
	}
	b.deviceInFrost(f)
	b.springStart(f)
	f.note("Common practice. What the makers of device, valves and controller say, local rules, and who does this for a living go before this card.")
	f.section("Done, year by year")
	const head, line, most = 26.0, 14.0, 6 // points of a table's head and of its rows, about; rows: chosen
	rows := make([][]string, min(max(int((f.y-f.bottom-head)/line), 3), most))
	for i := range rows {
		rows[i] = []string{"", "", "", ""}
	}
	rows[0][3] = b.p.Site.BackflowTestedOn
	f.table(grid{Head: []string{"Emptied on", "By", "Started again on", "Backflow device tested on"}, Shares: []float64{1, 1, 1, 1}, Rows: rows})
	return nil
}

// blowMaterials are the plastics of the plan's pipes that air goes through.
func (b *builder) blowMaterials() []catalog.PipeMaterial {
	var out []catalog.PipeMaterial
	for _, id := range plan.SortedIDs(b.p.Pipes) {
		v := b.p.Pipes[id]
		if class, ok := b.p.PipeClass(v.Class); ok && v.Status.Stands() && blowLimit[class.Material] > 0 && !slices.Contains(out, class.Material) {
			out = append(out, class.Material)
		}
	}
	slices.Sort(out)
	return out
}

var plasticNames = map[catalog.PipeMaterial]string{catalog.PVC: "PVC", catalog.PE: "polyethylene"}

// blowWords says how much pressure there may be at the hose.
func (b *builder) blowWords() string {
	limit := func(m catalog.PipeMaterial) string { return b.sys.NominalPressure(blowLimit[m]) }
	switch list := b.blowMaterials(); {
	case len(list) == 1:
		return fmt.Sprintf("never more than %s at the hose: the pipe is %s", limit(list[0]), plasticNames[list[0]])
	case len(list) > 1:
		return fmt.Sprintf("never more than %s at the hose: some of the pipe is polyethylene, and the weakest decides", limit(catalog.PE))
	}
	return fmt.Sprintf("never more than %s at the hose with PVC, %s with polyethylene: find out which pipe it is first", limit(catalog.PVC), limit(catalog.PE))
}

func (b *builder) blowOut(f *flow) {
	_, d, chosen := b.p.BackflowDevice()
	after := "Air goes in AFTER the backflow device and never through it."
	first := "Close the shut-offs of the backflow device. Then open a zone for a moment to let the pressure off."
	switch {
	case chosen && d.Backflow == catalog.AtmosphericBreaker:
		after = "No air may be driven through the breakers after the valves: they are opened as their maker says before."
		first = "Open a zone for a moment to let the pressure off. Then open every breaker as its maker says, so that air passes none."
	case !chosen:
		after = "Air never goes through a backflow device."
		first = "Open a zone for a moment to let the pressure off."
	}
	f.para("Before the ground freezes the water is blown out with air, through the blow-out port. It is the work of someone who does it for a living: the wrong pressure bursts pipe and throws parts.")
	f.caution("Compressed air can kill or blind. Eye protection on, everybody else away, never stand over heads, valves or fittings while there is air in the pipe. " + after)
	f.section("Empty it")
	off := "No program runs at the controller; the system's shut-off is closed."
	if b.job().pumped {
		off = "No program runs at the controller; the pump is off at its disconnect, and the system's shut-off is closed."
	}
	f.steps(1, off, first,
		"Join the hose to the blow-out port"+b.portWords()+". Air by volume, not by pressure: a large compressor, its regulator set low; "+b.blowWords()+".",
		"Open one zone from the controller BEFORE the air, the highest and farthest first"+b.farthestValve()+" and let the air on slowly. Never with all zones closed.",
		"Each zone until its heads give mist and no more, about two minutes, not longer: dry heads run hot and wear. Then the next, and all of them once more.",
		"Turn the air off while the last zone is still open. Take the hose off only when its gauge shows nothing, leave the port open a while, then cap it.",
		"Controller to off or rain; its clock may run on.")
}

// portWords say where the blow-out port is: after the device, where one is chosen that
// stands in line.
func (b *builder) portWords() string {
	if _, d, chosen := b.p.BackflowDevice(); !chosen || d.Backflow == catalog.AtmosphericBreaker {
		return ""
	}
	return ", right after the backflow device"
}

func (b *builder) drainByHand(f *flow) {
	f.para("The pipe falls toward drains that are opened by hand. " + b.drainWords())
	f.section("Empty it")
	f.steps(1,
		"No program runs at the controller; the system's shut-off is closed.",
		"Open the drains, the lowest last, and the bleed of each zone valve so that air comes in.",
		"Leave drains open until nothing runs, then close them, or leave them open all winter if they are made for it.",
		"Low places that do not drain: bail the boxes, and lift a head at the end of the line.",
		"Controller to off or rain.")
}

func (b *builder) drainByItself(f *flow) {
	f.para("Drains at the low points open by themselves whenever the pressure is off. " + b.drainWords())
	f.section("Make sure of it")
	f.steps(1,
		"No program runs at the controller; the system's shut-off is closed.",
		"Open the bleed of each zone valve in turn: laterals empty themselves.",
		"The main before the zone valves does not: open its own drain.",
		"A drain that stays shut is stopped up: clean it and its gravel.",
		"Controller to off or rain.")
}

// drainWords tells where the drains are.
func (b *builder) drainWords() string {
	var at []string
	for _, id := range plan.SortedIDs(b.p.Nodes) {
		if n := b.p.Nodes[id]; n.Kind == "drain" && n.Status.Stands() {
			at = append(at, b.p.Whereabouts(spotAt(n.Spot())))
		}
	}
	if len(at) == 0 {
		return "None is drawn on the plan yet."
	}
	return fmt.Sprintf("The plan has %s: %s.", plan.Plural(len(at), "drain", "drains"), plan.Several(at))
}

// deviceInFrost is what is done to a backflow device, whatever empties the pipes.
func (b *builder) deviceInFrost(f *flow) {
	if b.p.Supply.Freeze == "none" || b.p.Supply.Freeze == "" && len(b.p.Pipes) == 0 {
		return
	}
	_, d, chosen := b.p.BackflowDevice()
	if d.Backflow == catalog.AtmosphericBreaker || !chosen && !b.hasDevice() {
		return
	}
	f.section("The backflow device")
	if !chosen {
		f.para("The plan does not say which it is. It holds water that bursts it in frost: have it shown, by who is licensed for it, how it is emptied and kept through the winter.")
		return
	}
	f.steps(1,
		"Once the pipe is empty, with the system's shut-off still closed and no pressure on: both shut-offs half open, and the test cocks half open, so that no water is held inside. Who may do it goes by local rules.",
		"Leave them so through the winter, or have the device taken in by who is licensed for it, and the ends capped.",
		"The pipe up to it, as far as it is in the frost, is emptied too, by the drain at the inside shut-off.")
}

// holdStep is how it is seen in spring that the main holds (trade.md B16).
func (b *builder) holdStep() string {
	if j := b.job(); j.pumped {
		return "Zones closed, pump off, the valve behind its tank shut: a gauge stands still for a quarter of an hour."
	}
	return "Zones closed, no water drawn in the house: the meter's dial stands still for a quarter of an hour."
}

// springStart is the way back (trade.md E17).
func (b *builder) springStart(f *flow) {
	title, first := "Start again in spring", "Wait until the ground is free of frost. Close every bleed and "
	switch b.p.Supply.Freeze {
	case "blow_out":
		first += "the blow-out port."
	case "manual_drain":
		first += "every drain."
	case "automatic_drain":
		first += "the main's own drain."
	case "none":
		title, first = "Start again after it was shut off", "Close every bleed, and the drain if there is one."
	default:
		first += "drain."
	}
	f.section(title)
	steps := []string{first + " Look for cracks above ground."}
	_, d, chosen := b.p.BackflowDevice()
	if chosen && d.Backflow != catalog.AtmosphericBreaker {
		wait := "until the breaker seats and stops spitting"
		if d.Backflow == catalog.ReducedPressure {
			wait = "until the relief opening stops running"
		} else if d.Backflow == catalog.DoubleCheck {
			wait = "until the device is full"
		}
		steps = append(steps, "Test cocks and both shut-offs closed. Open the system's shut-off, then the INLET of the device slowly "+wait+", then the OUTLET slowly.")
	} else {
		steps = append(steps, "Open the system's shut-off slowly, a quarter turn at a time.")
	}
	steps = append(steps,
		"Let the air out at the bleed of the highest and farthest zone valve"+b.farthestValve()+" until water runs without spitting.",
		b.holdStep(),
		"Run each station and walk it: leaks, heads that lean, turned arcs. Compare flow and pressure with O8.",
	)
	if b.testedYearly() {
		steps = append(steps, "Have the backflow device tested by a licensed tester before the system is used, and every year.")
	}
	f.steps(1, append(steps, "Set clock, date, days and the "+b.adjusted()+" of the month (O3).")...)
}
