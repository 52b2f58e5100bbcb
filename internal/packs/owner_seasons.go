package packs

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// seasonChecks is what the owner looks at through the year, and what to do when
// something is wrong. All of it is common practice, from memory.
func (b *builder) seasonChecks() error {
	f := b.list()
	f.para("Common practice: local rules and the makers of the parts go before it. How to shut the water off, and who to call: O2.")
	freeze := b.p.Supply.Freeze
	freezes := freeze != "" && freeze != "none"
	f.section("Spring")
	spring := []string{"Run every station and walk it. Straighten heads that lean, raise those that have sunk, cut grass away from their tops."}
	if freezes {
		spring = append([]string{"Start the system as the winter card says."}, spring...)
	}
	if b.testedYearly() {
		spring = append(spring, "The yearly test of the backflow device, by a licensed tester"+b.testedWords()+" Tested on: ____________ (and on O8)")
	}
	f.checks(append(spring, "Clean the screens of heads that throw short"+b.filterWords()+".")...)
	f.section("Summer")
	summer := []string{"Once a month look at each zone while it runs, early in the morning: dry corners, water on walks, mist, a head that does not rise.",
		"Dry place: look for a stopped nozzle, a turned arc or a plant in the way first, before minutes are added.",
		"Set the " + b.adjusted() + " of the month as the program card has it (O3), then by what the ground shows. After a good rain switch to rain, or let the sensor do it."}
	if len(b.p.Sensors) > 0 {
		summer = append(summer, "Try the sensor: wet it while a station runs.")
	}
	f.checks(summer...)
	f.section("Autumn")
	autumn := []string{"Lower the " + b.adjusted() + " as days get cooler, by the program card (O3).", "Cut back what has grown in front of heads and over boxes."}
	if freezes {
		autumn = append(autumn, "Empty the system before the first hard frost, as the winter card says.")
	} else if freeze == "" {
		autumn = append(autumn, "Before the first frost: settle how the system is kept from freezing. This plan does not say it; see the winter card.")
	}
	f.checks(autumn...)
	f.section("Winter")
	f.checks(b.winterCheck(), "Plan changes now: anything that is dug or built over pipe and wire goes on the plan of the yard.")
	f.section("When one head is wrong")
	f.table(grid{Head: []string{"What you see", "What to do"}, Shares: []float64{2, 5}, Rows: [][]string{
		{"It throws short or in streaks", "Screen or nozzle stopped: take the nozzle out, rinse it, let the zone run a moment to flush, put it back."},
		{"It does not rise, or not go down", "Sand at its seal: clean it while it is pulled up. Worn: change the body for one of the same height."},
		{"It waters the wrong way", "Turn the arc's left edge to its landmark, then set the sweep: both are in the crew pack, C6."},
		{"It leaks at its foot", "Shut the system off, dig round it by hand, screw the body off its swing joint, look at the thread."},
		{"It is broken", "Same body, same nozzle, same zone. Another nozzle on one head makes the whole zone uneven. " + b.bodiesHere()},
		{"A whole zone does not come on", "Controller: is the station on, does another one run? Then wire and valve: call who built it."},
		{"A zone does not stop", "Shut the water off first. The valve's seat has a grain in it or its bleed is open."},
		{"Water runs where nothing is on", "Shut the system off and look at the meter. If it turns with the system off, it is the house's pipe: call a plumber."},
	}})
	f.caution("Leave the backflow device to who is licensed for it: nobody else takes it apart, adjusts or removes it. Mains wiring is an electrician's. Before anybody digs, have buried lines located.")
	return nil
}

// adjusted is what a controller is turned by through the year.
func (b *builder) adjusted() string {
	if b.p.Controller.Adjusts == "none" {
		return "minutes"
	}
	return "seasonal percentage"
}

// testedWords is when the backflow device was tested last, as far as the plan knows.
func (b *builder) testedWords() string {
	if on := b.p.Site.BackflowTestedOn; on != "" {
		return "; the last that this plan knows of was on " + on + "."
	}
	return "."
}

