package circuit

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// byHand adds what the user wrote by hand to the circuit, and changes what has the tag or name of something there.
func byHand(r *Result) {
	leaveOut(r)
	if r.Job.Controls.Circuit.Value == "by hand only" && len(r.Job.Devices) == 0 {
		r.mistake("circuit-by-hand-is-empty", r.Job.Controls.Circuit, "no device is written, so there is no circuit", "write devices and wires (drivewright circuit shows those of a job in that form), or have the circuit made from the functions")
	}
	seen := map[string]bool{}
	for n := range r.Job.Devices {
		h := &r.Job.Devices[n]
		tag := string(h.Tag.Value)
		if seen[tag] && h.Tag.Set {
			continue // a rule tells it; the first one counts until then
		}
		seen[tag] = true
		handDevice(r, h)
		if h.Tag.Set && r.Circuit.Device(tag) == nil {
			r.unread = append(r.unread, tag)
		}
	}
	for n := range r.Job.Cables {
		handCable(r, &r.Job.Cables[n])
	}
	for n := range r.Job.Wires {
		handWire(r, &r.Job.Wires[n], n)
	}
	fillPlaces(r.Job, &r.Circuit)
}

func (r *Result) mistake(rule string, about explain.Because, message, remedy string) {
	r.Mistakes = append(r.Mistakes, Mistake{rule, about, explain.Say(message), explain.Say(remedy)})
}

// leaveOut takes away what the user leaves out, and the wires of a device with it.
func leaveOut(r *Result) {
	for name := range strings.SplitSeq(string(r.Job.Controls.Without.Value), ",") {
		if name = strings.TrimSpace(name); name == "" {
			continue
		}
		c := &r.Circuit
		before := len(c.Devices) + len(c.Wires) + len(c.Cables)
		c.Devices = slices.DeleteFunc(c.Devices, func(d Device) bool { return d.Tag == name })
		c.Wires = slices.DeleteFunc(c.Wires, func(w Wire) bool {
			return w.Name == name || w.From.Device == name || w.To.Device == name || w.Cable == name
		})
		c.Cables = slices.DeleteFunc(c.Cables, func(w Cable) bool { return w.Tag == name })
		if before == len(c.Devices)+len(c.Wires)+len(c.Cables) {
			r.mistake("left-out-is-not-there", r.Job.Controls.Without, fmt.Sprintf("there is no %q to leave out", name), explain.DidYouMean(explain.Near(name, r.names())))
		}
	}
}

// names are all tags and wire names of the circuit.
func (r *Result) names() []string {
	var list []string
	for _, d := range r.Circuit.Devices {
		list = append(list, d.Tag)
	}
	for _, w := range r.Circuit.Wires {
		list = append(list, w.Name)
	}
	return list
}

