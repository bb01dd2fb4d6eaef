package sheet

import (
	"fmt"
	"strings"

	"drivewright/internal/trade/prove"
)

// lossWords say of a class what no single fault does, where none does; worst first, as the classes are.
var lossWords = []struct {
	class prove.Class
	words string
}{
	{prove.StartsByItself, "starts the machine by itself"}, {prove.EmergencyStopLost, "takes the emergency stop away"}, {prove.StopLost, "takes Stop away"},
	{prove.RunsAway, "sends it to full speed"}, {prove.WrongWay, "turns it the wrong way"},
}

// inShort says a report in a few lines: what none of the single faults tried does, and for each dangerous class how many do and one that
// does. Nothing is claimed beyond the faults that were tried, nor of a circuit that is dangerous as it stands.
func inShort(r prove.Report) []string {
	of := map[prove.Class][]prove.Fault{}
	for _, f := range r.Faults {
		of[f.Class] = append(of[f.Class], f)
	}
	whole := map[prove.Class]bool{}
	for _, f := range r.Whole {
		whole[f.Class] = true
	}
	var none, some []string
	masked := false // a fault stands in its worst class only: what is worse may do this too
	for _, l := range lossWords {
		found := of[l.class]
		switch {
		case len(found) > 0:
			some = append(some, fmt.Sprintf("%s: %s. For one: %s.", capital(classWords[l.class]), many(len(found), "fault", "faults"), found[0].Name))
		case !masked && !whole[l.class]:
			none = append(none, l.words)
		}
		masked = masked || len(found) > 0 || whole[l.class]
	}
	if hidden := of[prove.HiddenDanger]; len(hidden) > 0 {
		some = append(some, fmt.Sprintf("%s: %s, which nothing shows until another comes to it. For one: %s.", capital(classWords[prove.HiddenDanger]), many(len(hidden), "fault", "faults"), hidden[0].Name))
	}
	if len(none) > 0 {
		some = append([]string{"In short: none of the single faults tried " + strings.Join(none, ", or ") + "."}, some...)
	}
	return some
}
