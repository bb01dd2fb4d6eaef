package job

import (
	"testing"

	"drivewright/internal/base/quantity"
)

// TestMistakeExamples: each kind's example holds that mistake and no other kind, with a remedy or an expectation, and is
// free of mistakes when put right.
func TestMistakeExamples(t *testing.T) {
	for _, p := range Mistakes() {
		wrong, right := MistakeExample(p.Name)
		if p.Name == string(notUTF8) {
			if wrong != "" {
				t.Errorf("%s is shown in print", p.Name)
			}
			continue
		}
		found := Read("wrong.job.yaml", []byte(wrong)).Problems
		if len(found) == 0 {
			t.Errorf("%s: no mistake is found in its example", p.Name)
		}
		for _, f := range found {
			if f.Rule != p.Name {
				t.Errorf("%s: its example also has %s: %s", p.Name, f.Rule, f.Message.Show(quantity.InchUnits))
			}
		}
		for _, f := range Read("right.job.yaml", []byte(right)).Problems {
			t.Errorf("%s put right: %s", p.Name, f.Message.Show(quantity.InchUnits))
		}
		if right == "" {
			t.Errorf("%s isn't put right", p.Name)
		}
	}
}
