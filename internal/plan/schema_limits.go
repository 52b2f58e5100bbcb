package plan

// entry is what the schema says of a member beyond its type.
type entry struct {
	says   string
	limit  limit
	needed bool // Decode refuses an object without it
}

// entryOf returns the entry of a member.
func entryOf(typeName, member string) (e entry, ok bool) {
	for _, table := range []map[string]map[string]entry{groundEntries, systemEntries, catalogEntries, pipeEntries, proofEntries} {
		if e, ok = table[typeName][member]; ok {
			return e, true
		}
	}
	return entry{limit: free{}}, false
}

// limit narrows a node of the schema.
type limit interface{ on(*schemaNode) }

// unitNames are the units of the quantities, in words.
var unitNames = map[quantity]string{
	feet: "feet", inches: "inches", psi: "pounds per square inch (gauge)", gpm: "US gallons a minute", degrees: "degrees", share: "a share, 1 is the whole",
}

func (r span) on(n *schemaNode) {
	if unit := unitNames[r.in]; unit != "" {
		n.Description += " Unit: " + unit + "."
	}
	low, high := r.low, r.high
	if r.openLow {
		n.ExclusiveMinimum = &low
	} else {
		n.Minimum = &low
	}
	if r.openHigh {
		n.ExclusiveMaximum = &high
	} else {
		n.Maximum = &high
	}
}

func (w words) on(n *schemaNode) { n.Enum, n.MaxLength = w, 0 }

// keyed is a limit on the ids of a collection.
type keyed words

func (k keyed) on(n *schemaNode) { n.PropertyNames = &schemaNode{Enum: words(k)} }

// otherwise is a limit with the value that goes without saying.
type otherwise struct {
	limit
	value any
}

func (o otherwise) on(n *schemaNode) {
	o.limit.on(n)
	n.Default = o.value
}

// pattern is a limit on the characters of a text.
type pattern string

func (p pattern) on(n *schemaNode) {
	n.Pattern = string(p)
	if p != linePattern && p != prosePattern {
		n.MaxLength = 0
	}
}

// constant is the only value of a text.
type constant string

func (c constant) on(n *schemaNode) { n.Const, n.MaxLength = string(c), 0 }

// free leaves a node as its type made it.
type free struct{}

func (free) on(*schemaNode) {}

// listed limits each entry of a list.
type listed struct {
	limit
	unique bool
	least  int
}

func (l listed) on(n *schemaNode) {
	n.UniqueItems, n.MinItems = l.unique, max(n.MinItems, l.least)
	if item, ok := n.Items.(*schemaNode); ok {
		l.limit.on(item)
	}
}

// monthly limits a figure of each month.
type monthly struct{ limit }

func (m monthly) on(n *schemaNode) {
	n.MinItems, n.MaxItems = 12, 12
	if item, ok := n.Items.(*schemaNode); ok {
		m.limit.on(item)
	}
}

// eachOf limits every value of a collection of numbers.
type eachOf struct{ limit }

func (e eachOf) on(n *schemaNode) {
	if value, ok := n.Additional.(*schemaNode); ok {
		e.limit.on(value)
	}
}

// atMost is how many things a collection may have.
type atMost int

func (m atMost) on(n *schemaNode) { n.MaxProperties = int(m) }

// filled is a text of one character or more.
type filled struct{ limit }

func (f filled) on(n *schemaNode) {
	f.limit.on(n)
	n.MinLength = 1
}
