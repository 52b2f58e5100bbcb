package plan

// The things of records lie deeper than other collections; they are told of by the
// whole they belong to, as in “the flow of zone "Front" (zones/z1)”.

func (c *inspector) proof(v Proof) {
	s := subject{collection: "proof"}
	c.date(s, "started_up", v.StartedUp, false)
	c.number(s, "minutes", v.Minutes, runMinutes)
	c.number(s, "throat_in2", v.ThroatIn2, throat)
	each(c, v.Checks, func(id ID, v StepDone) {
		s := subject{"proof/checks", id, ""}
		c.id(s)
		c.date(s, "on", v.On, true)
		c.text(s, "by", v.By, false)
		c.text(s, "note", v.Note, true)
	})
	each(c, v.Tests, c.pressureTest)
	each(c, v.Wires, func(id ID, v FoundWire) {
		s := subject{"proof/wires", id, v.Mark}
		c.id(s)
		c.number(s, "order", float64(v.Order), inOrder)
		c.text(s, "mark", v.Mark, false)
		c.number(s, "terminal", float64(v.Terminal), terminals)
		c.text(s, "note", v.Note, true)
	})
	each(c, v.Touches, func(id ID, v Touch) {
		s := subject{"proof/touches", id, ""}
		c.id(s)
		c.number(s, "order", float64(v.Order), inOrder)
		c.named(s, "wire", v.Wire, true)
		for i, zone := range v.Ran {
			c.named(s, "ran/"+itoa(i), zone, true)
		}
		c.text(s, "note", v.Note, true)
	})
	each(c, v.Readings, func(id ID, v OhmReading) {
		s := subject{"proof/resistances", id, ""}
		c.id(s)
		c.number(s, "order", float64(v.Order), inOrder)
		c.named(s, "from", v.From, true)
		c.named(s, "to", v.To, true)
		c.given(s, "ohms", v.Ohms, resistance)
	})
	each(c, v.Audits, c.audit)
	each(c, v.Cans, func(id ID, v CatchCan) { c.can(subject{"proof/cans", id, ""}, "", id, v) })
}

func (c *inspector) pressureTest(id ID, v PressureTest) {
	s := subject{"proof/pressure_tests", id, ""}
	c.id(s)
	c.date(s, "on", v.On, false)
	c.named(s, "of", v.Of, false)
	c.number(s, "start_psi", float64(v.Start), pressure)
	c.number(s, "end_psi", float64(v.End), pressure)
	c.number(s, "minutes", v.Minutes, heldMinutes)
	c.word(s, "meter", v.Meter, meterDials, false)
	c.text(s, "note", v.Note, true)
}

