package drawing

import (
	"math"
	"slices"

	"drivewright/internal/output/typeface"
)

// Path is a power path, from the supply to the motor.
type Path struct {
	ID, Title, Alt string
	Standard       Standard
	Parts          []PathPart
	// Ground is what stands at the equipment grounding conductor, such as its size; "" leaves the conductor out.
	Ground string
	// Narrow runs the path downwards, for a phone; otherwise it runs from left to right, in as many rows as it needs.
	Narrow bool
	// Width is the figure's, in millimetres; 0 means 170, or 90 for a narrow one.
	Width float64
}

// PathPart is one piece of equipment or one length of wire.
type PathPart struct {
	Kind   Symbol
	Tag    string   // what it is, in a word or two
	Labels []string // ratings and sizes, a line each
	// Wires is the number of live conductors of a Conductor; strokes across it show them.
	Wires int
	Alarm bool // something blocks here: drawn and marked as such
	// Group is the box or place that the part is in; parts of the same group that follow one another stand in one frame.
	Group string
}

// Sizes of type and gaps in a single-line diagram, millimetres.
const (
	tagSize      = 2.9
	labelSize    = 2.6
	lineHeight   = 3.3
	groundOffset = 8.5 // of the grounding conductor from the path
	groundRow    = 4.5 // kept free beyond it for its own label
	frameGap     = 2.2
	captionRow   = 4.6
	wireWidth    = 0.5
	groundWidth  = 0.3
)

// SingleLine draws a power path as a single-line diagram. Texts overlap neither one another nor a symbol, and nothing
// leaves the figure, as long as no single word is wider than the figure.
func SingleLine(p Path) Figure {
	f := Figure{ID: p.ID, Title: p.Title, Alt: p.Alt, Width: p.Width}
	if f.Width == 0 {
		f.Width = 170
		if p.Narrow {
			f.Width = 90
		}
	}
	if p.Narrow {
		f.Items, f.Height = downwards(p, f.Width)
		return f
	}
	const broadest, narrowest = 30.0, 18.0 // of a text
	for rows := 1; ; rows++ {
		room := f.Width - 2
		if rows > 1 {
			room = f.Width - 14 // for the turns from row to row
		}
		best := arrange(p, narrowest, rows)
		if best.width() > room && rows < 4 {
			continue
		}
		for limit := broadest; limit > narrowest; limit -= 2 {
			if l := arrange(p, limit, rows); l.width() <= room {
				best = l
				break
			}
		}
		f.Items, f.Height = best.draw(p, f.Width)
		return f
	}
}

// station is one part with its texts broken into lines and its place along the row.
type station struct {
	part   PathPart
	shape  shape
	tag    []string
	lines  []string
	half   float64 // along the path
	beside float64 // half the width of the texts beneath
	x      float64
	before bool // a frame begins before it
	after  bool // a frame ends after it
}

// layout is a path broken into rows.
type layout struct{ rows [][]station }

func stationOf(part PathPart, standard Standard, limit float64) station {
	s := station{part: part, shape: shapeOf(part.Kind, standard)}
	for _, l := range part.Labels {
		s.lines = append(s.lines, wrap(l, typeface.Regular, labelSize, limit)...)
	}
	s.tag = wrap(part.Tag, typeface.Semibold, tagSize, limit-markRoom(part))
	w := max(widest(s.lines, typeface.Regular, labelSize), widest(s.tag, typeface.Semibold, tagSize)+markRoom(part))
	if part.Kind == Conductor {
		s.half = max(w/2+1, 4)
		return s
	}
	s.half, s.beside = s.shape.half, w/2
	return s
}

// markRoom returns how much room the mark of an alarm takes before the tag.
func markRoom(part PathPart) float64 {
	if part.Alarm {
		return 2 * 3.8 // on both sides, so that the tag stays in the middle
	}
	return 0
}

