package circuit

import (
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
)

// Sizes on the grid.
const (
	textPitch   = 14        // from line to line
	capital     = 8         // height of a capital letter
	deep        = 3         // of a small letter beneath the line
	over        = 4         // of a text over a conductor
	body        = 14        // half of what a symbol of two ends fills of its length; the rest is its two leads
	circle      = 4         // radius of a terminal
	refRoom     = "88.88"   // what a reference may need
	rowGap      = 6         // between the texts of a row and the next
	ontoRoom    = 8 * unit  // for an arrow at the end of a rail
	lanePitch   = 9 * unit  // least, between the conductors of a block
	markRoom    = 3 * unit  // of an arrow
	motorBeside = 30        // from a motor's middle to its words
	motorHalf   = 11 * unit // of a motor with its leads
	arrowWords  = "from "   // before a reference at a rail
)

// note is a line of words, with a reference at its end if to is there.
type note struct {
	text  string
	to    *rung
	under bool
}

// reach is how far the shape reaches to either side of its conductor.
func (shape Shape) reach() (up, down Step) {
	switch shape {
	case PushOpen, PushClosed, TurnOpen, TurnClosed:
		return 22, 7
	case MushroomOpen, MushroomClosed:
		return 24, 7
	case PositionOpen, PositionClosed, FootOpen, FootClosed, DelayedOpen, DelayedClosed:
		return 18, 14
	case SwitchPole, BreakerPole:
		return 15, 7
	case FusePole:
		return 8, 8
	case CoilShape, LampShape, DCSource, ACSource:
		return 14, 14
	case DelayCoil:
		return 14, 14
	case ResistorShape, DiodeShape:
		return 8, 8
	case LoadShape, ReadoutShape, InputShape:
		return 10, 10
	case ContactOpen, ContactClosed, ContactorPole, OverloadClosed, OverloadOpen:
		return 14, 13
	case NoShape, TerminalShape, EarthSign, ArrowShape, BoxShape, DriveShape, SupplyShape, WindingBox, MotorShape, KnobShape, BarShape, ScreenShape:
	}
	return 0, 0
}

// namesAt is how far beside an upright conductor the terminal numbers stand: beside the leads, or beside the body where it
// leaves them no room.
func (shape Shape) namesAt(international bool) Step {
	switch shape {
	case FusePole, ResistorShape, LoadShape, ReadoutShape, InputShape, DCSource, ACSource:
		_, down := shape.reach()
		return down + 3
	case SwitchPole, BreakerPole:
		return 8
	default:
	}
	if international {
		return 4
	}
	switch shape {
	case CoilShape, DelayCoil, LampShape:
		return 14
	case DelayedOpen, DelayedClosed, PositionOpen, PositionClosed, FootOpen, FootClosed:
		return 11
	case PushOpen, PushClosed, MushroomOpen, MushroomClosed, TurnOpen, TurnClosed:
		return 8
	default:
		return 4
	}
}

// deviceWords says what the device is and where.
func (s *sketch) deviceWords(d *Device) []note {
	text := d.Words
	if d.Place != "" && strings.HasSuffix(text, ", "+d.Place) && strings.Contains(strings.TrimSuffix(text, ", "+d.Place), d.Place) {
		text = strings.TrimSuffix(text, ", "+d.Place)
	}
	if d.Place != "" && d.Place != "box" && !strings.Contains(text, d.Place) {
		text += ", " + d.Place
	}
	return []note{{text: text}}
}

