package plan

func (c *inspector) wireRun(id ID, v WireRun) {
	s := subject{"wires", id, ""}
	c.id(s)
	c.shape(s, v.Line.Validate(), "line", "")
	c.word(s, "lay", v.Lay, wireLays, false)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) box(id ID, v Box) {
	s := subject{"boxes", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.spot(s, "", v.X, v.Y)
	c.built(s, v.Built)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) wiring(v Wiring) {
	s := subject{collection: "wiring"}
	c.word(s, "cable", v.Cable, cables, false)
	c.gauge(s, "hot_awg", v.HotAWG)
	c.gauge(s, "common_awg", v.CommonAWG)
}

// gauge tells of a wire size that valves are not wired with.
func (c *inspector) gauge(s subject, member string, awg int) {
	c.number(s, member, float64(awg), wireGauge)
	if awg > 0 && (awg%2 == 1 || awg < 8) {
		c.tell(s, member, "Wire for valves is sold in even sizes from 18 to 8 AWG; %d is none of them.", awg)
	}
}

func (c *inspector) price(id ID, v Price) {
	s := subject{"prices", id, v.Item}
	c.id(s)
	c.text(s, "item", v.Item, false)
	c.text(s, "unit", v.Unit, false)
	c.text(s, "code", v.Code, false)
	c.number(s, "each", v.Each, money)
}

func (c *inspector) quote(v Quote) {
	s := subject{collection: "quote"}
	c.text(s, "currency", v.Currency, false)
	c.text(s, "notes", v.Notes, true)
	c.number(s, "per_trench_ft", v.PerTrenchFt, money)
	c.number(s, "per_sleeve_ft", v.PerSleeveFt, money)
	c.number(s, "per_head", v.PerHead, money)
	c.number(s, "per_valve", v.PerValve, money)
	c.number(s, "mark_up_share", float64(v.MarkUpShare), markUp)
	c.number(s, "tax_share", float64(v.TaxShare), opacity)
	c.word(s, "tax_on", v.TaxOn, taxed, false)
	each(c, v.Rentals, c.rental)
}

func (c *inspector) rental(id ID, v Rental) {
	s := subject{"quote/rentals", id, v.What}
	c.id(s)
	c.text(s, "what", v.What, false)
	c.number(s, "days", v.Days, rentalDays)
	c.number(s, "each", v.Each, money)
}

func (c *inspector) figure(id ID, v Figure) {
	s := subject{collection: "options/figures", id: id}
	row, ok := figureRow(id)
	if !ok {
		c.tell(s, "", "There is no figure %s to be set.", quoted(string(id)))
		return
	}
	c.number(s, "value", v.Value, row.span())
	c.text(s, "source", v.Source, false)
}
