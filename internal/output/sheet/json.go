package sheet

import (
	"encoding/json"
	"fmt"
	"io"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// jsonVersion is raised when a field is renamed or changes its meaning; new fields don't raise it.
const jsonVersion = 1

// WriteJSON writes the document as data, in the form that JSONSchema describes. A field that says nothing is left out. All
// texts are in the document's unit system; numbers are SI, their unit is named beside them. The same document gives the same
// bytes. The error is the writer's.
//
//	format, format_version   "drivewright sheet" and the version of this form
//	title … version          of the sheet, as printed in its head
//	verdict                  the answer before any number
//	findings                 all of them, gravest first; number counts from 1
//	sections                 in the order of the sheet, each with its blocks
//	reasons                  why each number is what it is, by name; inputs name other reasons
func WriteJSON(w io.Writer, d Document) error {
	d = onPaper(d)
	out := jsonSheet{Format: "drivewright sheet", FormatVersion: jsonVersion, Title: d.Title, Subtitle: d.Subtitle, File: d.File, Units: d.Units.String(),
		Paper: string(d.Paper), Date: d.Date, Version: d.Version,
		Verdict:  jsonVerdict{d.Verdict.Severity.String(), d.Verdict.Headline, d.Verdict.Detail},
		Findings: []jsonFinding{}, Sections: []jsonSection{}, Reasons: map[string]jsonReason{}}
	for n, f := range d.Findings {
		out.Findings = append(out.Findings, findingAsJSON(n, f))
	}
	names := nameReasons(d)
	for _, s := range d.Sections {
		section := jsonSection{ID: s.ID, Title: s.Title, Level: s.Level, Lead: s.Lead, Blocks: []jsonBlock{}}
		for _, block := range s.Blocks {
			section.Blocks = append(section.Blocks, blockAsJSON(block, names))
		}
		out.Sections = append(out.Sections, section)
	}
	for _, r := range names.working.list {
		out.Reasons[names.of(r)] = reasonAsJSON(r, names, d.Units)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

func findingAsJSON(n int, f Finding) jsonFinding {
	return jsonFinding{Number: n + 1, Rule: f.Rule, Title: f.Title, Why: f.Why, Severity: f.Severity.String(), Blocks: f.Severity.Blocks() && f.Accepted == "",
		Message: f.Message, Remedy: f.Remedy, Source: f.Source, Place: f.Place, Path: f.Path, Value: f.ValueID, Accepted: f.Accepted}
}

type jsonSheet struct {
	Format        string                `json:"format" help:"what this file is" choices:"drivewright sheet"`
	FormatVersion int                   `json:"format_version" help:"raised when a field is renamed or changes its meaning; new fields do not raise it"`
	Title         string                `json:"title" help:"the machine"`
	Subtitle      string                `json:"subtitle,omitempty" help:"what was made of it, by which rule set"`
	File          string                `json:"file,omitempty" help:"the job file"`
	Units         string                `json:"units" help:"unit system of all texts" choices:"inch,metric"`
	Paper         string                `json:"paper,omitempty" help:"page size of the printed sheet" choices:"a4,letter"`
	Date          string                `json:"date,omitempty" help:"yyyy-mm-dd"`
	Version       string                `json:"version,omitempty" help:"of the program"`
	Verdict       jsonVerdict           `json:"verdict" help:"the answer before any number"`
	Findings      []jsonFinding         `json:"findings" help:"everything that was found, gravest first"`
	Sections      []jsonSection         `json:"sections" help:"in the order of the sheet"`
	Reasons       map[string]jsonReason `json:"reasons" help:"why each number is what it is, by name; inputs name other reasons"`
}

type jsonVerdict struct {
	Severity string `json:"severity" help:"the gravest that was found" choices:"danger,must,check,note"`
	Headline string `json:"headline" help:"the answer in a line"`
	Detail   string `json:"detail,omitempty" help:"what was counted, and who has the last word"`
}

type jsonFinding struct {
	Number   int    `json:"number" help:"counted from 1; values refer to it"`
	Rule     string `json:"rule" help:"name of the rule"`
	Title    string `json:"title,omitempty" help:"what is wrong, in half a line"`
	Severity string `json:"severity" help:"how much it matters" choices:"danger,must,check,note"`
	Blocks   bool   `json:"blocks" help:"whether the job must not go on like this"`
	Message  string `json:"message" help:"what was found and what was expected"`
	Remedy   string `json:"remedy,omitempty" help:"what to do, with the figure that would pass"`
	Why      string `json:"why,omitempty" help:"what it does to fingers, fire or motor"`
	Source   string `json:"source,omitempty" help:"the published place of the rule"`
	Place    string `json:"place,omitempty" help:"file:line:column"`
	Path     string `json:"path,omitempty" help:"the job-file path that it is about"`
	Value    string `json:"value,omitempty" help:"id of the value that it is about"`
	Accepted string `json:"accepted,omitempty" help:"the user's recorded reason for living with it"`
}

type jsonSection struct {
	ID     string      `json:"id" help:"one word"`
	Title  string      `json:"title" help:"as printed"`
	Level  int         `json:"level" help:"1 for a stage, 2 for a part of one"`
	Lead   string      `json:"lead,omitempty" help:"what this part decides"`
	Blocks []jsonBlock `json:"blocks" help:"in the order of the sheet"`
}

// jsonBlock is one block; kind says which of the other fields it has.
type jsonBlock struct {
	Kind     string      `json:"kind" help:"which of the other fields it has" choices:"paragraph,caution,values,table,figure,numbered,ticks"`
	Title    string      `json:"title,omitempty" help:"of a list, a table or a figure"`
	Text     string      `json:"text,omitempty" help:"of a paragraph or a caution; beneath the title of a list to tick off"`
	Severity string      `json:"severity,omitempty" help:"of a caution" choices:"danger,must,check,note"`
	Values   []jsonValue `json:"values,omitempty" help:"the rows of a list of values"`
	Head     []string    `json:"head,omitempty" help:"the column heads of a table"`
	Numeric  []bool      `json:"numeric,omitempty" help:"which columns of a table hold numbers"`
	Rows     [][]string  `json:"rows,omitempty" help:"the cells of a table, row by row"`
	Chosen   *int        `json:"chosen,omitempty" help:"index of the row of a table that was chosen"`
	Note     string      `json:"note,omitempty" help:"beneath a table"`
	Figure   *jsonFigure `json:"figure,omitempty" help:"what a drawing shows; the drawing itself is in the other forms"`
	Items    []jsonItem  `json:"items,omitempty" help:"of a numbered list or a list to tick off"`
}

type jsonValue struct {
	ID       string   `json:"id" help:"one word"`
	Label    string   `json:"label" help:"the name in words"`
	Text     string   `json:"text" help:"the figure with its unit, as printed"`
	Origin   string   `json:"origin" help:"where it comes from" choices:"given,derived,from a table,assumed,missing,typical part"`
	Path     string   `json:"path,omitempty" help:"where it stands, or may be written, in the job file"`
	Typed    string   `json:"typed,omitempty" help:"as the user wrote it"`
	Choices  []string `json:"choices,omitempty" help:"the words that may stand there"`
	Help     string   `json:"help,omitempty" help:"what is asked for"`
	Summary  string   `json:"summary,omitempty" help:"half a line of why"`
	Reason   string   `json:"reason,omitempty" help:"key in reasons"`
	Findings []int    `json:"findings,omitempty" help:"numbers of the findings about it"`
}

// jsonFigure tells what a figure shows; the drawing itself is in the other forms.
type jsonFigure struct {
	ID        string  `json:"id" help:"one word"`
	Text      string  `json:"text" help:"what a person who cannot see it must know"`
	Width     float64 `json:"width_mm" help:"width, millimetres"`
	Height    float64 `json:"height_mm" help:"height, millimetres"`
	TrueScale bool    `json:"true_scale,omitempty" help:"whether a millimetre of it is a millimetre on paper"`
}

type jsonItem struct {
	Text   string `json:"text" help:"what to do or to check"`
	Expect string `json:"expect,omitempty" help:"what a reading should be"`
}

type jsonReason struct {
	Name    string      `json:"name" help:"of the value, in words"`
	Text    string      `json:"text" help:"the value as printed"`
	Kind    string      `json:"kind,omitempty" help:"of quantity"`
	SI      *float64    `json:"si,omitempty" help:"the value as a number in the unit beside it"`
	SIList  []float64   `json:"si_list,omitempty" help:"the values of a nameplate that has several"`
	Unit    string      `json:"unit,omitempty" help:"of si: an SI unit, 1 for a pure number, m² of metal for a conductor"`
	Origin  string      `json:"origin" help:"where it comes from" choices:"given,derived,from a table,assumed,missing,typical part"`
	Typed   string      `json:"typed,omitempty" help:"as the user wrote it"`
	Words   string      `json:"words,omitempty" help:"the formula in words"`
	Figures string      `json:"figures,omitempty" help:"the formula with its figures put in"`
	Formula string      `json:"formula,omitempty" help:"name of the formula that can be run by itself"`
	Source  *jsonSource `json:"source,omitempty" help:"where it was published"`
	Note    string      `json:"note,omitempty" help:"what must be known beside the number: the assumption, the exception, what is missing"`
	Path    string      `json:"path,omitempty" help:"the job-file path"`
	Place   string      `json:"place,omitempty" help:"file:line:column"`
	Inputs  []jsonInput `json:"inputs,omitempty" help:"what it was made of"`
}

type jsonSource struct {
	Work    string `json:"work,omitempty" help:"the work, such as NFPA 70"`
	Edition string `json:"edition,omitempty" help:"its edition"`
	Place   string `json:"place,omitempty" help:"article, table or page"`
	Trust   string `json:"trust,omitempty" help:"from memory, common practice or arithmetic; left out for what was read" choices:"from memory,common practice,arithmetic"`
}

type jsonInput struct {
	As     string `json:"as" help:"what the formula calls it"`
	Reason string `json:"reason" help:"key in reasons"`
}

// reasonNames gives each reason of a document a key of its own.
type reasonNames struct {
	working *working
	keys    []string
}

func nameReasons(d Document) reasonNames {
	n := reasonNames{working: gather(d)}
	taken := map[string]int{}
	for _, r := range n.working.list {
		key := r.ID()
		taken[key]++
		if count := taken[key]; count > 1 {
			key = fmt.Sprintf("%s-%d", key, count)
			taken[key]++
		}
		n.keys = append(n.keys, key)
	}
	return n
}

// of returns the reason's key; "" if it isn't part of the document.
func (n reasonNames) of(r *explain.Reason) string {
	if number, _ := n.working.number(r); number > 0 {
		return n.keys[number-1]
	}
	return ""
}

func blockAsJSON(block Block, names reasonNames) jsonBlock {
	switch b := block.(type) {
	case Paragraph:
		return jsonBlock{Kind: "paragraph", Text: b.Text}
	case Caution:
		return jsonBlock{Kind: "caution", Severity: b.Severity.String(), Text: b.Text}
	case Values:
		out := jsonBlock{Kind: "values", Title: b.Title}
		for _, v := range b.Rows {
			row := jsonValue{ID: v.ID, Label: v.Label, Text: v.Text, Origin: v.Origin.String(), Path: v.Path, Typed: v.Typed, Choices: v.Choices, Help: v.Help,
				Summary: v.Summary, Reason: names.of(v.Reason)}
			for _, f := range v.Findings {
				row.Findings = append(row.Findings, f+1)
			}
			out.Values = append(out.Values, row)
		}
		return out
	case Table:
		out := jsonBlock{Kind: "table", Title: b.Title, Head: b.Head, Numeric: b.Numeric, Rows: b.Rows, Note: b.Note}
		if b.Chosen >= 0 && b.Chosen < len(b.Rows) {
			out.Chosen = &b.Chosen
		}
		return out
	case Figure:
		return jsonBlock{Kind: "figure", Title: b.Title, Figure: &jsonFigure{b.ID, b.Alt, round3(b.Width), round3(b.Height), b.TrueScale}}
	case Numbered:
		out := jsonBlock{Kind: "numbered", Title: b.Title}
		for _, text := range b.Items {
			out.Items = append(out.Items, jsonItem{Text: text})
		}
		return out
	case Ticks:
		out := jsonBlock{Kind: "ticks", Title: b.Title, Text: b.Lead}
		for _, t := range b.Items {
			out.Items = append(out.Items, jsonItem(t))
		}
		return out
	}
	return jsonBlock{}
}

func reasonAsJSON(r *explain.Reason, names reasonNames, units quantity.System) jsonReason {
	out := jsonReason{Name: r.Name, Text: r.Show(units), Origin: r.Origin.String(), Typed: r.Typed, Words: r.InWords(), Figures: r.Figures(units), Formula: r.Formula,
		Note: r.Note.Show(units), Path: r.Path}
	if r.Span.Known() {
		out.Place = fmt.Sprintf("%s:%d:%d", fileName(r.Span.File), r.Span.Line, r.Span.Column)
	}
	if r.Source != (explain.Source{}) {
		out.Source = &jsonSource{r.Source.Work, r.Source.Edition, r.Source.Place, r.Source.Trust.String()}
	}
	for _, i := range r.Inputs {
		out.Inputs = append(out.Inputs, jsonInput{i.As, names.of(i.Reason)})
	}
	if r.Value == nil {
		return out
	}
	out.Kind = r.Value.Kind().String()
	switch v := r.Value.(type) {
	case quantity.Voltages:
		for _, x := range v {
			out.SIList = append(out.SIList, float64(x))
		}
	case quantity.Currents:
		for _, x := range v {
			out.SIList = append(out.SIList, float64(x))
		}
	case quantity.Conductor:
		if area := float64(v.Area()); !math.IsNaN(area) {
			out.SI = &area
		}
	default:
		if si, ok := quantity.SI(v); ok && !math.IsNaN(si) && !math.IsInf(si, 0) {
			out.SI = &si
		}
	}
	if out.SI != nil || out.SIList != nil {
		out.Unit = siUnit(r.Value.Kind())
	}
	return out
}

// siUnit names the unit that quantities of the kind hold; "1" for a pure number. A conductor is given by its metal's area.
// Source of the symbols: NIST SP 330, 2019.
func siUnit(k quantity.Kind) string {
	switch k {
	case quantity.KindVoltage:
		return "V"
	case quantity.KindCurrent:
		return "A"
	case quantity.KindShaftPower, quantity.KindPower:
		return "W"
	case quantity.KindApparentPower:
		return "V·A"
	case quantity.KindFrequency:
		return "Hz"
	case quantity.KindRotation:
		return "1/s"
	case quantity.KindSpeed:
		return "m/s"
	case quantity.KindLength:
		return "m"
	case quantity.KindArea, quantity.KindConductor:
		return "m²"
	case quantity.KindResistance:
		return "Ω"
	case quantity.KindLinearResistance:
		return "Ω/m"
	case quantity.KindInductance:
		return "H"
	case quantity.KindCapacitance:
		return "F"
	case quantity.KindTemperature:
		return "°C"
	case quantity.KindTemperatureRise:
		return "K"
	case quantity.KindDuration:
		return "s"
	case quantity.KindEnergy:
		return "J"
	case quantity.KindTorque:
		return "N·m"
	case quantity.KindMass:
		return "kg"
	case quantity.KindInertia:
		return "kg·m²"
	case quantity.KindForce:
		return "N"
	case quantity.KindAirFlow:
		return "m³/s"
	case quantity.KindPressure:
		return "Pa"
	case quantity.KindHeatTransfer:
		return "W/(m²·K)"
	case quantity.KindConductance:
		return "W/K"
	case quantity.KindIrradiance:
		return "W/m²"
	case quantity.KindMoney:
		return "of the job's currency"
	case quantity.KindRatio, quantity.KindFactor, quantity.KindCount:
		return "1"
	case quantity.KindText:
	}
	return ""
}

func round3(x float64) float64 { return math.Round(x*1000) / 1000 }
