package plan

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/heat"
)

// warmth is the box as the heat stage sees it; false while no size is known.
func warmth(p *Plan) (heat.Box, bool) {
	e := &p.Job.Enclosure
	height, width, depth := job.Known(e.Height), job.Known(e.Width), job.Known(e.Depth)
	if p.Arranged != nil {
		if room, ok := p.Arranged.Room(); ok {
			height, width, depth = room.Height, room.Width, room.Depth
		}
	}
	if !height.OK() || !width.OK() || !depth.OK() {
		return heat.Box{}, false
	}
	w := warm{plan: p, height: height.Value}
	return warmBox(p, height, width, depth, w.parts()), true
}

// likelyPlace is how high in the box the drive is taken to stand while nothing is arranged: above the middle, with its air beneath it.
const likelyPlace = 0.75

// tooWarm says why a size of box is too warm for its parts as the job cools it; "" where it isn't, or nobody knows.
func tooWarm(p *Plan, room *box.Room, parts []heat.Part) string {
	r := heat.Work(warmBox(p, room.Height, room.Width, room.Depth, parts))
	for _, h := range r.Parts {
		if h.Margin.OK() && h.Margin.Value < 0 && h.Warmest.OK() {
			return explain.Say("it would be too warm: the air around "+h.Name+" would reach {}, and {} is allowed", h.Air.Value, h.Warmest.Value).Show(p.Units())
		}
	}
	return ""
}

// warmBox is a box of the size with what the job says of it.
func warmBox(p *Plan, height, width, depth explain.Known[quantity.Length], parts []heat.Part) heat.Box {
	e := &p.Job.Enclosure
	b := heat.Box{Height: height, Width: width, Depth: depth, Mounted: job.Known(e.Mounted), Material: job.Known(e.Material), Type: job.Known(e.Seal),
		Ambient: job.Known(p.Job.Shop.Ambient), Altitude: job.Known(p.Job.Shop.Altitude), Dust: job.Known(p.Job.Shop.Dust), Parts: parts}
	if e.WarmTemp.Set && e.WarmFace.Set && e.WarmFace.Value != "none" {
		b.Neighbour = heat.Neighbour{Temperature: job.Known(e.WarmTemp), Face: heat.Face(e.WarmFace.Value)}
	}
	if e.Sun.Set {
		b.Sun.Shine = heat.Shine(job.Known(e.Sun))
	}
	if p.Job.Control.Cooling.Value == "vents" || e.LowVent.Set || e.HighVent.Set {
		b.Vents = heat.Vents{Lower: job.Known(e.LowVent), Upper: job.Known(e.HighVent), Between: job.Known(e.VentRise), Opening: job.Known(e.VentKind), LowerFace: heat.Face(e.LowIn.Value), UpperFace: heat.Face(e.HighIn.Value)}
	}
	for _, f := range e.Covered.Value {
		b.Covered = append(b.Covered, heat.Face(f))
	}
	b.Vents.AboveLive = e.HighIn.Value == "top" // the parts stand below it
	b.Colour = job.Known(e.Colour)
	b.Fan.Filter = job.Known(e.FanMat)
	b.Fan.Flow = job.Known(e.FanFlow)
	return b
}

// warm gathers what gives off heat in the box.
type warm struct {
	plan   *Plan
	height quantity.Length // of the box
}

// parts are the bodies of the arrangement, and what is in the box without a body that was arranged: all of it while there is no arrangement.
func (w *warm) parts() []heat.Part {
	c := &w.plan.Circuit.Circuit
	var list []heat.Part
	placed := map[string]bool{}
	if r := w.plan.Arranged; r != nil {
		for n := range r.Placed {
			p := &r.Placed[n]
			body := &r.Brief.Bodies[p.Body]
			if p.Face == box.Outside || p.Face == box.Door && !body.Loss.OK() {
				continue
			}
			placed[body.Tag] = true
			part := w.part(c.Device(body.Tag), body.Tag, body.Loss, body.Limit)
			_, low := mustRoom(r).PlateCorner()
			up := quantity.Part(p.At[1]+p.Size[1]/2+low, w.height)
			part.Place = explain.Constant("how high "+part.Name+" stands", min(max(up, 0), 1), explain.Physics("its place in the arrangement"))
			if counts(&part) {
				list = append(list, part)
			}
		}
	}
	written := map[string]*job.Part{}
	for n := range w.plan.Job.Parts {
		p := &w.plan.Job.Parts[n]
		written[string(p.Tag.Value)] = p
	}
	add := func(d *circuit.Device, tag string) {
		if placed[tag] {
			return
		}
		var loss explain.Known[quantity.Power]
		var limit explain.Known[quantity.Temperature]
		if p := written[tag]; p != nil {
			loss, limit = given(p.Loss), given(p.Warmest)
		}
		if part := w.part(d, tag, loss, limit); counts(&part) {
			if !part.Loss.OK() {
				part.Loss = explain.Absent[quantity.Power]("heat of "+tag, explain.Say("write its losses from the data sheet"))
			}
			list = append(list, part)
		}
	}
	for n := range c.Devices {
		if d := &c.Devices[n]; d.Place == "box" && w.plan.Arranged == nil {
			add(d, d.Tag)
		}
	}
	for n := range w.plan.Job.Parts {
		if p := &w.plan.Job.Parts[n]; c.Device(string(p.Tag.Value)) == nil && p.On.Value != "outside the box" {
			add(nil, string(p.Tag.Value))
		}
	}
	return list
}

