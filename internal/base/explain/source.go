// Package explain holds all that a number or a judgement says of itself: where it stands in the job file (Span), where
// it was published (Source), how it came about (Reason), the formulas that make it (Formula), what is wrong with it
// (Finding) and the rule that says so (Rule).
//
// It computes nothing of the trade and prints no document. Begin with Reason, then Formula, then Rule.
package explain

import "strings"

// Span is a place in a job file. Line and Column are counted from 1, the column in characters as the eye sees them;
// Start and End are byte offsets for edits. The zero Span is no place.
type Span struct {
	File   string
	Line   int
	Column int
	Start  int
	End    int
}

// Known reports whether s is a place at all.
func (s Span) Known() bool { return s.Line > 0 }

// Trust says how well a figure is attested.
type Trust int

// The degrees of trust, best first.
const (
	Published      Trust = iota // read in the named work or a reprint of it
	FromMemory                  // recalled from the named work, not seen: check before you rely on it
	CommonPractice              // a fact of the trade without a published source
	Arithmetic                  // follows from the definition of the quantities
)

// String returns the words that the sheet prints for t; empty for Published, which needs none.
func (t Trust) String() string {
	switch t {
	case FromMemory:
		return "from memory"
	case CommonPractice:
		return "common practice"
	case Arithmetic:
		return "arithmetic"
	case Published:
	}
	return ""
}

// Source is the published place of a figure or a rule.
type Source struct {
	Work    string // such as NFPA 70
	Edition string // such as 2023
	Place   string // article, table or page, such as Table 430.250
	Trust   Trust
}

// NEC returns the given article or table of NFPA 70 (National Electrical Code), edition 2023 numbering.
func NEC(place string) Source { return Source{Work: "NFPA 70", Edition: "2023", Place: place} }

// Practice returns the source of a fact of the trade that nobody published, with a word on where it is met.
func Practice(where string) Source { return Source{Work: where, Trust: CommonPractice} }

// Physics returns the source of a relation that follows from definitions.
func Physics(law string) Source { return Source{Work: law, Trust: Arithmetic} }

// Remembered returns s marked as recalled rather than read.
func (s Source) Remembered() Source {
	s.Trust = FromMemory
	return s
}

// At returns s with another place in the same work.
func (s Source) At(place string) Source {
	s.Place = place
	return s
}

// String returns work, edition, place and trust in one line: "NFPA 70, 2023, Table 430.250 (from memory)".
func (s Source) String() string {
	var parts []string
	for _, p := range []string{s.Work, s.Edition, s.Place} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	text := strings.Join(parts, ", ")
	if t := s.Trust.String(); t != "" {
		if text == "" {
			return t
		}
		text += " (" + t + ")"
	}
	return text
}
