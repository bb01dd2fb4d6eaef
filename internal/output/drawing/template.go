package drawing

import (
	"fmt"
	"math"
)

// Template is one sheet of metal to be marked out: its outline, its holes and where they are measured from. Places are in millimetres from
// the sheet's lower left corner, x right and y up, as seen from the side that Title names.
type Template struct {
	ID, Title, Alt string
	Width, Height  float64
	// Side is the side of the metal that the paper is laid on, in capitals on every page: "outside of the door".
	Side string
	// Mirrored draws the sheet as it is seen from its other side: places stay as they are, the drawing is turned over.
	Mirrored bool
	// Datum is the corner that the table of places counts from.
	Datum Point
	Holes []TemplateHole
	Zones []TemplateZone
	// Inch writes places in inches; millimetres otherwise.
	Inch bool
}

// HoleShape is the outline of a hole.
type HoleShape int

// The shapes of holes.
const (
	RoundHole HoleShape = iota
	SquareHole
	SlotHole
	NotchedHole // round, with the notch for the key of a control device, upwards
)

// TemplateHole is one hole or cut-out.
type TemplateHole struct {
	Name  string // as in the table: "D3"
	Note  string // what is done: "drill 7/32 in, tap 10-32"
	Shape HoleShape
	At    Point   // its middle
	Size  float64 // diameter; of a slot its width
	// Width and Height are those of a square hole, or the ends of a slot over all.
	Width, Height float64
	// Notch is how far the notch reaches over the far edge of the hole, and NotchWidth how wide it is.
	Notch, NotchWidth float64
}

// TemplateZone is a part of the sheet where holes may not be, or only shallow things.
type TemplateZone struct {
	What          string
	At            Point // lower left
	Width, Height float64
}

// Sizes on templates, millimetres. The middle of a hole is kept open, so that a punch finds it: lines and texts stay Clear of it.
const (
	middleClear  = 0.8
	crossReach   = 2.5 // of the cross lines over the hole's edge
	pilotRadius  = 0.8
	templateText = 2.6
	zoneText     = 2.2
)

// edge is how far a hole reaches from its middle, for what must stay clear of it.
func (h TemplateHole) edge() float64 {
	if h.Shape == SquareHole || h.Shape == SlotHole {
		return math.Hypot(h.Width, h.Height) / 2
	}
	return h.Size / 2
}

// reach is how far the hole's edge is from its middle along an axis.
func (h TemplateHole) reach(d Point) float64 {
	switch h.Shape {
	case SquareHole, SlotHole:
		return math.Abs(d.X)*h.Width/2 + math.Abs(d.Y)*h.Height/2
	case NotchedHole:
		if d.Y > 0 {
			return h.Notch - h.Size/2
		}
	case RoundHole:
	}
	return h.Size / 2
}

// outline is the hole as closed lines, with y up and its middle at 0, 0; nil for a round one.
func (h TemplateHole) outline() []Point {
	w, t := h.Width/2, h.Height/2
	switch h.Shape {
	case SquareHole:
		return []Point{{-w, -t}, {w, -t}, {w, t}, {-w, t}}
	case SlotHole:
		return slotOutline(w, t)
	case NotchedHole:
		r, n := h.Size/2, h.NotchWidth/2
		from := math.Acos(n / r)
		var list []Point
		const steps = 96
		for k := range steps + 1 { // clockwise, from the notch's right side around to its left one
			a := from - float64(k)/steps*(math.Pi+2*from)
			list = append(list, Point{r * math.Cos(a), r * math.Sin(a)})
		}
		return append(list, Point{-n, h.Notch - r}, Point{n, h.Notch - r})
	case RoundHole:
	}
	return nil
}

// slotOutline is a slot of half width w and half height t with round ends at its short sides.
func slotOutline(w, t float64) []Point {
	var list []Point
	r := min(w, t)
	cx, cy := w-r, t-r
	for n := range 73 {
		a := float64(n) * math.Pi / 36
		x, y := r*math.Cos(a), r*math.Sin(a)
		list = append(list, Point{x + math.Copysign(cx, x), y + math.Copysign(cy, y)})
	}
	return list
}

// window draws what of the sheet lies in a rectangle of it, at the scales sx and sy, with the rectangle's upper left corner at off.
type window struct {
	t                     Template
	left, low, wide, tall float64 // of the sheet, in the drawn view
	sx, sy                float64
	off                   Point
	items                 []Item
	taken                 []Bounds // where texts stand, and hole middles that must stay free
}