// partWords says what the part does there.
func (s *sketch) partWords(p *part) []note {
	e := p.element
	if coil := s.coils[p.device.Tag]; coil != nil && e.Kind == Contact && coil != p {
		if coil.rung == nil {
			return s.deviceWords(p.device)
		}
		return []note{{text: "coil ", to: coil.rung}}
	}
	list := s.deviceWords(p.device)
	switch e.Kind {
	case Input:
		return []note{{text: string(e.Does)}}
	case Source:
		return []note{{text: voltsText(e.Volts)}}
	case Coil:
		if e.Delay > 0 {
			list = append(list, note{text: e.Delay.Show(quantity.MetricUnits)})
		}
	case Contact:
		if e.Most > 0 && (p.device.Kind == Fuse || p.device.Kind == Breaker) {
			list = append(list, note{text: e.Most.Show(quantity.MetricUnits)})
		}
		if p.device.Kind == Selector {
			list = nil
			list = append(list, s.deviceWords(p.device)...)
			var when []string
			for n, name := range p.device.Positions {
				if e.In>>n&1 == 1 {
					when = append(when, name)
				}
			}
			list = append(list, note{text: "on: " + strings.Join(when, ", ")})
		}
		if p.device.Kind == Drive && e.Group > 0 && e.Group <= len(s.circuit.Drive.Outputs) {
			return []note{{text: s.circuit.Drive.Outputs[e.Group-1] + " relay"}}
		}
	case Link, LampElement, Resistance, KnobElement, DiodeElement, Reference, Winding, Electronics:
	}
	return list
}

// wrapped breaks the notes into lines no longer than the limit, unless one word is.
func (s *sketch) wrapped(notes []note, limit Step) []note {
	var lines []note
	for _, n := range notes {
		if n.to != nil {
			lines = append(lines, n)
			continue
		}
		line := ""
		for word := range strings.FieldsSeq(n.text) {
			if line != "" && s.room.Measure(line+" "+word, false) > limit {
				lines = append(lines, note{text: line})
				line = ""
			}
			if line != "" {
				line += " "
			}
			line += word
		}
		if line != "" {
			lines = append(lines, note{text: line})
		}
	}
	return lines
}

func (s *sketch) noteWidth(n note) Step {
	if n.to != nil {
		return s.room.Measure(n.text+refRoom, false)
	}
	return s.room.Measure(n.text, false)
}

func (s *sketch) widest(lines []note) Step {
	var w Step
	for _, n := range lines {
		w = max(w, s.noteWidth(n))
	}
	return w
}

// size sets the room that an item takes.
func (l *layout) size(i *item, r *row) {
	s, m := l.s, l.s.room.Measure
	i.before, i.after, i.up, i.down = 0, 0, 0, 0
	beside := func(w, reach Step) { // a text over a level conductor, or to the right of an upright one
		if l.down {
			i.before, i.after = capital/2+3, capital/2+3
			i.up, i.down = reach, reach+3+w
			return
		}
		i.before = max(w/2+3, reach+1)
		i.after = i.before
		i.up, i.down = reach+over+capital, max(reach, 2)
	}
	switch i.kind {
	case labelItem:
		if l.down && i.to != nil { // where it goes on stands beneath the number
			beside(max(m(s.number[i.net], false), m("→ "+refRoom, false)), 0)
			i.after += textPitch
			return
		}
		beside(m(l.labelText(i), false), 0)
	case terminalItem:
		beside(m(i.pin.String(), false), circle)
		if l.down {
			i.before, i.after = circle+4, circle+4
		}
	case jointItem:
		i.before, i.after = 5, 5
	case railItem:
		i.before, i.after = 0, 3
		if i.node == l.g.rails[1] {
			i.before, i.after = 3, 0
		}
	case gapItem:
		i.before, i.after = 2, 2
	case partItem:
		l.sizePart(i)
	case endItem:
		l.sizeEnd(i)
	case pinItem:
		lines := l.pinLines(i)
		w, more := s.widest(lines), Step(len(lines)-1)*textPitch
		if l.down {
			i.before, i.after = circle, circle+over+capital+deep+more
			i.up, i.down = max(w/2, circle)+2, max(w/2, circle)+2
		} else {
			i.before, i.after, i.up, i.down = circle+1, circle+4+w, capital, capital+more
		}
		if i.first {
			i.before, i.after = i.after, i.before
		}
	case blockItem, screenItem: // along by sizeBlocks, when the rows are in their places
		i.up, i.down = lanePitch/2, lanePitch/2
		if i.block.shape == BarShape || i.block.shape == ScreenShape {
			if l.lastOf(i.block) == r {
				i.down += 5 * unit
			}
		}
		top := l.firstOf(i.block) == r
		more := l.overhang(i.block)
		if l.lastOf(i.block) == r {
			i.down += more
		}
		if !l.down {
			if i.block.shape == MotorShape {
				i.up = max(i.up, b2s(top)*(more+5*unit))
			} else if top {
				i.up = max(i.up, more+5*unit+2+Step(1+len(s.wrapped(i.block.words, l.blockWrap(i.block))))*textPitch)
			}
			if i.block.shape == ScreenShape {
				i.up = lanePitch / 2
				if top {
					i.up = 4*unit + 3 + 2*textPitch
				}
			}
			return
		}
		w := max(m(i.left.Terminal, false), m(i.right.Terminal, false))
		i.up, i.down = max(i.up, w/2+3), max(i.down, w/2+3)
		if i.block.shape.namedOutside() {
			i.down = max(i.down, w+6)
		}
		if top {
			i.up = max(i.up, more+5*unit+l.blockText(i.block))
		}
	}
}

