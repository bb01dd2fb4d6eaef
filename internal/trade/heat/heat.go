// Package heat works out how warm it gets in an enclosure and what to do about it: the heat of the parts at their real load, what sun and a
// warm neighbour add, what the walls, a natural draught or a fan carry off, and how much air and margin is left to each part.
//
// It arranges nothing and knows no job: the plan turns the job into a Box and hangs the answers on the sheet. All of it is for a steady state, reached
// after an hour or several. Begin with Work; Result says what comes out. Rules judges the result; Formulas are the relations, each of which can be
// run by itself.
package heat

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Face is a side of the enclosure, seen by someone before its door.
type Face string

// The faces.
const (
	Front  Face = "front"
	Back   Face = "back"
	Left   Face = "left"
	Right  Face = "right"
	Top    Face = "top"
	Bottom Face = "bottom"
)

// Faces are all faces, in the order of the sheet. The caller may change the slice.
func Faces() []Face { return []Face{Front, Back, Left, Right, Top, Bottom} }

// Box is an enclosure with what is in it and around it. What is left out (the zero Known) is assumed where a cautious figure exists, and marked;
// otherwise what depends on it is missing.
type Box struct {
	Height, Width, Depth explain.Known[quantity.Length] // outside
	Mounted              explain.Known[quantity.Text]   // one of catalogue.MountedWords
	Material             explain.Known[quantity.Text]   // one of catalogue.WallMaterials
	Colour               explain.Known[quantity.Text]   // one of catalogue.ColourWords; matters in the sun
	Type                 explain.Known[quantity.Text]   // enclosure type or IP code that is wanted: "type 12", "IP54"
	Ambient              explain.Known[quantity.Temperature]
	Altitude             explain.Known[quantity.Length]
	Dust                 explain.Known[quantity.Text] // one of catalogue.DustWords
	Covered              []Face                       // faces that give off no heat, besides those that the mounting says
	Sun                  Sun
	Neighbour            Neighbour
	Parts                []Part
	Vents                Vents
	Fan                  Fan
}

// Sun is what shines on the box.
type Sun struct {
	Shine explain.Known[quantity.Irradiance] // on each of the faces; the zero Known where none does
	Faces []Face                             // that it falls on at one time; the front where none is named
}

// Neighbour is something warm at a face of the box: a motor, a warm casting.
type Neighbour struct {
	Temperature explain.Known[quantity.Temperature] // of its surface; the zero Known where there is none
	Face        Face
}

// Part is something in the box that gives off heat or is harmed by it.
type Part struct {
	Name string
	// Drive marks the drive, whose fins can be had outside.
	Drive bool
	Loss  explain.Known[quantity.Power]       // at the job's real load, all of it into the box
	Limit explain.Known[quantity.Temperature] // warmest air that its data sheet allows around it
	// Place is how high in the box its middle stands: 0 at the bottom, 1 at the top.
	Place explain.Known[quantity.Ratio]
	// Rated is the current that it gives all day up to From; above that it loses Derate for each kelvin. Needed is what the job asks of it.
	Rated, Needed explain.Known[quantity.Current]
	From          explain.Known[quantity.Temperature]
	Derate        explain.Known[quantity.Ratio]
}

// Vents are a low and a high opening for a natural draught.
type Vents struct {
	Lower, Upper         explain.Known[quantity.Area]   // of the cut-outs; the zero Known where there are none
	Between              explain.Known[quantity.Length] // between the openings' middles, up and down
	Opening              explain.Known[quantity.Text]   // one of catalogue.OpeningWords
	LowerFace, UpperFace Face                           // "" where not said
	// AboveLive is true where the upper opening stands straight above live parts.
	AboveLive bool
}

// Fan blows air through the box.
type Fan struct {
	Flow   explain.Known[quantity.AirFlow] // as it delivers in the box with a clean filter; the zero Known where there is no fan
	Filter explain.Known[quantity.Text]    // yes or no; taken as yes where not said
}

