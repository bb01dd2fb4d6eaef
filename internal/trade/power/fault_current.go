package power

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// faultCurrent fills r.Fault: what a dead short at the panel and at the box would draw, and the weakest part against it.
// A drive feeds no fault current back, so only the utility counts. Conductors are taken cold, which gives the larger current.
func faultCurrent(r *Result) {
	f, supply := &r.Fault, &r.Job.Supply
	phases := supplyPhases(r.Job)
	volts := job.Known(supply.Voltage)
	f.Transformer = explain.Absent[quantity.Current]("fault current at the transformer", explain.Say("write transformer, from the number on the can or pad"))
	switch {
	case supply.FaultCurrent.Set:
		f.Transformer = explain.Needless[quantity.Current]("fault current at the transformer", explain.Say("the figure at the panel is given"))
		f.AtPanel = explain.Renamed("fault current at the panel", job.Known(supply.FaultCurrent))
	case supply.Transformer.Set:
		f.Transformer = atTransformer(r.Job, volts, phases)
		f.AtPanel = atPanel(r.Job, f.Transformer, volts, phases)
	default:
		f.AtPanel = assumedAtPanel(r.Job)
	}
	f.AtBox = explain.Renamed("fault current at the box", afterRun(r, volts, phases))
	f.Rating = explain.Renamed("short-circuit rating asked of the box", f.AtBox)
	f.Weakest, f.Weakling = weakestPart(r)
}

// transformerTolerance is the allowance for a transformer whose true impedance is below its plate's.
var transformerTolerance = explain.Constant("tolerance of transformer impedance", quantity.Factor(0.9),
	explain.Source{Work: "plan-review paper on the point-to-point method", Place: "UL-listed transformers of 25 kVA and more: ±10 %"})

func atTransformer(j *job.Job, volts explain.Known[quantity.Voltage], phases explain.Known[quantity.Count]) explain.Known[quantity.Current] {
	kva := job.Known(j.Supply.Transformer)
	typical, source := catalogue.TypicalImpedance(kva.Value)
	impedance := job.Or(j.Supply.Impedance, typical, source, explain.Say("a usual figure for this size: its plate rules"))
	return explain.Derive[quantity.Current](transformerFault, "fault current at the transformer", kva, impedance, transformerTolerance, volts, phases)
}

// atPanel follows the service conductors where their length and size are written; otherwise the transformer's own figure
// stands, which is on the careful side.
func atPanel(j *job.Job, transformer explain.Known[quantity.Current], volts explain.Known[quantity.Voltage], phases explain.Known[quantity.Count]) explain.Known[quantity.Current] {
	const name = "fault current at the panel"
	if !j.Supply.ServiceRun.Set || !j.Supply.ServiceWire.Set {
		return explain.Renamed(name, transformer).Noted(
			explain.Say("the service conductors are left out, which gives more than there is: write service run and service conductor"))
	}
	z := coldImpedance("service", job.Known(j.Supply.ServiceWire), stranded("service"), "plastic")
	return explain.Derive[quantity.Current](pointToPoint, name, transformer, job.Known(j.Supply.ServiceRun), z, one, volts, phases)
}

// one is the number of conductors side by side per pole: a single one.
var one = explain.Constant("conductors side by side", quantity.Count(1), explain.Practice("small services"))

func assumedAtPanel(j *job.Job) explain.Known[quantity.Current] {
	i, where := 10000*quantity.Ampere, "utilities seldom give a dwelling more: ask yours, or write transformer"
	if j.Shop.Place.Value == "business premises" {
		i, where = 22000*quantity.Ampere, "business premises can have large transformers close by: ask the utility, or write transformer"
	}
	k := explain.Assume("fault current at the panel", i, explain.Practice("interrupting ratings of panels"), explain.Say(where))
	k.Why().Path = j.Supply.FaultCurrent.Path
	return k
}

