package packs

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// task is one thing to do, in the order of work.
type task struct {
	says    string
	sheets  string // it is done by: "C5, C6"; "" for none
	caution bool   // a warning in its place, not a thing to tick
}

// phase is steps that belong together.
type phase struct {
	title string
	steps []task
}

// orderOfWork is the checklist from the locate to the program. What is common practice
// here is so from memory (trade.md E17, E18, B4-B16); local code and licensed practice
// go before it, which it says.
func (b *builder) orderOfWork() error {
	f := b.list()
	f.para("Tick each step as it is done, in this order. The sheets that a step uses stand at the right. Where local code, an inspector or a licensed tradesman says otherwise, do as they say.")
	if len(b.in.Design.Pipework.Pipes) == 0 {
		f.para("No pipe is drawn yet: this is the order for the usual system.")
	}
	n := 1
	for _, p := range b.work() {
		f.section(p.title)
		for _, s := range p.steps {
			if s.caution {
				f.stepCaution(s.says)
				continue
			}
			f.step(n, s.says, s.sheets, stepSize, 1.8)
			n++
		}
	}
	f.note("Times to cure, torque and pressures of the makers' own papers go before those here.")
	return nil
}

// job is what of a plan decides which steps there are.
type job struct {
	p        *plan.Plan
	drunk    bool // the supply is drinking water
	pumped   bool // its pressure comes from a pump of its own
	device   catalog.Device
	chosen   bool // a backflow device is
	breakers bool // it is an atmospheric one after each valve
	cement   bool
	clamps   bool
	soldered bool
	threaded bool
	sleeves  bool
	wired    bool
	pipes    bool
}

func (b *builder) job() job {
	s := b.p.Supply
	j := job{p: b.p, drunk: s.Kind.Drunk(), pumped: s.Kind == plan.Well || s.Kind == plan.Pond}
	_, j.device, j.chosen = b.p.BackflowDevice()
	j.breakers = j.chosen && j.device.Backflow == catalog.AtmosphericBreaker
	for _, v := range b.p.Pipes {
		if !v.Status.IsNew() {
			continue
		}
		j.pipes = true
		class, _ := b.p.PipeClass(v.Class)
		switch class.Joint {
		case "cement":
			j.cement = true
		case "insert":
			j.clamps = true
		case "solder":
			j.soldered = true
		case "thread":
			j.threaded = true
		}
	}
	n := b.needs()
	j.sleeves = n.sleeve
	for _, r := range b.in.Design.Wiring.Runs {
		j.wired = j.wired || r.New
	}
	if !j.pipes { // nothing is drawn: the usual system
		j.cement, j.wired = true, true
	}
	return j
}

// work are all steps of this plan in order.
func (b *builder) work() []phase {
	j := b.job()
	return []phase{b.before(j), b.connection(j), b.trenching(j), b.laying(j), b.filling(j), b.backfilling(j), b.flushing(j), b.starting(j), b.handing(j)}
}

func do(says, sheets string) task { return task{says: says, sheets: sheets} }
func warn(says string) task       { return task{says: says, caution: true} }

func (b *builder) before(j job) phase {
	steps := []task{
		warn("No digging before every buried line is located and marked. The service marks public lines only: gas, power, water and data behind the meter are yours to find. Dig by hand near every mark."),
		do("Ask for the locate two to three working days ahead, and wait for every answer. Note date and ticket.", "C1"),
		do("Permits, the owners' association and who may connect to the water: settled and on paper.", "C1"),
		do("Walk the yard with the layout plan. What differs from the drawing is settled before a flag is set.", "C3"),
	}
	if b.in.Design.Pressure.Supply.Assumed {
		steps = append(steps, do("Measure the supply: the pressure at rest, and the pressure left while a known flow runs. This plan only ASSUMES it, so nothing is bought or dug before.", "C1"))
	}
	return phase{"Before digging", append(steps,
		do("Set the flags, white and printed with their tags, after the locator has marked. Check the third distance of each.", "C5"),
		do("Look once more: does each head reach the next, is each flag as far from paving and walls as the list says?", "C6"))}
}

func (b *builder) connection(j job) phase {
	p := phase{title: "Water: shut off, connect, keep apart"}
	add := func(s ...task) { p.steps = append(p.steps, s...) }
	switch {
	case j.pumped:
		add(warn("Switch the pump off at its disconnect, and lock and tag it before any pipe is opened. Mains wiring is a licensed electrician's work."),
			do("Let the pressure off at the tank, and close the valve after it.", ""))
	case b.p.Supply.Kind == plan.HousePipe:
		add(do("Tell whoever is in the house, shut the water off there, and open the lowest tap until it runs dry.", ""))
	default:
		add(do("Tell whoever is in the house, shut the water off at the meter's own stop, and open the lowest tap until it runs dry.", ""))
	}
	if j.drunk {
		add(warn("In many places only a licensed plumber or irrigator may connect to drinking water. Ask before the pipe is cut."))
	}
	shut := "a full-bore shut-off valve"
	if id, _, ok := b.p.Isolation(); ok {
		shut = "the shut-off valve (" + lowerFirst(b.p.DeviceName(id)) + ")"
	}
	says := "Make the connection with " + shut + " first, in reach and in a box if it lies in the ground."
	if b.p.Supply.Regulator {
		says += " The pressure regulator comes next."
	}
	if id, _, ok := b.p.Filter(); ok {
		says += " Then the filter (" + lowerFirst(b.p.DeviceName(id)) + ")."
	}
	add(do(says, "C4"))
	switch {
	case !j.chosen && j.drunk && b.p.Supply.Backflow == "":
		add(warn("No backflow device is chosen on this plan. Ask the water supplier which kind it must be, and do not connect without one: the yard's water must never run back into drinking water."))
	case j.breakers:
		add(do("Only pipe rated for drinking water up to the zone valves: an atmospheric breaker stands after each of them, none before.", "C4, C10"))
	case j.drunk:
		add(do("Only pipe rated for drinking water up to the backflow device.", "C4"),
			do(fmt.Sprintf("Set the backflow device%s at its height, upright or level as it is made, held to something firm, with room for the tester's hands.", b.deviceWords()), "C10"))
	default:
		add(do("This water is not for drinking: no pipe of it is ever joined to one of drinking water. Mark valves, boxes and hose points so.", ""))
		if j.chosen {
			add(do(fmt.Sprintf("Set the backflow device%s at its height, with room for the tester's hands.", b.deviceWords()), "C10"))
		}
	}
	if b.p.Supply.Kind == plan.Reclaimed {
		add(do("Reclaimed water: purple pipe, valves, box covers and tags throughout.", ""))
	}
	if b.p.Supply.Injection {
		add(do("Chemicals are put into this water: only a reduced-pressure device may stand between it and drinking water, and nothing is drunk or taken by hose after it.", ""))
	}
	if b.p.Supply.Freeze == "blow_out" {
		where := "after the backflow device"
		if j.breakers {
			where = "in the main, before the zone valves"
		}
		add(do("Set the blow-out port "+where+", and cap it.", "C10"))
	}
	last := "Close the new shut-off, give the house its water back, and look for drops at the connection."
	if j.pumped {
		last = "Close the new shut-off, start the pump, and look for drops at the connection."
	}
	add(do(last, ""))
	return p
}

// deviceWords names the chosen device.
func (b *builder) deviceWords() string {
	if id, _, ok := b.p.BackflowDevice(); ok {
		return " (" + lowerFirst(b.p.DeviceName(id)) + ")"
	}
	return ""
}
