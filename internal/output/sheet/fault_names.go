package sheet

import (
	"regexp"
	"slices"
	"strings"
)

// A circuit has hundreds of faults, and most of them do one of a dozen things. So the names of those that do the same are told
// together: what happens first, then to whom. "is off: wire 1a, 1b, 2; touch: terminals 1 and 2 of X1, cores 3 and 4 of W1".

// faultName parts the name of a fault into whom it happens to and what happens.
var faultName = regexp.MustCompile(`^(.*?) (is off|touch|touches grounded metal|touches its screen|doesn't open|doesn't close|never pulls in|gives no .* any more|is .*|makes no contact)$`)

// inBrackets are the words about a device behind its tag. What a core carries stands in brackets too, and stays: nobody finds core 3 by its
// number alone.
var (
	inBrackets = regexp.MustCompile(` \([^()]*\)`)
	carried    = regexp.MustCompile(`^ \((wire [^ ]+|spare, grounded)\)$`)
)

// withoutWords leaves the words about devices out.
func withoutWords(name string) string {
	return inBrackets.ReplaceAllStringFunc(name, func(words string) string {
		if carried.MatchString(words) {
			return words
		}
		return ""
	})
}

// told are the subjects of one thing that happens.
type told struct {
	happens  string
	subjects []string
}

// toldTogether names faults in short. Without words the devices are named by their tags alone.
func toldTogether(names []string, words bool) string {
	var groups []told
	for _, name := range names {
		if !words {
			name = withoutWords(name)
		}
		happens, subject := "", name
		if m := faultName.FindStringSubmatch(name); m != nil {
			subject, happens = m[1], m[2]
		}
		n := slices.IndexFunc(groups, func(g told) bool { return g.happens == happens })
		if n < 0 || happens == "" {
			groups = append(groups, told{happens, nil})
			n = len(groups) - 1
		}
		groups[n].subjects = append(groups[n].subjects, subject)
	}
	var parts []string
	for _, g := range groups {
		switch {
		case g.happens == "":
			parts = append(parts, g.subjects[0])
		case len(g.subjects) == 1:
			parts = append(parts, g.subjects[0]+" "+g.happens)
		default:
			parts = append(parts, g.happens+": "+oneWord(g.subjects))
		}
	}
	return strings.Join(parts, "; ")
}

// oneWord lists subjects; the word that several begin with stands before the first of them only.
func oneWord(subjects []string) string {
	var b strings.Builder
	last := ""
	for n, s := range subjects {
		first, rest, more := strings.Cut(s, " ")
		if n > 0 {
			b.WriteString(", ")
		}
		switch {
		case more && first == last && slices.Contains([]string{"wire", "contact", "terminals", "cores"}, first):
			b.WriteString(rest)
		default:
			b.WriteString(s)
		}
		last = first
	}
	return b.String()
}
