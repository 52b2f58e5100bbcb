package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"time"
)

// soakClient speaks to the program as a page does.
type soakClient struct {
	url  string
	http http.Client
}

func newSoakClient(url string) *soakClient {
	return &soakClient{url: url, http: http.Client{Timeout: 90 * time.Second, Transport: &http.Transport{}}}
}

// said is an answer; status 0 is none.
type said struct {
	status int
	body   []byte
}

func (a said) ok() bool { return a.status/100 == 2 }

// held is a plan in an answer.
type held struct {
	ID   string          `json:"id"`
	Rev  int64           `json:"rev"`
	Undo string          `json:"undo"`
	Doc  json.RawMessage `json:"doc"`
}

func (a said) held() (h held, err error) {
	err = json.Unmarshal(a.body, &h)
	return h, err
}

// ask sends a request; a revision of 0 is none.
func (c *soakClient) ask(method, path, kind string, body []byte, rev int64, label string) said {
	req, err := http.NewRequest(method, c.url+path, bytes.NewReader(body))
	if err != nil {
		panic(err) // of our own making
	}
	if kind != "" {
		req.Header.Set("Content-Type", kind)
	}
	if rev > 0 {
		req.Header.Set("If-Match", fmt.Sprintf(`"%d"`, rev))
	}
	if label != "" {
		req.Header.Set("Evenfall-Label", url.PathEscape(label))
	}
	resp, err := c.http.Do(req)
	if err != nil {
		return said{}
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		return said{} // half an answer is none
	}
	return said{resp.StatusCode, b}
}

func (c *soakClient) get(path string) said { return c.ask("GET", path, "", nil, 0, "") }

func (c *soakClient) post(path string, rev int64, v any) said {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return c.ask("POST", path, "application/json", b, rev, "")
}

// make makes a plan from a document.
func (c *soakClient) make(name string, doc []byte) (id string, err error) {
	a := c.post("/api/plans", 0, map[string]any{"name": name, "doc": json.RawMessage(doc)})
	if !a.ok() {
		return "", fmt.Errorf("making a plan: %d %s", a.status, a.body)
	}
	h, err := a.held()
	return h.ID, err
}

// histLine is a step in a history.
type histLine struct {
	Number int64  `json:"number"`
	Rev    int64  `json:"rev"`
	Label  string `json:"label"`
	Undone bool   `json:"undone"`
}

// history reads the whole history of a plan, oldest first.
func (c *soakClient) history(id string) ([]histLine, error) {
	var all []histLine
	path := "/api/plans/" + id + "/history"
	for {
		a := c.get(path)
		if !a.ok() {
			return nil, fmt.Errorf("the history of %s: %d %s", id, a.status, a.body)
		}
		var page struct {
			Steps []histLine `json:"steps"`
			Older bool       `json:"older"`
		}
		if err := json.Unmarshal(a.body, &page); err != nil {
			return nil, err
		}
		all = append(page.Steps, all...)
		if !page.Older || len(page.Steps) == 0 {
			return all, nil
		}
		path = fmt.Sprintf("/api/plans/%s/history?before=%d", id, page.Steps[0].Number)
	}
}
