package drawing

import (
	"math"
	"slices"
)

// Enclosure is an arranged box: its outside, its plate, and the bodies in it, in millimetres from the outer lower left back corner, x right, y up,
// z towards the door.
type Enclosure struct {
	ID, Title, Alt       string
	Width, Height, Depth float64
	Plate                Solid // its face at the far z
	Bodies               []EnclosureBody
	Rails                []Solid
	Entries              []EnclosureEntry
	// Vents are openings, on the walls that they touch.
	Vents []Solid
}

// Solid is a box in space: its lower left back corner and its size.
type Solid struct{ X, Y, Z, W, H, D float64 }

func (s Solid) high() (x, y, z float64) { return s.X + s.W, s.Y + s.H, s.Z + s.D }

// EnclosureBody is a part in its place.
type EnclosureBody struct {
	Solid
	Tag  string
	Name string
	// Air is what is to stay free beside it: left, right, bottom, top, back, front.
	Air [6]float64
	// OnDoor is true for what swings away with the door; Power for what carries mains or motor current.
	OnDoor, Power bool
}

// EnclosureEntry is a cable entry: its middle, and the wall it goes through as the axis and side of that wall ("top", "left" …).
type EnclosureEntry struct {
	Name       string
	X, Y, Z, R float64
	Wall       string
}

// Front draws the box as one sees it from the front with the door open: plate, rails, parts with the air that they need. Nothing hides
// anything: what hangs on the door is drawn dashed.
func (e Enclosure) Front(id string, width, tall float64) Figure {
	const rim = 3.0
	k := min((width-2*rim)/e.Width, (tall-2*rim-8)/e.Height)
	f := Figure{ID: id, Title: e.Title + ", from the front with the door open", Alt: e.Alt, Width: e.Width*k + 2*rim, Height: e.Height*k + 2*rim + 8}
	at := func(x, y float64) Point { return Point{rim + x*k, rim + (e.Height-y)*k} }
	rect := func(x, y, w, h float64, like Line) {
		like.Points, like.Closed = []Point{at(x, y), at(x+w, y), at(x+w, y+h), at(x, y+h)}, true
		f.Items = append(f.Items, like)
	}
	rect(0, 0, e.Width, e.Height, Line{Width: 0.6})
	rect(e.Plate.X, e.Plate.Y, e.Plate.W, e.Plate.H, Line{Width: 0.25, Ink: Faint})
	for _, b := range e.Bodies {
		if b.OnDoor {
			continue
		}
		for _, air := range []Solid{{b.X - b.Air[0], b.Y, 0, b.Air[0], b.H, 0}, {b.X + b.W, b.Y, 0, b.Air[1], b.H, 0}, {b.X, b.Y - b.Air[2], 0, b.W, b.Air[2], 0}, {b.X, b.Y + b.H, 0, b.W, b.Air[3], 0}} {
			if air.W > 0 && air.H > 0 {
				rect(air.X, air.Y, air.W, air.H, Line{Width: 0.15, Ink: Accent, Dashed: true})
			}
		}
	}
	for _, r := range e.Rails {
		rect(r.X, r.Y, r.W, r.H, Line{Width: 0.2, Ink: Faint})
	}
	for _, b := range e.Bodies {
		if b.OnDoor {
			continue
		}
		rect(b.X, b.Y, b.W, b.H, Line{Filled: true, Ink: Paper})
		like := Line{Width: 0.35}
		if b.Power {
			like.Width = 0.6
		}
		rect(b.X, b.Y, b.W, b.H, like)
	}
	for _, b := range e.Bodies {
		if b.OnDoor {
			rect(b.X, b.Y, b.W, b.H, Line{Width: 0.25, Ink: Faint, Dashed: true})
		}
	}
	for _, b := range e.Bodies {
		if !b.OnDoor {
			f.Items = append(f.Items, bodyWords(b, at, k)...)
		}
	}
	for _, n := range e.Entries {
		switch n.Wall {
		case "back":
			f.Items = append(f.Items, Circle{Centre: at(n.X, n.Y), Radius: n.R * k, Width: 0.3, Ink: Accent})
		case "left", "right":
			f.Items = append(f.Items, Line{Points: []Point{at(n.X, n.Y-n.R), at(n.X, n.Y+n.R)}, Width: 1.4, Ink: Accent})
		default:
			f.Items = append(f.Items, Line{Points: []Point{at(n.X-n.R, n.Y), at(n.X+n.R, n.Y)}, Width: 1.4, Ink: Accent})
		}
	}
	f.Items = append(f.Items, legend(rim, f.Height-2.2)...)
	return f
}

