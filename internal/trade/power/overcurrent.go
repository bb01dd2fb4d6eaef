package power

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// leastDevice fills what the overcurrent devices should carry here, before anything is known of the conductor: the one at
// the source, which has the other loads behind it too, and the drive's own.
//
// The margin of 125 % that common practice leaves is advice: NFPA 70 sets no least rating for a drive's device, only largest
// ones (430.52, 430.130), and for the conductor (430.122). So the margin gives way where the limits leave no room for it, as
// long as the device still carries the current itself.
func leastDevice(r *Result) {
	p := &r.Protection
	p.Kind = kindOfDevice(r.Job)
	p.Carry = citing(explain.Derive[quantity.Current](deviceCurrent, "current that the overcurrent device should carry",
		r.Branch.Current, r.Code.Device, r.Branch.Others), r.Code.Device)
	p.Least = explain.Derive[quantity.Current](r.Code.Ratings, "least overcurrent device", p.Carry, p.Kind)
	p.CarryDrive, p.LeastDrive = p.Carry, p.Least
	if r.Branch.Others.Value > 0 {
		p.CarryDrive = citing(explain.Derive[quantity.Current](deviceCurrent, "current that the drive's own device should carry",
			r.Branch.Current, r.Code.Device, nothingElse), r.Code.Device)
		p.LeastDrive = explain.Derive[quantity.Current](r.Code.Ratings, "least overcurrent device of the drive alone", p.CarryDrive, p.Kind)
	}
	if !r.Code.hasTables() {
		return
	}
	limitsForDrive(r)
	if room, thin := withinRoom(r, p.LeastDrive, p.CarryDrive); thin {
		p.Thin = true
		if r.Branch.Others.Value == 0 {
			p.Least = room
		}
		p.LeastDrive = room
	}
}

// nothingElse is what hangs on the drive's own device beside it.
var nothingElse = explain.Constant("other loads on the drive's own device", quantity.Current(0), explain.Practice("it feeds the drive alone"))

// withinRoom returns the largest standard rating within the drive's limits, and true, where the one that common practice asks
// for is above them and that one carries the drive's input current nevertheless.
func withinRoom(r *Result, advised, carry explain.Known[quantity.Current]) (explain.Known[quantity.Current], bool) {
	input, most := r.Branch.Current, r.Protection.ForDrive
	if !advised.OK() || !most.OK() || !input.OK() || advised.Value <= most.Value {
		return advised, false
	}
	rating, ok := r.Code.Standard.AtMost(most.Value, catalogue.IsFuse(string(r.Protection.Kind.Value)))
	if !ok || !covers(rating, input.Value) {
		return advised, false
	}
	k := explain.Chosen(advised.Why().Name, rating, "the largest standard rating within {"+most.Why().Name+"} that carries {"+input.Why().Name+"}, though not the margin of {"+carry.Why().Name+"}",
		explain.NEC("430.130(A)").Remembered(), most, input, carry)
	return k.Noted(explain.Say("the margin is common practice, the limits are rules: it may trip on a hot day with the machine at full load")), true
}

// kindOfDevice is the kind of device to size: what the drive's maker asks for, or what is there, or a breaker.
func kindOfDevice(j *job.Job) explain.Known[quantity.Text] {
	asked := j.Drive.MaxDeviceType
	if asked.Set && asked.Value != "any" {
		return explain.Renamed("kind of overcurrent device", job.Known(asked))
	}
	if j.Control.DeviceType.Set && j.Control.DeviceType.Value != "none" {
		return explain.Renamed("kind of overcurrent device", job.Known(j.Control.DeviceType))
	}
	if j.Supply.BreakerType.Set {
		return explain.Renamed("kind of overcurrent device", job.Known(j.Supply.BreakerType))
	}
	k := explain.Assume[quantity.Text]("kind of overcurrent device", "inverse time breaker", explain.Practice("panels of small shops"),
		explain.Say("the usual breaker in a panel"))
	k.Why().Path = j.Supply.BreakerType.Path
	return k
}

