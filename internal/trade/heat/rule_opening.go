package heat

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// openingRules judge what lets dust, swarf and water in.
var openingRules = []explain.Rule[Result]{ventsInMetal, ventsInWood, fanWithoutFilter, fanInGrinding, openingFacesUp, openingOverLive, matsStopDraught, outletTooSmall, ventsTooLevel, oneOpening, openingUndoesType, typeTooOpen}

// conducting are the dusts that bridge terminals.
var conducting = []quantity.Text{"metal", "grinding"}

// openVents reports whether the box has vents without mats.
func (b Box) openVents() bool {
	o, ok := catalogue.OpeningOf(string(b.Vents.Opening.Value))
	return b.Vents.there() && ok && o.Filter == 0
}

// anyVent is the vent that a finding points at.
func (v Vents) anyVent() explain.Known[quantity.Area] {
	if v.Lower.OK() {
		return v.Lower
	}
	return v.Upper
}

var ventsInMetal = explain.Rule[Result]{
	Name: "vents-with-metal-dust", Title: "open vents where metal or grinding dust flies", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the dust settles on live terminals and between the drive's legs, until they are bridged and an arc stands in the box",
	Source: explain.Practice("drives open to swarf and grinding dust fail by short circuit"),
	Check: func(r Result, report *explain.Report) {
		if r.Box.openVents() && slices.Contains(conducting, r.Box.Dust.Value) {
			report.At(r.Box.Vents.anyVent(), explain.Say("open vents beside {} dust", r.Box.Dust.Value), withoutOpenings(r))
		}
	},
}

// withoutOpenings says how to do without vents.
func withoutOpenings(r Result) explain.Phrase {
	for _, m := range r.Remedies {
		if m.Name != RemedyVents && m.Enough && m.Suits {
			if m.Name == RemedySealed {
				return m.Say // which says so already
			}
			return explain.Phrase{Format: "close the vents and " + m.Say.Format, Values: m.Say.Values}
		}
	}
	return explain.Say("close the vents and take a larger sealed box")
}

var ventsInWood = explain.Rule[Result]{
	Name: "vents-with-wood-dust", Title: "open vents where wood dust flies", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "dust packs the drive's fins until it overheats, and lies as tinder on what gets hot",
	Source: explain.Practice("sealed or filtered boxes in wood shops; NFPA 664 asks for dust-tight ones where dust gathers"),
	Check: func(r Result, report *explain.Report) {
		if r.Box.openVents() && r.Box.Dust.Value == "wood" {
			report.At(r.Box.Vents.anyVent(), explain.Say("open vents beside wood dust"), withoutOpenings(r))
		}
	},
}

var fanWithoutFilter = explain.Rule[Result]{
	Name: "fan-without-filter-in-dust", Title: "a fan without a filter blows dust into the box", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a fan brings in an hour what a vent brings in a week",
	Source: explain.Practice("fans in dust have filters, or aren't fitted"),
	Check: func(r Result, report *explain.Report) {
		b := r.Box
		if b.Fan.Flow.OK() && b.Fan.Filter.Value == "no" && b.dusty() {
			report.At(b.Fan.Flow, explain.Say("a fan without a filter beside {} dust", b.Dust.Value), explain.Say("fit mats at inlet and outlet and reckon with half the flow, or seal the box"))
		}
	},
}

var fanInGrinding = explain.Rule[Result]{
	Name: "filter-fan-beside-grinding", Title: "a filter fan where grinding dust flies", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "mats stop chips, not grinding dust: it goes through and conducts",
	Source: explain.Practice("boxes beside grinders are sealed"),
	Check: func(r Result, report *explain.Report) {
		if r.Box.Fan.Flow.OK() && r.Box.Fan.Filter.Value == "yes" && r.Box.Dust.Value == "grinding" {
			report.At(r.Box.Fan.Flow, explain.Say("the fan's mats don't hold back grinding dust"), explain.Say("seal the box and make it larger, or hang it where the dust doesn't reach and lead the cables there"))
		}
	},
}

var openingFacesUp = explain.Rule[Result]{
	Name: "vent-facing-up", Title: "a vent in the top of the box", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "swarf, screws and coolant fall in, straight onto live parts",
	Source: explain.Practice("openings are in the sides, louvres pointing down"),
	Check: func(r Result, report *explain.Report) {
		v := r.Box.Vents
		if v.UpperFace == Top && v.Upper.OK() || v.LowerFace == Top && v.Lower.OK() {
			about := v.Upper
			if v.UpperFace != Top || !v.Upper.OK() {
				about = v.Lower
			}
			report.At(about, explain.Say("a vent of {} opens upwards", about.Value), explain.Say("put it high in a side, louvres pointing down, on the side away from the chips"))
		}
	},
}