func (l *layout) labelText(i *item) string {
	text := l.s.number[i.net]
	if i.to != nil {
		text += " → " + refRoom
	}
	return text
}

// pinLines are the lines at a terminal that is drawn by itself: its name, and what its device is.
func (l *layout) pinLines(i *item) []note {
	text := i.pin.String()
	if d := l.s.circuit.Device(i.pin.Device); d.Kind != TerminalBlock {
		text += " " + l.s.deviceWords(d)[0].text
	}
	return l.s.wrapped([]note{{text: text}}, 2*l.wrap)
}

// overhang is how far a shape reaches beyond its outer conductors that is larger than they are apart.
func (l *layout) overhang(b *wideDevice) Step {
	rows := 0
	for _, r := range l.g.rows {
		rows += b2i(slices.ContainsFunc(r.items, func(i *item) bool { return i.block == b }))
	}
	if b.shape == MotorShape && rows < 3 {
		return 4 * unit
	}
	return 0
}

// firstOf returns the row in which the block begins: its texts stand there.
func (l *layout) firstOf(b *wideDevice) *row {
	for _, r := range l.g.rows {
		for _, i := range r.items {
			if i.block == b {
				return r
			}
		}
	}
	return nil
}

func (l *layout) blockWrap(b *wideDevice) Step {
	if l.down {
		return 20 * unit
	}
	return l.wrap
}

// lastOf returns the row in which the block ends.
func (l *layout) lastOf(b *wideDevice) *row {
	for n := len(l.g.rows) - 1; n >= 0; n-- {
		for _, i := range l.g.rows[n].items {
			if i.block == b {
				return l.g.rows[n]
			}
		}
	}
	return nil
}

// blockText returns the length of the longest of the block's own lines.
func (l *layout) blockText(b *wideDevice) Step {
	tag, words := l.blockLines(b)
	return max(l.s.room.Measure(tag, true), l.s.widest(words))
}

// blockLines returns what stands at the block.
func (l *layout) blockLines(b *wideDevice) (tag string, words []note) {
	if b.cable != nil {
		at := "bonded nowhere"
		switch {
		case b.cable.Screen.AtBox && b.cable.Screen.AtFarEnd:
			at = "bonded at both ends"
		case b.cable.Screen.AtBox:
			at = "bonded at the box"
		case b.cable.Screen.AtFarEnd:
			at = "bonded at the far end"
		}
		return b.cable.Tag, []note{{text: at}}
	}
	return b.device.Tag, l.s.wrapped(b.words, l.blockWrap(b))
}

// sizeBlocks sets the room of blocks along the rows, now that the rows have their places.
func (l *layout) sizeBlocks() {
	m := l.s.room.Measure
	for _, r := range l.g.rows {
		for _, i := range r.items {
			if i.block == nil {
				continue
			}
			var left, right Step
			for _, o := range l.g.rows {
				for _, j := range o.items {
					if j.block != i.block {
						continue
					}
					left, right = max(left, m(j.left.Terminal, false)), max(right, m(j.right.Terminal, false))
				}
			}
			b := i.block
			switch {
			case b.shape == ScreenShape:
				b.half = 2 * unit
			case b.shape == MotorShape:
				b.half = motorHalf
			case b.shape == BarShape && !l.down:
				b.half = (left+right)/2 + 2*unit
			case l.down:
				b.half = 6 * unit
			case b.shape == DriveShape || b.shape == SupplyShape:
				b.half = (left+right)/2 + 5*unit
			case b.shape == KnobShape || b.shape == WindingBox:
				b.half = 5 * unit
			default:
				b.half = (left+right)/2 + 2*unit
			}
			half := b.half
			if b.shape.namedOutside() && l.down {
				half += capital + 4
			} else if b.shape.namedOutside() {
				half += max(left, right) + unit
			}
			i.before, i.after = half+2, half+2
			if b.shape == MotorShape && !l.down {
				i.after = motorBeside + l.blockText(b) + 2
			} else if !l.down {
				text := l.blockText(b)/2 + 2
				i.before, i.after = max(i.before, text), max(i.after, text)
			} else if len(l.g.rows) > 0 && l.firstOf(b) == r {
				_, words := l.blockLines(b)
				text := Step(len(words)+1)*textPitch/2 + 2
				i.before, i.after = max(i.before, text), max(i.after, text)
			}
		}
	}
}

