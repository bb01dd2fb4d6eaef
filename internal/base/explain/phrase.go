package explain

import (
	"strings"

	"drivewright/internal/base/quantity"
)

// Phrase is a sentence with quantities in it, printed late so that they come out in the reader's unit system. Each {}
// in Format takes the next of Values.
type Phrase struct {
	Format string
	Values []quantity.Value
}

// Say makes a Phrase: Say("the breaker is {} but {} is the most", a, b).
func Say(format string, values ...quantity.Value) Phrase { return Phrase{format, values} }

// Empty reports whether the phrase says nothing.
func (p Phrase) Empty() bool { return p.Format == "" }

// Show prints the phrase in the given unit system.
func (p Phrase) Show(s quantity.System) string {
	if len(p.Values) == 0 {
		return p.Format
	}
	var b strings.Builder
	rest := p.Format
	for _, v := range p.Values {
		before, after, found := strings.Cut(rest, "{}")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		if v == nil {
			b.WriteString("not known")
		} else {
			b.WriteString(v.Show(s))
		}
		rest = after
	}
	b.WriteString(rest)
	return b.String()
}
