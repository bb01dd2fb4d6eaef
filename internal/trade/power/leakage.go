package power

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// leakage fills r.Leakage: the standing current to ground against what the ground-fault device bears.
func leakage(r *Result) {
	l, j := &r.Leakage, r.Job
	l.Filter = lineFilter(r)
	l.Drive = driveLeakage(r)
	screened := job.Or(j.Motor.CableScreen, "no", explain.Practice("short motor leads"), explain.Say("taken as plain: a screen leaks more to ground"))
	l.Cable = explain.Derive[quantity.Current](cableLeakage, "leakage of the motor cable", job.Known(j.Motor.Cable), screened)
	l.Other = job.Or(j.Supply.OtherLeakage, 0, explain.Practice("own circuit"), explain.Say("nothing else on the device is written"))
	l.Machine = explain.Derive[quantity.Current](leakageSum, "leakage of the machine", l.Drive, l.Cable)
	l.Total = explain.Derive[quantity.Current](leakageSum, "leakage through the ground-fault device", l.Machine, l.Other)
	l.Trip = explain.Derive[quantity.Current](groundFaultRating, "rating of the ground-fault device", job.Known(j.Supply.GroundFault))
	if j.Supply.GroundFault.Value == "none" {
		l.Trip = explain.Needless[quantity.Current]("rating of the ground-fault device", explain.Say("there is no ground-fault device"))
	}
	l.Share = explain.Derive[quantity.Ratio](leakageShare, "leakage, of the device's rating", l.Total, l.Trip)
	l.Most = explain.Constant("share of its rating that a ground-fault device should carry all day", 30*quantity.Percent,
		explain.Source{Work: "IEC 60364-5-53", Edition: "2019", Place: "531.3.2", Trust: explain.FromMemory})
	l.Type = typeForDrive(r)
	l.WaysOut = leakageWaysOut(r)
}

// typeForDrive is the letter that the residual-current device must bear: the one that the drive's maker asks for, else what the
// drive's rectifier asks for.
func typeForDrive(r *Result) explain.Known[quantity.Text] {
	const name = "type of ground-fault device for this drive"
	asked, there := r.Job.Drive.GroundFault, r.Job.Supply.GroundFaultTyp
	if asked.Set {
		return explain.Renamed(name, job.Known(asked))
	}
	if !r.Code.TypeLetters && !there.Set {
		return explain.Needless[quantity.Text](name, explain.Say("ground-fault interrupters here bear no such letter (class A is their 5 mA, not a type); where a residual-current device is fitted, write its letter as ground-fault type"))
	}
	return explain.Derive[quantity.Text](groundFaultType, name, driveInputPhases(r))
}

// driveLeakage is the drive's own, with the filter's ground link as the user says it stands.
func driveLeakage(r *Result) explain.Known[quantity.Current] {
	d := &r.Job.Drive
	if d.LeakageOpen.Set && (d.Filter.Value == "built in with link out" || d.Filter.Value == "none") {
		return explain.Renamed("leakage of the drive", job.Known(d.LeakageOpen)).Noted(explain.Say("with the filter's ground link out"))
	}
	return explain.Renamed("leakage of the drive", r.Drive.Leakage)
}

func driveInputPhases(r *Result) explain.Known[quantity.Count] {
	if r.Drive.InputPhases.OK() {
		return r.Drive.InputPhases
	}
	return job.Known(r.Job.Drive.InputPhases)
}

