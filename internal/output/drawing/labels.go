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
	ShockSign                    // on the door, of what is live
	NamePlate                    // on the door: what the box is fed with, a line for each of Fields
)

// Sizes of labels, millimetres. The pitch is that of a small feed-through terminal, as IEC 60947-7-1 sizes of 2.5 mm² are mostly
// sold; common practice.
const (
	markerWidth, markerHeight   = 16.0, 8.0
	tagWidth, tagHeight         = 38.0, 13.0
	legendWidth, legendHeight   = 44.0, 14.0
	signWidth, signHeight       = 80.0, 36.0
	plateWidth                  = 110.0
	plateHead, plateLine        = 11.0, 5.0
	terminalPitch, stripHeight  = 5.2, 7.0
	labelGap                    = 2.5
	labelsWide, labelsNarrow    = 165.0, 84.0 // paper of both sizes, and a phone
	labelsTall                  = 196.0       // of one figure, so that its page holds it on either paper
	stripHead                   = 13.0
	barLength, barRoom, barTall = 100.0, 13.0, 3.0
)

// placedLabel is a label as it is drawn, with its size.
type placedLabel struct {
	items         []Item
	width, height float64
}

// Labels draws the labels at true size on as many figures as they need, each with a bar of 100 mm to check the printer by; and
// each of these once more for a phone's width, to be looked at, not to be cut out.
func Labels(s LabelSheet) (wide, narrow []Figure) {
	pages := labelPages(drawn(s.Groups, labelsWide))
	slim := drawn(s.Groups, labelsNarrow)
	for n, page := range pages {
		w, in := layLabels(page, labelsWide), layLabels(samePage(slim, page), labelsNarrow)
		w.ID, in.ID, w.Title, w.Alt = fmt.Sprintf("%s-%d", s.ID, n+1), fmt.Sprintf("%s-narrow-%d", s.ID, n+1), s.Title, s.Alt
		if len(pages) > 1 {
			w.Title = fmt.Sprintf("%s, %d of %d", s.Title, n+1, len(pages))
		}
		w.TrueScale, in.Title, in.Alt = true, w.Title, w.Alt
		wide, narrow = append(wide, w), append(narrow, in)
	}
	return wide, narrow
}

// drawnGroup are labels of a group as they are drawn, each in one piece or several; from and to say which of the group's.
type drawnGroup struct {
	title    string
	labels   [][]placedLabel
	group    int
	from, to int
}

func drawn(groups []LabelGroup, width float64) []drawnGroup {
	var list []drawnGroup
	for n, g := range groups {
		d := drawnGroup{title: g.Title, group: n, to: len(g.Labels)}
		for _, l := range g.Labels {
			d.labels = append(d.labels, drawLabel(l, width))
		}
		list = append(list, d)
	}
	return list
}

// samePage are the labels of a page out of all labels drawn otherwise.
func samePage(all, page []drawnGroup) []drawnGroup {
	var same []drawnGroup
	for _, g := range page {
		other := all[g.group]
		other.labels, other.from, other.to = other.labels[g.from:g.to], g.from, g.to
		same = append(same, other)
	}
	return same
}

// labelPages shares the labels out among figures that a page holds.
func labelPages(groups []drawnGroup) [][]drawnGroup {
	var pages [][]drawnGroup
	var page []drawnGroup
	y := barRoom
	for _, g := range groups {
		for from := 0; from < len(g.labels); {
			fit := 0
			row := shelf{y: y + groupHeading}
			for _, l := range g.labels[from:] {
				if row.add(l, labelsWide, nil); row.bottom() > labelsTall && (fit > 0 || len(page) > 0) {
					break
				}
				y = row.bottom() + labelGap
				fit++
			}
			if fit > 0 {
				part := g
				part.labels, part.from, part.to = g.labels[from:from+fit], from, from+fit
				page = append(page, part)
				from += fit
			}
			if from < len(g.labels) {
				pages, page, y = append(pages, page), nil, barRoom
			}
		}
	}
	if len(page) > 0 {
		pages = append(pages, page)
	}
	return pages
}

