package sheet

import (
	"strings"
	"sync"
	"unicode"

	"drivewright/internal/base/quantity"
)

// unitSymbols are the symbols that belong to the figure before them.
var unitSymbols = sync.OnceValue(func() map[string]bool {
	symbols := map[string]bool{"AWG": true, "kcmil": true, "V·A": true, "ft·lbf": true}
	for k := quantity.KindRatio; k <= quantity.KindMoney; k++ {
		for _, u := range k.Units() {
			symbols[u] = true
		}
	}
	return symbols
})

// figureWords splits a text into the words between which a line may be broken: a figure stays with its unit.
func figureWords(text string) []string {
	words := strings.Fields(visible(text))
	units := unitSymbols()
	kept := words[:0]
	for n, w := range words {
		if n > 0 && units[strings.TrimRight(w, ".,;:)]")] {
			last := kept[len(kept)-1]
			if c := last[len(last)-1]; c >= '0' && c <= '9' || strings.HasSuffix(last, "½") {
				kept[len(kept)-1] = last + " " + w
				continue
			}
		}
		kept = append(kept, w)
	}
	return kept
}

// visible returns the text with a space for each control character: a value out of a job file must not steer a terminal.
func visible(text string) string {
	if strings.IndexFunc(text, unicode.IsControl) < 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)
}