// overcurrentDevice fills r.Protection once the conductor is known: each limit by itself, then the smallest standard rating
// that satisfies all, or which of them collide.
func overcurrentDevice(r *Result) {
	p := &r.Protection
	const chosen = "overcurrent device"
	p.InBox = explain.Needless[quantity.Current]("overcurrent device to put into the box", explain.Say("none is needed beside the one at the source"))
	if !r.Code.hasTables() {
		p.MotorCurrent = untabled[quantity.Current](r.Code, "motor table current for the device")
		p.Most = untabled[quantity.Current](r.Code, "largest overcurrent device")
		p.ForDrive = untabled[quantity.Current](r.Code, "largest overcurrent device for the drive")
		p.ByMotor = untabled[quantity.Current](r.Code, "device limit by the motor table")
		p.ForSource = untabled[quantity.Current](r.Code, "largest overcurrent device of the shared circuit")
		p.OnWire = untabled[quantity.Current](r.Code, "largest overcurrent device for the conductor")
		p.Chosen = untabled[quantity.Current](r.Code, chosen)
		p.AtSource = p.Chosen
		if m := r.Drive.MaxDevice; m.OK() {
			p.ByRule = []Limit{{"drive maker", m}}
		}
		return
	}
	limitsOnWire(r)
	p.Most = lowest("largest overcurrent device", explain.NEC("430.130(A) and 240.4").Remembered(), p.ForSource, p.OnWire)
	p.Chosen, p.Conflict = chooseDevice(r)
	p.AtSource = deviceAtSource(r)
}

// deviceAtSource is the device at the source: the chosen one, or, where that one stands in the box, the breaker that is there if the
// wire may have it, else the least that carries the circuit.
func deviceAtSource(r *Result) explain.Known[quantity.Current] {
	p, breaker := &r.Protection, job.Known(r.Job.Supply.Breaker)
	switch {
	case !p.InBox.OK() && !r.Job.Control.Device.Set:
		return p.Chosen
	case breaker.OK() && r.Branch.Total.OK() && covers(breaker.Value, r.Branch.Total.Value) && within(breaker.Value, p.OnWire):
		return breaker
	}
	return explain.Renamed("overcurrent device at the source", p.Least)
}

// limitsForDrive fills the limits that come from the motor table and from the drive's maker.
func limitsForDrive(r *Result) {
	p := &r.Protection
	current := motorCurrentAtSupply(r)
	p.MotorCurrent = current
	ordinary := explain.Derive[quantity.Current](motorDeviceLimit, "device limit by the motor table", current, p.Kind)
	byMotor := ordinary
	p.ByRule = []Limit{{"motor table", ordinary}}
	if ordinary.OK() && p.LeastDrive.OK() && ordinary.Value < p.LeastDrive.Value {
		byMotor = explain.Derive[quantity.Current](motorDeviceException, "device limit by the motor table, with its exception", current, p.Kind)
		p.Exception = byMotor.OK()
		p.ByRule = append(p.ByRule, Limit{"motor table, with its exception", byMotor})
	}
	maker := r.Drive.MaxDevice
	p.ByRule = append(p.ByRule, Limit{"drive maker", maker})
	p.ForDrive = lowest("largest overcurrent device for the drive", explain.NEC("430.130(A)").Remembered(), byMotor, maker)
	p.ByMotor, p.ForSource = byMotor, p.ForDrive
	if r.Branch.Others.Value > 0 {
		// A device that guards the drive and other loads together may be as much larger as they draw; the maker's figure is for
		// whatever device is nearest the drive, whatever else hangs on it.
		shared := explain.Derive[quantity.Current](sharedDeviceLimit, "device limit by the motor table and the loads beside it", byMotor, r.Branch.Others, p.Kind)
		p.ByRule = append(p.ByRule, Limit{"motor table and the loads beside it", shared})
		p.ForSource = lowest("largest overcurrent device of the shared circuit", explain.NEC("430.53(C)(4), 430.63 and 430.130(A)").Remembered(), shared, maker)
	}
}

