package catalogue

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed part_losses.csv
var partLossesFile string

// LossLaw says how the heat of a part goes with what it does.
type LossLaw int

// The laws.
const (
	BySquare LossLaw = iota // with the square of the current, per pole: contacts, fuses, filters, terminals
	Steady                  // the same whenever it is on: coils, lamps
	ByShare                 // a part of what it gives out: supplies, transformers
)

// PartLoss is the typical heat of a sort of part.
type PartLoss struct {
	Kind  string
	Rated quantity.Current // of the row; 0 where one row serves all sizes
	Law   LossLaw
	// Loss is the heat: at the rated current and per pole (BySquare), or at any time (Steady).
	Loss quantity.Power
	// Share is the heat as part of what it gives out (ByShare).
	Share  quantity.Ratio
	Source explain.Source
}

type partLossRow struct {
	kind, law  string
	size, loss float64
	source     explain.Source
}

var partLosses = sync.OnceValue(func() []partLossRow {
	return eachRow(partLossesFile, func(t table, row int) partLossRow {
		name := t.text(row, "kind")
		size := t.figure(row, "size")
		cell := name
		if size > 0 && name != "drive" {
			cell += " of " + t.text(row, "size") + " A"
		} else if size > 0 {
			cell += " of " + t.text(row, "size") + " W"
		}
		return partLossRow{name, t.text(row, "law"), size, t.figure(row, "loss"), t.sourceOf(row, cell)}
	})
})

// LossKinds are the sorts of part that the table knows, but for drives. The caller may change the slice.
func LossKinds() []string {
	var words []string
	for _, r := range partLosses() {
		if r.kind != "drive" && (len(words) == 0 || words[len(words)-1] != r.kind) {
			words = append(words, r.kind)
		}
	}
	return words
}

// TypicalLoss returns the typical heat of a part of the kind and rated current: the row of the next rating up, or the largest with its rating left as
// it is, so that a larger part comes out hotter than the table rather than cooler. The error says what the table knows.
func TypicalLoss(kind string, rated quantity.Current) (PartLoss, error) {
	best := -1
	for n, r := range partLosses() {
		if r.kind != kind || kind == "drive" {
			continue
		}
		best = n
		if r.size == 0 || r.size >= float64(rated) {
			break
		}
	}
	if best < 0 {
		return PartLoss{}, fmt.Errorf("no typical heat for %q is in the table; it has %s", kind, strings.Join(LossKinds(), ", "))
	}
	r := partLosses()[best]
	p := PartLoss{Kind: r.kind, Rated: quantity.Current(r.size), Source: r.source}
	switch r.law {
	case "steady":
		p.Law, p.Loss = Steady, quantity.Power(r.loss)
	case "share":
		p.Law, p.Share = ByShare, quantity.Ratio(r.loss)
	default:
		p.Law, p.Loss = BySquare, quantity.Power(r.loss)
	}
	return p, nil
}

// TypicalDriveLoss returns the typical heat of a drive of the shaft power at full load, read straight between the table's rows; below the first
// and above the last it goes with the power.
func TypicalDriveLoss(power quantity.ShaftPower) (quantity.Power, explain.Source) {
	var curve []point
	var source explain.Source
	for _, r := range partLosses() {
		if r.kind == "drive" {
			curve, source = append(curve, point{r.size, r.loss}), r.source
		}
	}
	if len(curve) == 0 || power <= 0 {
		return 0, source
	}
	source.Place = strings.Split(source.Place, ", drive of")[0] + ", drives"
	first, last, w := curve[0], curve[len(curve)-1], float64(power)
	switch {
	case w < first.at:
		return quantity.Power(first.value * w / first.at), source
	case w > last.at:
		return quantity.Power(last.value * w / last.at), source
	}
	return quantity.Power(along(curve, w)), source
}
