package circuit

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Choices are what the controls must do, each as the job says it or as it was chosen by sense and marked as assumed.
type Choices struct {
	StartStop     explain.Known[quantity.Text]
	HeldBy        explain.Known[quantity.Text]
	StopContact   explain.Known[quantity.Text]
	EmergencyStop explain.Known[quantity.Text]
	Reset         explain.Known[quantity.Text]
	Guard         explain.Known[quantity.Text]
	FootBrake     explain.Known[quantity.Text]
	Jog           explain.Known[quantity.Text]
	Reverse       explain.Known[quantity.Text]
	Speed         explain.Known[quantity.Text]
	Steps         explain.Known[quantity.Count]      // not needed where the speed isn't set by steps
	Knob          explain.Known[quantity.Resistance] // not needed where there is no knob
	RunLamp       explain.Known[quantity.Text]
	PowerLamp     explain.Known[quantity.Text]
	LampPower     explain.Known[quantity.Power] // not needed without a lamp
	Readout       explain.Known[quantity.Text]
	ReadoutPower  explain.Known[quantity.Power] // not needed without one
	Supply        explain.Known[quantity.Text]
	Voltage       explain.Known[quantity.Voltage]
	SupplyCurrent explain.Known[quantity.Current] // not needed where the drive feeds the controls
	ZeroBonded    explain.Known[quantity.Text]    // not needed there either
	// Delay is how long the power stays on after an emergency stop that ramps first; not needed with another kind.
	Delay       explain.Known[quantity.Duration]
	Wire        explain.Known[quantity.Conductor]
	CableWire   explain.Known[quantity.Conductor]
	CableRating explain.Known[quantity.Voltage]
	Screen      explain.Known[quantity.Text]
	Spares      explain.Known[quantity.Count]
	SpareEnds   explain.Known[quantity.Text]
	MotorSwitch explain.Known[quantity.Text]
	DoorBonded  explain.Known[quantity.Text]
	PlateBonded explain.Known[quantity.Text]
	MotorBonded explain.Known[quantity.Text]
	FrameBonded explain.Known[quantity.Text]
	// InBox, ToDoor and Allowance are lengths of wire until the box is laid out: of a wire in the box, of one to its door, and
	// what a cable needs beyond its run to be cut and put in. Jumper is a wire from screw to screw at a station or on the door.
	InBox     explain.Known[quantity.Length]
	ToDoor    explain.Known[quantity.Length]
	Allowance explain.Known[quantity.Length]
	Jumper    explain.Known[quantity.Length]
}

var (
	usual     = explain.Practice("control circuits of machine tools")
	stopsOf   = explain.Source{Work: "NFPA 79 and IEC 60204-1", Place: "9.2 (start, stop and emergency stop functions)"}.Remembered()
	bondingOf = explain.Source{Work: "NFPA 79 and IEC 60204-1", Place: "8.2 (protective bonding)"}.Remembered()
)

