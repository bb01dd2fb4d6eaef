package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

var inputEstimate = &explain.Formula{
	Name: "drive-input-current-estimate", Title: "input current of a drive on a single-phase supply, where no data sheet says",
	Words: "{motor current} × {amperes in per ampere out} × {volts out per volt in}, which counts as 1 where it is less",
	Inputs: []explain.Parameter{
		outputCurrentParameter,
		amperesInParameter,
		{Name: "volts out per volt in", Kind: quantity.KindFactor, Help: "1; 2 for a voltage doubler", Example: "1", Default: "1"},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("data sheets of single-phase-input drives").Remembered(),
	Compute: explain.Of3(func(i quantity.Current, factor, gain quantity.Factor) (explain.Answer, error) {
		if gain <= 1 { // fewer volts out don't make for fewer amperes in
			return explain.Answer{Value: quantity.Scale(i, factor), Words: "{motor current} × {amperes in per ampere out}, with {volts out per volt in} volt out per volt in"}, nil
		}
		return explain.Is(quantity.Scale(quantity.Scale(i, factor), gain))
	}),
}

var inputLeast = &explain.Formula{
	Name: "drive-input-current-least", Title: "least supply current that could feed the motor: equal apparent power, no distortion",
	Words: "√3 × {motor current} × {motor voltage} ÷ {supply voltage} on one phase; without √3 on three ({supply phases})",
	Inputs: []explain.Parameter{
		outputCurrentParameter,
		motorVoltageParameter,
		supplyVoltageParameter,
		{Name: "supply phases", Kind: quantity.KindCount, Help: "1 or 3", Example: "1", Default: "1"},
	},
	Result: quantity.KindCurrent, Source: explain.Physics("equal apparent power on both sides"),
	Compute: explain.Of4(func(i quantity.Current, motor, supply quantity.Voltage, phases quantity.Count) (explain.Answer, error) {
		if supply <= 0 {
			return explain.Answer{}, fmt.Errorf("the supply voltage must be above zero")
		}
		least := i * quantity.Current(motor/supply)
		if phases == 3 {
			return explain.Answer{Value: least, Words: "{motor current} × {motor voltage} ÷ {supply voltage}, on {supply phases} phases"}, nil
		}
		return explain.Answer{Value: quantity.Current(math.Sqrt(3)) * least, Words: "√3 × {motor current} × {motor voltage} ÷ {supply voltage}, on {supply phases} phase"}, nil
	}),
}

var inputAtLoad = &explain.Formula{
	Name: "drive-input-current-at-load", Title: "input current of a drive with this motor at full load",
	Words: "{rated input current} × {motor current} ÷ {rated output current}",
	Inputs: []explain.Parameter{
		{Name: "rated input current", Kind: quantity.KindCurrent, Help: "of the drive", Example: "23 A"},
		outputCurrentParameter,
		{Name: "rated output current", Kind: quantity.KindCurrent, Help: "of the drive, at that input", Example: "10.5 A"},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("input current in proportion to output near full load"),
	Compute: explain.Of3(func(input, motor, output quantity.Current) (explain.Answer, error) {
		if output <= 0 {
			return explain.Answer{}, fmt.Errorf("the rated output current must be above zero")
		}
		if motor >= output {
			return explain.Answer{Value: input, Words: "{rated input current}, as {motor current} is not below {rated output current}"}, nil
		}
		return explain.Is(input * (motor / output))
	}),
}

// choked reports whether the drive has a choke in its line or its DC link.
func choked(d *job.Drive) bool { return d.Choke.Set && d.Choke.Value != "none" }

var deratedInput = &explain.Formula{
	Name: "derated-drive-input-current", Title: "input current of a three-phase-input drive that runs on one phase",
	Words: "{rated three-phase input current} × 2 × {part of the output kept on one phase}",
	Inputs: []explain.Parameter{
		{Name: "rated three-phase input current", Kind: quantity.KindCurrent, Help: "from the data sheet", Example: "31.6 A"},
		{Name: "part of the output kept on one phase", Kind: quantity.KindRatio, Help: "50 % unless the maker says better", Example: "50 %", Default: "50 %"},
	},
	Result: quantity.KindCurrent, Source: singlePhaseBook,
	Compute: explain.Of2(func(i quantity.Current, kept quantity.Ratio) (explain.Answer, error) {
		return explain.Is(quantity.Scale(2*i, kept))
	}),
}

// driveRating fills r.Drive: the user's own drive, or the smallest typical one that passes. It returns the drive's gain.
func driveRating(r *Result) explain.Known[quantity.Factor] {
	d := &r.Drive
	*d = Drive{Own: ownsDrive(&r.Job.Drive), Needed: explain.Renamed("drive output current needed", r.Motor.AtService)}
	s := deratings(r.Job)
	gain := r.Voltage.Gain
	if d.Own {
		checkOwnDrive(r, s)
	} else {
		gain = chooseDrive(r, s)
	}
	d.InputAtLoad = explain.Derive[quantity.Current](inputAtLoad, "drive input current with this motor at full load", d.Input, d.Needed, ratedHere(d))
	d.InputLeast = explain.Derive[quantity.Current](inputLeast, "least input current that could feed this motor", d.Needed, usedVoltage(r), r.Job.Supply.Voltage, supplyPhases(r.Job))
	return gain
}

// ratedHere returns the output that the rated input current belongs to: the marked one, or what of it is kept on this supply,
// before heat, height and carrier frequency take their part.
func ratedHere(d *Drive) explain.Known[quantity.Current] {
	if !d.Marked.OK() || !d.Kept.OK() {
		return d.Output
	}
	if d.Kept.Value == 1 {
		return d.Marked
	}
	return explain.Derive[quantity.Current](driveOutput, "drive output current on this supply", d.Marked, d.Kept, nothingLost, nothingLost, nothingLost)
}

// nothingLost is the derating of a drive in cool air, at low height and low carrier frequency.
var nothingLost = explain.Constant[quantity.Factor]("no derating", 1, explain.Physics("rated surroundings"))

// usedVoltage returns the volts that the motor really gets: what it wants, or what there is.
func usedVoltage(r *Result) explain.Known[quantity.Voltage] {
	a, w := r.Voltage.Available, r.Voltage.Wanted
	if a.OK() && w.OK() && a.Value < w.Value {
		return explain.Renamed("volts that the motor gets", a)
	}
	return explain.Renamed("volts that the motor gets", w)
}

// checkOwnDrive fills r.Drive with the user's own drive.
func checkOwnDrive(r *Result, s surroundings) {
	j, d := r.Job, &r.Drive
	g := &j.Drive
	d.Name = job.Or(g.Name, "your own drive", explain.Practice("no name given"), explain.Say("give it a name if you have several"))
	d.InputPhases = job.Or(g.InputPhases, 1, explain.Practice("small drives bought for this job"), explain.Say("look at its label: taken to be rated for single-phase input"))
	d.Marked = job.Known(g.Output)
	onePhase := d.InputPhases.Value == 3 && supplyPhases(j).Value == 1
	d.Kept = allKept
	base := d.Marked
	switch {
	case onePhase && g.SinglePhase.Set:
		base = job.Known(g.SinglePhase)
		if g.Output.Set {
			d.Kept = explain.Chosen("part of the output kept on one phase", quantity.Part(g.SinglePhase.Value, g.Output.Value),
				"{"+g.SinglePhase.Name+"} ÷ {"+g.Output.Name+"}", explain.Source{Work: "the drive's data sheet"}, g.SinglePhase, g.Output)
		}
		d.Output = s.of(base, allKept)
	case onePhase:
		d.Kept = halfKept
		d.Output = s.of(base, halfKept)
	default:
		d.Output = s.of(base, allKept)
	}
	d.Input = ownInput(r, onePhase)
	d.OutputVoltage = explain.Renamed("drive output voltage", r.Voltage.Available)
	d.Overload = job.Or(g.Overload, 150*quantity.Percent, explain.Practice("constant-torque drives, for a minute"), explain.Say("the data sheet's figure isn't given"))
	d.MaxDevice = job.Known(g.MaxDevice)
	d.ShortCircuit = explain.Renamed("short-circuit rating of the unmarked drive", r.Code.Unmarked)
	d.Leakage, d.Losses, d.Capacitance = job.Known(g.Leakage), job.Known(g.Losses), job.Known(g.Capacitance)
	if like := similar(j, d.Marked, d.Kept); like != nil {
		name := "like " + like.Name
		d.Leakage, d.Losses, d.Capacitance = typical(g.Leakage, like.Leakage, name), typical(g.Losses, like.Losses, name), typical(g.Capacitance, like.Capacitance, name)
	}
	ownFigures(g, d)
}

// similar returns the smallest typical drive that gives as much as the user's own does on this supply, nil if none does.
func similar(j *job.Job, marked explain.Known[quantity.Current], kept explain.Known[quantity.Ratio]) *catalogue.Drive {
	if !marked.OK() {
		return nil
	}
	list := catalogue.SinglePhaseDrives()
	switch {
	case j.Supply.Voltage.Set && j.Supply.Voltage.Value > 300:
		list = catalogue.HighVoltageDrives()
	case kept.Value < 1 || supplyPhases(j).Value == 3:
		list = catalogue.ThreePhaseDrives()
	}
	for n := range list {
		if list[n].Output >= marked.Value*0.95 {
			return &list[n]
		}
	}
	return nil
}

// ownInput returns the rated input current of the user's own drive on this supply.
func ownInput(r *Result, onePhase bool) explain.Known[quantity.Current] {
	g := &r.Job.Drive
	if g.Input.Set {
		if onePhase && !g.SinglePhase.Set {
			rated := job.Known(g.Input)
			return explain.Derive[quantity.Current](deratedInput, "drive input current on one phase", rated, halfKept)
		}
		return job.Known(g.Input)
	}
	factor := explain.Assume[quantity.Factor]("amperes in per ampere out", 2.1, explain.Practice("data sheets of single-phase-input drives").Remembered(),
		explain.Say("no data sheet figure: drives without a choke draw about 2.1 times their output"))
	switch {
	case supplyPhases(r.Job).Value == 3:
		factor = explain.Assume[quantity.Factor]("amperes in per ampere out", 1.5, explain.Source{Work: "a drive maker's product manual", Place: "supply harmonic analysis: 7.3 A for 2.2 kW at 400 V"},
			explain.Say("no data sheet figure: three-phase drives without a choke draw about 1.5 times their output"))
	case choked(g):
		factor = explain.Assume[quantity.Factor]("amperes in per ampere out", 1.8, explain.Practice("data sheets of single-phase-input drives").Remembered(),
			explain.Say("no data sheet figure: drives with a choke draw about 1.8 times their output"))
	}
	out := r.Drive.Needed
	if r.Drive.Output.OK() {
		out = r.Drive.Output
	}
	k := explain.Derive[quantity.Current](inputEstimate, "drive rated input current", out, factor, r.Voltage.Gain)
	k.Why().Path = g.Input.Path
	k.Why().Note = explain.Say("an estimate: enter the data sheet's rated input current before you buy wire")
	return k
}
