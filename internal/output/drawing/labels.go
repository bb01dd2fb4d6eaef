package drawing

import (
	"fmt"
	"math"
	"strings"

	"drivewright/internal/output/typeface"
)

// LabelSheet is a set of labels to be printed at true size, cut out and stuck on.
type LabelSheet struct {
	ID, Title, Alt string
	Groups         []LabelGroup
	// Width is that of the figures; 0 for one that both paper sizes hold.
	Width float64
}

// LabelGroup are labels of one kind under a heading.
type LabelGroup struct {
	Title  string
	Labels []Label
}

// Label is one label.
type Label struct {
	Kind LabelKind
	Text string
	// Small stands beneath the text of a tag.
	Small string
	// Fields are the terminals of a strip, each as wide as a terminal.
	Fields []string
}

// LabelKind says how large a label is and what it looks like.
type LabelKind int

// The kinds of label.
const (
	WireMarker  LabelKind = iota // wrapped around the end of a wire
	DeviceTag                    // beside a device on the plate
	LegendPlate                  // beside a button
	StripMarker                  // along a terminal block
	WarningSign                  // on the door
)

// Sizes of labels, millimetres. The pitch is that of a small feed-through terminal, as IEC 60947-7-1 sizes of 2.5 mm² are mostly
// sold; common practice.
const (
	markerWidth, markerHeight   = 16.0, 8.0
	tagWidth, tagHeight         = 38.0, 13.0
	legendWidth, legendHeight   = 44.0, 14.0
	signWidth, signHeight       = 80.0, 36.0
	terminalPitch, stripHeight  = 5.2, 7.0
	labelGap, labelsWide        = 2.5, 165.0
	labelsTall                  = 196.0 // of one figure, so that its page holds it on either paper
	stripHead                   = 13.0
	barLength, barRoom, barTall = 100.0, 13.0, 3.0
)

// placedLabel is a label as it is drawn, with its size.
type placedLabel struct {
	items         []Item
	width, height float64
}

// Labels draws the labels, on as many figures as they need, each with a bar of 100 mm (of 50 mm on a narrow figure) to check the
// printer by.
func Labels(s LabelSheet) []Figure {
	width := s.Width
	if width == 0 {
		width = labelsWide
	}
	var figures []Figure
	var page Figure
	x, y, tall := 0.0, 0.0, 0.0
	begin := func() {
		page = Figure{Width: width, TrueScale: s.Width == 0}
		page.Items = bar(width)
		x, y, tall = 0, barRoom, 0
	}
	end := func() {
		page.Height = y + tall
		figures = append(figures, page)
	}
	begin()
	for _, g := range s.Groups {
		for n, l := range g.Labels {
			for _, p := range drawLabel(l, width) {
				heading := 0.0
				if n == 0 {
					heading = 5.5
				}
				if n == 0 || x+p.width > width+1e-9 {
					x, y, tall = 0, y+tall+labelGap*math.Min(tall, 1), 0
				}
				if y+heading+p.height > labelsTall && y > barRoom {
					end()
					begin()
					heading = 5.5
				}
				if heading > 0 {
					page.Items = append(page.Items, Words{At: Point{0, y + 3.6}, Text: g.Title, Size: 3, Ink: Faint})
					y += heading
				}
				page.Items = append(page.Items, moved(p.items, x, y)...)
				x, tall = x+p.width+labelGap, math.Max(tall, p.height)
			}
		}
	}
	end()
	for n := range figures {
		f := &figures[n]
		f.ID, f.Title, f.Alt = fmt.Sprintf("%s-%d", s.ID, n+1), s.Title, s.Alt
		if len(figures) > 1 {
			f.Title = fmt.Sprintf("%s, %d of %d", s.Title, n+1, len(figures))
		}
	}
	return figures
}

// bar is the check bar at the head of a figure.
func bar(width float64) []Item {
	length := barLength
	if length > width {
		length = barLength / 2
	}
	items := []Item{Line{Points: []Point{{0, 2}, {length, 2}, {length, 2 + barTall}, {0, 2 + barTall}}, Closed: true, Filled: true}}
	text := fmt.Sprintf("%.0f mm exactly, or the printer has changed the size", length)
	return append(items, Words{At: Point{0, 9.2}, Text: text, Size: 2.8, Ink: Faint})
}

