package sheet

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"drivewright/internal/base/explain"
)

// defaultWidth is taken for a width of 0, and leastWidth for one too small to set a sheet in.
const (
	defaultWidth = 80
	leastWidth   = 40
)

// WriteText writes the document for a terminal of the width in characters (0 for 80): findings first, then the sections with
// their values and tables in columns. With colour, severities and headings are marked with the escape sequences of
// ECMA-48; without, the output is plain text. The error is the writer's.
func WriteText(w io.Writer, d Document, width int, colour bool) error {
	if width <= 0 {
		width = defaultWidth
	}
	t := &textWriter{b: bufio.NewWriter(w), width: max(width, leastWidth), colour: colour, sheet: onPaper(d)}
	t.wrapped("", "", d.Title, bold)
	t.wrapped("", "", d.Subtitle, 0)
	var facts []string
	for _, fact := range []string{d.File, d.Date, strings.TrimSpace("drivewright " + d.Version), d.Units.String() + " units"} {
		if fact != "" {
			facts = append(facts, fact)
		}
	}
	t.wrapped("", "", strings.Join(facts, " · "), faint)
	t.line("")
	if d.Verdict.Headline != "" {
		t.wrapped(shape(d.Verdict.Severity)+" ", "  ", d.Verdict.Headline, textColour(d.Verdict.Severity))
		t.wrapped("  ", "  ", d.Verdict.Detail, 0)
	}
	t.findings()
	for _, s := range t.sheet.Sections {
		t.section(s)
	}
	if t.err != nil {
		return t.err
	}
	return t.b.Flush()
}

// attribute is a way to mark text: the parameter of ECMA-48, 8.3.117 (SGR). 0 marks nothing.
type attribute int

const (
	bold    attribute = 1
	faint   attribute = 2
	red     attribute = 31
	yellow  attribute = 33
	cyan    attribute = 36
	magenta attribute = 35
)

func textColour(s explain.Severity) attribute {
	switch s {
	case explain.Danger:
		return red
	case explain.Must:
		return magenta
	case explain.Check:
		return yellow
	case explain.Note:
	}
	return cyan
}

// shape is the character that stands for a severity, as the drawn shape does on paper.
func shape(s explain.Severity) string {
	switch s {
	case explain.Danger:
		return "▲"
	case explain.Must:
		return "◆"
	case explain.Check:
		return "○"
	case explain.Note:
	}
	return "–"
}

type textWriter struct {
	b      *bufio.Writer
	err    error
	width  int
	colour bool
	fresh  bool // a heading was written last
	sheet  Document
}

func (t *textWriter) line(text string) {
	t.fresh = false
	if t.err == nil {
		_, t.err = t.b.WriteString(strings.TrimRight(text, " ") + "\n")
	}
}

// mark returns the text marked, if colour is wanted.
func (t *textWriter) mark(text string, a attribute) string {
	if !t.colour || a == 0 || text == "" {
		return text
	}
	return fmt.Sprintf("\x1b[%dm%s\x1b[0m", a, text)
}

// wrapped writes a text broken into lines, the first behind one prefix, the others behind another.
func (t *textWriter) wrapped(first, rest, text string, a attribute) {
	if text == "" {
		return
	}
	lines := fold(text, t.width-count(rest))
	if taken := count(plainText(first)); taken > count(rest) {
		// the first line is the shorter one: break it by itself, and the rest anew
		head := fold(text, t.width-taken)[0]
		lines = append([]string{head}, fold(strings.TrimPrefix(strings.Join(strings.Fields(text), " "), head), t.width-count(rest))...)
	}
	prefix := first
	for _, l := range lines {
		t.line(prefix + t.mark(l, a))
		prefix = rest
	}
}

// plainText returns the text without marks.
func plainText(text string) string {
	for {
		before, after, found := strings.Cut(text, "\x1b[")
		if !found {
			return text
		}
		_, after, _ = strings.Cut(after, "m")
		text = before + after
	}
}

func count(text string) int { return utf8.RuneCountInString(text) }

