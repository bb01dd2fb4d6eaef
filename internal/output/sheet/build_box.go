package sheet

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
	"drivewright/internal/trade/box"
)

// box lays out the Box stage: the enclosure that was found, why no smaller one, and what stands where in it.
func (b *builder) box() {
	j := b.plan.Job
	r := b.plan.Arranged
	switch {
	case r == nil && b.arranging:
		b.section(1, "Box", "The arrangement is being worked out.")
	case r == nil:
		b.section(1, "Box", "Nothing to arrange yet: the parts follow from Power and Controls above, the size of the box from what is written below.")
	default:
		b.arrangement(r)
	}
	b.heat()
	b.site()
	b.bolted()
	b.section(2, "Enclosure", "The box itself. Leave its size out to have the smallest that works found; write what your place has room for.")
	b.inputs("", "enclosure")
	b.asks()
	b.listOf("Own sizes", "own sizes", "size", "Boxes that you have or can get; they are tried beside the standard ones.", len(j.Sizes), func(n int) string { return string(j.Sizes[n].Name.Value) })
	b.listOf("Bodies of parts", "parts", "part", "What your data sheets say of a part's size, air and fixings, and where it must go. Typical bodies stand in for what isn't written.", len(j.Parts), func(n int) string { return string(j.Parts[n].Tag.Value) })
	b.listOf("Machine as blocks", "blocks", "block", "The machine and what is around it as rough boxes, what moves, where you stand, and places where the box or a station may go.", len(j.Blocks), func(n int) string { return string(j.Blocks[n].Name.Value) })
	b.section(2, "Mounting", "How the box hangs on the machine or wall.")
	b.inputs("", "mounting")
	b.asks()
	b.listOf("Bolts", "bolts", "bolt", "The bolts that hold it. Without any, they are proposed.", len(j.Bolts), func(n int) string { return string(j.Bolts[n].Name.Value) })
	b.listOf("Cable entries", "entries", "entry", "Where a cable must come in. Without a word, supply and motor come in at the bottom, well apart.", len(j.CableIn), func(n int) string { return string(j.CableIn[n].Cable.Value) })
}

// listOf is eachOf for what paper shows in a table anyway, or needs only when it is written.
func (b *builder) listOf(title, list, one, lead string, count int, name func(n int) string) {
	b.eachOf(title, list, one, lead, count, name)
	b.sections[len(b.sections)-1].OnScreen = true
}

// arrangement shows what was found.
func (b *builder) arrangement(r *box.Result) {
	room, found := r.Room()
	lead := "No size that may be chosen holds all the parts. The table says of each whether it can't, or whether nothing was found in the time."
	if found {
		lead = "Everything goes into " + b.roomName(room) + "."
		if before := r.Chosen - 1; before >= 0 {
			switch r.Tried[before].Verdict {
			case box.Impossible:
				lead += fmt.Sprintf(" The next smaller one, %s, is proved too small.", r.Tried[before].Room.Name)
			case box.TooWarm:
				lead += fmt.Sprintf(" In the next smaller one, %s, the parts would get too warm.", r.Tried[before].Room.Name)
			case box.NotFound, box.Holds:
				lead += fmt.Sprintf(" In the next smaller one, %s, no arrangement was found; that is no proof that there is none.", r.Tried[before].Room.Name)
			}
		}
	}
	b.section(1, "Box", lead)
	b.section(2, "Sizes tried", "Height × width × depth outside, smallest first, by what they hold, then by their walls. “Proved” means that no arrangement exists of the bodies and plates as they are listed below, typical and assumed figures included, by the bound or the complete search that is named; “not found” only that the search ended without one; “too warm” that the job's cooling isn't enough for it.")
	b.add(b.sizesTried(r))
	if r.Chosen > 0 && r.Tried[r.Chosen-1].Verdict == box.TooWarm {
		b.add(Paragraph{Text: "What decides the size here is the heat, not the room: a smaller box would do with the cooling that stands under “Heat in the box”. Write it under enclosure and see."})
	}
	if len(r.NearMisses) > 0 {
		near := Numbered{Title: "What would make a smaller box do"}
		for _, m := range r.NearMisses {
			near.Items = append(near.Items, sentence(m.Room.Name+": "+m.Change.Show(b.units)))
		}
		b.add(near)
	}
	if !found {
		return
	}
	b.section(2, "Where everything stands", "Corners are measured on the part's own face, from its lower left: the plate from the front, doors and walls from outside.")
	e := b.enclosureDrawing(r, room)
	for n, draw := range []func(string, float64, float64) drawing.Figure{e.Front, e.Space, e.Side} {
		wide, narrow := draw("", 165, []float64{150, 98, 98}[n]), draw("", 84, 120)
		wide.ID = explain.Slug(wide.Title)
		narrow.ID = wide.ID + "-narrow"
		b.add(Figure{Figure: wide, Narrow: &narrow})
	}
	b.add(b.inTheirPlaces(r))
	b.values("Wires and shaft", r.Wire, r.Bound, r.Shaft)
	if len(r.Runs) > 0 {
		runs := Table{Title: "Ways of the wires in the box", Head: []string{"from", "to", "length"}, Numeric: []bool{false, false, true}, Chosen: -1, Note: "Along the plate and up to the terminals. The wire list adds what the ends take."}
		for _, w := range r.Runs {
			runs.Rows = append(runs.Rows, []string{w.From, w.To, w.Length.Show(b.units)})
		}
		b.add(runs)
	}
}

