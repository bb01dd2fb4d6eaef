package heat

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// warmthRules judge whether each part has air that it may have, and whether that can be known.
var warmthRules = []explain.Rule[Result]{tooHotForPart, deratedBelowNeed, closeToLimit, hotByTables, filterFullTooHot, shopTooWarm, heatUnknown, limitUnknown, shopUnknown, plasticBox}

// closeMargin is the margin under which a reckoned temperature isn't trusted: what two methods differ by in a small box.
const closeMargin quantity.TemperatureRise = 5

// doFirst says the first remedy that is enough and suits, or what there is otherwise.
func (r Result) doFirst() explain.Phrase {
	for _, m := range r.Remedies {
		if m.Enough && m.Suits {
			return m.Say
		}
	}
	return explain.Say("give the parts less to do, spread them over two boxes, or find a cooler place; no single remedy of the list is enough here")
}

// over reports whether the job asks more of the part than it gives in this air, though the air isn't above its limit.
func (h PartHeat) over() bool {
	return h.Output.OK() && h.Needed.OK() && h.Output.Value < h.Needed.Value-1e-9 && h.Limit.OK() && h.Air.Value <= h.Limit.Value
}

var tooHotForPart = explain.Rule[Result]{
	Name: "too-hot-in-the-box", Title: "the air in the box gets warmer than a part allows", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a drive trips on hot days, its capacitors age twice as fast for each 10 °C (18 °F), and insulation goes brittle",
	Source: explain.Practice("data sheets limit the air around a part, not the shop's"),
	Check: func(r Result, report *explain.Report) {
		for _, h := range r.Parts {
			if h.Limit.OK() && h.Air.OK() && h.Air.Value > h.Limit.Value {
				report.At(h.Limit, explain.Say("the air around {} reaches {}, its data sheet allows {}", quantity.Text(h.Name), h.Air.Value, h.Limit.Value), r.doFirst())
			}
		}
	},
}

var deratedBelowNeed = explain.Rule[Result]{
	Name: "derated-below-the-motor", Title: "in the warm box a part gives less current than the job asks", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the drive trips at full load on a hot day, in the middle of a cut",
	Source: deratingSource,
	Check: func(r Result, report *explain.Report) {
		for _, h := range r.Parts {
			if h.over() {
				report.At(h.Rated, explain.Say("in air of {} {} gives {} all day; {} is asked of it", h.Air.Value, quantity.Text(h.Name), h.Output.Value, h.Needed.Value),
					explain.Say("take one size up, or cool the box: the current holds up to {}", h.Warmest.Value))
			}
		}
	},
}

var closeToLimit = explain.Rule[Result]{
	Name: "close-to-its-heat-limit", Title: "a part has less than 5 °C (9 °F) left", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the reckoning isn't as sure as that: two methods differ by more in a small box",
	Source: explain.Practice("a margin of 5 °C (9 °F)"),
	Check: func(r Result, report *explain.Report) {
		for _, h := range r.Parts {
			if h.Margin.OK() && h.Margin.Value >= 0 && h.Margin.Value < closeMargin {
				report.At(h.Margin, explain.Say("the air around {} reaches {}, close to the {} that it may have", quantity.Text(h.Name), h.Air.Value, h.Warmest.Value),
					explain.Say("hang a thermometer beside it on a hot day, read it after one hour and after two, and let the formula final-rise-from-readings say where it ends"))
			}
		}
	},
}

var hotByTables = explain.Rule[Result]{
	Name: "too-hot-by-the-second-method", Title: "a second method finds the sealed box too hot", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "walls and air aren't as warm in one place as in another; the tables give the air, the simple rule a mean",
	Source: tabulatedSource,
	Check: func(r Result, report *explain.Report) {
		for _, h := range r.Parts {
			if h.ByTable.OK() && h.Limit.OK() && h.ByTable.Value > h.Limit.Value && h.Air.Value <= h.Limit.Value {
				report.At(h.Limit, explain.Say("by the simple rule the air around {} reaches {}, by the tables {}; its data sheet allows {}", quantity.Text(h.Name), h.Air.Value, h.ByTable.Value, h.Limit.Value),
					explain.Say("hang a thermometer beside it in the first hours of work, and have the next larger box in mind"))
			}
		}
	},
}

