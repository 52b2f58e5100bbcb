package main

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
)

// client speaks to a running program as a page does.
type client struct {
	url  string
	http http.Client
}

// reply is the status and the body of an answer.
type reply struct {
	status int
	body   string
}

// ask sends a request with a kind of body and headers in pairs.
func (c *client) ask(method, path, kind, body string, headers ...string) (reply, error) {
	req, err := http.NewRequest(method, c.url+path, strings.NewReader(body))
	if err != nil {
		return reply{}, err
	}
	if body != "" {
		req.Header.Set("Content-Type", kind)
	}
	for i := 0; i+1 < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
	}
	resp, err := c.http.Do(req)
	if err != nil {
		return reply{}, err
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	return reply{resp.StatusCode, string(b)}, err
}

func (c *client) must(t *testing.T, want int, method, path, body string, headers ...string) string {
	t.Helper()
	kind := "application/json"
	if method == http.MethodPatch {
		kind = "application/merge-patch+json"
	}
	a, err := c.ask(method, path, kind, body, headers...)
	if err != nil || a.status != want {
		t.Fatalf("%s %s: got %d %.300s, %v; want %d", method, path, a.status, a.body, err, want)
	}
	return a.body
}

// make makes a plan and returns its id.
func (c *client) make(t *testing.T, name string) string {
	t.Helper()
	var made struct{ ID string }
	body := c.must(t, http.StatusCreated, "POST", "/api/plans", fmt.Sprintf(`{"name":%q,"show":"us"}`, name))
	if err := json.Unmarshal([]byte(body), &made); err != nil || made.ID == "" {
		t.Fatalf("making a plan: %s, %v", body, err)
	}
	return made.ID
}

// step patches a plan at a revision and returns the one it makes; status is that
// of the answer, 0 when none came.
func (c *client) step(id string, rev int64, patch string) (next int64, a reply) {
	a, err := c.ask("PATCH", "/api/plans/"+id, "application/merge-patch+json", patch, "If-Match", fmt.Sprintf(`"%d"`, rev))
	if err != nil {
		return rev, reply{}
	}
	var now struct{ Rev int64 }
	if a.status == http.StatusOK && json.Unmarshal([]byte(a.body), &now) == nil {
		rev = now.Rev
	}
	return rev, a
}

// rev asks for the revision a plan is at.
func (c *client) rev(t *testing.T, id string) int64 {
	t.Helper()
	var now struct{ Rev int64 }
	body := c.must(t, http.StatusOK, "GET", "/api/plans/"+id, "")
	if err := json.Unmarshal([]byte(body), &now); err != nil {
		t.Fatal(err)
	}
	return now.Rev
}

func note(n int64, words string) string {
	return fmt.Sprintf(`{"notes":{"k%d":{"text":%q,"x_ft":%d,"y_ft":1}}}`, n%40, words, n%90)
}
