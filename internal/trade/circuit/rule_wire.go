package circuit

import (
	"cmp"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// wireRules judge single wires and their ends, and names that stand twice.
var wireRules = []explain.Rule[Result]{threeUnderTerminal, groundsShareTerminal, wireBelowLeast, greenNotGround, groundNotGreen, colourUnlikeDuty, numberTwice, potentialTwoNumbers, wireToItself,
	deviceNotWired, contactHalfWired, tagTwice, wireNameTwice, cableTagTwice, buttonColour, lampColour, lampShowsCommand}

// endsByPin lists the wires at each pin, in the order of the circuit.
func (c *Circuit) endsByPin() (order []Pin, at map[Pin][]*Wire) {
	at = map[Pin][]*Wire{}
	for n := range c.Wires {
		w := &c.Wires[n]
		for _, p := range []Pin{w.From, w.To} {
			if at[p] == nil {
				order = append(order, p)
			}
			at[p] = append(at[p], w)
		}
	}
	return order, at
}

// groundPin reports whether the pin is a terminal for the protective conductor.
func (c *Circuit) groundPin(p Pin) bool {
	d := c.Device(p.Device)
	return d != nil && (d.Kind == GroundBar || strings.HasPrefix(p.Terminal, "PE"))
}

var threeUnderTerminal = explain.Rule[Result]{
	Name: "more-than-two-wires-under-a-terminal", Title: "more than two wires under one screw", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the thinnest of them works loose, and it is always the one that matters",
	Source: machineBooks("13.1.1", "13.1.1"),
	Check: func(r Result, report *explain.Report) {
		order, at := r.Circuit.endsByPin()
		for _, p := range order {
			if wires := at[p]; len(wires) > 2 && !r.Circuit.groundPin(p) {
				report.At(wires[2].Why, explain.Say("{} wires end on {}", quantity.Count(len(wires)), text(p.String())), explain.Say("go on from another device of the same potential, or add a terminal and a jumper"))
			}
		}
	},
}

var groundsShareTerminal = explain.Rule[Result]{
	Name: "ground-wires-share-a-terminal", Title: "several ground wires under one screw", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "who takes one off to change a part takes the other off with it, and a casting is without ground",
	Source: machineBooks("8.2, one conductor to a connecting point", "8.2"),
	Check: func(r Result, report *explain.Report) {
		order, at := r.Circuit.endsByPin()
		for _, p := range order {
			if wires := at[p]; len(wires) > 1 && r.Circuit.groundPin(p) {
				report.At(wires[1].Why, explain.Say("{} ground wires end on {}", quantity.Count(len(wires)), text(p.String())), explain.Say("give each a screw of its own on the ground bar"))
			}
		}
	},
}

// leastWire is the least size of a control wire by the rule set, single or as a core of a cable of several.
func (r *Result) leastWire(w *Wire) (quantity.Conductor, explain.Source, bool) {
	c := r.Circuit.Cable(w.Cable)
	if r.Circuit.Set == explain.IEC {
		outside, kind := "inside", "single flexible"
		if station(r.Circuit.placeOf(w.From)) != station(r.Circuit.placeOf(w.To)) || c != nil {
			outside = "outside"
		}
		if c != nil {
			kind = "three-core or more"
			if len(c.Cores) == 2 {
				kind = "two-core"
			}
		}
		return catalogue.LeastControlConductor(outside, "control", kind)
	}
	source := explain.Source{Work: "NFPA 79", Edition: "2024", Place: "12.6, minimum size of conductors"}.Remembered()
	if c != nil {
		return quantity.AWG(24), source, true
	}
	return quantity.AWG(18), source, true
}

var wireBelowLeast = explain.Rule[Result]{
	Name: "control-wire-below-its-least-size", Title: "a control wire thinner than the rule set allows", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "thin wire breaks where its insulation ends, at the screw",
	Source: explain.Source{Work: "NFPA 79", Edition: "2024", Place: "12.6; IEC 60204-1:2016 Table 5"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		once := tells()
		for n := range r.Circuit.Wires {
			w := &r.Circuit.Wires[n]
			size := w.Size
			if c := r.Circuit.Cable(w.Cable); c != nil && !size.OK() {
				size = c.Size
			}
			least, _, ok := r.leastWire(w)
			if !ok || !size.OK() || size.Value.Area() >= least.Area()*0.999 || !once(size) {
				continue
			}
			report.At(size, explain.Say("wire {} is {}; {} is the least here", text(w.Name), size.Value, least), explain.Say("take {} or thicker, of many strands", least))
		}
	},
}

// isGround reports whether the wire is a protective conductor.
func (r *Result) isGround(w *Wire) bool {
	g := r.nets().ground()
	return w.Duty == GroundDuty || g >= 0 && r.nets().number[w.From] == g && (r.Circuit.groundPin(w.From) || r.Circuit.groundPin(w.To)) || r.Circuit.groundPin(w.From) && r.Circuit.groundPin(w.To)
}

// handColour returns the colour that is written for the wire.
func (r *Result) handColour(w *Wire) (job.Given[quantity.Text], bool) {
	for n := range r.Job.Wires {
		if h := &r.Job.Wires[n]; string(h.Name.Value) == w.Name && h.Colour.Set {
			return h.Colour, true
		}
	}
	return job.Given[quantity.Text]{}, false
}

var greenNotGround = explain.Rule[Result]{
	Name: "green-wire-not-a-ground", Title: "a green or green and yellow wire that isn't a ground", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "the next one takes it for the ground and joins a casting to it",
	Source: machineBooks("13.2.2", "13.2.2; NEC 250.119"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Circuit.Wires {
			w := &r.Circuit.Wires[n]
			if c, ok := r.handColour(w); ok && strings.Contains(strings.ToLower(string(c.Value)), "green") && !r.isGround(w) {
				report.At(c, explain.Say("wire {} is {} and doesn't join anything to ground", text(w.Name), c.Value), explain.Say("take another colour: green is for the ground alone, in cables too"))
			}
		}
	},
}

var groundNotGreen = explain.Rule[Result]{
	Name: "ground-wire-not-green", Title: "a ground wire that isn't green", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it is taken for a live wire, or the live wire for it",
	Source: machineBooks("13.2.2", "13.2.2; NEC 250.119"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Circuit.Wires {
			w := &r.Circuit.Wires[n]
			if c, ok := r.handColour(w); ok && !strings.Contains(strings.ToLower(string(c.Value)), "green") && !strings.Contains(strings.ToLower(string(c.Value)), "bare") && r.isGround(w) {
				right, _ := catalogue.ConductorColour(r.Circuit.Set, "grounding")
				report.At(c, explain.Say("ground wire {} is {}", text(w.Name), c.Value), explain.Say("take {}", text(cmp.Or(right.Name, "green and yellow"))))
			}
		}
	},
}

var colourUnlikeDuty = explain.Rule[Result]{
	Name: "wire-colour-unlike-its-duty", Title: "a wire in the colour of another duty", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "the colour tells the next one what voltage to expect",
	Source: machineBooks("13.2.4", "13.2.4"),
	Check: func(r Result, report *explain.Report) {
		for i := range r.Circuit.Wires {
			w := &r.Circuit.Wires[i]
			c, ok := r.handColour(w)
			if !ok || w.Cable != "" || r.isGround(w) || strings.Contains(strings.ToLower(string(c.Value)), "green") {
				continue
			}
			what := carriedBy(w)
			right, known := catalogue.ConductorColour(r.Circuit.Set, what)
			if known && !strings.EqualFold(string(c.Value), right.Name) {
				report.At(c, explain.Say("wire {} is {}; for {} it would be {}", text(w.Name), c.Value, text(inWords(what)), text(right.Name)), explain.Say("take {}, or mark both ends so", text(right.Name)))
			}
		}
	},
}

// inWords says what a wire carries for a reader.
func inWords(carries string) string {
	words := map[string]string{"power": "a power circuit", "neutral": "a neutral", "foreign": "what is live with the main switch off",
		"foreign neutral": "a neutral that is live with the main switch off", "control AC": "alternating control voltage", "control DC": "direct control voltage",
		"common AC": "the common of alternating control voltage", "common DC": "the common of direct control voltage"}
	return cmp.Or(words[carries], carries)
}

var numberTwice = explain.Rule[Result]{
	Name: "one-number-on-two-potentials", Title: "one wire number on wires that aren't joined", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "two ends with one number get joined, if not today then at the next repair",
	Source: machineBooks("13.2.1", "13.2.1"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		first := map[string]*Wire{}
		for i := range r.Circuit.Wires {
			w := &r.Circuit.Wires[i]
			before := first[w.Number]
			if before == nil {
				first[w.Number] = w
				continue
			}
			if n.number[before.From] != n.number[w.From] && !r.isGround(w) {
				report.At(w.Why, explain.Say("wires {} and {} have the number {} and aren't joined", text(before.Name), text(w.Name), text(w.Number)), explain.Say("give each potential a number of its own"))
			}
		}
	},
}

var potentialTwoNumbers = explain.Rule[Result]{
	Name: "two-numbers-on-one-terminal", Title: "wires of different numbers under one screw", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a number that changes on the way can't be followed with a meter in the hand",
	Source: machineBooks("13.2.1", "13.2.1"),
	Check: func(r Result, report *explain.Report) {
		order, at := r.Circuit.endsByPin()
		once := tells()
		for _, p := range order {
			for _, w := range at[p][1:] {
				if w.Number != at[p][0].Number && !r.isGround(w) && once(w.Why) {
					report.At(w.Why, explain.Say("{} carries wire {} and wire {}, of different numbers", text(p.String()), text(at[p][0].Name), text(w.Name)),
						explain.Say("number all wires of one potential alike, with a letter behind: {}a, {}b", text(at[p][0].Number), text(at[p][0].Number)))
					break
				}
			}
		}
	},
}

var wireToItself = explain.Rule[Result]{
	Name: "wire-from-a-terminal-to-itself", Title: "a wire with both ends on one terminal", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "one of its ends was to go elsewhere, and nothing is there now",
	Source: explain.Practice("a wire has two ends"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Circuit.Wires {
			if w := &r.Circuit.Wires[n]; w.From == w.To {
				report.At(w.Why, explain.Say("wire {} begins and ends at {}", text(w.Name), text(w.From.String())), explain.Say("write where it goes"))
			}
		}
	},
}

var deviceNotWired = explain.Rule[Result]{
	Name: "device-not-wired", Title: "a device with no wire on it", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "somebody counts on what it should do",
	Source: explain.Practice("what is fitted is wired"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for i := range r.Circuit.Devices {
			d := &r.Circuit.Devices[i]
			if d.Kind != GroundBar && len(d.Terminals) > 0 && !slices.ContainsFunc(d.Terminals, func(t string) bool { return len(n.wiresAt(d.Pin(t))) > 0 }) {
				report.At(d.Why, explain.Say("no wire ends on {}", called(d)), explain.Say("wire it, or leave it out"))
			}
		}
	},
}

var contactHalfWired = explain.Rule[Result]{
	Name: "contact-wired-on-one-side", Title: "a contact with a wire on one side only", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "it switches nothing; often the other wire went to the contact beside it",
	Source: explain.Practice("a contact lies in a way that goes on"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		for _, c := range n.contacts {
			if c.a < 0 || c.b < 0 || n.wired(c.a) == n.wired(c.b) {
				continue
			}
			on, off := c.element.A, c.element.B
			if n.wired(c.b) {
				on, off = off, on
			}
			report.At(c.device.Why, explain.Say("the contact {}-{} of {} has a wire on {} and none on {}", text(c.element.A), text(c.element.B), called(c.device), text(on), text(off)),
				explain.Say("wire the other side, or take the wire off"))
		}
	},
}

// twice reports each name of the list that stood before.
func twice(report *explain.Report, names []job.Given[quantity.Text], what, remedy string) {
	first := map[quantity.Text]job.Given[quantity.Text]{}
	for _, name := range names {
		if !name.Set {
			continue
		}
		if before, there := first[name.Value]; there {
			report.At(name, explain.Say(what, name.Value), explain.Say(remedy), explain.Related{Span: before.Span, Message: explain.Say("the first is here")})
			continue
		}
		first[name.Value] = name
	}
}

var tagTwice = explain.Rule[Result]{
	Name: "device-tag-used-twice", Title: "two devices of one tag", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a wire to that tag can go to either; here the second replaces the first",
	Source: explain.Practice("a tag belongs to one device"),
	Check: func(r Result, report *explain.Report) {
		var names []job.Given[quantity.Text]
		for _, h := range r.Job.Devices {
			names = append(names, h.Tag)
		}
		twice(report, names, "the device {} is written twice", "give it the next number, or make one entry of the two")
	},
}

var wireNameTwice = explain.Rule[Result]{
	Name: "wire-name-used-twice", Title: "two wires of one name", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the second entry replaces the first, and a wire is missing",
	Source: explain.Practice("a letter behind the number where several wires share a potential"),
	Check: func(r Result, report *explain.Report) {
		var names []job.Given[quantity.Text]
		for _, h := range r.Job.Wires {
			names = append(names, h.Name)
		}
		twice(report, names, "the wire {} is written twice", "where several wires share one number, put a letter behind it: 7a, 7b")
	},
}

var cableTagTwice = explain.Rule[Result]{
	Name: "cable-tag-used-twice", Title: "two cables of one tag", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the second entry changes the first, and a cable is missing",
	Source: explain.Practice("a tag belongs to one cable"),
	Check: func(r Result, report *explain.Report) {
		var names []job.Given[quantity.Text]
		for _, h := range r.Job.Cables {
			names = append(names, h.Tag)
		}
		twice(report, names, "the cable {} is written twice", "give it the next number, or make one entry of the two")
	},
}

// forbidden are the colours that a device of a role must not have, and what is preferred. Source: IEC 60204-1:2016 10.2.1;
// NFPA 79, by a summary of its colours.
var forbidden = map[Role]struct {
	colours []quantity.Text
	instead string
}{
	Start:         {[]quantity.Text{"red", "red on yellow"}, "green, or white"},
	StartReverse:  {[]quantity.Text{"red", "red on yellow"}, "green, or white"},
	Stop:          {[]quantity.Text{"green", "red on yellow"}, "red, or black"},
	Jog:           {[]quantity.Text{"red", "yellow", "green", "red on yellow"}, "black, or white"},
	Reset:         {[]quantity.Text{"green", "red on yellow"}, "blue"},
	EmergencyRole: {[]quantity.Text{"green", "yellow", "blue", "white", "gray", "black", "clear"}, "red on yellow"},
}

// colours calls f for each device with a colour that is written.
func (r *Result) colours(f func(d *Device, colour job.Given[quantity.Text])) {
	for n := range r.Job.Devices {
		h := &r.Job.Devices[n]
		if d := r.Circuit.Device(string(h.Tag.Value)); d != nil && h.Colour.Set {
			f(d, h.Colour)
		}
	}
}

var buttonColour = explain.Rule[Result]{
	Name: "button-colour-misleads", Title: "a button in the colour of another", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "in a fright the hand goes by colour",
	Source: explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "10.2.1; NFPA 79 10.2"},
	Check: func(r Result, report *explain.Report) {
		r.colours(func(d *Device, c job.Given[quantity.Text]) {
			if f, ok := forbidden[d.Role]; ok && slices.Contains(f.colours, c.Value) {
				report.At(c, explain.Say("{} is {}", called(d), c.Value), explain.Say("take {}", text(f.instead)))
			}
		})
	},
}

