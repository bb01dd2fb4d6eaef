package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var racewayOverfull = explain.Rule[Result]{
	Name:     "raceway-overfull",
	Title:    "the conduit holds more wire than it may",
	Why:      "insulation is torn when the wires are pulled, and they can't shed their heat",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("Chapter 9 Tables 1, 4 and 5"),
	Check: func(r Result, report *explain.Report) {
		w, size := r.Raceway, r.Job.Supply.RacewaySize
		// Half a percent is the book's own rounding of its columns.
		if size.Set && w.Fill.OK() && w.Limit.OK() && w.Fill.Value > w.Limit.Value+0.005 {
			report.At(size, explain.Say("{} {} is {} full with {} conductors of {} and thinner; {} is the most", r.Job.Supply.Raceway.Value, size.Value,
				w.Fill.Value, w.Conductors.Value, r.Branch.Conductor.Value, w.Limit.Value), sayRaceway(r))
		}
	},
}

func sayRaceway(r Result) explain.Phrase {
	if r.Raceway.Size.OK() {
		return explain.Say("use trade size {} or larger", r.Raceway.Size.Value)
	}
	return explain.Say("no size up to {} holds them: split the wires over two raceways", quantity.Text("2"))
}
