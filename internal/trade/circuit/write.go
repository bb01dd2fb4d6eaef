package circuit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Write writes the circuit as a job file that stands alone: the answers that were chosen, the drive's control side, and every
// device, wire and cable, one to a line. Read again, it gives the same circuit.
func (r Result) Write() string {
	w := &writer{result: r, set: r.Brief.Set}
	w.head()
	w.answers("machine", "machine.", r.Choices)
	w.answers("supply", "supply.", nil)
	w.answers("controls", "controls.", r.Choices)
	w.answers("drive control", "drive control.", r.Side)
	w.stations()
	w.screws()
	w.devices()
	w.cables()
	w.wires()
	return w.String()
}

// writer writes lines of a job file.
type writer struct {
	strings.Builder
	result Result
	set    explain.RuleSet
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.Builder, format+"\n", args...) }

func (w *writer) head() {
	set := w.set
	if set == "" {
		set = explain.US
	}
	w.line("# The circuit, written out device by device. Change what you like: nothing of it is made by the program any more.")
	w.line("drivewright: 1")
	w.line("rules: %s", set)
}

// answers writes a section from the values that were written or chosen, by their paths.
func (w *writer) answers(section, prefix string, of any) {
	var lines []string
	add := func(key, value string) { lines = append(lines, fmt.Sprintf("  %s: %s", key, value)) }
	switch section {
	case "controls":
		add("circuit", "by hand only")
	case "supply":
		s := &w.result.Job.Supply
		if s.Voltage.Set {
			add("voltage", exact(s.Voltage.Value))
		}
		if s.Phases.Set {
			add("phases", exact(s.Phases.Value))
		}
		if s.System.Set {
			add("system", plain(string(s.System.Value)))
		}
	}
	for _, k := range knownIn(of) {
		why := k.Why()
		if key, ok := strings.CutPrefix(why.Path, prefix); ok && why.There() {
			add(key, plain(exact(why.Value)))
		}
	}
	if lines != nil {
		w.line("%s:\n%s", section, strings.Join(lines, "\n"))
	}
}

// knownIn lists the values of a struct of choices, in its order.
func knownIn(of any) []explain.Because {
	switch c := of.(type) {
	case Choices:
		return []explain.Because{c.StartStop, c.HeldBy, c.StopContact, c.EmergencyStop, c.Reset, c.Guard, c.FootBrake, c.Jog, c.Reverse, c.Speed, c.Steps, c.Knob,
			c.RunLamp, c.PowerLamp, c.LampPower, c.Readout, c.ReadoutPower, c.Supply, c.Voltage, c.SupplyCurrent, c.ZeroBonded, c.Wire, c.CableWire, c.CableRating,
			c.Screen, c.Spares, c.SpareEnds, c.MotorSwitch, c.DoorBonded, c.PlateBonded, c.MotorBonded, c.FrameBonded}
	case DriveSide:
		return []explain.Because{c.StartLogic, c.PowerUp, c.AfterReset, c.Logic, c.InputVoltage, c.InputOhms, c.On, c.Off, c.SupplyCurrent, c.Reference,
			c.ReferenceMost, c.ReferenceInput, c.ReferenceLost, c.KnobLeast, c.KnobMost, c.SafeOff, c.RelayCurrent, c.RelayVoltage, c.StopMode}
	}
	return nil
}

// stations writes the places that aren't a station by name already.
func (w *writer) stations() {
	title := "stations:"
	for _, p := range w.result.Circuit.Places {
		if p.Kind == Door && p.Name != "door" {
			w.line("%s\n  - {name: %s, kind: door of the box}", title, plain(p.Name))
			title = ""
		}
	}
}

func (w *writer) screws() {
	w.line("drive terminals:")
	for _, s := range screws(w.result.Job, w.result.Side.channels()) {
		if s.Does == "" {
			s.Does = "nothing"
		}
		w.line("  - {name: %s, does: %s}", plain(s.Name), plain(s.Does))
	}
}

// writtenItem is one item of a list in the making, all on one line.
type writtenItem []string

func (g *writtenItem) add(key, value string) {
	if value != "" {
		*g = append(*g, key+": "+plain(value))
	}
}

func (g *writtenItem) value(key string, v quantity.Value) { *g = append(*g, key+": "+plain(exact(v))) }

