package trench

import (
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// whySize says why a sleeve for pipes has its size.
func (w *work) whySize(times float64, pipes []plan.ID, size units.Inches) string {
	if size == 0 {
		return "its pipe has no size yet"
	}
	if len(pipes) == 1 {
		return fmt.Sprintf("%s times the %s pipe in it, or the next size made", number(times), w.p.Show.PipeSize(w.p.Pipes[pipes[0]].NominalIn))
	}
	return fmt.Sprintf("%s times a pipe with the section of its %d, or the next size made", number(times), len(pipes))
}

func whyWire(n int, size units.Inches, show units.System) string {
	return fmt.Sprintf("%d conductors with common and spares go through; %s leaves room to pull them", n, show.PipeSize(size))
}

func number(v float64) string { return fmt.Sprintf("%g", v) }
