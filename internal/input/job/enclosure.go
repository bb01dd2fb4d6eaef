package job

import "drivewright/internal/base/quantity"

// Enclosure is the box itself: its size if the user has one, and what it is made of. Where nothing is written a size is chosen
// from the standard sizes and from the user's own.
type Enclosure struct {
	Name      Given[quantity.Text]        `job:"name" help:"your own name for it" example:"the gray box from the shelf" name:"enclosure"`
	Height    Given[quantity.Length]      `job:"height" help:"outside; leave height, width and depth out to have the smallest that works chosen" range:"60 mm..3 m" example:"16 in | 400 mm" name:"enclosure height"`
	Width     Given[quantity.Length]      `job:"width" help:"outside" range:"60 mm..3 m" example:"12 in | 300 mm" name:"enclosure width"`
	Depth     Given[quantity.Length]      `job:"depth" help:"outside, door shut" range:"40 mm..1.5 m" example:"8 in | 200 mm" name:"enclosure depth"`
	Standard  Given[quantity.Text]        `job:"choose from" help:"which sizes may be chosen" words:"inch sizes, metric sizes, own sizes, all sizes" example:"inch sizes | metric sizes" name:"sizes to choose from"`
	MostH     Given[quantity.Length]      `job:"most height" help:"what the place has room for" range:"60 mm..3 m" example:"24 in | 600 mm" name:"most height"`
	MostW     Given[quantity.Length]      `job:"most width" help:"what the place has room for" range:"60 mm..3 m" example:"16 in | 400 mm" name:"most width"`
	MostD     Given[quantity.Length]      `job:"most depth" help:"what the place has room for" range:"40 mm..1.5 m" example:"10 in | 250 mm" name:"most depth"`
	PlateH    Given[quantity.Length]      `job:"plate height" help:"of the back plate inside" range:"40 mm..3 m" example:"13 in | 350 mm" name:"back plate height"`
	PlateW    Given[quantity.Length]      `job:"plate width" help:"of the back plate inside" range:"40 mm..3 m" example:"9 in | 250 mm" name:"back plate width"`
	PlateGap  Given[quantity.Length]      `job:"plate to back" help:"from the back wall's inside to the plate's face" range:"2 mm..200 mm" example:"1/2 in | 15 mm" name:"plate face to back wall"`
	Sheet     Given[quantity.Length]      `job:"sheet" help:"thickness of its walls" range:"0.5 mm..6 mm" example:"0.075 in | 1.5 mm" name:"wall thickness"`
	PlateMade Given[quantity.Length]      `job:"plate sheet" help:"thickness of the back plate" range:"0.8 mm..10 mm" example:"0.1 in | 2 mm" name:"back plate thickness"`
	Material  Given[quantity.Text]        `job:"material" help:"what its walls are" words:"painted steel, bare galvanised steel, stainless steel, aluminium, plastic" example:"painted steel" name:"enclosure material"`
	Seal      Given[quantity.Text]        `job:"protection" help:"its enclosure type or IP code" words:"type 1, type 3R, type 4, type 4X, type 12, type 13, IP20, IP44, IP54, IP55, IP65, IP66" example:"type 12 | IP54" name:"enclosure protection"`
	Hinge     Given[quantity.Text]        `job:"hinge" help:"the side on which its door turns, seen from the front" words:"left, right, top, bottom, screwed cover" example:"left" name:"hinge side"`
	Mounted   Given[quantity.Text]        `job:"mounted" help:"what its walls are free to give heat to" words:"free all round, against a wall, against the machine, in a corner, built in" example:"against the machine" name:"how it is mounted"`
	Covered   Given[Several]              `job:"covered" help:"faces that give off no heat: a shelf on top, a cupboard beside it" words:"top, bottom, left, right, back, front" example:"top" name:"covered faces"`
	WarmFace  Given[quantity.Text]        `job:"warm face" help:"the side that touches or faces something warm" words:"none, back, left, right, top, bottom" example:"back" name:"face at something warm"`
	WarmTemp  Given[quantity.Temperature] `job:"warm face temperature" help:"how hot that gets: a motor, a casting" range:"0 °C..120 °C" example:"140 °F | 60 °C" name:"temperature at the warm face"`
	Sun       Given[quantity.Text]        `job:"sun" help:"does the sun shine on it" words:"no, through a window, outdoors" example:"no" name:"sun on the box"`
	Colour    Given[quantity.Text]        `job:"colour" help:"outside; matters in the sun" words:"white, light gray, gray, green, blue, black, bare metal" example:"gray" name:"enclosure colour"`
	LowVent   Given[quantity.Area]        `job:"lower vent" help:"area of the cut-out, if it has one" range:"0 mm²..1 m²" example:"12 in² | 80 cm²" name:"area of the lower vent"`
	HighVent  Given[quantity.Area]        `job:"upper vent" help:"area of the cut-out" range:"0 mm²..1 m²" example:"12 in² | 80 cm²" name:"area of the upper vent"`
	VentKind  Given[quantity.Text]        `job:"vents are" help:"what is in the openings" words:"open hole, louvres, mesh, louvres with filter mat" example:"louvres" name:"what the vents are"`
	LowIn     Given[quantity.Text]        `job:"lower vent in" help:"face of the box" words:"front, back, left, right, bottom" example:"left" name:"face of the lower vent"`
	HighIn    Given[quantity.Text]        `job:"upper vent in" help:"face of the box" words:"front, back, left, right, top" example:"right" name:"face of the upper vent"`
	VentRise  Given[quantity.Length]      `job:"between vents" help:"height from the middle of the one to that of the other" range:"0 mm..3 m" example:"10 in | 250 mm" name:"height between the vents"`
	FanFlow   Given[quantity.AirFlow]     `job:"fan flow" help:"of a fan with its filter clean, in the box" range:"1 m³/h..2000 m³/h" example:"25 cfm | 40 m³/h" name:"fan flow"`
	FanMat    Given[quantity.Text]        `job:"fan filter" help:"is there a filter mat before the fan" words:"yes, no" example:"yes" name:"filter at the fan"`
	Switch    Given[quantity.Text]        `job:"main switch handle" help:"where its handle is" words:"through the door, on the left wall, on the right wall, none" example:"through the door" name:"main switch handle"`
	ShaftMost Given[quantity.Length]      `job:"shaft" help:"length of the switch's shaft as bought; it is cut to length" range:"20 mm..1 m" example:"12 in | 300 mm" name:"shaft as bought"`
	SitsAtX   Given[quantity.Length]      `job:"x" help:"of its lower left back corner among the machine's blocks, if its place is settled" range:"-20 m..20 m" example:"40 in | 1 m" name:"enclosure x"`
	SitsAtY   Given[quantity.Length]      `job:"y" help:"towards the operator" range:"-20 m..20 m" example:"0 in | 0 mm" name:"enclosure y"`
	SitsAtZ   Given[quantity.Length]      `job:"z" help:"above the floor" range:"-5 m..20 m" example:"48 in | 1.2 m" name:"enclosure z"`
	Faces     Given[quantity.Text]        `job:"door faces" help:"which way its door looks, if its place is settled" words:"operator, away, left, right" example:"operator" name:"which way the door looks"`
}

