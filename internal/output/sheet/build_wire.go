package sheet

import (
	"math"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
	"drivewright/internal/trade/circuit"
)

// wire lays out the Wire stage: the papers that the circuit is wired from.
func (b *builder) wire() {
	c := &b.plan.Circuit.Circuit
	if len(c.Wires) == 0 {
		b.section(1, "Wire", "Nothing to wire yet: the circuit has no wires. Say under Controls what the controls must do, or write wires by hand.")
		return
	}
	p := circuit.MakePapers(c, b.plan.Power.Discharge.Wait, b.plan.Power.Discharge.Below)
	p.NamePlate(b.plan.Circuit.Brief)
	b.section(1, "Wire", "The papers that the box is wired from. All of them follow from the one circuit above, so they can't disagree; as files for a spreadsheet they come from: drivewright papers.")
	b.add(Caution{Severity: explain.Danger, Text: "All of this is done with nothing connected to the supply. Where the box has been live before: switch off, lock off, wait, measure, as under “Before a hand goes into the box”."})
	choices := b.plan.Circuit.Choices
	b.values("What the lists reckon with", append(stripped(&p), p.Allowance, choices.InBox, choices.ToDoor, choices.Allowance)...)

	b.section(2, "Wire list", "Cut, strip, number both ends, then tick the wire off in the order of work below.")
	b.list(&p, "wires")
	b.section(2, "Cables and cores", "Which core of which cable carries what. The two cores of a pair stay twisted up to their terminals.")
	if len(p.Cables) == 0 {
		b.add(Paragraph{Text: "The circuit has no cables: everything is wired in one place, or the cables are not written down."})
	} else {
		b.list(&p, "cores")
	}
	b.section(2, "Terminal plan", "What comes to each terminal from either side.")
	if len(p.Strips) == 0 {
		b.add(Paragraph{Text: "The circuit has no terminal block and no ground bar. A wire that leaves the box belongs on a numbered terminal."})
	} else {
		b.list(&p, "terminals")
	}
	b.section(2, "Parts to get", "Counted from the circuit. The power parts of the sheet are sized under Power; here they stand with their tags.")
	b.list(&p, "parts")
	b.separation(&p)
	b.order(&p)
	b.labelSheets(&p)
}

// stripped are the stripped lengths that occur in the wire list, each once.
func stripped(p *circuit.Papers) []explain.Because {
	var list []explain.Because
	seen := map[string]bool{}
	for _, w := range p.Wires {
		if id := w.Strip.Why().ID(); w.Strip.OK() && !seen[id] {
			seen[id] = true
			list = append(list, w.Strip)
		}
	}
	return list
}

// list adds one of the papers as a table. A column in which nothing stands is left out.
func (b *builder) list(p *circuit.Papers, name string) {
	l := p.List(name, b.units)
	switch name {
	case "wires":
		l = b.shorter(p, l)
	case "cores":
		l = firstTwo(l, "core", " ")
	case "terminals":
		l = b.planned(p, l)
	}
	b.add(tableOf(l))
}

// planned shortens the terminal plan: terminals of the drive that nothing comes to are told in one sentence, and a stud for a single wire
// stands in the wire list.
func (b *builder) planned(p *circuit.Papers, l circuit.List) circuit.List {
	single, empty := map[string]bool{}, map[string][]string{}
	for _, s := range p.Strips {
		single[s.Tag] = len(s.Rows) == 1
	}
	drive := b.plan.Circuit.Circuit.Drive.Tag
	l.Rows = slices.DeleteFunc(l.Rows, func(row []string) bool {
		unused := row[0] == drive && row[2] == "" && row[3] == "" && row[4] == ""
		if unused {
			empty[drive] = append(empty[drive], row[1])
		}
		return unused || single[row[0]]
	})
	if empty[drive] != nil {
		l.Note += " Nothing comes to these terminals of " + drive + ": " + strings.Join(empty[drive], ", ") + "."
	}
	return firstTwo(l, "terminal", ":")
}

// firstTwo puts the first two columns into one: the tag and what is counted within it.
func firstTwo(l circuit.List, head, between string) circuit.List {
	l.Head, l.Numeric = append([]string{head}, l.Head[2:]...), l.Numeric[1:]
	for n, row := range l.Rows {
		l.Rows[n] = append([]string{row[0] + between + row[1]}, row[2:]...)
	}
	return l
}

// shorter empties the columns of the wire list that say the same in every row: the numbers where they are the names without their
// last letter, the ferrules where there are none.
func (b *builder) shorter(p *circuit.Papers, l circuit.List) circuit.List {
	number, ferrule := slices.Index(l.Head, "number"), slices.Index(l.Head, "ferrule")
	named := !slices.ContainsFunc(p.Wires, func(w circuit.WireLine) bool {
		return w.Number != strings.TrimRight(w.Name, "abcdefghijklmnopqrstuvwxyz")
	})
	none := !slices.ContainsFunc(p.Wires, func(w circuit.WireLine) bool { return w.Ferrule != "none" })
	for _, row := range l.Rows {
		if named {
			row[number] = ""
		}
		if none {
			row[ferrule] = ""
		}
	}
	if named {
		l.Note = "The number without the small letter is printed on both ends; the letter tells wires of one number apart. Strip both ends alike."
	}
	if none {
		l.Note += " No ferrules by this rule set's habit; where a terminal asks for one, it goes on. Strands are twisted, never tinned."
	}
	return l
}

