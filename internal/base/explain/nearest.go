package explain

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Nearest returns the word among candidates that is nearest to what was written, or "" when none is near enough to be
// what was meant.
func Nearest(written string, candidates []string) string {
	if near := Near(written, candidates); len(near) > 0 {
		return near[0]
	}
	return ""
}

// mostNear is how many words Near offers: more than that is a list to read, not a hint.
const mostNear = 3

// Near returns the words among candidates that may have been meant, the likeliest first: the one that differs in a few
// letters of the whole; failing that, those that hold every part of what was written, each part spelt nearly so or cut
// short: "conductr" is near to conductor-too-small, "brnch-conductor" to existing-branch-conductor.
func Near(written string, candidates []string) []string {
	best, bestDistance := "", 1<<30
	w := strings.ToLower(strings.TrimSpace(written))
	for _, c := range candidates {
		if d := editDistance(w, strings.ToLower(c)); d < bestDistance {
			best, bestDistance = c, d
		}
	}
	byParts := nearByParts(w, candidates)
	if best == "" || bestDistance > max(1, (max(len(w), len(best))+1)*2/5) {
		return byParts
	}
	// Two words of one length may differ in two fifths of their letters and be strangers; parts that fit are better then.
	if len(byParts) > 0 && bestDistance > len(w)/4 {
		return byParts
	}
	return []string{best}
}

// nearByParts returns the candidates that hold every part of w (of four parts and more, all but one), the closest first.
func nearByParts(w string, candidates []string) []string {
	parts := partsOf(w)
	if len(parts) == 0 {
		return nil
	}
	type fit struct {
		word               string
		cost, spare, first int // first is the place of the first part that fits
	}
	var fits []fit
	for _, c := range candidates {
		theirs := partsOf(strings.ToLower(c))
		cost, without, first := 0, 0, len(theirs)
		for _, p := range parts {
			least := -1
			for n, t := range theirs {
				if d := partDistance(p, t); d >= 0 && (least < 0 || d < least) {
					least, first = d, min(first, n)
				}
			}
			if least < 0 {
				without++
				continue
			}
			cost += least
		}
		if without == 0 || len(parts) > 3 && without == 1 {
			fits = append(fits, fit{c, cost + 3*without, len(theirs) - len(parts), first})
		}
	}
	slices.SortStableFunc(fits, func(a, b fit) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.spare, b.spare), cmp.Compare(a.first, b.first))
	})
	var words []string
	for _, f := range fits[:min(len(fits), mostNear)] {
		words = append(words, f.word)
	}
	return words
}

// partDistance returns how far the part is from the other: 0 for the same, 1 for its beginning, and more for each wrong
// letter; -1 when it is another word.
func partDistance(part, other string) int {
	switch {
	case part == other:
		return 0
	case len(part) >= 3 && strings.HasPrefix(other, part):
		return 1
	case len(part) < 4:
		return -1
	}
	if d := editDistance(part, other); d <= max(1, len(part)/4) {
		return 1 + d
	}
	return -1
}

func partsOf(word string) []string {
	return strings.FieldsFunc(word, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) })
}

// DidYouMean is the question for the words that Near returned: did you mean "a", "b" or "c"? It is empty for no word.
func DidYouMean(words []string) string {
	var quoted []string
	for _, w := range words {
		quoted = append(quoted, fmt.Sprintf("%q", w))
	}
	switch n := len(quoted); n {
	case 0:
		return ""
	case 1:
		return "did you mean " + quoted[0] + "?"
	default:
		return "did you mean " + strings.Join(quoted[:n-1], ", ") + " or " + quoted[n-1] + "?"
	}
}

// editDistance is the number of insertions, deletions, substitutions and swaps of neighbours between a and b (optimal
// string alignment). Cost O(len(a)·len(b)).
func editDistance(a, b string) int {
	s, t := []rune(a), []rune(b)
	previous2, previous, current := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range previous {
		previous[j] = j
	}
	for i := 1; i <= len(s); i++ {
		current[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			current[j] = min(previous[j]+1, current[j-1]+1, previous[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				current[j] = min(current[j], previous2[j-2]+1)
			}
		}
		previous2, previous, current = previous, current, previous2
	}
	return previous[len(t)]
}
