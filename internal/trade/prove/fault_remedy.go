package prove

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/trade/circuit"
)

// remedy says what change of the circuit would remove what a fault does; empty where nothing better than looking after it is
// known. Source of all of them: common practice, and IEC 60204-1, 9.4 (measures against failures of the control circuit), from
// memory.
func (b *breaking) remedy(f *breakage, out *Fault) explain.Phrase {
	if out.Class == ProtectionLost {
		return b.protectionRemedy(f)
	}
	if !out.Class.Dangerous() && out.Class != IndicationLies {
		return explain.Phrase{}
	}
	c := b.t.m.circuit
	tag, words := "", ""
	role, kind := circuit.NoRole, circuit.Kind("")
	if f.device >= 0 {
		d := &c.Devices[f.device]
		tag, words, role, kind = d.Tag, d.Words, d.Role, d.Kind
	}
	say := func(format string, a ...any) explain.Phrase { return explain.Say(fmt.Sprintf(format, a...)) }
	if out.Class == IndicationLies {
		return say("never trust a lamp: watch the machine, and try for voltage before a hand goes in. Take a run lamp from the drive's run relay; a lamp with a test button shows when it is dead")
	}
	switch f.sort {
	case bondSort:
		return say("bond it with a wire of its own that nothing else hangs on, at a screw that holds nothing else, and measure it before the power: below 0.1 ohm")
	case wireSort:
		return b.wireRemedy(f, out)
	case weldedSort, wrongTypeSort, mainSwitchSort:
		return b.contactRemedy(f, out, tag, words, role, kind)
	case stillSort:
		if b.t.m.moves[f.device] {
			return say("have the released state of %s be the one that stops: its open contact in the run command, not its closed one", tag)
		}
		if kind == circuit.OverloadRelay {
			return say("press the test button of %s at every yearly check", tag)
		}
		if kind == circuit.PositionSwitch {
			return say("have the opening guard force %s over, not a spring, and open the guard with the machine running at every yearly check: it must stop", tag)
		}
		if out.Class == EmergencyStopLost || out.Class == StopLost {
			return say("no wiring helps against a head that jams: try %s at every start of work, keep chips and coolant off it, and have a second stop within reach", tag)
		}
		return say("no wiring helps against a handle that jams: try %s at every start of work, and keep chips and coolant off it", tag)
	case neighbourSort, coreSort:
		return b.bridgeRemedy(f, out, tag)
	case screenSort, groundSort:
		return b.groundRemedy(out)
	case knobOpenSort, turnedSort:
		return b.knobRemedy()
	case deadSupplySort, deadCoilSort:
		return say("have the state without power be the one that stops: closed contacts for stop, open ones for run")
	case openSort, deadLampSort, deadLoadSort:
	}
	return b.stateRemedy(out, tag)
}

// stateRemedy is for what doesn't conduct any more.
func (b *breaking) stateRemedy(out *Fault, tag string) explain.Phrase {
	switch out.Class {
	case WrongWay:
		return explain.Say("ask for forward and for reverse each by an input of its own, so that what is lost stops it instead of turning it round")
	case HiddenDanger:
		return explain.Say(fmt.Sprintf("try %s by itself at every yearly check: nothing else shows it", tag))
	case StartsByItself, EmergencyStopLost, StopLost, StopsLate, RunsAway, ProtectionLost, IndicationLies, StopsByItself, CannotStart, Hidden, Other, Harmless:
	}
	return explain.Say(fmt.Sprintf("have the state in which %s doesn't conduct be the one that stops: closed at rest for stop, open at rest for run", tag))
}

// knobRemedy is for a speed knob that goes to full by itself.
func (b *breaking) knobRemedy() explain.Phrase {
	const highest = "set the highest speed that the work allows in the drive, not by the knob"
	if b.t.m.circuit.Drive.LostReference == "stops" {
		return explain.Say(highest + ": with the knob's far end off, the wiper carries the full reference, which no setting of 0 to 10 V can tell from a knob turned up; a sender of 4 to 20 mA can be told")
	}
	return explain.Say(highest + ", and set the drive to stop when its reference is lost (a live zero of 2 to 10 V or 4 to 20 mA tells a lost wire from nought)")
}

