package plan

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/circuit"
)

// Boxed returns what is to be arranged: the bodies, the wires between them, the cables' entries, and the sizes that may be chosen.
func (p *Plan) Boxed() box.Brief {
	b := box.Brief{Job: p.Job, Set: p.Power.Code.Set, Bodies: bodies(p)}
	b.Entries = inlets(p)
	b.Wires = bundles(p, &b)
	b.Rooms = rooms(p.Job)
	if len(b.Rooms) > 1 {
		w := warm{plan: p}
		parts := w.likely(b.Bodies)
		for n := range b.Rooms {
			b.Rooms[n].Warm = tooWarm(p, &b.Rooms[n], parts)
		}
	}
	return b
}

// bundles are the wires of the circuit between bodies and entries, those of one way together.
func bundles(p *Plan, b *box.Brief) []box.Wire {
	c := &p.Circuit.Circuit
	end := func(w *circuit.Wire, pin circuit.Pin) string {
		if slices.ContainsFunc(b.Bodies, func(d box.Body) bool { return d.Tag == pin.Device }) {
			return pin.Device
		}
		if w.Cable != "" {
			return "entry of " + w.Cable
		}
		if d := c.Device(pin.Device); d != nil && d.Kind == circuit.Incoming {
			return "entry of " + d.Tag
		}
		return ""
	}
	var list []box.Wire
	add := func(from, to string) {
		if from == "" || to == "" || from == to || strings.HasPrefix(from, "entry") && strings.HasPrefix(to, "entry") {
			return
		}
		for n := range list {
			if w := &list[n]; w.From == from && w.To == to || w.From == to && w.To == from {
				w.Count++
				return
			}
		}
		list = append(list, box.Wire{From: from, To: to, Count: 1})
	}
	for n := range c.Wires {
		w := &c.Wires[n]
		add(end(w, w.From), end(w, w.To))
	}
	drive, before := "", ""
	for n := range c.Devices {
		switch c.Devices[n].Kind {
		case circuit.Drive:
			drive = c.Devices[n].Tag
		case circuit.MainSwitch:
			before = c.Devices[n].Tag
		}
	}
	for n := range b.Bodies {
		if tag := b.Bodies[n].Tag; (tag == "FL1" || tag == "L1") && drive != "" && before != "" {
			for range 2 {
				add(before, tag)
				add(tag, drive)
			}
		}
	}
	return list
}

// Typical build of a round cable: insulation on each core, how much a layer of cores opens it out, and its jacket.
const (
	coreInsulation = 1.6 * quantity.Millimetre
	jacket         = 2.4 * quantity.Millimetre
	layOpen        = 1.15
)

// over is the typical diameter over the jacket of a cable.
func over(cores int, size quantity.Conductor) quantity.Length {
	core := 2*quantity.Length(math.Sqrt(float64(size.Area())/math.Pi))*1.15 + coreInsulation
	return core*quantity.Length(layOpen*math.Sqrt(float64(max(cores, 1)))) + jacket
}