// drawLabel draws a label; a strip that is wider than the figure comes in pieces.
func drawLabel(l Label, width float64) []placedLabel {
	switch l.Kind {
	case WireMarker:
		p := blank(markerWidth, markerHeight)
		p.centre(l.Text, markerWidth/2, markerHeight/2, markerWidth-2, 4.2, true)
		return []placedLabel{p}
	case DeviceTag:
		p := blank(tagWidth, tagHeight)
		p.centre(l.Text, tagWidth/2, 4.4, tagWidth-3, 5.2, true)
		p.paragraph(l.Small, 1.5, 7.2, tagWidth-3, 5.2, 2.5, false)
		return []placedLabel{p}
	case LegendPlate:
		p := blank(legendWidth, legendHeight)
		p.centre(l.Text, legendWidth/2, legendHeight/2, legendWidth-4, 5.6, true)
		return []placedLabel{p}
	case StripMarker:
		return strip(l, width)
	case WarningSign:
		w := min(signWidth, width)
		p := blank(w, signHeight)
		p.items = append(p.items, triangle(3, 5)...)
		p.paragraph(l.Text, 20, 4, w-23, signHeight-8, 4, true)
		return []placedLabel{p}
	}
	return nil
}

// blank is an empty label with its outline to cut along.
func blank(width, height float64) placedLabel {
	return placedLabel{[]Item{Line{Points: []Point{{0, 0}, {width, 0}, {width, height}, {0, height}}, Closed: true, Width: 0.18, Ink: Faint}}, width, height}
}

// centre sets a text in the middle, smaller where it wouldn't fit.
func (p *placedLabel) centre(text string, x, y, width, size float64, bold bool) {
	face := typeface.Regular
	if bold {
		face = typeface.Semibold
	}
	if w := face.Width(text, size); w > width {
		size *= width / w
	}
	p.items = append(p.items, Words{At: Point{x, y + size*typeface.CapHeight/2}, Text: text, Size: size, Anchor: Middle, Bold: bold})
}

// paragraph sets a text in lines within the box, as large as it fits up to the size.
func (p *placedLabel) paragraph(text string, x, y, width, height, size float64, bold bool) {
	if strings.TrimSpace(text) == "" {
		return
	}
	face := typeface.Regular
	if bold {
		face = typeface.Semibold
	}
	var lines []string
	const leading = 1.22
	for ; ; size *= 0.94 {
		lines = wrap(text, face, size, width)
		if float64(len(lines))*size*leading <= height && widest(lines, face, size) <= width || size < 0.8 {
			break
		}
	}
	for n, line := range lines {
		p.items = append(p.items, Words{At: Point{x, y + size*typeface.CapHeight + float64(n)*size*leading}, Text: line, Size: size, Bold: bold})
	}
}

// strip draws the marker of a terminal block with one field for each terminal, in pieces where it is too long.
func strip(l Label, width float64) []placedLabel {
	var pieces []placedLabel
	most := max(int((width-stripHead)/terminalPitch), 1)
	for from := 0; from < len(l.Fields); from += most {
		fields := l.Fields[from:min(from+most, len(l.Fields))]
		p := blank(stripHead+float64(len(fields))*terminalPitch, stripHeight)
		p.centre(l.Text, stripHead/2, stripHeight/2, stripHead-2, 4, true)
		for n, f := range fields {
			x := stripHead + float64(n)*terminalPitch
			p.items = append(p.items, Line{Points: []Point{{x, 0}, {x, stripHeight}}, Width: 0.18, Ink: Faint})
			p.centre(f, x+terminalPitch/2, stripHeight/2, terminalPitch-0.8, 3.4, false)
		}
		pieces = append(pieces, p)
	}
	return pieces
}

// triangle is the general warning sign. Source: ISO 7010, W001, its shape.
func triangle(x, y float64) []Item {
	const side = 14.0
	high := side * math.Sqrt(3) / 2
	return []Item{
		Line{Points: []Point{{x, y + high}, {x + side/2, y}, {x + side, y + high}}, Closed: true, Width: 1},
		Line{Points: []Point{{x + side/2, y + high*0.38}, {x + side/2, y + high*0.68}}, Width: 1.3},
		Circle{Centre: Point{x + side/2, y + high*0.84}, Radius: 0.75, Filled: true},
	}
}
