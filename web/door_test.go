package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/coder/websocket"
)

func TestRowB1_OnlyThisMachineCanReachIt(t *testing.T) {
	for _, addr := range []string{
		"0.0.0.0:0", ":0", "[::]:0", "192.168.1.10:0", "10.0.0.1:8740", "example.com:80", "*:0", "127.0.0.1", "127.0.0.1:http", "127.0.0.1:99999",
		"127.0.0.1:-1", "[::ffff:0.0.0.0]:0", "localhost.evil.test:0", "", "0:0", "2130706433:0",
	} {
		if d, err := NewDoor(addr, true); err == nil {
			t.Errorf("%q was opened at %s", addr, d.URL())
			if err := d.Close(); err != nil {
				t.Error(err)
			}
		}
	}
	for _, addr := range []string{"127.0.0.1:0", "localhost:0", "[::1]:0", "127.0.0.2:0"} {
		d, err := NewDoor(addr, false)
		if err != nil {
			t.Errorf("%s: %v", addr, err)
			continue
		}
		for _, l := range d.inner {
			if at := l.Addr().(*net.TCPAddr); !at.IP.IsLoopback() {
				t.Errorf("%s listens at %s", addr, at)
			}
		}
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestRowB1_ABusyPortGivesWayOnlyIfItMay(t *testing.T) {
	first, err := NewDoor("127.0.0.1:0", false)
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	taken := strings.TrimPrefix(first.URL(), "http://")
	if _, err := NewDoor(taken, false); err == nil || !strings.Contains(err.Error(), "taken by another program") {
		t.Errorf("a taken port that was asked for: got %v", err)
	}
	second, err := NewDoor(taken, true)
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	if second.URL() == first.URL() {
		t.Error("both have one address")
	}
	want := []string{fmt.Sprintf("127.0.0.1:%d", second.port), fmt.Sprintf("localhost:%d", second.port), fmt.Sprintf("[::1]:%d", second.port)}
	for _, h := range want {
		if !contains(second.Hosts(), h) {
			t.Errorf("hosts: got %v, want %s in it", second.Hosts(), h)
		}
	}
	if len(second.Hosts()) != len(want) {
		t.Errorf("hosts: got %v, want three", second.Hosts())
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func TestRowB12_EveryLimitIsSet(t *testing.T) {
	srv := server(http.NotFoundHandler(), slog.New(slog.DiscardHandler))
	for _, limit := range []struct {
		name      string
		got, most time.Duration
	}{
		{"header", srv.ReadHeaderTimeout, 10 * time.Second},
		{"read", srv.ReadTimeout, time.Minute},
		{"write", srv.WriteTimeout, time.Minute},
		{"idle", srv.IdleTimeout, 2 * time.Minute},
	} {
		if limit.got <= 0 || limit.got > limit.most {
			t.Errorf("%s timeout: got %v, want at most %v", limit.name, limit.got, limit.most)
		}
	}
	if srv.MaxHeaderBytes <= 0 || srv.MaxHeaderBytes > 64<<10 {
		t.Errorf("header bytes: got %d", srv.MaxHeaderBytes)
	}
	if connsMost+conns6Most > 200 {
		t.Errorf("connections: got %d, want 200 at most", connsMost+conns6Most)
	}
}

// TestRowB12_WhatIsComputedHasLonger leaves no time to take an answer at all:
// only the routes that compute theirs set a time of their own.
func TestRowB12_WhatIsComputedHasLonger(t *testing.T) {
	f := newFixture(t)
	srv := httptest.NewUnstartedServer(f.h)
	srv.Config.WriteTimeout = time.Nanosecond
	srv.Start()
	defer srv.Close()
	f.site.Hosts = []string{srv.Listener.Addr().String()}
	for path, want := range map[string]bool{
		"/": false, "/help": false, "/api/plans/PLAN": false, "/api/plans/PLAN/history": false, "/static/board.js": false,
		"/api/plans/PLAN/board": true, "/api/plans/PLAN/estimate": true, "/api/plans/PLAN/field": true, "/api/plans/PLAN/windy": true, "/api/plans/PLAN/rate?x=1&y=1": true, "/plans/PLAN/files/parts.csv": true,
		"/plans/PLAN/packs/owner.pdf": true, "/plans/PLAN/papers": false,
	} {
		resp, err := srv.Client().Get(srv.URL + strings.ReplaceAll(path, "PLAN", f.plan.ID))
		if err == nil {
			_, err = io.Copy(io.Discard, resp.Body)
			resp.Body.Close()
		}
		if got := err == nil && resp.StatusCode == http.StatusOK; got != want {
			t.Errorf("%s: answered: got %v, want %v (%v)", path, got, want, err)
		}
	}
}

// TestRowB12_HalfOpenConnectionsAreClosed opens connections that never finish a
// header and waits until the server has closed every one, while it goes on
// answering others. The time allowed for a header is shortened.
func TestRowB12_HalfOpenConnectionsAreClosed(t *testing.T) {
	f := newFixture(t)
	srv := server(f.h, slog.New(slog.DiscardHandler))
	srv.ReadHeaderTimeout, srv.ReadTimeout = 100*time.Millisecond, 200*time.Millisecond
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	f.site.Hosts = []string{l.Addr().String()}
	served := make(chan error, 1)
	go func() { served <- srv.Serve(l) }()
	defer func() {
		if err := srv.Close(); err != nil {
			t.Error(err)
		}
		if err := <-served; !errors.Is(err, http.ErrServerClosed) {
			t.Error(err)
		}
	}()
	var open []net.Conn
	for i := range 60 {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		started := []string{"", "GET / HTTP/1.1\r\nHost: ", "PATCH /api/plans/x HTTP/1.1\r\nHost: " + l.Addr().String() + "\r\nContent-Length: 100\r\n\r\n{"}[i%3]
		if _, err := io.WriteString(c, started); err != nil {
			t.Fatal(err)
		}
		open = append(open, c)
	}
	if status, _ := raw(t, l.Addr().String(), "GET /help HTTP/1.1\r\nHost: "+l.Addr().String()+"\r\nConnection: close\r\n\r\n"); status != http.StatusOK {
		t.Errorf("another client meanwhile: got %d, want 200", status)
	}
	for i, c := range open {
		if err := c.SetReadDeadline(time.Now().Add(30 * time.Second)); err != nil { // a guard, not a measure
			t.Fatal(err)
		}
		if _, err := io.Copy(io.Discard, c); errors.Is(err, context.DeadlineExceeded) || isTimeout(err) {
			t.Errorf("connection %d is still open", i)
		}
	}
}

func isTimeout(err error) bool {
	var n net.Error
	return errors.As(err, &n) && n.Timeout()
}

// serving serves the fixture at a door of its own and returns how to stop it.
func (f *fixture) serving() (at string, stop func() error) {
	f.t.Helper()
	d, err := NewDoor("127.0.0.1:0", false)
	if err != nil {
		f.t.Fatal(err)
	}
	f.site.Hosts = d.Hosts()
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- f.site.Serve(ctx, d) }()
	var once sync.Once
	stop = func() (err error) {
		once.Do(func() {
			cancel()
			err = <-done
		})
		return err
	}
	f.t.Cleanup(func() {
		if err := stop(); err != nil {
			f.t.Error(err)
		}
	})
	return d.Hosts()[0], stop
}

// thorough, when set in the environment, makes tests that repeat themselves do
// so more often.
const thorough = "EVENFALL_THOROUGH"

// TestRowB13_StoppingUnderLoadLosesNothingAcknowledged stops the server while
// clients store steps as fast as they can; what they were told is saved is. It
// does so 5 times, with EVENFALL_THOROUGH=1 in the environment 50 times.
func TestRowB13_StoppingUnderLoadLosesNothingAcknowledged(t *testing.T) {
	rounds := 5
	if os.Getenv(thorough) != "" {
		rounds = 50
	}
	for round := range rounds {
		f := newFixture(t)
		at, stop := f.serving()
		url := "http://" + at
		acked := make(chan int64, 1)
		ready := make(chan struct{})
		go func() {
			rev := int64(1)
			defer func() { acked <- rev }()
			for {
				req, err := http.NewRequest("PATCH", url+"/api/plans/"+f.plan.ID, strings.NewReader(fmt.Sprintf(`{"heads":{"h1":{"x_ft":%d}}}`, rev%9+1)))
				if err != nil {
					return
				}
				req.Header.Set("Content-Type", "application/merge-patch+json")
				req.Header.Set("If-Match", tag(rev))
				resp, err := http.DefaultClient.Do(req)
				if err != nil {
					return
				}
				_, err = io.Copy(io.Discard, resp.Body)
				resp.Body.Close()
				if resp.StatusCode != http.StatusOK || err != nil {
					return
				}
				rev++
				if rev == int64(10+round) {
					close(ready)
				}
			}
		}()
		<-ready
		if err := stop(); err != nil {
			t.Fatal(err)
		}
		if got, want := f.now().Rev, <-acked; got < want {
			t.Errorf("round %d: got revision %d, want at least %d", round, got, want)
		}
		http.DefaultClient.CloseIdleConnections()
	}
}

func TestRowB13_OpenPagesAreToldThatItStops(t *testing.T) {
	f := newFixture(t)
	at, stop := f.serving()
	c := f.dial(at)
	if got := readText(t, c); got != `{"rev":1}` {
		t.Errorf("first message: got %s", got)
	}
	stopped := make(chan error, 1)
	go func() { stopped <- stop() }()
	if got := readText(t, c); got != `{"bye":true}` {
		t.Errorf("on stopping: got %s, want bye", got)
	}
	if _, _, err := c.Read(t.Context()); websocket.CloseStatus(err) != websocket.StatusGoingAway {
		t.Errorf("after bye: got %v, want going away", err)
	}
	if err := <-stopped; err != nil {
		t.Error(err)
	}
	if _, err := net.Dial("tcp", at); err == nil {
		t.Error("it still takes connections")
	}
}