var openingOverLive = explain.Rule[Result]{
	Name: "vent-above-live-parts", Title: "a vent straight above live parts", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "what falls or drips in lands on them",
	Source: explain.Practice("no opening and no knock-out above open live parts"),
	Check: func(r Result, report *explain.Report) {
		if r.Box.Vents.AboveLive && r.Box.Vents.there() {
			report.At(r.Box.Vents.anyVent(), explain.Say("the upper vent stands straight above live parts"), explain.Say("move it to where nothing live is below, or fit a sloping shelf under it that leads drips to the wall"))
		}
	},
}

var matsStopDraught = explain.Rule[Result]{
	Name: "mats-stop-the-draught", Title: "filter mats take nearly all of a natural draught", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a warm box draws with less than 1 Pa (0.004 in of water); mats ask for tens of that at their rated flow: the vents do almost nothing",
	Source: explain.Practice("mats belong to fans"),
	Check: func(r Result, report *explain.Report) {
		v := r.Vented
		if !v.Rise.OK() || !v.Drag.OK() || v.Drag.Value <= 0 || !r.Sealed.OK() || v.Rise.Value < r.Sealed.Value*0.8 {
			return
		}
		report.At(r.Box.Vents.anyVent(), explain.Say("with mats in them the vents hold the air inside at {}; it would be {} without any vents", r.reaches(v.Rise), r.reaches(r.Sealed)),
			explain.Say("close them, or put a fan behind one"))
	},
}

var outletTooSmall = explain.Rule[Result]{
	Name: "upper-vent-too-small", Title: "the upper vent is smaller than the lower one", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "warm air takes more room than cool air, and the reckoning is for an outlet at least a tenth larger",
	Source: outletSource,
	Check: func(r Result, report *explain.Report) {
		v := r.Box.Vents
		if v.Lower.OK() && v.Upper.OK() && v.Upper.Value < v.Lower.Value-1e-9 {
			report.At(v.Upper, explain.Say("the upper vent is {}, the lower {}", v.Upper.Value, v.Lower.Value), explain.Say("make the upper one at least {}", quantity.Scale(v.Lower.Value, outletFactor)))
		}
	},
}

var ventsTooLevel = explain.Rule[Result]{
	Name: "vents-at-one-height", Title: "the vents stand at almost the same height", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a natural draught comes of the height between them; side by side they stir the air and no more",
	Source: stackSource,
	Check: func(r Result, report *explain.Report) {
		v, h := r.Box.Vents, r.Box.Height
		if v.there() && !r.Box.Fan.Flow.OK() && v.Between.OK() && h.OK() && v.Between.Value < h.Value*0.3 {
			report.At(v.Between, explain.Say("the vents are {} apart in height, in a box of {}", v.Between.Value, h.Value), explain.Say("one near the bottom, one near the top: {} between them", h.Value*0.6))
		}
	},
}

var oneOpening = explain.Rule[Result]{
	Name: "one-vent-only", Title: "one vent makes no draught", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "air that can't come in below doesn't go out above",
	Source: stackSource,
	Check: func(r Result, report *explain.Report) {
		v := r.Box.Vents
		if v.Lower.OK() != v.Upper.OK() && !r.Box.Fan.Flow.OK() {
			report.At(v.anyVent(), explain.Say("the box has one vent"), explain.Say("close it, or cut its fellow low or high on the other side"))
		}
	},
}

var openingUndoesType = explain.Rule[Result]{
	Name: "opening-undoes-the-box-type", Title: "vents or a fan in a box whose type they undo", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the mark on the door promises what the hole in the side has taken away",
	Source: explain.Source{Work: "NEMA 250 and IEC 60529", Place: "types and codes hold for the whole enclosure with what is fitted in it"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		b := r.Box
		if b.open() {
			return
		}
		switch {
		case b.openVents():
			report.At(b.Vents.anyVent(), explain.Say("open vents in a box that is to be {}", b.Type.Value), explain.Say("close them, or ask for a type that lets air through where the place allows it"))
		case b.Fan.Flow.OK() && (b.Fan.Filter.Value == "no" || b.tight()):
			report.At(b.Fan.Flow, explain.Say("a fan in a box that is to be {}", b.Type.Value), explain.Say("take a larger sealed box; filter fans hold type 12 or IP54 at best, and only those marked so"))
		case b.Vents.there() && b.tight():
			report.At(b.Vents.anyVent(), explain.Say("filtered vents in a box that is to be {}", b.Type.Value), explain.Say("take a larger sealed box"))
		}
	},
}

var typeTooOpen = explain.Rule[Result]{
	Name: "box-type-too-open-for-the-dust", Title: "the box lets in the dust that flies about", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "dust on terminals and in the drive's fins is the commonest end of a drive in a machine shop",
	Source: explain.Source{Work: "NEMA 250 and IEC 60529", Place: "type 12 and IP5x keep dust out, type 1, type 3R and IP20 to IP44 don't"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		b := r.Box
		if b.Type.OK() && b.open() && b.dusty() {
			report.At(b.Type, explain.Say("{} beside {} dust", b.Type.Value, b.Dust.Value), explain.Say("take type 12 or IP54 at least; type 4 or IP65 where coolant splashes"))
		}
	},
}
