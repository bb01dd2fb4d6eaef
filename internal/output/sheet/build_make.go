package sheet

import (
	"fmt"
	"math"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
	"drivewright/internal/plan"
	"drivewright/internal/trade/metalwork"
)

// make lays out the Make stage: every face marked out, as a table of places and as templates at true scale.
func (b *builder) make() {
	m := b.plan.Marked
	if m == nil || len(m.Sheets) == 0 {
		lead := "Nothing to mark out yet: this stage follows from the arrangement of the box."
		if b.arranging {
			lead = "The holes follow from the arrangement of the box, which is being worked out."
		}
		b.section(1, "Make", lead)
		b.makeAsks()
		return
	}
	holes := 0
	for _, s := range m.Sheets {
		holes += len(s.Holes)
	}
	b.section(1, "Make", fmt.Sprintf("%s on %s, each with its place from the datum corner, its drill, and a template at true scale. All of it follows from the arrangement above, so the holes are where the parts want them.",
		capital(many(holes, "hole", "holes")), many(len(m.Sheets), "sheet", "sheets")))
	b.add(Caution{Severity: explain.Danger, Text: "Drill before any part goes in: chips in a drive short it out. Clamp the sheet on wood; a drill that breaks through snatches thin metal round like a blade. Eye protection; no gloves at a turning drill; hair and sleeves tied. Deburr every hole before a hand or a wire goes through."})
	b.values("How it is marked out", m.Datum, m.View, m.Drills, m.Fit, m.Across, m.Along)
	b.numbered("In this order", []explain.Phrase{
		explain.Say("Print one page of a template at 100 %, measure both check bars with a caliper, write the lengths under marking out, print them all."),
		explain.Say("Lay the paper on the side that it names, corner on the datum corner, edges along the edges; where it comes in pages, cross on cross. Tape it down."),
		explain.Say("Check two places that are far apart with a rule against the table of places."),
		explain.Say("Punch the middle of every hole, take the paper off, drill pilot holes of {}, then to size. Punch or step-drill what is larger than your drills.", 3*quantity.Millimetre),
		explain.Say("Tap what is to be tapped, deburr, take the paint off where ground wires land, wash the chips out, paint bare edges."),
	})
	for n := range m.Sheets {
		b.sheetOfMetal(m, &m.Sheets[n])
	}
	b.makeAsks()
}

// makeAsks are the answers that the stage asks for.
func (b *builder) makeAsks() {
	b.metal()
	j := b.plan.Job
	b.section(2, "Marking out", "The side and the corner that you measure from, the drills that you own, and what your printer does to scale.")
	b.inputs("", "marking out")
	b.asks()
	b.listOf("Own holes", "own holes", "hole", "Holes and cut-outs besides those that the parts ask for.", len(j.OwnHoles), func(n int) string { return string(j.OwnHoles[n].Name.Value) })
	b.listOf("Patterns", "patterns", "pattern", "Groups of holes in old metal that are to be measured, or matched with one another.", len(j.Patterns), func(n int) string { return string(j.Patterns[n].Name.Value) })
	b.listOf("Holes of patterns", "holes", "hole", "Each hole with the name of its pattern, its diameter, and the bolt that goes through it.", len(j.Holes), func(n int) string { return string(j.Holes[n].Pattern.Value + " " + j.Holes[n].Name.Value) })
	b.listOf("Caliper readings", "distances", "reading", "Between two holes, over their middles or edges. More readings than are needed find the wrong one.", len(j.Distances), func(n int) string {
		return string(j.Distances[n].From.Value + " to " + j.Distances[n].To.Value)
	})
	b.listOf("Fit-up readings", "fit-up", "reading", "Heights around a pocket or under feet, to be shimmed or skimmed.", len(j.Gaps), func(n int) string { return string(j.Gaps[n].Group.Value + ", " + j.Gaps[n].Place.Value) })
}

// sheetOfMetal adds one face: how it looks, the places of its holes, its template.
func (b *builder) sheetOfMetal(m *metalwork.Result, s *metalwork.Marked) {
	b.section(2, capital(faceTitle(s.Name))+" marked out", fmt.Sprintf("%s × %s, %s, laid out as seen on the %s.", s.Width.Value.Show(b.units), s.Height.Value.Show(b.units), many(len(s.Holes), "hole", "holes"), s.Side))
	t := b.templateOf(m, s)
	wide := t.Overview(t.ID+"-small", 165, 105)
	narrow := t.Overview(t.ID+"-narrow", 84, 110)
	b.add(Figure{Figure: wide, Narrow: &narrow})
	if len(s.Holes) == 0 {
		b.add(Paragraph{Text: "No holes in it."})
		return
	}
	b.add(b.placesOf(m, s))
	paper := paperOf(b.plan, b.paper)
	width, height := paper.Printable()
	tiles := t.Tiles(drawing.Printing{Width: width, Height: height, Across: float64(m.Across.Value), Along: float64(m.Along.Value)})
	b.add(Paragraph{Text: fmt.Sprintf("The template at true scale takes %s of the PDF, not of this screen; pages without a hole are left out. Each red cross says where it stands from the datum corner: a page that doesn't reach the edges is laid down by two of them.", many(len(tiles), "page", "pages"))})
	for _, f := range tiles {
		b.add(Figure{Figure: f})
	}
}

