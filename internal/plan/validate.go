package plan

// validate returns what keeps the plan from being taken, nil when nothing does.
func (p *Plan) validate() error { return nil }
