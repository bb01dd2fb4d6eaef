// Package metalwork marks out holes so that they line up the first time: holes and cut-outs on each sheet with their drills and
// clearances, patterns found from caliper readings or a photo and matched with one another, bolts into a casting, shims under
// feet.
//
// It knows sheets and holes, not enclosures and devices: the plan says which hole is for what. Begin with Brief and Result, then Mark.
package metalwork

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Brief is what is to be marked out and drilled.
type Brief struct {
	Job    *job.Job
	Set    explain.RuleSet
	Sheets []Sheet
	Holes  []Hole
}

// Sheet is one flat piece to be drilled: a door, a wall, the back plate. Places on it are measured from its lower left corner as it is
// seen from outside the box, the plate from the front.
type Sheet struct {
	Name                 string // "door", "left wall", "plate"
	Width, Height, Thick explain.Known[quantity.Length]
	Material             string // in the job file's words
	Zones                []Zone
}

// Zone is a part of a sheet where no hole may come, or only with care: a bent rim, a hinge, a part close behind it.
type Zone struct {
	What                string
	X, Y, Width, Height quantity.Length
	// Behind is the depth that is free behind the sheet there; 0 where no hole may be at all.
	Behind quantity.Length
}

// Shape is the outline of a hole.
type Shape int

// The shapes.
const (
	Round Shape = iota
	Square
	Slot     // with round ends
	Notched  // round, with the notch for a control device's key (IEC 60947-5-1)
	Knockout // round, for a conduit or cable fitting; its sheet may have it ready
)

// Hole is one hole or cut-out.
type Hole struct {
	Sheet  int    // index into Brief.Sheets
	Name   string // "door 3"; made by Mark if empty
	For    string // "S1, start button"
	Shape  Shape
	X, Y   quantity.Length                // of its middle
	Across explain.Known[quantity.Length] // diameter, also of the arcs of a slot
	Width  explain.Known[quantity.Length] // of a square hole or slot
	Height explain.Known[quantity.Length]
	// Screw is the screw that goes through it or, Tapped, into it: "No. 10", "M4", "10-32"; Across then follows from it.
	Screw  string
	Tapped bool
	Turned bool            // a quarter turn
	Head   quantity.Length // the room that what sits in the hole takes on the outside, across its middle; 0 for none
	Reason *explain.Reason // of its place; nil if it was measured
}
