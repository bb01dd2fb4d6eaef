package sheet

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// controls lays out the Controls stage: what the controls must do, the circuit made of it, and what every button does.
func (b *builder) controls() {
	c := &b.plan.Circuit.Circuit
	b.section(1, "Controls", b.wiredToDo(c))
	b.add(Caution{Severity: explain.Danger, Text: "Whatever this circuit does, it doesn't replace the main switch: with the drive fed, a hand near the work trusts a button. Before you touch a chuck, a blade or a belt, switch off and lock off."})
	if len(c.Devices) > 0 {
		b.section(2, "Schematic", "Drawn as it stands with no power and nobody touching anything. The number beside a line is the one on the ends of its wires, the small ones at a symbol are its terminals; 4.1 leads to sheet 4, row 1.")
		b.schematic()
		b.devices(c)
	}
	b.buttons(c)
	b.controlFigures()

	b.section(2, "What the controls must do", "Change a line and the circuit, its drawing, the wiring papers and the proof are made anew. What you don't write is chosen, and marked as assumed.")
	b.asks()
	b.inputs("", "controls")
	b.eachOf("Control stations", "stations", "station", "Each place with something to press on it. The first is taken to be the door of the box if you write none.", len(b.plan.Job.Stations),
		func(n int) string { return string(b.plan.Job.Stations[n].Name.Value) })
	b.section(2, "Control side of the drive", "Read these in the drive's booklet, and again on its keypad when it is set: half of what goes wrong at a first start stands here.")
	b.asks()
	b.driveTerminals(c)
	b.inputs("", "drive control")
	j := b.plan.Job
	b.eachOf("Control terminals of the drive", "drive terminals", "terminal", "In the order in which the screws stand, as neighbours are what a loose strand bridges. A typical row is taken if you write none.", len(j.Screws),
		func(n int) string { return string(j.Screws[n].Name.Value) })
	b.onScreen()
	b.eachOf("Devices by hand", "devices", "device", "Add a device of your own, or write the tag of one above to change it.", len(j.Devices), func(n int) string { return string(j.Devices[n].Tag.Value) })
	b.onScreen()
	b.eachOf("Wires by hand", "wires", "wire", "Add a wire from terminal to terminal, or write the name of one in the wire list to change it.", len(j.Wires), func(n int) string { return string(j.Wires[n].Name.Value) })
	b.onScreen()
	b.eachOf("Cables by hand", "cables", "cable", "Add a cable, or write the tag of one in the core chart to change it.", len(j.Cables), func(n int) string { return string(j.Cables[n].Tag.Value) })
	b.onScreen()
}

// onScreen leaves the section out on paper: its content stands in the tables of devices, wires and cores as well.
func (b *builder) onScreen() { b.sections[len(b.sections)-1].OnScreen = true }

// driveTerminals adds the table of the drive's control terminals as the circuit has them.
func (b *builder) driveTerminals(c *circuit.Circuit) {
	for _, d := range c.ByKind(circuit.Drive) {
		t := Table{Title: "Control terminals of " + d.Tag + ", in the order in which they stand", Head: []string{"terminal", "what it is"}, Numeric: make([]bool, 2), Chosen: -1}
		for _, name := range d.Terminals {
			if what := terminalOf(c, *d, name); what != "" {
				t.Rows = append(t.Rows, []string{name, what})
			}
		}
		if len(t.Rows) > 0 {
			b.add(sideBySide(t))
		}
	}
}

// manyRows is how many short rows a table of two columns has before its lower half is set beside the upper one.
const manyRows = 12

// sideBySide sets the lower half of a long narrow table beside the upper one.
func sideBySide(t Table) Table {
	if len(t.Rows) < manyRows {
		return t
	}
	half := (len(t.Rows) + 1) / 2
	wide := t
	wide.Head, wide.Numeric, wide.Rows = slices.Concat(t.Head, t.Head), slices.Concat(t.Numeric, t.Numeric), nil
	for n := range half {
		row := slices.Clone(t.Rows[n])
		if n+half < len(t.Rows) {
			row = append(row, t.Rows[n+half]...)
		} else {
			row = append(row, make([]string, len(t.Head))...)
		}
		wide.Rows = append(wide.Rows, row)
	}
	return wide
}

