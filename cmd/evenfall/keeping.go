package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

const backupUsage = `Usage: evenfall backup [--to FILE] [--data DIR]

Copies all plans into one file and reads the copy through to check it. Evenfall
may be running meanwhile. Without --to the copy goes to the folder "backups"
beside the plans; it is never deleted by the program. The file can be kept
anywhere, also in a synced folder, and is brought back with "evenfall restore".

  --to FILE   file to write; one that exists is not touched
  --data DIR  folder the plans are in (the system's place for data)

Do not copy evenfall.db by itself: the last changes are in a file beside it.
`

const restoreUsage = `Usage: evenfall restore FILE [--data DIR]
       evenfall restore --list [--data DIR]

Puts the plans of a backup in the place of those there are. The backup is read
through first, and the plans there are now are kept under a name with the date.
Stop Evenfall first. A backup of an older version is brought up to date at the
next start; one of a newer version is refused.

  FILE        a backup: a path, or a name from the list
  --list      show the backups in the data folder, each read through
  --data DIR  folder the plans are in (the system's place for data)
`

// backingUp returns the task that copies the plans into a file.
func backingUp(env func(string) string) func(context.Context, []string, io.Reader, io.Writer, io.Writer) int {
	return func(ctx context.Context, args []string, _ io.Reader, stdout, stderr io.Writer) int {
		c := newCommand("backup", backupUsage, stdout, stderr)
		to := c.flags.String("to", "", "")
		data := c.flags.String("data", "", "")
		rest, code, done := c.parse(args)
		if done {
			return code
		}
		if len(rest) > 0 {
			return c.misused("It takes no argument %q; say where to write with --to.", rest[0])
		}
		dir, err := dataFolder(env, *data)
		if err != nil {
			return c.misused("%s.", plan.Capital(err.Error()))
		}
		b, err := store.BackUp(ctx, dir, *to)
		if err != nil {
			return sayWhy(stderr, err)
		}
		said := fmt.Appendf(nil, "Backed up %s to %s (%s).\n", contents(b.Contents), b.File, kib(b.Bytes))
		if n := len(b.Contents.Damaged); n > 0 {
			c.write(said)
			fmt.Fprintf(stderr, "The copy is good, but of what it was made from %s damaged already: %s. Start Evenfall: its list of plans offers the last good state of a damaged plan, and choosing a damaged picture again mends it.\n",
				isAre(n, "thing"), strings.Join(b.Contents.Damaged, "; "))
			return exitFailed
		}
		return c.write(append(said, "It was read back and is whole. To go back to it: evenfall restore FILE\n"...))
	}
}

// restoring returns the task that brings a backup back, or lists them.
func restoring(env func(string) string) func(context.Context, []string, io.Reader, io.Writer, io.Writer) int {
	return func(ctx context.Context, args []string, _ io.Reader, stdout, stderr io.Writer) int {
		c := newCommand("restore", restoreUsage, stdout, stderr)
		list := c.flags.Bool("list", false, "")
		data := c.flags.String("data", "", "")
		files, code, done := c.parse(args)
		if done {
			return code
		}
		dir, err := dataFolder(env, *data)
		switch {
		case err != nil:
			return c.misused("%s.", plan.Capital(err.Error()))
		case *list && len(files) == 0:
			return c.listBackups(ctx, dir)
		case *list || len(files) != 1:
			return c.misused("Say which backup to restore, or --list to see those there are.")
		}
		r, err := store.Restore(ctx, dir, files[0])
		var busy *store.InUse
		if errors.As(err, &busy) {
			fmt.Fprintf(stderr, "Evenfall is running on the data folder %s (%s). Stop it with Ctrl-C in its window, then restore. Nothing was changed.\n", busy.Dir, orStarting(busy.Address))
			return exitUsage
		}
		if err != nil {
			return sayWhy(stderr, err)
		}
		said := fmt.Sprintf("Restored %s, as they were on %s.\n", contents(r.Contents), r.Made.Local().Format("2 January 2006, 15:04"))
		switch {
		case r.Kept != "" && r.Whole:
			said += fmt.Sprintf("The plans of before are kept in %s and can be restored the same way.\n", r.Kept)
		case r.Kept != "":
			said += fmt.Sprintf("The data file of before could not be opened; it is kept as it was in %s.\n", r.Kept)
		}
		return c.write([]byte(said))
	}
}

func orStarting(address string) string {
	if address == "" {
		return "it is just starting"
	}
	return "at " + address
}

// listBackups prints the backups of a data folder, newest first.
func (c *command) listBackups(ctx context.Context, dir string) int {
	all := store.Backups(ctx, dir)
	if len(all) == 0 {
		return c.write(fmt.Appendf(nil, "There are no backups in %s yet. One is made each day Evenfall is used, and by: evenfall backup\n", filepath.Join(dir, "backups")))
	}
	out := fmt.Appendf(nil, "Backups in %s, newest first:\n", filepath.Join(dir, "backups"))
	for _, b := range all {
		state := contents(b.Contents)
		if b.Trouble != nil {
			state = fmt.Sprintf("cannot be restored: %v", b.Trouble)
		}
		out = fmt.Appendf(out, "  %s  %9s  %s  %s\n", b.Made.Local().Format("2006-01-02 15:04"), kib(b.Bytes), filepath.Base(b.File), state)
	}
	return c.write(out)
}

// contents says what a backup holds.
func contents(c store.Contents) string {
	said := fmt.Sprintf("%s with %s", many(c.Plans, "plan"), many(c.Steps-c.Plans, "step"))
	if c.Blobs > 0 {
		said += " and " + many(c.Blobs, "picture")
	}
	if n := len(c.Damaged); n > 0 {
		said += fmt.Sprintf(", %d damaged", n)
	}
	return said
}

func many(n int, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
}

func isAre(n int, thing string) string {
	if n == 1 {
		return many(n, thing) + " was"
	}
	return many(n, thing) + " were"
}

func kib(bytes int64) string { return fmt.Sprintf("%d KiB", (bytes+1023)>>10) }

// backupEvery is how often a running server looks whether the day's backup is due.
const backupEvery = time.Hour

// backUpDaily makes the day's backup of a server that runs for days. What goes
// wrong is told once a day at most.
func backUpDaily(ctx context.Context, kept *store.Store, every time.Duration, say func(string)) {
	var told time.Time
	for tick := time.NewTicker(every); ; {
		select {
		case <-ctx.Done():
			tick.Stop()
			return
		case at := <-tick.C:
			if err := kept.BackUpDaily(ctx); err != nil && ctx.Err() == nil && at.Sub(told) > 24*time.Hour {
				told = at
				say(plan.Capital(err.Error()) + ".")
			}
		}
	}
}
