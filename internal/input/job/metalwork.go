package job

import "drivewright/internal/base/quantity"

// Mounting says how the box hangs on its bracket or casting.
type Mounting struct {
	Weight   Given[quantity.Mass]   `job:"weight" help:"of the box with everything in it; summed from the parts if left out" range:"0.1 kg..500 kg" example:"35 lb | 16 kg" name:"weight of the box"`
	Overhang Given[quantity.Length] `job:"overhang" help:"from the bolted face to the middle of its weight; half the depth if left out" range:"0 mm..2 m" example:"5 in | 125 mm" name:"overhang of the weight"`
	Shake    Given[quantity.Factor] `job:"shake" help:"how many times its weight it is knocked with: 3 on a running machine, 1.5 on a wall" range:"1..20" example:"3" name:"shock factor"`
	Lean     Given[quantity.Force]  `job:"lean" help:"a hand or shoulder on its door, at the top edge" range:"0 N..2 kN" example:"50 lbf | 220 N" name:"push on the box"`
	Base     Given[quantity.Text]   `job:"into" help:"what the bolts go into" words:"cast iron, steel, aluminium, brass, wood, masonry" example:"cast iron" name:"what the bolts go into"`
	Thick    Given[quantity.Length] `job:"metal there" help:"thickness of the casting or plate at the bolts" range:"1 mm..300 mm" example:"1/2 in | 12 mm" name:"metal at the bolts"`
	Through  Given[quantity.Text]   `job:"held by" help:"threads in the metal, or nuts behind it" words:"tapped holes, nuts behind, existing bosses" example:"tapped holes" name:"how the bolts are held"`
}

// Bolt is one bolt that holds the box or its bracket.
type Bolt struct {
	Name  Given[quantity.Text]   `job:"name" help:"what you call it" example:"A" name:"bolt"`
	Size  Given[quantity.Text]   `job:"size" help:"its thread" words:"8-32, 10-24, 10-32, 1/4-20, 5/16-18, 3/8-16, 7/16-14, 1/2-13, 5/8-11, M4, M5, M6, M8, M10, M12, M16" example:"3/8-16 | M8" name:"bolt size"`
	Grade Given[quantity.Text]   `job:"grade" help:"marks on its head" words:"unmarked, grade 2, grade 5, grade 8, 4.6, 5.8, 8.8, 10.9, stainless A2-70" example:"grade 5 | 8.8" name:"bolt grade"`
	X     Given[quantity.Length] `job:"x" help:"on the bolted face, to the right" range:"-5 m..5 m" example:"0 in | 0 mm" name:"bolt x"`
	Y     Given[quantity.Length] `job:"y" help:"on the bolted face, up from the box's lower edge" range:"-5 m..5 m" example:"2 in | 50 mm" name:"bolt y"`
	Depth Given[quantity.Length] `job:"thread in the metal" help:"length of thread that holds" range:"0 mm..200 mm" example:"1/2 in | 12 mm" name:"thread engagement"`
	Edge  Given[quantity.Length] `job:"from edge" help:"its middle from the nearest edge, rib or cavity" range:"0 mm..2 m" example:"3/4 in | 20 mm" name:"bolt to the nearest edge"`
}

// MarkingOut says how the holes are to be marked out and drilled.
type MarkingOut struct {
	Datum     Given[quantity.Text]     `job:"datum" help:"the corner from which every hole is measured" words:"lower left, lower right, upper left, upper right, middle" example:"lower left" name:"datum corner"`
	View      Given[quantity.Text]     `job:"view" help:"the side of the sheet that you mark and drill from" words:"outside, inside" example:"outside" name:"side that is marked"`
	PrintedX  Given[quantity.Length]   `job:"bar across" help:"the check bar across the page as your printer made it, by caliper" range:"50 mm..250 mm" example:"97.0 mm" name:"printed bar across"`
	PrintedY  Given[quantity.Length]   `job:"bar along" help:"the check bar along the page as your printer made it" range:"50 mm..250 mm" example:"97.2 mm" name:"printed bar along"`
	Drills    Given[quantity.Text]     `job:"drills" help:"the set you own" words:"inch drills, metric drills, both" example:"inch drills | metric drills" name:"set of drills"`
	DrillFrom Given[quantity.Length]   `job:"clear height" help:"of the tool over the work between holes, for a drilling program" range:"1 mm..500 mm" example:"1 in | 25 mm" name:"clear height of the tool"`
	Feed      Given[quantity.Speed]    `job:"feed" help:"drilling feed for the program" range:"0.0001 m/s..0.05 m/s" example:"4 in/min | 100 mm/min" name:"drilling feed"`
	Spindle   Given[quantity.Rotation] `job:"spindle" help:"drilling speed for the program, if one serves all" range:"50 rpm..20000 rpm" example:"1200 rpm" name:"drilling speed"`
}

// OwnHole is a hole or cut-out that the user adds to a face.
type OwnHole struct {
	Name   Given[quantity.Text]   `job:"name" help:"what it is for" example:"lanyard eye" name:"own hole"`
	Face   Given[quantity.Text]   `job:"face" help:"of the box" words:"plate, door, left wall, right wall, top, bottom, back" example:"door" name:"face of the hole"`
	X      Given[quantity.Length] `job:"x" help:"of its middle, from the left edge of the face seen from outside (the plate: from the front)" range:"-1 m..3 m" example:"2 in | 50 mm" name:"hole x"`
	Y      Given[quantity.Length] `job:"y" help:"of its middle, from the lower edge of the face" range:"-1 m..3 m" example:"2 in | 50 mm" name:"hole y"`
	Across Given[quantity.Length] `job:"diameter" help:"of a round hole" range:"0.5 mm..500 mm" example:"1/4 in | 6.5 mm" name:"hole diameter"`
	Width  Given[quantity.Length] `job:"width" help:"of a square cut-out or slot" range:"0.5 mm..2 m" example:"2 in | 50 mm" name:"cut-out width"`
	Height Given[quantity.Length] `job:"height" help:"of a square cut-out or slot" range:"0.5 mm..2 m" example:"1 in | 25 mm" name:"cut-out height"`
	Thread Given[quantity.Text]   `job:"tapped" help:"the thread it gets" words:"6-32, 8-32, 10-24, 10-32, 1/4-20, 5/16-18, 3/8-16, M3, M4, M5, M6, M8, M10" example:"10-32 | M5" name:"thread of the hole"`
}

