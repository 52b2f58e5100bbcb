package store_test

import (
	"context"
	"database/sql"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the zones are the same on every machine

	"evenfall/internal/store"
)

// The six zones, and the moments in them when clocks and calendars are odd: a
// quarter-hour offset, a half-hour one below zero, the first and the last day on
// earth, the hour that is missing in spring and the one that comes twice in
// autumn, and a leap day. Offsets and changes are those of the IANA database.
var oddMoments = []struct {
	zone, local string // as the clock on the wall says
	second      bool   // of the hour that comes twice
	utc         string
}{
	{"Asia/Kathmandu", "2026-06-01 03:00:00", false, "2026-05-31T21:15:00Z"},
	{"America/St_Johns", "2026-01-31 22:00:00", false, "2026-02-01T01:30:00Z"},
	{"Pacific/Kiritimati", "2026-01-01 00:30:00", false, "2025-12-31T10:30:00Z"},
	{"Pacific/Pago_Pago", "2026-12-31 23:30:00", false, "2027-01-01T10:30:00Z"},
	{"America/New_York", "2026-03-08 01:59:59", false, "2026-03-08T06:59:59Z"},
	{"America/New_York", "2026-03-08 03:00:00", false, "2026-03-08T07:00:00Z"}, // a second later
	{"America/New_York", "2026-11-01 01:30:00", false, "2026-11-01T05:30:00Z"},
	{"America/New_York", "2026-11-01 01:30:00", true, "2026-11-01T06:30:00Z"},
	{"Australia/Lord_Howe", "2028-02-29 23:59:59", false, "2028-02-29T12:59:59Z"}, // changes by half an hour
}

func TestRowB27_StampsAndBackupNamesAreOfUTC(t *testing.T) {
	for _, m := range oddMoments {
		t.Run(m.zone+" "+m.local, func(t *testing.T) {
			zone, err := time.LoadLocation(m.zone)
			if err != nil {
				t.Fatal(err)
			}
			at, err := time.ParseInLocation(time.DateTime, m.local, zone)
			if err != nil {
				t.Fatal(err)
			}
			if m.second {
				at = at.Add(time.Hour)
			}
			if got := at.UTC().Format(time.RFC3339); got != m.utc {
				t.Fatalf("the moment is %s in UTC, want %s", got, m.utc)
			}
			c := &clock{at}
			s := openIn(t, filepath.Join(t.TempDir(), "data"), c)
			p := commit(t, s, create(t, s), `{"name":"At an odd moment"}`, "Rename")
			if err := s.BackUpDaily(context.Background()); err != nil {
				t.Fatal(err)
			}
			if got, want := fmt.Sprint(backupNames(t, s.Dir())), "[evenfall-day-"+m.utc[:10]+".db]"; got != want {
				t.Errorf("backups: got %s, want %s", got, want)
			}
			if b := store.Backups(context.Background(), s.Dir()); len(b) != 1 || b[0].Trouble != nil || !b[0].Made.Equal(at) {
				t.Errorf("the backup says it was made %v (%v), want %v", b[0].Made, b[0].Trouble, at)
			}
			db, err := sql.Open("sqlite3", "file:"+s.File()+"?mode=ro")
			if err != nil {
				t.Fatal(err)
			}
			defer db.Close()
			var changed, stepped string
			if err := db.QueryRow("SELECT p.changed, s.at FROM plans p JOIN steps s ON s.plan = p.id AND s.pos = 1").Scan(&changed, &stepped); err != nil {
				t.Fatal(err)
			}
			for _, stamp := range []string{changed, stepped} {
				if want := strings.TrimSuffix(m.utc, "Z") + ".000000000Z"; stamp != want {
					t.Errorf("a stamp is %s, want %s", stamp, want)
				}
			}
			if p.Rev != 2 {
				t.Errorf("revision %d, want 2", p.Rev)
			}
		})
	}
}

// A clock that is set back, by a day or by the hour in autumn, does not put a
// later step before an earlier one: steps are in the order they were made.
func TestRowB27_TheOrderOfStepsIsNotTheClocks(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := create(t, s)
	for i, back := range []time.Duration{time.Hour, -24 * time.Hour, -time.Hour, 0, -365 * 24 * time.Hour, 50 * 365 * 24 * time.Hour} {
		c.advance(back)
		p = commit(t, s, p, fmt.Sprintf(`{"heads":{"h1":{"x_ft":%d}}}`, i+1), fmt.Sprint("Step ", i+1))
	}
	checkHistory(t, s, p.ID, "Plan made", "Step 1", "Step 2", "Step 3", "Step 4", "Step 5", "Step 6")
	for i := 6; i >= 1; i-- {
		back, taken, err := s.Undo(ctx, p.ID, p.Rev)
		if err != nil || taken.Label != fmt.Sprint("Step ", i) || back.Rev != p.Rev+1 {
			t.Fatalf("undo took %q at revision %d, %v; want step %d", taken.Label, back.Rev, err, i)
		}
		p = back
	}
}

// A clock set back does not delete backups, and one set ahead costs none but by
// their number.
func TestRowB27_AClockSetBackKeepsTheBackups(t *testing.T) {
	c := newClock()
	dir := t.TempDir()
	day := func(by int) {
		c.advance(time.Duration(by) * 24 * time.Hour)
		s := openIn(t, dir, c)
		if list, err := s.List(context.Background()); err != nil || len(list) == 0 {
			create(t, s)
		}
		if err := s.BackUpDaily(context.Background()); err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	for range 7 {
		day(1)
	}
	before := backupNames(t, dir)
	day(-3) // a day that has its backup
	if got := backupNames(t, dir); fmt.Sprint(got) != fmt.Sprint(before) {
		t.Errorf("after setting the clock back three days: %v, want %v", got, before)
	}
	day(-300)
	if got := backupNames(t, dir); len(got) != 8 {
		t.Errorf("a year back a backup more is made: %v", got)
	}
}
