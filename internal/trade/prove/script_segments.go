package prove

import "drivewright/internal/trade/circuit"

// powerOn turns the box on: its main switch, or the supply where it has none.
func (s *scripter) powerOn(out *script) []action {
	s.do = nil
	for n := range s.c.Devices {
		if s.isMain(n) {
			s.act(n, 1, aimPower, "turn the main switch ("+s.c.Devices[n].Tag+") on")
		}
	}
	if s.do == nil {
		out.supply = false
		s.do = append(s.do, action{words: "switch the supply on", aim: aimPower, device: -1, supply: true})
	}
	return s.do
}

func (s *scripter) isMain(n int) bool {
	d := &s.c.Devices[n]
	return (d.Kind == circuit.MainSwitch || d.Role == circuit.SwitchesSupply) && len(d.Positions) > 1 && !s.m.moves[n]
}

// powerOff turns it off again.
func (s *scripter) powerOff(out *script) []action {
	s.do = nil
	for n := range s.c.Devices {
		if s.isMain(n) {
			s.act(n, 0, aimLost, "turn the main switch ("+s.c.Devices[n].Tag+") off")
		}
	}
	if !out.supply {
		s.do = append(s.do, action{words: "switch the supply off", aim: aimLost, device: -1})
	}
	return s.do
}

// standing is a start and a stop with the fault happening before the start, while the machine stands with the power on: what comes on
// just then may count as a press.
func (s *scripter) standing() {
	if !s.canRun() {
		return
	}
	s.begin()
	s.struck = len(s.do)
	s.start(0)
	s.stop(0)
	s.end()
	s.list[len(s.list)-1].idle = true
}

// startsAndStops starts from every place, and stops at every stop.
func (s *scripter) startsAndStops() {
	if !s.canRun() {
		return
	}
	all := len(s.starts) + len(s.runs)
	for n := range max(all, len(s.stops)) { // the first start and stop again: this time it may happen while it runs
		s.begin()
		s.start(n % all)
		s.stop(n % max(len(s.stops), 1))
		s.end()
	}
	if len(s.starts) == 0 && len(s.stops) > 0 { // a run switch stops by itself too
		s.begin()
		s.start(0)
		s.release()
		s.end()
	}
}

// bothPressed holds start while stop is pressed: stop must win.
func (s *scripter) bothPressed() {
	if len(s.starts) == 0 || len(s.stops) == 0 || !s.c.Devices[s.starts[0]].Springs || !s.c.Devices[s.stops[0]].Springs {
		return
	}
	start, stop := s.starts[0], s.stops[0]
	s.begin()
	s.press(stop, 1, aimStop, "stop")
	s.press(start, 1, aimStart, "start")
	s.letGo(start, aimLetGo, "start")
	s.letGo(stop, aimLetGo, "stop")
	s.press(start, 1, aimStart, "start")
	s.press(stop, 1, aimStop, "stop")
	s.letGo(start, aimLetGo, "start")
	s.letGo(stop, aimLetGo, "stop")
	s.wait()
	s.end()
}

// emergency pushes an emergency stop in while the machine runs, tries a start, pulls it out, and starts again.
func (s *scripter) emergency(d int) {
	s.begin()
	if s.canRun() {
		s.start(0)
	}
	s.press(d, 1, aimEmergency, "emergency stop")
	s.wait()
	if s.canRun() {
		s.start(0) // a switch that stays where it is turned stays on
	}
	s.letGo(d, aimLetGo, "emergency stop")
	early := s.tooSoon()
	s.rearm()
	if early {
		s.stop(0) // a relay may hold the start that came too soon
	}
	if s.canRun() {
		s.start(0)
		s.stop(0)
	}
	s.end()
}

// tooSoon presses start before the reset button, if the machine has one, and reports whether it did.
func (s *scripter) tooSoon() bool {
	if len(s.resets) == 0 || len(s.starts) == 0 || !s.c.Devices[s.starts[0]].Springs {
		return false
	}
	d := s.starts[0]
	s.act(d, 1, aimTooSoon, "press "+s.name(d, "start")+" before the reset")
	s.act(d, 0, aimLetGo, "let go of "+s.name(d, "start")+" before the reset")
	return true
}