// Size is an enclosure size that the user can get.
type Size struct {
	Name   Given[quantity.Text]   `job:"name" help:"your own name for it" example:"the ammunition box" name:"own size"`
	Height Given[quantity.Length] `job:"height" help:"outside" range:"60 mm..3 m" example:"12 in | 300 mm" name:"height of an own size"`
	Width  Given[quantity.Length] `job:"width" help:"outside" range:"60 mm..3 m" example:"10 in | 250 mm" name:"width of an own size"`
	Depth  Given[quantity.Length] `job:"depth" help:"outside, door shut" range:"40 mm..1.5 m" example:"6 in | 150 mm" name:"depth of an own size"`
	PlateH Given[quantity.Length] `job:"plate height" help:"of the back plate inside" range:"40 mm..3 m" example:"9 in | 250 mm" name:"plate height of an own size"`
	PlateW Given[quantity.Length] `job:"plate width" help:"of the back plate inside" range:"40 mm..3 m" example:"7 in | 200 mm" name:"plate width of an own size"`
}

// Part is the body of a device in the box, from its data sheet or calipers: it replaces or adds to the typical one.
type Part struct {
	Tag      Given[quantity.Text]        `job:"tag" help:"of the device in the circuit, or a new one for a part without wires" example:"U1" name:"part"`
	Name     Given[quantity.Text]        `job:"name" help:"what it is" example:"line filter" name:"name of the part"`
	Width    Given[quantity.Length]      `job:"width" help:"of its body, as mounted" range:"3 mm..2 m" example:"5 in | 130 mm" name:"part width"`
	Height   Given[quantity.Length]      `job:"height" help:"of its body, as mounted" range:"3 mm..2 m" example:"8 in | 200 mm" name:"part height"`
	Depth    Given[quantity.Length]      `job:"depth" help:"from the plate or rail to its front; of a door device behind the door" range:"3 mm..1 m" example:"6-1/2 in | 165 mm" name:"part depth"`
	AirSides Given[quantity.Length]      `job:"air at the sides" help:"free air left and right, by its data sheet" range:"0 mm..500 mm" example:"0 in | 0 mm" name:"air at the sides"`
	AirAbove Given[quantity.Length]      `job:"air above" help:"free air over it" range:"0 mm..500 mm" example:"4 in | 100 mm" name:"air above"`
	AirBelow Given[quantity.Length]      `job:"air below" help:"free air under it" range:"0 mm..500 mm" example:"4 in | 100 mm" name:"air below"`
	AirFront Given[quantity.Length]      `job:"air in front" help:"free air before it" range:"0 mm..500 mm" example:"1 in | 25 mm" name:"air in front"`
	Bend     Given[quantity.Length]      `job:"wire room" help:"to bend the wires before its terminals, above and below" range:"0 mm..500 mm" example:"1-1/2 in | 40 mm" name:"wire-bending space"`
	On       Given[quantity.Text]        `job:"mounted on" help:"what it is fixed to" words:"plate, rail, door, left wall, right wall, top, bottom, outside the box" example:"plate" name:"what the part is mounted on"`
	May      Given[quantity.Text]        `job:"may turn" help:"can it be mounted on its side" words:"yes, no" example:"no" name:"part may be turned"`
	X        Given[quantity.Length]      `job:"x" help:"of its lower left corner on its face, if its place is settled" range:"-1 m..3 m" example:"1 in | 25 mm" name:"part x"`
	Y        Given[quantity.Length]      `job:"y" help:"of its lower left corner on its face" range:"-1 m..3 m" example:"2 in | 50 mm" name:"part y"`
	Turned   Given[quantity.Text]        `job:"turned" help:"as settled, a quarter turn" words:"yes, no" example:"no" name:"part is turned"`
	FixX     Given[quantity.Length]      `job:"fixing width" help:"between its fixing holes across; 0 for holes on one line" range:"0 mm..2 m" example:"4.65 in | 118 mm" name:"fixing width"`
	FixY     Given[quantity.Length]      `job:"fixing height" help:"between its fixing holes up and down" range:"0 mm..2 m" example:"6.61 in | 168 mm" name:"fixing height"`
	FixUp    Given[quantity.Length]      `job:"fixing above base" help:"from its lower edge to its lower fixing holes" range:"-200 mm..1 m" example:"1/4 in | 6 mm" name:"lower fixings above the edge"`
	FixLeft  Given[quantity.Length]      `job:"fixing from left" help:"from its left edge to its left fixing holes; middle if left out" range:"-200 mm..1 m" example:"1/4 in | 6 mm" name:"left fixings from the edge"`
	FixCount Given[quantity.Count]       `job:"fixings" help:"how many screws hold it: 2 cross-wise or in line, 4 at the corners" range:"1..4" example:"4" name:"fixing screws"`
	Screw    Given[quantity.Text]        `job:"screw" help:"size of its fixing screws" words:"No. 6, No. 8, No. 10, 1/4, 5/16, 3/8, M3, M4, M5, M6, M8, M10" example:"No. 10 | M5" name:"fixing screw"`
	Hole     Given[quantity.Length]      `job:"hole" help:"of a door or wall device: the diameter of its hole" range:"3 mm..200 mm" example:"0.88 in | 22.5 mm" name:"hole of the device"`
	CutW     Given[quantity.Length]      `job:"cut-out width" help:"of a door or wall device with a square hole" range:"3 mm..1 m" example:"2-5/8 in | 68 mm" name:"cut-out width"`
	CutH     Given[quantity.Length]      `job:"cut-out height" help:"of a door or wall device with a square hole" range:"3 mm..1 m" example:"1-1/4 in | 33 mm" name:"cut-out height"`
	Loss     Given[quantity.Power]       `job:"losses" help:"heat it gives off at full load" range:"0 W..5 kW" example:"8 W" name:"losses of the part"`
	Warmest  Given[quantity.Temperature] `job:"warmest air" help:"that its data sheet allows around it" range:"20 °C..120 °C" example:"122 °F | 50 °C" name:"warmest air around the part"`
	Weight   Given[quantity.Mass]        `job:"weight" help:"of the part" range:"1 g..500 kg" example:"7 lb | 3.2 kg" name:"weight of the part"`
	Apart    Given[quantity.Text]        `job:"apart from" help:"tags of parts it must keep away from, with commas between" example:"FL1, W1" name:"parts to keep away from"`
	ApartBy  Given[quantity.Length]      `job:"apart by" help:"how far" range:"0 mm..1 m" example:"4 in | 100 mm" name:"distance to keep away"`
	Beside   Given[quantity.Text]        `job:"beside" help:"tag of the part it must stand next to" example:"U1" name:"part to stand beside"`
}

