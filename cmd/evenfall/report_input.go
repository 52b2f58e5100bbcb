package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"evenfall/internal/design"
	"evenfall/internal/plan"
)

// mostPlanBytes is the largest file the commands read: four times what the
// largest plan takes.
const mostPlanBytes = 64 << 20

// readPlan reads a plan from a file, or from standard input for "-".
func readPlan(name string, stdin io.Reader) (*plan.Plan, error) {
	doc, err := readInput(name, stdin)
	if err != nil {
		return nil, err
	}
	p, err := plan.Decode(doc)
	if err != nil {
		return nil, &unreadable{name, err}
	}
	return p, nil
}

// designOf reads a plan file and reckons what follows from it.
func designOf(ctx context.Context, name string, stdin io.Reader) (*plan.Plan, *design.Design, error) {
	p, err := readPlan(name, stdin)
	if err != nil {
		return nil, nil, err
	}
	d, err := design.Run(ctx, p)
	return p, d, err
}

func readInput(name string, stdin io.Reader) ([]byte, error) {
	in := stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, fileError(err)
		}
		defer f.Close() // only read from
		in = f
	}
	doc, err := io.ReadAll(io.LimitReader(in, mostPlanBytes+1))
	if err != nil {
		return nil, fileError(err)
	}
	if len(doc) > mostPlanBytes {
		return nil, fmt.Errorf("%s is larger than %d MB, which no plan is", name, mostPlanBytes>>20)
	}
	return doc, nil
}

// unreadable is an error about the content of a named file.
type unreadable struct {
	name string
	err  error
}

func (u *unreadable) Error() string { return u.name + ": " + u.err.Error() }
func (u *unreadable) Unwrap() error { return u.err }

// fileError says in plain words what the system reports of a file.
func fileError(err error) error {
	var at *fs.PathError
	if !errors.As(err, &at) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no file or folder %s", at.Path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s may not be opened by this user", at.Path)
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s is there already; add --force to replace it", at.Path)
	default:
		return fmt.Errorf("%s: %w", at.Path, at.Err)
	}
}

// mostProblems is how many things wrong with one file are printed.
const mostProblems = 20

// explain turns an error into lines for the user: each problem of a plan with
// its place in the file.
func explain(err error) []string {
	name := ""
	var u *unreadable
	if errors.As(err, &u) {
		name = u.name + ": "
	}
	var many *plan.Problems
	if errors.As(err, &many) && len(many.List) > 0 {
		var lines []string
		for i, p := range many.List {
			if i == mostProblems {
				return append(lines, fmt.Sprintf("%sand %d more", name, len(many.List)-i))
			}
			lines = append(lines, name+placed(&p))
		}
		return lines
	}
	var one *plan.Problem
	if errors.As(err, &one) {
		return []string{name + placed(one)}
	}
	if errors.Is(err, context.Canceled) {
		return []string{"stopped before it was done"}
	}
	return []string{err.Error()}
}

func placed(p *plan.Problem) string {
	if p.Pointer == "" {
		return p.Sentence
	}
	return p.Pointer + ": " + p.Sentence
}
