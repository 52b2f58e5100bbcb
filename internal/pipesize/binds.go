package pipesize

import (
	"context"
	"fmt"
	"math"
	"strings"

	"evenfall/internal/hydraulics"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// relief is one limit that may be the one that binds, with what to say of it.
type relief struct {
	loosened
	say func(j *job, z int) string
}

// reliefs are in the order in which a user would rather let go.
var reliefs = []relief{
	{loosened{locks: true}, (*job).sayLocks},
	{loosened{growing: true}, (*job).sayGrowing},
	{loosened{spread: true}, (*job).saySpread},
	{loosened{velocity: true}, (*job).sayVelocity},
	{loosened{least: true}, (*job).sayPressure},
}

// binding says of each zone that no sizes satisfy which limit binds and what
// would help.
func (j *job) binding(ctx context.Context) error {
	var says []string
	for z := range j.zones {
		_, ok, err := j.seek(ctx, z, loosened{})
		if err != nil {
			return err
		}
		if ok {
			continue
		}
		say := (*job).sayPressure
		for _, r := range reliefs {
			_, ok, err := j.seek(ctx, z, r.loosened)
			if err != nil {
				return err
			}
			if ok {
				say = r.say
				break
			}
		}
		if s := say(j, z); !contains(says, s) {
			says = append(says, s)
		}
	}
	if len(says) == 0 {
		says = []string{"Each zone has sizes that satisfy it, but no sizes of the main suit all of them at once. Give the zones pressures nearer to each other, or feed them by mains of their own."}
	}
	return &Refusal{"No sizes satisfy every limit. " + strings.Join(says, " ")}
}

func contains(all []string, s string) bool {
	for _, x := range all {
		if x == s {
			return true
		}
	}
	return false
}

// kept are the pipes on the way to a zone whose size may not change.
func (j *job) keptFor(z int) []plan.ID {
	var ids []plan.ID
	for _, v := range j.pipes {
		if v.kept && (v.zone == z || v.zone < 0) {
			ids = append(ids, v.ID)
		}
	}
	return ids
}

func (j *job) sayLocks(z int) string {
	ids := j.keptFor(z)
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = fmt.Sprintf("%s (%s)", j.pipeName(id), j.p.Show.PipeSize(j.p.Pipes[id].NominalIn))
	}
	return fmt.Sprintf("%s: what binds are sizes that may not change, of %s. Unlock them, or make them larger.", plan.Capital(j.p.ZoneName(j.zones[z].id)), plan.Several(names))
}

func (j *job) sayGrowing(z int) string {
	for _, v := range j.pipes {
		if !v.kept || v.zone >= 0 && v.zone != z {
			continue
		}
		return fmt.Sprintf("%s: what binds is that no pipe may be larger than the one before it, and %s stays at %s. Make that one larger.",
			plan.Capital(j.p.ZoneName(j.zones[z].id)), j.pipeName(v.ID), j.p.Show.PipeSize(v.Size.Nominal))
	}
	return fmt.Sprintf("%s: what binds is that no pipe may be larger than the one before it, and their classes have no sizes in common that allow it. Give the pipes one class.", plan.Capital(j.p.ZoneName(j.zones[z].id)))
}

func (j *job) saySpread(z int) string {
	return fmt.Sprintf("%s: what binds is the spread of pressure, %s of the %s planned. Bodies that regulate, a valve nearer to the middle of its heads, or two smaller zones would help.",
		plan.Capital(j.p.ZoneName(j.zones[z].id)), j.p.Show.Percent(MostSpread), j.p.Show.Pressure(j.zones[z].nominal))
}

func (j *job) sayVelocity(z int) string {
	for _, v := range j.pipes {
		if v.kept || v.zone >= 0 && v.zone != z || len(v.row.Sizes) == 0 {
			continue
		}
		last := v.row.Sizes[len(v.row.Sizes)-1]
		if speed := hydraulics.Velocity(v.flow, last.Inside); speed > pressure.MostVelocity(v.row) {
			return fmt.Sprintf("What binds is the velocity: even in %s, the largest of its class, %s would run through %s at %s, over %s. Fewer heads on the zone, or a class made in larger sizes, would help.",
				sizeName(j.p.Show, last.Nominal, v.row), j.p.Show.Flow(v.flow), j.pipeName(v.ID), j.p.Show.Velocity(speed), j.p.Show.Velocity(pressure.MostVelocity(v.row)))
		}
	}
	return fmt.Sprintf("%s: what binds is the velocity, together with pipes that may not grow downstream. Enlarge the pipes before it, or unlock them.", plan.Capital(j.p.ZoneName(j.zones[z].id)))
}

// sayPressure tells what the worst head would get in the largest sizes.
func (j *job) sayPressure(z int) string {
	t, rows := j.tree(z, loosened{})
	at := make([]units.PSI, len(j.pipes))
	worst, short, gets := -1, units.PSI(math.Inf(-1)), units.PSI(0)
	for i, v := range j.pipes {
		from := j.zones[z].left
		if v.up >= 0 {
			from = at[v.up]
		}
		if len(rows[i]) == 0 {
			return j.sayVelocity(z)
		}
		at[i] = from - t.Pipes[i].Sizes[len(rows[i])-1].Loss
		if v.head == nil || v.zone != z {
			continue
		}
		if got := at[i] - v.head.joint; v.head.need(j.zones[z].aim)-got > short {
			worst, short, gets = i, v.head.need(j.zones[z].aim)-got, got
		}
	}
	name := plan.Capital(j.p.ZoneName(j.zones[z].id))
	if worst < 0 || short <= 0 {
		return fmt.Sprintf("%s: what binds is the pressure at its heads together with their spread. Fewer heads on the zone, or bodies that regulate, would help.", name)
	}
	head := j.pipes[worst].head
	return fmt.Sprintf("%s: what binds is the pressure of the supply. In the largest pipe %s would get %s, and its nozzle needs %s at least. A smaller zone, nozzles for less pressure, devices that take less, or a booster pump would help.",
		name, j.p.HeadName(head.id), j.p.Show.Pressure(max(gets, 0)), j.p.Show.Pressure(head.need(j.zones[z].aim)))
}
