package circuit

import (
	"strings"
)

// pen draws placed groups onto a grid.
type pen struct {
	s    *sketch
	g    *Grid
	l    *layout
	x, y Step // where the group's rows begin
}

// spot returns the place on the grid.
func (p *pen) spot(along, across Step) Spot {
	if p.l.down {
		return Spot{p.x + across, p.y + along}
	}
	return Spot{p.x + along, p.y + across}
}

func (p *pen) line(guide bool, alongAcross ...Step) {
	line := GridLine{Guide: guide}
	for n := 0; n+1 < len(alongAcross); n += 2 {
		at := p.spot(alongAcross[n], alongAcross[n+1])
		if k := len(line.Points); k > 0 && line.Points[k-1] == at {
			continue
		}
		line.Points = append(line.Points, at)
	}
	if len(line.Points) > 1 {
		p.g.Lines = append(p.g.Lines, line)
	}
}

func (p *pen) text(at Spot, anchor int, text string) *GridText {
	p.g.Texts = append(p.g.Texts, GridText{At: at, Anchor: anchor, Text: text})
	return &p.g.Texts[len(p.g.Texts)-1]
}

func (r *rung) String() string {
	if r == nil || r.sheet == 0 {
		return ""
	}
	return itoa(r.sheet) + "." + itoa(r.number)
}

func itoa(n int) string {
	digits := ""
	for ; n > 0 || digits == ""; n /= 10 {
		digits = string(rune('0'+n%10)) + digits
	}
	return digits
}

// group draws one placed group.
func (p *pen) group() {
	for _, r := range p.l.g.rows {
		p.conductors(r)
		for _, i := range r.items {
			p.item(r, i)
		}
	}
	p.joints()
	p.links()
}

// edges returns where the conductors meet an item along its row; through is true where they pass.
func (p *pen) edges(i *item) (before, after Step, through, goesOn bool) {
	at := i.node.at
	switch i.kind {
	case partItem:
		return at - symbolHalf, at + symbolHalf, false, i.right.Device != ""
	case terminalItem:
		return at - circle, at + circle, false, true
	case pinItem:
		if i.first {
			return at, at + circle, false, true
		}
		return at - circle, at, false, false
	case blockItem:
		return at - i.block.half, at + i.block.half, false, i.right.Device != "" && p.s.wired(i.right)
	case endItem:
		if i.first {
			return at, at, false, true
		}
		return at, at, false, false
	case gapItem:
		return at, at, false, false
	case labelItem, jointItem, railItem, screenItem:
	}
	return at, at, true, true
}

// meets reports whether a conductor comes to the item from before.
func (p *pen) meets(i *item) bool {
	switch i.kind {
	case partItem:
		return i.left.Device != ""
	case blockItem:
		return i.left.Device != "" && p.s.wired(i.left)
	case gapItem:
		return false
	default:
		return true
	}
}

func (p *pen) conductors(r *row) {
	var from Step
	drawing := false
	var last Step
	for _, i := range r.items {
		before, after, through, goesOn := p.edges(i)
		switch {
		case i.kind == gapItem:
			if drawing {
				p.line(false, from, r.at, last, r.at)
			}
			drawing = false
		case through:
			if !drawing {
				from, drawing = before, true
			}
			last = before
		default:
			if drawing && p.meets(i) {
				p.line(false, from, r.at, before, r.at)
			}
			drawing, from, last = goesOn, after, after
		}
	}
	if drawing {
		p.line(false, from, r.at, last, r.at)
	}
}

