package circuit

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// cableRules judge the cables: what lies together, their screens, pairs and spare cores, and the serial line.
var cableRules = []explain.Rule[Result]{cableRating, voltagesTogether, besideMotorCable, tooFewCores, outsideCable, cableElsewhere, spareFloating, movingCable,
	screenTwice, screenFloating, screenFarEnd, motorScreen, serialNotTerminated, serialTerminatedTwice, serialCrossed, dataNotPaired, lineLost}

// wiresIn are the wires that are cores of the cable.
func (c *Circuit) wiresIn(tag string) []*Wire {
	var list []*Wire
	for n := range c.Wires {
		if c.Wires[n].Cable == tag {
			list = append(list, &c.Wires[n])
		}
	}
	return list
}

// tells reports each place in the job file once, however many things it stands for.
func tells() func(about explain.Because) bool {
	told := map[explain.Span]bool{}
	return func(about explain.Because) bool {
		place := explain.Place(about.Why())
		if place == nil {
			return true
		}
		if told[place.Span] {
			return false
		}
		told[place.Span] = true
		return true
	}
}

// wireVolts returns the most that can stand on each potential, the drive's output counted as its supply.
func (r *Result) wireVolts() func(w *Wire) quantity.Voltage {
	n := r.nets()
	p := n.atLarge()
	outputs := n.outputs()
	supply := supplyVolts(r)
	for _, s := range n.sources {
		if s.device.Kind == Incoming {
			supply = max(supply, s.element.Volts)
		}
	}
	ground := n.ground()
	return func(w *Wire) quantity.Voltage {
		k := n.number[w.From]
		if k == ground {
			return 0
		}
		v := n.volts(k, p)
		if behind(outputs, k) > 0 {
			v = max(v, supply)
		}
		return v
	}
}

var cableRating = explain.Rule[Result]{
	Name: "cable-rated-below-its-voltage", Title: "a cable with more volts in it than it is made for", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "its thin jacket stands between the mains and a hand on the button",
	Source: explain.Source{Work: "NFPA 70", Edition: "2023", Place: "300.3(C)(1); NFPA 79 13.1.3; IEC 60204-1:2016 13.1.3"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		volts := r.wireVolts()
		for n := range r.Circuit.Cables {
			c := &r.Circuit.Cables[n]
			var most quantity.Voltage
			var worst *Wire
			for _, w := range r.Circuit.wiresIn(c.Tag) {
				if v := volts(w); v > most {
					most, worst = v, w
				}
			}
			if worst != nil && c.Rating.OK() && most > c.Rating.Value {
				report.At(worst.Why, explain.Say("wire {} in cable {} can stand at {}; the cable is rated for {}", text(worst.Name), text(c.Tag), most, c.Rating.Value),
					explain.Say("take a cable of its own for it, or one rated for {} or more throughout", most))
			}
		}
	},
}

// extraLow is the voltage up to which controls count as extra-low. Source: IEC 60364-4-41, 414: 60 V direct, 25 to 50 V alternating.
const extraLow quantity.Voltage = 60

var voltagesTogether = explain.Rule[Result]{
	Name: "low-and-high-voltage-in-one-cable", Title: "control wires of low voltage and mains in one cable", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "one pinched cable puts the mains on a button or a drive's input; and the motor's pulses are heard in the knob",
	Source: machineBooks("13.1.3", "13.1.3"),
	Check: func(r Result, report *explain.Report) {
		volts := r.wireVolts()
		for n := range r.Circuit.Cables {
			c := &r.Circuit.Cables[n]
			var low, high *Wire
			for _, w := range r.Circuit.wiresIn(c.Tag) {
				switch v := volts(w); {
				case v > extraLow:
					high = w
				case v > 0:
					low = w
				}
			}
			if low != nil && high != nil {
				report.At(c.Why, explain.Say("cable {} carries wire {} at {} and wire {} at {}", text(c.Tag), text(low.Name), volts(low), text(high.Name), volts(high)),
					explain.Say("give them a cable each; where one must do, every core of it is insulated for the highest voltage, and neither the knob's nor the serial line's wires lie in it"))
			}
		}
	},
}

var besideMotorCable = explain.Rule[Result]{
	Name: "control-cable-beside-the-motor-cable", Title: "control and motor cable together", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "neat bundles are how a spindle comes to hunt and a readout to flicker",
	Source: explain.Practice("drive booklets: 200 to 300 mm apart, crossing at right angles"),
	Check: func(r Result, report *explain.Report) {
		if b := r.Job.Controls.BesidePower; b.Value == "yes" {
			report.At(b, explain.Say("the control cable lies along the motor cable"), explain.Say("lead them {} apart and cross at right angles; where they can't part, screen both, the motor cable at both ends", 250*quantity.Millimetre))
		}
	},
}