// choose settles what the controls must do. side is the drive's control side, without its start logic, which hangs on what is
// chosen here and is settled with it.
func choose(r *Result) Choices {
	j, c := r.Job, &r.Job.Controls
	set := r.Brief.Set
	or := func(g job.Given[quantity.Text], v quantity.Text, why string) explain.Known[quantity.Text] {
		return job.Or(g, v, usual, explain.Say(why))
	}
	has := func(what string) bool { return stationsHave(j, what) }
	yes := func(g job.Given[quantity.Text], what, unless string) explain.Known[quantity.Text] {
		if has(what) {
			return or(g, "yes", "a station has it")
		}
		return or(g, "no", unless)
	}
	var p Choices
	p.StartStop = or(j.Machine.StartStop, "buttons at the drive terminals", "buttons that spring back: after a power cut somebody must press Start again")
	buttons := string(p.StartStop.Value) == "buttons at the drive terminals"
	row := screws(j, r.Side.channels())
	switch {
	case !buttons:
		p.HeldBy = or(c.HeldBy, "the drive", "nothing needs to be held: there are no buttons that spring back")
	case j.DriveSide.StartLogic.Value == "two-wire":
		p.HeldBy = or(c.HeldBy, "a relay", "the drive is set to two-wire starting, so a relay must remember the press of the button")
	case !screwDoes(row, string(StopCommand)):
		p.HeldBy = or(c.HeldBy, "a relay", "no terminal of the drive is a three-wire stop, so a relay must remember the press of the button")
	default:
		p.HeldBy = or(c.HeldBy, "the drive", "a drive set to three-wire starting remembers the press of the button itself")
	}
	logic, because := quantity.Text("three-wire"), "set it so: a start on a press, a stop when the stop contact opens"
	if !buttons || p.HeldBy.Value == "a relay" {
		logic, because = "two-wire", "set it so: it runs while its run contact is closed"
	}
	r.Side.StartLogic = driveText(j.DriveSide.StartLogic, logic, because)

	p.StopContact = or(c.StopContact, "normally closed", "a broken wire then stops the machine; with a normally open one nobody notices until Stop doesn't work")
	p.EmergencyStop = job.Or(c.EmergencyStop, "safe torque off", stopsOf, explain.Say("the drive has inputs that take the torque away without software"))
	switch {
	case j.Machine.HardStart.Value == "heavy wheel":
		p.EmergencyStop = job.Or(c.EmergencyStop, "ramp then cuts the power", stopsOf, explain.Say("a heavy wheel coasts for long once the power is cut: the drive brings it down first, then a delay relay cuts the power"))
	case r.Side.channels() == 0:
		p.EmergencyStop = job.Or(c.EmergencyStop, "cuts the power", stopsOf, explain.Say("the drive has no safe-torque-off input: a contactor ahead of it is left"))
	}
	p.Reset = yes(c.Reset, "reset", "letting the mushroom button out doesn't start anything: a start takes a press of Start")
	act := func(g job.Given[quantity.Text], what, otherwise string) explain.Known[quantity.Text] {
		if has(what) {
			return or(g, "stops the run", "a station has it")
		}
		return or(g, "none", otherwise)
	}
	p.Guard = act(c.Guard, "guard switch", "not asked for: look at the machine whether a cover lets fingers in")
	p.FootBrake = act(c.FootBrake, "foot brake", "not asked for")
	p.Jog = yes(c.Jog, "jog", "not asked for")
	p.Reverse = or(c.Reverse, "not at all", "the job doesn't ask for reverse")
	if has("reverse") || j.Machine.Reverse.Value == "yes" {
		p.Reverse = or(c.Reverse, "selector switch", "the job asks for reverse; the old lever can often be this switch")
	}
	p.Speed = or(c.Speed, "knob", "a potentiometer on the drive's reference terminals")
	p.Steps = explain.Needless[quantity.Count](c.Steps.Name, explain.Say("the speed isn't set by steps"))
	if p.Speed.Value == "steps" {
		p.Steps = job.Or(c.Steps, 4, usual, explain.Say("two inputs of the drive tell four speeds apart"))
	}
	p.Knob = explain.Needless[quantity.Resistance](c.Knob.Name, explain.Say("the speed isn't set by a knob"))
	if p.Speed.Value == "knob" {
		p.Knob = job.Or(c.Knob, knobWithin(r.Side), usual, explain.Say("a usual value that the drive's booklet allows"))
	}
	p.RunLamp = yes(c.RunLamp, "run lamp", "not asked for")
	p.PowerLamp = yes(c.PowerLamp, "power lamp", "not asked for")
	p.LampPower = explain.Needless[quantity.Power](c.LampPower.Name, explain.Say("there is no lamp"))
	if p.RunLamp.Value == "yes" || p.PowerLamp.Value == "yes" {
		p.LampPower = job.Or(c.LampPower, 0.5, usual, explain.Say("a typical lamp of light-emitting diodes"))
	}
	p.Readout = yes(c.Readout, "readout", "not asked for")
	p.ReadoutPower = explain.Needless[quantity.Power](c.ReadoutPower.Name, explain.Say("there is no readout"))
	if p.Readout.Value == "yes" {
		p.ReadoutPower = job.Or(c.ReadoutPower, 1.5, usual, explain.Say("a typical small display"))
	}
	chooseSupply(r, &p, row)
	p.Delay = explain.Needless[quantity.Duration]("delay before the power is cut", explain.Say("the emergency stop doesn't ramp first"))
	if p.EmergencyStop.Value == "ramp then cuts the power" {
		p.Delay = explain.Assume("delay before the power is cut", quantity.Duration(5), usual,
			explain.Say("a little longer than the drive's shortest ramp; change it on the delay relay among the devices once the ramp is known"))
	}
	chooseWire(r, &p)
	p.Spares = job.Or(c.Spares, 1, usual, explain.Say("one core breaks one day"))
	p.SpareEnds = or(c.SpareEnds, "grounded at the box", "a core that ends in the air picks up what runs beside it")
	p.Screen = or(c.Screen, "at the box", "a screen joined at one end carries no current of its own; the knob's small voltage comes through clean")
	p.MotorSwitch = or(c.MotorSwitch, "none", "nothing may open the leads between drive and motor")
	bonded := func(g job.Given[quantity.Text], why string) explain.Known[quantity.Text] {
		return job.Or(g, "yes", bondingOf, explain.Say(why))
	}
	p.DoorBonded = bonded(c.DoorBonded, "a hinge is no ground: the door gets a wire of its own")
	p.PlateBonded = bonded(c.PlateBonded, "the ground bar sits on bare metal")
	p.MotorBonded = bonded(c.MotorBonded, "the ground wire in the motor cable ends at the motor's frame")
	p.FrameBonded = bonded(c.FrameBonded, "a wire from the ground bar to bare metal of the casting")
	unlaid := explain.Practice("boxes of this kind; the layout of the box will give it")
	p.InBox, p.ToDoor, p.Allowance = inLengths(set, 24*quantity.Inch, 0.6, "length of a wire in the box", unlaid),
		inLengths(set, 48*quantity.Inch, 1.2, "length of a wire to the door", unlaid), inLengths(set, 24*quantity.Inch, 0.6, "allowance for both ends of a cable", usual)
	p.Jumper = inLengths(set, 6*quantity.Inch, 0.15, "length of a jumper at a station", usual)
	if c.Circuit.Value == "by hand only" {
		p.asWritten()
	}
	return p
}

