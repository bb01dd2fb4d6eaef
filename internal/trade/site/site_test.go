package site

import (
	"math"
	"math/rand/v2"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

func found(t *testing.T, text string, size [3]float64, onDoor bool) Result {
	t.Helper()
	f := job.Read("test", []byte("drivewright: 1\n"+text))
	for _, p := range f.Problems {
		t.Fatalf("line %d: %s", p.Span.Line, p.Message.Show(quantity.MetricUnits))
	}
	mm := func(name string, x float64) explain.Known[quantity.Length] {
		return explain.Constant(name, quantity.Length(x/1000), explain.Source{})
	}
	return Find(Brief{Job: &f.Job, Set: explain.IEC, Height: mm("height", size[0]), Width: mm("width", size[1]), Depth: mm("depth", size[2]), Hinge: "left", OnDoor: onDoor})
}

func sorts(p Place) map[Sort]bool {
	m := map[Sort]bool{}
	for _, t := range p.Troubles {
		m[t.Sort] = true
	}
	return m
}

// A drill press whose quill handle sweeps 330 mm around its spindle (a practitioners' job: the box must stay outside that circle): of two
// places on the column's side the one within the sweep is ruled out, the one outside is taken.
func TestBoxStaysOutsideTheQuillHandle(t *testing.T) {
	r := found(t, `blocks:
  - {name: column and head, kind: machine, x: -60 mm, y: -60 mm, z: 0 mm, width: 120 mm, depth: 300 mm, height: 1700 mm}
  - {name: quill handle, kind: moving part, x: -330 mm, y: -90 mm, z: 1000 mm, width: 660 mm, depth: 660 mm, height: 660 mm}
  - {name: beside the head, kind: place for the box, x: 70 mm, y: -60 mm, z: 1000 mm, width: 300 mm, depth: 200 mm, height: 400 mm}
  - {name: behind the column, kind: place for the box, x: 335 mm, y: -100 mm, z: 900 mm, width: 300 mm, depth: 200 mm, height: 400 mm}
  - {name: floor, kind: operator stands, x: -400 mm, y: 600 mm, z: 0 mm, width: 800 mm, depth: 400 mm, height: 10 mm}
`, [3]float64{300, 250, 160}, false)
	if len(r.Places) != 2 {
		t.Fatalf("%d places, want 2", len(r.Places))
	}
	if best := r.Places[0]; best.Name != "behind the column" || best.Grave() {
		t.Errorf("the best place is %s with %v", best.Name, sorts(best))
	}
	if worst := r.Places[1]; !sorts(worst)[InSweep] || !worst.Grave() {
		t.Errorf("the place within the sweep has only %v", sorts(worst))
	}
}

// The heights of a handle by IEC 60204-1, 5.3.4 (from memory): 0.6 to 1.9 m. A place between 0.2 and 2.4 m gets the handle to 1.4 m.
func TestHandleComesToTheHand(t *testing.T) {
	r := found(t, "blocks:\n  - {name: wall, kind: place for the box, x: 0 mm, y: 0 mm, z: 200 mm, width: 500 mm, depth: 300 mm, height: 2200 mm}\n", [3]float64{600, 400, 200}, false)
	if h := float64(r.Places[0].Handle.Value); math.Abs(h-1.4) > 1e-9 {
		t.Errorf("the handle is at %.3f m, want 1.4", h)
	}
	r = found(t, "blocks:\n  - {name: low, kind: place for the box, x: 0 mm, y: 0 mm, z: 0 mm, width: 500 mm, depth: 300 mm, height: 610 mm}\n", [3]float64{600, 400, 200}, false)
	if !sorts(r.Places[0])[HandleHigh] {
		t.Errorf("a handle at %.2f m is taken", float64(r.Places[0].Handle.Value))
	}
}

// A cable's way by hand: from the middle of a box at 0…0.4, 0…0.2, 1…1.6 m to the middle of a motor at 2…2.4, 0…0.4, 0…0.4 m it is
// 2.0 along x, 0.1 along y, 1.1 along z, and half a metre for its ends: 3.7 m.
func TestCableWay(t *testing.T) {
	r := found(t, "enclosure: {x: 0 mm, y: 0 mm, z: 1000 mm}\nmotor: {cable: 3 m}\nblocks:\n  - {name: motor, kind: motor, x: 2 m, y: 0 mm, z: 0 mm, width: 400 mm, depth: 400 mm, height: 400 mm}\n", [3]float64{600, 400, 200}, false)
	if !r.Settled || len(r.Places) != 1 || len(r.Places[0].Cables) != 1 {
		t.Fatalf("settled %v, %d places", r.Settled, len(r.Places))
	}
	if way := float64(r.Places[0].Cables[0].Way.Value); math.Abs(way-3.7) > 1e-9 {
		t.Errorf("the way is %.3f m, want 3.7", way)
	}
}

// Whether a line goes through a box, against points taken along it: on seeded random lines and boxes both must agree, but for grazing ones.
func TestLineThroughABox(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	through, past := 0, 0
	for range 3000 {
		point := func() (p [3]float64) {
			for k := range p {
				p[k] = random.Float64() * 4
			}
			return p
		}
		a, b := point(), point()
		s := Solid{At: point(), Size: [3]float64{random.Float64() * 2, random.Float64() * 2, random.Float64() * 2}}
		sampled := 0
		const steps = 4000
		for n := range steps {
			k := (float64(n) + 0.5) / steps
			inside := true
			for axis := range 3 {
				x := a[axis] + k*(b[axis]-a[axis])
				inside = inside && x > s.At[axis] && x < s.high(axis)
			}
			if inside {
				sampled++
			}
		}
		got := crosses(a, b, s)
		switch {
		case sampled > 0 && !got:
			t.Fatalf("a line with %d of %d points inside is said to go past", sampled, steps)
		case got && sampled == 0:
			past++ // shorter inside than a step
		case got:
			through++
		}
	}
	if through < 150 || past > through/20 {
		t.Errorf("%d lines go through, %d graze", through, past)
	}
}