// joints draws what joins rows of one potential, with a dot where three conductors meet.
func (p *pen) joints() {
	done := map[*node]bool{}
	for _, r := range p.l.g.rows {
		for _, i := range r.items {
			if i.kind != jointItem || done[i.node] || i.node.top == i.node.end {
				continue
			}
			n := i.node
			done[n] = true
			rows := p.l.g.rows
			p.line(false, n.at, rows[n.top].at, n.at, rows[n.end].at)
			for k := n.top; k <= n.end; k++ {
				ways := 0
				on := false
				for m, j := range rows[k].items {
					if j.node != n || j.kind != jointItem {
						continue
					}
					on = true
					if m > 0 && rows[k].items[m-1].kind != gapItem {
						ways++
					}
					if m+1 < len(rows[k].items) && rows[k].items[m+1].kind != gapItem {
						ways++
					}
				}
				if k > n.top {
					ways++
				}
				if k < n.end {
					ways++
				}
				if on && ways > 2 {
					p.g.Dots = append(p.g.Dots, p.spot(n.at, rows[k].at))
				}
			}
		}
	}
}

// links draws the mechanical link between poles that stand in line.
func (p *pen) links() {
	for n := 1; n < len(p.l.g.rows); n++ {
		for _, i := range p.l.g.rows[n].items {
			if i.kind != partItem {
				continue
			}
			for _, j := range p.l.g.rows[n-1].items {
				if j.kind == partItem && j.node == i.node {
					// from the moving part of the one to the moving part of the other, beside neither number
					up, _ := i.part.shape(i.power).reach()
					p.line(true, i.node.at, p.l.g.rows[n-1].at+unit/2, i.node.at, p.l.g.rows[n].at-up)
				}
			}
		}
	}
}

// beside sets a text over a level conductor, or to the right of an upright one.
func (p *pen) beside(along, across, reach Step, text string) *GridText {
	if text == "" {
		return &GridText{}
	}
	at := p.spot(along, across)
	if p.l.down {
		return p.text(Spot{at.X + reach + 3, at.Y + capital/2}, -1, text)
	}
	return p.text(Spot{at.X, at.Y - reach - over}, 0, text)
}

func (p *pen) item(r *row, i *item) {
	at := p.spot(i.node.at, r.at)
	see := func(pin Pin, along, ring Step) {
		if pin.Device != "" {
			p.g.Pins = append(p.g.Pins, GridPin{pin, p.spot(along, r.at), ring})
		}
	}
	switch i.kind {
	case labelItem:
		text := p.s.number[i.net]
		if i.to != nil && i.to.sheet > 0 {
			if p.l.down {
				p.beside(i.node.at+textPitch, r.at, 0, "→ "+i.to.String())
			} else {
				text += " → " + i.to.String()
			}
		}
		p.beside(i.node.at, r.at, 0, text)
	case terminalItem:
		see(i.pin, i.node.at, circle)
		p.symbol(GridSymbol{Shape: TerminalShape, At: at, Down: p.l.down})
		p.beside(i.node.at, r.at, circle, i.pin.String())
	case pinItem:
		see(i.pin, i.node.at, circle)
		p.symbol(GridSymbol{Shape: TerminalShape, At: at, Down: p.l.down})
		lines := p.l.pinLines(i)
		from, anchor := Spot{at.X + circle + 3, at.Y + capital/2}, -1
		switch {
		case p.l.down && i.first:
			from, anchor = Spot{at.X, at.Y - circle - over - Step(len(lines)-1)*textPitch}, 0
		case p.l.down:
			from, anchor = Spot{at.X, at.Y + circle + over + capital}, 0
		case i.first:
			from, anchor = Spot{at.X - circle - 3, at.Y + capital/2}, 1
		}
		for _, n := range lines {
			p.note(from, anchor, n)
			from.Y += textPitch
		}
	case partItem:
		see(i.left, i.node.at-symbolHalf, 0)
		see(i.right, i.node.at+symbolHalf, 0)
		p.part(i, at)
	case endItem:
		p.end(i, at)
	case blockItem:
		see(i.left, i.node.at-i.block.half, 0)
		see(i.right, i.node.at+i.block.half, 0)
		if p.l.firstOf(i.block) == r {
			p.block(i.block)
		}
		p.ports(i, r)
	case screenItem:
		if p.l.firstOf(i.block) == r {
			p.block(i.block)
		}
	case jointItem, railItem, gapItem:
	}
}