// leakageWaysOut are the lawful ways out, in the order to try them, each with the share of the device's rating that it leaves
// where that can be known. Taking the protection away isn't among them.
func leakageWaysOut(r *Result) []explain.Phrase {
	j, l := r.Job, &r.Leakage
	var ways []explain.Phrase
	open := j.Drive.LeakageOpen
	if open.Set && j.Drive.Filter.Value != "built in with link out" {
		ways = append(ways, l.leaving(explain.Say("take the drive's filter link out, as its booklet shows: the drive then leaks {}, interference may follow", open.Value), l.Drive, open.Value))
	}
	if room, ok := l.room(); ok && room > 0 && l.Drive.OK() && room < l.Drive.Value {
		ways = append(ways, explain.Say("choose a drive or filter with a low-leakage setting: {} or less would hold", room))
	} else if !open.Set {
		ways = append(ways, explain.Say("choose a drive or filter with a low-leakage setting"))
	}
	switch {
	case j.Motor.CableScreen.Value == "yes" && j.Motor.Cable.Set:
		plain := quantity.Current(plainLeakage * float64(j.Motor.Cable.Value))
		ways = append(ways, l.leaving(explain.Say("a plain motor lead in a metal conduit instead of a screened one, which leaks {}", l.Cable.Value), l.Cable, plain))
	case l.Cable.OK():
		ways = append(ways, explain.Say("a shorter motor lead: {} of it is the cable's", l.Cable.Value))
	default:
		ways = append(ways, explain.Say("a shorter motor lead"))
	}
	ways = append(ways, explain.Say("a lower switching frequency, 4 kHz or less (how much it saves only a clamp meter for leakage tells)"))
	if j.Supply.GroundFault.Value == "class A 5 mA" {
		ways = append(ways, explain.Say("hard-wire the machine on its own circuit, where your code does not ask for 5 mA protection: ask the inspector first"))
	} else {
		ways = append(ways, l.leaving(explain.Say("give the machine its own ground-fault device, so that nothing else adds to it"), l.Other, 0))
	}
	return append(ways, explain.Say("an isolating transformer, its secondary grounded again at the machine: the device then sees none of it"))
}

// leaving adds to a way out the share of the device's rating that is left when it brings one part of the leakage down to the
// figure, and whether that holds.
func (l *Leakage) leaving(way explain.Phrase, part explain.Known[quantity.Current], becomes quantity.Current) explain.Phrase {
	if !l.Total.OK() || !l.Trip.OK() || !part.OK() {
		return way
	}
	total := l.Total.Value - part.Value + becomes
	share := quantity.Part(total, l.Trip.Value)
	verdict := "which holds"
	if share > l.Most.Value {
		verdict = "by itself not enough"
	}
	way.Format += " ({} in all, {} of {}, " + verdict + ")"
	way.Values = append(way.Values, total, share, l.Trip.Value)
	return way
}

// room is the most that the drive may leak for the device to hold; false where that can't be known.
func (l *Leakage) room() (quantity.Current, bool) {
	if !l.Total.OK() || !l.Drive.OK() || !l.Trip.OK() {
		return 0, false
	}
	return quantity.Scale(l.Trip.Value, l.Most.Value) - (l.Total.Value - l.Drive.Value), true
}

// Leakage of motor cable per length behind a drive at 240 V; what passes a ground-fault device's own filter.
const (
	plainLeakage    = 0.03e-3 // A/m
	screenedLeakage = 0.15e-3 // A/m
)

