package power

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// ownDevices are the devices that are there, with the current that each must carry and what it should carry.
func ownDevices(r Result) []ownDevice {
	p, b := r.Protection, r.Branch
	return []ownDevice{
		{r.Job.Supply.Breaker, "at the source", b.Total, p.Carry, p.Least, p.ForSource},
		{r.Job.Control.Device, "in the box", b.Current, p.CarryDrive, p.LeastDrive, p.ForDrive},
	}
}

type ownDevice struct {
	given                       job.Given[quantity.Current]
	where                       quantity.Text
	current, carry, least, most explain.Known[quantity.Current]
}

// draws says what flows through the device at full load.
func (d ownDevice) draws(r Result) explain.Phrase {
	if d.current.Value > r.Branch.Current.Value {
		return explain.Say("the drive's input of {} with {} of other loads", r.Branch.Current.Value, r.Branch.Others.Value)
	}
	return explain.Say("the drive's input of {}", r.Branch.Current.Value)
}

var deviceTooSmall = explain.Rule[Result]{
	Name:     "device-too-small",
	Title:    "the breaker or fuse is smaller than the drive's input",
	Why:      "it trips in the middle of a cut; whoever then fits a larger one without a thicker wire makes a fire",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Physics("a device opens above its rating"),
	Check: func(r Result, report *explain.Report) {
		for _, d := range ownDevices(r) {
			if !d.given.Set || !d.current.OK() || covers(d.given.Value, d.current.Value) {
				continue
			}
			bigger := explain.Say("fit a device of {} on a conductor that may have it", orWord(d.least))
			if r.Branch.Smallest.OK() {
				bigger = explain.Say("fit a device of {} on {} or thicker", orWord(d.least), r.Branch.Smallest.Value)
			}
			draws := d.draws(r)
			message := explain.Phrase{Format: "the {} device {} is smaller than " + draws.Format, Values: append([]quantity.Value{d.given.Value, d.where}, draws.Values...)}
			report.At(d.given, message, eitherOr(bigger, explain.Say("take a drive whose rated input is not above {}", inputThatSuits(r, d.given.Value))),
				seeAlso(r.Drive.Input, "the drive's input is {} here")...)
		}
	},
}

var deviceMarginThin = explain.Rule[Result]{
	Name:     "device-margin-thin",
	Title:    "the breaker or fuse carries the drive's input, but only just",
	Why:      "in a warm panel with the machine at full load it trips after a while, in the middle of a cut",
	Severity: explain.Check, Sets: explain.Everywhere, Source: deviceMargin,
	Check: func(r Result, report *explain.Report) {
		for _, d := range ownDevices(r) {
			if !d.given.Set || !d.current.OK() || !d.carry.OK() || !covers(d.given.Value, d.current.Value) || covers(d.given.Value, d.carry.Value) ||
				covers(d.given.Value, d.least.Value) {
				continue // too small, large enough, or the most that the limits leave room for
			}
			bigger := explain.Say("fit {} where the conductor may have it", d.least.Value)
			draws := d.draws(r)
			message := explain.Phrase{Format: "the {} device {} carries " + draws.Format + ", but {} is the usual margin",
				Values: append(append([]quantity.Value{d.given.Value, d.where}, draws.Values...), d.carry.Value)}
			report.At(d.given, message, eitherOr(bigger, explain.Say("keep the machine's load and duty low and the panel cool")),
				seeAlso(r.Drive.Input, "the drive's input is {} here")...)
		}
	},
}

// inputThatSuits is the largest drive input current that the device would carry.
func inputThatSuits(r Result, device quantity.Current) quantity.Current {
	return max((device-r.Branch.Others.Value)/quantity.Current(r.Code.Device.Value), 0)
}

// deviceOnExisting is the largest device that the conductor in the wall may have; strict is false where only the exception
// for motor circuits lets it pass.
func deviceOnExisting(r Result) (most quantity.Current, small quantity.Current, ok bool) {
	b := r.Branch
	if !b.Existing || !b.Ampacity.OK() {
		return 0, 0, false
	}
	most = b.Ampacity.Value
	if next, ok := catalogue.USRatings().AtLeast(most, false); ok && next <= 800 {
		most = next
	}
	small = most
	if s, _, ok := catalogue.SmallConductorDevice(b.Conductor.Value); ok {
		small = min(small, s)
	}
	return most, small, true
}

