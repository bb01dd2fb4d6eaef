package circuit

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// coilRules judge coils and what switches them, and what has a right way round.
var coilRules = []explain.Rule[Result]{coilBehindItself, coilNeverPowered, coilWithoutDiode, relayContactOverloaded, polarityWrong}

var coilBehindItself = explain.Rule[Result]{
	Name: "coil-fed-behind-its-own-contact", Title: "a coil that gets its voltage through its own contact only", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it never pulls in: a supply contactor whose coil hangs behind it stays out, and so does the machine",
	Source: explain.Practice("the coil of a supply contactor is fed from ahead of it"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		can := n.everything()
		for _, c := range n.coils {
			if !can[c.device] && n.stays(c.device, can) {
				report.At(c.device.Why, explain.Say("{} would hold if it were in, but nothing pulls it in: its voltage comes through its own contact", called(c.device)),
					explain.Say("feed the coil from ahead of its contacts, by a start contact beside the one that holds, or from a supply that doesn't hang behind it"))
			}
		}
	},
}

// stays reports whether the device's coil holds itself once it is in.
func (n *nets) stays(d *Device, others pulled) bool {
	in := pulled{d: true}
	for k := range others {
		in[k] = true
	}
	return n.settle(stand{}, in)[d]
}

var coilNeverPowered = explain.Rule[Result]{
	Name: "coil-never-powered", Title: "a coil that no contact can bring to both ends of a supply", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it never pulls in, and what it should do is not done",
	Source: explain.Practice("one end to the common, the other through the contacts to the supply"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		can := n.everything()
		for _, c := range n.coils {
			if !can[c.device] && !n.stays(c.device, can) && (n.wired(c.a) || n.wired(c.b)) {
				report.At(c.device.Why, explain.Say("whatever is pressed, {} never stands between both ends of a supply", called(c.device)),
					explain.Say("bring {} through its contacts to the supply and {} to the common of the same supply", text(c.element.A), text(c.element.B)))
			}
		}
	},
}

var coilWithoutDiode = explain.Rule[Result]{
	Name: "direct-current-coil-without-a-diode", Title: "a direct-current coil switched by the drive's relay, with no diode across it", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "the coil answers the opening contact with some hundred volts: the drive's small contact burns, and its inputs see the spark",
	Source: explain.Practice("a diode or a suppressor across every coil, at the coil"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, c := range n.coils {
			if c.element.AC || !n.behindDriveRelay(c.a) && !n.behindDriveRelay(c.b) {
				continue
			}
			damped := slices.ContainsFunc(r.Circuit.ByKind(Diode), func(d *Device) bool {
				a, k := n.at(d, "A"), n.at(d, "K")
				return a == c.a && k == c.b || a == c.b && k == c.a
			})
			if !damped {
				report.At(c.device.Why, explain.Say("the coil of {} hangs on the drive's relay and has no diode across it", called(c.device)),
					explain.Say("put a diode across the coil, its ring to plus, or order the relay with one built in"))
			}
		}
	},
}

// behindDriveRelay reports whether a contact of a drive's output ends on the potential.
func (n *nets) behindDriveRelay(k int) bool {
	return k >= 0 && slices.ContainsFunc(n.contacts, func(c tracedContact) bool {
		return c.element.Group > 0 && (c.a == k || c.b == k) && n.wired(c.a) && n.wired(c.b)
	}) &&
		!slices.ContainsFunc(n.sources, func(s tracedSource) bool { return s.a == k || s.b == k })
}

var relayContactOverloaded = explain.Rule[Result]{
	Name: "drive-relay-contact-overloaded", Title: "the drive's relay contact switches more than it may", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a contact the size of a match head welds, and the lamp or contactor stays on for good",
	Source: explain.Practice("drive booklets: relay output ratings"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		p := n.atLarge()
		for _, c := range n.contacts {
			if c.element.Group == 0 || !n.wired(c.a) || !n.wired(c.b) {
				continue
			}
			remedy := explain.Say("let the drive's relay switch the coil of a small relay or contactor, and that the load")
			about := explain.Because(c.device.Why)
			if w := n.wiresAt(c.device.Pin(c.element.B)); len(w) > 0 {
				about = w[0].Why
			}
			if v := max(n.volts(c.a, p), n.volts(c.b, p)); v > r.Side.RelayVoltage.Value {
				report.At(about, explain.Say("the drive's relay contact {}-{} would switch {}, and may switch {}", text(c.element.A), text(c.element.B), v, r.Side.RelayVoltage.Value), remedy)
				continue
			}
			if i := n.behindContact(c, p); i > r.Side.RelayCurrent.Value {
				report.At(about, explain.Say("the drive's relay contact {}-{} would switch {}, and may switch {}", text(c.element.A), text(c.element.B), i, r.Side.RelayCurrent.Value), remedy)
			}
		}
	},
}

// behindContact returns the current of everything that hangs on the contact's far end, the end that no source stands on.
func (n *nets) behindContact(c tracedContact, p poles) quantity.Current {
	far := c.b
	if slices.ContainsFunc(n.sources, func(s tracedSource) bool { return s.a == far || s.b == far }) {
		far = c.a
	}
	var sum quantity.Current
	for i := range n.circuit.Devices {
		d := &n.circuit.Devices[i]
		for _, e := range d.Elements {
			a, b := n.at(d, e.A), n.at(d, e.B)
			if a != far && b != far || a == b || e.Ohms <= 0 {
				continue
			}
			switch e.Kind {
			case Coil, LampElement, Resistance, Electronics:
				if k := p.between(a, b); k >= 0 {
					sum += quantity.Current(float64(n.sources[k].element.Volts) / float64(e.Ohms))
				}
			case Contact, Link, KnobElement, DiodeElement, Source, Input, Reference, Winding:
			}
		}
	}
	return sum
}

var polarityWrong = explain.Rule[Result]{
	Name: "polarity-wrong", Title: "a readout or diode the wrong way round", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a readout stays dark or dies; a diode across a coil the wrong way round is a short across the supply",
	Source: explain.Practice("plus to plus; the ring of a diode to plus"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		p := n.atLarge()
		for _, d := range r.Circuit.ByKind(Readout) {
			a, b := n.at(d, "V+"), n.at(d, "V-")
			if k := p.between(a, b); k >= 0 && p.plus[k][b] && !p.plus[k][a] && !n.sources[k].element.AC {
				report.At(d.Why, explain.Say("V+ of {} stands on the minus side of {}", called(d), text(n.sources[k].device.Tag)), explain.Say("swap its two supply wires"))
			}
		}
		for _, d := range r.Circuit.ByKind(Diode) {
			a, ring := n.at(d, "A"), n.at(d, "K")
			if k := p.between(a, ring); k >= 0 && p.plus[k][a] && p.minus[k][ring] && !n.sources[k].element.AC {
				report.At(d.Why, explain.Say("{} lets current straight from plus to minus of {}", called(d), text(n.sources[k].device.Tag)), explain.Say("turn it round: its ring (K) belongs to plus"))
			}
		}
	},
}
