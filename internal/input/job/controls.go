package job

import (
	"strings"

	"drivewright/internal/base/quantity"
)

// Controls says what the controls must do. The circuit is made from it; whatever isn't written is chosen, and shown as
// assumed.
type Controls struct {
	Circuit       Given[quantity.Text]       `job:"circuit" help:"whether the program makes the circuit, or you write every device and wire yourself" words:"made from the functions, by hand only" example:"made from the functions" name:"where the circuit comes from"`
	HeldBy        Given[quantity.Text]       `job:"run held by" help:"what keeps it running after the start button is let go" words:"the drive, a relay" example:"the drive" name:"what holds the run command"`
	StopContact   Given[quantity.Text]       `job:"stop contact" help:"the contact that the stop buttons have" words:"normally closed, normally open" example:"normally closed" name:"stop contact"`
	EmergencyStop Given[quantity.Text]       `job:"emergency stop" help:"what the mushroom button acts on" words:"none, safe torque off, cuts the power, ramp then cuts the power, a drive input" example:"safe torque off" name:"emergency stop"`
	Jog           Given[quantity.Text]       `job:"jog" help:"a button that runs it only while it is held" words:"yes, no" name:"jog"`
	Reverse       Given[quantity.Text]       `job:"reverse by" help:"how reverse is asked for; not at all where the machine must not run backwards" words:"selector switch, buttons, not at all" example:"selector switch" name:"how reverse is asked for"`
	Speed         Given[quantity.Text]       `job:"speed by" help:"how the speed is set" words:"knob, steps, drive keypad, serial line" example:"knob" name:"how the speed is set"`
	Steps         Given[quantity.Count]      `job:"speed steps" help:"how many fixed speeds the selector has" range:"2..4" example:"3" name:"fixed speeds"`
	Knob          Given[quantity.Resistance] `job:"knob resistance" help:"printed on the potentiometer" range:"100 ohm..1 Mohm" example:"5 kohm" name:"resistance of the speed knob"`
	Guard         Given[quantity.Text]       `job:"guard switch" help:"what a guard or belt cover does when it is opened" words:"none, stops the run, acts as an emergency stop" example:"acts as an emergency stop" name:"guard switch"`
	FootBrake     Given[quantity.Text]       `job:"foot brake" help:"a treadle or foot bar that stops it" words:"none, stops the run, acts as an emergency stop" example:"stops the run" name:"foot brake switch"`
	Reset         Given[quantity.Text]       `job:"reset" help:"a button that must be pressed after an emergency stop, before a start" words:"yes, no" example:"no" name:"reset button"`
	RunLamp       Given[quantity.Text]       `job:"run lamp" help:"a lamp that shows that it runs" words:"yes, no" name:"run lamp"`
	PowerLamp     Given[quantity.Text]       `job:"power lamp" help:"a lamp that shows that the controls have power" words:"yes, no" name:"power lamp"`
	LampPower     Given[quantity.Power]      `job:"lamp power" help:"of one lamp" range:"0.01 W..20 W" example:"0.5 W" name:"power of a lamp"`
	Readout       Given[quantity.Text]       `job:"readout" help:"a remote display on the drive's two-wire serial line" words:"yes, no" example:"no" name:"remote readout"`
	ReadoutPower  Given[quantity.Power]      `job:"readout power" help:"what the display draws" range:"0.01 W..50 W" example:"1.5 W" name:"power of the readout"`
	CommLoss      Given[quantity.Text]       `job:"serial line lost" help:"what the drive does when the line fails" words:"stops, runs on, unknown" example:"stops" name:"action when the serial line is lost"`
	Supply        Given[quantity.Text]       `job:"supply" help:"where the control circuit gets its power" words:"the drive's 24 V, a power supply, a transformer" example:"the drive's 24 V" name:"control supply"`
	Voltage       Given[quantity.Voltage]    `job:"voltage" help:"of the control circuit" range:"5 V..250 V" example:"24 V" name:"control voltage"`
	SupplyCurrent Given[quantity.Current]    `job:"supply current" help:"what the control supply can give" range:"10 mA..40 A" example:"1 A" name:"control supply current"`
	ZeroBonded    Given[quantity.Text]       `job:"zero volts bonded" help:"is the 0 V side of a supply of its own joined to ground in the box" words:"yes, no" example:"yes" name:"0 V joined to ground"`
	Wire          Given[quantity.Conductor]  `job:"wire" help:"size of the control wires in the box" example:"18 AWG | 0.75 mm²" name:"control wire"`
	CableWire     Given[quantity.Conductor]  `job:"cable cores" help:"size of the cores to the stations" example:"20 AWG | 0.5 mm²" name:"core of the control cables"`
	CableRating   Given[quantity.Voltage]    `job:"cable voltage rating" help:"printed on the control cable" range:"30 V..1000 V" example:"300 V" name:"voltage rating of the control cables"`
	Screen        Given[quantity.Text]       `job:"screen bonded" help:"where the screen of the control cables is joined to ground" words:"at the box, at both ends, nowhere, no screen" example:"at the box" name:"where the screen is bonded"`
	Spares        Given[quantity.Count]      `job:"spare cores" help:"left over in each cable" range:"0..10" example:"1" name:"spare cores"`
	SpareEnds     Given[quantity.Text]       `job:"spare cores end" help:"what is done with them" words:"at terminals, grounded at the box, left loose" example:"grounded at the box" name:"where spare cores end"`
	BesidePower   Given[quantity.Text]       `job:"control cable beside motor cable" help:"in one conduit, or tied together" words:"yes, no" example:"no" name:"control and motor cable together"`
	MotorSwitch   Given[quantity.Text]       `job:"switch in the motor leads" help:"anything that can open or swap the leads between drive and motor" words:"none, switch, contactor, drum switch, reversing contactor, plug" example:"none" name:"switch between drive and motor"`
	DoorBonded    Given[quantity.Text]       `job:"door bonded" help:"a braid or wire from the door to the box" words:"yes, no, plastic door" example:"yes" name:"door bonded"`
	PlateBonded   Given[quantity.Text]       `job:"plate bonded" help:"the back plate has the ground bar on bare metal" words:"yes, no" example:"yes" name:"back plate bonded"`
	MotorBonded   Given[quantity.Text]       `job:"motor bonded" help:"the ground wire in the motor cable is joined at both ends" words:"yes, no" example:"yes" name:"motor frame bonded"`
	FrameBonded   Given[quantity.Text]       `job:"casting bonded" help:"a wire from the box to the machine's bare casting" words:"yes, no" example:"yes" name:"casting bonded"`
	Without       Given[quantity.Text]       `job:"without" help:"tags and wire numbers that the program made and you leave out, with commas between" example:"P1, 12" name:"left out of the made circuit"`
}