// view turns a place on the sheet into one of the drawn view: turned over if it is mirrored.
func (t Template) view(p Point) Point {
	if t.Mirrored {
		p.X = t.Width - p.X
	}
	return p
}

// spot is where a place of the drawn view comes to lie on the figure.
func (w *window) spot(p Point) Point {
	return Point{w.off.X + (p.X-w.left)*w.sx, w.off.Y + (w.low+w.tall-p.Y)*w.sy}
}

// draw puts outline, zones and holes into the window. small leaves the finest things out, for an overview.
func (w *window) draw(small bool) {
	t := w.t
	for _, z := range t.Zones {
		a, b := t.view(z.At), t.view(Point{z.At.X + z.Width, z.At.Y + z.Height})
		x0, x1 := min(a.X, b.X), max(a.X, b.X)
		w.polyline([]Point{{x0, a.Y}, {x1, a.Y}, {x1, b.Y}, {x0, b.Y}, {x0, a.Y}}, Line{Ink: Faint, Width: 0.15, Dashed: true})
	}
	w.polyline([]Point{{0, 0}, {t.Width, 0}, {t.Width, t.Height}, {0, t.Height}, {0, 0}}, Line{Width: 0.4})
	for _, h := range t.Holes {
		w.hole(h, small)
	}
	w.datum()
	if !small {
		for _, h := range t.Holes {
			w.holeText(h)
		}
		for _, z := range t.Zones {
			w.zoneText(z)
		}
		return
	}
	for _, h := range t.Holes {
		w.holeName(h)
	}
}

func (w *window) hole(h TemplateHole, small bool) {
	at := w.t.view(h.At)
	if outline := h.outline(); outline != nil {
		var list []Point
		for _, p := range append(outline, outline[0]) {
			if w.t.Mirrored {
				p.X = -p.X
			}
			list = append(list, Point{at.X + p.X, at.Y + p.Y})
		}
		w.polyline(list, Line{Ink: Accent, Width: 0.3})
	} else {
		w.ring(at, h.Size/2, Line{Ink: Accent, Width: 0.3})
	}
	over := crossReach
	middle := w.spot(at)
	clear := middleClear
	if small {
		clear, over = 0, 1.5/w.sx
	}
	for _, d := range []Point{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		far := w.clearReach(at, d, h.reach(d)+over)
		w.polyline([]Point{{at.X + d.X*clear, at.Y + d.Y*clear}, {at.X + d.X*far, at.Y + d.Y*far}}, Line{Width: 0.12})
	}
	if small {
		w.taken = append(w.taken, Bounds{middle.X - h.edge()*w.sx, middle.Y - h.edge()*w.sy, middle.X + h.edge()*w.sx, middle.Y + h.edge()*w.sy})
		return
	}
	if h.edge() > 2*pilotRadius {
		w.ring(at, pilotRadius, Line{Width: 0.12})
	}
	free := max(pilotRadius, 1.2) + 0.4
	w.taken = append(w.taken, Bounds{middle.X - free, middle.Y - free, middle.X + free, middle.Y + free})
}

// clearReach is how far a cross line from at may go in the direction d before it comes to another hole's middle.
func (w *window) clearReach(at, d Point, reach float64) float64 {
	for _, o := range w.t.Holes {
		m := w.t.view(o.At)
		along, beside := (m.X-at.X)*d.X+(m.Y-at.Y)*d.Y, math.Abs((m.X-at.X)*d.Y-(m.Y-at.Y)*d.X)
		if along > 1e-9 && beside < 2*middleClear {
			reach = min(reach, along-2*middleClear)
		}
	}
	return max(reach, middleClear)
}

