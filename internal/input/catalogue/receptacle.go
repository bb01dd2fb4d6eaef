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
	return eachRow(receptacleFile, func(t table, row int) Receptacle {
		yes := func(column string) bool { return t.text(row, column) == "yes" }
		name := t.text(row, "configuration")
		return Receptacle{
			Configuration: name, Volts: quantity.Voltage(t.figure(row, "volts")), Rating: quantity.Current(t.figure(row, "amperes")),
			TwoLive: yes("two live"), Neutral: yes("neutral"), Ground: yes("ground"), Locking: yes("locking"),
			Power: quantity.ShaftPower(t.figure(row, "horsepower")) * quantity.Horsepower, Source: t.sourceOf(row, name),
		}
	})
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
