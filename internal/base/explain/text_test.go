package explain

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"

	"github.com/google/go-cmp/cmp"
)

// at returns the place of word in source, counted by hand: no code of the reader is used.
func at(source, word string) Span {
	start := strings.Index(source, word)
	line := 1 + strings.Count(source[:start], "\n")
	column := 1 + len([]rune(source[strings.LastIndex(source[:start], "\n")+1:start]))
	return Span{File: "lathe.job.yaml", Line: line, Column: column, Start: start, End: start + len(word)}
}

// TestWriteFinding compares the whole text of findings.
func TestWriteFinding(t *testing.T) {
	const source = "motor:\n  service factor: 11\n  frame: 機械 x # é\n\tspeed:\t1725 rmp\r\n  code: H\n"
	for _, c := range []struct {
		name string
		f    Finding
		want string
	}{
		{"a value with its remedy", Finding{Rule: "out-of-range", Severity: Must, Span: at(source, "11"), Message: Say("service factor 11 is outside 1 to 2"), Remedy: Say("did you mean 1.1?")},
			"lathe.job.yaml:2:19: must: service factor 11 is outside 1 to 2  [out-of-range]\n" +
				"    service factor: 11\n" +
				"                    ^^  did you mean 1.1?\n"},
		{"wide characters", Finding{Rule: "not-one-of", Severity: Check, Span: at(source, "x"), Message: Say("what is x")},
			"lathe.job.yaml:3:13: check: what is x  [not-one-of]\n" +
				"    frame: 機械 x # é\n" +
				"                ^\n"},
		{"under a wide character", Finding{Rule: "r", Severity: Note, Span: at(source, "機"), Message: Say("m")},
			"lathe.job.yaml:3:10: note: m  [r]\n    frame: 機械 x # é\n           ^^\n"},
		{"tabs", Finding{Rule: "wrong-unit", Severity: Must, Span: at(source, "rmp"), Message: Say("m"), Remedy: Say("did you mean 1725 rpm?")},
			"lathe.job.yaml:4:14: must: m  [wrong-unit]\n" +
				"    speed:  1725 rmp\n" +
				"                 ^^^  did you mean 1725 rpm?\n"},
		{"an empty place", Finding{Rule: "r", Severity: Must, Span: Span{File: "lathe.job.yaml", Line: 5, Column: 10, Start: len(source) - 1, End: len(source) - 1}, Message: Say("m")},
			"lathe.job.yaml:5:10: must: m  [r]\n    code: H\n           ^\n"},
		{"the whole job", Finding{Rule: "several-motors", Severity: Danger, Message: Say("the machine has {} motors", quantity.Count(2)), Remedy: Say("do not put a drive on it")},
			"danger: the machine has 2 motors  [several-motors]\n    do not put a drive on it\n"},
		{"related places and acceptance", Finding{Rule: "repeated-key", Severity: Check, Span: at(source, "code"), Message: Say("\"code\" stands twice"),
			Related: []Related{{Span: at(source, "frame"), Message: Say("first written here")}}, Accepted: "known, see notes"},
			"lathe.job.yaml:5:3: check: \"code\" stands twice  [repeated-key]\n    code: H\n    ^^^^\n    lathe.job.yaml:3:3: first written here\n        frame: 機械 x # é\n        ^^^^^\n    accepted: known, see notes\n"},
		{"a place outside the source", Finding{Rule: "r", Severity: Must, Span: Span{File: "f", Line: 9, Column: 1, Start: 9999, End: 10000}, Message: Say("m"), Remedy: Say("do")},
			"f:9:1: must: m  [r]\n    do\n"},
	} {
		var got bytes.Buffer
		if err := WriteFinding(&got, c.f, []byte(source), TextForm{}); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(c.want, got.String()); d != "" {
			t.Errorf("%s: want (-), got (+):\n%s", c.name, d)
		}
		var coloured bytes.Buffer
		if err := WriteFinding(&coloured, c.f, []byte(source), TextForm{Colour: true}); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(coloured.String(), "\x1b[") || uncolour(coloured.String()) != c.want {
			t.Errorf("%s: in colour the words are %q", c.name, uncolour(coloured.String()))
		}
	}
}

