package metalwork

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

var transferPractice = explain.Practice("pattern transfer")

var patternViewNotSaid = explain.Rule[Patterned]{
	Name: "pattern-side-not-said", Title: "it isn't said from which side a pattern was measured", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "distances alone fit a pattern and its mirror image alike, and the bracket comes out left-handed",
	Source: transferPractice,
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			if r.ByOrder && !r.Pattern.Side.Set && r.Lacking == 0 {
				report.At(r.Outline, explain.Say("the distances of {} don't say which way round it goes; its first three holes are taken as going anticlockwise, seen from the front", r.Pattern.Name.Value), explain.Say("write seen from, and list the holes so that the first three go anticlockwise from there"))
			}
		}
	},
}

var readingDoesNotFit = explain.Rule[Patterned]{
	Name: "reading-does-not-fit", Title: "a caliper reading that the others contradict", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "every hole of the bracket is shifted by a share of the mistake, and the bolts don't go in",
	Source: leastSquares,
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			if r.Fits || len(r.Holes) < 2 || r.Spare == 0 {
				continue
			}
			switch {
			case len(r.Suspects) == 0:
				report.At(r.Outline, explain.Say("the readings of {} contradict one another by more than their spread of {}, and leaving out any single one doesn't cure it", r.Pattern.Name.Value, r.Spread.Value), explain.Say("measure them again, or write a larger spread as caliper"))
			case len(r.Suspects) == 1:
				s := r.Suspects[0]
				reading := r.Readings[s.Reading]
				report.At(job.Known(reading.Reading.Reads), explain.Say(reading.Name+" reads {}, and the other readings make it {}", reading.Reading.Reads.Value, s.Should.Value), explain.Say("measure "+reading.Name+" again"))
			default:
				var names []string
				for _, s := range r.Suspects {
					names = append(names, r.Readings[s.Reading].Name)
				}
				s := r.Suspects[0]
				remedy := "measure them again"
				if len(r.Advised) > 0 {
					remedy = "measure " + r.Advised[0].From + " to " + r.Advised[0].To + ": it tells which"
				}
				report.At(job.Known(r.Readings[s.Reading].Reading.Reads), explain.Say("one of "+strings.Join(names, ", ")+" is wrong, and nothing tells which; "+names[0]+" would have to be {}", s.Should.Value), explain.Say(remedy))
			}
		}
	},
}

var readingNotUsed = explain.Rule[Patterned]{
	Name: "reading-not-used", Title: "a caliper reading that can't be used", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a reading that is left out checks nothing",
	Source: transferPractice,
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			for _, reading := range r.Readings {
				if !reading.Used {
					report.At(job.Known(reading.Reading.To), explain.Say("the reading "+reading.Name+" is left out: "+reading.Why), explain.Say("correct it, or write what it lacks"))
				}
			}
		}
	},
}

var ofNoPattern = explain.Rule[Patterned]{
	Name: "belongs-to-no-pattern", Title: "a hole or reading of a pattern that isn't written", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it is left out, and nobody misses it until the drill is through",
	Source: transferPractice,
	Check: func(p Patterned, report *explain.Report) {
		for _, s := range p.Strays {
			remedy := "write a pattern of that name"
			if near := explain.Nearest(string(s.Value), p.Names); near != "" {
				remedy = "write " + near + ", or a pattern of that name"
			}
			report.At(job.Known(s), explain.Say("there is no pattern called {}", s.Value), explain.Say(remedy))
		}
	},
}

var tooFewReadings = explain.Rule[Patterned]{
	Name: "too-few-readings", Title: "holes that the readings don't place", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a hole that isn't tied to the others can be drilled anywhere",
	Source: leastSquares,
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			if r.Lacking == 0 {
				continue
			}
			var open, take []string
			for _, h := range r.Holes {
				if !h.Placed {
					open = append(open, h.Name)
				}
			}
			for _, a := range r.Advised {
				take = append(take, a.From+" to "+a.To)
			}
			remedy := explain.Say("measure " + strings.Join(take, ", "))
			if len(take) == 0 {
				remedy = explain.Say("holes in a row leave how far each stands off the row open: measure two of them from an edge along the row")
			}
			report.At(r.Outline, explain.Say("the readings of {} leave open where "+strings.Join(open, ", ")+" are: {} more at least", r.Pattern.Name.Value, r.Lacking), remedy)
		}
	},
}

