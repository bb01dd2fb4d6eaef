package plan

import (
	"fmt"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/metalwork"
)

// faces are the sheets of an enclosure in the order of the work: the plate first, the door last, since it shows.
var faces = []box.Face{box.Plate, box.LeftWall, box.RightWall, box.TopWall, box.BottomWall, box.BackWall, box.Door}

// Typical rims of an enclosure, where no hole may come: what the metal is bent over and where the seal lies.
const (
	doorRim = 18 * quantity.Millimetre
	wallRim = 15 * quantity.Millimetre
)

// markingOut is what is to be marked out: the faces of the arranged enclosure and every hole that the arrangement asks for.
func markingOut(p *Plan) metalwork.Brief {
	b := metalwork.Brief{Job: p.Job, Set: p.Power.Code.Set}
	r := p.Arranged
	if r == nil {
		return b
	}
	room, ok := r.Room()
	if !ok {
		return b
	}
	m := marker{plan: p, room: room, brief: &b, sheet: map[box.Face]int{}}
	m.sheets()
	for n := range r.Placed {
		m.part(&r.Brief.Bodies[r.Placed[n].Body], &r.Placed[n])
		m.handle(&r.Brief.Bodies[r.Placed[n].Body], &r.Placed[n])
	}
	for n := range r.Rails {
		m.rail(n, r.Rails[n])
	}
	for _, e := range r.Entries {
		if e.Hole.OK() {
			nut := quantity.Length(0)
			if h, ok := catalogue.EntryHoleFor(e.Size); ok {
				nut = h.Nut
			}
			m.hole(e.Face, metalwork.Hole{For: "entry of " + e.Cable + ", " + e.Size, Shape: metalwork.Knockout, X: e.X, Y: e.Y, Across: e.Hole, Head: nut})
		}
	}
	m.bolts()
	m.used()
	return b
}

// marker gathers sheets and holes.
type marker struct {
	plan  *Plan
	room  box.Room
	brief *metalwork.Brief
	sheet map[box.Face]int // index into brief.Sheets
	thick explain.Known[quantity.Length]
}

// sheets makes a sheet of each face, with its rims and with what stands behind.
func (m *marker) sheets() {
	e := &m.plan.Job.Enclosure
	m.thick = job.Or(e.Sheet, 1.5*quantity.Millimetre, explain.Practice("small steel enclosures: 1.2 to 2 mm, 16 to 14 gauge"), explain.Say("typical of a small steel box"))
	plate := job.Or(e.PlateMade, 2.5*quantity.Millimetre, explain.Practice("back plates: 2 to 3 mm, 14 to 12 gauge"), explain.Say("typical of a back plate"))
	material := job.Or(e.Material, "painted steel", explain.Practice("small enclosures"), explain.Say("what most are")).Value
	known := func(name string, v quantity.Length, from ...explain.Because) explain.Known[quantity.Length] {
		for _, f := range from {
			if q, ok := f.(explain.Known[quantity.Length]); ok && q.Value == v {
				return q
			}
		}
		return explain.Constant(name, v, explain.Physics("outside size of the enclosure"))
	}
	for _, f := range faces {
		w, h := m.room.FaceSize(f)
		s := metalwork.Sheet{Name: f.String(), Thick: m.thick, Material: string(material),
			Width: known("width of the "+f.String(), w, m.room.Width, m.room.Depth, m.room.PlateWidth), Height: known("height of the "+f.String(), h, m.room.Height, m.room.Depth, m.room.PlateHeight)}
		rim := wallRim
		switch f {
		case box.Plate:
			s.Thick, rim = plate, 0
		case box.Door:
			rim = doorRim
		case box.LeftWall, box.RightWall, box.TopWall, box.BottomWall, box.BackWall, box.Outside:
		}
		if rim > 0 {
			s.Zones = append(s.Zones, metalwork.Zone{What: "rim and seal", Width: rim, Height: h}, metalwork.Zone{What: "rim and seal", X: w - rim, Width: rim, Height: h},
				metalwork.Zone{What: "rim and seal", Width: w, Height: rim}, metalwork.Zone{What: "rim and seal", Y: h - rim, Width: w, Height: rim})
		}
		m.sheet[f] = len(m.brief.Sheets)
		m.brief.Sheets = append(m.brief.Sheets, s)
	}
	for n := range m.plan.Arranged.Placed {
		m.behind(&m.plan.Arranged.Placed[n])
	}
}

