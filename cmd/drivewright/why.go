package main

import (
	"fmt"
	"io"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/plan"
)

type whyCommand struct {
	Job    string `arg:"" help:"The job file."`
	Value  string `arg:"" optional:"" help:"A value's name in words or as one word, such as branch-conductor; all of them if left out."`
	Format string `help:"How to print: ${enum}." enum:"text,json" default:"text"`
	Units  string `help:"Unit system: ${enum}; the job's own if left out." enum:"inch,metric,job" default:"job"`
}

// Run says why a value is what it is.
func (c whyCommand) Run(b *bench) error {
	file, err := readJob(c.Job)
	if err != nil {
		return err
	}
	p := plan.Make(file)
	units := p.Units()
	if c.Units != "job" {
		units = unitSystem(c.Units)
	}
	values := p.Values()
	if c.Value == "" {
		for _, r := range values {
			fmt.Fprintf(b.out, "%-52s %s\n", r.ID(), r.Show(units))
		}
		return nil
	}
	r, err := named(explain.Slug(c.Value), values, (*explain.Reason).ID, "value")
	if err != nil {
		return err
	}
	if c.Format == "json" {
		return writeJSON(b, reasonLines(r, units))
	}
	fmt.Fprintf(b.out, "%s: %s\n", r.Name, r.Show(units))
	writeReason(b.out, r, units, 1)
	return nil
}

// writeReason prints a reason and, indented beneath, the reasons of its inputs down to the job file.
func writeReason(w io.Writer, r *explain.Reason, units quantity.System, depth int) {
	indent := strings.Repeat("  ", depth)
	if words := r.InWords(); words != "" {
		fmt.Fprintf(w, "%s= %s\n", indent, words)
		if figures := r.Figures(units); figures != "" && figures != words {
			fmt.Fprintf(w, "%s= %s\n", indent, figures)
		}
	}
	switch r.Origin {
	case explain.Given:
		if r.Span.Known() {
			fmt.Fprintf(w, "%sgiven at %s:%d:%d\n", indent, r.Span.File, r.Span.Line, r.Span.Column)
		} else {
			fmt.Fprintf(w, "%sgiven\n", indent)
		}
	case explain.Derived:
	case explain.Looked, explain.Assumed, explain.Missing, explain.Catalogue, explain.NotNeeded:
		fmt.Fprintf(w, "%s%s\n", indent, r.Origin)
	}
	if source := r.Source.String(); source != "" {
		fmt.Fprintf(w, "%ssource: %s\n", indent, source)
	}
	if !r.Note.Empty() {
		fmt.Fprintf(w, "%snote: %s\n", indent, r.Note.Show(units))
	}
	for _, i := range r.Inputs {
		fmt.Fprintf(w, "%s%s: %s\n", indent, i.Name, i.Show(units))
		writeReason(w, i.Reason, units, depth+1)
	}
}

// reasonLine is a reason in JSON, its inputs within it.
type reasonLine struct {
	ID      string       `json:"id"`
	Name    string       `json:"name"`
	Shown   string       `json:"shown"`
	SI      *float64     `json:"si,omitempty"`
	Kind    string       `json:"kind,omitempty"`
	Origin  string       `json:"origin"`
	Words   string       `json:"words,omitempty"`
	Figures string       `json:"figures,omitempty"`
	Formula string       `json:"formula,omitempty"`
	Source  string       `json:"source,omitempty"`
	Note    string       `json:"note,omitempty"`
	File    string       `json:"file,omitempty"`
	Line    int          `json:"line,omitempty"`
	Column  int          `json:"column,omitempty"`
	Inputs  []reasonLine `json:"inputs,omitempty"`
}

func reasonLines(r *explain.Reason, units quantity.System) reasonLine {
	line := reasonLine{ID: r.ID(), Name: r.Name, Shown: r.Show(units), Origin: r.Origin.String(), Words: r.InWords(), Figures: r.Figures(units),
		Formula: r.Formula, Source: r.Source.String(), Note: r.Note.Show(units), File: r.Span.File, Line: r.Span.Line, Column: r.Span.Column}
	if r.Value != nil {
		line.Kind = r.Value.Kind().String()
		if si, ok := quantity.SI(r.Value); ok {
			line.SI = &si
		}
	}
	for _, i := range r.Inputs {
		line.Inputs = append(line.Inputs, reasonLines(i.Reason, units))
	}
	return line
}
