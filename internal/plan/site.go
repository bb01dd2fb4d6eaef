package plan

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/site"
)

// standing is what is to be put where on the machine: the box at the size that was written or found.
func standing(p *Plan) site.Brief {
	e := &p.Job.Enclosure
	b := site.Brief{Job: p.Job, Set: p.Power.Code.Set, Height: job.Known(e.Height), Width: job.Known(e.Width), Depth: job.Known(e.Depth), Hinge: string(e.Hinge.Value)}
	if p.Arranged != nil {
		if room, ok := p.Arranged.Room(); ok {
			b.Height, b.Width, b.Depth = room.Height, room.Width, room.Depth
		}
	}
	if b.Hinge == "" {
		b.Hinge = "left"
	}
	for n := range p.Job.Stations {
		b.OnDoor = b.OnDoor || p.Job.Stations[n].Where.Value == "door of the box"
	}
	if b.Height.OK() {
		b.Handle = explain.Assume("handle above the lower edge", b.Height.Value*2/3, explain.Practice("small enclosures"), explain.Say("the main switch sits in the upper part of the door"))
	} else {
		b.Handle = explain.Wrap[quantity.Length](&explain.Reason{Name: "handle above the lower edge", Origin: explain.Missing, Note: explain.Say("follows from the size of the enclosure")})
	}
	return b
}