var nothingChecks = explain.Rule[Patterned]{
	Name: "nothing-checks-the-pattern", Title: "a pattern without a reading to spare", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "one slip of the caliper goes into the metal unnoticed",
	Source: leastSquares,
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			if len(r.Holes) < 3 || r.Lacking > 0 || !r.Fits || r.Photo.Used {
				continue
			}
			for _, reading := range r.Readings {
				if !reading.Used || reading.Checked {
					continue
				}
				remedy := explain.Say("measure one more distance between its holes, the longest that isn't measured yet")
				if len(r.Advised) > 0 {
					remedy = explain.Say("measure " + r.Advised[0].From + " to " + r.Advised[0].To + " as well")
				}
				report.At(r.Outline, explain.Say("nothing would show it if "+reading.Name+" of {} were wrong", r.Pattern.Name.Value), remedy)
				break
			}
		}
	},
}

var twoShapes = explain.Rule[Patterned]{
	Name: "two-shapes-fit-the-readings", Title: "readings that two different patterns fit", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "one of the two is drilled, and it may be the other",
	Source: leastSquares,
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			if !r.Twin || len(r.Advised) == 0 {
				continue
			}
			a := r.Advised[0]
			report.At(r.Outline, explain.Say("two shapes of {} fit its readings: in one "+a.From+" to "+a.To+" is {}, in the other {}", r.Pattern.Name.Value, a.Either, a.Or), explain.Say("measure "+a.From+" to "+a.To))
		}
	},
}

var photoRefused = explain.Rule[Patterned]{
	Name: "photo-can-not-be-used", Title: "a photo that holes can't be taken from", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "in a slanted view a tap that is a few dots off is millimetres off in the metal",
	Source: explain.Practice("measuring in photos"),
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			if r.Photo.Refused != "" {
				report.At(r.Outline, explain.Say("the photo of {} can't be used: "+r.Photo.Refused, r.Pattern.Name.Value), explain.Say("take it from straight above with the whole sheet in it, and tap its corners as they stand in the picture"))
			}
		}
	},
}

var photoSheetAbove = explain.Rule[Patterned]{
	Name: "sheet-of-the-photo-above-the-holes", Title: "a sheet in the photo that doesn't lie on the face with the holes", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "what lies deeper looks smaller, and nobody knows how far away the camera was",
	Source: explain.Physics("perspective"),
	Check: func(p Patterned, report *explain.Report) {
		for _, r := range p.Patterns {
			if !r.Photo.Used || !r.Photo.Camera.OK() {
				continue
			}
			off := quantity.Ratio(r.Pattern.Above.Value / r.Photo.Camera.Value / 2)
			if off < 0 {
				off = -off
			}
			report.At(job.Known(r.Pattern.Above), explain.Say("the sheet lies {} above the holes: with the camera {} away, give or take half, every distance may be {} off", r.Pattern.Above.Value, r.Photo.Camera.Value, off), explain.Say("lay the sheet on the same face, or add one long caliper reading between two holes"))
		}
	},
}

var patternNowhere = explain.Rule[Patterned]{
	Name: "pattern-can-not-be-matched", Title: "a pattern that can't be laid onto the other", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "nothing is known of whether the bolts will go in",
	Source: transferPractice,
	Check: func(p Patterned, report *explain.Report) {
		for _, m := range p.Matches {
			if m.Wanting != "" {
				report.At(job.Known(m.Pattern.Fits), explain.Say(m.Part+" can't be laid onto {}: "+m.Wanting, m.Pattern.Fits.Value), explain.Say("write the name of a pattern with two holes or more that are measured"))
			}
		}
	},
}

