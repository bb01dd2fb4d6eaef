package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Conductor is the size of a conductor: an American Wire Gauge number, an area in kcmil or an area in mm². The three
// series don't convert into one another without false precision, so a size keeps the series it was written in.
// The zero value is no size.
type Conductor struct {
	series series
	// number is the gauge (0 for 1/0, -1 for 2/0 …), the kcmil, or the square millimetres.
	number float64
}

type series int

const (
	noSeries series = iota
	gauge
	kcmil
	squareMillimetre
)

// AWG returns the conductor of the given American Wire Gauge: 14 for 14 AWG, 0 for 1/0, -1 for 2/0, -3 for 4/0.
func AWG(n int) Conductor { return Conductor{gauge, float64(n)} }

// Kcmil returns the conductor of n thousand circular mils.
func Kcmil(n float64) Conductor { return Conductor{kcmil, n} }

// SquareMillimetres returns the conductor of n mm².
func SquareMillimetres(n float64) Conductor { return Conductor{squareMillimetre, n} }

// Kind returns KindConductor.
func (Conductor) Kind() Kind { return KindConductor }

// Known reports whether c is a size at all.
func (c Conductor) Known() bool { return c.series != noSeries }

// Metric reports whether c is written in mm².
func (c Conductor) Metric() bool { return c.series == squareMillimetre }

// Area returns the metal cross-section; for a gauge by its geometric definition, d = 0.005 in · 92^((36-n)/39).
// Source: ASTM B258. NaN for no size.
func (c Conductor) Area() Area {
	switch c.series {
	case gauge:
		d := 0.005 * math.Pow(92, (36-c.number)/39) * 1000 // mil
		return Area(d*d) * CircularMil
	case kcmil:
		return Area(c.number*1000) * CircularMil
	case squareMillimetre:
		return Area(c.number) * SquareMM
	case noSeries:
	}
	return Area(math.NaN())
}

// Name returns the size as tables print it: 14, 4/0, 250 (kcmil) or 2.5 (mm²).
func (c Conductor) Name() string {
	if c.series == gauge && c.number <= 0 {
		return fmt.Sprintf("%d/0", 1-int(c.number))
	}
	return strconv.FormatFloat(c.number, 'f', -1, 64)
}

// Show prints the size in its own series: a wire is never converted to one that can't be bought.
func (c Conductor) Show(System) string {
	switch c.series {
	case gauge:
		return c.Name() + " AWG"
	case kcmil:
		return c.Name() + " kcmil"
	case squareMillimetre:
		return c.Name() + " mm²"
	case noSeries:
	}
	return "no size"
}

// ParseConductor reads "14 AWG", "#12", "4/0 AWG", "2/0", "250 kcmil", "250 MCM", "2.5 mm²" or "2.5 sq mm".
// The error is a *ParseError.
func ParseConductor(text string) (Conductor, error) {
	t := strings.TrimSpace(text)
	lower := strings.ToLower(t)
	for _, suffix := range []string{"mm²", "mm2", "sq mm", "qmm", "mm^2"} {
		if number, ok := strings.CutSuffix(lower, suffix); ok {
			n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
			if err != nil || n <= 0 || n > 1000 {
				return Conductor{}, conductorError(text)
			}
			return SquareMillimetres(n), nil
		}
	}
	for _, suffix := range []string{"kcmil", "mcm"} {
		if number, ok := strings.CutSuffix(lower, suffix); ok {
			n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
			if err != nil || n < 213 || n > 2000 {
				return Conductor{}, conductorError(text)
			}
			return Kcmil(n), nil
		}
	}
	number, awg := strings.CutSuffix(lower, "awg")
	if !awg {
		number, awg = strings.CutPrefix(lower, "#")
	}
	if !awg {
		number, awg = strings.CutSuffix(lower, "ga")
	}
	number = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(number), "#"))
	if aught, ok := strings.CutSuffix(number, "/0"); ok {
		n, err := strconv.Atoi(aught)
		if err != nil || n < 1 || n > 4 {
			return Conductor{}, conductorError(text)
		}
		return AWG(1 - n), nil
	}
	n, err := strconv.Atoi(number)
	if !awg || err != nil || n < 0 || n > 40 {
		return Conductor{}, conductorError(text)
	}
	return AWG(n), nil
}

func conductorError(text string) error {
	return &ParseError{Text: text, Kind: KindConductor, Length: len(text), Message: "is not a conductor size",
		Expected: "a size such as 10 AWG, 4/0 AWG, 250 kcmil or 2.5 mm²"}
}
