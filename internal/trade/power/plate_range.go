package power

import (
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// plateRange is one connection of a nameplate: a motor marked 208-230/460 V is made for anything from 208 to 230 V on its
// lower connection. Of a single figure both ends are the same. The currents are those at either end; missing (zero) where
// the plate doesn't give one current for each connection.
type plateRange struct {
	low, high     quantity.Voltage
	atLow, atHigh quantity.Current
}

// plateRanges returns the connections of the nameplate in its order, from what was typed there.
func plateRanges(m *job.Motor) []plateRange {
	var list []plateRange
	for n, v := range m.Voltages.Value {
		low, high := endsOf(quantity.KindVoltage, m.Voltages.Typed, n, v, v)
		list = append(list, plateRange{low: min(low, high), high: max(low, high)})
	}
	if len(list) != len(m.Currents.Value) {
		return list
	}
	for n, i := range m.Currents.Value {
		list[n].atLow, list[n].atHigh = endsOf(quantity.KindCurrent, m.Currents.Typed, n, i, i)
	}
	return list
}

// endsOf returns both ends of the n-th figure of a typed list, the given ones where it can't be read.
func endsOf[Q quantity.Value](kind quantity.Kind, typed string, n int, first, second Q) (Q, Q) {
	ranges, err := quantity.ParseRanges(kind, strings.TrimSpace(typed))
	if err != nil || n >= len(ranges) {
		return first, second
	}
	a, okA := ranges[n].First.(Q)
	b, okB := ranges[n].Second.(Q)
	if !okA || !okB {
		return first, second
	}
	return a, b
}

// at is the voltage of the connection that is nearest to the volts that are there.
func (p plateRange) at(available quantity.Voltage) quantity.Voltage {
	return min(max(available, p.low), p.high)
}

// reached reports whether the volts that are there serve the connection: not below the motor's tolerance, and not below the
// range that the plate gives.
func (p plateRange) reached(available quantity.Voltage) bool {
	return available >= min(p.high*(1-motorTolerance), p.low)
}

// current is the plate's current of the connection at a voltage of it: that of the nearer end.
func (p plateRange) current(v quantity.Voltage) quantity.Current {
	if p.high-v > v-p.low {
		return p.atLow
	}
	return p.atHigh
}

// connectionAt returns the connection that a voltage lies in; false if none.
func connectionAt(m *job.Motor, v quantity.Voltage) (plateRange, bool) {
	for _, p := range plateRanges(m) {
		if v >= p.low && v <= p.high {
			return p, true
		}
	}
	return plateRange{}, false
}

// plateVolts is the plate's voltages as they stand there, ranges and all.
func plateVolts(m *job.Motor) quantity.Text { return quantity.Text(m.Voltages.Typed) }

// lowerEnd returns the lower end of the range whose upper end is v in a typed list of voltages: 200 V for 240 V in
// "200-240 V". Where v stands alone it returns v.
func lowerEnd(typed string, v quantity.Voltage) quantity.Voltage {
	ranges, err := quantity.ParseRanges(quantity.KindVoltage, strings.TrimSpace(typed))
	if err != nil {
		return v
	}
	for _, r := range ranges {
		if low, ok := r.First.(quantity.Voltage); ok && r.Second == quantity.Value(v) {
			return low
		}
	}
	return v
}

// inputRange returns the ends of the voltages that a drive's label gives, which must have one at least.
func inputRange(label job.Given[quantity.Voltages]) (low, high quantity.Voltage) {
	low, high = label.Value[0], slices.Max(label.Value)
	for _, v := range label.Value {
		low = min(low, lowerEnd(label.Typed, v))
	}
	return low, high
}
