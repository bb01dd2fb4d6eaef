package prove

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// Class says what a fault does to the person at the machine, worst first.
type Class int

// The classes.
const (
	StartsByItself    Class = iota // starts or restarts with nobody's hand on Start
	EmergencyStopLost              // the emergency stop no longer takes the torque away, or no longer the power of a load
	StopLost                       // Stop no longer stops it
	StopsLate                      // stops only when the delay relay has run out
	RunsAway                       // goes to full speed by itself
	WrongWay                       // runs in the other direction
	HiddenDanger                   // shows nothing now, and one more fault makes it dangerous
	ProtectionLost                 // shows nothing now, and the next short or ground fault isn't cut off as it should be
	IndicationLies                 // a lamp says what isn't so
	StopsByItself                  // stops while it should run
	CannotStart                    // doesn't start
	Hidden                         // shows nothing, and no second fault makes it dangerous
	Other                          // something else changes: a lamp, a speed, a load that doesn't follow
	Harmless                       // nothing changes, because the circuit doesn't use it
)

// Dangerous reports whether somebody can be hurt by it.
func (c Class) Dangerous() bool { return c <= ProtectionLost }

// Waits reports whether the class shows nothing now, and is dangerous when something else comes to it.
func (c Class) Waits() bool { return c == HiddenDanger || c == ProtectionLost }

// Classes is a set of classes: all that a fault does, in whatever the script does to the machine.
type Classes uint32

// What is noted beside the classes while the script runs; none of it is in a report.
const (
	darkLamp     Classes = 1 << 30 // a lamp is dark that should be lit, while the motor stands: a lie only where the machine would run
	motorRunsOn  Classes = 1 << 31 // with EmergencyStopLost: the motor itself, not a load
	besidesClass         = darkLamp | motorRunsOn
)

// Has reports whether a class is in the set.
func (s Classes) Has(c Class) bool { return c >= 0 && c <= Harmless && s>>c&1 == 1 }

// with returns the set with one class more. That nothing happens isn't a class.
func (s Classes) with(c Class) Classes {
	if c < 0 || c > Harmless {
		return s
	}
	return s | 1<<c
}

// worst returns the worst class of the set; none where it is empty.
func (s Classes) worst() Class {
	c := StartsByItself
	for c < none && !s.Has(c) {
		c++
	}
	return c
}

// Proof is the Prove stage of a job.
type Proof struct {
	Report Report
	Meter  MeterSheet
}

// Report is what comes of breaking everything in turn.
type Report struct {
	// Script is what is done to the machine, step by step, and what the whole circuit does then.
	Script []Step
	// Whole are the dangers that the circuit has with nothing broken: a maintained switch that restarts it.
	Whole []Fault
	// Faults are all single faults, worst first.
	Faults []Fault
	// Pairs are the pairs of faults that are worse together than each by itself, worst first; nil if they weren't asked for.
	Pairs []Fault
	// PairsTried is how many pairs were simulated.
	PairsTried int
	// Functions are what the circuit must do whatever breaks, and which single faults take each away, worst first; nil where the
	// machine never runs.
	Functions []Function
	// Problem says why nothing was simulated: the circuit is larger than the simulation takes. Empty where it was.
	Problem string
}

// Function is something that people trust the circuit to do, or never to do: to stop, not to start by itself.
type Function struct {
	// Lost is the class of the faults that take it away.
	Lost Class
	// By are those faults, in Report.Faults: all that do it anywhere in the script, whatever worse they do elsewhere. None of
	// Tried single faults takes it away where it is empty.
	By    []int
	Tried int
	// LoadsOnly is how many of By leave only a load on: the motor stops.
	LoadsOnly int
	// Whole is true where the circuit does it with nothing broken.
	Whole bool
}

// Step is one action of the script and what follows from it.
type Step struct {
	Action string // "press Start (S3)"
	State  State
}

// State is what a person at the machine can see, and what the motor gets.
type State struct {
	Torque   bool           // the drive drives the motor
	Reverse  bool           // backwards
	Speed    quantity.Ratio // of full speed, while it has torque
	Lamps    []string       // tags of the lamps that are lit
	Loads    []string       // tags of the loads and readouts that have power
	PulledIn []string       // tags of relays and contactors that are pulled in
	SafeOff  bool           // torque can't come: safe torque off, or no power at the drive
	Overload string         // tag of a supply that is shorted or overloaded; "" if none is
	Chatters bool           // some relay never comes to rest
}

// Fault is one fault, or one pair, and what comes of it.
type Fault struct {
	Name    string // in words: "wire 7a is off S1:12"
	Changes []Change
	Class   Class // the worst that it does
	// Reaches are all classes that it reaches: with the fault there before the power, and with the fault coming while the machine
	// stands or runs. Of pairs only the worst is looked for, and it is empty.
	Reaches Classes
	// Also are the other dangers that it brings, without the hidden ones, worst first, each with what shows it.
	Also []Showing
	// Sequence are the actions that show it, from the script; the last is the one at which it is seen.
	Sequence []string
	// Seen is what is seen there, and Expected what should be: "the motor keeps running", "the motor stops".
	Seen, Expected string
	// Remedy is what change of the circuit would remove it; empty where none is known.
	Remedy explain.Phrase
	// With is the second fault that makes a hidden one dangerous; where protection is lost, what then happens.
	With string
	// LoadOnly is true where the emergency stop is lost for a load: the motor stops.
	LoadOnly bool
	// Place is where in the job file the thing stands; nil if it was made by the program out of nothing written.
	Place *explain.Reason

	sort sort // what broke
	when aim  // what the action at which it is seen is meant to do
}