// CableEntry says where a cable comes into the box.
type CableEntry struct {
	Cable Given[quantity.Text]   `job:"cable" help:"tag of the cable, or: supply, motor, controls" example:"supply" name:"cable that enters"`
	Wall  Given[quantity.Text]   `job:"wall" help:"through which wall" words:"top, bottom, left, right, back" example:"bottom" name:"wall of the entry"`
	Size  Given[quantity.Text]   `job:"size" help:"trade size of a knock-out, or metric gland" words:"1/2, 3/4, 1, 1-1/4, 1-1/2, 2, M12, M16, M20, M25, M32, M40, M50, M63" example:"3/4 | M25" name:"size of the entry"`
	At    Given[quantity.Length] `job:"at" help:"from the left (top, bottom, back) or from the bottom (left, right) of the box, if settled" range:"0 mm..3 m" example:"3 in | 75 mm" name:"place of the entry"`
	Off   Given[quantity.Length] `job:"from back" help:"from the back wall, if settled" range:"0 mm..2 m" example:"3 in | 75 mm" name:"entry from the back wall"`
	OD    Given[quantity.Length] `job:"cable diameter" help:"over the jacket" range:"2 mm..100 mm" example:"0.4 in | 10 mm" name:"diameter of the cable"`
}

// Block is a rough box that stands for the machine, an obstacle, the room that a moving part sweeps, or a place where something may go. x runs
// to the operator's right, y towards the operator, z up from the floor.
type Block struct {
	Name   Given[quantity.Text]        `job:"name" help:"what it is" example:"headstock" name:"block"`
	Sort   Given[quantity.Text]        `job:"kind" help:"what it stands for" words:"machine, obstacle, moving part, operator stands, place for the box, place for a station, motor, supply point, chips fly here" example:"machine" name:"kind of block"`
	X      Given[quantity.Length]      `job:"x" help:"of its left end, to the operator's right from a corner that you choose" range:"-20 m..20 m" example:"0 in | 0 mm" name:"block x"`
	Y      Given[quantity.Length]      `job:"y" help:"of its far side, towards the operator" range:"-20 m..20 m" example:"0 in | 0 mm" name:"block y"`
	Z      Given[quantity.Length]      `job:"z" help:"of its underside above the floor" range:"-5 m..20 m" example:"30 in | 760 mm" name:"block z"`
	Width  Given[quantity.Length]      `job:"width" help:"along x" range:"1 mm..20 m" example:"28 in | 700 mm" name:"block width"`
	Deep   Given[quantity.Length]      `job:"depth" help:"along y" range:"1 mm..20 m" example:"20 in | 500 mm" name:"block depth"`
	Height Given[quantity.Length]      `job:"height" help:"along z" range:"1 mm..20 m" example:"18 in | 450 mm" name:"block height"`
	Faces  Given[quantity.Text]        `job:"face" help:"of a place for the box or a station: which way it would look" words:"operator, away, left, right, up" example:"operator" name:"which way the place looks"`
	For    Given[quantity.Text]        `job:"for" help:"name of the station that may go there" example:"apron" name:"station of the place"`
	Warm   Given[quantity.Temperature] `job:"temperature" help:"how warm its surface gets" range:"-20 °C..120 °C" example:"120 °F | 50 °C" name:"temperature of the block"`
}
