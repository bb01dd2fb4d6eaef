package heat

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// placeRules judge what the place does to the box.
var placeRules = []explain.Rule[Result]{sunOnBox, warmNeighbour, airTooThin, coveredTop}

// muchFromOutside is the part of all heat from which sun or neighbour is worth a word.
const muchFromOutside quantity.Ratio = 0.1

var sunOnBox = explain.Rule[Result]{
	Name: "sun-on-the-box", Title: "the sun heats the box", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "on the hottest day, when there is least room for it, the sun may bring as much heat as the drive",
	Source: solAirSource,
	Check: func(r Result, report *explain.Report) {
		if r.SunHeat.OK() && r.Heat.OK() && r.SunHeat.Value > quantity.Scale(r.Heat.Value, muchFromOutside) {
			report.At(r.Box.Sun.Shine, explain.Say("the sun brings {} beside the parts' {}", r.SunHeat.Value, quantityOrUnknown(r.Loss)), explain.Say("a sheet before it with a hand's breadth of air between, the other side of the machine, or white paint"))
		}
	},
}

var warmNeighbour = explain.Rule[Result]{
	Name: "warm-casting-at-the-box", Title: "a motor or casting warms the box", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the face that should cool the box heats it instead",
	Source: newtonSource,
	Check: func(r Result, report *explain.Report) {
		n := r.Box.Neighbour
		if r.Rise.OK() && r.heats(r.Rise) {
			report.At(n.Temperature, explain.Say("what is {} warm at the box's {} brings {} into it", n.Temperature.Value, quantity.Text(n.Face), passed(r.Touch.Value, quantity.Rise(n.Temperature.Value, r.Inside.Value))),
				explain.Say("stand the box off by a hand's breadth on spacers, or hang it elsewhere"))
		}
	},
}

var airTooThin = explain.Rule[Result]{
	Name: "thin-air-cools-less", Title: "thin air cools box and drive less", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a fan moves the same air by volume, but less of it by weight; drives give less current as well",
	Source: deratingSource,
	Check: func(r Result, report *explain.Report) {
		if r.Box.Altitude.Value > thinAir {
			report.At(r.Box.Altitude, explain.Say("at {} air has {} of its weight at sea level: walls, fan and vents are reckoned with that", r.Box.Altitude.Value, quantity.Ratio(pressureAt(r.Box.Altitude.Value)/seaLevel)),
				explain.Say("look up in the drive's data sheet what it gives at this height: usually 1 % less for each 100 m (328 ft) above 1000 m (3281 ft)"))
		}
	},
}

var coveredTop = explain.Rule[Result]{
	Name: "top-of-the-box-covered", Title: "the top of the box is covered", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "the top gives off more heat than any other face of its size; with things laid on it, it gives off half of that or nothing",
	Source: surfaceSource,
	Check: func(r Result, report *explain.Report) {
		for _, f := range r.Box.coveredFaces() {
			if f == Top {
				report.At(r.Surface, explain.Say("with its top covered the box has a cooling surface of {}", quantityOrUnknown(r.Surface)), explain.Say("keep the top free: a sloping top keeps tools and cups off it"))
			}
		}
	},
}
