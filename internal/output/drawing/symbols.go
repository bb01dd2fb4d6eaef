package drawing

import (
	"drivewright/internal/output/typeface"
)

// Symbol is a kind of equipment in the power path.
type Symbol int

// The symbols.
const (
	Utility         Symbol = iota // the utility's transformer, or the source in general
	Breaker                       // circuit breaker
	Fuse                          // fuse
	Plug                          // receptacle, plug and cord, or any pull-apart connection
	Switch                        // disconnect switch
	FusedSwitch                   // disconnect switch with fuses
	Contactor                     // contactor
	LineFilter                    // filter against interference
	Choke                         // line choke or output reactor
	DriveSymbol                   // drive: rectifier, DC link, inverter
	RotaryConverter               // motor and generator in one frame, makes the third line
	OverloadRelay                 // thermal overload relay
	ThreePhaseMotor               // motor
	OnePhaseMotor                 // single-phase motor
	Conductor                     // a length of wire between two of the above
)

// Standard says in whose shapes symbols are drawn.
type Standard int

// The standards.
const (
	// American is IEEE 315 (ANSI Y32.2), the shapes from memory.
	American Standard = iota
	// International is IEC 60617, the shapes from memory.
	International
)

// shape is a symbol in coordinates of its own: u along the path in the sense of the power flow, v across it, the path on v = 0.
type shape struct {
	half     float64 // from the middle to where the conductor joins, along the path
	up, down float64 // how far it reaches to either side of the path
	draw     func(b *brush)
}

// brush draws in a symbol's coordinates, turned for a path that runs downwards.
type brush struct {
	items    []Item
	at       Point // the symbol's middle
	vertical bool
	mirrored bool // a vertical path with what is above a level one on its left, as a schematic has it
	ink      Ink
}

func (b *brush) spot(u, v float64) Point {
	if b.vertical && b.mirrored {
		return Point{b.at.X + v, b.at.Y + u}
	}
	if b.vertical {
		return Point{b.at.X - v, b.at.Y + u}
	}
	return Point{b.at.X + u, b.at.Y + v}
}

// line draws through u, v pairs.
func (b *brush) line(uv ...float64) { b.add(Line{Points: b.spots(uv), Ink: b.ink}) }

// closed draws a closed outline through u, v pairs.
func (b *brush) closed(uv ...float64) { b.add(Line{Points: b.spots(uv), Ink: b.ink, Closed: true}) }

// solid fills the outline through u, v pairs.
func (b *brush) solid(uv ...float64) {
	b.add(Line{Points: b.spots(uv), Ink: b.ink, Closed: true, Filled: true})
}

func (b *brush) spots(uv []float64) []Point {
	var points []Point
	for n := 0; n+1 < len(uv); n += 2 {
		points = append(points, b.spot(uv[n], uv[n+1]))
	}
	return points
}

// arc draws from one angle to the other, in degrees from the sense of the path towards +v.
func (b *brush) arc(u, v, r, from, to float64) {
	switch {
	case b.vertical && b.mirrored:
		from, to = 90-to, 90-from
	case b.vertical:
		from, to = from+90, to+90
	}
	b.add(Circle{Centre: b.spot(u, v), Radius: r, From: from, To: to, Ink: b.ink})
}

func (b *brush) circle(u, v, r float64) {
	b.add(Circle{Centre: b.spot(u, v), Radius: r, Ink: b.ink})
}

func (b *brush) dot(u, v, r float64) {
	b.add(Circle{Centre: b.spot(u, v), Radius: r, Ink: b.ink, Filled: true})
}

// words sets upright text in the middle of u, v.
func (b *brush) words(u, v float64, text string, size float64) {
	at := b.spot(u, v)
	b.add(Words{At: Point{at.X, at.Y + size*typeface.CapHeight/2}, Text: text, Size: size, Anchor: Middle, Ink: b.ink, Bold: true})
}

// wave draws one period of an alternating current's sign, upright, with the middle at u, v.
func (b *brush) wave(u, v, r float64) {
	c := b.spot(u, v)
	b.add(Circle{Centre: Point{c.X - r, c.Y}, Radius: r, From: 180, To: 360, Ink: b.ink})
	b.add(Circle{Centre: Point{c.X + r, c.Y}, Radius: r, From: 0, To: 180, Ink: b.ink})
}

// bars draws the sign of direct current, upright: a whole line over a broken one.
func (b *brush) bars(u, v, r float64) {
	c := b.spot(u, v)
	b.add(Line{Points: []Point{{c.X - 2*r, c.Y - r*0.6}, {c.X + 2*r, c.Y - r*0.6}}, Ink: b.ink})
	for _, from := range []float64{-2, -0.5, 1} {
		b.add(Line{Points: []Point{{c.X + from*r, c.Y + r*0.6}, {c.X + (from+1)*r, c.Y + r*0.6}}, Ink: b.ink})
	}
}