// Station is a place with controls on it: the door of the box, a pendant, a treadle.
type Station struct {
	Name   Given[quantity.Text]   `job:"name" help:"what you call the place" example:"apron" name:"control station"`
	Where  Given[quantity.Text]   `job:"kind" help:"what it is" words:"door of the box, box on the machine, pendant, foot switch" example:"box on the machine" name:"kind of station"`
	Has    Given[Several]         `job:"has" help:"what is on it, with commas between" words:"start, stop, emergency stop, jog, reverse, speed, reset, run lamp, power lamp, readout, guard switch, foot brake" example:"start, stop, emergency stop" name:"controls on the station"`
	Cable  Given[quantity.Length] `job:"cable" help:"from the box" range:"0 m..100 m" example:"9 ft | 3 m" name:"length of the station's cable"`
	Moves  Given[quantity.Text]   `job:"cable moves" help:"it bends in use: a carriage, a pendant, a door" words:"yes, no" example:"no" name:"station cable moves"`
	Metal  Given[quantity.Text]   `job:"metal box" help:"a metal station box needs a ground wire" words:"yes, no" example:"yes" name:"station box is metal"`
	Bonded Given[quantity.Text]   `job:"bonded" help:"a ground wire goes to it" words:"yes, no" example:"yes" name:"station box bonded"`
}

