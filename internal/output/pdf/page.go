package pdf

import (
	"math"
	"strconv"

	"drivewright/internal/output/typeface"
)

// Millimetre is one millimetre in the PDF's unit, 1/72 in; Point is the other way round, for sizes of type.
const (
	Millimetre = 72 / 25.4
	Point      = 25.4 / 72
)

// Page is one page, drawn upon from back to front.
type Page struct {
	document      *Document
	number        int
	width, height float64
	ops           []byte
	owners        []*Element // of the marked stretches, by their number
	links         []*link
	marked        bool
	current       *Element // whose stretch is being drawn
}

type link struct {
	x, y, w, h float64
	page       *Page
	to         *Place
	element    *Element
	object     int // number of its PDF object, once reserved
}

// Colour is a colour of light, each part from 0 to 1.
type Colour struct{ R, G, B float64 }

// Grey returns the grey of the lightness, 0 for black.
func Grey(lightness float64) Colour { return Colour{lightness, lightness, lightness} }

// Stroke says how a line is drawn.
type Stroke struct {
	Width  float64 // mm
	Colour Colour
	Dash   []float64 // mm on, mm off …; nil for a whole line
	Round  bool      // round ends and corners
}

// Begin says that what is drawn until End belongs to the element; nil for what only decorates the page or repeats on each.
// Stretches don't nest: a Begin ends the one before.
func (p *Page) Begin(e *Element) {
	p.End()
	p.marked, p.current = true, e
	if e == nil {
		p.ops = append(p.ops, "/Artifact BMC\n"...)
		return
	}
	id := len(p.owners)
	p.owners = append(p.owners, e)
	e.children = append(e.children, content{p, id})
	p.ops = append(p.ops, '/')
	p.ops = append(p.ops, e.kind...)
	p.ops = append(p.ops, " <</MCID "...)
	p.ops = strconv.AppendInt(p.ops, int64(id), 10)
	p.ops = append(p.ops, ">> BDC\n"...)
}

// End ends what Begin began.
func (p *Page) End() {
	if p.marked {
		p.ops = append(p.ops, "EMC\n"...)
		p.marked, p.current = false, nil
	}
}

// Text sets the text with its baseline's left end at x, y. The size is in millimetres.
func (p *Page) Text(x, y float64, face typeface.Face, size float64, colour Colour, text string) {
	p.text(x, y, face, size, colour, text, false)
}

// TurnedText is Text a quarter turn anticlockwise.
func (p *Page) TurnedText(x, y float64, face typeface.Face, size float64, colour Colour, text string) {
	p.text(x, y, face, size, colour, text, true)
}

func (p *Page) text(x, y float64, face typeface.Face, size float64, colour Colour, text string, turned bool) {
	if text == "" {
		return
	}
	used := p.document.used[face]
	if used == nil {
		used = map[uint16]rune{}
		p.document.used[face] = used
	}
	p.fill(colour)
	p.ops = append(p.ops, "BT /F"...)
	p.ops = strconv.AppendInt(p.ops, int64(face)+1, 10)
	p.numbers(size * Millimetre)
	p.ops = append(p.ops, "Tf"...)
	if turned {
		p.ops = append(p.ops, " 0 1 -1 0"...)
	} else {
		p.ops = append(p.ops, " 1 0 0 1"...)
	}
	p.point(x, y)
	p.ops = append(p.ops, " Tm [<"...)
	const digits = "0123456789ABCDEF"
	last := rune(-1)
	for _, r := range text {
		if last >= 0 {
			if k := face.Kern(last, r); k != 0 { // the number moves back, so its sign is turned
				p.ops = append(p.ops, '>')
				p.ops = strconv.AppendInt(p.ops, int64(-k), 10)
				p.ops = append(p.ops, '<')
			}
		}
		last = r
		g := face.Glyph(r)
		if _, known := used[g]; !known {
			used[g] = r
		}
		p.ops = append(p.ops, digits[g>>12], digits[g>>8&15], digits[g>>4&15], digits[g&15])
	}
	p.ops = append(p.ops, ">] TJ ET\n"...)
}

// Spot is a place on a page in millimetres.
type Spot struct{ X, Y float64 }

// Line draws a line through the spots, closed if said so.
func (p *Page) Line(stroke Stroke, closed bool, spots ...Spot) {
	if len(spots) < 2 {
		return
	}
	p.stroke(stroke)
	p.path(spots)
	if closed {
		p.ops = append(p.ops, " s\n"...)
	} else {
		p.ops = append(p.ops, " S\n"...)
	}
}

// Area fills the polygon through the spots.
func (p *Page) Area(colour Colour, spots ...Spot) {
	if len(spots) < 3 {
		return
	}
	p.fill(colour)
	p.path(spots)
	p.ops = append(p.ops, " f\n"...)
}

