package web

import (
	"io"
	"mime"
	"net/http"
	"slices"
	"strings"
	"time"
)

// The most a request body may hold, in bytes.
const (
	planMost    = 16 << 20 // a plan or a patch of one
	geoJSONMost = 20 << 20
	csvMost     = 1 << 20
	smallMost   = 64 << 10 // anything else
	bodyMost    = geoJSONMost
)

// computeMost is how long one computation may take.
const computeMost = 60 * time.Second

// body checks the kind of a request's body and limits its size. An empty body
// needs no kind. The kinds are all such that another site's page cannot send
// them without asking first.
func body(w http.ResponseWriter, r *http.Request, most int64, kinds ...string) error {
	said := r.Header.Get("Content-Type")
	if said != "" || r.ContentLength != 0 {
		kind, _, err := mime.ParseMediaType(said)
		if err != nil || !slices.Contains(kinds, kind) {
			return refuse(http.StatusUnsupportedMediaType, "This address takes %s, and the request says it sends %s.",
				strings.Join(kinds, " or "), orNothing(said))
		}
	}
	if r.ContentLength > most {
		return tooLarge(most)
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	return nil
}

// sent is a file of the user's that is the whole body of a request, read within the limits
// of body.
func sent(w http.ResponseWriter, r *http.Request, most int64, kinds ...string) ([]byte, error) {
	if err := body(w, r, most, kinds...); err != nil {
		return nil, err
	}
	return io.ReadAll(r.Body)
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return "“" + s + "”"
}

func tooLarge(most int64) error {
	if most < 1<<20 {
		return refuse(http.StatusRequestEntityTooLarge, "The request is larger than the %d KiB allowed here. Send less at a time.", most>>10)
	}
	return refuse(http.StatusRequestEntityTooLarge, "The file is larger than the %d MiB allowed here. Split it, or leave out what is not needed.", most>>20)
}
