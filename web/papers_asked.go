package web

import (
	"net/http"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"evenfall/internal/packs"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// paperAsked reads a size of paper; the usual one where none is named.
func paperAsked(s string, sys units.System) (packs.PaperID, error) {
	if s == "" {
		return packs.UsualPaper(sys), nil
	}
	p, err := packs.PaperOf(packs.PaperID(clipped(s)))
	if err != nil {
		return "", refuse(http.StatusBadRequest, "%s.", plan.Capital(err.Error()))
	}
	return p.ID, nil
}

// scaleAsked reads a scale as 1 to so many, of either system of units: 0 where none is
// named, or "fit".
func scaleAsked(s string, sys units.System) (int, error) {
	if s == "" || s == "0" || s == "fit" {
		return 0, nil
	}
	if n, err := strconv.Atoi(s); err == nil {
		if scale, err := packs.ScaleOf(sys, n); err == nil {
			return scale.To, nil
		}
	}
	return 0, refuse(http.StatusBadRequest, "No scale is named “%s”; there are fit, the largest that goes on one sheet, and %s.", clipped(s), packs.ScaleNames(sys))
}

// dateAsked reads the date to be printed; "" prints none.
func dateAsked(s string) (string, error) {
	if s == "" {
		return "", nil
	}
	if on, err := time.Parse(time.DateOnly, s); err != nil || on.Year() < 1900 || on.Year() > 2200 {
		return "", refuse(http.StatusBadRequest, "The date to print is written as 2026-05-01, and the request says “%s”.", clipped(s))
	}
	return s, nil
}

// clipped is what somebody sent, short enough for a sentence.
func clipped(s string) string {
	const most = 40
	s = strings.ToValidUTF8(s, "?")
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}
