package site

import (
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// limits are the heights and distances of a rule set.
func limits(set explain.RuleSet) Limits {
	iec := explain.Source{Work: "IEC 60204-1", Edition: "2016", Trust: explain.FromMemory}
	l := Limits{
		HandleLeast:  explain.Constant("lowest handle of a main switch", quantity.Length(0.6), iec.At("5.3.4")),
		HandleMost:   explain.Constant("highest handle of a main switch", quantity.Length(1.9), iec.At("5.3.4")),
		ControlLeast: explain.Constant("lowest control", quantity.Length(0.6), iec.At("10.1.2")),
		ControlMost:  explain.Constant("highest control", quantity.Length(1.7), explain.Practice("a button is pressed between hip and eye")),
		Reach:        explain.Constant("reach of an arm", quantity.Length(0.7), explain.Practice("from the shoulder of a small adult, ISO 14738 gives about as much")),
		Free:         explain.Constant("room to stand before the box", quantity.Length(0.7), explain.Source{Work: "IEC 60364-7-729", Trust: explain.FromMemory}),
	}
	if set == explain.US {
		l.HandleLeast = explain.Constant("lowest handle of a main switch", quantity.Length(0.6), explain.Source{Work: "NFPA 79", Edition: "2021", Place: "5.3.4", Trust: explain.FromMemory})
		l.HandleMost = explain.Constant("highest handle of a main switch", 79*quantity.Inch, explain.NEC("404.8(A)").Remembered())
		l.ControlLeast = explain.Constant("lowest control", quantity.Length(0.6), explain.Source{Work: "NFPA 79", Edition: "2021", Place: "10.1.2", Trust: explain.FromMemory})
		l.Free = explain.Constant("room to stand before the box", 36*quantity.Inch, explain.NEC("110.26(A)(1)").Remembered())
	}
	return l
}

// inFront is the room before the door, so deep: where the door swings and somebody stands.
func inFront(box Solid, facing string, deep float64) Solid {
	s := box
	switch facing {
	case "operator":
		s.At[1], s.Size[1] = box.high(1), deep
	case "away":
		s.At[1], s.Size[1] = box.At[1]-deep, deep
	case "left":
		s.At[0], s.Size[0] = box.At[0]-deep, deep
	case "right":
		s.At[0], s.Size[0] = box.high(0), deep
	}
	return s
}

// doorway is the room that the door sweeps; none for a screwed cover.
func (r *Result) doorway(box Solid, facing string) (Solid, bool) {
	deep := float64(r.Brief.Width.Value)
	switch r.Brief.Hinge {
	case "screwed cover":
		return Solid{}, false
	case "top", "bottom":
		deep = float64(r.Brief.Height.Value)
	}
	return inFront(box, facing, deep), true
}

// front is the middle of the door.
func front(box Solid, facing string) [3]float64 {
	s := inFront(box, facing, 0)
	return s.middle()
}

// judge finds what speaks against a place, and measures it.
func (r *Result) judge(p *Place) {
	trouble := func(s Sort, grave bool, with int, words explain.Phrase) {
		p.Troubles = append(p.Troubles, Trouble{s, grave, words, with})
	}
	door, opens := r.doorway(p.Box, p.Facing)
	for n, b := range r.Blocks {
		switch b.Sort.Value {
		case "machine", "obstacle", "motor":
			if p.Box.meets(b.Solid) {
				trouble(MeetsMetal, true, n, explain.Say("the box and the "+b.name()+" share room"))
			}
			if opens && door.meets(b.Solid) {
				trouble(DoorBlocked, false, n, explain.Say("its door strikes the "+b.name()+" before it is open"))
			}
			if b.Warm.Set && p.Box.within(b.Solid, 0.02) {
				trouble(WarmNeighbour, false, n, explain.Say("it touches the "+b.name()+", which gets {} warm", b.Warm.Value))
			}
		case "moving part":
			if p.Box.meets(b.Solid) {
				trouble(InSweep, true, n, explain.Say("the "+b.name()+" sweeps through where the box would be"))
			}
			if opens && door.meets(b.Solid) {
				trouble(DoorInSweep, false, n, explain.Say("its open door stands in the way of the "+b.name()))
			}
		case "chips fly here":
			if p.Box.meets(b.Solid) {
				trouble(ChipsFly, false, n, explain.Say("chips land on it ("+b.name()+")"))
			}
		}
	}
	p.Handle = explain.Derive[quantity.Length](handleHeight, "handle of the main switch, "+p.Name, explain.Constant("lower edge of the box, "+p.Name, quantity.Length(p.Box.At[2]), explain.Physics("its place among the blocks")),
		explain.Constant("handle above the lower edge", quantity.Length(r.handleUp()), explain.Physics("its place on the box")))
	switch h := p.Handle.Value; {
	case h > r.Limits.HandleMost.Value:
		trouble(HandleHigh, false, -1, explain.Say("the handle of the main switch would be {} above the floor; {} is the most", h, r.Limits.HandleMost.Value))
	case h < r.Limits.HandleLeast.Value:
		trouble(HandleHigh, false, -1, explain.Say("the handle of the main switch would be {} above the floor; {} is the least", h, r.Limits.HandleLeast.Value))
	}
	r.standing(p, trouble)
	r.reach(p, trouble)
	r.cables(p)
}

// standing looks whether somebody can stand before the box.
func (r *Result) standing(p *Place, trouble func(Sort, bool, int, explain.Phrase)) {
	room := inFront(p.Box, p.Facing, float64(r.Limits.Free.Value))
	room.At[2], room.Size[2] = 0.05, 1.9 // a person's height
	for n, b := range r.Blocks {
		if (b.Sort.Value == "machine" || b.Sort.Value == "obstacle" || b.Sort.Value == "motor") && room.meets(b.Solid) {
			trouble(NoStandingRoom, false, n, explain.Say("the "+b.name()+" leaves less than {} to stand before its door", r.Limits.Free.Value))
			return
		}
	}
}

// shoulder is where an operator's arm begins: the point of the place where they stand that is nearest, at the height of a shoulder. Common
// practice: 1.4 m.
func shoulder(stands Solid, to [3]float64) [3]float64 {
	return [3]float64{min(max(to[0], stands.At[0]), stands.high(0)), min(max(to[1], stands.At[1]), stands.high(1)), 1.4}
}

// reach measures the way of the hand to the door, and what it goes through.
func (r *Result) reach(p *Place, trouble func(Sort, bool, int, explain.Phrase)) {
	away, from, ok := r.nearest(front(p.Box, p.Facing))
	if !ok {
		p.Away = explain.Wrap[quantity.Length](&explain.Reason{Name: "way of the hand to the box, " + p.Name, Origin: explain.Missing, Note: explain.Say("add a block of the kind: operator stands")})
		return
	}
	p.Away = explain.Constant("way of the hand to the box, "+p.Name, quantity.Length(away), explain.Physics("straight line from the shoulder"))
	if !r.Brief.OnDoor {
		return
	}
	if p.Away.Value > r.Limits.Reach.Value {
		trouble(OutOfReach, false, -1, explain.Say("the controls on its door are {} from where you stand; an arm reaches {}", p.Away.Value, r.Limits.Reach.Value))
	}
	to := front(p.Box, p.Facing)
	for _, n := range r.kind("moving part", "chips fly here") {
		if crosses(from, to, r.Blocks[n].Solid) {
			trouble(ReachAcross, r.Blocks[n].Sort.Value == "moving part", n, explain.Say("the hand goes through the "+r.Blocks[n].name()+" on its way to the door"))
		}
	}
}

// nearest is the way of the hand to a point, from the nearest place where the operator stands; false if nobody said where that is.
func (r *Result) nearest(to [3]float64) (away float64, from [3]float64, ok bool) {
	away = math.Inf(1)
	for _, n := range r.kind("operator stands") {
		s := shoulder(r.Blocks[n].Solid, to)
		if d := math.Sqrt(square(s[0]-to[0]) + square(s[1]-to[1]) + square(s[2]-to[2])); d < away {
			away, from, ok = d, s, true
		}
	}
	return away, from, ok
}

func square(x float64) float64 { return x * x }

// crosses reports whether the straight line between two points goes through the solid. Method: the slabs of its axes.
func crosses(a, b [3]float64, s Solid) bool {
	from, to := 0.0, 1.0
	for axis := range 3 {
		d := b[axis] - a[axis]
		low, high := s.At[axis]-a[axis], s.high(axis)-a[axis]
		if d == 0 {
			if low > 0 || high < 0 {
				return false
			}
			continue
		}
		t0, t1 := low/d, high/d
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		from, to = max(from, t0), min(to, t1)
	}
	return from < to-1e-9
}

// cables measures the ways from the box to the motor, the supply and the stations.
func (r *Result) cables(p *Place) {
	j := r.Brief.Job
	add := func(to string, block int, written explain.Known[quantity.Length]) {
		p.Cables = append(p.Cables, Cable{To: to, Way: r.way(p.Box, r.Blocks[block].Solid, "way to the "+to+", "+p.Name), Written: written})
	}
	for _, n := range r.kind("motor") {
		add("motor", n, job.Known(j.Motor.Cable))
		break
	}
	for _, n := range r.kind("supply point") {
		add("supply", n, job.Known(j.Supply.CordLength))
		break
	}
	for k := range j.Stations {
		s := &j.Stations[k]
		if n := r.placeOf(string(s.Name.Value)); n >= 0 {
			add(string(s.Name.Value), n, job.Known(s.Cable))
		}
	}
}

// placeOf is the block where the station goes; -1 if none is meant for it.
func (r *Result) placeOf(station string) int {
	for _, n := range r.kind("place for a station") {
		if string(r.Blocks[n].For.Value) == station {
			return n
		}
	}
	return -1
}

// way is the length of a cable between two solids: along the axes, as cables are clipped, with what its ends take.
func (r *Result) way(a, b Solid, name string) explain.Known[quantity.Length] {
	along := 0.0
	x, y := a.middle(), b.middle()
	for axis := range 3 {
		along += math.Abs(x[axis] - y[axis])
	}
	return explain.Derive[quantity.Length](cableWay, name, explain.Constant("along the machine, "+name, quantity.Length(along), explain.Physics("along x, y and z between the middles")),
		explain.Assume("both ends of a cable", quantity.Length(0.5), explain.Practice("wiring"), explain.Say("a loop at the gland and the length inside")))
}

// stations judges the places of the stations.
func (r *Result) stations() {
	j := r.Brief.Job
	for _, n := range r.kind("place for a station") {
		b := r.Blocks[n]
		s := Station{Name: string(b.For.Value), Block: n}
		if s.Name == "" {
			s.Name = b.name()
		}
		trouble := func(sort Sort, grave bool, with int, words explain.Phrase) {
			s.Troubles = append(s.Troubles, Trouble{sort, grave, words, with})
		}
		foot := slices.ContainsFunc(j.Stations, func(o job.Station) bool { return string(o.Name.Value) == s.Name && o.Where.Value == "foot switch" })
		for k, o := range r.Blocks {
			switch o.Sort.Value {
			case "moving part":
				if b.meets(o.Solid) {
					trouble(InSweep, true, k, explain.Say("the "+o.name()+" sweeps through it"))
				}
			case "machine", "obstacle", "motor":
				if b.meets(o.Solid) {
					trouble(MeetsMetal, true, k, explain.Say("it and the "+o.name()+" share room"))
				}
			}
		}
		middle := b.middle()
		s.Height = explain.Constant("height of the station, "+s.Name, quantity.Length(middle[2]), explain.Physics("the middle of its place"))
		if h := s.Height.Value; !foot && h > r.Limits.ControlMost.Value {
			trouble(HandleHigh, false, -1, explain.Say("its controls are {} above the floor; {} is the most", h, r.Limits.ControlMost.Value))
		} else if !foot && h < r.Limits.ControlLeast.Value {
			trouble(HandleHigh, false, -1, explain.Say("its controls are {} above the floor; {} is the least", h, r.Limits.ControlLeast.Value))
		}
		if away, from, ok := r.nearest(middle); ok && !foot {
			s.Away = explain.Constant("way of the hand to the station, "+s.Name, quantity.Length(away), explain.Physics("straight line from the shoulder"))
			if s.Away.Value > r.Limits.Reach.Value {
				trouble(OutOfReach, false, -1, explain.Say("it is {} from where you stand; an arm reaches {}", s.Away.Value, r.Limits.Reach.Value))
			}
			for _, k := range r.kind("moving part", "chips fly here") {
				if crosses(from, middle, r.Blocks[k].Solid) {
					trouble(ReachAcross, r.Blocks[k].Sort.Value == "moving part", k, explain.Say("the hand goes through the "+r.Blocks[k].name()+" on its way there"))
				}
			}
		}
		r.Stations = append(r.Stations, s)
	}
}
