package sheet

import (
	"io"
	"slices"
	"strings"

	"drivewright/internal/output/pdf"
)

// WritePDF writes the document as a binder to be printed: on A4 or Letter as the document says, with bookmarks, links, a
// structure for those who can't see the page, and at the end why each number is what it is. The same document gives the same
// bytes. The error is the writer's.
func WritePDF(w io.Writer, d Document) error {
	d = onPaper(d)
	out := pdf.New(pdf.Info{Title: d.Title, Subject: d.Subtitle, Author: "drivewright", Producer: strings.TrimSpace("drivewright " + d.Version),
		Language: "en-US", Date: d.Date})
	b := &binder{flow: newFlow(out, d.Paper), sheet: d, root: out.Root(), appendix: gather(d).without(plainlyGiven(d))}
	b.front()
	b.findings()
	for _, s := range d.Sections {
		b.section(s)
	}
	b.why()
	foot := "Local codes and a licensed electrician have the last word."
	if d.Date != "" {
		foot = d.Date + " · " + foot
	}
	b.finish(d.Title, foot)
	return out.Write(w)
}

// binder sets a document on pages.
type binder struct {
	*flow
	sheet Document
	root  *pdf.Element
	// appendix is why each number is what it is, without what a row of the sheet says in full.
	appendix *working
	entries  []contentsEntry
	part     string                // title of the section that is being set
	rows     map[string]*pdf.Place // where the value of an ID stands
	found    []*pdf.Place          // where each finding stands
}

// contentsEntry is one line of the contents.
type contentsEntry struct {
	title string
	level int
	to    *pdf.Place
	page  int
}

// place returns where the value of the ID stands, or will stand.
func (b *binder) place(id string) *pdf.Place {
	if b.rows == nil {
		b.rows = map[string]*pdf.Place{}
	}
	if b.rows[id] == nil {
		b.rows[id] = &pdf.Place{}
	}
	return b.rows[id]
}

// front sets the head of the sheet, the verdict and the contents.
func (b *binder) front() {
	d := b.sheet
	b.y = topMargin - 5
	b.top = b.y
	b.flowing(b.root.Add("H1"), runsOf(d.Title, titleStyle), 0)
	b.y += 0.6
	b.flowing(b.root.Add("P"), runsOf(d.Subtitle, leadStyle), 0)
	facts := []string{}
	for _, fact := range []string{d.File, d.Date, strings.TrimSpace("drivewright " + d.Version), d.Units.String() + " units"} {
		if fact != "" {
			facts = append(facts, fact)
		}
	}
	b.flowing(b.root.Add("P"), runsOf(strings.Join(facts, "  ·  "), softStyle), 0)
	b.y += 4
	b.verdict()
	b.contents()
}

// verdict sets the answer in a frame.
func (b *binder) verdict() {
	v := b.sheet.Verdict
	if v.Headline == "" {
		return
	}
	const pad, mark = 4.5, 6.2
	width := b.room() - 2*pad - mark - 3
	head := breakLines(runsOf(v.Headline, style{boldStyle.face, 13.5 * pdf.Point, inkColour}), width)
	detail := breakLines(runsOf(v.Detail, bodyStyle), width)
	// The whole of it stands among the findings, so what is longer than the page is cut.
	head = head.cut(int(b.tallest() / 3 / head.height))
	detail = detail.cut(int((b.tallest()/2 - head.total()) / max(detail.height, 1)))
	height := 2*pad + head.total() + 1.2 + detail.total()
	b.need(height)
	b.page.Begin(nil)
	b.page.Rectangle(b.left(), b.y, b.room(), height, tintColour)
	b.page.Rectangle(b.left(), b.y, 1.3, height, gravity(v.Severity))
	drawMark(b.page, v.Severity, b.left()+pad, b.y+pad+0.3, mark)
	note := b.root.Add("P")
	b.page.Begin(note)
	b.lines(head, b.left()+pad+mark+3, b.y+pad)
	b.lines(detail, b.left()+pad+mark+3, b.y+pad+head.total()+1.2)
	b.page.End()
	b.y += height + 6
}

