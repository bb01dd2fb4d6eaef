package box

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// change is one thing that could be done to make a smaller room do.
type change struct {
	what explain.Phrase
	to   Brief
	room Room
}

// mostRooms is how many smaller rooms are looked at for near misses.
const mostRooms = 3

// nearMisses looks for one change that would make one of the next smaller rooms do. Only what was really arranged and checked is told, once
// for each room.
func (s *search) nearMisses(r *Result) []NearMiss {
	b := s.brief
	last := r.Chosen
	if last < 0 {
		last = len(r.Tried)
	}
	var list []NearMiss
	if last > 0 && r.Tried[last-1].Verdict == TooWarm {
		return nil // heat decides the size: no change of the parts' places makes a smaller one do
	}
	for n := last - 1; n >= max(0, last-mostRooms); n-- {
		for _, c := range b.changes(&r.Tried[n].Room) {
			if s.stopped() {
				return list
			}
			near := search{brief: &c.to, o: s.o}
			if c.to.plainBound(&c.room) != "" {
				continue
			}
			f := c.to.frame(&c.room)
			plans := c.to.railPlans(&f)
			_, ok := near.fill(&c.room, &f, plans[:min(3, len(plans))], nearEffort)
			s.steps += near.steps
			if ok {
				list = append(list, NearMiss{Room: r.Tried[n].Room, Change: c.what})
				break
			}
		}
	}
	return list
}

// changes are what may be tried in a room, the easiest first.
func (b *Brief) changes(room *Room) []change {
	var list []change
	add := func(what explain.Phrase, edit func(bodies []Body, room *Room)) {
		c := change{what: what, to: *b, room: *room}
		c.to.Bodies = slices.Clone(b.Bodies)
		edit(c.to.Bodies, &c.room)
		list = append(list, c)
	}
	deeper := 2 * quantity.Inch
	add(explain.Say("fits if it is {} deeper", deeper), func(_ []Body, room *Room) {
		room.Depth.Value += deeper
		room.Before.Value += deeper
	})
	for n := range b.Bodies {
		d := &b.Bodies[n]
		if d.On != Plate || d.Spot != nil || d.Shaft {
			continue
		}
		if high := max(d.Above.Value, d.Below.Value); high >= 50*quantity.Millimetre {
			half := high / 2
			add(explain.Say("fits if "+d.Tag+", "+d.Name+", needs no more than {} of air above and below: its data sheet decides", half), func(bodies []Body, _ *Room) {
				bodies[n].Above.Value, bodies[n].Below.Value = half, half
			})
		}
	}
	for n := range b.Bodies {
		d := &b.Bodies[n]
		if d.On == Plate && d.Spot == nil && !d.Shaft && !d.Strip && float64(d.Width.Value)*float64(d.Height.Value) > 2e-3 && d.Weight.Value < 1 {
			for _, wall := range []Face{LeftWall, RightWall} {
				add(explain.Say("fits if "+d.Tag+", "+d.Name+", moves to the "+wall.String()), func(bodies []Body, _ *Room) {
					bodies[n].On, bodies[n].OnRail = wall, false
				})
			}
		}
	}
	return list
}
