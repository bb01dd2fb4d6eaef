package catalogue

import (
	_ "embed"
	"fmt"
	"strconv"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed motor_current_three_phase.csv
var threePhaseCurrentText string

//go:embed motor_current_single_phase.csv
var singlePhaseCurrentText string

//go:embed motor_current_iec.csv
var iecCurrentText string

// CurrentRow is a row of a table of motor full-load currents.
type CurrentRow struct {
	Power quantity.ShaftPower
	// Name is the power as the table prints it: 1-1/2 hp, 2.2 kW.
	Name string
	// Current is the full-load current.
	Current quantity.Current
	// Column is the table's voltage that it stands under.
	Column quantity.Voltage
	Source explain.Source
}

// currentColumn is one voltage of a table of motor currents: the rows that have a figure, smallest power first.
type currentColumn struct {
	voltage quantity.Voltage
	rows    []CurrentRow
}

var threePhaseCurrents = sync.OnceValue(func() []currentColumn {
	return currentColumns(threePhaseCurrentText, "hp", quantity.Horsepower, "horsepower", "hp", 115, 200, 208, 230, 460, 575)
})

var singlePhaseCurrents = sync.OnceValue(func() []currentColumn {
	return currentColumns(singlePhaseCurrentText, "hp", quantity.Horsepower, "horsepower", "hp", 115, 200, 208, 230)
})

var iecCurrents = sync.OnceValue(func() []currentColumn {
	return currentColumns(iecCurrentText, "kilowatt", quantity.Kilowatt, "kilowatt", "kW", 230, 400, 500, 690)
})

// currentColumns reads a table of motor currents, turned so that each voltage has its rows.
func currentColumns(text, power string, unit quantity.ShaftPower, name, suffix string, voltages ...int) []currentColumn {
	t := dataFile(text)
	var columns []currentColumn
	for _, v := range voltages {
		c := currentColumn{voltage: quantity.Voltage(v)}
		for row := range t.rows {
			p, okP := t.number(row, power)
			i, okI := t.number(row, strconv.Itoa(v))
			if !okP || !okI {
				continue
			}
			words := t.text(row, name) + " " + suffix
			c.rows = append(c.rows, CurrentRow{Power: quantity.ShaftPower(p) * unit, Name: words, Current: quantity.Current(i),
				Column: c.voltage, Source: t.sourceOf(row, fmt.Sprintf("%s at %d V", words, v))})
		}
		columns = append(columns, c)
	}
	return columns
}

// sameSize is how far a power may lie above a table's row and still be that size: 1.5 kW is sold as 2 hp (2.01 hp), 2.2 kW
// as 3 hp (2.95 hp), 7.5 kW as 10 hp (10.06 hp).
const sameSize = 1.015

// nearestColumn returns the column that serves the voltage: the one whose system voltages include it. The tables say
// 110 to 120, 220 to 240, 440 to 480 and 550 to 600 V; 200 and 208 V stand for themselves. A voltage that no column
// serves, such as 380 V, gives the next column below it (above it for one below them all), and exact is false: the current
// must then be changed in inverse proportion.
func nearestColumn(columns []currentColumn, v quantity.Voltage) (column currentColumn, exact bool) {
	for _, c := range columns {
		from, to := c.voltage*0.95, c.voltage*1.05
		switch c.voltage {
		case 200:
			from, to = 190, 204
		case 208:
			from, to = 204, 219
		case 230:
			from, to = 219, 245
		}
		if v >= from && v < to {
			return c, true
		}
	}
	if len(columns) == 0 {
		return currentColumn{}, false
	}
	column = columns[0]
	for _, c := range columns {
		if c.voltage <= v {
			column = c
		}
	}
	return column, false
}

// lookUpCurrent returns the smallest row of the table that is at least p, at the column for v.
func lookUpCurrent(columns []currentColumn, p quantity.ShaftPower, v quantity.Voltage) (row CurrentRow, exactColumn bool, err error) {
	c, exact := nearestColumn(columns, v)
	for _, r := range c.rows {
		if p <= r.Power*sameSize {
			return r, exact, nil
		}
	}
	if len(c.rows) == 0 {
		return CurrentRow{}, false, fmt.Errorf("the table of motor currents has no column for this voltage")
	}
	last := c.rows[len(c.rows)-1]
	return CurrentRow{}, exact, fmt.Errorf("the table of motor currents ends at %s in its %.0f V column", last.Name, float64(c.voltage))
}

// ThreePhaseCurrent returns the row of NFPA 70 Table 430.250 for a motor of power p at the rated voltage v. A power between
// rows takes the next larger row, one below them all the smallest. Exact is false when no column serves v and
// the figure of another column comes back (see CurrentRow.Column). The error says where the table ends.
func ThreePhaseCurrent(p quantity.ShaftPower, v quantity.Voltage) (row CurrentRow, exact bool, err error) {
	return lookUpCurrent(threePhaseCurrents(), p, v)
}

// SinglePhaseCurrent is ThreePhaseCurrent for NFPA 70 Table 430.248, single-phase motors.
func SinglePhaseCurrent(p quantity.ShaftPower, v quantity.Voltage) (row CurrentRow, exact bool, err error) {
	return lookUpCurrent(singlePhaseCurrents(), p, v)
}

// IECCurrent is ThreePhaseCurrent for IEC 60947-4-1 Annex G, typical currents at 50 Hz; the figures are from memory.
func IECCurrent(p quantity.ShaftPower, v quantity.Voltage) (row CurrentRow, exact bool, err error) {
	return lookUpCurrent(iecCurrents(), p, v)
}