// Result is how warm the box gets. A value that can't be had is missing and its reason says what is needed.
type Result struct {
	Box Box // with what was assumed filled in

	Loss      explain.Known[quantity.Power]       // of all parts whose heat is known
	Unknown   []string                            // parts whose heat isn't known and isn't in Loss
	SunHeat   explain.Known[quantity.Power]       // that comes in from the sun
	Touch     explain.Known[quantity.Conductance] // between a warm neighbour and the air inside
	Push      explain.Known[quantity.Power]       // that the neighbour would drive in if the inside were as cool as the shop
	beside    load                                // with the neighbour, where it is warmer than the box; see settle
	Heat      explain.Known[quantity.Power]       // of the parts and the sun
	Surface   explain.Known[quantity.Area]        // effective cooling surface
	Transfer  explain.Known[quantity.HeatTransfer]
	Wall      explain.Known[quantity.Conductance] // of the cooling surface
	Sealed    explain.Known[quantity.TemperatureRise]
	TopFactor explain.Known[quantity.Factor] // how many times the rise at mid-height the air at the top is warmer
	Second    Second
	Vented    Vented
	Fanned    Fanned

	// Cooling says how the box is cooled as it is: sealed, vents or fan. Rise is the rise at mid-height then, with a clean filter, and Inside the air there.
	Cooling explain.Known[quantity.Text]
	Rise    explain.Known[quantity.TemperatureRise]
	Inside  explain.Known[quantity.Temperature]

	Parts []PartHeat
	// Allowed is the rise at mid-height that the part with the least room allows, and Tightest that part's name; Mixed and TightestMixed are the same
	// where a fan stirs the air, so that it is as warm everywhere.
	Allowed       explain.Known[quantity.TemperatureRise]
	Tightest      string
	Mixed         explain.Known[quantity.TemperatureRise]
	TightestMixed string
	Remedies      []Remedy // in the order in which they are to be thought of
	Flows         []Flow   // where the heat comes from and goes
}

// Second is the rise of the sealed box by another method, the tables of IEC TR 60890, as a second opinion.
type Second struct {
	Heat        explain.Known[quantity.Power] // that goes through the walls
	Middle, Top explain.Known[quantity.TemperatureRise]
	// Reckoned is the wall's coefficient from the laws of free convection and radiation, a third opinion.
	Reckoned explain.Known[quantity.HeatTransfer]
}

// Vented is the box with its vents; not needed where it has none.
type Vented struct {
	Opening explain.Known[quantity.Area]     // free opening of both vents together
	Drag    explain.Known[quantity.Pressure] // that filter mats take at 25 m³/h
	Rise    explain.Known[quantity.TemperatureRise]
	Flow    explain.Known[quantity.AirFlow]
	Draught explain.Known[quantity.Pressure]
}

// Fanned is the box with its fan; not needed where it has none.
type Fanned struct {
	Left    explain.Known[quantity.Ratio] // of the flow when the filter is full
	Clogged explain.Known[quantity.AirFlow]
	Rise    explain.Known[quantity.TemperatureRise] // filter clean
	Full    explain.Known[quantity.TemperatureRise] // filter full
}

// PartHeat is how one part fares.
type PartHeat struct {
	Part
	Layer explain.Known[quantity.Factor] // how many times the rise at mid-height it is where the part stands
	Air   explain.Known[quantity.Temperature]
	// Warmest is the warmest air in which it does what the job asks: its limit, or less where it must be derated.
	Warmest explain.Known[quantity.Temperature]
	Margin  explain.Known[quantity.TemperatureRise] // below zero where it is too hot
	Output  explain.Known[quantity.Current]         // that it gives in this air
	// Full is the air around it when the fan's filter is full; not needed without a fan.
	Full explain.Known[quantity.Temperature]
	// ByTable is the air around it by the second opinion; not needed but in a sealed box.
	ByTable explain.Known[quantity.Temperature]
}

// Flow is heat on its way into the box or out of it.
type Flow struct {
	Name string // part, face, or what brings or takes it
	Kind FlowKind
	Heat explain.Known[quantity.Power] // below zero only where the box is cooler than the shop
}

