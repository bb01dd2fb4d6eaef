package job

import (
	"strings"
	"testing"

	"drivewright/internal/base/quantity"
)

// TestFields checks the flat description against what reading does.
func TestFields(t *testing.T) {
	seen := map[string]bool{}
	sections := map[string]bool{"": true}
	for _, s := range Sections() {
		if s.Help == "" || s.Key == "" || s.List != strings.HasSuffix(s.Path, "[]") {
			t.Errorf("section %+v", s)
		}
		sections[s.Path] = true
	}
	if len(sections) < 9 {
		t.Errorf("got %d sections", len(sections))
	}
	for _, f := range Fields() {
		if seen[f.Path] {
			t.Errorf("%s comes twice", f.Path)
		}
		seen[f.Path] = true
		if !sections[f.Section] || f.Path != join(f.Section, f.Key) || f.Name == "" || f.Help == "" || f.Example == "" {
			t.Errorf("field %+v", f)
		}
		if len(f.Words) > 0 && (f.Kind != quantity.KindText || f.Range != "" || f.Lines) {
			t.Errorf("%s: words go with text only: %+v", f.Path, f)
		}
	}
	for path, want := range map[string]Field{
		"supply.breaker":    {Kind: quantity.KindCurrent, Range: "1 A..400 A", Name: "source overcurrent device"},
		"motor.voltage":     {Kind: quantity.KindVoltage, Range: "50 V..1000 V", Name: "motor nameplate voltage", List: true},
		"motor.lead groups": {Kind: quantity.KindText, Name: "lead groups by ohmmeter", List: true},
		"loads[].power":     {Kind: quantity.KindShaftPower, Range: "0.01 hp..100 hp", Name: "power of the load"},
		"notes":             {Kind: quantity.KindText, Name: "notes", Lines: true},
		"rules":             {Kind: quantity.KindText, Name: "rule set", Words: []string{"us", "iec"}},
	} {
		found := false
		for _, f := range Fields() {
			if f.Path != path {
				continue
			}
			found = true
			if f.Kind != want.Kind || f.Range != want.Range || f.Name != want.Name || f.List != want.List || f.Lines != want.Lines || strings.Join(f.Words, ",") != strings.Join(want.Words, ",") {
				t.Errorf("%s: got %+v, want %+v", path, f, want)
			}
		}
		if !found {
			t.Errorf("there is no %s", path)
		}
	}
}

// TestPaths checks the paths that lead nowhere.
func TestPaths(t *testing.T) {
	f := Read("x", []byte("motor:\n  power: 3 hp\nloads:\n  - name: a\n"))
	for _, path := range []string{"", "motor", "motor.", ".power", "motor.power.x", "motor[0].power", "loads", "loads[1].name", "loads[-1].name", "loads[x].name", "loads[0", "loads[0].x", "supply.breaker"} {
		if v := f.Value(path); v != nil {
			t.Errorf("%q leads to %v", path, v)
		}
	}
	if v := f.Value("loads[0].name"); v != quantity.Text("a") {
		t.Errorf("loads[0].name is %v", v)
	}
}

// TestDeep checks that nesting without end is a mistake, not a crash.
func TestDeep(t *testing.T) {
	for _, src := range []string{strings.Repeat("[", 100_000), strings.Repeat("{a: ", 100_000), strings.Repeat("- ", 100_000), "a:\n" + nested(3000)} {
		f := Read("x", []byte(src))
		if len(f.Problems) == 0 {
			t.Errorf("%.10q… is taken", src)
		}
	}
}

// TestLong checks that a long file is read in a time that grows with its length, not with its square: the columns of values
// in one long line are right and each is counted from the one before.
func TestLong(t *testing.T) {
	src := "loads: [" + strings.Repeat("{name: Größe, power: 1 hp}, ", 20_000) + "]"
	f := Read("x", []byte(src))
	if len(f.Problems) > 0 || len(f.Job.Loads) != 20_000 {
		t.Fatalf("%d problems, %d loads", len(f.Problems), len(f.Job.Loads))
	}
	for _, n := range []int{0, 1, 19_999} {
		want := len([]rune("loads: [{name: Größe, power: ")) + n*len([]rune("{name: Größe, power: 1 hp}, ")) + 1
		if got := f.Job.Loads[n].Power.Span.Column; got != want {
			t.Errorf("load %d: power in column %d, want %d", n, got, want)
		}
	}
}

func nested(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i+1) + "a:\n")
	}
	return b.String()
}
