package prove

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
)

// Rules returns the rules that judge what the simulation showed: first what the whole circuit does, then what one fault does
// to it, gravest first.
func Rules() []explain.Rule[Proof] {
	return []explain.Rule[Proof]{
		restartsWithTheSupply, startsWhenAStopIsTakenBack, stopsNothing, doesNotRun, runLampLies, neverRests,
		emergencyStopLost, stopLostByALostWire, startsByALostWire,
		stopLostByAWeldedContact, startsByAWeldedContact, touchIsDangerous, runsAwayByALostWire, wrongWayByOneFault,
		hiddenUntilTheSecond, groundFaultStaysHidden, notSimulated,
	}
}

// failures is where the standards speak of what a failure of the control circuit may do.
var failures = explain.Source{Work: "NFPA 79 and IEC 60204-1", Place: "9.4, control functions in the event of failure"}.Remembered()

// place is a reason of the job file as the thing that a finding is about.
type place struct{ *explain.Reason }

// Why returns the reason.
func (p place) Why() *explain.Reason { return p.Reason }

// tell reports the first of the faults that the rule picks, with the number of those like it: one finding for one cause, however many
// wires have it.
func tell(report *explain.Report, faults []Fault, pick func(*Fault) bool) {
	var first *Fault
	more := 0
	for n := range faults {
		switch f := &faults[n]; {
		case !pick(f):
		case first == nil:
			first = f
		default:
			more++
		}
	}
	if first == nil {
		return
	}
	message, remedy := explain.Say(story(first, more)), first.Remedy
	if remedy.Empty() {
		remedy = explain.Say("look at what the report of faults says of it, and change the circuit there")
	}
	if first.Place != nil {
		report.At(place{first.Place}, message, remedy)
		return
	}
	report.Whole(message, remedy)
}

// story tells a fault in one sentence.
func story(f *Fault, more int) string {
	var b strings.Builder
	b.WriteString(f.Name)
	if len(f.Sequence) > 0 {
		b.WriteString("; " + strings.Join(f.Sequence, ", ") + ": " + f.Seen)
		if f.Expected != "" {
			b.WriteString(" (expected: " + f.Expected + ")")
		}
	} else if f.With != "" {
		b.WriteString(": nothing shows it, until one more comes: " + f.With)
	}
	switch {
	case more == 1:
		b.WriteString("; one more does the same")
	case more > 1:
		fmt.Fprintf(&b, "; %d more do the same", more)
	}
	return b.String()
}

// lost reports whether the fault is that something doesn't conduct or move any more: wires come off and coils burn out, so a
// circuit must fall to the stopped state by it. sort must not be a human hand's matter.
func lost(s sort) bool {
	return slices.Contains([]sort{wireSort, openSort, deadCoilSort, deadSupplySort, deadLoadSort, deadLampSort}, s)
}

// earthed reports whether something touches grounded metal, or a screen that is grounded.
func earthed(s sort) bool { return s == screenSort || s == groundSort }

// touching reports whether two things touch that lie beside each other.
func touching(s sort) bool {
	return s == neighbourSort || s == coreSort || earthed(s)
}
