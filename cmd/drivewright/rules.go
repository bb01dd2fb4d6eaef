package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
)

type rulesCommand struct {
	Name   string `arg:"" optional:"" help:"A rule's name, as a finding prints it in brackets."`
	Format string `help:"How to print: ${enum}." enum:"text,json" default:"text"`
}

// Run lists the rules, or explains the one that is named.
func (c rulesCommand) Run(b *bench) error {
	papers := slices.Concat(plan.Rules(), job.Mistakes())
	if c.Name != "" {
		p, err := named(c.Name, papers, func(p explain.Paper) string { return p.Name }, "rule")
		if err != nil {
			return err
		}
		papers = []explain.Paper{p}
	}
	if c.Format == "json" {
		var lines []ruleLine
		for _, p := range papers {
			lines = append(lines, ruleLine{p.Name, p.Title, p.Why, p.Severity.String(), setNames(p.Sets), p.Source.String()})
		}
		return writeJSON(b, lines)
	}
	if c.Name != "" {
		p := papers[0]
		fmt.Fprintf(b.out, "%s  [%s]\n  %s\n\n  why it matters   %s\n  rule sets        %s\n  source           %s\n",
			p.Name, p.Severity, p.Title, p.Why, strings.Join(setNames(p.Sets), ", "), p.Source)
		return nil
	}
	table := tabwriter.NewWriter(b.out, 0, 0, 2, ' ', 0)
	for _, p := range papers {
		fmt.Fprintf(table, "%s\t%s\t%s\n", p.Severity, p.Name, p.Title)
	}
	return table.Flush()
}

// ruleLine is a rule in the JSON output.
type ruleLine struct {
	Name     string   `json:"name"`
	Title    string   `json:"title"`
	Why      string   `json:"why"`
	Severity string   `json:"severity"`
	Sets     []string `json:"ruleSets"`
	Source   string   `json:"source"`
}

func setNames(sets []explain.RuleSet) []string {
	var names []string
	for _, s := range sets {
		names = append(names, string(s))
	}
	return names
}
