package catalogue

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed conductor_resistance.csv
var conductorResistanceFile string

//go:embed conductor_reactance.csv
var conductorReactanceFile string

// cited is a figure with the cell it was read from.
type cited[V any] struct {
	value  V
	source explain.Source
	there  bool
}

// cite returns the number of a cell, turned into a quantity by of, with its source.
func cite[V any](t table, row int, column, cell string, of func(float64) V) cited[V] {
	n, ok := t.number(row, column)
	if !ok {
		return cited[V]{}
	}
	return cited[V]{of(n), t.sourceOf(row, cell), true}
}

// sizeOf reads a conductor size as the tables print it: 14, 4/0, 250. The zero Conductor if it is none.
func sizeOf(text string) quantity.Conductor {
	if aught, ok := strings.CutSuffix(text, "/0"); ok {
		if n, err := strconv.Atoi(aught); err == nil {
			return quantity.AWG(1 - n)
		}
		return quantity.Conductor{}
	}
	n, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil:
		return quantity.Conductor{}
	case n >= 250:
		return quantity.Kcmil(n)
	}
	return quantity.AWG(int(n))
}

// metal is what Table 8 says of a bare conductor.
type metal struct {
	mils            quantity.Area
	solid, stranded cited[quantity.LinearResistance]
}

var metals = sync.OnceValue(func() map[quantity.Conductor]metal {
	t := dataFile(conductorResistanceFile)
	perKilofoot := func(n float64) quantity.LinearResistance {
		return quantity.LinearResistance(n) * quantity.OhmPerKilofoot
	}
	m := map[quantity.Conductor]metal{}
	for row := range t.rows {
		name := t.text(row, "size")
		mils := t.figure(row, "circular mils")
		m[sizeOf(name)] = metal{
			mils:     quantity.Area(mils) * quantity.CircularMil,
			solid:    cite(t, row, "solid", name+", solid", perKilofoot),
			stranded: cite(t, row, "stranded", name+", stranded", perKilofoot),
		}
	}
	return m
})

// NominalArea returns the metal area of a conductor as Chapter 9 Table 8 prints it, in whole circular mils as the trade
// rounds them (3 AWG is 52,620, by geometry 52,634); false for a size that isn't in the table.
func NominalArea(size quantity.Conductor) (quantity.Area, bool) {
	m, ok := metals()[size]
	return m.mils, ok
}

// ConductorResistance returns the direct-current resistance of a copper conductor at 75 °C, stranded as building wire is;
// false for a size that isn't in the table. Source: NFPA 70, Chapter 9 Table 8.
func ConductorResistance(size quantity.Conductor) (quantity.LinearResistance, explain.Source, bool) {
	m := metals()[size]
	return m.stranded.value, m.stranded.source, m.stranded.there
}

// SolidResistance is ConductorResistance of a solid conductor.
func SolidResistance(size quantity.Conductor) (quantity.LinearResistance, explain.Source, bool) {
	m := metals()[size]
	return m.solid.value, m.solid.source, m.solid.there
}

type reactance struct {
	plastic, steel cited[quantity.LinearResistance]
}

var reactances = sync.OnceValue(func() map[quantity.Conductor]reactance {
	t := dataFile(conductorReactanceFile)
	perKilofoot := func(n float64) quantity.LinearResistance {
		return quantity.LinearResistance(n) * quantity.OhmPerKilofoot
	}
	m := map[quantity.Conductor]reactance{}
	for row := range t.rows {
		name := t.text(row, "size")
		m[sizeOf(name)] = reactance{
			plastic: cite(t, row, "plastic or aluminium", name+", plastic or aluminium conduit", perKilofoot),
			steel:   cite(t, row, "steel", name+", steel conduit", perKilofoot),
		}
	}
	return m
})

// ConductorReactance returns the 60 Hz reactance of a conductor in a raceway, which is greater in steel; false for a size
// that isn't in the table. Source: NFPA 70, Chapter 9 Table 9.
func ConductorReactance(size quantity.Conductor, steel bool) (quantity.LinearResistance, explain.Source, bool) {
	r := reactances()[size]
	c := r.plastic
	if steel {
		c = r.steel
	}
	return c.value, c.source, c.there
}
