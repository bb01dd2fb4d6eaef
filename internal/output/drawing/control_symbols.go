package drawing

import "math"

// ControlSymbol is a symbol of a schematic: of two ends, or a body with ports.
type ControlSymbol int

// The symbols of a schematic. Those up to InputEnd have two ends, five millimetres to either side of their middle.
const (
	NoControlSymbol ControlSymbol = iota
	OpenContact
	ClosedContact
	DelayedOpenContact
	DelayedClosedContact
	OpenPushButton
	ClosedPushButton
	OpenMushroom
	ClosedMushroom
	OpenSelector
	ClosedSelector
	OpenPosition
	ClosedPosition
	OpenFoot
	ClosedFoot
	ClosedOverload
	OpenOverload
	SwitchContact
	BreakerContact
	FuseLink
	MainContact
	CoilSymbol
	DelayCoil
	Lamp
	ResistorSymbol
	DiodeSymbol
	LoadBox
	ReadoutBox
	DirectSource
	WindingSource
	InputEnd
	TerminalCircle
	Earth
	Arrow
	PlainBody
	DriveBody
	SupplyBody
	WindingBody
	MotorBody
	KnobBody
	BarBody
	ScreenBody
)

// controlHalf is half the length of a symbol of two ends.
const controlHalf = 5.0

// controlShape draws a symbol of two ends. American are the shapes of IEEE 315 (ANSI Y32.2), International those of
// IEC 60617, both from memory.
func controlShape(b *brush, k ControlSymbol, standard Standard, mark string) {
	us := standard == American
	leads := func(to float64) {
		b.line(-controlHalf, 0, -to, 0)
		b.line(to, 0, controlHalf, 0)
	}
	borrowed := func(s Symbol) {
		x := shapeOf(s, standard)
		x.draw(b)
		if x.half < controlHalf {
			leads(x.half)
		}
	}
	switch k {
	case OpenContact, ClosedContact, OpenOverload, ClosedOverload:
		closed := k == ClosedContact || k == ClosedOverload
		if us {
			borrowed(Contactor)
			if closed {
				b.line(-2.2, 2.6, 2.2, -2.6)
			}
			return
		}
		internationalContact(b, closed)
		if k == OpenOverload || k == ClosedOverload { // worked by heat
			b.line(0, bladeHeight(closed, 0), 0, -3.3)
		}
	case MainContact:
		borrowed(Contactor)
	case SwitchContact:
		borrowed(Switch)
	case BreakerContact:
		borrowed(Breaker)
	case FuseLink:
		borrowed(Fuse)
	case OpenPushButton, ClosedPushButton, OpenMushroom, ClosedMushroom, OpenSelector, ClosedSelector:
		handContact(b, k, us)
	case OpenPosition, ClosedPosition, OpenFoot, ClosedFoot, DelayedOpenContact, DelayedClosedContact:
		armContact(b, k, us)
	case CoilSymbol, DelayCoil:
		if us {
			b.circle(0, 0, 3)
			leads(3)
			if k == DelayCoil {
				b.words(0, 0, "TD", 2.75)
			}
			return
		}
		b.closed(-1.8, -3, 1.8, -3, 1.8, 3, -1.8, 3)
		leads(1.8)
		if k == DelayCoil { // slow to release
			b.solid(-1.8, -3, 1.8, -3, 1.8, -1.6, -1.8, -1.6)
		}
	case Lamp:
		b.circle(0, 0, 2.4)
		leads(2.4)
		d := 2.4 * math.Sqrt2 / 2
		if us {
			for _, s := range [][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
				b.line(s[0]*d, s[1]*d, s[0]*(d+0.9), s[1]*(d+0.9))
			}
			if mark != "" {
				b.words(0, 0, mark, 2.75)
			}
			return
		}
		b.line(-d, -d, d, d)
		b.line(-d, d, d, -d)
		if mark != "" {
			o := b.turned(4.2, 0)
			if !b.vertical {
				o = b.turned(0, 4.2)
			}
			b.words(o[0], o[1], mark, 2.75)
		}
	case ResistorSymbol:
		if us {
			b.line(-5, 0, -3, 0, -2.5, -1.5, -1.5, 1.5, -0.5, -1.5, 0.5, 1.5, 1.5, -1.5, 2.5, 1.5, 3, 0, 5, 0)
			return
		}
		b.closed(-3.3, -1.3, 3.3, -1.3, 3.3, 1.3, -3.3, 1.3)
		leads(3.3)
	case DiodeSymbol:
		b.closed(-1.4, -1.6, 1.4, 0, -1.4, 1.6)
		b.line(1.4, -1.6, 1.4, 1.6)
		leads(1.4)
	case LoadBox:
		b.closed(-3.3, -2.2, 3.3, -2.2, 3.3, 2.2, -3.3, 2.2)
		leads(3.3)
	case ReadoutBox:
		b.closed(-3.3, -2.2, 3.3, -2.2, 3.3, 2.2, -3.3, 2.2)
		leads(3.3)
		if !b.vertical {
			b.words(0, 0, "0.0", 2.75)
		}
	case DirectSource:
		b.closed(-3, -2.8, 3, -2.8, 3, 2.8, -3, 2.8)
		leads(3)
		b.bars(0, 0, 0.9)
	case WindingSource:
		b.line(-5, 0, -3.3, 0)
		b.line(3.3, 0, 5, 0)
		for _, u := range []float64{-2.2, 0, 2.2} {
			b.arc(u, 0, 1.1, 180, 360)
		}
		b.line(-3.3, 0.9, 3.3, 0.9)
	case InputEnd:
		b.line(-5, 0, -3, 0)
		b.closed(-3, -2.2, 4.6, -2.2, 4.6, 2.2, -3, 2.2)
		b.line(-1.2, 0, 2.4, 0)
		b.solid(2.8, 0, 1.4, -0.8, 1.4, 0.8)
	case Arrow:
		b.line(0, 0, 2, 0)
		b.solid(3, 0, 1.2, -0.8, 1.2, 0.8)
	case NoControlSymbol, TerminalCircle, Earth, PlainBody, DriveBody, SupplyBody, WindingBody, MotorBody, KnobBody, BarBody, ScreenBody:
	}
}