// coldImpedance is the impedance per length of a conductor at 20 °C.
func coldImpedance(of string, size explain.Known[quantity.Conductor], made explain.Known[quantity.Text], raceway quantity.Text) explain.Known[quantity.LinearResistance] {
	warm := explain.Derive[quantity.LinearResistance](conductorResistance, "resistance per length of the "+of+" at 75 °C", size, made)
	cold := explain.Derive[quantity.LinearResistance](coldResistance, "resistance per length of the "+of+", cold", warm)
	in := explain.Constant("raceway of the "+of+" for its fault current", raceway, explain.Practice("job file"))
	x := explain.Derive[quantity.LinearResistance](conductorReactance, "reactance per length of the "+of+" at a fault", size, in)
	return explain.Derive[quantity.LinearResistance](conductorImpedance, "impedance per length of the "+of+", cold", cold, x)
}

func afterRun(r *Result, volts explain.Known[quantity.Voltage], phases explain.Known[quantity.Count]) explain.Known[quantity.Current] {
	f, supply := &r.Fault, &r.Job.Supply
	if !supply.Run.Set || !r.Branch.Used.OK() {
		return f.AtPanel.Noted(explain.Say("the run to the machine isn't known, so the panel's figure stands, which is on the careful side"))
	}
	atEnd := explain.Derive[quantity.Current](pointToPoint, "fault current at the end of the run",
		f.AtPanel, job.Known(supply.Run), coldImpedance("run", r.Branch.Used, makeOf(r, "run"), quantity.Text(racewayWord(supply))), one, volts, phases)
	cord := r.Cord.Conductor
	if r.Cord.Smallest.OK() && cord.OK() && r.Cord.Smallest.Value.Area() > cord.Value.Area() {
		cord = r.Cord.Smallest // the thin one has to go, and a thicker one lets more through
	}
	if !onCord(r) || !r.Cord.Length.OK() || !cord.OK() {
		return atEnd
	}
	return explain.Derive[quantity.Current](pointToPoint, "fault current at the end of the cord",
		atEnd, r.Cord.Length, coldImpedance("cord", cord, makeOf(r, "cord"), "cable"), one, volts, phases)
}

// deviceInBox names the overcurrent device in the box among its parts.
const deviceInBox = "the device in the box"

// weakestPart is the lowest short-circuit rating in the box, and whose it is. A box that is marked as a whole counts as marked.
// While no drive is known there is none to judge.
func weakestPart(r *Result) (explain.Known[quantity.Current], string) {
	const name = "weakest short-circuit rating"
	box := &r.Job.Control
	if box.ShortCircuit.Set {
		return explain.Renamed(name, job.Known(box.ShortCircuit)), "the box as a whole"
	}
	weakest, who := r.Drive.ShortCircuit, "the drive"
	if box.Interrupting.Set && (!weakest.OK() || box.Interrupting.Value < weakest.Value) {
		weakest, who = job.Known(box.Interrupting), deviceInBox
	}
	return explain.Renamed(name, weakest), who
}

var coldResistance = &explain.Formula{
	Name: "cold-resistance", Title: "resistance per length of a copper conductor at 20 °C", Words: "{resistance at 75 °C} × (1 − 0.00323 per kelvin × 55 K)",
	Inputs: []explain.Parameter{{Name: "resistance at 75 °C", Kind: quantity.KindLinearResistance, Help: "from the table", Example: "1.24 ohm/kft"}},
	Result: quantity.KindLinearResistance, Source: explain.NEC("Chapter 9 Table 8, note 2"),
	Compute: explain.Of1(func(r quantity.LinearResistance) (explain.Answer, error) {
		return explain.Is(r * (1 - 0.00323*55))
	}),
}

var transformerCurrent = &explain.Formula{
	Name: "transformer-full-load-current", Title: "full-load current of a transformer", Words: "{transformer} ÷ {voltage}; ÷ √3 as well on three phases ({phases})",
	Inputs: []explain.Parameter{
		transformerParameter,
		transformerVoltageParameter,
		phasesParameter,
	},
	Result: quantity.KindCurrent, Source: explain.Physics("apparent power"),
	Compute: explain.Of3(func(s quantity.ApparentPower, v quantity.Voltage, phases quantity.Count) (explain.Answer, error) {
		i, err := ratedCurrent(s, v, phases)
		return explain.Answer{Value: i, Words: fullLoadInWords(phases)}, err
	}),
}

