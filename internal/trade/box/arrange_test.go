package box

import (
	"math/rand/v2"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

func mm(x float64) explain.Known[quantity.Length] {
	return explain.Constant("length", quantity.Length(x)*quantity.Millimetre, explain.Physics("of the test"))
}

// roomOf is an enclosure with 1.5 mm sheet whose plate is 40 mm smaller than its inside each way and 15 mm off its back.
func roomOf(width, height, depth float64) Room {
	return Room{Name: "box", Width: mm(width + 43), Height: mm(height + 43), Depth: mm(depth + 18), PlateWidth: mm(width), PlateHeight: mm(height), Before: mm(depth)}
}

func body(tag string, w, h, d float64) Body {
	return Body{Tag: tag, Name: tag, Width: mm(w), Height: mm(h), Depth: mm(d)}
}

func briefOf(rooms []Room, bodies ...Body) Brief {
	return Brief{Job: &job.Job{}, Bodies: bodies, Rooms: rooms}
}

// agree checks places with nothing of the package's own: whole millimetres are painted into a solid grid.
func agree(t *testing.T, b Brief, r Result) {
	t.Helper()
	room, _ := r.Room()
	type cell [3]int
	taken := map[cell]string{}
	whole := func(l quantity.Length) int { return int(float64(l/quantity.Millimetre) + 0.5) }
	for _, p := range r.Placed {
		tag := b.Bodies[p.Body].Tag
		if p.Face == Plate && (p.At[0] < -1e-6 || p.At[1] < -1e-6 || p.At[0]+p.Size[0] > room.PlateWidth.Value+1e-6 || p.At[1]+p.Size[1] > room.PlateHeight.Value+1e-6) {
			t.Errorf("%s isn't on the plate: %v %v", tag, p.At, p.Size)
		}
		if p.At[2]+p.Size[2] > room.Before.Value+1e-6 {
			t.Errorf("%s is deeper than the box", tag)
		}
		for x := whole(p.At[0]) / 5; x < whole(p.At[0]+p.Size[0])/5; x++ {
			for y := whole(p.At[1]) / 5; y < whole(p.At[1]+p.Size[1])/5; y++ {
				for z := whole(p.At[2]) / 5; z < whole(p.At[2]+p.Size[2])/5; z++ {
					if other, there := taken[cell{x, y, z}]; there {
						t.Errorf("%s and %s are in one place", tag, other)
						return
					}
					taken[cell{x, y, z}] = tag
				}
			}
		}
	}
}

// fitsSomewhere goes through every place of the bodies on a grid that all their sizes are multiples of, which loses nothing: whatever fits can
// be pushed to the left and down.
func fitsSomewhere(bodies []Body, width, height, grid int) bool {
	type rect struct{ x, y, w, h int }
	var put func(n int, before []rect) bool
	put = func(n int, before []rect) bool {
		if n == len(bodies) {
			return true
		}
		w, h := int(float64(bodies[n].Width.Value/quantity.Millimetre)+0.5), int(float64(bodies[n].Height.Value/quantity.Millimetre)+0.5)
		turns := 1
		if bodies[n].MayTurn {
			turns = 2
		}
		for range turns {
			for x := 0; x+w <= width; x += grid {
			place:
				for y := 0; y+h <= height; y += grid {
					for _, o := range before {
						if x < o.x+o.w && o.x < x+w && y < o.y+o.h && o.y < y+h {
							continue place
						}
					}
					if put(n+1, append(before, rect{x, y, w, h})) {
						return true
					}
				}
			}
			w, h = h, w
		}
		return false
	}
	return put(0, nil)
}

// TestVerdictsAgainstEveryArrangement: on small plates, what is said to hold is right by a count of cells, and what is said to be impossible has no
// arrangement by going through them all.
func TestVerdictsAgainstEveryArrangement(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 1))
	counted := map[Verdict]int{}
	for range 600 {
		width, height := 10*(6+random.IntN(6)), 10*(6+random.IntN(6))
		var bodies []Body
		for n := range 3 + random.IntN(2) {
			b := body(string(rune('A'+n)), float64(10*(2+random.IntN(5))), float64(10*(2+random.IntN(5))), 50)
			b.MayTurn = random.IntN(2) == 0
			bodies = append(bodies, b)
		}
		b := briefOf([]Room{roomOf(float64(width), float64(height), 100)}, bodies...)
		r := Arrange(b, Options{Quick: true})
		verdict := r.Tried[0].Verdict
		counted[verdict]++
		fits := fitsSomewhere(bodies, width, height, 10)
		switch {
		case verdict == Holds:
			agree(t, b, r)
			if !fits {
				t.Fatalf("%d × %d: arranged, though nothing fits by going through all", width, height)
			}
		case verdict == Impossible && fits:
			t.Fatalf("%d × %d: called impossible (%s), though it fits: %v", width, height, r.Tried[0].Why, sizes(bodies))
		case verdict == NotFound:
			t.Errorf("%d × %d: no verdict on %v", width, height, sizes(bodies))
		}
	}
	if counted[Holds] < 20 || counted[Impossible] < 20 {
		t.Errorf("the cases were too much alike: %v", counted)
	}
}

