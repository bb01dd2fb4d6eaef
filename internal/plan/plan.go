// Package plan derives everything from a job, in the order of the work, and gathers the rules and formulas of all
// trades. It translates between trades; it computes nothing itself.
//
// Begin with Make.
package plan

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/power"
)

// Plan is everything that follows from a job.
type Plan struct {
	Job   *job.Job
	Power power.Result
	// Findings are all of them, accepted ones too: first the mistakes in the job file, because what they lead to goes away
	// with them; then the gravest first.
	Findings []explain.Finding
}

// Make derives the plan of a job file. The decoder's problems are among its findings; a value with a problem counts as not
// written.
func Make(f *job.File) Plan {
	j := &f.Job
	p := Plan{Job: j, Power: power.Size(j)}
	judged := explain.Judge(power.Rules(), p.Power.Code.Set, p.Power)
	judged = slices.DeleteFunc(judged, followsFromMistake)
	for n := range judged {
		if found := &judged[n]; !found.Span.Known() {
			found.Span = f.SectionAt(found.Path)
			found.Span.File = f.Name
		}
	}
	explain.SortFindings(judged)
	mistakes := slices.Clone(f.Problems)
	explain.SortFindings(mistakes)
	p.Findings = append(mistakes, judged...)
	p.accept()
	return p
}

// followsFromMistake reports whether a finding only says that a value is missing which stands in the file with a mistake:
// the mistake is among the problems, with its place.
func followsFromMistake(f explain.Finding) bool {
	return f.About != nil && f.About.Origin == explain.Missing && f.About.Span.Known()
}

// accept marks the findings that the user has recorded as accepted. A danger or a must can't be.
func (p *Plan) accept() {
	for n := range p.Findings {
		f := &p.Findings[n]
		for _, a := range p.Job.Accepted {
			if string(a.Rule.Value) == f.Rule && a.Reason.Set && !f.Severity.Blocks() {
				f.Accepted = string(a.Reason.Value)
			}
		}
	}
}

// Rules returns what every rule says of itself, in the order of the sheet.
func Rules() []explain.Paper {
	var papers []explain.Paper
	for _, r := range power.Rules() {
		papers = append(papers, r.Paper())
	}
	return papers
}

// Formulas returns every formula that can be run by itself, in the order of the sheet.
func Formulas() []*explain.Formula { return power.Formulas() }
