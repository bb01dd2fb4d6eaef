package circuit

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// knobRules judge the speed knob and its wires.
var knobRules = []explain.Rule[Result]{knobTooSmall, knobTooLarge, knobHot, knobShorts, knobEndMissing, knobBackward, knobUnscreened, referenceLost}

// knobAt is the speed knob with its potentials and those of the drive's reference; ok is false unless both are there.
func (n *nets) knobAt(r *Result) (d *Device, low, wiper, high, supply, common, input int, ok bool) {
	d = r.Figures.Knob.device
	drive := n.circuit.Device(n.circuit.Drive.Tag)
	if d == nil || drive == nil {
		return nil, 0, 0, 0, 0, 0, 0, false
	}
	supply, common, input = -1, -1, -1
	supply = n.at(drive, r.screwNamed("reference supply"))
	for _, e := range drive.Elements {
		if e.Kind == Reference {
			input, common = n.at(drive, e.A), n.at(drive, e.B)
		}
	}
	for _, e := range d.Elements {
		if e.Kind == KnobElement {
			low, wiper, high = n.at(d, e.A), n.at(d, e.W), n.at(d, e.B)
		}
	}
	wired := n.wired(low) || n.wired(wiper) || n.wired(high)
	return d, low, wiper, high, supply, common, input, wired && supply >= 0 && common >= 0 && input >= 0
}

// knobOhms is the knob's track with its reason, as the figures have it.
func (r *Result) knobOhms() (ohms quantity.Resistance, about explain.Because, ok bool) {
	k := r.Figures.Knob
	if k.device == nil || !k.Current.OK() {
		return 0, nil, false
	}
	why := k.Current.Why()
	for _, i := range why.Inputs {
		if v, is := i.Value.(quantity.Resistance); is {
			return v, explain.Wrap[quantity.Resistance](i.Reason), true
		}
	}
	return 0, nil, false
}

var knobTooSmall = explain.Rule[Result]{
	Name: "knob-too-small", Title: "a knob of too little resistance for the drive's reference supply", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it pulls the reference down or burns it out, and full speed is never reached",
	Source: explain.Practice("drive booklets: 1 to 10 kohm"),
	Check: func(r Result, report *explain.Report) {
		ohms, about, ok := r.knobOhms()
		if !ok {
			return
		}
		switch s := r.Side; {
		case ohms < s.KnobLeast.Value:
			report.At(about, explain.Say("the knob has {}, and {} is the least that the drive allows", ohms, s.KnobLeast.Value), explain.Say("take one from {} to {}", s.KnobLeast.Value, s.KnobMost.Value))
		case r.Figures.Knob.Current.Value > s.ReferenceMost.Value:
			report.At(about, explain.Say("the knob takes {} and the reference supply gives {}", r.Figures.Knob.Current.Value, s.ReferenceMost.Value),
				explain.Say("take one of {} or more", quantity.Resistance(float64(s.Reference.Value)/float64(s.ReferenceMost.Value))))
		}
	},
}

var knobTooLarge = explain.Rule[Result]{
	Name: "knob-too-large", Title: "a knob of more resistance than the drive allows", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "its scale is crowded to one end, and the wiper's wire picks up every spark of the shop",
	Source: explain.Practice("drive booklets: 1 to 10 kohm"),
	Check: func(r Result, report *explain.Report) {
		if ohms, about, ok := r.knobOhms(); ok && ohms > r.Side.KnobMost.Value {
			report.At(about, explain.Say("the knob has {}, and {} is the most that the drive allows; its input alone then makes an error of {} of full scale", ohms, r.Side.KnobMost.Value, r.Figures.Knob.Loading.Value),
				explain.Say("take one from {} to {}", r.Side.KnobLeast.Value, r.Side.KnobMost.Value))
		}
	},
}

// knobBears is the heat that a small panel potentiometer bears with a margin. Source: common practice, rated 0.25 to 0.5 W.
const knobBears quantity.Power = 0.25

var knobHot = explain.Rule[Result]{
	Name: "knob-too-hot", Title: "more heat in the knob than a small one bears", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "its track burns at the low end, where the drive then sees a broken wire",
	Source: explain.Practice("small panel potentiometers: rated 0.25 to 0.5 W"),
	Check: func(r Result, report *explain.Report) {
		if _, about, ok := r.knobOhms(); ok && r.Figures.Knob.Power.OK() && r.Figures.Knob.Power.Value > knobBears {
			report.At(about, explain.Say("{} of heat in the knob; a small one bears {}", r.Figures.Knob.Power.Value, knobBears), explain.Say("take one of more resistance, or one rated for twice that heat"))
		}
	},
}

