package packs

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// leg is trench between two points with none between.
type leg struct {
	from, to string
	length   float64
	lies     []string // "3/4 in lateral 2", once for each pipe
}

// reader is what somebody has who read the list.
type reader struct {
	points map[string][]string // what stands at each, by its name
	legs   []leg
	laid   map[string]float64 // feet of each kind of pipe
	ground map[string]float64
	rows   float64
}

var (
	feetInches = regexp.MustCompile(`^(?:(\d+)')?\s*(?:(\d+)?\s*(1/2)?")?$`)
	timesWords = regexp.MustCompile(`^(\d+) × (.*)$`)
	withLength = regexp.MustCompile(`^(.*?) ((?:\d+' )?(?:\d+|\d+ 1/2|1/2)"|\d+'|\d+(?:\.\d+)? (?:m|cm))$`)
)

// readLength reads a length as it is printed, in feet.
func readLength(t *testing.T, s string) float64 {
	t.Helper()
	if v, ok := strings.CutSuffix(s, " cm"); ok {
		return readNumber(t, v) / 30.48
	}
	if v, ok := strings.CutSuffix(s, " m"); ok {
		return readNumber(t, v) / 0.3048
	}
	m := feetInches.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil || s == "" {
		t.Fatalf("%q is no length", s)
	}
	feet := 0.0
	if m[1] != "" {
		feet += readNumber(t, m[1])
	}
	if m[2] != "" {
		feet += readNumber(t, m[2]) / 12
	}
	if m[3] != "" {
		feet += 0.5 / 12
	}
	return feet
}

func readNumber(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// readTrenches reads the rows: No., From, To, On the way, Length, Cover, Depth, In it,
// Ground; the row of short pieces: what, Length, In them, Ground; and the list of points,
// which says what stands where the name alone does not.
func readTrenches(t *testing.T, g, short, points grid) *reader {
	t.Helper()
	r := &reader{points: map[string][]string{}, laid: map[string]float64{}, ground: map[string]float64{}}
	stands := map[string]string{}
	for _, row := range points.Rows {
		if _, twice := stands[row[0]]; twice {
			t.Errorf("%s is listed twice", row[0])
		}
		stands[row[0]] = row[1]
	}
	point := func(name string) string {
		if r.points[name] == nil {
			r.points[name] = append([]string{name}, strings.Split(strings.ReplaceAll(stands[name], " and ", ", "), ", ")...)
		}
		return name
	}
	for _, row := range short.Rows { // sums alone
		r.rows++
		for _, part := range strings.Split(row[2], "; ") {
			m := withLength.FindStringSubmatch(part)
			if m == nil {
				t.Fatalf("%q has no length", part)
			}
			r.laid[m[1]] += readLength(t, m[2])
		}
		r.readGround(t, row[3], readLength(t, row[1]))
	}
	for _, row := range g.Rows {
		length := readLength(t, row[4])
		r.rows++
		var lies []string
		for _, part := range strings.Split(row[7], "; ") {
			times, what := 1, part
			if m := timesWords.FindStringSubmatch(part); m != nil {
				times, what = int(readNumber(t, m[1])), m[2]
			}
			for range times {
				lies = append(lies, what)
				r.laid[what] += length
			}
		}
		r.readGround(t, row[8], length)
		at, done := point(row[1]), 0.0
		for _, stop := range strings.Split(row[3], "; ") {
			if stop == "" {
				continue
			}
			k := strings.LastIndex(stop, " at ")
			far := readLength(t, stop[k+4:])
			next := point(stop[:k])
			r.legs = append(r.legs, leg{at, next, far - done, lies})
			at, done = next, far
		}
		r.legs = append(r.legs, leg{at, point(row[2]), length - done, lies})
	}
	return r
}

func (r *reader) readGround(t *testing.T, cell string, whole float64) {
	t.Helper()
	if k := strings.LastIndex(cell, " ("); k > 0 && strings.HasSuffix(cell, ")") && !strings.Contains(cell[k:], "zone") {
		cell = cell[:k]
	}
	parts := strings.Split(cell, ", ")
	for i, part := range parts {
		if m := withLength.FindStringSubmatch(part); m != nil && len(parts) > 1 {
			r.ground[m[1]] += readLength(t, m[2])
			continue
		}
		if i > 0 || len(parts) > 1 {
			t.Fatalf("ground %q", cell)
		}
		r.ground[part] += whole
	}
}

// reached is how far each point is from those where something stands, along what holds
// one kind of thing.
func (r *reader) reached(stands string, holds func(string) bool) map[string]float64 {
	far := map[string]float64{}
	for name, words := range r.points {
		if slices.Contains(words, stands) {
			far[name] = 0
		}
	}
	for changed := true; changed; {
		changed = false
		for _, l := range r.legs {
			if !slices.ContainsFunc(l.lies, holds) {
				continue
			}
			for _, e := range [2][2]string{{l.from, l.to}, {l.to, l.from}} {
				at, ok := far[e[0]]
				if old, there := far[e[1]]; ok && (!there || at+l.length < old-1e-9) {
					far[e[1]], changed = at+l.length, true
				}
			}
		}
	}
	return far
}

// at is how far the point is where something stands; below nothing where it is none.
func (r *reader) at(far map[string]float64, stands string) float64 {
	best := -1.0
	for name, words := range r.points {
		if d, ok := far[name]; ok && slices.Contains(words, stands) && (best < 0 || d < best) {
			best = d
		}
	}
	return best
}
