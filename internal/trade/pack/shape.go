package pack

import "slices"

// turned returns the size of the item, and the air that its sides want, when it lies as the turn says. A quarter turn takes the air
// round with it; the other turns of a brick carry the air of a near side to the near side of the axis that it comes to lie on.
func (it *Item) turned(t Turn) (size Vec, air [6]int) {
	if t == Quarter && it.AirStays {
		return Vec{it.Size[1], it.Size[0], it.Size[2]}, it.Air
	}
	if t == Quarter {
		size = Vec{it.Size[1], it.Size[0], it.Size[2]}
		air = [6]int{Left: it.Air[Top], Right: it.Air[Bottom], Bottom: it.Air[Left], Top: it.Air[Right], Back: it.Air[Back], Front: it.Air[Front]}
		return size, air
	}
	for axis, from := range turnAxes[t] {
		size[axis] = it.Size[from]
		air[2*axis], air[2*axis+1] = it.Air[2*from], it.Air[2*from+1]
	}
	return size, air
}

// turnAxes says which axis of the item lies along x, y and z in each turn.
var turnAxes = [...][3]int{
	AsGiven: {0, 1, 2}, Quarter: {1, 0, 2}, Tipped: {0, 2, 1}, Rolled: {2, 1, 0}, TurnXYZ: {1, 2, 0}, TurnZXY: {2, 0, 1},
}

// turns returns the turns that the item may take and that differ in size or in air. An item that stands already has one.
func (it *Item) turns() []Turn {
	if it.Fixed != nil {
		return []Turn{it.Fixed.Turn}
	}
	most := AsGiven
	switch {
	case it.Rail != 0 || it.Turns == Unturned:
	case it.Turns == QuarterTurns:
		most = Quarter
	default:
		most = TurnZXY
	}
	var list []Turn
next:
	for t := AsGiven; t <= most; t++ {
		size, air := it.turned(t)
		for _, before := range list {
			if s, a := it.turned(before); s == size && a == air {
				continue next
			}
		}
		list = append(list, t)
	}
	return list
}

// wiredTurns returns the turns that the item may take and that differ in size, in air or in where a wire ends.
func (p *Problem) wiredTurns(n int) []Turn {
	it := &p.Items[n]
	pinned := func(pin Pin) bool { return pin.Item == n && !pin.Centre }
	if it.Fixed != nil || it.Rail != 0 || it.Turns == Unturned || !slices.ContainsFunc(p.Nets, func(w Net) bool { return pinned(w.A) || pinned(w.B) }) {
		return it.turns()
	}
	if it.Turns == QuarterTurns {
		return []Turn{AsGiven, Quarter}
	}
	return []Turn{AsGiven, Quarter, Tipped, Rolled, TurnXYZ, TurnZXY}
}

// limited reports whether From or To keep the item from going anywhere.
func (it *Item) limited() bool { return it.From != Vec{} || it.To != Vec{} }

// pinAt returns twice the place of a pin in the room.
func (p *Problem) pinAt(pin Pin, places []Place) Vec {
	if pin.Item < 0 {
		return pin.At
	}
	it, place := &p.Items[pin.Item], places[pin.Item]
	size, _ := it.turned(place.Turn)
	at := Vec{}
	for axis := range at {
		at[axis] = 2 * place.At[axis]
		switch {
		case pin.Centre:
			at[axis] += size[axis]
		case place.Turn == Quarter && axis == 0:
			at[axis] += 2*it.Size[1] - pin.At[1]
		default:
			at[axis] += pin.At[turnAxes[place.Turn][axis]]
		}
	}
	return at
}

// Measure returns twice the weighted length of all nets, along the axes.
func Measure(p *Problem, places []Place) int {
	wire := 0
	for _, n := range p.Nets {
		a, b := p.pinAt(n.A, places), p.pinAt(n.B, places)
		for axis := range a {
			wire += n.Weight * max(a[axis]-b[axis], b[axis]-a[axis])
		}
	}
	return wire
}
