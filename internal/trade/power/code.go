package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
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
	// Device is the factor on the drive's input current for the overcurrent device that carries it with a margin.
	Device explain.Known[quantity.Ratio]
	// Disconnect is the factor on the drive's input current for the least rating of the main switch.
	Disconnect explain.Known[quantity.Ratio]
	// Switches are the usual ampere ratings of main switches, smallest first.
	Switches []quantity.Current
	// SwitchSource says where those are from.
	SwitchSource explain.Source
	// Ratings is the formula that finds the next standard rating of an overcurrent device; Standard is the list behind it.
	Ratings  *explain.Formula
	Standard catalogue.Ratings
	// GroundingBy says what the grounding conductor is sized by.
	GroundingBy GroundingBasis
	// Drop is the recommended most voltage drop of a branch circuit.
	Drop explain.Known[quantity.Ratio]
	// Reinforced is the smallest grounding conductor that may stand alone against a drive's leakage.
	Reinforced quantity.Conductor
	// SwitchKind is the kind of main switch that is asked for, and ByHorsepower whether a horsepower rating is asked of it.
	SwitchKind   explain.Known[quantity.Text]
	ByHorsepower bool
	// TypeLetters is true where residual-current devices are marked with the letters AC, A, F and B. Elsewhere the sheet leaves
	// the letter out: "class A" is something else on a ground-fault interrupter.
	TypeLetters bool
	// Unmarked is the short-circuit current rating of parts that carry no marking.
	Unmarked explain.Known[quantity.Current]
	// Tables is empty where this rule set's conductor, device and raceway tables are in the catalogue; otherwise it says
	// that they aren't. Nothing is then taken from another set's tables.
	Tables explain.Phrase
	// Motor is the part that concerns the motor.
	Motor MotorCode
}

// GroundingBasis is what a rule set sizes the equipment grounding (protective) conductor by.
type GroundingBasis int

// The bases.
const (
	ByDevice    GroundingBasis = iota // the overcurrent device ahead of the circuit
	ByConductor                       // the line conductor
)

// codeOf returns the Code that the job names; the US one where it names none.
func codeOf(j *job.Job) Code {
	code := usCode
	code.Standard = catalogue.USRatings()
	if j.Rules.Set && explain.RuleSet(j.Rules.Value) == explain.IEC {
		code = iecCode
		code.Standard = catalogue.IECRatings()
	}
	return code
}

// hasTables reports whether the rule set's tables are there to size from.
func (c Code) hasTables() bool { return c.Tables.Empty() }

var usCode = Code{
	Motor: usMotorCode,
	Set:   explain.US, Name: "NFPA 70 (National Electrical Code) with NFPA 79", Edition: "2023",
	DriveConductor: explain.Constant("factor on the drive's input current", 125*quantity.Percent, explain.NEC("430.122(A)")),
	Device:         explain.Constant("factor for the overcurrent device", 125*quantity.Percent, deviceMargin),
	Disconnect:     explain.Constant("factor for the disconnect", 115*quantity.Percent, explain.NEC("430.128").Remembered()),
	Switches:       []quantity.Current{30, 60, 100, 200, 400},
	SwitchSource:   explain.Source{Work: "UL 98", Place: "usual switch ratings", Trust: explain.FromMemory},
	Ratings:        standardDeviceRating,
	GroundingBy:    ByDevice,
	SwitchKind: explain.Constant[quantity.Text]("kind of disconnect", "AC-23 or AC-3, or marked in horsepower",
		explain.Source{Work: "NFPA 70 and IEC 60947-3", Place: "430.109(A); utilisation categories", Trust: explain.FromMemory}),
	ByHorsepower: true,
	Reinforced:   quantity.AWG(6), // the smallest gauge not below 10 mm²
	Drop:         explain.Constant("recommended most voltage drop", 3*quantity.Percent, explain.NEC("210.19(A), informational note").Remembered()),
	Unmarked: explain.Constant("short-circuit rating of unmarked parts", 5000*quantity.Ampere,
		explain.Source{Work: "UL 508A", Place: "Table SB4.1", Trust: explain.FromMemory}),
}

var iecCode = Code{
	Motor: iecMotorCode,
	Set:   explain.IEC, Name: "IEC 60364 with IEC 60204-1", Edition: "2016",
	DriveConductor: explain.Constant("factor on the drive's input current", 100*quantity.Percent,
		explain.Source{Work: "IEC 60364-4-43", Edition: "2008", Place: "433.1", Trust: explain.FromMemory}),
	Device: explain.Constant("factor for the overcurrent device", 100*quantity.Percent,
		explain.Source{Work: "IEC 60364-4-43", Edition: "2008", Place: "433.1", Trust: explain.FromMemory}),
	Disconnect: explain.Constant("factor for the disconnect", 100*quantity.Percent,
		explain.Source{Work: "IEC 60204-1", Edition: "2016", Place: "5.3.3", Trust: explain.FromMemory}),
	Switches:     []quantity.Current{16, 20, 25, 32, 40, 63, 80, 100, 125, 160, 200, 250, 315, 400},
	SwitchSource: explain.Source{Work: "IEC 60947-3", Place: "usual switch ratings", Trust: explain.FromMemory},
	Ratings:      preferredDeviceRating,
	GroundingBy:  ByConductor,
	SwitchKind: explain.Constant[quantity.Text]("kind of disconnect", "AC-23 or AC-3",
		explain.Source{Work: "IEC 60204-1 and IEC 60947-3", Place: "5.3.2; utilisation categories", Trust: explain.FromMemory}),
	TypeLetters: true,
	Reinforced:  quantity.SquareMillimetres(10),
	Drop: explain.Constant("recommended most voltage drop", 5*quantity.Percent,
		explain.Source{Work: "IEC 60364-5-52", Edition: "2009", Place: "Annex G", Trust: explain.FromMemory}),
	Unmarked: explain.Absent[quantity.Current]("short-circuit rating of unmarked parts",
		explain.Say("this rule set gives unmarked parts no rating: find the marking or ask the maker")),
	Tables: explain.Say("the IEC tables for this are not in the catalogue yet; no figure of another rule set is shown in their place"),
}

// citing returns k with the source where the rule set gives the figure that k turns on.
func citing[V, F quantity.Value](k explain.Known[V], figure explain.Known[F]) explain.Known[V] {
	k.Why().Source = figure.Why().Source
	return k
}

// untabled returns the value that can't be had because the rule set's tables aren't there.
func untabled[V quantity.Value](c Code, name string) explain.Known[V] {
	return explain.Absent[V](name, c.Tables)
}