// contents leaves room for the contents, in two columns, and fills it in when the pages are known.
func (b *binder) contents() {
	count := len(b.sheet.Sections) + 2
	const line = 4.9
	perColumn := (count + 1) / 2
	height := float64(perColumn)*line + 7
	if height > b.rest() {
		return // bookmarks will do
	}
	page, left, top, width := b.page, b.left(), b.y+7, (b.room()-columnGap)/2
	page.Begin(b.root.Add("P"))
	page.Text(left, b.y+3.2, smallBold.face, smallBold.size, softStyle.colour, "On these pages")
	page.End()
	b.y += height + 2
	list := b.root.Add("L")
	b.later = append(b.later, func() {
		for n, e := range b.entries {
			x := left + float64(n/perColumn)*(width+columnGap)
			y := top + float64(n%perColumn)*line + 1
			s := bodyStyle
			indent := 0.0
			if e.level == 1 {
				s = boldStyle
			} else {
				indent = 4
			}
			number := itoa(e.page)
			page.Begin(list.Add("LI").Add("LBody"))
			page.Text(x+indent, y+2, s.face, s.size, s.colour, clip(e.title, s, width-indent-12))
			page.Text(x+width-bodyStyle.face.Width(number, bodyStyle.size), y+2, bodyStyle.face, bodyStyle.size, softColour, number)
			page.Link(x, y-1.4, width, line, e.to)
			page.Begin(nil)
			page.Line(pdf.Stroke{Width: 0.15, Colour: ruleColour}, false, pdf.Spot{X: x, Y: y + 3.5}, pdf.Spot{X: x + width, Y: y + 3.5})
			page.End()
		}
	})
}

// heading sets a heading of level 1 or 2 that is kept with as much of what follows as is asked for, and enters it in contents
// and bookmarks.
func (b *binder) heading(title string, level int, keep float64) {
	s, above, below := headingStyle, 9.0, 2.4
	if level > 1 {
		s, above, below = partStyle, 6.5, 1.6
	}
	p := breakLines(runsOf(title, s), b.room()).cut(6)
	height := p.total() + below
	b.skip(above)
	b.need(height + keep)
	b.part = title
	if level == 1 {
		b.flow.section = title
		if b.atTop() {
			b.heads[len(b.heads)-1] = title
		}
		b.page.Begin(nil)
		b.page.Rectangle(b.left(), b.y, b.room(), 0.7, inkColour)
		b.y += 2.2
	}
	to := &pdf.Place{}
	to.Set(b.page, max(b.y-6, 0))
	b.document.Bookmark(level, title, to)
	b.entries = append(b.entries, contentsEntry{title, level, to, len(b.pages)})
	b.page.Begin(b.root.Add("H" + itoa(min(level+1, 6))))
	b.lines(p, b.left(), b.y)
	b.page.End()
	b.y += height
}

// section sets a section.
func (b *binder) section(s Section) {
	keep := 0.0
	lead := paragraph{}
	if s.Lead != "" {
		lead = breakLines(runsOf(s.Lead, leadStyle), min(b.room(), 138))
		keep = lead.total() + 2
	}
	if len(s.Blocks) > 0 {
		keep += b.firstHeight(s.Blocks[0])
		if _, warns := s.Blocks[0].(Caution); warns && len(s.Blocks) > 1 {
			keep += min(b.firstHeight(s.Blocks[1]), 60)
		}
	}
	most := 110.0
	if len(s.Blocks) > 0 {
		if _, drawn := s.Blocks[0].(Figure); drawn { // it comes in one piece
			most = b.tallest()
		}
	}
	b.heading(s.Title, max(s.Level, 1), min(keep, most))
	if len(lead.lines) > 0 {
		e := b.root.Add("P")
		for _, slab := range slabs([]paragraph{lead}, b.tallest()) {
			b.need(tallestOf(slab))
			b.page.Begin(e)
			b.lines(slab[0], b.left(), b.y)
			b.page.End()
			b.y += tallestOf(slab)
		}
		b.y += 1.6
	}
	for n, block := range s.Blocks {
		if c, ok := block.(Caution); ok && n+1 < len(s.Blocks) {
			// a caution stays with what it warns of
			b.need(b.cautionHeight(c) + min(b.firstHeight(s.Blocks[n+1]), 60))
		}
		b.block(block)
	}
}

func (b *binder) block(block Block) {
	switch block := block.(type) {
	case Paragraph:
		b.skip(1.2)
		b.whole(runsOf(block.Text, bodyStyle))
		b.y += 1.6
	case Caution:
		b.caution(block)
	case Values:
		b.values(block)
	case Table:
		b.table(block)
	case Figure:
		b.figure(block)
	case Numbered:
		b.numbered(block)
	case Ticks:
		b.ticks(block)
	}
}

