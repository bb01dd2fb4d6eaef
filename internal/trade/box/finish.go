package box

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/pack"
)

// finish makes the result of an arrangement that was found: first as it is, then with shorter wires.
func (s *search) finish(r *Result, room *Room, p packing) {
	s.brief.fill(r, room, &p)
	if s.o.Watch != nil {
		s.o.Watch(copied(r))
	}
	if s.o.Quick || s.stopped() {
		return
	}
	// The rails that were found first, with all the time for them, then the other ways to share the parts out, with less.
	s.shorten(r, room, p, s.o.Effort/shortenShare)
	for _, rails := range s.brief.railPlans(&p.frame) {
		if s.stopped() {
			break
		}
		if q := s.brief.problem(&p.frame, rails); !sameItems(&q, &p) {
			s.shorten(r, room, q, s.o.Effort/(4*shortenShare))
		}
	}
}

// shortenShare is the part of the effort that goes into shortening on one set of rails, as a divisor.
const shortenShare = 10

// shorten looks for shorter wires on the rails of a packing and takes them over if they are shorter than what is there.
func (s *search) shorten(r *Result, room *Room, q packing, steps int64) {
	a := pack.Shorten(&q.problem, q.places, pack.Options{Seed: s.o.Seed, Steps: steps, Stop: s.o.Stop})
	s.steps += a.Steps
	if a.Verdict != pack.Found {
		return
	}
	q.places = a.Places
	for s.reorder(&q) {
		continue
	}
	if s.wrong(room, &q) != "" {
		return
	}
	next := *r
	s.brief.fill(&next, room, &q)
	if weighted(&next) < weighted(r) {
		next.Bound = bound(a.Bound)
		*r = next
		if s.o.Watch != nil {
			s.o.Watch(copied(r))
		}
	}
}

// copied is the result with its lists its own.
func copied(r *Result) Result {
	c := *r
	c.Tried, c.Placed, c.Rails, c.Entries, c.Runs = slices.Clone(r.Tried), slices.Clone(r.Placed), slices.Clone(r.Rails), slices.Clone(r.Entries), slices.Clone(r.Runs)
	return c
}

func sameItems(a, b *packing) bool {
	return slices.EqualFunc(a.items, b.items, func(x, y item) bool { return slices.Equal(x.bodies, y.bodies) })
}

// bound is a packing bound, twice the length in tenths, as a length.
func bound(twice int) explain.Known[quantity.Length] {
	return explain.Chosen("wires, no less than", quantity.Length(twice)*tenth/2, "what no arrangement on these rails can go below, between the middles of the parts", explain.Physics("bound of the search"))
}

// reorder swaps neighbours on a rail where that shortens the wires, and reports whether it did. Only parts whose exchange leaves the row as
// long as it was are swapped.
func (s *search) reorder(p *packing) bool {
	b := s.brief
	for k := range p.items {
		it := &p.items[k]
		if !it.rail || len(it.bodies) < 2 {
			continue
		}
		before := pack.Measure(&p.problem, p.places)
		for m := range len(it.bodies) - 1 {
			order := slices.Clone(it.bodies)
			order[m], order[m+1] = order[m+1], order[m]
			swapped := b.railItem(order)
			if swapped.size != it.size || swapped.air != it.air {
				continue
			}
			q := packing{frame: p.frame, items: slices.Clone(p.items), places: p.places}
			q.items[k] = swapped
			b.pose(&p.frame, &q, true)
			if pack.Measure(&q.problem, q.places) < before {
				*p = q
				return true
			}
		}
	}
	return false
}

// wrong checks an arrangement as the sheet would show it; "" if it is right.
func (s *search) wrong(room *Room, p *packing) string {
	placed := s.brief.place(room, p)
	if clashes := s.brief.Check(room, placed); len(clashes) > 0 {
		return clashes[0].What.Show(quantity.MetricUnits)
	}
	return ""
}

