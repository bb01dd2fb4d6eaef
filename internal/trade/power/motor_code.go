package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// MotorCode is the part of a rule set that concerns the motor.
type MotorCode struct {
	// Frequency is the supply frequency to assume where nobody says.
	Frequency quantity.Frequency
	// Table gives a motor's full-load current from its power and voltage.
	Table *explain.Formula
	// SinglePhase gives the same of a single-phase motor; nil where the set has no such table.
	SinglePhase *explain.Formula
	// PlateForOverload is where the set says that the nameplate current sets overload and drive.
	PlateForOverload explain.Source
	// OverloadMost and OverloadIfStart give the largest setting of the motor's overload protection from nameplate current,
	// service factor and temperature rise: as a rule, and where that won't start the motor.
	OverloadMost, OverloadIfStart *explain.Formula
	// Conductor is the factor on the motor's current for the least ampacity of the motor lead.
	Conductor explain.Known[quantity.Ratio]
	// Residual is the voltage below which capacitors count as discharged.
	Residual explain.Known[quantity.Voltage]
	// SlowByPlate says that motors of several speeds, and slow ones, go by the nameplate instead of the table.
	SlowByPlate bool
}

var usMotorCode = MotorCode{
	Frequency: 60, Table: motorFullLoadCurrent, SinglePhase: singlePhaseMotorCurrent, PlateForOverload: explain.NEC("430.6(A)(2)").Remembered(),
	OverloadMost: overloadMost, OverloadIfStart: overloadIfStart,
	Conductor:   explain.Constant("factor on the motor current", 125*quantity.Percent, explain.NEC("430.122(B)")),
	Residual:    explain.Constant("voltage that counts as discharged", quantity.Voltage(50), explain.NEC("460.6")),
	SlowByPlate: true,
}

var iecMotorCode = MotorCode{
	Frequency: 50, Table: typicalMotorCurrent,
	PlateForOverload: explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "7.3", Trust: explain.FromMemory},
	OverloadMost:     overloadAtPlate, OverloadIfStart: overloadAtPlate,
	Conductor: explain.Constant("factor on the motor current", 100*quantity.Percent,
		explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "12.4", Trust: explain.FromMemory}),
	Residual: explain.Constant("voltage that counts as discharged", quantity.Voltage(60),
		explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "6.2.4"}),
}
