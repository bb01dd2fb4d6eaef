package prove

import (
	"slices"

	"drivewright/internal/trade/circuit"
)

// functions says of everything that people trust the circuit for, which single faults take it away. What the circuit doesn't have
// isn't there: no emergency stop, no other direction, no speed to run away from; unless a fault shows it all the same.
func (t *trial) functions(faults, whole []Fault) []Function {
	if !t.everRuns() {
		return nil
	}
	has := map[Class]bool{
		StartsByItself: true, StopLost: true, EmergencyStopLost: t.emergencies != bits{},
		RunsAway: t.runsAt(func(s *sight) bool { return s.speed > 0 && s.speed < awaySpeed }),
		WrongWay: t.runsAt(func(s *sight) bool { return s.reverse }) || t.has(circuit.Direction, circuit.StartReverse),
	}
	var list []Function
	for c := StartsByItself; c <= WrongWay; c++ {
		f := Function{Lost: c, Tried: len(faults), Whole: slices.ContainsFunc(whole, func(x Fault) bool { return x.Class == c })}
		for n := range faults {
			if faults[n].Reaches.Has(c) {
				f.By = append(f.By, n)
				if c == EmergencyStopLost && faults[n].LoadOnly {
					f.LoadsOnly++
				}
			}
		}
		if has[c] || f.Whole || len(f.By) > 0 {
			list = append(list, f)
		}
	}
	return list
}

// runsAt reports whether the whole machine runs in some way anywhere in the script.
func (t *trial) runsAt(is func(*sight) bool) bool {
	for _, shown := range t.shown {
		for n := range shown {
			if shown[n].torque && is(&shown[n]) {
				return true
			}
		}
	}
	return false
}

// has reports whether some device has one of the roles.
func (t *trial) has(roles ...circuit.Role) bool {
	return slices.ContainsFunc(t.m.circuit.Devices, func(d circuit.Device) bool { return slices.Contains(roles, d.Role) })
}
