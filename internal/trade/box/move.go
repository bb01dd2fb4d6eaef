package box

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Move puts the lower left corner of a body to a place on its face and returns what is then wrong with it, against the enclosure and against
// every other part. It is for a hand that drags: one part is compared with all, nothing is searched. The result's lists are changed; rails and
// entries stay where they are until the arrangement is worked out anew.
func Move(r *Result, body int, x, y quantity.Length) []Clash {
	room, ok := r.Room()
	if !ok || body < 0 || body >= len(r.Placed) {
		return nil
	}
	b := &r.Brief
	p := &r.Placed[body]
	left, under := room.PlateCorner()
	t := b.Sheet().Value
	in := b.inside(&room)
	switch p.Face {
	case Plate:
		p.At[0], p.At[1] = x, y
	case Door:
		p.At[0], p.At[1] = x-left, y-under
	case LeftWall:
		p.At[2], p.At[1] = x-room.PlateFace(t), y-under
	case RightWall:
		p.At[2], p.At[1] = room.Depth.Value-x-p.Size[2]-room.PlateFace(t), y-under
	case TopWall:
		p.At[0], p.At[2] = x-left, room.Depth.Value-y-p.Size[2]-room.PlateFace(t)
	case BottomWall:
		p.At[0], p.At[2] = x-left, y-room.PlateFace(t)
	case BackWall, Outside:
		return nil
	}
	p.X, p.Y = x, y
	list := b.stands(r.Placed)
	var found []Clash
	for n := range list {
		if list[n].body != body {
			continue
		}
		found = append(found, b.alone(&in, &list[n])...)
		for m := range list {
			if m != n {
				found = append(found, b.pair(&in, &list[m], &list[n])...)
			}
		}
	}
	return found
}

// settledClashes are what is wrong with the places that the user has settled.
func (b *Brief) settledClashes(room *Room) []Clash {
	f := b.frame(room)
	p := packing{frame: f}
	for n := range b.Bodies {
		if b.Bodies[n].Spot != nil && b.Bodies[n].On != Outside && b.Bodies[n].On != BackWall {
			it := b.single(n)
			it.size = wallSize(it.on, it.size)
			p.items = append(p.items, it)
		}
	}
	if len(p.items) == 0 {
		return nil
	}
	var settled []Placed
	for k := range p.items {
		at := b.settled(&f, &p.items[k])
		p.places = append(p.places, *at)
	}
	all := b.place(room, &p)
	for k := range p.items {
		settled = append(settled, all[p.items[k].bodies[0]])
	}
	return b.Check(room, settled)
}

// Settle returns the brief with a body's place settled, to finish the arrangement around it.
func (b Brief) Settle(body int, x, y quantity.Length, turned bool) Brief {
	bodies := append([]Body(nil), b.Bodies...)
	said := explain.Physics("where it was put by hand")
	bodies[body].Spot = &Spot{X: explain.Constant(bodies[body].Tag+" x", x, said), Y: explain.Constant(bodies[body].Tag+" y", y, said), Turned: turned}
	b.Bodies = bodies
	return b
}