func (p *pen) symbol(s GridSymbol) { p.g.Symbols = append(p.g.Symbols, s) }

// part draws a symbol of two ends with its texts.
func (p *pen) part(i *item, at Spot) {
	shape := i.part.shape(i.power)
	p.symbol(GridSymbol{Shape: shape, At: at, Down: p.l.down, Turned: i.left == i.part.b, Mark: lampMark(i.part.device)})
	up, down := shape.reach()
	if p.l.down {
		p.terminalName(Spot{at.X + shape.namesAt(p.s.international), at.Y - symbolHalf + capital + 1}, -1, i.left)
		p.terminalName(Spot{at.X + shape.namesAt(p.s.international), at.Y + symbolHalf - 1}, -1, i.right)
		if i.tag == "" {
			return
		}
		y := at.Y - Step(len(i.words))*textPitch/2 + capital/2
		t := p.text(Spot{at.X - up - 3, y}, 1, i.tag)
		t.Bold = true
		for _, n := range i.words {
			y += textPitch
			p.note(Spot{at.X - up - 3, y}, 1, n)
		}
		return
	}
	p.terminalName(Spot{at.X - body - 1, at.Y - over}, 1, i.left)
	p.terminalName(Spot{at.X + body + 1, at.Y - over}, -1, i.right)
	if i.tag != "" {
		t := p.text(Spot{at.X, at.Y - p.l.tagOver(up)}, 0, i.tag)
		t.Bold = true
	}
	y := at.Y + max(down, 2) + capital + 3
	for _, n := range i.words {
		p.note(Spot{at.X, y}, 0, n)
		y += textPitch
	}
}

func (p *pen) terminalName(at Spot, anchor int, pin Pin) {
	if pin.Device != "" {
		p.text(at, anchor, pin.Terminal).Faint = true
	}
}

func (p *pen) note(at Spot, anchor int, n note) {
	t := p.text(at, anchor, n.text+n.to.String())
	t.Underlined = n.under
}

// end draws how a conductor goes on elsewhere, or to ground.
func (p *pen) end(i *item, at Spot) {
	ref := i.to.String()
	switch {
	case i.earth && p.l.down && i.first:
		side := Spot{at.X - 4*unit, at.Y}
		p.g.Lines = append(p.g.Lines, GridLine{Points: []Spot{at, side}})
		p.symbol(GridSymbol{Shape: EarthSign, At: side})
		if ref != "" {
			p.text(Spot{side.X, at.Y - over}, 0, ref)
		}
	case i.earth:
		p.symbol(GridSymbol{Shape: EarthSign, At: at})
		if ref != "" {
			p.text(Spot{at.X, at.Y + 4*unit + capital}, 0, ref)
		}
	case ref == "":
	default:
		shift := Step(0)
		if i.first {
			shift = -markRoom
		}
		tip := Spot{at.X + shift, at.Y}
		if p.l.down {
			tip = Spot{at.X, at.Y + shift}
		}
		p.symbol(GridSymbol{Shape: ArrowShape, At: tip, Down: p.l.down})
		switch {
		case p.l.down && i.first:
			p.text(Spot{at.X, tip.Y - over}, 0, ref)
		case p.l.down:
			p.text(Spot{at.X, at.Y + markRoom + 2 + capital}, 0, ref)
		case i.first:
			p.text(Spot{tip.X - 3, at.Y + capital/2}, 1, ref)
		default:
			p.text(Spot{at.X + markRoom + 3, at.Y + capital/2}, -1, ref)
		}
	}
}