// DriveControl is the control side of a drive's data sheet, and how it is set.
type DriveControl struct {
	StartLogic     Given[quantity.Text]       `job:"start logic" help:"as set: two-wire runs while a contact is closed, three-wire starts on a press and stops when the stop contact opens" words:"two-wire, three-wire" example:"three-wire" name:"start logic of the drive"`
	PowerUp        Given[quantity.Text]       `job:"run on power-up" help:"as set: does a closed run contact start it when the supply returns" words:"yes, no, unknown" example:"no" name:"run on power-up"`
	FaultReset     Given[quantity.Text]       `job:"starts after reset" help:"as set: does a closed run contact start it after a fault or safe-off is cleared" words:"yes, no, unknown" example:"no" name:"start after reset"`
	Logic          Given[quantity.Text]       `job:"inputs switch to" help:"closing a contact joins the input to 0 V (sinking current out of the input) or to 24 V (sourcing it)" words:"0 V, 24 V" example:"24 V" name:"what the drive's inputs are switched to"`
	InputVoltage   Given[quantity.Voltage]    `job:"input voltage" help:"of the drive's own supply for its inputs" range:"5 V..250 V" example:"24 V" name:"voltage of the drive's inputs"`
	InputOhms      Given[quantity.Resistance] `job:"input resistance" help:"of one digital input" range:"500 ohm..200 kohm" example:"4.7 kohm" name:"resistance of a drive input"`
	On             Given[quantity.Voltage]    `job:"input on above" help:"across the input, where it counts as on" range:"1 V..200 V" example:"15 V" name:"drive input on above"`
	Off            Given[quantity.Voltage]    `job:"input off below" help:"across the input, where it counts as off" range:"0.5 V..100 V" example:"5 V" name:"drive input off below"`
	SupplyCurrent  Given[quantity.Current]    `job:"24 V current" help:"what its 24 V terminal can give" range:"5 mA..2 A" example:"100 mA" name:"current of the drive's 24 V terminal"`
	Reference      Given[quantity.Voltage]    `job:"reference voltage" help:"at the terminal that feeds the knob" range:"3 V..30 V" example:"10 V" name:"reference voltage for the knob"`
	ReferenceMost  Given[quantity.Current]    `job:"reference current" help:"what that terminal can give" range:"0.5 mA..200 mA" example:"10 mA" name:"current of the reference terminal"`
	ReferenceInput Given[quantity.Resistance] `job:"reference input" help:"resistance of the input that reads the knob" range:"1 kohm..2 Mohm" example:"20 kohm" name:"resistance of the reference input"`
	ReferenceLost  Given[quantity.Text]       `job:"reference lost" help:"as set: what it does when the knob's wire breaks" words:"stops, runs at the lowest speed, holds the last speed, unknown" example:"stops" name:"action when the reference is lost"`
	KnobLeast      Given[quantity.Resistance] `job:"knob least" help:"smallest potentiometer that its booklet allows" range:"100 ohm..1 Mohm" example:"1 kohm" name:"smallest knob the drive allows"`
	KnobMost       Given[quantity.Resistance] `job:"knob most" help:"largest potentiometer that its booklet allows" range:"100 ohm..1 Mohm" example:"10 kohm" name:"largest knob the drive allows"`
	SafeOff        Given[quantity.Text]       `job:"safe torque off" help:"inputs that take the motor's torque away without software" words:"none, one channel, two channels" example:"two channels" name:"safe-torque-off inputs"`
	Relays         Given[quantity.Count]      `job:"relays" help:"relay outputs it has" range:"0..4" example:"1" name:"relay outputs of the drive"`
	RelayCurrent   Given[quantity.Current]    `job:"relay current" help:"that its relay contacts may switch" range:"0.1 A..10 A" example:"2 A" name:"current of the drive's relay contacts"`
	RelayVoltage   Given[quantity.Voltage]    `job:"relay voltage" help:"that its relay contacts may switch" range:"24 V..300 V" example:"250 V" name:"voltage of the drive's relay contacts"`
	Terminator     Given[quantity.Text]       `job:"serial line terminated" help:"the 120 ohm at the two ends of the line" words:"both ends, one end, neither" example:"both ends" name:"termination of the serial line"`
	StopKey        Given[quantity.Text]       `job:"keypad stop" help:"is the stop key on the drive kept working" words:"yes, no" example:"yes" name:"keypad stop key works"`
	StopMode       Given[quantity.Text]       `job:"stop mode" help:"as set, for an ordinary stop" words:"ramp, coast, unknown" example:"ramp" name:"how the drive stops"`
}

