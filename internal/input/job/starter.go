package job

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"drivewright/internal/base/quantity"
)

// Starter returns a job file that holds the answers, by path, and beside them every other key of the format as a comment
// with its explanation: take away the "# " and write your own value. What stands there is an example, metric when the answers
// ask for metric units. An answer must be one that Set would take.
func Starter(answers map[string]string) []byte {
	var b strings.Builder
	b.WriteString("# A job file of drivewright. Write down what is there; everything else is worked out from it.\n" +
		"# Lines that begin with # say nothing yet: take the \"# \" away and write your own value. Any unit will do.\n")
	s := format()
	system := quantity.InchUnits
	if answers["units"] == quantity.MetricUnits.String() {
		system = quantity.MetricUnits
	}
	for _, f := range s.fields {
		if f.sub == nil {
			b.WriteString(starterLine("", f, answers[f.path], system))
		}
	}
	for _, f := range s.fields {
		if f.sub == nil || f.list && f.key == "accepted" {
			continue
		}
		b.WriteString(starterSection(f, answers, system))
	}
	return []byte(b.String())
}

// starterSection is a section: as a comment all through when it holds no answer, since a key with nothing below it would
// be a mistake.
func starterSection(f *field, answers map[string]string, system quantity.System) string {
	any := false
	for _, below := range f.sub.fields {
		any = any || answers[below.path] != ""
	}
	mark := "# "
	if any {
		mark = ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\n%s%s:  # %s\n", mark, f.key, f.help)
	for n, below := range f.sub.fields {
		indent := "  "
		if f.list {
			indent = "    "
			if n == 0 {
				indent = "  - "
			}
		}
		if any {
			b.WriteString(starterLine(indent, below, answers[below.path], system))
		} else {
			b.WriteString("# " + explained(indent+below.key+": "+below.exampleIn(system), below))
		}
	}
	return b.String()
}

func starterLine(indent string, f *field, answer string, system quantity.System) string {
	if answer == "" {
		return indent + "# " + explained(f.key+": "+f.exampleIn(system), f)
	}
	return explained(indent+f.key+": "+written(f, answer), f)
}

// written is the answer as the file must spell it.
func written(f *field, answer string) string {
	if f.sort == freeText || f.sort == words {
		if plainEnough(answer) {
			return answer
		}
		return quote(answer)
	}
	return answer
}

// plainEnough reports whether the text reads as itself without quotes.
func plainEnough(text string) bool {
	read := Read("answer", []byte("notes: "+text+"\n"))
	return len(read.Problems) == 0 && read.Typed("notes") == text
}

// explained puts the field's help behind the line, in a column of its own.
func explained(line string, f *field) string {
	help := f.help
	if len(f.words) > 0 {
		help += ": " + strings.Join(f.words, ", ")
	}
	gap := max(36-utf8.RuneCountInString(line), 2)
	return line + strings.Repeat(" ", gap) + "# " + help + "\n"
}