// internationalContact draws a contact of IEC 60617: the blade hinges on the side of the load; a closed one meets a bar.
func internationalContact(b *brush, closed bool) {
	b.line(-controlHalf, 0, -2.2, 0)
	if closed {
		b.line(controlHalf, 0, 2.4, 0, -2.6, -1.5)
		b.line(-2.2, 0, -2.2, -2.2)
		return
	}
	b.line(controlHalf, 0, 2.4, 0, -2.2, -2.4)
}

// bladeHeight returns where the blade of such a contact is at u.
func bladeHeight(closed bool, u float64) float64 {
	if closed {
		return -1.5 * (2.4 - u) / 5
	}
	return -2.4 * (2.4 - u) / 4.6
}

// handContact draws a contact that a hand moves.
func handContact(b *brush, k ControlSymbol, us bool) {
	closed := k == ClosedPushButton || k == ClosedMushroom || k == ClosedSelector
	foot := -1.9 // where the actuator's stem begins
	if us {
		b.circle(-2.6, 0, 0.6)
		b.circle(2.6, 0, 0.6)
		b.line(-controlHalf, 0, -3.2, 0)
		b.line(3.2, 0, controlHalf, 0)
		if closed {
			foot = 0.95
		}
		b.line(-3.1, foot, 3.1, foot)
	} else {
		internationalContact(b, closed)
		foot = bladeHeight(closed, 0)
	}
	switch k {
	case OpenMushroom, ClosedMushroom:
		b.line(0, foot, 0, -4.1)
		b.line(-1.8, -4.1, 1.8, -4.1)
		b.arc(0, -4.1, 1.8, 180, 360)
		if !us { // it latches
			b.line(-0.9, -2.9, 0, -2.3, 0.9, -2.9)
			if closed {
				positiveOpening(b)
			}
		}
	case OpenSelector, ClosedSelector:
		b.line(0, foot, 0, -4.2)
		b.line(-1.5, -5, -1.5, -4.2, 1.5, -4.2, 1.5, -3.4)
	default:
		b.line(0, foot, 0, -4.6)
		if us {
			b.line(-1.5, -4.6, 1.5, -4.6)
			return
		}
		b.line(-1.5, -3.8, -1.5, -4.6, 1.5, -4.6, 1.5, -3.8)
	}
}

// positiveOpening marks a contact that the actuator itself forces open, whatever has welded: an arrow in a circle. Source: IEC 60617 and
// IEC 60947-5-1, Annex K, from memory.
func positiveOpening(b *brush) {
	b.circle(-2.7, -3.7, 0.85)
	b.line(-3.2, -3.7, -2.2, -3.7)
	b.line(-2.6, -4.1, -2.2, -3.7, -2.6, -3.3)
}