// limitsOnWire fills the limits that come from the branch conductor.
func limitsOnWire(r *Result) {
	p, b := &r.Protection, &r.Branch
	byAmpacity := explain.Derive[quantity.Current](conductorDeviceLimit, "device limit by the conductor's ampacity", b.UsedAmpacity)
	small := explain.Derive[quantity.Current](smallConductorDevice, "device limit of small conductors", b.Used)
	p.ByRule = append(p.ByRule, Limit{"conductor ampacity", byAmpacity})
	if small.OK() {
		p.ByRule = append(p.ByRule, Limit{"small conductor", small})
	}
	const name = "largest overcurrent device for the conductor"
	switch {
	case !byAmpacity.OK():
		p.OnWire = explain.Renamed(name, byAmpacity)
	case small.OK():
		p.OnWire = lowest(name, explain.NEC("240.4(B) and (D)").Remembered(), byAmpacity, small)
	default:
		p.OnWire = explain.Renamed(name, byAmpacity)
	}
}

// motorCurrentAtSupply is the table current of the motor, put over to the supply's voltage where the drive itself raises the
// voltage in between: twice the volts out is twice the amperes in. A drive that falls short of the motor's volts raises
// nothing, and the table's own figure stands.
func motorCurrentAtSupply(r *Result) explain.Known[quantity.Current] {
	supply, wanted := job.Known(r.Job.Supply.Voltage), r.Voltage.Wanted
	if supply.OK() && wanted.OK() && r.Voltage.Gain.Value > 1.3 && wanted.Value > 1.3*supply.Value {
		return explain.Derive[quantity.Current](currentAtSupply, "motor table current put over to the supply's voltage", r.Motor.Table, wanted, supply)
	}
	return r.Motor.Table
}

// lowest returns the lowest of the limits that are known; missing when none is.
func lowest(name string, source explain.Source, limits ...explain.Known[quantity.Current]) explain.Known[quantity.Current] {
	var known []explain.Because
	var words, needed []string
	least := quantity.Current(0)
	for _, l := range limits {
		if !l.OK() {
			needed = append(needed, l.Why().Name)
			continue
		}
		if len(known) == 0 || l.Value < least {
			least = l.Value
		}
		known = append(known, l)
		words = append(words, "{"+l.Why().Name+"}")
	}
	if len(known) == 0 {
		return explain.Absent[quantity.Current](name, explain.Say("needs "+strings.Join(needed, " or ")))
	}
	k := explain.Chosen(name, least, lowestInWords(words), source, known...)
	if len(needed) > 0 {
		k.Why().Note = explain.Say("without " + strings.Join(needed, " and ") + ", which isn't known")
	}
	return k
}

// lowestInWords says that the lowest of the values is taken.
func lowestInWords(values []string) string {
	last := len(values) - 1
	switch last {
	case 0:
		return values[0]
	case 1:
		return "the lower of " + values[0] + " and " + values[1]
	}
	return "the lowest of " + strings.Join(values[:last], ", ") + " and " + values[last]
}

