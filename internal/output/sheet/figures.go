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

// steers reports whether the character steers a terminal, or turns the order of the characters about it.
func steers(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }

// visible returns the text with a space for each character that would steer what shows it: a value out of a job file must
// neither clear the screen nor make 04 of 40.
func visible(text string) string {
	if strings.IndexFunc(text, steers) < 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if steers(r) {
			return ' '
		}
		return r
	}, text)
}
