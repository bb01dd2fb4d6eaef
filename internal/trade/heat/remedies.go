package heat

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// Remedy is one thing that can be done about the heat.
type Remedy struct {
	Name string // such as bigger box
	// Enough is true where it alone keeps each part in air that it may have, as far as heat and limits are known.
	Enough bool
	// Suits is true where it goes with the dust and with the enclosure type that is wanted.
	Suits bool
	// Figure is what to look for when buying or cutting: the rise, surface, cut-out, flow or temperature.
	Figure  explain.Because
	Also    []explain.Because // further figures: of vents the upper cut-out and the height between; of a fan the flow that must reach the parts
	Say     explain.Phrase    // what to do, with the figure
	Against explain.Phrase    // what speaks against it or must be minded; empty if nothing does
}

// The names of the remedies, in the order in which they are thought of.
const (
	RemedySealed = "sealed as it is"
	RemedyShade  = "out of the sun and off what is warm"
	RemedyBigger = "bigger box"
	RemedyFins   = "drive's fins outside"
	RemedyVents  = "vents"
	RemedyFan    = "fan with filters"
	RemedyCooler = "cooler place"
)

var surfaceNeeded = &explain.Formula{
	Name: "surface-needed", Title: "cooling surface that a sealed box needs",
	Words: "({heat} ÷ {rise} − {face at neighbour}) ÷ {coefficient}",
	Inputs: []explain.Parameter{heatParameter, riseParameter,
		{Name: "face at neighbour", Kind: quantity.KindConductance, Help: "heat that a face at something warm passes for each kelvin", Example: "0 W/K", Default: "0 W/K"}, coefficientParameter},
	Result: quantity.KindArea, Source: newtonSource,
	Compute: explain.Of4(func(p quantity.Power, d quantity.TemperatureRise, u quantity.Conductance, k quantity.HeatTransfer) (explain.Answer, error) {
		if d <= 0 || k <= 0 {
			return explain.Answer{}, fmt.Errorf("the shop is as warm as the parts allow: no box is large enough")
		}
		return explain.Is(quantity.Area(max(float64(p)/float64(d)-float64(u), 0) / float64(k)))
	}),
}

var coolerShop = &explain.Formula{
	Name: "cooler-shop", Title: "air around a box at which its worst part is just cool enough",
	Words: "{shop} + {margin}", Inputs: []explain.Parameter{shopParameter, {Name: "margin", Kind: quantity.KindTemperatureRise, Help: "of the worst part, below zero where it is too hot", Example: "-5 K"}},
	Result: quantity.KindTemperature, Source: explain.Physics("the rise is the same in cooler air"),
	Compute: explain.Of2(func(shop quantity.Temperature, margin quantity.TemperatureRise) (explain.Answer, error) {
		return explain.Is(shop.Warmer(margin))
	}),
}

// finsOutside is the part of a drive's heat that leaves by fins through the wall.
const finsOutside = 0.6

var heatWithFinsOutside = &explain.Formula{
	Name: "heat-with-fins-outside", Title: "heat that is left in a box when the drive's fins stand outside",
	Words: "{heat} − {outside} × {drive's heat}",
	Inputs: []explain.Parameter{heatParameter, {Name: "drive's heat", Kind: quantity.KindPower, Help: "at the job's load", Example: "90 W"},
		{Name: "outside", Kind: quantity.KindRatio, Help: "60 to 75 % with a drive made for it", Example: "60 %", Default: "60 %"}},
	Result: quantity.KindPower, Source: explain.Practice("drives made for mounting through a wall").Remembered(),
	Compute: explain.Of3(func(all, drive quantity.Power, outside quantity.Ratio) (explain.Answer, error) {
		return explain.Is(all - quantity.Scale(drive, outside))
	}),
}

