// Package power sizes everything between the wall and the motor: whether the supply can make the motor's volts at all,
// how the leads are connected, which drive, what it draws, and the conductor, protection, disconnect, grounding,
// cord, raceway and overload that follow.
//
// It does not simulate the rectifier in time and knows nothing of torque on the work: that is motion's. Begin with Size;
// Result says what comes out. Each number carries its reason; Rules judges the result; Formulas are the relations, each
// of which can be run by itself.
package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Result is the Power stage of a job. A value that can't be had is missing and its reason says what is needed; nothing
// here is ever a silent zero.
type Result struct {
	Job  *job.Job
	Code Code // the rule set's figures

	// Motor side, in the order of the work. Filled by motorSide.
	Plate      Plate
	Voltage    VoltageAnswer
	Connection Connection
	Motor      MotorCurrent
	Drive      Drive
	Ways       []Way
	Wrong      []explain.Phrase // why a drive is the wrong answer here, gravest first; nil if it is a right one
	Overload   Overload
	Cooling    Cooling
	MotorLead  MotorLead
	Discharge  Discharge

	// Supply side. Filled by supplySide from the above.
	Branch     Branch
	Protection Protection
	Disconnect Disconnect
	Grounding  Grounding
	Drop       VoltageDrop
	Fault      FaultCurrent
	Leakage    Leakage
	Cord       Cord
	Raceway    Raceway
}

// Size works out the Power stage of the job. It never fails: what can't be worked out is missing, with what it needs.
func Size(j *job.Job) Result {
	r := Result{Job: j, Code: codeOf(j)}
	motorSide(&r)
	supplySide(&r)
	compareWays(&r)
	return r
}

// Plate is what follows from the nameplate alone, and whether it agrees with itself.
type Plate struct {
	Frequency   explain.Known[quantity.Frequency] // the plate's, else the supply's
	Poles       explain.Known[quantity.Count]
	Synchronous explain.Known[quantity.Rotation]
	Slip        explain.Known[quantity.Ratio]
	// EfficiencyFactor is efficiency × power factor implied by power, voltage and current: 0.4 to 0.9 on real motors.
	EfficiencyFactor explain.Known[quantity.Factor]
	// WindingLoss is what the measured winding resistance loses at full load, as part of the plate's power.
	WindingLoss explain.Known[quantity.Ratio]
	// LockedRotor is the locked-rotor current from the code letter, upper end; from NEMA MG 1 where the plate has no letter.
	LockedRotor explain.Known[quantity.Current]
}

// VoltageAnswer says whether this supply and drive can make the motor's volts at all.
type VoltageAnswer struct {
	// Gain is what the drive makes of each volt of supply: 1, 2 for a doubler, less for a three-phase drive on one phase.
	Gain explain.Known[quantity.Factor]
	// Available is the most the drive can put on the motor.
	Available explain.Known[quantity.Voltage]
	// Wanted is the nameplate voltage of the connection that is to be used.
	Wanted explain.Known[quantity.Voltage]
	// Ratio is the higher nameplate voltage over the lower, and what it means (series/parallel, star/delta, single).
	Ratio   explain.Known[quantity.Factor]
	Meaning explain.Known[quantity.Text]
	// BaseFrequency is the output frequency up to which full torque is available.
	BaseFrequency explain.Known[quantity.Frequency]
	// FullPower is the part of the nameplate power that is left at the plate frequency.
	FullPower explain.Known[quantity.Ratio]
	Enough    bool
	// StepUp is the transformer that a drive of the 480 V class would need; missing where none is asked for.
	StepUp  explain.Known[quantity.ApparentPower]
	WaysOut []explain.Phrase // what can be done when it isn't enough, least intrusive first
}

// Connection is how the motor's leads are joined for the wanted voltage.
type Connection struct {
	Winding explain.Known[quantity.Text] // such as "star, nine leads"
	// Joins lists what is joined: each line (L1, L2, L3, or "" for a splice with no line) with its leads. nil if not known.
	Joins []Join
	// Groups are the coils as the ohmmeter found them or as the lead count implies.
	Groups  [][]int
	Text    explain.Known[quantity.Text] // "L1 to 1 and 7; L2 to 2 and 8; L3 to 3 and 9; join 4, 5, 6"
	Problem explain.Phrase               // why the groups are impossible; empty if they aren't
	// Coils are the winding's coils by the marks at their ends, for its picture; nil if the winding isn't known.
	Coils []CoilEnds
	// Readings are what an ohmmeter must find before anything is linked.
	Readings []Reading
	// Choices are the ways between which only the plate's own diagram decides; nil when Joins is the one.
	Choices []Choice
	// Procedure is how unmarked leads get their numbers; nil if they are marked.
	Procedure []explain.Phrase
}

