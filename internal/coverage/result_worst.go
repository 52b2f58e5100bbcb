package coverage

// What speaks for a whole plan: where several areas or zones have a figure, the
// worst, since the good ones need no eye on them.

// LeastEven returns the watered area of the lowest uniformity; nil when none has
// water.
func (r *Result) LeastEven() *AreaReading {
	var worst *AreaReading
	for i := range r.Areas {
		if a := &r.Areas[i]; a.Mean > 0 && (worst == nil || a.DU < worst.DU) {
			worst = a
		}
	}
	return worst
}

// SlowestAndFastest returns the watered areas of the least and the greatest mean
// rate; nil when none has water.
func (r *Result) SlowestAndFastest() (slow, fast *AreaReading) {
	for i := range r.Areas {
		a := &r.Areas[i]
		if a.Mean <= 0 {
			continue
		}
		if slow == nil || a.Mean < slow.Mean {
			slow = a
		}
		if fast == nil || a.Mean > fast.Mean {
			fast = a
		}
	}
	return slow, fast
}

// Thirstiest returns the zone of the greatest flow; nil when there are no zones.
func (r *Result) Thirstiest() *ZoneReading {
	var top *ZoneReading
	for i := range r.Zones {
		if z := &r.Zones[i]; top == nil || z.FlowGPM > top.FlowGPM {
			top = z
		}
	}
	return top
}
