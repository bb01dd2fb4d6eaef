package explain

import (
	"strings"

	"drivewright/internal/base/quantity"
)

// Origin says where a value came from.
type Origin int

// The origins of a value.
const (
	Given     Origin = iota // the user wrote it in the job file
	Derived                 // a formula made it
	Looked                  // it stands in a table of the catalogue
	Assumed                 // nobody said; the program assumes it and shows that it does
	Missing                 // it isn't known, and Note says what is needed
	Catalogue               // a typical part's figure, until the user enters the data sheet's
	NotNeeded               // the value doesn't apply to this job, and Note says why: the cord of a hard-wired machine
)

// String returns the word that the sheet prints.
func (o Origin) String() string {
	switch o {
	case Given:
		return "given"
	case Derived:
		return "derived"
	case Looked:
		return "from a table"
	case Assumed:
		return "assumed"
	case Missing:
		return "missing"
	case Catalogue:
		return "typical part"
	case NotNeeded:
		return "not needed"
	}
	return ""
}

// Reason is why a value is what it is. Walking down Inputs always ends at a Span in the job file, a table cell, a
// typical part or an assumption that is marked as one.
type Reason struct {
	// Name is the value's name in the words of the trade, unique in a plan: "drive input current".
	Name  string
	Value quantity.Value // nil when Origin is Missing or NotNeeded
	// Typed is the user's own spelling when Origin is Given.
	Typed  string
	Origin Origin
	// Words is the formula in words, each input's name in braces: "{drive input current} × 125 %".
	Words   string
	Formula string // name of the formula that can be run by itself; "" if none
	Inputs  []Input
	Source  Source
	Span    Span   // where the value stands in the job file, or the zero Span
	Path    string // the job-file path to write it at, such as "supply.breaker"; "" if it can't be written
	// Note says what the reader must know beside the number: the assumption made, the exception used, what is missing.
	Note Phrase
}

// ID returns the name as one word, for commands and links: "drive-input-current".
func (r *Reason) ID() string { return Slug(r.Name) }

// Slug turns a name in words into one lower-case word with hyphens.
func Slug(name string) string {
	var b strings.Builder
	hyphen := false
	for _, c := range strings.ToLower(name) {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			if hyphen && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(c)
			hyphen = false
		} else {
			hyphen = true
		}
	}
	return b.String()
}

// There reports whether the reason has a value at all.
func (r *Reason) There() bool {
	return r != nil && r.Value != nil && r.Origin != Missing && r.Origin != NotNeeded
}

// Show prints the value. What the user wrote is echoed as it was written, with the figure in the other unit system
// behind it where that is the one asked for: "3 hp (2.24 kW)".
func (r *Reason) Show(s quantity.System) string {
	if r != nil && r.Origin == NotNeeded {
		return "not needed"
	}
	if r == nil || r.Value == nil {
		return "not known"
	}
	shown := r.Value.Show(s)
	if r.Origin != Given || r.Typed == "" {
		return shown
	}
	k := r.Value.Kind()
	if _, words := r.Value.(quantity.Text); k == quantity.KindText && !words {
		return shown // a list is written in the file's way and said in the trade's
	}
	if k == quantity.KindText || k == quantity.KindConductor || r.sameInBoth() || quantity.SameUnit(k, r.Typed, shown) {
		return r.Typed
	}
	return r.Typed + " (" + shown + ")"
}

// sameInBoth reports whether the value looks the same in both unit systems.
func (r *Reason) sameInBoth() bool {
	return r.Value.Show(quantity.InchUnits) == r.Value.Show(quantity.MetricUnits)
}

// InWords returns the formula in words, without braces.
func (r *Reason) InWords() string {
	return strings.NewReplacer("{", "", "}", "").Replace(r.Words)
}

