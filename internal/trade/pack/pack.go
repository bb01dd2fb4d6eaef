// Package pack puts boxes into a room: it finds places for them, or proves that there are none, and shortens the wires
// between them. It knows nothing of what the boxes are. Flat problems (parts on a plate) and solid ones (bricks in a crate)
// are the same to it.
//
// Lengths are whole numbers in a unit that the caller chooses, such as a tenth of a millimetre. The origin is the lower left
// back corner of the room: x to the right, y up, z out of the plate towards the reader. Nothing here takes time from a clock or
// chance from anywhere but the seed: the same problem with the same options gives the same answer, unless Stop ends it early.
//
// Begin with Problem and Answer, then Fit, Shorten and Check.
package pack

// Side numbers the six sides of a box; its axis is Side/2 (0 = x, 1 = y, 2 = z), and odd sides are the far ones.
type Side int

// The sides.
const (
	Left Side = iota
	Right
	Bottom
	Top
	Back
	Front
)

// Vec is a size or a place along x, y and z.
type Vec [3]int

// Turns says how an item may be turned.
type Turns int

// The turns that are allowed.
const (
	Unturned     Turns = iota
	QuarterTurns       // by a quarter in the plane of x and y
	AllTurns           // all six ways to lay a brick
)

// Problem is what is to be put where. The zero Problem has nothing to put anywhere.
type Problem struct {
	Room Vec // inner size; z is 1 in a flat problem, where every item is 1 thick
	// Open are the sides of the room that need no air before them: a wall with vents, or one that isn't there.
	Open  [6]bool
	Items []Item
	// Blocks are bodies that stand already: ducts, stops, posts. They need no air but let none pass.
	Blocks []Block
	Aparts []Apart
	Nets   []Net
}

// Item is one box to be placed.
type Item struct {
	Size  Vec
	Turns Turns
	// Air is the free air that each side wants: a band beside the side, as wide and high as the side itself, which no body may
	// enter. Bands may share air with one another; the room's walls count as bodies, unless they are Open. A turn takes the air
	// along: a quarter turn brings Left to Bottom, Bottom to Right, Right to Top, Top to Left (anticlockwise).
	Air [6]int
	// AirStays keeps the air on the sides of the room instead: above is above, however the item is turned by a quarter.
	AirStays bool
	// Rail joins items whose middles in y lie on one line; 0 is no rail. An item on a rail isn't turned.
	Rail int
	// Fixed is where the item stands already; nil if it is free.
	Fixed *Place
	// From and To limit the item's lower left back corner, both ends allowed; a To of all zeros is no limit.
	From, To Vec
}

// Place is where an item's lower left back corner came to lie, and how it was turned.
type Place struct {
	At   Vec
	Turn Turn
}

// Turn is one of the six ways to lay a brick: it says which axis of the item lies along x, y and z.
type Turn int

// The turns. The first two are the only ones in a flat problem.
const (
	AsGiven Turn = iota // x y z
	Quarter             // y x z: a quarter turn anticlockwise
	Tipped              // x z y
	Rolled              // z y x
	TurnXYZ             // y z x
	TurnZXY             // z x y
)

// Block is a body that stands already.
type Block struct{ At, Size Vec }

// Apart keeps two items' bodies at least Distance apart along x or along y.
type Apart struct{ A, B, Distance int }

// Net is a wire, or several of them along one way, from pin to pin: it costs Weight × its length along the axes.
type Net struct {
	A, B   Pin
	Weight int
}

// Pin is where a wire ends: at an item, or at a point of the room if Item is negative.
type Pin struct {
	Item int
	// At is doubled, so that the middle of an odd side is a whole number: from the item's corner as given, or from the room's.
	At Vec
	// Centre puts the pin at the middle of the item's body however it is turned; At then counts for nothing.
	Centre bool
}

// Verdict is what was found out.
type Verdict int

// The verdicts. Impossible is only ever said with a proof.
const (
	NotFound Verdict = iota
	Found
	Impossible
)

// Answer is the outcome of a search.
type Answer struct {
	Verdict Verdict
	// Why says in a few words how it is known: the bound that rules it out and its figures, or how far the search went.
	Why    string
	Places []Place // one for each item; nil unless Found
	// Wire is twice the weighted length of all nets, and Bound the largest figure proved that no arrangement can go below; equal
	// when it is proved shortest. Both are 0 where there are no nets.
	Wire, Bound int
	// Steps counts the search's own steps, the same on every machine.
	Steps int64
}

// Options steer a search.
type Options struct {
	Seed uint64
	// Steps is the most steps to take, in rounds that don't depend on the machine; 0 is no limit.
	Steps int64
	// Stop is asked now and then; the search ends soon after it returns true. Nil never stops.
	Stop func() bool
	// Watch, if not nil, is told of each better arrangement.
	Watch func(Answer)
}

// stopped reports whether the caller wants an end.
func (o *Options) stopped() bool { return o.Stop != nil && o.Stop() }
