package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

var cordTooSmall = explain.Rule[Result]{
	Name:     "cord-too-small",
	Title:    "the flexible cord carries less than the drive asks for",
	Why:      "a warm cord under sawdust or a mat is how shops burn down",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("Table 400.5(A)(1) and 430.122(A)"),
	Check: func(r Result, report *explain.Report) {
		c := r.Cord
		if r.Job.Supply.Cord.Set && c.Ampacity.OK() && r.Branch.Least.OK() && !covers(c.Ampacity.Value, r.Branch.Least.Value) {
			report.At(r.Job.Supply.Cord, explain.Say("a cord of {} carries {}, but {} are asked for", c.Conductor.Value, c.Ampacity.Value, r.Branch.Least.Value), sayCord(c),
				seeAlso(r.Drive.Input, "the drive's input is {} here")...)
		}
	},
}

// sayCord says which cord would pass. Where no receptacle carries the circuit a thicker cord would only lead into the wall.
func sayCord(c Cord) explain.Phrase {
	if c.Asked.OK() && !c.Receptacle.OK() {
		return explain.Say("drop the cord and hard-wire the machine: no receptacle of the table reaches {}", c.Asked.Value)
	}
	if c.Smallest.OK() {
		return explain.Say("use a cord of {} or thicker", c.Smallest.Value)
	}
	return explain.Say("no cord of the table passes: hard-wire the machine")
}

var cordNotProtected = explain.Rule[Result]{
	Name:     "cord-not-protected",
	Title:    "the breaker ahead of the receptacle is larger than the cord bears",
	Why:      "the plug fits, by an adapter or a large receptacle, but the cord is now the fuse: a shop of old welder outlets is full of it",
	Severity: explain.Danger, Sets: onlyUS, Source: explain.NEC("240.5(A)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		c, breaker := r.Cord, r.Job.Supply.Breaker
		if onCord(&r) && r.Job.Supply.Cord.Set && c.Ampacity.OK() && breaker.Set && !cordSuits(c.Ampacity.Value, breaker.Value) {
			next, _ := catalogue.USRatings().AtLeast(c.Ampacity.Value, false)
			report.At(breaker, explain.Say("{} ahead of a cord of {}, which carries {} and may have {} at most", breaker.Value, c.Conductor.Value, c.Ampacity.Value, next),
				smallerDeviceOr(r, next, sayCord(c)), seeAlso(r.Job.Supply.Cord, "the cord is {} here")...)
		}
	},
}

var receptacleNoGround = explain.Rule[Result]{
	Name:     "receptacle-without-ground",
	Title:    "the receptacle has no ground contact",
	Why:      "10-30 and 10-50 bring two live wires and a neutral; a neutral taken for the ground puts the supply's current on the casting when it opens",
	Severity: explain.Danger, Sets: onlyUS, Source: explain.NEC("250.114 and 250.142").Remembered(),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Supply.Receptacle
		if c, ok := catalogue.ReceptacleOf(string(s.Value)); ok && !c.Ground {
			report.At(s, explain.Say("the {} receptacle has no ground contact, and its third contact is a neutral", s.Value),
				explain.Say("run a circuit with a grounding conductor of {} and fit {}; never join the casting to the neutral", orWord(r.Grounding.Least), sayReceptacle(r)))
		}
	},
}

// sayReceptacle is the receptacle that would pass, in words.
func sayReceptacle(r Result) quantity.Text {
	if r.Cord.Receptacle.OK() {
		return quantity.Text("the configuration " + string(r.Cord.Receptacle.Value) + " or its locking kind")
	}
	return "a pin-and-sleeve connector rated for it, or hard-wire the machine"
}