// block draws a device that spans rows, with its texts.
func (p *pen) block(b *wideDevice) {
	var rows []*row
	var ports []Spot
	for _, r := range p.l.g.rows {
		for _, i := range r.items {
			if i.block != b {
				continue
			}
			rows = append(rows, r)
			if i.left.Device != "" {
				ports = append(ports, p.spot(b.node.at-b.half, r.at))
			}
			if i.right.Device != "" {
				ports = append(ports, p.spot(b.node.at+b.half, r.at))
			}
		}
	}
	first, last := rows[0].at, rows[len(rows)-1].at
	side := Step(4 * unit)
	if b.shape == ScreenShape {
		side = 3 * unit
	}
	side += p.l.overhang(b)
	from, to := p.spot(b.node.at-b.half, first-side), p.spot(b.node.at+b.half, last+side)
	p.symbol(GridSymbol{Shape: b.shape, At: p.spot(b.node.at, (first+last)/2), Down: p.l.down, From: from, To: to, Ports: ports, Mark: screenMark(b)})
	tag, words := p.l.blockLines(b)
	if b.shape == MotorShape { // beside the circle, where no lead comes
		at, anchor := p.spot(b.node.at, (first+last)/2), -1
		at.X += motorBeside
		if p.l.down {
			at.X, anchor = at.X-2*motorBeside, 1
		}
		p.text(at, anchor, tag).Bold = true
		for _, n := range words {
			at.Y += textPitch
			p.note(at, anchor, n)
		}
		return
	}
	if p.l.down {
		x := p.spot(b.node.at, first-side).X - 3
		y := p.spot(b.node.at, first).Y - Step(len(words))*textPitch/2 + capital/2
		p.text(Spot{x, y}, 1, tag).Bold = true
		for _, n := range words {
			y += textPitch
			p.note(Spot{x, y}, 1, n)
		}
		return
	}
	at := p.spot(b.node.at, first-side)
	y := at.Y - 5 - Step(len(words))*textPitch
	p.text(Spot{at.X, y}, 0, tag).Bold = true
	for _, n := range words {
		y += textPitch
		p.note(Spot{at.X, y}, 0, n)
	}
}

// ports names the block's terminals in this row.
func (p *pen) ports(i *item, r *row) {
	b := i.block
	name := func(pin Pin, at, outwards Step) {
		if pin.Device == "" {
			return
		}
		outside := b.shape.namedOutside()
		spot := p.spot(at, r.at)
		switch {
		case p.l.down && outside:
			p.text(Spot{spot.X + 3, spot.Y + outwards*2 + b2s(outwards > 0)*capital}, -1, pin.Terminal)
		case p.l.down:
			y := spot.Y - outwards*(capital/2+4) + capital/2
			p.text(Spot{spot.X, y}, 0, pin.Terminal)
		case outside:
			anchor := 1
			if outwards > 0 {
				anchor = -1
			}
			p.text(Spot{spot.X + outwards*2, spot.Y - over}, anchor, pin.Terminal)
		default:
			p.text(Spot{spot.X - outwards*4, spot.Y + capital/2}, int(outwards), pin.Terminal)
		}
	}
	name(i.left, b.node.at-b.half, -1)
	name(i.right, b.node.at+b.half, 1)
}

func b2s(b bool) Step {
	if b {
		return 1
	}
	return 0
}

// lampMark returns the letter of a lamp's colour. Source: IEC 60757 for two letters is not used here; the initial of the
// colour's name in English is common practice beside IEEE 315's lamp.
func lampMark(d *Device) string {
	if d.Kind != Lamp {
		return ""
	}
	text := strings.ToLower(d.Rating + " " + d.Words)
	for _, colour := range []struct{ name, letter string }{{"red", "R"}, {"green", "G"}, {"amber", "A"}, {"yellow", "Y"}, {"blue", "B"}, {"white", "W"}, {"clear", "C"}} {
		if strings.Contains(text, colour.name) {
			return colour.letter
		}
	}
	return ""
}

// screenMark says whether a screen is joined to ground somewhere.
func screenMark(b *wideDevice) string {
	if b.cable != nil && (b.cable.Screen.AtBox || b.cable.Screen.AtFarEnd) {
		return "bonded"
	}
	return ""
}

// namedOutside reports whether the ports' names stand over the conductors, because the shape has no room inside.
func (shape Shape) namedOutside() bool {
	return shape == MotorShape || shape == KnobShape || shape == WindingBox
}