// openType are the enclosure types and codes that let dust in anyway; tightTypes those that no ordinary filter unit keeps.
var (
	openTypes  = []quantity.Text{"type 1", "type 2", "type 3R", "IP00", "IP20", "IP21", "IP30", "IP40", "IP41", "IP44"}
	tightTypes = []quantity.Text{"type 4", "type 4X", "type 6", "type 13", "IP55", "IP56", "IP65", "IP66", "IP67"}
)

// open reports whether the type that is wanted lets dust in anyway, or none is wanted.
func (b Box) open() bool { return !b.Type.OK() || slices.Contains(openTypes, b.Type.Value) }

// tight reports whether the type that is wanted is lost with any opening, filter or not.
func (b Box) tight() bool { return slices.Contains(tightTypes, b.Type.Value) }

// dusty reports whether dust flies about that does harm inside.
func (b Box) dusty() bool { return b.Dust.Value != "clean" }

// remedies fills what can be done, in order. Where the box sealed is enough, that is all of it.
func remedies(r *Result) {
	if !r.Allowed.OK() || !r.Sealed.OK() {
		return
	}
	add := func(m Remedy) { r.Remedies = append(r.Remedies, m) }
	enough := r.Sealed.Value <= r.Allowed.Value
	closed := Remedy{Name: RemedySealed, Enough: enough, Suits: true, Figure: r.Sealed,
		Say: explain.Say("sealed, the air inside reaches {} at mid-height; {} is allowed", r.reaches(r.Sealed), r.reaches(r.Allowed))}
	if enough && r.Cooling.Value != bySeal {
		closed.Say = explain.Say("close its openings: sealed, the air inside reaches {} at mid-height, and {} is allowed", r.reaches(r.Sealed), r.reaches(r.Allowed))
	}
	if len(r.Unknown) > 0 {
		closed.Against = explain.Say("the heat of {} isn't known and not counted", quantity.Text(strings.Join(r.Unknown, ", ")))
	}
	add(closed)
	if enough {
		return
	}
	if m, ok := shade(r); ok {
		add(m)
	}
	if r.Allowed.Value > 0 { // otherwise the shop is too warm already, and only a cooler place helps
		add(bigger(r))
		if m, ok := fins(r); ok {
			add(m)
		}
		add(vents(r))
	}
	if r.Mixed.Value > 0 {
		add(fan(r))
	}
	add(cooler(r))
}

// reaches is the air at mid-height with the rise.
func (r *Result) reaches(d explain.Known[quantity.TemperatureRise]) quantity.Value {
	if !d.OK() {
		return nil
	}
	return r.Box.Ambient.Value.Warmer(d.Value)
}

func shade(r *Result) (Remedy, bool) {
	sunny, warm := r.SunHeat.OK() && r.SunHeat.Value > 0, r.heats(r.Sealed)
	if !sunny && !warm {
		return Remedy{}, false
	}
	walls, what := r.Wall, "shade the box"
	if warm {
		// Off the neighbour, its face counts again as far as the mounting leaves it free.
		surface := coolingSurface(" off the neighbour", r.Box, r.Box.Covered)
		walls = explain.Derive[quantity.Conductance](faceConductance, "conductance of the walls off the neighbour", r.Transfer, surface)
		what = "set the box off what is warm beside it, a hand's breadth of free air between"
		if sunny {
			what = "shade the box and " + what
		}
	}
	d := explain.Derive[quantity.TemperatureRise](sealedRise, "rise out of the sun and off what is warm", r.Loss, walls)
	return Remedy{Name: RemedyShade, Enough: d.OK() && d.Value <= r.Allowed.Value, Suits: true, Figure: d,
		Say: explain.Say(what+": sealed, the air inside then reaches {} at mid-height; {} is allowed", r.reaches(d), r.reaches(r.Allowed))}, true
}