// asWritten takes back what was chosen for a circuit that is written by hand only: its devices and wires say what it does. What its
// wires need where nothing is written stays.
func (p *Choices) asWritten() {
	for _, k := range []*explain.Known[quantity.Text]{&p.StartStop, &p.HeldBy, &p.StopContact, &p.EmergencyStop, &p.Reset, &p.Guard, &p.FootBrake, &p.Jog, &p.Reverse, &p.Speed,
		&p.RunLamp, &p.PowerLamp, &p.Readout, &p.Supply, &p.ZeroBonded, &p.Screen, &p.MotorSwitch, &p.DoorBonded, &p.PlateBonded, &p.MotorBonded, &p.FrameBonded} {
		unasked(k)
	}
	unasked(&p.Steps)
	unasked(&p.Knob)
	unasked(&p.LampPower)
	unasked(&p.ReadoutPower)
	unasked(&p.SupplyCurrent)
	unasked(&p.Delay)
	unasked(&p.Spares)
}

// unasked marks what was assumed as not needed. The value itself stays for what hangs on it: the usual start logic of the drive.
func unasked[V quantity.Value](k *explain.Known[V]) {
	if k.Why().Origin != explain.Assumed {
		return
	}
	v := k.Value
	*k = explain.Needless[V](k.Why().Name, explain.Say("the circuit is written by hand"))
	k.Value = v
}

// inLengths assumes a length in round figures of the rule set's own units.
func inLengths(set explain.RuleSet, inch, metric quantity.Length, name string, source explain.Source) explain.Known[quantity.Length] {
	if set == explain.IEC {
		inch = metric
	}
	return explain.Assume(name, inch, source, explain.Say("measure before you cut"))
}

