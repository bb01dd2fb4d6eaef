package main

import (
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/plan"
)

type formulaCommand struct {
	Name   string   `arg:"" optional:"" help:"A formula's name."`
	Inputs []string `arg:"" optional:"" help:"Its inputs, such as motor-power=\"3 hp\"."`
	Format string   `help:"How to print: ${enum}." enum:"text,json" default:"text"`
	Units  string   `help:"Unit system of the answer: ${enum}." enum:"inch,metric" default:"inch"`
}

// Run lists the formulas, explains one, or runs one.
func (c formulaCommand) Run(b *bench) error {
	if c.Name == "" {
		return listFormulas(b, c.Format)
	}
	f, err := named(c.Name, plan.Formulas(), func(f *explain.Formula) string { return f.Name }, "formula")
	if err != nil {
		return err
	}
	if len(c.Inputs) == 0 {
		return explainFormula(b, f)
	}
	inputs := map[string]string{}
	for _, i := range c.Inputs {
		key, value, found := strings.Cut(i, "=")
		if !found {
			return usage("%q is not an input: write it as name=value, such as %s=%q", i, explain.Slug(f.Inputs[0].Name), f.Inputs[0].Example)
		}
		inputs[key] = value
	}
	reason, mistakes := f.Run(inputs)
	if len(mistakes) > 0 {
		return usage("%w", errors.Join(mistakes...))
	}
	units := unitSystem(c.Units)
	if c.Format == "json" {
		return writeJSON(b, reasonLines(reason, units))
	}
	fmt.Fprintln(b.out, reason.Show(units))
	writeReason(b.out, reason, units, b.width, 1)
	return nil
}

func listFormulas(b *bench, format string) error {
	if format == "json" {
		var lines []formulaLine
		for _, f := range plan.Formulas() {
			lines = append(lines, formulaLineOf(f))
		}
		return writeJSON(b, lines)
	}
	table := tabwriter.NewWriter(b.out, 0, 0, 2, ' ', 0)
	for _, f := range plan.Formulas() {
		fmt.Fprintf(table, "%s\t%s\n", f.Name, f.Title)
	}
	return table.Flush()
}

func explainFormula(b *bench, f *explain.Formula) error {
	fmt.Fprintf(b.out, "%s\n  %s\n\n  = %s\n  source  %s\n\n", f.Name, f.Title, strings.NewReplacer("{", "", "}", "").Replace(f.Words), f.Source)
	table := tabwriter.NewWriter(b.out, 0, 0, 2, ' ', 0)
	call := "  drivewright formula " + f.Name
	for _, p := range f.Inputs {
		help := p.Help
		if len(p.Choices) > 0 {
			help += ": " + strings.Join(p.Choices, ", ")
		}
		if p.Default != "" {
			help += " (" + p.Default + " if not given)"
		}
		fmt.Fprintf(table, "  %s\t%s\t%s\n", explain.Slug(p.Name), p.Kind, help)
		call += fmt.Sprintf(" %s=%q", explain.Slug(p.Name), p.Example)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(b.out, "\nfor instance\n%s\n", call)
	return nil
}

// formulaLine is a formula in the JSON output.
type formulaLine struct {
	Name   string          `json:"name"`
	Title  string          `json:"title"`
	Words  string          `json:"words"`
	Source string          `json:"source"`
	Result string          `json:"result"`
	Inputs []parameterLine `json:"inputs"`
}

type parameterLine struct {
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Help    string   `json:"help"`
	Example string   `json:"example"`
	Default string   `json:"default,omitempty"`
	Choices []string `json:"choices,omitempty"`
}

func formulaLineOf(f *explain.Formula) formulaLine {
	line := formulaLine{f.Name, f.Title, strings.NewReplacer("{", "", "}", "").Replace(f.Words), f.Source.String(), f.Result.String(), nil}
	for _, p := range f.Inputs {
		line.Inputs = append(line.Inputs, parameterLine{explain.Slug(p.Name), p.Kind.String(), p.Help, p.Example, p.Default, p.Choices})
	}
	return line
}

func unitSystem(word string) quantity.System {
	if word == "metric" {
		return quantity.MetricUnits
	}
	return quantity.InchUnits
}
