package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// ownsDrive reports whether the job describes a drive that the user has or means to buy.
func ownsDrive(d *job.Drive) bool {
	return d.Name.Set || d.Output.Set || d.Input.Set || d.InputPhases.Set || d.InputVoltage.Set || d.OutputVoltage.Set || d.SinglePhase.Set
}

// halfKept is the part of a three-phase-input drive's output that is taken to be left on one phase when its maker says
// nothing.
var halfKept = explain.Assume("part of the output kept on one phase", 50*quantity.Percent, explain.Practice("three-phase-input drives on one phase, where the maker allows it"),
	explain.Say("the maker's single-phase figure isn't known: half is the common rule, ask for the maker's table"))

var allKept = explain.Constant("part of the output kept on this supply", 100*quantity.Percent, explain.Practice("a drive on the supply it is rated for"))

// chooseDrive picks the smallest typical drive that passes and fills r.Drive with it. It returns the gain that the chosen
// drive has, which differs from r.Voltage.Gain only when no drive with single-phase input is large enough, but a
// three-phase-input one is.
func chooseDrive(r *Result, s surroundings) explain.Known[quantity.Factor] {
	j := r.Job
	d := &r.Drive
	list, kept := candidates(j)
	first := r.Voltage.Gain
	gain := first
	if v := j.Supply.Voltage; v.Set && !madeFor(list, v.Value) {
		absentDrive(d, explain.Say("no typical drive is made for {} and a motor of this size: bring 240 V to the machine, or write the data sheet of one that is", v.Value))
		return gain
	}
	if maybeSinglePhase(r) {
		absentDrive(d, explain.Say("not chosen, and nothing sized for it, until it is known that the motor has three phases"))
		return gain
	}
	if outOfReach(r) {
		// A figure on a sheet gets bought. One for a drive that the first line of the same sheet advises against must not stand
		// there: the ways out lead to different drives, wires and breakers, or to none.
		absentDrive(d, explain.Say("not chosen, and nothing sized for it, until the voltage is settled: {} doesn't reach the motor's {}, see the ways out", r.Voltage.Available.Value, r.Voltage.Wanted.Value))
		return gain
	}
	chosen := pick(r, list, kept, s)
	if chosen == nil && kept.Value == 1 && supplyPhases(j).Value == 1 && !wantsDoubler(j) {
		list, kept = catalogue.ThreePhaseDrives(), halfKept
		gain = deratedGain()
		chosen = pick(r, list, kept, s)
	}
	if chosen == nil {
		why := explain.Say("no typical drive is large enough: ask makers for one of {} continuous output", d.Needed.Value)
		switch {
		case d.Needed.Why().Origin == explain.NotNeeded:
			why = d.Needed.Why().Note
		case !d.Needed.OK():
			why = explain.Say("needs " + d.Needed.Why().Name)
		}
		absentDrive(d, why)
		return first
	}
	fillTypical(r, chosen, kept, s)
	return gain
}

// candidates returns the typical drives that suit the supply, smallest first, and the part of their output that is kept on it.
func candidates(j *job.Job) ([]catalogue.Drive, explain.Known[quantity.Ratio]) {
	high := j.Supply.Voltage.Set && j.Supply.Voltage.Value > 300
	three := supplyPhases(j).Value == 3
	switch {
	case high && three:
		return catalogue.HighVoltageDrives(), allKept
	case high:
		return catalogue.HighVoltageDrives(), halfKept
	case three:
		return catalogue.ThreePhaseDrives(), allKept
	case wantsDoubler(j):
		return catalogue.DoublerDrives(), allKept
	}
	return catalogue.SinglePhaseDrives(), allKept
}

// madeFor reports whether the drives of the list take the supply's voltage.
func madeFor(list []catalogue.Drive, v quantity.Voltage) bool {
	return len(list) > 0 && v >= list[0].Least && v <= list[0].Most
}

