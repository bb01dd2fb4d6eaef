package drawing

import (
	"math"
	"testing"
)

// TestPatternKeepsItsShape: on the figure the holes' distances are the pattern's, all in one scale, up is up, and nothing but an arrow's tip may
// come nearer to the edge than a name needs.
func TestPatternKeepsItsShape(t *testing.T) {
	p := Pattern{ID: "p", Holes: []PatternHole{{Name: "A", Across: 8, OffX: .05, OffY: .03}, {Name: "B", X: 120, Across: 8, PullX: 5, PullY: -100}, {Name: "C", X: 40, Y: 90, Across: 12, Words: "440 N"}},
		Readings: []PatternReading{{0, 1, "120.0 mm", false, false}, {1, 2, "123 mm", true, false}}}
	f := DrawPattern(p, 120)
	var middles []Point
	for _, i := range f.Items {
		if c, ok := i.(Circle); ok {
			middles = append(middles, c.Centre)
		}
	}
	if len(middles) != 3 {
		t.Fatalf("got %d holes", len(middles))
	}
	scale := 0.0
	for i := range middles {
		for k := range i {
			got := math.Hypot(middles[i].X-middles[k].X, middles[i].Y-middles[k].Y) / math.Hypot(p.Holes[i].X-p.Holes[k].X, p.Holes[i].Y-p.Holes[k].Y)
			if scale != 0 && math.Abs(got-scale) > 1e-9 {
				t.Errorf("scale %v and %v in one figure", got, scale)
			}
			scale = got
		}
	}
	if middles[2].Y >= middles[0].Y {
		t.Error("C is above A in the pattern and not on the figure")
	}
	alarms := 0
	for _, i := range f.Items {
		if l, ok := i.(Line); ok {
			if l.Ink == Alarm {
				alarms++
			}
			for _, q := range l.Points {
				if q.X < 0 || q.Y < 0 || q.X > f.Width || q.Y > f.Height {
					t.Errorf("a line leaves the figure at %v", q)
				}
			}
		}
	}
	if alarms != 1 {
		t.Errorf("%d lines in the colour of alarm, want 1", alarms)
	}
	if got := DrawPattern(Pattern{ID: "none"}, 100); len(got.Items) != 0 {
		t.Error("a pattern without holes shows something")
	}
}
