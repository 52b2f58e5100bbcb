package pipesize

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/hydraulics"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// reason is a limit that binds: where, and what would help.
type reason struct {
	binds, where, help string
}

// reliefs are the limits in the order in which a user would rather let go, each
// with what to say when it is the one.
var reliefs = []struct {
	loosened
	say func(j *job, z int) reason
}{
	{loosened{locks: true}, (*job).locksBind},
	{loosened{growing: true}, (*job).growingBinds},
	{loosened{spread: true}, (*job).spreadBinds},
	{loosened{velocity: true}, (*job).velocityBinds},
	{loosened{least: true}, (*job).pressureBinds},
}

// binding says of the zones that no sizes satisfy which limits bind and what would
// help.
func (j *job) binding(ctx context.Context) error {
	var reasons []reason
	for z := range j.zones {
		_, ok, err := j.seek(ctx, z, loosened{})
		if err != nil {
			return err
		}
		if ok {
			continue
		}
		r, err := j.bindingOf(ctx, z)
		if err != nil {
			return err
		}
		if !slices.Contains(reasons, r) {
			reasons = append(reasons, r)
		}
	}
	if len(reasons) == 0 {
		return refuse("No sizes of the main suit all zones at once, though each zone has some that satisfy it. Plan the zones for pressures nearer to each other, or feed them by mains of their own.")
	}
	return &Refusal{"No sizes satisfy every limit. " + joined(reasons)}
}

// bindingOf is the first limit without which a zone would have sizes.
func (j *job) bindingOf(ctx context.Context, z int) (reason, error) {
	for _, r := range reliefs {
		_, ok, err := j.seek(ctx, z, r.loosened)
		if err != nil {
			return reason{}, err
		}
		if ok {
			return r.say(j, z), nil
		}
	}
	return j.pressureBinds(z), nil
}

// joined puts reasons into sentences, one for each limit.
func joined(reasons []reason) string {
	var says []string
	for i, r := range reasons {
		alike := func(o reason) bool { return o.binds == r.binds && o.help == r.help }
		if slices.IndexFunc(reasons, alike) < i {
			continue
		}
		var where []string
		for _, o := range reasons[i:] {
			if alike(o) {
				where = append(where, o.where)
			}
		}
		says = append(says, fmt.Sprintf("What binds is %s: %s. %s", r.binds, strings.Join(where, "; "), r.help))
	}
	return strings.Join(says, " ")
}

func (j *job) zoneName(z int) string { return j.p.ZoneName(j.zones[z].id) }

func (j *job) locksBind(z int) reason {
	var names []string
	for _, v := range j.pipes {
		if v.kept && (v.zone == z || v.zone < 0) {
			names = append(names, fmt.Sprintf("%s (%s)", j.pipeName(v.ID), j.p.Show.PipeSize(v.Size.Nominal)))
		}
	}
	return reason{"that some sizes may not change", "on the way to " + j.zoneName(z) + ", " + plan.Several(names), "Unlock them, or make them larger."}
}

func (j *job) growingBinds(z int) reason {
	const binds = "that no pipe may be larger than the one before it"
	for _, v := range j.pipes {
		if v.kept && (v.zone == z || v.zone < 0) {
			return reason{binds, fmt.Sprintf("on the way to %s, %s stays at %s", j.zoneName(z), j.pipeName(v.ID), j.p.Show.PipeSize(v.Size.Nominal)), "Make it larger, or unlock it."}
		}
	}
	return reason{binds, "the classes of pipe in " + j.zoneName(z) + " have no sizes that follow each other", "Give its pipes one class."}
}

func (j *job) spreadBinds(z int) reason {
	return reason{"the spread of pressure", fmt.Sprintf("the heads of %s may differ by %s of the %s planned", j.zoneName(z), j.p.Show.Percent(pressure.MostSpread), j.p.Show.Pressure(j.zones[z].nominal)),
		j.larger(z) + "Bodies that regulate, a valve nearer to the middle of its heads, or two smaller zones would help."}
}

func (j *job) velocityBinds(z int) reason {
	for _, v := range j.pipes {
		if v.kept || v.zone >= 0 && v.zone != z || len(v.row.Sizes) == 0 {
			continue
		}
		last, most := v.row.Sizes[len(v.row.Sizes)-1], pressure.MostVelocity(v.row)
		if speed := hydraulics.Velocity(v.flow, last.Inside); speed > most {
			return reason{"the velocity", fmt.Sprintf("even in %s, the largest of its class, %s would run through %s at %s, over %s",
				sizeName(j.p.Show, last.Nominal, v.row), j.p.Show.Flow(v.flow), j.pipeName(v.ID), j.p.Show.Velocity(speed), j.p.Show.Velocity(most)),
				"Fewer heads on the zone, or a class made in larger sizes, would help."}
		}
	}
	return reason{"the velocity, together with pipes that may not grow downstream", "on the way to " + j.zoneName(z), "Enlarge the pipes before it, or unlock them."}
}

// brisk is the share of the greatest velocity from which a pipe's size is worth a
// word. Chosen.
const brisk = 0.5

// larger names the pipe on the way to a zone that its class has no larger size for,
// while the pipe before it may be larger; "" where there is none.
func (j *job) larger(z int) string {
	for _, v := range j.pipes {
		if v.kept || v.zone >= 0 && v.zone != z || v.up < 0 || len(v.row.Sizes) == 0 || len(j.pipes[v.up].row.Sizes) == 0 {
			continue
		}
		before := j.pipes[v.up].row.Sizes
		last := v.row.Sizes[len(v.row.Sizes)-1]
		if last.Nominal < before[len(before)-1].Nominal && hydraulics.Velocity(v.flow, last.Inside) > brisk*pressure.MostVelocity(v.row) {
			return fmt.Sprintf("%s takes no size over %s: a class made in larger ones takes less pressure. ", plan.Capital(j.pipeName(v.ID)), sizeName(j.p.Show, last.Nominal, v.row))
		}
	}
	return ""
}

// pressureBinds tells what the worst head would get in the largest sizes.
func (j *job) pressureBinds(z int) reason {
	t := j.plot(z, loosened{})
	at := make([]units.PSI, len(j.pipes))
	worst, short, gets := -1, units.PSI(math.Inf(-1)), units.PSI(0)
	for i, v := range j.pipes {
		from := j.zones[z].left
		if v.up >= 0 {
			from = at[v.up]
		}
		sizes := t.Pipes[t.at[i]].Sizes
		if len(sizes) == 0 {
			return j.velocityBinds(z)
		}
		at[i] = from - sizes[len(sizes)-1].Loss
		if v.head == nil || v.zone != z {
			continue
		}
		if got := at[i] - v.head.joint; v.head.need(j.zones[z].aim)-got > short {
			worst, short, gets = i, v.head.need(j.zones[z].aim)-got, got
		}
	}
	if worst < 0 || short <= 0 {
		return reason{"the pressure at the heads together with its spread", j.zoneName(z), "Fewer heads on the zone, or bodies that regulate, would help."}
	}
	head := j.pipes[worst].head
	return reason{"the pressure of the supply", fmt.Sprintf("in the largest pipe %s would get %s, and its nozzle needs %s at least",
		j.p.HeadName(head.id), j.p.Show.Pressure(max(gets, 0)), j.p.Show.Pressure(head.need(j.zones[z].aim))),
		j.larger(z) + "Smaller zones, nozzles for less pressure, devices that take less, or a booster pump would help."}
}
