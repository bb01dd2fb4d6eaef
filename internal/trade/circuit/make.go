package circuit

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Brief is what the circuit is made from: the job, and what the Power stage found.
type Brief struct {
	Job    *job.Job
	Set    explain.RuleSet
	Supply explain.Known[quantity.Voltage] // between the drive's supply terminals
	Phases explain.Known[quantity.Count]   // of the drive's input
	Drive  explain.Known[quantity.Text]
	Input  explain.Known[quantity.Current]   // the drive's
	Output explain.Known[quantity.Current]   // the motor's
	Branch explain.Known[quantity.Conductor] // supply to drive
	Lead   explain.Known[quantity.Conductor] // drive to motor
	Ground explain.Known[quantity.Conductor]
	Device explain.Known[quantity.Current] // overcurrent device in the box; missing or not needed where there is none
	Switch explain.Known[quantity.Current] // main switch
}

// Result is the Controls and Wire stages of a job.
type Result struct {
	Job     *job.Job
	Brief   Brief
	Circuit Circuit
	Side    DriveSide
	// Choices are what the controls must do, as written or chosen. A circuit that is written by hand only has them too: they say
	// what is meant.
	Choices Choices
	// Figures are what the controls draw, drop and load.
	Figures Figures
	// Mistakes are what is wrong with the circuit as it is written by hand; their rules report them.
	Mistakes []Mistake
	// unread are the tags of hand-written devices that can't be read: they are there, but nobody knows what they are.
	unread []string

	traced *nets // the circuit as potentials, for the rules
}

// Mistake is something in a hand-written device, wire or cable that can't be so.
type Mistake struct {
	Rule            string
	About           explain.Because
	Message, Remedy explain.Phrase
}

// Make makes the circuit that the job asks for, with what the user wrote or changed by hand. It never fails: what can't be
// made is among the mistakes.
func Make(b Brief) Result {
	r := Result{Job: b.Job, Brief: b.withWritten(), Side: driveSide(b.Job)}
	r.Circuit.Set = b.Set
	r.Choices = choose(&r)
	r.Circuit.Places = []Place{{Name: "box", Kind: Box}, {Name: "door", Kind: Door}, {Name: "motor", Kind: Motor}}
	if string(b.Job.Controls.Circuit.Value) != "by hand only" {
		fromFunctions(&r)
	}
	byHand(&r)
	finish(&r)
	workOut(&r)
	return r
}
