// Package box arranges parts in an enclosure: it finds the smallest size that can hold them, says of each smaller one whether it
// is proved impossible or merely wasn't filled, and shortens the wires in the one that was chosen.
//
// It takes bodies, not devices: what becomes a body, and how large, is the plan's business. Begin with Brief and Result, then Arrange.
package box

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Face is a side of the enclosure, or the plate in it.
type Face int

// The faces. What stands Outside takes no room.
const (
	Plate Face = iota
	Door
	LeftWall
	RightWall
	TopWall
	BottomWall
	BackWall
	Outside
)

// String returns the face in the words of the job file.
func (f Face) String() string {
	return [...]string{"plate", "door", "left wall", "right wall", "top", "bottom", "back", "outside the box"}[f]
}

// Brief is what is to be arranged.
type Brief struct {
	Job    *job.Job
	Set    explain.RuleSet
	Bodies []Body
	Wires  []Wire
	// Entries are the cables' entries that are wanted, by face; their places are found unless they are settled.
	Entries []Inlet
	// Rooms are the sizes that may be chosen, smallest first (by volume, then by wall area); one if the size is settled.
	Rooms []Room
}

// Body is one part: a box with the room that it wants around it. Each figure is given, or typical and marked as such.
type Body struct {
	Tag, Name            string
	Width, Height, Depth explain.Known[quantity.Length] // as mounted; of a door or wall device the depth behind the sheet
	// Free air, which bands of other parts may share but no body may enter.
	Sides, Above, Below, Front explain.Known[quantity.Length]
	// Bend is the room for wires to turn in before the terminals, above and below.
	Bend explain.Known[quantity.Length]
	// LeastBend is what its thickest wire needs; missing if nothing is known of its wires.
	LeastBend explain.Known[quantity.Length]
	On        Face
	OnRail    bool // on a mounting rail (IEC 60715) that is fixed to the plate
	MayTurn   bool
	Spot      *Spot // where it stands already; nil if it is free
	Apart     []Apart
	Beside    string // tag of the part that it must stand next to; "" for none
	// FromSet is where the device is cut in or fixed: what Make needs.
	Fixing Fixing
	Loss   explain.Known[quantity.Power]       // at the job's real load
	Limit  explain.Known[quantity.Temperature] // warmest air that it may have around it
	Weight explain.Known[quantity.Mass]
	// Power is true for what carries mains or motor current, to be kept from control wires.
	Power bool
	// Strip is true for a strip of terminals.
	Strip bool
	// Shaft is true for the main switch that is turned by a handle on the door, through a shaft.
	Shaft bool
	// Handle is the width and height that its handle takes on the door.
	Handle explain.Known[quantity.Length]
}

// Spot is a settled place: the lower left corner of the body on its face.
type Spot struct {
	X, Y   explain.Known[quantity.Length]
	Turned bool
}

// Apart keeps a part away from another.
type Apart struct {
	Tag string
	By  explain.Known[quantity.Length]
}

// Fixing is how a body is held: screws into the plate, a rail, or a hole in a sheet.
type Fixing struct {
	Screw string // "No. 10", "M4"; "" if no screws hold it
	Count int
	// Across and Along are the distances between the screws; Left and Up those from the body's left and lower edge to the first.
	Across, Along, Left, Up explain.Known[quantity.Length]
	// Hole is the diameter of the one round hole of a door or wall device; CutWidth and CutHeight those of a square one. Notch says
	// that the round hole has one for the anti-turn key (IEC 60947-5-1).
	Hole, CutWidth, CutHeight explain.Known[quantity.Length]
	Notch                     bool
}

// Wire is a bundle of wires between two parts, or a part and a cable's entry.
type Wire struct {
	From, To string // tags; an entry is named "entry of W1"
	Count    int
}

