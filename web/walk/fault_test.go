//go:build browser

package walk

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"sync"
	"sync/atomic"
	"testing"
)

// What happens to the answer of a step.
const (
	passes int32 = iota
	kept         // it waits until released
	lost         // the step is stored, but the connection breaks before the answer
	full         // the step is not passed on: the answer is that of a full disk
)

// faults stands between the browser and the program and keeps answers back.
type faults struct {
	url     string
	mode    atomic.Int32
	stored  atomic.Int32 // steps the program has answered with 2xx
	waiting atomic.Int32 // answers held now
	sockets atomic.Int32 // live channels open now
	mu      sync.Mutex
	release chan struct{}
}

var errLost = errors.New("the answer is lost on purpose")

// startFaults puts a proxy before the program. The program only answers to its
// own name, so what comes in is given its Host and Origin.
func startFaults(t *testing.T, prog *program) *faults {
	t.Helper()
	to, err := url.Parse(prog.url)
	if err != nil {
		t.Fatal(err)
	}
	f := &faults{release: make(chan struct{})}
	proxy := &httputil.ReverseProxy{
		Rewrite: func(r *httputil.ProxyRequest) {
			r.SetURL(to)
			r.Out.Host = to.Host
			if r.In.Header.Get("Origin") != "" {
				r.Out.Header.Set("Origin", prog.url)
			}
		},
		ModifyResponse: f.answer,
		ErrorHandler: func(http.ResponseWriter, *http.Request, error) {
			panic(http.ErrAbortHandler) // to the browser: the connection broke
		},
	}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("Upgrade") != "" {
			f.sockets.Add(1)
			defer f.sockets.Add(-1)
		}
		if r.Method == http.MethodPatch && f.mode.Load() == full {
			w.Header().Set("Content-Type", "application/json; charset=utf-8")
			w.WriteHeader(http.StatusInsufficientStorage)
			io.WriteString(w, `{"error":"The disk is full, so the change was not saved; free some space and it will be tried again."}`)
			return
		}
		proxy.ServeHTTP(w, r)
	}))
	f.url = server.URL
	t.Cleanup(func() {
		f.let(passes)
		server.CloseClientConnections()
		server.Close()
	})
	return f
}

func (f *faults) answer(r *http.Response) error {
	if r.Request.Method != http.MethodPatch {
		return nil
	}
	if r.StatusCode/100 == 2 {
		f.stored.Add(1)
	}
	switch f.mode.Load() {
	case kept:
		f.mu.Lock()
		release := f.release
		f.mu.Unlock()
		f.waiting.Add(1)
		defer f.waiting.Add(-1)
		select {
		case <-release:
		case <-r.Request.Context().Done():
			return context.Cause(r.Request.Context())
		}
	case lost:
		return errLost
	}
	return nil
}

// let sets what happens from now on and lets go of what was held.
func (f *faults) let(mode int32) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.mode.Store(mode)
	close(f.release)
	f.release = make(chan struct{})
}