// Rectangle fills the rectangle with its top left corner at x, y.
func (p *Page) Rectangle(x, y, w, h float64, colour Colour) {
	p.fill(colour)
	p.numbers(x*Millimetre, (p.height-y-h)*Millimetre, w*Millimetre, h*Millimetre)
	p.ops = append(p.ops, " re f\n"...)
}

// Frame draws the outline of the rectangle with its top left corner at x, y.
func (p *Page) Frame(x, y, w, h float64, stroke Stroke) {
	p.Line(stroke, true, Spot{x, y}, Spot{x + w, y}, Spot{x + w, y + h}, Spot{x, y + h})
}

// Arc draws a part of a circle clockwise from one angle to the other, in degrees, 0 to the right; all of it if they are equal.
func (p *Page) Arc(stroke Stroke, centre Spot, radius, from, to float64) {
	p.stroke(stroke)
	p.arcPath(centre, radius, from, to)
	p.ops = append(p.ops, " S\n"...)
}

// Disc fills a circle.
func (p *Page) Disc(colour Colour, centre Spot, radius float64) {
	p.fill(colour)
	p.arcPath(centre, radius, 0, 0)
	p.ops = append(p.ops, " f\n"...)
}

// Link makes the rectangle lead to a place. It belongs to the element that is being drawn.
func (p *Page) Link(x, y, w, h float64, to *Place) {
	owner := p.current
	if owner == nil {
		owner = p.document.root
	}
	l := &link{x: x, y: y, w: w, h: h, page: p, to: to, element: owner.Add("Link")}
	l.element.children = append(l.element.children, l)
	p.links = append(p.links, l)
}

func (p *Page) path(spots []Spot) {
	for n, s := range spots {
		p.point(s.X, s.Y)
		if n == 0 {
			p.ops = append(p.ops, " m"...)
		} else {
			p.ops = append(p.ops, " l"...)
		}
	}
}

// arcPath approximates the arc by cubic curves of at most 90°: off the circle by less than 0.03 % of the radius.
func (p *Page) arcPath(c Spot, r, from, to float64) {
	sweep := math.Mod(to-from, 360)
	if sweep <= 0 {
		sweep += 360
	}
	pieces := int(math.Ceil(sweep/90 - 1e-9))
	step := sweep / float64(pieces) * math.Pi / 180
	k := 4.0 / 3 * math.Tan(step/4) * r
	a := from * math.Pi / 180
	p.point(c.X+r*math.Cos(a), c.Y+r*math.Sin(a))
	p.ops = append(p.ops, " m"...)
	for range pieces {
		b := a + step
		p.point(c.X+r*math.Cos(a)-k*math.Sin(a), c.Y+r*math.Sin(a)+k*math.Cos(a))
		p.point(c.X+r*math.Cos(b)+k*math.Sin(b), c.Y+r*math.Sin(b)-k*math.Cos(b))
		p.point(c.X+r*math.Cos(b), c.Y+r*math.Sin(b))
		p.ops = append(p.ops, " c"...)
		a = b
	}
}

func (p *Page) fill(c Colour) {
	p.colour(c)
	p.ops = append(p.ops, " rg "...)
}

func (p *Page) stroke(s Stroke) {
	p.colour(s.Colour)
	p.ops = append(p.ops, " RG"...)
	p.numbers(s.Width * Millimetre)
	p.ops = append(p.ops, " w ["...)
	for _, d := range s.Dash {
		p.numbers(d * Millimetre)
	}
	if s.Round {
		p.ops = append(p.ops, " ] 0 d 1 J 1 j "...)
	} else {
		p.ops = append(p.ops, " ] 0 d 0 J 0 j "...)
	}
}

func (p *Page) colour(c Colour) { p.numbers(c.R, c.G, c.B) }

// point writes a place in the PDF's own coordinates: 1/72 in, from the bottom left.
func (p *Page) point(x, y float64) { p.numbers(x*Millimetre, (p.height-y)*Millimetre) }

// numbers writes each number with a space before it and at most three decimals, 0.0004 mm.
func (p *Page) numbers(list ...float64) {
	for _, x := range list {
		p.ops = append(p.ops, ' ')
		p.ops = appendNumber(p.ops, x)
	}
}

func appendNumber(b []byte, x float64) []byte {
	n := int64(math.Round(x * 1000))
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = strconv.AppendInt(b, n/1000, 10)
	if f := n % 1000; f != 0 {
		b = append(b, '.', byte('0'+f/100), byte('0'+f/10%10), byte('0'+f%10))
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
	}
	return b
}
