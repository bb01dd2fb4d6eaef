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
		loadLeftOnByAWeldedContact, stopLostByAWeldedContact, stopsLateByOneFault, startsByAWeldedContact, touchIsDangerous, runsAwayByALostWire, wrongWayByOneFault,
		hiddenUntilTheSecond, groundFaultStaysHidden, notSimulated,
	}
}

// failures is where the standards speak of what a failure of the control circuit may do.
var failures = explain.Source{Work: "NFPA 79 and IEC 60204-1", Place: "9.4, control functions in the event of failure"}.Remembered()

// place is a reason of the job file as the thing that a finding is about.
type place struct{ *explain.Reason }

// Why returns the reason.
func (p place) Why() *explain.Reason { return p.Reason }

// all picks every fault.
func all(*Fault) bool { return true }

// tell reports the first of the faults that the rule picks and that do one of the classes, with the number of those like it: one finding
// for one cause, however many wires have it. A fault whose worst it is comes before one that does something worse beside it.
func tell(report *explain.Report, faults []Fault, pick func(*Fault) bool, classes ...Class) {
	var first *Fault
	var shows Showing
	count := 0
	for n := range faults {
		f := &faults[n]
		k := slices.IndexFunc(classes, func(c Class) bool { _, does := f.Showing(c); return does })
		if k < 0 || !pick(f) {
			continue
		}
		count++
		if first == nil || first.Class < shows.Class && f.Class == classes[k] {
			first = f
			shows, _ = f.Showing(classes[k])
		}
	}
	if first == nil {
		return
	}
	more := count - 1
	message, remedy := explain.Say(story(first, shows, more)), first.Remedy
	if remedy.Empty() {
		remedy = explain.Say("look at what the report of faults says of it, and change the circuit there")
	}
	if first.Place != nil {
		report.At(place{first.Place}, message, remedy)
		return
	}
	report.Whole(message, remedy)
}

// story tells in one sentence what a fault does.
func story(f *Fault, s Showing, more int) string {
	var b strings.Builder
	b.WriteString(f.Name)
	if len(s.Sequence) > 0 {
		b.WriteString("; " + strings.Join(s.Sequence, ", ") + ": " + s.Seen)
		if s.Expected != "" {
			b.WriteString(" (expected: " + s.Expected + ")")
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