// handDevice adds or changes one device.
func handDevice(r *Result, h *job.HandDevice) {
	if !h.Tag.Set {
		if !h.Tag.Wrong {
			at := explain.Because(h.Tag)
			if h.Sort.Set {
				at = h.Sort
			}
			r.mistake("device-without-tag", at, "a device has no tag", "give it letters and a number, such as: tag: S1")
		}
		return
	}
	tag := string(h.Tag.Value)
	old := r.Circuit.Device(tag)
	kind := Kind(h.Sort.Value)
	if !h.Sort.Set {
		if old == nil {
			if !h.Sort.Wrong {
				r.mistake("device-without-kind", h.Tag, fmt.Sprintf("device %s has no kind, and the program made none of this tag", tag), "say what it is, such as: kind: push button")
			}
			return
		}
		kind = old.Kind
	}
	why := explain.Chosen("device "+tag, quantity.Text(kind), "as written by hand", explain.Physics("job file"), givenOf(h.Tag, tag), givenOf(h.Sort, tag), givenOf(h.Does, tag), givenOf(h.Contacts, tag))
	if kind == Drive {
		d, logic := driveDevice(tag, r.Side, screws(r.Job, r.Side.channels()), supplyVolts(r), supplyLines(r.Job))
		d.Why = why
		logic.SpeedFrom = speedFrom(r.Job)
		r.Circuit.Drive = logic
		put(r, d)
		return
	}
	spec := Spec{Tag: tag, Words: string(h.Words.Value), Role: Role(h.Does.Value), Place: string(h.Place.Value), Contacts: string(h.Contacts.Value), Positions: listOf(h.Positions.Value),
		Terminals: listOf(h.Terminals.Value), Volts: h.Voltage.Value, AC: h.Kind.Value == "AC", Power: h.Power.Value, Most: h.Current.Value, Ohms: h.Ohms.Value, Delay: h.Delay.Value}
	if old != nil && old.Kind == kind {
		inherit(&spec, h, old)
	}
	if spec.Place == "" {
		spec.Place = "box"
		if kind == MotorKind {
			spec.Place = "motor"
		}
	}
	if kind == Incoming {
		spec.AC = h.Kind.Value != "DC"
		if spec.Volts == 0 {
			spec.Volts = supplyVolts(r)
		}
	}
	d, err := NewDevice(kind, spec)
	if err != nil {
		at := explain.Because(h.Tag)
		for _, g := range []explain.Because{h.Contacts, h.Terminals, h.Positions} {
			if g.Why().There() {
				at = g
				break
			}
		}
		r.mistake("device-unreadable", at, fmt.Sprintf("device %s: %v", tag, err), "see drivewright rules device-unreadable for one that reads")
		return
	}
	if d.Role == "" {
		d.Role = NoRole
	}
	d.Why = why
	put(r, d)
}

// inherit takes over from the device that the program made whatever isn't written.
func inherit(s *Spec, h *job.HandDevice, old *Device) {
	if !h.Does.Set {
		s.Role = old.Role
	}
	if !h.Place.Set {
		s.Place = old.Place
	}
	if !h.Words.Set && old.Words != deviceWords(old.Kind, old.Role, old.Place) {
		s.Words = old.Words
	}
	if !h.Positions.Set {
		s.Positions = old.Positions
	}
	if !h.Terminals.Set {
		s.Terminals = old.Terminals
	}
	if !h.Contacts.Set {
		s.Contacts = old.contactsText()
	}
	for _, e := range old.Elements {
		if e.Kind == Contact || e.Kind == Link {
			if s.Most == 0 {
				s.Most = e.Most
			}
			continue
		}
		if s.Volts == 0 {
			s.Volts, s.AC = e.Volts, e.AC
		}
		if s.Ohms == 0 && s.Power == 0 && !h.Voltage.Set {
			s.Ohms = e.Ohms
		}
		if s.Most == 0 {
			s.Most = e.Most
		}
		if s.Delay == 0 {
			s.Delay = e.Delay
		}
	}
}

// contactsText writes the device's contacts as the job file does.
func (d Device) contactsText() string {
	var parts []string
	for _, e := range d.Elements {
		if e.Kind == Link && d.Kind == TerminalBlock {
			parts = append(parts, e.A+"-"+e.B+" joined")
		}
		if e.Kind != Contact {
			continue
		}
		switch {
		case e.In == 1:
			parts = append(parts, e.A+"-"+e.B+" closed")
		case e.In == mask(len(d.Positions))&^1:
			parts = append(parts, e.A+"-"+e.B+" open")
		default:
			var when []string
			for n, p := range d.Positions {
				if e.In>>n&1 == 1 {
					when = append(when, p)
				}
			}
			parts = append(parts, e.A+"-"+e.B+" when "+strings.Join(when, " or "))
		}
	}
	return strings.Join(parts, ", ")
}

func put(r *Result, d Device) {
	if old := r.Circuit.Device(d.Tag); old != nil {
		*old = d
		return
	}
	r.Circuit.Devices = append(r.Circuit.Devices, d)
}

func listOf(t quantity.Text) []string {
	var list []string
	for part := range strings.SplitSeq(string(t), ",") {
		if part = strings.TrimSpace(part); part != "" {
			list = append(list, part)
		}
	}
	return list
}

