package circuit

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Figures are what the controls draw, drop and load, each with its reason.
type Figures struct {
	Supplies []SupplyFigures
	FarEnds  []FarEnd
	Knob     KnobFigures
	// Input is the voltage at a drive input through the longest control cable.
	Input  explain.Known[quantity.Voltage]
	Serial SerialFigures
}

// SupplyFigures are those of one control supply, with everything on at once that can be on.
type SupplyFigures struct {
	Load  explain.Known[quantity.Current] // of all that hangs on it
	Gives explain.Known[quantity.Current] // the most that it can give
	Use   explain.Known[quantity.Ratio]   // the one of the other
	// Inrush is what the largest alternating-current coil takes while it pulls in; not needed on direct current.
	Inrush explain.Known[quantity.Current]

	source tracedSource
}

// FarEnd is a coil, lamp or readout at the end of a cable.
type FarEnd struct {
	Lost explain.Known[quantity.Voltage] // along the cable, there and back
	Left explain.Known[quantity.Voltage] // at the device
	Asks explain.Known[quantity.Voltage] // the least that it works on

	device *Device
}

// KnobFigures are those of the speed knob on the drive's reference supply.
type KnobFigures struct {
	Current explain.Known[quantity.Current]
	Power   explain.Known[quantity.Power]
	Loading explain.Known[quantity.Ratio] // most that the input pulls the wiper below its setting
	device  *Device
}

// SerialFigures are those of the two-wire serial line.
type SerialFigures struct {
	Load explain.Known[quantity.Resistance]
}

// workOut traces the finished circuit and works out its figures.
func workOut(r *Result) {
	r.traced = trace(&r.Circuit)
	w := worksheet{r: r, n: r.traced, f: &r.Figures}
	w.poles = w.n.atLarge()
	w.supplies()
	w.farEnds()
	w.knob()
	w.serial()
}

// nets returns the circuit as potentials.
func (r *Result) nets() *nets {
	if r.traced == nil {
		r.traced = trace(&r.Circuit)
	}
	return r.traced
}

// worksheet works the figures out. poles is what the supplies reach with everything on.
type worksheet struct {
	r     *Result
	n     *nets
	f     *Figures
	poles poles
	loads []controlLoadOf
}

// controlLoadOf is something that takes current from a control supply.
type controlLoadOf struct {
	tracedPair
	source  int
	current explain.Known[quantity.Current]
}

// madeOf is a figure of a device, with the device's own reason below it.
func madeOf[V quantity.Value](name string, v V, words string, d *Device) explain.Known[V] {
	return explain.Chosen(name, v, words, explain.Physics("the device as it is chosen or written"), d.Why)
}

// sourceName is what a supply is called among the figures: its tag, and of a drive the terminal as well.
func sourceName(s tracedSource) string {
	if s.device.Kind == Drive {
		return s.device.Tag + " terminal " + s.element.A
	}
	return s.device.Tag
}

// controlSupply reports whether the source is a supply of controls: neither the incoming supply nor the knob's reference.
func (w *worksheet) controlSupply(s tracedSource) bool {
	return s.device.Kind != Incoming && !w.reference(s)
}

// reference reports whether the source is the drive's reference supply for the knob.
func (w *worksheet) reference(s tracedSource) bool {
	return s.device.Kind == Drive && s.element.A == w.r.screwNamed("reference supply")
}

// screwNamed returns the drive's first terminal that is what the words say; "" if it has none.
func (r *Result) screwNamed(does string) string {
	for _, s := range screws(r.Job, r.Side.channels()) {
		if s.Does == does {
			return s.Name
		}
	}
	return ""
}

// volts is the voltage of a supply with its reason.
func (w *worksheet) volts(s tracedSource) explain.Known[quantity.Voltage] {
	if s.device.Kind == Drive && !w.reference(s) {
		return w.r.Side.InputVoltage
	}
	return madeOf("voltage of "+sourceName(s), s.element.Volts, "its rated voltage", s.device)
}