var tooFewCores = explain.Rule[Result]{
	Name: "cable-with-too-few-cores", Title: "more wires in a cable than it has cores", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it is found out when the cable is in",
	Source: explain.Practice("count, and a spare for the core that breaks"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Job.Cables {
			h := &r.Job.Cables[n]
			c := r.Circuit.Cable(string(h.Tag.Value))
			if c == nil || !h.Cores.Set || !h.Tag.Set {
				continue
			}
			if wires := len(r.Circuit.wiresIn(c.Tag)); wires > int(h.Cores.Value) {
				report.At(h.Cores, explain.Say("{} wires lie in cable {}, which has {} cores", quantity.Count(wires), h.Tag.Value, h.Cores.Value), explain.Say("take one of {} cores or more", quantity.Count(wires+1)))
			}
		}
	},
}

// placeOf is the place of a pin's device; "" where there is none.
func (c *Circuit) placeOf(p Pin) string {
	if d := c.Device(p.Device); d != nil {
		return d.Place
	}
	return ""
}

var outsideCable = explain.Rule[Result]{
	Name: "wire-between-places-without-a-cable", Title: "a wire from place to place that lies in no cable", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a single wire across a machine has nothing around it",
	Source: machineBooks("13.4 and 13.5", "13.4 and 13.5"),
	Check: func(r Result, report *explain.Report) {
		if len(r.Circuit.Cables) == 0 {
			return // a circuit without cables shows how it is joined, not where it runs
		}
		n := r.nets()
		ground := n.ground()
		once := tells()
		for i := range r.Circuit.Wires {
			w := &r.Circuit.Wires[i]
			from, to := r.Circuit.placeOf(w.From), r.Circuit.placeOf(w.To)
			a, b := r.Circuit.Place(from), r.Circuit.Place(to)
			if w.Cable != "" || station(from) == station(to) || n.number[w.From] == ground || a == nil || b == nil || a.Kind == Outside || b.Kind == Outside || !once(w.Why) {
				continue
			}
			report.At(w.Why, explain.Say("wire {} goes from the {} to the {} in no cable", text(w.Name), text(from), text(to)), explain.Say("say which cable it is a core of, or lead it in conduit and write that as a cable"))
		}
	},
}

var cableElsewhere = explain.Rule[Result]{
	Name: "cable-goes-elsewhere", Title: "a wire in a cable that doesn't go where the wire goes", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the core is missing at the one end and loose at the other",
	Source: explain.Practice("both ends of a core are in the two places of its cable"),
	Check: func(r Result, report *explain.Report) {
		for i := range r.Circuit.Wires {
			w := &r.Circuit.Wires[i]
			c := r.Circuit.Cable(w.Cable)
			if c == nil || c.From == "" || c.To == "" {
				continue
			}
			from, to := station(r.Circuit.placeOf(w.From)), station(r.Circuit.placeOf(w.To))
			a, b := station(c.From), station(c.To)
			if from != a && from != b || to != a && to != b {
				report.At(w.Why, explain.Say("wire {} goes from the {} to the {}, its cable {} from the {} to the {}", text(w.Name), text(from), text(to), text(c.Tag), text(a), text(b)),
					explain.Say("choose the cable between its two places, or end the wire at a terminal where the cable ends"))
			}
		}
	},
}

var spareFloating = explain.Rule[Result]{
	Name: "spare-core-floating", Title: "spare cores that end in the air", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a loose end touches what it shouldn't, and a floating core carries what it picks up from end to end",
	Source: explain.Practice("spare cores end on terminals, or are grounded at one end"),
	Check: func(r Result, report *explain.Report) {
		if s := r.Job.Controls.SpareEnds; s.Value == "left loose" {
			report.At(s, explain.Say("the spare cores are to be left loose"), explain.Say("end them on terminals at both ends, or join them to ground in the box and cap them at the far end"))
		}
	},
}

var movingCable = explain.Rule[Result]{
	Name: "moving-cable-of-solid-wire", Title: "a cable that bends in use and isn't made for it", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "solid and coarse wires break inside the jacket after a few thousand bends; the stop's wire as soon as any",
	Source: machineBooks("12.2.2 and 12.7.2", "12.2 and 12.6, class 5 or 6 for flexing"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Job.Cables {
			h := &r.Job.Cables[n]
			c := r.Circuit.Cable(string(h.Tag.Value))
			made := h.Strands.Value
			if made == "solid" {
				made = "solid wire"
			}
			if c != nil && c.Moves && h.Strands.Set && made != "fine strands" {
				report.At(h.Strands, explain.Say("cable {} bends in use; its cores are made of {}", h.Tag.Value, made), explain.Say("take a flexible cable of fine strands, with a loop long enough for both ends of the travel and a clamp at either end"))
			}
		}
	},
}