// arrange places the parts in the given number of rows of about the same length.
func arrange(p Path, limit float64, rows int) layout {
	var all []station
	for n, part := range p.Parts {
		s := stationOf(part, p.Standard, limit)
		if part.Group != "" {
			s.before = n == 0 || p.Parts[n-1].Group != part.Group
			s.after = n == len(p.Parts)-1 || p.Parts[n+1].Group != part.Group
		}
		all = append(all, s)
	}
	// a row ends on a conductor outside any box, so that no frame is broken
	var breaks []int
	for n, s := range all[:max(len(all)-1, 0)] {
		if n > 0 && s.part.Kind == Conductor && s.part.Group == "" {
			breaks = append(breaks, n+1)
		}
	}
	best := layout{rows: [][]station{all}}
	place(all)
	width := math.Inf(1)
	var split func(from int, rows [][]station, left int)
	split = func(from int, rows [][]station, left int) {
		if left == 1 {
			l := layout{rows: append(slices.Clone(rows), slices.Clone(all[from:]))}
			for _, r := range l.rows {
				place(r)
			}
			if w := l.width(); w < width-0.01 {
				best, width = l, w
			}
			return
		}
		for _, b := range breaks {
			if b > from {
				split(b, append(slices.Clone(rows), slices.Clone(all[from:b])), left-1)
			}
		}
	}
	split(0, nil, rows)
	return best
}

// place sets the stations' places from left to right, as close as their symbols, texts and frames allow, and returns the
// length of the row.
func place(row []station) float64 {
	line, text := 0.0, math.Inf(-1)
	for n := range row {
		s := &row[n]
		if s.before {
			edge := max(line, text) + frameGap
			line, text = edge+frameGap/2, edge+frameGap
		}
		gap := 1.2
		if s.part.Kind == Conductor || n == 0 || row[n-1].part.Kind == Conductor {
			gap = 0
		}
		s.x = line + gap + s.half
		if s.beside > 0 {
			s.x = max(s.x, text+s.beside)
			if n == 0 {
				s.x = max(s.x, s.beside)
			}
			text = s.x + s.beside + 2
		}
		line = s.x + s.half
		if s.after {
			edge := max(line, text-2) + frameGap
			line, text = edge+frameGap/2, edge+frameGap
		}
	}
	return max(line, text-2)
}

func (l layout) width() float64 {
	w := 0.0
	for _, r := range l.rows {
		w = max(w, rowWidth(r))
	}
	return w
}

func rowWidth(r []station) float64 {
	w := 0.0
	for _, s := range r {
		right := s.x + max(s.half, s.beside)
		if s.after {
			right += frameGap + 1
		}
		w = max(w, right)
	}
	return w
}

// spread stretches the conductors of a row so that it fills the width.
func spread(row []station, width float64) {
	wires := 0
	for _, s := range row {
		if s.part.Kind == Conductor {
			wires++
		}
	}
	if wires == 0 {
		return
	}
	more := min((width-rowWidth(row))/float64(wires), 22)
	shift := 0.0
	for n := range row {
		if row[n].part.Kind == Conductor && more > 0 {
			row[n].x += shift + more/2
			row[n].half += more / 2
			shift += more
			continue
		}
		row[n].x += shift
	}
}

// draw draws the rows one beneath the other and returns the height taken.
func (l layout) draw(p Path, width float64) ([]Item, float64) {
	var items []Item
	left, room := 1.0, width-2
	if len(l.rows) > 1 {
		left, room = 7, width-14
	}
	top := 1.0
	var turn *turnFrom
	for n, row := range l.rows {
		spread(row, room)
		h := heightsOf(row, p.Ground != "")
		y := top + h.up
		if turn != nil {
			items = append(items, turn.into(left, y, p.Ground != "")...)
		}
		items = append(items, drawRow(row, left, y, h, p, n == 0)...)
		end := left + row[len(row)-1].x + row[len(row)-1].half
		top = y + h.down
		if n < len(l.rows)-1 {
			turn = &turnFrom{x: end, y: y, right: width - 1.5, lane: top + 2.5}
			top += 7
		}
	}
	return items, top + 1
}

// heights are how far a row reaches above and below its path.
type heights struct{ up, down, frameUp, frameDown float64 }

