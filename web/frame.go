package web

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"evenfall/internal/geom"
)

// frameMagic opens every frame; on the wire it reads EVF1.
const frameMagic = 0x31465645

// frameHead is the size of a frame's header in bytes.
const frameHead = 24

// shown is what a page has been sent so far.
type shown struct {
	frame geom.Frame
	cells []byte // row 0 is the southernmost
	words []byte // JSON of Board
}

// next makes the message that takes the page from what it shows to a picture:
//
//	 0 u32 magic   4 u32 rev   8 u32 seq
//	12 u16 x      14 u16 y    16 u16 w    18 u16 h   changed cells
//	20 u32 length of the JSON
//	24 JSON: of Board, by wordsSince; then w*h map bytes, southernmost row first
//
// all little-endian. Words and rectangle are what differs from what was sent last,
// whatever was computed in between, so frames may be lost before here but never
// after.
func (s *shown) next(pic picture, rev int64, seq uint32) ([]byte, error) {
	g := pic.frame
	if g.NX < 0 || g.NY < 0 || g.NX > math.MaxUint16 || g.NY > math.MaxUint16 {
		return nil, fmt.Errorf("web: a map of %d by %d cells does not fit a frame", g.NX, g.NY)
	}
	view := newBoard(pic, rev)
	view.Seq = seq
	words, err := json.Marshal(view)
	if err != nil {
		return nil, fmt.Errorf("web: board: %w", err)
	}
	change, err := wordsSince(s.words, words)
	if err != nil {
		return nil, fmt.Errorf("web: what changed of the board: %w", err)
	}
	cells := pic.cells()
	r := area{0, 0, g.NX, g.NY}
	if s.cells != nil && s.frame == g {
		r = differs(s.cells, cells, g.NX)
	}
	s.frame, s.cells, s.words = g, cells, words

	b := make([]byte, 0, frameHead+len(change)+r.w*r.h)
	b = binary.LittleEndian.AppendUint32(b, frameMagic)
	b = binary.LittleEndian.AppendUint32(b, uint32(rev)) // 4 billion steps are out of reach
	b = binary.LittleEndian.AppendUint32(b, seq)
	for _, n := range []int{r.x, r.y, r.w, r.h} {
		b = binary.LittleEndian.AppendUint16(b, uint16(n)) // bounded by the frame above
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(len(change))) // far below 4 GiB
	b = append(b, change...)
	for y := r.y; y < r.y+r.h; y++ {
		b = append(b, cells[y*g.NX+r.x:][:r.w]...)
	}
	return b, nil
}

// area is a rectangle of cells.
type area struct{ x, y, w, h int }

// differs returns the smallest rectangle that holds every cell in which two maps
// of nx columns differ; it is empty when they are the same.
func differs(a, b []byte, nx int) area {
	x0, x1, y0, y1 := nx, 0, -1, -1
	for y := 0; (y+1)*nx <= len(a) && nx > 0; y++ {
		p, q := a[y*nx:][:nx], b[y*nx:][:nx]
		if bytes.Equal(p, q) {
			continue
		}
		if y0 < 0 {
			y0 = y
		}
		y1 = y + 1
		for x := 0; x < x0; x++ {
			if p[x] != q[x] {
				x0 = x
			}
		}
		for x := nx; x > x1; x-- {
			if p[x-1] != q[x-1] {
				x1 = x
			}
		}
	}
	if y0 < 0 {
		return area{}
	}
	return area{x0, y0, x1 - x0, y1 - y0}
}