// Inlet is a cable that comes into the box.
type Inlet struct {
	Cable string // its tag; wires name it "entry of" and the tag
	Face  Face
	Size  string // trade size or metric thread
	Hole  explain.Known[quantity.Length]
	Nut   quantity.Length // over its corners
	// At is the settled distance from the left, or from below on a side wall; Off that from the back wall. Missing if they are free.
	At, Off explain.Known[quantity.Length]
	Power   bool // mains or motor current: kept away from the others
	// Over is the cable's diameter over its jacket, Most what the entry takes; Most is 0 if that isn't known.
	Over explain.Known[quantity.Length]
	Most quantity.Length
	// Said is what the job file says of the entry; nil if it says nothing.
	Said explain.Because
}

// Room is an enclosure size with its inside.
type Room struct {
	Name                    string
	Height, Width, Depth    explain.Known[quantity.Length] // outside
	PlateHeight, PlateWidth explain.Known[quantity.Length]
	// Warm says why the parts would get too warm in it as the job cools it, in the job's units; "" where they wouldn't, or nobody knows.
	Warm string
	// Before is the clear depth from the plate's face to the inside of the door.
	Before explain.Known[quantity.Length]
}

// Verdict is what is known of a room.
type Verdict int

// The verdicts. Impossible is only ever said with a proof.
const (
	NotFound Verdict = iota
	Holds
	Impossible
	TooWarm // not tried, or not taken: its parts would get too warm in it
)

// Tried is one room and what was found out of it.
type Tried struct {
	Room    Room
	Verdict Verdict
	Why     string // the bound and its figures, or how far the search went
}

// Placed is a part in its place.
type Placed struct {
	Body   int // index into Brief.Bodies
	Face   Face
	X, Y   quantity.Length // of the lower left corner on its face, seen from outside (the plate: from the front)
	Turned bool
	// At and Size are the body in the room: from the lower left corner of the plate's face, x right, y up, z towards the door.
	At, Size [3]quantity.Length
}

// Rail is a mounting rail on the plate.
type Rail struct {
	X, Y, Length quantity.Length // left end, middle line; of an upright one the middle line and the lower end
	Upright      bool
}

// Run is one way that wires take, from part to part along the plate.
type Run struct {
	From, To string
	Length   quantity.Length // terminal to terminal, along x, y and z
}

// Entry is where a cable comes into the box.
type Entry struct {
	Cable string // tag of the cable
	Face  Face
	X, Y  quantity.Length // middle of its hole on that face, seen from outside
	Size  string          // trade size or metric thread: "3/4", "M25"
	Hole  explain.Known[quantity.Length]
}

// NearMiss is a change that would make a smaller room do.
type NearMiss struct {
	Room   Room
	Change explain.Phrase // "the power supply moved to the door"
}

// Result is the arrangement.
type Result struct {
	Brief Brief
	// Chosen is the index in Tried of the room that everything was put in; -1 if there is none.
	Chosen     int
	Tried      []Tried
	Placed     []Placed // one for each body, in the brief's order; nil if Chosen is -1
	Rails      []Rail
	Entries    []Entry
	Runs       []Run
	NearMisses []NearMiss
	// Wire is the weighted length of all runs, and Bound what is proved that no arrangement in this room can go below.
	Wire, Bound explain.Known[quantity.Length]
	// Spare is the part of the plate's area that is left when the bodies are taken off, without their air.
	Spare explain.Known[quantity.Ratio]
	// Proven says how many dead ends the searches went through, the same on every machine.
	Steps int64
	// Shaft is the length to which the main switch's shaft is cut; missing if it has none.
	Shaft explain.Known[quantity.Length]
	// Clashes are what is wrong with the settled places, part against part.
	Clashes []Clash
}

// Clash is two things in one place, or one that leaves too little air to another. B is -1 for the enclosure itself.
type Clash struct {
	A, B int // indexes of bodies
	Kind ClashKind
	What explain.Phrase
	// Cable is the tag of the cable that has no entry; "" otherwise.
	Cable string
}

// Room returns the chosen room.
func (r *Result) Room() (Room, bool) {
	if r.Chosen < 0 {
		return Room{}, false
	}
	return r.Tried[r.Chosen].Room, true
}