// faceTitle is the sheet's name in a title: what the job file calls plate is the back plate.
func faceTitle(name string) string {
	if name == "plate" {
		return "back plate"
	}
	return name
}

// placesOf is the table of places: what a digital readout or a rule is set to.
func (b *builder) placesOf(m *metalwork.Result, s *metalwork.Marked) Table {
	unit := "mm"
	if b.units == quantity.InchUnits {
		unit = "in"
	}
	t := Table{Title: "Places from the " + string(m.Datum.Value) + datumWord(m), Head: []string{"hole", "across, " + unit, "along, " + unit, "how", "for"}, Numeric: []bool{false, true, true, false, false}, Chosen: -1,
		Note: "Across and along are the distances of each hole's middle from the two edges that meet in the datum corner, as the sheet lies with its marked side up."}
	for _, h := range s.Holes {
		t.Rows = append(t.Rows, []string{h.Name, place(h.FromSide, b.units), place(h.FromEnd, b.units), h.Make.Words.Show(b.units), h.For})
	}
	return t
}

func datumWord(m *metalwork.Result) string {
	if m.Datum.Value == "middle" {
		return " of the sheet"
	}
	return " corner"
}

// place shows a coordinate as a readout shows it: thousandths of an inch, or tenths of a millimetre.
func place(l quantity.Length, s quantity.System) string {
	x, digits := float64(l)/float64(quantity.Millimetre), 1
	if s == quantity.InchUnits {
		x, digits = float64(l)/float64(quantity.Inch), 3
	}
	if math.Abs(x) < 0.5*math.Pow10(-digits) {
		x = 0
	}
	return fmt.Sprintf("%.*f", digits, x)
}

// templateOf turns a marked sheet into a template, in millimetres.
func (b *builder) templateOf(m *metalwork.Result, s *metalwork.Marked) drawing.Template {
	t := drawing.Template{ID: "template-" + explain.Slug(s.Name), Title: "Template of the " + faceTitle(s.Name), Width: mm(s.Width.Value), Height: mm(s.Height.Value), Side: s.Side, Mirrored: s.Mirrored,
		Datum: drawing.Point{X: mm(s.At[0]), Y: mm(s.At[1])}, Inch: b.units == quantity.InchUnits}
	var said []string
	for _, h := range s.Holes {
		out := drawing.TemplateHole{Name: h.Name, Note: h.Make.Words.Show(b.units), At: drawing.Point{X: mm(h.X), Y: mm(h.Y)}, Size: mm(h.Make.Across.Value), Width: mm(h.Width.Value), Height: mm(h.Height.Value)}
		if h.Turned {
			out.Width, out.Height = out.Height, out.Width
		}
		switch h.Shape {
		case metalwork.Square:
			out.Shape = drawing.SquareHole
		case metalwork.Slot:
			out.Shape = drawing.SlotHole
		case metalwork.Notched:
			// the notch of a 22 mm device (IEC 60947-5-1, from memory): 3.2 mm wide, 24.1 mm over hole and notch; in proportion for others
			out.Shape, out.Notch, out.NotchWidth = drawing.NotchedHole, out.Size*24.1/22.3, 3.2
		case metalwork.Round, metalwork.Knockout:
		}
		t.Holes = append(t.Holes, out)
		said = append(said, h.Name)
	}
	for _, z := range s.Zones {
		t.Zones = append(t.Zones, drawing.TemplateZone{What: z.What, At: drawing.Point{X: mm(z.X), Y: mm(z.Y)}, Width: mm(z.Width), Height: mm(z.Height)})
	}
	t.Alt = fmt.Sprintf("%.0f × %.0f mm, %s", t.Width, t.Height, many(len(s.Holes), "hole", "holes"))
	if len(said) > 0 {
		t.Alt += ": " + strings.Join(said, ", ") + "; their places stand in the table"
	}
	return t
}

// mm is a length in millimetres, for drawings.
func mm(l quantity.Length) float64 { return float64(l) / float64(quantity.Millimetre) }

// FaceID is the ID of the section that marks the face out.
func FaceID(face string) string { return explain.Slug(faceTitle(face) + " marked out") }

// TemplateOf is the template of one face at true scale in one piece, for a plotter, a large printer or a laser; an empty figure where the face isn't
// marked out.
func TemplateOf(p plan.Plan, face string, units quantity.System) drawing.Figure {
	b := &builder{plan: p, units: units}
	for n := range p.Marked.Sheets {
		if s := &p.Marked.Sheets[n]; s.Name == face {
			t := b.templateOf(p.Marked, s)
			return t.InOnePiece(float64(p.Marked.Across.Value), float64(p.Marked.Along.Value))
		}
	}
	return drawing.Figure{}
}
