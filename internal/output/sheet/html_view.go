package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html/template"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
)

// htmlView is the document as the templates read it: every link resolved, every reason laid out once.
type htmlView struct {
	Document
	Live     bool
	Sections []htmlSection
	Findings []htmlFinding
	Counts   []htmlCount
	First    []htmlInput  // values without which the job can't go on: the reader begins with them
	Working  []htmlReason // reasons that stand behind values but have no line of their own

	lines map[string]bool // reason IDs that have a line on the sheet
	known map[string]bool // reason IDs laid out in Working
	used  map[string]int  // how often a line's ID was given out: a value may stand in two places
	ticks map[string]int  // how often a tick's key was given out
	told  map[int]bool    // findings that have stood beside a line already
}

type htmlSection struct {
	ID      string
	Title   string
	Level   int
	Lead    string
	Blocks  []htmlBlock
	Adds    string // list to which an item can be added here
	AddsOne string // one of its items, in words: "a load"
	Live    bool
	Worst   string    // gravest severity among the findings about values here; "" if none stand
	Asks    bool      // it folds: a narrow screen begins with each part of a stage shut
	Ways    []htmlWay // to pages of their own, such as the one for taking readings
	Open    bool      // its answers aren't folded: the page can't fold, or one of those without which the job can't go on is asked for
	Holds   string    // what a folded section says of its inside: "7 values, 2 asked for, 1 finding"
}

// htmlWay leads to a page of the live sheet on which one thing is done.
type htmlWay struct{ Href, Text string }

// htmlBlock is a block with its kind in a word; only the field of that kind is set.
type htmlBlock struct {
	Kind      string
	Paragraph string
	Caution   htmlCaution
	Values    htmlValues
	Table     htmlTable
	Figure    htmlFigure
	Numbered  Numbered
	Ticks     Ticks
	TickKeys  []string // under which the browser remembers each tick
	ID        string
}

type htmlCaution struct{ Severity, Text string }

type htmlValues struct {
	Title  string
	Item   string // the list item that all lines belong to, such as "loads[0]"; "" if none
	Folded bool
	Rows   []htmlValue
	Live   bool
}

type htmlValue struct {
	ID, Label, Text, Typed, Path, Help, Summary string
	Also                                        string // the figure in the other spelling, behind what was typed
	Assumed                                     string // what is reckoned with while nothing is written
	Origin, Mark                                string
	Choices                                     []string
	Long                                        bool // free text that may take several lines
	Size                                        int
	Editable                                    bool
	Entry                                       string // id of the control
	Reason                                      *htmlReason
	Findings                                    []htmlFinding
}

type htmlReason struct {
	ID, Name, Shown, Origin, Mark string
	Words                         []htmlWord
	Figures                       string
	Inputs                        []htmlInput
	Source, Note, Place, Typed    string
	Formula                       string
	Path                          string
}

// htmlWord is a stretch of a formula in words; an input's name links to its own reason.
type htmlWord struct{ Text, Href string }

type htmlInput struct{ Name, Href, Shown, Origin, Mark string }

type htmlFinding struct {
	Finding
	ID         string
	Word       string // the severity
	Beside     string // id of the line it is about, or ""
	Label      string // that line's label
	Acceptable bool
	Again      bool // it has stood beside another line before: said in short
	Live       bool
}

type htmlCount struct {
	Word   string
	Number int
}

type htmlTable struct {
	Table
	ID    string
	Cells [][]htmlCell
	Wide  bool
}

type htmlCell struct {
	Text, Head string
	Numeric    bool
	First      bool
}

type htmlFigure struct {
	ID, Title   string
	Wide        bool
	Whole       bool // a page of its own, on paper only
	SVG, Narrow template.HTML
}

// lineID is the id of the line of the value whose reason has the ID.
func lineID(reason string) string { return "v-" + reason }

func newHTMLView(d Document, mode HTMLMode) (*htmlView, error) {
	if mode != LivePage {
		d = onPaper(d)
	}
	d.Verdict.Headline, d.Verdict.Detail = together(d.Verdict.Headline), together(d.Verdict.Detail)
	v := &htmlView{Document: d, Live: mode == LivePage, lines: map[string]bool{}, known: map[string]bool{},
		used: map[string]int{}, ticks: map[string]int{}, told: map[int]bool{}}
	labels := map[string]string{}
	for _, s := range d.Sections {
		for _, b := range s.Blocks {
			if values, ok := b.(Values); ok {
				for _, row := range values.Rows {
					v.lines[row.ID] = true
					labels[row.ID] = row.Label
				}
			}
		}
	}
	v.findings(labels)
	for _, s := range d.Sections {
		section, err := v.section(s)
		if err != nil {
			return nil, err
		}
		v.Sections = append(v.Sections, section)
	}
	return v, nil
}