// holeText writes name and note beside the hole, where they cover no other hole's middle and no other text.
func (w *window) holeText(h TemplateHole) {
	at := w.t.view(h.At)
	if !w.inside(at) {
		return
	}
	m := w.spot(at)
	e := h.edge() + 1
	lines := []string{h.Name}
	if h.Note != "" {
		lines = append(lines, h.Note)
	}
	if e > 9 { // a large hole has room within it
		if w.write(lines, Point{m.X + 1, m.Y - e/3}, Start) {
			return
		}
	}
	step := templateText * 1.25
	for _, far := range []float64{0, step, 2 * step, 4 * step} {
		d := (e + far)
		for _, try := range []struct {
			p Point
			a Anchor
		}{{Point{m.X + d*0.75, m.Y - d*0.75}, Start}, {Point{m.X + d, m.Y}, Start}, {Point{m.X + d*0.75, m.Y + d*0.75 + step}, Start}, {Point{m.X - d*0.75, m.Y - d*0.75}, End},
			{Point{m.X - d, m.Y}, End}, {Point{m.X - d*0.75, m.Y + d*0.75 + step}, End}, {Point{m.X, m.Y + d + step}, Middle}, {Point{m.X, m.Y - d - step}, Middle}} {
			if w.write(lines, try.p, try.a) {
				return
			}
		}
	}
	w.write(lines[:1], Point{m.X + e, m.Y - e}, Start)
}

func (w *window) holeName(h TemplateHole) {
	m, e := w.spot(w.t.view(h.At)), h.edge()*w.sx+0.8
	for _, far := range []float64{0, 2.5, 5} {
		d := e + far
		for _, try := range []struct {
			p Point
			a Anchor
		}{{Point{m.X + d, m.Y - 0.5*d}, Start}, {Point{m.X - d, m.Y - 0.5*d}, End}, {Point{m.X, m.Y - d}, Middle}, {Point{m.X, m.Y + d + 2}, Middle}, {Point{m.X + d, m.Y + d}, Start}, {Point{m.X - d, m.Y + d}, End}} {
			if w.write([]string{h.Name}, try.p, try.a) {
				return
			}
		}
	}
}

func (w *window) zoneText(z TemplateZone) {
	a, b := w.t.view(z.At), w.t.view(Point{z.At.X + z.Width, z.At.Y + z.Height})
	corner := w.spot(Point{min(a.X, b.X), max(a.Y, b.Y)})
	words := Words{At: Point{corner.X + 1, corner.Y + zoneText + 0.4}, Text: z.What, Size: zoneText, Ink: Faint}
	if words.Length() > z.Width*w.sx-2 && z.Height > z.Width {
		words.Turned = true
		words.At = Point{corner.X + zoneText + 0.4, corner.Y + 1 + words.Length()}
	}
	if b := words.Bounds(); w.free(b) && w.onFigure(b) && words.Length() <= max(z.Width*w.sx, z.Height*w.sy)-1 {
		w.items = append(w.items, words)
		w.taken = append(w.taken, b)
	}
}

// write puts lines of text at p if nothing is in the way, and reports whether it did.
func (w *window) write(lines []string, p Point, a Anchor) bool {
	var words []Words
	for n, l := range lines {
		t := Words{At: Point{p.X, p.Y + float64(n)*templateText*1.2}, Text: l, Size: templateText, Anchor: a, Bold: n == 0}
		if n > 0 {
			t.Size, t.Ink = zoneText, Faint
		}
		if b := t.Bounds(); !w.free(b) || !w.onFigure(b) {
			return false
		}
		words = append(words, t)
	}
	for _, t := range words {
		w.items = append(w.items, t)
		w.taken = append(w.taken, t.Bounds())
	}
	return true
}

func (w *window) free(b Bounds) bool {
	for _, o := range w.taken {
		if b.Left < o.Right && o.Left < b.Right && b.Top < o.Bottom && o.Top < b.Bottom {
			return false
		}
	}
	return true
}

// onFigure reports whether the box lies in the window as drawn.
func (w *window) onFigure(b Bounds) bool {
	return b.Left >= w.off.X && b.Right <= w.off.X+w.wide*w.sx && b.Top >= w.off.Y && b.Bottom <= w.off.Y+w.tall*w.sy
}

func (w *window) inside(p Point) bool {
	return p.X >= w.left && p.X <= w.left+w.wide && p.Y >= w.low && p.Y <= w.low+w.tall
}

