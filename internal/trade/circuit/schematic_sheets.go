package circuit

import (
	"slices"
	"strings"
)

// Room around what is drawn.
const (
	numberRoom = 6 * unit  // for a rung's number, left of the rail
	refsRoom   = 17 * unit // for the contacts of a coil, right of the rail
	headRoom   = 5 * unit  // for a section's title
	railHead   = 4 * unit  // for what stands at the rails
	bandGap    = 3 * unit
)

// band is groups of one section beside or beneath one another, with their rails.
type band struct {
	section *drawnSection
	down    bool
	groups  []*rowGroup
	layouts []*layout
	starts  []Step // across, of each group
	rail    Step   // along, of the right rail
	lead    Step   // room before the rows for what stands at the rails
	width   Step
	height  Step
	onto    *band // where its rails go on
	from    *band
}

// sheets fits the sections into sheets, numbers the rungs, and draws.
func (s *sketch) sheets(sections []*drawnSection, international bool) Schematic {
	s.international = international
	var out Schematic
	var bands []*band
	for _, x := range sections {
		down := international && !x.level
		bands = append(bands, s.bands(x, down, s.room.Width, s.room.Height)...)
	}
	var sheets [][]*band
	var used Step
	for n, b := range bands {
		fresh := n == 0 || bands[n-1].section.sheet != b.section.sheet && (b.section.sheet == "Control circuit" || bands[n-1].section.sheet == "Power" || used > s.room.Height/2)
		if fresh || used+b.height > s.room.Height {
			sheets = append(sheets, nil)
			used = 0
		}
		last := len(sheets) - 1
		sheets[last] = append(sheets[last], b)
		used += b.height + bandGap
	}
	for n, list := range sheets {
		number := 0
		for _, b := range list {
			for _, g := range b.groups {
				for _, r := range g.rows {
					number++
					*r.rung = rung{n + 1, number}
				}
			}
		}
	}
	for n, list := range sheets {
		sheet := SchematicSheet{Number: n + 1, Title: sheetTitle(list), Words: s.told(list)}
		sheet.Wide = s.drawn(list, s.room.Width)
		var narrow []*band
		for _, b := range list {
			copied := *b.section
			copied.groups = nil
			for _, g := range b.groups {
				copied.groups = append(copied.groups, g.copied(g.rows))
			}
			long := Step(1 << 20)
			if b.section.level {
				narrow = append(narrow, s.bands(&copied, false, s.room.Narrow, long)...)
				continue
			}
			narrow = append(narrow, s.bands(&copied, true, s.room.Narrow, long)...)
		}
		sheet.Narrow = s.drawn(narrow, s.room.Narrow)
		out.Sheets = append(out.Sheets, sheet)
	}
	return out
}

func sheetTitle(list []*band) string {
	var names []string
	for _, b := range list {
		if !slices.Contains(names, b.section.sheet) {
			names = append(names, b.section.sheet)
		}
	}
	return strings.Join(names, "; ")
}

// bands lays a section out in as many bands as the room asks for.
func (s *sketch) bands(x *drawnSection, down bool, width, height Step) []*band {
	along, across := width-numberRoom-2*unit, height-headRoom-railHead-2*unit-ontoRoom
	lead := Step(0)
	refs := 0 // contacts of a coil
	for _, g := range x.groups {
		for _, r := range g.rows {
			if r.coil != nil {
				refs = max(refs, len(s.contactsOf(r.coil)))
			}
		}
	}
	if refs > 0 {
		along -= refsRoom
	}
	if down {
		lead = s.railLead(x)
		along, across = height-headRoom-railHead-5*unit-Step(refs+1)*textPitch, width-lead-2*unit
		if x.left >= 0 || x.right >= 0 {
			across -= ontoRoom + 2*unit
		}
	}
	var list []*band
	var used Step
	for _, g := range x.groups {
		for _, piece := range s.fit(g, down, along, across) {
			l := &layout{s: s, g: piece, down: down}
			for _, l.wrap = range wraps(down) {
				if a, _ := l.place(); max(a, l.tails()) <= along {
					break
				}
			}
			_, c := l.place()
			if len(list) == 0 || used+c > across {
				b := &band{section: x, down: down, lead: lead}
				if len(list) > 0 {
					b.from = list[len(list)-1]
					b.from.onto = b
				}
				list = append(list, b)
				used = 0
			}
			b := list[len(list)-1]
			b.groups, b.layouts, b.starts = append(b.groups, piece), append(b.layouts, l), append(b.starts, used)
			used += c + 2*unit
		}
	}
	for _, b := range list {
		b.finish(s, along)
	}
	return list
}