var lampColour = explain.Rule[Result]{
	Name: "lamp-colour-misleads", Title: "a lamp in a colour that says something else", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "red says that something is wrong, green that all is well",
	Source: explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "Table 4; NFPA 79 10.3"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		wrong := map[Role][]quantity.Text{RunLamp: {"red", "yellow"}, PowerLamp: {"red", "yellow"}, FaultLamp: {"green", "white", "clear", "blue"}}
		r.colours(func(d *Device, c job.Given[quantity.Text]) {
			if !slices.Contains(wrong[d.Role], c.Value) {
				return
			}
			right, _ := catalogue.ControlColour(r.Circuit.Set, string(d.Role))
			report.At(c, explain.Say("{} is {}", called(d), c.Value), explain.Say("take {}", text(right.Name)))
		})
	},
}

var lampShowsCommand = explain.Rule[Result]{
	Name: "run-lamp-shows-the-command", Title: "the run lamp shows what was asked for, not what happens", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "it burns while the drive is tripped, and is dark while the motor still runs down",
	Source: explain.Practice("the run lamp hangs on the drive's own run relay"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		if n.circuit.Drive.Tag == "" || !slices.ContainsFunc(n.contacts, func(c tracedContact) bool { return c.element.Group > 0 }) {
			return // there is no relay to hang it on
		}
		for _, d := range r.Circuit.ByRole(RunLamp) {
			a, b := n.at(d, "X1"), n.at(d, "X2")
			lit := n.atLarge().between(a, b) >= 0
			behindRun := slices.ContainsFunc(n.contacts, func(c tracedContact) bool {
				return c.element.Group > 0 && (c.a == a || c.a == b || c.b == a || c.b == b)
			})
			if lit && !behindRun {
				report.At(d.Why, explain.Say("{} doesn't hang on the drive's run relay", called(d)), explain.Say("let the drive's run relay switch it"))
			}
		}
	},
}