var cableLeakage = &explain.Formula{
	Name: "cable-leakage", Title: "leakage of a motor cable behind a drive", Words: "{motor cable} × 0.15 mA/m screened, 0.03 mA/m plain; screened: {screened}",
	Inputs: []explain.Parameter{
		{Name: "motor cable", Kind: quantity.KindLength, Help: "drive to motor", Example: "10 ft"},
		{Name: "screened", Kind: quantity.KindText, Help: "braid or foil around it", Example: "yes", Default: "no", Choices: []string{"yes", "no"}},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("drive makers' leakage tables, rounded up"),
	Compute: explain.Of2(func(l quantity.Length, screened quantity.Text) (explain.Answer, error) {
		per := plainLeakage
		words := "{motor cable} × 0.03 mA/m (plain)"
		if screened == "yes" {
			per, words = screenedLeakage, "{motor cable} × 0.15 mA/m (screened)"
		}
		return explain.Answer{Value: quantity.Current(per * float64(l)), Words: words}, nil
	}),
}

var leakageSum = &explain.Formula{
	Name: "leakage-sum", Title: "standing leakage of two things together", Words: "{leakage} + {further leakage}",
	Inputs: []explain.Parameter{
		{Name: "leakage", Kind: quantity.KindCurrent, Help: "of the drive, for instance", Example: "9 mA"},
		{Name: "further leakage", Kind: quantity.KindCurrent, Help: "of the motor cable, or of what else hangs on the device", Example: "0.5 mA"},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("leakages are added as if in step, which is on the careful side"),
	Compute: explain.Of2(sum[quantity.Current]),
}

var groundFaultRating = &explain.Formula{
	Name: "ground-fault-rating", Title: "leakage rating of a ground-fault device", Words: "the rating of {ground-fault protection}",
	Inputs: []explain.Parameter{{Name: "ground-fault protection", Kind: quantity.KindText, Help: "what would trip on leakage", Example: "class A 5 mA",
		Choices: []string{"none", "class A 5 mA", "10 mA", "30 mA", "100 mA", "300 mA", "unknown"}}},
	Result: quantity.KindCurrent, Source: explain.Source{Work: "UL 943 and IEC 61008-1", Place: "rated residual current", Trust: explain.FromMemory},
	Compute: explain.Of1(func(device quantity.Text) (explain.Answer, error) {
		switch device {
		case "class A 5 mA":
			return explain.Answer{Value: 5 * quantity.Milliampere, Note: explain.Say("class A devices trip between 4 and 6 mA")}, nil
		case "10 mA", "30 mA", "100 mA", "300 mA":
			i, err := quantity.Parse(quantity.KindCurrent, string(device))
			return explain.Answer{Value: i, Note: explain.Say("it may trip from half of that")}, err
		case "none":
			return explain.Answer{}, fmt.Errorf("there is no ground-fault device")
		}
		return explain.Answer{}, fmt.Errorf("look at the breaker and the receptacle for a test button: it isn't known what would trip on leakage")
	}),
}

var leakageShare = &explain.Formula{
	Name: "leakage-share", Title: "standing leakage against a ground-fault device", Words: "{leakage} ÷ {device rating}",
	Inputs: []explain.Parameter{
		{Name: "leakage", Kind: quantity.KindCurrent, Help: "of everything behind the device", Example: "9.5 mA"},
		{Name: "device rating", Kind: quantity.KindCurrent, Help: "printed on it", Example: "30 mA"},
	},
	Result: quantity.KindRatio, Source: explain.Physics("ratio"),
	Compute: explain.Of2(share[quantity.Current]("rating")),
}

var groundFaultType = &explain.Formula{
	Name: "ground-fault-type", Title: "type of residual-current device that sees a drive's fault current", Words: "by the phases that feed the drive: {input phases}",
	Inputs: []explain.Parameter{{Name: "input phases", Kind: quantity.KindCount, Help: "of the drive, as it is fed", Example: "1"}},
	Result: quantity.KindText, Source: explain.Source{Work: "IEC 60755 and IEC 62423", Place: "types A, F and B", Trust: explain.FromMemory},
	Compute: explain.Of1(func(phases quantity.Count) (explain.Answer, error) {
		switch phases {
		case 1:
			return explain.Answer{Value: quantity.Text("A or F at least"), Note: explain.Say("a single-phase rectifier's fault current pulsates: type AC may not see it; type F also bears mixed frequencies")}, nil
		case 3:
			return explain.Answer{Value: quantity.Text("B"), Note: explain.Say("a three-phase rectifier's fault current can be smooth direct current, which blinds types AC, A and F")}, nil
		}
		return explain.Answer{}, fmt.Errorf("a drive has 1 or 3 input phases, not %s", shown(phases))
	}),
}