func bigger(r *Result) Remedy {
	l, touch := r.loadAt(r.Allowed), explain.Constant[quantity.Conductance]("no neighbour that heats", 0, explain.Physics("nothing warmer at the box"))
	if r.heats(r.Allowed) {
		touch = r.Touch
	}
	need := explain.Derive[quantity.Area](surfaceNeeded, "cooling surface needed sealed", l.heat, r.Allowed, touch, r.Transfer)
	larger := quantity.Factor(math.Sqrt(float64(need.Value / r.Surface.Value)))
	m := Remedy{Name: RemedyBigger, Enough: need.OK(), Suits: true, Figure: need,
		Say: explain.Say("take a sealed box with a cooling surface of {}; this one has {}: that is about {} times as high, wide and deep, in the same shape and mounted the same way", need.Value, r.Surface.Value, larger)}
	if larger > 1.6 {
		m.Against = explain.Say("that is a large box for these parts")
	}
	if r.Transfer.Value < 5 {
		m.Against = explain.Say("painted metal of the same size passes half as much heat again as {}", r.Box.Material.Value)
	}
	return m
}

func fins(r *Result) (Remedy, bool) {
	for _, p := range r.Box.Parts {
		if !p.Drive || !p.Loss.OK() {
			continue
		}
		share := explain.Assume[quantity.Ratio]("part of the drive's heat that leaves by its fins", finsOutside, heatWithFinsOutside.Source, explain.Say("60 to 75 % is usual; its data sheet says"))
		d := r.settle(func(l load) explain.Known[quantity.TemperatureRise] {
			left := explain.Derive[quantity.Power](heatWithFinsOutside, "heat left in the box with the fins outside", l.heat, p.Loss, share)
			return explain.Derive[quantity.TemperatureRise](sealedRise, "rise with the fins outside", left, l.walls)
		})
		return Remedy{Name: RemedyFins, Enough: d.OK() && d.Value <= r.Allowed.Value, Suits: true, Figure: d,
			Say:     explain.Say("take a drive whose fins stand out through the back: sealed, the air inside then reaches about {}; {} is allowed", r.reaches(d), r.reaches(r.Allowed)),
			Against: explain.Say("only drives made for it; the fins need free air, must stay clear of chips and be blown out")}, true
	}
	return Remedy{}, false
}

func vents(r *Result) Remedy {
	b := &r.Box
	between := b.Vents.Between
	if !between.OK() {
		between = explain.Assume("height between new vents", b.Height.Value*0.6, explain.Practice("openings near bottom and top"), explain.Say("six tenths of the box's height"))
	}
	louvres := explain.Constant[quantity.Text]("what the new vents are", "louvres", explain.Practice("what is bought as a vent"))
	f := figuresOf("new vents", louvres)
	l := r.loadAt(r.Allowed)
	flow := explain.Derive[quantity.AirFlow](flowNeeded, "air that new vents must take", l.heat, l.walls, r.Allowed, b.Ambient, b.Altitude)
	free := explain.Derive[quantity.Area](openingNeeded, "free opening that new vents need", flow, between, r.Allowed, b.Ambient)
	each := explain.Derive[quantity.Area](cutOutNeeded, "cut-out of each new vent", free, f.open, f.discharge)
	upper := explain.Derive[quantity.Area](largerOutlet, "cut-out of the new upper vent", each)
	side := quantity.Area(float64(b.Height.Value) * float64(b.Depth.Value))
	m := Remedy{Name: RemedyVents, Enough: each.OK() && upper.Value <= side/4, Suits: b.open() && !b.dusty(), Figure: each, Also: []explain.Because{upper, between},
		Say: explain.Say("cut a louvred opening of {} low in one side, below the drive, and one of {} high in the other, {} above it; none in the top, none over live parts", each.Value, upper.Value, between.Value)}
	switch {
	case b.dusty():
		m.Against = explain.Say("not with {} dust: without mats it gets in, and a natural draught can't pull through mats", b.Dust.Value)
	case !b.open():
		m.Against = explain.Say("open louvres undo {}", b.Type.Value)
	case !m.Enough:
		m.Against = explain.Say("that is more than the sides have room for")
	}
	return m
}