// datum marks the corner that is measured from: two arrows along the edges.
func (w *window) datum() {
	t := w.t
	at := t.view(t.Datum)
	if !w.inside(at) {
		return
	}
	dx, dy := 1.0, 1.0
	if at.X > t.Width/2 {
		dx = -1
	}
	if at.Y > t.Height/2 {
		dy = -1
	}
	long, wide := 9/w.sx, 1.1/w.sx
	for _, a := range [][]Point{{{0, 0}, {long, 0}, {long - 2*wide, wide}}, {{long, 0}, {long - 2*wide, -wide}}, {{0, 0}, {0, long}, {wide, long - 2*wide}}, {{0, long}, {-wide, long - 2*wide}}} {
		var list []Point
		for _, p := range a {
			list = append(list, Point{at.X + dx*p.X, at.Y + dy*p.Y})
		}
		w.polyline(list, Line{Ink: Alarm, Width: 0.35})
	}
	m := w.spot(at)
	w.write([]string{"0, 0"}, Point{m.X + dx*2, m.Y - dy*2 + max(-dy, 0)*templateText}, map[bool]Anchor{true: Start, false: End}[dx > 0])
}

// polyline draws lines, cut where they leave the window.
func (w *window) polyline(points []Point, like Line) {
	for n := 1; n < len(points); n++ {
		a, b, ok := w.cut(points[n-1], points[n])
		if !ok {
			continue
		}
		l := like
		l.Points = []Point{w.spot(a), w.spot(b)}
		// lines that go on where the last one ended are one line
		if last, is := w.lastLine(); is && n > 1 && last.Ink == l.Ink && last.Width == l.Width && last.Dashed == l.Dashed && near(last.Points[len(last.Points)-1], l.Points[0]) {
			last.Points = append(last.Points, l.Points[1])
			w.items[len(w.items)-1] = last
			continue
		}
		w.items = append(w.items, l)
	}
}

func near(a, b Point) bool { return math.Abs(a.X-b.X) < 1e-9 && math.Abs(a.Y-b.Y) < 1e-9 }

func (w *window) lastLine() (Line, bool) {
	if len(w.items) == 0 {
		return Line{}, false
	}
	l, ok := w.items[len(w.items)-1].(Line)
	return l, ok
}

// ring draws a circle: as such if it is whole and the scales are alike, else as lines.
func (w *window) ring(at Point, r float64, like Line) {
	if w.sx == w.sy && at.X-r >= w.left && at.X+r <= w.left+w.wide && at.Y-r >= w.low && at.Y+r <= w.low+w.tall {
		w.items = append(w.items, Circle{Centre: w.spot(at), Radius: r * w.sx, Width: like.Width, Ink: like.Ink})
		return
	}
	var list []Point
	steps := max(24, int(math.Ceil(2*math.Pi*r/0.4)))
	for n := range steps + 1 {
		a := 2 * math.Pi * float64(n) / float64(steps)
		list = append(list, Point{at.X + r*math.Cos(a), at.Y + r*math.Sin(a)})
	}
	w.polyline(list, like)
}

// cut returns the part of the line from a to b that lies in the window. Method: Liang and Barsky, ACM Transactions on Graphics 3 (1984).
func (w *window) cut(a, b Point) (Point, Point, bool) {
	from, to := 0.0, 1.0
	d := Point{b.X - a.X, b.Y - a.Y}
	for _, side := range [4][2]float64{{-d.X, a.X - w.left}, {d.X, w.left + w.wide - a.X}, {-d.Y, a.Y - w.low}, {d.Y, w.low + w.tall - a.Y}} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			from = max(from, q/p)
		case p > 0:
			to = min(to, q/p)
		}
	}
	if from >= to {
		return a, b, false
	}
	return Point{a.X + from*d.X, a.Y + from*d.Y}, Point{a.X + to*d.X, a.Y + to*d.Y}, true
}

// Overview draws the whole sheet small enough for the width and height, with the holes' names.
func (t Template) Overview(id string, width, tall float64) Figure {
	const rim = 6.0
	scale := min((width-2*rim)/t.Width, (tall-2*rim)/t.Height, 1)
	f := Figure{ID: id, Title: t.Title, Alt: t.Alt, Width: t.Width*scale + 2*rim, Height: t.Height*scale + 2*rim}
	w := window{t: t, left: -rim / scale, low: -rim / scale, wide: t.Width + 2*rim/scale, tall: t.Height + 2*rim/scale, sx: scale, sy: scale}
	w.draw(true)
	f.Items = w.items
	return f
}

// side is the line that says how the paper lies.
func (t Template) side() string {
	text := "lay on the " + t.Side
	if t.Mirrored {
		text += " (turned over: left and right are changed)"
	}
	return text
}

// pageName names a tile by its column's letter and row's number, from the upper left.
func pageName(column, row int) string { return fmt.Sprintf("%c%d", 'A'+column, row+1) }
