package plan

import "fmt"

// NaturalKey makes runs of digits compare by value: each run is written with
// its length before it, so that 2-8 comes before 2-10.
func NaturalKey(s string) string {
	var key []byte
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		if j == i {
			key = append(key, s[i])
			i++
			continue
		}
		digits := s[i:j]
		for len(digits) > 1 && digits[0] == '0' {
			digits = digits[1:]
		}
		key = append(key, fmt.Sprintf("%04d%s", len(digits), digits)...)
		i = j
	}
	return string(key)
}
