package watering

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
