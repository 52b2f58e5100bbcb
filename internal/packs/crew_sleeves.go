package packs

// sleeves is the list of sleeves, and their drawing on sheets of its own.
func (b *builder) sleeves(_ *flow) error { return nil }
