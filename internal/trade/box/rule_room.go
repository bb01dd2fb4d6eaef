package box

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var wireRoomTooLittle = explain.Rule[Result]{
	Name: "wire-room-too-little", Title: "a part has less wire room than its wires need to bend",
	Why:      "a wire forced around a short bend pulls at its terminal, works loose and burns",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.NEC("Table 312.6(A)"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Brief.Bodies {
			d := &r.Brief.Bodies[n]
			if d.LeastBend.OK() && d.Bend.OK() && d.Bend.Value < d.LeastBend.Value-slack {
				report.At(d.Bend, explain.Say(d.Tag+" has {} before its terminals, its thickest wire needs {} to bend", d.Bend.Value, d.LeastBend.Value), explain.Say("give it {} of wire room, or leave that out", d.LeastBend.Value))
			}
		}
	},
}

// doorGap is the least free space that a part without air of its own keeps from the shut door; common practice.
const doorGap = 10 * quantity.Millimetre

var deepPartAtTheDoor = explain.Rule[Result]{
	Name: "deep-part-at-the-door", Title: "a part all but touches the shut door",
	Why:      "a door dented from outside, or a wire that lies on the part, is pushed onto live metal",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("panel building: 10 mm at least between parts and door"),
	Check: func(r Result, report *explain.Report) {
		room, ok := r.Room()
		if !ok {
			return
		}
		for n := range r.Brief.Bodies {
			d := &r.Brief.Bodies[n]
			if gap := room.Before.Value - d.Depth.Value; d.On == Plate && gap < doorGap-slack {
				report.At(d.Depth, explain.Say(d.Tag+" ends {} behind the shut door, {} is usual", gap, doorGap), explain.Say("take a deeper box, or write air in front: {} for the part", doorGap))
			}
		}
	},
}

var noRoomForEndStop = explain.Rule[Result]{
	Name: "no-room-for-an-end-stop", Title: "a part is settled on a rail so near the plate's edge that its end stop has no room",
	Why:      "without an end stop the row slides off its rail when a wire is pulled",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("terminal data sheets: an end stop on each side of a row"),
	Check: func(r Result, report *explain.Report) {
		room, ok := r.Room()
		if !ok {
			return
		}
		for n := range r.Brief.Bodies {
			d := &r.Brief.Bodies[n]
			if !d.OnRail || d.On != Plate || d.Spot == nil {
				continue
			}
			p := &r.Placed[n]
			left, right := p.X, room.PlateWidth.Value-p.X-p.Size[0]
			if p.Turned {
				left, right = p.Y, room.PlateHeight.Value-p.Y-p.Size[1]
			}
			if least := min(left, right); least < railEnd-slack {
				report.At(d.Spot.X, explain.Say(d.Tag+" stands {} from the plate's edge, an end stop takes {}", max(least, 0), railEnd), explain.Say("move it in to {} from the edge", railEnd))
			}
		}
	},
}

var stripBesidePower = explain.Rule[Result]{
	Name: "control-terminals-beside-power", Title: "control terminals stand close to what carries power",
	Why:      "someone who measures a button has live metal under his knuckles, and control wires lie along the motor's",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("panel building: control terminals on a rail of their own, an inch off"),
	Check: func(r Result, report *explain.Report) {
		if r.Chosen < 0 {
			return
		}
		for n := range r.Brief.Bodies {
			s := &r.Brief.Bodies[n]
			if !s.Strip || s.Power || s.On != Plate {
				continue
			}
			for m := range r.Brief.Bodies {
				d := &r.Brief.Bodies[m]
				if !d.Power || d.On != Plate {
					continue
				}
				x, y := &r.Placed[n], &r.Placed[m]
				gap := max(-overlap(x.At[0], x.At[0]+x.Size[0], y.At[0], y.At[0]+y.Size[0]), -overlap(x.At[1], x.At[1]+x.Size[1], y.At[1], y.At[1]+y.Size[1]))
				if gap >= besideGap-slack {
					continue
				}
				at := explain.Because(s.Width)
				if s.Spot != nil {
					at = s.Spot.X
				} else if d.Spot != nil {
					at = d.Spot.X
				}
				report.At(at, explain.Say(s.Tag+" stands {} from "+d.Tag+", {} is usual", max(gap, 0), besideGap), explain.Say("keep them {} apart, or put a barrier between them", besideGap))
			}
		}
	},
}

var shaftTooShort = explain.Rule[Result]{
	Name: "shaft-too-short", Title: "the main switch's shaft doesn't reach its handle",
	Why:      "the switch can't be turned off from outside, and the door can't be held shut by it",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Physics("sum along the shaft"),
	Check: func(r Result, report *explain.Report) {
		most := r.Brief.Job.Enclosure.ShaftMost
		if most.Set && r.Shaft.OK() && r.Shaft.Value > most.Value+slack {
			report.At(explain.Wrap[quantity.Length](most.Why()), explain.Say("the shaft must be {} long, it is {}", r.Shaft.Value, most.Value), explain.Say("get a shaft of at least {}, or set the switch on posts", r.Shaft.Value))
		}
	},
}

// Heights of handles and controls above the floor.
const (
	lowestHandle  = 0.6 * quantity.Metre
	highestHandle = 1.9 * quantity.Metre
)

var handleOutOfReach = explain.Rule[Result]{
	Name: "handle-out-of-reach", Title: "the main switch's handle is too low or too high",
	Why:      "who must kill the machine in a hurry shouldn't stoop or look for a box to stand on",
	Severity: explain.Must, Sets: explain.Everywhere,
	Source: explain.Source{Work: "NFPA 79", Edition: "2021", Place: "5.3.4; IEC 60204-1, 5.3.4: 0.6 to 1.9 m above the floor"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		room, ok := r.Room()
		above := r.Brief.Job.Enclosure.SitsAtZ
		if !ok || !above.Set {
			return
		}
		_, under := room.PlateCorner()
		for n := range r.Brief.Bodies {
			if !r.Brief.Bodies[n].Shaft || r.Placed[n].Face != Plate {
				continue
			}
			high := above.Value + under + r.Placed[n].At[1] + r.Placed[n].Size[1]/2
			if high < lowestHandle-slack || high > highestHandle+slack {
				report.At(explain.Wrap[quantity.Length](above.Why()), explain.Say("the handle comes to {} above the floor, it must be between {} and {}", high, lowestHandle, highestHandle), explain.Say("hang the box so that its lower edge is {} to {} above the floor", max(lowestHandle-high+above.Value, 0), highestHandle-high+above.Value))
			}
		}
	},
}
