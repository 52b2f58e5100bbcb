package plan

// Replay applies patches one after another to a document and returns the
// document at the end in canonical form. Only that one is read strictly, so a
// long history costs little more than its last step.
func Replay(doc []byte, patches ...Patch) ([]byte, error) {
	for _, p := range patches {
		if err := p.check(); err != nil {
			return nil, err
		}
		var err error
		if doc, err = merge(doc, p); err != nil {
			return nil, err
		}
	}
	p, err := Decode(doc)
	if err != nil {
		return nil, err
	}
	return p.Encode(), nil
}
