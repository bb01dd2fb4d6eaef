package drawing

import (
	"math"
	"testing"
)

func enclosureFixture() Enclosure {
	return Enclosure{ID: "box", Title: "The box", Alt: "a drive, a filter, a rail with breakers, a button on the door", Width: 300, Height: 400, Depth: 200, Plate: Solid{25, 25, 15, 250, 350, 2},
		Rails: []Solid{{35, 60, 17, 230, 35, 7.5}},
		Bodies: []EnclosureBody{
			{Solid: Solid{40, 190, 17, 130, 150, 150}, Tag: "U1", Name: "drive", Air: [6]float64{0, 0, 60, 35, 0, 0}, Power: true},
			{Solid: Solid{190, 200, 17, 60, 130, 60}, Tag: "FL1", Name: "line filter", Power: true},
			{Solid: Solid{40, 40, 24, 36, 80, 70}, Tag: "CB1", Name: "breaker", Power: true},
			{Solid: Solid{80, 40, 24, 18, 80, 60}, Tag: "CR1", Name: "relay"},
			{Solid: Solid{100, 45, 24, 60, 60, 45}, Tag: "TB1", Name: "terminals"},
			{Solid: Solid{210, 60, 140, 30, 30, 58}, Tag: "PB1", OnDoor: true},
		},
		Entries: []EnclosureEntry{{Name: "W1", X: 60, Y: 0, Z: 60, R: 12, Wall: "bottom"}, {Name: "W2", X: 0, Y: 100, Z: 60, R: 12, Wall: "left"}}}
}

// What is nearer is drawn later: of two bodies that hide one another on the picture the nearer one comes last. The filter stands to
// the right of the drive, the relay to the right of the breaker; and what hangs over another is above it.
func TestWhatIsFurtherIsDrawnFirst(t *testing.T) {
	order := map[string]int{}
	for n, b := range farFirst(enclosureFixture().Bodies) {
		order[b.Tag] = n
	}
	for _, c := range [][2]string{{"U1", "FL1"}, {"CB1", "CR1"}, {"CR1", "TB1"}, {"CB1", "U1"}} {
		if order[c[0]] > order[c[1]] {
			t.Errorf("%s is drawn after %s, which it would hide", c[0], c[1])
		}
	}
	if len(order) != 6 {
		t.Errorf("%d bodies are left of 6", len(order))
	}
}

// Every picture stays within its figure, and the front view shows every part with its tag.
func TestEnclosureStaysOnTheFigure(t *testing.T) {
	e := enclosureFixture()
	for _, f := range []Figure{e.Front("f", 165, 180), e.Front("n", 84, 120), e.Side("s", 80, 180), e.Space("p", 165, 180), e.Space("q", 84, 100)} {
		inside := func(p Point) bool {
			return p.X > -0.6 && p.Y > -0.6 && p.X < f.Width+0.6 && p.Y < f.Height+0.6 && !math.IsNaN(p.X+p.Y)
		}
		for _, i := range f.Items {
			switch i := i.(type) {
			case Line:
				for _, p := range i.Points {
					if !inside(p) {
						t.Errorf("%s: a line leaves the figure at %v", f.Title, p)
					}
				}
			case Words:
				if b := i.Bounds(); i.Text != "free air" && i.Text != "on the door" && (!inside(Point{b.Left, b.Top}) || !inside(Point{b.Right, b.Bottom})) {
					t.Errorf("%s: %q leaves the figure", f.Title, i.Text)
				}
			}
		}
	}
	tags := map[string]bool{}
	for _, i := range e.Front("f", 165, 180).Items {
		if w, ok := i.(Words); ok {
			tags[w.Text] = true
		}
	}
	for _, b := range e.Bodies {
		if !b.OnDoor && !tags[b.Tag] {
			t.Errorf("the front view doesn't name %s", b.Tag)
		}
	}
}