// supplyLines is how many conductors of the supply the drive takes.
func supplyLines(j *job.Job) int {
	if j.Supply.Phases.Value == 3 {
		return 3
	}
	return 2
}

func supplyVolts(r *Result) quantity.Voltage {
	if r.Brief.Supply.OK() {
		return r.Brief.Supply.Value
	}
	return 240
}

func speedFrom(j *job.Job) string {
	if j.Controls.Speed.Set {
		return string(j.Controls.Speed.Value)
	}
	return "knob"
}

// handCable adds or changes one cable.
func handCable(r *Result, h *job.HandCable) {
	if !h.Tag.Set {
		if !h.Tag.Wrong {
			r.mistake("cable-without-tag", h.Tag, "a cable has no tag", "give it letters and a number, such as: tag: W1")
		}
		return
	}
	tag := string(h.Tag.Value)
	c := r.Circuit.Cable(tag)
	if c == nil {
		r.Circuit.Cables = append(r.Circuit.Cables, Cable{Tag: tag, From: "box", Size: job.Known(givenOf(h.Size, tag)), Rating: job.Known(givenOf(h.Rating, tag)), Length: job.Known(givenOf(h.Length, tag))})
		c = &r.Circuit.Cables[len(r.Circuit.Cables)-1]
	}
	c.Why = explain.Chosen("cable "+tag, quantity.Text("cable"), "as written by hand", explain.Physics("job file"), givenOf(h.Tag, tag), givenOf(h.Sort, tag), givenOf(h.Screen, tag))
	if h.From.Set {
		c.From = string(h.From.Value)
	}
	if h.To.Set {
		c.To = string(h.To.Value)
	}
	if h.Size.Set {
		c.Size = job.Known(givenOf(h.Size, tag))
	}
	if h.Rating.Set {
		c.Rating = job.Known(givenOf(h.Rating, tag))
	}
	if h.Length.Set {
		c.Length = job.Known(givenOf(h.Length, tag))
	}
	if h.Moves.Set {
		c.Moves = h.Moves.Value == "yes"
	}
	if h.Screen.Set {
		c.Screen = Screen{Fitted: h.Screen.Value != "none", AtBox: h.Screen.Value == "at the box" || h.Screen.Value == "at both ends",
			AtFarEnd: h.Screen.Value == "at the far end" || h.Screen.Value == "at both ends"}
	}
	if h.Sort.Set {
		c.Pairs = h.Sort.Value == "twisted pairs"
	}
	if h.Cores.Set {
		for n := len(c.Cores); n < int(h.Cores.Value); n++ {
			core := Core{Name: fmt.Sprint(n + 1)}
			if c.Pairs {
				core.Pair = n/2 + 1
			}
			c.Cores = append(c.Cores, core)
		}
	}
}

// handWire adds or changes one wire.
func handWire(r *Result, h *job.HandWire, n int) {
	name := string(h.Name.Value)
	if !h.Name.Set {
		name = fmt.Sprintf("w%d", n+1)
	}
	w := r.Circuit.Wire(name)
	fresh := w == nil
	if fresh {
		if !h.From.Set || !h.To.Set {
			r.mistake("wire-to-nowhere", h.Name, fmt.Sprintf("wire %s is new but doesn't say from where to where", name), "write from: and to:, each a device and a terminal, such as S1:12")
			return
		}
		r.Circuit.Wires = append(r.Circuit.Wires, Wire{Name: name, Number: strings.TrimRight(name, "abcdefghijklmnopqrstuvwxyz"), Size: job.Known(givenOf(h.Size, name)), Length: job.Known(givenOf(h.Length, name))})
		w = &r.Circuit.Wires[len(r.Circuit.Wires)-1]
		if w.Number == "" {
			w.Number = name
		}
	}
	w.Why = explain.Chosen("wire "+name, quantity.Text("wire"), "as written by hand", explain.Physics("job file"), givenOf(h.Name, name), givenOf(h.From, name), givenOf(h.To, name))
	ends := true
	for _, end := range []struct {
		given job.Given[quantity.Text]
		pin   *Pin
	}{{h.From, &w.From}, {h.To, &w.To}} {
		if !end.given.Set {
			continue
		}
		pin, problem, remedy := r.pin(string(end.given.Value))
		if slices.Contains(r.unread, pin.Device) {
			ends = false // that the device can't be read has been said
			continue
		}
		if problem != "" {
			r.mistake("wire-to-nowhere", end.given, fmt.Sprintf("wire %s: %s", name, problem), remedy)
			ends = false
			continue
		}
		*end.pin = pin
	}
	if !ends && fresh {
		r.Circuit.Wires = r.Circuit.Wires[:len(r.Circuit.Wires)-1]
		return
	}
	if h.Size.Set {
		w.Size = job.Known(givenOf(h.Size, name))
	}
	if h.Length.Set {
		w.Length = job.Known(givenOf(h.Length, name))
	}
	if h.Colour.Set {
		w.Colour = string(h.Colour.Value)
	}
	if h.Cable.Set {
		r.intoCable(w, h)
	}
}