var patternsDoNotFit = explain.Rule[Patterned]{
	Name: "patterns-do-not-fit", Title: "holes that don't line up", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "bolts that are forced in crack a casting's boss",
	Source: explain.Source{Work: "ASME Y14.5", Place: "fixed and floating fastener formulas", Trust: explain.FromMemory},
	Check: func(p Patterned, report *explain.Report) {
		for _, m := range p.Matches {
			if m.Wanting != "" || m.Fits {
				continue
			}
			var slots, drills []string
			for _, j := range m.Joints {
				switch j.Action {
				case SlotIt:
					slots = append(slots, j.Hole)
				case Redrill:
					drills = append(drills, j.Hole)
				}
			}
			var remedy []string
			if len(slots) > 0 {
				remedy = append(remedy, "make slots of "+strings.Join(slots, ", "))
			}
			if len(drills) > 0 {
				remedy = append(remedy, "drill "+strings.Join(drills, ", ")+" anew")
			}
			worst := quantity.Length(0)
			if m.Worst.OK() {
				worst = m.Worst.Value
			}
			report.At(job.Known(m.Pattern.Fits), explain.Say(m.Part+" on {}: laid on as well as can be, its worst hole is {} out of line", m.Pattern.Fits.Value, worst), explain.Say(strings.Join(remedy, "; ")))
		}
	},
}

var patternMoreWays = explain.Rule[Patterned]{
	Name: "pattern-goes-on-more-ways", Title: "a part that goes on in more than one way", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "it is bolted on the wrong way round and drilled to match",
	Source: transferPractice,
	Check: func(p Patterned, report *explain.Report) {
		for _, m := range p.Matches {
			if m.Wanting == "" && len(m.Others) > 0 {
				report.At(job.Known(m.Pattern.Fits), explain.Say(m.Part+" goes onto {} in {} ways that fit equally well: "+m.Turn+"; "+strings.Join(m.Others, "; "), m.Pattern.Fits.Value, m.Ways), explain.Say("mark one hole and its partner with a punch before you take it apart"))
			}
		}
	},
}

var boltOfPatternNotSaid = explain.Rule[Patterned]{
	Name: "bolt-of-a-hole-not-said", Title: "a match whose bolts or hole diameters aren't said", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "without them no hole has any room, and good parts look bad",
	Source: transferPractice,
	Check: func(p Patterned, report *explain.Report) {
		for _, m := range p.Matches {
			var names []string
			for _, j := range m.Joints {
				if j.Onto != "" && j.Room.Why().Origin == explain.Assumed {
					names = append(names, j.Hole)
				}
			}
			if len(names) > 0 {
				report.At(job.Known(m.Pattern.Fits), explain.Say("the holes "+strings.Join(names, ", ")+" of "+m.Part+" are taken as without any room on {}, because bolt or diameter isn't said or the bolt is thicker than its hole", m.Pattern.Fits.Value), explain.Say("write diameter and bolt of these holes"))
			}
		}
	},
}

var fitUpUnfinished = explain.Rule[Patterned]{
	Name: "fit-up-not-finished", Title: "readings of a fit-up that don't make a plane", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a part stands on three places, and fewer say nothing of it",
	Source: explain.Physics("a plane through three points"),
	Check: func(p Patterned, report *explain.Report) {
		for _, f := range p.FitUps {
			if f.Wanting != "" {
				report.At(job.Known(*f.Name), explain.Say("{} can't be worked out: "+f.Wanting, f.Name.Value), explain.Say("write x, y and the height of three places or more that don't lie in a row"))
			}
		}
	},
}

// soft is how far a foot may hang in the air; common practice for motor feet (0.002 in).
const soft = 0.05 * quantity.Millimetre

var restsOnThree = explain.Rule[Patterned]{
	Name: "part-rests-on-three-places", Title: "a place that hangs in the air", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the bolt pulls it down: the casting bends or cracks, a motor's air gap goes out of round",
	Source: explain.Practice("soft foot: 0.05 mm, 0.002 in"),
	Check: func(p Patterned, report *explain.Report) {
		for _, f := range p.FitUps {
			for _, place := range f.Places {
				switch {
				case place.Shim.OK() && place.Shim.Value > soft:
					report.At(job.Known(place.Gap.Reads), explain.Say(place.Name+" of "+f.Group+" hangs {} in the air when it stands on "+strings.Join(f.Stands, ", "), place.Shim.Value), explain.Say("shim it by {}", place.Shim.Value))
				case place.Skim.OK() && place.Skim.Value > soft:
					report.At(job.Known(place.Gap.Reads), explain.Say(place.Name+" of "+f.Group+" stands {} proud of "+strings.Join(f.Stands, ", "), place.Skim.Value), explain.Say("skim {} off it", place.Skim.Value))
				}
			}
		}
	},
}
