package circuit

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// supplyRules judge the control supply: its load, its fuse, its common and its ground.
var supplyRules = []explain.Rule[Result]{supplyOverloaded, driveSupplyOverloaded, ratedUnlikeSupply, alternatingUnlikeSupply, farEndLow, tapWithoutFuse, secondaryWithoutFuse, fuseAboveWire, supplyAboveWire,
	commonNotBonded, commonBondedTwice, switchedSideBonded, contactOnGroundedSide, supplyShorted}

// aboutSupply is the reason that stands for what a supply can give: the written figure, else the device.
func aboutSupply(f SupplyFigures) explain.Because {
	if explain.Place(f.Gives.Why()) != nil {
		return f.Gives
	}
	return f.source.device.Why
}

func overloaded(report *explain.Report, f SupplyFigures, remedy explain.Phrase) {
	if f.Use.OK() && f.Use.Value > 1 {
		report.At(aboutSupply(f), explain.Say("what hangs on {} takes {} with everything on, and it gives {}", text(sourceName(f.source)), f.Load.Value, f.Gives.Value), remedy)
	}
}

var supplyOverloaded = explain.Rule[Result]{
	Name: "control-supply-overloaded", Title: "coils, lamps and readouts take more than the control supply gives", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "its voltage sags when the last contactor should pull in, and contacts chatter and weld",
	Source: machineBooks("9.1.2", "9.1.2"),
	Check: func(r Result, report *explain.Report) {
		for _, f := range r.Figures.Supplies {
			if f.source.device.Kind != Drive {
				overloaded(report, f, explain.Say("take a supply for {} or more, so that a third is left over", f.Load.Value*4/3))
			}
		}
	},
}

var driveSupplyOverloaded = explain.Rule[Result]{
	Name: "drive-24-volts-overloaded", Title: "more hangs on the drive's own 24 V than it gives", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the drive's logic hangs on the same supply: it trips or starts over when a lamp lights",
	Source: explain.Practice("drive booklets: 50 to 200 mA for inputs, no coils"),
	Check: func(r Result, report *explain.Report) {
		for _, f := range r.Figures.Supplies {
			if f.source.device.Kind == Drive {
				overloaded(report, f, explain.Say("leave the inputs on it and feed coils, lamps and readout from a power supply of their own"))
			}
		}
	},
}

// rated reports the rated voltage of what works on one; 0 for the rest.
func rated(e *Element) quantity.Voltage {
	switch e.Kind {
	case Coil, LampElement:
		return e.Volts
	case Electronics, Resistance:
		if e.Ohms > 0 && e.On > 0 {
			return e.Volts
		}
	case Contact, Link, KnobElement, DiodeElement, Source, Input, Reference, Winding:
	}
	return 0
}

// eachRated calls f for everything with a rated voltage that a source can stand across.
func (n *nets) eachRated(f func(d *Device, e *Element, s tracedSource)) {
	p := n.atLarge()
	for i := range n.circuit.Devices {
		d := &n.circuit.Devices[i]
		if d.Kind == Drive {
			continue
		}
		for j := range d.Elements {
			e := &d.Elements[j]
			if rated(e) <= 0 {
				continue
			}
			if k := p.between(n.at(d, e.A), n.at(d, e.B)); k >= 0 {
				f(d, e, n.sources[k])
			}
		}
	}
}

var ratedUnlikeSupply = explain.Rule[Result]{
	Name: "rated-voltage-unlike-the-supply", Title: "a coil, lamp or load for another voltage than it gets", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "too much burns it, too little lets a contactor hum until its coil burns",
	Source: explain.Source{Work: "IEC 60947-4-1", Edition: "2018", Place: "8.2.1.2: 85 to 110 % of the rated control voltage"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		r.nets().eachRated(func(d *Device, e *Element, s tracedSource) {
			if amongLoads(d) && e.Volts < s.element.Volts*0.6 && r.Job.Supply.Neutral.Value != "yes" {
				return // it wants a neutral: the Power stage says so
			}
			if v := s.element.Volts; v > e.Volts*1.1 || v < e.Volts*0.85 {
				report.At(d.Why, explain.Say("{} is rated for {} and stands on the {} of {}", called(d), e.Volts, v, text(s.device.Tag)),
					explain.Say("take one for {}, or feed it from a supply of {}", v, e.Volts))
			}
		})
	},
}

