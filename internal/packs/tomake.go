package packs

// To be moved, each to a file of its own, as it is made.
func (b *builder) crewCover() error { b.list(); return nil }

func (b *builder) orderOfWork() error { b.list(); return nil }

func (b *builder) stakeOut() error { b.list(); return nil }

func (b *builder) nozzleSetting() error { b.list(); return nil }

func (b *builder) zonesAndStations() error { b.list(); return nil }

func (b *builder) programCard() error { b.list(); return nil }

func (b *builder) winterCard() error { b.list(); return nil }

func (b *builder) seasonChecks() error { b.list(); return nil }
