// Package view holds the pages as templates. A page gets strings that are
// ready to print and decides nothing.
package view

// PlansModel is what the first page shows.
type PlansModel struct {
	Plans    []PlanRow // newest change first
	Starts   []StartRow
	DataPath string // where the plans are kept on this machine
	Version  string
}

// PlanRow is one plan in the list.
type PlanRow struct {
	ID        string
	Name      string
	Rev       int64
	Contents  string // what is in it, in words: "48 heads, 6 zones"
	Size      string // ground drawn, in the plan's units: "12,442 ft²"; "" when nothing is drawn
	Changed   string // when, for people: "24 Nov 2026, 14:32 UTC"
	ChangedAt string // the same instant in RFC 3339
	Demo      bool
	Archived  bool // put away
	Damaged   bool // no longer what was written
}

// StartRow is a typical yard to begin from.
type StartRow struct {
	ID, Name, About string
}

// DamagedModel says what is left of a damaged plan.
type DamagedModel struct {
	ID       string
	Name     string // "" when not even that can be read
	Reason   string
	DataPath string
	Good     *GoodState // nil when no earlier state is whole
}

// GoodState is the newest state of a damaged plan that is whole.
type GoodState struct {
	Number     int64  // of its step
	Label      string // of its step
	At, AtText string // when, in RFC 3339 and for people
	Whole      bool   // nothing is missing from it
	Lost       string // the steps that are missing from it: "3 later steps"
}

// BoardModel is what the page of one plan needs before its script runs.
type BoardModel struct {
	ID   string
	Name string
	Rev  int64
	Demo bool // the plan is the demo as first stored
}

// HelpModel is what the help page shows.
type HelpModel struct {
	DataPath string
	Version  string
}

// ErrorModel is a page that says why there is no other.
type ErrorModel struct {
	Status int
	Title  string // few words: "This plan is not here"
	What   string // what happened and where
	Why    string // "" when it is not known
	Next   string // what to do now
	Safe   string // what of the user's is safe, and where; "" when it does not matter
}

// SleevesModel is what the page of the sleeve drawing shows.
type SleevesModel struct {
	ID      string
	Name    string
	Says    string // what the drawing shows, for who cannot see it
	Columns []string
	Rows    [][]string
	Notes   []string
}

// QuoteModel is what the page of the quote shows.
type QuoteModel struct {
	ID       string
	Name     string
	Date     string // when it was made: "26 November 2026"
	Empty    bool   // nothing has a price or a rate yet
	Currency string // said in words where it is a code or a sign; "" none
	Lists    []QuoteList
	Parts    string
	MarkUp   []string // what it is taken of, its sum; none
	Work     []QuoteRow
	Subtotal string
	Tax      []string // likewise
	Total    string
	Short    string   // why the total is not whole; "" where it is
	Left     []string // what is not in it, each a sentence
	Notes    []string // the user's own, a paragraph each
	Supply   string   // that the supply was assumed; ""
}

// QuoteList is what one list of parts comes to.
type QuoteList struct {
	Name, Lines, Missing, Sum string
}

// QuoteRow is work or a machine.
type QuoteRow struct {
	What, Count, Each, Sum string
}
