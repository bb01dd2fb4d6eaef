package catalogue

import (
	_ "embed"
	"math"
	"slices"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed raceway.csv
var racewayFile string

//go:embed raceway_fill.csv
var racewayFillFile string

//go:embed conductor_area.csv
var conductorAreaFile string

// Raceway is one trade size of a raceway.
type Raceway struct {
	Kind, Size string
	Diameter   quantity.Length // inside
	Area       quantity.Area   // total
	Source     explain.Source
}

var raceways = sync.OnceValue(func() []Raceway {
	return eachRow(racewayFile, func(t table, row int) Raceway {
		kind, size := t.text(row, "raceway"), t.text(row, "trade size")
		return Raceway{
			Kind: kind, Size: size, Diameter: quantity.Length(t.figure(row, "diameter")) * quantity.Inch,
			Area: quantity.Area(t.figure(row, "square inches")) * quantity.SquareInch, Source: t.sourceOf(row, kind+", "+size),
		}
	})
})

// RacewaySizes returns the trade sizes of a kind of raceway, smallest first; none for a kind not in the table.
// Source: NFPA 70, Chapter 9 Table 4.
func RacewaySizes(kind string) []Raceway {
	var list []Raceway
	for _, r := range raceways() {
		if r.Kind == kind {
			list = append(list, r)
		}
	}
	return list
}

// RacewayOf returns the trade size of a kind of raceway; false if the table doesn't have it.
func RacewayOf(kind, size string) (Raceway, bool) {
	n := slices.IndexFunc(raceways(), func(r Raceway) bool { return r.Kind == kind && r.Size == size })
	if n < 0 {
		return Raceway{}, false
	}
	return raceways()[n], true
}

type fill struct {
	upTo  float64
	share cited[quantity.Ratio]
}

var fills = sync.OnceValue(func() []fill {
	return eachRow(racewayFillFile, func(t table, row int) fill {
		upTo, limited := t.number(row, "up to conductors")
		cell := t.text(row, "up to conductors") + " conductors"
		if !limited {
			upTo, cell = math.Inf(1), "over 2 conductors"
		}
		return fill{upTo, cite(t, row, "percent", cell, func(n float64) quantity.Ratio {
			return quantity.Ratio(n) * quantity.Percent
		})}
	})
})

// RacewayFill returns the most of a raceway's area that so many conductors may fill. Source: NFPA 70, Chapter 9 Table 1.
func RacewayFill(conductors quantity.Count) (quantity.Ratio, explain.Source) {
	for _, f := range fills() {
		if float64(conductors) <= f.upTo {
			return f.share.value, f.share.source
		}
	}
	return 0, explain.Source{}
}

type insulated struct {
	family string
	size   quantity.Conductor
}

var insulatedAreas = sync.OnceValue(func() map[insulated]cited[quantity.Area] {
	t := dataFile(conductorAreaFile)
	m := map[insulated]cited[quantity.Area]{}
	for row := range t.rows {
		family, name := t.text(row, "insulation"), t.text(row, "size")
		m[insulated{family, sizeOf(name)}] = cite(t, row, "square inches", name+" "+family, func(n float64) quantity.Area {
			return quantity.Area(n) * quantity.SquareInch
		})
	}
	return m
})

// InsulatedArea returns the area of a conductor over its insulation, by the letters printed on it; false for cables and for
// sizes not in the table. Source: NFPA 70, Chapter 9 Table 5.
func InsulatedArea(size quantity.Conductor, letters string) (quantity.Area, explain.Source, bool) {
	i, ok := InsulationOf(letters)
	if !ok {
		return 0, explain.Source{}, false
	}
	c := insulatedAreas()[insulated{i.Family, size}]
	return c.value, c.source, c.there
}
