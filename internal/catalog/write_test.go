package catalog

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
)

// WriteNozzles writes nozzles as the table that ReadNozzles reads, in customary
// units. Generic is not written: what comes back is the user's own.
func WriteNozzles(w io.Writer, nozzles []Entry) error {
	c := csv.NewWriter(w)
	if err := c.Write(columns); err != nil {
		return fmt.Errorf("catalog: writing nozzles: %w", err)
	}
	for _, e := range nozzles {
		for i, r := range e.Rows {
			if err := c.Write(tableLine(e, r, i == 0)); err != nil {
				return fmt.Errorf("catalog: writing nozzles: %w", err)
			}
		}
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return fmt.Errorf("catalog: writing nozzles: %w", err)
	}
	return nil
}

// tableLine is the line of one row; the first carries the whole nozzle.
func tableLine(e Entry, r Row, first bool) []string {
	v := map[string]string{
		colID: e.ID, colName: e.Name,
		colPressure: number(float64(r.Pressure)), colThrow: number(float64(r.Throw)), colFlow: number(float64(r.Flow)),
	}
	if first {
		describe(e.Nozzle, v)
	}
	out := make([]string, len(columns))
	for i, name := range columns {
		out[i] = v[name]
	}
	return out
}

func describe(n Nozzle, v map[string]string) {
	v[colFamily] = string(n.Family)
	v[colFollows] = yesNo(n.FlowFollowsArc)
	v[colTrajectory] = number(float64(n.Trajectory))
	v[colProfile] = profileText(n.Profile)
	if n.Low != nil {
		v[colLow], v[colLowSource] = profileText(n.Low.Profile), n.Low.Source
	}
	v[colUsual] = number(float64(n.TurnDown.UsualShare))
	v[colLeast] = number(float64(n.TurnDown.LeastShare))
	v[colPower] = number(n.TurnDown.FlowPower)
	v[colBest] = number(float64(n.BestPSI))
	v[colThread], v[colSource] = n.Thread, n.Source
	if n.Strip == nil {
		v[colArcLeast], v[colArcMost] = number(float64(n.ArcLeast)), number(float64(n.ArcMost))
		return
	}
	v[colAhead], v[colBack] = yesNo(n.Strip.Ahead), yesNo(n.Strip.Back)
	v[colLeft], v[colRight] = number(float64(n.Strip.Left)), number(float64(n.Strip.Right))
}

func profileText(p Profile) string {
	if p.Kind != ProfileTable {
		return string(p.Kind)
	}
	words := make([]string, len(p.Shares))
	for i, s := range p.Shares {
		words[i] = number(s)
	}
	return strings.Join(words, " ")
}
