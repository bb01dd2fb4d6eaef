package metalwork

import (
	"testing"

	"drivewright/internal/base/explain/exampletest"
)

// TestPublishedExamples holds the formulas of bolts and fits to figures published elsewhere.
func TestPublishedExamples(t *testing.T) {
	count := exampletest.Run(t, "testdata/examples", Formulas())
	if count.Points < 20 || count.Examples < 10 {
		t.Errorf("got %d examples and %d points, want 10 and 20 at least", count.Examples, count.Points)
	}
}
