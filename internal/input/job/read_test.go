package job

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files; read the difference as prose before you commit it")

// TestMistakes reads files full of mistakes and compares the whole text that the user sees.
func TestMistakes(t *testing.T) {
	files, err := filepath.Glob("testdata/mistakes/*.job.yaml")
	if err != nil || len(files) < 10 {
		t.Fatalf("got %d files of mistakes (%v), want 10 or more", len(files), err)
	}
	seen := map[string]bool{}
	for _, path := range files {
		t.Run(filepath.Base(path), func(t *testing.T) {
			src, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			f := Read(filepath.Base(path), src)
			var got bytes.Buffer
			for _, p := range f.Problems {
				seen[p.Rule] = true
				if err := explain.WriteFinding(&got, p, src, explain.TextForm{}); err != nil {
					t.Fatal(err)
				}
			}
			golden := strings.TrimSuffix(path, ".job.yaml") + ".golden"
			if *update {
				if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(string(want), got.String()); d != "" {
				t.Errorf("%s: want (-), got (+):\n%s", path, d)
			}
		})
	}
	for _, p := range Mistakes() {
		if !seen[p.Name] {
			t.Errorf("no file under testdata/mistakes makes the mistake %s", p.Name)
		}
		delete(seen, p.Name)
		if p.Title == "" || p.Why == "" || p.Source.Work == "" {
			t.Errorf("mistake %s has no title, reason or source", p.Name)
		}
	}
	for name := range seen {
		t.Errorf("Mistakes doesn't tell of %s", name)
	}
}

// TestWellFormed reads the files that have no mistake.
func TestWellFormed(t *testing.T) {
	for _, path := range wellFormed(t) {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range Read(path, src).Problems {
			var b bytes.Buffer
			if err := explain.WriteFinding(&b, p, src, explain.TextForm{}); err != nil {
				t.Fatal(err)
			}
			t.Error(b.String())
		}
	}
}

// wellFormed lists our own well-formed job and the example jobs.
func wellFormed(t testing.TB) []string {
	t.Helper()
	own, err := filepath.Glob("testdata/*.job.yaml")
	if err != nil || len(own) == 0 {
		t.Fatalf("no well-formed job under testdata (%v)", err)
	}
	examples, err := filepath.Glob("../../../examples/*.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return append(own, examples...)
}

func TestGrammar(t *testing.T) {
	s, err := grammar()
	if err != nil {
		t.Fatal(err)
	}
	if n := len(Fields()); n < 140 {
		t.Errorf("got %d fields, want at least 140", n)
	}
	s.walkSections(func(s *section) {
		for _, f := range s.fields {
			spelled := map[string]bool{}
			for _, w := range f.words {
				short := strings.ToLower(strings.ReplaceAll(w, " ", ""))
				if spelled[short] {
					t.Errorf("%s: %q can't be told from another word", f.path, w)
				}
				spelled[short] = true
			}
			if f.help == "" {
				t.Errorf("%s has no help", f.path)
			}
			if f.sub == nil && f.sort != freeText {
				if p := parseAlone(f, f.example()); len(p) > 0 {
					t.Errorf("%s: its own example %q is refused: %s", f.path, f.example(), p[0].Message.Show(quantity.InchUnits))
				}
			}
		}
	})
}

// TestPlaces checks that each value's bytes are its text, and that all paths and names are filled in.
func TestPlaces(t *testing.T) {
	src, err := os.ReadFile("testdata/lathe.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	f := Read("lathe.job.yaml", src)
	j := f.Job
	for _, c := range []struct {
		path, typed, bytes string
		line, column       int
		span               explain.Span
		gotPath, gotTyped  string
	}{
		{"machine.name", "back-room lathe", `"back-room lathe"`, 8, 9, j.Machine.Name.Span, j.Machine.Name.Path, j.Machine.Name.Typed},
		{"machine.duty", "40 %", "40 %", 12, 9, j.Machine.Duty.Span, j.Machine.Duty.Path, j.Machine.Duty.Typed},
		{"supply.conductor", "8 AWG", "8 AWG", 42, 14, j.Supply.Conductor.Span, j.Supply.Conductor.Path, j.Supply.Conductor.Typed},
		{"motor.lead groups", "[[1,4],[2,5],[3,6],[7,8,9]]", "[[1,4],[2,5],[3,6],[7,8,9]]", 58, 16, j.Motor.Groups.Span, j.Motor.Groups.Path, j.Motor.Groups.Typed},
		{"loads[0].power", "1/8 hp", "1/8 hp", 63, 12, j.Loads[0].Power.Span, j.Loads[0].Power.Path, j.Loads[0].Power.Typed},
		{"loads[1].volt-amperes", "40 VA", "40 VA", 65, 49, j.Loads[1].VA.Span, j.Loads[1].VA.Path, j.Loads[1].VA.Typed},
		{"machine.missing or unsafe", "gear cover gone\nwiring in the base crumbles", "|\n    gear cover gone\n    wiring in the base crumbles", 22, 22, j.Machine.Missing.Span, j.Machine.Missing.Path, j.Machine.Missing.Typed},
		{"notes", "the half-nut sticks; try it before power feed", ">-\n  the half-nut sticks;\n  try it before power feed", 67, 8, j.NotesText.Span, j.NotesText.Path, j.NotesText.Typed},
	} {
		if c.gotPath != c.path || c.gotTyped != c.typed {
			t.Errorf("got path %q, typed %q, want %q, %q", c.gotPath, c.gotTyped, c.path, c.typed)
		}
		if got := string(src[c.span.Start:c.span.End]); got != c.bytes {
			t.Errorf("%s: bytes are %q, want %q", c.path, got, c.bytes)
		}
		if c.span.Line != c.line || c.span.Column != c.column {
			t.Errorf("%s: at %d:%d, want %d:%d", c.path, c.span.Line, c.span.Column, c.line, c.column)
		}
	}
	for _, g := range [][2]string{{j.Drive.Output.Path, "drive.output current"}, {j.Drive.Output.Name, "drive output current as marked"}, {j.Loads[1].Power.Path, "loads[1].power"}, {j.Loads[1].Power.Name, "power of the load"}, {j.Units.Path, "units"}} {
		if g[0] != g[1] {
			t.Errorf("got %q, want %q", g[0], g[1])
		}
	}
	if got, want := j.Motor.Groups.Value, (LeadGroups{{1, 4}, {2, 5}, {3, 6}, {7, 8, 9}}); !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("got lead groups %v, want %v", got, want)
	}
	if j.Shop.Place.Value != "garage" || !j.Shop.Place.Set || j.Drive.Output.Set {
		t.Errorf("set marks are wrong: %+v %+v", j.Shop.Place, j.Drive.Output)
	}
}

// TestForgiving lists the spellings that are accepted besides the plain one.
func TestForgiving(t *testing.T) {
	for _, c := range []struct{ name, src, path, want string }{
		{"capitals in a word", "motor:\n  enclosure: tefc\n", "motor.enclosure", "TEFC"},
		{"no space in a word", "supply:\n  ground-fault protection: class A 5mA\n", "supply.ground-fault protection", "class A 5 mA"},
		{"quotes", "supply:\n  'raceway size': \"1/2\"\n", "supply.raceway size", "1/2"},
		{"fraction of an inch", "box:\n  depth: 8-1/2\"\n", "box.depth", "8.5 in"},
		{"terminal labels", "motor:\n  lead groups:\n    - [T1, T4]\n    - [t2, 5]\n", "motor.lead groups", "1-4, 2-5"},
		{"gauge in quotes", "supply:\n  conductor: '#14'\n", "supply.conductor", "14 AWG"},
		{"leading zero is no octal", "motor:\n  leads: 09\n", "motor.leads", "9"},
		{"document mark", "---\nmotor:\n  leads: 9\n...\n", "motor.leads", "9"},
		{"list beside its key", "loads:\n- name: pump\n- name: lamp\nnotes: x\n", "loads[1].name", "lamp"},
		{"whole file in brackets", `{"motor": {"leads": 9}, loads: [{name: a}, {name: "b"}],}`, "loads[1].name", "b"},
		{"value on the next line", "motor:\n  frame:\n    184T\n", "motor.frame", "184T"},
		{"value over two lines", "notes: one\n  two\n\n  three\n", "notes", "one two\nthree"},
		{"quotes over two lines", "notes: \"one\n  two \\\n  three\"\n", "notes", "one two three"},
		{"hash inside a word", "machine:\n  name: lathe#2\n", "machine.name", "lathe#2"},
		{"no-break space before the unit", "motor:\n  power: 3\u00a0hp\n", "motor.power", "3 hp"},
		{"voltage range of a drive", "drive:\n  input voltage: 200-240 V\n", "drive.input voltage", "240 V"},
	} {
		f := Read("x", []byte(c.src))
		if len(f.Problems) > 0 {
			t.Errorf("%s: %s", c.name, f.Problems[0].Message.Show(quantity.InchUnits))
		}
		if got := f.Value(c.path); got == nil || got.Show(quantity.InchUnits) != c.want {
			t.Errorf("%s: %s is %v, want %s", c.name, c.path, got, c.want)
		}
	}
}

// TestNotWritten lists the ways to leave a value open.
func TestNotWritten(t *testing.T) {
	for _, src := range []string{"motor:\n", "motor:\n  leads:\n", "motor:\n  leads:   # to be counted\n", "motor:\n  leads: ~\n", "motor:\n  leads: null\n", "motor: {}\n", "motor: {leads: }\n", "motor:\n  leads: ''\n", "loads: []\n", "loads:\n"} {
		f := Read("x", []byte(src))
		if len(f.Problems) > 0 || f.Job.Motor.Leads.Set || len(f.Job.Loads) > 0 {
			t.Errorf("%q: got %v, leads %+v, want nothing", src, f.Problems, f.Job.Motor.Leads)
		}
	}
}

// TestWrong checks that a value with a mistake counts as not written and still has its place.
func TestWrong(t *testing.T) {
	f := Read("x", []byte("supply:\n  voltage: 240\n  conductor: #14\n  run:\n  breaker: &a 30 A\n  cord: 10 AWG\n"))
	s := f.Job.Supply
	for _, c := range []struct {
		name       string
		wrong, set bool
		line       int
		note       string
		wantWrong  bool
		wantLine   int
	}{
		{"no unit", s.Voltage.Wrong, s.Voltage.Set, s.Voltage.Span.Line, s.Voltage.Why().Note.Show(0), true, 2},
		{"read as a comment", s.Conductor.Wrong, s.Conductor.Set, s.Conductor.Span.Line, s.Conductor.Why().Note.Show(0), true, 3},
		{"nothing written", s.Run.Wrong, s.Run.Set, s.Run.Span.Line, s.Run.Why().Note.Show(0), false, 0},
		{"an anchor", s.Breaker.Wrong, s.Breaker.Set, s.Breaker.Span.Line, s.Breaker.Why().Note.Show(0), true, 5},
	} {
		if c.wrong != c.wantWrong || c.set || c.line != c.wantLine || strings.Contains(c.note, "correct it") != c.wantWrong {
			t.Errorf("%s: wrong %v, set %v, line %d, note %q; want wrong %v, line %d", c.name, c.wrong, c.set, c.line, c.note, c.wantWrong, c.wantLine)
		}
	}
	if s.Cord.Wrong || !s.Cord.Set {
		t.Errorf("a good value is %+v", s.Cord)
	}
}

func BenchmarkRead(b *testing.B) {
	src, err := os.ReadFile("testdata/lathe.job.yaml")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		Read("lathe.job.yaml", src)
	}
}

// TestSixLeadMarks: a plate marked by IEC 60034-8 says the same as one marked by NEMA MG 1 (both from memory).
func TestSixLeadMarks(t *testing.T) {
	f := Read("job.yaml", []byte("motor:\n  lead groups: [[U1, u2], [V1, V2], [W1, W2]]\n"))
	if want := (LeadGroups{{1, 4}, {2, 5}, {3, 6}}); len(f.Problems) > 0 || !slices.EqualFunc(f.Job.Motor.Groups.Value, want, slices.Equal) {
		t.Errorf("got %v and %v, want %v", f.Job.Motor.Groups.Value, f.Problems, want)
	}
	for _, mark := range []string{"U3", "U", "X1", "TU1", "U5"} {
		if f := Read("job.yaml", []byte("motor:\n  lead groups: [["+mark+", 4]]\n")); len(f.Problems) == 0 {
			t.Errorf("%s is taken as a lead", mark)
		}
	}
}