func heightsOf(row []station, ground bool) heights {
	var h heights
	h.frameUp = 6.5
	for _, s := range row {
		h.frameUp = max(h.frameUp, s.shape.up+1.5)
		if s.part.Kind == Conductor {
			h.frameUp = max(h.frameUp, 2.4+lineHeight*float64(len(s.lines)+len(s.tag))+1.4)
		}
	}
	h.up = h.frameUp
	below := 6.3
	if ground {
		below = groundOffset + groundRow
	}
	h.frameDown = below
	for _, s := range row {
		if s.part.Kind != Conductor {
			h.frameDown = max(h.frameDown, below+lineHeight*float64(len(s.lines)+len(s.tag))+0.6)
		}
		if s.before {
			h.up = h.frameUp + captionRow
		}
	}
	h.down = h.frameDown + 0.5
	return h
}

// turnFrom is where a row ends and how its wires go round to the next.
type turnFrom struct{ x, y, right, lane float64 }

// into draws the wires from the end of one row to the beginning of the next, without a crossing.
func (t turnFrom) into(left, y float64, ground bool) []Item {
	items := []Item{Line{Points: []Point{{t.x, t.y}, {t.right, t.y}, {t.right, t.lane + 2.5}, {left - 2, t.lane + 2.5}, {left - 2, y}, {left, y}}, Width: wireWidth}}
	if ground {
		items = append(items, Line{Points: []Point{{t.x, t.y + groundOffset}, {t.right - 2.5, t.y + groundOffset}, {t.right - 2.5, t.lane}, {left - 4.5, t.lane},
			{left - 4.5, y + groundOffset}, {left, y + groundOffset}}, Dashed: true, Width: groundWidth})
	}
	return items
}

// drawRow draws one row with its path at y.
func drawRow(row []station, left, y float64, h heights, p Path, first bool) []Item {
	var items []Item
	ground := p.Ground != ""
	line := 0.0 // where the path has got to
	earthed := !first
	groundFrom, groundTo := 0.0, 0.0
	if first && len(row) > 0 {
		line = row[0].x - row[0].half
	}
	frame := 0.0
	var frames []span
	for n, s := range row {
		at := Point{left + s.x, y}
		ink := inkOf(s.part)
		if start := s.x - s.half; start > line+0.01 {
			items = append(items, Line{Points: []Point{{left + line, y}, {left + start, y}}, Width: wireWidth})
		}
		line = s.x + s.half
		if s.before {
			frame = s.x - max(s.half+frameGap/2, s.beside+frameGap)
			if s.part.Kind == Conductor {
				frame = s.x - s.half
			}
			items = append(items, Words{At: Point{left + frame, y - h.frameUp - 1.3}, Text: s.part.Group, Size: labelSize, Ink: Faint})
		}
		if s.after {
			right := frame
			for m := n; m >= 0 && row[m].part.Group == s.part.Group; m-- {
				edge := row[m].x + max(row[m].half+frameGap/2, row[m].beside+frameGap)
				if row[m].part.Kind == Conductor {
					edge = row[m].x + row[m].half
				}
				right = max(right, edge)
			}
			items = append(items, frameItems(left+frame, y-h.frameUp, left+right, y+h.frameDown)...)
			frames = append(frames, span{left + frame, left + right})
		}
		if s.part.Kind == Conductor {
			items = append(items, drawWire(s, at, false, ink)...)
			continue
		}
		b := &brush{at: at, ink: ink}
		s.shape.draw(b)
		items = append(items, b.items...)
		if ground && !earthed && s.part.Kind != Utility {
			earthed, groundFrom = true, s.x
			items = append(items, earthSign(left+s.x, y+groundOffset)...)
		}
		if ground && earthed && bonded(s.part.Kind) {
			items = append(items, Line{Points: []Point{{at.X, y + s.shape.down}, {at.X, y + groundOffset}}}, dotAt(at.X, y+groundOffset))
		}
		if earthed {
			groundTo = s.x
		}
		below := 6.3
		if ground {
			below = groundOffset + groundRow
		}
		items = append(items, drawLabels(s, Point{at.X, y + below}, Middle, ink)...)
	}
	if ground && earthed {
		if row[len(row)-1].part.Kind == Conductor {
			groundTo = line
		}
		items = append(items, Line{Points: []Point{{left + groundFrom, y + groundOffset}, {left + groundTo, y + groundOffset}}, Dashed: true, Width: groundWidth})
		if first {
			items = append(items, groundLabel(p.Ground, frames, left+groundFrom, left+groundTo, y+groundOffset+2.9))
		}
	}
	return items
}

