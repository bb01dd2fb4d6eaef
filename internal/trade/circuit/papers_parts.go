package circuit

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// PartLine is one line of the parts list.
type PartLine struct {
	What string // "push button"
	Ask  string // rating to ask for: "1 NC, 10 A"
	Tags string // what it is for: "S1, S2"
	// Count is how many, Length how long; only one of them is there.
	Count  explain.Known[quantity.Count]
	Length explain.Known[quantity.Length]
}

// notBought are kinds that are there already or belong to another stage's list.
var notBought = []Kind{Incoming, MotorKind, Load}

// tally counts like parts together, in the order in which they first come.
type tally struct {
	lines []PartLine
	tags  [][]string
	count []quantity.Count
}

func (t *tally) add(what, ask, tag string, n quantity.Count) {
	k := slices.IndexFunc(t.lines, func(l PartLine) bool { return l.What == what && l.Ask == ask })
	if k < 0 {
		k = len(t.lines)
		t.lines, t.tags, t.count = append(t.lines, PartLine{What: what, Ask: ask}), append(t.tags, nil), append(t.count, 0)
	}
	t.count[k] += n
	if tag != "" {
		t.tags[k] = append(t.tags[k], tag)
	}
}

// close gives each line its number, with the reason.
func (t *tally) close(from string) []PartLine {
	for n := range t.lines {
		l := &t.lines[n]
		l.Tags = strings.Join(t.tags[n], ", ")
		l.Count = explain.Chosen("number of: "+strings.TrimSuffix(l.What+", "+l.Ask, ", "), t.count[n], "counted in the "+from, explain.Physics("counting"))
	}
	return t.lines
}

// parts counts what the circuit is built of.
func parts(c *Circuit, p *Papers) []PartLine {
	var devices tally
	terminals := 0
	for _, d := range c.Devices {
		switch {
		case slices.Contains(notBought, d.Kind):
		case d.Kind == TerminalBlock:
			terminals += len(d.Terminals)
			devices.add("terminal, feed-through", "for the wires of the wire list", d.Tag, quantity.Count(len(d.Terminals)))
		default:
			devices.add(string(d.Kind), d.ask(), d.Tag, 1)
		}
	}
	list := devices.close("circuit")
	list = append(list, wireParts(c, p)...)
	list = append(list, cableParts(c, p)...)
	var small tally
	for _, w := range p.Wires {
		if w.Ferrule != "none" {
			small.add("ferrule with collar", w.Ferrule, "", 2)
		}
	}
	if n := len(p.Wires); n > 0 {
		small.add("wire marker", "numbers as on the label sheet", "", quantity.Count(2*n))
	}
	for _, cable := range c.Cables {
		for _, place := range []string{cable.From, cable.To} {
			if at := c.Place(place); at != nil && (at.Kind == Box || at.Kind == Station || at.Kind == Motor) {
				screen := "to suit the cable's jacket"
				if cable.Screen.Fitted && (place == cable.From && cable.Screen.AtBox || place == cable.To && cable.Screen.AtFarEnd) {
					screen = "to suit the cable's jacket, with contact to the screen all round"
				}
				small.add("cable gland", screen, cable.Tag, 1)
			}
		}
	}
	for _, tag := range c.hardWired() {
		small.add("gland or conduit fitting", "to suit the cable or conduit of the supply", tag, 1)
	}
	tags := 0
	for _, d := range c.Devices {
		if !slices.Contains(notBought, d.Kind) {
			tags++
		}
	}
	if tags > 0 {
		small.add("device tag", "as on the label sheet", "", quantity.Count(tags))
	}
	return append(list, small.close("wire list and the circuit")...)
}

// wireParts sums single wires up by size and colour, with the allowance.
func wireParts(c *Circuit, p *Papers) []PartLine {
	type key struct{ size, colour string }
	var keys []key
	wires := map[key][]Wire{}
	for _, w := range p.Wires {
		if w.Cable != "" {
			continue
		}
		k := key{sizeToAsk(w.Size), w.Colour}
		if wires[k] == nil {
			keys = append(keys, k)
		}
		wires[k] = append(wires[k], w.Wire)
	}
	var list []PartLine
	for _, k := range keys {
		ask := strings.Join(slices.DeleteFunc([]string{k.size, k.colour}, func(s string) bool { return s == "" }), ", ")
		l := PartLine{What: "single wire, stranded", Ask: ask, Tags: many(len(wires[k]), "wire", "wires")}
		var lengths []explain.Known[quantity.Length]
		for _, w := range wires[k] {
			lengths = append(lengths, w.Length)
		}
		l.Length = p.toBuy("length to buy of wire, "+strings.TrimPrefix(ask+" ", " "), lengths)
		list = append(list, l)
	}
	return list
}

// cableParts sums cables up by their make.
func cableParts(c *Circuit, p *Papers) []PartLine {
	var asks []string
	lengths, tags := map[string][]explain.Known[quantity.Length]{}, map[string][]string{}
	for _, cable := range c.Cables {
		ask := cable.ask(c)
		if tags[ask] == nil {
			asks = append(asks, ask)
		}
		lengths[ask], tags[ask] = append(lengths[ask], cable.Length), append(tags[ask], cable.Tag)
	}
	var list []PartLine
	for _, ask := range asks {
		list = append(list, PartLine{What: "cable", Ask: ask, Tags: strings.Join(tags[ask], ", "), Length: p.toBuy("length to buy of cable, "+ask, lengths[ask])})
	}
	return list
}