var breakerTooLarge = explain.Rule[Result]{
	Name:     "breaker-too-large-for-conductor",
	Title:    "the breaker or fuse at the source is larger than the conductor bears",
	Why:      "the wire is now the fuse: it burns in the wall before the breaker opens",
	Severity: explain.Danger, Sets: onlyUS, Source: explain.NEC("240.4(B) and 240.4(D)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		breaker := r.Job.Supply.Breaker
		most, small, ok := deviceOnExisting(r)
		if !ok || !breaker.Set || breaker.Value <= small || (breaker.Value <= most && !onCord(&r)) {
			return
		}
		limit := most
		if onCord(&r) {
			limit = small
		}
		report.At(breaker, explain.Say("{} ahead of {}, which may have {} at most", breaker.Value, r.Branch.Conductor.Value, limit),
			smallerDeviceOr(r, limit, explain.Say("run {} or thicker", orWord(largerThan(r, breaker.Value)))),
			seeAlso(r.Job.Supply.Conductor, "the conductor is {} here")...)
	},
}

// smallerDeviceOr is the remedy for a device that is larger than the limit: the smaller one that still carries the drive, or
// the thicker wire. Where no device within the limit carries the drive, only the thicker wire is left.
func smallerDeviceOr(r Result, limit quantity.Current, thicker explain.Phrase) explain.Phrase {
	least := r.Protection.Least
	switch {
	case !least.OK():
		return eitherOr(explain.Say("fit {} at the source", limit), thicker)
	case least.Value <= limit:
		return eitherOr(explain.Say("fit {} at the source, which carries the drive", least.Value), thicker)
	}
	return explain.Phrase{Format: thicker.Format + ", since {} at the source, the most for what is there, doesn't carry the drive", Values: append(slices.Clone(thicker.Values), limit)}
}

// largerThan is the smallest conductor that the device may protect.
func largerThan(r Result, device quantity.Current) explain.Known[quantity.Conductor] {
	b := r.Branch
	return explain.Derive[quantity.Conductor](smallestBranchConductor, "smallest conductor for the device that is there",
		b.Least, explain.Constant("device that is there", device, explain.Practice("job file")), b.Insulation, b.Terminals, b.Ambient, b.Together)
}

var smallConductorException = explain.Rule[Result]{
	Name:     "small-conductor-exception",
	Title:    "the small conductor's device is larger than usual, which only a motor circuit may have",
	Why:      "if anything but this machine is ever plugged or wired to it, the wire is no longer protected",
	Severity: explain.Check, Sets: onlyUS, Source: explain.NEC("240.4(D) and 240.4(G)"),
	Check: func(r Result, report *explain.Report) {
		breaker := r.Job.Supply.Breaker
		most, small, ok := deviceOnExisting(r)
		if ok && breaker.Set && breaker.Value > small && breaker.Value <= most && !onCord(&r) {
			report.At(breaker, explain.Say("{} ahead of {} is more than the usual {}; only a circuit that feeds nothing but a motor or its drive may have it",
				breaker.Value, r.Branch.Conductor.Value, small),
				explain.Say("fit {} if it carries the drive, or run {}; else keep the circuit for this machine alone and label it at the panel", small, orWord(r.Branch.Smallest)))
		}
	},
}

var deviceAboveMaker = explain.Rule[Result]{
	Name:     "device-above-maker-limit",
	Title:    "the device nearest the drive is larger than its maker allows",
	Why:      "behind a larger breaker a failed rectifier burns until something else gives way; the drive's short-circuit rating is void",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.NEC("430.130(A)(2) and 110.3(B)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		most := r.Job.Drive.MaxDevice // a typical drive's figure isn't its maker's: it only chooses
		if !most.Set {
			return
		}
		remedy := explain.Say("put a device of {} into the box, ahead of the drive; its maker allows {} at most", orWord(r.Protection.LeastDrive), most.Value)
		if box := r.Job.Control.Device; box.Set {
			if box.Value > most.Value {
				report.At(box, explain.Say("{} in the box, but the drive's maker allows {} at most", box.Value, most.Value), remedy)
			}
			return
		}
		if breaker := r.Job.Supply.Breaker; breaker.Set && breaker.Value > most.Value {
			report.At(breaker, explain.Say("{} at the source is the drive's only device, but its maker allows {} at most", breaker.Value, most.Value), remedy,
				seeAlso(most, "the maker's {} stand here")...)
		}
	},
}

