package box

import (
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// A plate that is larger than its box goes into none: 600 × 500 mm outside, 1.5 mm walls, so that 597 × 497 mm lie between them.
func TestAPlateMustGoIntoItsBox(t *testing.T) {
	mm := func(x float64) explain.Known[quantity.Length] {
		return explain.Constant("size", quantity.Length(x/1000), explain.Source{})
	}
	b := Brief{Job: &job.Job{}, Set: explain.IEC}
	for _, c := range []struct {
		high, wide float64
		goes       bool
	}{{550, 450, true}, {597, 497, true}, {598, 450, false}, {550, 760, false}} {
		r := Room{Name: "own", Height: mm(600), Width: mm(500), Depth: mm(250), PlateHeight: mm(c.high), PlateWidth: mm(c.wide), Before: mm(200)}
		if why := b.plainBound(&r); strings.Contains(why, "doesn't go into it") == c.goes {
			t.Errorf("a plate of %g × %g mm: %q", c.high, c.wide, why)
		}
	}
}
