package circuit

import (
	"cmp"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// Papers are what the circuit is wired from: who goes where, what to cut and buy, what to print, what comes after what. All of
// it follows from the circuit; nothing is written twice. Begin with List, which lays each paper out as rows.
type Papers struct {
	Set    explain.RuleSet
	Wires  []WireLine   // in the order of their numbers
	Cables []CableChart // in the circuit's order
	Strips []Strip
	Parts  []PartLine
	Labels Labels
	Order  []Stage
	// Allowance is added to wire and cable that is bought.
	Allowance explain.Known[quantity.Ratio]
	// Bare is how much insulation comes off a wire that gets no ferrule.
	Bare explain.Known[quantity.Length]
	// Apart are the distances between sorts of cable.
	Apart []catalogue.Separation
	// Wait and Below are how long to wait and the voltage to measure below, for the warning labels; missing where not known.
	Wait  explain.Known[quantity.Duration]
	Below explain.Known[quantity.Voltage]
}

// End is one end of a wire.
type End struct {
	Pin   Pin
	Words string // of the device: "stop button, apron"
	Place string
}

// WireLine is one line of the wire list.
type WireLine struct {
	Wire
	Begin, Finish End // of From and To
	// Ferrule is what is pressed on both ends: "0.75 mm², grey"; "none" where the rule set's shops use none.
	Ferrule string
	// Strip is how much insulation comes off each end.
	Strip explain.Known[quantity.Length]
}

// CableChart is one cable with all its cores.
type CableChart struct {
	Cable
	Lines  []CoreLine
	Spares int
	// ScreenText says where the screen is joined to ground, in words.
	ScreenText string
}

// CoreLine is one core of a cable.
type CoreLine struct {
	Core
	Number     string // of the potential; "" for a spare
	AtBox, Far End    // zero for a spare
	Note       string // "spare, grounded at the box"
}

// MakePapers makes the papers of a circuit. Time and voltage of the warning label come from the Power stage; they may be missing.
func MakePapers(c *Circuit, wait explain.Known[quantity.Duration], below explain.Known[quantity.Voltage]) Papers {
	p := Papers{Set: c.Set, Apart: catalogue.Separations(), Wait: wait, Below: below,
		Allowance: explain.Assume("allowance on wire and cable", 10*quantity.Percent, explain.Practice("buying wire"),
			explain.Say("for slack, bends and spoiled ends, added to what is bought")),
		Bare: bare(c.Set)}
	p.Wires = wireList(c, &p)
	p.Cables = cableCharts(c)
	p.Strips = strips(c)
	p.Parts = parts(c, &p)
	p.Labels = labels(c, &p)
	p.Order = order(c, &p)
	return p
}

// bare is how far a wire without a ferrule is stripped.
func bare(set explain.RuleSet) explain.Known[quantity.Length] {
	length := 9 * quantity.Millimetre
	if set == explain.US {
		length = 0.375 * quantity.Inch
	}
	return explain.Assume("stripped length of a control wire", length, explain.Practice("screw terminals for small wires"), explain.Say("the figure or gauge at the terminal goes before this"))
}

// small is the thickest wire that is stripped as control wires are. Larger ones go by the figure on their device.
var small = quantity.AWG(14).Area() * 1.3 // takes 2.5 mm² in, keeps 12 AWG out

// end describes one end of a wire.
func (c *Circuit) end(p Pin) End {
	e := End{Pin: p}
	if d := c.Device(p.Device); d != nil {
		e.Words, e.Place = d.Words, d.Place
		if d.Kind == TerminalBlock { // its tag says it all
			e.Words = ""
		}
	}
	return e
}

// Text prints the end as the papers do: S1:12 stop button, at the apron.
func (e End) Text() string {
	if e.Pin == (Pin{}) {
		return ""
	}
	text := e.Pin.String()
	if e.Words != "" {
		text += " " + e.Words
	}
	if e.Place != "" && e.Place != "box" && !strings.HasSuffix(e.Words, e.Place) {
		text += ", at: " + e.Place
	}
	return text
}

// wireList lists all wires by their numbers.
func wireList(c *Circuit, p *Papers) []WireLine {
	var list []WireLine
	for _, w := range c.Wires {
		line := WireLine{Wire: w, Begin: c.end(w.From), Finish: c.end(w.To), Ferrule: "none", Strip: p.Bare}
		if f, ok := catalogue.FerruleFor(w.Size.Value); ok && w.Size.OK() && c.Set == explain.IEC {
			size := f.Size.Show(quantity.MetricUnits)
			line.Ferrule = size + ", " + f.Colour
			sleeve := explain.Constant("sleeve of the "+size+" ferrule", f.Sleeve, f.Source)
			line.Strip = explain.Chosen("stripped length for the "+size+" ferrule", f.Sleeve+2*quantity.Millimetre, "{"+sleeve.Why().Name+"} and 2 mm under the collar",
				explain.Practice("ferrules with a plastic collar"), sleeve)
		}
		if line.Ferrule == "none" && (isPower(c.duty(&w)) || w.Size.OK() && w.Size.Value.Area() > small) {
			line.Strip = explain.Absent[quantity.Length]("stripped length of a power wire", explain.Say("as printed on the device: power terminals differ"))
		}
		list = append(list, line)
	}
	slices.SortStableFunc(list, func(a, b WireLine) int { return ByNumber(a.Name, b.Name) })
	return list
}

// ByNumber compares names such as 2, 2a, 10 and W1 as people count: numbers by their size, before letters.
func ByNumber(a, b string) int {
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		switch {
		case da > 0 && db > 0:
			na, nb := strings.TrimLeft(a[:da], "0"), strings.TrimLeft(b[:db], "0")
			if d := cmp.Or(cmp.Compare(len(na), len(nb)), cmp.Compare(na, nb)); d != 0 {
				return d
			}
			a, b = a[da:], b[db:]
		case da > 0:
			return -1
		case db > 0:
			return 1
		case a[0] != b[0]:
			return cmp.Compare(a[0], b[0])
		default:
			a, b = a[1:], b[1:]
		}
	}
	return cmp.Compare(len(a), len(b))
}