func (b *brush) add(i Item) { b.items = append(b.items, i) }

// shapeOf returns the symbol in the standard's shape.
func shapeOf(s Symbol, standard Standard) shape {
	us := standard == American
	switch s {
	case Utility:
		if us {
			return shape{4.4, 5, 5, drawWindings}
		}
		return shape{6.4, 4, 4, func(b *brush) {
			b.circle(-2.4, 0, 4)
			b.circle(2.4, 0, 4)
		}}
	case Breaker:
		if us {
			return shape{4, 3.6, 0.6, func(b *brush) {
				b.dot(-3.4, 0, 0.6)
				b.dot(3.4, 0, 0.6)
				b.line(-4, 0, -3.4, 0)
				b.line(3.4, 0, 4, 0)
				b.arc(0, 1, 4.1, 222, 318)
			}}
		}
		return shape{5, 3.6, 1, func(b *brush) {
			blade(b)
			b.line(-3.6, -1, -1.6, 1)
			b.line(-3.6, 1, -1.6, -1)
			b.line(-5, 0, -2.6, 0)
		}}
	case Fuse:
		if us {
			return shape{5, 1.7, 1.7, func(b *brush) { fuseCurve(b, 0) }}
		}
		return shape{5, 1.5, 1.5, func(b *brush) {
			b.closed(-4, -1.5, 4, -1.5, 4, 1.5, -4, 1.5)
			b.line(-5, 0, 5, 0)
		}}
	case Plug:
		if us {
			return shape{3.6, 2.4, 2.4, func(b *brush) {
				b.line(-3.6, 0, -0.6, 0)
				b.line(0.6, 0, 3.6, 0)
				b.line(-2.4, -2.4, -0.2, 0, -2.4, 2.4)
				b.line(-0.9, -2.4, 1.3, 0, -0.9, 2.4)
			}}
		}
		return shape{4, 2.6, 2.6, func(b *brush) {
			b.line(-4, 0, -2.6, 0)
			b.arc(0, 0, 2.6, 90, 270)
			b.solid(-0.6, -0.8, 2.4, -0.8, 2.4, 0.8, -0.6, 0.8)
			b.line(2.4, 0, 4, 0)
		}}
	case Switch:
		return shape{5, 3.6, 1.4, func(b *brush) {
			if us {
				b.circle(-3.1, 0, 0.55)
				b.circle(2.9, 0, 0.55)
				b.line(-5, 0, -3.65, 0)
				b.line(3.45, 0, 5, 0)
				b.line(2.5, -0.35, -2.2, -3)
				return
			}
			blade(b)
			b.line(-2.6, -1.4, -2.6, 1.4)
			b.line(-5, 0, -2.6, 0)
		}}
	case FusedSwitch:
		return shape{8.5, 3.6, 1.7, func(b *brush) {
			b.line(-8.5, 0, -6.9, 0)
			b.circle(-6.4, 0, 0.55)
			b.circle(-0.6, 0, 0.55)
			b.line(-1, -0.35, -5.6, -3)
			b.line(0, 0, 1, 0)
			if us {
				fuseCurve(b, 4.5)
				b.line(7.9, 0, 8.5, 0)
				return
			}
			b.closed(1.5, -1.5, 7.5, -1.5, 7.5, 1.5, 1.5, 1.5)
			b.line(1, 0, 8.5, 0)
		}}
	case Contactor:
		if us {
			return shape{3.6, 2.6, 2.6, func(b *brush) {
				b.line(-3.6, 0, -1, 0)
				b.line(-1, -2.6, -1, 2.6)
				b.line(1, -2.6, 1, 2.6)
				b.line(1, 0, 3.6, 0)
			}}
		}
		return shape{5, 3.6, 1, func(b *brush) {
			blade(b)
			b.arc(-3.6, 0, 1, 180, 360)
			b.line(-5, 0, -2.6, 0)
		}}
	case LineFilter:
		return shape{5, 5, 5, func(b *brush) {
			b.closed(-5, -5, 5, -5, 5, 5, -5, 5)
			for _, v := range []float64{-2.3, 0, 2.3} { // a low pass: the upper waves are struck out
				o := b.turned(0, v)
				b.wave(o[0], o[1], 1.1)
				if v < 1 {
					c := b.spot(o[0], o[1])
					b.add(Line{Points: []Point{{c.X - 0.9, c.Y + 1.1}, {c.X + 0.9, c.Y - 1.1}}, Ink: b.ink})
				}
			}
		}}
	case Choke:
		return shape{5.5, 1.5, 0.4, func(b *brush) {
			b.line(-5.5, 0, -4.5, 0)
			for _, u := range []float64{-3, 0, 3} {
				b.arc(u, 0, 1.5, 180, 360)
			}
			b.line(4.5, 0, 5.5, 0)
		}}
	case DriveSymbol:
		return shape{13.2, 5.2, 5.2, drawDrive}
	case RotaryConverter:
		return shape{5.5, 5.5, 5.5, func(b *brush) {
			b.circle(0, 0, 5.5)
			o := b.turned(0, -1.5)
			b.words(o[0], o[1], "M G", 3.2)
			o = b.turned(0, 2.2)
			b.words(o[0], o[1], "1~/3~", 2.4)
		}}
	case OverloadRelay:
		if us {
			return shape{4, 1.6, 1.6, func(b *brush) {
				b.line(-4, 0, -1.9, 0)
				b.arc(-0.3, 0, 1.6, 90, 270)
				b.arc(0.3, 0, 1.6, 270, 450)
				b.line(1.9, 0, 4, 0)
			}}
		}
		return shape{4, 2.4, 2.4, func(b *brush) {
			b.closed(-4, -2.4, 4, -2.4, 4, 2.4, -4, 2.4)
			b.line(-4, 0, -1.2, 0, -1.2, -1.2, 1.2, -1.2, 1.2, 0, 4, 0)
		}}
	case ThreePhaseMotor, OnePhaseMotor:
		phases := "3~"
		if s == OnePhaseMotor {
			phases = "1~"
		}
		return shape{5.5, 5.5, 5.5, func(b *brush) {
			b.circle(0, 0, 5.5)
			o := b.turned(0, -1.3)
			b.words(o[0], o[1], "M", 4.4)
			o = b.turned(0, 2.5)
			b.words(o[0], o[1], phases, 2.8)
		}}
	case Conductor:
	}
	return shape{0, 0, 0, func(*brush) {}}
}

