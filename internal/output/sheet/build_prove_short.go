package sheet

import (
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

// inShort says what none of the single faults tried does; "" where there is nothing to say. Nothing is claimed beyond the faults that
// were tried, nor of a circuit that is dangerous as it stands.
func inShort(r prove.Report) string {
	found := map[prove.Class]bool{}
	for _, list := range [][]prove.Fault{r.Faults, r.Whole} {
		for _, f := range list {
			found[f.Class] = true
		}
	}
	var none []string
	for _, l := range lossWords {
		if found[l.class] {
			break // a fault stands in its worst class only: it may do what comes after, too
		}
		none = append(none, l.words)
	}
	if len(none) == 0 {
		return ""
	}
	return "In short: none of the single faults tried " + strings.Join(none, ", or ") + "."
}
