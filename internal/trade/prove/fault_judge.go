package prove

// hands says what the operator holds away from rest at one moment.
type hands struct{ emergency, stop bool }

// watcher knows what the whole circuit does, and judges a broken one by it.
type watcher struct {
	m *model
	// stops and emergencies are by device: what stops the machine while it isn't at rest.
	stops, emergencies bits
	// shows are the lamps that are lit exactly while the motor has torque.
	shows bits
	// runs are the loads: whatever else moves or heats.
	runs bits
}

// holding says what the hands hold after the actions so far; at are the positions in which the actions left the devices.
func (w *watcher) holding(at []uint8) hands {
	var h hands
	for n, p := range at {
		if p != 0 {
			h.emergency = h.emergency || w.emergencies.has(n)
			h.stop = h.stop || w.stops.has(n)
		}
	}
	return h
}

// none is the class of nothing at all.
const none = Harmless + 1

// A difference of speed that is seen, and from which speed and difference on it counts as running away. Thousandths. A knob
// with an open end leaves the reference at most a quarter below its top.
const (
	seenSpeed = 50
	awaySpeed = 750
	awayBy    = 300
)

// judge compares one step of the broken circuit with the same step of the whole one. before and was are what the two showed
// ahead of the step, now and want behind it. It returns everything that is wrong in the step.
func (w *watcher) judge(a *action, h hands, before, now, was, want *sight) Classes {
	var found Classes
	worse := func(c Class) { found = found.with(c) }
	switch {
	case now.torque && !want.torque:
		switch {
		case a.late && before.torque && a.aim == aimEmergency: // the delay relay comes next
		case h.emergency || a.aim == aimEmergency:
			worse(EmergencyStopLost)
			found |= motorRunsOn
		case h.stop || a.aim == aimStop || a.aim == aimLost:
			worse(StopLost)
		case before.torque: // it ran on before: said there
		case a.aim == aimStart || a.aim == aimTooSoon:
			worse(Other) // it starts where something should have kept it from it, such as a reset
		default:
			worse(StartsByItself)
		}
	case now.torque:
		if now.reverse != want.reverse {
			worse(WrongWay)
		}
		switch by := now.speed - want.speed; {
		case by >= awayBy && now.speed >= awaySpeed:
			worse(RunsAway)
		case by > seenSpeed || by < -seenSpeed:
			worse(Other)
		}
	case a.aim == aimWait && before.torque && !was.torque:
		worse(StopsLate)
	case want.torque && before.torque:
		worse(StopsByItself)
	case want.torque && (a.aim == aimStart || !was.torque):
		worse(CannotStart)
	}
	if h.emergency && !a.late && w.leftOn(now, want) {
		worse(EmergencyStopLost)
	}
	if now.torque || !want.torque { // a machine that doesn't run where it should is seen, whatever its lamps say
		found |= w.judgeLamps(now, want)
	}
	if now.torque == want.torque && (now.loads != want.loads || now.chatters != want.chatters || now.overload != want.overload) {
		worse(Other)
	}
	return found
}

// leftOn reports whether a load has power that shouldn't have it.
func (w *watcher) leftOn(now, want *sight) bool {
	for n := range now.loads {
		if now.loads[n]&^want.loads[n]&w.runs[n] != 0 {
			return true
		}
	}
	return false
}

// judgeLamps returns IndicationLies where a lamp says what isn't so. That one is dark while nothing runs is only noted: its supply may
// be gone, and then it says the truth.
func (w *watcher) judgeLamps(now, want *sight) Classes {
	var found Classes
	for n := range now.lamps {
		differ := now.lamps[n] ^ want.lamps[n]
		lies := differ &^ w.shows[n]
		if now.torque != want.torque {
			lies = 0 // they may follow what the motor does
		}
		motor := uint64(0)
		if now.torque {
			motor = w.shows[n]
		}
		if dark := lies & want.lamps[n]; dark != 0 && !now.torque {
			found |= darkLamp
			lies &^= dark
		}
		if lies != 0 || now.lamps[n]&w.shows[n] != motor {
			found = found.with(IndicationLies)
		}
	}
	return found
}

// judgeWhole judges one step of the whole circuit by itself.
func (w *watcher) judgeWhole(a *action, h hands, before, now *sight) Class {
	class := none
	worse := func(c Class) { class = min(class, c) }
	switch {
	case now.torque && (h.emergency || a.aim == aimEmergency):
		worse(EmergencyStopLost)
	case now.torque && (h.stop || a.aim == aimStop || a.aim == aimLost):
		worse(StopLost)
	case now.torque && !before.torque && a.aim != aimStart && a.aim != aimTooSoon:
		worse(StartsByItself)
	case !now.torque && h == hands{} && a.aim == aimStart:
		worse(CannotStart)
	case !now.torque && before.torque && h == hands{} && (a.aim == aimLetGo || a.aim == aimWait):
		worse(StopsByItself)
	}
	for n := range w.m.circuit.Devices {
		if w.m.runLamp(n) && now.lamps.has(n) && !now.torque {
			worse(IndicationLies)
		}
	}
	return class
}