// inlets are the cables that come into the box: at the bottom unless the job says otherwise.
func inlets(p *Plan) []box.Inlet {
	c := &p.Circuit.Circuit
	metric := p.Power.Code.Set == explain.IEC
	var list []box.Inlet
	add := func(tag, sort string, power bool, od quantity.Length, size string) {
		e := box.Inlet{Cable: tag, Face: box.BottomWall, Power: power, Size: size}
		e.Over = explain.Assume("thickness of cable "+tag, od, explain.Practice("flexible cables: typical insulation and jacket"), explain.Say("measure yours"))
		for n := range p.Job.CableIn {
			g := &p.Job.CableIn[n]
			if w := string(g.Cable.Value); w != tag && w != sort {
				continue
			}
			e.Said = job.Known(g.Cable)
			switch string(g.Wall.Value) {
			case "top":
				e.Face = box.TopWall
			case "left":
				e.Face = box.LeftWall
			case "right":
				e.Face = box.RightWall
			case "back":
				e.Face = box.BackWall
			}
			if g.Size.Set {
				e.Size = string(g.Size.Value)
			}
			if g.OD.Set {
				od = g.OD.Value
				e.Over = job.Known(g.OD)
				if !g.Size.Set {
					e.Size = ""
				}
			}
			if g.At.Set {
				e.At = job.Known(g.At)
			}
			if g.Off.Set {
				e.Off = job.Known(g.Off)
			}
		}
		var hole catalogue.EntryHole
		ok := false
		if e.Size != "" {
			hole, ok = catalogue.EntryHoleFor(e.Size)
		}
		if !ok {
			hole, ok = catalogue.EntryFor(od, metric)
		}
		if ok {
			e.Size, e.Nut, e.Most = hole.Size, hole.Nut, hole.CableUpTo
			if e.Most == 0 {
				e.Most = 0.75 * hole.Across
			}
			e.Hole = explain.Constant("hole for the entry of "+tag, hole.Across, hole.Source)
		} else {
			e.Nut = 1.5 * od
		}
		list = append(list, e)
	}
	for n := range c.Devices {
		d := &c.Devices[n]
		if d.Kind != circuit.Incoming {
			continue
		}
		hard := false
		for k := range c.Wires {
			w := &c.Wires[k]
			hard = hard || w.Cable == "" && (w.From.Device == d.Tag || w.To.Device == d.Tag)
		}
		if !hard {
			continue
		}
		size := ""
		if d.Place == "supply" && p.Power.Raceway.Size.OK() {
			size = string(p.Power.Raceway.Size.Value)
		}
		add(d.Tag, "supply", true, over(3, thickest(c, d.Tag)), size)
	}
	for n := range c.Cables {
		w := &c.Cables[n]
		if w.From != "box" && w.To != "box" {
			continue
		}
		sort, power := "controls", false
		for k := range c.Wires {
			if c.Wires[k].Cable != w.Tag {
				continue
			}
			switch c.Wires[k].Duty {
			case circuit.MotorDuty:
				sort, power = "motor", true
			case circuit.SupplyDuty, circuit.ForeignDuty:
				power = true
				if w.To == "supply" || w.From == "supply" {
					sort = "supply"
				}
			case circuit.ControlAC, circuit.ControlDC, circuit.CommonAC, circuit.CommonDC, circuit.ReferenceDuty, circuit.DataDuty, circuit.GroundDuty, circuit.ScreenDuty, circuit.DriveSafeDuty:
			}
		}
		add(w.Tag, sort, power, over(len(w.Cores), w.Size.Value), "")
	}
	return list
}

// rooms are the sizes that may be chosen, smallest first: the settled one alone, or the user's own and the standard ones that the place has
// room for.
func rooms(j *job.Job) []box.Room {
	e := &j.Enclosure
	sheet := job.Or(e.Sheet, 1.5*quantity.Millimetre, explain.Practice("small steel enclosures: 1.2 to 2 mm, 16 to 14 gauge"), explain.Say("typical of a small steel box"))
	gap := job.Or(e.PlateGap, 15*quantity.Millimetre, explain.Practice("small enclosures: plate on studs, 12 to 20 mm before the back"), explain.Say("typical of a small steel box"))
	finish := func(r box.Room, plateH, plateW explain.Known[quantity.Length]) box.Room {
		less := explain.Assume("plate less than its box", 3*quantity.Inch, explain.Practice("small enclosures: plate 3 in less each way"), explain.Say("the plate's size isn't written"))
		take := func(name string, outer explain.Known[quantity.Length]) explain.Known[quantity.Length] {
			return explain.Chosen(name, max(outer.Value-less.Value, outer.Value/2), "{"+outer.Why().Name+"} less {"+less.Why().Name+"}, no less than half", explain.Practice("small enclosures"), outer, less)
		}
		r.PlateHeight, r.PlateWidth = plateH, plateW
		if !plateH.OK() {
			r.PlateHeight = take("plate height of "+r.Name, r.Height)
		}
		if !plateW.OK() {
			r.PlateWidth = take("plate width of "+r.Name, r.Width)
		}
		r.Before = box.ClearDepth("depth before the plate in "+r.Name, r.Depth, sheet, gap)
		return r
	}
	if e.Height.Set && e.Width.Set && e.Depth.Set {
		name := "your box"
		if e.Name.Set {
			name = string(e.Name.Value)
		}
		return []box.Room{finish(box.Room{Name: name, Height: job.Known(e.Height), Width: job.Known(e.Width), Depth: job.Known(e.Depth)}, job.Known(e.PlateH), job.Known(e.PlateW))}
	}
	var list []box.Room
	words := string(e.Standard.Value)
	if words == "" {
		words = "inch sizes"
		if string(j.Units.Value) == quantity.MetricUnits.String() {
			words = "metric sizes"
		}
	}
	for n := range j.Sizes {
		s := &j.Sizes[n]
		if !s.Height.Set || !s.Width.Set || !s.Depth.Set {
			continue
		}
		name := string(s.Name.Value)
		if name == "" {
			name = "own size"
		}
		list = append(list, finish(box.Room{Name: name, Height: job.Known(s.Height), Width: job.Known(s.Width), Depth: job.Known(s.Depth)}, job.Known(s.PlateH), job.Known(s.PlateW)))
	}
	for _, s := range catalogue.EnclosureSizes() {
		if words == "own sizes" || words == "inch sizes" && !s.Inch || words == "metric sizes" && s.Inch {
			continue
		}
		figure := func(what string, v quantity.Length) explain.Known[quantity.Length] {
			return explain.Constant(what+" of "+s.Name, v, s.Source)
		}
		list = append(list, finish(box.Room{Name: s.Name, Height: figure("height", s.Height), Width: figure("width", s.Width), Depth: figure("depth", s.Depth)},
			figure("plate height", s.PlateHeight), figure("plate width", s.PlateWidth)))
	}
	list = slices.DeleteFunc(list, func(r box.Room) bool {
		return e.MostH.Set && r.Height.Value > e.MostH.Value || e.MostW.Set && r.Width.Value > e.MostW.Value || e.MostD.Set && r.Depth.Value > e.MostD.Value
	})
	volume := func(r box.Room) float64 {
		return float64(r.Height.Value) * float64(r.Width.Value) * float64(r.Depth.Value)
	}
	walls := func(r box.Room) float64 {
		h, w, d := float64(r.Height.Value), float64(r.Width.Value), float64(r.Depth.Value)
		return h*w + h*d + w*d
	}
	slices.SortStableFunc(list, func(a, b box.Room) int {
		return cmp.Or(cmp.Compare(math.Round(volume(a)*1e9), math.Round(volume(b)*1e9)), cmp.Compare(walls(a), walls(b)))
	})
	return list
}

