package power

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// cordAndPlug fills r.Cord; where the machine is hard-wired nothing of it applies.
func cordAndPlug(r *Result) {
	c, s := &r.Cord, &r.Job.Supply
	if !onCord(r) {
		*c = noCord()
		return
	}
	c.Length = job.Or(s.CordLength, 10*quantity.Foot, explain.Practice("machines on a plug"), explain.Say("a usual length: measure yours"))
	if !r.Code.hasTables() {
		c.Smallest = untabled[quantity.Conductor](r.Code, "smallest cord that passes")
		c.Conductor = untabled[quantity.Conductor](r.Code, "cord conductor")
		c.Ampacity = untabled[quantity.Current](r.Code, "ampacity of the cord")
		c.Receptacle = untabled[quantity.Text](r.Code, "smallest receptacle that passes")
		c.Asked = untabled[quantity.Current](r.Code, "least rating of the receptacle")
		c.Rating = untabled[quantity.Current](r.Code, "rating of the receptacle")
		if s.Cord.Set {
			c.Conductor = job.Known(s.Cord)
		}
		return
	}
	neutral := neutralWanted(r)
	carrying := explain.Derive[quantity.Count](carryingInCord, "current-carrying conductors in the cord", supplyPhases(r.Job))
	c.Correction = explain.Derive[quantity.Factor](cordCorrection, "correction for the air around the cord", shopAir(r.Job))
	c.Smallest = explain.Derive[quantity.Conductor](smallestCord, "smallest cord that passes", r.Branch.Least, r.Branch.Device, carrying, c.Correction)
	c.Conductor = explain.Renamed("conductor of the cord", c.Smallest)
	if s.Cord.Set {
		c.Conductor = job.Known(s.Cord)
	}
	table := explain.Derive[quantity.Current](cordAmpacity, "ampacity of the cord in 30 °C air", c.Conductor, carrying)
	c.Ampacity = explain.Derive[quantity.Current](correctedAmpacity, "ampacity of the cord", table, c.Correction, noAdjustment)
	c.Asked = explain.Renamed("least rating of the receptacle", r.Branch.Device)
	c.Receptacle = explain.Derive[quantity.Text](smallestReceptacle, "smallest receptacle that passes", c.Asked, job.Known(s.Voltage), neutral)
	c.Rating = explain.Derive[quantity.Current](receptacleRating, "rating of the receptacle", job.Known(s.Receptacle))
}

// noCord is the cord of a machine that is hard-wired.
func noCord() Cord {
	why := explain.Say("the machine is hard-wired")
	return Cord{
		Conductor:  explain.Needless[quantity.Conductor]("conductor of the cord", why),
		Smallest:   explain.Needless[quantity.Conductor]("smallest cord that passes", why),
		Correction: explain.Needless[quantity.Factor]("correction for the air around the cord", why),
		Ampacity:   explain.Needless[quantity.Current]("ampacity of the cord", why),
		Length:     explain.Needless[quantity.Length]("length of the cord", why),
		Receptacle: explain.Needless[quantity.Text]("smallest receptacle that passes", why),
		Asked:      explain.Needless[quantity.Current]("least rating of the receptacle", why),
		Rating:     explain.Needless[quantity.Current]("rating of the receptacle", why),
	}
}

// noAdjustment is the adjustment of a cord by itself: its table counts its own conductors.
var noAdjustment = explain.Constant("adjustment of a cord by itself", 100*quantity.Percent, explain.NEC("Table 400.5(A)(1)"))

// neutralWanted says whether something on the machine needs 120 V out of a 240 V supply.
func neutralWanted(r *Result) explain.Known[quantity.Text] {
	const name = "neutral wanted"
	supply := job.Known(r.Job.Supply.Voltage)
	for n := range r.Job.Loads {
		l := &r.Job.Loads[n]
		if needsNeutral(l, r.Job) {
			return explain.Chosen[quantity.Text](name, "yes", "{"+l.Voltage.Name+"} is half of {"+supply.Why().Name+"}", explain.Physics("split-phase supply"),
				job.Known(l.Voltage), supply)
		}
	}
	k := explain.Assume[quantity.Text](name, "no", explain.Practice("job file"), explain.Say("no load of half the supply's voltage is written under loads"))
	return k
}

