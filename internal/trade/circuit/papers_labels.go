package circuit

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Labels are everything that is printed, cut out and stuck on.
type Labels struct {
	// Markers are the numbers on the ends of the wires, two of each wire.
	Markers []Marker
	Tags    []TagLabel
	Strips  []StripLabel
	Legends []Legend
	// Warnings are the labels for the box.
	Warnings []Warning
	// Plate are the lines of the box's own name plate; nil until Plate fills it.
	Plate []explain.Phrase
}

// Marker is the number on the ends of a wire.
type Marker struct {
	Text  string // the potential's number
	Wire  string
	Count quantity.Count
}

// TagLabel is stuck beside a device.
type TagLabel struct{ Tag, Words, Place string }

// StripLabel is stuck along a terminal block: one field for each terminal.
type StripLabel struct {
	Tag       string
	Terminals []string
}

// Legend is the plate beside a button, switch or lamp.
type Legend struct{ Place, Tag, Text string }

// Warning is a warning label, with where it goes.
type Warning struct {
	Where string
	Text  explain.Phrase
}

// legends are the words beside what a hand touches. Source: common practice; the words are those of NFPA 79 and IEC 60204-1.
var legends = map[Role]string{
	Stop: "STOP", Start: "START", StartReverse: "REVERSE", EmergencyRole: "EMERGENCY STOP", Jog: "JOG", RunSwitch: "OFF - RUN", SpeedKnob: "SPEED",
	SpeedStep: "SPEED", Reset: "RESET", RunLamp: "RUNS", PowerLamp: "POWER ON", FaultLamp: "FAULT", FootBrake: "STOP",
}

// labels gathers what is printed.
func labels(c *Circuit, p *Papers) Labels {
	var l Labels
	for _, w := range p.Wires {
		l.Markers = append(l.Markers, Marker{Text: w.Number, Wire: w.Name, Count: 2})
	}
	foreign := false
	for _, w := range c.Wires {
		foreign = foreign || w.Duty == ForeignDuty
	}
	for _, d := range c.Devices {
		if d.Kind == Incoming || d.Kind == MotorKind {
			continue
		}
		l.Tags = append(l.Tags, TagLabel{d.Tag, d.Words, d.Place})
		if d.Kind == TerminalBlock && len(d.Terminals) > 0 {
			l.Strips = append(l.Strips, StripLabel{d.Tag, d.Terminals})
		}
		switch text := legends[d.Role]; {
		case d.Role == Direction:
			l.Legends = append(l.Legends, Legend{d.Place, d.Tag, strings.ToUpper(strings.Join(d.Positions, " - "))})
		case text != "":
			l.Legends = append(l.Legends, Legend{d.Place, d.Tag, text})
		}
	}
	for _, d := range c.ByKind(MainSwitch) {
		l.Legends = append(l.Legends, Legend{d.Place, d.Tag, "MAIN SWITCH"})
	}
	if c.Drive.Tag != "" {
		text := explain.Say("DANGER. Charged after the power is off. Switch off, lock off, wait as long as the drive's own label says, then measure DC+ to DC− before a hand goes in.")
		if p.Wait.OK() && p.Below.OK() {
			text = explain.Say("DANGER. Charged after the power is off. Switch off, lock off, wait {}, then measure DC+ to DC−: a hand goes in below {} only.", p.Wait.Value, p.Below.Value)
		}
		l.Warnings = append(l.Warnings, Warning{"on the door, beside the main switch", text})
		l.Warnings = append(l.Warnings, Warning{"on the door",
			explain.Say("A drive feeds this motor. No switch or plug between drive and motor is opened while it runs. No insulation tester on the drive.")})
	}
	if sources := c.ByKind(Incoming); len(sources) > 1 {
		var tags []string
		for _, d := range sources {
			tags = append(tags, d.Tag)
		}
		l.Warnings = append(l.Warnings, Warning{"on the door, beside the main switch",
			explain.Say("DANGER. Fed from {} places: {}. The main switch opens only its own. Switch all of them off, lock off, measure.", quantity.Count(len(tags)), quantity.Text(strings.Join(tags, ", ")))})
	}
	if foreign {
		l.Warnings = append(l.Warnings, Warning{"beside the terminals that stay live", explain.Say("DANGER. Live with the main switch off. Fed from elsewhere: switch that off as well.")})
	}
	return l
}

// NamePlate fills the lines of the box's own name plate: what it is fed with and what it takes. What nobody knows is left open, to be written
// by hand. Source: NFPA 79, 16.4, and IEC 60204-1, 16.4, from memory: maker, rated volts, phases, hertz, full-load current, short-circuit
// rating, number of the drawing.
func (p *Papers) NamePlate(b Brief) {
	if b.Job == nil {
		return
	}
	open := quantity.Text("______")
	field := func(known bool, v quantity.Value) quantity.Value {
		if !known {
			return open
		}
		return v
	}
	s, m := &b.Job.Supply, &b.Job.Motor
	p.Labels.Plate = []explain.Phrase{
		explain.Say("Supply: {}, {} phase, {}", field(b.Supply.OK(), b.Supply.Value), field(s.Phases.Set, s.Phases.Value), field(s.Frequency.Set, s.Frequency.Value)),
		explain.Say("Full-load current, drive: {}. Largest motor: {}", field(b.Input.OK(), b.Input.Value), field(m.Power.Set, m.Power.Value)),
		explain.Say("Overcurrent device ahead: {}", field(s.Breaker.Set, s.Breaker.Value)),
		explain.Say("Short-circuit rating: {} kA, the least of all its parts", open),
		explain.Say("Made by {} on {}. Drawing: the sheet of this job", open, open),
	}
}
