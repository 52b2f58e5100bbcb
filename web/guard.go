package web

import (
	"fmt"
	"net/http"
	"net/url"
	"runtime/debug"
	"slices"
	"strings"
)

// contentPolicy lets a page load and run only what this program itself serves,
// and nothing written into the page. Trusted Types closes the ways a script
// could turn text into markup.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; " +
	"connect-src 'self'; font-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; " +
	"require-trusted-types-for 'script'"

// filePolicy is for what is handed out as a file: opened in a browser it may do
// nothing at all.
const filePolicy = "default-src 'none'; sandbox"

// guard stands before every route, whether it exists or not.
//
// The Host value must be one of ours exactly: a page on the internet can have
// its own name resolve to this machine and is then, to the browser, at home
// here, with matching Origin; only its Host gives it away. Requests that write
// are checked by http.CrossOriginProtection; requests that read our data by
// Sec-Fetch-Site.
func (s *Site) guard(next http.Handler) http.Handler {
	crossOrigin := http.NewCrossOriginProtection()
	crossOrigin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { s.fail(w, r, errOtherSite) }))
	inner := crossOrigin.Handler(next)
	return s.catch(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		setHeaders(w.Header())
		if err := s.admit(r); err != nil {
			s.fail(w, r, err)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostOf(r))
		inner.ServeHTTP(w, r)
	}))
}

func setHeaders(h http.Header) {
	h.Set("Content-Security-Policy", contentPolicy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Cache-Control", "no-store")
}

// admit says why a request is turned away at the gate, nil when it is not.
func (s *Site) admit(r *http.Request) error {
	if !slices.Contains(s.Hosts, r.Host) {
		return errHost
	}
	if o := r.Header.Get("Origin"); o != "" && !s.ownOrigin(o) {
		return errOtherSite
	}
	if reads(r.Method) && isData(r) {
		if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" && site != "none" {
			return errOtherSite
		}
	}
	if r.Header.Get("Content-Encoding") != "" {
		return errEncoding
	}
	return nil
}

// ownOrigin reports whether an Origin header names this site. Browsers send one
// with writes and with the opening of a WebSocket.
func (s *Site) ownOrigin(origin string) bool {
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == "http" && slices.Contains(s.Hosts, u.Host) && origin == "http://"+u.Host
}

func reads(method string) bool { return method == http.MethodGet || method == http.MethodHead }

// isData reports whether a request asks for data rather than for a page a user
// may come to from anywhere.
func isData(r *http.Request) bool {
	return isAPI(r) || strings.HasPrefix(r.URL.Path, "/plans/") &&
		(strings.Contains(r.URL.Path, "/files/") || strings.Contains(r.URL.Path, "/packs/") || strings.HasSuffix(r.URL.Path, "/handover"))
}

// isAPI reports whether the answer is read by a program, so that errors come as
// JSON.
func isAPI(r *http.Request) bool {
	return strings.HasPrefix(r.URL.Path, "/api/") || strings.HasPrefix(r.URL.Path, "/schema/")
}

// mostOf is how many bytes the body of a request may have, whoever it is for.
func mostOf(r *http.Request) int64 {
	if r.URL.Path == handoverPath {
		return handoverMost
	}
	return bodyMost
}

// catch turns a fault of the program into an answer with a number that the log
// has too. What was acknowledged before is on disk whatever happens here.
func (s *Site) catch(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			fault := recover()
			if fault == nil {
				return
			}
			if fault == http.ErrAbortHandler { // the server asks for this very value
				panic(fault)
			}
			s.fault(w, r, fmt.Errorf("panic: %v\n%s", fault, debug.Stack()))
		}()
		next.ServeHTTP(w, r)
	})
}
