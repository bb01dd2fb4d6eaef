package plan

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/circuit"
)

// sort says which typical body stands in for a device: the kind of the catalogue, the size that it must serve and its poles.
type sort struct {
	kind  string
	size  float64
	poles int
}

// bodies are the parts that go into the enclosure, on its plate, its door or its walls: the circuit's devices, what the Power stage adds, and
// the parts of the job file, which replace what is typical.
func bodies(p *Plan) []box.Body {
	c := &p.Circuit.Circuit
	var list []box.Body
	for n := range c.Devices {
		d := &c.Devices[n]
		place := c.Place(d.Place)
		if place == nil || place.Kind != circuit.Box && place.Kind != circuit.Door {
			continue
		}
		s, ok := sortOf(p, d)
		if !ok {
			continue
		}
		b, ok := typicalBody(d.Tag, d.Words, s)
		if !ok {
			continue
		}
		if place.Kind == circuit.Door {
			b.On, b.OnRail = box.Door, false
			if d.Kind == circuit.GroundBar {
				b.Fixing.Hole = explain.Constant("hole of "+d.Tag, 6.6*quantity.Millimetre, explain.Source{Work: "ISO 273", Edition: "1979", Place: "M6, normal fit", Trust: explain.FromMemory})
				b.Fixing.Screw = ""
			}
		}
		b.Power = carriesPower(c, d)
		b.Strip = d.Kind == circuit.TerminalBlock
		if b.On == box.Plate {
			b.Bend = bendOf(c, d)
			b.LeastBend = b.Bend
		}
		if d.Kind == circuit.MainSwitch {
			handle(p, &b)
		}
		list = append(list, b)
	}
	list = append(list, beside(p)...)
	return byParts(p.Job, list)
}

// beside are the parts that the circuit doesn't draw: a separate line filter, a choke, fan and outlet.
func beside(p *Plan) []box.Body {
	var list []box.Body
	add := func(tag, name string, s sort) {
		if b, ok := typicalBody(tag, name, s); ok {
			list = append(list, b)
		}
	}
	if f := p.Power.Leakage.Filter; f.OK() && p.Job.Drive.Filter.Value == "separate" { // one that is built in, or that nobody has, takes no room of its own
		add("FL1", "line filter", sort{"line filter", float64(f.Value), 1})
	}
	if w := string(p.Job.Drive.Choke.Value); strings.HasSuffix(w, "line reactor") {
		add("L1", "line choke", sort{"line choke", float64(p.Power.Drive.Input.Value), 1})
	}
	for n := range list {
		list[n].Power = true
	}
	if string(p.Job.Control.Cooling.Value) == "filtered fan" {
		add("FAN1", "fan with filter", sort{"filter fan", 0, 1})
		add("VENT1", "outlet with filter", sort{"outlet filter", 0, 1})
	}
	return list
}

var amperesAsked = regexp.MustCompile(`([0-9.]+) A\b`)
var voltsAsked = regexp.MustCompile(`([0-9.]+) V\b`)

// asked reads a figure of a device's rating, the words that it is bought by; otherwise when there is none.
func asked(rating string, which *regexp.Regexp, otherwise float64) float64 {
	if m := which.FindStringSubmatch(rating); m != nil {
		if n, err := strconv.ParseFloat(m[1], 64); err == nil {
			return n
		}
	}
	return otherwise
}

// sortOf says which typical body a device has; false for what needs no place of its own, as a diode across a coil.
func sortOf(p *Plan, d *circuit.Device) (sort, bool) {
	amperes := asked(d.Rating, amperesAsked, 0)
	switch d.Kind {
	case circuit.Drive:
		power := float64(p.Job.Motor.Power.Value)
		return sort{"drive", power, 1}, true
	case circuit.MainSwitch:
		if amperes == 0 {
			amperes = float64(p.Power.Disconnect.Size.Value)
		}
		return sort{"main switch", amperes, 1}, true
	case circuit.Fuse, circuit.Breaker:
		return sort{string(d.Kind), amperes, max(len(d.Terminals)/2, 1)}, true
	case circuit.Contactor:
		return sort{"contactor", amperes, 1}, true
	case circuit.OverloadRelay:
		return sort{"overload relay", 0, 1}, true
	case circuit.PowerSupply:
		return sort{"power supply", max(amperes, 1), 1}, true
	case circuit.Transformer:
		return sort{"transformer", amperes * asked(d.Rating, voltsAsked, 0), 1}, true
	case circuit.TerminalBlock:
		return sort{"terminal block", float64(thickest(&p.Circuit.Circuit, d.Tag).Area()) * 1e6, len(d.Terminals)}, true
	case circuit.GroundBar:
		if len(d.Terminals) < 2 {
			return sort{"ground stud", 0, 1}, true
		}
		return sort{"ground bar", 0, len(d.Terminals)}, true
	case circuit.Relay, circuit.DelayRelay, circuit.PushButton, circuit.EmergencyStop, circuit.Lamp, circuit.Knob, circuit.Readout:
		return sort{string(d.Kind), 0, 1}, true
	case circuit.Selector:
		return sort{"selector switch", 0, 1}, true
	case circuit.PositionSwitch, circuit.FootSwitch, circuit.MotorKind, circuit.Load, circuit.Incoming, circuit.Resistor, circuit.Diode:
	}
	return sort{}, false
}