// DriveTerminal is one screw of the drive's control terminals, in the order in which they stand.
type DriveTerminal struct {
	Name Given[quantity.Text] `job:"name" help:"as printed beside the screw" example:"DI1" name:"drive terminal"`
	Does Given[quantity.Text] `job:"does" help:"what it is, or is set to do" words:"run forward, run reverse, reverse direction, stop, jog, step 1, step 2, reset, external fault, safe off 1, safe off 2, 24 V, 0 V, reference supply, reference input, reference common, run relay common, run relay open contact, run relay closed contact, fault relay common, fault relay open contact, fault relay closed contact, serial A, serial B, serial common, nothing" example:"run forward" name:"what the drive terminal does"`
}

// HandDevice is a device written by hand: a new one, or, with the tag of one that the program made, changes to it.
type HandDevice struct {
	Tag       Given[quantity.Text]       `job:"tag" help:"its letters and number on the drawing" example:"S1" name:"device tag"`
	Sort      Given[quantity.Text]       `job:"kind" help:"what it is" words:"push button, selector switch, emergency stop, position switch, foot switch, lamp, relay, delay relay, contactor, overload relay, knob, power supply, transformer, fuse, breaker, main switch, terminal block, ground bar, drive, motor, readout, resistor, diode, load, incoming supply" example:"push button" name:"kind of device"`
	Words     Given[quantity.Text]       `job:"name" help:"what the drawing and the papers call it; leave it out to have it named by what it does" example:"own switch of the pump" name:"name of the device"`
	Does      Given[quantity.Text]       `job:"does" help:"what it is there for; the simulation presses and watches it by this" words:"stop, start, start reverse, emergency stop, jog, run switch, direction, speed, speed step, guard, foot brake, reset, run lamp, power lamp, fault lamp, holds the run, supply contactor, load contactor, delays the power off, switches the supply, nothing" example:"stop" name:"what the device does"`
	Place     Given[quantity.Text]       `job:"at" help:"where it is: box, door, motor, or the name of a station" example:"box" name:"place of the device"`
	Contacts  Given[quantity.Text]       `job:"contacts" help:"its contacts by terminals and rest state: 11-12 closed, 23-24 open; of a selector: 1-2 when forward; of a terminal block its jumpers: 1-2 joined" example:"11-12 closed" name:"contacts"`
	Positions Given[quantity.Text]       `job:"positions" help:"of a selector switch, in the order of turning, the first being where it rests" example:"off, forward, reverse" name:"positions"`
	Terminals Given[quantity.Text]       `job:"terminals" help:"of a terminal block, in the order in which they stand" example:"1, 2, 3, 4" name:"terminals"`
	Voltage   Given[quantity.Voltage]    `job:"voltage" help:"rated: of a coil, lamp or supply" range:"1 V..700 V" example:"24 V" name:"device voltage"`
	Kind      Given[quantity.Text]       `job:"current kind" help:"alternating or direct" words:"AC, DC" example:"DC" name:"alternating or direct current"`
	Power     Given[quantity.Power]      `job:"power" help:"it takes: a coil, lamp, load or readout" range:"0.001 W..20 kW" example:"1.5 W" name:"device power"`
	Current   Given[quantity.Current]    `job:"current" help:"a fuse's rating, or what a supply can give" range:"1 mA..400 A" example:"1 A" name:"device current"`
	Ohms      Given[quantity.Resistance] `job:"resistance" help:"of a knob, resistor, coil or winding, by its label or your meter" range:"0.001 ohm..10 Mohm" example:"5 kohm" name:"device resistance"`
	Delay     Given[quantity.Duration]   `job:"delay" help:"of a delay relay: how long its contacts stay after the coil is off" range:"10 ms..10 min" example:"3 s" name:"delay"`
	Colour    Given[quantity.Text]       `job:"colour" help:"of a button or lamp" words:"red, green, yellow, blue, white, gray, black, clear, red on yellow" example:"green | white" name:"colour of the device"`
}