// jogging holds the jog button and lets it go, from standstill and while the machine runs.
func (s *scripter) jogging() {
	for _, d := range s.jogs {
		s.begin()
		s.press(d, 1, aimStart, "jog")
		s.mayStrike()
		s.letGo(d, aimStop, "jog")
		s.end()
		if s.canRun() {
			s.begin()
			s.start(0)
			s.act(d, 1, aimTurn, "press "+s.name(d, "jog")+" while it runs")
			s.act(d, 0, aimLetGo, "let go of "+s.name(d, "jog")+" while it runs")
			s.stop(0)
			s.end()
		}
	}
}

// reversing runs it backwards by every means that there is.
func (s *scripter) reversing() {
	for _, d := range s.backward {
		s.begin()
		s.press(d, 1, aimStart, "start reverse")
		if s.c.Devices[d].Springs {
			s.letGo(d, aimLetGo, "start reverse")
		}
		s.mayStrike()
		s.stop(0)
		s.end()
	}
	for _, d := range s.runs {
		for p := 2; p < len(s.c.Devices[d].Positions); p++ {
			s.begin()
			s.press(d, uint8(p), aimStart, "run switch")
			s.mayStrike()
			s.release()
			s.end()
		}
	}
	if !s.canRun() {
		return
	}
	for _, d := range s.directions {
		for p, name := range s.c.Devices[d].Positions {
			if p == 0 || name == "forward" {
				continue
			}
			s.begin()
			s.press(d, uint8(p), aimTurn, "direction")
			s.start(0)
			s.stop(0)
			s.end()
			// turned while it runs, and left there
			s.begin()
			s.start(0)
			s.press(d, uint8(p), aimTurn, "direction")
			s.stop(0)
			s.end()
		}
	}
}

// interruption does something that must stop the machine, tries a start, and takes it back: nothing may start.
func (s *scripter) interruption(d int, words, back string, aim aim) {
	if !s.canRun() {
		return
	}
	s.begin()
	s.start(0)
	s.act(d, 1, aim, s.name(d, words))
	s.wait()
	s.start(0)
	s.act(d, 0, aimLetGo, s.name(d, back))
	s.rearm()
	s.start(0)
	s.stop(0)
	s.end()
}

// speeds sweeps the knob, and turns the step switches through their positions.
func (s *scripter) speeds() {
	if !s.canRun() {
		return
	}
	var knobs []int
	for n := range s.c.Devices {
		if s.c.Devices[n].Kind == circuit.Knob {
			knobs = append(knobs, n)
		}
	}
	for _, d := range knobs {
		s.begin()
		s.start(0)
		for _, turn := range []struct {
			to    uint8
			words string
		}{{3, "low"}, {1, "to the middle"}, {2, "to full"}, {1, "back to the middle"}, {0, "to nought"}, {1, "to the middle again"}} {
			s.act(d, turn.to, aimTurn, "turn "+s.name(d, "the knob")+" "+turn.words)
		}
		s.stop(0)
		s.end()
	}
	for _, d := range s.steps {
		s.begin()
		s.start(0)
		for p := range s.c.Devices[d].Positions {
			if p > 0 {
				s.press(d, uint8(p), aimTurn, "speed step")
			}
		}
		s.letGo(d, aimTurn, "speed step")
		s.stop(0)
		s.end()
	}
}

// dip takes the supply away while the machine runs and brings it back, then does the same with the main switch.
func (s *scripter) dip(out *script) {
	if !s.canRun() {
		return
	}
	s.begin()
	s.start(0)
	s.do = append(s.do, action{words: "the supply fails", aim: aimLost, device: -1})
	s.wait()
	s.do = append(s.do, action{words: "the supply returns", aim: aimPower, device: -1, supply: true})
	s.release()
	s.end()
	if !out.supply {
		return
	}
	s.begin()
	s.start(0)
	s.do = append(s.do, s.off(out)...)
	s.wait()
	s.do = append(s.do, out.first...)
	s.release()
	s.end()
}

// off returns the actions that turn the main switches off.
func (s *scripter) off(out *script) []action {
	keep := s.do
	list := s.powerOff(out)
	s.do = keep
	return list
}
