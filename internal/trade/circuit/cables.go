package circuit

import (
	"cmp"
	"fmt"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// lay turns potentials into wires. In the box each pin of the drive gets one wire from a terminal of the block; other screws
// are chained, two wires to a screw at the most. What goes to another place leaves by the block: one terminal has one wire on
// its inner and one on its outer side, and a potential with more has several terminals, joined by jumpers. At a station a
// core comes in to the first device and goes on from screw to screw; what lies wholly at one station stays there.
func (m *maker) lay() {
	m.number()
	blocks := [2]*block{{maker: m, mains: true}, {maker: m}}
	for _, n := range m.nets {
		l := layer{maker: m, net: n, block: blocks[1]}
		if n.mains {
			l.block = blocks[0]
		}
		l.lay()
	}
	for _, b := range blocks {
		b.make()
	}
	m.makeCables()
}

// number gives each control potential that has none a number, in the order in which they were made.
func (m *maker) number() {
	m.nets = slices.DeleteFunc(m.nets, func(n *net) bool { return len(n.pins) < 2 })
	slices.SortStableFunc(m.nets, func(a, b *net) int { return cmp.Compare(a.section, b.section) })
	taken := map[string]bool{}
	for _, n := range m.nets {
		if n.number != "" {
			taken[n.number] = true
		}
	}
	next := 0
	for _, n := range m.nets {
		if n.number == "" {
			for next++; taken[fmt.Sprint(next)]; next++ {
			}
			n.number = fmt.Sprint(next)
		}
		n.why = explain.Chosen("potential "+n.number, quantity.Text(n.does), "made for what the controls must do", madeHere, n.inputs...)
	}
}

// block is a terminal block in the making.
type block struct {
	*maker
	mains     bool
	tag       string
	terminals []string
	links     string
	section   terminalGroup
	spares    int
}

// apart adds an empty terminal ahead of a potential that must not touch the one before.
func (b *block) apart(n *net) {
	if len(b.terminals) > 0 && !b.mains && (n.section != b.section || n.section == stopNets) {
		b.spares++
		b.terminals = append(b.terminals, fmt.Sprint("sp", b.spares))
	}
	b.section = n.section
}

// terminal adds the n-th terminal (from 0) of a potential: 5, 5.2, 5.3, each joined to the one before by a jumper.
func (b *block) terminal(number string, n int) Pin {
	if b.tag == "" {
		b.tag = b.maker.tag(TerminalBlock)
	}
	name := number
	if n > 0 {
		name = fmt.Sprintf("%s.%d", number, n+1)
		if b.links != "" {
			b.links += ", "
		}
		b.links += b.terminals[len(b.terminals)-1] + "-" + name + " joined"
	}
	b.terminals = append(b.terminals, name)
	return Pin{b.tag, name}
}

// make adds the block to the circuit, if it has terminals.
func (b *block) make() {
	if b.tag == "" {
		return
	}
	words := "terminals of the controls"
	if b.mains {
		words = "terminals of the mains"
	}
	b.add(TerminalBlock, Spec{Tag: b.tag, Words: words, Terminals: b.terminals, Contacts: b.links}, b.pick.StartStop)
}

// layer lays one potential.
type layer struct {
	*maker
	net   *net
	block *block
	laid  []Wire // not named yet
}

// branch are the pins that one wire from the block reaches, chained.
type branch struct {
	place string
	class coreClass
	pins  []Pin
}

func (l *layer) lay() {
	defer l.name()
	if l.net.direct { // from device to device: drive, switch, motor; what hangs on the motor leads beside it comes last
		slices.SortStableFunc(l.net.pins, func(a, b Pin) int { return cmp.Compare(l.far(a), l.far(b)) })
		for n := 1; n < len(l.net.pins); n++ {
			from, to := l.net.pins[n-1], l.net.pins[n]
			cable := l.cableTo(l.placeOfPin(to), motorCores)
			if c := l.c.Cable(cable); c != nil {
				c.From = l.placeOfPin(from)
			}
			l.wire(from, to, cable)
		}
		return
	}
	var inside, outside []branch
	var chain, taps []Pin // screws of the box that may be chained, and those on a thinner wire
	for _, p := range l.net.pins {
		d := l.c.Device(p.Device)
		switch {
		case d.Place != "box":
			class := l.classOf(d)
			at := slices.IndexFunc(outside, func(b branch) bool { return b.place == d.Place && b.class == class })
			if at < 0 || l.supplies[d.Place] {
				outside = append(outside, branch{place: d.Place, class: class})
				at = len(outside) - 1
			}
			outside[at].pins = append(outside[at].pins, p)
		case l.single(p):
			inside = append(inside, branch{place: "box", pins: []Pin{p}})
		case l.net.taps[p].OK():
			taps = append(taps, p)
		default:
			chain = append(chain, p)
		}
	}
	if len(inside)+len(chain)+len(taps) == 0 && l.withinOnePlace(outside) {
		return
	}
	// what may end a chain but not stand in it: the grounded side of a supply, which has its bond too
	slices.SortStableFunc(chain, func(a, b Pin) int { return cmp.Compare(l.bonded(a), l.bonded(b)) })
	if fromSupply := len(outside) == 1 && l.supplies[outside[0].place]; fromSupply || len(outside) == 0 && len(inside) <= 2 {
		l.fromScrewToScrew(append(outside, inside...), chain)
		l.tap(taps)
		return
	}
	// The supply goes straight to the main switch; a terminal for what else hangs on it comes behind.
	if n := slices.IndexFunc(outside, func(b branch) bool { return l.supplies[b.place] }); n >= 0 && len(chain) > 0 {
		l.wire(outside[n].pins[0], chain[0], l.cableTo(outside[n].place, mainsCores))
		outside = slices.Delete(outside, n, n+1)
		slices.Reverse(chain)
	}
	chain = append(chain, taps...)
	if len(chain) > 0 {
		inside = append(inside, branch{place: "box", pins: chain})
	}
	l.block.apart(l.net)
	for n := range max(len(inside), len(outside)) {
		t := l.block.terminal(l.net.number, n)
		if n < len(inside) {
			l.chain(t, inside[n])
		}
		if n < len(outside) {
			l.chain(t, outside[n])
		}
	}
}

// withinOnePlace lays a potential that lies wholly at one station, on the door or on one load from screw to screw there, and reports
// whether it did. A core to the box would lead nowhere: it costs a core, and whatever touches it presses the button.
func (l *layer) withinOnePlace(branches []branch) bool {
	var pins []Pin
	for _, b := range branches {
		if b.place != branches[0].place || l.supplies[b.place] {
			return false
		}
		pins = append(pins, b.pins...)
	}
	if len(pins) > 0 {
		l.chain(pins[0], branch{place: "box", pins: pins[1:]})
	}
	return len(pins) > 0
}

// fromScrewToScrew lays a potential that needs no terminal block; the screws that take one wire only are its ends.
func (l *layer) fromScrewToScrew(ends []branch, chain []Pin) {
	var pins []Pin
	if len(ends) > 1 || len(ends) == 1 && l.supplies[ends[0].place] {
		pins = append(pins, ends[0].pins...)
		ends = ends[1:]
	}
	if len(ends) > 0 { // the far end is taken: what must end the chain goes first
		n := slices.IndexFunc(chain, func(p Pin) bool { return l.bonded(p) == 1 })
		if n > 0 {
			chain[0], chain[n] = chain[n], chain[0]
		}
	}
	pins = append(pins, chain...)
	if len(ends) > 0 {
		pins = append(pins, ends[0].pins...)
	}
	for n := 1; n < len(pins); n++ {
		cable := ""
		if place := l.placeOfPin(pins[n-1]); l.supplies[place] {
			cable = l.cableTo(place, mainsCores)
		}
		l.wire(pins[n-1], pins[n], cable)
	}
}

// tap hangs the pins that take little, one behind the other, on a screw of what was laid that has one wire yet.
func (l *layer) tap(pins []Pin) {
	wires := map[Pin]int{}
	for _, w := range l.laid {
		wires[w.From]++
		wires[w.To]++
	}
	for _, w := range l.laid {
		for _, from := range []Pin{w.From, w.To} {
			if len(pins) > 0 && wires[from] == 1 && l.placeOfPin(from) == "box" && !l.single(from) {
				l.chain(from, branch{place: "box", pins: pins})
				return
			}
		}
	}
	if len(pins) > 1 { // nothing else hangs there
		l.chain(pins[0], branch{place: "box", pins: pins[1:]})
	}
}

// chain lays a branch from a terminal on.
func (l *layer) chain(from Pin, b branch) {
	for n, p := range b.pins {
		cable := ""
		if n == 0 && b.place != "box" {
			cable = l.cableTo(b.place, b.class)
		}
		l.wire(from, p, cable)
		from = p
	}
}

func (l *layer) wire(from, to Pin, cable string) {
	size := l.net.size
	for _, end := range []Pin{from, to} {
		if thin := l.net.taps[end]; thin.OK() {
			size = thin
		}
	}
	l.laid = append(l.laid, Wire{Number: l.net.number, From: from, To: to, Cable: cable, Size: size, Why: l.net.why})
}

// name names the wires that were laid, by the potential's number, with a letter where it has several, and gives those in
// cables their cores.
func (l *layer) name() {
	for n, w := range l.laid {
		w.Name = w.Number
		if len(l.laid) > 1 || l.net.number == "PE" {
			w.Name += letter(n)
		}
		l.c.Wires = append(l.c.Wires, w)
		l.core(&l.c.Wires[len(l.c.Wires)-1])
	}
}

// far is 0 for a pin in the box, 1 at the motor, 2 beyond.
func (l *layer) far(p Pin) int {
	switch l.placeOfPin(p) {
	case "box":
		return 0
	case "motor":
		return 1
	}
	return 2
}

// single reports whether a screw takes one wire only: those of the drive.
func (l *layer) single(p Pin) bool { return p.Device == l.drive }

// bonded is 1 for a screw that has a wire from the ground bar too, else 0.
func (l *layer) bonded(p Pin) int {
	if slices.Contains(l.ground, p) {
		return 1
	}
	return 0
}

func (m *maker) placeOfPin(p Pin) string {
	if d := m.c.Device(p.Device); d != nil {
		return d.Place
	}
	return "box"
}

// letter is a, b … z, aa, ab …
func letter(n int) string {
	if n < 26 {
		return string(rune('a' + n))
	}
	return letter(n/26-1) + string(rune('a'+n%26))
}

// coreClass says which wires may lie in one cable.
type coreClass int

const (
	controlCores   coreClass = iota // direct control voltage
	highCores                       // control voltage above 50 V
	referenceCores                  // the knob's
	dataCores                       // serial line, and the readout's power beside it in a pair of its own
	mainsCores
	motorCores
)

// classOf says in which cable the pins of a device belong.
func (l *layer) classOf(d *Device) coreClass {
	switch {
	case l.net.mains:
		return mainsCores
	case d.Kind == Knob:
		return referenceCores
	case d.Kind == Readout, d.Kind == Resistor:
		return dataCores
	case l.controlAC() && l.pick.Voltage.Value > 50 && l.high():
		return highCores
	}
	return controlCores
}

// high reports whether the potential belongs to the control supply's circuit and not to the drive's inputs.
func (l *layer) high() bool {
	for _, p := range l.net.pins {
		if p.Device == l.drive && !l.relayContact(p) {
			return false
		}
	}
	return true
}

func (l *layer) relayContact(p Pin) bool {
	for _, s := range l.row {
		if s.Name == p.Terminal {
			return s.Does == "run relay common" || s.Does == "run relay open contact"
		}
	}
	return false
}

// cableTo returns the tag of the cable to a place for a class of cores, which it begins where there is none yet; "" for the
// door's single wires, a supply's wires in their raceway and the box itself.
func (m *maker) cableTo(place string, class coreClass) string {
	at := m.c.Place(place)
	if at == nil || at.Kind == Box || m.supplies[place] && !(place == "supply" && m.corded()) || at.Kind == Door && class != referenceCores && class != dataCores {
		return ""
	}
	key := cableKey{place, class}
	for n, k := range m.cables {
		if k == key {
			return m.c.Cables[n].Tag
		}
	}
	m.cables = append(m.cables, key)
	m.c.Cables = append(m.c.Cables, Cable{Tag: m.cableTag(), From: "box", To: place, Pairs: class == dataCores})
	return m.c.Cables[len(m.c.Cables)-1].Tag
}

type cableKey struct {
	place string
	class coreClass
}

// core gives a wire that lies in a cable a core of it.
func (m *maker) core(w *Wire) {
	c := m.c.Cable(w.Cable)
	if c == nil {
		return
	}
	c.Cores = append(c.Cores, Core{Wire: w.Name})
}

// counts are the usual numbers of cores of control cables; pairs are usual up to 4. Source: common practice, see what is sold.
var counts = []int{2, 3, 4, 5, 7, 9, 12, 15, 18, 25, 30, 37, 50, 61}

// makeCables names the cores, adds spare ones, and says how each cable is made.
func (m *maker) makeCables() {
	p := m.pick
	for n, key := range m.cables {
		c := &m.c.Cables[n]
		at := m.c.Place(key.place)
		why := m.postWhy(key.place)
		c.Length = explain.Chosen("length of cable "+c.Tag, at.Run.Value+p.Allowance.Value, "{"+at.Run.Why().Name+"} + {"+p.Allowance.Why().Name+"}", usual, at.Run, p.Allowance)
		c.Size, c.Rating = p.CableWire, p.CableRating
		c.Moves = m.moves(key.place)
		shield := Screen{Fitted: p.Screen.Value != "no screen", AtBox: p.Screen.Value == "at the box" || p.Screen.Value == "at both ends", AtFarEnd: p.Screen.Value == "at both ends"}
		switch key.class {
		case motorCores:
			c.Size, c.Rating = m.r.Brief.Lead, m.mainsRating()
			screened := m.job.Motor.CableScreen.Value == "yes"
			c.Screen = Screen{screened, screened, screened} // both ends: it carries the drive's high-frequency current back
			m.ownCores(c)
		case mainsCores:
			c.Size, c.Rating = explain.Known[quantity.Conductor]{}, m.mainsRating()
			m.ownCores(c)
			if c.Size = m.thinnest(c); key.place == "supply" {
				c.Size = m.cord()
			}
		case referenceCores:
			c.Screen = shield
			m.ownCores(c)
		case dataCores:
			c.Screen = shield
			m.pairs(c)
		case controlCores, highCores:
			m.spares(c)
		}
		for _, core := range c.Cores { // all cores of a cable are of one size, the ground among them
			if w := m.c.Wire(core.Wire); w != nil {
				w.Size = c.Size
			}
		}
		c.Why = explain.Chosen("cable "+c.Tag, quantity.Text("to the "+key.place), "made for what the controls must do", madeHere, why, p.CableWire, p.CableRating)
	}
}

// thinnest is the size of a load's cable: that of its core behind the fuse. A grounded core comes unfused from the main circuit,
// but carries no more than the load takes.
func (m *maker) thinnest(c *Cable) explain.Known[quantity.Conductor] {
	var thinnest explain.Known[quantity.Conductor]
	for _, core := range c.Cores {
		if size := m.c.Wire(core.Wire).Size; size.OK() && (!thinnest.OK() || size.Value.Area() < thinnest.Value.Area()) {
			thinnest = size
		}
	}
	return thinnest
}

// cord is the size of the supply's cord: as written, else that of the branch circuit.
func (m *maker) cord() explain.Known[quantity.Conductor] {
	if m.job.Supply.Cord.Set {
		return job.Known(m.job.Supply.Cord)
	}
	return m.r.Brief.Branch
}

// mainsRating is the voltage rating that cable for the supply and the motor has.
func (m *maker) mainsRating() explain.Known[quantity.Voltage] {
	if m.set == explain.IEC {
		return explain.Assume("voltage rating of power cables", quantity.Voltage(750), usual, explain.Say("the usual rating of power cable: read what is printed on yours"))
	}
	return explain.Assume("voltage rating of power cables", quantity.Voltage(600), usual, explain.Say("the usual rating of power cable: read what is printed on yours"))
}

// postWhy is why something goes to the place.
func (m *maker) postWhy(place string) explain.Because {
	for _, p := range m.post {
		if p.name == place {
			return p.why
		}
	}
	return m.pick.StartStop
}

func (m *maker) moves(place string) bool {
	for _, p := range m.post {
		if p.name == place {
			return p.moves || p.kind == Door
		}
	}
	return false
}

// ownCores numbers the cores of a cable that is bought with as many as are used.
func (m *maker) ownCores(c *Cable) {
	for n := range c.Cores {
		c.Cores[n].Name = fmt.Sprint(n + 1)
		m.tell(c, n)
	}
}

// tell writes the core's name into its wire.
func (m *maker) tell(c *Cable, n int) {
	if w := m.c.Wire(c.Cores[n].Wire); w != nil {
		w.Core = c.Cores[n].Name
	}
}

// spares numbers the cores and fills the cable up to a usual count that leaves the spare cores asked for.
func (m *maker) spares(c *Cable) {
	need := len(c.Cores) + int(m.pick.Spares.Value)
	for _, count := range counts {
		if count >= need {
			need = count
			break
		}
	}
	for len(c.Cores) < need {
		c.Cores = append(c.Cores, Core{})
	}
	for n := range c.Cores {
		c.Cores[n].Name = fmt.Sprint(n + 1)
		m.tell(c, n)
	}
}

// pairs puts the serial line into the first pair and the readout's power into the second: power and data don't share a pair.
// Spare cores come in pairs too.
func (m *maker) pairs(c *Cable) {
	var data, power []Core
	for _, core := range c.Cores {
		if w := m.c.Wire(core.Wire); w.To.Terminal == "V+" || w.To.Terminal == "V-" {
			power = append(power, core)
		} else {
			data = append(data, core)
		}
	}
	even := func(cores []Core) []Core {
		if len(cores)%2 == 1 {
			return append(cores, Core{})
		}
		return cores
	}
	c.Cores = append(even(data), even(power)...)
	for n := 0; n < int(m.pick.Spares.Value); n += 2 {
		c.Cores = append(c.Cores, Core{}, Core{})
	}
	for n := range c.Cores {
		c.Cores[n].Pair = n/2 + 1
		c.Cores[n].Name = fmt.Sprint(n + 1)
		m.tell(c, n)
	}
}