func sizes(bodies []Body) (list []string) {
	for _, b := range bodies {
		list = append(list, b.Width.Value.Show(quantity.MetricUnits)+" × "+b.Height.Value.Show(quantity.MetricUnits))
	}
	return list
}

// What Check must find, by hand: a plate of 300 × 400 mm, 150 mm before it, walls 20 mm beyond the plate.
func TestCheckFindsWhatIsWrong(t *testing.T) {
	room := roomOf(300, 400, 150)
	drive := body("U", 100, 200, 120)
	drive.Above, drive.Below, drive.Front = mm(100), mm(100), mm(20)
	small := body("K", 50, 50, 60)
	meter := body("P", 80, 80, 60)
	meter.On = Door
	b := briefOf([]Room{room}, drive, small, meter)
	at := func(ux, uy, kx, ky, px, py float64) []Placed {
		m := func(x float64) quantity.Length { return quantity.Length(x) * quantity.Millimetre }
		return []Placed{
			{Body: 0, Face: Plate, At: [3]quantity.Length{m(ux), m(uy), 0}, Size: [3]quantity.Length{m(100), m(200), m(120)}},
			{Body: 1, Face: Plate, At: [3]quantity.Length{m(kx), m(ky), 0}, Size: [3]quantity.Length{m(50), m(50), m(60)}},
			{Body: 2, Face: Door, At: [3]quantity.Length{m(px), m(py), m(90)}, Size: [3]quantity.Length{m(80), m(80), m(60)}},
		}
	}
	for name, c := range map[string]struct {
		placed []Placed
		want   string // part of what is said; "" for nothing
	}{
		"all is right":                   {at(0, 100, 150, 100, 150, 100), ""},
		"a wall in the air above":        {at(0, 150, 150, 100, 150, 100), "U lacks 30 mm to the wall above"},
		"a part in the air below":        {at(0, 100, 20, 10, 150, 100), "K stands 50 mm deep in the air of U"},
		"two parts in one place":         {at(0, 100, 90, 150, 150, 100), "U and K are in one place, by 10 mm"},
		"off the plate":                  {at(0, 100, 260, 100, 150, 100), "K sticks out of the plate by 10 mm on the right"},
		"a door device behind the drive": {at(0, 100, 150, 100, 50, 150), "U and P are in one place when the door is shut, by 30 mm"},
		"a door device at the rim":       {at(0, 100, 150, 100, 220, 100), "P lacks 5 mm to the wall on the right"},
	} {
		got := b.Check(&room, c.placed)
		var said []string
		for _, clash := range got {
			said = append(said, clash.What.Show(quantity.MetricUnits))
		}
		all := strings.Join(said, "; ")
		if c.want == "" && all != "" || c.want != "" && !strings.Contains(all, c.want) {
			t.Errorf("%s: got %q, want %q", name, all, c.want)
		}
	}
}

// A door device of depth 60 whose far edge is 100 mm from the hinge swings its inner corner on a circle of √(100² + 60²) = 116.6 mm: 16.6 mm beyond
// where it stood. A part as deep as the device's whole height is struck within that, one further off isn't.
func TestDoorSwing(t *testing.T) {
	room := roomOf(300, 400, 150)
	meter := body("P", 80, 80, 60)
	meter.On = Door
	b := briefOf([]Room{room}, body("K", 50, 80, 149), meter)
	m := func(x float64) quantity.Length { return quantity.Length(x) * quantity.Millimetre }
	for gap, want := range map[float64]bool{10: true, 16: true, 17: false} {
		placed := []Placed{
			{Body: 0, Face: Plate, At: [3]quantity.Length{m(80 + gap), m(100), 0}, Size: [3]quantity.Length{m(50), m(80), m(149)}},
			{Body: 1, Face: Door, At: [3]quantity.Length{0, m(100), m(90)}, Size: [3]quantity.Length{m(80), m(80), m(60)}},
		}
		strikes := false
		for _, c := range b.Check(&room, placed) {
			strikes = strikes || c.Kind == swings
		}
		if strikes != want { // the hinge is at the inner wall, 20 mm left of the plate
			t.Errorf("%g mm beside it: strikes %v, want %v", gap, strikes, want)
		}
	}
}

