// Package exampletest runs published examples, kept as plain text, against formulas. It is imported by tests only.
//
// An example file holds blocks separated by blank lines; # begins a comment. A block is one worked example
//
//	source  EC&M, motor calculations part 2, 2019
//	formula motor-full-load-current
//	given   motor power: 3 hp; motor voltage: 230 V
//	expect  9.6 A within 0.05 A
//
// or a table of points, whose last column is what is expected
//
//	source  NFPA 70, 2023, Table 430.250
//	formula motor-full-load-current
//	within  0.05 A
//	columns motor power | motor voltage | expect
//	        3 hp        | 230 V         | 9.6 A
//
// A row that must be refused has "refuse: words of the message" in its last column; a worked example then has a line
// "refuse words of the message". Each block needs a source. A note line may follow; it is for the reader.
package exampletest

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Count is how many checks a run made.
type Count struct{ Examples, Points int }

// Run runs every *.example file in the folder against the formulas and returns how many checks were made.
func Run(t *testing.T, folder string, formulas []*explain.Formula) Count {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.example"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no example files in %s (%v)", folder, err)
	}
	byName := map[string]*explain.Formula{}
	for _, f := range formulas {
		byName[f.Name] = f
	}
	var count Count
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		runFile(t, file, string(text), byName, &count)
	}
	return count
}

type block struct {
	line                                           int
	source, formula, given, expect, refuse, within string
	columns                                        []string
	rows                                           [][]string
	rowLines                                       []int
}

func runFile(t *testing.T, file, text string, formulas map[string]*explain.Formula, count *Count) {
	t.Helper()
	var b *block
	flush := func() {
		if b != nil {
			runBlock(t, file, b, formulas, count)
		}
		b = nil
	}
	for n, line := range strings.Split(text, "\n") {
		if i := strings.Index(line, "#"); i == 0 || i > 0 && line[i-1] == ' ' {
			line = line[:i]
		}
		if strings.TrimSpace(line) == "" {
			flush()
			continue
		}
		if b == nil {
			b = &block{line: n + 1}
		}
		word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		rest = strings.TrimSpace(rest)
		switch {
		case b.columns != nil:
			b.rows = append(b.rows, cells(line))
			b.rowLines = append(b.rowLines, n+1)
		case word == "source":
			b.source = rest
		case word == "formula":
			b.formula = rest
		case word == "given":
			b.given = rest
		case word == "expect":
			b.expect, b.within, _ = strings.Cut(rest, " within ")
		case word == "refuse":
			b.refuse = rest
		case word == "within":
			b.within = rest
		case word == "columns":
			b.columns = cells(rest)
		case word == "note":
		default:
			t.Errorf("%s:%d: unknown word %q", file, n+1, word)
		}
	}
	flush()
}

func cells(line string) []string {
	var list []string
	for _, c := range strings.Split(line, "|") {
		list = append(list, strings.TrimSpace(c))
	}
	return list
}

func runBlock(t *testing.T, file string, b *block, formulas map[string]*explain.Formula, count *Count) {
	t.Helper()
	if b.source == "" {
		t.Errorf("%s:%d: an example without a source proves nothing", file, b.line)
		return
	}
	f := formulas[b.formula]
	if f == nil {
		t.Errorf("%s:%d: no formula is named %q", file, b.line, b.formula)
		return
	}
	if b.columns == nil {
		inputs := map[string]string{}
		for _, g := range strings.Split(b.given, ";") {
			name, value, _ := strings.Cut(g, ":")
			inputs[strings.TrimSpace(name)] = strings.TrimSpace(value)
		}
		count.Examples++
		check(t, fmt.Sprintf("%s:%d", file, b.line), f, inputs, b.expect, b.within, b.refuse)
		return
	}
	last := len(b.columns) - 1
	for n, row := range b.rows {
		place := fmt.Sprintf("%s:%d", file, b.rowLines[n])
		if len(row) != len(b.columns) {
			t.Errorf("%s: %d cells, want %d", place, len(row), len(b.columns))
			continue
		}
		inputs := map[string]string{}
		for c, name := range b.columns[:last] {
			inputs[name] = row[c]
		}
		refuse, refused := strings.CutPrefix(row[last], "refuse:")
		count.Points++
		if refused {
			check(t, place, f, inputs, "", "", strings.TrimSpace(refuse))
		} else {
			check(t, place, f, inputs, row[last], b.within, "")
		}
	}
}

func check(t *testing.T, place string, f *explain.Formula, inputs map[string]string, expect, within, refuse string) {
	t.Helper()
	reason, mistakes := f.Run(inputs)
	if refuse != "" {
		if len(mistakes) == 0 {
			t.Errorf("%s: %s gave %s, want a refusal that says %q", place, f.Name, reason.Show(quantity.InchUnits), refuse)
		} else if !strings.Contains(mistakes[0].Error(), refuse) {
			t.Errorf("%s: %s refused with %q, want %q in it", place, f.Name, mistakes[0], refuse)
		}
		return
	}
	if len(mistakes) > 0 {
		t.Errorf("%s: %s: %v", place, f.Name, mistakes)
		return
	}
	want, err := quantity.Parse(f.Result, expect)
	if err != nil {
		t.Errorf("%s: %v", place, err)
		return
	}
	wantSI, numeric := quantity.SI(want)
	if !numeric {
		if got := reason.Value.Show(quantity.InchUnits); got != want.Show(quantity.InchUnits) {
			t.Errorf("%s: %s gave %q, want %q", place, f.Name, got, want.Show(quantity.InchUnits))
		}
		return
	}
	tolerance, err := quantity.Parse(f.Result, within)
	if err != nil {
		t.Errorf("%s: tolerance: %v", place, err)
		return
	}
	toleranceSI, _ := quantity.SI(tolerance)
	gotSI, _ := quantity.SI(reason.Value)
	if math.IsNaN(gotSI) || math.Abs(gotSI-wantSI) > toleranceSI {
		t.Errorf("%s: %s gave %s, want %s within %s", place, f.Name, reason.Value.Show(quantity.InchUnits), expect, within)
	}
}
