package power

import (
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// tableCurrent makes the Compute of a look-up in a table of motor currents, and says beside the figure when the row or
// the column isn't the motor's own.
func tableCurrent(lookUp func(quantity.ShaftPower, quantity.Voltage) (catalogue.CurrentRow, bool, error)) explain.Compute {
	return explain.Of2(func(p quantity.ShaftPower, v quantity.Voltage) (explain.Answer, error) {
		row, exact, err := lookUp(p, v)
		if err != nil {
			return explain.Answer{}, err
		}
		answer := explain.Answer{Value: row.Current, Source: row.Source, Looked: true}
		if !exact {
			answer.Value = row.Current * quantity.Current(row.Column/v)
			answer.Words = "figure at " + shown(row.Column) + " changed in inverse proportion to {motor voltage}"
			answer.Note = explain.Say("the table has no column for {}: its figure at {}, {}, was changed in inverse proportion", v, row.Column, row.Current)
			return answer, nil
		}
		if math.Abs(float64(p/row.Power)-1) > 0.015 {
			answer.Note = explain.Say("the table has no row for {}: the next larger row, "+row.Name+", stands; nothing was interpolated", p)
		}
		return answer, nil
	})
}

var motorTableInputs = []explain.Parameter{
	powerParameter,
	motorVoltageParameter,
}

var motorFullLoadCurrent = &explain.Formula{
	Name: "motor-full-load-current", Title: "full-load current of a three-phase motor, from the table",
	Words:  "row {motor power}, column {motor voltage}",
	Inputs: motorTableInputs, Result: quantity.KindCurrent, Source: explain.NEC("Table 430.250"),
	Compute: tableCurrent(catalogue.ThreePhaseCurrent),
}

var singlePhaseMotorCurrent = &explain.Formula{
	Name: "single-phase-motor-full-load-current", Title: "full-load current of a single-phase motor, from the table",
	Words:  "row {motor power}, column {motor voltage}",
	Inputs: motorTableInputs, Result: quantity.KindCurrent, Source: explain.NEC("Table 430.248"),
	Compute: tableCurrent(catalogue.SinglePhaseCurrent),
}

var typicalMotorCurrent = &explain.Formula{
	Name: "typical-motor-current-iec", Title: "typical full-load current of a three-phase motor, 50 Hz table",
	Words:  "row {motor power}, column {motor voltage}",
	Inputs: motorTableInputs, Result: quantity.KindCurrent,
	Source:  explain.Source{Work: "IEC 60947-4-1", Edition: "2018", Place: "Annex G"}.Remembered(),
	Compute: tableCurrent(catalogue.IECCurrent),
}

var serviceFactorCurrent = &explain.Formula{
	Name: "service-factor-current", Title: "motor current when it is loaded up to its service factor",
	Words: "{motor current} × {service factor}",
	Inputs: []explain.Parameter{
		motorCurrentParameter,
		{Name: "service factor", Kind: quantity.KindFactor, Help: "S.F. on the plate", Example: "1.15"},
	},
	Result: quantity.KindCurrent, Source: explain.Practice("current taken in proportion to load near full load"),
	Compute: explain.Of2(scaled[quantity.Current, quantity.Factor]),
}

// motorCurrent fills r.Motor for the connection that r.Voltage.Wanted names.
func motorCurrent(r *Result) {
	m := &r.Job.Motor
	if isSinglePhaseMotor(m) {
		r.Motor = noThreePhaseCurrent()
		return
	}
	r.Motor.Table = explain.Derive[quantity.Current](r.Code.Motor.Table, "motor full-load current from the table", m.Power, r.Voltage.Wanted)
	r.Motor.Nameplate = plateCurrent(r)
	if !r.Motor.Nameplate.OK() && r.Motor.Table.OK() {
		stand := explain.Assume("motor current for the drive and the overload", r.Motor.Table.Value, r.Code.Motor.PlateForOverload,
			explain.Say("the plate's current isn't known, so the table's stands in; read the plate, or measure at full load"))
		stand.Why().Inputs = []explain.Input{{As: r.Motor.Table.Why().Name, Reason: r.Motor.Table.Why()}}
		stand.Why().Words = "{" + r.Motor.Table.Why().Name + "}"
		stand.Why().Path = m.Currents.Path
		r.Motor.Nameplate = stand
	}
	r.Motor.AtService = explain.Renamed("motor current at the load intended", r.Motor.Nameplate)
	if m.UseService.Set && m.UseService.Value == "yes" {
		r.Motor.AtService = explain.Derive[quantity.Current](serviceFactorCurrent, "motor current with the service factor used", r.Motor.Nameplate, m.Service)
	}
	slowMotor(r)
}

// noThreePhaseCurrent is the current of a motor that no three-phase drive can feed: nothing may be sized from it.
func noThreePhaseCurrent() MotorCurrent {
	why := explain.Say("the motor is single-phase: no drive is sized for it")
	return MotorCurrent{
		Table:     explain.Needless[quantity.Current]("motor full-load current from the table", why),
		Nameplate: explain.Needless[quantity.Current]("motor nameplate current at the voltage used", why),
		AtService: explain.Needless[quantity.Current]("motor current at the load intended", why),
	}
}

// slowMotor puts the nameplate current in the table's place for motors slower than 1200 rpm and for those of several
// speeds, whose current the table understates.
func slowMotor(r *Result) {
	m := &r.Job.Motor
	if !r.Code.Motor.SlowByPlate {
		return
	}
	slow := m.Speed.Set && m.Speed.Value < 1200*quantity.RevPerMinute
	several := m.Speeds.Set && m.Speeds.Value > 1
	if !slow && !several || !r.Motor.Table.OK() || !m.Currents.Set || r.Motor.Nameplate.Value <= r.Motor.Table.Value {
		return
	}
	r.Motor.Table = explain.Chosen("motor full-load current for conductors and devices", r.Motor.Nameplate.Value,
		"the larger of {"+r.Motor.Nameplate.Why().Name+"} and {"+r.Motor.Table.Why().Name+"}, for a motor slower than 1200 rpm or of several speeds",
		explain.NEC("430.6(A)(1)").Remembered(), r.Motor.Nameplate, r.Motor.Table)
}

// plateCurrent returns the nameplate's current at the voltage that is to be used: the one at the same place in the list, and
// of a range of currents the one at the nearer end.
// A single current on a plate of two voltages is taken to belong to the one with which power, voltage and current agree.
func plateCurrent(r *Result) explain.Known[quantity.Current] {
	const name = "motor nameplate current at the voltage used"
	m := &r.Job.Motor
	volts, amps, wanted := m.Voltages.Value, m.Currents.Value, r.Voltage.Wanted
	connection, on := connectionAt(m, wanted.Value)
	if severalSpeeds(m) && m.SpeedAmps.Set && len(m.SpeedAmps.Value) > 0 {
		k := explain.Chosen(name, slices.Max(m.SpeedAmps.Value), "the largest of {"+m.SpeedAmps.Name+"}", explain.Practice("a motor of several speeds is sized for the larger current"), m.SpeedAmps)
		return k.Noted(explain.Say("sized for the larger; the overload is set to the current of the winding that stays"))
	}
	if !m.Currents.Set || !wanted.OK() {
		needs := m.Currents.Why()
		if m.Currents.Set {
			needs = wanted.Why()
		}
		k := explain.Absent[quantity.Current](name, explain.Say("needs "+needs.Name))
		k.Why().Inputs = []explain.Input{{As: needs.Name, Reason: needs}}
		k.Why().Path = m.Currents.Path
		return k
	}
	if on && len(amps) == len(volts) {
		return explain.Chosen(name, connection.current(wanted.Value), "the one of {"+m.Currents.Name+"} that belongs to {"+wanted.Why().Name+"}",
			r.Code.Motor.PlateForOverload, m.Currents, wanted)
	}
	if len(amps) == 1 && on && m.Power.Set {
		if owner := ownerOf(amps[0], volts, m.Power.Value); owner >= 0 {
			i := amps[0] * quantity.Current(volts[owner]/wanted.Value)
			k := explain.Chosen(name, i, "{"+m.Currents.Name+"} × its voltage ÷ {"+wanted.Why().Name+"}", explain.Physics("same power at either voltage"), m.Currents, m.Power, wanted)
			return k.Noted(explain.Say("the plate gives one current for several voltages: by the power it belongs to {}", volts[owner]))
		}
	}
	k := explain.Absent[quantity.Current](name, explain.Say("the plate's currents and voltages don't pair up: write one current for each voltage, in the same order"))
	k.Why().Inputs = []explain.Input{{As: m.Currents.Name, Reason: m.Currents.Why()}}
	return k
}

// ownerOf returns the index of the one voltage at which the current gives a believable efficiency × power factor; -1 if none
// or several do.
func ownerOf(i quantity.Current, volts quantity.Voltages, p quantity.ShaftPower) int {
	owner := -1
	for n, v := range volts {
		f := float64(p) / (math.Sqrt(3) * float64(v) * float64(i))
		if f < leastEfficiencyFactor(p) || f > mostEfficiencyFactor {
			continue
		}
		if owner >= 0 {
			return -1
		}
		owner = n
	}
	return owner
}

// supplyPhases returns the number of supply phases, one if the job doesn't say.
func supplyPhases(j *job.Job) explain.Known[quantity.Count] {
	return job.Or(j.Supply.Phases, 1, explain.Practice("this job's usual case"), explain.Say("single-phase unless you say otherwise"))
}