// tableOf is the list as a table, without the columns in which nothing stands.
func tableOf(l circuit.List) Table {
	t := Table{Chosen: -1, Note: l.Note}
	var kept []int
	for n := range l.Head {
		for _, row := range l.Rows {
			if row[n] != "" {
				kept = append(kept, n)
				break
			}
		}
	}
	for _, n := range kept {
		t.Head, t.Numeric = append(t.Head, l.Head[n]), append(t.Numeric, l.Numeric[n])
	}
	for _, row := range l.Rows {
		var cells []string
		for _, n := range kept {
			cells = append(cells, row[n])
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// separation says how far apart the sorts of cable are kept.
func (b *builder) separation(p *circuit.Papers) {
	b.section(2, "What keeps apart", "A drive's output is full of noise. Beside a motor cable a speed signal wavers, a display goes blind, a start input may count as pressed.")
	t := Table{Head: []string{"which", "least distance", "where"}, Numeric: []bool{false, true, false}, Chosen: -1,
		Note: "Common figures of drive booklets: where yours says more, yours counts. Where two must cross, they cross at a right angle. A tidy bundle of control and motor wires is the neatest way to trouble."}
	for _, s := range p.Apart {
		t.Rows = append(t.Rows, []string{s.Pair, b.whole(s.Distance), s.Where})
	}
	b.add(t)
}

// whole shows a distance that is kept at least: in inch units as the next whole inch.
func (b *builder) whole(l quantity.Length) string {
	if b.units == quantity.InchUnits {
		l = quantity.Length(math.Ceil(float64(l/quantity.Inch))) * quantity.Inch
	}
	return l.Show(b.units)
}

// order adds the order of work as lists to tick off.
func (b *builder) order(p *circuit.Papers) {
	b.section(2, "Order of work", "From the bare plate to the supply cable. Each line is one wire, or one end of a core: tick it when it is under its screw and has been tugged. What stands later can't be reached, or can be harmed, by what stands earlier.")
	for _, s := range p.Order {
		if s.Caution != "" {
			b.add(Caution{Severity: explain.Danger, Text: s.Caution})
		}
		ticks := Ticks{Title: s.Title, Lead: s.Lead}
		for _, task := range s.Tasks {
			ticks.Items = append(ticks.Items, Tick{Text: task.Text, Expect: task.Expect})
		}
		b.add(ticks)
	}
}

// labelSheets adds the labels at true size.
func (b *builder) labelSheets(p *circuit.Papers) {
	b.section(2, "Labels", "At true size: print them without fitting to the page, measure the bar, cut along the thin lines. Under clear tape or in sleeves they outlast the machine.")
	s := drawing.LabelSheet{ID: "labels", Title: "Labels"}
	var said []string
	group := func(title string, labels []drawing.Label) {
		if len(labels) > 0 {
			s.Groups = append(s.Groups, drawing.LabelGroup{Title: title, Labels: labels})
		}
	}
	var warnings, legends, tags, strips, markers []drawing.Label
	for _, w := range p.Labels.Warnings {
		kind := drawing.WarningSign
		if strings.HasPrefix(w.Text.Show(b.units), "DANGER") {
			kind = drawing.ShockSign
		}
		warnings = append(warnings, drawing.Label{Kind: kind, Text: w.Text.Show(b.units)})
		said = append(said, w.Where+": "+w.Text.Show(b.units))
	}
	for _, l := range p.Labels.Legends {
		legends = append(legends, drawing.Label{Kind: drawing.LegendPlate, Text: l.Text})
	}
	for _, t := range p.Labels.Tags {
		tags = append(tags, drawing.Label{Kind: drawing.DeviceTag, Text: t.Tag, Small: t.Words})
	}
	for _, l := range p.Labels.Strips {
		strips = append(strips, drawing.Label{Kind: drawing.StripMarker, Text: l.Tag, Fields: l.Terminals})
	}
	for _, m := range p.Labels.Markers {
		for range int(m.Count) {
			markers = append(markers, drawing.Label{Kind: drawing.WireMarker, Text: m.Text})
		}
	}
	var plate []drawing.Label
	if len(p.Labels.Plate) > 0 {
		var lines []string
		for _, line := range p.Labels.Plate {
			lines = append(lines, line.Show(b.units))
		}
		plate = []drawing.Label{{Kind: drawing.NamePlate, Text: titleOf(b.plan), Fields: lines}}
		said = append(said, "name plate: "+strings.Join(lines, "; "))
	}
	group("Warnings, for the box", warnings)
	group("Name plate, on the door", plate)
	group("Legends, beside buttons and lamps", legends)
	group("Terminal strips", strips)
	group("Device tags", tags)
	group("Wire markers, two of each wire", markers)
	s.Alt = strings.Join(append(said, many(len(legends), "legend", "legends"), many(len(strips), "terminal strip", "terminal strips"),
		many(len(tags), "device tag", "device tags"), many(len(markers), "wire marker", "wire markers")), "; ") + "."
	wide, narrow := drawing.Labels(s)
	for n, f := range wide {
		b.add(Figure{Figure: f, Narrow: &narrow[n]})
	}
}