// wireRemedy is for a wire that is off.
func (b *breaking) wireRemedy(f *breakage, out *Fault) explain.Phrase {
	w := &b.t.m.circuit.Wires[f.wire]
	switch out.Class {
	case StopLost, EmergencyStopLost:
		return explain.Say(fmt.Sprintf("stop with contacts that are closed at rest, in series: then wire %s, coming off, stops the machine", w.Name))
	case RunsAway:
		return b.knobRemedy()
	case StartsByItself:
		return explain.Say(fmt.Sprintf("start with contacts that are open at rest: then wire %s, coming off, can't start anything", w.Name))
	case HiddenDanger:
		return explain.Say(fmt.Sprintf("measure wire %s at every yearly check: nothing else shows that it is off", w.Name))
	case WrongWay:
		return explain.Say("ask for forward and for reverse each by an input of its own, so that a lost wire stops instead of turning it round")
	case StopsLate, ProtectionLost, IndicationLies, StopsByItself, CannotStart, Hidden, Other, Harmless:
	}
	return b.stateRemedy(out, "wire "+w.Name)
}

// contactRemedy is for a contact that is welded, or of the wrong type.
func (b *breaking) contactRemedy(f *breakage, out *Fault, tag, words string, role circuit.Role, kind circuit.Kind) explain.Phrase {
	say := func(format string, a ...any) explain.Phrase { return explain.Say(fmt.Sprintf(format, a...)) }
	if f.sort == wrongTypeSort && out.Class != HiddenDanger {
		return say("order %s by its contacts, and prove it with the meter before the power: the meter sheet has the reading", tag)
	}
	switch {
	case out.Class == EmergencyStopLost && out.LoadOnly:
		return say("lead this load through the supply contactor as well as through %s, so that two contacts in series take its power; and look that it stops whenever the emergency stop is tried", tag)
	case out.Class == StopsLate:
		return say("the power goes when the delay has run out, so nobody may count on the stop before; try this contact of %s by itself at the yearly check: the motor must begin to slow at once", tag)
	case out.Class == HiddenDanger && kind == circuit.MainSwitch:
		return say("after every switching off try for voltage behind %s before a hand goes in", tag)
	case out.Class == HiddenDanger:
		return say("have the drive or a safety relay watch that both contacts of %s move together, or try each of them by itself at the yearly check", tag)
	case role == circuit.EmergencyRole || kind == circuit.EmergencyStop:
		return say("give %s a second contact with positive opening into a second channel: two safe-off inputs, or two contactors in series", tag)
	case role == circuit.Guard:
		return say("fit %s as a switch whose opening is forced by the guard, with two contacts into two channels", tag)
	case role == circuit.Stop || role == circuit.FootBrake:
		return say("use a contact with positive opening on %s (the arrow in a circle on it), and keep the emergency stop in a channel of its own", tag)
	case (role == circuit.Start || role == circuit.StartReverse || role == circuit.Jog) && out.when == aimTurn:
		return say("ask for the direction by an input of its own, so that turning the switch is no fresh press to the drive, and shroud %s against being held in", tag)
	case (role == circuit.Start || role == circuit.StartReverse) && !b.t.m.circuit.Drive.ThreeWire:
		return say("shroud %s against being held in and keep chips off it; only a drive in three-wire logic, or a safety relay with a watched start, asks for a press that was let go before", tag)
	case role == circuit.Start || role == circuit.StartReverse || role == circuit.Jog:
		return say("let the drive start only on a fresh press while stop is closed, take %s from a point ahead of the stop contacts, and shroud it against being held in", tag)
	case kind == circuit.Relay || kind == circuit.Contactor || kind == circuit.DelayRelay:
		return say("use two relays in series for %s (%s), or one with linked contacts whose closed contact stands in the start", tag, words)
	}
	return say("put a second contact in series with this one of %s", tag)
}

