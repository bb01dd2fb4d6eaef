package power

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var groundFaultTrip = explain.Rule[Result]{
	Name:     "ground-fault-trip-likely",
	Title:    "the drive's standing leakage will trip the ground-fault device",
	Why:      "the commonest complaint there is; and whoever takes the protection away to be rid of it can die of the next fault",
	Severity: explain.Check, Sets: explain.Everywhere,
	Source: explain.Source{Work: "IEC 60364-5-53", Edition: "2019", Place: "531.3.2; drive makers say 30 to 40 %", Trust: explain.FromMemory},
	Check: func(r Result, report *explain.Report) {
		l := r.Leakage
		if !l.Share.OK() || l.Share.Value <= l.Most.Value {
			return
		}
		how := quantity.Text("it may trip now and then")
		if l.Share.Value >= 0.8 {
			how = "it will trip"
		}
		report.At(r.Job.Supply.GroundFault, explain.Say("{} of standing leakage is {} of the device's {}: {}; {} is a share that holds",
			l.Total.Value, l.Share.Value, l.Trip.Value, how, l.Most.Value), inOrder(l.WaysOut))
	},
}

// inOrder joins the ways out into one phrase, keeping their quantities for late printing.
func inOrder(ways []explain.Phrase) explain.Phrase {
	joined := explain.Phrase{Format: "in this order"}
	for n, w := range ways {
		separator := "; "
		if n == 0 {
			separator = ": "
		}
		joined.Format += separator + w.Format
		joined.Values = append(joined.Values, w.Values...)
	}
	joined.Format += ". Do not take the protection away"
	return joined
}

func phasesInWords(n quantity.Count) quantity.Text {
	if n == 3 {
		return "three phases"
	}
	return "one phase"
}

// typeRank orders the letters of residual-current devices by what they see: each sees all that those before it do.
func typeRank(letter quantity.Text) int {
	return slices.Index([]quantity.Text{"AC", "A", "F", "B"}, letter)
}

var groundFaultBlind = explain.Rule[Result]{
	Name:     "ground-fault-type-blind",
	Title:    "the residual-current device can't see a drive's fault current",
	Why:      "direct current saturates its core: it stays in while the casting is live, for this machine and everything else behind it",
	Severity: explain.Danger, Sets: explain.Everywhere,
	Source: explain.Source{Work: "IEC 60755 and IEC 62423", Place: "types AC, A, F and B", Trust: explain.FromMemory},
	Check: func(r Result, report *explain.Report) {
		t, wanted := r.Job.Supply.GroundFaultTyp, r.Leakage.Type
		if !t.Set || t.Value == "unknown" || !wanted.OK() {
			return
		}
		asked := r.Job.Drive.GroundFault
		if asked.Set && typeRank(t.Value) < typeRank(asked.Value) {
			report.At(t, explain.Say("the device is type {}, and the drive's maker asks for type {}", t.Value, asked.Value),
				explain.Say("change it for type {} of the same rating before the drive is connected", asked.Value), seeAlso(asked, "the maker's {} stands here")...)
			return
		}
		if asked.Set {
			return
		}
		if t.Value == "AC" || wanted.Value == "B" && t.Value != "B" {
			report.At(t, explain.Say("the device is type {}; this drive takes {} and asks for type {}", t.Value, phasesInWords(driveInputPhases(&r).Value), wanted.Value),
				explain.Say("put one of type {} and the same rating in its place before the drive is connected", wanted.Value))
		}
	},
}

var groundFaultTypeNotKnown = explain.Rule[Result]{
	Name:     "ground-fault-type-not-known",
	Title:    "which letter the residual-current device bears isn't known",
	Why:      "one of the wrong type is blinded by a drive's fault current: it stays in while the casting is live",
	Severity: explain.Check, Sets: explain.Everywhere,
	Source: explain.Source{Work: "IEC 60755 and IEC 62423", Place: "types AC, A, F and B", Trust: explain.FromMemory},
	Check: func(r Result, report *explain.Report) {
		g, letter, asked := r.Job.Supply.GroundFault, r.Job.Supply.GroundFaultTyp, r.Job.Drive.GroundFault
		if !g.Set || g.Value == "none" || g.Value == "unknown" || letter.Wrong || letter.Set && letter.Value != "unknown" || !r.Leakage.Type.OK() {
			return
		}
		switch {
		case g.Value == "class A 5 mA":
			if asked.Set {
				report.At(asked, explain.Say("the drive's maker asks for type {}, and the device ahead is a class A interrupter, which bears no type", asked.Value),
					explain.Say("ask the maker whether the drive may stand behind such an interrupter; class A isn't type A"))
			}
		case r.Code.TypeLetters || asked.Set:
			report.At(g, explain.Say("the letter on the {} device isn't written, and this drive asks for type {}", g.Value, r.Leakage.Type.Value),
				explain.Say("read the letter or the wave sign printed on it and write ground-fault type; type AC has to go"))
		}
	},
}

var receptacleWithoutGroundFault = explain.Rule[Result]{
	Name:     "receptacle-without-ground-fault",
	Title:    "a receptacle in such a place may have to have ground-fault protection",
	Why:      "bare concrete and damp make a shock deadly; codes since 2020 ask for it on 240 V receptacles too",
	Severity: explain.Check, Sets: onlyUS, Source: explain.NEC("210.8(A), from the 2020 edition on").Remembered(),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Supply
		switch r.Job.Shop.Place.Value {
		case "garage", "basement", "outbuilding", "outdoors":
		default:
			return
		}
		c, ok := catalogue.ReceptacleOf(string(s.Receptacle.Value))
		if ok && onCord(&r) && s.GroundFault.Value == "none" && c.Rating <= 50 {
			report.At(s.GroundFault, explain.Say("the {} receptacle of {} in the {} has no ground-fault protection", s.Receptacle.Value, c.Rating, r.Job.Shop.Place.Value),
				explain.Say("ask the inspector which edition rules: if it asks for 5 mA class A, this drive's leakage, {}, must come down first, or the machine be hard-wired where the code allows", orElse(knownLeakage(r), "which its booklet gives")))
		}
	},
}

// knownLeakage is the machine's leakage, the drive's alone where the motor cable's length isn't known.
func knownLeakage(r Result) explain.Known[quantity.Current] {
	if r.Leakage.Machine.OK() {
		return r.Leakage.Machine
	}
	return r.Leakage.Drive
}

var groundFaultUnknown = explain.Rule[Result]{
	Name:     "ground-fault-protection-unknown",
	Title:    "nobody has looked for a ground-fault device ahead of the machine",
	Why:      "the trip comes with the first start, when money and work are already spent",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("the commonest complaint of all is the ground-fault trip"),
	Check: func(r Result, report *explain.Report) {
		if g := r.Job.Supply.GroundFault; g.Value == "unknown" || open(g) {
			report.At(g, explain.Say("it isn't known what would trip on leakage; this machine will leak {}", orElse(knownLeakage(r), "some milliamperes")),
				explain.Say("look for a test button on the breaker and the receptacle, and write what is printed beside it: 5 mA class A won't hold above {}",
					quantity.Scale(5*quantity.Milliampere, r.Leakage.Most.Value)))
		}
	},
}