// corners returns the opposite corners of a placed body in the enclosure, from its outer lower left back corner.
func (m *marker) corners(p *box.Placed) (low, high [3]quantity.Length) {
	left, under := m.room.PlateCorner()
	back := m.room.PlateFace(m.thick.Value)
	for k, off := range [3]quantity.Length{left, under, back} {
		low[k] = p.At[k] + off
		high[k] = low[k] + p.Size[k]
	}
	return low, high
}

// behind marks on the door and the walls what stands behind them.
func (m *marker) behind(p *box.Placed) {
	if p.Face != box.Plate {
		return
	}
	low, high := m.corners(p)
	t := m.thick.Value
	for f, free := range map[box.Face]quantity.Length{box.Door: m.room.Depth.Value - t - high[2], box.LeftWall: low[0] - t, box.RightWall: m.room.Width.Value - t - high[0],
		box.BottomWall: low[1] - t, box.TopWall: m.room.Height.Value - t - high[1]} {
		x0, y0 := m.room.OnFace(f, low)
		x1, y1 := m.room.OnFace(f, high)
		z := metalwork.Zone{What: m.plan.Arranged.Brief.Bodies[p.Body].Tag, X: min(x0, x1), Y: min(y0, y1), Width: max(x0, x1) - min(x0, x1), Height: max(y0, y1) - min(y0, y1), Behind: max(free, 0.1*quantity.Millimetre)}
		s := &m.brief.Sheets[m.sheet[f]]
		s.Zones = append(s.Zones, z)
	}
}

func (m *marker) hole(f box.Face, h metalwork.Hole) {
	n, ok := m.sheet[f]
	if !ok {
		return
	}
	h.Sheet = n
	m.brief.Holes = append(m.brief.Holes, h)
}

// part adds the holes of a placed part.
func (m *marker) part(b *box.Body, p *box.Placed) {
	what := b.Tag
	if b.Name != "" && b.Name != b.Tag {
		what += ", " + b.Name
	}
	w, h := m.extent(p)
	f := b.Fixing
	// Bodies were arranged side by side as boxes; round heads meet at the earliest where the narrow sides of two of them would.
	switch {
	case f.Hole.OK():
		shape := metalwork.Round
		if f.Notch {
			shape = metalwork.Notched
		}
		m.hole(p.Face, metalwork.Hole{For: what, Shape: shape, X: p.X + w/2, Y: p.Y + h/2, Across: f.Hole, Head: min(w, h)})
	case f.CutWidth.OK() && f.CutHeight.OK():
		m.hole(p.Face, metalwork.Hole{For: what, Shape: metalwork.Square, X: p.X + w/2, Y: p.Y + h/2, Width: f.CutWidth, Height: f.CutHeight, Turned: p.Turned})
	}
	if b.OnRail || f.Screw == "" {
		return
	}
	screw := f.Screw
	if inch, ok := inchScrew[screw]; ok && m.brief.Set == explain.US && !m.written(b.Tag) {
		screw = inch
	}
	for _, at := range fixings(b, p.Turned) {
		m.hole(p.Face, metalwork.Hole{For: what, X: p.X + at[0], Y: p.Y + at[1], Screw: screw, Tapped: p.Face == box.Plate})
	}
}

// handleHole is the hole of a handle that is held by one nut, the 22 mm size of IEC 60947-5-1 (from memory). A handle held by screws has holes of its own
// round the same middle, from its drawing.
const handleHole = 22.3 * quantity.Millimetre