// fullLoadInWords is ratedCurrent as a formula shows it.
func fullLoadInWords(phases quantity.Count) string {
	if phases == 3 {
		return "{transformer} ÷ (√3 × {voltage})"
	}
	return "{transformer} ÷ {voltage}"
}

func ratedCurrent(s quantity.ApparentPower, v quantity.Voltage, phases quantity.Count) (quantity.Current, error) {
	if v <= 0 || s <= 0 {
		return 0, fmt.Errorf("the rating and the voltage must be above zero")
	}
	times, err := perPhases(phases)
	if err != nil {
		return 0, err
	}
	if phases != 3 {
		times = 1
	}
	return quantity.Current(float64(s) / (float64(v) * float64(times))), nil
}

var transformerFault = &explain.Formula{
	Name: "transformer-fault-current", Title: "fault current at a transformer's terminals, with any amount of power behind it",
	Words: "full-load current of {transformer} at {voltage} ({phases} phase) ÷ ({impedance} × {tolerance})",
	Inputs: []explain.Parameter{
		transformerParameter,
		{Name: "impedance", Kind: quantity.KindRatio, Help: "from its plate", Example: "1.5 %"},
		{Name: "tolerance", Kind: quantity.KindFactor, Help: "0.9: the true impedance may be a tenth lower", Example: "0.9", Default: "0.9"},
		transformerVoltageParameter,
		phasesParameter,
	},
	Result: quantity.KindCurrent, Source: explain.Source{Work: "plan-review paper on the point-to-point method", Place: "steps 1 to 3"},
	Compute: explain.Of5(func(s quantity.ApparentPower, z quantity.Ratio, tolerance quantity.Factor, v quantity.Voltage, phases quantity.Count) (explain.Answer, error) {
		i, err := ratedCurrent(s, v, phases)
		if err != nil {
			return explain.Answer{}, err
		}
		if z <= 0 || tolerance <= 0 {
			return explain.Answer{}, fmt.Errorf("the impedance and the tolerance must be above zero")
		}
		return explain.Answer{Value: i / quantity.Current(float64(z)*float64(tolerance)), Words: fullLoadInWords(phases) + " ÷ ({impedance} × {tolerance})", Note: explain.Say("its full-load current is {}", i)}, nil
	}),
}

var pointToPoint = &explain.Formula{
	Name: "point-to-point-fault-current", Title: "fault current at the end of a run",
	Words: "{fault current} ÷ (1 + 2 × {length} × {fault current} × {impedance per length} ÷ ({conductors side by side} × {voltage})); √3 instead of 2 on three phases ({phases})",
	Inputs: []explain.Parameter{
		{Name: "fault current", Kind: quantity.KindCurrent, Help: "at the beginning of the run", Example: "10 kA"},
		lengthParameter,
		{Name: "impedance per length", Kind: quantity.KindLinearResistance, Help: "of one conductor, cold (1/C per foot in tables of C values)", Example: "1.02 ohm/kft"},
		{Name: "conductors side by side", Kind: quantity.KindCount, Help: "per pole", Example: "1", Default: "1"},
		{Name: "voltage", Kind: quantity.KindVoltage, Help: "between lines", Example: "240 V"},
		phasesParameter,
	},
	Result: quantity.KindCurrent, Source: explain.Source{Work: "plan-review paper on the point-to-point method", Place: "steps 4 to 6"},
	Compute: explain.Of6(func(i quantity.Current, l quantity.Length, z quantity.LinearResistance, n quantity.Count, v quantity.Voltage, phases quantity.Count) (explain.Answer, error) {
		times, err := perPhases(phases)
		if err != nil {
			return explain.Answer{}, err
		}
		if v <= 0 || n < 1 {
			return explain.Answer{}, fmt.Errorf("the voltage must be above zero and there is at least one conductor")
		}
		f := quantity.Factor(float64(quantity.Scale(quantity.Drop(i, z.Over(l)), times)) / (float64(n) * float64(v)))
		words := "{fault current} ÷ (1 + " + timesInWords(phases) + " × {length} × {fault current} × {impedance per length} ÷ ({conductors side by side} × {voltage}))"
		return explain.Answer{Value: i / quantity.Current(1+f), Words: words, Note: explain.Say("f is {} and the multiplier {}", f, 1/(1+f))}, nil
	}),
}