var knobShorts = explain.Rule[Result]{
	Name: "knob-shorts-its-supply", Title: "a knob that shorts the reference supply at one end of its travel", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "turned to that end the whole supply goes through a corner of the track: the track burns, or the drive's reference",
	Source: explain.Practice("supply and common on the ends, the input on the wiper"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		d, low, wiper, high, supply, common, _, ok := n.knobAt(&r)
		if !ok {
			return
		}
		if wiper == supply && (low == common || high == common) || wiper == common && (low == supply || high == supply) {
			report.At(d.Why, explain.Say("the reference supply stands between the wiper and an end of {}", called(d)), explain.Say("wire supply and common to the two ends and the drive's reference input to the wiper, the middle terminal of most"))
		}
	},
}

var knobEndMissing = explain.Rule[Result]{
	Name: "knob-end-not-wired", Title: "a terminal of the knob that doesn't reach the drive", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "without its common end the wiper gives full speed wherever the knob stands",
	Source: explain.Practice("three wires to a knob"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		d, low, wiper, high, supply, common, input, ok := n.knobAt(&r)
		if !ok || wiper == supply || wiper == common { // told by the rule above
			return
		}
		remedy := explain.Say("wire its low end to the reference common, its high end to the reference supply and the wiper to the reference input")
		switch {
		case low != common && high != common:
			report.At(d.Why, explain.Say("no end of {} stands on the drive's reference common: it gives full speed at any setting", called(d)), remedy)
		case low != supply && high != supply:
			report.At(d.Why, explain.Say("no end of {} stands on the drive's reference supply: it gives no speed at any setting", called(d)), remedy)
		case wiper != input:
			report.At(d.Why, explain.Say("the wiper of {} doesn't stand on the drive's reference input", called(d)), remedy)
		}
	},
}

var knobBackward = explain.Rule[Result]{
	Name: "knob-turns-the-wrong-way", Title: "the knob gives full speed at its low end", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "turned down before the start, as everybody does, it starts at full speed",
	Source: machineBooks("10.1", "10.1.1; IEC 61310-3"),
	Check: func(r Result, report *explain.Report) {
		d, low, _, high, supply, common, _, ok := r.nets().knobAt(&r)
		if ok && low == supply && high == common {
			report.At(d.Why, explain.Say("the low end of {} stands on the reference supply and the high end on the common", called(d)), explain.Say("swap the wires of its two ends"))
		}
	},
}

var knobUnscreened = explain.Rule[Result]{
	Name: "knob-cable-not-screened", Title: "the knob's wires lie in a cable without a screen", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "ten volts span the whole speed: what the motor cable couples in is heard as a hunting spindle",
	Source: explain.Practice("drive booklets: screened cable for the reference"),
	Check: func(r Result, report *explain.Report) {
		n := r.nets()
		d := r.Figures.Knob.device
		if d == nil {
			return
		}
		for _, t := range d.Terminals {
			for _, w := range n.wiresAt(d.Pin(t)) {
				if c := r.Circuit.Cable(w.Cable); c != nil && !c.Screen.Fitted {
					report.At(r.aboutScreen(c), explain.Say("cable {} carries the wires of {} and has no screen", text(c.Tag), called(d)), explain.Say("take a screened cable, its screen joined to ground at the drive's end only"))
					return
				}
			}
		}
	},
}

var referenceLost = explain.Rule[Result]{
	Name: "lost-reference-does-not-stop", Title: "with the knob's wire broken the drive holds its speed", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the knob no longer answers, at whatever speed it is",
	Source: explain.Practice("drive settings: action when the reference is lost"),
	Check: func(r Result, report *explain.Report) {
		l := r.Job.DriveSide.ReferenceLost
		remedy := explain.Say("set it to stop, or to its lowest speed")
		switch l.Value {
		case "holds the last speed":
			report.At(l, explain.Say("when the reference is lost the drive holds the last speed"), remedy)
		case "unknown":
			report.At(l, explain.Say("it isn't known what the drive does when the reference is lost"), remedy)
		}
	},
}
