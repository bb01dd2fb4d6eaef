package catalogue

import (
	_ "embed"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed drive_single_phase_240.csv
var driveSinglePhase240Text string

//go:embed drive_doubler_120.csv
var driveDoubler120Text string

//go:embed drive_three_phase_240.csv
var driveThreePhase240Text string

//go:embed drive_three_phase_480.csv
var driveThreePhase480Text string

// Drive is a typical drive, of no maker.
type Drive struct {
	// Name says what to ask for: "drive, 3 hp, 240 V single-phase input".
	Name        string
	Power       quantity.ShaftPower
	InputPhases int
	// Doubles says that the DC link is charged to twice the peak of the supply, so that the output reaches twice the input.
	Doubles bool
	// Least and Most bound the supply it takes.
	Least, Most  quantity.Voltage
	Output       quantity.Current // continuous, constant torque, at 40 °C and 4 kHz
	Input        quantity.Current // rated, without choke, on as many phases as InputPhases says
	Losses       quantity.Power
	Leakage      quantity.Current
	Capacitance  quantity.Capacitance
	MaxDevice    quantity.Current
	ShortCircuit quantity.Current
	Overload     quantity.Ratio // for a minute
	Price        quantity.Money // United States dollars, typical
	Source       explain.Source
}

// class is what the drives of one data file have in common.
type class struct {
	name        string
	inputPhases int
	doubles     bool
	least, most quantity.Voltage
}

// fraction prints the powers of the trade as the trade does: 7-1/2 for 7.5.
var fraction = strings.NewReplacer("0.25", "1/4", "0.33", "1/3", "0.5", "1/2", "0.75", "3/4", "1.5", "1-1/2", "7.5", "7-1/2")

func drives(text string, c class) []Drive {
	return eachRow(text, func(t table, row int) Drive {
		number := func(column string) float64 { return t.figure(row, column) }
		return Drive{
			Name:        "drive, " + fraction.Replace(t.text(row, "horsepower")) + " hp, " + c.name,
			Power:       quantity.ShaftPower(number("horsepower")) * quantity.Horsepower,
			InputPhases: c.inputPhases, Doubles: c.doubles, Least: c.least, Most: c.most,
			Output: quantity.Current(number("output")), Input: quantity.Current(number("input")),
			Losses: quantity.Power(number("losses")), Leakage: quantity.Current(number("leakage")) * quantity.Milliampere,
			Capacitance: quantity.Capacitance(number("capacitance")) * quantity.Microfarad,
			MaxDevice:   quantity.Current(number("device")), ShortCircuit: quantity.Current(number("fault")),
			Overload: quantity.Ratio(number("overload")) * quantity.Percent, Price: quantity.Money(number("price")),
			Source: t.sourceOf(row, t.text(row, "horsepower")+" hp"),
		}
	})
}

// SinglePhaseDrives returns the typical drives for a single-phase supply of the 240 V class, smallest first. The caller
// must not change the list; the same holds for the lists below.
func SinglePhaseDrives() []Drive { return singlePhaseDrives() }

var singlePhaseDrives = sync.OnceValue(func() []Drive {
	return drives(driveSinglePhase240Text, class{name: "240 V single-phase input", inputPhases: 1, least: 200 * 0.9, most: 240 * 1.1})
})

// DoublerDrives returns the typical drives for a single-phase supply of the 120 V class that put twice the supply's volts
// on the motor, smallest first.
func DoublerDrives() []Drive { return doublerDrives() }

var doublerDrives = sync.OnceValue(func() []Drive {
	return drives(driveDoubler120Text, class{name: "120 V single-phase input, 240 V output", inputPhases: 1, doubles: true, least: 100 * 0.9, most: 120 * 1.1})
})

// ThreePhaseDrives returns the typical drives for a three-phase supply of the 240 V class, smallest first.
func ThreePhaseDrives() []Drive { return threePhaseDrives() }

var threePhaseDrives = sync.OnceValue(func() []Drive {
	return drives(driveThreePhase240Text, class{name: "240 V three-phase input", inputPhases: 3, least: 200 * 0.9, most: 240 * 1.1})
})

// HighVoltageDrives returns the typical drives for a three-phase supply of the 480 V class, smallest first.
func HighVoltageDrives() []Drive { return highVoltageDrives() }

var highVoltageDrives = sync.OnceValue(func() []Drive {
	return drives(driveThreePhase480Text, class{name: "480 V three-phase input", inputPhases: 3, least: 380 * 0.9, most: 480 * 1.1})
})