func (c *inspector) audit(id ID, v Audit) {
	s := subject{"proof/audits", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.date(s, "on", v.On, false)
	c.named(s, "area", v.Area, false)
	each(c, v.Runs, func(zone ID, minutes float64) {
		c.named(s, "runs/"+string(zone), zone, true)
		c.number(s, "runs/"+string(zone), minutes, runMinutes)
	})
	c.number(s, "throat_in2", v.ThroatIn2, throat)
	c.word(s, "scale", v.Scale, canScales, false)
	c.given(s, "wind_mph", (*float64)(v.WindMPH), windSpeed)
	c.given(s, "wind_from_deg", (*float64)(v.WindFromDeg), direction)
	c.text(s, "note", v.Note, true)
	if len(v.Cans) > MaxCans {
		c.tell(s, "cans", "%s has %d catch-cans; the most is %d. Split it into several audits.", sentenceCase(s.String()), len(v.Cans), MaxCans)
		return
	}
	each(c, v.Cans, func(id ID, v CatchCan) { c.can(s, "cans/"+string(id), id, v) })
}

// can looks at one can of the subject, or at the subject itself where at is "".
func (c *inspector) can(s subject, at string, id ID, v CatchCan) {
	c.named(s, at, id, true)
	prefix := at
	if at != "" {
		prefix += "/"
	}
	c.spot(s, prefix, v.X, v.Y)
	c.given(s, prefix+"catch_ml", v.ML, catchML)
	c.given(s, prefix+"depth_in", (*float64)(v.Depth), catchDepth)
	c.text(s, prefix+"note", v.Note, true)
}

// runs looks at the runs of a zone.
func (c *inspector) runs(s subject, runs map[ID]ZoneRun) {
	each(c, runs, func(id ID, v ZoneRun) {
		at := "runs/" + string(id)
		c.named(s, at, id, true)
		at += "/"
		c.date(s, at+"on", v.On, false)
		c.word(s, at+"when", v.When, runWhens, false)
		c.number(s, at+"static_psi", float64(v.StaticPSI), pressure)
		c.number(s, at+"running_psi", float64(v.RunningPSI), pressure)
		c.word(s, at+"psi_at", v.PSIAt, gaugePlaces, false)
		c.named(s, at+"at_head", v.AtHead, false)
		c.number(s, at+"flow_gpm", float64(v.FlowGPM), flow)
		c.number(s, at+"meter_gal", float64(v.MeterGal), container)
		c.number(s, at+"meter_s", float64(v.MeterS), fillTime)
		c.date(s, at+"flushed", v.Flushed, false)
		c.text(s, at+"note", v.Note, true)
	})
}

// state looks at how a head was found.
func (c *inspector) state(s subject, v *HeadState) {
	if v == nil {
		return
	}
	c.date(s, "state/set_on", v.SetOn, false)
	c.date(s, "state/seen_on", v.SeenOn, false)
	seen := map[string]bool{}
	for i, f := range v.Faults {
		at := "state/faults/" + itoa(i)
		if c.word(s, at, f, headFaults, true); seen[f] {
			c.tell(s, at, "The faults of %s have %s twice. Keep one.", s, quoted(f))
		}
		seen[f] = true
	}
	c.number(s, "state/tilt_deg", float64(v.TiltDeg), tilt)
	c.given(s, "state/tilt_toward_deg", (*float64)(v.TiltToward), direction)
	c.text(s, "state/nozzle", v.Nozzle, false)
	c.text(s, "state/note", v.Note, true)
}

// built looks at where a thing went.
func (c *inspector) built(s subject, v *Built) {
	if v == nil {
		return
	}
	c.date(s, "built/on", v.On, true)
	c.at(s, "built/was/", v.Was)
	c.at(s, "built/was_to/", v.WasTo)
	c.number(s, "built/depth_in", float64(v.DepthIn), depthUnder)
	c.text(s, "built/note", v.Note, true)
}

func (c *inspector) photo(id ID, v Photo) {
	s := subject{"photos", id, ""}
	c.id(s)
	if !hexDigest(v.SHA256) {
		c.tell(s, "sha256", "%s names its picture by %s; it must be the picture's SHA-256: 64 of the characters 0-9 and a-f. Add the photograph again.", sentenceCase(s.String()), quoted(v.SHA256))
	}
	c.number(s, "width_px", float64(v.WidthPx), pictureSide)
	c.number(s, "height_px", float64(v.HeightPx), pictureSide)
	c.date(s, "on", v.On, false)
	if v.About != "" && !v.About.wellMade() {
		c.tell(s, "about", "%s is about %s, which points at nothing a plan has. Write the collection and the id, as heads/h7.", sentenceCase(s.String()), quoted(string(v.About)))
	}
	c.given(s, "x_ft", (*float64)(v.X), place10km)
	c.given(s, "y_ft", (*float64)(v.Y), place10km)
	c.text(s, "caption", v.Caption, true)
}

// named looks at an id that a record keeps of a thing which may be gone since.
func (c *inspector) named(s subject, member string, id ID, needed bool) {
	switch {
	case id == "" && !needed, id.wellMade():
	case id == "":
		c.missing(s, member)
	default:
		c.tell(s, member, "The id %s in %s is not made as ids are. Write a letter first, then letters, digits, - or _, at most %d in all.", quoted(string(id)), s, MaxID)
	}
}