// Two parts on rails share one where they can, each end carries its stop, and the rail's middle is theirs.
func TestRailsHaveRealEnds(t *testing.T) {
	a, c := body("F1", 18, 80, 65), body("F2", 36, 90, 65)
	a.OnRail, c.OnRail = true, true
	b := briefOf([]Room{roomOf(100, 120, 100)}, a, c)
	r := Arrange(b, Options{Quick: true})
	if r.Chosen != 0 || len(r.Rails) != 1 {
		t.Fatalf("got %+v", r.Tried)
	}
	agree(t, b, r)
	rail := r.Rails[0]
	if d := float64(rail.Length/quantity.Millimetre) - (10 + 18 + 36 + 10); d > 1e-6 || d < -1e-6 {
		t.Errorf("the rail is %g mm long, want 74", float64(rail.Length/quantity.Millimetre))
	}
	for _, p := range r.Placed {
		if mid := p.At[1] + p.Size[1]/2 - rail.Y; mid > 1e-6 || mid < -1e-6 {
			t.Errorf("%s isn't on the rail's middle", b.Bodies[p.Body].Tag)
		}
	}
}

// A settled part stays where it is, and the others go around it.
func TestSettledPartsStay(t *testing.T) {
	a, c := body("A", 60, 60, 50), body("C", 40, 100, 50)
	a.Spot = &Spot{X: mm(20), Y: mm(30)}
	b := briefOf([]Room{roomOf(140, 120, 100)}, a, c)
	r := Arrange(b, Options{})
	if r.Chosen != 0 || max(r.Placed[0].X-a.Spot.X.Value, a.Spot.X.Value-r.Placed[0].X, r.Placed[0].Y-a.Spot.Y.Value, a.Spot.Y.Value-r.Placed[0].Y) > slack {
		t.Fatalf("got %+v of %+v", r.Placed, r.Tried)
	}
	agree(t, b, r)
	// and where there is no way around it, that is said
	tight := briefOf([]Room{roomOf(95, 95, 100)}, a, c)
	if r := Arrange(tight, Options{}); r.Chosen != -1 || r.Tried[0].Verdict != Impossible {
		t.Errorf("got %+v", r.Tried)
	}
}

// Dragging tells at once what the part meets.
func TestMove(t *testing.T) {
	b := briefOf([]Room{roomOf(200, 100, 100)}, body("A", 50, 50, 50), body("B", 50, 50, 50))
	r := Arrange(b, Options{Quick: true})
	other := r.Placed[1]
	if got := Move(&r, 0, other.X+10*quantity.Millimetre, other.Y); len(got) != 1 || got[0].Kind != together {
		t.Errorf("on the other part: got %+v", got)
	}
	if got := Move(&r, 0, 160*quantity.Millimetre, 0); len(got) == 0 {
		t.Error("off the plate: nothing was said")
	}
}

// The same brief gives the same result.
func TestSameBriefSameResult(t *testing.T) {
	b := briefOf([]Room{roomOf(200, 200, 100)}, body("A", 50, 80, 50), body("B", 50, 50, 50), body("C", 70, 20, 50))
	b.Wires = []Wire{{"A", "C", 2}, {"B", "C", 1}}
	x, y := Arrange(b, Options{Seed: 7}), Arrange(b, Options{Seed: 7})
	for n := range x.Placed {
		if x.Placed[n] != y.Placed[n] {
			t.Errorf("%+v and %+v", x.Placed[n], y.Placed[n])
		}
	}
	if x.Wire.Value != y.Wire.Value || x.Steps != y.Steps {
		t.Error("wires or steps differ")
	}
}

// A part settled on a wall stands where it was said, as that wall is seen from outside.
func TestSettledOnAWall(t *testing.T) {
	for _, f := range []Face{LeftWall, RightWall, TopWall, BottomWall} {
		fan := body("F", 60, 60, 40)
		fan.On, fan.Spot = f, &Spot{X: mm(50), Y: mm(70)}
		b := briefOf([]Room{roomOf(250, 250, 150)}, fan, body("A", 50, 50, 50))
		r := Arrange(b, Options{Quick: true})
		if r.Chosen != 0 {
			t.Errorf("%s: %s", f, r.Tried[0].Why)
			continue
		}
		p := r.Placed[0]
		if d := max(p.X-fan.Spot.X.Value, fan.Spot.X.Value-p.X, p.Y-fan.Spot.Y.Value, fan.Spot.Y.Value-p.Y); d > 2*slack {
			t.Errorf("%s: stands at %v, %v", f, p.X, p.Y)
		}
	}
}