// gives is the most current of a supply with its reason.
func (w *worksheet) gives(s tracedSource) explain.Known[quantity.Current] {
	name := "current that " + sourceName(s) + " can give"
	switch {
	case s.device.Kind == Drive:
		return w.r.Side.SupplyCurrent
	case s.element.Most <= 0:
		return explain.Absent[quantity.Current](name, explain.Say("write the device's current, from its label"))
	}
	if i := slices.IndexFunc(w.r.Job.Devices, func(h job.HandDevice) bool { return string(h.Tag.Value) == s.device.Tag && h.Current.Set }); i >= 0 {
		return explain.Renamed(name, job.Known(w.r.Job.Devices[i].Current))
	}
	return madeOf(name, s.element.Most, "its rated current", s.device)
}

// gather lists what hangs on the control supplies.
func (w *worksheet) gather() {
	once := map[string]explain.Known[quantity.Current]{}
	for i := range w.r.Circuit.Devices {
		d := &w.r.Circuit.Devices[i]
		many := 0
		for j := range d.Elements {
			e := &d.Elements[j]
			p := tracedPair{d, e, w.n.at(d, e.A), w.n.at(d, e.B)}
			if e.Kind == Input {
				p.b = w.n.at(d, e.W)
			}
			switch e.Kind {
			case Coil, LampElement, Resistance, Electronics, Input:
			default:
				continue
			}
			k := w.poles.between(p.a, p.b)
			if k < 0 || e.Ohms <= 0 || !w.controlSupply(w.n.sources[k]) {
				continue
			}
			volts := w.volts(w.n.sources[k])
			l := controlLoadOf{tracedPair: p, source: k}
			if e.Kind == Input {
				key := fmt.Sprint(k)
				if _, there := once[key]; !there {
					once[key] = explain.Derive[quantity.Current](controlLoad, inputCurrent+" from "+sourceName(w.n.sources[k]), volts, w.r.Side.InputOhms)
				}
				l.current = once[key]
			} else {
				many++
				name := d.Tag
				if many > 1 {
					name += " " + e.A
				}
				l.current = explain.Derive[quantity.Current](controlLoad, "current of "+name, volts, madeOf("resistance of "+name, e.Ohms, "by its rated voltage and power, or as written", d))
			}
			w.loads = append(w.loads, l)
		}
	}
}

// supplies fills the figures of each control supply.
func (w *worksheet) supplies() {
	w.gather()
	for k, s := range w.n.sources {
		if !w.controlSupply(s) {
			continue
		}
		name := sourceName(s)
		var sum, inrush quantity.Current
		var parts []explain.Because
		var coil *controlLoadOf
		inputs := 0
		for i := range w.loads {
			l := &w.loads[i]
			if l.source != k || !l.current.OK() {
				continue
			}
			sum += l.current.Value
			if l.element.Kind == Input {
				if inputs++; inputs > 1 {
					continue
				}
			}
			parts = append(parts, l.current)
			if l.element.Kind == Coil && s.element.AC && l.current.Value > inrush {
				inrush, coil = l.current.Value, l
			}
		}
		if len(parts) == 0 {
			continue
		}
		words := "all that hangs on it, everything on at once: " + sumInWords(parts, inputs)
		f := SupplyFigures{source: s, Load: explain.Chosen("load of "+name, sum, words, explain.Physics("currents in parallel add"), parts...), Gives: w.gives(s)}
		f.Use = explain.Derive[quantity.Ratio](controlUse, "use of "+name, f.Load, f.Gives)
		f.Inrush = explain.Needless[quantity.Current]("inrush on "+name, explain.Say("a direct-current coil takes no more while it pulls in"))
		if coil != nil {
			f.Inrush = explain.Derive[quantity.Current](coilInrush, "inrush on "+name, coil.current,
				explain.Assume("inrush factor of the coils on "+name, quantity.Factor(8), coilInrush.Source, explain.Say("a typical figure: enter your data sheet's")))
		}
		w.f.Supplies = append(w.f.Supplies, f)
	}
}