// findings sets the list of all findings, gravest first.
func (b *binder) findings() {
	list := b.sheet.Findings
	for range list {
		b.found = append(b.found, &pdf.Place{})
	}
	if len(list) == 0 {
		return
	}
	first := b.findingText(list[0])
	b.heading("What was found", 1, min(first.total()+8, 110))
	e := b.root.Add("L")
	const text = 27.0
	for n, f := range list {
		parts := slabs([]paragraph{b.findingText(f)}, b.tallest()-4.2)
		height := tallestOf(parts[0]) + 4.2
		if n > 0 {
			b.need(height)
		}
		b.found[n].Set(b.page, max(b.y-4, 0))
		if !b.atTop() || n == 0 {
			b.rule(b.y, 0.15, ruleColour)
		}
		item := e.Add("LI")
		y := b.y + 2.1
		drawn := gravity(f.Severity)
		if f.Accepted != "" {
			drawn = softColour
		}
		b.page.Begin(item.Add("Lbl"))
		number := itoa(n + 1)
		b.page.Text(b.left()+5-softStyle.face.Width(number, softStyle.size), y+3.3, softStyle.face, softStyle.size, softColour, number)
		drawMark(b.page, f.Severity, b.left()+7.2, y+0.55, 3.3)
		b.page.Text(b.left()+11.8, y+3.3, boldStyle.face, boldStyle.size, drawn, f.Severity.String())
		body := item.Add("LBody")
		for k, part := range parts {
			if k > 0 {
				b.next()
				b.continued("")
				y, height = b.y+2.1, tallestOf(part)+4.2
			}
			b.page.Begin(body)
			b.lines(part[0], b.left()+text, y)
			b.page.End()
			b.y += height
		}
	}
	b.rule(b.y, 0.15, ruleColour)
	b.y += 2
}

// findingText is what was found, what to do, why it matters and whence, each from a line of its own.
func (b *binder) findingText(f Finding) paragraph {
	width := b.room() - 27
	head := []run{{text: sentenceStart(f.Message), style: boldStyle}}
	p := breakLines(head, width)
	join := func(runs []run) {
		more := breakLines(runs, width)
		p.lines = append(p.lines, more.lines...)
	}
	if f.Remedy != "" {
		join([]run{{text: "Do: ", style: boldStyle}, {text: f.Remedy, style: bodyStyle}})
	}
	if f.Accepted != "" {
		join([]run{{text: "Accepted: ", style: boldStyle}, {text: f.Accepted, style: bodyStyle}})
	}
	if f.Why != "" {
		join([]run{{text: "Why: ", style: smallBold}, {text: f.Why, style: smallStyle}})
	}
	tail := []run{{text: f.Rule, style: monoStyle}}
	if f.Place != "" {
		tail = append(tail, run{text: " · ", style: monoStyle}, run{text: f.Place, style: monoStyle})
	}
	if f.Source != "" {
		tail = append(tail, run{text: " · ", style: softStyle}, run{text: f.Source, style: slantedStyle})
	}
	if f.ValueID != "" && b.hasRow(f.ValueID) {
		tail = append(tail, run{text: " · ", style: softStyle}, run{text: "→ the value", style: style{softStyle.face, softStyle.size, accentColour}, to: b.place(f.ValueID), whole: true})
	}
	join(tail)
	return p
}

// hasRow reports whether the value of the ID stands on the sheet.
func (b *binder) hasRow(id string) bool {
	for _, s := range b.sheet.Sections {
		for _, block := range s.Blocks {
			if v, ok := block.(Values); ok {
				for _, r := range v.Rows {
					if r.ID == id {
						return true
					}
				}
			}
		}
	}
	return false
}

// sentenceStart returns the text with a capital, for a message that begins a paragraph. A symbol such as n or kW stays as it is.
func sentenceStart(text string) string {
	if text == "" || text[0] < 'a' || text[0] > 'z' {
		return text
	}
	word, _, _ := strings.Cut(text, " ")
	short := []string{"a", "an", "as", "at", "by", "if", "in", "is", "it", "no", "of", "on", "or", "so", "to"}
	if len(word) <= 2 && !slices.Contains(short, word) || strings.ToLower(word) != word {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