// railLead returns the room before level rails for what stands at them.
func (s *sketch) railLead(x *drawnSection) Step {
	w := Step(0)
	for _, net := range []int{x.left, x.right} {
		if net >= 0 {
			w = max(w, s.room.Measure(s.number[net], true), s.room.Measure(arrowWords+refRoom, false)*b2s(true))
		}
	}
	return w + 2*unit
}

// finish sets the rails of a band and its size.
func (b *band) finish(s *sketch, along Step) {
	var longest, tail, across Step
	refs := 0
	for n, l := range b.layouts {
		a, c := l.place()
		longest, tail = max(longest, a), max(tail, l.longestTail())
		across = max(across, b.starts[n]+c)
		for _, r := range l.g.rows {
			if r.coil != nil {
				refs = max(refs, len(s.contactsOf(r.coil)))
			}
		}
	}
	common := longest // with all loads of the band in one line
	for _, l := range b.layouts {
		for _, r := range l.g.rows {
			if n, _, ok := l.tail(r); ok {
				common = max(common, r.items[n].node.at+tail)
			}
		}
	}
	inLine := common <= along
	if inLine {
		longest = common
	} else {
		for _, l := range b.layouts {
			longest = max(longest, l.tails())
		}
	}
	if !b.down && b.section.left >= 0 {
		longest = max(longest, along)
	}
	b.rail = longest
	for _, l := range b.layouts {
		if !inLine {
			tail = l.longestTail()
		}
		l.toRight(b.rail, tail)
		l.g.rails[1].at = b.rail
	}
	onto := Step(0)
	if b.onto != nil && (b.section.left >= 0 || b.section.right >= 0) {
		onto = ontoRoom
	}
	if b.down {
		b.width = b.lead + across + unit
		if onto > 0 {
			b.width += onto + 2*unit
		}
		b.height = headRoom + railHead + longest + 4*unit + Step(refs+1)*textPitch
		return
	}
	b.width = numberRoom + longest + unit
	b.height = headRoom + railHead + across + unit + onto
	if b.section.left < 0 {
		b.height -= railHead - unit
	}
}

// drawn draws bands beneath one another.
func (s *sketch) drawn(list []*band, width Step) Grid {
	g := Grid{Width: width}
	y := Step(0)
	for _, b := range list {
		g.Width = max(g.Width, b.width)
		b.draw(s, &g, y)
		y += b.height + bandGap
	}
	g.Height = max(y-bandGap, unit)
	return g
}

// draw draws the band with its top at y.
func (b *band) draw(s *sketch, g *Grid, y Step) {
	p := &pen{s: s, g: g}
	title := b.section.title
	if b.from != nil {
		title += ", continued"
	}
	p.text(Spot{0, y + capital + 2}, -1, title).Bold = true
	rowsAt := y + headRoom
	if b.section.left >= 0 || b.down {
		rowsAt += railHead
	}
	for n, l := range b.layouts {
		p.l = l
		p.x, p.y = numberRoom, rowsAt+b.starts[n]
		if b.down {
			p.x, p.y = b.lead+b.starts[n], rowsAt
		}
		p.group()
		for _, r := range l.g.rows {
			p.numberOf(r, b)
		}
	}
	p.rails(b, rowsAt)
}

// numberOf writes the rung's number and, where its coil is, the contacts that the coil moves.
func (p *pen) numberOf(r *row, b *band) {
	if b.down {
		at := p.spot(b.rail, r.at)
		at.Y += 2*unit + capital
		p.text(at, 0, itoa(r.rung.number)).Faint = true
		if r.coil != nil {
			for _, c := range p.s.contactsOf(r.coil) {
				at.Y += textPitch
				closed := c.element.In&1 == 1
				switch {
				case !p.s.international:
					p.text(at, 0, c.rung.String()).Underlined = closed
				case closed:
					p.text(at, 0, "NC "+c.rung.String())
				default:
					p.text(at, 0, "NO "+c.rung.String())
				}
			}
		}
		return
	}
	at := p.spot(0, r.at)
	p.text(Spot{at.X - 2*unit, at.Y + capital/2}, 1, itoa(r.rung.number)).Faint = true
	if r.coil == nil {
		return
	}
	x, y := p.spot(b.rail, r.at).X+2*unit, at.Y+capital/2
	for n, c := range p.s.contactsOf(r.coil) {
		if n > 0 && n%2 == 0 {
			y += textPitch
		}
		p.text(Spot{x + Step(n%2)*8*unit, y}, -1, c.rung.String()).Underlined = c.element.In&1 == 1
	}
}

