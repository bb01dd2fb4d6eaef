package sheet

import (
	"fmt"
	"strings"

	"drivewright/internal/trade/prove"
)

// mostNamed is how many places of one cause are named on the sheet; drivewright prove --format json has every one.
const mostNamed = 24

// byCause adds the dangerous faults, class by class, each class cause by cause: one example in full, with what to do to see it and
// what would remove it, then where else the same holds. Hundreds of faults have some dozens of causes.
func (b *builder) byCause(faults []prove.Fault) {
	first := commonStep(faults)
	for class := prove.StartsByItself; class.Dangerous(); class++ {
		var causes []string
		of := map[string][]prove.Fault{}
		count := 0
		for _, f := range faults {
			if f.Class != class {
				continue
			}
			if of[f.Cause()] == nil {
				causes = append(causes, f.Cause())
			}
			of[f.Cause()] = append(of[f.Cause()], f)
			count++
		}
		if count == 0 {
			continue
		}
		list := Numbered{Title: fmt.Sprintf("%s: %s", capital(classWords[class]), many(count, "fault", "faults"))}
		for _, cause := range causes {
			list.Items = append(list.Items, b.cause(cause, of[cause], first))
		}
		b.add(list)
	}
	text := "As data, each fault by itself: drivewright prove --format json."
	if first != "" {
		text = "To see any of them, begin with: " + first + ". " + text
	}
	b.add(Paragraph{Text: text})
}

// cause is one entry: what breaks, an example in full, what would remove it, and where else the same holds.
func (b *builder) cause(cause string, faults []prove.Fault, first string) string {
	f := faults[0]
	parts := []string{sentence(capital(cause))}
	if f.Class.Waits() {
		parts = append(parts, sentence(capital(f.Name)+": nothing shows it, until this comes to it: "+toldTogether([]string{f.With}, false)))
	} else {
		steps := f.Sequence
		if first != "" && len(steps) > 1 && steps[0] == first {
			steps = steps[1:]
		}
		seen := f.Seen
		if f.Expected != "" {
			seen += ", where " + f.Expected + " is right"
		}
		parts = append(parts, sentence(capital(f.Name)+". To see it: "+strings.Join(steps, ", then ")+": "+seen))
	}
	if remedy := f.Remedy.Show(b.units); remedy != "" {
		parts = append(parts, "What would remove it: "+sentence(remedy))
	}
	if others := faults[1:]; len(others) > 0 {
		named := others[:min(len(others), mostNamed)]
		text := "The same at: " + toldTogether(namesOf(named), false)
		if more := len(others) - len(named); more > 0 {
			text += fmt.Sprintf("; and %d more", more)
		}
		parts = append(parts, text+".")
	}
	return strings.Join(parts, " ")
}
