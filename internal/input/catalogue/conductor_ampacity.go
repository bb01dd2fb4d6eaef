package catalogue

import (
	_ "embed"
	"math"
	"slices"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed conductor_ampacity.csv
var conductorAmpacityFile string

//go:embed conductor_correction.csv
var conductorCorrectionFile string

//go:embed conductor_adjustment.csv
var conductorAdjustmentFile string

//go:embed conductor_insulation.csv
var conductorInsulationFile string

// The insulation temperatures for which the ampacity table has a column.
const (
	column60 quantity.Temperature = 60
	column75 quantity.Temperature = 75
	column90 quantity.Temperature = 90
)

// byColumn holds one figure for each insulation temperature.
type byColumn[V any] struct{ at60, at75, at90 cited[V] }

func (b byColumn[V]) at(column quantity.Temperature) cited[V] {
	switch column {
	case column60:
		return b.at60
	case column75:
		return b.at75
	case column90:
		return b.at90
	}
	return cited[V]{}
}

type ampacityTable struct {
	sizes []quantity.Conductor
	of    map[quantity.Conductor]byColumn[quantity.Current]
}

var ampacities = sync.OnceValue(func() ampacityTable {
	t := dataFile(conductorAmpacityFile)
	a := ampacityTable{of: map[quantity.Conductor]byColumn[quantity.Current]{}}
	amperes := func(n float64) quantity.Current { return quantity.Current(n) }
	for row := range t.rows {
		name := t.text(row, "size")
		size := sizeOf(name)
		a.sizes = append(a.sizes, size)
		a.of[size] = byColumn[quantity.Current]{
			cite(t, row, "amperes at 60 C", name+", 60 °C column", amperes),
			cite(t, row, "amperes at 75 C", name+", 75 °C column", amperes),
			cite(t, row, "amperes at 90 C", name+", 90 °C column", amperes),
		}
	}
	return a
})

// ConductorSizes returns the copper conductor sizes of the ampacity table, 14 AWG first. The caller may change the slice.
func ConductorSizes() []quantity.Conductor { return slices.Clone(ampacities().sizes) }

// NextConductor returns the smallest size of the ampacity table whose nominal area is at least the area given; false when
// none is. Source of the areas: NFPA 70, Chapter 9 Table 8.
func NextConductor(area quantity.Area) (quantity.Conductor, bool) {
	for _, size := range ampacities().sizes {
		if have, ok := NominalArea(size); ok && have >= area {
			return size, true
		}
	}
	return quantity.Conductor{}, false
}

// Ampacity returns the amperes of a copper conductor at the insulation temperature of 60, 75 or 90 °C, in 30 °C air with
// not more than three current-carrying conductors together; false where the table has no such cell.
// Source: NFPA 70, Table 310.16, figures of 2011 and later.
func Ampacity(size quantity.Conductor, column quantity.Temperature) (quantity.Current, explain.Source, bool) {
	c := ampacities().of[size].at(column)
	return c.value, c.source, c.there
}

type correction struct {
	upTo    quantity.Temperature
	factors byColumn[quantity.Factor]
}

var corrections = sync.OnceValue(func() []correction {
	t := dataFile(conductorCorrectionFile)
	factor := func(n float64) quantity.Factor { return quantity.Factor(n) }
	var list []correction
	for row := range t.rows {
		upTo := t.figure(row, "up to C")
		cell := "up to " + t.text(row, "up to C") + " °C"
		list = append(list, correction{quantity.Temperature(upTo), byColumn[quantity.Factor]{
			cite(t, row, "factor at 60 C", cell+", 60 °C column", factor),
			cite(t, row, "factor at 75 C", cell+", 75 °C column", factor),
			cite(t, row, "factor at 90 C", cell+", 90 °C column", factor),
		}})
	}
	return list
})

// AmpacityCorrection returns the factor on the ampacity for the air around a conductor of the given insulation temperature;
// false where it is too hot for that insulation. A temperature between two rows takes the warmer row.
// Source: NFPA 70, Table 310.15(B)(1)(1), base 30 °C.
func AmpacityCorrection(ambient, column quantity.Temperature) (quantity.Factor, explain.Source, bool) {
	for _, c := range corrections() {
		// The rows are whole degrees: 95 °F computed as 35.0000001 °C is still 35 °C.
		if ambient <= c.upTo+1e-6 {
			f := c.factors.at(column)
			return f.value, f.source, f.there
		}
	}
	return 0, explain.Source{}, false
}

type adjustment struct {
	upTo  float64
	share cited[quantity.Ratio]
}

var adjustments = sync.OnceValue(func() []adjustment {
	return eachRow(conductorAdjustmentFile, func(t table, row int) adjustment {
		upTo, limited := t.number(row, "up to conductors")
		cell := "up to " + t.text(row, "up to conductors")
		if !limited {
			upTo, cell = math.Inf(1), "41 and more"
		}
		return adjustment{upTo, cite(t, row, "percent", cell, func(n float64) quantity.Ratio {
			return quantity.Ratio(n) * quantity.Percent
		})}
	})
})

// AmpacityAdjustment returns the part of the ampacity that is left with so many current-carrying conductors together.
// Source: NFPA 70, Table 310.15(C)(1).
func AmpacityAdjustment(together quantity.Count) (quantity.Ratio, explain.Source) {
	for _, a := range adjustments() {
		if float64(together) <= a.upTo {
			return a.share.value, a.share.source
		}
	}
	return 0, explain.Source{}
}

// Insulation is what the letters on a wire or cable say.
type Insulation struct {
	Letters string
	// Starts is the temperature column from which corrections start, Ends the hottest column that may be used in the end:
	// NM-B starts at 90 °C and ends at 60 °C.
	Starts, Ends quantity.Temperature
	// Family is its name in Chapter 9 Table 5; "" for a cable, which isn't pulled into a raceway wire by wire.
	Family string
	Source explain.Source
}

var insulations = sync.OnceValue(func() map[string]Insulation {
	t := dataFile(conductorInsulationFile)
	m := map[string]Insulation{}
	for row := range t.rows {
		starts := t.figure(row, "starts at C")
		ends := t.figure(row, "ends at C")
		letters := t.text(row, "insulation")
		m[letters] = Insulation{letters, quantity.Celsius(starts), quantity.Celsius(ends), t.text(row, "family"), t.sourceOf(row, letters)}
	}
	return m
})

// InsulationOf returns what the letters printed on a wire or cable say, for dry places; false for letters not in the table.
func InsulationOf(letters string) (Insulation, bool) {
	i, ok := insulations()[letters]
	return i, ok
}
