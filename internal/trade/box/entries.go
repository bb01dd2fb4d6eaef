package box

import (
	"cmp"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Room about an entry: metal between two nuts, from a nut to the wall's edge, and the free depth inside for nut and bushing.
const (
	nutApart   = 6 * quantity.Millimetre
	entryEdge  = 15 * quantity.Millimetre
	entryDepth = 15 * quantity.Millimetre
	apartEntry = 75 * quantity.Millimetre // between a power cable's entry and a control cable's, middle to middle; common practice
)

// entry finds the inlet that a wire's end names.
func (b *Brief) entry(tag string) (*Inlet, bool) {
	cable, ok := strings.CutPrefix(tag, "entry of ")
	if !ok {
		return nil, false
	}
	for n := range b.Entries {
		if b.Entries[n].Cable == cable {
			return &b.Entries[n], true
		}
	}
	return nil, false
}

// entries gives each cable's entry its place: as near as may be to where its wires go, clear of bodies and of other entries. What has no
// place is a clash.
func (b *Brief) entries(room *Room, placed []Placed) ([]Entry, []Clash) {
	var list []Entry
	var clashes []Clash
	in := b.inside(room)
	stands := b.stands(placed)
	order := make([]int, len(b.Entries))
	for n := range order {
		order[n] = n
	}
	// settled ones first, then the largest
	slices.SortStableFunc(order, func(x, y int) int {
		a, c := &b.Entries[x], &b.Entries[y]
		if a.At.OK() != c.At.OK() {
			if a.At.OK() {
				return -1
			}
			return 1
		}
		return cmp.Compare(c.Nut, a.Nut)
	})
	spots := map[int][3]quantity.Length{}
	for _, n := range order {
		e := &b.Entries[n]
		axis, far := e.Face.axis()
		along, off := alongAxes(axis)
		low, high := in.low[along]+entryEdge+e.Nut/2, in.high[along]-entryEdge-e.Nut/2
		want := b.pull(e, placed, along, (low+high)/2)
		deepLow, deepHigh := in.low[off]+entryEdge+e.Nut/2, in.high[off]-entryEdge-e.Nut/2
		if off == 2 {
			deepLow = e.Nut / 2 // its edge no lower than the plate's face
		}
		var best [3]quantity.Length
		bestCost, found := quantity.Length(0), false
		try := func(u, v quantity.Length) {
			if u < low-slack || u > high+slack || v < deepLow-slack || v > deepHigh+slack {
				return // the nut would meet a rim, or the plate
			}
			var at [3]quantity.Length
			at[axis] = in.low[axis]
			if far {
				at[axis] = in.high[axis]
			}
			at[along], at[off] = u, v
			cost := max(u-want, want-u) + max(v-deepHigh, deepHigh-v)/4
			for m, other := range spots {
				o := &b.Entries[m]
				if o.Face != e.Face {
					continue
				}
				du, dv := max(u-other[along], other[along]-u), max(v-other[off], other[off]-v)
				least := (e.Nut+o.Nut)/2 + nutApart
				if du < least && dv < least {
					return
				}
				if o.Power != e.Power && max(du, dv) < apartEntry {
					cost += 2 * (apartEntry - max(du, dv))
				}
			}
			if b.blocked(at, axis, far, along, off, e.Nut/2, stands) {
				return
			}
			if !found || cost < bestCost {
				best, bestCost, found = at, cost, true
			}
		}
		if e.At.OK() {
			t := b.Sheet().Value
			u, v := in.low[along]-t+e.At.Value, (deepLow+deepHigh)/2
			if e.Off.OK() {
				v = e.Off.Value - room.PlateFace(t)
			}
			try(u, v)
			if !found {
				best[along], best[off] = u, v
				best[axis] = in.low[axis]
				if far {
					best[axis] = in.high[axis]
				}
			}
		} else {
			const step = 5 * quantity.Millimetre
			for v := deepHigh; v >= deepLow; v -= step {
				for u := low; u <= high; u += step {
					try(u, v)
				}
			}
		}
		if !found {
			clashes = append(clashes, Clash{A: -1, B: -1, Kind: noEntry, Cable: e.Cable, What: explain.Say("the cable " + e.Cable + " finds no free place to come in on the " + e.Face.String())})
			if !e.At.OK() {
				continue
			}
		}
		spots[n] = best
		left, under := room.PlateCorner()
		x, y := room.OnFace(e.Face, [3]quantity.Length{best[0] + left, best[1] + under, best[2] + room.PlateFace(b.Sheet().Value)})
		list = append(list, Entry{Cable: e.Cable, Face: e.Face, X: x, Y: y, Size: e.Size, Hole: e.Hole})
	}
	slices.SortStableFunc(list, func(x, y Entry) int { return cmp.Compare(b.inlet(x.Cable), b.inlet(y.Cable)) })
	return list, clashes
}

func (b *Brief) inlet(cable string) int {
	return slices.IndexFunc(b.Entries, func(e Inlet) bool { return e.Cable == cable })
}

// alongAxes are the two axes in a wall: along it, and away from the back (for the back wall: up).
func alongAxes(axis int) (along, off int) {
	switch axis {
	case 0:
		return 1, 2
	case 1:
		return 0, 2
	}
	return 0, 1
}

// blocked reports whether a body stands where the nut and the bushing of an entry go.
func (b *Brief) blocked(at [3]quantity.Length, axis int, far bool, along, off int, half quantity.Length, stands []stand) bool {
	low, high := at[axis], at[axis]+entryDepth
	if far {
		low, high = at[axis]-entryDepth, at[axis]
	}
	for n := range stands {
		s := &stands[n]
		if overlap(low, high, s.low[axis], s.high[axis]) > slack && overlap(at[along]-half, at[along]+half, s.low[along], s.high[along]) > slack &&
			overlap(at[off]-half, at[off]+half, s.low[off], s.high[off]) > slack {
			return true
		}
	}
	return false
}

// pull is where along the wall a cable would best come in: over the middle of what its wires go to, the many before the few.
func (b *Brief) pull(e *Inlet, placed []Placed, along int, otherwise quantity.Length) quantity.Length {
	sum, weight := quantity.Length(0), quantity.Length(0)
	for _, w := range b.Wires {
		tag := w.To
		if w.To == "entry of "+e.Cable {
			tag = w.From
		} else if w.From != "entry of "+e.Cable {
			continue
		}
		for n := range placed {
			if b.Bodies[placed[n].Body].Tag == tag {
				count := quantity.Length(max(w.Count, 1))
				sum += count * (placed[n].At[along] + placed[n].Size[along]/2)
				weight += count
			}
		}
	}
	if weight == 0 {
		return otherwise
	}
	return sum / weight
}

// doorLoop is what the wires to the door need beyond the way to the hinge and back, so that it opens; common practice.
const doorLoop = 150 * quantity.Millimetre

// runs are the ways of the wires: square to the plate's edges, down to the plate from half the depth of a part and up again at the other end;
// to the door by the hinge.
func (b *Brief) runs(room *Room, placed []Placed, entries []Entry) []Run {
	in := b.inside(room)
	type end struct {
		at   [3]quantity.Length
		door bool
	}
	find := func(tag string) (end, bool) {
		for n := range placed {
			if b.Bodies[placed[n].Body].Tag != tag || placed[n].Face == Outside {
				continue
			}
			p := &placed[n]
			return end{[3]quantity.Length{p.At[0] + p.Size[0]/2, p.At[1] + p.Size[1]/2, p.At[2] + p.Size[2]/2}, p.Face == Door}, true
		}
		if cable, ok := strings.CutPrefix(tag, "entry of "); ok {
			for _, e := range entries {
				if e.Cable == cable {
					return end{at: b.entryAt(room, &in, &e)}, true
				}
			}
		}
		return end{}, false
	}
	apart := func(x, y quantity.Length) quantity.Length { return max(x-y, y-x) }
	list := make([]Run, 0, len(b.Wires))
	for _, w := range b.Wires {
		run := Run{From: w.From, To: w.To}
		x, ok := find(w.From)
		y, there := find(w.To)
		switch {
		case !ok || !there:
		case x.door == y.door && x.door:
			run.Length = apart(x.at[0], y.at[0]) + apart(x.at[1], y.at[1])
		case x.door != y.door:
			hinge, axis := in.low[0], 0
			switch b.Hinge() {
			case "right":
				hinge = in.high[0]
			case "top":
				hinge, axis = in.high[1], 1
			case "bottom":
				hinge, axis = in.low[1], 1
			}
			back := x.at[2]
			if x.door {
				back = y.at[2]
			}
			run.Length = apart(x.at[axis], hinge) + apart(y.at[axis], hinge) + apart(x.at[1-axis], y.at[1-axis]) + doorLoop + (in.high[2] - back)
		default:
			run.Length = apart(x.at[0], y.at[0]) + apart(x.at[1], y.at[1]) + x.at[2] + y.at[2]
		}
		list = append(list, run)
	}
	return list
}

// entryAt is where an entry is, counted from the plate's corner.
func (b *Brief) entryAt(room *Room, in *inside, e *Entry) [3]quantity.Length {
	left, under := room.PlateCorner()
	back := room.PlateFace(b.Sheet().Value)
	switch e.Face {
	case TopWall:
		return [3]quantity.Length{e.X - left, in.high[1], room.Depth.Value - e.Y - back}
	case LeftWall:
		return [3]quantity.Length{in.low[0], e.Y - under, e.X - back}
	case RightWall:
		return [3]quantity.Length{in.high[0], e.Y - under, room.Depth.Value - e.X - back}
	case BackWall:
		return [3]quantity.Length{room.Width.Value - e.X - left, e.Y - under, 0}
	case BottomWall, Door, Plate, Outside:
	}
	return [3]quantity.Length{e.X - left, in.low[1], e.Y - back}
}
