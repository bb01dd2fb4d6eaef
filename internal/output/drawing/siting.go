package drawing

import (
	"math"
	"slices"
)

// Siting is a machine as rough blocks with what stands on it, in millimetres: x to the operator's right, y towards the operator, z up.
type Siting struct {
	ID, Title, Alt string
	Blocks         []SitingBlock
}

// SitingBlock is one block. X, Y, Z are its lower far left corner.
type SitingBlock struct {
	Solid // W along x, D along y, H along z; its Z is the height above the floor and its Y the distance towards the operator
	Name  string
	Kind  SitingKind
}

// SitingKind says how a block is drawn.
type SitingKind int

// The kinds of block, in the order in which they are drawn.
const (
	StandingFloor SitingKind = iota // where somebody stands
	FreePlace                       // where something may go
	Sweep                           // where a part moves
	Casting                         // machine or obstacle
	PlacedBox                       // the box, or a station
)

// FromAbove draws the plan: the operator at the foot of the page. FromFront is the view of who stands there.
func (s Siting) FromAbove(id string, width, tall float64) Figure {
	return s.view(id, s.Title+", from above; you stand at the foot", width, tall, func(b SitingBlock) (x, y, w, h float64) { return b.X, b.Y, b.W, b.D }, false)
}

// FromFront draws the machine as the operator sees it, the floor at the foot.
func (s Siting) FromFront(id string, width, tall float64) Figure {
	return s.view(id, s.Title+", as you see it", width, tall, func(b SitingBlock) (x, y, w, h float64) { return b.X, b.Z, b.W, b.H }, true)
}

func (s Siting) view(id, title string, width, tall float64, flat func(SitingBlock) (x, y, w, h float64), up bool) Figure {
	const rim = 3.0
	left, low, right, high := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, b := range s.Blocks {
		x, y, w, h := flat(b)
		left, low, right, high = min(left, x), min(low, y), max(right, x+w), max(high, y+h)
	}
	if up {
		low = min(low, 0)
	}
	if len(s.Blocks) == 0 || right <= left || high <= low {
		return Figure{ID: id, Title: title, Alt: s.Alt, Width: width, Height: 10}
	}
	const foot = 8.0
	k := min((width-2*rim)/(right-left), (tall-2*rim-foot)/(high-low))
	f := Figure{ID: id, Title: title, Alt: s.Alt, Width: width, Height: (high-low)*k + 2*rim + foot}
	off := (width - (right-left)*k) / 2
	at := func(x, y float64) Point {
		if up {
			return Point{off + (x-left)*k, rim + (high-y)*k}
		}
		return Point{off + (x-left)*k, rim + (y-low)*k}
	}
	if up {
		f.Items = append(f.Items, Line{Points: []Point{{rim, at(0, 0).Y}, {width - rim, at(0, 0).Y}}, Width: 0.5, Ink: Faint})
	}
	order := slices.Clone(s.Blocks)
	slices.SortStableFunc(order, func(a, b SitingBlock) int { return int(a.Kind) - int(b.Kind) })
	var taken []Bounds
	for _, b := range order {
		x, y, w, h := flat(b)
		corners := []Point{at(x, y), at(x+w, y), at(x+w, y+h), at(x, y+h)}
		like := Line{Points: corners, Closed: true}
		switch b.Kind {
		case StandingFloor:
			like.Width, like.Ink = 0.25, Faint
		case FreePlace:
			like.Width, like.Ink, like.Dashed = 0.25, Accent, true
		case Sweep:
			like.Width, like.Ink, like.Dashed = 0.35, Alarm, true
			f.Items = append(f.Items, hatch(corners, 4)...)
		case Casting:
			like.Width = 0.45
		case PlacedBox:
			fill := like
			fill.Filled, fill.Ink = true, Paper
			f.Items = append(f.Items, fill)
			like.Width, like.Ink = 0.8, Accent
		}
		f.Items = append(f.Items, like)
	}
	for n := len(order) - 1; n >= 0; n-- { // the box's name first: it must stand
		b := order[n]
		x, y, w, h := flat(b)
		m := at(x+w/2, y+h/2)
		for _, dy := range []float64{0, 3.4, -3.4, 6.8, -6.8} {
			words := Words{At: Point{m.X, m.Y + 1 + dy}, Text: b.Name, Size: 2.6, Anchor: Middle, Bold: b.Kind == PlacedBox, Knockout: true}
			if b.Kind == StandingFloor || b.Kind == FreePlace {
				words.Ink = Faint
			}
			at := words.Bounds()
			if at.Left < 0 {
				words.At.X -= at.Left
			} else if at.Right > width {
				words.At.X -= at.Right - width
			}
			at = words.Bounds()
			if at.Top < 0 || at.Bottom > f.Height-foot || slices.ContainsFunc(taken, func(o Bounds) bool {
				return at.Left < o.Right && o.Left < at.Right && at.Top < o.Bottom && o.Top < at.Bottom
			}) {
				continue
			}
			taken = append(taken, at)
			f.Items = append(f.Items, words)
			break
		}
	}
	x := rim
	for _, l := range []struct {
		line Line
		text string
	}{{Line{Width: 0.45}, "metal"}, {Line{Width: 0.35, Ink: Alarm, Dashed: true}, "where a part moves"}, {Line{Width: 0.25, Ink: Accent, Dashed: true}, "place"}, {Line{Width: 0.8, Ink: Accent}, "box or station"}} {
		l.line.Points = []Point{{x, f.Height - 3}, {x + 5, f.Height - 3}}
		w := Words{At: Point{x + 6, f.Height - 2.2}, Text: l.text, Size: 2.2, Ink: Faint}
		f.Items = append(f.Items, l.line, w)
		x += 6 + w.Length() + 3.5
	}
	return f
}

// hatch are slanted lines within an upright rectangle given by its corners.
func hatch(c []Point, step float64) []Item {
	left, right := min(c[0].X, c[2].X), max(c[0].X, c[2].X)
	top, low := min(c[0].Y, c[2].Y), max(c[0].Y, c[2].Y)
	var items []Item
	for s := left - (low - top) + step; s < right; s += step { // lines rise to the right: from (s, low) to (s + height, top)
		x0, y0, x1, y1 := s, low, s+low-top, top
		if x0 < left {
			y0, x0 = low-(left-x0), left
		}
		if x1 > right {
			y1, x1 = top+(x1-right), right
		}
		items = append(items, Line{Points: []Point{{x0, y0}, {x1, y1}}, Width: 0.12, Ink: Alarm})
	}
	return items
}
