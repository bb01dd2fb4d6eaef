package circuit

import (
	"slices"
	"strings"
)

// Stage is a part of the work that is finished before the next is begun.
type Stage struct {
	Title, Lead string
	// Caution stands before the stage in which a hand is in danger; empty in the others.
	Caution string
	Tasks   []Task
}

// Task is one thing to do and to tick off. A task that is about a wire names it and the two ends that it lies between.
type Task struct {
	Text     string
	Wire     string
	From, To string
	// Expect is what a measurement should show; empty where nothing is measured.
	Expect string
	ends   []Pin // the wire ends that it brings under a screw
}

// duty is what the wire carries; where the circuit doesn't say, what its ends say of it.
func (c *Circuit) duty(w *Wire) Duty {
	if w.Duty != "" {
		return w.Duty
	}
	guess := ControlDC
	for _, pin := range []Pin{w.From, w.To} {
		d := c.Device(pin.Device)
		switch {
		case d == nil:
		case d.Kind == GroundBar || strings.HasPrefix(pin.Terminal, "PE"):
			return GroundDuty
		case d.Kind == MotorKind || d.Kind == Drive && slices.Contains(c.Drive.Out, pin.Terminal):
			guess = MotorDuty
		case d.Kind == MainSwitch || d.Kind == Incoming || d.Kind == Drive && slices.Contains(c.Drive.Supply, pin.Terminal):
			guess = SupplyDuty
		}
	}
	return guess
}

// atDrive reports whether the pin is one of the drive's control terminals: they are wired last.
func (c *Circuit) atDrive(p Pin) bool {
	return c.Drive.Tag != "" && p.Device == c.Drive.Tag && !slices.Contains(c.Drive.Supply, p.Terminal) && !slices.Contains(c.Drive.Out, p.Terminal) && !strings.HasPrefix(p.Terminal, "PE")
}

// order lists the whole work: what must be inside before what. Each end of each wire comes once.
func order(c *Circuit, p *Papers) []Stage {
	o := &worker{c: c, p: p}
	stages := []Stage{o.metal(), o.ground(), o.power(), o.terminals(), o.control(), o.cables(), o.farEnds(), o.lastLook(), o.supply(), o.firstPower(), o.drive(), o.running()}
	return slices.DeleteFunc(stages, func(s Stage) bool { return len(s.Tasks) == 0 })
}

// worker sorts the wires out among the stages.
type worker struct {
	c *Circuit
	p *Papers
}

// placeKind returns what sort of place the device stands in.
func (o *worker) placeKind(tag string) PlaceKind {
	if d := o.c.Device(tag); d != nil {
		if place := o.c.Place(d.Place); place != nil {
			return place.Kind
		}
	}
	return Outside
}

// single yields the single wires of the box, in the order of the wire list, but for those of the incoming supply.
func (o *worker) single(yield func(*WireLine) bool) {
	for n := range o.p.Wires {
		if w := &o.p.Wires[n]; w.Cable == "" && !o.c.HardWired(&w.Wire) && !yield(w) {
			return
		}
	}
}

// task is the tick for a single wire. An end at the drive's control terminals is left free for now.
func (o *worker) task(w *WireLine) Task {
	t := Task{Text: w.describe() + ": " + w.Begin.Text() + " → " + w.Finish.Text(), Wire: w.Name, From: w.From.String(), To: w.To.String()}
	for _, end := range []Pin{w.From, w.To} {
		if o.c.atDrive(end) {
			t.Text += "; its end for " + end.String() + " waits, marked, off the drive"
		} else {
			t.ends = append(t.ends, end)
		}
	}
	return t
}

// describe names a wire with its size and colour.
func (w *WireLine) describe() string {
	text := w.Name
	size := shown(w.Size)
	if size == "" {
		size = "size " + notKnown
	}
	for _, fact := range []string{size, w.Colour} {
		if fact != "" {
			text += ", " + fact
		}
	}
	return text
}

