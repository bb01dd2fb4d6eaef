// Package site finds where the box and the stations can go on the machine: what is free of castings and of the room that moving parts
// sweep, what the operator reaches, whether the door opens, and how long the cables become from there.
//
// The machine is a handful of rough blocks: x runs to the operator's right, y towards the operator, z up from the floor. Begin with Brief
// and Result, then Find.
package site

import (
	"cmp"
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Brief is what is to be put where.
type Brief struct {
	Job *job.Job
	Set explain.RuleSet
	// Height, Width and Depth are the box's outside; missing while no size is known.
	Height, Width, Depth explain.Known[quantity.Length]
	// Handle is how far the main switch's handle is above the box's lower edge; its middle where that isn't known.
	Handle explain.Known[quantity.Length]
	// Hinge is the side of the door's hinge: left, right, top, bottom, screwed cover.
	Hinge string
	// OnDoor is true where controls for the operator sit on the box's door.
	OnDoor bool
}

// Solid is a box among the blocks, in metres.
type Solid struct {
	At, Size [3]float64
}

// high is the far corner.
func (s Solid) high(axis int) float64 { return s.At[axis] + s.Size[axis] }

// middle is the middle of the solid.
func (s Solid) middle() [3]float64 {
	return [3]float64{s.At[0] + s.Size[0]/2, s.At[1] + s.Size[1]/2, s.At[2] + s.Size[2]/2}
}

// meets reports whether two solids share room; touching doesn't count.
func (s Solid) meets(o Solid) bool {
	const touch = 1e-6
	for axis := range 3 {
		if s.high(axis) <= o.At[axis]+touch || o.high(axis) <= s.At[axis]+touch {
			return false
		}
	}
	return true
}

// touches reports whether the solids meet or lie within reach of one another.
func (s Solid) within(o Solid, reach float64) bool {
	gap := 0.0
	for axis := range 3 {
		d := max(o.At[axis]-s.high(axis), s.At[axis]-o.high(axis), 0)
		gap += d * d
	}
	return math.Sqrt(gap) <= reach
}

// Block is one of the job's blocks whose place and size are known.
type Block struct {
	*job.Block
	Solid
	Index int // in the job's list
}

// name is what a sentence calls the block.
func (b Block) name() string {
	if b.Name.Set {
		return string(b.Name.Value)
	}
	return string(b.Sort.Value)
}

// Result is where things can go.
type Result struct {
	Brief  Brief
	Blocks []Block
	// Unfinished are blocks whose place or size lacks something.
	Unfinished []int
	// Places are the places for the box, best first; Settled is true when the user said where it stands: it is then the only one.
	Places  []Place
	Settled bool
	// Stations are the places of the stations, best first for each station.
	Stations []Station
	// Limits are the heights and distances that places are judged by.
	Limits Limits
}

// Limits are the figures that places are judged by.
type Limits struct {
	HandleLeast, HandleMost   explain.Known[quantity.Length] // of the main switch above the floor
	ControlLeast, ControlMost explain.Known[quantity.Length] // of buttons above the floor
	Reach                     explain.Known[quantity.Length] // of an arm, from where the operator stands
	Free                      explain.Known[quantity.Length] // to stand in before the box
}

// Place is one place for the box, and what speaks for and against it.
type Place struct {
	Block  int // index into Blocks; -1 for the settled place
	Name   string
	Facing string // which way the door looks: operator, away, left, right
	Box    Solid
	// Handle is the height of the main switch's handle above the floor.
	Handle explain.Known[quantity.Length]
	// Away is how far the operator is from the front of the box; missing where nobody said where they stand.
	Away     explain.Known[quantity.Length]
	Troubles []Trouble
	Cables   []Cable
}

// Grave reports whether something rules the place out.
func (p *Place) Grave() bool {
	return slices.ContainsFunc(p.Troubles, func(t Trouble) bool { return t.Grave })
}

// Sort says what a trouble is.
type Sort int

// The sorts of trouble, gravest first.
const (
	TooSmall       Sort = iota // the place doesn't hold the box
	MeetsMetal                 // the box and the machine or an obstacle share room
	InSweep                    // a moving part sweeps through it
	DoorBlocked                // its door can't open
	DoorInSweep                // its open door stands where a part moves
	ReachAcross                // the hand goes through where a part moves
	HandleHigh                 // the main switch is too high or too low
	OutOfReach                 // controls that can't be reached
	NoStandingRoom             // nobody can stand before it
	ChipsFly                   // chips land on it
	WarmNeighbour              // it touches something warm
)

// Trouble is one thing that speaks against a place.
type Trouble struct {
	Sort  Sort
	Grave bool
	Words explain.Phrase
	With  int // index into Blocks; -1 for none
}

// Cable is the way of a cable from the box.
type Cable struct {
	To  string
	Way explain.Known[quantity.Length]
	// Written is the length that the job says; missing if none is written.
	Written explain.Known[quantity.Length]
}

// Station is a place for a control station.
type Station struct {
	Name     string
	Block    int
	Troubles []Trouble
	Height   explain.Known[quantity.Length]
	Away     explain.Known[quantity.Length]
	Cable    Cable
}

// Find looks at every place and ranks them.
func Find(b Brief) Result {
	r := Result{Brief: b, Limits: limits(b.Set)}
	for n := range b.Job.Blocks {
		block, ok := blockOf(&b.Job.Blocks[n], n)
		if !ok {
			r.Unfinished = append(r.Unfinished, n)
			continue
		}
		r.Blocks = append(r.Blocks, block)
	}
	if b.Height.OK() && b.Width.OK() && b.Depth.OK() {
		r.places()
	}
	r.stations()
	return r
}

func blockOf(j *job.Block, n int) (Block, bool) {
	b := Block{Block: j, Index: n}
	for axis, g := range []job.Given[quantity.Length]{j.X, j.Y, j.Z, j.Width, j.Deep, j.Height} {
		if !g.Set {
			return b, false
		}
		if axis < 3 {
			b.At[axis] = float64(g.Value)
		} else {
			b.Size[axis-3] = float64(g.Value)
		}
	}
	return b, j.Sort.Set
}

// kind returns the blocks of a kind.
func (r *Result) kind(words ...quantity.Text) []int {
	var list []int
	for n, b := range r.Blocks {
		if slices.Contains(words, b.Sort.Value) {
			list = append(list, n)
		}
	}
	return list
}

// places tries every place for the box.
func (r *Result) places() {
	e := &r.Brief.Job.Enclosure
	if e.SitsAtX.Set && e.SitsAtY.Set && e.SitsAtZ.Set {
		facing := "operator"
		if e.Faces.Set {
			facing = string(e.Faces.Value)
		}
		p := Place{Block: -1, Name: "where you put it", Facing: facing, Box: Solid{At: [3]float64{float64(e.SitsAtX.Value), float64(e.SitsAtY.Value), float64(e.SitsAtZ.Value)}, Size: r.boxAlong(facing)}}
		r.judge(&p)
		r.Places, r.Settled = []Place{p}, true
		return
	}
	for _, n := range r.kind("place for the box") {
		block := r.Blocks[n]
		facing := "operator"
		if f := string(block.Faces.Value); f == "away" || f == "left" || f == "right" {
			facing = f
		}
		p := Place{Block: n, Name: block.name(), Facing: facing}
		p.Box = r.put(block.Solid, facing)
		for axis, word := range []string{"wide", "deep", "high"} {
			if lack := p.Box.Size[axis] - block.Size[axis]; lack > 1e-6 {
				p.Troubles = append(p.Troubles, Trouble{TooSmall, true, explain.Say("the place is {} "+word+" and the box takes {}", quantity.Length(block.Size[axis]), quantity.Length(p.Box.Size[axis])), n})
			}
		}
		r.judge(&p)
		r.Places = append(r.Places, p)
	}
	slices.SortStableFunc(r.Places, func(a, b Place) int { return cmp.Compare(a.weight(), b.weight()) })
}

// weight ranks places: what rules one out counts most, then the number of troubles, then the way to the operator.
func (p *Place) weight() float64 {
	w := 0.0
	for _, t := range p.Troubles {
		if t.Grave {
			w += 1000
		}
		w += 20
	}
	if p.Away.OK() {
		w += float64(p.Away.Value)
	}
	return w
}

// boxAlong is the box's size along x, y and z when its door looks that way.
func (r *Result) boxAlong(facing string) [3]float64 {
	w, h, d := float64(r.Brief.Width.Value), float64(r.Brief.Height.Value), float64(r.Brief.Depth.Value)
	if facing == "left" || facing == "right" {
		return [3]float64{d, w, h}
	}
	return [3]float64{w, d, h}
}

// put stands the box in a place: its back against the side that it looks away from, in the middle across, and as high as brings its handle
// nearest to the height of the hand.
func (r *Result) put(place Solid, facing string) Solid {
	s := Solid{Size: r.boxAlong(facing)}
	for axis := range 2 {
		s.At[axis] = place.At[axis] + (place.Size[axis]-s.Size[axis])/2
	}
	switch facing {
	case "operator":
		s.At[1] = place.At[1]
	case "away":
		s.At[1] = place.high(1) - s.Size[1]
	case "left":
		s.At[0] = place.high(0) - s.Size[0]
	case "right":
		s.At[0] = place.At[0]
	}
	const hand = 1.4 // metres; common practice: between elbow and eye
	s.At[2] = min(max(hand-r.handleUp(), place.At[2]), max(place.high(2)-s.Size[2], place.At[2]))
	return s
}

// handleUp is how far the handle is above the box's lower edge.
func (r *Result) handleUp() float64 {
	if r.Brief.Handle.OK() {
		return float64(r.Brief.Handle.Value)
	}
	return float64(r.Brief.Height.Value) / 2
}