var receptacleWrongVoltage = explain.Rule[Result]{
	Name:     "receptacle-wrong-voltage",
	Title:    "the receptacle isn't made for the supply's voltage",
	Why:      "the next tool that fits it gets the wrong volts",
	Severity: explain.Must, Sets: onlyUS, Source: explain.Source{Work: "NEMA WD 6", Place: "configurations", Trust: explain.FromMemory},
	Check: func(r Result, report *explain.Report) {
		s, v := r.Job.Supply.Receptacle, r.Job.Supply.Voltage
		c, ok := catalogue.ReceptacleOf(string(s.Value))
		if ok && v.Set && !fitsVoltage(c, v.Value) {
			report.At(s, explain.Say("{} is a configuration for {}, the supply is {}", s.Value, c.Volts, v.Value),
				explain.Say("fit {} for {}", sayReceptacle(r), v.Value))
		}
	},
}

var receptacleTooSmall = explain.Rule[Result]{
	Name:     "receptacle-too-small",
	Title:    "the receptacle is smaller than the drive asks for",
	Why:      "its contacts and the plug's run hot, lose their spring and burn; and a larger breaker behind it only hides that",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("210.21(B)(1) and 430.122(A)"),
	Check: func(r Result, report *explain.Report) {
		c := r.Cord
		if !c.Rating.OK() || !c.Asked.OK() || c.Rating.Value >= c.Asked.Value {
			return
		}
		remedy := explain.Say("fit {} of {} or more, on a circuit of {} with {} or thicker", sayReceptacle(r), c.Asked.Value, c.Asked.Value, orWord(r.Branch.Smallest))
		if !c.Receptacle.OK() {
			remedy = explain.Say("no receptacle of the table reaches {}: hard-wire the machine on a circuit of {} with {} or thicker, or fit a pin-and-sleeve connector of {} or more",
				c.Asked.Value, c.Asked.Value, orWord(r.Branch.Smallest), c.Asked.Value)
		}
		report.At(r.Job.Supply.Receptacle, explain.Say("the {} receptacle is good for {}; the drive's input of {} asks for {} and a circuit of {}",
			r.Job.Supply.Receptacle.Value, c.Rating.Value, r.Branch.Current.Value, r.Branch.Least.Value, c.Asked.Value), remedy,
			seeAlso(r.Drive.Input, "the drive's input is {} here")...)
	},
}

var receptacleTooLarge = explain.Rule[Result]{
	Name:     "receptacle-larger-than-circuit",
	Title:    "the receptacle promises more than the breaker behind it gives",
	Why:      "the next one plugs in a welder, the breaker trips, and a larger one is fitted on the thin wire",
	Severity: explain.Check, Sets: onlyUS, Source: explain.NEC("Table 210.21(B)(3)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		s, breaker := r.Job.Supply.Receptacle, r.Job.Supply.Breaker
		c, ok := catalogue.ReceptacleOf(string(s.Value))
		// A 50 A receptacle may stand on a 40 A circuit, since there is none of 40 A; a 20 A one on 15 A may not.
		if !ok || !c.Ground || !breaker.Set || c.Rating <= breaker.Value || c.Rating == 50 && breaker.Value >= 40 {
			return
		}
		report.At(s, explain.Say("the {} receptacle of {} stands on a circuit of {}", s.Value, c.Rating, breaker.Value),
			explain.Say("fit a receptacle of {}, or a breaker of {} if the wire is thick enough for it", breaker.Value, c.Rating))
	},
}

// longCord is the length from which a machine's cord is a wiring method in disguise.
const longCord = 25 * quantity.Foot

var cordVeryLong = explain.Rule[Result]{
	Name:     "cord-very-long",
	Title:    "the cord is so long that it does the work of fixed wiring",
	Why:      "it is run over, tripped on and buried in chips; and every foot of it takes voltage",
	Severity: explain.Check, Sets: explain.Everywhere, Source: explain.Practice("machine cords of 6 to 15 ft; NFPA 70 400.12 forbids cord in place of fixed wiring"),
	Check: func(r Result, report *explain.Report) {
		if l := r.Job.Supply.CordLength; l.Set && onCord(&r) && l.Value > longCord {
			report.At(l, explain.Say("{} of cord; {} is long for a machine", l.Value, quantity.Length(longCord)),
				explain.Say("bring a receptacle near, by fixed wiring of {}, and shorten the cord", orWord(r.Branch.Smallest)))
		}
	},
}