// given is a value of the job, the zero Known where it isn't written.
func given[V quantity.Value](g job.Given[V]) explain.Known[V] {
	if !g.Set {
		return explain.Known[V]{}
	}
	return job.Known(g)
}

// likely are the parts as they will likely stand, while nothing is arranged.
func (w *warm) likely(bodies []box.Body) []heat.Part {
	var list []heat.Part
	for n := range bodies {
		b := &bodies[n]
		if b.On == box.Outside || b.On == box.Door && !b.Loss.OK() {
			continue
		}
		part := w.part(w.plan.Circuit.Circuit.Device(b.Tag), b.Tag, b.Loss, b.Limit)
		part.Place = explain.Assume("how high "+part.Name+" stands", quantity.Ratio(likelyPlace), explain.Practice("drives hang in the upper part, over their cables"), explain.Say("nothing is arranged yet"))
		if counts(&part) {
			list = append(list, part)
		}
	}
	return list
}

// counts reports whether a part is of any matter to the heat: it gives some off, may not stand in much of it, or gives off nobody knows how much.
func counts(p *heat.Part) bool { return p.Loss.OK() || p.Limit.OK() || p.Loss.Why().Name != "" }

func mustRoom(r *box.Result) box.Room {
	room, _ := r.Room()
	return room
}

// part is one part with its heat: what is written of it, else what is typical of its kind at the current that it carries.
func (w *warm) part(d *circuit.Device, tag string, loss explain.Known[quantity.Power], limit explain.Known[quantity.Temperature]) heat.Part {
	part := heat.Part{Name: tag, Loss: loss, Limit: limit}
	if d == nil {
		return part
	}
	power := &w.plan.Power
	input := power.Drive.InputAtLoad
	switch d.Kind {
	case circuit.Drive:
		part.Drive = true
		m := &w.plan.Job.Machine
		load := job.Or(m.Load, 1, explain.Practice("a machine at its nameplate"), explain.Say("not said: taken to be all that the plate allows"))
		duty := job.Or(m.Duty, 1, explain.Practice("a machine that runs all hour"), explain.Say("not said: taken to run without rest"))
		if !part.Loss.OK() {
			full := job.Known(w.plan.Job.Drive.Losses)
			if !full.OK() {
				full = heat.TypicalDriveLoss("the drive", job.Known(w.plan.Job.Motor.Power))
			}
			part.Loss = heat.DriveLoss("the drive", full, load, duty)
		}
		if !part.Limit.OK() {
			part.Limit = explain.Assume("warmest air around the drive", quantity.Temperature(50), explain.Practice("drives: 40 °C at full current, 50 °C with less"), explain.Say("your drive's booklet says"))
		}
		part.Rated, part.Needed, part.From = power.Drive.Output, power.Motor.Nameplate, job.Known(w.plan.Job.Drive.Derated)
	case circuit.MainSwitch, circuit.Breaker:
		rated := power.Disconnect.Size
		if d.Kind == circuit.Breaker {
			rated = power.Protection.InBox
		}
		if !part.Loss.OK() && rated.OK() && input.OK() {
			part.Loss = heat.CurrentLoss(tag, string(d.Kind), rated, explain.Constant("poles of "+tag+" that carry the current", quantity.Count(2), explain.Physics("a single-phase circuit has two conductors")), input)
		}
	case circuit.Contactor:
		if !part.Loss.OK() {
			part.Loss = heat.SteadyLoss(tag, "DC contactor coil") // the coil: what its contacts lose depends on a size that isn't chosen here
		}
	case circuit.Transformer:
		if !part.Loss.OK() {
			part.Loss = explain.Absent[quantity.Power]("heat of "+tag, explain.Say("what hangs on it isn't summed up; write its losses under parts, about 15 % of what it gives"))
		}
	case circuit.Relay, circuit.DelayRelay:
		if !part.Loss.OK() {
			part.Loss = heat.SteadyLoss(tag, "relay coil")
		}
	case circuit.PowerSupply:
		for _, s := range w.plan.Circuit.Figures.Supplies {
			if !part.Loss.OK() && s.Load.OK() {
				part.Loss = heat.ConversionLoss(tag, "24 V supply", explain.Derive[quantity.Power](outputPower, "output of "+tag, w.plan.Circuit.Choices.Voltage, s.Load))
			}
		}
	default:
	}
	return part
}

var outputPower = &explain.Formula{
	Name: "output-power", Title: "power that a direct-current supply gives", Words: "{voltage} × {current}",
	Inputs: []explain.Parameter{{Name: "voltage", Kind: quantity.KindVoltage, Help: "of the supply", Example: "24 V"}, {Name: "current", Kind: quantity.KindCurrent, Help: "that it really gives", Example: "0.5 A"}},
	Result: quantity.KindPower, Source: explain.Physics("power is voltage × current"),
	Compute: explain.Of2(func(v quantity.Voltage, i quantity.Current) (explain.Answer, error) {
		return explain.Is(quantity.Power(float64(v) * float64(i)))
	}),
}