// sumInWords writes the sum of the parts, of which a drive input stands for several.
func sumInWords(parts []explain.Because, inputs int) string {
	var words []string
	for _, p := range parts {
		name := "{" + p.Why().Name + "}"
		if inputs > 1 && strings.HasPrefix(p.Why().Name, inputCurrent) {
			name = fmt.Sprintf("%d × %s", inputs, name)
		}
		words = append(words, name)
	}
	return strings.Join(words, " + ")
}

// inputCurrent is how the name of a drive input's current begins.
const inputCurrent = "current of a drive input"

// cableTo returns the cable that a wire of the element lies in, else the first cable to its place; nil if there is none.
func (w *worksheet) cableTo(d *Device, e *Element) *Cable {
	for _, t := range []string{e.A, e.B} {
		for _, wire := range w.n.wiresAt(d.Pin(t)) {
			if c := w.r.Circuit.Cable(wire.Cable); c != nil {
				return c
			}
		}
	}
	for n := range w.r.Circuit.Cables {
		if c := &w.r.Circuit.Cables[n]; c.To == d.Place || c.From == d.Place {
			return c
		}
	}
	return nil
}

// works is the least voltage that the element works on; false for one that works on any.
func works(e *Element) bool { return e.On > 0 && (e.Kind == Coil || e.Kind == Electronics) }

// farEnds fills the figures of what stands at the end of a cable, and of a drive input through the longest one.
func (w *worksheet) farEnds() {
	together := map[string]quantity.Current{}
	key := func(l controlLoadOf) string { return fmt.Sprint(l.source, l.device.Place) }
	of := map[string][]explain.Because{}
	for _, l := range w.loads {
		if l.element.Kind != Input && l.current.OK() {
			together[key(l)] += l.current.Value
			of[key(l)] = append(of[key(l)], l.current)
		}
	}
	common := map[string]explain.Known[quantity.Current]{}
	for _, l := range w.loads {
		cable := w.cableTo(l.device, l.element)
		if l.element.Kind == Input || cable == nil || station(l.device.Place) == "box" {
			continue
		}
		s := w.n.sources[l.source]
		if _, there := common[key(l)]; !there {
			common[key(l)] = explain.Chosen(fmt.Sprintf("current back from the %s to %s", l.device.Place, sourceName(s)), together[key(l)],
				sumInWords(of[key(l)], 0), explain.Physics("currents in parallel add"), of[key(l)]...)
		}
		perLength := explain.Derive[quantity.LinearResistance](coreResistance, "resistance of a core of "+cable.Tag, cable.Size)
		end := FarEnd{device: l.device}
		end.Lost = explain.Derive[quantity.Voltage](controlDrop, "voltage lost on the way to "+l.device.Tag, perLength, cable.Length, l.current, common[key(l)])
		end.Left = explain.Derive[quantity.Voltage](controlLeft, "voltage at "+l.device.Tag, w.volts(s), end.Lost)
		if works(l.element) {
			end.Asks = madeOf("least voltage of "+l.device.Tag, l.element.On, "85 % of a coil's rated voltage, 80 % of a readout's", l.device)
		} else {
			end.Asks = explain.Needless[quantity.Voltage]("least voltage of "+l.device.Tag, explain.Say("a lamp only grows dimmer"))
		}
		w.f.FarEnds = append(w.f.FarEnds, end)
	}
	w.input()
}