// motorCable reports whether a lead of the motor lies in the cable.
func (r *Result) motorCable(c *Cable) bool {
	n := r.nets()
	outputs := n.outputs()
	return slices.ContainsFunc(r.Circuit.wiresIn(c.Tag), func(w *Wire) bool { return w.Duty == MotorDuty || behind(outputs, n.number[w.From]) > 0 })
}

// aboutScreen is what says how the cable's screen is: the controls' answer for the cables that the program made, where one is
// written, else the cable.
func (r *Result) aboutScreen(c *Cable) explain.Because {
	byHand := slices.ContainsFunc(r.Job.Cables, func(h job.HandCable) bool { return string(h.Tag.Value) == c.Tag })
	if s := r.Job.Controls.Screen; s.Set && !byHand && !r.motorCable(c) {
		return s
	}
	return c.Why
}

// screens calls f for each screened cable that carries wires, motor cables or the others.
func (r *Result) screens(motor bool, f func(c *Cable)) {
	once := tells()
	for n := range r.Circuit.Cables {
		if c := &r.Circuit.Cables[n]; c.Screen.Fitted && r.motorCable(c) == motor && len(r.Circuit.wiresIn(c.Tag)) > 0 && once(r.aboutScreen(c)) {
			f(c)
		}
	}
}

var screenTwice = explain.Rule[Result]{
	Name: "screen-bonded-at-both-ends", Title: "the screen of a control cable joined to ground at both ends", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "ground currents of drive and motor flow through it, along the very wires that it should keep quiet",
	Source: explain.Practice("drive booklets: screen of the reference cable at the drive's end only"),
	Check: func(r Result, report *explain.Report) {
		r.screens(false, func(c *Cable) {
			if c.Screen.AtBox && c.Screen.AtFarEnd {
				report.At(r.aboutScreen(c), explain.Say("the screen of cable {} is joined to ground at both ends", text(c.Tag)), explain.Say("join it in the box and cut it back and cover it at the {}", text(c.To)))
			}
		})
	},
}

var screenFloating = explain.Rule[Result]{
	Name: "screen-bonded-nowhere", Title: "the screen of a cable joined to ground nowhere", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a screen that floats couples noise in instead of keeping it out",
	Source: explain.Practice("drive booklets: screens are grounded"),
	Check: func(r Result, report *explain.Report) {
		nowhere := func(c *Cable) {
			if !c.Screen.AtBox && !c.Screen.AtFarEnd {
				report.At(r.aboutScreen(c), explain.Say("the screen of cable {} is joined to ground at neither end", text(c.Tag)), explain.Say("join it in the box, all round under a clamp on bare metal"))
			}
		}
		r.screens(false, nowhere)
		r.screens(true, nowhere)
	},
}

var screenFarEnd = explain.Rule[Result]{
	Name: "screen-bonded-at-the-wrong-end", Title: "the screen of a control cable joined to ground at the far end only", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the drive measures against its own ground, and the screen then stands at another one",
	Source: explain.Practice("drive booklets: screen of the reference cable at the drive's end"),
	Check: func(r Result, report *explain.Report) {
		r.screens(false, func(c *Cable) {
			if !c.Screen.AtBox && c.Screen.AtFarEnd {
				report.At(r.aboutScreen(c), explain.Say("the screen of cable {} is joined to ground at the {} and not in the box", text(c.Tag), text(c.To)), explain.Say("join it in the box instead"))
			}
		})
	},
}

var motorScreen = explain.Rule[Result]{
	Name: "motor-cable-screen-bonded-at-one-end", Title: "the motor cable's screen joined to ground at one end only", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the pulses' return current seeks another way: through bearings, casting and control wires",
	Source: explain.Practice("drive booklets: motor cable's screen at both ends, all round"),
	Check: func(r Result, report *explain.Report) {
		r.screens(true, func(c *Cable) {
			if c.Screen.AtBox != c.Screen.AtFarEnd {
				report.At(c.Why, explain.Say("the screen of motor cable {} is joined to ground at one end", text(c.Tag)), explain.Say("clamp it all round on bare metal at the drive and at the motor"))
			}
		})
	},
}
