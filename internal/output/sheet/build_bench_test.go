package sheet

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

// BenchmarkBuildProved lays out the largest example with its proof, and writes its pages: what the live sheet does at a change
// whose circuit has been proved already.
func BenchmarkBuildProved(b *testing.B) {
	src, err := os.ReadFile(filepath.Join("..", "..", "..", "examples", "engine-lathe.job.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	p := plan.Make(job.Read("engine-lathe.job.yaml", src))
	p.Prove()
	p.Arrange(box.Options{Quick: true})
	b.Run("build", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Build(p, Options{})
		}
	})
	d := Build(p, Options{})
	b.Run("live page", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := HTMLParts(d, LivePage); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("text", func(b *testing.B) {
		for b.Loop() {
			if err := WriteText(io.Discard, d, 100, false); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("pdf", func(b *testing.B) {
		for b.Loop() {
			if err := WritePDF(io.Discard, d); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("templates", func(b *testing.B) { // all faces of the box, marked out and on their pages
		for b.Loop() {
			var kept Document
			whole := Build(p, Options{})
			for _, face := range p.Marked.Sheets {
				part := Part(whole, FaceID(face.Name), nil)
				kept = part
				if err := WritePDF(io.Discard, part); err != nil {
					b.Fatal(err)
				}
			}
			if len(kept.Sections) == 0 {
				b.Fatal("no face is marked out")
			}
		}
	})
}
