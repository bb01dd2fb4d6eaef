package sheet

import (
	"drivewright/internal/output/pdf"
)

// tableCells is a table broken into lines.
type tableCells struct {
	widths     []float64
	pads       []float64 // behind each column
	head       []paragraph
	headHeight float64
	rows       [][]paragraph
	heights    []float64
	of         []int // the table's row that each row here belongs to: one that is higher than a page makes several
}

const (
	cellPad = 3.2 // between columns
	rowPad  = 1.6
	// unbroken is how wide a cell may be that is not broken into lines as long as the others give way.
	unbroken = 12.0
)

// cellStyle is bold in the row that was chosen, and in a first column that heads its rows.
func cellStyle(t Table, row, column int) style {
	if row == t.Chosen || column == 0 && len(t.Head) > 0 && t.Head[0] == "" {
		return smallBold
	}
	return smallStyle
}

// gutter is the room at the left for the mark of the chosen row, if there is one.
func gutter(t Table) float64 {
	if t.Chosen < 0 || t.Chosen >= len(t.Rows) {
		return 0
	}
	return 4
}

// measure shares the width out among the columns, by what they hold, and breaks the cells into lines.
func (b *binder) measure(t Table) tableCells {
	columns := len(t.Head)
	for _, r := range t.Rows {
		columns = max(columns, len(r))
	}
	least, most := make([]float64, columns), make([]float64, columns)
	texts := columnTexts{}
	consider := func(n int, text string, s style) {
		line, word := natural(text, s)
		if line <= unbroken {
			word = line // a figure stays with its unit
		}
		least[n], most[n] = max(least[n], word), max(most[n], line)
	}
	for n, h := range t.Head {
		texts.add(0, n, h, smallBold.width)
		_, word := natural(h, smallBold)
		least[n], most[n] = word, word
		line, _ := natural(h, smallBold)
		most[n] = min(line, max(word, 24))
	}
	for n, r := range t.Rows {
		for c, text := range r {
			s := cellStyle(t, n, c)
			texts.add(n+1, c, text, s.width)
			consider(c, text, s)
		}
	}
	cells := tableCells{pads: make([]float64, columns)}
	room := b.room() - gutter(t)
	for n := range columns - 1 {
		cells.pads[n] = cellPad
		if flush(t, n) && !flush(t, n+1) {
			cells.pads[n] = 2 * cellPad // figures flush right and words flush left would seem to be one
		}
		room -= cells.pads[n]
	}
	cells.widths = texts.settle(shareOut(least, texts.evened(least, most, room), room), least, 2)
	at := func(texts []string, n int) string {
		if n < len(texts) {
			return texts[n]
		}
		return ""
	}
	for n := range columns {
		p := breakLines(runsOf(at(t.Head, n), style{smallBold.face, smallBold.size, softColour}), cells.widths[n])
		p = p.cut(12) // a head that takes more isn't one
		cells.head = append(cells.head, p)
		cells.headHeight = max(cells.headHeight, p.total()+rowPad+0.6)
	}
	tallest := b.bottom() - topMargin - cells.headHeight - 3
	for n, r := range t.Rows {
		var row []paragraph
		for c := range columns {
			row = append(row, breakLines(runsOf(at(r, c), cellStyle(t, n, c)), cells.widths[c]))
		}
		for _, slab := range slabs(row, tallest-rowPad) {
			cells.rows, cells.heights, cells.of = append(cells.rows, slab), append(cells.heights, tallestOf(slab)+rowPad), append(cells.of, n)
		}
	}
	return cells
}

// table sets a table; where it breaks, its head is repeated, and no single row is left alone.
func (b *binder) table(t Table) {
	if len(t.Rows) == 0 && len(t.Head) == 0 {
		return
	}
	b.skip(2.5)
	b.need(b.firstHeight(t))
	b.blockTitle(t.Title)
	cells := b.measure(t)
	e := b.root.Add("Table")
	b.tableHead(t, cells, e)
	from := 0
	for from < len(cells.rows) {
		fit, used := 0, 0.0
		for from+fit < len(cells.rows) && used+cells.heights[from+fit] <= b.rest()-1 {
			used += cells.heights[from+fit]
			fit++
		}
		if left := len(cells.rows) - from - fit; left == 1 && fit > 2 {
			fit-- // the last row takes company along
		}
		if fit == 0 && !b.afterHead() {
			fit = 1 // a row that is higher than a page
		}
		for n := from; n < from+fit; n++ {
			b.tableRow(t, cells, e, n)
		}
		from += fit
		if from < len(cells.rows) {
			b.rule(b.y, 0.25, inkColour)
			b.next()
			b.tableHead(t, cells, nil)
		}
	}
	b.rule(b.y, 0.4, inkColour)
	b.y += 1.2
	if t.Note != "" {
		b.y += 0.6
		b.flowing(b.root.Add("P"), runsOf(t.Note, slantedStyle), gutter(t))
	}
	b.y += 2.4
}

// afterHead reports whether a fresh page would give more room.
func (b *binder) afterHead() bool { return b.y > b.top+30 }

// tableHead sets the head; on pages after the first it only decorates, so that a reading aloud isn't interrupted.
func (b *binder) tableHead(t Table, cells tableCells, e *pdf.Element) {
	b.rule(b.y, 0.4, inkColour)
	var row *pdf.Element
	if e != nil {
		row = e.Add("TR")
	}
	x := b.left() + gutter(t)
	for n, p := range cells.head {
		if row != nil {
			b.page.Begin(row.Add("TH"))
		} else {
			b.page.Begin(nil)
		}
		b.cell(p, x, b.y+cells.headHeight-p.total()-rowPad/2, cells.widths[n], flush(t, n))
		x += cells.widths[n] + cells.pads[n]
	}
	b.page.End()
	b.y += cells.headHeight
	b.rule(b.y, 0.2, inkColour)
}

func (b *binder) tableRow(t Table, cells tableCells, e *pdf.Element, n int) {
	row := e.Add("TR")
	height := cells.heights[n]
	b.page.Begin(nil)
	if cells.of[n] == t.Chosen {
		b.page.Rectangle(b.left(), b.y, b.room(), height, tintColour)
		y := b.y + rowPad/2 + smallStyle.size*leading/2
		b.page.Area(accentColour, pdf.Spot{X: b.left() + 0.8, Y: y - 1.2}, pdf.Spot{X: b.left() + 2.9, Y: y}, pdf.Spot{X: b.left() + 0.8, Y: y + 1.2})
	}
	if n > 0 {
		b.page.Line(pdf.Stroke{Width: 0.1, Colour: ruleColour}, false, pdf.Spot{X: b.left(), Y: b.y}, pdf.Spot{X: b.left() + b.room(), Y: b.y})
	}
	x := b.left() + gutter(t)
	for c, p := range cells.rows[n] {
		b.page.Begin(row.Add("TD"))
		b.cell(p, x, b.y+rowPad/2, cells.widths[c], flush(t, c))
		x += cells.widths[c] + cells.pads[c]
	}
	b.page.End()
	b.y += height
}

func flush(t Table, n int) bool { return n < len(t.Numeric) && t.Numeric[n] }

// cell sets a cell's lines, flush right if they are numbers.
func (b *binder) cell(p paragraph, x, y, width float64, right bool) {
	if !right {
		b.lines(p, x, y)
		return
	}
	for n, line := range p.lines {
		last := line[len(line)-1]
		b.lines(paragraph{[][]piece{line}, p.height, p.size}, x+width-last.x-last.width, y+float64(n)*p.height)
	}
}
