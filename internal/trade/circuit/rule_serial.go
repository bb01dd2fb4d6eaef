package circuit

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// lineAtDrive reports whether a readout stands on the drive's serial terminals.
func (r *Result) lineAtDrive() (readout *Device, a, b int, ok bool) {
	n := r.nets()
	drive := r.Circuit.Device(r.Circuit.Drive.Tag)
	if drive == nil {
		return nil, -1, -1, false
	}
	a, b = n.at(drive, r.screwNamed("serial A")), n.at(drive, r.screwNamed("serial B"))
	for _, d := range r.Circuit.ByKind(Readout) {
		x, y := n.at(d, "A"), n.at(d, "B")
		if a >= 0 && b >= 0 && n.wired(x) && n.wired(y) && (x == a || x == b) && (y == a || y == b) {
			return d, a, b, true
		}
	}
	return nil, a, b, false
}

var serialNotTerminated = explain.Rule[Result]{
	Name: "serial-line-not-terminated", Title: "a serial line without its resistor at each end", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the far end throws the signal back: the readout works on the bench and fails in the shop",
	Source: explain.Source{Work: "TIA-485-A", Place: "120 ohm at each of the two ends, by application notes"},
	Check: func(r Result, report *explain.Report) {
		remedy := explain.Say("{} across the two wires at both ends of the line and nowhere else; many drives have one to switch on", 120*quantity.Ohm)
		if t := r.Job.DriveSide.Terminator; t.Set {
			if t.Value != "both ends" {
				report.At(t, explain.Say("the serial line has its resistor at {}", map[quantity.Text]quantity.Text{"one end": "one end only", "neither": "neither end"}[t.Value]), remedy)
			}
			return
		}
		if d, _, _, ok := r.lineAtDrive(); ok && len(r.nets().terminators()) < 2 {
			report.At(d.Why, explain.Say("the line to {} has fewer than two resistors across it", called(d)), remedy)
		}
	},
}

var serialTerminatedTwice = explain.Rule[Result]{
	Name: "serial-line-terminated-too-often", Title: "more than two resistors across a serial line", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the transmitters are loaded beyond what they are made for, and the signal shrinks",
	Source: explain.Source{Work: "TIA-485-A", Place: "120 ohm at each of the two ends, by application notes"},
	Check: func(r Result, report *explain.Report) {
		if list := r.nets().terminators(); len(list) > 2 {
			report.At(list[2].Why, explain.Say("{} resistors lie across the serial line, which loads it with {}", quantity.Count(len(list)), r.Figures.Serial.Load.Value), explain.Say("leave one at each end of the line"))
		}
	},
}

var serialCrossed = explain.Rule[Result]{
	Name: "serial-line-crossed", Title: "the two wires of the serial line are swapped", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the readout stays mute; nothing breaks",
	Source: explain.Practice("A to A and B to B; where the makers' letters differ, swap and try"),
	Check: func(r Result, report *explain.Report) {
		d, a, b, ok := r.lineAtDrive()
		if n := r.nets(); ok && n.at(d, "A") == b && n.at(d, "B") == a {
			report.At(d.Why, explain.Say("terminal A of {} stands on the drive's B and B on its A", called(d)), explain.Say("swap the two wires at one end"))
		}
	},
}

var dataNotPaired = explain.Rule[Result]{
	Name: "data-not-in-a-pair-of-its-own", Title: "the serial line doesn't lie in a twisted pair of its own", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "what couples into one wire and not into the other is taken for data",
	Source: explain.Source{Work: "TIA-485-A", Place: "balanced line in a twisted pair, by application notes"},
	Check: func(r Result, report *explain.Report) {
		d, _, _, ok := r.lineAtDrive()
		if !ok {
			return
		}
		n := r.nets()
		wires := append(n.wiresAt(d.Pin("A")), n.wiresAt(d.Pin("B"))...)
		pairs := map[string]int{}
		for _, w := range wires {
			c := r.Circuit.Cable(w.Cable)
			if c == nil {
				continue
			}
			if !c.Pairs {
				report.At(c.Why, explain.Say("cable {} carries the serial line and has no twisted pairs", text(c.Tag)), explain.Say("take a cable of twisted pairs, one pair for the line and another for the supply of the readout"))
				return
			}
			for _, core := range c.Cores {
				if core.Wire == w.Name {
					pairs[c.Tag] = max(pairs[c.Tag], core.Pair)
					if pairs[c.Tag] != core.Pair || r.shared(c, core, wires) {
						report.At(w.Why, explain.Say("wire {} of the serial line shares its pair in cable {} with something else", text(w.Name), text(c.Tag)), explain.Say("put both wires of the line into one pair, with nothing else in it"))
						return
					}
				}
			}
		}
	},
}

// shared reports whether the core's pair carries a wire that isn't among those given.
func (r *Result) shared(c *Cable, core Core, among []*Wire) bool {
	for _, other := range c.Cores {
		if other.Pair != core.Pair || other.Wire == "" {
			continue
		}
		mine := false
		for _, w := range among {
			mine = mine || w.Name == other.Wire
		}
		if !mine {
			return true
		}
	}
	return false
}

var lineLost = explain.Rule[Result]{
	Name: "serial-line-lost-does-not-stop", Title: "when the serial line fails the machine runs on", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the line carries the speed: with its plug out nobody can slow the machine down, and many drives are shipped like that",
	Source: explain.Practice("drive settings: action when the line is lost"),
	Check: func(r Result, report *explain.Report) {
		l := r.Job.Controls.CommLoss
		if r.Job.Controls.Speed.Value != "serial line" {
			return // a readout that goes dark stops nothing and starts nothing
		}
		remedy := explain.Say("set it to stop within a second, and keep a stop that is wired")
		switch l.Value {
		case "runs on":
			report.At(l, explain.Say("the speed comes over the serial line, and the drive runs on when it is lost"), remedy)
		case "unknown":
			report.At(l, explain.Say("the speed comes over the serial line, and it isn't known what the drive does when it is lost"), remedy)
		}
	},
}
