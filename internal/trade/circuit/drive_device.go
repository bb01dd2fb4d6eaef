package circuit

import (
	"fmt"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// Screw is one control terminal of a drive and what it does, in the words of the job file.
type Screw struct{ Name, Does string }

// typicalScrews is the row of control terminals of a typical drive, of no maker. Source: common practice.
var typicalScrews = []Screw{
	{"24V", "24 V"}, {"DI1", "run forward"}, {"DI2", "run reverse"}, {"DI3", "stop"}, {"DI4", "jog"}, {"DI5", "step 1"}, {"DI6", "step 2"}, {"0V", "0 V"},
	{"10V", "reference supply"}, {"AI", "reference input"}, {"AC", "reference common"},
	{"S1", "safe off 1"}, {"S2", "safe off 2"},
	{"RA", "run relay open contact"}, {"RC", "run relay common"},
	{"D+", "serial A"}, {"D-", "serial B"},
}

// screws returns the drive's control terminals: the user's own, else the typical ones, without those of safe-off inputs that
// the drive doesn't have.
func screws(j *job.Job, channels int) []Screw {
	var row []Screw
	for n, s := range j.Screws {
		name := string(s.Name.Value)
		if !s.Name.Set {
			name = fmt.Sprintf("T%d", n+1)
		}
		row = append(row, Screw{name, string(s.Does.Value)})
	}
	if row != nil {
		return row
	}
	for _, s := range typicalScrews {
		if s.Does == "safe off 1" && channels < 1 || s.Does == "safe off 2" && channels < 2 {
			continue
		}
		row = append(row, s)
	}
	return row
}

var typicalDrive = explain.Practice("typical drive, no maker; enter your booklet's")

// driveText returns what the job says, else the typical answer marked as assumed.
func driveText(g job.Given[quantity.Text], usual quantity.Text, why string) explain.Known[quantity.Text] {
	return job.Or(g, usual, typicalDrive, explain.Say(why))
}

func typically[V quantity.Value](g job.Given[V], usual V) explain.Known[V] {
	return job.Or(g, usual, typicalDrive, explain.Say("a typical figure: enter your booklet's"))
}

// DriveSide is the control side of the drive in figures, each the user's own or a typical one.
type DriveSide struct {
	StartLogic     explain.Known[quantity.Text]
	PowerUp        explain.Known[quantity.Text]
	AfterReset     explain.Known[quantity.Text]
	Logic          explain.Known[quantity.Text]
	InputVoltage   explain.Known[quantity.Voltage]
	InputOhms      explain.Known[quantity.Resistance]
	On, Off        explain.Known[quantity.Voltage]
	SupplyCurrent  explain.Known[quantity.Current]
	Reference      explain.Known[quantity.Voltage]
	ReferenceMost  explain.Known[quantity.Current]
	ReferenceInput explain.Known[quantity.Resistance]
	ReferenceLost  explain.Known[quantity.Text]
	KnobLeast      explain.Known[quantity.Resistance]
	KnobMost       explain.Known[quantity.Resistance]
	SafeOff        explain.Known[quantity.Text]
	RelayCurrent   explain.Known[quantity.Current]
	RelayVoltage   explain.Known[quantity.Voltage]
	StopMode       explain.Known[quantity.Text]
}

func driveSide(j *job.Job) DriveSide {
	d := &j.DriveSide
	return DriveSide{
		StartLogic:   driveText(d.StartLogic, "three-wire", "set it so: a start on a press, a stop when the stop contact opens"),
		PowerUp:      driveText(d.PowerUp, "no", "set it so, and prove it at the first run: some drives come with it on"),
		AfterReset:   driveText(d.FaultReset, "no", "set it so, and prove it at the first run"),
		Logic:        driveText(d.Logic, "24 V", "most drives can be set to either: read the booklet before you wire"),
		InputVoltage: typically(d.InputVoltage, 24), InputOhms: typically(d.InputOhms, 4700),
		On: typically(d.On, 15), Off: typically(d.Off, 5), SupplyCurrent: typically(d.SupplyCurrent, 0.1),
		Reference: typically(d.Reference, 10), ReferenceMost: typically(d.ReferenceMost, 0.01), ReferenceInput: typically(d.ReferenceInput, 20000),
		ReferenceLost: driveText(d.ReferenceLost, "runs at the lowest speed", "many drives can't tell a lost reference of 0 to 10 V from a knob at nought"),
		KnobLeast:     typically(d.KnobLeast, 1000), KnobMost: typically(d.KnobMost, 10000),
		SafeOff:      driveText(d.SafeOff, "two channels", "most drives sold now have it, old ones don't: look before you buy"),
		RelayCurrent: typically(d.RelayCurrent, 2), RelayVoltage: typically(d.RelayVoltage, 250),
		StopMode: driveText(d.StopMode, "ramp", "set it so"),
	}
}

func (s DriveSide) channels() int {
	switch s.SafeOff.Value {
	case "one channel":
		return 1
	case "two channels":
		return 2
	}
	return 0
}

// driveDevice makes the drive with its terminals, and how it behaves. lines is how many supply terminals it has: 2 or 3.
func driveDevice(tag string, s DriveSide, row []Screw, supply quantity.Voltage, lines int) (Device, DriveLogic) {
	d := Device{Tag: tag, Kind: Drive, Words: "drive", Place: "box", Terminals: []string{"L1", "L2", "PE", "U", "V", "W", "PEM"}}
	if lines == 3 {
		d.Terminals = slices.Insert(d.Terminals, 2, "L3")
	}
	logic := DriveLogic{Tag: tag, ThreeWire: s.StartLogic.Value == "three-wire", PowerUp: s.PowerUp.Value != "no", AfterReset: s.AfterReset.Value != "no",
		SafeChannels: s.channels(), LostReference: string(s.ReferenceLost.Value), SpeedFrom: "knob", Supply: []string{"L1", "L2"}, FedAt: supply * alive,
		Out: []string{"U", "V", "W"}, Outputs: []string{"run", "fault"}, Ramps: s.StopMode.Value != "coast"}
	if logic.LostReference == "stops" {
		logic.Lost = s.Reference.Value / 20 // a lost wire is told from a low knob below 5 % of full scale; typical
	}
	terminal := func(does string) string {
		for _, t := range row {
			if t.Does == does {
				return t.Name
			}
		}
		return ""
	}
	for _, t := range row {
		d.Terminals = append(d.Terminals, t.Name)
	}
	d.Elements = append(d.Elements, Element{Kind: Link, A: "PE", B: "PEM"}, Element{Kind: Electronics, A: "L1", B: "L2"})
	if lines == 3 {
		d.Elements = append(d.Elements, Element{Kind: Electronics, A: "L2", B: "L3"})
	}
	for _, pair := range [][2]string{{"U", "V"}, {"V", "W"}} {
		d.Elements = append(d.Elements, Element{Kind: Electronics, A: pair[0], B: pair[1]})
	}
	plus, zero := terminal("24 V"), terminal("0 V")
	fed := [2]string{"L1", "L2"}
	if plus != "" && zero != "" {
		d.Elements = append(d.Elements, Element{Kind: Source, A: plus, B: zero, Volts: s.InputVoltage.Value, Most: s.SupplyCurrent.Value, FedBy: fed, FedAt: logic.FedAt})
	}
	common := terminal("reference common")
	if common == "" {
		common = zero
	} else if zero != "" {
		d.Elements = append(d.Elements, Element{Kind: Link, A: common, B: zero}) // one 0 V inside, as on most drives
	}
	if r := terminal("reference supply"); r != "" && common != "" {
		d.Elements = append(d.Elements, Element{Kind: Source, A: r, B: common, Volts: s.Reference.Value, Most: s.ReferenceMost.Value, FedBy: fed, FedAt: logic.FedAt})
	}
	if r := terminal("reference input"); r != "" && common != "" {
		d.Elements = append(d.Elements, Element{Kind: Reference, A: r, B: common, Ohms: s.ReferenceInput.Value, Volts: s.Reference.Value})
	}
	far := zero // where an input's own resistor leads to
	if s.Logic.Value == "0 V" {
		far = plus
	}
	for _, t := range row {
		switch c := Command(t.Does); c {
		case RunForward, RunReverse, ReverseDirection, StopCommand, JogCommand, Step1, Step2, ResetCommand, ExternalFault:
			d.Elements = append(d.Elements, Element{Kind: Input, A: t.Name, W: far, Ohms: s.InputOhms.Value, On: s.On.Value, Off: s.Off.Value, Does: c})
		case SafeOff1, SafeOff2: // always switched to 24 V, whatever the other inputs are; common practice
			d.Elements = append(d.Elements, Element{Kind: Input, A: t.Name, W: zero, Ohms: s.InputOhms.Value, On: s.On.Value, Off: s.Off.Value, Does: c})
		}
	}
	for n, of := range logic.Outputs {
		pivot, open, closed := terminal(of+" relay common"), terminal(of+" relay open contact"), terminal(of+" relay closed contact")
		if pivot == "" {
			continue
		}
		if open != "" {
			d.Elements = append(d.Elements, Element{Kind: Contact, A: pivot, B: open, In: 2, Group: n + 1, Most: s.RelayCurrent.Value})
		}
		if closed != "" {
			d.Elements = append(d.Elements, Element{Kind: Contact, A: pivot, B: closed, In: 1, Group: n + 1, Most: s.RelayCurrent.Value})
		}
	}
	return d, logic
}
