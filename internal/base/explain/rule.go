package explain

import "slices"

// RuleSet is a family of installation rules that a job is judged by.
type RuleSet string

// The rule sets.
const (
	US  RuleSet = "us"  // NFPA 70 and NFPA 79
	IEC RuleSet = "iec" // IEC 60364 and IEC 60204-1
)

// Everywhere is the list of all rule sets: physics doesn't stop at a border.
var Everywhere = []RuleSet{US, IEC}

// Rule is one registered item of judgement over values of type T. Its jobs that trip it and that don't live under the
// plan's test data, in the folder of its name.
type Rule[T any] struct {
	Name     string // kebab-case words a fitter can read, never reused
	Title    string // what is wrong, in half a line
	Why      string // what it does to fingers, fire or motor
	Severity Severity
	// Decides is true where the finding decides whether anything else is worth doing: it stands first among its severity.
	Decides bool
	Sets    []RuleSet
	Source  Source
	// Check looks at t and reports each place where the rule is broken.
	Check func(t T, report *Report)
}

// Paper is what a rule says of itself, whatever it judges.
type Paper struct {
	Name, Title, Why string
	Severity         Severity
	Sets             []RuleSet
	Source           Source
}

// Paper returns what the rule says of itself.
func (r Rule[T]) Paper() Paper {
	return Paper{r.Name, r.Title, r.Why, r.Severity, r.Sets, r.Source}
}

// Judge runs the rules that belong to the set over t and returns what they found.
func Judge[T any](rules []Rule[T], set RuleSet, t T) []Finding {
	var found []Finding
	for _, r := range rules {
		if !slices.Contains(r.Sets, set) {
			continue
		}
		r.Check(t, &Report{rule: r.Paper(), decides: r.Decides, found: &found})
	}
	return found
}

// Report gathers what a rule finds.
type Report struct {
	rule    Paper
	decides bool
	found   *[]Finding
}

// At reports a finding about the value, at the place in the job file where the value or its nearest given input stands. A
// finding about a value that isn't written keeps the path to write it at; the plan then points at the section.
// The message says what was found and what was expected; the remedy what to do, with the figure that would pass.
func (r *Report) At(about Because, message, remedy Phrase, related ...Related) {
	why := about.Why()
	place := Place(why)
	f := Finding{Rule: r.rule.Name, Severity: r.rule.Severity, Decides: r.decides, Source: r.rule.Source, Message: message, Remedy: remedy, Related: related, About: why, Path: why.Path}
	if place != nil {
		f.Span, f.Path = place.Span, place.Path
	}
	*r.found = append(*r.found, f)
}

// Whole reports a finding about the whole job.
func (r *Report) Whole(message, remedy Phrase) {
	*r.found = append(*r.found, Finding{Rule: r.rule.Name, Severity: r.rule.Severity, Decides: r.decides, Source: r.rule.Source, Message: message, Remedy: remedy})
}

// Place returns the nearest reason at or below r that stands in the job file, breadth first; nil if none does.
func Place(r *Reason) *Reason {
	queue := []*Reason{r}
	for len(queue) > 0 {
		head := queue[0]
		queue = queue[1:]
		if head == nil {
			continue
		}
		if head.Span.Known() {
			return head
		}
		for _, i := range head.Inputs {
			queue = append(queue, i.Reason)
		}
	}
	return nil
}
