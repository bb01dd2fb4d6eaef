// Package circuit makes the control circuit from what the user wants the controls to do: devices, terminals, nets, wires,
// cables and their cores. It places the circuit on the grid of a schematic, lists the wiring papers, and judges the circuit
// by rules.
//
// It simulates nothing and measures nothing: that is prove's. It draws nothing: that is the drawing's. Begin with Circuit
// (what a circuit is), Element (what is between two terminals), then Make (functions to circuit) and ByHand (what the user
// wrote or changed).
package circuit

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Circuit is everything that is wired, from the incoming supply to the motor, the controls among it.
type Circuit struct {
	Set     explain.RuleSet
	Places  []Place
	Devices []Device
	Wires   []Wire
	Cables  []Cable
	Drive   DriveLogic // how the drive among the devices behaves; its zero value where there is no drive
}

// Place is where devices are: the box, its door, a station, the motor.
type Place struct {
	Name string // "box", "door", "motor", or a station's name
	Kind PlaceKind
	Run  explain.Known[quantity.Length] // of cable from the box; not needed for the box itself
}

// PlaceKind says what sort of place it is.
type PlaceKind int

// The kinds of place.
const (
	Box PlaceKind = iota
	Door
	Station
	Motor
	Outside // the supply, the casting, a load on the machine
)

// HardWired reports whether the wire comes from an incoming supply for good: it is joined last, while the cores of a cord hang on a plug.
func (c *Circuit) HardWired(w *Wire) bool {
	if w.Cable != "" {
		return false
	}
	for _, pin := range [2]Pin{w.From, w.To} {
		if d := c.Device(pin.Device); d != nil && d.Kind == Incoming {
			return true
		}
	}
	return false
}

// Pin is one terminal of one device.
type Pin struct{ Device, Terminal string }

// String prints the pin as the papers do: S1:12.
func (p Pin) String() string { return p.Device + ":" + p.Terminal }

// ParsePin reads device:terminal; ok is false where there is no colon or nothing on one side of it.
func ParsePin(text string) (p Pin, ok bool) {
	device, terminal, found := strings.Cut(text, ":")
	p = Pin{strings.TrimSpace(device), strings.TrimSpace(terminal)}
	return p, found && p.Device != "" && p.Terminal != ""
}

// Device is one thing with terminals.
type Device struct {
	Tag  string // letters and number: S1, K1, X1
	Kind Kind
	Role Role // what it is there for
	// Words says it for people: "stop button, apron".
	Words string
	Place string // a Place's name
	// Terminals are their names in the order in which they stand: each is a neighbour of the one before and the one behind it.
	Terminals []string
	Elements  []Element
	// Positions are the states that a hand, a cam or a coil can bring the device into; the first is its rest. nil for a device
	// that has only one.
	Positions []string
	// Springs is true where the device goes back to its rest when it is let go.
	Springs bool
	// Rating is what to ask for when it is bought: "22 mm, 1 NC, 10 A 600 V".
	Rating string
	// Why says what made the device, so that a finding about it has its place in the job file.
	Why explain.Known[quantity.Text]
}

// Pin returns the device's terminal as a pin.
func (d Device) Pin(terminal string) Pin { return Pin{d.Tag, terminal} }

// Kind is what a device is.
type Kind string

// The kinds of device; the job file uses the same words.
const (
	PushButton     Kind = "push button"
	Selector       Kind = "selector switch"
	EmergencyStop  Kind = "emergency stop"
	PositionSwitch Kind = "position switch" // rests while the guard is closed; the opening guard forces it over
	FootSwitch     Kind = "foot switch"
	Lamp           Kind = "lamp"
	Relay          Kind = "relay"
	DelayRelay     Kind = "delay relay" // its contacts stay for a while after the coil is off
	Contactor      Kind = "contactor"
	OverloadRelay  Kind = "overload relay"
	Knob           Kind = "knob"
	PowerSupply    Kind = "power supply"
	Transformer    Kind = "transformer"
	Fuse           Kind = "fuse"
	Breaker        Kind = "breaker"
	MainSwitch     Kind = "main switch"
	TerminalBlock  Kind = "terminal block"
	GroundBar      Kind = "ground bar"
	Drive          Kind = "drive"
	MotorKind      Kind = "motor"
	Readout        Kind = "readout"
	Resistor       Kind = "resistor"
	Diode          Kind = "diode"
	Load           Kind = "load"
	Incoming       Kind = "incoming supply"
)

// Role is what a device does in the circuit. The simulation presses and watches devices by their roles.
type Role string

