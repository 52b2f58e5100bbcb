package watering

// Taken is what a controller is reckoned to hold: the usual where it is not said.
func (c Controller) Taken() Controller {
	c.Stations, c.Programs, c.Starts = c.stations(), c.programs(), c.starts()
	return c
}

// programs is how many programs there may be.
func (c Controller) programs() int {
	if c.Programs <= 0 {
		return classes
	}
	return min(c.Programs, classes)
}

// starts is how many starts a program may have.
func (c Controller) starts() int {
	if c.Starts <= 0 {
		return 4
	}
	return c.Starts
}

// stations is how many stations there may be.
func (c Controller) stations() int {
	if c.Stations <= 0 {
		return 8
	}
	return c.Stations
}