const groupHeading = 5.5

// shelf is a row of labels that is being filled.
type shelf struct{ x, y, tall float64 }

func (r *shelf) bottom() float64 { return r.y + r.tall }

// add puts the pieces of a label on the shelf, or on a new one beneath it, and their items into the figure if there is one.
func (r *shelf) add(pieces []placedLabel, width float64, f *Figure) {
	for _, p := range pieces {
		if r.x > 0 && r.x+p.width > width+1e-9 {
			r.x, r.y, r.tall = 0, r.bottom()+labelGap, 0
		}
		if f != nil {
			f.Items = append(f.Items, moved(p.items, r.x, r.y)...)
		}
		r.x, r.tall = r.x+p.width+labelGap, max(r.tall, p.height)
	}
}

// layLabels lays the labels out in rows, each group under its heading.
func layLabels(groups []drawnGroup, width float64) Figure {
	f := Figure{Width: width, Items: bar(width)}
	y := barRoom
	for _, g := range groups {
		f.Items = append(f.Items, Words{At: Point{0, y + 3.6}, Text: g.title, Size: 3, Ink: Faint})
		row := shelf{y: y + groupHeading}
		for _, l := range g.labels {
			row.add(l, width, &f)
		}
		y = row.bottom() + labelGap
	}
	f.Height = y
	return f
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
		p.paragraph(l.Small, tagWidth/2, 7.2, tagWidth-3, 5.2, 2.5, false, Middle)
		return []placedLabel{p}
	case LegendPlate:
		p := blank(legendWidth, legendHeight)
		p.centre(l.Text, legendWidth/2, legendHeight/2, legendWidth-4, 5.6, true)
		return []placedLabel{p}
	case StripMarker:
		return strip(l, width)
	case NamePlate:
		p := blank(min(plateWidth, width), plateHead+float64(len(l.Fields))*plateLine)
		p.paragraph(l.Text, 4, 3.5, p.width-8, 6, 4.2, true, Start)
		for n, field := range l.Fields {
			p.paragraph(field, 4, plateHead-2+float64(n)*plateLine, p.width-8, plateLine, 3, false, Start)
		}
		return []placedLabel{p}
	case WarningSign, ShockSign:
		w := min(signWidth, width)
		p := blank(w, signHeight)
		p.items = append(p.items, triangle(3, 5, l.Kind == ShockSign)...)
		p.paragraph(l.Text, 20, 4, w-23, signHeight-8, 4, true, Start)
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
func (p *placedLabel) paragraph(text string, x, y, width, height, size float64, bold bool, anchor Anchor) {
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
		p.items = append(p.items, Words{At: Point{x, y + size*typeface.CapHeight + float64(n)*size*leading}, Text: line, Size: size, Bold: bold, Anchor: anchor})
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
func triangle(x, y float64, shock bool) []Item {
	const side = 14.0
	high := side * math.Sqrt(3) / 2
	if shock { // the arrow of lightning: a bent stroke, with its head at the foot
		at := func(dx, dy float64) Point { return Point{x + side/2 + dx, y + dy} }
		return []Item{
			Line{Points: []Point{{x, y + high}, {x + side/2, y}, {x + side, y + high}}, Closed: true, Width: 1},
			Line{Points: []Point{at(0.9, high*0.30), at(-1.5, high*0.60), at(1.2, high*0.57), at(-0.4, high*0.80)}, Width: 0.7},
			Line{Points: []Point{at(-0.9, high*0.92), at(-1.0, high*0.76), at(0.7, high*0.83)}, Closed: true, Filled: true},
		}
	}
	return []Item{
		Line{Points: []Point{{x, y + high}, {x + side/2, y}, {x + side, y + high}}, Closed: true, Width: 1},
		Line{Points: []Point{{x + side/2, y + high*0.38}, {x + side/2, y + high*0.68}}, Width: 1.3},
		Circle{Centre: Point{x + side/2, y + high*0.84}, Radius: 0.75, Filled: true},
	}
}
