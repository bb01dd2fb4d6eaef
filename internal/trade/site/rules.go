package site

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Rules returns the rules that judge where things stand, in the order of the sheet.
func Rules() []explain.Rule[Result] {
	return slices.Concat([]explain.Rule[Result]{blockUnfinished, sweepNotDrawn, operatorNotPlaced, noPlace}, boxRules, stationRules, []explain.Rule[Result]{cableTooShort})
}

// best is the settled place, or the best of those that were found.
func (r *Result) best() (Place, bool) {
	if len(r.Places) == 0 {
		return Place{}, false
	}
	return r.Places[0], true
}

// at is the value in the job file that a finding on a place points at.
func (r *Result) at(p Place) explain.Because {
	if p.Block < 0 {
		return job.Known(r.Brief.Job.Enclosure.SitsAtX)
	}
	return job.Known(r.Blocks[p.Block].Name)
}

// boxRule makes the rule of one sort of trouble of the box's best place.
func boxRule(name, title, why string, severity explain.Severity, source explain.Source, sort Sort, remedy explain.Phrase) explain.Rule[Result] {
	return explain.Rule[Result]{Name: name, Title: title, Why: why, Severity: severity, Sets: explain.Everywhere, Source: source,
		Check: func(r Result, report *explain.Report) {
			p, ok := r.best()
			if !ok {
				return
			}
			for _, t := range p.Troubles {
				if t.Sort == sort {
					report.At(r.at(p), explain.Phrase{Format: p.Name + ": " + t.Words.Format, Values: t.Words.Values}, remedy)
				}
			}
		}}
}

var boxRules = []explain.Rule[Result]{
	boxRule("box-meets-the-machine", "the box and the machine share room", "it can't be hung there at all", explain.Must, explain.Physics("two bodies, one place"), MeetsMetal,
		explain.Say("move it, or take the next place")),
	boxRule("box-where-a-part-moves", "a moving part sweeps through the box", "the carriage, cover or counterweight strikes it, tears it off and leaves live ends", explain.Danger, explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "11.2.1", Trust: explain.FromMemory}, InSweep,
		explain.Say("move it out of the sweep, with a hand's breadth to spare")),
	boxRule("door-does-not-open", "the door strikes something before it is open", "a fuse or a setting can't be reached without taking the box down", explain.Check, explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "11.5", Trust: explain.FromMemory}, DoorBlocked,
		explain.Say("turn the hinge to the other side, or take a screwed cover")),
	boxRule("open-door-where-a-part-moves", "the open door stands in the way of a moving part", "somebody sets the drive with the machine running and the door is struck", explain.Check, explain.Practice("siting"), DoorInSweep,
		explain.Say("turn the hinge to the other side, or lock the machine off before it is opened: say so on the door")),
	boxRule("hand-through-a-moving-part", "the hand goes through where a part moves or chips fly on its way to the controls", "the stop that is needed in a hurry can't be reached without being caught", explain.Danger, explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.3", Trust: explain.FromMemory}, ReachAcross,
		explain.Say("put start and stop on a station of their own where you stand")),
	boxRule("main-switch-too-high-or-low", "the handle of the main switch is out of its heights", "it can't be thrown from the floor in a hurry", explain.Must, explain.Source{Work: "IEC 60204-1, 5.3.4 and NFPA 70, 404.8(A)", Trust: explain.FromMemory}, HandleHigh,
		explain.Say("hang the box so that the handle comes between the two heights")),
	boxRule("controls-out-of-reach", "controls on the door that an arm doesn't reach", "people lean over the work, or leave it running", explain.Check, explain.Source{Work: "ISO 14738", Trust: explain.FromMemory}, OutOfReach,
		explain.Say("add a station where you stand")),
	boxRule("no-room-to-stand-before-the-box", "there is no room to stand before its door", "nobody can measure in a box that they can't face, or step back from", explain.Check, explain.Source{Work: "NFPA 70, 110.26(A) and IEC 60364-7-729", Trust: explain.FromMemory}, NoStandingRoom,
		explain.Say("turn the box, or move it to where somebody can stand; the inspector asks for it")),
	boxRule("chips-land-on-the-box", "chips or dust land on the box", "they find every gap, and oil creeps in after them", explain.Check, explain.Practice("siting"), ChipsFly,
		explain.Say("move it out of the throw, or hang a plate before it")),
	boxRule("box-at-something-warm", "the box touches something warm", "what it can't give off there it must give off elsewhere, and the drive runs hot", explain.Check, explain.Practice("siting"), WarmNeighbour,
		explain.Say("leave a gap of {} or write warm face under enclosure, so that it is reckoned with", 50*quantity.Millimetre)),
}

// stationRule makes the rule of one sort of trouble of the stations.
func stationRule(name, title, why string, severity explain.Severity, source explain.Source, sorts []Sort, remedy explain.Phrase) explain.Rule[Result] {
	return explain.Rule[Result]{Name: name, Title: title, Why: why, Severity: severity, Sets: explain.Everywhere, Source: source,
		Check: func(r Result, report *explain.Report) {
			for _, s := range r.Stations {
				for _, t := range s.Troubles {
					if slices.Contains(sorts, t.Sort) {
						report.At(job.Known(r.Blocks[s.Block].Name), explain.Phrase{Format: s.Name + ": " + t.Words.Format, Values: t.Words.Values}, remedy)
					}
				}
			}
		}}
}