// Join is one joint: a line and the leads that meet there.
type Join struct {
	Line  string
	Leads []string
}

// MotorCurrent is the motor's current, and which figure is used for what.
type MotorCurrent struct {
	Table     explain.Known[quantity.Current] // conductors, devices, disconnect (US: NEC 430.6(A)(1))
	Nameplate explain.Known[quantity.Current] // overload and drive size (US: NEC 430.6(A)(2))
	// AtService is the current with the service factor used, if it is to be used.
	AtService explain.Known[quantity.Current]
}

// Drive is the drive: the user's own, or the smallest typical one that passes.
type Drive struct {
	Own  bool
	Name explain.Known[quantity.Text]
	// Needed is the output current that the motor asks for; Output what the drive can give under single-phase input, heat,
	// altitude and carrier frequency.
	Needed explain.Known[quantity.Current]
	Marked explain.Known[quantity.Current] // as on the label
	Output explain.Known[quantity.Current]
	Kept   explain.Known[quantity.Ratio]   // part of the marked output that is left on this supply
	Input  explain.Known[quantity.Current] // rated, RMS, on the supply
	// InputAtLoad is what it draws with this motor at full load; InputLeast the bound below which no drive of equal volts
	// can get, drawn at unity power factor.
	InputAtLoad   explain.Known[quantity.Current]
	InputLeast    explain.Known[quantity.Current]
	InputPhases   explain.Known[quantity.Count]
	OutputVoltage explain.Known[quantity.Voltage]
	Overload      explain.Known[quantity.Ratio]
	MaxDevice     explain.Known[quantity.Current]
	ShortCircuit  explain.Known[quantity.Current]
	Leakage       explain.Known[quantity.Current]
	Losses        explain.Known[quantity.Power]
	Capacitance   explain.Known[quantity.Capacitance]
	// Considered are the typical drives that were looked at, smallest first, with why each failed or passed.
	// The figures of each are its output here and its rated input.
	Considered []Candidate
}

// Candidate is one part that was considered.
type Candidate struct {
	Name    string
	Figures []quantity.Value // in the order of the table's columns
	Passes  bool
	Verdict explain.Phrase
}

// Way is one way to get a three-phase machine to work on a single-phase supply, in figures.
type Way struct {
	Name        string
	Feasible    bool
	Why         explain.Phrase // why not, or what it takes
	Size        quantity.Value // rating to ask for
	Input       quantity.Value // current from the supply
	Conductor   quantity.Value
	Device      quantity.Value
	LowSpeed    quantity.Value // least useful frequency or "none"
	Braking     string
	FullTorque  quantity.Value // part of plate power that is left
	Losses      quantity.Value
	Price       quantity.Value // typical unless quoted
	PriceQuoted bool
	Reversible  string
	Current     explain.Known[quantity.Current] // Input, with its reason
	short       bool                            // the motor's volts are out of its reach: it has no figures
}

// Overload is the protection of the motor against running too hot.
type Overload struct {
	By      explain.Known[quantity.Text] // what protects it: the drive, or a relay
	Setting explain.Known[quantity.Current]
	Most    explain.Known[quantity.Current] // largest allowed
	IfStart explain.Known[quantity.Current] // largest allowed where the setting won't start the motor
}

// Cooling is what the motor can carry at the lowest frequency with its own fan.
type Cooling struct {
	Lowest   explain.Known[quantity.Frequency]
	Allowed  explain.Known[quantity.Ratio] // continuous torque at that frequency
	Needed   explain.Known[quantity.Ratio]
	Slowest  explain.Known[quantity.Frequency] // least frequency for full torque all day
	Overtime explain.Known[quantity.Rotation]  // shaft speed at the highest frequency
}

// MotorLead is the cable from drive to motor: its size, and the voltage peaks at its far end.
type MotorLead struct {
	Conductor explain.Known[quantity.Conductor] // the existing one, else the smallest
	Smallest  explain.Known[quantity.Conductor]
	Ampacity  explain.Known[quantity.Current] // least
	Critical  explain.Known[quantity.Length]  // length from which the full reflection is seen
	Peak      explain.Known[quantity.Voltage]
	Withstand explain.Known[quantity.Voltage]
	Drop      explain.Known[quantity.Ratio]
}

