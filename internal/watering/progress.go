package watering

// progress tells how far work is, in parts of a thousand, and never goes back.
type progress struct {
	tell     func(done, total int)
	from, to int
	last     *int
}

// parts are those that work tells how many of are done.
const parts = 1000

func telling(tell func(done, total int)) progress {
	return progress{tell, 0, parts, new(int)}
}

// part is some hundredths of the work.
func (p progress) part(from, to int) progress {
	size := p.to - p.from
	return progress{p.tell, p.from + size*from/100, p.from + size*to/100, p.last}
}

// at tells that so many of so many of it are done.
func (p progress) at(done, of int) {
	at := p.from + (p.to-p.from)*done/max(of, 1)
	if p.tell == nil || at <= *p.last {
		return
	}
	*p.last = at
	p.tell(at, parts)
}
