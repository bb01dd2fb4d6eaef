package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Code is a rule set as data: the figures in which one family of installation rules differs from another. Code that sizes
// asks a Code for its figure; it never asks which set it is.
type Code struct {
	Set     explain.RuleSet
	Name    string // for the sheet's title
	Edition string
	// DriveConductor is the factor on a drive's rated input current for the least ampacity of its supply conductors.
	DriveConductor explain.Known[quantity.Ratio]
	// Motor is the part that concerns the motor.
	Motor MotorCode
}

// codeOf returns the Code that the job names; the US one where it names none.
func codeOf(j *job.Job) Code {
	if j.Rules.Set && explain.RuleSet(j.Rules.Value) == explain.IEC {
		return iecCode
	}
	return usCode
}

var usCode = Code{
	Motor: usMotorCode,
	Set: explain.US, Name: "NFPA 70 (National Electrical Code) with NFPA 79", Edition: "2023",
	DriveConductor: explain.Constant("factor on the drive's input current", 125*quantity.Percent, explain.NEC("430.122(A)")),
}

var iecCode = Code{
	Motor: iecMotorCode,
	Set: explain.IEC, Name: "IEC 60364 with IEC 60204-1", Edition: "2016",
	DriveConductor: explain.Constant("factor on the drive's input current", 100*quantity.Percent,
		explain.Source{Work: "IEC 60364-4-43", Edition: "2008", Place: "433.1", Trust: explain.FromMemory}),
}
