package pack

// Least is the outcome of a search for the smallest room.
type Least struct {
	Answer
	// Room is the smallest room found; Places lie in it.
	Room Vec
	// Size is what was to be small: the area of Room for LeastBox, its height for LeastStrip.
	Size int
	// Lower is the largest figure proved that Size can't go below; equal to Size when Room is proved smallest.
	Lower int
}

// LeastBox finds the room of the least area that holds all items, whatever its width and height; p.Room counts for nothing.
func LeastBox(p *Problem, o Options) Least { return Least{} }

// LeastStrip finds the least height of a room as wide as p.Room that holds all items.
func LeastStrip(p *Problem, o Options) Least { return Least{} }
