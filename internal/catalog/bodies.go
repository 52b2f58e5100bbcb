package catalog

import (
	"fmt"
	"sort"
	"sync"

	"evenfall/internal/units"
)

// Bodies returns the built-in bodies, sorted by id. The caller owns the slice.
//
// "body-6-reg-check" reads: pops up 6 in, regulated to 30 psi for sprays, with
// a check valve; "reg40" is regulated to 40 psi for streams. "body-rotor-…"
// are gear drives, regulated to 45 psi where they are.
func Bodies() []BodyEntry { return append([]BodyEntry(nil), builtinBodies()...) }

// FindBody returns the built-in body of an id.
func FindBody(id string) (Body, bool) {
	all := builtinBodies()
	i := sort.Search(len(all), func(i int) bool { return all[i].ID >= id })
	if i == len(all) || all[i].ID != id {
		return Body{}, false
	}
	return all[i].Body, true
}

// regulator is a setting a body is sold with; 0 is none.
type regulator struct {
	code string
	psi  units.PSI
}

var builtinBodies = sync.OnceValue(func() []BodyEntry {
	var all []BodyEntry
	for _, height := range []units.Inches{4, 6, 12} {
		for _, r := range []regulator{{"", 0}, {"-reg", sprayBest}, {"-reg40", streamBest}} {
			all = append(all, pair("body", "Pop-up body", SprayThread, 0.5, height, r)...)
		}
		for _, r := range []regulator{{"", 0}, {"-reg", rotorBest}} {
			all = append(all, pair("body-rotor", "Gear-drive body", RotorThread, 0.75, height, r)...)
		}
	}
	sort.Slice(all, func(i, j int) bool { return all[i].ID < all[j].ID })
	return all
})

// pair is a body without and with a check valve.
func pair(id, name, takes string, inlet, height units.Inches, r regulator) []BodyEntry {
	id = fmt.Sprintf("%s-%g%s", id, float64(height), r.code)
	named := func(sys units.System) string {
		text := name + " " + sys.NominalInches(height)
		if r.psi > 0 {
			text += ", regulated " + sys.NominalPressure(r.psi)
		}
		return text
	}
	const valve = ", check valve"
	plain := Body{
		Name: named(units.US), Generic: true, Source: genericSource,
		Height: height, Regulated: r.psi, Takes: takes, InletIn: inlet,
	}
	check := plain
	check.Name, check.CheckValve = plain.Name+valve, true
	metric := named(units.Metric)
	return []BodyEntry{{id, plain, metric}, {id + "-check", check, metric + valve}}
}

// Fits reports whether the body takes the nozzle's thread.
func (b Body) Fits(n Nozzle) bool { return b.Takes == n.Thread }
