package circuit

import (
	"testing"

	"drivewright/internal/base/explain/exampletest"
)

// TestPublishedExamples runs every published figure under testdata/examples against the formulas that the stage uses. The
// least counts keep a lost file from passing unnoticed.
func TestPublishedExamples(t *testing.T) {
	count := exampletest.Run(t, "testdata/examples", Formulas())
	t.Logf("%d worked examples, %d table points", count.Examples, count.Points)
	if count.Examples < 18 || count.Points < 11 {
		t.Errorf("got %d worked examples and %d table points, want at least 18 and 11", count.Examples, count.Points)
	}
}
