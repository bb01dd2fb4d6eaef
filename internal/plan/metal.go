package plan

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/metalwork"
)

// metal works out the machine's own metal, hole patterns, fits, shims and the bolts of the box, and judges it.
func (p *Plan) metal() []explain.Finding {
	p.Metal = metalwork.Metal(p.Job, p.Power.Code.Set, carried(p))
	return explain.Judge(metalwork.Rules(), p.Power.Code.Set, p.Metal)
}

// carried is what the bolts carry: the box of the job, or the one that was chosen for the arrangement.
func carried(p *Plan) metalwork.Carried {
	e := &p.Job.Enclosure
	c := metalwork.Carried{Width: job.Known(e.Width), Height: job.Known(e.Height), Depth: job.Known(e.Depth)}
	a := p.Arranged
	if a == nil || a.Chosen < 0 {
		return c
	}
	room := a.Tried[a.Chosen].Room
	c.Width, c.Height, c.Depth = room.Width, room.Height, room.Depth
	// The shell: six sides and a plate of steel, 7850 kg/m³.
	w, h, d := float64(c.Width.Value), float64(c.Height.Value), float64(c.Depth.Value)
	sheet := 1.5 * quantity.Millimetre
	if e.Sheet.Set {
		sheet = e.Sheet.Value
	}
	total := (2*(w*h+w*d+h*d) + float64(room.PlateHeight.Value*room.PlateWidth.Value)) * float64(sheet) * 7850
	because := []explain.Because{c.Width, c.Height, c.Depth}
	for _, b := range a.Brief.Bodies {
		if b.Weight.OK() {
			total += float64(b.Weight.Value)
			because = append(because, b.Weight)
		}
	}
	c.Weight = explain.Chosen("weight of the box", quantity.Mass(total), "shell and plate as steel sheet, with the parts whose weight is known", explain.Practice("steel, 7850 kg/m³"), because...)
	return c
}
