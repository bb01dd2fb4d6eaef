package power

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// reinforceFrom is the leakage from which one ordinary grounding conductor is not enough, on a cord and on fixed wiring alike:
// fixed wiring may then have one conductor of 10 mm² copper, which doesn't come loose unseen, or a second one. IEC 60204-1
// 8.2.6 asks the same from 10 mA, but the drive's own product standard comes first, and its booklet with it.
var reinforceFrom = explain.Constant("leakage from which the ground wire must be doubled or enlarged", 3.5*quantity.Milliampere,
	explain.Source{Work: "IEC 61800-5-1", Edition: "2007", Place: "4.3.5.5.2", Trust: explain.FromMemory})

// equipmentGround fills r.Grounding; protection, cord and leakage are known.
func equipmentGround(r *Result) {
	g := &r.Grounding
	switch r.Code.GroundingBy {
	case ByConductor:
		g.Base = explain.Derive[quantity.Conductor](protectiveConductor, "grounding conductor before any increase", r.Branch.Conductor)
		g.Least = explain.Renamed("least grounding conductor", g.Base)
	case ByDevice:
		g.Base = explain.Derive[quantity.Conductor](groundingConductor, "grounding conductor before any increase", r.Branch.Device)
		g.Least = explain.Derive[quantity.Conductor](proportionalGrounding, "least grounding conductor", g.Base, r.Branch.Smallest, r.Branch.Used)
	}
	g.Conductor = explain.Renamed("equipment grounding conductor", g.Least)
	if r.Job.Control.Grounding.Set {
		g.Conductor = job.Known(r.Job.Control.Grounding)
	}
	g.Second = reinforcement(r)
	perLength := explain.Derive[quantity.LinearResistance](conductorResistance, "resistance of the grounding conductor", g.Conductor, makeOf(r, "ground"))
	length := explain.Renamed("length of the grounding path", job.Known(r.Job.Supply.Run))
	if onCord(r) && length.OK() && r.Cord.Length.OK() {
		length = explain.Chosen("length of the grounding path", length.Value+r.Cord.Length.Value,
			"{"+r.Job.Supply.Run.Name+"} + {"+r.Cord.Length.Why().Name+"}", explain.Physics("lengths add"), job.Known(r.Job.Supply.Run), r.Cord.Length)
	}
	joints := explain.Assume("resistance of good joints", 0.1*quantity.Ohm, explain.Practice("continuity checks on machines"), explain.Say("a clean bolted joint is far below"))
	warm := explain.Derive[quantity.Resistance](groundPathResistance, "resistance from casting to ground, warm", perLength, length, joints)
	g.Expected = explain.Derive[quantity.Resistance](resistanceAtTemperature, "expected resistance from casting to ground",
		warm, tableTemperature, measuringTemperature, copperCoefficient)
}

// The figures that put a table's warm resistance over to the bench.
var (
	tableTemperature     = explain.Constant("temperature of the resistance table", quantity.Celsius(75), explain.NEC("Chapter 9 Table 8"))
	measuringTemperature = explain.Constant("temperature at which the ground is measured", quantity.Celsius(20), explain.Practice("a shop with the power off"))
	copperCoefficient    = explain.Constant("temperature coefficient of copper at 75 °C", quantity.Factor(0.00323), explain.NEC("Chapter 9 Table 8, note 2"))
)

// onCord reports whether the machine hangs on a plug. Where nothing is written, a receptacle or a cord tells.
func onCord(r *Result) bool {
	s := &r.Job.Supply
	if s.Connection.Set {
		return s.Connection.Value == "cord and plug"
	}
	return s.Receptacle.Set || s.Cord.Set || s.CordLength.Set
}

// reinforcement says whether the leakage asks for more than one ordinary grounding conductor.
func reinforcement(r *Result) explain.Known[quantity.Text] {
	const name = "second grounding conductor"
	leak := r.Leakage.Machine
	if !leak.OK() {
		return absentFrom[quantity.Text](name, explain.Say("needs "+leak.Why().Name), leak)
	}
	limit := reinforceFrom
	if leak.Value <= limit.Value {
		return explain.Chosen[quantity.Text](name, "not asked for", "{"+leak.Why().Name+"} is not above {"+limit.Why().Name+"}", limit.Why().Source, leak, limit)
	}
	k := explain.Chosen(name, quantity.Text("a second one of the same size on its own terminal, or one of "+shown(r.Code.Reinforced)+" or thicker"),
		"{"+leak.Why().Name+"} is above {"+limit.Why().Name+"}", limit.Why().Source, leak, limit)
	return k.Noted(explain.Say("with the only ground wire loose, the casting would give the next hand {}", leak.Value))
}

