package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"strconv"
	"syscall"
	"time"

	"evenfall/internal/drawing"
	"evenfall/internal/handover"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
)

// The kind of a file that is handed over, and what else browsers call it.
const zipKind = "application/zip"

var zipKinds = []string{zipKind, "application/x-zip-compressed", "application/octet-stream"}

// What a file that is handed over may hold, and how long it may take to send or to make.
// It is kept on the disk meanwhile, never whole in memory.
const (
	handoverMost = handover.MaxBytes
	handoverTime = 10 * time.Minute
	handoverPath = "/api/import/handover"
)

// handOver hands out a plan with its pictures and the owner's papers as one file.
func (s *Site) handOver(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.takeTime(w, r)
	book, err := s.ownersBook(r.Context(), q)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	f, drop, err := scratch()
	if err != nil {
		s.fail(w, r, err)
		return
	}
	defer drop()
	// What is missing the file says itself: a plan is handed over with what there is.
	if _, err := handover.Write(r.Context(), &bounded{f, handoverMost}, q.p, s.pictureAtHand(r.Context()), []handover.File{book}); err != nil {
		s.fail(w, r, diskFull(err))
		return
	}
	size, err := f.Seek(0, io.SeekCurrent)
	if err == nil {
		_, err = f.Seek(0, io.SeekStart)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	h := w.Header()
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("Content-Type", zipKind)
	h.Set("Content-Disposition", `attachment; filename="`+slug(q.p.Name)+`-handover.zip"`)
	h.Set("Content-Length", strconv.FormatInt(size, 10))
	if r.Method == http.MethodHead {
		return
	}
	if _, err := io.Copy(w, f); err != nil {
		s.Log.Debug("answer not taken", "path", r.URL.Path, "error", err)
	}
}

// takeTime gives a request the time that a large file takes, both ways.
func (s *Site) takeTime(w http.ResponseWriter, r *http.Request) {
	c, until := http.NewResponseController(w), time.Now().Add(handoverTime)
	if err := errors.Join(c.SetReadDeadline(until), c.SetWriteDeadline(until)); err != nil && !errors.Is(err, http.ErrNotSupported) {
		s.Log.Warn("no time for a large file", "path", r.URL.Path, "error", err) // the connection is gone, then
	}
}

// ownersBook is the owner's papers as they are handed over, of today.
func (s *Site) ownersBook(ctx context.Context, q question) (handover.File, error) {
	asked := packs.Asked{
		Kind: packs.Owner, Paper: packs.UsualPaper(q.p.Show), Date: s.Now().Format(time.DateOnly), Revision: strconv.FormatInt(q.rev, 10),
	}
	paper := paperQuestion{q, paperKey{q.rev, asked}}
	made, err := s.madeNow(ctx, paper)
	if err != nil {
		return handover.File{}, err
	}
	var b bytes.Buffer
	err = s.within(ctx, computeMost, []chan struct{}{s.cores}, func(context.Context) error {
		return drawing.WritePDF(&b, made.Document, asked.Date)
	})
	return handover.File{Name: paper.file(), Bytes: b.Bytes()}, err
}

// pictureAtHand finds pictures for a file that is handed over. One that is damaged is as
// good as missing: the rest is to be had all the same.
func (s *Site) pictureAtHand(ctx context.Context) handover.Pictures {
	return func(sum string) (string, []byte, error) {
		kind, b, err := s.Plans.Blob(ctx, sum)
		if errors.Is(err, plan.ErrNoPicture) || errors.Is(err, plan.ErrPictureDamaged) {
			err = handover.ErrNoPicture
		}
		return kind, b, err
	}
}

// openHandedOver makes a new plan of a file that was handed over, with its pictures. Each
// is looked at as one that is sent by itself; one that is not taken is left out and told.
func (s *Site) openHandedOver(w http.ResponseWriter, r *http.Request) {
	s.takeTime(w, r)
	if err := body(w, r, handoverMost, zipKinds...); err != nil {
		s.fail(w, r, err)
		return
	}
	f, drop, err := scratch()
	if err != nil {
		s.fail(w, r, err)
		return
	}
	defer drop()
	size, err := io.Copy(f, r.Body)
	if err != nil {
		s.fail(w, r, diskFull(err))
		return
	}
	opened, err := handover.Open(f, size)
	var no *handover.Refused
	if errors.As(err, &no) {
		err = refuse(http.StatusUnprocessableEntity, "%s", no.Sentence)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	notes := orEmpty(opened.Notes)
	for _, sum := range opened.Plan.Pictures() {
		note, err := s.keepHandedOver(r.Context(), opened, sum)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		if note != "" {
			notes = append(notes, note)
		}
	}
	made, err := s.Plans.Create(r.Context(), opened.Plan.Encode())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("Location", "/plans/"+made.ID)
	s.reply(w, r, http.StatusCreated, map[string]any{"id": made.ID, "name": opened.Plan.Name, "notes": notes})
}

// keepHandedOver keeps one picture of a file, or says in a sentence why it was left out.
func (s *Site) keepHandedOver(ctx context.Context, opened *handover.Opened, sum string) (note string, err error) {
	kind, b, err := opened.Picture(sum)
	var no *handover.Refused
	switch {
	case errors.Is(err, handover.ErrNoPicture):
		return "", nil // Notes of the file has it
	case errors.As(err, &no):
		return no.Sentence, nil
	case err != nil:
		return "", err
	}
	if is := sniff(b); is != kind {
		return "The picture " + sum[:8] + "… is not of the kind that the file says it is, and was left out.", nil
	}
	if err := checkPicture(kind, b); err != nil {
		var refused *refusal
		if !errors.As(err, &refused) {
			return "", err
		}
		return "The picture " + sum[:8] + "… was left out. " + refused.sentence, nil
	}
	_, err = s.Plans.PutBlob(ctx, kind, b)
	return "", err
}

// bounded is a file that is handed over while it is written: it ends where none of the
// kind would be opened again.
type bounded struct {
	f    io.Writer
	left int64
}

func (b *bounded) Write(p []byte) (int, error) {
	if b.left -= int64(len(p)); b.left < 0 {
		return 0, errHandoverLarge
	}
	return b.f.Write(p)
}

var errHandoverLarge = refuse(http.StatusUnprocessableEntity,
	"The pictures of this plan come to more than the %d MiB that one file may have. Take photographs away, or save the one to trace over smaller.", handoverMost>>20)

// diskFull says of an error of writing that the disk is full, where that is it.
func diskFull(err error) error {
	if errors.Is(err, syscall.ENOSPC) {
		return errNoScratch
	}
	return err
}

var errNoScratch = refuse(http.StatusInsufficientStorage, "The disk has no room to work in for so large a file. Free some space and try again; nothing was changed.")

// scratch is a file of this moment, for who runs the program alone, and how to be rid of it.
func scratch() (f *os.File, drop func(), err error) {
	f, err = os.CreateTemp("", "evenfall-*")
	if err != nil {
		return nil, nil, fmt.Errorf("web: a file to work in: %w", err)
	}
	return f, func() {
		// What cannot be closed or removed is the system's to clear away.
		_ = f.Close()
		_ = os.Remove(f.Name())
	}, nil
}
