package circuit

import (
	"fmt"

	"drivewright/internal/base/explain"
)

// letters are what a device's tag begins with, by rule set.
type letters struct{ us, iec string }

// deviceLetters are the letters by kind. US: NFPA 79, device and component designations, and IEEE 315 where it has none, from
// memory. IEC: IEC 81346-2, class letter of the purpose, from memory. A terminal block and what is outside the box have the
// letters that the trade gives them.
var deviceLetters = map[Kind]letters{
	PushButton:     {"PB", "S"},
	Selector:       {"SS", "S"},
	EmergencyStop:  {"PB", "S"},
	PositionSwitch: {"LS", "B"},
	FootSwitch:     {"FTS", "S"},
	Lamp:           {"LT", "P"},
	Relay:          {"CR", "K"},
	DelayRelay:     {"TR", "K"},
	Contactor:      {"CON", "Q"},
	OverloadRelay:  {"OL", "F"},
	Knob:           {"POT", "R"},
	PowerSupply:    {"PWS", "T"},
	Transformer:    {"T", "T"},
	Fuse:           {"FU", "F"},
	Breaker:        {"CB", "F"},
	MainSwitch:     {"DISC", "Q"},
	TerminalBlock:  {"TB", "X"},
	GroundBar:      {"GRD", "XPE"},
	Drive:          {"ASD", "T"},
	MotorKind:      {"MTR", "M"},
	Readout:        {"MET", "P"},
	Resistor:       {"RES", "R"},
	Diode:          {"D", "R"},
	Load:           {"LD", "E"},
	Incoming:       {"XS", "XS"},
}

// tag returns the next free tag of a kind of device: letters and a number counted for those letters.
func (m *maker) tag(k Kind) string {
	l := deviceLetters[k].us
	if m.set == explain.IEC {
		l = deviceLetters[k].iec
	}
	m.tags[l]++
	return fmt.Sprint(l, m.tags[l])
}

// cableTag returns the next free tag of a cable: W in both styles.
func (m *maker) cableTag() string {
	m.tags["W"]++
	return fmt.Sprint("W", m.tags["W"])
}

// deviceWords says in words what a device is, by what it does and where: "stop button, apron".
func deviceWords(kind Kind, role Role, place string) string {
	words := string(kind)
	switch role {
	case Stop, Start, StartReverse, Jog, Reset:
		words = string(role) + " " + string(kind)
		if kind == PushButton {
			words = string(role) + " button"
		}
		if role == StartReverse {
			words = "start button, reverse"
		}
	case EmergencyRole:
		words = "emergency stop"
		if kind == EmergencyStop {
			words = "emergency stop button"
		}
	case RunSwitch:
		words = "run switch"
	case Direction:
		words = "direction selector"
	case SpeedKnob:
		words = "speed knob"
	case SpeedStep:
		words = "speed selector"
	case Guard:
		words = "guard switch"
	case FootBrake:
		words = "foot brake switch"
	case RunLamp, PowerLamp, FaultLamp, SupplyContactor, LoadContactor:
		words = string(role)
	case HoldsRun:
		words = string(kind) + " that holds the run"
	case DelaysPowerOff:
		words = "delay relay ahead of the power off"
	case NoRole, SwitchesSupply:
	}
	if place != "" && place != "box" && kind != MotorKind {
		words += ", " + place
	}
	return words
}
