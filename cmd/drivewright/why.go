package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
)

type whyCommand struct {
	Job    string `arg:"" help:"The job file."`
	Value  string `arg:"" optional:"" help:"A value: its name in words or as one word (branch-conductor), or its path in the job file (supply.conductor); all of them if left out."`
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
	r, err := valueNamed(c.Value, values, &p)
	if err != nil {
		return err
	}
	if c.Format == "json" {
		return writeJSON(b, reasonLines(r, units))
	}
	fmt.Fprintf(b.out, "%s: %s\n", r.Name, r.Show(units))
	writeReason(b.out, r, units, b.width, 1)
	if users := goesInto(r, values); len(users) > 0 {
		fmt.Fprintln(b.out, explain.Fold("  goes into: "+strings.Join(users, ", "), b.width, "    "))
	}
	return nil
}

// valueNamed returns the value that a word stands for: its name as one word or in words, with or without the "existing" of
// a part that is there already, or its path in the job file (supply.conductor), whether it was written there or chosen.
func valueNamed(word string, values []*explain.Reason, p *plan.Plan) (*explain.Reason, error) {
	byID, byPath := map[string]*explain.Reason{}, map[string]*explain.Reason{}
	var names []string
	for _, r := range values {
		byID[r.ID()] = r
		names = append(names, r.ID())
		if r.Path != "" && byPath[r.Path] == nil {
			byPath[r.Path] = r
		}
	}
	byName := func(id string) *explain.Reason {
		const existing = "existing-"
		return cmp.Or(byID[id], byID[existing+id], byID[strings.TrimPrefix(id, existing)])
	}
	if r := byName(explain.Slug(word)); r != nil {
		return r, nil
	}
	path := strings.ToLower(strings.TrimSpace(word))
	if r := byPath[path]; r != nil {
		return r, nil
	}
	for _, e := range written(p.Job) {
		if e.Path != path && explain.Slug(e.Path) != explain.Slug(word) && e.Reason.ID() != explain.Slug(word) {
			names = append(names, e.Path)
			continue
		}
		if r := byName(e.Reason.ID()); r != nil {
			return r, nil
		}
		return e.Reason, nil // nothing on the sheet is made of it
	}
	if near := explain.Near(explain.Slug(word), names); len(near) > 0 {
		return nil, usage("there is no value named %q; %s", word, explain.DidYouMean(near))
	}
	return nil, usage("there is no value named %q; drivewright why JOB lists them all", word)
}

// written returns every value that the job file can hold, written or not.
func written(j *job.Job) []job.Entry {
	entries := j.Entries("")
	for _, s := range job.Sections() {
		if !s.List {
			entries = append(entries, j.Entries(s.Path)...)
			continue
		}
		for n := 0; ; n++ {
			items := j.Entries(fmt.Sprintf("%s[%d]", s.Key, n))
			if items == nil {
				break
			}
			entries = append(entries, items...)
		}
	}
	return entries
}

// goesInto names the values that r is an input of.
func goesInto(r *explain.Reason, values []*explain.Reason) []string {
	var users []string
	for _, v := range values {
		if slices.ContainsFunc(v.Inputs, func(i explain.Input) bool { return i.Reason != nil && i.Reason.ID() == r.ID() }) {
			users = append(users, v.ID())
		}
	}
	return users
}

// writeReason prints a reason and, indented beneath, the reasons of its inputs down to the job file, in lines of the width.
func writeReason(w io.Writer, r *explain.Reason, units quantity.System, width, depth int) {
	indent := strings.Repeat("  ", depth)
	line := func(format string, args ...any) {
		fmt.Fprintln(w, explain.Fold(indent+fmt.Sprintf(format, args...), width, indent+"    "))
	}
	if words := r.InWords(); words != "" {
		line("= %s", words)
		if figures := r.Figures(units); figures != "" && figures != words {
			line("= %s", figures)
		}
	}
	switch r.Origin {
	case explain.Given:
		if r.Span.Known() {
			line("given at %s", r.Span)
		} else {
			line("given")
		}
	case explain.Derived:
	case explain.Looked, explain.Assumed, explain.Missing, explain.Catalogue, explain.NotNeeded:
		line("%s", r.Origin)
	}
	if source := r.Source.String(); source != "" {
		line("source: %s", source)
	}
	if !r.Note.Empty() {
		line("note: %s", r.Note.Show(units))
	}
	for _, i := range r.Inputs {
		line("%s: %s", i.Name, i.Show(units))
		writeReason(w, i.Reason, units, width, depth+1)
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
