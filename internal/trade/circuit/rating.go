package circuit

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// rating says what to ask for when a device is bought: contacts, colour, coil, current. "" where nothing more is to be said than
// its kind.
func rating(d *Device, set explain.RuleSet) string {
	var parts []string
	say := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	if set == "" {
		set = explain.US
	}
	if c, ok := catalogue.ControlColour(set, colourRole(d)); ok {
		say("%s", c.Name)
	}
	switch d.Kind {
	case EmergencyStop:
		say("latching, positive-opening contacts, mushroom head")
	case PositionSwitch:
		say("positive-opening contacts")
	case Selector:
		say("%d positions that stay", len(d.Positions))
	case PushButton:
		if d.Role == Start || d.Role == StartReverse {
			say("recessed or shrouded")
		}
	case FootSwitch, Lamp, Relay, DelayRelay, Contactor, OverloadRelay, Knob, PowerSupply, Transformer, Fuse, Breaker, MainSwitch, TerminalBlock, GroundBar,
		Drive, MotorKind, Readout, Resistor, Diode, Load, Incoming:
	}
	if text := contactCount(d); text != "" {
		say("%s", text)
	}
	for _, e := range d.Elements {
		switch e.Kind {
		case Coil:
			say("coil %s %s", e.Volts.Show(quantity.MetricUnits), kindOfCurrent(e.AC))
			if e.Delay > 0 {
				say("off-delay %s", e.Delay.Show(quantity.MetricUnits))
			}
		case LampElement:
			say("%s %s", e.Volts.Show(quantity.MetricUnits), kindOfCurrent(e.AC))
		case Source:
			if d.Kind != Drive && d.Kind != Incoming {
				say("%s %s", e.Volts.Show(quantity.MetricUnits), kindOfCurrent(e.AC))
				if e.Most > 0 {
					say("%s", e.Most.Show(quantity.MetricUnits))
				}
			}
		case KnobElement:
			say("%s, linear", e.Ohms.Show(quantity.MetricUnits))
		case Resistance:
			if d.Kind == Resistor {
				say("%s, 1/4 W", e.Ohms.Show(quantity.MetricUnits))
			}
		case Contact:
			if (d.Kind == Fuse || d.Kind == Breaker) && e.Most > 0 && !slices.Contains(parts, e.Most.Show(quantity.MetricUnits)) {
				say("%s", e.Most.Show(quantity.MetricUnits))
			}
		case Link, DiodeElement, Input, Reference, Winding, Electronics:
		}
	}
	return strings.Join(parts, ", ")
}

// breaks says what voltage a fuse or breaker must break, and what else is asked for with it. Direct current is harder to break than
// alternating: on a direct-current control circuit its voltage is named.
func (r *Result) breaks(d *Device) string {
	var control Duty
	for n := range r.Circuit.Wires {
		w := &r.Circuit.Wires[n]
		if (w.From.Device == d.Tag || w.To.Device == d.Tag) && (w.Duty == ControlDC || w.Duty == ControlAC) {
			control = w.Duty
		}
	}
	var parts []string
	volts := r.Brief.Supply
	if control != "" {
		volts = r.Choices.Voltage
	}
	switch {
	case !volts.OK() || d.Place != "box":
	case control == ControlDC:
		parts = append(parts, "for "+volts.Value.Show(quantity.MetricUnits)+" DC or more")
	default:
		parts = append(parts, "for "+volts.Value.Show(quantity.MetricUnits)+" AC or more")
	}
	switch {
	case d.Kind == Fuse:
		parts = append(parts, "with its holder")
	case r.Circuit.Set == explain.IEC:
		parts = append(parts, "curve C where the drive's booklet doesn't say")
	}
	return strings.Join(parts, ", ")
}

// colourRole is what the colour table calls what a button or lamp is for.
func colourRole(d *Device) string {
	if d.Kind != PushButton && d.Kind != EmergencyStop && d.Kind != Lamp {
		return ""
	}
	if d.Role == StartReverse {
		return string(Start)
	}
	return string(d.Role)
}

// contactCount counts normally closed and normally open contacts of what has them; poles of a breaker.
func contactCount(d *Device) string {
	closed, open := 0, 0
	for _, e := range d.Elements {
		if e.Kind == Contact {
			if e.In&1 == 1 {
				closed++
			} else {
				open++
			}
		}
	}
	switch d.Kind {
	case Fuse, Drive, OverloadRelay:
		return ""
	case Breaker, MainSwitch:
		return fmt.Sprintf("%d poles", closed+open)
	case Contactor:
		return many(closed+open, "contact", "contacts")
	case Selector:
		if len(d.Positions) > 2 {
			return many(closed+open, "contact", "contacts")
		}
	case PushButton, EmergencyStop, PositionSwitch, FootSwitch, Lamp, Relay, DelayRelay, Knob, PowerSupply, Transformer, TerminalBlock, GroundBar, MotorKind, Readout,
		Resistor, Diode, Load, Incoming:
	}
	var parts []string
	if closed > 0 {
		parts = append(parts, fmt.Sprintf("%d normally closed", closed))
	}
	if open > 0 {
		parts = append(parts, fmt.Sprintf("%d normally open", open))
	}
	return strings.Join(parts, ", ")
}

func kindOfCurrent(ac bool) string {
	if ac {
		return "AC"
	}
	return "DC"
}
