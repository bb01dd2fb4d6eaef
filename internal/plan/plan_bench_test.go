package plan_test

import (
	"io/fs"
	"testing"

	"drivewright/examples"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
)

// BenchmarkRecompute reads an example job and derives its whole plan: what a changed value costs before it is printed.
func BenchmarkRecompute(b *testing.B) {
	names, err := fs.Glob(examples.Files, "*.job.yaml")
	if err != nil || len(names) == 0 {
		b.Fatal("no examples", err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				plan.Make(job.Read(name, text))
			}
		})
	}
}
