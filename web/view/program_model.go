package view

import "strconv"

// ProgramModel is what the page of the watering plan shows. Months are January first.
type ProgramModel struct {
	ID, Name, Date string
	Says           string
	Offered        bool // there is a plan; otherwise Says tells why there is none
	Fits           bool
	Why            []string // the limits that are not kept at peak
	Eases          []ProgramEase
	Assumed        []string
	Month, During  string // the one that is opened: "July", "in July"
	Months         []ProgramMonth
	Times          Table // when each station runs in the month
	Year           Table
	Adjust, Off    string
	Sensor         string
	Budget         Table // beside the published budgets
	Areas          Table // what each gets in the month
	Beside         []string
	Against        Table // what zones take by themselves and as solved, in the month
	Plain          Table // the same with all figures of the one-zone sums
	Saved          []string
	Chains         []ProgramChain
	Needs, Soils   Table
	Pictures       []SoilPicture
	Climate        string
	Files          []PaperFile
	Caution        string
}

// ProgramEase is a limit made wider.
type ProgramEase struct {
	Says string
	Fits bool
}

// ProgramMonth is the program of one month.
type ProgramMonth struct {
	Name, Says string
	Word       string // of it in the address: "july"
	Shown      bool
	Percent    string // that the program of the peak serves, turned down; ""
	Programs   []ProgramCard
}

// ProgramCard is what is keyed in under one letter.
type ProgramCard struct {
	Letter, Days, Starts, Ends string
	Says                       string // what is to be known of its starts; ""
	Each                       bool   // minutes are of each of several starts
	Cycles                     bool   // some station has cycles
	Stations                   []ProgramStation
}

// ProgramStation is one line of a program.
type ProgramStation struct {
	Station, Name, Minutes, Cycles, Plain string
}

// ProgramChain is the way from weather to the minutes of one zone.
type ProgramChain struct {
	Title, Says string
	Table       Table
}

// Table is rows of cells, ready to print. Numbers tells which columns are set as figures.
type Table struct {
	Columns []string
	Numbers []bool
	Rows    [][]string
}

// SoilPicture is the soil water of one area through the year and in one month, each with
// what it shows in words, and the table that says the same.
type SoilPicture struct {
	Name, Says  string
	Year, Close SoilChart // a year without a Box is not drawn
	CloseSays   string
	Table       Table
}

// SoilChart is one picture: paths and marks in its own units, from the upper left.
type SoilChart struct {
	Title         string // for who cannot see it
	Box           string // viewBox
	Left, Right   string // of the plot
	DepthX, TickY string // where words of the depths end, and those of days stand
	Water         string // path of what is in the soil
	Level         string // path of how far below full it is
	Limit         string // path of how far it may be
	LimitSays     string
	LimitX        string
	LimitY        string
	Past          []string // paths of marks of the days that are further down
	Drops         []string // paths of marks of the days that are watered
	Ticks, Depths []SoilTick
}

// SoilTick is a mark of an axis with its words.
type SoilTick struct {
	At, Says string
	Rule     string // height of its line, of a depth
}

// countWords counts things: "one", "2 things".
func countWords(n int) string {
	if n == 1 {
		return "one thing"
	}
	return strconv.Itoa(n) + " things"
}
