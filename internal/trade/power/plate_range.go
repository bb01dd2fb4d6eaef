package power

import (
	"strings"

	"drivewright/internal/base/quantity"
)

// lowerEnd returns the lower end of the range whose upper end is v in a typed list of voltages: 208 V for 230 V in
// "208-230/460 V". Where v stands alone it returns v.
func lowerEnd(typed string, v quantity.Voltage) quantity.Voltage {
	for _, part := range strings.Split(typed, "/") {
		low, high, ok := strings.Cut(part, "-")
		if !ok {
			continue
		}
		top, errTop := quantity.Parse(quantity.KindVoltage, strings.TrimSpace(strings.TrimRight(strings.TrimSpace(high), "Vv "))+" V")
		bottom, errBottom := quantity.Parse(quantity.KindVoltage, strings.TrimSpace(strings.TrimRight(strings.TrimSpace(low), "Vv "))+" V")
		if errTop != nil || errBottom != nil || top != quantity.Value(v) {
			continue
		}
		if b, ok := bottom.(quantity.Voltage); ok {
			return b
		}
	}
	return v
}

// reaches reports whether the volts that are there serve a connection whose plate voltage is v: within the motor's tolerance
// below it, or within the range that the plate gives for it.
func reaches(typed string, available, v quantity.Voltage) bool {
	return available >= min(v*(1-motorTolerance), lowerEnd(typed, v))
}
