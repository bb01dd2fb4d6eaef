package sheet

import "drivewright/internal/output/pdf"

// Ticks that stand two beside each other are at the most so many lines tall, and at least so many in number.
const (
	besideLines = 3
	besideLeast = 4
)

// ticksBeside sets short ticks without a reading two beside each other, from left to right and down, as a page is read: an order of work has
// a hundred of them. It reports whether it did.
func (b *binder) ticksBeside(v Ticks, list *pdf.Element) bool {
	const box, gap = 3.6, 6.0
	wide := (b.room() - gap) / 2
	if len(v.Items) < besideLeast || b.columns > 1 {
		return false
	}
	var texts []paragraph
	for _, t := range v.Items {
		p := breakLines(runsOf(t.Text, bodyStyle), wide-box-3)
		if t.Expect != "" || len(p.lines) > besideLines {
			return false
		}
		texts = append(texts, p)
	}
	for n := 0; n < len(texts); n += 2 {
		row := texts[n:min(n+2, len(texts))]
		height := tallestOf(row) + 2.4
		if b.need(height) {
			b.continued(v.Title)
		}
		if n > 0 && !b.atTop() {
			b.rule(b.y, 0.12, ruleColour)
		}
		for k, text := range row {
			x := b.left() + float64(k)*(wide+gap)
			item := list.Add("LI")
			b.page.Begin(nil)
			drawBox(b.page, x, b.y+1.55, box)
			b.page.Begin(item.Add("LBody"))
			b.lines(text, x+box+3, b.y+1.2)
			b.page.End()
		}
		b.y += height
	}
	return true
}
