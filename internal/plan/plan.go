// Package plan derives everything from a job, in the order of the work, and gathers the rules and formulas of all
// trades. It translates between trades; it computes nothing itself.
//
// Begin with Make.
package plan

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/power"
)

// Plan is everything that follows from a job.
type Plan struct {
	Job      *job.Job
	Power    power.Result
	Findings []explain.Finding // all, gravest first, accepted ones among them
}

// Make derives the plan of a job file. The decoder's problems are among its findings; a value with a problem counts as not
// written.
func Make(f *job.File) Plan {
	j := &f.Job
	p := Plan{Job: j, Power: power.Size(j)}
	p.Findings = explain.Judge(power.Rules(), p.Power.Code.Set, p.Power)
	p.Findings = append(p.Findings, f.Problems...)
	p.accept()
	explain.SortFindings(p.Findings)
	return p
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
