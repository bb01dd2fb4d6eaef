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

// WriteJSON writes the document as data. The fields are those of the types below; a field that says nothing is left out. All
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
	out := jsonSheet{Format: "drivewright sheet", FormatVersion: jsonVersion, Title: d.Title, Subtitle: d.Subtitle, File: d.File, Units: d.Units.String(),
		Paper: string(d.Paper), Date: d.Date, Version: d.Version,
		Verdict:  jsonVerdict{d.Verdict.Severity.String(), d.Verdict.Headline, d.Verdict.Detail},
		Findings: []jsonFinding{}, Sections: []jsonSection{}, Reasons: map[string]jsonReason{}}
	for n, f := range d.Findings {
		out.Findings = append(out.Findings, jsonFinding{Number: n + 1, Rule: f.Rule, Title: f.Title, Why: f.Why, Severity: f.Severity.String(), Blocks: f.Severity.Blocks() && f.Accepted == "",
			Message: f.Message, Remedy: f.Remedy, Source: f.Source, Place: f.Place, Path: f.Path, Value: f.ValueID, Accepted: f.Accepted})
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

type jsonSheet struct {
	Format        string                `json:"format"`
	FormatVersion int                   `json:"format_version"`
	Title         string                `json:"title"`
	Subtitle      string                `json:"subtitle,omitempty"`
	File          string                `json:"file,omitempty"`
	Units         string                `json:"units"` // inch or metric
	Paper         string                `json:"paper,omitempty"`
	Date          string                `json:"date,omitempty"` // yyyy-mm-dd
	Version       string                `json:"version,omitempty"`
	Verdict       jsonVerdict           `json:"verdict"`
	Findings      []jsonFinding         `json:"findings"`
	Sections      []jsonSection         `json:"sections"`
	Reasons       map[string]jsonReason `json:"reasons"`
}

type jsonVerdict struct {
	Severity string `json:"severity"` // danger, must, check or note
	Headline string `json:"headline"`
	Detail   string `json:"detail,omitempty"`
}

type jsonFinding struct {
	Number   int    `json:"number"`
	Rule     string `json:"rule"`
	Title    string `json:"title,omitempty"`
	Severity string `json:"severity"`
	Blocks   bool   `json:"blocks"` // whether the job must not go on like this
	Message  string `json:"message"`
	Remedy   string `json:"remedy,omitempty"`
	Why      string `json:"why,omitempty"`
	Source   string `json:"source,omitempty"`
	Place    string `json:"place,omitempty"` // file:line:column
	Path     string `json:"path,omitempty"`  // in the job file
	Value    string `json:"value,omitempty"` // id of the value that it is about
	Accepted string `json:"accepted,omitempty"`
}

type jsonSection struct {
	ID     string      `json:"id"`
	Title  string      `json:"title"`
	Level  int         `json:"level"`
	Lead   string      `json:"lead,omitempty"`
	Blocks []jsonBlock `json:"blocks"`
}

// jsonBlock is one block; kind says which of the other fields it has.
type jsonBlock struct {
	Kind     string      `json:"kind"` // paragraph, caution, values, table, figure, numbered or ticks
	Title    string      `json:"title,omitempty"`
	Text     string      `json:"text,omitempty"`     // paragraph, caution
	Severity string      `json:"severity,omitempty"` // caution
	Values   []jsonValue `json:"values,omitempty"`
	Head     []string    `json:"head,omitempty"` // table
	Numeric  []bool      `json:"numeric,omitempty"`
	Rows     [][]string  `json:"rows,omitempty"`
	Chosen   *int        `json:"chosen,omitempty"` // index of the row chosen
	Note     string      `json:"note,omitempty"`
	Figure   *jsonFigure `json:"figure,omitempty"`
	Items    []jsonItem  `json:"items,omitempty"` // numbered, ticks
}

type jsonValue struct {
	ID       string   `json:"id"`
	Label    string   `json:"label"`
	Text     string   `json:"text"` // the figure with its unit, as printed
	Origin   string   `json:"origin"`
	Path     string   `json:"path,omitempty"`  // where it stands, or may be written, in the job file
	Typed    string   `json:"typed,omitempty"` // as the user wrote it
	Choices  []string `json:"choices,omitempty"`
	Help     string   `json:"help,omitempty"`
	Summary  string   `json:"summary,omitempty"`
	Reason   string   `json:"reason,omitempty"`   // key in reasons
	Findings []int    `json:"findings,omitempty"` // numbers of the findings about it
}

// jsonFigure tells what a figure shows; the drawing itself is in the other forms.
type jsonFigure struct {
	ID        string  `json:"id"`
	Text      string  `json:"text"`
	Width     float64 `json:"width_mm"`
	Height    float64 `json:"height_mm"`
	TrueScale bool    `json:"true_scale,omitempty"`
}

type jsonItem struct {
	Text   string `json:"text"`
	Expect string `json:"expect,omitempty"` // what a reading should be
}

type jsonReason struct {
	Name    string      `json:"name"`
	Text    string      `json:"text"` // the value as printed
	Kind    string      `json:"kind,omitempty"`
	SI      *float64    `json:"si,omitempty"`
	SIList  []float64   `json:"si_list,omitempty"` // of a nameplate's several figures
	Unit    string      `json:"unit,omitempty"`    // of si
	Origin  string      `json:"origin"`
	Typed   string      `json:"typed,omitempty"`
	Words   string      `json:"words,omitempty"`   // the formula in words
	Figures string      `json:"figures,omitempty"` // the formula with the figures put in
	Formula string      `json:"formula,omitempty"` // name of the formula that can be run by itself
	Source  *jsonSource `json:"source,omitempty"`
	Note    string      `json:"note,omitempty"`
	Path    string      `json:"path,omitempty"`
	Place   string      `json:"place,omitempty"` // file:line:column
	Inputs  []jsonInput `json:"inputs,omitempty"`
}

type jsonSource struct {
	Work    string `json:"work,omitempty"`
	Edition string `json:"edition,omitempty"`
	Place   string `json:"place,omitempty"`
	Trust   string `json:"trust,omitempty"` // from memory, common practice, arithmetic; nothing for what was read
}

type jsonInput struct {
	As     string `json:"as"` // what the formula calls it
	Reason string `json:"reason"`
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
		out := jsonBlock{Kind: "ticks", Title: b.Title}
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
		out.Place = fmt.Sprintf("%s:%d:%d", r.Span.File, r.Span.Line, r.Span.Column)
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
	case quantity.KindMoney:
		return "of the job's currency"
	case quantity.KindRatio, quantity.KindFactor, quantity.KindCount:
		return "1"
	case quantity.KindText:
	}
	return ""
}

func round3(x float64) float64 { return math.Round(x*1000) / 1000 }