// terminalOf says what a terminal of the drive is, from the elements at it; "" for those of the power.
func terminalOf(c *circuit.Circuit, d circuit.Device, name string) string {
	var is []string
	add := func(words string) {
		if !slices.Contains(is, words) {
			is = append(is, words)
		}
	}
	for _, e := range d.Elements {
		switch {
		case e.Kind == circuit.Input && e.A == name:
			does := string(e.Does)
			if does == "" {
				does = "input, not used"
			}
			add(does)
		case e.Kind == circuit.Source && e.A == name:
			add(e.Volts.Show(quantity.MetricUnits) + " supply")
		case e.Kind == circuit.Source && e.B == name:
			add("0 V of the " + e.Volts.Show(quantity.MetricUnits))
		case e.Kind == circuit.Reference && e.A == name:
			add("speed input")
		case e.Kind == circuit.Reference && e.B == name:
			add("0 V of the speed input")
		case e.Kind == circuit.Contact && (e.A == name || e.B == name):
			if of := c.Drive.Outputs; e.Group > 0 && e.Group <= len(of) {
				add(of[e.Group-1] + " relay")
			}
		}
	}
	return strings.Join(is, ", ")
}

// asks marks the section as one of the user's own answers.
func (b *builder) asks() { b.sections[len(b.sections)-1].Asks = true }

// mostItems is how many items of a list stand on the sheet with all that could be written of them: a circuit written by hand may have a
// hundred wires, which the wire list shows.
const mostItems = 60

// eachOf adds a list of the job file, each item to be changed in place, and offers to add one.
func (b *builder) eachOf(title, list, one, lead string, count int, name func(n int) string) {
	b.section(2, title, lead)
	b.asks()
	b.sections[len(b.sections)-1].Adds = list
	if count == 0 {
		b.add(Paragraph{Text: "None written down."})
	}
	for n := range min(count, mostItems) {
		text := name(n)
		if text == "" {
			text = fmt.Sprintf("%s %d", one, n+1)
		}
		b.written(capital(one)+" "+strings.TrimPrefix(text, one+" "), fmt.Sprintf("%s[%d]", list, n))
	}
	if count > mostItems {
		b.add(Paragraph{Text: fmt.Sprintf("And %d more, in the job file under %s.", count-mostItems, list)})
	}
}

// written adds what is written of an item, and the rest as one folded list: an item has many values that hardly anybody needs.
func (b *builder) written(title, section string) {
	var written, rest []Value
	for _, e := range b.plan.Job.Entries(section) {
		if v := b.input(e); v.Origin != explain.Missing || len(v.Findings) > 0 {
			written = append(written, v)
		} else {
			rest = append(rest, v)
		}
	}
	if len(written) > 0 {
		b.add(Values{Title: title, Rows: written})
		title = "Not written of " + strings.ToLower(title[:1]) + title[1:]
	}
	if len(rest) > 0 {
		b.add(Values{Title: title, Rows: rest, Unwritten: true})
	}
}

// wiredToDo says in a sentence or two what the circuit does, from what is in it.
func (b *builder) wiredToDo(c *circuit.Circuit) string {
	if len(c.Devices) == 0 {
		return "No circuit yet. Say below what the controls must do, and it is made: devices, wires, drawing, papers and proof."
	}
	has := func(r circuit.Role) bool { return len(c.ByRole(r)) > 0 }
	var does []string
	switch {
	case has(circuit.HoldsRun) && has(circuit.Start):
		does = append(does, "start and stop by buttons, held by a relay")
	case has(circuit.RunSwitch):
		does = append(does, "run by a switch that stays where it is put")
	case has(circuit.Start) && has(circuit.Stop):
		does = append(does, "start and stop by buttons, held by the drive")
	case has(circuit.Start):
		does = append(does, "start by a button")
	}
	if has(circuit.EmergencyRole) {
		does = append(does, "an emergency stop into "+b.emergencyInto(c))
	}
	for _, one := range []struct {
		role  circuit.Role
		words string
	}{
		{circuit.Guard, "a guard switch"}, {circuit.FootBrake, "a foot brake switch"}, {circuit.Jog, "jog while the button is held"},
		{circuit.StartReverse, "reverse by its own button"}, {circuit.Direction, "reverse by a selector switch"}, {circuit.SpeedKnob, "speed by a knob"},
		{circuit.SpeedStep, "speed in steps"}, {circuit.Reset, "a reset button"}, {circuit.LoadContactor, "a contactor for another load that follows the run"},
	} {
		if has(one.role) {
			does = append(does, one.words)
		}
	}
	if len(c.ByKind(circuit.Readout)) > 0 {
		does = append(does, "a remote readout")
	}
	counts := fmt.Sprintf("%s, %s, %s", many(len(c.Devices), "device", "devices"), many(len(c.Wires), "wire", "wires"), many(len(c.Cables), "cable", "cables"))
	if len(does) == 0 {
		return "A circuit of " + counts + "."
	}
	text := "The circuit is wired for " + listed(does) + ". It has " + counts + "."
	if assumed := b.assumedChoices(); assumed > 0 {
		text += fmt.Sprintf(" %d of the choices behind it are assumed: look through them before you buy.", assumed)
	}
	return text
}

