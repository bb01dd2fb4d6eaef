package metalwork

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// read reads a job and fails on any mistake in it.
func read(t testing.TB, text string) *job.Job {
	t.Helper()
	f := job.Read("test.job.yaml", []byte("drivewright: 1\n"+text))
	for _, p := range f.Problems {
		t.Fatalf("%s\n%s", p.Message.Show(quantity.MetricUnits), text)
	}
	return &f.Job
}

// made is a pattern that is known, written down as a job with readings of its true distances.
type made struct {
	at      []point
	pairs   [][2]int
	across  []float64
	how     []string
	reads   []float64
	caliper float64
}

var letter = func(n int) string { return string(rune('A' + n)) }

func (m made) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "patterns:\n  - {name: p, seen from: front, caliper: %g mm}\nholes:\n", m.caliper)
	for n := range m.at {
		fmt.Fprintf(&b, "  - {pattern: p, name: %s, diameter: %g mm}\n", letter(n), m.across[n])
	}
	b.WriteString("distances:\n")
	for n, p := range m.pairs {
		fmt.Fprintf(&b, "  - {pattern: p, from: %s, to: %s, measured: %s, reads: %.6f mm}\n", letter(p[0]), letter(p[1]), m.how[n], m.reads[n])
	}
	return b.String()
}

// random makes a pattern of n holes, no three of them nearly in a row among the first, with all distances read with the spread.
func random(r *rand.Rand, n int, sigma float64) made {
	m := made{caliper: max(2*sigma, 0.01)}
	for len(m.at) < n {
		p := point{r.Float64() * 200, r.Float64() * 150}
		ok := true
		for i, a := range m.at {
			ok = ok && a.to(p) > 30
			for _, b := range m.at[:i] {
				ok = ok && math.Abs(offLine(a, b, p)) > 12
			}
		}
		if ok {
			m.at, m.across = append(m.at, p), append(m.across, math.Round(40+80*r.Float64())/10)
		}
		if len(m.at) == 3 && side(m.at[0], m.at[1], m.at[2]) < 0 {
			m.at, m.across = m.at[:0], m.across[:0]
		}
	}
	for b := range n {
		for a := range b {
			how := []string{"middles", "inner edges", "outer edges"}[r.IntN(3)]
			d := m.at[a].to(m.at[b]) + r.NormFloat64()*sigma
			switch how {
			case "inner edges":
				d -= m.across[a]/2 + m.across[b]/2
			case "outer edges":
				d += m.across[a]/2 + m.across[b]/2
			}
			m.pairs, m.how, m.reads = append(m.pairs, [2]int{a, b}), append(m.how, how), append(m.reads, d)
		}
	}
	return m
}

func (r PatternResult) found() (list []point) {
	for _, h := range r.Holes {
		list = append(list, point{mm(h.X.Value), mm(h.Y.Value)})
	}
	return list
}

// apart is how far two sets of points are from one another after the best movement without turning over.
func apart(a, b []point) float64 {
	m, worst := bestMovement(a, b, nil, false), 0.0
	for i := range a {
		worst = max(worst, m.of(a[i]).to(b[i]))
	}
	return worst
}

// TestExactReadingsGiveThePatternBack: with exact readings over any edges every pattern comes back to a thousandth of a millimetre, the right
// way round, in axes from its first hole through its second. Checked against the synthetic pattern itself.
func TestExactReadingsGiveThePatternBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 60 {
		m := random(r, 3+n%6, 0)
		got := Patterns(read(t, m.text()))[0]
		if !got.Fits || got.Lacking != 0 || got.Twin {
			t.Fatalf("pattern %d: fits %v, lacking %v, twin %v", n, got.Fits, got.Lacking, got.Twin)
		}
		at := got.found()
		if d := apart(m.at, at); d > 1e-3 {
			t.Errorf("pattern %d is %.4f mm off", n, d)
		}
		if at[0] != (point{}) || math.Abs(at[1].y) > 2e-3 || at[1].x <= 0 {
			t.Errorf("pattern %d: its axes don't go from its first hole through its second: %v", n, at[:2])
		}
	}
}

