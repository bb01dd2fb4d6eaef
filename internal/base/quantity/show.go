package quantity

import (
	"math"
	"strconv"
	"strings"
)

// show prints the SI number si of kind k in the largest unit of the system whose threshold it reaches.
func show(k Kind, si float64, s System) string {
	facts := kinds[k]
	if math.IsNaN(si) {
		return "not known"
	}
	if math.IsInf(si, 0) {
		return "without limit"
	}
	chosen := -1
	size := math.Abs(si) * (1 + 1e-9) // 1 ft computed as 0.30479999 is still a foot
	for i, u := range facts.units {
		from := u.inch
		if s == MetricUnits {
			from = u.metric
		}
		if from == never {
			continue
		}
		if chosen < 0 || size >= from || si == 0 && k == KindLength { // sea level is at 0 ft, not at 0 in
			chosen = i
		}
	}
	u := facts.units[chosen]
	number := (si - u.offset) / u.scale
	digits := facts.digits
	if u.digits != 0 {
		digits = u.digits
	}
	if k == KindVoltage && math.Abs(number) >= 100 {
		digits = 4 // 197.7 V is below a limit of 198 V, and must look it
	}
	text := Round(number, digits)
	if k == KindTemperature { // a tenth of a degree is noise in a shop
		text = strconv.FormatFloat(math.Round(number)+0, 'f', 0, 64)
	}
	if u.symbol == "" {
		return text
	}
	return text + " " + u.symbol
}

// Round prints x with the given number of significant digits, whole digits never cut, no trailing zeros after the
// point, and no exponent: 1243.2 with 3 digits is "1243", 0.012345 is "0.0123".
func Round(x float64, digits int) string {
	if x == 0 {
		return "0"
	}
	whole := int(math.Floor(math.Log10(math.Abs(x)))) + 1
	decimals := max(digits-whole, 0)
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// SameUnit reports whether two spellings of a quantity of kind k use the same unit: 1/2" and 0.5 in do.
func SameUnit(k Kind, a, b string) bool {
	ua, okA := unitOf(k, a)
	ub, okB := unitOf(k, b)
	return okA && okB && ua == ub
}

func unitOf(k Kind, text string) (string, bool) {
	_, rest, err := leadingNumber(strings.TrimSpace(text))
	if err != nil {
		return "", false
	}
	symbol, _ := leadingUnit(k, strings.TrimSpace(rest))
	u, ok := findUnit(k, symbol)
	return u.symbol, ok
}
