package packs

// To be moved, each to a file of its own, as it is made.
func (b *builder) crewCover() error { b.list(); return nil }

func (b *builder) orderOfWork() error { b.list(); return nil }

func (b *builder) layoutPlan() error { b.list(); return nil }

func (b *builder) pipePlan() error { b.list(); return nil }

func (b *builder) stakeOut() error { b.list(); return nil }

func (b *builder) nozzleSetting() error { b.list(); return nil }

func (b *builder) trenchesAndSleeves() error { b.list(); return nil }

func (b *builder) valvesAndWire() error { b.list(); return nil }

func (b *builder) zoneCards() error { b.list(); return nil }

func (b *builder) details() error { b.list(); return nil }

func (b *builder) yardPlan() error { b.list(); return nil }

func (b *builder) zonesAndStations() error { b.list(); return nil }

func (b *builder) programCard() error { b.list(); return nil }

func (b *builder) winterCard() error { b.list(); return nil }

func (b *builder) seasonChecks() error { b.list(); return nil }

func (b *builder) officeCover() error { b.list(); return nil }

func (b *builder) coverageSheet() error { b.list(); return nil }

func (b *builder) partsSheet() error { b.list(); return nil }

func (b *builder) quoteSheet() error { b.list(); return nil }

func (b *builder) findingsSheet() error { b.list(); return nil }
