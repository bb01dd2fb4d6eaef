package sheet

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/power"
)

// power lays out the Power stage: voltage first, then amperes, then what follows from them.
func (b *builder) power() {
	r := b.plan.Power
	b.section(1, "Power", "What has to stand between the wall and the motor. Voltage comes first, because a drive makes no more volts than it is fed; then amperes, never horsepower, decide every size.")
	b.singleLine(r)
	b.parts(r)

	b.section(2, "Can the volts be made", "If this part says no, buy nothing before you have read the ways out.")
	v := r.Voltage
	b.values("", v.Available, v.Ratio, v.Meaning, v.Wanted, v.BaseFrequency, v.FullPower)
	b.numbered("Ways out, the least intrusive first", v.WaysOut)

	b.leads(r)

	b.section(2, "Motor current", "Two figures, each with its own use: the code's table sizes wires and devices, the nameplate sizes the drive and protects the motor.")
	b.values("", r.Motor.Table, r.Motor.Nameplate, r.Motor.AtService)

	b.ways(r)
	b.drive(r)
	b.branch(r)
	b.protection(r)
	b.cord(r)
	b.motor(r)

	b.section(2, "Before a hand goes into the box", "The drive's capacitors stay charged after the main switch is off.")
	b.values("", r.Discharge.Wait, r.Discharge.Below, r.Discharge.Peak, r.Discharge.Energy, r.Discharge.Computed)
	b.add(Caution{Severity: explain.Danger, Text: "Switch off, lock off, wait the time above, then measure between DC+ and DC− with a meter that you have just proved on a live source. Only below " +
		r.Discharge.Below.Why().Show(b.units) + " may a hand go in. A lamp or display that has gone out proves nothing."})
	b.add(Ticks{Title: "Each time, in this order", Items: []Tick{
		{Text: "Meter proved on a known live source"},
		{Text: "Main switch off, padlock on, key in your own pocket"},
		{Text: "Waited", Expect: r.Discharge.Wait.Why().Show(b.units)},
		{Text: "Measured DC+ to DC−", Expect: "below " + r.Discharge.Below.Why().Show(b.units)},
		{Text: "Measured each supply terminal to each other and to ground", Expect: "0 V"},
		{Text: "Meter proved again on the live source"},
	}})
}

func (b *builder) leads(r power.Result) {
	c := r.Connection
	b.section(2, "Motor leads", "Which lead goes where for the voltage wanted. Find the groups with an ohmmeter, each lead against every other, with nothing connected.")
	if !c.Problem.Empty() {
		b.add(Caution{Severity: explain.Must, Text: sentence(c.Problem.Show(b.units))})
	}
	b.values("", c.Winding, c.Text)
	b.numbered("Giving unmarked leads their numbers", c.Procedure)
	if len(c.Choices) > 0 {
		t := Table{Title: "Only the plate's own diagram can decide", Head: []string{"connection", "joints", "the right one"}, Numeric: make([]bool, 3), Chosen: -1}
		for _, choice := range c.Choices {
			t.Rows = append(t.Rows, []string{choice.Name, choice.Text, choice.When.Show(b.units)})
		}
		b.add(t)
	}
	b.leadFigure(r)
	if len(c.Joins) == 0 {
		return
	}
	items := []Tick{{Text: "Main switch off and locked, drive disconnected, nothing else on the leads"}}
	for _, reading := range c.Readings {
		var pairs []string
		for _, pair := range reading.Between {
			pairs = append(pairs, pair[0]+" to "+pair[1])
		}
		items = append(items, Tick{Text: "Ohms " + listed(pairs), Expect: "all the same within 5 %, " + coils(reading.Coils)})
	}
	if len(c.Readings) > 0 {
		items = append(items, Tick{Text: "Each lead to every lead that isn't named with it above", Expect: "open"})
	} else {
		items = append(items, Tick{Text: "Ohms between each two of the leads", Expect: "some ohms, equal within 5 %"})
	}
	items = append(items, Tick{Text: "Each lead to the bare motor frame", Expect: "open"})
	for _, j := range c.Joins {
		switch {
		case j.Line != "" && len(j.Leads) > 0:
			items = append(items, Tick{Text: "Joined: " + j.Line + " with " + listed(j.Leads)})
		case j.Line == "":
			items = append(items, Tick{Text: "Joined to one another and to nothing else, insulated: " + listed(j.Leads)})
		}
	}
	items = append(items, Tick{Text: "After joining: L1 to L2, L2 to L3, L3 to L1", Expect: "equal within 5 %"})
	b.add(Ticks{Title: "At the motor's terminal box", Items: items})
}

// coils says a resistance as a multiple of one coil's.
func coils(multiple float64) string {
	if multiple == 1 {
		return "one coil"
	}
	return quantity.Round(multiple, 3) + " × one coil"
}

