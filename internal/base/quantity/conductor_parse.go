package quantity

import (
	"strconv"
	"strings"
)

// ParseConductor reads "14 AWG", "#12", "4/0 AWG", "2/0", "250 kcmil", "250 MCM", "2.5 mm²" or "2.5 sq mm", in any
// capitals. Limits: 0 to 40 AWG, 1/0 to 4/0, 213 to 2000 kcmil, above 0 to 1000 mm². The error is a *ParseError.
func ParseConductor(text string) (Conductor, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	for _, suffix := range []string{"mm²", "mm2", "sq mm", "qmm", "mm^2"} {
		if number, ok := strings.CutSuffix(t, suffix); ok {
			n, ok := plainDecimal(number)
			if !ok || n <= 0 || n > 1000 {
				return Conductor{}, conductorError(text)
			}
			return SquareMillimetres(n), nil
		}
	}
	for _, suffix := range []string{"kcmil", "mcm"} {
		if number, ok := strings.CutSuffix(t, suffix); ok {
			n, ok := plainDecimal(number)
			if !ok || n < 213 || n > 2000 {
				return Conductor{}, conductorError(text)
			}
			return Kcmil(n), nil
		}
	}
	number, named := strings.CutSuffix(t, "awg")
	if !named {
		number, named = strings.CutSuffix(t, "ga")
	}
	number, hash := strings.CutPrefix(strings.TrimSpace(number), "#")
	number = strings.TrimSpace(number)
	if aught, ok := strings.CutSuffix(number, "/0"); ok {
		if len(aught) != 1 || aught[0] < '1' || aught[0] > '4' {
			return Conductor{}, conductorError(text)
		}
		return AWG(1 - int(aught[0]-'0')), nil
	}
	if number == "0" && (named || hash) {
		return AWG(0), nil
	}
	n, err := strconv.Atoi(number)
	if !named && !hash || err != nil || n < 1 || n > 40 || integerLength(number) != len(number) {
		return Conductor{}, conductorError(text)
	}
	return AWG(n), nil
}

// plainDecimal reads a number made of digits and at most one point.
func plainDecimal(text string) (float64, bool) {
	t := strings.TrimSpace(text)
	if n := decimalLength(t); n == 0 || n != len(t) || strings.ContainsAny(t, "eE") {
		return 0, false
	}
	n, err := strconv.ParseFloat(t, 64)
	return n, err == nil
}

func conductorError(text string) error {
	return &ParseError{Text: text, Kind: KindConductor, Length: len(text), Message: "is not a conductor size",
		Expected: "a size such as 10 AWG, 4/0 AWG, 250 kcmil or 2.5 mm²"}
}