// bridgeRemedy is for terminals or cores that touch.
func (b *breaking) bridgeRemedy(f *breakage, out *Fault, tag string) explain.Phrase {
	say := func(format string, a ...any) explain.Phrase { return explain.Say(fmt.Sprintf(format, a...)) }
	w := b.t.m.wiring
	if b.grounded(f.changes[0].A) || b.grounded(f.changes[0].B) {
		return b.groundRemedy(out)
	}
	if f.sort == coreSort {
		switch out.Class {
		case EmergencyStopLost, HiddenDanger:
			return say("lead the emergency stop's two channels in two cables, or with a grounded core between them, and hold the cable where it bends")
		case RunsAway:
			return say("lead the knob in a screened cable of its own, and set the highest speed in the drive")
		case StartsByItself, StopLost, StopsLate, WrongWay, ProtectionLost, IndicationLies, StopsByItself, CannotStart, Hidden, Other, Harmless:
		}
		return say("lead stop and start in two cables; or put a grounded spare core between the two, which helps where the supply's 0 V is grounded too, so that what touches it takes the supply down")
	}
	x, y := w.Pins[f.changes[0].A].Terminal, w.Pins[f.changes[0].B].Terminal
	d := &b.t.m.circuit.Devices[f.device]
	if d.Kind == circuit.TerminalBlock {
		return say("leave an empty or a grounded terminal between %s and %s of %s, with end plates", x, y, tag)
	}
	if d.Kind == circuit.Drive {
		return say("fit ferrules at %s and %s of %s, no loose strands; where the drive's inputs can be assigned, put one that isn't used between them", x, y, tag)
	}
	return say("fit ferrules or insulated tabs at %s and %s of %s, no loose strands, and keep swarf out of it", x, y, tag)
}

// grounded reports whether a node is joined to ground by wires alone.
func (b *breaking) grounded(node int) bool {
	return b.t.m.ground >= 0 && root(b.nets, int32(node)) == root(b.nets, int32(b.t.m.ground))
}

// groundRemedy is for a core that touches ground or a bonded screen.
func (b *breaking) groundRemedy(out *Fault) explain.Phrase {
	if out.Class == HiddenDanger {
		return explain.Say("join the 0 V of the control supply to ground, and put a fuse in its other pole: then the first fault to ground blows the fuse and shows itself. Ask the drive's booklet whether its own 0 V may be grounded; a supply of its own may")
	}
	return explain.Say("switch the live side of the supply and join the other side of the coils and inputs to its grounded pole: then a fault to ground can only stop the machine")
}

// wholeRemedy says what helps where the whole circuit does it by itself.
func (t *trial) wholeRemedy(c Class) explain.Phrase {
	switch c {
	case StartsByItself:
		return explain.Say("start with a button that is let go (three-wire): open at rest, held by the drive or by a relay, so that the return of power, of a guard or of the emergency stop starts nothing; and set the drive not to run on power-up")
	case EmergencyStopLost:
		return explain.Say("have the emergency stop open the safe-off inputs or the supply contactor with contacts that are closed at rest")
	case StopLost:
		return explain.Say("put the stop contacts, closed at rest, in series ahead of everything that starts or holds the run")
	case CannotStart:
		if w := t.base.drive; w.alive && w.on&t.m.logic.safe != t.m.logic.safe {
			return explain.Say("the drive's safe-off inputs are off: wire the emergency stop to them, or fit the jumpers to 24 V that came with the drive")
		}
		return explain.Say("look where the start's way ends: the drive's start logic, an input that isn't wired, a contact that is open at rest")
	case StopsByItself:
		return explain.Say("hold the run: with the drive's three-wire logic, or with a relay contact beside the start button")
	case IndicationLies:
		return explain.Say("take the run lamp from the drive's run relay")
	case Other:
		return explain.Say("look at what the supply must feed, and at relays that break their own current")
	case StopsLate, RunsAway, WrongWay, HiddenDanger, ProtectionLost, Hidden, Harmless:
	}
	return explain.Phrase{}
}
