package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"evenfall/internal/store"
)

// TestRowB25_BackupAndRestoreFromTheCommandLine makes a backup while the program
// serves, loses work and the data file, and goes back by the words the program
// itself says.
func TestRowB25_BackupAndRestoreFromTheCommandLine(t *testing.T) {
	data := filepath.Join(t.TempDir(), "my plans")
	r := start(t, "serve", "--addr", "127.0.0.1:0", "--data", data, "--no-open")
	c := &client{url: r.url}
	id := c.make(t, "Front yard of the baker")
	rev, _ := c.step(id, 1, note(1, "water early"))

	kept := filepath.Join(t.TempDir(), "kept.db")
	for _, args := range [][]string{{"backup", "--data", data}, {"backup", "--data", data, "--to", kept}} {
		if code, out, said := tryRun(args...); code != exitOK || !strings.Contains(out, "Backed up 2 plans with 1 step to ") || said != "" {
			t.Fatalf("%v: got %d %q %q", args, code, out, said)
		}
	}
	if code, _, said := tryRun("backup", "--data", data, "--to", kept); code != exitFailed || !strings.Contains(said, "it was left as it is") {
		t.Errorf("onto a file that is there: got %d %q", code, said)
	}
	if code, _, said := tryRun("restore", kept, "--data", data); code != exitUsage || !strings.Contains(said, r.url) || !strings.Contains(said, "Stop it") {
		t.Errorf("while it runs: got %d %q", code, said)
	}
	rev, _ = c.step(id, rev, note(2, "work after the backup"))
	r.end(exitOK)

	// The data file is damaged: the start says what to type.
	file := filepath.Join(data, "evenfall.db")
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, whole[:5000], 0o600); err != nil {
		t.Fatal(err)
	}
	code, _, said := tryRun("serve", "--data", data, "--no-open")
	typed := regexp.MustCompile(`evenfall restore '([^']+)' --data '([^']+)'`).FindStringSubmatch(said)
	if code != exitUnusable || typed == nil || typed[2] != data || !strings.Contains(said, file) {
		t.Fatalf("got %d %q, want %d with what to type", code, said, exitUnusable)
	}
	if code, out, said := tryRun("restore", typed[1], "--data", typed[2]); code != exitOK || !strings.Contains(out, "Restored 2 plans with 1 step") || !strings.Contains(out, "kept as it was in") || said != "" {
		t.Fatalf("restoring: got %d %q %q", code, out, said)
	}
	r = start(t, "serve", "--addr", "127.0.0.1:0", "--data", data, "--no-open")
	c = &client{url: r.url}
	if got := c.rev(t, id); got != rev-1 {
		t.Errorf("restored to revision %d, want %d", got, rev-1)
	}
	if body := r.get("/api/plans/" + id); !strings.Contains(body, "water early") || strings.Contains(body, "after the backup") {
		t.Errorf("the restored plan: %s", body)
	}
	r.end(exitOK)

	code, out, said := tryRun("restore", "--list", "--data", data)
	if code != exitOK || !strings.Contains(out, filepath.Base(typed[1])) || !strings.Contains(out, "2 plans with 1 step") || said != "" {
		t.Errorf("the list: got %d %q %q", code, out, said)
	}
	if code, out, said := tryRun("restore", kept, "--data", data); code != exitOK || !strings.Contains(out, "can be restored the same way") {
		t.Errorf("restoring over whole plans: got %d %q %q", code, out, said)
	}
	t.Log("shown: 2 plans with 1 step backed up at work and restored by the words printed")
}

func TestWhatCannotBeBackedUpOrRestoredIsSaid(t *testing.T) {
	empty := t.TempDir()
	text := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(text, []byte("milk, bread"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		code int
		has  string
	}{
		{[]string{"backup", "--data", empty}, exitFailed, "There are no plans in the data folder"},
		{[]string{"backup", "here"}, exitUsage, "--to"},
		{[]string{"restore"}, exitUsage, "--list"},
		{[]string{"restore", "a", "b"}, exitUsage, "Say which backup"},
		{[]string{"restore", "--list", "a"}, exitUsage, "Say which backup"},
		{[]string{"restore", "none.db", "--data", empty}, exitFailed, "There is no file none.db"},
		{[]string{"restore", text, "--data", empty}, exitUnusable, "it is not a database"},
	} {
		code, out, said := tryRun(c.args...)
		if code != c.code || !strings.Contains(said, c.has) || out != "" {
			t.Errorf("%v: got %d %q %q, want %d with %q", c.args, code, out, said, c.code, c.has)
		}
	}
	if code, out, _ := tryRun("restore", "--list", "--data", empty); code != exitOK || !strings.Contains(out, "no backups") {
		t.Errorf("an empty list: got %d %q", code, out)
	}
	for _, name := range []string{"backup", "restore"} {
		if code, out, _ := tryRun(name, "-h"); code != exitOK || !strings.Contains(out, "--data") {
			t.Errorf("%s -h: got %d %q", name, code, out)
		}
	}
	env := func(name string) string { return map[string]string{"XDG_DATA_HOME": "/somewhere"}[name] }
	var out bytes.Buffer
	run(context.Background(), []string{"help"}, env, strings.NewReader(""), &out, &out)
	for _, has := range []string{"evenfall backup", "evenfall restore", "/somewhere/evenfall", "127.0.0.1:8740", "synced folder"} {
		if goos == "linux" && !strings.Contains(out.String(), has) {
			t.Errorf("help does not say %q: %s", has, out.String())
		}
	}
}

// A path without a folder is one where the user is.
func TestRowB25_BackupAndRestoreByAPathWithoutAFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	r := start(t, "serve", "--addr", "127.0.0.1:0", "--data", "plans", "--no-open")
	if code, out, said := tryRun("backup", "--data", "plans", "--to", "kept.db"); code != exitOK || !strings.Contains(out, "Backed up 1 plan") {
		t.Errorf("backup: got %d %q %q", code, out, said)
	}
	r.end(exitOK)
	if code, out, said := tryRun("restore", "kept.db", "--data", "plans"); code != exitOK || !strings.Contains(out, "Restored 1 plan") {
		t.Errorf("restore: got %d %q %q", code, out, said)
	}
	for _, name := range []string{"kept.db", filepath.Join("plans", "evenfall.db")} {
		if _, err := os.Stat(name); err != nil {
			t.Error(err)
		}
	}
}

// A server that runs for days makes each day's backup itself.
func TestRowB25_AServerThatRunsForDaysBacksUp(t *testing.T) {
	day := time.Date(2026, 6, 1, 23, 0, 0, 0, time.UTC)
	at := make(chan time.Time, 1)
	at <- day
	now := func() time.Time { d := <-at; at <- d; return d }
	data := t.TempDir()
	s, err := store.Open(context.Background(), data, store.WithClock(now))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Create(context.Background(), []byte(`{"format":"evenfall-plan/1","name":"Yard"}`)); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() {
		backUpDaily(ctx, s, time.Millisecond, func(said string) { t.Errorf("it says %q", said) })
		close(ended)
	}()
	for _, name := range []string{"evenfall-day-2026-06-01.db", "evenfall-day-2026-06-02.db", "evenfall-day-2026-06-03.db"} {
		for {
			if _, err := os.Stat(filepath.Join(data, "backups", name)); err == nil {
				break
			}
			time.Sleep(time.Millisecond) // go test's own limit ends a wait for nothing
		}
		at <- (<-at).Add(24 * time.Hour)
	}
	stop()
	<-ended
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	t.Log("shown: 3 days, 3 backups")
}
