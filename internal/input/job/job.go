// Package job knows what the user wrote and where: the job file's syntax, its typed form, and edits that keep every
// comment. It does no engineering: a value that makes no sense as a quantity is an error here, a value that makes no
// sense as a machine is a finding of a trade's rule.
//
// Begin with Job, the typed form: its struct tags are the one description of the file format, from which the decoder,
// the JSON Schema, the form on the live sheet and the manual are made. Then Read and File.Set.
package job

import (
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Job is a whole job file. Tags: `job` is the key; `help` one line for the reader; `words` the allowed words, separated by
// commas; `range` the least and most allowed value ("0.05 hp..500 hp"); `example` what might stand there on a real machine,
// for inch and, behind a bar, for metric readers; `name` the value's name in reasons where the path wouldn't read well.
type Job struct {
	Format    Given[quantity.Count] `job:"drivewright" help:"version of this file format" range:"1..1" name:"file format"`
	Rules     Given[quantity.Text]  `job:"rules" help:"the family of installation rules the job is judged by" words:"us, iec" example:"us | iec" name:"rule set"`
	Units     Given[quantity.Text]  `job:"units" help:"units the sheet is printed in" words:"inch, metric" example:"inch | metric" name:"unit system"`
	Paper     Given[quantity.Text]  `job:"paper" help:"paper size of the printed sheet" words:"letter, a4" example:"letter | a4" name:"paper size"`
	Machine   Machine               `job:"machine" help:"the machine and how it is used"`
	Shop      Shop                  `job:"shop" help:"the place where it stands"`
	Supply    Supply                `job:"supply" help:"from the utility to the receptacle or box"`
	Motor     Motor                 `job:"motor" help:"what the nameplate, the ohmmeter and your eyes say of the motor"`
	Drive     Drive                 `job:"drive" help:"your drive's data sheet; leave it out to have a typical one chosen"`
	Control   ControlBox            `job:"box" help:"what stands between the supply and the drive; leave values out to have them chosen"`
	Loads     []Load                `job:"loads" help:"everything else on the machine that takes power"`
	Controls  Controls              `job:"controls" help:"what the controls must do; the circuit is made from it"`
	Stations  []Station             `job:"stations" help:"where the controls stand, and what is on each"`
	DriveSide DriveControl          `job:"drive control" help:"the control side of your drive's booklet, and how it is set; leave it out for a typical one"`
	Screws    []DriveTerminal       `job:"drive terminals" help:"the drive's control terminals in the order in which they stand; leave it out for a typical row"`
	Devices   []HandDevice          `job:"devices" help:"devices of your own, or changes to those that the program made"`
	Wires     []HandWire            `job:"wires" help:"wires of your own, or changes to those that the program made"`
	Cables    []HandCable           `job:"cables" help:"cables of your own, or changes to those that the program made"`
	Enclosure Enclosure             `job:"enclosure" help:"the box that everything goes into; leave its size out to have the smallest that works found"`
	Sizes     []Size                `job:"own sizes" help:"boxes that you have or can get, to be chosen from"`
	Parts     []Part                `job:"parts" help:"bodies of the parts by their data sheets, and where they must go; typical ones stand in for what isn't written"`
	CableIn   []CableEntry          `job:"entries" help:"where cables come into the box"`
	Blocks    []Block               `job:"blocks" help:"the machine and what is around it as rough blocks, and places where the box may go"`
	Mounting  Mounting              `job:"mounting" help:"how the box hangs on the machine or wall"`
	Bolts     []Bolt                `job:"bolts" help:"the bolts that hold it; leave them out to have them chosen"`
	Marking   MarkingOut            `job:"marking out" help:"how you mark out and drill, and what your printer does to scale"`
	OwnHoles  []OwnHole             `job:"own holes" help:"holes and cut-outs of your own"`
	Patterns  []Pattern             `job:"patterns" help:"groups of holes to be measured, or matched with one another"`
	Holes     []PatternHole         `job:"holes" help:"the holes of the patterns"`
	Distances []Distance            `job:"distances" help:"caliper readings between holes"`
	Gaps      []Gap                 `job:"fit-up" help:"readings around a pocket or under feet, to be shimmed or skimmed"`
	Costs     Costs                 `job:"costs" help:"prices you were quoted, for the comparison of ways to get there"`
	Accepted  []Acceptance          `job:"accepted" help:"findings you live with, each with your reason; a danger or a must can't be accepted"`
	NotesText Given[quantity.Text]  `job:"notes" help:"anything the next person should know" example:"the key of the main switch hangs in the office" name:"notes"`

	// Source is the name of the file, for messages.
	Source string
}

// Machine says what the machine is and how it is used.
type Machine struct {
	Name       Given[quantity.Text]       `job:"name" help:"what you call it" example:"Engine lathe, 16 in swing | Engine lathe, 400 mm swing" name:"machine name"`
	Type       Given[quantity.Text]       `job:"kind" help:"the sort of machine" words:"lathe, mill, drill press, saw, band saw, grinder, sander, planer, press, compressor, fan, pump, other" name:"kind of machine"`
	Maker      Given[quantity.Text]       `job:"description" help:"maker's plate, year, size, colour: whatever tells it from another" example:"gray, geared head, out of a school tool room" name:"machine description"`
	Motors     Given[quantity.Count]      `job:"motors" help:"how many three-phase motors the machine has, all told" range:"1..40" example:"1" name:"three-phase motors on the machine"`
	Duty       Given[quantity.Ratio]      `job:"duty" help:"how much of a working hour the motor runs" range:"1 %..100 %" example:"40 %" name:"duty"`
	Load       Given[quantity.Ratio]      `job:"load" help:"how hard it works while it runs, against the nameplate" range:"5 %..150 %" example:"75 %" name:"load"`
	LeastSpeed Given[quantity.Frequency]  `job:"lowest frequency" help:"slowest continuous running you want, as drive output" range:"1 Hz..400 Hz" example:"20 Hz" name:"lowest frequency"`
	MostSpeed  Given[quantity.Frequency]  `job:"highest frequency" help:"fastest running you want, as drive output" range:"10 Hz..400 Hz" example:"75 Hz | 60 Hz" name:"highest frequency"`
	Torque     Given[quantity.Text]       `job:"torque" help:"what the work asks at low speed: the same torque (cutting), less (fan, pump)" words:"constant, falling with speed" name:"torque demand"`
	Starts     Given[quantity.Count]      `job:"starts per hour" help:"how often it is started" range:"0..200" example:"6" name:"starts per hour"`
	HardStart  Given[quantity.Text]       `job:"start" help:"does it start with the work or a heavy wheel on" words:"light, loaded, heavy wheel" name:"start"`
	Spindle    Given[quantity.Text]       `job:"spindle nose" help:"how the chuck or wheel is held" words:"threaded, keyed, taper, flange, none" name:"spindle nose"`
	Reverse    Given[quantity.Text]       `job:"reverse" help:"is reverse wanted" words:"yes, no" name:"reverse"`
	StartStop  Given[quantity.Text]       `job:"start and stop" help:"how you mean to start and stop it" words:"buttons at the drive terminals, maintained switch at the drive terminals, main switch, keypad" name:"start and stop"`
	OldSwitch  Given[quantity.Text]       `job:"old switch" help:"what happens to the old starter, drum or lever switch" words:"none, removed, kept as a signal switch, in the motor leads, ahead of the drive" example:"removed" name:"old switch"`
	OldHeaters Given[quantity.Text]       `job:"old overload" help:"the heaters or relay in the old starter" words:"none, fitted, missing, bypassed, wrong size, unknown" name:"old overload relay"`
	Earth      Given[quantity.Resistance] `job:"frame to ground" help:"measured from the bare casting to the supply's grounding conductor, leads subtracted" range:"0 ohm..10 Mohm" example:"0.1 ohm" name:"resistance from frame to ground"`
	WhoUses    Given[quantity.Text]       `job:"used by" help:"who runs it: other people change what the law asks" words:"owner only, family, employees, club or school" name:"used by"`
	Missing    Given[quantity.Text]       `job:"missing or unsafe" help:"guards gone, wiring crumbling, oil in the motor …" example:"chuck guard gone" name:"missing or unsafe on the old machine"`
	Operator   Given[quantity.Text]       `job:"operator stands" help:"where you stand to run it" example:"at the apron" name:"where the operator stands"`
	BoxPlace   Given[quantity.Text]       `job:"box may go" help:"where a box could live" example:"on the wall behind the headstock" name:"where the box may go"`
	Obstacles  Given[quantity.Text]       `job:"moving parts" help:"what swings, slides or tilts through the space around it" example:"the gear cover swings left, 14 in | the gear cover swings left, 350 mm" name:"moving parts"`
}

// Shop is the place.
type Shop struct {
	Ambient  Given[quantity.Temperature] `job:"warmest" help:"the hottest the shop gets" range:"-20 °C..60 °C" example:"95 °F | 35 °C" name:"warmest shop temperature"`
	Altitude Given[quantity.Length]      `job:"altitude" help:"above sea level" range:"-400 m..4500 m" example:"900 ft | 300 m" name:"altitude"`
	Dust     Given[quantity.Text]        `job:"dust" help:"what flies about near the machine" words:"clean, wood, metal, grinding" example:"metal" name:"dust"`
	Place    Given[quantity.Text]        `job:"place" help:"what the electrical code would call it" words:"garage, basement, outbuilding, business premises, outdoors" name:"kind of place"`
}

// Supply is everything from the utility's transformer to the point where the machine is connected.
type Supply struct {
	Voltage        Given[quantity.Voltage]       `job:"voltage" help:"measured between the two supply conductors" range:"90 V..700 V" example:"240 V | 230 V" name:"supply voltage"`
	Phases         Given[quantity.Count]         `job:"phases" help:"1 in this job's usual case; 3 if you have them" range:"1..3" example:"1" name:"supply phases"`
	Frequency      Given[quantity.Frequency]     `job:"frequency" help:"50 or 60" range:"45 Hz..65 Hz" example:"60 Hz | 50 Hz" name:"supply frequency"`
	System         Given[quantity.Text]          `job:"system" help:"how it is grounded" words:"split-phase, line and neutral, unearthed, corner-grounded" example:"split-phase | line and neutral" name:"supply system"`
	Neutral        Given[quantity.Text]          `job:"neutral" help:"does a neutral reach the machine" words:"yes, no" name:"neutral at the machine"`
	Ground         Given[quantity.Text]          `job:"equipment ground" help:"does an unbroken grounding conductor reach the machine" words:"yes, no, unknown" name:"equipment grounding conductor"`
	Dedicated      Given[quantity.Text]          `job:"own circuit" help:"nothing else on this breaker" words:"yes, no" name:"own circuit"`
	Breaker        Given[quantity.Current]       `job:"breaker" help:"the number on the handle, or the fuse" range:"1 A..400 A" example:"30 A | 32 A" name:"source overcurrent device"`
	BreakerType    Given[quantity.Text]          `job:"breaker kind" help:"what it is" words:"inverse time breaker, time-delay fuse, non-time-delay fuse, instantaneous trip breaker" name:"kind of source overcurrent device"`
	GroundFault    Given[quantity.Text]          `job:"ground-fault protection" help:"what would trip on leakage" words:"none, class A 5 mA, 10 mA, 30 mA, 100 mA, 300 mA, unknown" name:"ground-fault protection"`
	GroundFaultTyp Given[quantity.Text]          `job:"ground-fault type" help:"the waveform letter on a residual-current device" words:"AC, A, F, B, unknown" example:"A" name:"type of residual-current device"`
	OtherLeakage   Given[quantity.Current]       `job:"other leakage" help:"standing leakage of what else hangs on that device" range:"0 mA..1 A" example:"1 mA" name:"other standing leakage"`
	Run            Given[quantity.Length]        `job:"run" help:"one way, breaker to receptacle or box" range:"0 m..500 m" example:"45 ft | 14 m" name:"length of the run"`
	Conductor      Given[quantity.Conductor]     `job:"conductor" help:"what is in the wall now; leave out to have it sized" example:"10 AWG | 6 mm²" name:"existing branch conductor"`
	Metal          Given[quantity.Text]          `job:"conductor metal" help:"copper or aluminium" words:"copper, aluminium" name:"conductor metal"`
	Insulation     Given[quantity.Text]          `job:"insulation" help:"letters printed on the wire or cable" words:"THHN, THWN-2, THWN, THW, XHHW-2, TW, NM-B, UF-B, MC, SOOW" name:"conductor insulation"`
	Terminals      Given[quantity.Temperature]   `job:"terminals" help:"the lowest temperature marked at the breaker, receptacle and drive" range:"60 °C..90 °C" example:"75 °C | 70 °C" name:"terminal temperature rating"`
	Raceway        Given[quantity.Text]          `job:"raceway" help:"what the wires run in" words:"EMT, RMC, IMC, PVC Schedule 40, PVC Schedule 80, FMC, LFMC, LFNC-B, cable" name:"raceway"`
	RacewaySize    Given[quantity.Text]          `job:"raceway size" help:"trade size; leave out to have it sized" words:"3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2" example:"3/4" name:"existing raceway size"`
	Bundled        Given[quantity.Count]         `job:"wires together" help:"current-carrying conductors in the same raceway or bundle, these two included" range:"2..60" example:"2" name:"current-carrying conductors together"`
	WireAmbient    Given[quantity.Temperature]   `job:"run temperature" help:"hottest place along the run, an attic say" range:"-20 °C..80 °C" example:"95 °F | 35 °C" name:"ambient temperature of the run"`
	Connection     Given[quantity.Text]          `job:"connection" help:"how the machine is connected" words:"hard-wired, cord and plug" name:"connection"`
	Receptacle     Given[quantity.Text]          `job:"receptacle" help:"its configuration number" words:"5-15, 5-20, 6-15, 6-20, 6-30, 6-50, 10-30, 10-50, 14-30, 14-50, L6-15, L6-20, L6-30, L14-20, L14-30" example:"L6-30" name:"receptacle"`
	Cord           Given[quantity.Conductor]     `job:"cord" help:"conductor size of the flexible cord; leave out to have it sized" example:"10 AWG | 6 mm²" name:"cord conductor"`
	CordLength     Given[quantity.Length]        `job:"cord length" help:"plug to box" range:"0 m..30 m" example:"10 ft | 3 m" name:"cord length"`
	FaultCurrent   Given[quantity.Current]       `job:"fault current" help:"available at the panel, if the utility or an electrician told you" range:"100 A..200 kA" example:"10 kA | 6 kA" name:"available fault current at the panel"`
	Transformer    Given[quantity.ApparentPower] `job:"transformer" help:"the number on the can or pad that feeds you" range:"1 kVA..2000 kVA" example:"25 kVA" name:"supply transformer"`
	Impedance      Given[quantity.Ratio]         `job:"transformer impedance" help:"from its plate" range:"0.5 %..15 %" example:"2 %" name:"transformer impedance"`
	ServiceRun     Given[quantity.Length]        `job:"service run" help:"transformer to panel, one way" range:"0 m..500 m" example:"100 ft | 30 m" name:"length of the service"`
	ServiceWire    Given[quantity.Conductor]     `job:"service conductor" help:"size of the service conductors, copper or the copper equivalent" example:"1/0 AWG | 50 mm²" name:"service conductor"`
}

// Motor is what the nameplate, the ohmmeter and the eyes say.
type Motor struct {
	Power       Given[quantity.ShaftPower]      `job:"power" help:"hp or kW on the plate" range:"0.05 hp..200 hp" example:"5 hp | 4 kW" name:"motor power"`
	Phases      Given[quantity.Count]           `job:"phases" help:"3 or 1" range:"1..3" example:"3" name:"motor phases"`
	Voltages    Given[quantity.Voltages]        `job:"voltage" help:"all voltages on the plate, lowest first: 230/460 V" range:"50 V..1000 V" example:"230/460 V | 230/400 V" name:"motor nameplate voltage"`
	Currents    Given[quantity.Currents]        `job:"current" help:"all currents on the plate, in the order of the voltages: 13.2/6.6 A" range:"0.1 A..500 A" example:"13.4/6.7 A | 14.4/8.3 A" name:"motor nameplate current"`
	Speed       Given[quantity.Rotation]        `job:"speed" help:"full-load rpm on the plate" range:"100 rpm..20000 rpm" example:"1740 rpm | 1440 rpm" name:"motor nameplate speed"`
	Frequency   Given[quantity.Frequency]       `job:"frequency" help:"Hz on the plate" range:"16 Hz..400 Hz" example:"60 Hz | 50 Hz" name:"motor nameplate frequency"`
	Service     Given[quantity.Factor]          `job:"service factor" help:"S.F. on the plate" range:"1..2" example:"1.15" name:"service factor"`
	UseService  Given[quantity.Text]            `job:"service factor used" help:"will you load it beyond the plate" words:"yes, no" name:"service factor used"`
	Code        Given[quantity.Text]            `job:"code letter" help:"CODE on the plate: locked-rotor kVA per hp" words:"A, B, C, D, E, F, G, H, J, K, L, M, N, P, R, S, T, U, V" example:"J" name:"code letter"`
	Design      Given[quantity.Text]            `job:"design" help:"DESIGN on the plate" words:"A, B, C, D, N, H" example:"B" name:"design letter"`
	Insulation  Given[quantity.Text]            `job:"insulation class" help:"INS on the plate" words:"A, B, F, H, unknown" example:"B" name:"insulation class"`
	Rise        Given[quantity.TemperatureRise] `job:"temperature rise" help:"RISE on the plate" range:"20 K..150 K" example:"80 K" name:"temperature rise"`
	Enclosure   Given[quantity.Text]            `job:"enclosure" help:"how it is cooled: totally enclosed fan-cooled, open drip-proof, not ventilated, own blower" words:"TEFC, ODP, TENV, blower" name:"motor enclosure"`
	Frame       Given[quantity.Text]            `job:"frame" help:"FR on the plate" example:"184T | 112M" name:"motor frame"`
	TimeRating  Given[quantity.Text]            `job:"time rating" help:"continuous, or minutes on the plate" words:"continuous, 60 min, 30 min, 15 min, 5 min" name:"time rating"`
	Year        Given[quantity.Count]           `job:"year" help:"when it was made or last rewound, near enough" range:"1890..2100" example:"1978" name:"year of the winding"`
	InverterUse Given[quantity.Text]            `job:"inverter duty" help:"says so on the plate or by the rewinder" words:"yes, no, unknown" example:"no" name:"inverter-duty winding"`
	Leads       Given[quantity.Count]           `job:"leads" help:"how many leads come out" range:"2..12" example:"9 | 6" name:"leads brought out"`
	Marked      Given[quantity.Text]            `job:"leads marked" help:"are the numbers still readable" words:"yes, no" name:"leads marked"`
	Groups      Given[LeadGroups]               `job:"lead groups" help:"leads with continuity between them, by ohmmeter: [[1,4],[2,5],[3,6],[7,8,9]], or [[U1,U2],[V1,V2],[W1,W2]]" example:"[[1, 4], [2, 5], [3, 6], [7, 8, 9]] | [[1, 4], [2, 5], [3, 6]]" name:"lead groups by ohmmeter"`
	WindingOhms Given[quantity.Resistance]      `job:"winding resistance" help:"between two line leads as connected" range:"0.001 ohm..1000 ohm" example:"1.2 ohm" name:"winding resistance"`
	Speeds      Given[quantity.Count]           `job:"speeds" help:"windings or speeds the motor has by its own switch" range:"1..4" example:"1" name:"motor speeds"`
	SpeedAmps   Given[quantity.Currents]        `job:"speed currents" help:"of a motor of several speeds, the current of each at the voltage used, slow speed first: 4.2/5.6 A" range:"0.1 A..500 A" example:"4.2/5.6 A" name:"motor currents of its speeds"`
	SpeedPlan   Given[quantity.Text]            `job:"speed switch" help:"what happens to the two-speed switch" words:"fixed on one winding, still switched, none" name:"speed switch"`
	Brake       Given[quantity.Text]            `job:"brake" help:"spring brake on the motor, and where its coil gets power" words:"none, own supply, at the motor terminals" name:"motor brake"`
	Thermal     Given[quantity.Text]            `job:"thermal protection" help:"built into the winding" words:"none, switch, thermistor, automatic reset, unknown" name:"thermal protection in the motor"`
	Cable       Given[quantity.Length]          `job:"cable" help:"drive to motor" range:"0 m..300 m" example:"10 ft | 3 m" name:"motor cable length"`
	CableScreen Given[quantity.Text]            `job:"cable screened" help:"braid or foil around the motor cable" words:"yes, no" name:"motor cable screened"`
	CableSize   Given[quantity.Conductor]       `job:"cable conductor" help:"size of the motor cable; leave out to have it sized" example:"12 AWG | 2.5 mm²" name:"existing motor conductor"`
	Megohms     Given[quantity.Resistance]      `job:"insulation resistance" help:"measured at 500 V with the motor disconnected" range:"0 ohm..100 Gohm" example:"85 Mohm" name:"measured insulation resistance"`
	TestPlan    Given[quantity.Text]            `job:"insulation test" help:"how it was or will be tested" words:"motor alone, through the drive, none" example:"motor alone" name:"insulation test"`
	StarPoint   Given[quantity.Text]            `job:"star point" help:"can a hidden star point be opened by a rewinder" words:"yes, no, unknown" name:"star point can be brought out"`
}

// Drive is the data sheet of the drive the user owns or means to buy.
type Drive struct {
	Name          Given[quantity.Text]        `job:"name" help:"your own name for it" example:"the drive on the shelf" name:"drive"`
	InputPhases   Given[quantity.Count]       `job:"input phases" help:"1 if rated for single-phase input, 3 if not" range:"1..3" example:"1" name:"drive input phases"`
	InputVoltage  Given[quantity.Voltages]    `job:"input voltage" help:"rated input range: 200-240 V" range:"90 V..700 V" example:"200-240 V" name:"drive input voltage"`
	OutputVoltage Given[quantity.Voltage]     `job:"output voltage" help:"most it can make; the input voltage unless it is a doubler" range:"90 V..700 V" example:"240 V | 230 V" name:"drive output voltage"`
	Output        Given[quantity.Current]     `job:"output current" help:"continuous, constant torque, as marked" range:"0.2 A..500 A" example:"17.5 A" name:"drive output current as marked"`
	SinglePhase   Given[quantity.Current]     `job:"single-phase output current" help:"the maker's figure for single-phase input of a three-phase-input drive" range:"0.2 A..500 A" example:"10 A" name:"maker's single-phase output current"`
	Input         Given[quantity.Current]     `job:"input current" help:"rated input current, at single phase if it states one" range:"0.2 A..700 A" example:"30 A" name:"drive rated input current"`
	Overload      Given[quantity.Ratio]       `job:"overload" help:"for a minute: 150 %" range:"100 %..300 %" example:"150 %" name:"drive overload capacity"`
	Carrier       Given[quantity.Frequency]   `job:"carrier frequency" help:"as it will be set" range:"1 kHz..20 kHz" example:"4 kHz" name:"carrier frequency"`
	Derated       Given[quantity.Temperature] `job:"full current to" help:"surrounding air temperature up to which it gives full current" range:"20 °C..60 °C" example:"40 °C" name:"drive full-current temperature"`
	Losses        Given[quantity.Power]       `job:"losses" help:"heat at full load" range:"1 W..5000 W" example:"150 W" name:"drive losses"`
	Leakage       Given[quantity.Current]     `job:"leakage" help:"to ground, filter link in" range:"0 mA..500 mA" example:"5 mA" name:"drive leakage current"`
	GroundFault   Given[quantity.Text]        `job:"ground-fault type asked for" help:"the letter of the residual-current device that the maker asks for" words:"A, F, B" example:"B" name:"ground-fault type that the drive's maker asks for"`
	LeakageOpen   Given[quantity.Current]     `job:"leakage filter out" help:"to ground with the filter's ground link out" range:"0 mA..500 mA" example:"1 mA" name:"drive leakage with filter out"`
	Filter        Given[quantity.Text]        `job:"filter" help:"the interference filter" words:"none, built in, built in with link out, separate" example:"built in" name:"line filter"`
	MaxDevice     Given[quantity.Current]     `job:"most overcurrent device" help:"the largest breaker or fuse the maker allows" range:"1 A..600 A" example:"50 A" name:"maker's largest overcurrent device"`
	MaxDeviceType Given[quantity.Text]        `job:"device the maker asks for" help:"class of fuse or breaker" words:"any, inverse time breaker, time-delay fuse, non-time-delay fuse, semiconductor fuse, class J fuse, class CC fuse" name:"device the maker asks for"`
	ShortCircuit  Given[quantity.Current]     `job:"short-circuit rating" help:"SCCR on its label" range:"100 A..200 kA" example:"5 kA" name:"drive short-circuit current rating"`
	Capacitance   Given[quantity.Capacitance] `job:"link capacitance" help:"of the DC link" range:"10 uF..100 mF" example:"1500 uF" name:"DC-link capacitance"`
	Bleeder       Given[quantity.Resistance]  `job:"bleeder" help:"resistance that discharges the DC link" range:"100 ohm..10 Mohm" example:"50 kohm" name:"DC-link bleeder"`
	Wait          Given[quantity.Duration]    `job:"discharge time" help:"as its label says" range:"1 s..30 min" example:"5 min" name:"labelled discharge time"`
	Thermal       Given[quantity.Text]        `job:"electronic overload" help:"protects the motor, with thermal memory kept" words:"yes, no, unknown" name:"electronic motor overload"`
	ThermalSet    Given[quantity.Current]     `job:"overload setting" help:"as set" range:"0.1 A..500 A" example:"13.4 A | 14.4 A" name:"overload setting"`
	Choke         Given[quantity.Text]        `job:"choke" help:"AC line reactor or DC-link choke" words:"none, 3 % line reactor, 5 % line reactor, DC-link choke" name:"choke"`
	PhaseLoss     Given[quantity.Text]        `job:"input phase loss" help:"can the phase-loss trip be disabled by the maker's leave" words:"trips, can be disabled, not monitored, unknown" name:"input phase-loss monitoring"`
}

// ControlBox is what stands between supply and drive.
type ControlBox struct {
	Device        Given[quantity.Current]    `job:"overcurrent device" help:"breaker or fuse in the box, ahead of the drive" range:"1 A..400 A" example:"30 A | 32 A" name:"overcurrent device in the box"`
	DeviceType    Given[quantity.Text]       `job:"device kind" help:"what it is" words:"none, inverse time breaker, time-delay fuse, non-time-delay fuse, class J fuse, class CC fuse" example:"time-delay fuse" name:"kind of device in the box"`
	Interrupting  Given[quantity.Current]    `job:"interrupting rating" help:"kA printed on it" range:"100 A..200 kA" example:"10 kA | 6 kA" name:"interrupting rating of the device in the box"`
	Disconnect    Given[quantity.Current]    `job:"disconnect" help:"ampere rating of the main switch" range:"1 A..400 A" example:"60 A | 63 A" name:"disconnect ampere rating"`
	DisconnectHP  Given[quantity.ShaftPower] `job:"disconnect horsepower" help:"its horsepower rating at this voltage, single-phase" range:"0.1 hp..200 hp" example:"5 hp | 4 kW" name:"disconnect horsepower rating"`
	DisconnectCat Given[quantity.Text]       `job:"disconnect category" help:"utilisation category printed on it" words:"AC-20, AC-21, AC-22, AC-23, AC-3, horsepower rated, unknown" example:"AC-23" name:"disconnect utilisation category"`
	Locks         Given[quantity.Text]       `job:"disconnect locks" help:"can be padlocked off" words:"yes, no" name:"disconnect can be locked off"`
	InSight       Given[quantity.Text]       `job:"disconnect in sight" help:"seen from the motor and within 50 ft" words:"yes, no" name:"disconnect in sight of the motor"`
	ShortCircuit  Given[quantity.Current]    `job:"short-circuit rating" help:"of the box as a whole, if marked" range:"100 A..200 kA" example:"5 kA" name:"marked short-circuit rating of the box"`
	Cooling       Given[quantity.Text]       `job:"ventilation" help:"how the box breathes" words:"sealed, vents, filtered fan" name:"box ventilation"`
	BeforeSwitch  Given[quantity.Text]       `job:"live with main switch off" help:"anything in the box that stays live" example:"the lamp circuit" name:"what stays live with the main switch off"`
	Grounding     Given[quantity.Conductor]  `job:"grounding conductor" help:"size of the equipment grounding conductor; leave out to have it sized" example:"10 AWG | 6 mm²" name:"existing equipment grounding conductor"`
	SecondGround  Given[quantity.Text]       `job:"second grounding conductor" help:"a second one, separately terminated" words:"yes, no" example:"no" name:"second grounding conductor"`
	Room          Given[quantity.Length]     `job:"depth" help:"from back plate to door" range:"20 mm..1 m" example:"10 in | 250 mm" name:"box depth"`
}

// Load is a pump, lamp, coil or second motor on the machine.
type Load struct {
	Name    Given[quantity.Text]          `job:"name" help:"what it is" example:"coolant pump" name:"load"`
	Sort    Given[quantity.Text]          `job:"kind" help:"what sort of thing" words:"three-phase motor, single-phase motor, lamp, coil, transformer, brake, electronics, magnetic chuck, heater" example:"single-phase motor" name:"kind of load"`
	Power   Given[quantity.ShaftPower]    `job:"power" help:"hp of a motor" range:"0.01 hp..100 hp" example:"1/8 hp | 90 W" name:"power of the load"`
	VA      Given[quantity.ApparentPower] `job:"volt-amperes" help:"of a lamp, coil or transformer" range:"0.1 VA..100 kVA" example:"60 VA" name:"volt-amperes of the load"`
	Voltage Given[quantity.Voltage]       `job:"voltage" help:"what it needs" range:"5 V..700 V" example:"120 V | 230 V" name:"voltage of the load"`
	Fed     Given[quantity.Text]          `job:"fed from" help:"where it gets its power" words:"drive output, behind the main switch, ahead of the main switch, another circuit" example:"behind the main switch" name:"where the load is fed from"`
	Runs    Given[quantity.Text]          `job:"runs" help:"what switches it" words:"always, with the motor, by its own switch" example:"with the motor" name:"what switches the load"`
	Fused   Given[quantity.Current]       `job:"fuse" help:"its own fuse or breaker" range:"0.1 A..100 A" example:"5 A | 6 A" name:"fuse of the load"`
}

// Costs are prices that the user was quoted, in the user's own currency; they replace the typical ones.
type Costs struct {
	Drive           Given[quantity.Money] `job:"single-phase drive" help:"with a single-phase input rating" range:"0..100000" example:"600" name:"price of a single-phase-input drive"`
	ThreePhaseDrive Given[quantity.Money] `job:"three-phase drive" help:"larger three-phase-input drive, run derated" range:"0..100000" example:"750" name:"price of a derated three-phase-input drive"`
	Converter       Given[quantity.Money] `job:"rotary converter" help:"of the size the sheet asks for" range:"0..100000" example:"1200" name:"price of a rotary converter"`
	Motor           Given[quantity.Money] `job:"single-phase motor" help:"of the same power and frame" range:"0..100000" example:"550" name:"price of a single-phase motor"`
	Rewind          Given[quantity.Money] `job:"rewind" help:"rewind or star point brought out" range:"0..100000" example:"400" name:"price of a rewind"`
}

// Acceptance is the user's recorded decision to live with a finding.
type Acceptance struct {
	Rule   Given[quantity.Text] `job:"rule" help:"the finding's name" example:"duty-not-known" name:"accepted rule"`
	Reason Given[quantity.Text] `job:"because" help:"why you accept it" example:"it runs all day" name:"reason for acceptance"`
	Who    Given[quantity.Text] `job:"by" help:"initials and date" example:"A. B., 3 May" name:"accepted by"`
}

// Given is a value as the user wrote it, with its place. The zero Given was not written.
type Given[V any] struct {
	Value V
	Typed string // the user's own spelling
	Span  explain.Span
	Path  string // such as "supply.breaker", whether written or not
	Name  string // such as "source overcurrent device"
	Set   bool
	// Wrong means that something is written, at Span, but has a mistake; it counts as not written.
	Wrong bool
}

// LeadGroups are sets of motor leads with continuity among them.
type LeadGroups [][]int

// String prints the groups as the job file writes them: [[1, 4], [2, 5]].
func (g LeadGroups) String() string {
	var groups []string
	for _, leads := range g {
		var names []string
		for _, l := range leads {
			names = append(names, quantity.Count(l).Show(quantity.InchUnits))
		}
		groups = append(groups, "["+strings.Join(names, ", ")+"]")
	}
	return "[" + strings.Join(groups, ", ") + "]"
}

// Kind returns KindText: groups are shown as words.
func (LeadGroups) Kind() quantity.Kind { return quantity.KindText }

// Show prints the groups as they are said: 1-4, 2-5, 3-6, 7-8-9.
func (g LeadGroups) Show(quantity.System) string {
	var groups []string
	for _, leads := range g {
		var names []string
		for _, l := range leads {
			names = append(names, strconv.Itoa(l))
		}
		groups = append(groups, strings.Join(names, "-"))
	}
	return strings.Join(groups, ", ")
}

// Why returns the value's reason: given, with its place, or missing.
func (g Given[V]) Why() *explain.Reason {
	r := &explain.Reason{Name: g.Name, Path: g.Path, Span: g.Span, Typed: g.Typed, Origin: explain.Given}
	v, ok := any(g.Value).(quantity.Value)
	if !g.Set || !ok {
		r.Origin = explain.Missing
		r.Note = explain.Say("write it in the job file as " + g.Path)
		if g.Wrong {
			r.Note = explain.Say("what the job file says of " + g.Path + " can't be read: correct it there")
		}
		return r
	}
	r.Value = v
	return r
}

// Known returns the given value as a Known, missing if it was not written.
func Known[V quantity.Value](g Given[V]) explain.Known[V] { return explain.Wrap[V](g.Why()) }

// Or returns the given value, or, if it was not written, v marked as assumed with the note that says why v.
func Or[V quantity.Value](g Given[V], v V, source explain.Source, note explain.Phrase) explain.Known[V] {
	if g.Set {
		return Known(g)
	}
	k := explain.Assume(g.Name, v, source, note)
	k.Why().Path = g.Path
	return k
}
