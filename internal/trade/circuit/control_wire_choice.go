package circuit

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// chooseWire settles the sizes of the control wires and what the control cables are rated for.
func chooseWire(r *Result, p *Choices) {
	c := &r.Job.Controls
	single, core, rating := quantity.AWG(18), quantity.AWG(20), quantity.Voltage(300)
	if r.Brief.Set == explain.IEC {
		single, core, rating = quantity.SquareMillimetres(0.75), quantity.SquareMillimetres(0.5), 300
	}
	if p.Supply.Value == "a transformer" && p.Voltage.Value > 50 {
		rating = 600
	}
	p.Wire = job.Or(c.Wire, single, usual, explain.Say("the usual size: strong enough not to break at a screw"))
	p.CableWire = job.Or(c.CableWire, core, usual, explain.Say("the usual size of the cores of a control cable"))
	p.CableRating = job.Or(c.CableRating, rating, usual, explain.Say("the usual rating of control cable: read what is printed on yours"))
}
