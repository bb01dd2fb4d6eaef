// Package sheet turns a plan into one neutral document, and writes that document as text, HTML, PDF or JSON. All four
// show the same thing; the live sheet also offers to change what stands in the job file.
//
// It computes nothing: each number comes with its reason from the plan. Begin with Document, then Build (what stands on
// the sheet) and the writers WriteText, WriteHTML, WritePDF and WriteJSON.
package sheet

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
)

// Document is the whole sheet, in the order of the work, with every text already in the reader's unit system.
type Document struct {
	Title    string // the machine
	Subtitle string // what was made of it: rule set and edition
	File     string
	Units    quantity.System
	Paper    Paper
	Date     string // of the job file, as given by the caller; printed and put in the PDF
	Version  string
	// Verdict comes first: is a drive the right answer, and how many findings block.
	Verdict  Verdict
	Sections []Section
	Findings []Finding // all, gravest first
}

// Paper is a page size.
type Paper string

// The paper sizes.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// Verdict is the answer in two lines, before any number.
type Verdict struct {
	Severity explain.Severity
	Headline string
	Detail   string
}

// Section is a stage of the sheet (Level 1) or a part of one (Level 2).
type Section struct {
	ID     string
	Title  string
	Level  int
	Lead   string // what this part decides and how to use it
	Blocks []Block
	// Asks is true where the user's own answers stand: a narrow screen folds them under the title.
	Asks bool
	// Adds is the list of the job file, such as "loads", to which the live sheet offers to add an item here; "" for none.
	Adds string
	// Measures is true where meter readings are to be taken: the live sheet links to its page for them.
	Measures bool
	// OnScreen is true where only the live sheet needs the section: what is written there stands in other tables of the sheet too.
	OnScreen bool
}

// Block is one piece of a section: Paragraph, Caution, Values, Table, Figure, Numbered or Ticks.
type Block interface{ block() }

// Paragraph is running text.
type Paragraph struct{ Text string }

// Caution is a warning at the point where the hand is about to move.
type Caution struct {
	Severity explain.Severity
	Text     string
}

// Values is a list of values with their reasons.
type Values struct {
	Title string
	Rows  []Value
	// Unwritten is true when nothing is written in the job file at any of the rows: a screen folds them under the title and
	// offers them, paper may leave them out.
	Unwritten bool
}

// Value is one value on the sheet.
type Value struct {
	ID     string // the reason's ID
	Label  string
	Text   string // with unit; "not known" when missing
	Origin explain.Origin
	// Path is the job-file path when the user can change the value; "" for derived ones.
	Path string
	// Typed is what stands in the job file now; "" if nothing does.
	Typed string
	// Choices are the words that may stand there; nil for numbers and free text.
	Choices []string
	Help    string
	Summary string // half a line of why: formula in words, or the table
	Reason  *explain.Reason
	// Findings are indexes into Document.Findings of those that are about this value.
	Findings []int
}

// Table has a header row that is repeated on each page that the table breaks over.
type Table struct {
	Title string
	Head  []string
	// Numeric says which columns are set flush right.
	Numeric []bool
	Rows    [][]string
	// Chosen is the index of the row that the plan chose; -1 for none.
	Chosen int
	Note   string
}

// Figure is a drawing, and the same arranged for a phone's width where it would be too wide for one.
type Figure struct {
	drawing.Figure
	Narrow *drawing.Figure
}

// Numbered is a list in order of preference or of doing: ways out, steps of a procedure.
type Numbered struct {
	Title string
	Items []string
}

// Ticks is a list to be ticked off with a pencil or a thumb.
type Ticks struct {
	Title string
	Lead  string // beneath the title: what to bear in mind meanwhile
	Items []Tick
}

// Tick is one thing to do or to check, with room for a reading if Expect says what it should be.
type Tick struct {
	Text   string
	Expect string
}

// Finding is a finding in words.
type Finding struct {
	Rule     string
	Title    string
	Why      string
	Severity explain.Severity
	Message  string
	Remedy   string
	Source   string
	Place    string // file:line:column, or ""
	Path     string
	ValueID  string // the value it is about, or ""
	Accepted string
}

// onPaper returns the document without the sections that only a screen shows.
func onPaper(d Document) Document {
	d.Sections = slices.DeleteFunc(slices.Clone(d.Sections), func(s Section) bool { return s.OnScreen })
	return d
}

func (Paragraph) block() {}
func (Caution) block()   {}
func (Values) block()    {}
func (Table) block()     {}
func (Figure) block()    {}
func (Numbered) block()  {}
func (Ticks) block()     {}