// emergencyInto says what the emergency stop acts on, as the job has it.
func (b *builder) emergencyInto(c *circuit.Circuit) string {
	switch {
	case len(c.ByRole(circuit.SupplyContactor)) > 0 && len(c.ByRole(circuit.DelaysPowerOff)) > 0:
		return "a ramp, then a contactor that cuts the power after a delay"
	case len(c.ByRole(circuit.SupplyContactor)) > 0:
		return "a contactor that cuts the power"
	case c.Drive.SafeChannels > 0:
		return "the drive's safe-torque-off inputs"
	}
	return "the control circuit"
}

// assumedChoices counts what is assumed about the controls.
func (b *builder) assumedChoices() int {
	n := 0
	for path := range b.assumed {
		if strings.HasPrefix(path, "controls.") || strings.HasPrefix(path, "drive control.") {
			n++
		}
	}
	return n
}

// devices adds the table of all devices.
func (b *builder) devices(c *circuit.Circuit) {
	if len(c.Devices) == 0 {
		return
	}
	t := Table{Title: "Devices", Head: []string{"tag", "what it is", "where", "contacts at rest"}, Numeric: make([]bool, 4), Chosen: -1,
		Note: "Contacts as they stand with nobody touching anything and no power: NC closed, NO open."}
	var grounds []string
	for _, d := range c.Devices {
		if d.Kind == circuit.GroundBar {
			grounds = append(grounds, d.Tag+" "+strings.TrimPrefix(d.Words, "ground stud of "))
			continue
		}
		t.Rows = append(t.Rows, []string{d.Tag, d.Words, d.Place, contactsAtRest(d)})
	}
	if grounds != nil {
		t.Note += " Ground bars and studs: " + strings.Join(grounds, ", ") + "."
	}
	b.add(t)
}

// contactsAtRest lists a device's contacts: "11-12 NC, 23-24 NO"; of a switch with positions, where each is closed.
func contactsAtRest(d circuit.Device) string {
	var parts []string
	for _, e := range d.Elements {
		switch {
		case e.Kind != circuit.Contact || e.Group > 0:
		case d.Kind == circuit.Selector:
			parts = append(parts, e.A+"-"+e.B+" closed in "+listed(positionsOf(d, e)))
		case e.In&1 == 1:
			parts = append(parts, e.A+"-"+e.B+" NC")
		default:
			parts = append(parts, e.A+"-"+e.B+" NO")
		}
	}
	return strings.Join(parts, ", ")
}

// positionsOf are the positions in which the contact is closed.
func positionsOf(d circuit.Device, e circuit.Element) []string {
	var in []string
	for n, p := range d.Positions {
		if e.In>>n&1 == 1 {
			in = append(in, p)
		}
	}
	return in
}

// handled are the kinds of device that a person moves.
var handled = []circuit.Kind{circuit.PushButton, circuit.Selector, circuit.EmergencyStop, circuit.PositionSwitch, circuit.FootSwitch, circuit.MainSwitch}