var stationRules = []explain.Rule[Result]{
	stationRule("station-where-a-part-moves", "a moving part sweeps through a station", "it is torn off, and with it the stop", explain.Danger, explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "10.1.2", Trust: explain.FromMemory}, []Sort{InSweep},
		explain.Say("move it out of the sweep")),
	stationRule("station-meets-the-machine", "a station and the machine share room", "it can't be fixed there", explain.Must, explain.Physics("two bodies, one place"), []Sort{MeetsMetal}, explain.Say("move it")),
	stationRule("station-too-high-or-low", "controls of a station out of their heights", "a stop below the hip or above the eye isn't found without looking", explain.Check, explain.Source{Work: "IEC 60204-1 and NFPA 79", Place: "10.1.2", Trust: explain.FromMemory}, []Sort{HandleHigh},
		explain.Say("put it between hip and eye")),
	stationRule("station-out-of-reach", "a station that an arm doesn't reach from where you stand", "the stop is only worth something within reach", explain.Check, explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.3", Trust: explain.FromMemory}, []Sort{OutOfReach},
		explain.Say("move it, or add a block of the kind operator stands where it is worked from")),
	stationRule("hand-through-a-moving-part-to-a-station", "the hand goes through where a part moves on its way to a station", "the stop can't be reached without being caught", explain.Danger, explain.Source{Work: "ISO 13850", Edition: "2015", Place: "4.3", Trust: explain.FromMemory}, []Sort{ReachAcross},
		explain.Say("put it on the near side of what moves")),
}

var blockUnfinished = explain.Rule[Result]{
	Name: "block-not-finished", Title: "a block without all of its place and size", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "what isn't drawn isn't kept clear of",
	Source: explain.Practice("siting"),
	Check: func(r Result, report *explain.Report) {
		for _, n := range r.Unfinished {
			report.At(job.Known(r.Brief.Job.Blocks[n].Name), explain.Say("the block lacks its kind, or one of x, y, z, width, depth and height"), explain.Say("a rough figure will do: measure to the nearest {}", quantity.Inch))
		}
	},
}

var sweepNotDrawn = explain.Rule[Result]{
	Name: "moving-part-without-a-block", Title: "moving parts are told of, but none is among the blocks", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the box or a cable ends up where the gear cover swings",
	Source: explain.Practice("siting"),
	Check: func(r Result, report *explain.Report) {
		m := r.Brief.Job.Machine.Obstacles
		if m.Set && len(r.Blocks) > 0 && len(r.kind("moving part")) == 0 {
			report.At(job.Known(m), explain.Say("machine.moving parts says: {}; no block stands for it", m.Value), explain.Say("add a block of the kind moving part: the whole room that it sweeps"))
		}
	},
}

var operatorNotPlaced = explain.Rule[Result]{
	Name: "operator-not-among-the-blocks", Title: "it isn't said where the operator stands", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "what is within reach, and what the hand goes through, can't be judged",
	Source: explain.Practice("siting"),
	Check: func(r Result, report *explain.Report) {
		if len(r.Blocks) > 0 && len(r.kind("operator stands")) == 0 {
			report.At(job.Known(r.Brief.Job.Machine.Operator), explain.Say("the blocks have a machine, but nobody who runs it"), explain.Say("add a block of the kind operator stands: the floor that you move on"))
		}
	},
}

var noPlace = explain.Rule[Result]{
	Name: "no-place-holds-the-box", Title: "none of the places holds the box", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a box that is forced in is struck, blocked or cooked",
	Source: explain.Practice("siting"),
	Check: func(r Result, report *explain.Report) {
		p, ok := r.best()
		if !ok || r.Settled || !p.Grave() {
			return
		}
		first := explain.Phrase{}
		for _, t := range p.Troubles {
			if t.Grave {
				first = t.Words
				break
			}
		}
		report.At(r.at(p), explain.Phrase{Format: "the best of the places is " + p.Name + ", and " + first.Format, Values: first.Values}, explain.Say("add another place, a wall or post beside the machine, or limit the box with most height, width and depth under enclosure"))
	},
}

var cableTooShort = explain.Rule[Result]{
	Name: "cable-shorter-than-its-way", Title: "a cable that is shorter than its way along the machine", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it is stretched across the corner, over what moves",
	Source: explain.Practice("wiring: along edges"),
	Check: func(r Result, report *explain.Report) {
		p, ok := r.best()
		if !ok {
			return
		}
		for _, c := range p.Cables {
			if c.Written.OK() && c.Way.OK() && c.Written.Value < c.Way.Value {
				report.At(c.Written, explain.Say("the cable to the "+c.To+" is {} long, and its way from the box ("+p.Name+") takes {}", c.Written.Value, c.Way.Value), explain.Say("make it {}", c.Way.Value))
			}
		}
	},
}