// Pattern is a group of holes whose places are to be found or matched.
type Pattern struct {
	Name       Given[quantity.Text]   `job:"name" help:"what the holes are in" example:"starter boss" name:"pattern"`
	Side       Given[quantity.Text]   `job:"seen from" help:"the side it was measured from" words:"front, back" example:"front" name:"side that was measured"`
	Spread     Given[quantity.Length] `job:"caliper" help:"how far your readings may be off" range:"0.005 mm..5 mm" example:"0.005 in | 0.1 mm" name:"uncertainty of a reading"`
	Page       Given[quantity.Text]   `job:"sheet in the photo" help:"the paper of known size that lies beside the holes" words:"letter, a4, a5, legal, card" example:"letter | a4" name:"sheet in the photo"`
	LowerLeft  Given[quantity.Text]   `job:"lower left corner" help:"of that sheet in the photo, as picture dots right and down" example:"412, 2210" name:"lower left corner in the photo"`
	LowerRight Given[quantity.Text]   `job:"lower right corner" help:"of that sheet in the photo" example:"1890, 2304" name:"lower right corner in the photo"`
	UpperRight Given[quantity.Text]   `job:"upper right corner" help:"of that sheet in the photo" example:"1921, 398" name:"upper right corner in the photo"`
	UpperLeft  Given[quantity.Text]   `job:"upper left corner" help:"of that sheet in the photo" example:"455, 361" name:"upper left corner in the photo"`
	Above      Given[quantity.Length] `job:"sheet above holes" help:"how far the sheet lies above the face with the holes" range:"-100 mm..100 mm" example:"0 in | 0 mm" name:"sheet above the face"`
	Fits       Given[quantity.Text]   `job:"goes onto" help:"name of the pattern that this one is to be bolted to" example:"bracket" name:"pattern it is bolted to"`
	Mirror     Given[quantity.Text]   `job:"may be mirrored" help:"can the part be put on with its other face" words:"yes, no" example:"no" name:"pattern may be mirrored"`
}

// PatternHole is one hole of a pattern.
type PatternHole struct {
	Pattern Given[quantity.Text]   `job:"pattern" help:"name of its pattern" example:"starter boss" name:"pattern of the hole"`
	Name    Given[quantity.Text]   `job:"name" help:"a letter or number" example:"A" name:"hole"`
	Across  Given[quantity.Length] `job:"diameter" help:"of the hole" range:"0.5 mm..500 mm" example:"0.332 in | 8.4 mm" name:"diameter of the hole"`
	Bolt    Given[quantity.Length] `job:"bolt" help:"diameter of the bolt that goes through or into it" range:"0.5 mm..100 mm" example:"5/16 in | 8 mm" name:"bolt through the hole"`
	X       Given[quantity.Length] `job:"x" help:"if its place is known from a drawing" range:"-5 m..5 m" example:"0 in | 0 mm" name:"hole x"`
	Y       Given[quantity.Length] `job:"y" help:"if its place is known from a drawing" range:"-5 m..5 m" example:"0 in | 0 mm" name:"hole y"`
	Seen    Given[quantity.Text]   `job:"in the photo" help:"its middle in the photo, as picture dots right and down" example:"1010, 1300" name:"hole in the photo"`
}

// Distance is one caliper reading between two holes of a pattern.
type Distance struct {
	Pattern Given[quantity.Text]   `job:"pattern" help:"name of the pattern" example:"starter boss" name:"pattern of the reading"`
	From    Given[quantity.Text]   `job:"from" help:"hole, or edge left, edge bottom" example:"A" name:"reading from"`
	To      Given[quantity.Text]   `job:"to" help:"hole" example:"B" name:"reading to"`
	Reads   Given[quantity.Length] `job:"reads" help:"what the caliper shows" range:"0.1 mm..5 m" example:"4.652 in | 118.2 mm" name:"caliper reading"`
	How     Given[quantity.Text]   `job:"measured" help:"between middles, over the outer edges of both holes, or between their inner edges" words:"middles, outer edges, inner edges" example:"inner edges" name:"how it was measured"`
}

// Gap is a reading around a pocket, pad or foot that is to be shimmed or skimmed.
type Gap struct {
	Group Given[quantity.Text]   `job:"group" help:"what the readings belong to" example:"motor feet" name:"fit-up"`
	Place Given[quantity.Text]   `job:"place" help:"where it was read" example:"front left" name:"place of the reading"`
	X     Given[quantity.Length] `job:"x" help:"of that place" range:"-5 m..5 m" example:"0 in | 0 mm" name:"x of the reading"`
	Y     Given[quantity.Length] `job:"y" help:"of that place" range:"-5 m..5 m" example:"0 in | 0 mm" name:"y of the reading"`
	Reads Given[quantity.Length] `job:"reads" help:"height of the surface there, or with a feeler gauge the gap as a negative height" range:"-100 mm..100 mm" example:"0.012 in | 0.3 mm" name:"height reading"`
	Cut   Given[quantity.Text]   `job:"may be skimmed" help:"can metal be taken off there" words:"yes, no" example:"no" name:"place may be skimmed"`
}
