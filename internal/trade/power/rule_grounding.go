package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var noEquipmentGround = explain.Rule[Result]{
	Name:     "no-equipment-ground",
	Title:    "no equipment grounding conductor reaches the machine",
	Why:      "the first fault makes the casting live, nothing trips, and the next hand on it completes the circuit",
	Severity: explain.Danger, Sets: explain.Everywhere, Source: bothSets("250.110, 250.112 and 250.134", "IEC 60364-4-41 411.3.1.1"),
	Check: func(r Result, report *explain.Report) {
		if g := r.Job.Supply.Ground; g.Value == "no" {
			report.At(g, explain.Say("the supply brings no equipment grounding conductor to the machine"),
				explain.Say("run one of {} with the circuit from the panel's ground bar to drive, motor frame, casting and door; a ground rod is no substitute", orWord(r.Grounding.Least)))
		}
	},
}

var groundUnproven = explain.Rule[Result]{
	Name:     "equipment-ground-unproven",
	Title:    "nobody has proven that a ground reaches the machine",
	Why:      "a ground that isn't there shows only when the casting is already live",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("continuity is measured before power, never assumed"),
	Check: func(r Result, report *explain.Report) {
		if g := r.Job.Supply.Ground; g.Value == "unknown" {
			report.At(g, explain.Say("it isn't known whether a grounding conductor reaches the machine"),
				explain.Say("isolate, then measure from the receptacle's ground contact or the box to the panel's ground bar: about {} is right", orWord(r.Grounding.Expected)))
		}
	},
}

// openFrame is the resistance from which a frame counts as not grounded at all.
const openFrame = 1 * quantity.Ohm

var frameNotGrounded = explain.Rule[Result]{
	Name:     "frame-not-grounded",
	Title:    "the casting isn't joined to the supply's ground",
	Why:      "with a fault in motor or cable the casting is live; two ground rods are not joined to one another by the earth between them",
	Severity: explain.Danger, Sets: explain.Everywhere, Source: explain.Practice("continuity checks on machines: 0.1 to 0.5 ohm is sound"),
	Check: func(r Result, report *explain.Report) {
		if e := r.Job.Machine.Earth; e.Set && e.Value > openFrame {
			report.At(e, explain.Say("{} from casting to ground; a sound joint gives about {}", e.Value, orWord(r.Grounding.Expected)),
				explain.Say("join casting, motor frame, box and door with {} on bare metal, and measure again: {} or less", orWord(r.Grounding.Conductor), soundFrame(r)))
		}
	},
}

// soundFrame is the most that a sound grounding path measures: what its length gives and a tenth of an ohm for the meter's leads.
func soundFrame(r Result) quantity.Resistance {
	if r.Grounding.Expected.OK() {
		return r.Grounding.Expected.Value + 0.1*quantity.Ohm
	}
	return 0.5 * quantity.Ohm
}

var frameResistanceHigh = explain.Rule[Result]{
	Name:     "frame-ground-resistance-high",
	Title:    "the way from casting to ground measures more than its length explains",
	Why:      "a joint on paint or rust: it carries a meter's current but not a fault's, and the breaker then stays in",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("continuity checks on machines: 0.1 to 0.5 ohm is sound"),
	Check: func(r Result, report *explain.Report) {
		if e := r.Job.Machine.Earth; e.Set && e.Value > soundFrame(r) && e.Value <= openFrame {
			report.At(e, explain.Say("{} from casting to ground; this length of {} should give about {}", e.Value, orWord(r.Grounding.Conductor), orWord(r.Grounding.Expected)),
				explain.Say("clean every joint to bare metal, tighten, subtract the meter's leads, and measure again: {} or less", soundFrame(r)))
		}
	},
}

var groundConductorTooSmall = explain.Rule[Result]{
	Name:     "grounding-conductor-too-small",
	Title:    "the equipment grounding conductor is smaller than the table asks for",
	Why:      "it burns off before the breaker opens, and leaves the casting live",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.NEC("Table 250.122; IEC 60204-1 Table 1"),
	Check: func(r Result, report *explain.Report) {
		g, base := r.Job.Control.Grounding, r.Grounding.Base
		if g.Set && base.OK() && g.Value.Area() < min(base.Value.Area(), r.Branch.Used.Value.Area())*(1-1e-6) {
			report.At(g, explain.Say("the grounding conductor is {}, but {} is asked for behind {}", g.Value, orWord(r.Grounding.Least), orWord(r.Branch.Device)),
				explain.Say("run {} or thicker", orWord(r.Grounding.Least)))
		}
	},
}

var groundConductorNotIncreased = explain.Rule[Result]{
	Name:     "grounding-conductor-not-increased",
	Title:    "the conductors were made thicker but not the grounding conductor",
	Why:      "thicker conductors let a larger fault current through; the grounding conductor has to bear the same",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("250.122(B)"),
	Check: func(r Result, report *explain.Report) {
		g, base, least := r.Job.Control.Grounding, r.Grounding.Base, r.Grounding.Least
		if g.Set && base.OK() && least.OK() && g.Value.Area() >= base.Value.Area()*(1-1e-6) && g.Value.Area() < least.Value.Area()*(1-1e-6) {
			report.At(g, explain.Say("the conductors were increased from {} to {}, so {} of grounding conductor is no longer enough",
				r.Branch.Smallest.Value, r.Branch.Used.Value, g.Value), explain.Say("run {} or thicker", least.Value))
		}
	},
}

var singleGroundWithLeakage = explain.Rule[Result]{
	Name:     "single-ground-with-leakage",
	Title:    "one ordinary ground wire stands between the drive's leakage and the next hand",
	Why:      "the drive's filter sends current to ground all day; lose the one ground wire and the casting gives it to you",
	Severity: explain.Check, Sets: explain.Everywhere,
	Source: reinforceFrom.Why().Source,
	Check: func(r Result, report *explain.Report) {
		second := r.Grounding.Second
		if !second.OK() || second.Value == "not asked for" || r.Job.Control.SecondGround.Value == "yes" {
			return
		}
		if g := r.Grounding.Conductor; g.OK() && g.Value.Area() >= 10*quantity.SquareMM {
			return
		}
		var about explain.Because = r.Leakage.Machine
		if r.Job.Control.SecondGround.Set {
			about = r.Job.Control.SecondGround
		}
		report.At(about, explain.Say("the machine leaks {} to ground, more than one ordinary ground wire may carry", r.Leakage.Machine.Value),
			explain.Say("fit {}; or bring the leakage down", second.Value))
	},
}