// Discharge is the wait before hands go into the box.
type Discharge struct {
	Peak   explain.Known[quantity.Voltage] // DC link at the highest supply
	Energy explain.Known[quantity.Energy]
	Wait   explain.Known[quantity.Duration] // to print on the door
	// Computed is the time by capacitance and bleeder alone; missing where they aren't known.
	Computed explain.Known[quantity.Duration]
	Below    explain.Known[quantity.Voltage]
}

// Branch is the circuit from the source breaker to the drive.
type Branch struct {
	Current explain.Known[quantity.Current] // the drive's rated input current
	Others  explain.Known[quantity.Current] // what the other loads on the circuit draw
	Total   explain.Known[quantity.Current] // both together
	Least   explain.Known[quantity.Current] // least ampacity asked for
	// Device is the overcurrent device that the conductor must suit: the one at the source where it is large enough, or the
	// smallest standard rating that carries the circuit.
	Device     explain.Known[quantity.Current]
	Existing   bool // the conductor is in the wall already
	Conductor  explain.Known[quantity.Conductor]
	Insulation explain.Known[quantity.Text]
	Ambient    explain.Known[quantity.Temperature] // around the run
	Together   explain.Known[quantity.Count]       // current-carrying conductors in the same raceway or bundle
	Ampacity   explain.Known[quantity.Current]     // of the conductor as installed, after correction and terminal limit
	Terminals  explain.Known[quantity.Text]        // temperature column that the weakest terminal allows
	Correction explain.Known[quantity.Factor]      // for the temperature around it
	Adjustment explain.Known[quantity.Ratio]       // for conductors together
	Considered []Candidate
	// Smallest is the smallest conductor that would pass, also when the existing one is checked.
	Smallest explain.Known[quantity.Conductor]
	// Used is what everything behind it is sized for: the existing conductor if it passes, else the smallest that does.
	Used         explain.Known[quantity.Conductor]
	UsedAmpacity explain.Known[quantity.Current]
}

// Protection is the branch-circuit overcurrent device.
type Protection struct {
	Carry explain.Known[quantity.Current] // what the device at the source should carry, with the usual margin
	Least explain.Known[quantity.Current] // smallest standard rating that does
	// CarryDrive and LeastDrive are the same for the drive alone, without the other loads on the circuit.
	CarryDrive explain.Known[quantity.Current]
	LeastDrive explain.Known[quantity.Current]
	// Thin is true where the limits leave no room for the usual margin, and Least and LeastDrive do without it.
	Thin     bool
	Most     explain.Known[quantity.Current] // largest allowed at the source by motor table, other loads, conductor and drive maker
	ByMotor  explain.Known[quantity.Current] // largest allowed by the motor table, with its exception where that is taken
	ForDrive explain.Known[quantity.Current] // largest allowed by motor table and drive maker: for the device nearest the drive
	// ForSource is ForDrive for a device that has the other loads behind it too.
	ForSource explain.Known[quantity.Current]
	OnWire    explain.Known[quantity.Current] // largest that the branch conductor may have ahead of it
	Chosen    explain.Known[quantity.Current]
	Kind      explain.Known[quantity.Text]
	ByRule    []Limit // each limit by itself
	// AtSource is the device at the source: Chosen, or what stands ahead of it where Chosen is in the box.
	AtSource explain.Known[quantity.Current]
	// MotorCurrent is the motor's table current that the limits are taken from, at the supply's voltage.
	MotorCurrent explain.Known[quantity.Current]
	// InBox is the rating of a device that the box needs because the one at the source is larger than the drive's maker or
	// the motor table allows; missing where none is needed.
	InBox explain.Known[quantity.Current]
	// Exception is true when the ordinary motor-table limit would not carry the drive's input and the exception was taken.
	Exception bool
	// Conflict says which limits collide when no standard rating satisfies all; empty if one does.
	Conflict explain.Phrase
}

// Limit is one of several limits on a size.
type Limit struct {
	Name  string
	Value explain.Known[quantity.Current]
}

