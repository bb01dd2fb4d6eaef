package sheet

import (
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/drawing"
	"drivewright/internal/output/pdf"
)

func itoa(n int) string { return strconv.Itoa(n) }

// firstHeight returns how much of the block must stand together with what is before it.
func (b *binder) firstHeight(block Block) float64 {
	switch block := block.(type) {
	case Paragraph:
		return min(breakLines(runsOf(block.Text, bodyStyle), b.room()).total(), 10) + 2
	case Caution:
		return b.cautionHeight(block) + 4
	case Values:
		if block.Unwritten {
			return 10
		}
		height := titleHeight(block.Title)
		for _, r := range block.Rows[:min(2, len(block.Rows))] {
			height += b.valueRow(r).height
		}
		return height + 4
	case Table:
		t := b.measure(block)
		height := titleHeight(block.Title) + t.headHeight
		for _, h := range t.heights[:min(2, len(t.heights))] {
			height += h
		}
		return height + 4
	case Figure:
		if block.WholePage {
			return 20
		}
		return b.figureHeight(block)
	case Ticks:
		lead := 0.0
		if block.Lead != "" {
			lead = min(breakLines(runsOf(block.Lead, bodyStyle), b.room()).total(), 20)
		}
		return titleHeight(block.Title) + lead + 24
	case Numbered:
		return 18
	}
	return 0
}

func titleHeight(title string) float64 {
	if title == "" {
		return 0
	}
	return 5.6
}

// whole sets a paragraph that stays on one page unless it is long: short ones are looked up rather than read on.
func (b *binder) whole(runs []run) {
	if p := breakLines(runs, b.room()); len(p.lines) <= 8 {
		b.need(float64(len(p.lines)) * p.height)
	}
	b.flowing(b.root.Add("P"), runs, 0)
}

// blockTitle sets the title of a list or a table.
func (b *binder) blockTitle(title string) {
	if title == "" {
		return
	}
	b.page.Begin(b.root.Add("H4"))
	b.page.Text(b.left(), b.y+3.6, boldStyle.face, boldStyle.size, boldStyle.colour, clip(title, boldStyle, b.room()))
	b.page.End()
	b.y += titleHeight(title)
}

// continued says on a fresh page what goes on there.
func (b *binder) continued(title string) {
	if title == "" {
		title = b.part
	}
	b.page.Begin(nil)
	b.page.Text(b.left(), b.y+3.4, softStyle.face, softStyle.size, softStyle.colour, clip(title+", continued", softStyle, b.room()))
	b.page.End()
	b.y += titleHeight(title)
}

const cautionPad = 3.0

func (b *binder) cautionText(c Caution) paragraph {
	return breakLines([]run{{text: capital(c.Severity.String()) + ". ", style: style{boldStyle.face, boldStyle.size, gravity(c.Severity)}}, {text: c.Text, style: bodyStyle}},
		b.room()-2*cautionPad-8)
}

func (b *binder) cautionHeight(c Caution) float64 { return b.cautionText(c).total() + 2*cautionPad }

// caution sets a caution in a frame with its shape and word.
func (b *binder) caution(c Caution) {
	b.skip(2)
	colour := gravity(c.Severity)
	e := b.root.Add("P")
	for _, slab := range slabs([]paragraph{b.cautionText(c)}, b.tallest()-2*cautionPad) {
		height := tallestOf(slab) + 2*cautionPad
		b.need(height)
		b.page.Begin(nil)
		b.page.Frame(b.left()+0.2, b.y+0.2, b.room()-0.4, height-0.4, pdf.Stroke{Width: 0.4, Colour: colour})
		b.page.Rectangle(b.left(), b.y, 1.6, height, colour)
		drawMark(b.page, c.Severity, b.left()+cautionPad+1, b.y+cautionPad+0.3, 4)
		b.page.Begin(e)
		b.lines(slab[0], b.left()+cautionPad+8, b.y+cautionPad)
		b.page.End()
		b.y += height
	}
	b.y += 3
}

// The columns of a list of values: name, figure, half a line of why, number of the reason.
const (
	nameShare   = 0.31
	figureShare = 0.24
	columnPad   = 3.0
	numberRoom  = 8.0
	rowGap      = 1.7 // between rows
)

// valueLine is one row of a list of values, broken into lines.
type valueLine struct {
	name, figure, why paragraph
	height            float64
}

func (b *binder) valueRow(v Value) valueLine {
	room := b.room()
	figure := boldStyle
	if v.Origin == explain.Missing {
		figure = style{slantedStyle.face, bodyStyle.size, softColour}
	}
	text := v.Text
	if text == "" {
		text = "not known"
	}
	l := valueLine{
		name:   breakLines(runsOf(v.Label, bodyStyle), room*nameShare-columnPad),
		figure: breakLines(runsOf(text, figure), room*figureShare-columnPad),
		why:    breakLines(b.whyRuns(v), room*(1-nameShare-figureShare)-numberRoom),
	}
	l.height = max(l.name.total(), l.figure.total(), l.why.total()) + rowGap
	return l
}