// roomName is a size by its name and, where that is something else, what it measures.
func (b *builder) roomName(r box.Room) string {
	if size := sizeOf(r, b.units); size != r.Name {
		return r.Name + ", " + size
	}
	return r.Name
}

// mostSizes is how many of the sizes that are too small are listed, the largest of them.
const mostSizes = 8

// sizesTried is the table of sizes up to the one that was chosen. Of many that are proved too small the largest are listed: they are the ones that
// somebody would like to have instead.
func (b *builder) sizesTried(r *box.Result) Table {
	last := len(r.Tried)
	if r.Chosen >= 0 {
		last = r.Chosen + 1
	}
	first, left := 0, 0
	for first < last-1-mostSizes && r.Tried[first].Verdict == box.Impossible {
		first++
	}
	left = first
	t := Table{Head: []string{"size", "verdict", "why"}, Numeric: []bool{false, false, false}, Chosen: -1}
	if left > 0 {
		t.Rows = append(t.Rows, []string{many(left, "smaller size", "smaller sizes"), verdictWord(box.Impossible), "from " + r.Tried[0].Room.Name + " to " + r.Tried[left-1].Room.Name + ", each by a bound of the sort below"})
	}
	for n := first; n < last; n++ {
		tried := r.Tried[n]
		if n == r.Chosen {
			t.Chosen = len(t.Rows)
		}
		t.Rows = append(t.Rows, []string{b.roomName(tried.Room), verdictWord(tried.Verdict), tried.Why})
	}
	return t
}

// inTheirPlaces is the table of parts in their places.
func (b *builder) inTheirPlaces(r *box.Result) Table {
	t := Table{Title: "Parts in their places", Head: []string{"part", "what", "on", "from left", "from below", "w × h × d", "air above, below, sides"}, Numeric: []bool{false, false, false, true, true, true, true}, Chosen: -1,
		Note: "A typical body stands in until you write your part's own sizes under parts."}
	for _, p := range r.Placed {
		body := r.Brief.Bodies[p.Body]
		on := p.Face.String()
		if body.OnRail {
			on = "rail"
		}
		if p.Turned {
			on += ", on its side"
		}
		t.Rows = append(t.Rows, []string{body.Tag, body.Name, on, p.X.Show(b.units), p.Y.Show(b.units), threeOf(body.Width.Value, body.Height.Value, body.Depth.Value, b.units), airOf(body, b.units)})
	}
	return t
}

func airOf(b box.Body, s quantity.System) string {
	if b.Above.Value == 0 && b.Below.Value == 0 && b.Sides.Value == 0 {
		return "none"
	}
	return threeOf(b.Above.Value, b.Below.Value, b.Sides.Value, s)
}

// threeOf shows three lengths in one unit: "130 × 200 × 165 mm".
func threeOf(a, b, c quantity.Length, s quantity.System) string {
	unit, scale, digits := "mm", float64(quantity.Millimetre), 0
	if s == quantity.InchUnits {
		unit, scale, digits = "in", float64(quantity.Inch), 1
	}
	show := func(l quantity.Length) string {
		text := fmt.Sprintf("%.*f", digits, float64(l)/scale)
		return strings.TrimSuffix(text, ".0")
	}
	return show(a) + " × " + show(b) + " × " + show(c) + " " + unit
}

