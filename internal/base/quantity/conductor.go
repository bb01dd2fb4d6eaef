package quantity

import (
	"fmt"
	"math"
	"strconv"
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
