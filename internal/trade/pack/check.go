package pack

import "fmt"

// FaultKind is what is wrong with a place.
type FaultKind int

// The faults.
const (
	OutOfRoom  FaultKind = iota // the body sticks out of the room
	WallInAir                   // a wall of the room stands in the air that the item wants
	Overlap                     // two bodies are in one place
	BodyInAir                   // B, or the block, stands in the air that A wants
	TooNear                     // two items that must be apart aren't
	OffRail                     // two items on one rail have their middles on different lines
	WrongTurn                   // the item may not be turned that way
	Moved                       // the item stands already, elsewhere
	OutOfReach                  // the item lies beyond its limits From and To
	WrongCount                  // there isn't one place for each item; A and B count for nothing
)

// Fault is one thing that is wrong with an arrangement.
type Fault struct {
	Kind FaultKind
	A    int // the item
	// B is the other item, and Block the block that is in the way; -1 where there is none.
	B, Block int
	// Side is the side of A whose air isn't free, in the kinds WallInAir and BodyInAir; the wall, in OutOfRoom.
	Side Side
	// By is how much room is missing, in the caller's unit; 0 where that has no meaning.
	By int
}

// String says what is wrong in a few words, with the items numbered from 0.
func (f Fault) String() string {
	other := fmt.Sprintf("item %d", f.B)
	if f.Block >= 0 {
		other = fmt.Sprintf("block %d", f.Block)
	}
	side := [...]string{"left", "right", "bottom", "top", "back", "front"}[f.Side]
	switch f.Kind {
	case OutOfRoom:
		return fmt.Sprintf("item %d sticks out of the room by %d on the %s", f.A, f.By, side)
	case WallInAir:
		return fmt.Sprintf("item %d lacks %d of air to the wall on the %s", f.A, f.By, side)
	case Overlap:
		return fmt.Sprintf("item %d and %s are in one place", f.A, other)
	case BodyInAir:
		return fmt.Sprintf("%s stands %d deep in the air of item %d on the %s", other, f.By, f.A, side)
	case TooNear:
		return fmt.Sprintf("item %d and %s lack %d of their distance", f.A, other, f.By)
	case OffRail:
		return fmt.Sprintf("item %d and %s aren't on one line", f.A, other)
	case WrongTurn:
		return fmt.Sprintf("item %d may not be turned so", f.A)
	case Moved:
		return fmt.Sprintf("item %d was moved from where it stands", f.A)
	case OutOfReach:
		return fmt.Sprintf("item %d lies beyond its limits", f.A)
	default:
		return "there isn't one place for each item"
	}
}

// Check returns everything that is wrong with an arrangement, item by item, and nothing if it is right. It shares no code with the
// searches but the geometry of a turn, compares every item with every other, and is the only judge of what may be called found.
func Check(p *Problem, places []Place) []Fault {
	if len(places) != len(p.Items) {
		return []Fault{{Kind: WrongCount, A: -1, B: -1, Block: -1}}
	}
	var faults []Fault
	bodies := make([]body, 0, len(p.Items)+len(p.Blocks))
	for n := range p.Items {
		it, place := &p.Items[n], places[n]
		if place.Turn < AsGiven || place.Turn > TurnZXY || !mayTurn(it, place.Turn) {
			faults = append(faults, Fault{Kind: WrongTurn, A: n, B: -1, Block: -1})
			place.Turn = AsGiven
		}
		size, air := it.turned(place.Turn)
		b := body{from: place.At, air: air}
		for axis := range size {
			b.to[axis] = b.from[axis] + size[axis]
		}
		bodies = append(bodies, b)
		faults = append(faults, alone(p, n, place, &b)...)
	}
	for _, block := range p.Blocks {
		b := body{from: block.At}
		for axis := range block.Size {
			b.to[axis] = b.from[axis] + block.Size[axis]
		}
		bodies = append(bodies, b)
	}
	for a := range p.Items {
		for b := a + 1; b < len(bodies); b++ {
			f := Fault{A: a, B: b, Block: -1}
			if b >= len(p.Items) {
				f.B, f.Block = -1, b-len(p.Items)
			}
			faults = append(faults, pairFaults(&bodies[a], &bodies[b], f)...)
			if f.Block < 0 && p.Items[a].Rail != 0 && p.Items[a].Rail == p.Items[b].Rail &&
				bodies[a].from[1]+bodies[a].to[1] != bodies[b].from[1]+bodies[b].to[1] {
				f.Kind = OffRail
				faults = append(faults, f)
			}
		}
	}
	for _, apart := range p.Aparts {
		a, b := &bodies[apart.A], &bodies[apart.B]
		if gap := max(a.gap(b, 0), a.gap(b, 1)); apart.A != apart.B && gap < apart.Distance {
			faults = append(faults, Fault{Kind: TooNear, A: apart.A, B: apart.B, Block: -1, By: apart.Distance - gap})
		}
	}
	return faults
}