// pick returns the smallest drive whose output here covers the need, nil if none does, and records in Considered all that
// were looked at, and the one behind the chosen for comparison.
func pick(r *Result, list []catalogue.Drive, kept explain.Known[quantity.Ratio], s surroundings) *catalogue.Drive {
	needed := r.Drive.Needed
	if !needed.OK() {
		return nil
	}
	var chosen *catalogue.Drive
	for n := range list {
		drive := &list[n]
		here := quantity.Scale(quantity.Scale(drive.Output, kept.Value), s.factor())
		c := Candidate{Name: drive.Name, Passes: here >= needed.Value,
			Figures: []quantity.Value{here, drive.Input}}
		switch {
		case !c.Passes:
			c.Verdict = explain.Say("gives {} here, {} are needed", here, needed.Value)
		case chosen == nil:
			c.Verdict = explain.Say("smallest that passes: {} here against {}", here, needed.Value)
		default:
			c.Verdict = explain.Say("passes, larger than needed")
		}
		r.Drive.Considered = append(r.Drive.Considered, c)
		if chosen != nil {
			break
		}
		if c.Passes {
			chosen = drive
		}
	}
	return chosen
}

// typical returns a typical part's figure under the name of the job's value whose place it holds, to be overwritten there.
func typical[V quantity.Value](g job.Given[V], v V, part string) explain.Known[V] {
	k := explain.Part(g.Name, v, part)
	k.Why().Path = g.Path
	return k
}

// fillTypical fills r.Drive with the chosen typical drive.
func fillTypical(r *Result, c *catalogue.Drive, kept explain.Known[quantity.Ratio], s surroundings) {
	j, d := r.Job, &r.Drive
	g := &j.Drive
	d.Name = typical(g.Name, quantity.Text(c.Name), c.Name)
	d.Marked = typical(g.Output, c.Output, c.Name)
	d.Kept = kept
	d.Output = s.of(d.Marked, kept)
	d.InputPhases = typical(g.InputPhases, quantity.Count(c.InputPhases), c.Name)
	d.Input = typical(g.Input, c.Input, c.Name)
	if c.InputPhases == 3 && supplyPhases(j).Value == 1 {
		rated := typical(g.Input, c.Input, c.Name)
		rated.Why().Name = "drive rated three-phase input current"
		d.Input = explain.Derive[quantity.Current](deratedInput, "drive input current on one phase", rated, kept)
	}
	d.OutputVoltage = explain.Renamed("drive output voltage", r.Voltage.Available)
	d.Overload = typical(g.Overload, c.Overload, c.Name)
	d.MaxDevice = typical(g.MaxDevice, c.MaxDevice, c.Name)
	d.ShortCircuit = typical(g.ShortCircuit, c.ShortCircuit, c.Name)
	d.Leakage = typical(g.Leakage, c.Leakage, c.Name)
	d.Losses = typical(g.Losses, c.Losses, c.Name)
	d.Capacitance = typical(g.Capacitance, c.Capacitance, c.Name)
	ownFigures(g, d)
}

// ownFigures puts single figures that the user gave in the place of the typical ones.
func ownFigures(g *job.Drive, d *Drive) {
	takeGiven(g.Overload, &d.Overload)
	takeGiven(g.MaxDevice, &d.MaxDevice)
	takeGiven(g.ShortCircuit, &d.ShortCircuit)
	takeGiven(g.Leakage, &d.Leakage)
	takeGiven(g.Losses, &d.Losses)
	takeGiven(g.Capacitance, &d.Capacitance)
	if g.Filter.Set && g.Filter.Value == "built in with link out" {
		takeGiven(g.LeakageOpen, &d.Leakage)
	}
}

func takeGiven[V quantity.Value](g job.Given[V], k *explain.Known[V]) {
	if g.Set {
		*k = job.Known(g)
	}
}

// absentDrive fills d with missing values that all say why.
func absentDrive(d *Drive, why explain.Phrase) {
	d.Name = explain.Absent[quantity.Text]("drive", why)
	d.Marked = explain.Absent[quantity.Current]("drive output current as marked", why)
	d.Output = explain.Absent[quantity.Current]("drive output current here", why)
	d.Input = explain.Absent[quantity.Current]("drive rated input current", why)
	d.InputPhases = explain.Absent[quantity.Count]("drive input phases", why)
	d.OutputVoltage = explain.Absent[quantity.Voltage]("drive output voltage", why)
	d.Overload = explain.Absent[quantity.Ratio]("drive overload capacity", why)
	d.MaxDevice = explain.Absent[quantity.Current]("maker's largest overcurrent device", why)
	d.ShortCircuit = explain.Absent[quantity.Current]("drive short-circuit current rating", why)
	d.Leakage = explain.Absent[quantity.Current]("drive leakage current", why)
	d.Losses = explain.Absent[quantity.Power]("drive losses", why)
	d.Capacitance = explain.Absent[quantity.Capacitance]("DC-link capacitance", why)
	d.Kept = allKept
}