// digits returns how many digits the text begins with.
func digits(text string) int { return len(text) - len(strings.TrimLeft(text, "0123456789")) }

// cableCharts lists each cable's cores, with the end at the box first.
func cableCharts(c *Circuit) []CableChart {
	var charts []CableChart
	for _, cable := range c.Cables {
		chart := CableChart{Cable: cable, ScreenText: cable.Screen.text(cable.From, cable.To)}
		for _, core := range cable.Cores {
			line := CoreLine{Core: core}
			if w := c.Wire(core.Wire); w != nil {
				line.Number = w.Number
				line.AtBox, line.Far = c.end(w.From), c.end(w.To)
				if line.AtBox.Place == cable.To && line.Far.Place != cable.To {
					line.AtBox, line.Far = line.Far, line.AtBox
				}
			} else {
				chart.Spares++
				line.Note = "spare"
				if core.Grounded {
					line.Note = "spare, grounded at one end: " + cable.From
				}
			}
			chart.Lines = append(chart.Lines, line)
		}
		charts = append(charts, chart)
	}
	return charts
}

// text says where the screen is joined to ground.
func (s Screen) text(from, to string) string {
	switch {
	case !s.Fitted:
		return "no screen"
	case s.AtBox && s.AtFarEnd:
		return "joined to ground all round at both ends: " + from + " and " + to
	case s.AtBox:
		return "joined to ground all round at the " + from + ", cut back and insulated at the other end"
	case s.AtFarEnd:
		return "joined to ground all round at the other end (" + to + "), cut back and insulated at the " + from
	}
	return "joined to ground nowhere: it does nothing so"
}

// Strip is a row of terminals with what comes to each from either side.
type Strip struct {
	Tag, Words, Place string
	Rows              []StripRow
}

// StripRow is one terminal: wires of the box on its left, cores of cables on its right.
type StripRow struct {
	Terminal    string
	Left, Right []Joint
	// Jumper are the terminals of the same strip that it is joined to.
	Jumper []string
}

// Joint is a wire at a terminal, with where it comes from.
type Joint struct {
	Wire, Number string
	Far          End
	Cable, Core  string
}

// strips makes the plan of every terminal block, ground bar and of the drive's terminals.
func strips(c *Circuit) []Strip {
	var list []Strip
	for _, kind := range []Kind{TerminalBlock, GroundBar, Drive} {
		for _, d := range c.ByKind(kind) {
			list = append(list, c.strip(d))
		}
	}
	return list
}

func (c *Circuit) strip(d *Device) Strip {
	s := Strip{Tag: d.Tag, Words: d.Words, Place: d.Place}
	for _, terminal := range d.Terminals {
		row := StripRow{Terminal: terminal}
		here := d.Pin(terminal)
		for _, e := range d.Elements {
			if e.Kind == Link && d.Kind == TerminalBlock { // a bar is one piece of metal, and what a drive joins inside isn't fitted
				row.joined(e.A, e.B)
			}
		}
		for _, w := range c.Wires {
			for n, pin := range [2]Pin{w.From, w.To} {
				if pin != here {
					continue
				}
				other := [2]Pin{w.To, w.From}[n]
				if other.Device == d.Tag {
					row.joined(pin.Terminal, other.Terminal)
					continue
				}
				j := Joint{Wire: w.Name, Number: w.Number, Far: c.end(other), Cable: w.Cable, Core: w.Core}
				if w.Cable != "" {
					row.Right = append(row.Right, j)
				} else {
					row.Left = append(row.Left, j)
				}
			}
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// joined are the sets of terminals that jumpers join, each in the order of the strip.
func (s Strip) joined() [][]string {
	var groups [][]string
	for n, row := range s.Rows {
		if slices.ContainsFunc(groups, func(g []string) bool { return slices.Contains(g, row.Terminal) }) || len(row.Jumper) == 0 {
			continue
		}
		group := []string{row.Terminal}
		for grown := true; grown; {
			grown = false
			for _, other := range s.Rows[n+1:] {
				if !slices.Contains(group, other.Terminal) && slices.ContainsFunc(other.Jumper, func(to string) bool { return slices.Contains(group, to) }) {
					group, grown = append(group, other.Terminal), true
				}
			}
		}
		groups = append(groups, group)
	}
	return groups
}

// joined notes a jumper between two terminals if one of them is this row's.
func (r *StripRow) joined(a, b string) {
	switch {
	case a == b:
	case r.Terminal == a && !slices.Contains(r.Jumper, b):
		r.Jumper = append(r.Jumper, b)
	case r.Terminal == b && !slices.Contains(r.Jumper, a):
		r.Jumper = append(r.Jumper, a)
	}
}

// Text prints the joint: 7a to S1:12 stop button, in W1 core 3.
func (j Joint) Text() string {
	text := j.Wire + " to " + j.Far.Text()
	if j.Cable != "" {
		text += ", " + j.Cable + " core " + j.Core
	}
	return text
}