// TestAWrongReadingIsNamed spoils one reading by 1 to 15 mm, twenty standard deviations and more; it must be the first suspect in nearly all
// patterns of five holes and more, which have three readings to spare, and among the suspects of four holes, whose one spare reading tells
// that something is wrong and not what.
func TestAWrongReadingIsNamed(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	first, told, among, all := 0, 0, 0, 0
	for n := range 120 {
		m := random(r, 4+n%4, 0.05)
		wrong := r.IntN(len(m.reads))
		by := 1 + 14*r.Float64()*r.Float64()
		if r.IntN(2) == 0 {
			by = -by
		}
		m.reads[wrong] += by
		got := Patterns(read(t, m.text()))[0]
		all++
		if len(m.at) > 4 {
			told++
		}
		for k, s := range got.Suspects {
			if s.Reading == wrong {
				among++
				if k == 0 && len(m.at) > 4 {
					first++
					if should := mm(s.Should.Value); math.Abs(should-(m.reads[wrong]-by)) > 0.6 {
						t.Errorf("pattern %d: the reading should be %.2f, told %.2f", n, m.reads[wrong]-by, should)
					}
				}
			}
		}
		if got.Fits {
			t.Logf("pattern %d of %d holes: a mistake of %.2f mm fits", n, len(m.at), by)
		}
	}
	if float64(first) < 0.95*float64(told) || float64(among) < 0.95*float64(all) {
		t.Errorf("named first %d of %d, and among the suspects %d of %d", first, told, among, all)
	}
}

// TestSpreadIsHonest: over many patterns with readings of a known spread, the error of each coordinate against its told standard deviation has
// a mean square of one.
func TestSpreadIsHonest(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	sum, count, fits := 0.0, 0.0, 0
	const trials = 120
	for range trials {
		m := random(r, 5, 0.05)
		got := Patterns(read(t, m.text()))[0]
		if got.Fits {
			fits++
		}
		// the true pattern in the axes of the result
		d := m.at[1].minus(m.at[0])
		for i, h := range got.Holes {
			p := m.at[i].minus(m.at[0]).turned(-math.Atan2(d.y, d.x))
			for _, k := range [][3]float64{{mm(h.X.Value), p.x, mm(h.OffX.Value)}, {mm(h.Y.Value), p.y, mm(h.OffY.Value)}} {
				if k[2] > 0 {
					sum, count = sum+square((k[0]-k[1])/k[2]), count+1
				}
			}
		}
	}
	if mean := sum / count; mean < 0.85 || mean > 1.15 {
		t.Errorf("the mean square of error over told spread is %.3f, want 1", mean)
	}
	if fits < trials-3 {
		t.Errorf("%d of %d good patterns fit", fits, trials)
	}
}

// TestMissingReadings: with a distance left out of the least set the open hole is named, and the advised readings settle it.
func TestMissingReadings(t *testing.T) {
	m := random(rand.New(rand.NewPCG(7, 8)), 4, 0)
	full := m
	// A to B, A to C, B to C, A to D: D swings round A
	keep := []int{0, 1, 2, 3}
	m.pairs, m.how, m.reads = nil, nil, nil
	for _, k := range keep {
		m.pairs, m.how, m.reads = append(m.pairs, full.pairs[k]), append(m.how, full.how[k]), append(m.reads, full.reads[k])
	}
	got := Patterns(read(t, m.text()))[0]
	if got.Lacking != 1 || got.Holes[3].Placed || !got.Holes[2].Placed || len(got.Advised) != 1 {
		t.Fatalf("lacking %v, D placed %v, C placed %v, advised %v", got.Lacking, got.Holes[3].Placed, got.Holes[2].Placed, got.Advised)
	}
	a := got.Advised[0]
	if a.To != "D" {
		t.Errorf("advised %s to %s, want one to D", a.From, a.To)
	}
	// With two to D it can lie on either side of their line: the third tells.
	m.pairs, m.how, m.reads = append(m.pairs, full.pairs[4]), append(m.how, full.how[4]), append(m.reads, full.reads[4])
	got = Patterns(read(t, m.text()))[0]
	if !got.Twin || len(got.Advised) != 1 || got.Advised[0].From != "C" || got.Advised[0].To != "D" {
		t.Errorf("twin %v, advised %+v", got.Twin, got.Advised)
	}
}