// body is a box in the room with the air that it wants.
type body struct {
	from, to Vec
	air      [6]int
}

// gap is the distance between two bodies along an axis; negative if they overlap along it.
func (a *body) gap(b *body, axis int) int {
	return max(b.from[axis]-a.to[axis], a.from[axis]-b.to[axis])
}

// mayTurn reports whether the item may lie that way, by the words of Problem.
func mayTurn(it *Item, t Turn) bool {
	switch {
	case it.Fixed != nil:
		return t == it.Fixed.Turn
	case t == AsGiven:
		return true
	case it.Rail != 0:
		return false
	case t == Quarter:
		return it.Turns != Unturned
	default:
		return it.Turns == AllTurns
	}
}

// alone returns what is wrong with an item's place by itself.
func alone(p *Problem, n int, place Place, b *body) (faults []Fault) {
	it := &p.Items[n]
	f := Fault{A: n, B: -1, Block: -1}
	for axis := range 3 {
		room := [2]int{b.from[axis], p.Room[axis] - b.to[axis]}
		for end, free := range room {
			f.Side = Side(2*axis + end)
			wanted := b.air[f.Side]
			if p.Open[f.Side] {
				wanted = 0
			}
			switch {
			case free < 0:
				f.Kind, f.By = OutOfRoom, -free
				faults = append(faults, f)
			case free < wanted:
				f.Kind, f.By = WallInAir, wanted-free
				faults = append(faults, f)
			}
		}
	}
	f.Side, f.By = 0, 0
	if it.Fixed != nil && it.Fixed.At != place.At {
		f.Kind = Moved
		faults = append(faults, f)
	}
	for axis := range 3 {
		if place.At[axis] < it.From[axis] || it.To != (Vec{}) && place.At[axis] > it.To[axis] {
			f.Kind = OutOfReach
			return append(faults, f)
		}
	}
	return faults
}

// pairFaults returns whether two bodies are in one place, or one in the other's air. The form f names the two.
func pairFaults(a, b *body, f Fault) (faults []Fault) {
	clear, along := 0, 0 // axes along which they don't overlap, and the last of these
	for axis := range 3 {
		if a.gap(b, axis) >= 0 {
			clear++
			along = axis
		}
	}
	switch clear {
	case 0:
		f.Kind = Overlap
		return []Fault{f}
	case 1: // face to face along one axis: the bands on the two facing sides must hold no body
		gap := a.gap(b, along)
		near, far := a, b
		sides := [2]Side{Side(2*along + 1), Side(2 * along)} // of near and of far
		if b.to[along] <= a.from[along] {
			near, far = b, a
		}
		for n, who := range []*body{near, far} {
			if lack := who.air[sides[n]] - gap; lack > 0 {
				g := f
				g.Kind, g.Side, g.By = BodyInAir, sides[n], lack
				if who == b && f.Block < 0 {
					g.A, g.B = f.B, f.A
				}
				faults = append(faults, g)
			}
		}
	}
	return faults
}