// Disconnect is the main switch.
type Disconnect struct {
	Amperes    explain.Known[quantity.Current]    // least rating
	Smallest   explain.Known[quantity.Current]    // usual switch rating that passes
	Size       explain.Known[quantity.Current]    // the existing one's rating, or the smallest that passes
	Horsepower explain.Known[quantity.ShaftPower] // least rating, at the supply voltage
	Category   explain.Known[quantity.Text]
	// Break is the most current it may have to open, Breaks what the existing switch opens by its category. Locked is what it
	// would have to open behind a rotary converter: a drive spares the switch the motor's locked-rotor current.
	Break  explain.Known[quantity.Current]
	Breaks explain.Known[quantity.Current]
	Locked explain.Known[quantity.Current]
	Live   []explain.Phrase // what stays live when it is off
}

// Grounding is the equipment grounding conductor.
type Grounding struct {
	Base      explain.Known[quantity.Conductor]  // before any increase
	Least     explain.Known[quantity.Conductor]  // after it
	Conductor explain.Known[quantity.Conductor]  // the existing one, or the least
	Second    explain.Known[quantity.Text]       // whether a second one or a larger one is asked for
	Expected  explain.Known[quantity.Resistance] // from the bare casting to the panel, if the joints are good
}

// VoltageDrop is the drop along the branch circuit, running and at start, and to the motor.
type VoltageDrop struct {
	Resistance   explain.Known[quantity.Resistance] // there and back, run and cord
	Running      explain.Known[quantity.Voltage]
	RunningRatio explain.Known[quantity.Ratio]
	ByMils       explain.Known[quantity.Voltage] // by the shop formula with circular mils, for comparison
	Start        explain.Known[quantity.Voltage]
	StartRatio   explain.Known[quantity.Ratio]
	// AcrossLine is the drop that a rotary converter of the same motor would make while the motor starts across the line.
	AcrossLine      explain.Known[quantity.Voltage]
	AcrossLineRatio explain.Known[quantity.Ratio]
	AtDrive         explain.Known[quantity.Voltage]
	Limit           explain.Known[quantity.Ratio]     // recommended most
	ForThree        explain.Known[quantity.Conductor] // smallest conductor for that drop
}

// FaultCurrent is the available short-circuit current on the way to the box.
type FaultCurrent struct {
	Transformer explain.Known[quantity.Current] // at its terminals; missing where the panel's figure was given or assumed
	AtPanel     explain.Known[quantity.Current]
	AtBox       explain.Known[quantity.Current]
	Rating      explain.Known[quantity.Current] // what the box and its parts must be rated for
	Weakest     explain.Known[quantity.Current] // the lowest rating among the parts
	Weakling    string                          // which part that is
}

// Leakage is the standing current to ground against the ground-fault device.
type Leakage struct {
	Filter  explain.Known[quantity.Current] // least rating of a separate line filter; not needed where one is built in
	Drive   explain.Known[quantity.Current] // the drive's filter
	Cable   explain.Known[quantity.Current] // the motor cable
	Machine explain.Known[quantity.Current] // both: what flows in the machine's ground wire
	Other   explain.Known[quantity.Current] // what else hangs on the device
	Total   explain.Known[quantity.Current]
	Trip    explain.Known[quantity.Current] // rating of the device
	Share   explain.Known[quantity.Ratio]
	Most    explain.Known[quantity.Ratio] // share up to which it is expected to hold
	Type    explain.Known[quantity.Text]  // device type that sees a drive's fault current
	WaysOut []explain.Phrase              // lawful ways out, in the order to try them
}

// Cord is the flexible cord, plug and receptacle, where the machine isn't hard-wired.
type Cord struct {
	Conductor  explain.Known[quantity.Conductor] // the existing one, or the smallest that passes
	Smallest   explain.Known[quantity.Conductor]
	Correction explain.Known[quantity.Factor] // for the air around it
	Ampacity   explain.Known[quantity.Current]
	Length     explain.Known[quantity.Length]
	Receptacle explain.Known[quantity.Text]    // smallest configuration that passes
	Asked      explain.Known[quantity.Current] // least receptacle rating
	Rating     explain.Known[quantity.Current] // of the existing receptacle
}

// Raceway is the conduit and its fill.
type Raceway struct {
	Conductors explain.Known[quantity.Count] // all that are in it, the grounding conductor among them
	Area       explain.Known[quantity.Area]  // of the conductors
	Fill       explain.Known[quantity.Ratio] // of the existing size, or of the chosen one
	Limit      explain.Known[quantity.Ratio]
	Size       explain.Known[quantity.Text] // smallest trade size that passes
}
