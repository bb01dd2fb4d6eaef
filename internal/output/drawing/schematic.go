package drawing

import (
	"math"

	"drivewright/internal/output/typeface"
)

// GridStep is the length of a step of a schematic's grid, in millimetres.
const GridStep = 0.25

// schematicText is the size of every text on a schematic: its capitals are 1.8 mm high, the least of ISO 3098.
const schematicText = 2.75

// SchematicSheet is a sheet of a circuit on a grid: what stands where, in steps from the top left.
type SchematicSheet struct {
	ID, Title, Alt string
	Standard       Standard
	Width, Height  int
	Symbols        []SchematicSymbol
	Lines          []SchematicLine
	Dots           []GridSpot
	Texts          []SchematicText
}

// GridSpot is a place on the grid.
type GridSpot struct{ X, Y int }

// SchematicSymbol is a symbol in its place.
type SchematicSymbol struct {
	Kind ControlSymbol
	At   GridSpot // its middle
	// Down is true where the path runs downwards through it, false where it runs to the right; Turned where the symbol is the
	// other way round along it.
	Down, Turned bool
	// From and To are corners of a body, Ports the places where conductors meet it.
	From, To GridSpot
	Ports    []GridSpot
	// Mark is a lamp's colour letter, or anything for a screen that is joined to ground.
	Mark string
}

// SchematicLine is a conductor, or a line that only guides the eye.
type SchematicLine struct {
	Points []GridSpot
	Guide  bool
}

// SchematicText is a line of text; Anchor is -1 where it begins at the spot, 0 in the middle of it, 1 where it ends there.
type SchematicText struct {
	At         GridSpot
	Text       string
	Anchor     int
	Bold       bool
	Faint      bool
	Underlined bool
}

func (g GridSpot) point() Point { return Point{float64(g.X) * GridStep, float64(g.Y) * GridStep} }

// GridLength returns how many steps of the grid a text on a schematic takes.
func GridLength(text string, bold bool) int {
	face := typeface.Regular
	if bold {
		face = typeface.Semibold
	}
	return int(math.Ceil(face.Width(text, schematicText) / GridStep))
}

// Schematic draws the sheet. Where the texts were measured by GridLength nothing is drawn over anything.
func Schematic(s SchematicSheet) Figure {
	f := Figure{ID: s.ID, Title: s.Title, Alt: s.Alt, Width: float64(s.Width) * GridStep, Height: float64(s.Height) * GridStep}
	for _, l := range s.Lines {
		line := Line{Width: 0.3}
		if l.Guide {
			line.Width, line.Dashed, line.Ink = 0.2, true, Faint
		}
		for _, p := range l.Points {
			line.Points = append(line.Points, p.point())
		}
		f.Items = append(f.Items, line)
	}
	for _, d := range s.Dots {
		f.Items = append(f.Items, Circle{Centre: d.point(), Radius: 0.55, Filled: true})
	}
	for _, x := range s.Symbols {
		f.Items = append(f.Items, x.items(s.Standard)...)
	}
	for _, t := range s.Texts {
		f.Items = append(f.Items, t.items()...)
	}
	return f
}

func (x SchematicSymbol) items(standard Standard) []Item {
	at := x.At.point()
	switch {
	case x.Kind == TerminalCircle:
		return []Item{Circle{Centre: at, Radius: 1, Width: 0.3}}
	case x.Kind == Earth:
		return earthSign(at.X, at.Y)
	case x.Kind >= PlainBody:
		return controlBody(x, standard)
	}
	b := &brush{at: at, vertical: x.Down, mirrored: true}
	controlShape(b, x.Kind, standard, x.Mark)
	if !x.Turned {
		return b.items
	}
	for n, item := range b.items { // the other way round along the path
		if l, ok := item.(Line); ok {
			for k := range l.Points {
				if x.Down {
					l.Points[k].Y = 2*at.Y - l.Points[k].Y
				} else {
					l.Points[k].X = 2*at.X - l.Points[k].X
				}
			}
			b.items[n] = l
		}
	}
	return b.items
}

func (t SchematicText) items() []Item {
	w := Words{At: t.At.point(), Text: t.Text, Size: schematicText, Bold: t.Bold}
	switch {
	case t.Anchor == 0:
		w.Anchor = Middle
	case t.Anchor > 0:
		w.Anchor = End
	}
	if t.Faint {
		w.Ink = Faint
	}
	items := []Item{w}
	if t.Underlined {
		b := w.Bounds()
		y := t.At.point().Y + 0.75
		items = append(items, Line{Points: []Point{{b.Left, y}, {b.Right, y}}, Width: 0.2})
	}
	return items
}
