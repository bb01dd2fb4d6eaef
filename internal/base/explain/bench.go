package explain

import (
	"cmp"
	"fmt"
	"maps"
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
	meant := map[string]bool{} // inputs that were given under a wrong name: not missing too
	for _, name := range slices.Sorted(maps.Keys(left)) {
		names := f.inputNames()
		if slices.Contains(names, name) {
			continue
		}
		near := Near(name, names)
		for _, n := range near {
			meant[n] = true
		}
		mistakes = append(mistakes, fmt.Errorf("%s takes no %q; %s", f.Name, name, cmp.Or(DidYouMean(near), "it takes "+strings.Join(names, ", "))))
	}
	var becauses []Because
	for _, p := range f.Inputs {
		text, given := left[Slug(p.Name)]
		if !given {
			if meant[Slug(p.Name)] {
				continue
			}
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

// inputNames are the names of the inputs as they are given on a command line.
func (f *Formula) inputNames() []string {
	var names []string
	for _, p := range f.Inputs {
		names = append(names, Slug(p.Name))
	}
	return names
}
