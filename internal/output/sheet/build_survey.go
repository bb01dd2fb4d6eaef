package sheet

import (
	"fmt"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
)

// survey lays out what the user found: everything that can be changed stands here or beside what it decides.
func (b *builder) survey() {
	b.section(1, "Survey", "What is there. Everything below was written down by you or is asked of you; all the rest of the sheet follows from it.")
	b.section(2, "Machine", "")
	b.inputs("", "machine")
	b.section(2, "Shop", "")
	b.inputs("", "shop")
	b.section(2, "Supply", "Measure the voltage; read the breaker, the wire and the receptacle.")
	b.add(Caution{Severity: explain.Danger, Text: "The supply side of a panel is live even with its main breaker off. Read what can be read from outside; have the rest read by someone licensed to open it."})
	b.inputs("", "supply")
	b.section(2, "Motor nameplate", "The plate, the ohmmeter and your eyes.")
	b.inputs("", "motor")
	p := b.plan.Power.Plate
	b.values("What the plate says of itself", p.Poles, p.Synchronous, p.Slip, p.EfficiencyFactor, p.LockedRotor)
	b.section(2, "Other loads", "Everything else on the machine that takes power: each needs a named source ahead of the drive.")
	b.loads()
	for n := range b.sections {
		b.sections[n].Asks = b.sections[n].Level == 2
	}
}

// mistakes is what the decoder's findings say of themselves.
func mistakes() []explain.Paper { return job.Mistakes() }

// inputs adds the values of a section of the job file, each to be changed in place: what the user wrote, what a finding
// misses, what is assumed in the meantime, and what nobody has asked for.
func (b *builder) inputs(title, section string) {
	var written, needed, assumed, unwritten []Value
	for _, e := range b.plan.Job.Entries(section) {
		switch v := b.input(e); {
		case v.Origin == explain.Assumed:
			assumed = append(assumed, v)
		case v.Origin != explain.Missing:
			written = append(written, v)
		case len(v.Findings) > 0:
			needed = append(needed, v)
		default:
			unwritten = append(unwritten, v)
		}
	}
	for _, list := range []Values{
		{Title: title, Rows: written},
		{Title: "Needed: a finding asks for it", Rows: needed},
		{Title: "Assumed until you write it down", Rows: assumed},
		{Title: "Not written down", Rows: unwritten, Unwritten: true},
	} {
		if len(list.Rows) > 0 {
			b.add(list)
		}
	}
}

// input is one value that can be written. What is asked needs saying only where nothing has been answered.
func (b *builder) input(e job.Entry) Value {
	reason := e.Reason
	if assumed := b.assumed[e.Path]; reason.Origin == explain.Missing && assumed != nil {
		reason = assumed
	}
	v := b.row(reason)
	v.Path, v.Choices, v.Help = e.Path, e.Words, e.Help
	switch reason.Origin {
	case explain.Given:
		v.Summary = ""
	case explain.Missing:
		v.Summary = e.Help
	default:
	}
	v.Findings = append(v.Findings, b.findings[e.Path]...)
	slices.Sort(v.Findings)
	v.Findings = slices.Compact(v.Findings)
	return v
}

// loads adds one list of values for each load.
func (b *builder) loads() {
	b.sections[len(b.sections)-1].Adds = "loads"
	if len(b.plan.Job.Loads) == 0 {
		b.add(Paragraph{Text: "None written down. Lamps, pumps, coils, a magnetic chuck, a second motor: each belongs here, with where it gets its power."})
	}
	for n, l := range b.plan.Job.Loads {
		title := fmt.Sprintf("Load %d", n+1)
		if l.Name.Set {
			title = string(l.Name.Value)
		}
		b.inputs(title, fmt.Sprintf("loads[%d]", n))
	}
}