// buttons adds what every button does: its contacts in each position, and what the machine does when it is used.
func (b *builder) buttons(c *circuit.Circuit) {
	t := Table{Title: "Every button, by its contacts", Head: []string{"what is used", "brought to", "closed then", "open then"}, Numeric: make([]bool, 4), Chosen: -1}
	for _, d := range c.Devices {
		if !slices.Contains(handled, d.Kind) {
			continue
		}
		for n, position := range d.Positions {
			if n == 0 { // its rest, which the table of devices shows
				continue
			}
			var closed, open []string
			for _, e := range d.Elements {
				if e.Kind != circuit.Contact || e.Group > 0 {
					continue
				}
				if e.In>>n&1 == 1 {
					closed = append(closed, e.A+"-"+e.B)
				} else {
					open = append(open, e.A+"-"+e.B)
				}
			}
			t.Rows = append(t.Rows, []string{d.Tag + " " + d.Words, position, dashed(closed), dashed(open)})
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	b.section(2, "What every button does", "With nothing broken. What happens when something is broken stands under Prove.")
	b.script()
	b.add(t)
}

// controlFigures adds what the controls draw, lose on the way and load.
func (b *builder) controlFigures() {
	f := b.plan.Circuit.Figures
	var far []explain.Because
	for _, e := range f.FarEnds {
		far = append(far, e.Left)
	}
	known := func(values ...explain.Because) bool {
		return slices.ContainsFunc(values, func(v explain.Because) bool { return v.Why().There() })
	}
	if len(f.Supplies) == 0 && !known(far...) && !known(f.Input, f.Knob.Current, f.Serial.Load) {
		return
	}
	b.section(2, "What the controls draw and lose", "Everything on at once that can be on, on the control supply; and what is left at the far end of thin cores.")
	for _, s := range f.Supplies {
		b.values("", s.Use, s.Load, s.Gives, s.Inrush)
	}
	if known(far...) {
		b.values("Left at the far end of a cable", far...)
	}
	if known(f.Input) {
		b.values("", f.Input)
	}
	if known(f.Knob.Current) {
		b.values("Speed knob", f.Knob.Current, f.Knob.Power, f.Knob.Loading)
	}
	if known(f.Serial.Load) {
		b.values("Serial line", f.Serial.Load)
	}
}

// dashed lists words; a dash for none.
func dashed(words []string) string {
	if len(words) == 0 {
		return "—"
	}
	return strings.Join(words, ", ")
}

// script adds what the whole machine does at each step, as the simulation showed it.
func (b *builder) script() {
	p := b.plan.Proof
	if p == nil || len(p.Report.Script) == 0 {
		return
	}
	t := Table{Title: "What the machine does", Head: []string{"what you do", "while the motor", "then the motor", "lit", "pulled in", "has power"}, Numeric: make([]bool, 6), Chosen: -1,
		Note: "Simulated step by step; what does the same again, and letting go of what then changes nothing, stands once. Try it like this at the machine, belts off, before you trust it."}
	before, ran := "has no power", false
	var hand leftSo
	seen := map[string]bool{}
	for _, step := range p.Report.Script {
		action := hand.after(step.Action)
		motor := b.motorDoes(step.State, ran)
		ran = step.State.Torque
		row := []string{action, before, motor, dashed(step.State.Lamps), dashed(step.State.PulledIn), dashed(step.State.Loads)}
		key := strings.Join(row, "\x00")
		if letGo := strings.HasPrefix(step.Action, "let go of "); !seen[key] && (!letGo || motor != before) {
			t.Rows = append(t.Rows, row)
		}
		seen[key] = true
		before = motor
	}
	b.add(withoutEmpty(t))
}

// motorDoes says what the motor does in a state; ran is whether it had torque just before.
func (b *builder) motorDoes(s prove.State, ran bool) string {
	motor := "stands still"
	if ran {
		motor = "has no torque, and stops"
	}
	switch {
	case s.Torque && s.Reverse:
		motor = "runs in reverse at " + s.Speed.Show(b.units)
	case s.Torque:
		motor = "runs at " + s.Speed.Show(b.units)
	case s.SafeOff:
		motor = "has no torque, and none can come"
	}
	if s.Overload != "" {
		motor += "; " + s.Overload + " is overloaded"
	}
	if s.Chatters {
		motor += "; a relay chatters"
	}
	return motor
}

// withoutEmpty leaves out the columns in which nothing stands but dashes.
func withoutEmpty(t Table) Table {
	for n := len(t.Head) - 1; n > 0; n-- {
		if slices.ContainsFunc(t.Rows, func(row []string) bool { return row[n] != "" && row[n] != "—" }) {
			continue
		}
		t.Head, t.Numeric = slices.Delete(t.Head, n, n+1), slices.Delete(t.Numeric, n, n+1)
		for k := range t.Rows {
			t.Rows[k] = slices.Delete(t.Rows[k], n, n+1)
		}
	}
	return t
}
