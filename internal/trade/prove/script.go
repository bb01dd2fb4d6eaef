package prove

import "drivewright/internal/trade/circuit"

// aim is what an action is meant to do.
type aim uint8

const (
	aimPower     aim = iota // power comes, or comes back: nothing may start
	aimStart                // it should run
	aimStop                 // it should stop, or stay stopped
	aimEmergency            // the torque must go
	aimLetGo                // a hand goes away, a guard is closed: nothing may start
	aimReset                // nothing may start
	aimTooSoon              // a start ahead of the reset that must come first, where there is one
	aimTurn                 // a direction, a speed
	aimLost                 // the supply goes
	aimWait
	aimFault // the fault happens: no action of anybody
)

// action is one thing that somebody does, or that happens.
type action struct {
	words  string
	aim    aim
	device int   // that it moves; -1 for the supply, for a wait and for the fault
	to     uint8 // the position
	late   bool  // a wait follows, in which delay relays run out
	supply bool  // with device -1 and aimPower or aimLost: whether the supply is there
}

// segment is a part of the script that begins and ends with the power on and the machine at rest, so that it can be done by itself.
type segment struct {
	does []action
	// strikes is before which action the fault happens when it happens while the machine runs, or, if idle is true, while it
	// stands with the power on; -1 where it never does here.
	strikes int
	idle    bool
}

// script is what is done to the machine.
type script struct {
	first    []action // from a dead machine to one with power
	segments []segment
	last     []action
	supply   bool // the utility's supply is there from the beginning
}

// do does one action on the machine and lets it settle.
func (r *machine) do(a *action) {
	now := &r.now
	switch {
	case a.device >= 0:
		now.at[a.device] = a.to // a device that is stuck has its contacts frozen; its handle may move
	case a.aim == aimPower || a.aim == aimLost:
		now.supply = a.supply
	case a.aim == aimWait:
		for _, c := range r.m.coils {
			if now.late[c.device] {
				now.late[c.device] = false
				now.at[c.device] = 0
			}
		}
	}
	r.settle()
}

// scripter makes the script of a circuit from the roles of its devices.
type scripter struct {
	m    *model
	c    *circuit.Circuit
	do   []action // of the segment in the making
	list []segment
	// starts, stops and so on are the devices of each role that have a second position.
	starts, stops, runs, emergencies, jogs, resets, guards, brakes, directions, steps, backward, overloads []int
	delays                                                                                                 bool
	struck                                                                                                 int
}

// newScript makes the script of a circuit.
func newScript(m *model) *script {
	s := &scripter{m: m, c: m.circuit}
	s.sort()
	out := &script{supply: true}
	out.first = s.powerOn(out)
	s.standing()
	s.startsAndStops()
	s.bothPressed()
	for _, d := range s.emergencies {
		s.emergency(d)
	}
	s.jogging()
	s.reversing()
	for _, d := range s.guards {
		s.interruption(d, "open the guard", "close the guard", aimStop)
	}
	for _, d := range s.brakes {
		s.interruption(d, "press the foot brake", "let go of the foot brake", aimStop)
	}
	for _, d := range s.overloads {
		s.interruption(d, "the overload relay trips", "set the overload relay again", aimStop)
	}
	s.speeds()
	s.dip(out)
	out.segments = s.list
	out.last = s.powerOff(out)
	return out
}

// sort finds the devices by what they do.
func (s *scripter) sort() {
	for n := range s.c.Devices {
		d := &s.c.Devices[n]
		if d.Kind == circuit.DelayRelay {
			s.delays = true
		}
		if len(d.Positions) < 2 || s.m.moves[n] {
			continue
		}
		into := map[circuit.Role]*[]int{circuit.Start: &s.starts, circuit.Stop: &s.stops, circuit.RunSwitch: &s.runs, circuit.EmergencyRole: &s.emergencies,
			circuit.Jog: &s.jogs, circuit.Reset: &s.resets, circuit.Guard: &s.guards, circuit.FootBrake: &s.brakes, circuit.Direction: &s.directions,
			circuit.SpeedStep: &s.steps, circuit.StartReverse: &s.backward}
		list := into[d.Role]
		switch {
		case list != nil:
		case d.Kind == circuit.EmergencyStop:
			list = &s.emergencies
		case d.Kind == circuit.OverloadRelay:
			list = &s.overloads
		default:
			continue
		}
		*list = append(*list, n)
	}
	if s.starts == nil && s.runs == nil {
		s.starts, s.backward = s.backward, nil
	}
}