// place turns the search's places into those of the bodies.
func (b *Brief) place(room *Room, p *packing) []Placed {
	placed := make([]Placed, len(b.Bodies))
	for n := range b.Bodies {
		placed[n] = Placed{Body: n, Face: b.Bodies[n].On}
		if b.Bodies[n].On == BackWall {
			placed[n].Face = Outside
		}
	}
	left, under := room.PlateCorner()
	back := room.PlateFace(b.Sheet().Value)
	for k := range p.items {
		it, at := &p.items[k], p.places[k]
		for m, n := range it.bodies {
			s := b.single(n)
			size, corner := s.size, it.at[m]
			if at.Turn == pack.Quarter { // what was u from the left and v from below comes to height − v − its own height from the left, u from below
				corner = [2]int{it.size[1] - it.at[m][1] - size[1], it.at[m][0]}
				size = pack.Vec{size[1], size[0], size[2]}
			}
			if it.on != Plate && it.on != Door {
				size = it.size
			}
			x := &placed[n]
			x.Turned = at.Turn == pack.Quarter
			for axis := range 3 {
				c := at.At[axis]
				if axis < 2 {
					c += corner[axis] - p.frame.origin[axis]
				}
				x.At[axis] = quantity.Length(c) * tenth
				x.Size[axis] = quantity.Length(size[axis]) * tenth
			}
			if it.on == Door { // its depth ends at the door's inside
				x.At[2] = room.Before.Value - x.Size[2]
			}
			low := [3]quantity.Length{x.At[0] + left, x.At[1] + under, x.At[2] + back}
			high := [3]quantity.Length{low[0] + x.Size[0], low[1] + x.Size[1], low[2] + x.Size[2]}
			x0, y0 := room.OnFace(it.on, low)
			x1, y1 := room.OnFace(it.on, high)
			x.X, x.Y = min(x0, x1), min(y0, y1)
		}
	}
	return placed
}

// fill writes everything that follows from the places into the result.
func (b *Brief) fill(r *Result, room *Room, p *packing) {
	r.Placed = b.place(room, p)
	r.Rails = b.rails(p)
	b.follow(r, room)
}

// follow fills what follows from the places of the bodies: entries, runs, shaft and spare room.
func (b *Brief) follow(r *Result, room *Room) {
	r.Entries, r.Clashes = b.entries(room, r.Placed)
	r.Runs = b.runs(room, r.Placed, r.Entries)
	total := quantity.Length(0)
	for n, run := range r.Runs {
		total += run.Length * quantity.Length(max(b.Wires[n].Count, 1))
	}
	r.Wire = explain.Chosen("wires in the box", total, "the sum of all ways times their wires", explain.Physics("sum"))
	if !r.Bound.OK() {
		r.Bound = explain.Absent[quantity.Length]("wires, no less than", explain.Say("the search for shorter wires hasn't ended"))
	}
	r.Shaft = b.shaft(room)
	r.Spare = b.spare(room)
}

func weighted(r *Result) quantity.Length { return r.Wire.Value }

// rails are the mounting rails: one under each row, from end stop to end stop, and under each settled part that stands on a rail.
func (b *Brief) rails(p *packing) []Rail {
	var list []Rail
	for k := range p.items {
		it, at := &p.items[k], p.places[k]
		onRail := it.rail || len(it.bodies) == 1 && b.Bodies[it.bodies[0]].OnRail && it.on == Plate
		if !onRail {
			continue
		}
		x, y, w, h := at.At[0]-p.frame.origin[0], at.At[1]-p.frame.origin[1], it.size[0], it.size[1]
		rail := Rail{X: quantity.Length(x) * tenth, Y: (quantity.Length(2*y+h) / 2) * tenth, Length: quantity.Length(w) * tenth}
		if at.Turn == pack.Quarter {
			rail = Rail{X: (quantity.Length(2*x+h) / 2) * tenth, Y: quantity.Length(y) * tenth, Length: quantity.Length(w) * tenth, Upright: true}
		}
		list = append(list, rail)
	}
	return list
}

// clearDepth is the formula of the depth that is left in an enclosure.
var clearDepth = &explain.Formula{
	Name: "clear-depth", Title: "clear depth from the plate's face to the inside of the shut door",
	Words: "{depth} − 2 × {sheet} − {plate to back}",
	Inputs: []explain.Parameter{
		{Name: "depth", Kind: quantity.KindLength, Help: "of the enclosure, outside, door shut", Example: "8 in"},
		{Name: "sheet", Kind: quantity.KindLength, Help: "thickness of its walls and door", Example: "0.06 in", Default: "1.5 mm"},
		{Name: "plate to back", Kind: quantity.KindLength, Help: "from the back wall's inside to the plate's face", Example: "1/2 in"},
	},
	Result: quantity.KindLength, Source: explain.Physics("difference"),
	Compute: explain.Of3(func(depth, sheet, gap quantity.Length) (explain.Answer, error) {
		return explain.Is(depth - 2*sheet - gap)
	}),
}