// thickest is the largest conductor that ends on a device.
func thickest(c *circuit.Circuit, tag string) quantity.Conductor {
	var most quantity.Conductor
	for n := range c.Wires {
		w := &c.Wires[n]
		if (w.From.Device == tag || w.To.Device == tag) && w.Size.OK() && w.Size.Value.Known() && (!most.Known() || w.Size.Value.Area() > most.Area()) {
			most = w.Size.Value
		}
	}
	return most
}

// carriesPower reports whether supply or motor current goes through the device, and nothing of the low-voltage controls.
func carriesPower(c *circuit.Circuit, d *circuit.Device) bool {
	if d.Kind == circuit.PowerSupply || d.Kind == circuit.GroundBar {
		return false
	}
	for n := range c.Wires {
		w := &c.Wires[n]
		if w.From.Device != d.Tag && w.To.Device != d.Tag {
			continue
		}
		switch w.Duty {
		case circuit.SupplyDuty, circuit.MotorDuty, circuit.ForeignDuty:
			return true
		case circuit.ControlAC, circuit.ControlDC, circuit.CommonAC, circuit.CommonDC, circuit.ReferenceDuty, circuit.DataDuty, circuit.GroundDuty, circuit.ScreenDuty, circuit.DriveSafeDuty:
		}
	}
	return false
}

// bendOf is the room for the thickest wire of a device to turn in before its terminals.
func bendOf(c *circuit.Circuit, d *circuit.Device) explain.Known[quantity.Length] {
	name := "wire room at " + d.Tag
	if d.Kind == circuit.GroundBar {
		return explain.Constant[quantity.Length](name, 15*quantity.Millimetre, explain.Practice("panel building: room for a screwdriver and the bend"))
	}
	size := thickest(c, d.Tag)
	if !size.Known() || size.Area() < quantity.AWG(14).Area()*0.99 {
		return explain.Constant[quantity.Length](name, 20*quantity.Millimetre, explain.Practice("panel building: control wires turn in 20 mm"))
	}
	space, source := catalogue.BendingSpace(size)
	return explain.Constant(name, space, source)
}

// handle says where the main switch is turned.
func handle(p *Plan, b *box.Body) {
	switch string(p.Job.Enclosure.Switch.Value) {
	case "", "through the door":
		b.Shaft = true
		b.Handle = explain.Part("handle of "+b.Tag, 65*quantity.Millimetre, "door handle of a main switch")
	}
}

var onFace = map[string]box.Face{"plate": box.Plate, "rail": box.Plate, "door": box.Door, "left wall": box.LeftWall, "right wall": box.RightWall, "top": box.TopWall, "bottom": box.BottomWall, "outside": box.Outside, "outside the box": box.Outside}

