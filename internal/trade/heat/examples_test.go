package heat

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"drivewright/internal/base/explain/exampletest"
)

// TestPublishedExamples runs every published figure under testdata/examples against the formulas that the stage uses. The
// least counts keep a lost file from passing unnoticed.
//
// Three published examples have no formula here, since no box has such a thing: the convection of a horizontal pipe (Cengel 9.1 and Incropera 9.4, of
// which the radiated part is checked) and the short-time ratings of a motor without and with constant losses (Gupta and Singhal 4.8 and 4.11; of these
// the published 323.8 kW of 4.8 leaves out the term for the constant losses, with which it is 309.5 kW).
func TestPublishedExamples(t *testing.T) {
	tried := map[string]bool{}
	files, err := filepath.Glob("testdata/examples/*.example")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?m)^formula (\S+)$`).FindAllStringSubmatch(string(text), -1) {
			tried[m[1]] = true
		}
	}
	count := exampletest.Run(t, "testdata/examples", Formulas())
	t.Logf("%d worked examples, %d table points", count.Examples, count.Points)
	for _, f := range Formulas() {
		if !tried[f.Name] {
			t.Errorf("%s has no published figure", f.Name)
		}
	}
	if count.Examples < 40 || count.Points < 55 {
		t.Errorf("got %d worked examples and %d table points, want at least 40 and 55", count.Examples, count.Points)
	}
}