// uncolour takes the colour codes out.
func uncolour(text string) string {
	var b strings.Builder
	for {
		before, after, found := strings.Cut(text, "\x1b[")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		_, text, _ = strings.Cut(after, "m")
	}
}

// TestWriteFindingInUnits prints quantities in the reader's units.
func TestWriteFindingInUnits(t *testing.T) {
	f := Finding{Severity: Check, Message: Say("the run is {}", 35*quantity.Foot)}
	for units, want := range map[quantity.System]string{quantity.InchUnits: "check: the run is 35 ft\n", quantity.MetricUnits: "check: the run is 10.7 m\n"} {
		var got bytes.Buffer
		if err := WriteFinding(&got, f, nil, TextForm{Units: units}); err != nil || got.String() != want {
			t.Errorf("got %q (%v), want %q", got.String(), err, want)
		}
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteFindingSaysWhenItCant(t *testing.T) {
	if err := WriteFinding(broken{}, Finding{}, nil, TextForm{}); err == nil {
		t.Error("a failed write is passed over in silence")
	}
}

// TestWidth checks characters whose East_Asian_Width property is in Unicode Standard Annex 11: W and F take two columns.
func TestWidth(t *testing.T) {
	for c, want := range map[rune]int{'a': 1, 'é': 1, 'Ω': 1, '²': 1, '½': 1, '\u0301': 0, '\u200d': 0, '\ufe0f': 0, '機': 2, 'ｱ': 1, 'Ａ': 2, '한': 2, 'あ': 2, '、': 2, '🔧': 2} {
		if got := Width(c); got != want {
			t.Errorf("%q takes %d columns, want %d", c, got, want)
		}
	}
}

// TestWriteFindingFolds keeps what is written within the width of a terminal, and loses no word.
func TestWriteFindingFolds(t *testing.T) {
	const source = "supply:\n  run: 62 ft\n"
	f := Finding{Rule: "voltage-drop-running", Severity: Check, Span: at(source, "62 ft"), Message: Say("the run and the cord lose 4.26 % at the rated input, 3 % is recommended"),
		Remedy: Say("pull 4 AWG, or set the machine nearer to the panel; a drive trips when its supply sags"), Accepted: "the run stays as it is, the drive's booklet allows ten percent"}
	want := "lathe.job.yaml:2:8: check: the run and the\n" +
		"  cord lose 4.26 % at the rated input, 3 %\n" +
		"  is recommended  [voltage-drop-running]\n" +
		"    run: 62 ft\n" +
		"         ^^^^^\n" +
		"    pull 4 AWG, or set the machine nearer\n" +
		"    to the panel; a drive trips when its\n" +
		"    supply sags\n" +
		"    accepted: the run stays as it is, the\n" +
		"        drive's booklet allows ten percent\n"
	var got, coloured bytes.Buffer
	if err := errors.Join(WriteFinding(&got, f, []byte(source), TextForm{Width: 42}), WriteFinding(&coloured, f, []byte(source), TextForm{Width: 42, Colour: true})); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got.String()); d != "" {
		t.Errorf("want (-), got (+):\n%s", d)
	}
	if uncolour(coloured.String()) != want {
		t.Errorf("colour codes count as columns: %q", coloured.String())
	}
}

// TestFold: a word wider than the width stands alone, wide characters count twice.
func TestFold(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"one two", "one two"},
		{"one two three", "one two\n  three"},
		{"http://127.0.0.1:8377/ is it", "http://127.0.0.1:8377/\n  is it"},
		{"  機械 機械 x", "  機械\n  機械 x"},
		{"", ""},
	} {
		if got := Fold(c.line, 10, "  "); got != c.want {
			t.Errorf("%q: got %q, want %q", c.line, got, c.want)
		}
	}
	if long := strings.Repeat("a long line ", 50); Fold(long, 0, "  ") != long {
		t.Error("without a width nothing is folded")
	}
}
