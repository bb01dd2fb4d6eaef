package power

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// mainSwitch fills r.Disconnect.
func mainSwitch(r *Result) {
	d, box := &r.Disconnect, &r.Job.Control
	d.Amperes = citing(explain.Derive[quantity.Current](disconnectAmpacity, "least rating of the disconnect", r.Branch.Total, r.Code.Disconnect), r.Code.Disconnect)
	d.Smallest = smallestSwitch(r)
	d.Size = explain.Renamed("rating of the disconnect", d.Smallest)
	if box.Disconnect.Set {
		d.Size = job.Known(box.Disconnect)
	}
	d.Horsepower = explain.Needless[quantity.ShaftPower]("least horsepower rating of the disconnect", explain.Say("this rule set goes by amperes and utilisation category"))
	if r.Code.ByHorsepower {
		d.Horsepower = explain.Renamed("least horsepower rating of the disconnect", job.Known(r.Job.Motor.Power)).Noted(
			explain.Say("at the supply's voltage and phases: a switch's single-phase rating is lower than its three-phase one"))
	}
	d.Category = r.Code.SwitchKind.Noted(explain.Say("AC-20 may only be opened with nothing running, AC-21 is for heaters, AC-22 for mixed loads"))
	d.Break = explain.Derive[quantity.Current](disconnectBreak, "current the disconnect may have to open", r.Branch.Current, r.Drive.Overload)
	d.Breaks = whatItBreaks(box)
	d.Locked = explain.Renamed("current the disconnect would have to open on a stalled motor behind a rotary converter",
		explain.Derive[quantity.Current](converterStart, "supply current of a rotary converter while the motor starts", r.Plate.LockedRotor))
	d.Live = whatStaysLive(r.Job)
}

// whatItBreaks is the current that the existing switch opens by its category.
func whatItBreaks(box *job.ControlBox) explain.Known[quantity.Current] {
	const name = "current the disconnect can open"
	switch {
	case !box.Disconnect.Set && !box.DisconnectCat.Set:
		return explain.Needless[quantity.Current](name, explain.Say("no switch of your own is written under box"))
	case box.DisconnectCat.Value == "horsepower rated":
		return explain.Needless[quantity.Current](name, explain.Say("a switch marked in horsepower opens a motor of that size, stalled or running"))
	}
	return explain.Derive[quantity.Current](switchBreaking, name, job.Known(box.Disconnect), job.Known(box.DisconnectCat))
}

// smallestSwitch is the smallest usual rating of a switch that passes, also where one is there already.
func smallestSwitch(r *Result) explain.Known[quantity.Current] {
	const name = "smallest disconnect that passes"
	least := r.Disconnect.Amperes
	if !least.OK() {
		return explain.Renamed(name, least)
	}
	for _, s := range r.Code.Switches {
		if s >= least.Value {
			return explain.Chosen(name, s, "the smallest usual switch not below {"+least.Why().Name+"}", r.Code.SwitchSource, least)
		}
	}
	return explain.Absent[quantity.Current](name, explain.Say("no usual switch reaches {}", least.Value))
}

// whatStaysLive lists everything that the main switch leaves under voltage.
func whatStaysLive(j *job.Job) []explain.Phrase {
	live := []explain.Phrase{explain.Say("the wires from the source to the main switch's own line terminals")}
	if s := j.Control.BeforeSwitch; s.Set && !saysNothing(string(s.Value)) {
		live = append(live, explain.Say("{}", s.Value))
	}
	for n := range j.Loads {
		l := &j.Loads[n]
		if l.Fed.Value == "ahead of the main switch" || l.Fed.Value == "another circuit" {
			live = append(live, explain.Say("{}, fed from {}", quantity.Text(loadName(l, n)), l.Fed.Value))
		}
	}
	return live
}

// saysNothing reports whether the user's words mean that there is nothing.
func saysNothing(words string) bool {
	switch words {
	case "", "none", "nothing", "no", "-":
		return true
	}
	return false
}

var disconnectAmpacity = &explain.Formula{
	Name: "disconnect-rating", Title: "least ampere rating of a drive's disconnect", Words: "{factor} × {circuit current}",
	Inputs: []explain.Parameter{
		{Name: "circuit current", Kind: quantity.KindCurrent, Help: "rated input current of the drive and what else the switch carries", Example: "23 A"},
		{Name: "factor", Kind: quantity.KindRatio, Help: "115 % by NFPA 70", Example: "115 %", Default: "115 %"},
	},
	Result: quantity.KindCurrent, Source: explain.NEC("430.128").Remembered(),
	Compute: explain.Of2(scaled[quantity.Current, quantity.Ratio]),
}

var disconnectBreak = &explain.Formula{
	Name: "disconnect-break-current", Title: "current that a drive's disconnect may have to open", Words: "{drive input current} × {overload}",
	Inputs: []explain.Parameter{
		driveInputParameter,
		driveOverloadParameter,
	},
	Result: quantity.KindCurrent, Source: explain.Practice("drive data sheets: overload capacity for a minute"),
	Compute: explain.Of2(scaled[quantity.Current, quantity.Ratio]),
}

// breakingMultiple is what a switch of each utilisation category opens, in times its rated operational current.
// Source: IEC 60947-3 (AC-20 to AC-23, from memory) and IEC 60947-4-1 (AC-3), rated current up to 100 A.
var breakingMultiple = []struct {
	category quantity.Text
	times    quantity.Factor
	source   explain.Source
}{
	{"AC-20", 0, explain.Source{Work: "IEC 60947-3", Place: "Table 3", Trust: explain.FromMemory}},
	{"AC-21", 1.5, explain.Source{Work: "IEC 60947-3", Place: "Table 3", Trust: explain.FromMemory}},
	{"AC-22", 3, explain.Source{Work: "IEC 60947-3", Place: "Table 3", Trust: explain.FromMemory}},
	{"AC-23", 8, explain.Source{Work: "IEC 60947-3", Place: "Table 3", Trust: explain.FromMemory}},
	{"AC-3", 8, explain.Source{Work: "IEC 60947-4-1", Place: "making and breaking capacity"}},
}

var switchBreaking = &explain.Formula{
	Name: "switch-breaking-current", Title: "current that a switch can open, by its utilisation category", Words: "the multiple of {category} × {switch rating}",
	Inputs: []explain.Parameter{
		{Name: "switch rating", Kind: quantity.KindCurrent, Help: "rated operational current", Example: "40 A"},
		{Name: "category", Kind: quantity.KindText, Help: "utilisation category printed on it", Example: "AC-23", Choices: []string{"AC-20", "AC-21", "AC-22", "AC-23", "AC-3"}},
	},
	Result: quantity.KindCurrent, Source: explain.Source{Work: "IEC 60947-3", Place: "Table 3, up to 100 A", Trust: explain.FromMemory},
	Compute: explain.Of2(func(i quantity.Current, category quantity.Text) (explain.Answer, error) {
		for _, m := range breakingMultiple {
			if m.category == category {
				return explain.Answer{Value: quantity.Scale(i, m.times), Source: m.source, Note: explain.Say("{} times its rating", m.times)}, nil
			}
		}
		return explain.Answer{}, fmt.Errorf("the category %q says nothing of what it opens", category)
	}),
}