// span is a stretch along a row.
type span struct{ from, to float64 }

// groundLabel sets what stands at the grounding conductor in the first gap that holds it: better outside the frames than
// inside one, better in full than shortened. The sign of earth stands at from.
func groundLabel(ground string, frames []span, from, to, baseline float64) Item {
	texts := []string{"equipment ground " + ground, "ground " + ground, ground}
	from += 2.4 // clear of the sign
	inside := func(x float64) (span, bool) {
		for _, f := range frames {
			if x >= f.from-0.1 && x < f.to {
				return f, true
			}
		}
		return span{}, false
	}
	var outside, within []span
	at := from
	for at < to {
		if f, in := inside(at); in {
			within = append(within, span{at, f.to})
			at = f.to
			continue
		}
		end := to
		for _, f := range frames {
			if f.from > at {
				end = min(end, f.from)
			}
		}
		outside = append(outside, span{at, end})
		at = end
	}
	for _, gaps := range [][]span{outside, within} {
		for _, text := range texts {
			for _, g := range gaps {
				w := Words{At: Point{g.from + 1, baseline}, Text: text, Size: labelSize}
				if w.Length()+2 <= g.to-g.from {
					return w
				}
			}
		}
	}
	return Words{At: Point{from + 0.6, baseline}, Text: ground, Size: labelSize}
}

// downwards draws the path from top to bottom with its texts to the right, and returns the height taken.
func downwards(p Path, width float64) ([]Item, float64) {
	var items []Item
	const path, textLeft = 21.0, 33.0
	limit := width - textLeft - 4
	y := 1.0
	earthed, groundFrom, groundTo, groundMiddle := false, 0.0, 0.0, 0.0
	frameTop := 0.0
	for n, part := range p.Parts {
		s := stationOf(part, p.Standard, limit)
		if part.Group != "" && (n == 0 || p.Parts[n-1].Group != part.Group) {
			frameTop = y + 0.8
			items = append(items, Line{Points: []Point{{path, y}, {path, y + 6.4}}, Width: wireWidth},
				Words{At: Point{textLeft, frameTop + 3.6}, Text: part.Group, Size: labelSize, Ink: Faint})
			y += 6.4
		}
		text := lineHeight * float64(len(s.lines)+len(s.tag))
		height := max(2*s.shape.half+2.4, text+2.6)
		ink := inkOf(part)
		at := Point{path, y + height/2}
		if part.Kind == Conductor {
			height = max(text+2, 8)
			at.Y = y + height/2
			s.half = height / 2
			items = append(items, drawWire(s, at, true, ink)...)
		} else {
			if n > 0 {
				items = append(items, Line{Points: []Point{{path, y}, {path, at.Y - s.shape.half}}, Width: wireWidth})
			}
			if n < len(p.Parts)-1 {
				items = append(items, Line{Points: []Point{{path, at.Y + s.shape.half}, {path, y + height}}, Width: wireWidth})
			}
			b := &brush{at: at, ink: ink, vertical: true}
			s.shape.draw(b)
			items = append(items, b.items...)
			if p.Ground != "" && part.Kind != Utility {
				if !earthed {
					earthed, groundFrom = true, at.Y
				}
				if bonded(part.Kind) {
					items = append(items, Line{Points: []Point{{path - s.shape.down, at.Y}, {path - groundOffset, at.Y}}}, dotAt(path-groundOffset, at.Y))
				}
				groundTo = at.Y
			}
		}
		items = append(items, drawLabels(s, Point{textLeft, at.Y - text/2}, Start, ink)...)
		y += height
		if part.Group != "" && (n == len(p.Parts)-1 || p.Parts[n+1].Group != part.Group) {
			items = append(items, frameItems(textLeft-28, frameTop, width-1, y+0.8)...)
			if n < len(p.Parts)-1 {
				items = append(items, Line{Points: []Point{{path, y}, {path, y + 2}}, Width: wireWidth})
			}
			y += 2
		}
	}
	if earthed {
		groundMiddle = (groundFrom + groundTo) / 2
		x := path - groundOffset
		items = append(items, Line{Points: []Point{{x, groundFrom}, {x, groundTo}}, Dashed: true, Width: groundWidth})
		items = append(items, Line{Points: []Point{{x - 4, groundFrom}, {x, groundFrom}}})
		items = append(items, earthSign(x-4, groundFrom)...)
		items = append(items, Words{At: Point{3.4, groundMiddle}, Text: "equipment ground " + p.Ground, Size: labelSize, Anchor: Middle, Turned: true})
	}
	return items, y + 1
}