// chooseDevice picks the device: the one that is there if it passes, else the smallest standard rating that does, else one in
// the box for the drive alone behind a larger one that only has to suit the wire.
func chooseDevice(r *Result) (explain.Known[quantity.Current], explain.Phrase) {
	const name = "overcurrent device"
	p, b := &r.Protection, &r.Branch
	if !p.Least.OK() {
		return explain.Renamed(name, p.Least), explain.Phrase{}
	}
	breaker, inBox := job.Known(r.Job.Supply.Breaker), job.Known(r.Job.Control.Device)
	if !breaker.OK() && inBox.OK() && !p.ForDrive.OK() {
		return explain.Renamed(name, inBox), explain.Phrase{}
	}
	// The device nearest the drive is its branch-circuit device; the one at the source then only guards the wire.
	nearest, most, current := breaker, p.Most, b.Total
	if inBox.OK() {
		nearest, most, current = inBox, p.ForDrive, b.Current
	}
	if nearest.OK() && covers(nearest.Value, current.Value) && within(nearest.Value, most) {
		return explain.Chosen(name, nearest.Value, "{"+nearest.Why().Name+"}, which is not below {"+current.Why().Name+"} and not above the limits",
			explain.NEC("430.130(A)").Remembered(), nearest, current, most), explain.Phrase{}
	}
	breakerStays := breaker.OK() && covers(breaker.Value, b.Total.Value) && within(breaker.Value, p.OnWire)
	driveAlone := within(p.LeastDrive.Value, p.ForDrive)
	if !inBox.OK() && breakerStays && driveAlone {
		// The breaker suits the wire but not the drive: a smaller device goes into the box.
		p.InBox = explain.Chosen("overcurrent device to put into the box", p.LeastDrive.Value,
			"{"+p.LeastDrive.Why().Name+"}, since {"+breaker.Why().Name+"} is above {"+p.ForSource.Why().Name+"}", explain.NEC("430.130(A)").Remembered(), p.LeastDrive, breaker, p.ForSource)
		return explain.Renamed(name, p.InBox), explain.Phrase{}
	}
	if within(p.Least.Value, p.Most) {
		return explain.Chosen(name, p.Least.Value, "{"+p.Least.Why().Name+"}, the smallest standard rating within the limits",
			explain.NEC("240.6(A)"), p.Least, p.Most), explain.Phrase{}
	}
	if !inBox.OK() && driveAlone && within(p.Least.Value, p.OnWire) {
		p.InBox = explain.Chosen("overcurrent device to put into the box", p.LeastDrive.Value,
			"{"+p.LeastDrive.Why().Name+"}, since {"+p.Least.Why().Name+"} at the source is above {"+p.ForSource.Why().Name+"}", explain.NEC("430.130(A)").Remembered(), p.LeastDrive, p.Least, p.ForSource)
		return explain.Renamed(name, p.InBox), explain.Phrase{}
	}
	conflict := explain.Say("the drive draws {} but {}", b.Current.Value, quantity.Text(p.collisions(b.Current.Value)))
	return explain.Absent[quantity.Current](name, conflict), conflict
}

func within(rating quantity.Current, most explain.Known[quantity.Current]) bool {
	return !most.OK() || rating <= most.Value
}

// collisions names the limits that leave no standard rating for the current.
func (p *Protection) collisions(current quantity.Current) string {
	var list []string
	for _, l := range p.ByRule {
		if p.Exception && l.Name == "motor table" {
			continue
		}
		if l.Value.OK() && l.Value.Value < max(current, p.LeastDrive.Value) {
			list = append(list, fmt.Sprintf("the limit by the %s is %s", strings.ReplaceAll(l.Name, ", ", " "), shown(l.Value.Value)))
		}
	}
	return strings.Join(list, " and ")
}

// The formulas of this file's subject.

var kindParameter = explain.Parameter{Name: "device kind", Kind: quantity.KindText, Help: "kind of overcurrent device", Example: "inverse time breaker",
	Default: "inverse time breaker", Choices: []string{"inverse time breaker", "time-delay fuse", "non-time-delay fuse", "instantaneous trip breaker", "class J fuse", "class CC fuse", "semiconductor fuse"}}

var deviceCurrent = &explain.Formula{
	Name: "device-current", Title: "current that an overcurrent device should carry", Words: "{factor} × {drive input current} + {other loads}",
	Inputs: []explain.Parameter{
		driveInputParameter,
		{Name: "factor", Kind: quantity.KindRatio, Help: "125 % by common practice beside NFPA 70", Example: "125 %", Default: "125 %"},
		otherLoadsParameter,
	},
	Result: quantity.KindCurrent, Source: deviceMargin,
	Compute: explain.Of3(scaledWithOthers),
}

// deviceMargin is where the margin of an overcurrent device over a drive's input is from. NFPA 70 210.20(A) asks for 125 % of
// continuous loads, but a motor circuit's device goes by article 430, which sets largest ratings only.
var deviceMargin = explain.Practice("devices of 125 % of a drive's rated input, so that they don't trip warm; drive booklets ask for as much")