func (l *layout) sizePart(i *item) {
	s, m := l.s, l.s.room.Measure
	shape := i.part.shape(i.power)
	up, down := shape.reach()
	top, bottom := l.ends(i)
	i.tag, i.words = "", nil
	if top {
		i.tag = i.part.device.Tag
	}
	if bottom && !l.down || top && l.down {
		i.words = s.wrapped(s.partWords(i.part), l.wrap)
	}
	left, right := m(i.left.Terminal, false), m(i.right.Terminal, false)
	if l.down {
		i.before = max(symbolHalf, Step(len(i.words)+1)*textPitch/2) + 2
		i.after = i.before
		i.up, i.down = up, max(down, shape.namesAt(s.international)+max(left, right)+1)
		if shape == LampShape {
			i.down = max(i.down, 24)
		}
		if top {
			i.up = up + 3 + max(m(i.tag, true), s.widest(i.words))
		}
		return
	}
	text := max(m(i.tag, true), s.widest(i.words))/2 + 3
	i.before, i.after = max(symbolHalf, body+3+left, text), max(symbolHalf, body+3+right, text)
	i.up, i.down = max(up, over+capital), max(down, 2)
	if i.tag != "" {
		i.up = l.tagOver(up) + capital + 2
	}
	if n := len(i.words); n > 0 {
		i.down = max(down, 2) + capital + 3 + Step(n-1)*textPitch + deep + 1
	}
}

// tagOver is how far over the conductor the tag stands: clear of the symbol and of the terminal numbers.
func (l *layout) tagOver(up Step) Step { return max(up+3, over+capital+deep+1) }

// ends reports whether the item is the first and the last pole of a device that stands in line over several rows: the tag
// stands at the first, the words at the last.
func (l *layout) ends(i *item) (top, bottom bool) {
	top, bottom = true, true
	before := true
	for _, r := range l.g.rows {
		for _, j := range r.items {
			switch {
			case j == i:
				before = false
			case j.kind == partItem && j.node == i.node:
				if before {
					top = false
				} else {
					bottom = false
				}
			}
		}
	}
	return top, bottom
}

func (l *layout) sizeEnd(i *item) {
	w := Step(0)
	if i.to != nil {
		w = l.s.room.Measure(refRoom, false)
	}
	near, far := Step(2), markRoom+3
	switch {
	case i.earth && !l.down:
		near, far = 2, 2*unit+2
		i.up, i.down = 2, 5*unit
		if w > 0 {
			i.down += capital + 3
			near, far = w/2+2, w/2+2
		}
	case i.earth && i.first: // upright: the sign hangs beside the end
		near, far = 4*unit+2, unit
		i.up, i.down = 7*unit, 2*unit+2
		if w > 0 {
			far += capital + 5
			i.up, i.down = max(i.up, 5*unit+w/2), max(i.down, w/2+2-4*unit)
		}
	case i.earth:
		near, far = 2, 4*unit
		i.up, i.down = 2*unit+2, 2*unit+2
		if w > 0 {
			far += capital + 4
			i.up, i.down = max(i.up, w/2+2), max(i.down, w/2+2)
		}
	case l.down:
		far = markRoom + capital + 6
		i.up, i.down = max(w/2, unit)+2, max(w/2, unit)+2
	default:
		far += w + 3
		i.up, i.down = capital, capital
	}
	i.before, i.after = near, far
	if i.first {
		i.before, i.after = far, near
	}
}