// toBuy sums lengths up and adds the allowance. One length that isn't known leaves the sum unknown.
func (p *Papers) toBuy(name string, lengths []explain.Known[quantity.Length]) explain.Known[quantity.Length] {
	sum := quantity.Length(0)
	inputs := []explain.Because{p.Allowance}
	for _, l := range lengths {
		if !l.OK() {
			return explain.Absent[quantity.Length](name, explain.Say("the length of one of them isn't known: measure it in the box with a string, and write it to the wire"))
		}
		sum += l.Value
		inputs = append(inputs, l)
	}
	return explain.Chosen(name, quantity.Scale(sum, 1+p.Allowance.Value), fmt.Sprintf("sum of %d lengths, and {%s} of it", len(lengths), p.Allowance.Why().Name),
		explain.Physics("sum"), inputs...)
}

// ask is what to ask for when the device is bought: its rating, or what can be said of its elements.
func (d Device) ask() string {
	if d.Rating != "" {
		return d.Rating
	}
	var facts []string
	if open, closed := d.contactCounts(); open+closed > 0 {
		var kinds []string
		if closed > 0 && !selects(d.Kind) {
			kinds = append(kinds, fmt.Sprintf("%d NC", closed))
		}
		if open > 0 && !selects(d.Kind) {
			kinds = append(kinds, fmt.Sprintf("%d NO", open))
		}
		if selects(d.Kind) {
			kinds = append(kinds, many(open+closed, "contact", "contacts"), "positions "+strings.Join(d.Positions, ", "))
		}
		facts = append(facts, strings.Join(kinds, " + "))
	}
	for _, e := range d.Elements {
		switch e.Kind {
		case Coil:
			facts = append(facts, "coil "+volts(e))
		case LampElement:
			facts = append(facts, volts(e))
		case Source:
			facts = append(facts, volts(e)+" out")
			if e.Most > 0 {
				facts = append(facts, e.Most.Show(quantity.MetricUnits))
			}
		case KnobElement, Resistance:
			if e.Ohms > 0 {
				facts = append(facts, e.Ohms.Show(quantity.MetricUnits))
			}
		case Contact:
			if e.Most > 0 && (d.Kind == Fuse || d.Kind == Breaker) {
				facts = append(facts, e.Most.Show(quantity.MetricUnits))
			}
		case Link, DiodeElement, Input, Reference, Winding, Electronics:
		}
		if e.Delay > 0 {
			facts = append(facts, "delay "+e.Delay.Show(quantity.MetricUnits))
		}
	}
	return strings.Join(slices.Compact(facts), ", ")
}

// selects reports whether the device's contacts are told by positions rather than as opening and closing ones.
func selects(k Kind) bool { return k == Selector }

// contactCounts counts contacts that are open and closed at rest.
func (d Device) contactCounts() (open, closed int) {
	for _, e := range d.Elements {
		if e.Kind != Contact || e.Group != 0 || d.Kind == Fuse || d.Kind == Breaker {
			continue
		}
		if e.In&1 == 1 {
			closed++
		} else {
			open++
		}
	}
	return open, closed
}

func volts(e Element) string {
	if e.AC {
		return e.Volts.Show(quantity.MetricUnits) + " AC"
	}
	return e.Volts.Show(quantity.MetricUnits) + " DC"
}

// ask is what to ask for when the cable is bought.
func (c Cable) ask(circuit *Circuit) string {
	facts := []string{many(len(c.Cores), "core", "cores")}
	if c.Pairs {
		facts[0] = many((len(c.Cores)+1)/2, "twisted pair", "twisted pairs")
	}
	if colour := c.groundColour(circuit); colour != "" {
		facts[0] += ", one of them " + colour
	}
	facts = append(facts, sizeToAsk(c.Size))
	if s := shown(c.Rating); s != "" {
		facts = append(facts, s)
	}
	if c.Screen.Fitted {
		facts = append(facts, "screened")
	}
	if c.Moves {
		facts = append(facts, "for moving use, fine strands")
	}
	return strings.Join(facts, ", ")
}

// groundColour is the colour of the core that grounds what is at the cable's other end; "" where it has none. A numbered cable is sold
// with such a core or without.
func (c Cable) groundColour(circuit *Circuit) string {
	for _, core := range c.Cores {
		if w := circuit.Wire(core.Wire); w != nil && circuit.duty(w) == GroundDuty {
			return w.Colour
		}
	}
	return ""
}

// sizeToAsk is the size of a wire or core in the parts list, which is nothing to buy by without one.
func sizeToAsk(k explain.Known[quantity.Conductor]) string {
	if s := shown(k); s != "" {
		return s
	}
	return "size " + notKnown
}

// shown prints a value that is the same in all unit systems; "" where it isn't known.
func shown[V quantity.Value](k explain.Known[V]) string {
	if !k.OK() {
		return ""
	}
	return k.Value.Show(quantity.MetricUnits)
}

func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}