// Figures returns the formula with the inputs' figures put in: "23 A × 125 %"; "" when there is no formula, or when it is
// another value under a new name, whose figure would only stand there twice.
func (r *Reason) Figures(s quantity.System) string {
	if r.Words == "" || len(r.Inputs) == 0 || len(r.Inputs) == 1 && r.Words == "{"+r.Inputs[0].As+"}" {
		return ""
	}
	var b strings.Builder
	rest := r.Words
	for {
		before, after, found := strings.Cut(rest, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, tail, closed := strings.Cut(after, "}")
		if !closed {
			b.WriteString(after)
			return b.String()
		}
		if input := r.input(name); input != nil {
			b.WriteString(input.Show(s))
		} else {
			b.WriteString(name)
		}
		rest = tail
	}
}

// input returns the input that the formula calls name, or nil.
func (r *Reason) input(name string) *Reason {
	for _, i := range r.Inputs {
		if i.As == name {
			return i.Reason
		}
	}
	return nil
}

// Input is one input of a formula: the reason, and the name that the formula's words give it.
type Input struct {
	As string
	*Reason
}

// Because is whatever has a reason: a Known value of any kind.
type Because interface {
	// Why returns the reason; never nil.
	Why() *Reason
}

// Known is a value with its reason. A value that could not be had has a reason of origin Missing, and OK is false.
type Known[V quantity.Value] struct {
	Value  V
	reason *Reason
}

// Why returns the reason of k; for the zero Known a reason of origin Missing.
func (k Known[V]) Why() *Reason {
	if k.reason == nil {
		return &Reason{Origin: Missing}
	}
	return k.reason
}

// OK reports whether the value is there.
func (k Known[V]) OK() bool {
	return k.reason != nil && k.reason.Origin != Missing && k.reason.Origin != NotNeeded
}

// Assume returns the value v under the name, marked as assumed, with the note that says why this one.
func Assume[V quantity.Value](name string, v V, source Source, note Phrase) Known[V] {
	return Known[V]{v, &Reason{Name: name, Value: v, Origin: Assumed, Source: source, Note: note}}
}

// Constant returns a figure of a rule or table as a value: 125 % from NEC 430.122(A).
func Constant[V quantity.Value](name string, v V, source Source) Known[V] {
	return Known[V]{v, &Reason{Name: name, Value: v, Origin: Looked, Source: source}}
}

// Part returns a figure of a typical part, marked as such.
func Part[V quantity.Value](name string, v V, part string) Known[V] {
	return Known[V]{v, &Reason{Name: name, Value: v, Origin: Catalogue, Source: Source{Work: "typical part", Place: part},
		Note: Say("a typical figure: enter your data sheet's")}}
}

// Absent returns the value that is not known, with what is needed to know it.
func Absent[V quantity.Value](name string, needed Phrase) Known[V] {
	return Known[V]{reason: &Reason{Name: name, Origin: Missing, Note: needed}}
}

// Needless returns the value that doesn't apply to this job, with why: the cord of a hard-wired machine.
func Needless[V quantity.Value](name string, why Phrase) Known[V] {
	return Known[V]{reason: &Reason{Name: name, Origin: NotNeeded, Note: why}}
}

// Chosen returns the value v under the name, picked from several by the words given: smallest that passes, first known.
// It is how a decision that no single formula makes keeps its inputs.
func Chosen[V quantity.Value](name string, v V, words string, source Source, inputs ...Because) Known[V] {
	r := &Reason{Name: name, Value: v, Origin: Derived, Words: words, Source: source}
	for _, i := range inputs {
		r.Inputs = append(r.Inputs, Input{As: i.Why().Name, Reason: i.Why()})
	}
	return Known[V]{v, r}
}

// Renamed returns k under another name, with k as its only input: the same figure in a new role.
func Renamed[V quantity.Value](name string, k Known[V]) Known[V] {
	if !k.OK() {
		return Known[V]{reason: &Reason{Name: name, Origin: k.Why().Origin, Note: k.Why().Note, Inputs: []Input{{As: k.Why().Name, Reason: k.Why()}}}}
	}
	return Known[V]{k.Value, &Reason{Name: name, Value: k.Value, Origin: Derived, Words: "{" + k.Why().Name + "}",
		Inputs: []Input{{As: k.Why().Name, Reason: k.Why()}}}}
}

// Noted returns k with another note.
func (k Known[V]) Noted(note Phrase) Known[V] {
	r := *k.Why()
	r.Note = note
	return Known[V]{k.Value, &r}
}

// Wrap returns the Known of a reason made elsewhere (by the job, for what the user wrote). The reason's value must be a V,
// or its origin Missing; otherwise the result is missing.
func Wrap[V quantity.Value](r *Reason) Known[V] {
	v, ok := r.Value.(V)
	if !ok && r.Origin != Missing && r.Origin != NotNeeded {
		return Absent[V](r.Name, Say("is not a "+quantity.KindOf[V]().String()))
	}
	return Known[V]{v, r}
}
