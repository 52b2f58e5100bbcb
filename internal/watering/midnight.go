package watering

const aDay = 24 * 60

// atMidnight has the programs begin at midnight where the hours run past it and every
// program, soaking included, is over between midnight and their end: a controller counts
// a start to the date on which it comes, so that of programs that begin in the evening
// later starts belong to other dates than the first, which is a usual slip at keying in;
// and the small hours are the calmest, with leaves that dry soon after sunrise (common
// practice). A day that is named then has its own small hours. All programs or none: one
// that began in the evening would run into that of the next day.
func (m *Month) atMidnight() {
	c := m.q.in.Calendar
	for _, p := range m.Programs {
		if p.Ends-c.From > c.Until-aDay {
			return
		}
	}
	for i := range m.Programs {
		p := &m.Programs[i]
		p.Ends -= c.From
		for k := range p.Starts {
			p.Starts[k] -= c.From
		}
		for k := range p.Steps {
			p.Steps[k].From -= c.From
			p.Steps[k].Until -= c.From
		}
	}
}

// Begins is when the first start of a month's programs is, in minutes after midnight of
// the day that they run on; -1 where there is none.
func (m *Month) Begins() int {
	first := -1
	for _, p := range m.Programs {
		if len(p.Starts) > 0 && (first < 0 || p.Starts[0] < first) {
			first = p.Starts[0]
		}
	}
	return first
}
