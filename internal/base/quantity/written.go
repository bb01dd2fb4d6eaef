package quantity

import (
	"slices"
	"strings"
)

// UnitIn returns the unit that a valid spelling of a quantity of kind k ends in, as it is printed: "in" for `1/2"`.
// It is "" for a bare number. ok is false if text is no such quantity.
func UnitIn(k Kind, text string) (symbol string, ok bool) {
	if k < 0 || k >= kindLimit {
		return "", false
	}
	return unitOf(k, text)
}

// ShowIn prints the SI number si of kind k in the unit with the printed spelling symbol, whatever the unit system:
// ShowIn(KindLength, 500, "ft") is "1640 ft". An unknown unit gives what Show prints in inch units.
func ShowIn(k Kind, si float64, symbol string) string {
	if k < 0 || k >= kindLimit {
		return ""
	}
	for _, u := range kinds[k].units {
		if u.symbol == symbol {
			return strings.TrimSpace(Round((si-u.offset)/u.scale, kinds[k].digits) + " " + u.symbol)
		}
	}
	return show(k, si, InchUnits)
}

// PrintedUnits returns the units that the sheet prints for kind k in either unit system, smallest first.
func PrintedUnits(k Kind) []string {
	if k < 0 || k >= kindLimit {
		return nil
	}
	var symbols []string
	for _, u := range kinds[k].units {
		if u.symbol != "" && (u.inch != never || u.metric != never) {
			symbols = append(symbols, u.symbol)
		}
	}
	return symbols
}

// UnitSpellings returns every spelling of every unit that is read for kind k, longest first.
func UnitSpellings(k Kind) []string {
	if k < 0 || k >= kindLimit {
		return nil
	}
	var all []string
	for _, u := range kinds[k].units {
		for _, s := range append([]string{u.symbol}, u.also...) {
			if s != "" && !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b string) int { return len(b) - len(a) })
	return all
}

// Bare reports whether a number without a unit is a value of kind k.
func Bare(k Kind) bool { return k >= 0 && k < kindLimit && kinds[k].bare }

// KindsWithUnit returns the kinds that know the unit spelled symbol, in their own order.
func KindsWithUnit(symbol string) []Kind {
	var list []Kind
	for k := Kind(0); k < kindLimit; k++ {
		if _, ok := findUnit(k, symbol); ok && symbol != "" {
			list = append(list, k)
		}
	}
	return list
}