// TestKnownPlacesAndEdges: places from a drawing and readings from edges fix the axes.
func TestKnownPlacesAndEdges(t *testing.T) {
	got := Patterns(read(t, `
patterns: [{name: p, seen from: front}]
holes:
  - {pattern: p, name: A, diameter: 8 mm, x: 10 mm, y: 20 mm}
  - {pattern: p, name: B, diameter: 8 mm, x: 110 mm, y: 20 mm}
  - {pattern: p, name: C, diameter: 10 mm}
distances:
  - {pattern: p, from: A, to: C, reads: 50 mm}
  - {pattern: p, from: edge left, to: C, measured: inner edges, reads: 35 mm}
  - {pattern: p, from: edge bottom, to: C, measured: outer edges, reads: 65 mm}
`))[0]
	// C is 40 mm right of the left edge and 60 mm up: 50 mm from A by 3-4-5
	c := got.found()[2]
	if c.to(point{40, 60}) > 0.01 || !got.Fits || got.Spare != 1 {
		t.Errorf("C is at %v, fits %v, spare %v", c, got.Fits, got.Spare)
	}
}

// camera looks at a plane from a distance, tilted about two axes: the projection by similar triangles, nothing of the code under test.
func camera(p point, tilt, roll, away, dots float64) point {
	x, y, z := p.x-100, p.y-130, 0.0
	s, c := math.Sincos(tilt)
	y, z = c*y-s*z, s*y+c*z
	s, c = math.Sincos(roll)
	x, z = c*x-s*z, s*x+c*z
	k := dots / (away + z)
	return point{2000 + k*x, 1500 - k*y}
}

// TestPhotoGivesHolesBack: holes of a synthetic photo come back to what rounding to whole dots allows; with taps that are three dots off
// the errors are as told.
func TestPhotoGivesHolesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	worst, sum, count := 0.0, 0.0, 0.0
	holes := []point{{-40, 20}, {250, 60}, {240, 330}, {-30, 280}}
	for range 60 {
		tilt, roll := 0.5*(r.Float64()-0.5), 0.5*(r.Float64()-0.5)
		see := func(p point, off float64) string {
			q := camera(p, tilt, roll, 600, 3000)
			return fmt.Sprintf("\"%.1f, %.1f\"", q.x+off*r.NormFloat64(), q.y+off*r.NormFloat64())
		}
		for _, off := range []float64{0, 3} {
			var b strings.Builder
			fmt.Fprintf(&b, "patterns:\n  - {name: p, sheet in the photo: a4, lower left corner: %s, lower right corner: %s, upper right corner: %s, upper left corner: %s}\nholes:\n",
				see(point{0, 0}, off), see(point{210, 0}, off), see(point{210, 297}, off), see(point{0, 297}, off))
			for n, h := range holes {
				fmt.Fprintf(&b, "  - {pattern: p, name: %s, diameter: 8 mm, in the photo: %s}\n", letter(n), see(h, off))
			}
			got := Patterns(read(t, b.String()))[0]
			if !got.Photo.Used {
				t.Fatalf("refused: %s", got.Photo.Refused)
			}
			if off == 0 {
				worst = max(worst, apart(holes, got.found()))
				continue
			}
			for n := range holes {
				place := got.Photo.places[n]
				sum += square((place.at.x-holes[n].x)/place.off.x) + square((place.at.y-holes[n].y)/place.off.y)
				count += 2
			}
		}
	}
	if worst > 0.1 {
		t.Errorf("the worst hole is %.3f mm off", worst)
	}
	if mean := sum / count; mean < 0.75 || mean > 1.3 {
		t.Errorf("the mean square of error over told spread is %.2f, want about 1", mean)
	}
}