// fold breaks a text into lines of at most the width in characters; a longer word is cut.
func fold(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	line := ""
	for _, word := range figureWords(text) {
		if line != "" && count(line)+1+count(word) > width {
			lines = append(lines, line)
			line = ""
		}
		for count(word) > width {
			letters := []rune(word)
			cut := width
			head := string(letters[:width])
			if hyphen := strings.LastIndex(head, "-"); hyphen > 0 {
				cut = count(head[:hyphen+1])
			}
			lines = append(lines, string(letters[:cut]))
			word = string(letters[cut:])
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// filled returns the text with spaces up to the width, before it if it is flush right.
func filled(text string, width int, right bool) string {
	space := strings.Repeat(" ", max(width-count(text), 0))
	if right {
		return space + text
	}
	return text + space
}

func (t *textWriter) heading(title string, level int) {
	t.line("")
	t.wrapped("", "", title, bold)
	stroke := "─"
	if level == 1 {
		stroke = "═"
	}
	t.line(strings.Repeat(stroke, min(count(title), t.width)))
	t.fresh = true
}

// gap leaves a line free, but none right beneath a heading.
func (t *textWriter) gap() {
	if !t.fresh {
		t.line("")
	}
}

func (t *textWriter) findings() {
	if len(t.sheet.Findings) == 0 {
		return
	}
	t.heading("What was found", 1)
	const indent = "          "
	for n, f := range t.sheet.Findings {
		if n > 0 {
			t.line("")
		}
		a := textColour(f.Severity)
		if f.Accepted != "" {
			a = faint
		}
		label := filled(shape(f.Severity)+" "+f.Severity.String(), len(indent), false)
		t.wrapped(t.mark(label, a), indent, sentenceStart(f.Message), bold)
		if f.Remedy != "" {
			t.wrapped(indent, indent, "Do: "+f.Remedy, 0)
		}
		if f.Accepted != "" {
			t.wrapped(indent, indent, "Accepted: "+f.Accepted, 0)
		}
		if f.Why != "" {
			t.wrapped(indent, indent, "Why: "+f.Why, 0)
		}
		tail := []string{}
		for _, part := range []string{"[" + f.Rule + "]", f.Place, f.Source} {
			if part != "" {
				tail = append(tail, part)
			}
		}
		t.wrapped(indent, indent, strings.Join(tail, " · "), faint)
	}
}

func (t *textWriter) section(s Section) {
	t.heading(s.Title, s.Level)
	t.wrapped("", "", s.Lead, 0)
	for _, block := range s.Blocks {
		t.block(block)
	}
}

func (t *textWriter) title(title string) {
	t.gap()
	t.wrapped("", "", title, bold)
}

func (t *textWriter) block(block Block) {
	switch b := block.(type) {
	case Paragraph:
		t.gap()
		t.wrapped("", "", b.Text, 0)
	case Caution:
		t.gap()
		word := shape(b.Severity) + " " + strings.ToUpper(b.Severity.String()) + ": "
		t.wrapped(t.mark(word, textColour(b.Severity)), "  ", b.Text, 0)
	case Values:
		switch {
		case b.Unwritten:
			t.gap()
			t.wrapped("", "  ", unwritten(b), faint)
		case len(b.Rows) > 0:
			t.title(b.Title)
			t.values(b)
		}
	case Table:
		t.title(b.Title)
		t.table(b)
	case Figure:
		t.gap()
		t.wrapped("", "  ", "[drawing] "+b.Title+": "+b.Alt, 0)
	case Numbered:
		t.title(b.Title)
		for n, text := range b.Items {
			t.wrapped(fmt.Sprintf("%3d. ", n+1), "     ", text, 0)
		}
	case Ticks:
		t.title(b.Title)
		t.wrapped("", "", b.Lead, 0)
		for _, item := range b.Items {
			text := item.Text
			if item.Expect != "" {
				text += " (expect " + item.Expect + ") ________"
			}
			t.wrapped("[ ] ", "    ", text, 0)
		}
	}
}

// unwritten names the values of a list in which nothing is written, in one sentence: a page of empty rows helps nobody.
func unwritten(v Values) string {
	var names []string
	for _, r := range v.Rows {
		names = append(names, r.Label)
	}
	title := "Not written down"
	if v.Title != "" {
		title = v.Title
	}
	return title + ": " + strings.Join(names, ", ") + "."
}

// values writes a list of values in three columns: name, figure, half a line of why.
func (t *textWriter) values(v Values) {
	name, figure := 0, 0
	for _, r := range v.Rows {
		name, figure = max(name, count(r.Label)), max(figure, count(r.Text))
	}
	name, figure = min(name, t.width*34/100), min(figure, t.width*28/100)
	why := t.width - name - figure - 6
	for _, r := range v.Rows {
		text := r.Text
		if text == "" {
			text = "not known"
		}
		t.columns([][]string{fold(r.Label, name), fold(text, figure), fold(t.whyText(r), why)}, []int{name, figure, why}, []bool{false, false, false}, "  ", []attribute{0, bold, faint})
	}
}

// whyText is half a line of why, with the word for a value that nobody wrote and the findings about it.
func (t *textWriter) whyText(v Value) string {
	text := v.Summary
	if word := originWord(v.Origin); word != "" && !strings.HasPrefix(text, word) {
		text = strings.TrimSuffix(word+": "+text, ": ")
	}
	for _, n := range v.Findings {
		if n >= 0 && n < len(t.sheet.Findings) {
			text += " → " + t.sheet.Findings[n].Severity.String() + " [" + t.sheet.Findings[n].Rule + "]"
		}
	}
	return text
}

// columns writes cells that may have several lines beside one another, behind a margin.
func (t *textWriter) columns(cells [][]string, widths []int, right []bool, margin string, marks []attribute) {
	height := 1
	for _, c := range cells {
		height = max(height, len(c))
	}
	for n := range height {
		line := margin
		for c, cell := range cells {
			text := ""
			if n < len(cell) {
				text = cell[n]
			}
			if c > 0 {
				line += "  "
			}
			padded := filled(text, widths[c], c < len(right) && right[c])
			if c < len(marks) && strings.TrimSpace(text) != "" {
				padded = strings.Replace(padded, text, t.mark(text, marks[c]), 1)
			}
			line += padded
		}
		t.line(line)
		margin = strings.Repeat(" ", count(margin))
	}
}

// table writes a table in columns; the chosen row has a mark before it.
func (t *textWriter) table(table Table) {
	columns := len(table.Head)
	for _, r := range table.Rows {
		columns = max(columns, len(r))
	}
	if columns == 0 {
		return
	}
	least, most := make([]float64, columns), make([]float64, columns)
	measured := columnTexts{}
	characters := func(text string) float64 { return float64(count(text)) }
	for n, row := range append([][]string{table.Head}, table.Rows...) {
		for c, text := range row {
			measured.add(n, c, text, characters)
			most[c] = max(most[c], characters(text))
			if n > 0 && count(text) <= 9 { // a short cell stays on its line
				least[c] = max(least[c], characters(text))
				continue
			}
			for _, w := range figureWords(text) {
				for part := range strings.SplitAfterSeq(w, "-") {
					least[c] = max(least[c], characters(part))
				}
			}
		}
	}
	room := t.width - 2 - 2*(columns-1)
	sum, sumLeast := 0.0, 0.0
	for n := range most {
		least[n], most[n] = max(least[n], 1), max(most[n], 1)
		sum, sumLeast = sum+most[n], sumLeast+least[n]
	}
	if sumLeast > float64(room) {
		t.stacked(table)
		return
	}
	if sum > float64(room) {
		most = shareOut(least, measured.evened(least, most, float64(room)), float64(room))
		for n := range most {
			most[n] = math.Floor(most[n])
		}
		most = measured.settle(most, least, 1)
	}
	widths := make([]int, columns)
	total := 2 * (columns - 1)
	for n, m := range most {
		widths[n] = max(int(m), 1)
		total += widths[n]
	}
	cellsOf := func(texts []string) [][]string {
		cells := make([][]string, columns)
		for n := range columns {
			if n < len(texts) {
				cells[n] = fold(texts[n], widths[n])
			}
		}
		return cells
	}
	t.columns(cellsOf(table.Head), widths, table.Numeric, "  ", nil)
	t.line("  " + strings.Repeat("─", total))
	for n, r := range table.Rows {
		margin, marks := "  ", []attribute(nil)
		if n == table.Chosen {
			margin = "> "
			marks = make([]attribute, columns)
			for c := range marks {
				marks[c] = bold
			}
		}
		t.columns(cellsOf(r), widths, table.Numeric, margin, marks)
	}
	t.wrapped("  ", "  ", table.Note, faint)
}

// stacked writes a table that is too crowded for columns row by row, each cell behind the head of its column.
func (t *textWriter) stacked(table Table) {
	for n, r := range table.Rows {
		margin, a := "  ", attribute(0)
		if n == table.Chosen {
			margin, a = "> ", bold
		}
		for c, text := range r {
			if c < len(table.Head) && table.Head[c] != "" && text != "" {
				text = table.Head[c] + ": " + text
			}
			if c == 0 {
				t.wrapped(margin, "    ", text, a)
			} else {
				t.wrapped("    ", "      ", text, 0)
			}
		}
	}
	t.wrapped("  ", "  ", table.Note, faint)
}
