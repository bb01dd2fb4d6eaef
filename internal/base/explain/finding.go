package explain

import "sort"

// Severity says how much a finding matters.
type Severity int

// The severities, gravest first.
const (
	Danger Severity = iota // can take a finger, start a fire or electrocute
	Must                   // the design must not go on like this: it breaks a rule, a part or the motor
	Check                  // look at it, measure it or record why it is accepted
	Note                   // worth knowing
)

// String returns the word that is printed: danger, must, check or note.
func (s Severity) String() string {
	switch s {
	case Danger:
		return "danger"
	case Must:
		return "must"
	case Check:
		return "check"
	case Note:
	}
	return "note"
}

// Blocks reports whether a finding of this severity makes the check command fail.
func (s Severity) Blocks() bool { return s <= Must }

// Finding is one thing that is wrong, or worth knowing, about a job.
type Finding struct {
	Rule     string // the rule's name
	Severity Severity
	Decides  bool   // whether anything else is worth doing is decided by it
	Span     Span   // the place in the job file; zero means the whole job
	Path     string // the job-file path it is about, such as "supply.breaker"; "" for the whole job
	Message  Phrase // what was found and what was expected
	Remedy   Phrase // what to do, with the figure that would pass
	Source   Source
	// About is the value that the finding is about, so that it can stand beside it; nil if there is none.
	About   *Reason
	Related []Related
	// Accepted is the user's recorded reason for living with a Check or Note finding; "" if it stands.
	Accepted string
}

// Related is another place that has to do with a finding.
type Related struct {
	Span    Span
	Message Phrase
}

// SortFindings puts the gravest first, among them what decides over the rest, then in file order, then by rule name.
func SortFindings(findings []Finding) {
	sort.SliceStable(findings, func(i, j int) bool {
		a, b := findings[i], findings[j]
		if a.Severity != b.Severity {
			return a.Severity < b.Severity
		}
		if a.Decides != b.Decides {
			return a.Decides
		}
		if a.Span.Line != b.Span.Line {
			return a.Span.Line < b.Span.Line
		}
		if a.Span.Column != b.Span.Column {
			return a.Span.Column < b.Span.Column
		}
		return a.Rule < b.Rule
	})
}
