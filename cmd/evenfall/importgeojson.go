package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const importUsage = `Usage: evenfall import-geojson FILE --out PLAN.json [options]

Makes a plan from the outlines in a GeoJSON file ("-" for standard input), in
longitude and latitude. What each shape is, is guessed from its properties and
its place; the guesses are printed, and --kind says otherwise.

  --out FILE           the plan file to write ("-" for standard output)
  --kind NAME=KIND     what the shape of that name is; may be given again.
                       KIND: planting, building, paving, ground, right_of_way,
                       no_dig, water, lot, skip
  --name NAME          name of the plan (the name of the lot, or of the file)
  --show us|metric     units to show (us)
  --lat N --lon N      place of the plan's origin, in degrees (the south-west
                       corner of the shapes)
  --force              replace the plan file when it is there already
`

// importOptions are what the user asked of an import.
type importOptions struct {
	out, name, show string
	kinds           []string
	lat, lon        *float64
	force           bool
}

// runImportGeoJSON makes a plan file from outlines. It returns the exit code.
func runImportGeoJSON(_ context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("import-geojson", importUsage, stdout, stderr)
	var o importOptions
	c.flags.StringVar(&o.out, "out", "", "")
	c.flags.StringVar(&o.name, "name", "", "")
	c.flags.StringVar(&o.show, "show", string(units.US), "")
	c.flags.BoolVar(&o.force, "force", false, "")
	c.flags.Func("kind", "", func(s string) error { o.kinds = append(o.kinds, s); return nil })
	c.flags.Func("lat", "", degrees(&o.lat))
	c.flags.Func("lon", "", degrees(&o.lon))
	files, code, done := c.parse(args)
	switch {
	case done:
		return code
	case len(files) != 1:
		return c.misused("Name one GeoJSON file, or - for standard input.")
	case o.out == "":
		return c.misused("Name the plan file to write with --out.")
	case o.show != string(units.US) && o.show != string(units.Metric):
		return c.misused("--show takes us or metric.")
	case (o.lat == nil) != (o.lon == nil):
		return c.misused("Give --lat and --lon together.")
	}
	data, err := readInput(files[0], stdin)
	if err != nil {
		return c.failed(err)
	}
	return c.done(importOutlines(o, files[0], data, stdout, stderr))
}

func degrees(to **float64) func(string) error {
	return func(s string) error {
		v, err := units.ParseNumber(s)
		if err == nil {
			*to = &v
		}
		return err
	}
}

// importOutlines makes the plan and writes it, and tells on stderr what became
// of every shape, so that standard output stays a plan for "--out -".
func importOutlines(o importOptions, file string, data []byte, stdout, stderr io.Writer) error {
	var origin *plan.Origin
	if o.lat != nil {
		origin = &plan.Origin{Latitude: *o.lat, Longitude: *o.lon}
	}
	outlines, err := plan.FromGeoJSON(data, origin)
	if err != nil {
		return &unreadable{file, err}
	}
	uses, err := chooseUses(outlines.Shapes, o.kinds)
	if err != nil {
		return err
	}
	p, err := outlines.Plan(planName(o.name, file, outlines.Shapes, uses), units.System(o.show), uses)
	if err != nil {
		return &unreadable{file, err}
	}
	if o.out == "-" {
		if _, err := stdout.Write(p.Encode()); err != nil {
			return err
		}
	} else if err := writeFile(o.out, p.Encode(), o.force); err != nil {
		return err
	}
	for i, s := range outlines.Shapes {
		fmt.Fprintf(stderr, "%s: %s, %s\n", s.Name, useWord(uses[i]), p.Show.Area(s.AreaSqFt))
	}
	for _, sentence := range outlines.LeftOut {
		fmt.Fprintln(stderr, sentence)
	}
	return nil
}

// chooseUses takes the guess for every shape that the user says nothing of.
func chooseUses(shapes []plan.ImportShape, kinds []string) ([]plan.Use, error) {
	uses := make([]plan.Use, len(shapes))
	for i, s := range shapes {
		uses[i] = s.Guess
	}
	for _, kind := range kinds {
		name, use, ok := cutLast(kind)
		if !ok {
			return nil, fmt.Errorf("--kind takes NAME=KIND, as in --kind \"House=building\"; this is %q", kind)
		}
		if !slices.Contains(allUses, plan.Use(use)) {
			return nil, fmt.Errorf("--kind %q: a shape can be one of %s", kind, strings.Join(useNames(), ", "))
		}
		known := false
		for i, s := range shapes {
			if s.Name == name {
				uses[i], known = plan.Use(use), true
			}
		}
		if !known {
			return nil, fmt.Errorf("--kind %q: no shape of the file has this name; it has %s", kind, strings.Join(shapeNames(shapes), ", "))
		}
	}
	return uses, nil
}

// cutLast cuts NAME=KIND at its last sign, since names may hold one.
func cutLast(s string) (name, kind string, ok bool) {
	i := strings.LastIndexByte(s, '=')
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+1:], true
}

var allUses = []plan.Use{
	plan.Use(plan.Planting), plan.Use(plan.Building), plan.Use(plan.Paving), plan.Use(plan.Ground),
	plan.Use(plan.RightOfWay), plan.Use(plan.NoDig), plan.Use(plan.Water), plan.UseLot, plan.UseSkip,
}

func useNames() []string {
	out := make([]string, len(allUses))
	for i, u := range allUses {
		out[i] = string(u)
	}
	return out
}

func useWord(u plan.Use) string {
	if u == plan.UseSkip {
		return "left out"
	}
	return strings.ReplaceAll(string(u), "_", " ")
}

// mostNamedShapes is how many names a sentence lists.
const mostNamedShapes = 12

func shapeNames(shapes []plan.ImportShape) []string {
	var out []string
	for i, s := range shapes {
		if i == mostNamedShapes {
			return append(out, "and others")
		}
		out = append(out, s.Name)
	}
	return out
}

// planName is the name asked for, or the lot's if it has one of its own, or the
// file's without its ending.
func planName(asked, file string, shapes []plan.ImportShape, uses []plan.Use) string {
	if asked != "" {
		return asked
	}
	for i, s := range shapes {
		if uses[i] == plan.UseLot && !strings.HasPrefix(s.Name, "Shape ") {
			return s.Name
		}
	}
	if file == "-" {
		return "Imported outlines"
	}
	base := file[strings.LastIndexAny(file, `/\`)+1:]
	return strings.TrimSuffix(strings.TrimSuffix(base, ".geojson"), ".json")
}
