package plan

import "strings"

func (c *inspector) watering(v Watering) {
	s := subject{collection: "watering"}
	seen := make(map[string]bool, len(v.Days))
	for i, day := range v.Days {
		member := "days/" + itoa(i)
		switch {
		case !weekdays.has(day):
			c.tell(s, member, "The watering days have %s in them. Write the days as %s.", quoted(day), weekdays.list())
		case seen[day]:
			c.tell(s, member, "The watering days have %s twice. Keep one.", quoted(day))
		}
		seen[day] = true
	}
	if c.number(s, "every", float64(v.Every), everyDays); v.Every > 0 && len(v.Days) > 0 {
		c.tell(s, "every", "Watering is allowed on weekdays and on one day in %d. Keep one of the two.", v.Every)
	}
	c.civilTime(s, "start", v.StartHHMM)
	c.civilTime(s, "end", v.EndHHMM)
	c.number(s, "peak_in_per_week", v.PeakInWk, weekly)
	c.given(s, "audited_du", v.AuditedDU, uniformity)
	c.months(s, "et_in", v.ETIn, monthET)
	c.months(s, "high_f", v.HighF, warmth)
	c.months(s, "low_f", v.LowF, warmth)
	c.months(s, "rain_in", v.RainIn, monthRain)
	c.heat(s, v)
	c.number(s, "et_zone", float64(v.ETZone), etZones)
	c.text(s, "et_from", v.ETFrom, false)
	c.weather(s, v.ETBy)
	c.word(s, "turf", v.Turf, turfKinds, false)
	c.word(s, "stage", v.Stage, stages, false)
	c.word(s, "target", v.Target, targets, false)
}

// months looks at a figure of each month.
func (c *inspector) months(s subject, member string, v []float64, r span) {
	if v == nil {
		return
	}
	if len(v) != 12 {
		c.tell(s, member, "The %s of %s has %d entries; it needs 12, from January to December. Give it one for each month.", phrase(member), s, len(v))
		return
	}
	for m, x := range v {
		c.number(s, member+"/"+itoa(m), x, r)
	}
}

// weather looks at what reference ET was reckoned from.
func (c *inspector) weather(s subject, v []MonthWeather) {
	if v == nil {
		return
	}
	if len(v) != 12 {
		c.tell(s, "et_by", "The %s of %s has %d entries; it needs 12, from January to December. Give it one for each month.", phrase("et_by"), s, len(v))
		return
	}
	for m, w := range v {
		at := "et_by/" + itoa(m) + "/"
		c.number(s, at+"lines", float64(w.Lines), weatherLines)
		c.number(s, at+"tmax_f", w.TMaxF, warmth)
		c.number(s, at+"tmin_f", w.TMinF, warmth)
		c.number(s, at+"saturation_kpa", w.SaturationKPa, vapour)
		c.number(s, at+"vapour_kpa", w.VapourKPa, vapour)
		c.number(s, at+"solar_mj", w.SolarMJ, sunshine)
		c.number(s, at+"net_mj", w.NetMJ, netSunshine)
		c.number(s, at+"wind_mph", w.WindMPH, windSpeed2m)
		c.number(s, at+"sun_in", w.SunIn, dayET)
		c.number(s, at+"wind_in", w.WindIn, dayET)
		c.number(s, at+"day_in", w.DayIn, dayET)
		c.text(s, at+"estimated", w.Estimated, true)
	}
}

// heat holds the temperatures to one another.
func (c *inspector) heat(s subject, v Watering) {
	switch {
	case v.HighF == nil && v.LowF == nil:
	case v.LowF == nil:
		c.missing(s, "low_f")
	case v.HighF == nil:
		c.missing(s, "high_f")
	case len(v.HighF) == 12 && len(v.LowF) == 12:
		for m := range 12 {
			if v.HighF[m] < v.LowF[m] {
				c.tell(s, "high_f/"+itoa(m), "The highest temperature of month %d is %g °F, below the lowest, %g °F. Check the two.", m+1, v.HighF[m], v.LowF[m])
			}
		}
	}
}

// accepted looks at a finding that was accepted. What it is about may be gone
// from the plan: the decision was made all the same, and a thing deleted may
// come back by an undo.
func (c *inspector) accepted(id ID, v Accepted) {
	s := subject{"accepted", id, v.Code}
	c.id(s)
	if v.Code == "" {
		c.missing(s, "code")
	}
	c.text(s, "code", v.Code, false)
	for i, ref := range v.About {
		if !ref.wellMade() {
			c.tell(s, "about/"+itoa(i), "%s is about %s, which points at nothing a plan has. Write the collection and the id, as heads/h7.", sentenceCase(s.String()), quoted(string(ref)))
		}
	}
	c.word(s, "rank", string(v.Rank), ranks, false)
	if strings.TrimSpace(v.Reason) == "" {
		c.missing(s, "reason")
	}
	c.text(s, "reason", v.Reason, true)
	c.text(s, "by", v.By, false)
	c.date(s, "on", v.On, true)
}

// wellMade reports whether the reference is a collection and an id, or one of
// the document's single objects.
func (r Ref) wellMade() bool {
	if r == RefToLot {
		return true
	}
	at := strings.LastIndexByte(string(r), '/')
	if at < 0 {
		return documentShape.under[string(r)] != nil && documentShape.under[string(r)].each == nil
	}
	_, ok := nouns[string(r[:at])]
	return ok && ID(r[at+1:]).wellMade()
}

func (c *inspector) civilTime(s subject, member, v string) {
	if v == "" {
		return
	}
	h, okH := twoDigits(v, 0)
	m, okM := twoDigits(v, 3)
	if len(v) != 5 || v[2] != ':' || !okH || !okM || h > 23 || m > 59 {
		c.tell(s, member, "The %s of %s is %s. Write a time of day as 22:00, from 00:00 to 23:59.", phrase(member), s, quoted(v))
	}
}

func (c *inspector) date(s subject, member, v string, needed bool) {
	switch {
	case v == "" && needed:
		c.missing(s, member)
	case v != "" && !civilDate(v):
		c.tell(s, member, "The %s of %s is %s. Write a date of the calendar as 2026-05-31.", phrase(member), s, quoted(v))
	}
}

// civilDate reports whether the text is a day of the Gregorian calendar, written
// YYYY-MM-DD.
func civilDate(v string) bool {
	if len(v) != len("2026-05-31") || v[4] != '-' || v[7] != '-' {
		return false
	}
	century, ok1 := twoDigits(v, 0)
	year, ok2 := twoDigits(v, 2)
	month, ok3 := twoDigits(v, 5)
	day, ok4 := twoDigits(v, 8)
	year += 100 * century
	return ok1 && ok2 && ok3 && ok4 && month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month)
}

func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// twoDigits reads the two digits at a place of the text.
func twoDigits(s string, at int) (n int, ok bool) {
	if len(s) < at+2 || s[at] < '0' || s[at] > '9' || s[at+1] < '0' || s[at+1] > '9' {
		return 0, false
	}
	return int(s[at]-'0')*10 + int(s[at+1]-'0'), true
}
