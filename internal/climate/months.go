package climate

import "strings"

// MonthNames are the months, January first.
var MonthNames = [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// MonthNamed is the month of a name, 0 January: "july", or its first letters, three at
// least; false where none is called so.
func MonthNamed(name string) (int, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	for i, m := range MonthNames {
		if len(name) >= 3 && strings.HasPrefix(strings.ToLower(m), name) {
			return i, true
		}
	}
	return 0, false
}