var sharedDeviceLimit = &explain.Formula{
	Name: "shared-device-limit", Title: "largest overcurrent device of a circuit that feeds a motor's drive and other loads",
	Words: "{device limit of the motor} + {other loads}, next standard rating of {device kind} down",
	Inputs: []explain.Parameter{
		{Name: "device limit of the motor", Kind: quantity.KindCurrent, Help: "by the motor table, for the drive alone", Example: "20 A"},
		{Name: "other loads", Kind: quantity.KindCurrent, Help: "what else hangs on the circuit", Example: "12.5 A"},
		kindParameter,
	},
	Result: quantity.KindCurrent, Source: explain.NEC("430.53(C)(4) and 430.63").Remembered(),
	Compute: explain.Of3(func(motor, others quantity.Current, kind quantity.Text) (explain.Answer, error) {
		rating, ok := catalogue.USRatings().AtMost(motor+others, catalogue.IsFuse(string(kind)))
		if !ok {
			return explain.Answer{}, fmt.Errorf("no standard rating is within %s", shown(motor+others))
		}
		return explain.Answer{Value: rating, Note: explain.Say("both together are {}", motor+others)}, nil
	}),
}

// nextRating makes the computation of the next standard rating of a list that is read when first needed.
func nextRating(list func() catalogue.Ratings) explain.Compute {
	return explain.Of2(func(i quantity.Current, kind quantity.Text) (explain.Answer, error) {
		rating, ok := list().AtLeast(i, catalogue.IsFuse(string(kind)))
		if !ok {
			return explain.Answer{}, fmt.Errorf("no standard rating reaches %s", shown(i))
		}
		return explain.Answer{Value: rating, Looked: true, Source: list().Source}, nil
	})
}

var standardDeviceRating = &explain.Formula{
	Name: "standard-device-rating", Title: "smallest standard rating of an overcurrent device", Words: "the smallest standard rating of {device kind} not below {current}",
	Inputs: []explain.Parameter{
		{Name: "current", Kind: quantity.KindCurrent, Help: "that it should carry", Example: "28.75 A"}, kindParameter,
	},
	Result: quantity.KindCurrent, Source: explain.NEC("240.6(A)"), Compute: nextRating(catalogue.USRatings),
}

var preferredDeviceRating = &explain.Formula{
	Name: "preferred-device-rating", Title: "smallest preferred rating of a miniature circuit-breaker", Words: "the smallest preferred rating of {device kind} not below {current}",
	Inputs: []explain.Parameter{
		{Name: "current", Kind: quantity.KindCurrent, Help: "that it must carry", Example: "19 A"}, kindParameter,
	},
	Result: quantity.KindCurrent, Source: explain.Source{Work: "IEC 60898-1", Edition: "2015", Place: "preferred values", Trust: explain.FromMemory},
	Compute: nextRating(catalogue.IECRatings),
}

var currentAtSupply = &explain.Formula{
	Name: "current-at-supply", Title: "motor current put over to the supply's voltage", Words: "{motor current} × {motor voltage} ÷ {supply voltage}",
	Inputs: []explain.Parameter{
		{Name: "motor current", Kind: quantity.KindCurrent, Help: "from the motor table", Example: "4.8 A"},
		motorVoltageParameter,
		{Name: "supply voltage", Kind: quantity.KindVoltage, Help: "ahead of the drive or transformer", Example: "240 V"},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("reading of NEC 430.130(A) where the voltage is raised behind the device: ask the inspector"),
	Compute: explain.Of3(func(i quantity.Current, motor, supply quantity.Voltage) (explain.Answer, error) {
		if supply <= 0 {
			return explain.Answer{}, fmt.Errorf("the supply voltage must be above zero")
		}
		return explain.Is(quantity.Scale(i, quantity.Part(motor, supply)))
	}),
}

var motorDeviceLimit = &explain.Formula{
	Name: "motor-device-limit", Title: "largest branch-circuit device of a motor", Words: "table percentage for {device kind} × {motor table current}, next standard rating up",
	Inputs: []explain.Parameter{
		tableCurrentParameter, kindParameter,
	},
	Result: quantity.KindCurrent, Source: explain.NEC("430.52(C)(1)(a)"),
	Compute: explain.Of2(func(i quantity.Current, kind quantity.Text) (explain.Answer, error) {
		d, ok := catalogue.MotorDeviceOf(string(kind))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no %s: the drive's maker names the fuse, 430.52(C)(5)", kind)
		}
		rating, ok := catalogue.USRatings().AtLeast(quantity.Scale(i, d.Percent), catalogue.IsFuse(string(kind)))
		if !ok {
			return explain.Answer{}, fmt.Errorf("no standard rating reaches %s of %s", shown(d.Percent), shown(i))
		}
		return explain.Answer{Value: rating, Source: d.Source, Words: shown(d.Percent) + " × {motor table current} for {device kind}, next standard rating up",
			Note: explain.Say("{} of the table current is {}", d.Percent, quantity.Scale(i, d.Percent))}, nil
	}),
}

