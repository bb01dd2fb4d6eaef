package plan_test

import (
	"regexp"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/plan"
)

var inBraces = regexp.MustCompile(`\{([^}]*)\}`)

// TestEveryFormulaRunsByItself runs each formula on its own example inputs, and holds its papers to one form.
func TestEveryFormulaRunsByItself(t *testing.T) {
	formulas := plan.Formulas()
	if len(formulas) == 0 {
		t.Fatal("no formulas")
	}
	seen := map[string]bool{}
	for _, f := range formulas {
		t.Run(f.Name, func(t *testing.T) {
			if !kebabCase.MatchString(f.Name) || seen[f.Name] {
				t.Errorf("the name is not unique kebab-case words")
			}
			seen[f.Name] = true
			if f.Title == "" || f.Words == "" || f.Source == (explain.Source{}) {
				t.Errorf("title, words or source is empty")
			}
			parameters := map[string]bool{}
			inputs := map[string]string{}
			for _, p := range f.Inputs {
				parameters[p.Name] = true
				inputs[p.Name] = p.Example
				if p.Help == "" {
					t.Errorf("the input %q has no help", p.Name)
				}
			}
			for _, m := range inBraces.FindAllStringSubmatch(f.Words, -1) {
				if !parameters[m[1]] {
					t.Errorf("the words name {%s}, which isn't an input", m[1])
				}
			}
			reason, mistakes := f.Run(inputs)
			if len(mistakes) > 0 {
				t.Fatalf("on its own example: %v", mistakes)
			}
			if got := reason.Value.Kind(); got != f.Result {
				t.Errorf("gave a %s, want a %s", got, f.Result)
			}
			if reason.Show(quantity.InchUnits) == "" {
				t.Errorf("gave an empty answer")
			}
			if _, mistakes := f.Run(map[string]string{"no such input": "1"}); len(mistakes) == 0 {
				t.Errorf("took an input that it doesn't have")
			}
		})
	}
}
