package circuit

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/catalogue"
)

// carries is what the colour table calls a duty. The knob's wires, the serial line and the safe-off lines are direct control
// voltage to it.
var carries = map[Duty]string{
	SupplyDuty: "power", MotorDuty: "power", ForeignDuty: "foreign", GroundDuty: "grounding",
	ControlAC: "control AC", ControlDC: "control DC", CommonAC: "common AC", CommonDC: "common DC",
	ReferenceDuty: "control DC", DataDuty: "control DC", DriveSafeDuty: "control DC",
}

// numbered is the colour of the cores of a cable, which their numbers tell apart.
const numbered = "black, numbered"

// carriedBy is what the colour table calls what a wire carries.
func carriedBy(w *Wire) string {
	what := carries[w.Duty]
	if neutral := strings.HasSuffix(w.Number, "N"); neutral && w.Duty == SupplyDuty {
		return "neutral"
	} else if neutral && w.Duty == ForeignDuty {
		return "foreign neutral"
	}
	return what
}

// colourOf is the colour of a wire's insulation by the rule set. Only the ground core of a cable has a colour of its own.
func colourOf(set explain.RuleSet, w *Wire, cable *Cable) string {
	if set == "" {
		set = explain.US
	}
	what := carriedBy(w)
	if cable != nil && what != "grounding" {
		return numbered
	}
	c, ok := catalogue.ConductorColour(set, what)
	if !ok {
		return ""
	}
	first, _, _ := strings.Cut(c.Name, ", or ") // "green, or green with yellow stripe": one must be bought
	return first
}
