package catalogue

import (
	_ "embed"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed verification.csv
var verificationFile string

// verification is one figure of the tests before and at the first power.
type verification struct {
	set, test, quantity string
	figure              float64
	source              explain.Source
}

var verifications = sync.OnceValue(func() []verification {
	return eachRow(verificationFile, func(t table, row int) verification {
		source := t.sourceOf(row, "")
		switch place := t.text(row, "place"); {
		case source.Trust == explain.CommonPractice:
			source = explain.Practice("ground continuity")
		case strings.HasPrefix(place, source.Work+" "):
			source.Place = strings.TrimPrefix(place, source.Work+" ")
		default: // another work, of no stated edition
			work, clause, _ := cutLast(place, " ")
			source.Work, source.Edition, source.Place = work, "", clause
		}
		return verification{t.text(row, "rule set"), t.text(row, "test"), t.text(row, "quantity"), t.figure(row, "figure"), source}
	})
})

// cutLast parts text at the last separator.
func cutLast(text, separator string) (before, after string, found bool) {
	n := strings.LastIndex(text, separator)
	if n < 0 {
		return text, "", false
	}
	return text[:n], text[n+len(separator):], true
}

func verificationOf(set explain.RuleSet, test, quantity string) verification {
	for _, v := range verifications() {
		if v.test == test && v.quantity == quantity && (v.set == "any" || v.set == string(set)) {
			return v
		}
	}
	return verification{}
}

// InsulationTest returns the voltage that the power conductors are tested with against ground, and the least resistance that they
// must have. Source: IEC 60204-1, 18.3, and NFPA 79, 18.3, both from memory.
func InsulationTest(set explain.RuleSet) (volts quantity.Voltage, least quantity.Resistance, source explain.Source) {
	v, r := verificationOf(set, "insulation", "test voltage"), verificationOf(set, "insulation", "least")
	return quantity.Voltage(v.figure), quantity.Resistance(r.figure) * quantity.Megohm, r.source
}

// BondingTest returns the most that there may be between the ground terminal and a bare part, and the least current that a tester
// for it should drive, each with its source. Source: common practice; IEC 60204-1, 18.2.2, from memory.
func BondingTest() (most quantity.Resistance, limit explain.Source, current quantity.Current, method explain.Source) {
	r, i := verificationOf("", "bonding", "most"), verificationOf("", "bonding", "least test current")
	return quantity.Resistance(r.figure), r.source, quantity.Current(i.figure), i.source
}

// ResidualVoltage returns the most that may be left on live parts five seconds after the supply is off, where no label says
// to wait longer. Source: IEC 60204-1, 6.2.4.
func ResidualVoltage() (quantity.Voltage, explain.Source) {
	v := verificationOf("", "residual voltage", "most after 5 s")
	return quantity.Voltage(v.figure), v.source
}
