package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
)

type checkCommand struct {
	Jobs   []string `arg:"" name:"job" help:"Job files, or folders of them."`
	Format string   `help:"How to print: ${enum}." enum:"text,json" default:"text"`
	Quiet  bool     `help:"Print dangers and musts only."`
}

// Run prints the findings of each job, gravest first, and fails on a danger or a must.
func (c checkCommand) Run(b *bench) error {
	blocked, written := false, false
	all := []findingLine{} // as data, nothing found is an empty list
	jobs, err := jobFiles(c.Jobs)
	if err != nil {
		return err
	}
	for _, path := range jobs {
		file, err := readJob(path)
		if err != nil {
			return err
		}
		p := plan.Broken(file, b.after(checkingMost))
		for _, f := range p.Findings {
			blocked = blocked || f.Severity.Blocks()
			if c.Quiet && !f.Severity.Blocks() {
				continue
			}
			if c.Format == "json" {
				all = append(all, lineOf(path, f, p.Units()))
				continue
			}
			if b.width > 0 && written { // lines that go on below need a gap between findings
				fmt.Fprintln(b.out)
			}
			written = true
			if err := explain.WriteFinding(b.out, f, file.Bytes, explain.TextForm{Units: p.Units(), Colour: b.colour, Width: b.width}); err != nil {
				return err
			}
		}
		if c.Format == "text" {
			if b.width > 0 && written {
				fmt.Fprintln(b.out)
			}
			fmt.Fprintf(b.out, "%s: %s\n", path, countInWords(p.Findings))
		}
	}
	if c.Format == "json" {
		if err := writeJSON(b, all); err != nil {
			return err
		}
	}
	if blocked {
		return errFindings
	}
	return nil
}

// findingLine is a finding in the JSON output of check.
type findingLine struct {
	File     string `json:"file"`
	Line     int    `json:"line,omitempty"`
	Column   int    `json:"column,omitempty"`
	Path     string `json:"path,omitempty"`
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Message  string `json:"message"`
	Remedy   string `json:"remedy,omitempty"`
	Source   string `json:"source,omitempty"`
	Accepted string `json:"accepted,omitempty"`
}

func lineOf(path string, f explain.Finding, units quantity.System) findingLine {
	return findingLine{File: path, Line: f.Span.Line, Column: f.Span.Column, Path: f.Path, Rule: f.Rule, Severity: f.Severity.String(),
		Message: f.Message.Show(units), Remedy: f.Remedy.Show(units), Source: f.Source.String(), Accepted: f.Accepted}
}

// countInWords sums findings up: "1 danger, 2 must, 4 check, 3 note".
func countInWords(findings []explain.Finding) string {
	counts := map[explain.Severity]int{}
	for _, f := range findings {
		counts[f.Severity]++
	}
	text := ""
	for s := explain.Danger; s <= explain.Note; s++ {
		if counts[s] > 0 {
			if text != "" {
				text += ", "
			}
			text += fmt.Sprintf("%d %s", counts[s], s)
		}
	}
	if text == "" {
		return "nothing found"
	}
	return text
}

// jobFiles puts the jobs of a folder in the folder's place.
func jobFiles(paths []string) ([]string, error) {
	var files []string
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil || !info.IsDir() {
			files = append(files, path)
			continue
		}
		jobs := jobsIn(path)
		if len(jobs) == 0 {
			return nil, usage("there is no job in %s: a job is a file that ends in %s", path, jobEnding)
		}
		files = append(files, jobs...)
	}
	return files, nil
}

// jobsIn returns the job files of a folder, by name; none if it isn't a folder.
func jobsIn(folder string) []string {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	var jobs []string
	for _, e := range entries {
		if !e.IsDir() && strings.HasSuffix(e.Name(), jobEnding) {
			jobs = append(jobs, filepath.Join(folder, e.Name()))
		}
	}
	return jobs
}

// readJob reads a job file. A file that can't be read is the user's error; one that can't be understood isn't an error
// here: its mistakes are among the findings.
func readJob(path string) (*job.File, error) {
	text, err := os.ReadFile(path)
	if info, e := os.Stat(path); e == nil && info.IsDir() {
		err = errFolder
	}
	if err != nil {
		return nil, fileNamed(path, err)
	}
	return job.Read(filepath.Clean(path), text), nil
}

func writeJSON(b *bench, v any) error {
	e := json.NewEncoder(b.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