// intoCable makes the wire a core of a cable.
func (r *Result) intoCable(w *Wire, h *job.HandWire) {
	tag := string(h.Cable.Value)
	c := r.Circuit.Cable(tag)
	if c == nil {
		var tags []string
		for _, other := range r.Circuit.Cables {
			tags = append(tags, other.Tag)
		}
		r.mistake("core-of-no-cable", h.Cable, fmt.Sprintf("wire %s lies in cable %s, which there is not", w.Name, tag), explain.DidYouMean(explain.Near(tag, tags)))
		return
	}
	for n := range c.Cores {
		if c.Cores[n].Wire == w.Name {
			c.Cores[n].Wire = ""
		}
	}
	w.Cable = tag
	core := string(h.Core.Value)
	for n := range c.Cores {
		if h.Core.Set && c.Cores[n].Name == core || !h.Core.Set && c.Cores[n].Wire == "" {
			if other := c.Cores[n].Wire; other != "" {
				r.mistake("core-used-twice", h.Core, fmt.Sprintf("core %s of cable %s carries wire %s already", core, tag, other), "give each wire a core of its own")
				return
			}
			c.Cores[n].Wire, w.Core = w.Name, c.Cores[n].Name
			return
		}
	}
	if !h.Core.Set {
		core = fmt.Sprint(len(c.Cores) + 1)
	}
	c.Cores = append(c.Cores, Core{Name: core, Wire: w.Name})
	w.Core = core
}

// pin reads a pin and makes sure that it is there. Otherwise it says what is wrong and what to do.
func (r *Result) pin(text string) (p Pin, problem, remedy string) {
	p, ok := ParsePin(text)
	if !ok {
		return p, fmt.Sprintf("%q is no terminal of a device", text), "write the device's tag, a colon and the terminal: S1:12"
	}
	d := r.Circuit.Device(p.Device)
	if d == nil {
		var tags []string
		for _, other := range r.Circuit.Devices {
			tags = append(tags, other.Tag)
		}
		return p, fmt.Sprintf("there is no device %s", p.Device), explain.DidYouMean(explain.Near(p.Device, tags))
	}
	if !slices.Contains(d.Terminals, p.Terminal) {
		return p, fmt.Sprintf("device %s has no terminal %s", p.Device, p.Terminal), "it has: " + strings.Join(d.Terminals, ", ")
	}
	return p, "", ""
}

// fillPlaces adds a place for each that a device or a cable names and nobody described.
func fillPlaces(j *job.Job, c *Circuit) {
	add := func(name string, kind PlaceKind) {
		if name != "" && c.Place(name) == nil {
			c.Places = append(c.Places, Place{Name: name, Kind: kind})
		}
	}
	for _, s := range j.Stations {
		if s.Where.Value == "door of the box" {
			add(string(s.Name.Value), Door)
		}
	}
	for _, d := range c.Devices {
		kind := Station
		if d.Kind == Load || d.Kind == Incoming || d.Place == "casting" {
			kind = Outside
		}
		add(d.Place, kind)
	}
	for _, w := range c.Cables {
		add(w.From, Station)
		add(w.To, Station)
	}
}