var deviceAboveMotorTable = explain.Rule[Result]{
	Name:     "device-above-motor-table",
	Title:    "the device in the box is larger than the motor's table current allows",
	Why:      "it is too coarse to clear a short in the drive or the motor's cable before they burn",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("430.130(A)(1) and 430.52(C)(1)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		box, most, maker := r.Job.Control.Device, r.Protection.ByMotor, r.Job.Drive.MaxDevice
		if !box.Set || !most.OK() || box.Value <= most.Value || maker.Set && box.Value > maker.Value || !r.Protection.Conflict.Empty() {
			return // where no device would do, device-limits-collide speaks
		}
		report.At(box, explain.Say("{} in the box is the drive's nearest device, but {} allows {} at most", box.Value, tableCurrentInWords(r), most.Value),
			explain.Say("put a device of {} into the box instead", orWord(r.Protection.LeastDrive)))
	},
}

// tableCurrentInWords is the motor's table current with the voltage that it stands under.
func tableCurrentInWords(r Result) quantity.Text {
	i, v := r.Protection.MotorCurrent, r.Voltage.Wanted
	if !i.OK() || !v.OK() {
		return "the motor's table current"
	}
	if i.Why().Formula == currentAtSupply.Name {
		v = job.Known(r.Job.Supply.Voltage)
	}
	return quantity.Text("the motor's table current, " + shown(i.Value) + " at " + shown(v.Value) + ",")
}

var boxNeedsDevice = explain.Rule[Result]{
	Name:     "box-needs-a-device",
	Title:    "the breaker at the source is too coarse for the drive, so the box gets a device of its own",
	Why:      "a large breaker guards the wire in the wall, but doesn't clear a short in the drive or the motor's cable before they burn",
	Severity: explain.Note, Sets: onlyUS, Source: explain.NEC("430.130(A) and 430.52(C)(1)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		p, breaker, maker := r.Protection, r.Job.Supply.Breaker, r.Job.Drive.MaxDevice
		if !p.InBox.OK() || maker.Set && breaker.Set && breaker.Value > maker.Value {
			return
		}
		by := tableCurrentInWords(r)
		if most := r.Drive.MaxDevice; most.OK() && (!p.ByMotor.OK() || most.Value < p.ByMotor.Value) {
			by = "the maker of such a drive"
		}
		source := p.Least
		var about explain.Because = p.InBox
		if breaker.Set {
			source, about = job.Known(breaker), breaker
		}
		report.At(about, explain.Say("{} at the source is for the wire; nearest the drive {} allows {} at most", source.Value, by, p.ForDrive.Value),
			explain.Say("put a device of {} into the box, ahead of the drive, as the sheet has it, and write box: overcurrent device", p.InBox.Value))
	},
}

var limitsCollide = explain.Rule[Result]{
	Name:     "device-limits-collide",
	Title:    "no standard device both carries the drive's input and stays within the limits",
	Why:      "either it trips all day or it no longer protects what is behind it",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("430.130(A), 430.52(C)(1) and 240.4").Remembered(),
	Check: func(r Result, report *explain.Report) {
		p := r.Protection
		if p.Conflict.Empty() {
			return
		}
		var about explain.Because = r.Drive.Input
		if r.Job.Control.Device.Set {
			about = r.Job.Control.Device
		}
		if r.Job.Drive.MaxDevice.Set && r.Job.Drive.MaxDevice.Value < r.Branch.Current.Value {
			about = r.Job.Drive.MaxDevice
		}
		report.At(about, p.Conflict, explain.Say("check the drive's booklet: its rated input and its largest device must belong to the same model; a drive with a rated input of {} or less would pass",
			lowestOf(p.ForDrive, p.OnWire)))
	},
}

// lowestOf is the lowest of the limits that are known.
func lowestOf(limits ...explain.Known[quantity.Current]) quantity.Value {
	var least quantity.Value
	for _, l := range limits {
		if l.OK() && (least == nil || l.Value < least.(quantity.Current)) {
			least = l.Value
		}
	}
	if least == nil {
		return quantity.Text("a smaller figure")
	}
	return least
}

var limitsLeaveThinMargin = explain.Rule[Result]{
	Name:     "device-limits-leave-a-thin-margin",
	Title:    "the limits leave the drive's device less margin than usual",
	Why:      "the device carries the drive's input, but may trip on a hot day with the machine at full load; a larger one isn't allowed",
	Severity: explain.Note, Sets: onlyUS, Source: deviceMargin,
	Check: func(r Result, report *explain.Report) {
		p := r.Protection
		if !p.Thin || !p.LeastDrive.OK() || !p.Conflict.Empty() {
			return
		}
		var about explain.Because = r.Drive.Input
		if m := r.Job.Drive.MaxDevice; m.Set && m.Value < p.CarryDrive.Value {
			about = m
		}
		report.At(about, explain.Say("{} is the most that the limits allow nearest the drive; for its input of {} the usual margin is {}", p.LeastDrive.Value, r.Branch.Current.Value, p.CarryDrive.Value),
			explain.Say("fit {} and keep the box cool; a drive with a choke draws less and would leave the margin", p.LeastDrive.Value))
	},
}