func sizeOf(r box.Room, s quantity.System) string {
	return threeOf(r.Height.Value, r.Width.Value, r.Depth.Value, s)
}

func verdictWord(v box.Verdict) string {
	switch v {
	case box.Holds:
		return "holds everything"
	case box.Impossible:
		return "proved too small"
	case box.TooWarm:
		return "too warm"
	case box.NotFound:
	}
	return "not found"
}

// enclosureDrawing turns the arrangement into a drawing, in millimetres.
func (b *builder) enclosureDrawing(r *box.Result, room box.Room) drawing.Enclosure {
	left, low := room.PlateCorner()
	face := room.PlateFace(0) // the door's sheet is too thin to be drawn
	e := drawing.Enclosure{ID: "box", Title: "The box", Width: mm(room.Width.Value), Height: mm(room.Height.Value), Depth: mm(room.Depth.Value),
		Plate: drawing.Solid{X: mm(left), Y: mm(low), Z: mm(face) - 2, W: mm(room.PlateWidth.Value), H: mm(room.PlateHeight.Value), D: 2}}
	var said []string
	for _, p := range r.Placed {
		if p.Face == box.Outside {
			continue
		}
		body := r.Brief.Bodies[p.Body]
		d := drawing.EnclosureBody{Tag: body.Tag, Name: body.Name, OnDoor: p.Face == box.Door, Power: body.Power,
			Solid: drawing.Solid{X: mm(p.At[0] + left), Y: mm(p.At[1] + low), Z: mm(p.At[2] + face), W: mm(p.Size[0]), H: mm(p.Size[1]), D: mm(p.Size[2])}}
		air := [6]float64{mm(body.Sides.Value), mm(body.Sides.Value), mm(body.Below.Value), mm(body.Above.Value), 0, mm(body.Front.Value)}
		if p.Turned { // a quarter turn anticlockwise: the top comes to the left
			air = [6]float64{air[3], air[2], air[0], air[1], air[4], air[5]}
		}
		d.Air = air
		e.Bodies = append(e.Bodies, d)
		said = append(said, fmt.Sprintf("%s at %s, %s", body.Tag, p.X.Show(b.units), p.Y.Show(b.units)))
	}
	for _, rail := range r.Rails {
		// a top-hat rail is 35 mm wide and 7.5 mm high (IEC 60715, from memory)
		s := drawing.Solid{X: mm(rail.X + left), Y: mm(rail.Y+low) - 17.5, Z: mm(face), W: mm(rail.Length), H: 35, D: 7.5}
		if rail.Upright {
			s.X, s.Y, s.W, s.H = s.X-17.5, s.Y+17.5, 35, mm(rail.Length)
		}
		e.Rails = append(e.Rails, s)
	}
	for _, n := range r.Entries {
		e.Entries = append(e.Entries, entryDrawing(n, room))
	}
	e.Alt = "parts from the lower left of their faces: " + strings.Join(said, "; ")
	return e
}

// entryDrawing puts an entry's place on its face back into the enclosure.
func entryDrawing(n box.Entry, r box.Room) drawing.EnclosureEntry {
	w, h, d := mm(r.Width.Value), mm(r.Height.Value), mm(r.Depth.Value)
	x, y := mm(n.X), mm(n.Y)
	out := drawing.EnclosureEntry{Name: n.Cable, R: mm(n.Hole.Value) / 2}
	switch n.Face {
	case box.LeftWall:
		out.Wall, out.X, out.Y, out.Z = "left", 0, y, x
	case box.RightWall:
		out.Wall, out.X, out.Y, out.Z = "right", w, y, d-x
	case box.TopWall:
		out.Wall, out.X, out.Y, out.Z = "top", x, h, d-y
	case box.BottomWall:
		out.Wall, out.X, out.Y, out.Z = "bottom", x, 0, y
	case box.BackWall:
		out.Wall, out.X, out.Y, out.Z = "back", w-x, y, 0
	case box.Door, box.Plate, box.Outside:
		out.Wall, out.X, out.Y, out.Z = "door", x, y, d
	}
	return out
}