// armContact draws a contact that a cam, a foot or a clock moves.
func armContact(b *brush, k ControlSymbol, us bool) {
	closed := k == ClosedPosition || k == ClosedFoot || k == DelayedClosedContact
	middle := 0.0 // across, of the arm's middle
	if us {
		b.circle(-2.9, 0, 0.55)
		b.circle(2.9, 0, 0.55)
		b.line(-controlHalf, 0, -3.45, 0)
		b.line(3.45, 0, controlHalf, 0)
		end := 1.9
		if closed {
			end = -0.65
		}
		b.line(-2.35, 0, 3.3, end)
		middle = end / 2
	} else {
		internationalContact(b, closed)
		middle = bladeHeight(closed, 0)
	}
	switch k {
	case OpenPosition, ClosedPosition:
		if us { // the cam's ramp beneath the arm
			b.line(-0.8, middle*0.85, 0.4, middle+1.5, 1.4, middle*1.2)
			return
		}
		b.closed(-0.8, bladeHeight(closed, -0.8), 0.8, bladeHeight(closed, 0.8), 0.4, middle-1.7)
		if closed {
			positiveOpening(b)
		}
	case OpenFoot, ClosedFoot:
		if us {
			b.line(0.3, middle, 0.3, middle+1.9)
			b.line(-1.2, middle+1.3, 0.3, middle+1.9, 1.5, middle+1.9)
			return
		}
		b.line(0, middle, 0, -3.6)
		b.line(-1.6, -3.2, 0, -3.6, 1.4, -4.3)
	default: // late when the coil has gone off
		if us {
			b.line(0.3, middle, 0.3, middle+2.6)
			b.line(-0.7, middle+1.5, 0.3, middle+2.6, 1.3, middle+1.5)
			return
		}
		b.line(-0.3, bladeHeight(closed, -0.3), -0.3, -3.2)
		b.line(0.3, bladeHeight(closed, 0.3), 0.3, -3.2)
		b.arc(0, -4.6, 1.45, 25, 155)
	}
}

// controlBody draws a symbol that is as large as its ports ask for.
func controlBody(s SchematicSymbol, standard Standard) []Item {
	b := &brush{at: s.At.point(), vertical: s.Down, mirrored: true}
	from, to := s.From.point(), s.To.point()
	left, right := min(from.X, to.X), max(from.X, to.X)
	top, bottom := min(from.Y, to.Y), max(from.Y, to.Y)
	frame := Line{Points: []Point{{left, top}, {right, top}, {right, bottom}, {left, bottom}}, Closed: true}
	middle := b.at
	switch s.Kind {
	case PlainBody:
		return []Item{frame}
	case BarBody:
		return append([]Item{frame}, earthSign(middle.X, bottom)...)
	case DriveBody, SupplyBody:
		items := []Item{frame}
		const h = 1.9
		items = append(items, Line{Points: []Point{{middle.X - h, middle.Y - h}, {middle.X + h, middle.Y - h}, {middle.X + h, middle.Y + h}, {middle.X - h, middle.Y + h}}, Closed: true, Width: 0.25},
			Line{Points: []Point{{middle.X - h, middle.Y + h}, {middle.X + h, middle.Y - h}}, Width: 0.25})
		sign := &brush{at: Point{middle.X - 0.85, middle.Y - 1}}
		sign.wave(0, 0, 0.42)
		sign.at = Point{middle.X + 0.8, middle.Y + 1}
		if s.Kind == SupplyBody {
			sign.bars(0, 0, 0.4)
		} else {
			sign.wave(0, 0, 0.42)
		}
		return append(items, sign.items...)
	case MotorBody:
		return motorBody(s, b)
	case KnobBody:
		return knobBody(s, b, standard)
	case WindingBody:
		return windingBody(s, b)
	case ScreenBody:
		return screenBody(s, left, top, right, bottom)
	default:
		return nil
	}
}

// across returns the u, v of a place on the sheet for the brush.
func (b *brush) across(p Point) (u, v float64) {
	if b.vertical {
		return p.Y - b.at.Y, p.X - b.at.X
	}
	return p.X - b.at.X, p.Y - b.at.Y
}

