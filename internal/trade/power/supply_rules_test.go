package power

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// TestSupplyRulesBearAnyJob takes every job of the rules' own examples, drops every third line in turn, and judges what is left by both
// rule sets: no rule may panic, and every finding must have as many values as its words have places, and none left open.
func TestSupplyRulesBearAnyJob(t *testing.T) {
	files, err := filepath.Glob("../../plan/testdata/rules/*/trips.job.yaml")
	if err != nil || len(files) < 40 {
		t.Fatalf("got %d jobs (%v), want at least 40", len(files), err)
	}
	judged, found := 0, 0
	for first, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(text), "\n")
		for dropped := first % 3; dropped < len(lines); dropped += 3 {
			left := strings.Join(append(append([]string{}, lines[:dropped]...), lines[dropped+1:]...), "\n")
			for n, set := range []string{"us", "iec"} {
				if n > 0 && dropped%2 != 0 {
					continue
				}
				f := job.Read(file, []byte(strings.Replace(left, "rules: us", "rules: "+set, 1)))
				r := Size(&f.Job)
				judged++
				for _, finding := range explain.Judge(supplyRules, r.Code.Set, r) {
					found++
					for _, p := range []explain.Phrase{finding.Message, finding.Remedy} {
						checkPhrase(t, file, lines[dropped], finding.Rule, p)
					}
				}
			}
		}
	}
	t.Logf("%d jobs, %d findings", judged, found)
	if found < judged/2 {
		t.Errorf("only %d findings in %d jobs: the jobs no longer reach the rules", found, judged)
	}
}

func checkPhrase(t *testing.T, file, dropped, rule string, p explain.Phrase) {
	t.Helper()
	if places := strings.Count(p.Format, "{}"); places != len(p.Values) {
		t.Errorf("%s without %q: %s has %d values for %d places: %s", file, dropped, rule, len(p.Values), places, p.Format)
	}
	for _, system := range []quantity.System{quantity.InchUnits, quantity.MetricUnits} {
		shown := p.Show(system)
		for _, bad := range []string{"not known", "without limit", "NaN", "no size", " 0 A", " 0 mA", " 0 V", "  "} {
			if strings.Contains(shown, bad) {
				t.Errorf("%s without %q: %s says %q", file, dropped, rule, shown)
			}
		}
		if strings.HasSuffix(shown, ".") {
			t.Errorf("%s without %q: %s ends in a full stop: %q", file, dropped, rule, shown)
		}
	}
}
