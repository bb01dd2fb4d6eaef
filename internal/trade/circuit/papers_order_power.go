package circuit

import (
	"slices"
	"strings"
)

// supply joins what comes hard-wired from the source, when everything inside has been measured.
func (o *worker) supply() Stage {
	s := Stage{Title: "The supply", Lead: "The box is finished, closed but for this, and its main switch is off."}
	for n := range o.p.Wires {
		if w := &o.p.Wires[n]; o.c.HardWired(&w.Wire) {
			t := Task{Text: w.describe() + ": " + w.Begin.Text() + " → " + w.Finish.Text(), Wire: w.Name, From: w.From.String(), To: w.To.String(), ends: []Pin{w.From, w.To}}
			s.Tasks = append(s.Tasks, t)
		}
	}
	if len(s.Tasks) == 0 {
		return s
	}
	// the ground wire before those that carry current
	slices.SortStableFunc(s.Tasks, func(a, b Task) int { return o.rank(a) - o.rank(b) })
	s.Caution = "The source breaker is off, locked and tried before these wires are touched, and the wires are measured dead with a meter that was proved on a live source. " +
		"In many places this connection is a licensed electrician's work: ask before you do it."
	breaker := "Source breaker off, locked, key"
	var tags []string
	for _, d := range o.c.ByKind(Incoming) {
		tags = append(tags, d.Tag)
	}
	if len(tags) > 1 {
		breaker = "The breakers of all sources (" + strings.Join(tags, ", ") + ") off, locked, keys"
	}
	s.Tasks = append([]Task{{Text: breaker + " in your own pocket; wires measured", Expect: "0 V between all of them and to ground"},
		{Text: strings.Join(o.c.hardWired(), ", ") + ": gland or conduit fitting in the box, tight, no sharp edge"}}, s.Tasks...)
	return s
}

// hardWired names the sources that are joined for good.
func (c *Circuit) hardWired() []string {
	var tags []string
	for _, d := range c.ByKind(Incoming) {
		if slices.ContainsFunc(c.Wires, func(w Wire) bool { return (w.From.Device == d.Tag || w.To.Device == d.Tag) && c.HardWired(&w) }) {
			tags = append(tags, d.Tag)
		}
	}
	return tags
}

// rank puts the task before any wire first, then ground wires.
func (o *worker) rank(t Task) int {
	if w := o.c.Wire(t.Wire); w != nil && o.c.duty(w) == GroundDuty {
		return 0
	}
	return 1
}

// firstPower is the first time that the box is live: with nothing behind the drive, and nothing at its control terminals. The drive is set
// then. Source: common practice; drive booklets ask for the settings before the first run.
func (o *worker) firstPower() Stage {
	s := Stage{Title: "First power"}
	if o.c.Drive.Tag == "" || len(o.c.ByKind(Incoming)) == 0 {
		return s
	}
	s.Lead = "The supply is measured before it reaches the drive, and the drive before anything hangs on it."
	s.Caution = "From here on the box is live when its main switch is on, and stays charged when it is off. One hand, insulated probes, nobody else at the machine."
	logic := "two-wire: it runs while the run contact is closed"
	if o.c.Drive.ThreeWire {
		logic = "three-wire: it starts when start is pressed, and stops when the stop contact opens"
	}
	s.Tasks = []Task{
		{Text: "Motor leads off " + o.outputs() + ", each under a cap of its own; control terminals of " + o.c.Drive.Tag + " still off"},
		{Text: "“First power” on the meter sheet, from the top down to the settings", Expect: "each as stated"},
		{Text: "Motor plate entered: volts, amperes, hertz, turns a minute; lowest and highest frequency as on this sheet; overload protection on; each read back"},
		{Text: "Start logic set and read back", Expect: logic},
		{Text: "Run on power-up, and start after a fault is reset: set and read back", Expect: "no, both"},
		{Text: "Main switch off and locked, waited, the link measured"},
	}
	return s
}

// outputs names the drive's output terminals.
func (o *worker) outputs() string {
	var pins []string
	for _, t := range o.c.Drive.Out {
		pins = append(pins, o.c.Drive.Tag+":"+t)
	}
	return strings.Join(pins, ", ")
}

// drive brings the free ends under the drive's control terminals.
func (o *worker) drive() Stage {
	s := Stage{Title: "At the drive, last", Lead: "With nothing live, and only when all before this is right. Control terminals that pull off were wired lying beside the drive, and are pushed on now; otherwise the ends waited in a spare strip, in the same order, and go in here."}
	for _, w := range o.p.Wires {
		for n, end := range []Pin{w.From, w.To} {
			if o.c.atDrive(end) && !o.c.HardWired(&w.Wire) {
				other := []Pin{w.To, w.From}[n]
				s.Tasks = append(s.Tasks, Task{Text: w.describe() + ", from " + other.String() + " → " + o.c.end(end).Text(), Wire: w.Name, From: other.String(), To: end.String(), ends: []Pin{end}})
			}
		}
	}
	return s
}

// running joins the motor to the drive and tries every control.
func (o *worker) running() Stage {
	s := Stage{Title: "The first run"}
	if o.c.Drive.Tag == "" || len(o.c.ByKind(Incoming)) == 0 {
		return s
	}
	s.Lead = "Half of what goes wrong at a first start stands in the settings: they were read back before."
	s.Caution = "Belt off or tool out, nothing clamped, guards on: from here on the motor may start."
	s.Tasks = []Task{
		{Text: "The rest of “First power” on the meter sheet", Expect: "each as stated"},
		{Text: "Main switch off and locked, waited, measured; motor leads back on " + o.outputs() + ", to the torque on the drive; covers on"},
		{Text: "“Functions” on the meter sheet, every line", Expect: "each as stated"},
	}
	return s
}
