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
	for name, answers := range map[string]map[string]string{"without answers": {}, "with answers": {"motor.power": "5 hp", "supply.voltage": "240 V"},
		"metric": {"units": "metric", "motor.power": "4 kW"}} {
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

// TestExamplesStandOnRealMachines: every key that takes a number or words of one's own has an example of its own, so that
// no starter offers the edge of a range (a winding of 1890), and the metric one is metric throughout.
func TestExamplesStandOnRealMachines(t *testing.T) {
	format().walkSections(func(s *section) {
		for _, f := range s.fields {
			if f.sub == nil && f.sort != words && f.examples[0] == "" && f.key != "drivewright" {
				t.Errorf("%s has no example", f.path)
			}
		}
	})
	answers := map[string]string{"units": "metric", "rules": "iec"}
	text := string(Starter(answers))
	if inch := regexp.MustCompile(`: [0-9./-]+ (ft|in|hp|AWG|°F)\b.*`).FindString(text); inch != "" {
		t.Errorf("a metric starter offers inch units%s", inch)
	}
	for _, want := range []string{"# paper: a4", "frequency: 50 Hz", "year: 1978", "altitude: 300 m", "fault current: 6 kA"} {
		if !strings.Contains(text, want) {
			t.Errorf("a metric starter lacks %q", want)
		}
	}
	if text := string(Starter(nil)); !strings.Contains(text, "altitude: 900 ft") || !strings.Contains(text, "# paper: letter") {
		t.Errorf("an inch starter offers metric units")
	}
}
