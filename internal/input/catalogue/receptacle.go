package catalogue

import (
	_ "embed"
	"slices"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed receptacle.csv
var receptacleFile string

// Receptacle is one configuration of a receptacle and its plug.
type Receptacle struct {
	Configuration string
	Volts         quantity.Voltage // as marked: 125, 250
	Rating        quantity.Current
	TwoLive       bool // both live conductors: it can give 240 V (208 V)
	Neutral       bool // it can give 120 V as well, or only
	Ground        bool // it has a grounding contact of its own
	Locking       bool
	Power         quantity.ShaftPower // commonly marked on it
	Source        explain.Source
}

var receptacles = sync.OnceValue(func() []Receptacle {
	t := dataFile(receptacleFile)
	var list []Receptacle
	for row := range t.rows {
		volts, _ := t.number(row, "volts")
		amperes, _ := t.number(row, "amperes")
		hp, _ := t.number(row, "horsepower")
		yes := func(column string) bool { return t.text(row, column) == "yes" }
		name := t.text(row, "configuration")
		list = append(list, Receptacle{name, quantity.Voltage(volts), quantity.Current(amperes), yes("two live"), yes("neutral"), yes("ground"),
			yes("locking"), quantity.ShaftPower(hp) * quantity.Horsepower, t.sourceOf(row, name)})
	}
	return list
})

// ReceptacleOf returns the receptacle of a configuration number such as 6-30; false if it isn't in the table.
// Source: NEMA WD 6.
func ReceptacleOf(configuration string) (Receptacle, bool) {
	n := slices.IndexFunc(receptacles(), func(r Receptacle) bool { return r.Configuration == configuration })
	if n < 0 {
		return Receptacle{}, false
	}
	return receptacles()[n], true
}

// Receptacles returns all configurations: straight blades first, then locking, each from small to large. The caller may
// change the slice.
func Receptacles() []Receptacle { return slices.Clone(receptacles()) }