var alternatingUnlikeSupply = explain.Rule[Result]{
	Name: "alternating-current-coil-on-direct-current", Title: "a coil for the other kind of current than it gets", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "an AC coil on DC of the same voltage takes many times its current and burns; a DC coil on AC hums and never closes",
	Source: explain.Practice("contactor and relay data sheets"),
	Check: func(r Result, report *explain.Report) {
		r.nets().eachRated(func(d *Device, e *Element, s tracedSource) {
			if e.Kind != Coil || e.AC == s.element.AC {
				return
			}
			coil, feed := text("direct"), text("alternating")
			if e.AC {
				coil, feed = feed, coil
			}
			report.At(d.Why, explain.Say("the coil of {} is for {} current and {} gives {}", called(d), coil, text(s.device.Tag), feed),
				explain.Say("order it with a coil for {} current; if it has one, write it as its current kind", feed))
		})
	},
}

var farEndLow = explain.Rule[Result]{
	Name: "voltage-too-low-at-the-far-end", Title: "thin cores leave too little voltage at the far end", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the relay pulls in on a warm day on the bench and not in the cold shop, and nobody finds out why",
	Source: explain.Source{Work: "IEC 60947-4-1", Edition: "2018", Place: "8.2.1.2: a coil pulls in by 85 %"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		for _, end := range r.Figures.FarEnds {
			if end.Left.OK() && end.Asks.OK() && end.Left.Value < end.Asks.Value {
				report.At(end.device.Why, explain.Say("{} gets {} and needs {}: {} are lost along the cable", called(end.device), end.Left.Value, end.Asks.Value, end.Lost.Value),
					explain.Say("take thicker cores or two in parallel for the common, or put the coil into the box and only its contact at the far end"))
			}
		}
	},
}

// protects reports whether the device opens on too much current.
func protects(d *Device) bool { return d.Kind == Fuse || d.Kind == Breaker }

// unprotected marks what the potential can be joined to without passing a fuse or breaker.
func (n *nets) unprotected(from int) []bool {
	in := n.allIn()
	s := stand{}
	for i := range n.circuit.Devices {
		if d := &n.circuit.Devices[i]; protects(d) {
			s[d] = 0
		}
	}
	return n.reach(from, s, in)
}

var tapWithoutFuse = explain.Rule[Result]{
	Name: "control-supply-tapped-without-a-fuse", Title: "the control supply is tapped from the power circuit without a fuse of its own", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "its thin wires hang on the machine's breaker: a short in them burns the wire before the breaker opens",
	Source: machineBooks("7.2.4 and 7.2.7", "7.2.4 and 7.2.6"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, s := range n.sources {
			if s.device.Kind != PowerSupply && s.device.Kind != Transformer {
				continue
			}
			for _, feed := range n.sources {
				if feed.device.Kind != Incoming {
					continue
				}
				if a, b := n.unprotected(feed.a), n.unprotected(feed.b); s.in1 >= 0 && s.in2 >= 0 && (a[s.in1] && b[s.in2] || a[s.in2] && b[s.in1]) {
					report.At(s.device.Why, explain.Say("{} hangs on the supply's conductors with no fuse between", called(s.device)),
						explain.Say("put a fuse for its input between, in each conductor that isn't grounded, of the size that its label or its wires allow"))
					break
				}
			}
		}
	},
}

var secondaryWithoutFuse = explain.Rule[Result]{
	Name: "transformer-secondary-without-a-fuse", Title: "a control transformer without a fuse on its secondary", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a short in a cable to a button heats the transformer until it burns: the fuse ahead of it sees little of it",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "7.2.7; NEC 725.45 and 430.72(C); IEC 60204-1:2016 7.2.4"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, s := range n.sources {
			if s.device.Kind != Transformer || s.a < 0 || s.b < 0 {
				continue
			}
			a, b := n.unprotected(s.a), n.unprotected(s.b)
			// Loads between the two ends with no fuse on either way.
			bare := false
			for i := range r.Circuit.Devices {
				d := &r.Circuit.Devices[i]
				for _, e := range d.Elements {
					x, y := n.at(d, e.A), n.at(d, e.B)
					switch e.Kind {
					case Coil, LampElement, Resistance, Electronics:
						bare = bare || x >= 0 && y >= 0 && (a[x] && b[y] || a[y] && b[x])
					case Contact, Link, KnobElement, DiodeElement, Source, Input, Reference, Winding:
					}
				}
			}
			if bare {
				report.At(s.device.Why, explain.Say("nothing between the secondary of {} and what hangs on it opens on a short", called(s.device)),
					explain.Say("put a fuse into the conductor from {} that isn't grounded, for no more than the transformer's rated secondary current", text(s.element.A)))
			}
		}
	},
}

