package box

import (
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Rules returns the rules of the arrangement, in the order of the sheet.
func Rules() []explain.Rule[Result] {
	return []explain.Rule[Result]{
		noSizeHolds, partHalfSettled, partWrittenTwice, partNamesNoPart, entryOfNoCable,
		settledTogether, settledLacksAir, settledTooNear, outsideThePlate, doorDoesNotShut, doorDeviceStrikes,
		wireRoomTooLittle, deepPartAtTheDoor, noRoomForEndStop, stripBesidePower,
		shaftTooShort, handleOutOfReach,
		cableHasNoEntry, entryInTheTop, entryOverLivePart, entriesTooNear,
		littleRoomLeft,
	}
}

// clashes reports the clashes of the kinds, at the settled place of one of the two.
func clashes(r Result, report *explain.Report, remedy explain.Phrase, fits func(c *Clash) bool) {
	for n := range r.Clashes {
		c := &r.Clashes[n]
		if !fits(c) {
			continue
		}
		order := []int{c.B, c.A}
		if c.A >= 0 && r.Brief.Bodies[c.A].On == Door { // what is on the door is moved more easily
			order = []int{c.A, c.B}
		}
		var at explain.Because
		for _, body := range order {
			if at == nil && body >= 0 && r.Brief.Bodies[body].Spot != nil {
				at = r.Brief.Bodies[body].Spot.X
			}
		}
		if at == nil {
			report.Whole(c.What, remedy)
			continue
		}
		report.At(at, c.What, remedy)
	}
}

// onDoor reports whether just one of two clashing bodies is on the door.
func (r *Result) onDoor(c *Clash) bool {
	return c.A >= 0 && c.B >= 0 && (r.Brief.Bodies[c.A].On == Door) != (r.Brief.Bodies[c.B].On == Door)
}

var noSizeHolds = explain.Rule[Result]{
	Name: "no-size-holds-the-parts", Title: "no enclosure that may be chosen holds all the parts",
	Why:      "a box that is too small is found out with the holes drilled, or the air of the drive is given away and it trips in summer",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("panel building"),
	Check: func(r Result, report *explain.Report) {
		if r.Chosen >= 0 || len(r.Brief.Bodies) == 0 {
			return
		}
		if len(r.Tried) == 0 {
			report.Whole(explain.Say("no size is left to choose from"), explain.Say("allow more height, width or depth under enclosure, or write your own sizes"))
			return
		}
		last := r.Tried[len(r.Tried)-1]
		words := "not one of the {} sizes that may be chosen holds the parts; of the largest, " + last.Room.Name + ": " + last.Why
		if last.Verdict != Impossible {
			words = "in none of the {} sizes that may be chosen an arrangement was found, which is no proof that there is none; of the largest, " + last.Room.Name + ": " + last.Why
		}
		if len(r.Tried) == 1 {
			words = last.Room.Name + " doesn't hold the parts: " + last.Why
			if last.Verdict != Impossible {
				words = "no arrangement was found in " + last.Room.Name + ", which is no proof that there is none: " + last.Why
			}
		}
		remedy := explain.Say("allow a larger size, move a part to the door or a wall, or enter the air that your data sheets really ask for")
		if len(r.NearMisses) > 0 {
			remedy = explain.Say(r.NearMisses[0].Room.Name+" "+r.NearMisses[0].Change.Format, r.NearMisses[0].Change.Values...)
		}
		message := explain.Say(words, quantity.Count(len(r.Tried)))
		if len(r.Tried) == 1 {
			message = explain.Say(strings.ReplaceAll(words, "{}", ""))
		}
		if e := r.Brief.Job.Enclosure.Height; len(r.Tried) == 1 && e.Set {
			report.At(last.Room.Height, message, remedy)
			return
		}
		report.Whole(message, remedy)
	},
}

var partHalfSettled = explain.Rule[Result]{
	Name: "part-half-settled", Title: "only one of a part's two places is written",
	Why:      "the part is put where it suits the others, not where you meant it to be",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Physics("a place on a plate takes two figures"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Brief.Job.Parts {
			p := &r.Brief.Job.Parts[n]
			if p.X.Set == p.Y.Set {
				continue
			}
			there, missing := p.X, "y"
			if p.Y.Set {
				there, missing = p.Y, "x"
			}
			report.At(explain.Wrap[quantity.Length](there.Why()), explain.Say(string(p.Tag.Value)+" has no "+missing+": its place isn't settled"), explain.Say("write "+missing+" too, or take the other away"))
		}
	},
}

var partWrittenTwice = explain.Rule[Result]{
	Name: "part-written-twice", Title: "a part that is written twice",
	Why:      "the second one changes the first, or goes unheard, and the box is laid out for a body that isn't there",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Physics("tags are unique"),
	Check: func(r Result, report *explain.Report) {
		seen := map[quantity.Text]bool{}
		for n := range r.Brief.Job.Parts {
			tag := r.Brief.Job.Parts[n].Tag
			if tag.Set && seen[tag.Value] {
				report.At(explain.Wrap[quantity.Text](tag.Why()), explain.Say("there is another part with the tag {} above", tag.Value), explain.Say("put what belongs together into one item, or give this one a tag of its own"))
			}
			seen[tag.Value] = true
		}
	},
}

var entryOfNoCable = explain.Rule[Result]{
	Name: "entry-of-no-cable", Title: "an entry for a cable that the box doesn't have",
	Why:      "the cable that was meant comes in elsewhere, because of a slip in a tag",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Physics("tags are unique"),
	Check: func(r Result, report *explain.Report) {
		for n := range r.Brief.Job.CableIn {
			e := &r.Brief.Job.CableIn[n]
			word := e.Cable.Value
			sort := word == "supply" || word == "motor" || word == "controls"
			if !e.Cable.Set || slices.ContainsFunc(r.Brief.Entries, func(i Inlet) bool { return sort || i.Cable == string(word) }) {
				continue
			}
			var tags []string
			for _, i := range r.Brief.Entries {
				tags = append(tags, i.Cable)
			}
			remedy := "leave the entry out"
			if len(tags) > 0 {
				remedy = "write one of " + strings.Join(tags, ", ") + ", or supply, motor or controls"
			}
			report.At(explain.Wrap[quantity.Text](e.Cable.Why()), explain.Say("no cable called {} comes into the box", e.Cable.Value), explain.Say(remedy))
		}
	},
}

var partNamesNoPart = explain.Rule[Result]{
	Name: "part-names-no-part", Title: "a part is to stand beside or away from one that isn't there",
	Why:      "the wish goes unheard because of a slip in a tag",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Physics("tags are unique"),
	Check: func(r Result, report *explain.Report) {
		known := func(tag string) bool {
			for n := range r.Brief.Bodies {
				if r.Brief.Bodies[n].Tag == tag {
					return true
				}
			}
			return false
		}
		for n := range r.Brief.Job.Parts {
			p := &r.Brief.Job.Parts[n]
			if p.Beside.Set && !known(string(p.Beside.Value)) {
				report.At(explain.Wrap[quantity.Text](p.Beside.Why()), explain.Say("no part in the box has the tag "+string(p.Beside.Value)), explain.Say("write the tag as it stands in the list of parts"))
			}
			if !p.Apart.Set {
				continue
			}
			for tag := range strings.SplitSeq(string(p.Apart.Value), ",") {
				if tag = strings.TrimSpace(tag); !known(tag) {
					report.At(explain.Wrap[quantity.Text](p.Apart.Why()), explain.Say("no part in the box has the tag "+tag), explain.Say("write the tag as it stands in the list of parts"))
				}
			}
		}
	},
}

var settledTogether = explain.Rule[Result]{
	Name: "settled-parts-clash", Title: "two parts are settled in one place",
	Why:      "the second one is found not to fit when its holes are drilled",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Physics("two bodies can't be in one place"),
	Check: func(r Result, report *explain.Report) {
		clashes(r, report, explain.Say("move one of them, or leave its x and y out to have a place found"), func(c *Clash) bool { return c.Kind == together && !r.onDoor(c) })
	},
}

var settledLacksAir = explain.Rule[Result]{
	Name: "settled-part-lacks-air", Title: "a settled part hasn't the free air that it wants",
	Why:      "warm air that can't leave a drive comes round to its own inlet; it trips on the hottest day, and ages on the others",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("drive and supply data sheets: free air above and below"),
	Check: func(r Result, report *explain.Report) {
		clashes(r, report, explain.Say("move one of the two, or enter the air that the data sheet asks for if it is less"), func(c *Clash) bool { return c.Kind == inAir && !r.onDoor(c) })
	},
}

var settledTooNear = explain.Rule[Result]{
	Name: "settled-parts-too-near", Title: "parts that must keep apart are settled too near",
	Why:      "what a filter takes off its input is coupled back in past it, and control lines pick up what the motor cable sends out",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("installation notes of drives and filters"),
	Check: func(r Result, report *explain.Report) {
		clashes(r, report, explain.Say("move one of the two further away"), func(c *Clash) bool { return c.Kind == tooNear })
	},
}

var outsideThePlate = explain.Rule[Result]{
	Name: "part-sticks-out-of-the-plate", Title: "a settled part reaches beyond the plate",
	Why:      "its screws find no metal, and the plate with it doesn't go into the box",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Physics("the plate's size"),
	Check: func(r Result, report *explain.Report) {
		clashes(r, report, explain.Say("move it onto the plate; x and y count from the plate's lower left corner to the part's"), func(c *Clash) bool { return c.Kind == outOfPlate })
	},
}

var doorDoesNotShut = explain.Rule[Result]{
	Name: "door-device-meets-a-part", Title: "a device on the door meets a part behind it",
	Why:      "the door doesn't shut, or pushes on a live part with each closing",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Physics("depth of device and part together, against the clear depth"),
	Check: func(r Result, report *explain.Report) {
		clashes(r, report, explain.Say("move the device to where nothing deep stands behind it, or the part out of its way"), func(c *Clash) bool {
			return (c.Kind == together || c.Kind == inAir) && r.onDoor(c)
		})
	},
}

var doorDeviceStrikes = explain.Rule[Result]{
	Name: "door-device-strikes-as-the-door-turns", Title: "a device on the door strikes a part as the door turns",
	Why:      "the inner edge of a deep device goes further from the hinge than it stood: it catches wires and parts beside it",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Physics("the edge goes on a circle around the hinge"),
	Check: func(r Result, report *explain.Report) {
		clashes(r, report, explain.Say("leave more room beside it on the side away from the hinge, or hinge the door on the other side"), func(c *Clash) bool { return c.Kind == swings })
	},
}

var littleRoomLeft = explain.Rule[Result]{
	Name: "little-room-left-in-the-box", Title: "little of the plate is left for later",
	Why:      "the next relay, brake or coolant pump then needs a new box",
	Severity: explain.Note, Sets: explain.Everywhere, Source: explain.Practice("panel building: a fifth of the plate free"),
	Check: func(r Result, report *explain.Report) {
		if r.Chosen >= 0 && r.Spare.OK() && r.Spare.Value < 0.20 {
			report.At(r.Spare, explain.Say("{} of the plate is left when the parts stand on it, a fifth is usual", r.Spare.Value), explain.Say("take the next larger size if anything is still to come"))
		}
	},
}