// turned returns the u, v that lie x to the right and y down of the middle on the sheet, whichever way the path runs.
func (b *brush) turned(x, y float64) [2]float64 {
	if b.vertical && b.mirrored {
		return [2]float64{y, x}
	}
	if b.vertical {
		return [2]float64{y, -x}
	}
	return [2]float64{x, y}
}

// blade draws an open contact, hinged on the side of the load.
func blade(b *brush) {
	b.line(5, 0, 2.6, 0, -2.2, -3.2)
}

// fuseCurve draws the American fuse, an S lying in the path with its middle at u.
func fuseCurve(b *brush, u float64) {
	b.arc(u-1.7, 0, 1.7, 180, 360)
	b.arc(u+1.7, 0, 1.7, 0, 180)
	if u == 0 {
		b.line(-5, 0, -3.4, 0)
		b.line(3.4, 0, 5, 0)
	} else {
		b.line(u-3.5, 0, u-3.4, 0)
	}
}

// drawWindings draws the two windings of a transformer across the path, a core between them.
func drawWindings(b *brush) {
	for _, side := range []float64{-1, 1} {
		b.line(side*4.4, 0, side*2.2, 0)
		for _, v := range []float64{-3.6, -1.2, 1.2, 3.6} {
			if side < 0 {
				b.arc(-2.2, v, 1.2, 270, 450)
			} else {
				b.arc(2.2, v, 1.2, 90, 270)
			}
		}
	}
	b.line(-0.35, -4.8, -0.35, 4.8)
	b.line(0.35, -4.8, 0.35, 4.8)
}

// drawDrive draws rectifier, link capacitor and inverter.
func drawDrive(b *brush) {
	b.add(Line{Points: b.spots([]float64{-13.2, -5.2, 13.2, -5.2, 13.2, 5.2, -13.2, 5.2}), Ink: b.ink, Closed: true, Width: 0.25})
	b.line(-13.2, 0, -12, 0)
	b.line(12, 0, 13.2, 0)
	for _, u := range []float64{-12, 5} {
		b.closed(u, -4, u+7, -4, u+7, 4, u, 4)
	}
	// In each converter the diagonal parts the two currents: alternating in, direct out; and the other way round.
	corner := func(u0 float64, first, second func(u, v, r float64)) {
		b.line(u0, 4, u0+7, -4)
		if b.vertical {
			first(u0+1.75, 1.9, 0.65)
			second(u0+5.25, -1.9, 0.65)
			return
		}
		first(u0+1.9, -2, 0.75)
		second(u0+5.1, 2, 0.75)
	}
	corner(-12, b.wave, b.bars)
	corner(5, b.bars, b.wave)
	// the DC link: two rails with the capacitor between them
	b.line(-5, -2.6, 5, -2.6)
	b.line(-5, 2.6, 5, 2.6)
	b.line(0, -2.6, 0, -0.55)
	b.line(-1.9, -0.55, 1.9, -0.55)
	b.line(-1.9, 0.55, 1.9, 0.55)
	b.line(0, 0.55, 0, 2.6)
}