// rails draws the two rails of a band with what stands at them.
func (p *pen) rails(b *band, rowsAt Step) {
	for side, net := range []int{b.section.left, b.section.right} {
		if net < 0 {
			continue
		}
		var places []Step // across, from the band's first row
		for n, l := range b.layouts {
			for _, r := range l.g.rows {
				for _, i := range r.items {
					if i.kind == railItem && i.net == net {
						places = append(places, b.starts[n]+r.at)
					}
				}
			}
		}
		if len(places) == 0 {
			continue
		}
		along := Step(0)
		if side == 1 {
			along = b.rail
		}
		from, to := places[0], places[len(places)-1]
		p.l = b.layouts[0]
		p.x, p.y = numberRoom, rowsAt
		if b.down {
			p.x, p.y = b.lead, rowsAt
		}
		text := p.s.number[net]
		if b.down {
			start := p.spot(along, 0)
			x := start.X - b.lead + unit
			p.g.Lines = append(p.g.Lines, GridLine{Points: []Spot{{x, start.Y}, p.spot(along, to)}})
			p.text(Spot{x, start.Y - over}, -1, text).Bold = true
			if ref := b.railFrom(p.s, net); ref != "" {
				p.text(Spot{x, start.Y + over + capital}, -1, arrowWords+ref)
			}
		} else {
			top := p.spot(along, from)
			top.Y = rowsAt - unit
			p.g.Lines = append(p.g.Lines, GridLine{Points: []Spot{top, p.spot(along, to)}})
			anchor := -1
			if side == 1 {
				anchor = 1
			}
			if ref := b.railFrom(p.s, net); ref != "" {
				text += "  " + arrowWords + ref
			}
			p.text(Spot{top.X, top.Y - over}, anchor, text).Bold = true
		}
		if b.onto != nil {
			p.goOn(b, along)
			to = -1
		}
		for n, at := range places {
			if last := n == len(places)-1 && to >= 0; last || n > 0 && places[n-1] == at {
				continue
			}
			p.g.Dots = append(p.g.Dots, p.spot(along, at))
		}
	}
}

// goOn draws how a rail goes on in the next band, from its last row.
func (p *pen) goOn(b *band, along Step) {
	across := Step(0)
	for n, l := range b.layouts {
		for _, r := range l.g.rows {
			across = max(across, b.starts[n]+r.at+r.down)
		}
	}
	from, ref := p.spot(along, across), b.onto.groups[0].rows[0].rung.String()
	last := &p.g.Lines[len(p.g.Lines)-1].Points[1] // the rail
	*last = from
	p.symbol(GridSymbol{Shape: ArrowShape, At: from, Down: !b.down})
	if b.down {
		p.text(Spot{from.X + markRoom + 3, from.Y + capital/2}, -1, ref)
		return
	}
	p.text(Spot{from.X, from.Y + markRoom + 2 + capital}, 0, ref)
}

// railFrom says where the rail comes from: the band before, or the place where its potential is made.
func (b *band) railFrom(s *sketch, net int) string {
	if b.from != nil {
		rows := b.from.groups[len(b.from.groups)-1].rows
		return rows[len(rows)-1].rung.String()
	}
	for _, g := range b.groups {
		for _, r := range g.rows {
			for _, i := range r.items {
				if i.kind == partItem && i.part.element.Kind == Source {
					return ""
				}
			}
		}
	}
	for _, p := range s.parts {
		if p.element.Kind == Source && p.drawn && p.rung != nil && (s.net[p.a] == net || s.net[p.b] == net || s.behindFuse(s.net[p.a], p) == net) {
			return p.rung.String()
		}
	}
	return ""
}

// told says in words what the bands show.
func (s *sketch) told(list []*band) string {
	var b strings.Builder
	for _, x := range list {
		if b.Len() > 0 {
			b.WriteString(" ")
		}
		b.WriteString(x.section.title + ":")
		sep := " "
		for _, g := range x.groups {
			for _, r := range g.rows {
				var names []string
				for _, i := range r.items {
					name := ""
					switch i.kind {
					case partItem:
						name = i.part.device.Tag + " " + s.deviceWords(i.part.device)[0].text
					case blockItem:
						if i.block.device != nil && (i.left.Device != "" || i.right.Device != "") {
							name = i.block.device.Tag
							if i.left.Device != "" {
								name = i.left.String()
							}
							if i.right.Device != "" {
								name = i.right.String()
							}
						}
					case pinItem, terminalItem:
						name = i.pin.String()
					case endItem:
						if i.to != nil {
							name = "to " + i.to.String()
						}
					case labelItem, jointItem, railItem, screenItem, gapItem:
					}
					if name != "" {
						names = append(names, name)
					}
				}
				if len(names) > 0 {
					b.WriteString(sep + r.rung.String() + " " + strings.Join(names, ", "))
					sep = "; "
				}
			}
		}
		b.WriteString(".")
	}
	return b.String()
}
