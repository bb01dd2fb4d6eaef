package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

var stepUpTransformer = &explain.Formula{
	Name: "step-up-transformer", Title: "transformer that feeds a derated drive of a higher voltage class from a single-phase supply",
	Words: "{drive input current} × {secondary voltage}, next usual size",
	Inputs: []explain.Parameter{
		{Name: "drive input current", Kind: quantity.KindCurrent, Help: "of the 480 V drive, on one phase", Example: "11.4 A"},
		{Name: "secondary voltage", Kind: quantity.KindVoltage, Help: "that the drive is fed with", Example: "480 V", Default: "480 V"},
	},
	Result: quantity.KindApparentPower, Source: explain.Practice("a transformer is sized by the drive's input current, harmonics and all"),
	Compute: explain.Of2(func(i quantity.Current, v quantity.Voltage) (explain.Answer, error) {
		need := quantity.Apparent(v, i)
		for _, t := range catalogue.StepUpTransformers() {
			if t.Rating >= need {
				return explain.Answer{Value: t.Rating, Note: explain.Say("{} are drawn", need)}, nil
			}
		}
		return explain.Answer{}, fmt.Errorf("%s would be drawn, more than any typical transformer gives", need.Show(quantity.InchUnits))
	}),
}

var transformerPrimaryDevice = &explain.Formula{
	Name: "transformer-primary-device", Title: "largest overcurrent device of a transformer that is protected on its primary side alone",
	Words: "125 % of the rated primary current, {transformer} ÷ {primary voltage}, next standard rating up; 167 %, none up, below 9 A",
	Inputs: []explain.Parameter{
		{Name: "transformer", Kind: quantity.KindApparentPower, Help: "its rating", Example: "7.5 kVA"},
		{Name: "primary voltage", Kind: quantity.KindVoltage, Help: "that it is fed with", Example: "240 V"},
	},
	Result: quantity.KindCurrent, Source: explain.NEC("Table 450.3(B)").Remembered(),
	Compute: explain.Of2(func(s quantity.ApparentPower, v quantity.Voltage) (explain.Answer, error) {
		rated, err := ratedCurrent(s, v, 1)
		if err != nil {
			return explain.Answer{}, err
		}
		words := "{transformer} ÷ {primary voltage} × 125 %, next standard rating up"
		rating, ok := catalogue.USRatings().AtLeast(quantity.Scale(rated, 125*quantity.Percent), false)
		if rated < 9 {
			words = "{transformer} ÷ {primary voltage} × 167 %, next standard rating down"
			rating, ok = catalogue.USRatings().AtMost(quantity.Scale(rated, 167*quantity.Percent), false)
		}
		if !ok {
			return explain.Answer{}, fmt.Errorf("no standard rating goes with %s", shown(rated))
		}
		return explain.Answer{Value: rating, Words: words, Note: explain.Say("its rated primary current is {}", rated)}, nil
	}),
}

// waysOut fills r.Voltage.WaysOut, least intrusive first, where the drive can't make the motor's volts, or only nearly.
// leadSide and driveRating have run.
func waysOut(r *Result) {
	v := &r.Voltage
	v.StepUp = explain.Absent[quantity.ApparentPower]("step-up transformer", explain.Say("none is asked for"))
	if v.Enough || !v.Available.OK() || !v.Wanted.OK() {
		return
	}
	j := r.Job
	add := func(p explain.Phrase) { v.WaysOut = append(v.WaysOut, p) }
	if p, ok := reconnection(r); ok {
		add(p)
	}
	if s := j.Supply.Voltage; s.Set && s.Value <= 132 && supplyPhases(j).Value == 1 {
		if wantsDoubler(j) { // then the drive written down isn't one
			add(explain.Say("a voltage-doubling drive: fed with {} it puts {} on the motor", s.Value, 2*s.Value))
		}
		add(explain.Say("bring a 240 V circuit to the machine: on {} only small voltage-doubling drives exist, up to about 1-1/2 hp", s.Value))
	}
	enoughForWork := v.FullPower.Value >= demandsOf(j).load.Value
	if enoughForWork {
		add(explain.Say("live with it: full torque up to {}, above that the power stays at {} of the plate's, which this work doesn't exceed", v.BaseFrequency.Value, v.FullPower.Value))
	}
	if v.Wanted.Value > 300 && v.Available.Value < 300 && steppedUp() >= v.Wanted.Value*(1-motorTolerance) {
		add(stepUp(r))
	}
	if starPointHidden(r) {
		inside := v.Wanted.Value / quantity.Voltage(math.Sqrt(3))
		p := explain.Say("have a motor shop open the star point and bring six leads out: in delta the motor then takes {}", inside)
		switch j.Motor.StarPoint.Value {
		case "yes":
			p = explain.Say("the star point can be opened: bring six leads out, and in delta the motor takes {}", inside)
		case "":
			p = explain.Say("ask a motor shop whether it is star inside and the star point can be opened: in delta the motor would then take {}", inside)
		}
		if v.Available.Value >= inside*(1-motorTolerance) {
			add(withConsequences(r, p, inside))
		}
	}
	rewind := explain.Say("have it rewound for {}: right for an odd frame or a motor that is part of the machine", v.Available.Value)
	if c := j.Costs.Rewind; c.Set {
		rewind = explain.Say("have it rewound for {}, quoted at {}: right for an odd frame or a motor that is part of the machine", v.Available.Value, c.Value)
	}
	add(rewind)
	if j.Motor.Power.Set {
		add(explain.Say("fit another motor of {} for 230 V, three-phase, of the same frame: often the cheapest way with a common frame", j.Motor.Power.Value))
	}
	add(explain.Say("a rotary converter with a step-up transformer behind it: full power at one speed, and it serves every motor on the machine"))
	if !enoughForWork {
		add(explain.Say("or lighter work: full torque up to {}, above that the power stays at {} of the plate's", v.BaseFrequency.Value, v.FullPower.Value))
	}
}