// legend explains lines of the front view.
func legend(x, y float64) []Item {
	var items []Item
	for _, l := range []struct {
		line Line
		text string
	}{{Line{Width: 0.6}, "mains or motor current"}, {Line{Width: 0.35}, "control"}, {Line{Width: 0.15, Ink: Accent, Dashed: true}, "free air"}, {Line{Width: 0.25, Ink: Faint, Dashed: true}, "on the door"}} {
		l.line.Points = []Point{{x, y - 0.8}, {x + 6, y - 0.8}}
		w := Words{At: Point{x + 7, y}, Text: l.text, Size: 2.3, Ink: Faint}
		items = append(items, l.line, w)
		x += 7 + w.Length() + 4
	}
	return items
}

// bodyWords writes the tag, and the name beneath it where there is room, into a body's front.
func bodyWords(b EnclosureBody, at func(x, y float64) Point, k float64) []Item {
	w, h := b.W*k, b.H*k
	m := at(b.X+b.W/2, b.Y+b.H/2)
	size := 3.0
	tag := Words{At: Point{m.X, m.Y + size*0.35}, Text: b.Tag, Size: size, Anchor: Middle, Bold: true}
	switch {
	case tag.Length() <= w-1 && h > size:
	case tag.Length() <= h-1 && w > size*0.9:
		tag.Turned, tag.At = true, Point{m.X + size*0.35, m.Y}
		return []Item{tag}
	default:
		tag.Size = max(1.6, min(size, size*(max(w, h)-0.6)/tag.Length()))
		if h > w {
			tag.Turned, tag.At = true, Point{m.X + tag.Size*0.35, m.Y}
		} else {
			tag.At.Y = m.Y + tag.Size*0.35
		}
		return []Item{tag}
	}
	items := []Item{tag}
	lines := wrap(b.Name, Words{}.face(), 2.1, w-2)
	if len(lines) > 0 && widest(lines, Words{}.face(), 2.1) <= w-1 && float64(len(lines))*2.6+size+3 <= h {
		tag.At.Y -= float64(len(lines)) * 1.3
		items[0] = tag
		for n, l := range lines {
			items = append(items, Words{At: Point{m.X, tag.At.Y + 3.4 + float64(n)*2.6}, Text: l, Size: 2.1, Anchor: Middle, Ink: Faint})
		}
	}
	return items
}

// Side draws the box cut open from the right: how deep everything reaches, and what is left before the door.
func (e Enclosure) Side(id string, width, tall float64) Figure {
	const rim = 3.0
	k := min((width-2*rim)/e.Depth, (tall-2*rim-6)/e.Height)
	f := Figure{ID: id, Title: e.Title + ", cut open, from the right: the door is on the left", Alt: e.Alt, Width: e.Depth*k + 2*rim, Height: e.Height*k + 2*rim + 6}
	// seen from the right the door is on the left hand
	at := func(z, y float64) Point { return Point{rim + (e.Depth-z)*k, rim + (e.Height-y)*k} }
	rect := func(s Solid, like Line) {
		like.Points, like.Closed = []Point{at(s.Z, s.Y), at(s.Z+s.D, s.Y), at(s.Z+s.D, s.Y+s.H), at(s.Z, s.Y+s.H)}, true
		f.Items = append(f.Items, like)
	}
	rect(Solid{0, 0, 0, e.Width, e.Height, e.Depth}, Line{Width: 0.6})
	rect(e.Plate, Line{Width: 0.3})
	order := slices.Clone(e.Bodies)
	slices.SortStableFunc(order, func(a, b EnclosureBody) int { return int(math.Copysign(1, a.X-b.X)) })
	var names []named
	for n, b := range order {
		rect(b.Solid, Line{Filled: true, Ink: Paper})
		like := Line{Width: 0.3}
		if b.OnDoor {
			like.Ink = Accent
		}
		rect(b.Solid, like)
		x := named{covers: boundsOf(at(b.Z, b.Y), at(b.Z+b.D, b.Y+b.H)), order: n}
		w := Words{Text: b.Tag, Size: 2.2, Anchor: Middle}
		if m := at(b.Z+b.D/2, b.Y+b.H/2); w.Length() <= b.D*k-0.8 && b.H*k > 2.6 {
			w.At = Point{m.X, m.Y + 0.8}
			x.words = []Item{w}
		}
		names = append(names, x)
	}
	f.Items = append(f.Items, inSight(names)...)
	f.Items = append(f.Items, Words{At: at(e.Depth, -2.6/k), Text: "door", Size: 2.4, Ink: Faint}, Words{At: at(0, -2.6/k), Text: "back", Size: 2.4, Ink: Faint, Anchor: End})
	return f
}

// named is a body's name with what of the figure the body covers.
type named struct {
	words  []Item
	covers Bounds
	order  int
}

// boundsOf is the upright rectangle around points.
func boundsOf(points ...Point) Bounds {
	b := Bounds{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		b = Bounds{min(b.Left, p.X), min(b.Top, p.Y), max(b.Right, p.X), max(b.Bottom, p.Y)}
	}
	return b
}

// meets reports whether two rectangles share room.
func (b Bounds) meets(o Bounds) bool {
	return b.Left < o.Right && o.Left < b.Right && b.Top < o.Bottom && o.Top < b.Bottom
}

