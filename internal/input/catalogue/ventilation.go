package catalogue

import (
	_ "embed"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed vent_opening.csv
var ventOpeningFile string

//go:embed filter_clogging.csv
var filterCloggingFile string

//go:embed fan_filter.csv
var fanFilterFile string

//go:embed altitude_fan.csv
var altitudeFanFile string

//go:embed sunshine.csv
var sunshineFile string

//go:embed sun_absorption.csv
var sunAbsorptionFile string

//go:embed air.csv
var airFile string

// Opening is what stands in a ventilation opening.
type Opening struct {
	Name      string
	Open      quantity.Ratio    // part of the cut-out that is open
	Discharge quantity.Factor   // part of the flow without losses that goes through what is open
	Filter    quantity.Pressure // that its mat takes at 1 m/s through the cut-out, clean; 0 without a mat
	Source    explain.Source
}

var openings = sync.OnceValue(func() []Opening {
	return eachRow(ventOpeningFile, func(t table, row int) Opening {
		return Opening{t.text(row, "opening"), quantity.Ratio(t.figure(row, "open")), quantity.Factor(t.figure(row, "discharge")),
			quantity.Pressure(t.figure(row, "filter")), t.sourceOf(row, t.text(row, "opening"))}
	})
})

// OpeningWords are the openings that the table knows. The caller may change the slice.
func OpeningWords() []string {
	var words []string
	for _, o := range openings() {
		words = append(words, o.Name)
	}
	return words
}

// OpeningOf returns the figures of the opening; false when the table doesn't know it.
func OpeningOf(name string) (Opening, bool) {
	for _, o := range openings() {
		if o.Name == name {
			return o, true
		}
	}
	return Opening{}, false
}

// named is a figure with the word that it goes by.
type named[V any] struct {
	word   string
	figure cited[V]
}

// namedRows reads a file of words with a figure each.
func namedRows[V any](text, word, column string, of func(float64) V) []named[V] {
	return eachRow(text, func(t table, row int) named[V] {
		return named[V]{t.text(row, word), cite(t, row, column, t.text(row, word), of)}
	})
}

// figureOf returns the figure of the word, and whether there is one.
func figureOf[V any](rows []named[V], word string) (V, explain.Source, bool) {
	for _, r := range rows {
		if r.word == word {
			return r.figure.value, r.figure.source, r.figure.there
		}
	}
	var none V
	return none, explain.Source{}, false
}

func wordsOf[V any](rows []named[V]) []string {
	var words []string
	for _, r := range rows {
		words = append(words, r.word)
	}
	return words
}

func asRatio(n float64) quantity.Ratio { return quantity.Ratio(n) }

var clogging = sync.OnceValue(func() []named[quantity.Ratio] { return namedRows(filterCloggingFile, "dust", "left", asRatio) })

// FilterLeft returns the part of a fan's flow with a clean filter that is left when the filter is full, by what flies about; false
// for words that the table doesn't know.
func FilterLeft(dust string) (quantity.Ratio, explain.Source, bool) {
	return figureOf(clogging(), dust)
}

// DustWords are the kinds of dust that the table knows. The caller may change the slice.
func DustWords() []string { return wordsOf(clogging()) }

var delivered = sync.OnceValue(func() []named[quantity.Ratio] {
	return namedRows(fanFilterFile, "fitted", "delivered", asRatio)
})

// FanDelivers returns the part of a fan's free-air flow that is left with clean filters at inlet and outlet.
func FanDelivers() (quantity.Ratio, explain.Source) {
	left, source, _ := figureOf(delivered(), "clean filter")
	return left, source
}

var sunshine = sync.OnceValue(func() []named[quantity.Irradiance] {
	return namedRows(sunshineFile, "place", "irradiance", func(n float64) quantity.Irradiance { return quantity.Irradiance(n) })
})

// Sunshine returns what the sun brings on a face that it shines on, by the words of the job file: no, through a window, outdoors.
func Sunshine(place string) (quantity.Irradiance, explain.Source, bool) {
	return figureOf(sunshine(), place)
}

var absorptions = sync.OnceValue(func() []named[quantity.Ratio] {
	return namedRows(sunAbsorptionFile, "colour", "absorption", asRatio)
})

// SunAbsorption returns the part of the sunshine that a face of the colour takes up; false for colours that the table doesn't know.
func SunAbsorption(colour string) (quantity.Ratio, explain.Source, bool) {
	return figureOf(absorptions(), colour)
}

// ColourWords are the colours that the table knows. The caller may change the slice.
func ColourWords() []string { return wordsOf(absorptions()) }

// FlowFactor is a row of the makers' table of fan flow by altitude.
type FlowFactor struct {
	UpTo   quantity.Length
	Factor float64 // m³/h for each watt and kelvin
	Source explain.Source
}

// FlowFactors returns the makers' table of fan flow by altitude, lowest first.
func FlowFactors() []FlowFactor {
	return eachRow(altitudeFanFile, func(t table, row int) FlowFactor {
		return FlowFactor{quantity.Length(t.figure(row, "up to")), t.figure(row, "factor"), t.sourceOf(row, "up to "+t.text(row, "up to")+" m")}
	})
}

// Air is what free convection asks of the air, in SI units.
type Air struct{ Conductivity, Viscosity, Prandtl float64 }

var airCurves = sync.OnceValue(func() (curves [3][]point) {
	t := dataFile(airFile)
	for row := range t.rows {
		for n, column := range []string{"conductivity", "viscosity", "prandtl"} {
			curves[n] = append(curves[n], point{t.figure(row, "celsius"), t.figure(row, column)})
		}
	}
	return curves
})

// AirAt returns the properties of air at sea level, read straight between the table's rows of 0 to 160 °C and held beyond them.
func AirAt(t quantity.Temperature) Air {
	c := airCurves()
	return Air{along(c[0], float64(t)), along(c[1], float64(t)), along(c[2], float64(t))}
}