// drawWire draws a length of wire with strokes for its conductors, and its texts over it when it lies.
func drawWire(s station, at Point, vertical bool, ink Ink) []Item {
	b := &brush{at: at, ink: ink, vertical: vertical}
	b.add(Line{Points: b.spots([]float64{-s.half, 0, s.half, 0}), Ink: ink, Width: wireWidth})
	for n := range s.part.Wires {
		u := (float64(n) - float64(s.part.Wires-1)/2) * 1.3
		b.line(u-0.7, 1.5, u+0.7, -1.5)
	}
	if vertical {
		return b.items
	}
	text := lineHeight * float64(len(s.lines)+len(s.tag))
	return append(b.items, drawLabels(s, Point{at.X, at.Y - 2.4 - text}, Middle, ink)...)
}

// drawLabels sets the tag and the labels beneath one another, the first line's top at the given place.
func drawLabels(s station, at Point, anchor Anchor, ink Ink) []Item {
	var items []Item
	y := at.Y
	for n, t := range s.tag {
		y += lineHeight
		w := Words{At: Point{at.X, y - 0.7}, Text: t, Size: tagSize, Anchor: anchor, Ink: ink, Bold: true}
		if s.part.Alarm && n == 0 {
			if anchor == Start {
				w.At.X += 3.8
			}
			left := w.Bounds().Left - 3.6
			items = append(items, alarmMark(left, y-0.7)...)
		}
		items = append(items, w)
	}
	for _, l := range s.lines {
		y += lineHeight
		items = append(items, Words{At: Point{at.X, y - 0.7}, Text: l, Size: labelSize, Anchor: anchor, Ink: ink})
	}
	return items
}

// alarmMark draws the triangle with an exclamation mark that stands before the tag of a part that blocks.
func alarmMark(left, baseline float64) []Item {
	return []Item{
		Line{Points: []Point{{left, baseline}, {left + 2.8, baseline}, {left + 1.4, baseline - 2.4}}, Closed: true, Width: 0.3, Ink: Alarm},
		Line{Points: []Point{{left + 1.4, baseline - 1.6}, {left + 1.4, baseline - 0.85}}, Width: 0.3, Ink: Alarm},
		Line{Points: []Point{{left + 1.4, baseline - 0.4}, {left + 1.4, baseline - 0.38}}, Width: 0.35, Ink: Alarm},
	}
}

func inkOf(part PathPart) Ink {
	if part.Alarm {
		return Alarm
	}
	return Main
}

// bonded reports whether the equipment has a body of its own in its symbol, to which the grounding conductor is joined.
func bonded(s Symbol) bool {
	return s == DriveSymbol || s == ThreePhaseMotor || s == OnePhaseMotor || s == LineFilter || s == RotaryConverter
}

// earthSign draws the sign of earth hanging from x, y.
func earthSign(x, y float64) []Item {
	var items []Item
	items = append(items, Line{Points: []Point{{x, y}, {x, y + 1}}})
	for n, half := range []float64{1.7, 1.05, 0.4} {
		at := y + 1 + 0.75*float64(n)
		items = append(items, Line{Points: []Point{{x - half, at}, {x + half, at}}})
	}
	return items
}

func dotAt(x, y float64) Item {
	return Circle{Centre: Point{x, y}, Radius: 0.6, Filled: true}
}

// frameItems draws the dashed frame of a box.
func frameItems(left, top, right, bottom float64) []Item {
	return []Item{Line{Points: []Point{{left, top}, {right, top}, {right, bottom}, {left, bottom}}, Closed: true, Dashed: true, Width: 0.25, Ink: Faint}}
}
