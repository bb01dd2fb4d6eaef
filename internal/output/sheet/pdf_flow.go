package sheet

import (
	"fmt"

	"drivewright/internal/output/pdf"
)

// The page: wide margin at the left for the binder's holes.
const (
	leftMargin   = 24.0
	rightMargin  = 19.0
	topMargin    = 25.0
	bottomMargin = 20.0
	columnGap    = 8.0
)

// flow sets what it is given one beneath the other, and goes on to the next column or page where it must.
type flow struct {
	document      *pdf.Document
	width, height float64 // of the paper
	page          *pdf.Page
	pages         []*pdf.Page
	heads         []string // the section that stands at the top of each page
	section       string   // the one that is being set
	columns       int
	column        int
	top           float64 // where the columns begin on this page
	y             float64 // top of what comes next
	lowest        float64 // the lowest end of a column on this page
	later         []func()
}

func newFlow(d *pdf.Document, paper Paper) *flow {
	f := &flow{document: d, width: 210, height: 297, columns: 1}
	if paper == Letter {
		f.width, f.height = 215.9, 279.4
	}
	f.newPage()
	return f
}

func (f *flow) newPage() {
	f.page = f.document.Page(f.width, f.height)
	f.pages = append(f.pages, f.page)
	f.heads = append(f.heads, f.section)
	f.column, f.top, f.y, f.lowest = 0, topMargin, topMargin, topMargin
}

// text width of a column, and its left edge.
func (f *flow) room() float64 {
	all := f.width - leftMargin - rightMargin
	return (all - columnGap*float64(f.columns-1)) / float64(f.columns)
}

func (f *flow) left() float64 { return leftMargin + float64(f.column)*(f.room()+columnGap) }

func (f *flow) bottom() float64 { return f.height - bottomMargin }

// rest is the height that is left in the column.
func (f *flow) rest() float64 { return f.bottom() - f.y }

// column height that a piece may take which isn't broken: a page without its head and a line that says what goes on there.
func (f *flow) tallest() float64 { return f.bottom() - topMargin - 14 }

// atTop reports whether nothing stands in the column yet.
func (f *flow) atTop() bool { return f.y <= f.top+0.01 }

// next goes to the next column, or page.
func (f *flow) next() {
	f.page.End()
	f.lowest = max(f.lowest, f.y)
	if f.column+1 < f.columns {
		f.column++
		f.y = f.top
		return
	}
	f.newPage()
}

// need goes to the next column unless the height is left in this one, and reports whether it did. What is higher than a
// whole column gets a fresh one.
func (f *flow) need(height float64) bool {
	if height <= f.rest() || f.atTop() {
		return false
	}
	f.next()
	return true
}

// skip leaves some room free, but none at the top of a column.
func (f *flow) skip(height float64) {
	if !f.atTop() {
		f.y += height
	}
}

// setColumns begins a stretch of one or more columns.
func (f *flow) setColumns(n int) {
	f.page.End()
	f.y = max(f.y, f.lowest)
	f.columns, f.column, f.top, f.lowest = n, 0, f.y, f.y
}

// lines sets a paragraph's lines at x and beneath y on the page, and makes its links.
func (f *flow) lines(p paragraph, x, y float64) {
	for n, line := range p.lines {
		baseline := y + float64(n)*p.height + p.height*0.5 + p.size*0.32
		for _, c := range line {
			f.page.Text(x+c.x, baseline, c.face, c.size, c.colour, c.text)
			if c.to != nil {
				f.page.Link(x+c.x, baseline-c.size*0.8, c.width, c.size*1.05, c.to)
			}
		}
	}
}

// flowing sets a paragraph that may break over columns, at least two lines on either side, as a child of the element.
func (f *flow) flowing(e *pdf.Element, runs []run, indent float64) {
	p := breakLines(runs, f.room()-indent)
	for len(p.lines) > 0 {
		fit := min(int((f.rest()+0.01)/p.height), len(p.lines))
		if left := len(p.lines) - fit; left == 1 && fit > 2 {
			fit--
		}
		if fit < min(2, len(p.lines)) && !f.atTop() {
			f.next()
			continue
		}
		fit = max(fit, 1)
		f.page.Begin(e)
		f.lines(paragraph{p.lines[:fit], p.height, p.size}, f.left()+indent, f.y)
		f.page.End()
		f.y += float64(fit) * p.height
		p.lines = p.lines[fit:]
		if len(p.lines) > 0 {
			f.next()
		}
	}
}

// rule draws a hairline across the column at y.
func (f *flow) rule(y, weight float64, colour pdf.Colour) {
	f.page.Begin(nil)
	f.page.Line(pdf.Stroke{Width: weight, Colour: colour}, false, pdf.Spot{X: f.left(), Y: y}, pdf.Spot{X: f.left() + f.room(), Y: y})
	f.page.End()
}

// finish draws what could only be known at the end: page numbers and running heads.
func (f *flow) finish(title, foot string) {
	for _, draw := range f.later {
		draw()
	}
	for n, p := range f.pages {
		p.Begin(nil)
		number := fmt.Sprintf("Page %d of %d", n+1, len(f.pages))
		y := f.height - 11.5
		p.Text(leftMargin, y, softStyle.face, softStyle.size, softStyle.colour, clip(foot, softStyle, f.width-leftMargin-rightMargin-30))
		p.Text(f.width-rightMargin-softStyle.face.Width(number, softStyle.size), y, softStyle.face, softStyle.size, softStyle.colour, number)
		if n > 0 {
			head := f.heads[n]
			half := (f.width - leftMargin - rightMargin) / 2
			p.Text(leftMargin, 15, smallBold.face, smallBold.size, softStyle.colour, clip(title, smallBold, half-3))
			head = clip(head, softStyle, half-3)
			p.Text(f.width-rightMargin-softStyle.face.Width(head, softStyle.size), 15, softStyle.face, softStyle.size, softStyle.colour, head)
			p.Line(pdf.Stroke{Width: 0.2, Colour: ruleColour}, false, pdf.Spot{X: leftMargin, Y: 17.4}, pdf.Spot{X: f.width - rightMargin, Y: 17.4})
		}
		p.End()
	}
}

// clip shortens a text to the width.
func clip(text string, s style, width float64) string {
	text = printable(text)
	if s.face.Width(text, s.size) <= width {
		return text
	}
	room := width - s.width("…")
	for n, letter := range text {
		if room -= s.width(string(letter)); room < 0 {
			return text[:n] + "…"
		}
	}
	return text
}