var filterFullTooHot = explain.Rule[Result]{
	Name: "too-hot-with-a-full-filter", Title: "when the fan's filter is full, a part gets too hot", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "filters are cleaned when the drive has tripped, not before",
	Source: explain.Practice("fans are chosen for the full filter"),
	Check: func(r Result, report *explain.Report) {
		for _, h := range r.Parts {
			if !h.Full.OK() || !h.Warmest.OK() || h.Full.Value <= h.Warmest.Value || h.Air.Value > h.Warmest.Value {
				continue
			}
			remedy := explain.Say("clean the mats every week, or fit a larger fan")
			for _, m := range r.Remedies {
				if m.Name == RemedyFan && m.Enough {
					remedy = explain.Say("fit a fan of {} or more in free air, or clean the mats before they are half full", m.Figure.Why().Value)
				}
			}
			report.At(r.Box.Fan.Flow, explain.Say("with {} of its flow left, the air around {} reaches {} and not {}; {} is allowed", r.Fanned.Left.Value, quantity.Text(h.Name), h.Full.Value, h.Air.Value, h.Warmest.Value), remedy)
		}
	},
}

var shopTooWarm = explain.Rule[Result]{
	Name: "shop-as-warm-as-the-parts-allow", Title: "the shop itself is as warm as a part in the box may be", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "no vent and no fan cools below the air that it brings in",
	Source: explain.Physics("air carries heat off only where it is cooler"),
	Check: func(r Result, report *explain.Report) {
		if r.Mixed.OK() && r.Mixed.Value <= 0 {
			report.At(r.Box.Ambient, explain.Say("with the shop at {}, nothing is left for the heat of {}", r.Box.Ambient.Value, quantity.Text(r.TightestMixed)), explain.Say("put the box in a cooler room, or take a larger drive or one rated for warmer air"))
		}
	},
}

var heatUnknown = explain.Rule[Result]{
	Name: "heat-of-a-part-not-known", Title: "it isn't known how much heat a part gives off", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "what isn't counted makes the box hotter than the sheet says",
	Source: explain.Practice("data sheets give losses, or efficiency"),
	Check: func(r Result, report *explain.Report) {
		for _, p := range r.Box.Parts {
			if !p.Loss.OK() {
				report.At(p.Loss, explain.Say("the heat of {} isn't known, and isn't counted", quantity.Text(p.Name)), explain.Say("write its losses from the data sheet; a supply loses about 15 % of what it gives, a coil 1 to 4 W"))
			}
		}
	},
}

var limitUnknown = explain.Rule[Result]{
	Name: "heat-limit-of-the-drive-not-known", Title: "the warmest air that the drive may have isn't given", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "40 or 50 °C (104 or 122 °F) makes the difference between a small box and a large one",
	Source: explain.Practice("data sheets say it, often in a footnote"),
	Check: func(r Result, report *explain.Report) {
		for _, p := range r.Box.Parts {
			if p.Drive && (!p.Limit.OK() || p.Limit.Why().Origin == explain.Assumed) {
				report.At(p.Limit, explain.Say("the warmest air that {} may have isn't given", quantity.Text(p.Name)), explain.Say("look for ambient or surrounding temperature in its data sheet and write it down"))
			}
		}
	},
}

var shopUnknown = explain.Rule[Result]{
	Name: "warmest-shop-not-known", Title: "how hot the shop gets isn't given", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "everything in the box is warmer than the shop by the same rise, on the hottest day as well",
	Source: explain.Practice("the hottest day decides"),
	Check: func(r Result, report *explain.Report) {
		a := r.Box.Ambient
		switch {
		case !a.OK():
			report.At(a, explain.Say("how hot the shop gets isn't given: what the box reaches can't be said"), explain.Say("write the hottest that a thermometer showed where the box will hang"))
		case a.Why().Origin == explain.Assumed:
			report.At(a, explain.Say("how hot the shop gets isn't given: reckoned with {}", a.Value), explain.Say("write the hottest that a thermometer showed where the box will hang"))
		}
	},
}

// plasticHeat is the heat from which a sealed plastic box is worth a thought.
const plasticHeat quantity.Power = 30

var plasticBox = explain.Rule[Result]{
	Name: "sealed-plastic-box-round-a-drive", Title: "a sealed plastic box holds the drive's heat in", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "plastic passes about two thirds of what painted steel passes, and screens nothing",
	Source: explain.Source{Work: "enclosure makers' climate chapters", Place: "3.5 W for each square metre and kelvin against 5.5"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		if r.Box.Material.Value == "plastic" && r.Cooling.Value == bySeal && r.Loss.OK() && r.Loss.Value > plasticHeat {
			report.At(r.Box.Material, explain.Say("{} in a sealed plastic box: the air inside reaches {}", r.Loss.Value, quantityOrUnknown(r.Inside)),
				explain.Say("take painted steel or aluminium, which also screens and can be bonded to ground"))
		}
	},
}

// quantityOrUnknown is the value, or nil, which prints as not known.
func quantityOrUnknown[V quantity.Value](k explain.Known[V]) quantity.Value {
	if !k.OK() {
		return nil
	}
	return k.Value
}