// winterCheck is what is looked at in winter. Where the plan does not say whether it
// freezes nobody is told to run water.
func (b *builder) winterCheck() string {
	switch b.p.Supply.Freeze {
	case "none":
		return "Run each station some minutes a month in dry weather, so that seals stay soft."
	case "":
		return "In frost no station runs. A pipe or a device that has frozen is looked at before water is let into it."
	}
	return "The system is empty and off. Look that the cover of the backflow device sits."
}

// whoToCall is who does what that is not the owner's, with room for their numbers.
func (b *builder) whoToCall(f *flow) {
	f.section("Who to call")
	rows := [][]string{{"Emergency: gas or power that is hit or smelled", ""}}
	if k := b.p.Supply.Kind; k == plan.Well || k == plan.Pond {
		rows = append(rows, []string{"Who looks after the pump", ""})
	} else {
		rows = append(rows, []string{"Water supplier", ""})
	}
	rows = append(rows, []string{"Before anybody digs: to have buried lines marked", ""}, []string{"Heads, valves, pipe, low-voltage wire: who built it", ""})
	if b.testedYearly() {
		rows = append(rows, []string{"Backflow device, yearly test, repair: licensed tester", ""})
	}
	rows = append(rows, []string{"Pipe before the device: licensed plumber, by local rules", ""}, []string{"Mains power of controller or pump: electrician", ""})
	if b.p.Supply.Freeze == "blow_out" {
		rows = append(rows, []string{"Who blows the system out before winter", ""})
	}
	f.table(grid{Head: []string{"For", "Name and number, written in by hand"}, Shares: []float64{4, 5}, Least: 18, Rows: rows,
		Note: "Heads, nozzles, minutes and days are yours to see to. Who may do the rest, and on which days and hours you may water, goes by local rules."})
}

// shutWords says how the water is shut off, and where.
func (b *builder) shutWords() []string {
	out := []string{"For a day or for rain: the controller to off" + b.controllerPlace() + ". Valves close by themselves."}
	s := &b.p.Supply
	where := ""
	if s.Connection != nil && len(b.p.Heads) > 0 {
		where = ", " + b.p.Whereabouts(spotAt(*s.Connection))
	}
	if id, _, ok := b.p.Isolation(); ok {
		out = append(out, fmt.Sprintf("For work, or longer: the %s at the point of connection%s. A handle that stands across the pipe is shut; a wheel is turned to the right until it stops.", lowerFirst(b.p.DeviceName(id)), where))
	} else {
		out = append(out, "For work, or longer: the shut-off at the point of connection"+where+". The plan names none: have it shown to you.")
	}
	if s.Kind == plan.Well || s.Kind == plan.Pond {
		return append(out, "In an emergency: the pump's disconnect. All water from it stops.")
	}
	return append(out, "In an emergency: the main stop at the meter. All water stops, the house's too. Find it before you need it.")
}

// controllerPlace is where the controller hangs, as a few words in a sentence.
func (b *builder) controllerPlace() string {
	if place := strings.TrimSpace(b.p.Controller.Place); place != "" {
		return " (" + place + ")"
	}
	return ""
}

func (b *builder) hasDevice() bool {
	_, _, chosen := b.p.BackflowDevice()
	return chosen || b.p.Supply.Backflow != "" || b.p.Supply.Kind.Drunk()
}

// testedYearly reports whether a licensed tester tests the device: an atmospheric breaker
// has no test cocks.
func (b *builder) testedYearly() bool {
	_, d, _ := b.p.BackflowDevice()
	return b.hasDevice() && d.Backflow != catalog.AtmosphericBreaker
}

func (b *builder) filterWords() string {
	if _, _, ok := b.p.Filter(); ok {
		return ", and the filter at the supply"
	}
	return ""
}

// bodiesHere names the bodies of the plan, so that the same can be bought.
func (b *builder) bodiesHere() string {
	var names []string
	for _, h := range b.p.Heads {
		if name := b.p.BodyName(h.Body); h.Status.Stands() && name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	slices.Sort(names)
	return "Bodies here: " + strings.Join(names, "; ") + "."
}
