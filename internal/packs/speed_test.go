package packs

import (
	"context"
	"io"
	"syscall"
	"testing"

	"evenfall/internal/drawing"
)

// BenchmarkPack makes each pack of a yard of 100 heads and writes it as PDF; the
// office's with one installation for its field estimate, which is a step of its own
// with its progress. cpu-s is the time of the processor for one, which other work on
// the machine does not lengthen as much.
func BenchmarkPack(b *testing.B) {
	in := designed(b, hundredHeads())
	for _, kind := range []Kind{Crew, Owner, Office} {
		b.Run(string(kind), func(b *testing.B) {
			pages := 0
			before := processor(b)
			for b.Loop() {
				made, err := Make(context.Background(), in, Asked{Kind: kind, Paper: Letter, Draws: 1}, nil)
				if err != nil {
					b.Fatal(err)
				}
				if err := drawing.WritePDF(io.Discard, made.Document, ""); err != nil {
					b.Fatal(err)
				}
				pages = len(made.Document.Pages)
			}
			b.ReportMetric((processor(b)-before)/float64(b.N), "cpu-s")
			b.ReportMetric(float64(pages), "pages")
		})
	}
}

// processor is the time of the processor this process has had, in seconds.
func processor(b *testing.B) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	s := func(t syscall.Timeval) float64 { return float64(t.Sec) + float64(t.Usec)/1e6 }
	return s(u.Utime) + s(u.Stime)
}