// feedsDrive reports whether the drive's supply is among the potentials.
func (n *nets) feedsDrive(marked []bool) bool {
	drive := n.circuit.Device(n.circuit.Drive.Tag)
	return drive != nil && slices.ContainsFunc(n.circuit.Drive.Supply, func(t string) bool { k := n.at(drive, t); return k >= 0 && marked[k] })
}

// thinnest returns the wire that carries least among those of the potentials, with what it carries; nil where no size is known.
func (n *nets) thinnest(marked []bool) (thinnest *Wire, least quantity.Current) {
	for i := range n.circuit.Wires {
		w := &n.circuit.Wires[i]
		size := w.Size
		if c := n.circuit.Cable(w.Cable); c != nil && !size.OK() {
			size = c.Size
		}
		if !marked[n.number[w.From]] || !size.OK() {
			continue
		}
		if most, _, ok := catalogue.ControlAmpacity(size.Value); ok && (thinnest == nil || most < least) {
			thinnest, least = w, most
		}
	}
	return thinnest, least
}

var supplyAboveWire = explain.Rule[Result]{
	Name: "control-supply-above-its-wire", Title: "a power supply that gives more than the thinnest wire on it carries", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a short at the end of a cable is fed for as long as it likes, and the wire heats along its whole length",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "7.2.4 and Table 12.5.1; IEC 60204-1:2016 7.2.4 and Table 6"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, s := range n.sources {
			if s.device.Kind != PowerSupply || s.element.Most <= 0 {
				continue
			}
			if wire, least := n.thinnest(n.unprotected(s.a)); wire != nil && s.element.Most > least {
				report.At(s.device.Why, explain.Say("{} gives {}, and wire {} on it, with no fuse between, carries {}", called(s.device), s.element.Most, text(wire.Name), least),
					explain.Say("put a fuse of {} or less behind the supply, or take thicker wire", least))
			}
		}
	},
}

var fuseAboveWire = explain.Rule[Result]{
	Name: "control-fuse-above-its-wire", Title: "a fuse too large for the thinnest wire behind it", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the wire is then the fuse, along its whole length",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "7.2.10 and Table 12.5.1; IEC 60204-1:2016 7.2.4 and Table 6"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, c := range n.contacts {
			if !protects(c.device) || c.element.Most <= 0 || c.a < 0 || c.b < 0 {
				continue
			}
			behind := n.unprotected(c.b) // the second terminal is the one behind
			if n.feedsDrive(behind) {
				continue // a tap ahead of the control fuse has a rule of its own
			}
			thinnest, least := n.thinnest(behind)
			if thinnest != nil && c.element.Most > least {
				report.At(c.device.Why, explain.Say("{} is for {}, and wire {} behind it carries {}", called(c.device), c.element.Most, text(thinnest.Name), least),
					explain.Say("take a fuse of {} or less, or thicker wire", least))
			}
		}
	},
}

// ground returns the potential of the protective ground: of the incoming supply's, else of the first ground bar; -1 if neither is there.
func (n *nets) ground() int {
	for _, d := range n.circuit.ByKind(Incoming) {
		if k := n.at(d, "PE"); k >= 0 {
			return k
		}
	}
	for _, d := range n.circuit.ByKind(GroundBar) {
		return n.at(d, d.Terminals[0])
	}
	return -1
}

var commonNotBonded = explain.Rule[Result]{
	Name: "control-common-not-bonded", Title: "the common of the control supply isn't joined to ground", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the first ground fault goes unnoticed; the second, elsewhere, bridges a stop or a start",
	Source: machineBooks("8.4.2 and 9.4.3", "9.4.3.1"),
	Check: func(r Result, report *explain.Report) {
		z := r.Job.Controls.ZeroBonded
		remedy := explain.Say("join the supply's common to the ground bar in the box, at one place and where it can be taken off to measure; a ground fault then blows the fuse and starts nothing")
		if z.Value == "no" {
			report.At(z, explain.Say("the common of the control supply is to float"), remedy)
			return
		}
		n := r.nets()
		ground := n.ground()
		if ground < 0 || z.Set { // with no ground in the circuit there is nothing to judge by
			return
		}
		for _, f := range r.Figures.Supplies {
			s := f.source
			if s.device.Kind != Drive && s.a != ground && s.b != ground {
				report.At(s.device.Why, explain.Say("neither end of {} is joined to ground", called(s.device)), remedy)
			}
		}
	},
}

