package catalog

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
)

// WritePipes writes pipe classes as the table that ReadPipes reads, in customary
// units. Generic is not written: what comes back is the user's own.
func WritePipes(w io.Writer, classes []PipeClassEntry) error {
	var lines []map[string]string
	for _, e := range classes {
		for i, s := range e.Sizes {
			v := map[string]string{
				colID: e.ID, colName: e.Name, colNominal: number(float64(s.Nominal)), colOutside: number(float64(s.Outside)),
				colWall: number(float64(s.Wall)), colInside: number(float64(s.Inside)), colRating: number(float64(s.Rating)), colPrice: numberOrNone(s.PricePerFt),
			}
			if i == 0 {
				v[colMaterial], v[colC], v[colModulus] = string(e.Material), number(e.C), number(float64(e.ModulusPSI))
				v[colPotable], v[colJoint], v[colSold] = yesNo(e.Potable), e.Joint, numberOrNone(float64(e.SoldFt))
				v[colConvention], v[colSource] = e.Convention, e.Source
			}
			lines = append(lines, v)
		}
	}
	return writeTable(w, &pipeForm, lines)
}

// WriteDevices writes devices as the table that ReadDevices reads.
func WriteDevices(w io.Writer, devices []DeviceEntry) error {
	var lines []map[string]string
	for _, e := range devices {
		for i, p := range e.Loss {
			v := map[string]string{colID: e.ID, colName: e.Name, colFlow: number(float64(p.Flow)), colLoss: number(float64(p.Loss))}
			if i == 0 {
				v[colKind], v[colBackflow], v[colReplace], v[colSource] = string(e.Kind), string(e.Backflow), yesNo(e.Replace), e.Source
				v[colNominal] = numberOrNone(float64(e.Nominal))
				v[colLeastGPM], v[colMostGPM] = numberOrNone(float64(e.LeastGPM)), numberOrNone(float64(e.MostGPM))
				v[colLeastPSI], v[colMostPSI] = numberOrNone(float64(e.LeastPSI)), numberOrNone(float64(e.MostPSI))
			}
			lines = append(lines, v)
		}
	}
	return writeTable(w, &deviceForm, lines)
}

// writeTable writes lines in the order of a form's columns. A text that a
// spreadsheet may take for a formula gets an apostrophe before it, which reading
// takes off again.
func writeTable(w io.Writer, f *form, lines []map[string]string) error {
	c := csv.NewWriter(w)
	if err := c.Write(f.columns); err != nil {
		return fmt.Errorf("catalog: writing %s: %w", f.many, err)
	}
	for _, v := range lines {
		out := make([]string, len(f.columns))
		for i, name := range f.columns {
			out[i] = v[name]
		}
		for i, name := range f.columns {
			if (name == colName || name == colSource || name == colConvention) && !startsPlainly(out[i]) {
				out[i] = "'" + out[i]
			}
		}
		if err := c.Write(out); err != nil {
			return fmt.Errorf("catalog: writing %s: %w", f.many, err)
		}
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return fmt.Errorf("catalog: writing %s: %w", f.many, err)
	}
	return nil
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// numberOrNone leaves a number that is not given empty.
func numberOrNone(v float64) string {
	if v == 0 {
		return ""
	}
	return number(v)
}