// whyRuns is half a line of why, after a word for a value that nobody wrote, and before the findings about it.
func (b *binder) whyRuns(v Value) []run {
	var runs []run
	summary := v.Summary
	if word := originWord(v.Origin); word != "" && !strings.HasPrefix(summary, word) {
		runs = append(runs, run{text: word + ": ", style: slantedStyle})
	}
	if summary != "" {
		runs = append(runs, run{text: summary, style: softStyle})
	}
	for _, n := range v.Findings {
		if n < 0 || n >= len(b.sheet.Findings) {
			continue
		}
		f := b.sheet.Findings[n]
		runs = append(runs, run{text: " → " + f.Severity.String() + " " + itoa(n+1), whole: true, style: style{smallBold.face, smallBold.size, gravity(f.Severity)}, to: b.found[n]})
	}
	return runs
}

// originWord is the word that stands before the why of a value that nobody wrote and no formula made.
func originWord(o explain.Origin) string {
	switch o {
	case explain.Assumed, explain.Missing, explain.Catalogue:
		return o.String()
	case explain.Given, explain.Derived, explain.Looked:
	}
	return ""
}

// values sets a list of values in three columns.
func (b *binder) values(v Values) {
	if len(v.Rows) == 0 {
		return
	}
	b.skip(2)
	if v.Unwritten {
		b.whole(runsOf(unwritten(v), softStyle))
		b.y += 2
		return
	}
	if plain(v) {
		b.pairs(v)
		return
	}
	b.need(b.firstHeight(v))
	b.blockTitle(v.Title)
	room := b.room()
	table := b.root.Add("Table")
	heights := make([]float64, len(v.Rows))
	lines := make([]valueLine, len(v.Rows))
	for n, r := range v.Rows {
		lines[n] = b.valueRow(r)
		heights[n] = lines[n].height
	}
	b.rule(b.y, 0.25, inkColour)
	for n, r := range v.Rows {
		l := lines[n]
		together := l.height
		if n == len(v.Rows)-2 { // no last row alone on a page
			together += heights[n+1]
		}
		if b.need(together) {
			b.continued(v.Title)
			b.rule(b.y, 0.25, inkColour)
		} else if n > 0 {
			b.rule(b.y, 0.12, ruleColour)
		}
		if r.ID != "" {
			b.place(r.ID).Set(b.page, max(b.y-4, 0))
		}
		row := table.Add("TR")
		name, figure, why := row.Add("TD"), row.Add("TD"), row.Add("TD")
		parts := slabs([]paragraph{l.name, l.figure, l.why}, b.tallest()-rowGap)
		for k, slab := range parts {
			if k > 0 {
				b.y += tallestOf(parts[k-1]) + rowGap
				b.next()
				b.continued(v.Title)
			}
			y := b.y + rowGap/2
			b.page.Begin(name)
			b.lines(slab[0], b.left(), y)
			b.page.Begin(figure)
			b.lines(slab[1], b.left()+room*nameShare, y)
			b.page.Begin(why)
			b.lines(slab[2], b.left()+room*(nameShare+figureShare), y+0.25)
		}
		height := tallestOf(parts[len(parts)-1]) + rowGap
		if number, to := b.appendix.number(r.Reason); number > 0 {
			b.page.Begin(row.Add("TD"))
			text := itoa(number)
			x := b.left() + room - softStyle.face.Width(text, softStyle.size)
			b.page.Text(x, b.y+rowGap/2+3.15, softStyle.face, softStyle.size, accentColour, text)
			b.page.Link(b.left()+room-numberRoom, b.y, numberRoom, height, to)
		}
		b.page.End()
		b.y += height
	}
	b.rule(b.y, 0.25, inkColour)
	b.y += 3
}

// numbered sets a list in order.
func (b *binder) numbered(v Numbered) {
	b.skip(2)
	b.need(18)
	b.blockTitle(v.Title)
	list := b.root.Add("L")
	for n, text := range v.Items {
		p := breakLines(runsOf(text, bodyStyle), b.room()-8)
		together := min(p.total(), 2*p.height)
		if p.total() < b.tallest()/3 { // an entry that is read as one stays on one page
			together = p.total()
		}
		if n == len(v.Items)-2 { // no last item alone on a page
			together = p.total() + 2*p.height
		}
		b.need(together)
		item := list.Add("LI")
		b.page.Begin(item.Add("Lbl"))
		number := itoa(n+1) + "."
		b.page.Text(b.left()+5.5-boldStyle.face.Width(number, boldStyle.size), b.y+p.height*0.5+p.size*0.32, boldStyle.face, boldStyle.size, softColour, number)
		b.page.End()
		b.flowing(item.Add("LBody"), runsOf(text, bodyStyle), 8)
		b.y += 0.9
	}
	b.y += 2
}

