package catalogue

import (
	_ "embed"
	"fmt"
	"math"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed motor_code_letter.csv
var codeLetterText string

//go:embed motor_locked_rotor.csv
var lockedRotorText string

// CodeLetter is a locked-rotor code letter: the apparent power per unit of shaft power that a stalled motor takes.
type CodeLetter struct {
	Letter string
	// Least and Most are in volt-amperes per watt of shaft power; Most is infinite for the last letter.
	Least, Most quantity.Factor
	Source      explain.Source
}

// perHorsepower turns kilovolt-amperes per horsepower into volt-amperes per watt.
const perHorsepower = 1000 / float64(quantity.Horsepower)

var codeLetters = sync.OnceValue(func() []CodeLetter {
	return eachRow(codeLetterText, func(t table, row int) CodeLetter {
		l := CodeLetter{Letter: t.text(row, "letter"), Most: quantity.Factor(math.Inf(1))}
		l.Least = quantity.Factor(t.figure(row, "least") * perHorsepower)
		if most, ok := t.number(row, "most"); ok {
			l.Most = quantity.Factor(most * perHorsepower)
		}
		l.Source = t.sourceOf(row, "letter "+l.Letter)
		return l
	})
})

// FindCodeLetter returns the row of NFPA 70 Table 430.7(B) for the letter, which is a capital; false if there is none (I, O
// and Q aren't used).
func FindCodeLetter(letter string) (CodeLetter, bool) {
	for _, l := range codeLetters() {
		if l.Letter == letter {
			return l, true
		}
	}
	return CodeLetter{}, false
}

type lockedRotorRow struct {
	power   quantity.ShaftPower
	printed string              // as the table prints it
	at      [3]quantity.Current // at 200, 230 and 460 V
	source  explain.Source
}

var lockedRotors = sync.OnceValue(func() []lockedRotorRow {
	return eachRow(lockedRotorText, func(t table, row int) lockedRotorRow {
		r := lockedRotorRow{power: quantity.ShaftPower(t.figure(row, "horsepower")) * quantity.Horsepower, source: t.sourceOf(row, ""), printed: t.text(row, "horsepower") + " hp"}
		for n, column := range []string{"200", "230", "460"} {
			r.at[n] = quantity.Current(t.figure(row, column))
		}
		return r
	})
})

// LockedRotorLimit returns the largest locked-rotor current that NEMA MG 1 12.35 allows a motor of design B, C or D of power
// p at voltage v, 60 Hz. Powers between rows take the next larger; other voltages than 200, 230 and 460 V scale the
// 230 V figure inversely, as the clause says.
func LockedRotorLimit(p quantity.ShaftPower, v quantity.Voltage) (quantity.Current, explain.Source, error) {
	for _, r := range lockedRotors() {
		if p > r.power*sameSize {
			continue
		}
		source := r.source
		source.Place += fmt.Sprintf(", %s at %.0f V", r.printed, float64(v))
		switch v {
		case 200:
			return r.at[0], source, nil
		case 230:
			return r.at[1], source, nil
		case 460:
			return r.at[2], source, nil
		}
		return r.at[1] * quantity.Current(230/v), source, nil
	}
	return 0, explain.Source{}, fmt.Errorf("the table of locked-rotor currents ends at 50 hp")
}