var groundingConductor = &explain.Formula{
	Name: "grounding-conductor", Title: "smallest equipment grounding conductor, before any increase", Words: "table size for {overcurrent device}",
	Inputs: []explain.Parameter{{Name: "overcurrent device", Kind: quantity.KindCurrent, Help: "ahead of the circuit", Example: "30 A"}},
	Result: quantity.KindConductor, Source: explain.NEC("Table 250.122"),
	Compute: explain.Of1(func(i quantity.Current) (explain.Answer, error) {
		size, source, ok := catalogue.GroundingConductor(i)
		if !ok {
			return explain.Answer{}, fmt.Errorf("the table ends at 1200 A")
		}
		return explain.Answer{Value: size, Looked: true, Source: source}, nil
	}),
}

var proportionalGrounding = &explain.Formula{
	Name: "proportional-grounding-conductor", Title: "grounding conductor of a circuit whose conductors were increased in size",
	Words: "{grounding conductor} × {installed conductor} ÷ {minimum conductor}, each in circular mils, next size up, never larger than the conductors",
	Inputs: []explain.Parameter{
		{Name: "grounding conductor", Kind: quantity.KindConductor, Help: "from the table, before any increase", Example: "10 AWG"},
		{Name: "minimum conductor", Kind: quantity.KindConductor, Help: "smallest circuit conductor that would pass", Example: "8 AWG"},
		{Name: "installed conductor", Kind: quantity.KindConductor, Help: "circuit conductor that is used", Example: "1 AWG"},
	},
	Result: quantity.KindConductor, Source: explain.NEC("250.122(B), and 250.122(A) for the most"),
	Compute: explain.Of3(func(base, minimum, used quantity.Conductor) (explain.Answer, error) {
		b, okB := catalogue.NominalArea(base)
		m, okM := catalogue.NominalArea(minimum)
		u, okU := catalogue.NominalArea(used)
		if !okB || !okM || !okU {
			return explain.Answer{}, fmt.Errorf("the table of circular mils has no %s, %s or %s", shown(base), shown(minimum), shown(used))
		}
		if u <= m {
			if u < b {
				return explain.Answer{Value: used, Words: "{installed conductor}: never larger than the circuit conductors"}, nil
			}
			return explain.Answer{Value: base, Words: "{grounding conductor}, as {installed conductor} is no thicker than {minimum conductor}"}, nil
		}
		size, ok := catalogue.NextConductor(quantity.Scale(b, quantity.Part(u, m)))
		if !ok {
			return explain.Answer{}, fmt.Errorf("no single conductor of the table is large enough")
		}
		if s, _ := catalogue.NominalArea(size); s > u {
			size = used
		}
		return explain.Answer{Value: size, Note: explain.Say("{} times the area", quantity.Factor(quantity.Part(u, m)))}, nil
	}),
}

// metricSizes are the conductor sizes of IEC 60228 that occur here, in mm².
var metricSizes = []float64{1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240}

var protectiveConductor = &explain.Formula{
	Name: "protective-conductor", Title: "smallest protective conductor of the same metal", Words: "by the line conductor {conductor}: the same up to 16 mm², 16 mm² up to 35 mm², half above",
	Inputs: []explain.Parameter{{Name: "conductor", Kind: quantity.KindConductor, Help: "line conductor", Example: "25 mm²"}},
	Result: quantity.KindConductor, Source: explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "Table 1"},
	Compute: explain.Of1(func(size quantity.Conductor) (explain.Answer, error) {
		s := float64(size.Area() / quantity.SquareMM)
		need, words := s/2, "half of {conductor}, next size up, as it is above 35 mm²"
		switch {
		case s <= 16:
			return explain.Answer{Value: size, Words: "{conductor}, as it is not above 16 mm²"}, nil
		case s <= 35:
			need, words = 16, "16 mm², as {conductor} is above that and not above 35 mm²"
		}
		for _, m := range metricSizes {
			if covers(quantity.Factor(m), quantity.Factor(need)) {
				return explain.Answer{Value: quantity.SquareMillimetres(m), Words: words}, nil
			}
		}
		return explain.Answer{}, fmt.Errorf("no single conductor is large enough")
	}),
}

var groundPathResistance = &explain.Formula{
	Name: "ground-path-resistance", Title: "resistance of a sound grounding path", Words: "{resistance per length} × {length} + {joints}",
	Inputs: []explain.Parameter{
		{Name: "resistance per length", Kind: quantity.KindLinearResistance, Help: "of the grounding conductor, warm: cold it is a fifth less", Example: "1.24 ohm/kft"},
		{Name: "length", Kind: quantity.KindLength, Help: "casting to panel", Example: "50 ft"},
		{Name: "joints", Kind: quantity.KindResistance, Help: "all joints together", Example: "0.1 ohm", Default: "0.1 ohm"},
	},
	Result: quantity.KindResistance, Source: explain.Physics("resistances in series add"),
	Compute: explain.Of3(func(r quantity.LinearResistance, l quantity.Length, joints quantity.Resistance) (explain.Answer, error) {
		return explain.Is(r.Over(l) + joints)
	}),
}