// chooseSupply settles where the control circuit gets its power.
func chooseSupply(r *Result, p *Choices, row []Screw) {
	c := &r.Job.Controls
	kind := emergencyKind(r, p)
	contactor := kind == "cuts the power" || kind == "ramp then cuts the power"
	// What hangs on the drive's 24 V beside its inputs, in watts: relays, lamps, the readout.
	load := p.LampPower.Value*quantity.Power(lamps(p)) + p.ReadoutPower.Value
	if p.HeldBy.Value == "a relay" {
		load += relayPower
		if p.Reverse.Value == "buttons" {
			load += relayPower
		}
	}
	if p.StopContact.Value == "normally open" {
		load += relayPower
	}
	if p.Reset.Value == "yes" {
		load += 2 * relayPower
	}
	gives := quantity.Power(float64(r.Side.InputVoltage.Value) * float64(r.Side.SupplyCurrent.Value))
	supply, why := quantity.Text("the drive's 24 V"), "the drive's own supply has enough for what hangs on it"
	switch {
	case contactor:
		supply, why = "a power supply", "the contactor ahead of the drive must pull in before the drive has power"
	case following(r.Job) > 0:
		supply, why = "a power supply", "a contactor's coil takes more than the drive's own 24 V gives"
	case !screwDoes(row, "24 V"):
		supply, why = "a power supply", "the drive has no terminal that gives 24 V"
	case load > gives*7/10:
		supply, why = "a power supply", "relays, lamps and readout take more than is wise to ask of the drive's own 24 V"
	}
	p.Supply = job.Or(c.Supply, supply, usual, explain.Say(why))
	switch p.Supply.Value {
	case "a transformer":
		volts := quantity.Voltage(120)
		if r.Brief.Set == explain.IEC {
			volts = 24
		}
		p.Voltage = job.Or(c.Voltage, volts, usual, explain.Say("the usual secondary of a control transformer"))
	case "a power supply":
		p.Voltage = job.Or(c.Voltage, 24, usual, explain.Say("the usual control voltage"))
	default:
		p.Voltage = explain.Renamed(c.Voltage.Name, r.Side.InputVoltage)
		if c.Voltage.Set {
			p.Voltage = job.Known(c.Voltage)
		}
	}
	p.SupplyCurrent = explain.Needless[quantity.Current](c.SupplyCurrent.Name, explain.Say("the drive feeds the controls"))
	p.ZeroBonded = explain.Needless[quantity.Text](c.ZeroBonded.Name, explain.Say("the control circuit has no supply of its own"))
	if p.Supply.Value != "the drive's 24 V" {
		// Everything that may be in at once, with half as much to spare.
		load += contactorPower*quantity.Power(1+following(r.Job)) + 3*relayPower
		needs := quantity.Current(1.5 * float64(load) / float64(p.Voltage.Value))
		current := quantity.Current(10)
		for _, i := range []quantity.Current{1, 2.5, 5} {
			if i >= needs {
				current = i
				break
			}
		}
		p.SupplyCurrent = job.Or(c.SupplyCurrent, current, usual, explain.Say("the smallest usual one for what hangs on it"))
		p.ZeroBonded = job.Or(c.ZeroBonded, "yes", bondingOf.At("9.4.3 (ground faults in control circuits)"), explain.Say("a ground fault on the switched side then blows the fuse and starts nothing"))
	}
}

// relayPower is what the coil of a small relay takes; contactorPower that of a small contactor.
const (
	relayPower     quantity.Power = 0.7
	contactorPower quantity.Power = 3
)

// following counts the loads that run with the motor.
func following(j *job.Job) int {
	n := 0
	for _, l := range j.Loads {
		if l.Runs.Value == "with the motor" {
			n++
		}
	}
	return n
}

// lamps counts the kinds of lamp that are asked for.
func lamps(p *Choices) int {
	n := 0
	for _, l := range []explain.Known[quantity.Text]{p.RunLamp, p.PowerLamp} {
		if l.Value == "yes" {
			n++
		}
	}
	return n
}

// knobWithin returns a usual resistance of a knob that lies within what the drive allows.
func knobWithin(s DriveSide) quantity.Resistance {
	for _, r := range []quantity.Resistance{5000, 10000, 2000, 1000, 4700, 2500, 20000, 50000} {
		if r >= s.KnobLeast.Value && r <= s.KnobMost.Value {
			return r
		}
	}
	return max(s.KnobLeast.Value, 5000)
}

// stationsHave reports whether some station has the control.
func stationsHave(j *job.Job, what string) bool {
	return slices.ContainsFunc(j.Stations, func(s job.Station) bool { return slices.Contains(s.Has.Value, what) })
}

// screwDoes reports whether one of the drive's terminals has the duty.
func screwDoes(row []Screw, does string) bool {
	return slices.ContainsFunc(row, func(s Screw) bool { return s.Does == does })
}
