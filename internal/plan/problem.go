package plan

import "fmt"

// Problem is one thing that keeps a document or a patch from being taken.
type Problem struct {
	Pointer  string `json:"pointer"`  // RFC 6901, into the document; "" is all of it
	Sentence string `json:"sentence"` // what is wrong, where, and what to do
}

// Error returns the sentence.
func (p *Problem) Error() string { return p.Sentence }

// Problems are several things wrong with one document, in the order they were
// found. errors.As finds the first as a *Problem.
type Problems struct {
	List []Problem
}

// Error returns the first sentence and how many more there are.
func (p *Problems) Error() string {
	switch len(p.List) {
	case 0:
		return "The plan has problems."
	case 1:
		return p.List[0].Sentence
	case 2:
		return p.List[0].Sentence + " One more thing is wrong."
	}
	return fmt.Sprintf("%s %d more things are wrong.", p.List[0].Sentence, len(p.List)-1)
}

// Unwrap returns each problem.
func (p *Problems) Unwrap() []error {
	errs := make([]error, len(p.List))
	for i := range p.List {
		errs[i] = &p.List[i]
	}
	return errs
}

// problem makes one Problem.
func problem(pointer, format string, args ...any) *Problem {
	return &Problem{Pointer: pointer, Sentence: fmt.Sprintf(format, args...)}
}