// needsNeutral reports whether the load runs on line to neutral: half the voltage of the two lines.
func needsNeutral(l *job.Load, j *job.Job) bool {
	if !l.Voltage.Set || !j.Supply.Voltage.Set || l.Fed.Value == "drive output" || l.Fed.Value == "another circuit" {
		return false
	}
	switch l.Sort.Value {
	case "coil", "electronics", "brake", "magnetic chuck": // on a transformer or supply of their own
		return false
	}
	v, s := l.Voltage.Value, j.Supply.Voltage.Value
	return s >= 200 && v >= 100 && v <= 130
}

var carryingInCord = &explain.Formula{
	Name: "cord-conductors", Title: "current-carrying conductors in a cord", Words: "2 on a single-phase supply, 3 on three phases: {phases}; a neutral that carries only the difference doesn't count",
	Inputs: []explain.Parameter{phasesParameter},
	Result: quantity.KindCount, Source: explain.NEC("400.5(A)").Remembered(),
	Compute: explain.Of1(func(phases quantity.Count) (explain.Answer, error) {
		const neutral = "; a neutral that carries only the difference doesn't count"
		if phases == 3 {
			return explain.Answer{Value: quantity.Count(3), Words: "3, as the supply has {phases} phases" + neutral}, nil
		}
		return explain.Answer{Value: quantity.Count(2), Words: "2, as the supply has {phases} phase" + neutral}, nil
	}),
}

var carryingParameter = explain.Parameter{Name: "carrying", Kind: quantity.KindCount, Help: "conductors that carry current: 2 or 3", Example: "2", Default: "2"}

var cordAmpacity = &explain.Formula{
	Name: "cord-ampacity", Title: "ampacity of hard-service flexible cord", Words: "table current of {conductor} with {carrying} carrying",
	Inputs: []explain.Parameter{sizeParameter, carryingParameter},
	Result: quantity.KindCurrent, Source: explain.NEC("Table 400.5(A)(1)"),
	Compute: explain.Of2(func(size quantity.Conductor, carrying quantity.Count) (explain.Answer, error) {
		i, source, ok := catalogue.CordAmpacity(size, carrying)
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no cord of %s", shown(size))
		}
		return explain.Answer{Value: i, Looked: true, Source: source}, nil
	}),
}

var cordCorrection = &explain.Formula{
	Name: "cord-correction", Title: "factor on a cord's ampacity for the air around it", Words: "table factor at {ambient} for 90 °C cord, never above 1",
	Inputs: []explain.Parameter{ambientParameter},
	Result: quantity.KindFactor, Source: explain.NEC("400.5(A) and Table 310.15(B)(1)(1)"),
	Compute: explain.Of1(func(ambient quantity.Temperature) (explain.Answer, error) {
		if ambient <= 30 {
			return explain.Answer{Value: quantity.Factor(1), Words: "1, as {ambient} is not above 30 °C"}, nil
		}
		f, source, ok := catalogue.AmpacityCorrection(ambient, 90)
		if !ok {
			return explain.Answer{}, fmt.Errorf("no cord may be used in air of %.0f °C", float64(ambient))
		}
		return explain.Answer{Value: f, Looked: true, Source: source, Note: explain.Say("for cord marked 90 °C: without that mark cords count for 60 °C")}, nil
	}),
}

