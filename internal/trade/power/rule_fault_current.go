package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var shortCircuitRatingLow = explain.Rule[Result]{
	Name:     "short-circuit-rating-too-low",
	Title:    "a short at the box would draw more than the weakest part in it stands",
	Why:      "a part driven beyond its rating bursts, with hot metal and flame, in front of whoever has just switched on",
	Severity: explain.Must, Sets: explain.Everywhere, Source: bothSets("110.10 and 409.22(A)", "IEC 60204-1 7.10"),
	Check: func(r Result, report *explain.Report) {
		f := r.Fault
		if f.tooMuch() && f.Weakling != deviceInBox && !panelAssumed(f) && !runUnknown(r) {
			report.At(f.Weakest, explain.Say("{} stands {}, but {} are available at the box", quantity.Text(f.Weakling), f.Weakest.Value, f.Rating.Value),
				explain.Say("fit parts rated {} or more, current-limiting fuses that the drive's maker names, or a longer or thinner run", f.Rating.Value))
		}
	},
}

// runUnknown reports whether the panel's figure stands for the box because what lies between them isn't known: that condemns no
// part yet either.
func runUnknown(r Result) bool { return !r.Job.Supply.Run.Set || !r.Branch.Used.OK() }

// tooMuch reports whether the weakest part can't stand what is available at the box. Of the device in the box
// interrupting-rating-too-low speaks.
func (f FaultCurrent) tooMuch() bool {
	return f.Weakest.OK() && f.Rating.OK() && f.Weakest.Value < f.Rating.Value
}

// panelAssumed reports whether all fault currents stand on an assumption, which condemns no part yet.
func panelAssumed(f FaultCurrent) bool {
	return f.AtPanel.OK() && f.AtPanel.Why().Origin == explain.Assumed
}

var shortCircuitRatingUnproven = explain.Rule[Result]{
	Name:     "short-circuit-rating-not-proven",
	Title:    "a part of the box stands less than the fault current that is assumed",
	Why:      "a part driven beyond its rating bursts in front of whoever has just switched on; whether it can be is for the utility to say",
	Severity: explain.Check, Sets: explain.Everywhere, Source: bothSets("110.10 and 110.24", "IEC 60204-1 7.10"),
	Check: func(r Result, report *explain.Report) {
		f := r.Fault
		switch {
		case !f.tooMuch() || f.Weakling == deviceInBox:
		case !panelAssumed(f) && runUnknown(r):
			report.At(f.Weakest, explain.Say("{} stands {}; at the panel there are {}, and how much of it reaches the box isn't known without the run and its conductor",
				quantity.Text(f.Weakling), f.Weakest.Value, f.AtPanel.Value), explain.Say("write supply: run and supply: conductor"))
		case panelAssumed(f):
			report.At(f.Weakest, explain.Say("{} stands {}; with {} assumed at the panel there would be {} at the box",
				quantity.Text(f.Weakling), f.Weakest.Value, f.AtPanel.Value, f.Rating.Value), askUtility(f))
		}
	},
}

// askUtility says how to replace the assumed fault current by a true one.
func askUtility(f FaultCurrent) explain.Phrase {
	return explain.Say("ask the utility and write supply: fault current, or read the number on the transformer and write supply: transformer; a rating of {} or more at the box then holds", orWord(f.Rating))
}

var interruptingRatingLow = explain.Rule[Result]{
	Name:     "interrupting-rating-too-low",
	Title:    "the device in the box can't open the fault current that can reach it",
	Why:      "a breaker or fuse that can't interrupt explodes instead of opening",
	Severity: explain.Danger, Sets: explain.Everywhere, Source: bothSets("110.9", "IEC 60364-4-43 434.5.1"),
	Check: func(r Result, report *explain.Report) {
		i, at := r.Job.Control.Interrupting, r.Fault.AtBox
		if i.Set && at.OK() && i.Value < at.Value {
			report.At(i, explain.Say("the device in the box interrupts {}, but {} are available there", i.Value, at.Value),
				explain.Say("fit a device that interrupts {} or more", at.Value))
		}
	},
}

var faultCurrentAssumed = explain.Rule[Result]{
	Name:     "fault-current-assumed",
	Title:    "the fault current at the panel is assumed",
	Why:      "the ratings of box and drive are judged against it",
	Severity: explain.Note, Sets: explain.Everywhere, Source: bothSets("110.24", "IEC 60204-1 7.10"),
	Check: func(r Result, report *explain.Report) {
		f := r.Fault
		if panelAssumed(f) && (!f.tooMuch() || f.Weakling == deviceInBox) {
			report.Whole(explain.Say("{} at the panel is assumed, which gives {} at the box", f.AtPanel.Value, orElse(f.AtBox, "as much")), askUtility(f))
		}
	},
}
