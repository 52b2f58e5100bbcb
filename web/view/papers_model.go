package view

// PapersModel is what the page of the papers shows before any is made.
type PapersModel struct {
	ID      string
	Name    string
	Rev     int64
	Packs   []PackChoice
	Papers  []PaperChoice
	Scales  []PaperChoice
	Missing []string // what the papers cannot show yet, each a sentence
	Files   []PaperFile
}

// PackChoice is one pack to choose.
type PackChoice struct {
	Kind, Name, Holds string
}

// PaperChoice is one size of paper, or one scale, to choose.
type PaperChoice struct {
	Value, Name string
	Usual       bool
}

// PaperFile is a file that goes with the papers.
type PaperFile struct {
	Href, Label, Holds string
}