// Arrange works out the Box stage. It takes up to seconds, so it isn't done at every change of the job.
func (p *Plan) Arrange(o box.Options) {
	r := box.Arrange(p.Boxed(), o)
	p.TakeArrangement(&r)
}

// TakeArrangement takes over an arrangement that was worked out beside, for this plan's own Boxed brief or one like it: the wires in the box get
// their lengths, its faces are marked out, and all of it is judged.
func (p *Plan) TakeArrangement(r *box.Result) {
	p.circuitMark = p.CircuitMark()
	p.Arranged = r
	p.lengths()
	found := p.settleArranged()
	old := map[string]bool{}
	for _, rule := range box.Rules() {
		old[rule.Name] = true
	}
	p.Findings = slices.DeleteFunc(p.Findings, func(f explain.Finding) bool { return old[f.Rule] })
	p.judged(append(found, explain.Judge(box.Rules(), p.Power.Code.Set, *r)...))
}

// wireEnd is what each end of a wire takes beyond the straight way: to strip, to dress and to do it a second time. Common practice.
const wireEnd = 75 * quantity.Millimetre

// lengths gives each single wire between two parts of the box its length by the arrangement.
func (p *Plan) lengths() {
	r := p.Arranged
	if r.Chosen < 0 {
		return
	}
	c := &p.Circuit.Circuit
	c.Wires = slices.Clone(c.Wires)
	ends := explain.Constant[quantity.Length]("wire for both ends", 2*wireEnd, explain.Practice("panel building: 75 mm at each end to strip and dress"))
	for n := range c.Wires {
		w := &c.Wires[n]
		if w.Cable != "" {
			continue
		}
		for _, run := range r.Runs {
			if !(run.From == w.From.Device && run.To == w.To.Device || run.From == w.To.Device && run.To == w.From.Device) {
				continue
			}
			way := explain.Chosen("way from "+run.From+" to "+run.To, run.Length, "along the plate and up to the terminals, by the door's hinge to the door", explain.Physics("from the arrangement"))
			w.Length = explain.Derive[quantity.Length](wireInBox, "length of wire "+w.Name, way, ends)
			break
		}
	}
}

var wireInBox = &explain.Formula{
	Name: "wire-in-box", Title: "length to cut a wire in the box to",
	Words: "{way} + {ends}",
	Inputs: []explain.Parameter{
		{Name: "way", Kind: quantity.KindLength, Help: "between the two parts as it is laid", Example: "14 in"},
		{Name: "ends", Kind: quantity.KindLength, Help: "for both ends, to strip and dress", Example: "6 in", Default: "150 mm"},
	},
	Result: quantity.KindLength, Source: explain.Practice("panel building"),
	Compute: explain.Of2(func(way, ends quantity.Length) (explain.Answer, error) { return explain.Is(way + ends) }),
}
