package stakeout

import (
	"fmt"
	"strings"

	"evenfall/internal/units"
)

// called is a fixed point within a sentence.
func (s *spot) called() string {
	if strings.HasPrefix(s.name, "where ") || s.rank == ofFlag {
		return s.name
	}
	return "the " + s.name
}

// name tells apart points that have the same name: the later ones by the way from the first.
func (w *work) name() {
	first := map[string]int{}
	for i := range w.s.Points {
		q := &w.s.Points[i]
		k, there := first[q.Name]
		if !there {
			first[q.Name] = i
			continue
		}
		o := w.s.Points[k]
		q.Name += fmt.Sprintf(", %s %s of %s", w.p.Show.Length(w.printed(apart(o.At, q.At))), w.p.Compass(o.At, q.At), o.Letter)
	}
}

// say puts every flag into a sentence.
func (w *work) say() {
	for i := range w.s.Flags {
		w.s.Flags[i].Says = w.s.sentence(&w.s.Flags[i], w.p.Show.Length)
	}
}

// Hand is on which hand a flag lies, in a word.
func (f *Flag) Hand() string {
	if f.Right {
		return "right"
	}
	return "left"
}

// EdgeWords is an edge within a sentence.
func (f *Flag) EdgeWords() string { return edgeWords(f.Edge) }

func edgeWords(name string) string {
	if strings.Contains(name, " of ") {
		return "the " + name
	}
	return name
}

func (s *Plan) sentence(f *Flag, length func(units.Feet) string) string {
	from, to := s.Points[f.From].Called(), s.Points[f.To].Called()
	var b strings.Builder
	if f.How == AlongEdge {
		fmt.Fprintf(&b, "From %s %s along %s toward %s, then %s square off it, on the %s.", from, length(f.A), f.EdgeWords(), to, length(f.B), f.Hand())
	} else {
		fmt.Fprintf(&b, "%s from %s and %s from %s, on the %s as you look from %s to %s.", length(f.A), from, length(f.B), to, f.Hand(), from, to)
	}
	if c := s.CheckName(f); c != "" {
		along := ""
		if f.Half {
			along = " along"
		}
		fmt.Fprintf(&b, " Check%s: %s from %s.", along, length(f.C), c)
	} else {
		b.WriteString(" No third point is in sight: read it twice.")
	}
	return b.String()
}
