package circuit_test

import (
	"os"
	"path/filepath"
	"testing"

	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// TestWrittenCircuitsByHandReadBack: so do the circuits of the rules' clean jobs, most of which are written by hand.
func TestWrittenCircuitsByHandReadBack(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "plan", "testdata", "rules", "*", "clean.job.yaml"))
	if err != nil || len(files) < 100 {
		t.Fatalf("got %d jobs (%v)", len(files), err)
	}
	byHand := 0
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		file := job.Read(name, text)
		r := circuit.Make(briefOf(file))
		if len(file.Problems) > 0 || len(r.Mistakes) > 0 {
			continue
		}
		if file.Job.Controls.Circuit.Value == "by hand only" {
			byHand++
		}
		t.Run(filepath.Base(filepath.Dir(name)), func(t *testing.T) { checkRoundTrip(t, r) })
	}
	if byHand < 50 {
		t.Errorf("only %d circuits by hand were written", byHand)
	}
}