// HandWire is a wire written by hand: a new one, or, with the name of one that the program made, changes to it.
type HandWire struct {
	Name   Given[quantity.Text]      `job:"name" help:"unique: the number on its ends, with a letter where several wires share one number" example:"7a" name:"wire"`
	From   Given[quantity.Text]      `job:"from" help:"device and terminal" example:"S1:12" name:"wire from"`
	To     Given[quantity.Text]      `job:"to" help:"device and terminal" example:"X1:4" name:"wire to"`
	Size   Given[quantity.Conductor] `job:"conductor" help:"its size" example:"18 AWG | 0.75 mm²" name:"conductor of the wire"`
	Colour Given[quantity.Text]      `job:"colour" help:"of its insulation" example:"blue" name:"colour of the wire"`
	Cable  Given[quantity.Text]      `job:"cable" help:"tag of the cable it is a core of" example:"W2" name:"cable of the wire"`
	Core   Given[quantity.Text]      `job:"core" help:"number or colour of the core" example:"3" name:"core"`
	Length Given[quantity.Length]    `job:"length" help:"cut length" range:"0 m..200 m" example:"2 ft | 0.6 m" name:"length of the wire"`
}

// HandCable is a cable written by hand, or changes to one that the program made.
type HandCable struct {
	Tag     Given[quantity.Text]      `job:"tag" help:"its letters and number" example:"W2" name:"cable tag"`
	Sort    Given[quantity.Text]      `job:"kind" help:"how it is made" words:"cores, twisted pairs" example:"twisted pairs" name:"kind of cable"`
	From    Given[quantity.Text]      `job:"from" help:"place where it begins" example:"box" name:"cable from"`
	To      Given[quantity.Text]      `job:"to" help:"place where it ends" example:"apron" name:"cable to"`
	Cores   Given[quantity.Count]     `job:"cores" help:"all told, spare ones included; of pairs count both" range:"1..61" example:"7" name:"cores in the cable"`
	Size    Given[quantity.Conductor] `job:"conductor" help:"size of a core" example:"20 AWG | 0.5 mm²" name:"core size"`
	Rating  Given[quantity.Voltage]   `job:"voltage rating" help:"printed on it" range:"30 V..2000 V" example:"300 V" name:"voltage rating of the cable"`
	Screen  Given[quantity.Text]      `job:"screen" help:"where its screen is joined to ground" words:"none, at the box, at the far end, at both ends, nowhere" example:"at the box" name:"screen of the cable"`
	Length  Given[quantity.Length]    `job:"length" help:"from gland to gland" range:"0 m..200 m" example:"9 ft | 3 m" name:"length of the cable"`
	Moves   Given[quantity.Text]      `job:"moves" help:"it bends in use" words:"yes, no" example:"no" name:"cable moves"`
	Strands Given[quantity.Text]      `job:"strands" help:"what its cores are made of, as printed or by eye at a cut end" words:"fine strands, coarse strands, solid wire" example:"fine strands" name:"strands of the cable"`
}

// Several are several words of a closed list, as written with commas between.
type Several []string

// Kind returns KindText: the words are shown as words.
func (Several) Kind() quantity.Kind { return quantity.KindText }

// Show prints the words with commas between.
func (s Several) Show(quantity.System) string { return strings.Join(s, ", ") }

// String prints the words as the job file writes them.
func (s Several) String() string { return strings.Join(s, ", ") }