// findings gives each finding its id: the rule's name, numbered where a rule speaks more than once.
func (v *htmlView) findings(labels map[string]string) {
	seen := map[string]int{}
	counts := map[explain.Severity]int{}
	for _, f := range v.Document.Findings {
		seen[f.Rule]++
		f.Message, f.Remedy, f.Why = together(f.Message), together(f.Remedy), together(f.Why)
		id := "f-" + f.Rule
		if n := seen[f.Rule]; n > 1 {
			id += "-" + strconv.Itoa(n)
		}
		found := htmlFinding{Finding: f, ID: id, Word: f.Severity.String(), Live: v.Live,
			Acceptable: !f.Severity.Blocks() && f.Accepted == ""}
		if v.lines[f.ValueID] {
			found.Beside, found.Label = lineID(f.ValueID), labels[f.ValueID]
		}
		v.Findings = append(v.Findings, found)
		if f.Accepted == "" {
			counts[f.Severity]++
		}
	}
	for _, s := range []explain.Severity{explain.Danger, explain.Must, explain.Check, explain.Note} {
		if counts[s] > 0 {
			v.Counts = append(v.Counts, htmlCount{s.String(), counts[s]})
		}
	}
}

func (v *htmlView) section(s Section) (htmlSection, error) {
	out := htmlSection{ID: "s-" + s.ID, Title: s.Title, Level: s.Level, Lead: together(s.Lead), Adds: s.Adds, AddsOne: "a " + strings.TrimSuffix(s.Adds, "s"), Live: v.Live, Asks: s.Asks || s.Level > 1, Open: !v.Live}
	if v.Live {
		out.Ways = ways("/job/"+url.PathEscape(v.File), s)
	}
	worst := explain.Note + 1
	found := map[string]bool{}
	for n, b := range s.Blocks {
		block, err := v.block(b)
		if err != nil {
			return out, err
		}
		block.ID = s.ID + "-" + strconv.Itoa(n+1)
		out.Blocks = append(out.Blocks, block)
		for _, row := range block.Values.Rows {
			for _, f := range row.Findings {
				if f.Accepted != "" {
					continue
				}
				found[f.ID] = true
				if f.Severity.Blocks() && !f.Again && row.Editable && row.Origin == explain.Missing.String() {
					out.Open = true
					if href := "#" + lineID(row.ID); !slices.ContainsFunc(v.First, func(i htmlInput) bool { return i.Href == href }) {
						v.First = append(v.First, htmlInput{Name: row.Label, Href: href})
					}
				}
				if f.Severity < worst {
					worst, out.Worst = f.Severity, f.Word
				}
			}
		}
	}
	out.Holds = holds(s, len(found))
	return out, nil
}

// ways are the pages on which the section's work is done.
func ways(job string, s Section) []htmlWay {
	switch {
	case s.Measures:
		return []htmlWay{{job + "/readings", "Take the readings, one at a time"}}
	case s.ID == "box":
		return []htmlWay{{job + "/box", "Turn the box, open it, move parts by hand"}}
	case s.ID == "patterns":
		return []htmlWay{{job + "/photo", "Find holes in a photo"}}
	}
	return nil
}

// holds counts in words what stands in the section, so that one can pass it by without opening it.
func holds(s Section, findings int) string {
	there, asked, cautions, tables, drawings, ticks := 0, 0, 0, 0, 0, 0
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case Values:
			for _, row := range b.Rows {
				switch {
				case row.Origin != explain.Missing:
					there++
				case !b.Unwritten:
					asked++
				}
			}
		case Caution:
			cautions++
		case Table:
			tables++
		case Figure:
			drawings++
		case Ticks:
			ticks += len(b.Items)
		}
	}
	var parts []string
	add := func(n int, one, more string) {
		if n > 0 {
			parts = append(parts, many(n, one, more))
		}
	}
	add(there, "value", "values")
	if asked > 0 {
		parts = append(parts, fmt.Sprintf("%d asked for", asked))
	}
	add(drawings, "drawing", "drawings")
	add(tables, "table", "tables")
	add(ticks, "tick", "ticks")
	add(cautions, "caution", "cautions")
	add(findings, "finding", "findings")
	if parts == nil && s.Asks {
		return "no values"
	}
	return strings.Join(parts, ", ")
}

