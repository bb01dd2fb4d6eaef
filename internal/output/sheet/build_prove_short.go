package sheet

import (
	"fmt"

	"drivewright/internal/trade/prove"
)

// functionWords say what a class takes away: what people trust the circuit for, what a fault does to it, and what faults do.
var functionWords = map[prove.Class]struct{ function, does, do string }{
	prove.StartsByItself:    {"standing still until somebody starts it", "starts the machine by itself", "start the machine by themselves"},
	prove.EmergencyStopLost: {"emergency stop", "takes the emergency stop away", "take the emergency stop away"},
	prove.StopLost:          {"stop", "takes a stop away", "take a stop away"},
	prove.StopsLate:         {"stop at once", "lets it run until the delay has run out", "let it run until the delay has run out"},
	prove.RunsAway:          {"speed", "sends it to full speed", "send it to full speed"},
	prove.WrongWay:          {"direction", "turns it the wrong way", "turn it the wrong way"},
}

// functionText says in a sentence what single faults do to one thing that people trust the circuit for. Nothing is claimed beyond the faults
// that were tried, nor of a circuit that does it with nothing broken.
func functionText(f prove.Function) string {
	text := functionCount(f)
	if f.LoadsOnly > 0 {
		text += fmt.Sprintf(" With %d of them the motor stops, but a load keeps its power.", f.LoadsOnly)
	}
	return text
}

func functionCount(f prove.Function) string {
	words := functionWords[f.Lost]
	switch count := len(f.By); {
	case f.Whole && count == 0:
		return "With nothing broken the circuit does this already; no fault adds to it."
	case f.Whole:
		return fmt.Sprintf("With nothing broken the circuit does this already; so do %d of the %d single faults tried.", count, f.Tried)
	case count == 0:
		return fmt.Sprintf("No single fault of the %d tried %s.", f.Tried, words.does)
	case count == 1:
		return fmt.Sprintf("1 of the %d single faults tried %s.", f.Tried, words.does)
	default:
		return fmt.Sprintf("%d of the %d single faults tried %s.", count, f.Tried, words.do)
	}
}

// mostOfFunction is how many faults are named beside a function: the list of causes below has the others.
const mostOfFunction = 6

// functions adds what a single fault can and can't do to each thing that people trust the circuit for.
func (b *builder) functions(r prove.Report) {
	if len(r.Functions) == 0 {
		return
	}
	t := Table{Title: "What one fault can take away", Head: []string{"function", "found", "by which"}, Numeric: make([]bool, 3), Chosen: -1,
		Note: "A fault counts with everything that it does in any step, also where something worse is said of it below. A fault that hides until a second one comes isn't counted."}
	for _, f := range r.Functions {
		t.Rows = append(t.Rows, []string{functionWords[f.Lost].function, functionText(f), takenBy(r, f)})
	}
	b.add(withoutEmpty(t))
}

// takenBy names the faults that take a function away, the first of them.
func takenBy(r prove.Report, f prove.Function) string {
	var names []string
	for _, n := range f.By[:min(len(f.By), mostOfFunction)] {
		names = append(names, r.Faults[n].Name)
	}
	text := toldTogether(names, false)
	if more := len(f.By) - len(names); more > 0 {
		text += fmt.Sprintf("; and %d more", more)
	}
	return text
}