// inSight are the names that no nearer body covers, the later ones being nearer.
func inSight(names []named) []Item {
	var seen []Item
	for _, n := range names {
		hidden := slices.ContainsFunc(n.words, func(i Item) bool {
			w, ok := i.(Words)
			return ok && slices.ContainsFunc(names, func(o named) bool { return o.order > n.order && o.covers.meets(w.Bounds()) })
		})
		if !hidden {
			seen = append(seen, n.words...)
		}
	}
	return seen
}

// slant is how much of a depth shows to the left and downwards in the picture in space.
const slant = 0.38

// Space draws the box in space with its door taken off, as one sees it standing to the right of it: for paper, and for screens that can't turn
// it. Parts hide what is behind them.
func (e Enclosure) Space(id string, width, tall float64) Figure {
	const rim = 2.0
	k := min((width-2*rim)/(e.Width+e.Depth*slant), (tall-2*rim)/(e.Height+e.Depth*slant))
	f := Figure{ID: id, Title: e.Title + ", in space, without its door", Alt: e.Alt, Width: (e.Width+e.Depth*slant)*k + 2*rim, Height: (e.Height+e.Depth*slant)*k + 2*rim}
	at := func(x, y, z float64) Point {
		return Point{rim + (x+(e.Depth-z)*slant)*k, rim + (e.Height-y+z*slant)*k}
	}
	face := func(like Line, points ...Point) {
		like.Points, like.Closed = points, true
		f.Items = append(f.Items, like)
	}
	block := func(s Solid, like Line) {
		x, y, z := s.high()
		for _, side := range [][]Point{{at(s.X, s.Y, z), at(x, s.Y, z), at(x, y, z), at(s.X, y, z)}, {at(s.X, y, s.Z), at(x, y, s.Z), at(x, y, z), at(s.X, y, z)}, {at(x, s.Y, s.Z), at(x, y, s.Z), at(x, y, z), at(x, s.Y, z)}} {
			face(Line{Filled: true, Ink: Paper}, side...)
			face(like, side...)
		}
	}
	// the far walls: back, left, bottom
	w, h, d := e.Width, e.Height, e.Depth
	face(Line{Width: 0.35}, at(0, 0, 0), at(w, 0, 0), at(w, h, 0), at(0, h, 0))
	face(Line{Width: 0.35}, at(0, 0, 0), at(0, h, 0), at(0, h, d), at(0, 0, d))
	face(Line{Width: 0.35}, at(0, 0, 0), at(w, 0, 0), at(w, 0, d), at(0, 0, d))
	block(e.Plate, Line{Width: 0.2, Ink: Faint})
	for _, r := range e.Rails {
		block(r, Line{Width: 0.15, Ink: Faint})
	}
	var names []named
	for n, b := range farFirst(e.Bodies) {
		if b.OnDoor {
			continue
		}
		like := Line{Width: 0.25}
		if b.Power {
			like.Width = 0.45
		}
		block(b.Solid, like)
		front := func(x, y float64) Point { return at(x, y, b.Z+b.D) }
		b.Name = ""
		names = append(names, named{bodyWords(b, front, k), boundsOf(at(b.X, b.Y, b.Z+b.D), at(b.X+b.W, b.Y+b.H, b.Z)), n})
	}
	f.Items = append(f.Items, inSight(names)...)
	// the near walls are glass: their edges
	for _, l := range [][]Point{{at(w, h, 0), at(w, h, d), at(w, 0, d), at(w, 0, 0)}, {at(0, h, d), at(w, h, d)}} {
		f.Items = append(f.Items, Line{Points: l, Width: 0.25, Ink: Faint, Dashed: true})
	}
	return f
}

// farFirst orders bodies so that each comes after those that it may hide: one that lies wholly behind, to the left of or below another is
// further away from an eye before, to the right of and above the box.
func farFirst(bodies []EnclosureBody) []EnclosureBody {
	further := func(a, b EnclosureBody) bool {
		ax, ay, az := a.high()
		bx, by, bz := b.high()
		const touch = 1e-6
		if bz <= a.Z+touch || bx <= a.X+touch || by <= a.Y+touch { // b is further in some direction
			return false
		}
		return az <= b.Z+touch || ax <= b.X+touch || ay <= b.Y+touch
	}
	var list []EnclosureBody
	left := slices.Clone(bodies)
	for len(left) > 0 {
		next := -1
		for n := range left {
			if !slices.ContainsFunc(left, func(o EnclosureBody) bool { return further(o, left[n]) }) {
				next = n
				break
			}
		}
		if next < 0 { // three that hide one another in a ring: the one at the back first
			next = 0
			for n := range left {
				if left[n].Z < left[next].Z {
					next = n
				}
			}
		}
		list = append(list, left[next])
		left = slices.Delete(left, next, next+1)
	}
	return list
}