func (v *htmlView) block(b Block) (htmlBlock, error) {
	switch b := b.(type) {
	case Paragraph:
		return htmlBlock{Kind: "paragraph", Paragraph: together(b.Text)}, nil
	case Caution:
		return htmlBlock{Kind: "caution", Caution: htmlCaution{b.Severity.String(), together(b.Text)}}, nil
	case Values:
		return htmlBlock{Kind: "values", Values: v.values(b)}, nil
	case Table:
		return htmlBlock{Kind: "table", Table: newHTMLTable(b)}, nil
	case Figure:
		if b.WholePage && v.Live { // for paper only, and a live page is sent at every change
			return htmlBlock{}, nil
		}
		out := htmlFigure{ID: b.ID, Title: b.Title, Wide: b.Width > 100, Whole: b.WholePage}
		var err error
		if out.SVG, err = figureSVG(b.Figure); err == nil && b.Narrow != nil {
			out.Narrow, err = figureSVG(*b.Narrow)
		}
		return htmlBlock{Kind: "figure", Figure: out}, err
	case Numbered:
		return htmlBlock{Kind: "numbered", Numbered: b}, nil
	case Ticks:
		return htmlBlock{Kind: "ticks", Ticks: b, TickKeys: v.tickKeys(b)}, nil
	}
	return htmlBlock{}, nil
}

// tickKeys are made of what is to be done, so that a tick stays with it when something is added before it.
func (v *htmlView) tickKeys(b Ticks) []string {
	var keys []string
	for _, item := range b.Items {
		sum := sha256.Sum256([]byte(b.Title + "\x00" + item.Text))
		key := hex.EncodeToString(sum[:6])
		v.ticks[key]++
		if n := v.ticks[key]; n > 1 {
			key += "-" + strconv.Itoa(n)
		}
		keys = append(keys, key)
	}
	return keys
}

func (v *htmlView) values(b Values) htmlValues {
	out := htmlValues{Title: b.Title, Folded: b.Unwritten, Live: v.Live}
	for n, row := range b.Rows {
		line := v.value(row)
		out.Rows = append(out.Rows, line)
		if item := listItem(row.Path); n == 0 || item == out.Item {
			out.Item = item
		} else {
			out.Item = ""
		}
	}
	return out
}

// numberAndUnit is a figure with its unit in running text.
var numberAndUnit = regexp.MustCompile(`([0-9]) ((?:[mk]?A|k?V|k?W|k?VA|hp|AWG|kcmil|ft|in|mm²?|m|Hz|rpm|%|°[CF]|[mkM]?Ω|ms|s|min|h)(?:[^\pL]|$))`)

// together puts a space that doesn't break between figure and unit, so that no line ends in "240".
func together(text string) string { return numberAndUnit.ReplaceAllString(text, "$1\u00a0$2") }

// listItem returns the list item that the job-file path lies in: "loads[0]" for "loads[0].power".
func listItem(path string) string {
	if open, end := strings.IndexByte(path, '['), strings.IndexByte(path, ']'); 0 < open && open < end {
		return path[:end+1]
	}
	return ""
}

func (v *htmlView) value(row Value) htmlValue {
	v.used[row.ID]++
	id := row.ID
	if n := v.used[row.ID]; n > 1 {
		id += "-" + strconv.Itoa(n)
	}
	out := htmlValue{ID: id, Label: row.Label, Text: row.Text, Typed: row.Typed, Path: row.Path, Help: row.Help,
		Summary: row.Summary, Choices: row.Choices, Origin: row.Origin.String(), Mark: mark(row.Origin),
		Editable: v.Live && row.Path != ""}
	if out.Editable {
		out.Entry = "e-" + id
		out.Also = strings.Trim(strings.TrimPrefix(row.Text, row.Typed), " ()")
		if row.Typed == "" {
			out.Also = ""
			out.Assumed = row.Text
			if row.Origin == explain.Missing || row.Text == "" {
				out.Assumed = "not known"
			}
		}
		if r := row.Reason; len(row.Choices) == 0 && (strings.Contains(row.Typed, "\n") || r != nil && r.Value != nil && r.Value.Kind() == quantity.KindText) {
			out.Long = true
		}
		out.Size = min(max(len([]rune(row.Typed)), len([]rune(out.Assumed)), 5), 34)
	}
	if row.Reason != nil {
		r := v.reason(row.Reason)
		out.Reason = &r
		if row.Summary == row.Text && row.Reason.Words != "" { // the same figure again says nothing: its name does
			out.Summary = row.Reason.InWords()
		}
	}
	for _, n := range row.Findings {
		if 0 <= n && n < len(v.Findings) {
			f := v.Findings[n]
			f.Again = v.told[n]
			v.told[n] = true
			out.Findings = append(out.Findings, f)
		}
	}
	return out
}