// TestHomographyKeepsCrossRatios: the cross ratio of four points in a row is the same in every view (R. Hartley and A. Zisserman, Multiple View
// Geometry, 2.5); and the four points themselves go where they must.
func TestHomographyKeepsCrossRatios(t *testing.T) {
	from := [4]point{{412, -2210}, {1890, -2304}, {1921, -398}, {455, -361}}
	to := [4]point{{0, 0}, {215.9, 0}, {215.9, 279.4}, {0, 279.4}}
	h, ok := fourPoints(from, to)
	if !ok {
		t.Fatal("refused")
	}
	for n := range from {
		if h.of(from[n]).to(to[n]) > 1e-9 {
			t.Errorf("corner %d goes to %v", n, h.of(from[n]))
		}
	}
	at := func(k float64) point { return point{500 + 300*k, -2000 + 400*k} }
	ratio := func(p [4]point) float64 { return p[0].to(p[2]) * p[1].to(p[3]) / (p[1].to(p[2]) * p[0].to(p[3])) }
	a := [4]point{at(0), at(1), at(2.5), at(4)}
	b := [4]point{h.of(a[0]), h.of(a[1]), h.of(a[2]), h.of(a[3])}
	if math.Abs(ratio(a)-ratio(b)) > 1e-9 {
		t.Errorf("cross ratio %v became %v", ratio(a), ratio(b))
	}
	if _, ok := fourPoints([4]point{{0, 0}, {1, 1}, {2, 2}, {3, 3}}, to); ok {
		t.Error("points in a row were taken")
	}
}

// FuzzPatterns: no set of readings makes it panic, and what is placed is a number.
func FuzzPatterns(f *testing.F) {
	f.Add(uint64(1), uint64(2), 5, 7)
	f.Add(uint64(3), uint64(4), 2, 1)
	f.Fuzz(func(t *testing.T, a, b uint64, holes, readings int) {
		r := rand.New(rand.NewPCG(a, b))
		m := made{caliper: 0.1}
		for range 1 + (holes%7+7)%7 {
			m.at, m.across = append(m.at, point{}), append(m.across, 5)
		}
		for range (readings%15 + 15) % 15 {
			m.pairs, m.how, m.reads = append(m.pairs, [2]int{r.IntN(len(m.at)), r.IntN(len(m.at))}), append(m.how, "middles"), append(m.reads, 0.2+r.Float64()*[]float64{1, 30, 400}[r.IntN(3)])
		}
		text := m.text()
		if len(m.reads) == 0 {
			text = strings.TrimSuffix(text, "distances:\n")
		}
		for _, p := range Patterns(read(t, text)) {
			for _, h := range p.Holes {
				if h.Placed && (math.IsNaN(float64(h.X.Value)) || math.IsNaN(float64(h.Y.Value))) {
					t.Errorf("hole %s is at %v, %v", h.Name, h.X.Value, h.Y.Value)
				}
			}
		}
	})
}

// BenchmarkPattern: a pattern of six holes with all fifteen readings, one of them wrong, as it is worked out at each key press.
func BenchmarkPattern(b *testing.B) {
	m := random(rand.New(rand.NewPCG(3, 4)), 6, 0.05)
	m.reads[7] += 3
	j := read(b, m.text())
	for b.Loop() {
		Patterns(j)
	}
}

// BenchmarkPatternOfNonsense: seven holes with fifteen readings that have nothing to do with one another, the worst that can be typed.
func BenchmarkPatternOfNonsense(b *testing.B) {
	r := rand.New(rand.NewPCG(17, 18))
	m := random(r, 7, 0)
	for n := range m.reads {
		m.how[n], m.reads[n] = "middles", 1+300*r.Float64()
	}
	j := read(b, m.text())
	for b.Loop() {
		Patterns(j)
	}
}

// BenchmarkMatch: a bracket of six holes, one of them 3 mm off, onto six tapped holes.
func BenchmarkMatch(b *testing.B) {
	part := random(rand.New(rand.NewPCG(19, 20)), 6, 0).at
	onto := append([]point{}, part...)
	onto[3].x += 3
	j := twoPatterns(b, part, onto, 9, 8, 6.8, "")
	for b.Loop() {
		Matches(j)
	}
}
