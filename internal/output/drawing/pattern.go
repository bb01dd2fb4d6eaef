package drawing

import "math"

// Pattern is a group of holes with the readings between them, in millimetres, x right and y up as seen from the side that it was measured from.
type Pattern struct {
	ID, Title, Alt string
	Holes          []PatternHole
	Readings       []PatternReading
}

// PatternHole is one hole with its place and how far that may be off along x and y.
type PatternHole struct {
	Name       string
	X, Y       float64
	Across     float64 // 0 where it isn't known
	OffX, OffY float64 // standard deviations
	// Pull is a force on a bolt in this hole, along x and y; Words are written beside it. Both are for bolt groups.
	PullX, PullY float64
	Words        string
}

// PatternReading is a reading between two holes, by their indices; Words are what is written at its middle.
type PatternReading struct {
	From, To int
	Words    string
	Wrong    bool // suspected
	Spare    bool // nothing checks it
}

// The look of a pattern.
const (
	patternRim  = 12.0
	patternText = 2.6
	// ellipses are drawn this much larger than the spread, or nobody would see them
	spreadShown = 50.0
)

// DrawPattern draws the pattern into a width, with the suspected readings in the colour of alarm and the unchecked ones dashed. The spreads are drawn
// fifty times as large; a force's arrow says its direction, the longest is a sixth of the figure's width.
func DrawPattern(p Pattern, width float64) Figure {
	f := Figure{ID: p.ID, Title: p.Title, Alt: p.Alt, Width: width, Height: 2 * patternRim}
	if len(p.Holes) == 0 {
		return f
	}
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	most := 0.0
	for _, h := range p.Holes {
		r := h.Across / 2
		low, high = Point{min(low.X, h.X-r), min(low.Y, h.Y-r)}, Point{max(high.X, h.X+r), max(high.Y, h.Y+r)}
		most = max(most, math.Hypot(h.PullX, h.PullY))
	}
	across, up := max(high.X-low.X, 1), max(high.Y-low.Y, 1)
	// never taller than wide
	k := min((width-2*patternRim)/across, (width-2*patternRim)/up)
	f.Height = up*k + 2*patternRim
	long := width / 6 / max(most, 1e-9)
	for _, h := range p.Holes {
		// room for an arrow that points out of the pattern
		f.Height = max(f.Height, patternRim+(high.Y-h.Y)*k-min(h.PullY, 0)*long+2)
	}
	left := (width - across*k) / 2
	at := func(x, y float64) Point { return Point{left + (x-low.X)*k, patternRim + (high.Y-y)*k} }
	for _, r := range p.Readings {
		a, b := p.Holes[r.From], p.Holes[r.To]
		ink := Faint
		if r.Wrong {
			ink = Alarm
		}
		f.Items = append(f.Items, Line{Points: []Point{at(a.X, a.Y), at(b.X, b.Y)}, Width: 0.25, Ink: ink, Dashed: r.Spare})
	}
	for _, h := range p.Holes {
		c := at(h.X, h.Y)
		f.Items = append(f.Items, Circle{Centre: c, Radius: max(h.Across/2*k, 0.8)},
			Line{Points: []Point{{c.X - 1.5, c.Y}, {c.X + 1.5, c.Y}}, Width: 0.18}, Line{Points: []Point{{c.X, c.Y - 1.5}, {c.X, c.Y + 1.5}}, Width: 0.18})
		if h.OffX > 0 || h.OffY > 0 {
			f.Items = append(f.Items, Line{Points: ellipse(c, h.OffX*spreadShown*k, h.OffY*spreadShown*k), Width: 0.25, Ink: Accent, Closed: true})
		}
		if pull := math.Hypot(h.PullX, h.PullY); pull > 0 && most > 0 {
			tip := Point{c.X + h.PullX*long, c.Y - h.PullY*long}
			f.Items = append(f.Items, Line{Points: []Point{c, tip}, Width: 0.5, Ink: Accent}, arrowHead(c, tip))
		}
	}
	// Words come last, over the lines.
	for _, r := range p.Readings {
		a, b := p.Holes[r.From], p.Holes[r.To]
		// a third of the way along, so that the words of two diagonals don't meet
		m := at(a.X+(b.X-a.X)*0.4, a.Y+(b.Y-a.Y)*0.4)
		ink := Main
		if r.Wrong {
			ink = Alarm
		}
		if r.Words != "" {
			f.Items = append(f.Items, Words{At: Point{m.X, m.Y + patternText/3}, Text: r.Words, Size: patternText, Anchor: Middle, Ink: ink, Knockout: true})
		}
	}
	for _, h := range p.Holes {
		c := at(h.X, h.Y)
		off := max(h.Across/2*k, 0.8) + 1
		words := Words{At: Point{c.X + off, c.Y - off}, Text: h.Name, Size: 3.2, Bold: true, Knockout: true}
		if c.X > width/2 {
			words.At.X, words.Anchor = c.X-off, End
		}
		f.Items = append(f.Items, words)
		if h.Words != "" {
			// over the name: an arrow of weight points down
			above := words
			above.At.Y, above.Text, above.Size, above.Bold = words.At.Y-4, h.Words, patternText, false
			f.Items = append(f.Items, above)
		}
	}
	return f
}

// ellipse is a closed polygon round c that no eye tells from an ellipse.
func ellipse(c Point, a, b float64) []Point {
	var list []Point
	for n := range 36 {
		s, k := math.Sincos(float64(n) * math.Pi / 18)
		list = append(list, Point{c.X + a*k, c.Y + b*s})
	}
	return list
}

// arrowHead is a filled head at the end of a line.
func arrowHead(from, tip Point) Line {
	const long, half = 2.2, 0.8
	d := math.Hypot(tip.X-from.X, tip.Y-from.Y)
	if d == 0 {
		return Line{}
	}
	x, y := (tip.X-from.X)/d, (tip.Y-from.Y)/d
	foot := Point{tip.X - x*long, tip.Y - y*long}
	return Line{Points: []Point{tip, {foot.X - y*half, foot.Y + x*half}, {foot.X + y*half, foot.Y - x*half}}, Closed: true, Filled: true, Ink: Accent, Width: 0.1}
}