var largerOutlet = &explain.Formula{
	Name: "upper-vent", Title: "cut-out of the upper of two openings",
	Words: "1.1 × {lower}", Inputs: []explain.Parameter{{Name: "lower", Kind: quantity.KindArea, Help: "cut-out of the low opening", Example: "8000 mm²"}},
	Result: quantity.KindArea, Source: outletSource,
	Compute: explain.Of1(func(a quantity.Area) (explain.Answer, error) { return explain.Is(quantity.Scale(a, outletFactor)) }),
}

// outletFactor is how much larger than the inlet an outlet must be at least.
const outletFactor quantity.Factor = 1.1

var outletSource = explain.Source{Work: "AS 60890", Edition: "2009", Place: "conditions: outlet openings at least 1.1 times the inlets"}

func fan(r *Result) Remedy {
	b := &r.Box
	left := filterLeft(b.Dust)
	share, source := catalogue.FanDelivers()
	delivers := explain.Constant("part of the free-air flow delivered", share, source)
	l := r.loadAt(r.Mixed)
	flow := explain.Derive[quantity.AirFlow](flowNeeded, "air that a fan must bring", l.heat, l.walls, r.Mixed, b.Ambient, b.Altitude)
	buy := explain.Derive[quantity.AirFlow](fanToBuy, "free-air flow of the fan to buy", flow, left, delivers)
	m := Remedy{Name: RemedyFan, Enough: buy.OK(), Suits: !b.tight() && b.Dust.Value != "grinding", Figure: buy, Also: []explain.Because{flow},
		Say: explain.Say("fit a filter fan that blows in, low and away from the chips, of {} or more in free air, and a filtered outlet high on the other side: {} must reach the parts when the filters are full", buy.Value, flow.Value)}
	switch {
	case b.tight():
		m.Against = explain.Say("a filter fan undoes {}: most hold type 12 or IP54 at best", b.Type.Value)
	case b.Dust.Value == "grinding":
		m.Against = explain.Say("grinding dust goes through mats and bridges terminals: keep the box sealed")
	case b.Dust.Value == "metal":
		m.Against = explain.Say("fine metal goes through mats: sealed is better; else clean the mats every week and look inside")
	case b.dusty():
		m.Against = explain.Say("write the cleaning of the mats in the maintenance list")
	}
	return m
}

func cooler(r *Result) Remedy {
	b := &r.Box
	worst := explain.Absent[quantity.TemperatureRise]("worst margin sealed", explain.Say("needs parts"))
	for _, h := range r.Parts {
		layer := explain.Derive[quantity.Factor](layerFactor, "layering at "+h.Name+" sealed", h.Place, r.TopFactor, r.Surface)
		m := explain.Derive[quantity.TemperatureRise](marginThere, "margin of "+h.Name+" sealed", h.Warmest, airWarmer("air around "+h.Name+" sealed", b.Ambient, r.Sealed, layer))
		if m.OK() && (!worst.OK() || m.Value < worst.Value) {
			worst = m
		}
	}
	t := explain.Derive[quantity.Temperature](coolerShop, "air around the box that would do", b.Ambient, worst)
	m := Remedy{Name: RemedyCooler, Enough: t.OK() && t.Value >= 5, Suits: true, Figure: t,
		Say: explain.Say("put the box where the air stays below {}, sealed as it is; reckoned with {} now", t.Value, b.Ambient.Value)}
	switch {
	case !m.Enough:
		m.Say = explain.Say("a cooler place alone isn't enough: the air around the box would have to stay below {}, sealed as it is", quantityOrUnknown(t))
	case r.Touch.OK() && t.Value.Warmer(r.Sealed.Value) < b.Neighbour.Temperature.Value: // which the box would then be cooler than
		m.Enough = false
		m.Against = explain.Say("and not beside what is warm: that stays as it is")
	}
	return m
}
