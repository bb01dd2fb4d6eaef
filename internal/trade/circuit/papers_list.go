package circuit

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// List is one of the papers as rows: the same rows make the table on the sheet and the file for a spreadsheet.
type List struct {
	Name    string // one word, as the command line asks for it
	Title   string
	Head    []string
	Numeric []bool
	Rows    [][]string
	Note    string
}

// ListNames are the names of the lists, in the order of the sheet.
func ListNames() []string { return []string{"wires", "cores", "terminals", "parts", "labels", "order"} }

// List returns the list of the name with all texts in the unit system; an empty one for a name that isn't among ListNames.
func (p *Papers) List(name string, s quantity.System) List {
	switch name {
	case "wires":
		return p.wiresAsList(s)
	case "cores":
		return p.coresAsList()
	case "terminals":
		return p.terminalsAsList()
	case "parts":
		return p.partsAsList(s)
	case "labels":
		return p.labelsAsList(s)
	case "order":
		return p.orderAsList()
	}
	return List{Name: name}
}

// notKnown stands in the papers where a size should.
const notKnown = "not known"

// unsized says of which wires nobody knows the size, and why: they can't be bought yet. It is empty where every size is known.
func (p *Papers) unsized(s quantity.System) string {
	var reasons []string
	of := map[string][]string{}
	for _, w := range p.Wires {
		if w.Size.OK() {
			continue
		}
		why := "nobody said"
		if r := w.Size.Why(); r != nil && r.Note.Show(s) != "" {
			why = r.Note.Show(s)
		} else if r != nil && r.Name != "" {
			why = "needs the " + r.Name
		}
		if of[why] == nil {
			reasons = append(reasons, why)
		}
		of[why] = append(of[why], w.Name)
	}
	var text []string
	for _, why := range reasons {
		text = append(text, "Size not known of "+strings.Join(of[why], ", ")+": "+why+".")
	}
	if text != nil {
		text = append(text, "Don't buy them yet: have the size told by the electrician or the tables of your country, and write it under supply (conductor) and motor (cable conductor), or to the wire.")
	}
	return strings.Join(text, " ")
}

// Measure prints a value that may be missing; a stroke where it is.
func Measure[V quantity.Value](k explain.Known[V], s quantity.System) string {
	if !k.OK() {
		return "—"
	}
	return k.Value.Show(s)
}

func (p *Papers) wiresAsList(s quantity.System) List {
	l := List{Name: "wires", Title: "Wire list", Head: []string{"wire", "number", "from", "to", "size", "colour", "length", "ferrule", "strip", "in cable"},
		Numeric: []bool{false, false, false, false, true, false, true, false, true, false},
		Note:    "The number is printed on both ends; the wire's own name tells wires of one number apart. Strip both ends alike."}
	if text := p.unsized(s); text != "" {
		l.Note += " " + text
	}
	for _, w := range p.Wires {
		in, size, strip := "", notKnown, "see device"
		if w.Strip.OK() {
			strip = w.Strip.Value.Show(s)
		}
		if w.Size.OK() {
			size = w.Size.Value.Show(s)
		}
		if w.Cable != "" {
			in = w.Cable + " core " + w.Core
		}
		l.Rows = append(l.Rows, []string{w.Name, w.Number, w.Begin.Text(), w.Finish.Text(), size, w.Colour, Measure(w.Length, s), w.Ferrule, strip, in})
	}
	return l
}

func (p *Papers) coresAsList() List {
	l := List{Name: "cores", Title: "Cable and core chart", Head: []string{"cable", "core", "pair", "wire", "in the box", "at the other end"},
		Numeric: make([]bool, 6)}
	for _, c := range p.Cables {
		for _, line := range c.Lines {
			pair := ""
			if line.Pair > 0 {
				pair = fmt.Sprint(line.Pair)
			}
			near := line.AtBox.Text()
			if line.Note != "" {
				near = line.Note
			}
			l.Rows = append(l.Rows, []string{c.Tag, line.Name, pair, line.Core.Wire, near, line.Far.Text()})
		}
		if c.Screen.Fitted {
			l.Rows = append(l.Rows, []string{c.Tag, "screen", "", "", c.ScreenText, ""})
		}
	}
	return l
}

