package proof

import (
	"fmt"
	"slices"

	"evenfall/internal/plan"
)

// conflicts tells of wires by which one zone ran, which no wire shows by itself.
func (f *wireWork) conflicts(wires []WireAt) {
	for _, z := range f.zones {
		by := f.running(z)
		for i, a := range by {
			for _, b := range by[i+1:] {
				for _, pair := range [][2]int{{a, b}, {b, a}} {
					if w := &wires[pair[0]]; w.Warn == "" {
						w.Warn = f.twice(z, pair[0], pair[1])
					}
				}
			}
		}
	}
}

// twice says what a zone that ran by two wires means.
func (f *wireWork) twice(zone plan.ID, a, b int) string {
	says := fmt.Sprintf("%s ran by this and by %s", plan.Capital(f.zone(zone)), f.mark(b))
	switch r, read := f.read(a, b); {
	case !read:
		return says + ": the two are joined in the ground, or one was noted wrongly. Read the resistance between them."
	case !r.open && r.ohms < shortMost:
		return fmt.Sprintf("%s: they are joined, as the %s between them say. Use one, and keep the other off its terminal.", says, ohmsSay(r.ohms))
	}
	return says + ", which are not joined: one was noted wrongly. Touch both again."
}

// warnings are all that is odd, the gravest first: what may not be powered, what
// contradicts itself, what is at fault, what is on the wrong terminal, what is missing.
func (f *wireWork) warnings(wires []WireAt) []string {
	var grave, odd, moved []string
	for i, w := range wires {
		switch {
		case w.Warn == "":
		case w.Kind == WireShorted:
			grave = append(grave, f.about(i, w.Warn))
		default:
			odd = append(odd, f.about(i, w.Warn))
		}
		if w.Moves != "" {
			moved = append(moved, f.moved(i, wires))
		}
	}
	var out []string
	if f.other >= 0 && f.against < 0 {
		out = append(out, f.misnamedSays())
	}
	for _, part := range [][]string{grave, f.joins(), odd, moved, f.missing()} {
		for _, s := range part {
			if s != "" {
				out = append(out, s)
			}
		}
	}
	return out
}

// about puts a wire's mark before what is said of it.
func (f *wireWork) about(i int, s string) string {
	return fmt.Sprintf("%s: %s", plan.Capital(f.mark(i)), s)
}

// misnamedSays tells of a common that is none.
func (f *wireWork) misnamedSays() string {
	var marked []string
	for i, w := range f.wires {
		if w.Common {
			marked = append(marked, f.mark(i))
		}
	}
	return fmt.Sprintf("By the readings %s is the common, not %s: one coil is read against it, two in line against the others.", f.mark(f.other), plan.Series(marked))
}

// joins tells of wires that read short to one another, neither of them a common.
func (f *wireWork) joins() []string {
	var out []string
	for _, r := range f.readings {
		if r.open || r.ohms >= shortMost || f.common[r.a] || f.common[r.b] || len(f.runningBoth(r.a, r.b)) > 0 {
			continue
		}
		says := "they are joined in the ground, and the zones of both run by either: look where one splice holds both"
		if !slices.Contains(f.common, true) {
			says = "they are joined in the ground, or one is the common and shorted to the other. Power neither before you know"
		}
		out = append(out, fmt.Sprintf("%s and %s read %s to one another, less than any coil has: %s.", plan.Capital(f.mark(r.a)), f.mark(r.b), ohmsSay(r.ohms), says))
	}
	return out
}

// runningBoth are the zones that ran by both of two wires.
func (f *wireWork) runningBoth(a, b int) []plan.ID {
	var out []plan.ID
	ranA, _ := f.ran(a)
	ranB, _ := f.ran(b)
	for _, z := range ranA {
		for _, y := range ranB {
			if y == z {
				out = append(out, z)
			}
		}
	}
	return out
}

// moved says that a wire is on the wrong terminal; of two that are on one another's it
// is said once.
func (f *wireWork) moved(i int, wires []WireAt) string {
	now := f.wires[i].Terminal
	for j, w := range wires {
		if j != i && w.Moves != "" && w.Goes == fmt.Sprint(now) && wires[i].Goes == fmt.Sprint(f.wires[j].Terminal) {
			if j < i {
				return ""
			}
			return fmt.Sprintf("%s and %s are swapped: %s on %d belongs on %s, %s on %d on %s.", plan.Capital(f.mark(i)), f.mark(j),
				f.mark(i), now, wires[i].Goes, f.mark(j), f.wires[j].Terminal, w.Goes)
		}
	}
	return fmt.Sprintf("%s, on terminal %d: %s. %s", plan.Capital(f.mark(i)), now, wires[i].Is, wires[i].Moves)
}

// missing tells of wires that are too few, and of zones without one.
func (f *wireWork) missing() []string {
	if len(f.zones) == 0 || len(f.ids) < 2 {
		return nil
	}
	var out []string
	if wants := f.valves() + 1; len(f.ids) < wants {
		out = append(out, fmt.Sprintf("%s noted, but %s and a common take %d: some are not noted yet, several valves are on one wire, or a wire is broken in the ground.",
			plan.Plural(len(f.ids), "wire is", "wires are"), plan.Plural(f.valves(), "valve", "valves"), wants))
	}
	if len(f.unfound) > 0 && len(f.untried()) == 0 {
		var names []string
		for _, z := range f.unfound {
			names = append(names, f.zone(z))
		}
		out = append(out, fmt.Sprintf("No wire was found for %s: it is broken, not noted, or shorted, or the valve does not open. Look in its box, and use a spare where its own is broken.", plan.Several(names)))
	}
	return out
}