// reconnection returns the way out that costs nothing but links: leads that are there and allow a lower voltage.
func reconnection(r *Result) (explain.Phrase, bool) {
	v, m := r.Voltage, &r.Job.Motor
	low, _ := plateVoltages(m)
	if low.OK() { // the plate's lower voltage is the wanted one already
		return explain.Phrase{}, false
	}
	w, _, _ := identify(m)
	leads := 0
	if m.Leads.Set {
		leads = int(m.Leads.Value)
	}
	switch {
	case w == &nineStar || w == &nineDelta || leads == 9:
		if half := v.Wanted.Value / 2; v.Available.Value >= half*(1-motorTolerance) {
			return withConsequences(r, explain.Say("nine leads come out, so the coils can almost surely go in parallel for {}: check the groups and the motor's diagram, then write both voltages into the job", half), half), true
		}
	case w == &six || leads == 6:
		if delta := v.Wanted.Value / quantity.Voltage(math.Sqrt(3)); v.Available.Value >= delta*(1-motorTolerance) {
			return withConsequences(r, explain.Say("six leads come out: if {} is its star voltage, delta takes {}; check the sign on the plate, then write both voltages into the job", v.Wanted.Value, delta), delta), true
		}
	case w == &twelve || leads == 12:
		if half := v.Wanted.Value / 2; v.Available.Value >= half*(1-motorTolerance) {
			return withConsequences(r, explain.Say("twelve leads come out: with the coils in parallel it takes {} in the same star or delta; check the motor's diagram, then write both voltages into the job", half), half), true
		}
	}
	return explain.Phrase{}, false
}

// starPointHidden reports whether the motor may be star inside with its star point not brought out.
func starPointHidden(r *Result) bool {
	m := &r.Job.Motor
	return m.StarPoint.Value != "no" && (!m.Leads.Set || m.Leads.Value == 3)
}

// steppedUp is what a 480 V class drive behind a step-up transformer puts on the motor from one phase.
func steppedUp() quantity.Voltage { return quantity.Scale(secondaryVoltage.Value, deratedGain().Value) }

// withConsequences adds to a way out what follows when the motor's coils are joined for a lower voltage: it takes more
// amperes, and has what the drive's volts leave it.
func withConsequences(r *Result, way explain.Phrase, volts quantity.Voltage) explain.Phrase {
	v, current := r.Voltage, r.Motor.AtService
	f := plateFrequency(r.Job)
	if !current.OK() || !f.OK() {
		return way
	}
	amperes := current.Value * quantity.Current(v.Wanted.Value/volts)
	left := min(quantity.Part(v.Available.Value, volts), 1)
	way.Format += "; it then draws {}"
	way.Values = append(way.Values, amperes)
	if left < 1 {
		way.Format += ", with full torque up to {} and {} of the power"
		way.Values = append(way.Values, quantity.Scale(f.Value, left), left)
	}
	list, kept := candidates(r.Job)
	for n := range list {
		if quantity.Scale(quantity.Scale(list[n].Output, kept.Value), deratings(r.Job).factor()) >= amperes {
			way.Format += ", so a drive of {} output"
			way.Values = append(way.Values, list[n].Output)
			break
		}
	}
	return way
}

// stepUpDrive returns the smallest typical drive of the 480 V class that feeds the motor from one phase, and the current that
// it draws from the transformer; nil where there is none.
func stepUpDrive(r *Result) (*catalogue.Drive, explain.Known[quantity.Current]) {
	needed := r.Drive.Needed
	list := catalogue.HighVoltageDrives()
	for n := range list {
		d := &list[n]
		if needed.OK() && quantity.Scale(quantity.Scale(d.Output, halfKept.Value), deratings(r.Job).factor()) >= needed.Value {
			rated := explain.Part("rated three-phase input current, 480 V drive", d.Input, d.Name)
			return d, explain.Derive[quantity.Current](deratedInput, "input current of the 480 V drive", rated, halfKept)
		}
	}
	return nil, explain.Absent[quantity.Current]("input current of the 480 V drive", explain.Say("no typical drive of the 480 V class is large enough"))
}