// Showing is one thing that a fault does, and what shows it.
type Showing struct {
	Class          Class
	Sequence       []string
	Seen, Expected string
}

// Showing returns what shows that the fault reaches a class; false if it doesn't reach it, or only as a hidden one.
func (f *Fault) Showing(c Class) (Showing, bool) {
	if f.Class == c {
		return Showing{f.Class, f.Sequence, f.Seen, f.Expected}, true
	}
	for _, s := range f.Also {
		if s.Class == c {
			return s, true
		}
	}
	return Showing{}, false
}

// MeterSheet is what is measured on the box with no power on it.
type MeterSheet struct {
	// Problem says why no readings were chosen: the circuit is larger than the choice takes. Empty where they were.
	Problem string
	// Before is what is done first: plugs pulled, wires lifted, because an ohmmeter can't be trusted through electronics.
	Before []string
	// Pulled are the terminals whose device is unplugged behind them: the probe goes on the screw or the socket, with the wire on it.
	Pulled []circuit.Pin
	// Readings are in the order in which to take them.
	Readings []Reading
	// Mistakes are all single wiring mistakes that were thought of, those that look the same to a meter as one; Caught how many
	// of them some reading catches.
	Mistakes []Mistake
	Caught   int
	// Ways and WaysCaught count the same with each mistake of Mistake.Also by itself.
	Ways, WaysCaught int
	// Bound is a number of readings that can't be beaten; the sheet is proven the fewest when it has that many.
	Bound int
	// Candidates is how many readings were weighed: every pair of wired terminals in each of Setups ways for the switches to stand.
	Candidates, Setups int
	// Tests are the tests that aren't resistance readings of the control wiring: bonding, diodes, insulation, first power, functions.
	Tests []Test

	weighing *weighing // what Judge goes by; made again where it is nil
}

// Mistake is one way in which the wiring may be wrong.
type Mistake struct {
	Name    string
	Changes []Change
	// Also are the names of the mistakes that no reading can tell from this one: the wire off, or on an empty screw beside.
	Also []string
	// Look says where to look for it and what to do.
	Look string
	// Weight is how likely it is against the others: a wire one terminal off is likelier than two far ones swapped. Common practice.
	Weight float64
	// CaughtBy are the readings (in MeterSheet.Readings) that it makes wrong; nil if none can, and Why then says why not.
	CaughtBy []int
	Why      string
}

// Reading is one measurement: where the probes go, how the switches stand, and what the meter shows.
type Reading struct {
	ID       string // short, stays the same while the circuit does: "R7"
	From, To circuit.Pin
	// Settings are the switches that don't stand in their rest position.
	Settings []Setting
	Expect   Band
	// Clips is true where both hands are needed for the switch: a probe must be clipped on.
	Clips bool
	// Proves says in words what a right reading proves: "start button S3 closes, wires 4 and 5 are whole".
	Proves string
}

// Setting is a device that somebody holds or turns.
type Setting struct{ Device, Position string }

// Band is what a meter may show.
type Band struct {
	Open       bool // more than Least; the meter shows that it is open
	Least      quantity.Resistance
	Most       quantity.Resistance
	Nominal    quantity.Resistance // 0 where some part on the way has no rated resistance, or where the meter shows that it is joined
	Continuity bool                // below a few ohms: the meter beeps
	// OrOpen is true where something lies between that nobody can know, such as a supply's electronics: anything from Least up to
	// open is right, and only a lower value is wrong.
	OrOpen bool
}

// Test is a test that isn't an ohmmeter reading of the control wiring.
type Test struct {
	ID           string // stays the same while the circuit does
	Kind         TestKind
	Text, Expect string
	Caution      string // empty if the hand is in no danger there; where several tests have the same, a sheet prints it once above them
	Source       explain.Source
	// Band is what is right of a test that a resistance is read in; its zero value for the others, which are passed or not.
	Band Band
}

// TestKind is what sort of test it is; it is printed as it is.
type TestKind string

// The kinds of test, in the order in which they are made.
const (
	BondingTest    TestKind = "bonding"
	DiodeTest      TestKind = "diodes"
	InsulationTest TestKind = "insulation"
	PowerTest      TestKind = "first power"
	FunctionTest   TestKind = "function"
)

// Taken is a reading that somebody took, as it was written down.
type Taken struct {
	Reading string // its ID
	Value   string // as typed: "4.7 kohm", "open", "beep"
	By      string
	At      string // date and time as given by the caller
	Meter   string // the instrument
}

// Judged is what a taken reading says.
type Judged struct {
	Taken   Taken
	Right   bool
	Problem string // why the value can't be read; empty if it can
	Shown   string // the value as understood
}

// Diagnosis is what all readings taken so far say together.
type Diagnosis struct {
	Judged []Judged
	// Suspects are the mistakes that fit the readings, likeliest first, with their odds; that it is none of them comes last, unless no
	// single mistake explains the readings.
	Suspects []Suspect
	// Next is the reading that would best tell the suspects apart; nil if none would.
	Next *Reading
}

// Suspect is a mistake that fits.
type Suspect struct {
	Mistake int // in MeterSheet.Mistakes; -1 for none of them, or more than one at once
	// Others are further mistakes that the readings taken can't tell from it: the same way broken at another place.
	Others []int
	Name   string
	Odds   quantity.Ratio
	Remedy string
}