func (o *worker) metal() Stage {
	s := Stage{Title: "Metal and mounting", Lead: "Everything is drilled before anything is mounted: chips in a drive or a relay are a short circuit that waits."}
	s.Tasks = append(s.Tasks, Task{Text: "Plate, box and door drilled, deburred and cleaned; no chip left"},
		Task{Text: "Bare metal at the ground bar and at each bonding point, toothed washer in place"})
	for _, d := range o.c.Devices {
		if slices.Contains(notBought, d.Kind) {
			continue
		}
		switch o.placeKind(d.Tag) {
		case Box, Door:
			text := d.Tag + " " + d.Words
			if d.Place != "box" {
				text += ", at: " + d.Place
			}
			if d.Kind == Drive {
				text += ", its openings covered until the wiring is done"
			}
			s.Tasks = append(s.Tasks, Task{Text: text + ": mounted, tag on it"})
		case Station, Motor, Outside:
		}
	}
	s.Tasks = append(s.Tasks, o.outside()...)
	return s
}

// outside mounts what stands at the stations and on the machine: a task for each place.
func (o *worker) outside() []Task {
	var places []string
	at := map[string][]string{}
	for _, d := range o.c.Devices {
		if kind := o.placeKind(d.Tag); slices.Contains(notBought, d.Kind) || kind == Box || kind == Door {
			continue
		}
		if at[d.Place] == nil {
			places = append(places, d.Place)
		}
		at[d.Place] = append(at[d.Place], strings.TrimSuffix(d.Tag+" "+d.Words, ", "+d.Place))
	}
	var tasks []Task
	for _, place := range places {
		tasks = append(tasks, Task{Text: upper(place) + ": " + strings.Join(at[place], ", ") + ": mounted, tags on"})
	}
	return tasks
}

