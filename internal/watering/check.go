package watering

import (
	"fmt"
	"math"
)

// check says what of an input cannot be reckoned with, in the user's words.
func (in *Input) check() error {
	c := in.Calendar
	if len(c.Days) == 0 || len(c.Days) > 31 {
		return fmt.Errorf("the calendar has %d days; a cycle is of 1 to 31", len(c.Days))
	}
	any := false
	for _, d := range c.Days {
		any = any || d
	}
	if !any {
		return fmt.Errorf("no day is allowed for watering")
	}
	if c.window() <= 0 || c.window() > 24*60 {
		return fmt.Errorf("watering may run for %d minutes of a day; more than 0 and at most a day", c.window())
	}
	if in.Target != Quarter && in.Target != Half && in.Target != Mean {
		return fmt.Errorf("the target %q is not known", string(in.Target))
	}
	for i, z := range in.Zones {
		if !(z.Flow > 0) || math.IsInf(float64(z.Flow), 0) {
			return fmt.Errorf("zone %s: its flow is %g gpm; it has to be more than 0", name(z.Name, i), float64(z.Flow))
		}
		if c.Together && z.Flow > c.Flow {
			return fmt.Errorf("zone %s: it takes %g gpm, the design flow is %g", name(z.Name, i), float64(z.Flow), float64(c.Flow))
		}
		for _, a := range z.Own {
			if a < 0 || a >= len(in.Areas) {
				return fmt.Errorf("zone %s: there is no area %d", name(z.Name, i), a)
			}
		}
	}
	for i := range in.Areas {
		if err := in.Areas[i].check(i, len(in.Zones)); err != nil {
			return err
		}
	}
	return nil
}

func name(s string, i int) string {
	if s == "" {
		return fmt.Sprint(i + 1)
	}
	return s
}

func (a *Area) check(i, zones int) error {
	for _, f := range []struct {
		what        string
		value, most float64
		zero        bool
	}{
		{"its size, square feet,", float64(a.Size), 1e9, true},
		{"what its soil holds, inches,", float64(a.Holds), 1e3, false},
		{"the share that may be used up", float64(a.Depleted), 1, false},
		{"what its soil takes in, inches an hour,", float64(a.Intake), 1e3, false},
		{"what may stand on it, inches,", float64(a.Surface), 1e2, true},
		{"its evenness in the field", float64(a.FieldDU), 1, true},
	} {
		if !(f.value >= 0 && f.value <= f.most) || (!f.zero && f.value == 0) {
			return fmt.Errorf("area %s: %s is %g; it has to be from 0 to %g", name(a.Name, i), f.what, f.value, f.most)
		}
	}
	for m, n := range a.Need {
		if !(n >= 0 && n < 10) {
			return fmt.Errorf("area %s: its need in month %d is %g inches a day; from 0 to 10", name(a.Name, i), m+1, float64(n))
		}
	}
	if len(a.Rates) != zones || (a.Credit != nil && len(a.Credit) != zones) {
		return fmt.Errorf("area %s: rates of %d zones and credit of %d, where there are %d zones", name(a.Name, i), len(a.Rates), len(a.Credit), zones)
	}
	cells := -1
	for z, r := range a.Rates {
		if a.Credit != nil && !(a.Credit[z] >= 0 && a.Credit[z] <= 1) {
			return fmt.Errorf("area %s: the credit of zone %d is %g; from 0 to 1", name(a.Name, i), z+1, float64(a.Credit[z]))
		}
		if r == nil {
			continue
		}
		if cells >= 0 && len(r) != cells || len(r) == 0 {
			return fmt.Errorf("area %s: zone %d has %d cells, another zone %d", name(a.Name, i), z+1, len(r), cells)
		}
		cells = len(r)
		for _, v := range r {
			if !(v >= 0) || v > 1e3 {
				return fmt.Errorf("area %s: zone %d puts %g in/h on a cell", name(a.Name, i), z+1, v)
			}
		}
	}
	return nil
}
