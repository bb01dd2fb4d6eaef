package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/prove"
)

// TestProveJudgesReadings takes every reading of a small circuit: all as expected; then as a box shows them in which one wire was
// forgotten, which must be named among the first three; then the same one put right and measured again.
func TestProveJudgesReadings(t *testing.T) {
	const circuit = "../../internal/trade/circuit/testdata/circuits/three-wire-relay.job.yaml"
	text, err := os.ReadFile(circuit)
	if err != nil {
		t.Fatal(err)
	}
	p := plan.Make(job.Read("relay.job.yaml", text))
	p.Prove()
	m := p.Proof.Meter
	right := func(b prove.Band) string {
		switch {
		case b.Open, b.OrOpen:
			return "open"
		case b.Continuity:
			return "beep"
		}
		return fmt.Sprintf("%.4g ohm", float64(b.Least+b.Most)/2)
	}
	mistake, at := "wire 2b ", -1
	for _, wrong := range m.Mistakes {
		if strings.Contains(wrong.Name, mistake) && len(wrong.CaughtBy) > 0 && m.Readings[wrong.CaughtBy[0]].Expect.Continuity {
			mistake, at = wrong.Name, wrong.CaughtBy[0]
			break
		}
	}
	if at < 0 {
		t.Fatalf("no mistake with %s is caught", mistake)
	}
	var good, bad, mended strings.Builder
	for n, r := range m.Readings {
		line := prove.Taken{Reading: r.ID, Value: right(r.Expect), By: "A. B."}.Line()
		good.WriteString(line)
		if n == at {
			bad.WriteString(prove.Taken{Reading: r.ID, Value: "open"}.Line())
		} else {
			bad.WriteString(line)
		}
	}
	mended.WriteString(bad.String())
	mended.WriteString(prove.Taken{Reading: m.Readings[at].ID, Value: "beep"}.Line())
	folder := t.TempDir()
	judged := func(readings string) string {
		file := filepath.Join(folder, "taken.readings")
		if err := os.WriteFile(file, []byte(readings), 0o644); err != nil {
			t.Fatal(err)
		}
		var out, complaints bytes.Buffer
		run([]string{"prove", circuit, "--readings", file, "--width", "300"}, &bench{in: strings.NewReader(""), out: &out, err: &complaints, version: "test"})
		if complaints.Len() > 0 {
			t.Error(complaints.String())
		}
		return out.String()
	}
	all := fmt.Sprintf("%d readings of %d taken, all as expected", len(m.Readings), len(m.Readings))
	if text := judged(good.String()); !strings.Contains(text, all) {
		t.Errorf("the right readings aren't all as expected: want %q", all)
	}
	text2 := judged(bad.String())
	if !strings.Contains(text2, "1 wrong. Don't switch on") || !strings.Contains(text2, "What it may be, likeliest first") {
		t.Error("the wrong reading isn't said to be wrong")
	}
	_, suspects, _ := strings.Cut(text2, "What it may be, likeliest first")
	lines := strings.Split(suspects, "\n")
	if first := strings.Join(lines[:min(6, len(lines))], "\n"); !strings.Contains(first, "2b") { // title's rest, head, rule, three rows
		t.Errorf("%q isn't among the first three:\n%s", mistake, first)
	}
	if text := judged(mended.String()); !strings.Contains(text, all) || !strings.Contains(text, "measured again since") {
		t.Error("a reading that was measured again isn't taken for the former one")
	}
}