// upper begins a text with a capital.
func upper(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

func (o *worker) ground() Stage {
	s := Stage{Title: "Ground wires first", Lead: "Each on its own screw, none through another. The bonding test on the meter sheet measures them before any power."}
	for w := range o.single {
		if o.c.duty(&w.Wire) == GroundDuty {
			s.Tasks = append(s.Tasks, o.task(w))
		}
	}
	return s
}

// isPower reports whether a duty belongs to the wires that carry the machine's power.
func isPower(d Duty) bool { return d == SupplyDuty || d == MotorDuty || d == ForeignDuty }

func (o *worker) power() Stage {
	s := Stage{Title: "Supply and motor wires inside the box", Lead: "Shortest way, apart from the control wires by the distances above. Tighten to the torque that is printed on each device."}
	for _, wanted := range []Duty{SupplyDuty, ForeignDuty, MotorDuty} {
		for w := range o.single {
			if o.c.duty(&w.Wire) == wanted {
				s.Tasks = append(s.Tasks, o.task(w))
			}
		}
	}
	if len(s.Tasks) > 0 && o.c.Drive.Tag != "" {
		s.Caution = "The supply goes to the drive's supply terminals (" + strings.Join(o.c.Drive.Supply, ", ") + "), the motor to its output (" + strings.Join(o.c.Drive.Out, ", ") +
			"). Swapped, the drive is destroyed at the first switching on, and may burst. Read the print beside the screws, not this sheet alone."
	}
	return s
}

func (o *worker) terminals() Stage {
	s := Stage{Title: "Terminals and jumpers", Lead: "The label strip goes on first: from here on every wire is found by its terminal."}
	for _, strip := range o.p.Labels.Strips {
		s.Tasks = append(s.Tasks, Task{Text: strip.Tag + ": label strip on, terminals " + strip.Terminals[0] + " to " + strip.Terminals[len(strip.Terminals)-1]})
	}
	for _, strip := range o.p.Strips {
		for _, group := range strip.joined() {
			s.Tasks = append(s.Tasks, Task{Text: "Jumper in " + strip.Tag + " across " + strings.Join(group, ", ")})
		}
	}
	return s
}

// away reports whether the whole wire lies at a station or on the machine, outside the box.
func (o *worker) away(w *WireLine) bool {
	inBox := func(pin Pin) bool { kind := o.placeKind(pin.Device); return kind == Box || kind == Door }
	return !inBox(w.From) && !inBox(w.To)
}

func (o *worker) control() Stage {
	s := Stage{Title: "Control wires, one potential at a time", Lead: "All wires of one number, then the next: so a wrong end shows at once. Never more wires under a screw than it is made for. Where control and power wires must cross, they cross at a right angle."}
	for w := range o.single {
		if d := o.c.duty(&w.Wire); d == GroundDuty || isPower(d) || o.away(w) {
			continue
		}
		s.Tasks = append(s.Tasks, o.task(w))
	}
	return s
}

// coreTask is the tick for one end of a core.
func (o *worker) coreTask(chart *CableChart, line *CoreLine, end End) Task {
	from := chart.Tag + " core " + line.Name
	t := Task{Text: from + ", wire " + line.Core.Wire + " → " + end.Text(), Wire: line.Core.Wire, From: from, To: end.Pin.String()}
	if o.c.atDrive(end.Pin) {
		t.Text = from + ", wire " + line.Core.Wire + ": its end for " + end.Pin.String() + " waits, marked, off the drive"
	} else {
		t.ends = []Pin{end.Pin}
	}
	return t
}

// plugged reports whether the cable is a supply cord.
func (o *worker) plugged(chart *CableChart) bool {
	return slices.ContainsFunc(chart.Lines, func(l CoreLine) bool {
		for _, end := range []End{l.AtBox, l.Far} {
			if d := o.c.Device(end.Pin.Device); d != nil && d.Kind == Incoming {
				return true
			}
		}
		return false
	})
}

func (o *worker) cables() Stage {
	s := Stage{Title: "Cables into the box", Lead: "Gland on the cable first, jacket off to just inside it. Motor cable and control cables come in at different places, apart by the distances above."}
	for n := range o.p.Cables {
		chart := &o.p.Cables[n]
		text := chart.Tag + " to " + chart.To + ": gland on, in and tight; pulled by hand, the jacket doesn't slip"
		if chart.Screen.Fitted {
			text += "; screen " + chart.ScreenText
		}
		if o.plugged(chart) {
			text += "; its plug stays out of the receptacle, where you see it"
		}
		s.Tasks = append(s.Tasks, Task{Text: text})
		for k := range chart.Lines {
			line := &chart.Lines[k]
			switch {
			case line.AtBox.Pin != (Pin{}):
				s.Tasks = append(s.Tasks, o.coreTask(chart, line, line.AtBox))
			case line.Grounded:
				s.Tasks = append(s.Tasks, Task{Text: chart.Tag + " core " + line.Name + ", spare: to the ground bar here, insulated at the other end"})
			}
		}
	}
	return s
}

func (o *worker) farEnds() Stage {
	s := Stage{Title: "At the stations and the motor", Lead: "The other end of each cable. A cable that moves is held a hand's breadth before its gland."}
	for n := range o.p.Cables {
		chart := &o.p.Cables[n]
		for k := range chart.Lines {
			if line := &chart.Lines[k]; line.Far.Pin != (Pin{}) {
				s.Tasks = append(s.Tasks, o.coreTask(chart, line, line.Far))
			}
		}
	}
	for w := range o.single {
		if d := o.c.duty(&w.Wire); d != GroundDuty && !isPower(d) && o.away(w) {
			s.Tasks = append(s.Tasks, o.task(w))
		}
	}
	for _, legend := range o.p.Labels.Legends {
		if place := o.c.Place(legend.Place); place != nil && place.Kind == Station {
			s.Tasks = append(s.Tasks, Task{Text: legend.Place + ": legend " + legend.Text + " beside " + legend.Tag})
		}
	}
	return s
}

func (o *worker) lastLook() Stage {
	return Stage{Title: "Tug, torque and look", Lead: "Before the meter comes out.", Tasks: []Task{
		{Text: "Every wire tugged by hand at both ends: none moves, none comes out"},
		{Text: "Every power terminal tightened with a torque screwdriver to the figure on the device, and marked with a stroke of paint"},
		{Text: "No strand beside a screw, no insulation under one, no bare metal outside"},
		{Text: "Unused openings closed; chips, offcuts and screws out of the box"},
		{Text: "Meter sheet: every reading, the bonding and the insulation", Expect: "all as expected"},
	}}
}