var instantaneousTrip = explain.Rule[Result]{
	Name:     "instantaneous-trip-breaker",
	Title:    "the breaker trips on a short circuit only",
	Why:      "it has no thermal part: an overload runs on until the wire burns; it may only be part of a listed combination controller",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("430.52(C)(3)"),
	Check: func(r Result, report *explain.Report) {
		if k := r.Job.Supply.BreakerType; k.Value == "instantaneous trip breaker" {
			report.At(k, explain.Say("an instantaneous trip breaker doesn't protect the conductor"),
				explain.Say("fit an inverse time breaker of {} or a time-delay fuse", orWord(r.Protection.Least)))
		}
	},
}

var motorTableException = explain.Rule[Result]{
	Name:     "motor-table-exception",
	Title:    "the device is above the ordinary limit of the motor table",
	Why:      "the table is made for motors on the line; a single-phase drive draws more than its motor, and the exception for starting is stretched to cover it",
	Severity: explain.Note, Sets: onlyUS, Source: explain.NEC("430.52(C)(1)(b), Exception 2 until 2020, and 430.130(A)(1)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		p := r.Protection
		if !p.Exception || !p.Chosen.OK() || len(p.ByRule) == 0 || p.Chosen.Value <= p.ByRule[0].Value.Value {
			return
		}
		report.At(p.Chosen, explain.Say("{} is above {}, the ordinary limit for a motor of this table current, and within the exception's {}",
			p.Chosen.Value, p.ByRule[0].Value.Value, p.ByRule[1].Value.Value),
			explain.Say("show the inspector the drive's rated input of {} and its maker's largest device, {}", r.Branch.Current.Value, orElse(r.Drive.MaxDevice, "which you must look up")))
	},
}

var deviceNotAsAsked = explain.Rule[Result]{
	Name:     "device-not-as-asked",
	Title:    "the device is not of the kind that the drive's maker asks for",
	Why:      "the drive's short-circuit rating was proven with that device only; with another it may burst",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.NEC("430.130(A)(2) and 110.3(B)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		asked, box, source := r.Job.Drive.MaxDeviceType, r.Job.Control.DeviceType, r.Job.Supply.BreakerType
		if !asked.Set || asked.Value == "any" {
			return
		}
		about := source
		if box.Set && box.Value != "none" {
			about = box
		}
		if about.Set && about.Value != asked.Value && about.Value != "none" {
			report.At(about, explain.Say("the nearest device is {}, but the drive's maker asks for {}", about.Value, asked.Value),
				explain.Say("put {} of {} into the box, ahead of the drive", asked.Value, orWord(r.Protection.LeastDrive)))
		}
	},
}

var ratingNotStandard = explain.Rule[Result]{
	Name:     "device-rating-not-standard",
	Title:    "the rating isn't one that breakers or fuses are made in",
	Why:      "it was misread, and everything sized from it is wrong with it",
	Severity: explain.Check, Sets: onlyUS, Source: explain.NEC("240.6(A)"),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Supply
		fuse := catalogue.IsFuse(string(s.BreakerType.Value))
		if !s.Breaker.Set || r.Code.Standard.Standard(s.Breaker.Value, fuse) {
			return
		}
		below, okBelow := r.Code.Standard.AtMost(s.Breaker.Value, fuse)
		above, okAbove := r.Code.Standard.AtLeast(s.Breaker.Value, fuse)
		if okBelow && okAbove {
			report.At(s.Breaker, explain.Say("{} is not a standard rating; the nearest are {} and {}", s.Breaker.Value, below, above),
				explain.Say("read the number on the handle or the fuse again"))
		}
	},
}

var circuitShared = explain.Rule[Result]{
	Name:     "circuit-shared",
	Title:    "something else hangs on the machine's breaker",
	Why:      "its current comes on top: the breaker trips in a cut, and the lights go out with the cutter turning",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("machine shops: one machine, one circuit"),
	Check: func(r Result, report *explain.Report) {
		if d := r.Job.Supply.Dedicated; d.Value == "no" {
			report.At(d, explain.Say("the circuit is shared, and the drive alone asks for {}", orElse(r.Protection.Carry, "most of it")),
				explain.Say("give the machine its own circuit of {}, or write what else is on it under loads", orWord(r.Protection.Least)))
		}
	},
}