var smallestCord = &explain.Formula{
	Name: "smallest-cord", Title: "smallest flexible cord that passes",
	Words: "the smallest with {least ampacity} or more, {carrying} carrying, corrected by {correction}, that {overcurrent device} may protect (next standard rating up)",
	Inputs: []explain.Parameter{
		leastAmpacityParameter,
		{Name: "overcurrent device", Kind: quantity.KindCurrent, Help: "ahead of the cord", Example: "30 A"},
		carryingParameter,
		{Name: "correction", Kind: quantity.KindFactor, Help: "for air above 30 °C", Example: "0.96", Default: "1"},
	},
	Result: quantity.KindConductor, Source: explain.NEC("Table 400.5(A)(1) and 240.5(A)").Remembered(),
	Compute: explain.Of4(func(least, device quantity.Current, carrying quantity.Count, correction quantity.Factor) (explain.Answer, error) {
		for _, size := range catalogue.CordSizes() {
			i, _, ok := catalogue.CordAmpacity(size, carrying)
			i = quantity.Scale(i, correction)
			if ok && covers(i, least) && cordSuits(i, device) {
				return explain.Answer{Value: size, Note: explain.Say("it carries {}", i)}, nil
			}
		}
		return explain.Answer{}, fmt.Errorf("no flexible cord of the table carries %s behind %s: hard-wire the machine", shown(least), shown(device))
	}),
}

// cordSuits reports whether the device protects a cord of that ampacity.
func cordSuits(ampacity, device quantity.Current) bool {
	next, ok := catalogue.USRatings().AtLeast(ampacity, false)
	return device <= ampacity || ok && device <= next
}

var smallestReceptacle = &explain.Formula{
	Name: "smallest-receptacle", Title: "smallest receptacle with a ground that passes",
	Words: "the smallest configuration for {supply voltage} not below {current}; neutral wanted: {neutral}",
	Inputs: []explain.Parameter{
		{Name: "current", Kind: quantity.KindCurrent, Help: "rating of the circuit's overcurrent device", Example: "30 A"},
		supplyVoltageParameter,
		{Name: "neutral", Kind: quantity.KindText, Help: "does the machine need one", Example: "no", Default: "no", Choices: []string{"yes", "no"}},
	},
	Result: quantity.KindText, Source: explain.Source{Work: "NEMA WD 6 and NFPA 70", Place: "configurations; 210.21(B)(1)", Trust: explain.FromMemory},
	Compute: explain.Of3(func(i quantity.Current, v quantity.Voltage, neutral quantity.Text) (explain.Answer, error) {
		best := catalogue.Receptacle{}
		for _, c := range catalogue.Receptacles() {
			if !c.Ground || !covers(c.Rating, i) || !fitsVoltage(c, v) || (v > 150 && (neutral == "yes") != c.Neutral) {
				continue
			}
			if best.Rating == 0 || c.Rating < best.Rating {
				best = c
			}
		}
		if best.Rating == 0 {
			return explain.Answer{}, fmt.Errorf("no receptacle of the table carries %s at %s: hard-wire the machine, or use a pin-and-sleeve connector rated for it", shown(i), shown(v))
		}
		return explain.Answer{Value: quantity.Text(best.Configuration), Source: best.Source, Note: explain.Say("{} at {}; the locking kind of the same rating will do", best.Rating, best.Volts)}, nil
	}),
}

// fitsVoltage reports whether the receptacle is made for the supply's voltage.
func fitsVoltage(c catalogue.Receptacle, v quantity.Voltage) bool {
	if v > 150 {
		return c.TwoLive && v <= c.Volts*1.06
	}
	return !c.TwoLive
}

var receptacleRating = &explain.Formula{
	Name: "receptacle-rating", Title: "ampere rating of a receptacle", Words: "the rating of {receptacle}",
	Inputs: []explain.Parameter{{Name: "receptacle", Kind: quantity.KindText, Help: "its configuration number", Example: "6-30",
		Choices: []string{"5-15", "5-20", "6-15", "6-20", "6-30", "6-50", "10-30", "10-50", "14-30", "14-50", "L6-15", "L6-20", "L6-30", "L14-20", "L14-30"}}},
	Result: quantity.KindCurrent, Source: explain.Source{Work: "NEMA WD 6", Trust: explain.FromMemory},
	Compute: explain.Of1(func(configuration quantity.Text) (explain.Answer, error) {
		c, ok := catalogue.ReceptacleOf(string(configuration))
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table has no receptacle %s", configuration)
		}
		return explain.Answer{Value: c.Rating, Looked: true, Source: c.Source}, nil
	}),
}