var motorDeviceException = &explain.Formula{
	Name: "motor-device-exception", Title: "largest branch-circuit device of a motor where the ordinary limit won't do",
	Words: "the exception's percentage for {device kind} × {motor table current}, next standard rating down",
	Inputs: []explain.Parameter{
		tableCurrentParameter, kindParameter,
	},
	Result: quantity.KindCurrent, Source: explain.NEC("430.52(C)(1)(b), Exception 2 until 2020"),
	Compute: explain.Of2(func(i quantity.Current, kind quantity.Text) (explain.Answer, error) {
		d, ok := catalogue.MotorDeviceOf(string(kind))
		if !ok || d.Exception == 0 {
			return explain.Answer{}, fmt.Errorf("there is no exception for a %s", kind)
		}
		percent := d.Exception
		if kind == "inverse time breaker" && i > 100 {
			percent = 300 * quantity.Percent
		}
		rating, ok := catalogue.USRatings().AtMost(quantity.Scale(i, percent), catalogue.IsFuse(string(kind)))
		if !ok {
			return explain.Answer{}, fmt.Errorf("no standard rating is within %s of %s", shown(percent), shown(i))
		}
		return explain.Answer{Value: rating, Source: d.Source.At("430.52(C)(1)(b), Exception 2 until 2020"), Words: shown(percent) + " × {motor table current} for {device kind}, next standard rating down",
			Note: explain.Say("{} of the table current is {}", percent, quantity.Scale(i, percent))}, nil
	}),
}

var conductorDeviceLimit = &explain.Formula{
	Name: "conductor-device-limit", Title: "largest overcurrent device of a conductor", Words: "{ampacity}, next standard rating up; down above 800 A",
	Inputs: []explain.Parameter{{Name: "ampacity", Kind: quantity.KindCurrent, Help: "of the conductor as installed", Example: "32 A"}},
	Result: quantity.KindCurrent, Source: explain.NEC("240.4(B)").Remembered(),
	Compute: explain.Of1(func(i quantity.Current) (explain.Answer, error) {
		words := "{ampacity}, next standard rating up"
		next, ok := catalogue.USRatings().AtLeast(i, false)
		if !ok || next > 800 {
			words = "{ampacity}, next standard rating down"
			next, ok = catalogue.USRatings().AtMost(i, false)
		}
		if !ok {
			return explain.Answer{}, fmt.Errorf("no standard rating goes with %s", shown(i))
		}
		return explain.Answer{Value: next, Words: words}, nil
	}),
}

var smallConductorDevice = &explain.Formula{
	Name: "small-conductor-device", Title: "largest overcurrent device of a 14, 12 or 10 AWG conductor", Words: "table limit of {conductor}",
	Inputs: []explain.Parameter{sizeParameter},
	Result: quantity.KindCurrent, Source: explain.NEC("240.4(D)"),
	Compute: explain.Of1(func(size quantity.Conductor) (explain.Answer, error) {
		i, source, ok := catalogue.SmallConductorDevice(size)
		if !ok {
			return explain.Answer{}, fmt.Errorf("only 14, 12 and 10 AWG have such a limit")
		}
		return explain.Answer{Value: i, Looked: true, Source: source}, nil
	}),
}
