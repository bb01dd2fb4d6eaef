package circuit

import "drivewright/internal/base/explain"

// colours are the colours of insulation by what a wire carries.
type colours struct {
	byDuty  map[Duty]string
	neutral string
}

func coloursOf(set explain.RuleSet) colours {
	if set == explain.IEC {
		return colours{map[Duty]string{SupplyDuty: "black", MotorDuty: "black", ControlAC: "red", ControlDC: "blue", CommonAC: "red", CommonDC: "blue",
			ReferenceDuty: "blue", DataDuty: "blue", GroundDuty: "green-and-yellow", ForeignDuty: "orange", DriveSafeDuty: "blue"}, "light blue"}
	}
	return colours{map[Duty]string{SupplyDuty: "black", MotorDuty: "black", ControlAC: "red", ControlDC: "blue", CommonAC: "white", CommonDC: "white with blue stripe",
		ReferenceDuty: "blue", DataDuty: "blue", GroundDuty: "green", ForeignDuty: "orange", DriveSafeDuty: "blue"}, "white"}
}

// of is the colour of a wire. The cores of a cable are told apart by their numbers, but for the ground.
func (c colours) of(w *Wire, cable *Cable) string {
	switch {
	case w.Duty == GroundDuty:
		return c.byDuty[GroundDuty]
	case cable != nil:
		return "black, numbered"
	case len(w.Number) > 0 && w.Number[len(w.Number)-1] == 'N' && w.Duty == SupplyDuty:
		return c.neutral
	}
	return c.byDuty[w.Duty]
}