// The roles; the job file uses the same words.
const (
	NoRole          Role = "nothing"
	Stop            Role = "stop"
	Start           Role = "start"
	StartReverse    Role = "start reverse"
	EmergencyRole   Role = "emergency stop"
	Jog             Role = "jog"
	RunSwitch       Role = "run switch" // maintained: on runs, off stops
	Direction       Role = "direction"
	SpeedKnob       Role = "speed"
	SpeedStep       Role = "speed step"
	Guard           Role = "guard"
	FootBrake       Role = "foot brake"
	Reset           Role = "reset"
	RunLamp         Role = "run lamp"
	PowerLamp       Role = "power lamp"
	FaultLamp       Role = "fault lamp"
	HoldsRun        Role = "holds the run"
	SupplyContactor Role = "supply contactor"
	LoadContactor   Role = "load contactor"
	DelaysPowerOff  Role = "delays the power off"
	SwitchesSupply  Role = "switches the supply"
)

// Wire joins two pins.
type Wire struct {
	// Name is unique: the potential's number, with a letter where several wires share one.
	Name string
	// Number is the potential's number, printed on both ends.
	Number   string
	From, To Pin
	Duty     Duty
	Size     explain.Known[quantity.Conductor]
	Colour   string
	Cable    string // tag of the cable that it is a core of; "" for a single wire
	Core     string // the core's name in it
	Length   explain.Known[quantity.Length]
	// Voltage is the most that stands on it against its neighbours, for the cable's rating.
	Voltage explain.Known[quantity.Voltage]
	Why     explain.Known[quantity.Text]
}

// Duty says what a wire carries: what may lie beside what, and which colour it has.
type Duty string

// The duties.
const (
	SupplyDuty    Duty = "supply"        // mains, ahead of the drive
	MotorDuty     Duty = "motor"         // drive output
	ControlAC     Duty = "control, AC"   // switched alternating control voltage
	ControlDC     Duty = "control, DC"   // switched direct control voltage
	CommonAC      Duty = "common, AC"    // the grounded side of an alternating control supply
	CommonDC      Duty = "common, DC"    // 0 V of a direct one
	ReferenceDuty Duty = "reference"     // the speed knob's three
	DataDuty      Duty = "data"          // serial line
	GroundDuty    Duty = "ground"        // protective
	ScreenDuty    Duty = "screen"        // a cable's screen to its bonding point
	ForeignDuty   Duty = "foreign"       // live from elsewhere when the main switch is off
	DriveSafeDuty Duty = "safe-off line" // safe torque off
)

// Cable is a cable between two places.
type Cable struct {
	Tag      string
	From, To string // places
	Pairs    bool   // made of twisted pairs
	Cores    []Core
	Size     explain.Known[quantity.Conductor]
	Rating   explain.Known[quantity.Voltage]
	Length   explain.Known[quantity.Length]
	Moves    bool
	Screen   Screen
	Why      explain.Known[quantity.Text]
}

// Core is one core of a cable, neighbours in the list being neighbours in the jacket.
type Core struct {
	Name string
	Pair int    // from 1; 0 where the cable isn't made of pairs
	Wire string // the wire's name; "" for a spare
	// Grounded says that a spare core is joined to ground at the box.
	Grounded bool
}

// Screen says where a cable's screen is joined to ground.
type Screen struct{ Fitted, AtBox, AtFarEnd bool }

// Device returns the device with the tag; nil if there is none.
func (c *Circuit) Device(tag string) *Device {
	for n := range c.Devices {
		if c.Devices[n].Tag == tag {
			return &c.Devices[n]
		}
	}
	return nil
}

// ByRole returns the devices with the role, in the circuit's order.
func (c *Circuit) ByRole(r Role) []*Device {
	var list []*Device
	for n := range c.Devices {
		if c.Devices[n].Role == r {
			list = append(list, &c.Devices[n])
		}
	}
	return list
}

// ByKind returns the devices of the kind, in the circuit's order.
func (c *Circuit) ByKind(k Kind) []*Device {
	var list []*Device
	for n := range c.Devices {
		if c.Devices[n].Kind == k {
			list = append(list, &c.Devices[n])
		}
	}
	return list
}

// Wire returns the wire with the name; nil if there is none.
func (c *Circuit) Wire(name string) *Wire {
	for n := range c.Wires {
		if c.Wires[n].Name == name {
			return &c.Wires[n]
		}
	}
	return nil
}

// Place returns the place with the name; nil if there is none.
func (c *Circuit) Place(name string) *Place {
	for n := range c.Places {
		if c.Places[n].Name == name {
			return &c.Places[n]
		}
	}
	return nil
}

// Cable returns the cable with the tag; nil if there is none.
func (c *Circuit) Cable(tag string) *Cable {
	for n := range c.Cables {
		if c.Cables[n].Tag == tag {
			return &c.Cables[n]
		}
	}
	return nil
}