// typicalBody makes a body of the catalogue's.
func typicalBody(tag, name string, s sort) (box.Body, bool) {
	c, ok := catalogue.BodyOf(s.kind, s.size)
	if !ok {
		return box.Body{}, false
	}
	part := c.Source.Place
	length := func(what string, v quantity.Length) explain.Known[quantity.Length] {
		return explain.Part(what+" "+tag, v, part)
	}
	b := box.Body{Tag: tag, Name: name, On: onFace[c.On], OnRail: c.On == "rail", MayTurn: c.Turns}
	b.Width = length("width of", c.Width+quantity.Length(max(s.poles-1, 0))*c.Pole)
	b.Height, b.Depth = length("height of", c.Height), length("depth of", c.Depth)
	b.Sides, b.Above, b.Below, b.Front = length("air at the sides of", c.Sides), length("air above", c.Above), length("air below", c.Below), length("air in front of", c.Front)
	b.Weight = explain.Part("weight of "+tag, c.Weight*quantity.Mass(max(s.poles, 1)), part)
	f := &b.Fixing
	f.Screw, f.Count, f.Notch = c.Screw, c.Screws, c.Notch
	if c.Screws > 0 {
		across := c.Across
		if s.kind == "ground bar" {
			across = b.Width.Value - 10*quantity.Millimetre
		}
		f.Across, f.Along = length("fixing width of", across), length("fixing height of", c.Along)
	}
	if c.Hole > 0 {
		f.Hole = length("hole of", c.Hole)
	}
	if c.CutWidth > 0 {
		f.CutWidth, f.CutHeight = length("cut-out width of", c.CutWidth), length("cut-out height of", c.CutHeight)
	}
	return b, true
}

// byParts lets the parts of the job file replace and add.
func byParts(j *job.Job, list []box.Body) []box.Body {
	for k := range j.Parts {
		part := &j.Parts[k]
		if !part.Tag.Set {
			continue
		}
		tag := string(part.Tag.Value)
		n := slices.IndexFunc(list, func(b box.Body) bool { return b.Tag == tag })
		if n < 0 {
			if !part.Width.Set || !part.Height.Set || !part.Depth.Set {
				continue // nothing typical to stand in for a part that nobody knows
			}
			list = append(list, box.Body{Tag: tag, Name: tag})
			n = len(list) - 1
		}
		overlay(&list[n], part)
	}
	return list
}

// overlay writes what the job file says of a part over its body.
func overlay(b *box.Body, p *job.Part) {
	put := func(to *explain.Known[quantity.Length], from job.Given[quantity.Length]) {
		if from.Set {
			*to = job.Known(from)
		}
	}
	if p.Name.Set {
		b.Name = string(p.Name.Value)
	}
	put(&b.Width, p.Width)
	put(&b.Height, p.Height)
	put(&b.Depth, p.Depth)
	put(&b.Sides, p.AirSides)
	put(&b.Above, p.AirAbove)
	put(&b.Below, p.AirBelow)
	put(&b.Front, p.AirFront)
	put(&b.Bend, p.Bend)
	if p.On.Set {
		on := string(p.On.Value)
		b.On, b.OnRail = onFace[on], on == "rail"
		if b.On != box.Plate {
			b.Sides, b.Above, b.Below, b.Front, b.Bend = none("air at the sides of "+b.Tag), none("air above "+b.Tag), none("air below "+b.Tag), none("air in front of "+b.Tag), none("wire room at "+b.Tag)
			b.Shaft = false
		}
	}
	if p.May.Set {
		b.MayTurn = string(p.May.Value) == "yes"
	}
	if p.X.Set && p.Y.Set {
		b.Spot = &box.Spot{X: job.Known(p.X), Y: job.Known(p.Y), Turned: string(p.Turned.Value) == "yes"}
	}
	f := &b.Fixing
	put(&f.Across, p.FixX)
	put(&f.Along, p.FixY)
	put(&f.Up, p.FixUp)
	put(&f.Left, p.FixLeft)
	put(&f.Hole, p.Hole)
	put(&f.CutWidth, p.CutW)
	put(&f.CutHeight, p.CutH)
	if p.FixCount.Set {
		f.Count = int(p.FixCount.Value)
	}
	if p.Screw.Set {
		f.Screw = string(p.Screw.Value)
	}
	if p.Loss.Set {
		b.Loss = job.Known(p.Loss)
	}
	if p.Warmest.Set {
		b.Limit = job.Known(p.Warmest)
	}
	if p.Weight.Set {
		b.Weight = job.Known(p.Weight)
	}
	if p.Beside.Set {
		b.Beside = string(p.Beside.Value)
	}
	if p.Apart.Set {
		by := job.Or(p.ApartBy, 100*quantity.Millimetre, explain.Practice("parts to be kept apart: 100 mm"), explain.Say("how far isn't written"))
		for tag := range strings.SplitSeq(string(p.Apart.Value), ",") {
			b.Apart = append(b.Apart, box.Apart{Tag: strings.TrimSpace(tag), By: by})
		}
	}
}

func none(name string) explain.Known[quantity.Length] {
	return explain.Constant[quantity.Length](name, 0, explain.Physics(fmt.Sprintf("%s: none needed", name)))
}