// bonds returns the wires that join the supply's own wires to ground: those from its ends, followed as far as the first terminal
// for a ground.
func (n *nets) bonds(s tracedSource) []*Wire {
	var list []*Wire
	grounded := n.circuit.groundPin
	for _, end := range []string{s.element.A, s.element.B} {
		queue, seen := []Pin{s.device.Pin(end)}, map[Pin]bool{}
		for len(queue) > 0 {
			p := queue[0]
			queue = queue[1:]
			if seen[p] || grounded(p) {
				continue
			}
			seen[p] = true
			for _, w := range n.wiresAt(p) {
				far := w.To
				if far == p {
					far = w.From
				}
				if grounded(far) && !slices.Contains(list, w) {
					list = append(list, w)
				}
				queue = append(queue, far)
			}
			queue = append(queue, n.linked(p)...)
		}
	}
	return list
}

// linked returns the pins that the pin's own device joins to it always.
func (n *nets) linked(p Pin) []Pin {
	var list []Pin
	d := n.circuit.Device(p.Device)
	if d == nil {
		return nil
	}
	for _, e := range d.Elements {
		switch {
		case e.Kind != Link:
		case e.A == p.Terminal:
			list = append(list, d.Pin(e.B))
		case e.B == p.Terminal:
			list = append(list, d.Pin(e.A))
		}
	}
	return list
}

var commonBondedTwice = explain.Rule[Result]{
	Name: "control-common-bonded-twice", Title: "the common of a control supply is joined to ground in two places", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "ground currents of the drive flow through the control common, and a measurement of the bond finds the other one",
	Source: explain.Practice("one bond, in the box, that can be taken off"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, f := range r.Figures.Supplies {
			if list := n.bonds(f.source); len(list) > 1 {
				report.At(list[1].Why, explain.Say("the common of {} is joined to ground by wire {} and by wire {}", called(f.source.device), text(list[0].Name), text(list[1].Name)),
					explain.Say("leave the one beside the supply and take the other out"))
			}
		}
	},
}

var switchedSideBonded = explain.Rule[Result]{
	Name: "switched-side-grounded", Title: "the switched side of the control supply is joined to ground", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the coils then hang on the other side, and a ground fault between contact and coil pulls them in: the machine starts by itself",
	Source: machineBooks("9.4.3", "9.4.3.1.2"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		ground := n.ground()
		if ground < 0 {
			return
		}
		for _, f := range r.Figures.Supplies {
			if s := f.source; s.a == ground && s.a != s.b && !s.element.AC {
				report.At(s.device.Why, explain.Say("terminal {} of {} is joined to ground", text(s.element.A), called(s.device)),
					explain.Say("join {} to ground instead, and bring every contact into the other side", text(s.element.B)))
			}
		}
	},
}

var contactOnGroundedSide = explain.Rule[Result]{
	Name: "contact-on-the-grounded-side", Title: "a contact lies between a coil and the grounded common", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a ground fault on the wire between the two bridges the contact: the coil pulls in, or a stop no longer drops it",
	Source: machineBooks("9.1.4", "9.4.3.1.2"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		ground := n.ground()
		in := n.everything()
		p := n.poles(stand{}, in)
		for _, c := range n.coils {
			k := p.between(c.a, c.b)
			if k < 0 || ground < 0 {
				continue
			}
			s := n.sources[k]
			if s.a != ground && s.b != ground || c.a == ground || c.b == ground {
				continue
			}
			side := n.reach(ground, stand{}, in)
			for _, between := range n.contacts {
				if between.device.Kind == OverloadRelay { // allowed there by NFPA 79, within the box
					continue
				}
				near, far := between.a, between.b
				if far == ground {
					near, far = far, near
				}
				if near == ground && (far == c.a || far == c.b) && side[far] {
					report.At(between.device.Why, explain.Say("a contact of {} lies between {} and the grounded common", called(between.device), called(c.device)),
						explain.Say("join the coil straight to the common and bring the contact into the wire to its other end"))
				}
			}
		}
	},
}

var supplyShorted = explain.Rule[Result]{
	Name: "supply-shorted-by-a-contact", Title: "a contact that joins both ends of a supply", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the fuse goes, or the drive's own 24 V, at the first press",
	Source: explain.Practice("no contact without a load in its way"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, s := range n.sources {
			if s.a == s.b && s.a >= 0 {
				report.At(s.device.Why, explain.Say("both ends of {}, {} and {}, stand on one wire", called(s.device), text(s.element.A), text(s.element.B)), explain.Say("find the wire or bridge that joins them and take it out"))
				continue
			}
			for _, c := range n.contacts {
				if c.element.In != 0 && (c.a == s.a && c.b == s.b || c.a == s.b && c.b == s.a) && c.a >= 0 {
					report.At(c.device.Why, explain.Say("a contact of {} lies straight across {}", called(c.device), called(s.device)), explain.Say("there must be a coil, a lamp or an input between the two"))
				}
			}
		}
	},
}
