package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

type rulesCommand struct {
	Name   string `arg:"" optional:"" help:"A rule's name, as a finding prints it in brackets."`
	Job    string `help:"Print the whole of the job that trips the rule, or of the one that is quiet, to be tried: ${enum}." enum:"trips,quiet,none" default:"none"`
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
	if c.Job != "none" {
		return c.printJob(b)
	}
	if c.Format == "json" {
		var lines []ruleLine
		for _, p := range papers {
			lines = append(lines, ruleLineOf(p))
		}
		return writeJSON(b, lines)
	}
	if c.Name != "" {
		return explainRule(b, papers[0])
	}
	table := tabwriter.NewWriter(b.out, 0, 0, 2, ' ', 0)
	for _, p := range papers {
		fmt.Fprintf(table, "%s\t%s\t%s\n", p.Severity, p.Name, p.Title)
	}
	return table.Flush()
}

// shortFile is how many lines are shown whole.
const shortFile = 4

// printJob prints one of the rule's jobs, to be kept and tried.
func (c rulesCommand) printJob(b *bench) error {
	text, quiet := jobsOf(c.Name)
	if c.Job == "quiet" {
		text = quiet
	}
	if text == "" {
		return usage("give the name of a rule that has such jobs, such as %s", plan.Rules()[0].Name)
	}
	_, err := io.WriteString(b.out, text)
	return err
}

// explainRule prints what a rule says of itself, and a job that trips it beside one that doesn't.
func explainRule(b *bench, p explain.Paper) error {
	const indent, shift = "                   ", "  "
	fmt.Fprintf(b.out, "%s  [%s]\n", p.Name, p.Severity)
	for _, line := range []string{"  " + p.Title, "", "  why it matters   " + p.Why, "  rule sets        " + strings.Join(setNames(p.Sets), ", "), "  source           " + p.Source.String()} {
		fmt.Fprintln(b.out, explain.Fold(line, b.width, indent))
	}
	trips, quiet := jobsOf(p.Name)
	if trips == "" {
		return nil
	}
	fmt.Fprintf(b.out, "\na job that trips it%s\n", caseOf(trips))
	if err := writeLines(b, shift+shift, onlyIn(trips, quiet)); err != nil {
		return err
	}
	made := plan.Make(job.Read("", []byte(trips)))
	if slices.Contains(sheet.ProofRules(), p.Name) {
		made.Prove()
	}
	if plan.ByArrangement(p.Name) {
		made.Arrange(box.Options{Quick: true})
	}
	var said bytes.Buffer
	for _, f := range made.Findings {
		if f.Rule != p.Name {
			continue
		}
		f.Rule, f.Span = "", explain.Span{} // the lines themselves stand above
		for n := range f.Related {
			f.Related[n].Span = explain.Span{}
		}
		if err := explain.WriteFinding(&said, f, nil, explain.TextForm{Units: made.Units(), Colour: b.colour, Width: max(b.width-len(shift), 0)}); err != nil {
			return err
		}
	}
	if err := writeLines(b, shift, slices.Collect(strings.Lines(said.String()))); err != nil {
		return err
	}
	fmt.Fprintf(b.out, "\na job that doesn't%s\n", caseOf(quiet))
	if err := writeLines(b, shift+shift, onlyIn(quiet, trips)); err != nil {
		return err
	}
	if strings.Count(trips, "\n") <= shortFile {
		return nil
	}
	_, err := fmt.Fprintf(b.out, "\nthe whole of it: drivewright rules %s --job trips, or --job quiet\n", p.Name)
	return err
}

// jobsOf returns a job that trips the rule, or has the mistake, and a like one that doesn't; empty where there is none.
func jobsOf(rule string) (trips, quiet string) {
	if wrong, right := job.MistakeExample(rule); wrong != "" {
		return wrong, right
	}
	t, q := plan.RuleJobs(rule)
	return string(t), string(q)
}

// caseOf is what the remark on the first line of a rule's job says that the case is, behind a colon; empty without one.
func caseOf(text string) string {
	first, _, _ := strings.Cut(text, "\n")
	remark, ok := strings.CutPrefix(first, "# ")
	if !ok || strings.Count(text, "\n") <= shortFile {
		return ":"
	}
	return ": " + strings.TrimSpace(remark)
}

// onlyIn returns the lines of one job that the other doesn't have, below the keys of their sections; all lines of a file
// that is too short to hide anything.
func onlyIn(text, other string) []string {
	if strings.Count(text, "\n") <= shortFile {
		return slices.Collect(strings.Lines(text))
	}
	theirs := map[string]bool{}
	section := ""
	for line := range strings.Lines(other) {
		section = sectionOf(line, section)
		theirs[section+line] = true
	}
	var lines []string
	section = ""
	printed := ""
	for line := range strings.Lines(text) {
		section = sectionOf(line, section)
		if theirs[section+line] || strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		if line != section && printed != section {
			lines = append(lines, section)
		}
		printed = section
		lines = append(lines, line)
	}
	return lines
}

// sectionOf is the line itself if it stands at the left margin, else the section so far.
func sectionOf(line, section string) string {
	if line[0] != ' ' && line[0] != '#' && line[0] != '\n' {
		return line
	}
	return section
}

func writeLines(b *bench, indent string, lines []string) error {
	for _, line := range lines {
		if _, err := fmt.Fprintln(b.out, indent+strings.TrimRight(line, "\r\n")); err != nil {
			return err
		}
	}
	return nil
}

// ruleLine is a rule in the JSON output.
type ruleLine struct {
	Name     string   `json:"name"`
	Title    string   `json:"title"`
	Why      string   `json:"why"`
	Severity string   `json:"severity"`
	Sets     []string `json:"ruleSets"`
	Source   string   `json:"source"`
	Trips    string   `json:"jobThatTrips,omitempty"`
	Quiet    string   `json:"jobThatDoesNot,omitempty"`
}

func ruleLineOf(p explain.Paper) ruleLine {
	trips, quiet := jobsOf(p.Name)
	return ruleLine{p.Name, p.Title, p.Why, p.Severity.String(), setNames(p.Sets), p.Source.String(), trips, quiet}
}

func setNames(sets []explain.RuleSet) []string {
	var names []string
	for _, s := range sets {
		names = append(names, string(s))
	}
	return names
}
