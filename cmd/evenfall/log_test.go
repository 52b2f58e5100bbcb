package main

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
)

// locked is a buffer two programs may write to.
type locked struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

// TestRowB31_TheLogHoldsNothingOfAPlan uses the program with a marked word in every
// place a user can write one, in what is taken and in what is refused, damages the
// plan, and starts again. The word is in the answers and never in what the program
// prints.
func TestRowB31_TheLogHoldsNothingOfAPlan(t *testing.T) {
	const word = "Zwetschgenbaum"
	data := filepath.Join(t.TempDir(), "data")
	var log locked
	cmd, out, at := programIn(t, data, &log)
	c := &client{url: at}
	id := c.make(t, word+" yard")
	label := url.PathEscape(word + " moved")
	answered := 0
	say := func(method, path, kind, body string, headers ...string) {
		a, err := c.ask(method, path, kind, body, headers...)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(a.body, word) {
			answered++
		}
	}
	rev := int64(1)
	for _, patch := range []string{
		`{"notes":{"k1":{"text":"@","x_ft":1,"y_ft":1}},"trees":{"t1":{"name":"@","x_ft":1,"y_ft":1}}}`,
		`{"notes":{"@":{"text":"@","x_ft":1,"y_ft":1}}}`, `{"@":"@"}`, `{"heads":{"h1":{"zone":"@","nozzle":"@"}}}`, `{"name":"@\u0000"}`, `{"name":"@`,
		`{"areas":{"a1":{"name":"@","kind":"@","outline":[[0,0],[9,9],[9,0],[0,9]]}}}`, `{"name":"` + strings.Repeat("@", 400) + `"}`,
	} {
		say("PATCH", "/api/plans/"+id, "application/merge-patch+json", strings.ReplaceAll(patch, "@", word), "If-Match", fmt.Sprintf(`"%d"`, rev), "Evenfall-Label", label)
		rev = c.rev(t, id)
	}
	say("POST", "/api/plans", "application/json", `{"doc":{"format":"evenfall-plan/1","name":"`+word+`","colour":"`+word+`"}}`)
	say("POST", "/api/import/geojson", "application/geo+json", `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"`+word+`"},"geometry":{"type":"`+word+`"}}]}`)
	say("POST", "/api/catalog/preview", "text/csv", word+","+word+"\n"+word+",1\n")
	for _, path := range []string{"/", "/plans/" + id, "/plans/" + word, "/api/plans/" + id, "/api/plans/" + id + "/board", "/api/plans/" + id + "/history", "/plans/" + id + "/files/plan.json", "/plans/" + id + "/files/" + word} {
		say("GET", path, "", "")
	}
	if answered < 6 {
		t.Errorf("only %d answers hold the word: the session does not reach the plan", answered)
	}
	if code, _, said := tryRun("backup", "--data", data); code != exitOK || strings.Contains(said, word) {
		t.Errorf("backup: %d %q", code, said)
	}
	stop := func() {
		t.Helper()
		if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
		rest := new(bytes.Buffer)
		if _, err := rest.ReadFrom(out); err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err != nil {
			t.Fatal(err)
		}
		log.Write(rest.Bytes())
	}
	stop()

	// The plan rots: its document is found damaged, and that is told and logged.
	file := filepath.Join(data, "evenfall.db")
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, bytes.ReplaceAll(b, []byte(word), []byte(word[:len(word)-1]+"n")), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(filepath.Join(data, "backups")); err != nil {
		t.Fatal(err)
	}
	cmd, out, at = programIn(t, data, &log)
	c = &client{url: at}
	if a, err := c.ask("GET", "/api/plans/"+id, "", ""); err != nil || a.status == http.StatusOK {
		t.Errorf("the damaged plan: got %d, %v", a.status, err)
	}
	for _, path := range []string{"/", "/plans/" + id, "/api/plans/" + id + "/board", "/api/plans/" + id + "/history"} {
		if _, err := c.ask("GET", path, "", ""); err != nil {
			t.Fatal(err)
		}
	}
	stop()
	if said := log.b.String(); strings.Contains(said, word[:len(word)-1]) {
		t.Errorf("the log holds words of the plan: %s", said)
	}
	if !strings.Contains(log.b.String(), "damaged") {
		t.Errorf("the log does not tell of the damage: %q", log.b.String())
	}
	t.Logf("shown: %d answers hold the word, 0 of %d bytes of log", answered, log.b.Len())
}