// mark is the word that stands beside a value which nobody wrote and no formula made; "" for the others, which need none.
func mark(o explain.Origin) string {
	switch o {
	case explain.Assumed, explain.Catalogue, explain.Looked:
		return o.String()
	case explain.Missing, explain.Given, explain.Derived:
	}
	return ""
}

// reason lays out r, and adds what it stands on to Working where that has no line of its own.
func (v *htmlView) reason(r *explain.Reason) htmlReason {
	out := htmlReason{ID: r.ID(), Name: r.Name, Shown: r.Show(v.Units), Origin: r.Origin.String(), Mark: mark(r.Origin),
		Figures: r.Figures(v.Units), Source: r.Source.String(), Note: r.Note.Show(v.Units), Typed: r.Typed, Formula: r.Formula, Path: r.Path}
	if r.Span.Known() {
		out.Place = "line " + strconv.Itoa(r.Span.Line) // of the job file: there is only one
	}
	if out.Figures == out.Shown { // one figure taken over as it is
		out.Figures = ""
	}
	hrefs := map[string]string{}
	for _, i := range r.Inputs {
		if i.Reason == nil || i.Reason.Name == "" {
			continue
		}
		href := v.href(i.Reason)
		hrefs[i.As] = href
		out.Inputs = append(out.Inputs, htmlInput{Name: i.Reason.Name, Href: href, Shown: i.Show(v.Units), Origin: i.Origin.String(), Mark: mark(i.Origin)})
	}
	out.Words = formulaWords(r.Words, hrefs)
	return out
}

// href returns where the reason r is laid out: at its line on the sheet, or in the appendix, to which it is added.
func (v *htmlView) href(r *explain.Reason) string {
	id := r.ID()
	if v.lines[id] {
		return "#" + lineID(id)
	}
	if !v.known[id] {
		v.known[id] = true
		n := len(v.Working)
		v.Working = append(v.Working, htmlReason{}) // keeps its place before what it stands on
		v.Working[n] = v.reason(r)
	}
	return "#w-" + id
}

// formulaWords cuts a formula at its braces.
func formulaWords(formula string, hrefs map[string]string) []htmlWord {
	var out []htmlWord
	for formula != "" {
		before, after, found := strings.Cut(formula, "{")
		if before != "" {
			out = append(out, htmlWord{Text: before})
		}
		if !found {
			break
		}
		name, tail, closed := strings.Cut(after, "}")
		if !closed {
			out = append(out, htmlWord{Text: after})
			break
		}
		out = append(out, htmlWord{Text: name, Href: hrefs[name]})
		formula = tail
	}
	return out
}

func newHTMLTable(t Table) htmlTable {
	out := htmlTable{Table: t, Wide: len(t.Head) > 3}
	for _, row := range t.Rows {
		var cells []htmlCell
		for n, text := range row {
			c := htmlCell{Text: text, First: n == 0}
			if n < len(t.Head) {
				c.Head = t.Head[n]
			}
			if n < len(t.Numeric) {
				c.Numeric = t.Numeric[n]
			}
			cells = append(cells, c)
		}
		out.Cells = append(out.Cells, cells)
	}
	return out
}

// figureSVG writes the figure as a drawing inside the page.
func figureSVG(f drawing.Figure) (template.HTML, error) {
	var b bytes.Buffer
	err := drawing.WriteSVG(&b, f, drawing.SVGOptions{Inline: true, Fluid: true})
	return template.HTML(b.String()), err // written by drawing, which escapes every text
}