func (p *Papers) terminalsAsList() List {
	l := List{Name: "terminals", Title: "Terminal plan", Head: []string{"strip", "terminal", "wires of the box", "cores of cables", "jumper to"}, Numeric: make([]bool, 5),
		Note: "Wires of the box come to one side of a terminal block, cores of cables to the other."}
	texts := func(joints []Joint) string {
		var parts []string
		for _, j := range joints {
			parts = append(parts, j.Text())
		}
		return strings.Join(parts, "; ")
	}
	for _, strip := range p.Strips {
		for _, row := range strip.Rows {
			l.Rows = append(l.Rows, []string{strip.Tag, row.Terminal, texts(row.Left), texts(row.Right), strings.Join(row.Jumper, ", ")})
		}
	}
	return l
}

func (p *Papers) partsAsList(s quantity.System) List {
	l := List{Name: "parts", Title: "Parts list", Head: []string{"part", "to ask for", "quantity", "for"}, Numeric: []bool{false, false, true, false},
		Note: "Wire and cable with an allowance of " + p.Allowance.Value.Show(s) + " for slack, bends and spoiled ends."}
	for _, part := range p.Parts {
		quantity := Measure(part.Length, s)
		if part.Count.OK() {
			quantity = part.Count.Value.Show(s)
		}
		l.Rows = append(l.Rows, []string{part.What, part.Ask, quantity, part.Tags})
	}
	return l
}

func (p *Papers) labelsAsList(s quantity.System) List {
	l := List{Name: "labels", Title: "Labels", Head: []string{"label", "text", "pieces", "where"}, Numeric: []bool{false, false, true, false}}
	add := func(kind, text, pieces, where string) { l.Rows = append(l.Rows, []string{kind, text, pieces, where}) }
	for _, w := range p.Labels.Warnings {
		add("warning", w.Text.Show(s), "1", w.Where)
	}
	var plate []string
	for _, line := range p.Labels.Plate {
		plate = append(plate, line.Show(s))
	}
	if plate != nil {
		add("name plate", strings.Join(plate, "; "), "1", "on the door")
	}
	for _, g := range p.Labels.Legends {
		add("legend", g.Text, "1", g.Tag+", at: "+g.Place)
	}
	for _, t := range p.Labels.Tags {
		add("device tag", t.Tag, "1", t.Words+", at: "+t.Place)
	}
	for _, strip := range p.Labels.Strips {
		add("terminal strip", strings.Join(strip.Terminals, " "), "1", strip.Tag)
	}
	for _, m := range p.Labels.Markers {
		add("wire marker", m.Text, m.Count.Show(s), "both ends of wire "+m.Wire)
	}
	return l
}

func (p *Papers) orderAsList() List {
	l := List{Name: "order", Title: "Order of work", Head: []string{"stage", "step", "what to do", "wire", "from", "to", "expect", "done"}, Numeric: make([]bool, 8)}
	step := 0
	for _, stage := range p.Order {
		for _, task := range stage.Tasks {
			step++
			l.Rows = append(l.Rows, []string{stage.Title, fmt.Sprint(step), task.Text, task.Wire, task.From, task.To, task.Expect, ""})
		}
	}
	return l
}

// WriteCSV writes the list as comma-separated values (RFC 4180) with its head in the first line. A cell that a spreadsheet would
// take for a formula gets an apostrophe before it, which spreadsheets take for the mark of a text. The error is the writer's.
func (l List) WriteCSV(w io.Writer) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	for _, row := range append([][]string{l.Head}, l.Rows...) {
		cells := make([]string, len(row))
		for n, text := range row {
			cells[n] = harmless(text)
		}
		if err := c.Write(cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// harmless returns the cell's text so that no spreadsheet computes it. Source: OWASP, CSV injection: = + - @, tab and carriage
// return at the beginning of a cell.
func harmless(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r\n", rune(text[0])) {
		return "'" + text
	}
	return text
}
