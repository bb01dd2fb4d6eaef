// Package drawing holds true-scale figures in millimetres, and writes them as SVG or onto PDF pages.
//
// A figure knows nothing of formats, and the package nothing of what is drawn: symbols and layouts are made by those who
// know the trade (single_line.go is the one for the power path). Begin with Figure.
package drawing

// Figure is a drawing on a sheet of Width × Height millimetres. The origin is the top-left corner, x to the right, y down.
type Figure struct {
	ID     string // one word, unique in a document
	Title  string
	Alt    string // what a person who can't see it must know
	Width  float64
	Height float64
	// TrueScale is true when a millimetre of the figure must come out as a millimetre on paper.
	TrueScale bool
	// WholePage is true when the figure takes a page of its own, nearly to the edge of what printers reach.
	WholePage bool
	Items     []Item
}

// Ink says what a line or a text is for; each renderer chooses how that looks in light, dark and print.
type Ink int

// The inks.
const (
	Main   Ink = iota // outlines, conductors, text
	Faint             // guide lines, secondary text
	Accent            // what the reader should look at
	Alarm             // where it is dangerous
	Paper             // the ground itself, to clear what lies beneath
)

// Item is one drawn thing: a Line, Circle or Words.
type Item interface{ item() }

// Line is a polyline through Points; closed and filled if said so.
type Line struct {
	Points []Point
	Width  float64 // stroke, mm; 0 means 0.35
	Ink    Ink
	Dashed bool
	Closed bool
	Filled bool
}

// Circle is a circle or, with From and To different, an arc clockwise from one angle to the other in degrees (0 = east).
type Circle struct {
	Centre   Point
	Radius   float64
	From, To float64
	Width    float64
	Ink      Ink
	Filled   bool
}

// Words is one line of text.
type Words struct {
	At     Point // on the baseline
	Text   string
	Size   float64 // cap height times 1.4, that is the font size, mm
	Anchor Anchor
	Ink    Ink
	Bold   bool
	Turned bool // a quarter turn anticlockwise
	// Knockout clears the paper behind the text.
	Knockout bool
}

// Anchor says which end of the text stands at its point.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Point is a place in millimetres.
type Point struct{ X, Y float64 }

func (Line) item()   {}
func (Circle) item() {}
func (Words) item()  {}