// ticks sets a list to be ticked off, with a line to write a reading on.
func (b *binder) ticks(v Ticks) {
	b.skip(2)
	lead := 0.0
	if v.Lead != "" {
		lead = min(breakLines(runsOf(v.Lead, bodyStyle), b.room()).total(), 20) + 1.6
	}
	b.need(titleHeight(v.Title) + lead + 16)
	b.blockTitle(v.Title)
	if v.Lead != "" {
		b.whole(runsOf(v.Lead, bodyStyle))
		b.y += 1.6
	}
	const box, reading, gap = 3.6, 30.0, 3.0
	expects := 0.0
	for _, t := range v.Items {
		if t.Expect != "" {
			w, _ := natural(t.Expect, softStyle)
			expects = max(expects, min(w, 44))
		}
	}
	textRoom := b.room() - box - 3
	if expects > 0 {
		textRoom -= expects + reading + 2*gap
	}
	list := b.root.Add("L")
	if b.ticksBeside(v, list) {
		b.y += 2.5
		return
	}
	measure := func(t Tick) (text, expect paragraph, height float64) {
		text, expect = breakLines(runsOf(t.Text, bodyStyle), textRoom), breakLines(runsOf(t.Expect, softStyle), expects)
		return text, expect, max(text.total(), expect.total()) + 2.4
	}
	for n, t := range v.Items {
		text, expect, height := measure(t)
		together := height
		if n == len(v.Items)-2 { // no last item alone on a page
			_, _, last := measure(v.Items[n+1])
			together += last
		}
		if b.need(together) {
			b.continued(v.Title)
		}
		if n > 0 && !b.atTop() {
			b.rule(b.y, 0.12, ruleColour)
		}
		item := list.Add("LI")
		b.page.Begin(nil)
		drawBox(b.page, b.left(), b.y+1.55, box)
		body := item.Add("LBody")
		parts := slabs([]paragraph{text, expect}, b.tallest()-2.4)
		for k, slab := range parts {
			if k > 0 {
				b.next()
				b.continued(v.Title)
			}
			height = tallestOf(slab) + 2.4
			b.page.Begin(body)
			b.lines(slab[0], b.left()+box+3, b.y+1.2)
			b.lines(slab[1], b.left()+b.room()-reading-gap-expects, b.y+1.45)
		}
		if t.Expect != "" {
			y := b.y + 1.2
			b.page.Begin(nil)
			b.page.Line(pdf.Stroke{Width: 0.25, Colour: inkColour}, false, pdf.Spot{X: b.left() + b.room() - reading, Y: y + 4.1}, pdf.Spot{X: b.left() + b.room(), Y: y + 4.1})
		}
		b.page.End()
		b.y += height
	}
	b.y += 2.5
}

// figureScale returns the scale at which the figure is drawn: 1 if it must be true or fits, else what fits.
func (b *binder) figureScale(f Figure) float64 {
	if f.TrueScale || f.Width <= 0 || f.Height <= 0 {
		return 1
	}
	return min(1, b.room()/f.Width, (b.bottom()-topMargin-14)/f.Height)
}

func (b *binder) figureHeight(f Figure) float64 {
	return titleHeight(f.Title) + f.Height*b.figureScale(f) + 6
}

// figure draws a figure with its title above it.
func (b *binder) figure(f Figure) {
	if f.WholePage {
		b.wholePage(f)
		return
	}
	b.skip(3)
	b.need(b.figureHeight(f))
	b.blockTitle(f.Title)
	s := b.figureScale(f)
	x := b.left()
	switch w := f.Width * s; {
	case w > b.room(): // true scale can't give way, the margins can
		x = max((b.flow.width-w)/2, 0)
	case !f.TrueScale:
		x += (b.room() - w) / 2
	}
	b.page.Begin(b.root.Add("Figure").Alternative(f.Alt))
	drawing.Paint(b.page, f.Figure, x, b.y+1, s)
	b.page.End()
	b.y += f.Height*s + 3
	if f.TrueScale {
		b.page.Begin(b.root.Add("P"))
		b.page.Text(b.left(), b.y+2.4, slantedStyle.face, slantedStyle.size, slantedStyle.colour, "True scale: print at 100 %, without fitting to the page, and measure before you drill.")
		b.page.End()
		b.y += 4.5
	}
	b.y += 2
}

// Printable is the room of a page for a figure that takes a page of its own, beneath the running head and above the page number: width and
// height in millimetres. Most printers reach 5 mm from the edge; common practice.
func (p Paper) Printable() (width, height float64) {
	if p == Letter {
		return 215.9 - 2*pageEdge, 279.4 - pageHead - pageFoot
	}
	return 210 - 2*pageEdge, 297 - pageHead - pageFoot
}

const pageEdge, pageHead, pageFoot = 9.0, 19.0, 15.0

// wholePage sets a figure on a page of its own.
func (b *binder) wholePage(f Figure) {
	if b.columns > 1 || b.y > topMargin+0.01 {
		b.page.End()
		b.columns = 1
		b.newPage()
	}
	b.page.Begin(b.root.Add("Figure").Alternative(f.Title + ": " + f.Alt))
	drawing.Paint(b.page, f.Figure, pageEdge, pageHead, 1)
	b.page.End()
	b.y = b.bottom()
}

// capital returns the word with a capital letter.
func capital(word string) string {
	if word == "" {
		return ""
	}
	return strings.ToUpper(word[:1]) + word[1:]
}
