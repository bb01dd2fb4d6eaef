package circuit

import "slices"

// Step is a step of a schematic's grid. Everything on a schematic lies on whole steps; how long a step is, whoever draws it
// says.
type Step int

// unit is what sizes are counted in here: about a third of the height of a line of text.
const unit Step = 4

// SchematicRoom says how much a sheet of the schematic holds, and how long texts are on its grid.
type SchematicRoom struct {
	// Width and Height are of one sheet on paper; Narrow is the width on a phone, where a sheet may be as long as it likes.
	Width, Height, Narrow Step
	// Measure returns the length of a text; bold is true for a device's tag.
	Measure func(text string, bold bool) Step
}

// Schematic is a circuit placed on sheets.
type Schematic struct{ Sheets []SchematicSheet }

// SchematicSheet is one sheet, laid out for paper and for a phone. Both show the same rungs under the same numbers.
type SchematicSheet struct {
	Number int
	Title  string
	Words  string // what stands on it, rung by rung, for those who can't see it
	Wide   Grid
	Narrow Grid
}

// Grid is what is drawn on a sheet. The origin is at the top left.
type Grid struct {
	Width, Height Step
	Symbols       []GridSymbol
	Lines         []GridLine
	Dots          []Spot
	Texts         []GridText
	// Pins are the terminals that are to be seen on it.
	Pins []GridPin
}

// GridPin is where a terminal is to be seen: conductors end on the spot, or on the ring of that radius around it.
type GridPin struct {
	Pin
	At   Spot
	Ring Step
}

// Spot is a place on the grid.
type Spot struct{ X, Y Step }

// GridSymbol is a symbol in its place.
type GridSymbol struct {
	Shape Shape
	At    Spot // its middle
	// Down is true where the current runs downwards through it, false where it runs to the right.
	Down bool
	// Turned is true where the symbol lies the other way round: a diode with its cathode first.
	Turned bool
	// From and To are the corners of a shape that is as large as it needs to be: a box, a motor, a screen.
	From, To Spot
	// Ports are where conductors meet such a shape.
	Ports []Spot
	// Mark is the letter in or beside it: a lamp's colour; for a screen, that it is bonded.
	Mark string
}

// GridLine is a conductor, or a line that guides the eye.
type GridLine struct {
	Points []Spot
	Guide  bool // no conductor: a frame, a rule, a mechanical link
}

// GridText is one line of text.
type GridText struct {
	At   Spot // on the baseline
	Text string
	// Anchor is -1 where the text begins at the spot, 0 where its middle lies there, 1 where it ends there.
	Anchor     int
	Bold       bool
	Faint      bool
	Underlined bool // of a reference: the contact is normally closed
}

// Shape is what a symbol shows. Those of two ends reach symbolHalf to either side of their middle.
type Shape int

// The shapes.
const (
	NoShape Shape = iota
	ContactOpen
	ContactClosed
	DelayedOpen   // opens late after the coil is off
	DelayedClosed // closes late after the coil is off
	PushOpen
	PushClosed
	MushroomOpen // latching
	MushroomClosed
	TurnOpen // a selector's contact
	TurnClosed
	PositionOpen // by a cam, a guard
	PositionClosed
	FootOpen
	FootClosed
	OverloadClosed
	OverloadOpen
	SwitchPole
	BreakerPole
	FusePole
	ContactorPole
	CoilShape
	DelayCoil
	LampShape
	ResistorShape
	DiodeShape
	LoadShape
	ReadoutShape
	DCSource
	ACSource
	InputShape // a drive's input as the end of a rung
	TerminalShape
	EarthSign
	ArrowShape  // a conductor that goes on elsewhere: points along its line
	BoxShape    // with ports
	DriveShape  // a box with ports
	SupplyShape // a box with ports, alternating in, direct out
	WindingBox  // a transformer's primary between its ports
	MotorShape
	KnobShape // a track between the outer ports, the wiper at the middle one
	BarShape  // a ground bar
	ScreenShape
)

// symbolHalf is the reach of a symbol of two ends along its conductor.
const symbolHalf = 5 * unit

// Schematic places the circuit on sheets: first the power path, then the control circuit as rungs, then the lines from
// drive to knob and readout, then the ground wires. What fits none of these is drawn wire by wire at the end, so that each
// wire of the circuit is on some sheet. By the habit of the rule set rungs run to the right, between upright rails (us), or
// current paths run downwards between level rails (iec); common practice, NFPA 79 annex D and IEC 61082-1, from memory.
func (c *Circuit) Schematic(international bool, room SchematicRoom) Schematic {
	s := newSketch(c, room)
	sections, fed := s.power()
	lines := s.lines()
	grounds := s.grounds()
	sections = append(append(append(sections, s.ladders(fed)...), lines...), grounds...)
	s.strayTerminals(sections)
	if rest := s.direct(); rest != nil {
		sections = append(sections, rest)
	}
	sections = slices.DeleteFunc(sections, func(x *drawnSection) bool { return len(x.groups) == 0 })
	s.link(sections)
	return s.sheets(sections, international)
}
