package sheet

import "drivewright/internal/output/pdf"

// fewest is how many rows a list needs to be set side by side.
const fewest = 4

// longestHalf is how many bytes a name or a figure may have that stands in half a line.
const longestHalf = 400

// plain reports whether a list says nothing beside its figures, as what the user wrote doesn't: then two rows go side by
// side, which takes half the paper.
func plain(v Values) bool {
	for _, r := range v.Rows {
		if len(r.Label) > longestHalf || len(r.Text) > longestHalf || r.Summary != "" || originWord(r.Origin) != "" {
			return false
		}
	}
	return len(v.Rows) >= fewest
}

// pairName is the share of half the line that the value's name takes.
const pairName = 0.56

// pairs sets a plain list in two halves, to be read down the left one and then down the right one.
func (b *binder) pairs(v Values) {
	half := (b.room() - columnGap) / 2
	left := (len(v.Rows) + 1) / 2
	set := func(row Value) valueLine {
		figure := append(runsOf(row.Text, boldStyle), b.whyRuns(row)...)
		l := valueLine{name: breakLines(runsOf(row.Label, bodyStyle), half*pairName-columnPad), figure: breakLines(figure, half*(1-pairName))}
		l.height = max(l.name.total(), l.figure.total()) + rowGap
		return l
	}
	lines := make([]valueLine, len(v.Rows))
	for n, r := range v.Rows {
		lines[n] = set(r)
	}
	height := func(n int) float64 {
		if n+left < len(lines) {
			return max(lines[n].height, lines[n+left].height)
		}
		return lines[n].height
	}
	first := titleHeight(v.Title) + height(0)
	if left > 1 {
		first += height(1)
	}
	b.need(first)
	b.blockTitle(v.Title)
	table := b.root.Add("Table")
	b.rule(b.y, 0.25, inkColour)
	for n := range left {
		together := height(n)
		if n == left-2 { // no last row alone on a page
			together += height(n + 1)
		}
		if b.need(together) {
			b.continued(v.Title)
			b.rule(b.y, 0.25, inkColour)
		} else if n > 0 {
			b.rule(b.y, 0.12, ruleColour)
		}
		row := table.Add("TR")
		b.pair(row, v.Rows[n], lines[n], b.left(), half)
		if n+left < len(lines) {
			b.pair(row, v.Rows[n+left], lines[n+left], b.left()+half+columnGap, half)
		}
		b.page.End()
		b.y += height(n)
	}
	b.rule(b.y, 0.25, inkColour)
	b.y += 3
}

// pair sets one value of a plain list at x.
func (b *binder) pair(row *pdf.Element, v Value, l valueLine, x, half float64) {
	if v.ID != "" {
		b.place(v.ID).Set(b.page, max(b.y-4, 0))
	}
	y := b.y + rowGap/2
	b.page.Begin(row.Add("TD"))
	b.lines(l.name, x, y)
	b.page.Begin(row.Add("TD"))
	b.lines(l.figure, x+half*pairName, y)
}
