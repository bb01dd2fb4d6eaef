package job

import (
	"regexp"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"
)

func TestStarterHoldsTheAnswers(t *testing.T) {
	answers := map[string]string{"drivewright": "1", "rules": "us", "machine.name": "Lathe: the long one # 2", "motor.power": "5 hp", "motor.voltage": "230/460 V",
		"supply.voltage": "240 V", "machine.kind": "lathe"}
	f := Read("new.job.yaml", Starter(answers))
	for _, p := range f.Problems {
		t.Errorf("line %d: %s", p.Span.Line, p.Message.Show(quantity.InchUnits))
	}
	for path, want := range answers {
		if got := f.Typed(path); got != want {
			t.Errorf("%s: got %q, want %q", path, got, want)
		}
	}
}

// TestStarterLinesAreReady takes the comment mark off every line that offers a key: what stands there must be a valid job.
func TestStarterLinesAreReady(t *testing.T) {
	offer := regexp.MustCompile(`(?m)^( *)# ((  )*(- )?[a-z][a-z -]*: )`)
	for name, answers := range map[string]map[string]string{"without answers": {}, "with answers": {"motor.power": "5 hp", "supply.voltage": "240 V"}} {
		text := string(Starter(answers))
		ready := strings.ReplaceAll(offer.ReplaceAllString(text, "$1$2"), "\n# loads:", "\nloads:")
		ready = regexp.MustCompile(`(?m)^# (machine|shop|supply|motor|drive|box|loads|costs):`).ReplaceAllString(ready, "$1:")
		if strings.Count(ready, "\n# ") > 2 {
			t.Errorf("%s: not every offered line was made ready:\n%s", name, ready)
		}
		f := Read("new.job.yaml", []byte(ready))
		for _, p := range f.Problems {
			t.Errorf("%s: line %d: %s", name, p.Span.Line, p.Message.Show(quantity.InchUnits))
		}
	}
}
