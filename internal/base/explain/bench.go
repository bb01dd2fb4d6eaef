package explain

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
)

// Run runs the formula by itself on inputs given as text, by parameter name (in words, or as one word with hyphens).
// Parameters with a default may be left out. Every mistake is reported, not the first only.
func (f *Formula) Run(inputs map[string]string) (*Reason, []error) {
	var mistakes []error
	left := map[string]string{}
	for name, text := range inputs {
		left[Slug(name)] = text
	}
	var becauses []Because
	for _, p := range f.Inputs {
		text, given := left[Slug(p.Name)]
		delete(left, Slug(p.Name))
		if !given {
			if p.Default == "" {
				mistakes = append(mistakes, fmt.Errorf("%s is missing: give %s=%q, for instance", p.Name, Slug(p.Name), p.Example))
				continue
			}
			text = p.Default
		}
		v, err := quantity.Parse(p.Kind, text)
		if err != nil {
			mistakes = append(mistakes, fmt.Errorf("%s: %w", p.Name, err))
			continue
		}
		if len(p.Choices) > 0 && !slices.Contains(p.Choices, strings.TrimSpace(text)) {
			mistake := fmt.Errorf("%s: %q is not one of %s", p.Name, text, strings.Join(p.Choices, ", "))
			if near := Nearest(text, p.Choices); near != "" {
				mistake = fmt.Errorf("%w; did you mean %q?", mistake, near)
			}
			mistakes = append(mistakes, mistake)
			continue
		}
		r := &Reason{Name: p.Name, Value: v, Typed: text, Origin: Given}
		if !given {
			r.Origin = Assumed
		}
		becauses = append(becauses, standing{r})
	}
	for name := range left {
		var names []string
		for _, p := range f.Inputs {
			names = append(names, Slug(p.Name))
		}
		mistake := fmt.Errorf("%s takes no %q", f.Name, name)
		if near := Nearest(name, names); near != "" {
			mistake = fmt.Errorf("%w; did you mean %q?", mistake, near)
		}
		mistakes = append(mistakes, mistake)
	}
	if len(mistakes) > 0 {
		slices.SortFunc(mistakes, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
		return nil, mistakes
	}
	r := f.Apply(f.Title, becauses...)
	if r.Origin == Missing {
		return r, []error{fmt.Errorf("%s", r.Note.Show(quantity.InchUnits))}
	}
	return r, nil
}

// standing is a reason that stands for itself.
type standing struct{ reason *Reason }

func (s standing) Why() *Reason { return s.reason }

// Nearest returns the word among candidates that is nearest to what was written, by edits relative to its length, or ""
// when none is near enough to be what was meant.
func Nearest(written string, candidates []string) string {
	best, bestDistance := "", 1<<30
	w := strings.ToLower(strings.TrimSpace(written))
	for _, c := range candidates {
		d := editDistance(w, strings.ToLower(c))
		if d < bestDistance {
			best, bestDistance = c, d
		}
	}
	if best == "" || bestDistance > max(1, (max(len(w), len(best))+1)*2/5) {
		return ""
	}
	return best
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
