package metalwork

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"drivewright/internal/input/job"
)

// twoPatterns writes a part and what it goes onto, both with known places.
func twoPatterns(t testing.TB, part, onto []point, hole, bolt, tapped float64, more string) *job.Job {
	var b strings.Builder
	fmt.Fprintf(&b, "patterns:\n  - {name: part, seen from: front, goes onto: base%s}\n  - {name: base, seen from: front}\nholes:\n", more)
	for n, p := range part {
		fmt.Fprintf(&b, "  - {pattern: part, name: %s, diameter: %g mm, bolt: %g mm, x: %.6f mm, y: %.6f mm}\n", letter(n), hole, bolt, p.x, p.y)
	}
	for n, p := range onto {
		fmt.Fprintf(&b, "  - {pattern: base, name: %s, diameter: %g mm, x: %.6f mm, y: %.6f mm}\n", strings.ToLower(letter(n)), tapped, p.x, p.y)
	}
	return read(t, b.String())
}

// TestMatchFindsTheMovement: a pattern that is turned, shifted, shuffled and mirrored at random is laid back onto itself, hole by hole.
func TestMatchFindsTheMovement(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for n := range 40 {
		part := random(r, 3+n%4, 0).at
		m := movement{angle: 6 * r.Float64(), shift: point{50 * r.Float64(), -80 * r.Float64()}, mirrored: n%2 == 1}
		order := r.Perm(len(part))
		onto := make([]point, len(part))
		for i, k := range order {
			onto[k] = m.of(part[i])
		}
		got := Matches(twoPatterns(t, part, onto, 9, 8, 6.8, ", may be mirrored: \"yes\""))[0]
		if got.Wanting != "" || !got.Fits || got.Mirrored != m.mirrored {
			t.Fatalf("match %d: wanting %q, fits %v, mirrored %v want %v", n, got.Wanting, got.Fits, got.Mirrored, m.mirrored)
		}
		for i, j := range got.Joints {
			if want := strings.ToLower(letter(order[i])); j.Onto != want || mm(j.Off.Value) > 1e-3 {
				t.Errorf("match %d: %s lies over %s %.4f mm off, want %s", n, j.Hole, j.Onto, mm(j.Off.Value), want)
			}
		}
	}
}

// TestSquareGoesOnFourWays: the symmetry of a square is four turns, eight ways with its other face.
func TestSquareGoesOnFourWays(t *testing.T) {
	square := []point{{0, 0}, {100, 0}, {100, 100}, {0, 100}}
	for more, want := range map[string]float64{"": 4, ", may be mirrored: \"yes\"": 8} {
		if got := Matches(twoPatterns(t, square, square, 9, 8, 6.8, more))[0]; float64(got.Ways) != want || !got.Fits {
			t.Errorf("%q: %v ways, fits %v, want %v", more, got.Ways, got.Fits, want)
		}
	}
}

// TestLeastWorstBeatsLeastSquares compares with a brute-force search over turns and shifts.
func TestLeastWorstBeatsLeastSquares(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 12 {
		from := random(r, 4, 0).at
		to := make([]point, len(from))
		room := make([][]float64, len(from))
		holes, onto := []int{0, 1, 2, 3}, []int{0, 1, 2, 3}
		for i, p := range from {
			to[i] = p.plus(point{r.NormFloat64(), r.NormFloat64()})
			room[i] = []float64{.2, .4, .6, .8}
		}
		start := bestMovement(from, to, nil, false)
		_, got := leastWorst(start, holes, onto, from, to, room)
		worst := func(m movement) float64 {
			e := math.Inf(-1)
			for i := range from {
				e = max(e, m.of(from[i]).to(to[i])-room[i][i])
			}
			return e
		}
		best := worst(start)
		// a random walk downhill from the least-squares place
		at, step := start, 1.0
		for range 60000 {
			next := at
			turn := step * r.NormFloat64() / 100
			c := middleOf(to)
			next.shift = next.shift.minus(c).turned(turn).plus(c).plus(point{step * r.NormFloat64(), step * r.NormFloat64()})
			next.angle += turn
			if e := worst(next); e < best {
				best, at = e, next
			} else {
				step = max(step*0.9998, 1e-5)
			}
		}
		if got > best+1e-3 {
			t.Errorf("got %.5f, a random search finds %.5f", got, best)
		}
	}
}

// TestSlotAndRedrill: three of four holes line up; the fourth is 1.2 mm or 9 mm off, along x.
func TestSlotAndRedrill(t *testing.T) {
	base := []point{{0, 0}, {100, 0}, {103, 80}, {0, 80}}
	for off, want := range map[float64]JointAction{0.3: LinesUp, 1.8: SlotIt, 7: Redrill} {
		part := []point{{0, 0}, {100, 0}, {103 - off, 80}, {0, 80}}
		got := Matches(twoPatterns(t, part, base, 9, 8, 6.8, ""))[0]
		lined := 0
		for _, j := range got.Joints {
			if j.Action == LinesUp {
				lined++
			}
		}
		c := got.Joints[2]
		if c.Action != want || want != LinesUp && lined != 3 {
			t.Errorf("%g mm off: %v with %d lined up, want %v", off, c.Action, lined, want)
		}
		if want == SlotIt && (mm(c.OffX) < 0.5 || math.Abs(mm(c.OffY)) > 0.6 || mm(c.Slot.Value) > off-0.5+0.01 || mm(c.Slot.Value) < 0.05) {
			t.Errorf("slot %.3f towards %.3f, %.3f", mm(c.Slot.Value), mm(c.OffX), mm(c.OffY))
		}
	}
}