// handle adds the hole in the door for the handle of a main switch on the plate: where the line of its shaft meets the door.
func (m *marker) handle(b *box.Body, p *box.Placed) {
	if !b.Shaft || p.Face != box.Plate {
		return
	}
	low, high := m.corners(p)
	x, y := m.room.OnFace(box.Door, [3]quantity.Length{(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, high[2]})
	across := explain.Part("hole for the handle of "+b.Tag, handleHole, "door handle held by one nut; check the drawing of yours before drilling")
	m.hole(box.Door, metalwork.Hole{For: "handle of " + b.Tag + ", in line with its shaft", X: x, Y: y, Across: across, Head: b.Handle.Value})
}

// inchScrew is the screw that a North American shop takes where a typical part asks for a metric one; common practice.
var inchScrew = map[string]string{"M3": "No. 6", "M4": "No. 8", "M5": "No. 10", "M6": "1/4"}

// written reports whether the job says the screw of the part.
func (m *marker) written(tag string) bool {
	return slices.ContainsFunc(m.plan.Job.Parts, func(p job.Part) bool { return string(p.Tag.Value) == tag && p.Screw.Set })
}

// extent is how wide and high a placed body is on its face.
func (m *marker) extent(p *box.Placed) (w, h quantity.Length) {
	switch p.Face {
	case box.LeftWall, box.RightWall:
		return p.Size[2], p.Size[1]
	case box.TopWall, box.BottomWall:
		return p.Size[0], p.Size[2]
	case box.Plate, box.Door, box.BackWall, box.Outside:
	}
	return p.Size[0], p.Size[1]
}

// fixings are the places of a part's screws from its lower left corner as it is mounted. A quarter turn anticlockwise brings the place u from the
// left and v from below to height − v from the left and u from below.
func fixings(b *box.Body, turned bool) [][2]quantity.Length {
	f := b.Fixing
	left, up, across, along := f.Left.Value, f.Up.Value, f.Across.Value, f.Along.Value
	if !f.Left.OK() {
		left = (b.Width.Value - across) / 2
	}
	if !f.Up.OK() {
		up = (b.Height.Value - along) / 2
	}
	var list [][2]quantity.Length
	switch {
	case f.Count == 1:
		list = [][2]quantity.Length{{left + across/2, up + along/2}}
	case f.Count == 2 && across > 0 && along > 0: // crosswise: lower left and upper right
		list = [][2]quantity.Length{{left, up}, {left + across, up + along}}
	case f.Count == 2:
		list = [][2]quantity.Length{{left, up}, {left + across, up + along}}
	case f.Count == 3: // two below, one above
		list = [][2]quantity.Length{{left, up}, {left + across, up}, {left + across/2, up + along}}
	case f.Count == 4:
		list = [][2]quantity.Length{{left, up}, {left + across, up}, {left, up + along}, {left + across, up + along}}
	}
	if turned {
		for n, at := range list {
			list[n] = [2]quantity.Length{b.Height.Value - at[1], at[0]}
		}
	}
	return list
}

// Fixings of a mounting rail: a screw near each end, and others between so that none is further from the next than railStep. Common practice; the slots
// of a rail (IEC 60715) let them be a little off.
const (
	railEnd  = 15 * quantity.Millimetre
	railStep = 200 * quantity.Millimetre
)

func (m *marker) rail(n int, r box.Rail) {
	screw := "M5"
	if m.brief.Set == explain.US {
		screw = "No. 10"
	}
	spans := 1
	for (r.Length-2*railEnd)/quantity.Length(spans) > railStep {
		spans++
	}
	for k := range spans + 1 {
		along := railEnd + (r.Length-2*railEnd)*quantity.Length(k)/quantity.Length(spans)
		h := metalwork.Hole{For: fmt.Sprintf("rail %d", n+1), X: r.X + along, Y: r.Y, Screw: screw, Tapped: true}
		if r.Upright {
			h.X, h.Y = r.X, r.Y+along
		}
		m.hole(box.Plate, h)
	}
}

// bolts adds the holes for the bolts that hold the box to the machine.
func (m *marker) bolts() {
	for n := range m.plan.Job.Bolts {
		b := &m.plan.Job.Bolts[n]
		if !b.X.Set || !b.Y.Set || !b.Size.Set {
			continue
		}
		size := string(b.Size.Value)
		for _, known := range []string{"1/4", "5/16", "3/8", "7/16", "1/2", "5/8"} {
			if len(size) > len(known) && size[:len(known)] == known {
				size = known
			}
		}
		for number, name := range map[string]string{"8-32": "No. 8", "10-24": "No. 10", "10-32": "No. 10"} {
			if size == number {
				size = name
			}
		}
		m.hole(box.BackWall, metalwork.Hole{For: "bolt " + string(b.Name.Value), X: m.room.Width.Value - b.X.Value, Y: b.Y.Value, Screw: size, Reason: b.X.Why()})
	}
}

// used drops the sheets without holes but plate and door, and numbers the rest anew.
func (m *marker) used() {
	has := map[int]bool{m.sheet[box.Plate]: true, m.sheet[box.Door]: true}
	for _, h := range m.brief.Holes {
		has[h.Sheet] = true
	}
	for n := range m.plan.Job.OwnHoles {
		for f, at := range m.sheet {
			if string(m.plan.Job.OwnHoles[n].Face.Value) == f.String() {
				has[at] = true
			}
		}
	}
	var kept []metalwork.Sheet
	now := map[int]int{}
	for n, s := range m.brief.Sheets {
		if has[n] {
			now[n] = len(kept)
			kept = append(kept, s)
		}
	}
	for n := range m.brief.Holes {
		m.brief.Holes[n].Sheet = now[m.brief.Holes[n].Sheet]
	}
	m.brief.Sheets = slices.Clip(kept)
}