func listed(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	text := words[0]
	for _, w := range words[1 : len(words)-1] {
		text += ", " + w
	}
	return text + " and " + words[len(words)-1]
}

// sentence makes a finding's words a sentence: capital first, full stop last.
func sentence(words string) string {
	if words == "" {
		return ""
	}
	runes := []rune(words)
	if runes[0] >= 'a' && runes[0] <= 'z' {
		runes[0] -= 'a' - 'A'
	}
	if last := runes[len(runes)-1]; last != '.' && last != '?' && last != '!' {
		runes = append(runes, '.')
	}
	return string(runes)
}

func (b *builder) ways(r power.Result) {
	if len(r.Ways) == 0 {
		return
	}
	b.section(2, "Ways to get there", "The same machine, the same supply, in figures. A price that you were not quoted is a typical one; write yours into the job file under costs.")
	var head = []string{""}
	for _, w := range r.Ways {
		head = append(head, w.Name)
	}
	line := func(label string, cell func(power.Way) string) []string {
		row := []string{label}
		for _, w := range r.Ways {
			row = append(row, cell(w))
		}
		return row
	}
	shown := func(v quantity.Value) string {
		if v == nil {
			return "—"
		}
		return v.Show(b.units)
	}
	b.add(Table{Head: head, Numeric: make([]bool, len(head)), Chosen: -1, Rows: [][]string{
		line("will it do", func(w power.Way) string { return yesNo(w.Feasible) }),
		line("why", func(w power.Way) string { return w.Why.Show(b.units) }),
		line("rating to ask for", func(w power.Way) string { return shown(w.Size) }),
		line("current from the supply", func(w power.Way) string { return shown(w.Input) }),
		line("branch conductor", func(w power.Way) string { return shown(w.Conductor) }),
		line("overcurrent device", func(w power.Way) string { return shown(w.Device) }),
		line("slowest useful frequency", func(w power.Way) string { return shown(w.LowSpeed) }),
		line("braking", func(w power.Way) string { return w.Braking }),
		line("power left at the plate frequency", func(w power.Way) string { return shown(w.FullTorque) }),
		line("heat lost at full load", func(w power.Way) string { return shown(w.Losses) }),
		line("price", func(w power.Way) string {
			if w.Price == nil || w.PriceQuoted {
				return shown(w.Price)
			}
			return "about " + shown(w.Price)
		}),
		line("can it be undone", func(w power.Way) string { return w.Reversible }),
	}})
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

func (b *builder) drive(r power.Result) {
	d := r.Drive
	lead := "You own no drive yet, so the smallest typical one that passes is taken. Its figures are typical: when you have chosen a real one, write its data sheet into the job file and everything is worked out again."
	switch {
	case d.Own:
		lead = "Your drive's data sheet, checked against what the motor asks."
	case !d.Name.OK():
		lead = sentence(b.needs(d.Name.Why()))
	}
	b.section(2, "Drive", lead)
	b.values("", d.Name, d.Needed, d.Output, d.Kept, d.InputAtLoad, d.InputLeast)
	if d.Own {
		b.inputs("Data sheet of your drive", "drive")
		return
	}
	if !d.Name.OK() {
		b.inputs("To be copied from your drive's data sheet", "drive")
		return
	}
	b.values("Typical figures of that drive", d.Marked, d.Input, d.InputPhases, d.OutputVoltage, d.Overload, d.MaxDevice, d.ShortCircuit, d.Leakage, d.Losses, d.Capacitance)
	b.candidates("Drives that were considered, smallest first", []string{"drive", "output here", "rated input"}, d.Considered)
	b.inputs("To be copied from your drive's data sheet", "drive")
}

// candidates adds a table of what was considered, with the first that passes marked.
func (b *builder) candidates(title string, head []string, list []power.Candidate) {
	if len(list) == 0 {
		return
	}
	t := Table{Title: title, Head: append(slices.Clone(head), "verdict"), Chosen: -1}
	for n, c := range list {
		row := []string{c.Name}
		for _, v := range c.Figures {
			row = append(row, v.Show(b.units))
		}
		for len(row) < len(head) {
			row = append(row, "")
		}
		t.Rows = append(t.Rows, append(row, c.Verdict.Show(b.units)))
		if c.Passes && t.Chosen < 0 {
			t.Chosen = n
		}
	}
	t.Numeric = make([]bool, len(t.Head))
	for n := 1; n < len(head); n++ {
		t.Numeric[n] = true
	}
	b.add(t)
}

func (b *builder) branch(r power.Result) {
	b.section(2, "Branch circuit", "From the source breaker to the drive. The drive's rated input current counts, not the motor's: on single phase it is about twice as much.")
	c := r.Branch
	b.values("Conductor", c.Conductor, c.Smallest, c.Ampacity, c.Least, c.Current, c.Others, c.Device, c.Insulation, c.Terminals, c.Ambient, c.Correction, c.Together, c.Adjustment)
	b.candidates("Sizes that were considered", []string{"size", "as installed", "asked for"}, c.Considered)
	g := r.Grounding
	b.values("Equipment grounding conductor", g.Conductor, g.Least, g.Base, g.Second, g.Expected)
	d := r.Drop
	b.values("Voltage drop", d.RunningRatio, d.Running, d.Limit, d.ForThree, d.StartRatio, d.Start, d.AtDrive, d.AcrossLineRatio, d.Resistance)
	w := r.Raceway
	b.values("Raceway", w.Size, w.Fill, w.Limit, w.Conductors, w.Area)
}

func (b *builder) protection(r power.Result) {
	b.section(2, "Overcurrent device", "It must carry the drive's input current and still be small enough for the wire, for the code and for the drive's maker.")
	b.add(Caution{Severity: explain.Danger, Text: "Work in the panel is work beside live bars even with the main breaker off. Where you are not licensed for it, have this part done and inspected."})
	p := r.Protection
	if !p.Conflict.Empty() {
		b.add(Caution{Severity: explain.Must, Text: sentence(p.Conflict.Show(b.units))})
	}
	if p.InBox.OK() {
		// Two devices, each with its own work: the one in the box for the drive, the one at the source for the wire.
		b.values("Nearest the drive, in the box", p.InBox, p.Kind, p.CarryDrive, p.ForDrive)
		var source []explain.Because
		if !b.plan.Job.Supply.Breaker.Set {
			source = append(source, p.AtSource)
		}
		if p.Carry.Why() != p.CarryDrive.Why() {
			source = append(source, p.Carry)
		}
		b.values("At the source, for the wire", append(source, p.Least, p.OnWire)...)
	} else {
		b.values("", p.Chosen, p.Kind, p.Carry, p.Least, p.Most, p.InBox)
	}
	if len(p.ByRule) > 0 {
		t := Table{Title: "Each limit by itself", Head: []string{"limit", "amperes", "where it comes from"}, Numeric: []bool{false, true, false}, Chosen: -1}
		for _, l := range p.ByRule {
			why := l.Value.Why()
			t.Rows = append(t.Rows, []string{l.Name, why.Show(b.units), whereFrom(why)})
		}
		b.add(t)
	}
	b.section(2, "Main switch", "It cuts everything, can be locked off, and is seen from the motor.")
	s := r.Disconnect
	b.values("", s.Size, s.Amperes, s.Horsepower, s.Category, s.Break, s.Breaks)
	b.numbered("Stays live when it is off", s.Live)
	b.inputs("What you own already", "box")

	b.section(2, "Fault current", "What a short circuit at the box would draw before the device opens: no part may be rated for less.")
	f := r.Fault
	b.values("", f.Rating, f.Weakest, f.AtBox, f.AtPanel, f.Transformer)

	b.section(2, "Line filter and leakage to ground", "A filter keeps the drive's noise off the line, and leaks a little to ground all day. A ground-fault device can't tell that from a person.")
	l := r.Leakage
	b.values("", l.Filter, l.Total, l.Share, l.Most, l.Trip, l.Type, l.Machine, l.Drive, l.Cable, l.Other)
	b.numbered("Lawful ways out, in the order to try them", l.WaysOut)
}

// whereFrom is the published place of a limit, or the place in the job file that it was given at.
func whereFrom(r *explain.Reason) string {
	if source := r.Source.String(); source != "" {
		return source
	}
	if place := explain.Place(r); place != nil {
		return "given as " + place.Path
	}
	return r.Origin.String()
}

func (b *builder) cord(r power.Result) {
	if r.Cord.Conductor.Why().Origin == explain.NotNeeded {
		return
	}
	b.section(2, "Cord, plug and receptacle", "Where the machine is not wired in.")
	c := r.Cord
	b.values("", c.Receptacle, c.Asked, c.Rating, c.Conductor, c.Smallest, c.Ampacity, c.Correction)
}

func (b *builder) motor(r power.Result) {
	b.section(2, "Motor protection and cable", "What keeps the motor from cooking, slow or fast, and what arrives at the far end of its cable.")
	b.values("Overload protection", r.Overload.By, r.Overload.Setting, r.Overload.Most, r.Overload.IfStart)
	c := r.Cooling
	b.values("Cooling at low speed", c.Lowest, c.Needed, c.Allowed, c.Slowest, c.Overtime)
	m := r.MotorLead
	b.values("Motor cable", m.Conductor, m.Smallest, m.Ampacity, m.Drop, m.Critical, m.Peak, m.Withstand)
}