// input fills the voltage at a drive input through the longest control cable.
func (w *worksheet) input() {
	var longest *Cable
	for n := range w.r.Circuit.Cables {
		if c := &w.r.Circuit.Cables[n]; c.To != "motor" && c.From != "motor" && c.Length.OK() && c.Size.OK() && (longest == nil || c.Length.Value > longest.Length.Value) {
			longest = c
		}
	}
	if longest == nil || w.r.Circuit.Drive.Tag == "" {
		return
	}
	perLength := explain.Derive[quantity.LinearResistance](coreResistance, "resistance of a core of "+longest.Tag, longest.Size)
	core := explain.Chosen("resistance of a whole core of "+longest.Tag, perLength.Value.Over(longest.Length.Value),
		"{"+perLength.Why().Name+"} × {"+longest.Length.Why().Name+"}", explain.Physics("resistances in series add"), perLength, longest.Length)
	w.f.Input = explain.Derive[quantity.Voltage](inputThroughCable, "voltage at a drive input through "+longest.Tag, w.r.Side.InputVoltage, w.r.Side.InputOhms, core)
}

// knob fills the figures of the speed knob.
func (w *worksheet) knob() {
	for n := range w.r.Circuit.Devices {
		d := &w.r.Circuit.Devices[n]
		for _, e := range d.Elements {
			if e.Kind != KnobElement || w.f.Knob.device != nil {
				continue
			}
			k := &w.f.Knob
			k.device = d
			ohms := w.knobOhms(d, e)
			k.Current = explain.Derive[quantity.Current](knobCurrent, "current through the speed knob", w.r.Side.Reference, ohms)
			k.Power = explain.Derive[quantity.Power](knobPower, "heat in the speed knob", w.r.Side.Reference, ohms)
			k.Loading = explain.Derive[quantity.Ratio](knobLoading, "error of the speed knob by the drive's input", ohms, w.r.Side.ReferenceInput)
		}
	}
}

// knobOhms is the track of the knob: what the job says of it, else what the circuit has.
func (w *worksheet) knobOhms(d *Device, e Element) explain.Known[quantity.Resistance] {
	for i := range w.r.Job.Devices {
		if h := &w.r.Job.Devices[i]; string(h.Tag.Value) == d.Tag && h.Ohms.Set {
			return explain.Renamed("track of the speed knob", job.Known(h.Ohms))
		}
	}
	if k := w.r.Job.Controls.Knob; k.Set && k.Value == e.Ohms {
		return job.Known(k)
	}
	return madeOf("track of the speed knob", e.Ohms, "as chosen", d)
}

// terminators are the resistors across the drive's serial line.
func (n *nets) terminators() []*Device {
	var found []*Device
	a, b := n.serialLine()
	for _, d := range n.circuit.ByKind(Resistor) {
		x, y := n.at(d, "1"), n.at(d, "2")
		if a >= 0 && b >= 0 && a != b && (x == a && y == b || x == b && y == a) {
			found = append(found, d)
		}
	}
	return found
}

// serialLine returns the potentials of the serial line's two wires, by the readouts on it; -1 where there is none.
func (n *nets) serialLine() (a, b int) {
	for _, d := range n.circuit.ByKind(Readout) {
		if a, b := n.at(d, "A"), n.at(d, "B"); n.wired(a) && n.wired(b) {
			return a, b
		}
	}
	return -1, -1
}

// serial fills the load of the serial line.
func (w *worksheet) serial() {
	readouts := w.r.Circuit.ByKind(Readout)
	if a, _ := w.n.serialLine(); a < 0 {
		return
	}
	var why []explain.Because
	for _, d := range readouts {
		why = append(why, d.Why)
	}
	physics := explain.Physics("count")
	receivers := explain.Chosen("receivers on the serial line", quantity.Count(1+len(readouts)), "the drive and each readout", physics, why...)
	var ends []explain.Because
	terminators := w.n.terminators()
	for _, d := range terminators {
		ends = append(ends, d.Why)
	}
	count := explain.Chosen("terminators on the serial line", quantity.Count(len(terminators)), "resistors across the line", physics, ends...)
	w.f.Serial.Load = explain.Derive[quantity.Resistance](serialLoad, "load of the serial line", receivers,
		explain.Assume("resistance of a receiver on the serial line", quantity.Resistance(12000), serialLoad.Source, explain.Say("one unit load each; newer parts load less")), count,
		explain.Constant("terminator of a serial line", quantity.Resistance(120), serialLoad.Source))
}