func (g writtenItem) String() string { return "  - {" + strings.Join(g, ", ") + "}" }

func (w *writer) devices() {
	w.line("devices:")
	for n := range w.result.Circuit.Devices {
		w.line("%s", describe(&w.result.Circuit.Devices[n]))
	}
}

// describe writes a device with what NewDevice needs to make it again.
func describe(d *Device) writtenItem {
	var g writtenItem
	g.add("tag", d.Tag)
	g.add("kind", string(d.Kind))
	if d.Role != NoRole {
		g.add("does", string(d.Role))
	}
	if d.Kind == Drive {
		return g
	}
	if d.Words != deviceWords(d.Kind, d.Role, d.Place) {
		g.add("name", d.Words)
	}
	if d.Place != "box" {
		g.add("at", d.Place)
	}
	switch d.Kind {
	case TerminalBlock, GroundBar, Incoming:
		g.add("terminals", strings.Join(d.Terminals, ", "))
	case Selector:
		g.add("positions", strings.Join(d.Positions, ", "))
	case PushButton, EmergencyStop, PositionSwitch, FootSwitch, Lamp, Relay, DelayRelay, Contactor, OverloadRelay, Knob, PowerSupply, Transformer, Fuse, Breaker,
		MainSwitch, Drive, MotorKind, Readout, Resistor, Diode, Load:
	}
	g.add("contacts", d.contactsText())
	ratings(d, &g)
	return g
}

// ratings writes the electrical figures of a device.
func ratings(d *Device, g *writtenItem) {
	kindOf := func(ac bool) { g.add("current kind", kindOfCurrent(ac)) }
	for n, e := range d.Elements {
		switch {
		case e.Kind == Coil:
			g.value("voltage", e.Volts)
			kindOf(e.AC)
			powerOrOhms(g, e)
			if e.Delay > 0 {
				g.value("delay", e.Delay)
			}
		case e.Kind == LampElement:
			g.value("voltage", e.Volts)
			kindOf(e.AC)
			powerOrOhms(g, e)
		case e.Kind == KnobElement, e.Kind == Resistance && d.Kind == Resistor:
			g.value("resistance", e.Ohms)
		case e.Kind == Winding && d.Kind == MotorKind && n == 0 && e.Ohms > 0:
			g.value("resistance", e.Ohms*2/3)
		case e.Kind == Winding && d.Kind == Transformer && e.Ohms > 0:
			g.value("resistance", e.Ohms)
		case e.Kind == Source && d.Kind == Incoming && n == 0:
			g.value("voltage", incomingVolts(d))
			kindOf(e.AC)
			if e.Most > 0 {
				g.value("current", e.Most)
			}
		case e.Kind == Source && (d.Kind == PowerSupply || d.Kind == Transformer):
			g.value("voltage", e.Volts)
			if e.Most > 0 {
				g.value("current", e.Most)
			}
		case e.Kind == Electronics && d.Kind == Readout, e.Kind == Resistance && d.Kind == Load:
			g.value("voltage", e.Volts)
			powerOrOhms(g, e)
		case e.Kind == Contact && e.Most > 0 && n == 0 && (d.Kind == Fuse || d.Kind == Breaker):
			g.value("current", e.Most)
		}
	}
}

// incomingVolts is the voltage between the two lines of a supply, which with a neutral has two halves.
func incomingVolts(d *Device) quantity.Voltage {
	var halves int
	for _, e := range d.Elements {
		if e.Kind == Source && (e.A == "N" || e.B == "N") {
			halves++
		}
	}
	if halves == 2 {
		return d.Elements[0].Volts * 2
	}
	return d.Elements[0].Volts
}

// powerOrOhms writes what an element takes in watts where that is a round figure, else its resistance.
func powerOrOhms(g *writtenItem, e Element) {
	if e.Ohms <= 0 {
		return
	}
	watts := float64(e.Volts) * float64(e.Volts) / float64(e.Ohms)
	if rounded := math.Round(watts*1000) / 1000; rounded > 0 && float64(e.Volts)*float64(e.Volts)/rounded == float64(e.Ohms) {
		g.value("power", quantity.Power(rounded))
		return
	}
	g.value("resistance", e.Ohms)
}

