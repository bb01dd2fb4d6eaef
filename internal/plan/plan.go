// Package plan derives everything from a job, in the order of the work, and gathers the rules and formulas of all
// trades. It translates between trades; it computes nothing itself.
//
// Begin with Make.
package plan

import (
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/heat"
	"drivewright/internal/trade/metalwork"
	"drivewright/internal/trade/power"
	"drivewright/internal/trade/prove"
	"drivewright/internal/trade/site"
)

// Plan is everything that follows from a job.
type Plan struct {
	Job   *job.Job
	Power power.Result
	// Circuit is the Controls and Wire stages; Proof the Prove stage, nil until Prove has worked it out.
	Circuit circuit.Result
	Proof   *prove.Proof
	// Taken are the readings that were taken on the real box, as the caller found them in the job's records.
	Taken []prove.Taken
	// Arranged is the Box stage: what stands where in which enclosure; Marked are its faces marked out for drilling. Both are nil until
	// Arrange has worked them out.
	Arranged *box.Result
	Marked   *metalwork.Result
	// Heat is how warm it gets in the box; nil while no size of it is known.
	Heat *heat.Result
	// Metal is the machine's own metal: hole patterns, fits, shims, the bolts of the box.
	Metal metalwork.Patterned
	// Site is where the box and the stations can go on the machine.
	Site site.Result
	// Findings are all of them, accepted ones too: first the mistakes in the job file, because what they lead to goes away
	// with them; then the gravest first.
	Findings []explain.Finding

	circuitMark string // of the circuit before an arrangement gave its wires their lengths; "" until then
	file        *job.File
	mistakes    []explain.Finding // at the head of Findings
}

// Make derives the plan of a job file. The decoder's problems are among its findings; a value with a problem counts as not
// written.
func Make(f *job.File) Plan {
	j := &f.Job
	p := Plan{Job: j, Power: power.Size(j)}
	p.Circuit = circuit.Make(brief(&p))
	set := p.Power.Code.Set
	judged := explain.Judge(circuit.Rules(), set, p.Circuit)
	if !circuitAlone(j) {
		judged = append(explain.Judge(power.Rules(), set, p.Power), judged...)
	}
	judged = append(judged, p.settle()...)
	mistakes := slices.Clone(f.Problems)
	explain.SortFindings(mistakes)
	p.file, p.mistakes = f, mistakes
	p.judged(judged)
	return p
}

// circuitAlone reports whether the file holds a circuit written by hand and no machine: nothing is then asked of its motor and supply.
func circuitAlone(j *job.Job) bool {
	return j.Controls.Circuit.Value == "by hand only" && !j.Motor.Power.Set && !j.Motor.Voltages.Set && !j.Motor.Currents.Set && !j.Supply.Voltage.Set && !j.Supply.Breaker.Set
}

// inTheCircuit reports whether a mistake lies in a device, wire or cable that is written by hand.
func inTheCircuit(f explain.Finding) bool {
	return strings.HasPrefix(f.Path, "devices") || strings.HasPrefix(f.Path, "wires") || strings.HasPrefix(f.Path, "cables")
}

// judged takes over what the rules found, beside what they found before.
func (p *Plan) judged(found []explain.Finding) {
	found = slices.DeleteFunc(found, followsFromMistake)
	for n := range found {
		if f := &found[n]; !f.Span.Known() {
			f.Span = p.file.SectionAt(f.Path)
			f.Span.File = p.file.Name
		}
	}
	if len(p.Findings) > 0 {
		found = append(found, p.Findings[len(p.mistakes):]...)
	}
	if slices.ContainsFunc(p.mistakes, inTheCircuit) {
		// a circuit that can't be read as it is written proves nothing of the one that was meant
		found = slices.DeleteFunc(found, func(f explain.Finding) bool { return f.Rule == "circuit-does-not-run" })
	}
	found = saidOnce(found)
	explain.SortFindings(found)
	p.Findings = append(slices.Clone(p.mistakes), found...)
	p.accept()
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
	for _, r := range circuit.Rules() {
		papers = append(papers, r.Paper())
	}
	for _, r := range prove.Rules() {
		papers = append(papers, r.Paper())
	}
	for _, r := range heat.Rules() {
		papers = append(papers, r.Paper())
	}
	for _, r := range metalwork.HoleRules() {
		papers = append(papers, r.Paper())
	}
	for _, r := range metalwork.Rules() {
		papers = append(papers, r.Paper())
	}
	for _, r := range site.Rules() {
		papers = append(papers, r.Paper())
	}
	for _, r := range box.Rules() {
		papers = append(papers, r.Paper())
	}
	return papers
}

// Formulas returns every formula that can be run by itself, in the order of the sheet.
func Formulas() []*explain.Formula {
	return slices.Concat(power.Formulas(), circuit.Formulas(), heat.Formulas(), metalwork.Formulas(), site.Formulas(), box.Formulas(), []*explain.Formula{outputPower, wireInBox})
}

// brief is what the circuit is made from.
func brief(p *Plan) circuit.Brief {
	r := &p.Power
	return circuit.Brief{Job: p.Job, Set: r.Code.Set, Supply: job.Known(p.Job.Supply.Voltage), Phases: r.Drive.InputPhases, Drive: r.Drive.Name,
		Input: r.Drive.Input, Output: r.Motor.Nameplate, Branch: r.Branch.Used, Lead: r.MotorLead.Conductor, Ground: r.Grounding.Conductor,
		Device: r.Protection.InBox, Switch: r.Disconnect.Size}
}

// Prove works out the Prove stage: what every single fault does, and which meter readings prove the wiring. It takes a part
// of a second, so it isn't done at every change of the job.
func (p *Plan) Prove() {
	proof := ProofOf(&p.Circuit.Circuit)
	p.Proof = &proof
	p.judged(explain.Judge(prove.Rules(), p.Power.Code.Set, *p.Proof))
}

// Broken is the plan of a job file with every single fault of its circuit tried and judged, but without the meter sheet, which
// takes longer: what a check of the file needs. Where the job says anything of the box, its parts are arranged too, quickly;
// stop ends that search when it returns true, nil never does.
func Broken(f *job.File, stop func() bool) Plan {
	p := Make(f)
	p.Proof = &prove.Proof{Report: prove.Break(&p.Circuit.Circuit, false)}
	p.judged(explain.Judge(prove.Rules(), p.Power.Code.Set, *p.Proof))
	if boxAsked(p.Job) {
		p.Arrange(box.Options{Quick: true, Stop: stop})
	}
	return p
}

// ProvePairs is Prove with every pair of faults tried as well, which takes some seconds.
func (p *Plan) ProvePairs() {
	c := &p.Circuit.Circuit
	p.Proof = &prove.Proof{Report: prove.Break(c, true), Meter: prove.Meter(c)}
	p.judged(explain.Judge(prove.Rules(), p.Power.Code.Set, *p.Proof))
}