// stepUp returns the way out by a transformer ahead of a drive of the 480 V class. The transformer is a supply of its own, with
// its own protection and its own grounding.
func stepUp(r *Result) explain.Phrase {
	if supplyPhases(r.Job).Value == 3 {
		way := explain.Say("a three-phase step-up transformer to 480 V, grounded and protected as a supply of its own, and a 480 V class drive")
		if needed := r.Drive.Needed; needed.OK() {
			way = explain.Phrase{Format: way.Format + " of {} output or more", Values: []quantity.Value{needed.Value}}
		}
		return way
	}
	drive, input := stepUpDrive(r)
	size := explain.Derive[quantity.ApparentPower](stepUpTransformer, "step-up transformer", input, secondaryVoltage)
	r.Voltage.StepUp = size
	if !size.OK() || drive == nil {
		return explain.Say("a step-up transformer and a 480 V class drive at half its output")
	}
	way := explain.Say("a step-up transformer of {} to 480 V, and a 480 V class three-phase-input drive of {} marked output, run at half of it; "+
		"the secondary is a supply of its own: ground it at the transformer, at its centre tap if it has one, as the drive's booklet allows", size.Value, drive.Output)
	primary := explain.Derive[quantity.Current](transformerPrimaryDevice, "largest device of the step-up transformer", size, r.Job.Supply.Voltage)
	if r.Code.hasTables() && primary.OK() {
		way.Format += "; protect its primary by {} at most"
		way.Values = append(way.Values, primary.Value)
	} else {
		way.Format += "; protect its primary as its maker says"
	}
	way.Format += ", by a kind that bears the inrush of 8 to 12 times its rated current when it is switched on"
	return way
}

// wrongAnswers fills r.Wrong: why a drive is the wrong answer here, gravest first.
func wrongAnswers(r *Result) {
	j := r.Job
	m := &j.Motor
	add := func(p explain.Phrase) { r.Wrong = append(r.Wrong, p) }
	if maybeSinglePhase(r) {
		add(explain.Say("the motor looks like a single-phase one, which can't run on a three-phase drive: read its plate and write motor: phases first"))
	}
	if isSinglePhaseMotor(m) {
		add(explain.Say("the motor is single-phase: it can't run on a three-phase drive, whose output burns its start winding; use it on the supply as it is, or fit a three-phase motor"))
	}
	if m.Brake.Value == "at the motor terminals" {
		add(explain.Say("the brake's coil hangs on the motor's terminals, so it won't release at low volts: give it its own supply first, commanded by a relay of the drive"))
	}
	if severalSpeeds(m) && m.SpeedPlan.Value == "still switched" {
		add(explain.Say("the speed switch would open motor leads under the drive: fix the motor on one winding first and let the drive do the speeds"))
	}
	if n := motorsOnMachine(j); n > 1 {
		add(explain.Say("the machine has {} three-phase motors and a drive serves one: a rotary converter serves them all at plate speed, or each gets its own drive", n))
	}
	v := r.Voltage
	if load := demandsOf(j).load; outOfReach(r) {
		add(explain.Say("a drive on this supply makes {} of the motor's {}: {} of the power would be left and {} is asked; read the ways out first",
			v.Available.Value, v.Wanted.Value, v.FullPower.Value, load.Value))
	}
}

// severalSpeeds reports whether the motor has more than one speed by its own windings.
func severalSpeeds(m *job.Motor) bool { return m.Speeds.Set && m.Speeds.Value > 1 }

// motorsOnMachine returns how many three-phase motors the drive would have to serve: those of the machine that don't have
// another source written under loads. A small one beside the main motor doesn't count: it decides nothing about the machine's
// drive, and a rule says what it needs.
func motorsOnMachine(j *job.Job) quantity.Count {
	n := quantity.Count(1)
	if j.Machine.Motors.Set {
		n = j.Machine.Motors.Value
	}
	onDrive := quantity.Count(1)
	for k := range j.Loads {
		l := &j.Loads[k]
		switch {
		case l.Sort.Value != "three-phase motor":
		case smallBeside(l, j), l.Fed.Set && l.Fed.Value != "drive output":
			n-- // it has found another way, or easily will
		default:
			onDrive++
		}
	}
	return max(n, onDrive)
}

// smallMotor is the power up to which a second motor counts as an auxiliary: coolant and oil pumps, power feeds.
const smallMotor = quantity.ShaftPower(0.5) * quantity.Horsepower

// smallBeside reports whether the load is a small three-phase motor beside a much larger main one, for which nobody has found
// another source yet.
func smallBeside(l *job.Load, j *job.Job) bool {
	return l.Sort.Value == "three-phase motor" && (!l.Fed.Set || l.Fed.Value == "drive output") && l.Power.Set &&
		l.Power.Value <= smallMotor*1.015 && (!j.Motor.Power.Set || l.Power.Value <= j.Motor.Power.Value/2)
}