// FlowKind says which way a flow of heat takes.
type FlowKind int

// The ways of heat. The first three come in, the others go out.
const (
	FromPart FlowKind = iota
	FromSun
	FromNeighbour
	ThroughFace
	ByAir
)

// In reports whether heat of the kind comes into the box.
func (k FlowKind) In() bool { return k <= FromNeighbour }

// Work works out how warm it gets in the box. It never fails: what can't be worked out is missing, with what it needs.
func Work(b Box) Result {
	r := Result{Box: b.filled()}
	gather(&r)
	surface(&r)
	r.beside = load{addUp("heat with the neighbour's", r.Heat, r.Push), addUp("conductance with the neighbour's face", r.Wall, r.Touch)}
	sealed(&r)
	second(&r)
	vented(&r)
	fanned(&r)
	asItIs(&r)
	parts(&r)
	remedies(&r)
	flows(&r)
	return r
}

// filled returns the box with what may be assumed filled in.
func (b Box) filled() Box {
	b.Height, b.Width, b.Depth = named(b.Height, "height of the box"), named(b.Width, "width of the box"), named(b.Depth, "depth of the box")
	b.Ambient = named(b.Ambient, "hottest air around the box")
	b.Mounted = or(b.Mounted, "how the box is mounted", "against a wall", explain.Practice("most boxes hang on something"),
		explain.Say("not said: taken to have its back covered"))
	b.Material = or(b.Material, "material of the box", "painted steel", explain.Practice("the usual box"), explain.Say("not said"))
	b.Altitude = or(b.Altitude, "altitude of the box", 0, explain.Practice("most shops are below 1000 m"), explain.Say("taken to be at sea level"))
	b.Dust = or(b.Dust, "dust about the box", "wood", explain.Practice("a shop is seldom clean"), explain.Say("not said: taken to be dusty"))
	if b.Sun.Shine.OK() && b.Sun.Shine.Value > 0 {
		b.Colour = or(b.Colour, "colour of the box", "gray", explain.Practice("most boxes are gray"), explain.Say("not said"))
		if len(b.Sun.Faces) == 0 {
			b.Sun.Faces = []Face{Front}
		}
	}
	if b.Vents.there() {
		b.Vents.Opening = or(b.Vents.Opening, "what the vents are", "louvres", explain.Practice("what is bought as a vent"), explain.Say("not said"))
		b.Vents.Between = or(b.Vents.Between, "height between the vents", b.Height.Value*0.6, explain.Practice("openings near bottom and top"),
			explain.Say("not said: taken as six tenths of the box's height"))
	}
	if b.Fan.Flow.OK() {
		b.Fan.Filter = or(b.Fan.Filter, "filter at the fan", "yes", explain.Practice("fans for boxes come with one"), explain.Say("not said"))
	}
	b.Parts = append([]Part(nil), b.Parts...)
	for n := range b.Parts {
		p := &b.Parts[n]
		p.Place = or(p.Place, "how high "+p.Name+" stands", 1, explain.Practice("the warmest place"), explain.Say("not said: taken to stand at the top"))
		if p.Rated.OK() {
			p.From = or(p.From, "full-current temperature of "+p.Name, 40, explain.Practice("drives are rated for 40 °C"), explain.Say("the data sheet's figure isn't given"))
			p.Derate = or(p.Derate, "derating of "+p.Name, 0.025, explain.Source{Work: "drive makers' manuals", Place: "derating tables, the steepest of several makers"},
				explain.Say("for each kelvin; the data sheet's figure isn't given"))
		}
	}
	return b
}

// there reports whether the box has vents.
func (v Vents) there() bool { return v.Lower.OK() || v.Upper.OK() }

// or returns k, or the assumed value where k isn't there.
func or[V quantity.Value](k explain.Known[V], name string, v V, source explain.Source, note explain.Phrase) explain.Known[V] {
	if k.OK() {
		return k
	}
	return explain.Assume(name, v, source, note)
}