// name says a device in the words of an action: "start (S2, apron)".
func (s *scripter) name(n int, word string) string {
	d := &s.c.Devices[n]
	if d.Place == "box" || d.Place == "door" || d.Place == "" {
		return word + " (" + d.Tag + ")"
	}
	return word + " (" + d.Tag + ", " + d.Place + ")"
}

func (s *scripter) act(n int, to uint8, aim aim, words string) {
	s.do = append(s.do, action{words: words, aim: aim, device: n, to: to})
}

// press moves a device into a position, and letGo back to rest; a device without springs is turned.
func (s *scripter) press(n int, to uint8, aim aim, word string) {
	d := &s.c.Devices[n]
	verb, tail := "press ", ""
	switch {
	case d.Kind == circuit.EmergencyStop:
		verb, tail = "push ", " in"
	case !d.Springs:
		verb, tail = "turn ", " to "+d.Positions[to]
	}
	s.act(n, to, aim, verb+s.name(n, word)+tail)
}

func (s *scripter) letGo(n int, aim aim, word string) {
	d := &s.c.Devices[n]
	verb, tail := "let go of ", ""
	switch {
	case d.Kind == circuit.EmergencyStop:
		verb, tail = "pull ", " out again"
	case !d.Springs:
		verb, tail = "turn ", " to "+d.Positions[0]
	}
	s.act(n, 0, aim, verb+s.name(n, word)+tail)
}

// wait lets delay relays run out.
func (s *scripter) wait() {
	if s.delays && len(s.do) > 0 {
		s.do[len(s.do)-1].late = true
		s.do = append(s.do, action{words: "wait until the delay relay has run out", aim: aimWait, device: -1})
	}
}

// rearm presses the reset buttons.
func (s *scripter) rearm() {
	for _, n := range s.resets {
		s.press(n, 1, aimReset, "reset")
		s.letGo(n, aimLetGo, "reset")
	}
}

// direct turns direction switches to forward, where forward isn't their rest.
func (s *scripter) direct() {
	for _, n := range s.directions {
		for p, name := range s.c.Devices[n].Positions {
			if p > 0 && name == "forward" {
				s.press(n, uint8(p), aimTurn, "direction")
			}
		}
	}
}

// undirect turns them back.
func (s *scripter) undirect() {
	for _, n := range s.directions {
		if s.stands(n) != 0 {
			s.letGo(n, aimTurn, "direction")
		}
	}
}

// stands returns the position in which the actions so far leave a device.
func (s *scripter) stands(n int) uint8 {
	for k := len(s.do) - 1; k >= 0; k-- {
		if s.do[k].device == n {
			return s.do[k].to
		}
	}
	return 0
}

// canRun reports whether anything starts the machine.
func (s *scripter) canRun() bool { return len(s.starts)+len(s.runs) > 0 }

// start starts the machine at the n-th place from which it can be started; the fault may strike from then on.
func (s *scripter) start(n int) {
	if n < len(s.starts) {
		d := s.starts[n]
		if s.stands(d) != 0 && !s.c.Devices[d].Springs {
			s.letGo(d, aimLetGo, "start")
		}
		s.press(d, 1, aimStart, "start")
		if s.c.Devices[d].Springs {
			s.letGo(d, aimLetGo, "start")
		}
	} else {
		d := s.runs[n-len(s.starts)]
		if s.stands(d) != 0 {
			s.letGo(d, aimStop, "run switch")
		}
		s.press(d, 1, aimStart, "run switch")
	}
	s.mayStrike()
}

func (s *scripter) mayStrike() {
	if s.struck < 0 {
		s.struck = len(s.do)
	}
}

// stop stops the machine with the n-th stop, or with what runs it where it has none.
func (s *scripter) stop(n int) {
	if n < len(s.stops) {
		s.press(s.stops[n], 1, aimStop, "stop")
		s.letGo(s.stops[n], aimLetGo, "stop")
		s.wait()
	}
	s.release()
}

// release turns back what stays where it was turned.
func (s *scripter) release() {
	for _, n := range s.runs {
		if s.stands(n) != 0 {
			s.letGo(n, aimStop, "run switch")
		}
	}
	for _, n := range append(append([]int(nil), s.starts...), s.backward...) {
		if s.stands(n) != 0 {
			s.letGo(n, aimStop, "start")
		}
	}
}

// begin begins a segment and end closes it.
func (s *scripter) begin() {
	s.do, s.struck = nil, -1
	s.rearm()
	s.direct()
}

func (s *scripter) end() {
	s.undirect()
	s.list = append(s.list, segment{does: s.do, strikes: s.struck})
	s.do = nil
}