func (w *writer) cables() {
	if len(w.result.Circuit.Cables) == 0 {
		return
	}
	w.line("cables:")
	for _, c := range w.result.Circuit.Cables {
		var g writtenItem
		g.add("tag", c.Tag)
		g.add("kind", map[bool]string{true: "twisted pairs", false: "cores"}[c.Pairs])
		g.add("from", c.From)
		g.add("to", c.To)
		counted := 0
		for _, core := range c.Cores {
			if _, err := strconv.Atoi(core.Name); err == nil {
				counted++
			}
		}
		if counted > 0 {
			g.value("cores", quantity.Count(counted))
		}
		if c.Size.OK() {
			g.value("conductor", c.Size.Value)
		}
		if c.Rating.OK() {
			g.value("voltage rating", c.Rating.Value)
		}
		g.add("screen", c.Screen.written())
		if c.Length.OK() {
			g.value("length", c.Length.Value)
		}
		g.add("moves", map[bool]string{true: "yes", false: "no"}[c.Moves])
		w.line("%s", g)
	}
}

// written says where the screen is joined, in the job file's words.
func (s Screen) written() string {
	switch {
	case !s.Fitted:
		return "none"
	case s.AtBox && s.AtFarEnd:
		return "at both ends"
	case s.AtBox:
		return "at the box"
	case s.AtFarEnd:
		return "at the far end"
	}
	return "nowhere"
}

func (w *writer) wires() {
	w.line("wires:")
	for _, k := range w.result.Circuit.Wires {
		var g writtenItem
		g.add("name", k.Name)
		g.add("from", k.From.String())
		g.add("to", k.To.String())
		if k.Size.OK() {
			g.value("conductor", k.Size.Value)
		}
		g.add("colour", k.Colour)
		g.add("cable", k.Cable)
		g.add("core", k.Core)
		if k.Length.OK() {
			g.value("length", k.Length.Value)
		}
		w.line("%s", g)
	}
}

// plain writes words as the job file takes them, in quotation marks where a mark of the file's own is among them.
func plain(s string) string {
	if strings.ContainsAny(s, ":,{}[]#\"&*!|>%@`") || s != strings.TrimSpace(s) || s == "" || strings.HasPrefix(s, "- ") || s == "-" || strings.HasPrefix(s, "'") {
		return strconv.Quote(s)
	}
	return s
}

// same reports whether two values are one but for the last digits of binary arithmetic: 18 ft is 16 ft and 24 in.
func same(a, b quantity.Value) bool {
	x, isNumber := quantity.SI(a)
	y, _ := quantity.SI(b)
	return a == b || isNumber && math.Abs(x-y) <= 1e-12*math.Abs(y)
}

// writtenDigits is how many digits a computed figure is written with: a rating or a coil's resistance is known no closer.
const writtenDigits = 4

// exact writes a value so that it reads back as the same: as the sheet prints it where that is exact. Else a length stands with
// all its digits, because what is cut goes by it, and a computed rating or resistance with four.
func exact(v quantity.Value) string {
	if t, ok := v.(quantity.Text); ok {
		return string(t)
	}
	for _, s := range []quantity.System{quantity.InchUnits, quantity.MetricUnits} {
		text := v.Show(s)
		if back, err := quantity.Parse(v.Kind(), text); err == nil && same(back, v) {
			return text
		}
	}
	si, _ := quantity.SI(v)
	text := inUnit(si, v.Kind())
	switch v.Kind() {
	case quantity.KindCurrent, quantity.KindPower, quantity.KindResistance:
		rounded, _ := strconv.ParseFloat(strconv.FormatFloat(si, 'g', writtenDigits, 64), 64)
		short := inUnit(rounded, v.Kind())
		if back, err := quantity.Parse(v.Kind(), short); err == nil && short != text {
			return exact(back)
		}
	}
	return text
}

// inUnit writes a figure with all its digits, in the unit of its kind.
func inUnit(si float64, kind quantity.Kind) string {
	return strings.TrimSpace(strconv.FormatFloat(si, 'f', -1, 64) + " " + writtenUnits[kind])
}

// writtenUnits are what the figures of a kind are written in where they need all their digits.
var writtenUnits = map[quantity.Kind]string{quantity.KindVoltage: "V", quantity.KindCurrent: "A", quantity.KindPower: "W", quantity.KindLength: "m", quantity.KindResistance: "ohm",
	quantity.KindDuration: "s"}
