package heat

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// openFigures are the catalogue's figures of an opening, each with its reason.
type openFigures struct {
	open      explain.Known[quantity.Ratio]
	discharge explain.Known[quantity.Factor]
	mat       explain.Known[quantity.Pressure]
}

// figuresOf returns the figures of what stands in the vents; missing where the table doesn't know it.
func figuresOf(vents string, opening explain.Known[quantity.Text]) openFigures {
	openName, dischargeName, matName := "open part of the "+vents, "discharge of the "+vents, "pressure that a mat of the "+vents+" takes"
	o, ok := catalogue.OpeningOf(string(opening.Value))
	if !ok {
		need := explain.Say("needs an opening of the table: " + strings.Join(catalogue.OpeningWords(), ", "))
		return openFigures{explain.Absent[quantity.Ratio](openName, need), explain.Absent[quantity.Factor](dischargeName, need), explain.Absent[quantity.Pressure](matName, need)}
	}
	words := "table, {" + opening.Why().Name + "}"
	return openFigures{explain.Chosen(openName, o.Open, words, o.Source, opening), explain.Chosen(dischargeName, o.Discharge, words, o.Source, opening),
		explain.Chosen(matName, o.Filter, words, o.Source, opening)}
}

// vented fills the box with its vents.
func vented(r *Result) {
	b, v := &r.Box, &r.Vented
	const openingName, dragName, riseName, flowName, draughtName = "free opening of the vents", "pressure that the filters take", "rise in the box with its vents", "air through the vents", "draught of the vents"
	if !b.Vents.there() {
		why := explain.Say("the box has no vents")
		v.Opening, v.Drag = explain.Needless[quantity.Area](openingName, why), explain.Needless[quantity.Pressure](dragName, why)
		v.Rise, v.Flow = explain.Needless[quantity.TemperatureRise](riseName, why), explain.Needless[quantity.AirFlow](flowName, why)
		v.Draught = explain.Needless[quantity.Pressure](draughtName, why)
		return
	}
	f := figuresOf("vents", b.Vents.Opening)
	lower, upper := named(b.Vents.Lower, "area of the lower vent"), named(b.Vents.Upper, "area of the upper vent")
	v.Opening = explain.Derive[quantity.Area](freeOpening, openingName, lower, upper, f.open, f.discharge)
	v.Drag = explain.Derive[quantity.Pressure](filterDrag, dragName, f.mat, lower, upper)
	v.Rise = r.settle(func(l load) explain.Known[quantity.TemperatureRise] {
		return explain.Derive[quantity.TemperatureRise](ventedRise, riseName, l.heat, l.walls, v.Opening, b.Vents.Between, v.Drag, b.Ambient, b.Altitude)
	})
	v.Flow = explain.Derive[quantity.AirFlow](naturalFlow, flowName, v.Rise, v.Opening, b.Vents.Between, v.Drag, b.Ambient, b.Altitude)
	v.Draught = explain.Derive[quantity.Pressure](draughtPressure, draughtName, b.Vents.Between, b.Ambient, airWarmer("air in the box with its vents", b.Ambient, v.Rise, one), b.Altitude)
}

// named returns k, or the missing value under the name where k is the zero Known, so that what is missing has a name.
func named[V quantity.Value](k explain.Known[V], name string) explain.Known[V] {
	if !k.OK() && k.Why().Name == "" {
		return explain.Absent[V](name, explain.Say("isn't given"))
	}
	return k
}

// fanned fills the box with its fan.
func fanned(r *Result) {
	b, f := &r.Box, &r.Fanned
	const leftName, cloggedName, riseName, fullName = "flow left with a full filter", "fan flow with a full filter", "rise in the box with its fan", "rise in the box with a full filter"
	if !b.Fan.Flow.OK() {
		why := explain.Say("the box has no fan")
		f.Left, f.Clogged = explain.Needless[quantity.Ratio](leftName, why), explain.Needless[quantity.AirFlow](cloggedName, why)
		f.Rise, f.Full = explain.Needless[quantity.TemperatureRise](riseName, why), explain.Needless[quantity.TemperatureRise](fullName, why)
		return
	}
	f.Left = filterLeft(b.Dust)
	if b.Fan.Filter.Value == "no" {
		f.Left = explain.Chosen[quantity.Ratio](leftName, 1, "all, without a filter", explain.Physics("nothing to clog"), b.Fan.Filter)
	}
	f.Clogged = explain.Derive[quantity.AirFlow](cloggedFlow, cloggedName, b.Fan.Flow, f.Left)
	with := func(name string, flow explain.Known[quantity.AirFlow]) explain.Known[quantity.TemperatureRise] {
		return r.settle(func(l load) explain.Known[quantity.TemperatureRise] {
			return explain.Derive[quantity.TemperatureRise](fanRise, name, l.heat, l.walls, flow, b.Ambient, b.Altitude)
		})
	}
	f.Rise, f.Full = with(riseName, b.Fan.Flow), with(fullName, f.Clogged)
}

// filterLeft is the part of the flow that is left when the filter is full, by the dust.
func filterLeft(dust explain.Known[quantity.Text]) explain.Known[quantity.Ratio] {
	const name = "flow left with a full filter"
	left, source, ok := catalogue.FilterLeft(string(dust.Value))
	if !ok {
		return explain.Absent[quantity.Ratio](name, explain.Say("needs a dust of the table: "+strings.Join(catalogue.DustWords(), ", ")))
	}
	return explain.Chosen(name, left, "table, {"+dust.Why().Name+"}", source, dust)
}

// asItIs fills what holds for the box as it is.
func asItIs(r *Result) {
	const name, rise = "how the box is cooled", "rise in the box"
	source := explain.Practice("as it is built")
	switch {
	case r.Box.Fan.Flow.OK():
		r.Cooling = explain.Chosen[quantity.Text](name, byFan, "it has a fan", source, r.Box.Fan.Flow)
		r.Rise = explain.Renamed(rise, r.Fanned.Rise)
	case r.Box.Vents.there():
		r.Cooling = explain.Chosen[quantity.Text](name, byVents, "it has vents", source, r.Vented.Opening)
		r.Rise = explain.Renamed(rise, r.Vented.Rise)
	default:
		r.Cooling = explain.Chosen[quantity.Text](name, bySeal, "it has neither vents nor a fan", source)
		r.Rise = explain.Renamed(rise, r.Sealed)
	}
	r.Inside = airWarmer("air in the box at mid-height", r.Box.Ambient, r.Rise, one)
}

// How a box is cooled, in words.
const (
	bySeal  quantity.Text = "sealed, by its walls alone"
	byVents quantity.Text = "by a natural draught through its vents"
	byFan   quantity.Text = "by a fan"
)
