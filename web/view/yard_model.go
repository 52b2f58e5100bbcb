package view

// YardModel is the log of a plan in the yard, as it stands on the page before its script
// runs and on paper: what is to be done, with what was done, and blanks for the rest.
type YardModel struct {
	ID, Name string
	Date     string // when the page was made: "26 November 2026"
	Rev      int64
	LogOnly  bool   // to be printed: the script leaves it as it is
	Empty    string // why there is nothing to prove yet; "" where there is
	Parts    []YardPart
	Photos   []YardPhoto
}

// script is the script of the page: that of the yard, or that of pages to be read.
func (m YardModel) script() string {
	if m.LogOnly {
		return "plans.js"
	}
	return "yard.js"
}

// YardPart is one part of the log.
type YardPart struct {
	Word    string // names it in the address: start, wires, heads, cans, old, built
	Title   string
	Says    string // how far it is
	Caution string
	Warn    []string // each a sentence
	Steps   []YardStep
	Tables  []YardTable
}

// YardStep is a step to be ticked.
type YardStep struct {
	Title, How, Caution string
	Done                string // when and by whom; "" not yet
	Note                string
}

// YardTable is a table of the log. A cell that is empty in a column of blanks is to be
// written in.
type YardTable struct {
	Title string
	Says  []string // under it, each a sentence
	Blank []bool   // by column
	Table
}

// YardPhoto is a photograph kept with the plan.
type YardPhoto struct {
	Href, Says string
	Wide, High string // in pixels; "" not known
}