// motorBody draws the motor's circle, to which the leads of its ports run together.
func motorBody(s SchematicSymbol, b *brush) []Item {
	const r, bend = 6.5, 9.5
	b.circle(0, 0, r)
	most := 1.0
	for _, p := range s.Ports {
		_, v := b.across(p.point())
		most = max(most, math.Abs(v))
	}
	for _, p := range s.Ports {
		u, v := b.across(p.point())
		aim := v
		if most > r*0.75 {
			aim = v / most * r * 0.75
		}
		sense := math.Copysign(1, u)
		b.line(u, v, sense*bend, v, sense*math.Sqrt(r*r-aim*aim), aim)
	}
	o := b.turned(0, -1.3)
	b.words(o[0], o[1], "M", 4.4)
	o = b.turned(0, 2.7)
	b.words(o[0], o[1], "3~", 2.8)
	return b.items
}

// knobBody draws a potentiometer: the track between the outer ports, the wiper at the middle one.
func knobBody(s SchematicSymbol, b *brush, standard Standard) []Item {
	if len(s.Ports) != 3 {
		return nil
	}
	u1, v1 := b.across(s.Ports[0].point())
	u2, v2 := b.across(s.Ports[1].point())
	u3, v3 := b.across(s.Ports[2].point())
	sense := math.Copysign(1, u2)
	track := -sense * 2.2
	low, high := min(v1, v3)+1.5, max(v1, v3)-1.5
	b.line(u1, v1, track, v1, track, math.Copysign(1, v1-v3)*(high-low)/2+(low+high)/2)
	b.line(u3, v3, track, v3, track, math.Copysign(1, v3-v1)*(high-low)/2+(low+high)/2)
	if standard == American {
		points := []float64{track, low}
		step := (high - low) / 12
		for n := range 6 {
			side := 1.3
			if n%2 == 1 {
				side = -1.3
			}
			points = append(points, track+side, low+step*float64(2*n+1))
		}
		b.line(append(points, track, high)...)
	} else {
		b.closed(track-1.3, low, track+1.3, low, track+1.3, high, track-1.3, high)
	}
	b.line(u2, v2, track+sense*2.4, v2)
	tip := track + sense*1.5
	b.solid(tip, v2, tip+sense*1.5, v2-0.8, tip+sense*1.5, v2+0.8)
	return b.items
}

// windingBody draws a transformer between its two ports, its other winding beside it.
func windingBody(s SchematicSymbol, b *brush) []Item {
	if len(s.Ports) < 2 {
		return nil
	}
	u1, v1 := b.across(s.Ports[0].point())
	u2, v2 := b.across(s.Ports[1].point())
	sense := -math.Copysign(1, u1) // from the ports inwards
	turns := max(2, math.Ceil(math.Abs(v2-v1)/2.8))
	r := math.Abs(v2-v1) / turns / 2
	place := r + 0.8
	for _, side := range []float64{-1, 1} {
		for n := range int(turns) {
			from, to := 270.0, 450.0 // towards the core
			if side*sense > 0 {
				from, to = 90, 270
			}
			b.arc(sense*side*place, min(v1, v2)+r*float64(2*n+1), r, from, to)
		}
	}
	b.line(u1, v1, -sense*place, v1)
	b.line(u2, v2, -sense*place, v2)
	b.line(-0.3, min(v1, v2), -0.3, max(v1, v2))
	b.line(0.3, min(v1, v2), 0.3, max(v1, v2))
	b.line(sense*place, v1, sense*(place+1.5), v1)
	b.line(sense*place, v2, sense*(place+1.5), v2)
	return b.items
}

// screenBody draws a cable's screen around its conductors, and where it is joined to ground.
func screenBody(s SchematicSymbol, left, top, right, bottom float64) []Item {
	r := min(right-left, bottom-top) / 2
	var points []Point
	corner := func(x, y, from float64) {
		for n := range 7 {
			sin, cos := math.Sincos((from + float64(n)*15) * math.Pi / 180)
			points = append(points, Point{x + r*cos, y + r*sin})
		}
	}
	corner(right-r, top+r, 270)
	corner(right-r, bottom-r, 0)
	corner(left+r, bottom-r, 90)
	corner(left+r, top+r, 180)
	items := []Item{Line{Points: points, Closed: true, Dashed: true, Width: 0.25}}
	if s.Mark == "" {
		return items
	}
	if s.Down {
		y := (top + bottom) / 2
		items = append(items, Line{Points: []Point{{right, y}, {right + 2.2, y}}})
		return append(items, earthSign(right+2.2, y)...)
	}
	return append(items, earthSign((left+right)/2, bottom)...)
}