// ClearDepth derives the depth before the plate of a size.
func ClearDepth(name string, depth, sheet, gap explain.Known[quantity.Length]) explain.Known[quantity.Length] {
	return explain.Derive[quantity.Length](clearDepth, name, depth, sheet, gap)
}

var shaftLength = &explain.Formula{
	Name: "shaft-length", Title: "length to cut a main switch's shaft to, from the switch's front to its end in the handle",
	Words: "{clear depth} − {switch depth} + {sheet} + {into the handle}",
	Inputs: []explain.Parameter{
		{Name: "clear depth", Kind: quantity.KindLength, Help: "from the plate's face to the inside of the door", Example: "7 in"},
		{Name: "switch depth", Kind: quantity.KindLength, Help: "from the plate to the front of the switch", Example: "80 mm"},
		{Name: "sheet", Kind: quantity.KindLength, Help: "thickness of the door", Example: "0.06 in", Default: "1.5 mm"},
		{Name: "into the handle", Kind: quantity.KindLength, Help: "how far the shaft reaches into the handle, by the switch's sheet", Example: "15 mm", Default: "15 mm"},
	},
	Result: quantity.KindLength, Source: explain.Physics("sum along the shaft"),
	Compute: explain.Of4(func(clear, body, sheet, into quantity.Length) (explain.Answer, error) {
		return explain.Is(clear - body + sheet + into)
	}),
}

// shaft is the length of the main switch's shaft.
func (b *Brief) shaft(room *Room) explain.Known[quantity.Length] {
	const name = "length to cut the shaft to"
	for n := range b.Bodies {
		if d := &b.Bodies[n]; d.Shaft && d.On == Plate {
			into := explain.Assume("shaft into the handle", 15*quantity.Millimetre, explain.Practice("door handles of main switches"), explain.Say("measure it on your handle before you cut"))
			return explain.Derive[quantity.Length](shaftLength, name, room.Before, explain.Renamed("depth of the switch", d.Depth), b.Sheet(), into)
		}
	}
	return explain.Needless[quantity.Length](name, explain.Say("no handle on the door turns a switch on the plate"))
}

var spareRoom = &explain.Formula{
	Name: "spare-plate", Title: "part of the plate that is left for later",
	Words: "1 − {covered} ÷ {plate}",
	Inputs: []explain.Parameter{
		{Name: "covered", Kind: quantity.KindArea, Help: "by the bodies on the plate, without their air", Example: "60 in²"},
		{Name: "plate", Kind: quantity.KindArea, Help: "the plate's whole area", Example: "117 in²"},
	},
	Result: quantity.KindRatio, Source: explain.Physics("difference"),
	Compute: explain.Of2(func(covered, plate quantity.Area) (explain.Answer, error) {
		return explain.Is(quantity.Ratio(1 - float64(covered)/float64(plate)))
	}),
}

func (b *Brief) spare(room *Room) explain.Known[quantity.Ratio] {
	var covered float64
	for n := range b.Bodies {
		if d := &b.Bodies[n]; d.On == Plate {
			covered += float64(d.Width.Value) * float64(d.Height.Value)
		}
	}
	area := explain.Chosen("area that the parts cover", quantity.Area(covered), "width times height of each part on the plate", explain.Physics("sum"))
	plate := explain.Chosen("area of the plate", quantity.Area(float64(room.PlateWidth.Value)*float64(room.PlateHeight.Value)), "{"+room.PlateWidth.Why().Name+"} × {"+room.PlateHeight.Why().Name+"}", explain.Physics("area"), room.PlateWidth, room.PlateHeight)
	return explain.Derive[quantity.Ratio](spareRoom, "plate left for later", area, plate)
}

// Formulas returns the formulas of this trade.
func Formulas() []*explain.Formula {
	return []*explain.Formula{clearDepth, shaftLength, spareRoom}
}
