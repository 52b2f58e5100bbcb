package web

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strconv"
	"syscall"
	"time"

	"golang.org/x/net/netutil"
)

// DefaultPort is the port served at unless another is asked for.
const DefaultPort = 8740

// The limits of time, size and number that a client is held to.
const (
	headerTime = 5 * time.Second  // to send the header of a request
	readTime   = 30 * time.Second // to send all of it
	writeTime  = 60 * time.Second // to take the answer, once it need not be computed
	idleTime   = 2 * time.Minute
	headerMost = 64 << 10 // bytes
	connsMost  = 150      // at 127.0.0.1
	conns6Most = 50       // at ::1
)

// stopTime is how long requests under way may take to finish when the server
// stops.
const stopTime = 5 * time.Second

// Door is where the site is served: this machine only.
type Door struct {
	port  int
	inner []net.Listener
}

// NewDoor opens an address such as "127.0.0.1:8740". The host must be this
// machine's own; port 0 takes any free one. When the port is taken and another
// will do, any free one is taken. It listens at ::1 too where there is one, so
// that "localhost" leads here in every browser.
func NewDoor(addr string, anotherWillDo bool) (*Door, error) {
	host, port, err := loopback(addr)
	if err != nil {
		return nil, err
	}
	l, err := net.Listen("tcp4", net.JoinHostPort(host, port))
	if err != nil && anotherWillDo {
		l, err = net.Listen("tcp4", net.JoinHostPort(host, "0"))
	}
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, fmt.Errorf("port %s is taken by another program; choose another with --addr, or leave --addr out", port)
	}
	if err != nil {
		return nil, fmt.Errorf("the address %s cannot be opened: %w", addr, err)
	}
	at, ok := l.Addr().(*net.TCPAddr)
	if !ok {
		return nil, errors.Join(fmt.Errorf("web: listening at %v", l.Addr()), l.Close())
	}
	d := &Door{port: at.Port, inner: []net.Listener{netutil.LimitListener(l, connsMost)}}
	if six, err := net.Listen("tcp6", net.JoinHostPort("::1", strconv.Itoa(at.Port))); err == nil {
		d.inner = append(d.inner, netutil.LimitListener(six, conns6Most))
	} // else this machine has no IPv6, or somebody has that port of it: 127.0.0.1 is enough
	return d, nil
}

// loopback splits an address and refuses one that other machines can reach.
func loopback(addr string) (host, port string, err error) {
	host, port, err = net.SplitHostPort(addr)
	if err != nil {
		return "", "", fmt.Errorf("--addr %q is not an address; write it as 127.0.0.1:%d", addr, DefaultPort)
	}
	if n, err := strconv.ParseUint(port, 10, 16); err != nil {
		return "", "", fmt.Errorf("--addr %q has no port between 0 and 65535", addr)
	} else {
		port = strconv.FormatUint(n, 10)
	}
	if host == "localhost" || host == "::1" {
		host = "127.0.0.1"
	}
	ip, err := netip.ParseAddr(host)
	if err != nil || !ip.Is4() || !ip.IsLoopback() {
		return "", "", fmt.Errorf("--addr %q could be reached from other machines, and Evenfall has no passwords; use 127.0.0.1", addr)
	}
	return host, port, nil
}

// URL is the address to open in a browser.
func (d *Door) URL() string { return "http://" + d.Hosts()[0] }

// Hosts are the Host values of requests that mean this server.
func (d *Door) Hosts() []string {
	hosts := []string{}
	for _, l := range d.inner {
		hosts = append(hosts, l.Addr().String())
	}
	for _, name := range []string{"127.0.0.1", "localhost", "::1"} {
		if h := net.JoinHostPort(name, strconv.Itoa(d.port)); !slices.Contains(hosts, h) {
			hosts = append(hosts, h)
		}
	}
	if d.port == 80 { // browsers leave this one out
		hosts = append(hosts, "127.0.0.1", "localhost", "[::1]")
	}
	return hosts
}

// Close gives the address up without having served.
func (d *Door) Close() error {
	var err error
	for _, l := range d.inner {
		err = errors.Join(err, l.Close())
	}
	return err
}

// server is an HTTP server with every limit set.
func server(h http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       readTime,
		WriteTimeout:      writeTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    headerMost,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
}

// computed gives the answers of a route, which are computed first, the time for
// that besides the time to take them.
func (s *Site) computed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := http.NewResponseController(w).SetWriteDeadline(time.Now().Add(computeMost + writeTime))
		if err != nil && !errors.Is(err, http.ErrNotSupported) {
			s.Log.Warn("no time to compute", "error", err) // the connection is gone, then
		}
		next.ServeHTTP(w, r)
	})
}

// Serve serves the site at the door until ctx ends. It then stops taking
// requests, stops computations, tells the open pages, lets stores under way
// finish, and returns nil.
func (s *Site) Serve(ctx context.Context, d *Door) error {
	srv := server(s.Handler(), s.Log)
	failed := make(chan error, len(d.inner))
	for _, l := range d.inner {
		go func() { failed <- srv.Serve(l) }()
	}
	var err error
	select {
	case err = <-failed: // before it was asked to: an address was lost
	case <-ctx.Done():
	}
	stopping, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	s.end()
	if down := srv.Shutdown(stopping); down != nil {
		s.Log.Warn("requests were cut off", "error", down)
		err = errors.Join(err, srv.Close())
	}
	if open := s.wait(stopping); open != nil {
		s.Log.Warn("channels were cut off", "error", open)
	}
	return err
}
