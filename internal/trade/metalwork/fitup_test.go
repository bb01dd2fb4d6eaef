package metalwork

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestFourFeet: three corners of a rectangle at one height and the fourth 0.4 mm lower: it rocks on the diagonal. By symmetry the plane
// through the two on the diagonal and one more touches, and the fourth wants the whole 0.4 mm; the least zone is half of that.
func TestFourFeet(t *testing.T) {
	j := read(t, `
fit-up:
  - {group: motor feet, place: front left, x: 0 mm, y: 0 mm, reads: 0 mm}
  - {group: motor feet, place: front right, x: 200 mm, y: 0 mm, reads: 0 mm}
  - {group: motor feet, place: back right, x: 200 mm, y: 150 mm, reads: -0.4 mm}
  - {group: motor feet, place: back left, x: 0 mm, y: 150 mm, reads: 0 mm}
`)
	got := FitUps(j)[0]
	if got.Wanting != "" || math.Abs(mm(got.Unflat.Value)-0.2) > 1e-9 {
		t.Errorf("wanting %q, out of flat %v", got.Wanting, got.Unflat.Value)
	}
	for n, want := range []float64{0, 0, 0.4, 0} {
		if s := mm(got.Places[n].Shim.Value); math.Abs(s-want) > 1e-9 {
			t.Errorf("%s: shim %v, want %v", got.Places[n].Name, s, want)
		}
	}
	if len(got.Stands) != 3 {
		t.Errorf("stands on %v", got.Stands)
	}
}

// TestSupportTouchesAndIsLeast: on random heights nothing is below a place that may not be cut, three places touch, and no plane of a fine search
// around it has less to fill. The zone of unflat holds all places and isn't more than a plane of a random search needs.
func TestSupportTouchesAndIsLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 60 {
		var spots []spot
		for range 4 + r.IntN(6) {
			spots = append(spots, spot{r.Float64() * 300, r.Float64() * 200, r.NormFloat64() / 5, r.IntN(4) == 0})
		}
		p, ok := support(spots)
		if !ok {
			t.Fatal("no plane")
		}
		sum := func(p plane) (s float64, ok bool) {
			for _, q := range spots {
				gap := p.at(q) - q.z
				if gap < -1e-6 && !q.cut {
					return 0, false
				}
				s += math.Abs(gap)
			}
			return s, true
		}
		least, ok := sum(p)
		if !ok {
			t.Fatal("the plane is under a place that may not be cut")
		}
		zone := unflat(spots)
		for range 4000 {
			q := plane{p.a + r.NormFloat64()/20, p.b + r.NormFloat64()/4000, p.c + r.NormFloat64()/4000}
			if s, ok := sum(q); ok && s < least-1e-6 {
				t.Fatalf("a plane with %.4f to fill is better than %.4f", s, least)
			}
			low, high := math.Inf(1), math.Inf(-1)
			for _, s := range spots {
				low, high = min(low, s.z-q.at(s)), max(high, s.z-q.at(s))
			}
			if high-low < zone-1e-6 {
				t.Fatalf("a zone of %.4f is less than %.4f", high-low, zone)
			}
		}
	}
}

// TestSkim: a place that may be skimmed and stands proud is taken down to the plane of the others.
func TestSkim(t *testing.T) {
	var b strings.Builder
	b.WriteString("fit-up:\n")
	for n, p := range []point{{0, 0}, {100, 0}, {100, 100}, {0, 100}, {50, 50}} {
		fmt.Fprintf(&b, "  - {group: pad, place: %s, x: %g mm, y: %g mm, reads: %g mm, may be skimmed: %q}\n", letter(n), p.x, p.y, []float64{0, 0, 0, 0, 0.25}[n], []string{"no", "no", "no", "no", "yes"}[n])
	}
	got := FitUps(read(t, b.String()))[0]
	for n, p := range got.Places {
		want := []float64{0, 0, 0, 0, 0.25}[n]
		if mm(p.Shim.Value) != 0 || math.Abs(mm(p.Skim.Value)-want) > 1e-9 {
			t.Errorf("%s: shim %v, skim %v", p.Name, p.Shim.Value, p.Skim.Value)
		}
	}
}
