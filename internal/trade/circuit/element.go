package circuit

import "drivewright/internal/base/quantity"

// Element is what is electrically between terminals of one device. A, B and W are terminal names of that device; which of
// the fields count is said beside each kind.
type Element struct {
	Kind ElementKind
	A, B string
	// W is a knob's wiper, or the terminal that a drive input's own resistor leads to (its 24 V or its 0 V).
	W string
	// In says of a contact in which positions of its group it is closed: bit 0 is the rest position.
	In uint8
	// Group is what moves a contact: 0 the device's own Positions; n > 0 the n-th output of a drive (DriveLogic.Outputs[n-1]),
	// which has the two positions off and on.
	Group int
	Ohms  quantity.Resistance // of a coil, lamp, resistance, knob (end to end), input, winding; a source's own
	Volts quantity.Voltage    // a source's; a coil's or lamp's rating
	// On and Off are where a coil pulls in and drops out, where an input turns on and off, above which a lamp is lit.
	On, Off quantity.Voltage
	// Delay is how long contacts stay after the coil of a delay relay is off.
	Delay quantity.Duration
	// Most is the current that a source can give, or at which a fuse opens.
	Most quantity.Current
	AC   bool
	// FedBy is, of a source, the terminals of the same device between which its own supply must stand (FedBy[0] to FedBy[1]):
	// a power supply's input. Both empty: it is always there (the incoming supply), until the main switch or the utility goes.
	FedBy [2]string
	// FedAt is the least voltage there.
	FedAt quantity.Voltage
	// Does is what a drive's input asks of the drive.
	Does Command
}

// ElementKind is what sort of element it is.
type ElementKind int

// The kinds of element.
const (
	// Contact joins A and B in the positions of In.
	Contact ElementKind = iota
	// Link joins A and B always: two screws of one bar, a terminal's two sides.
	Link
	// Coil takes Ohms between A and B, moves the device to position 1 at On volts and back to 0 below Off.
	Coil
	// LampElement takes Ohms between A and B and shows light above On volts.
	LampElement
	// Resistance takes Ohms between A and B: a load, a heater, a terminator, a supply's input. An ohmmeter sees it as it is.
	Resistance
	// KnobElement is a track of Ohms from A to B with the wiper W: the part from A to W grows as it is turned up.
	KnobElement
	// DiodeElement lets current from A to B, with On volts lost.
	DiodeElement
	// Source makes Volts from B (the common) up to A.
	Source
	// Input is a drive's digital input: Ohms from A to W, and on while the voltage across Ohms is above On.
	Input
	// Reference is a drive's analog input: Ohms from A to B, full speed at Volts.
	Reference
	// Winding takes Ohms between A and B: a motor's. No control voltage is expected there.
	Winding
	// Electronics takes Ohms between A and B while it has power, but nobody knows how an ohmmeter sees it: it is unplugged before
	// the wiring is measured. Ohms of 0: it takes nothing worth counting.
	Electronics
)

// Command is what a drive input asks of the drive.
type Command string

// The commands of drive inputs; the job file uses the same words.
const (
	NoCommand        Command = ""
	RunForward       Command = "run forward"
	RunReverse       Command = "run reverse"
	ReverseDirection Command = "reverse direction"
	StopCommand      Command = "stop" // three-wire: it may run while this is on
	JogCommand       Command = "jog"
	Step1            Command = "step 1"
	Step2            Command = "step 2"
	ResetCommand     Command = "reset"
	ExternalFault    Command = "external fault" // healthy while on
	SafeOff1         Command = "safe off 1"     // torque while on
	SafeOff2         Command = "safe off 2"
)

// DriveLogic is how a drive behaves, as data from its booklet and its settings.
type DriveLogic struct {
	Tag       string // the drive among the devices; "" where there is none
	ThreeWire bool   // start on a press, stop when the stop input goes off
	PowerUp   bool   // a run command that is there when the supply returns starts it
	// AfterReset is true where a run command that is still there starts it when a fault or a safe-off is cleared.
	AfterReset bool
	// SafeChannels is how many safe-off inputs it has: 0, 1 or 2. All must be on for torque.
	SafeChannels int
	// LostReference says what it does when the reference is lost (below Lost volts): "stops", "runs at the lowest speed",
	// "holds the last speed".
	LostReference string
	Lost          quantity.Voltage // 0 where it can't tell a lost reference from a knob at nought
	// SpeedFrom says where the speed comes from: "knob", "steps", "drive keypad", "serial line".
	SpeedFrom string
	// Supply are the drive's supply terminals and FedAt the least voltage between the first two of them; Out the motor's.
	Supply []string
	FedAt  quantity.Voltage
	Out    []string
	// Outputs say what moves the contacts of group n+1: "run" (torque on the motor), "fault", "ready".
	Outputs []string
	// Ramps is true where a stop command ramps down, so that the motor still turns for a while; false where it coasts.
	Ramps bool
}
