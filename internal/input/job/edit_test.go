package job

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"

	"github.com/google/go-cmp/cmp"
)

// TestSet shows what each edit does to the bytes of a file.
func TestSet(t *testing.T) {
	for _, c := range []struct{ name, before, path, text, after string }{
		{"a value keeps its comment", "supply:\n  voltage: 240 V   # measured, at night\n", "supply.voltage", "238 V", "supply:\n  voltage: 238 V   # measured, at night\n"},
		{"quotes stay", "machine:\n  name: \"old one\"\n", "machine.name", `the "new" one`, "machine:\n  name: \"the \\\"new\\\" one\"\n"},
		{"single quotes stay", "machine:\n  name: 'old one' # x\n", "machine.name", "Tom's", "machine:\n  name: 'Tom''s' # x\n"},
		{"inches need no quotes", "box:\n  depth: 8 in\n", "box.depth", `8-1/2"`, "box:\n  depth: 8-1/2\"\n"},
		{"a gauge with # needs quotes", "supply:\n  conductor: 10 AWG\n", "supply.conductor", "#14", "supply:\n  conductor: '#14'\n"},
		{"a colon needs quotes", "machine:\n  name: x\n", "machine.name", "lathe: grey", "machine:\n  name: 'lathe: grey'\n"},
		{"a remark's sign needs quotes", "machine:\n  name: x\n", "machine.name", "lathe #2", "machine:\n  name: 'lathe #2'\n"},
		{"free text that looks like a truth value", "machine:\n  name: x\n", "machine.name", "yes", "machine:\n  name: 'yes'\n"},
		{"free text that looks like a number", "motor:\n  frame: x\n", "motor.frame", "184", "motor:\n  frame: '184'\n"},
		{"a listed word stays plain", "machine:\n  reverse: no\n", "machine.reverse", "yes", "machine:\n  reverse: yes\n"},
		{"an empty key is filled in", "supply:\n  run:   # one way\n", "supply.run", "35 ft", "supply:\n  run: 35 ft   # one way\n"},
		{"a swallowed value is put in front", "supply:\n  conductor: #14\n", "supply.conductor", "14 AWG", "supply:\n  conductor: 14 AWG #14\n"},
		{"a value with a mistake is replaced", "supply:\n  voltage: 240\n", "supply.voltage", "240 V", "supply:\n  voltage: 240 V\n"},
		{"null is replaced", "supply:\n  voltage: ~\n", "supply.voltage", "240 V", "supply:\n  voltage: 240 V\n"},
		{"a new key stands behind its predecessor", "supply:\n    voltage: 240 V # x\n    run: 3 m\n", "supply.breaker", "30 A", "supply:\n    voltage: 240 V # x\n    breaker: 30 A\n    run: 3 m\n"},
		{"a new first key", "supply:\n  run: 3 m\n", "supply.voltage", "240 V", "supply:\n  voltage: 240 V\n  run: 3 m\n"},
		{"a new key in a file without a last line break", "supply:\n  run: 3 m", "supply.cord", "10 AWG", "supply:\n  run: 3 m\n  cord: 10 AWG"},
		{"a new key in brackets", "motor: {power: 3 hp, leads: 9}\n", "motor.voltage", "230/460 V", "motor: {power: 3 hp, voltage: 230/460 V, leads: 9}\n"},
		{"a new first key in brackets", "motor: { leads: 9 }\n", "motor.power", "3 hp", "motor: { power: 3 hp, leads: 9 }\n"},
		{"a key in empty brackets", "motor: {}\n", "motor.power", "3 hp", "motor: {power: 3 hp}\n"},
		{"a comma in brackets needs quotes", "machine: {name: x}\n", "machine.name", "grey, old", "machine: {name: 'grey, old'}\n"},
		{"a new section, set apart like the others", "machine:\n  name: x\n\nmotor:\n  leads: 9\n", "supply.voltage", "240 V", "machine:\n  name: x\n\nsupply:\n  voltage: 240 V\n\nmotor:\n  leads: 9\n"},
		{"a new section behind the remarks of the one before", "machine:\n  name: x\n  # load: 80 %\n\n# the plate\nmotor:\n  leads: 9\n", "shop.dust", "wood", "machine:\n  name: x\n  # load: 80 %\n\nshop:\n  dust: wood\n\n# the plate\nmotor:\n  leads: 9\n"},
		{"a new top-level value", "drivewright: 1\nmachine:\n  name: x\n", "units", "metric", "drivewright: 1\nunits: metric\nmachine:\n  name: x\n"},
		{"a section of which only the key is there", "shop:  # to do\nmotor:\n  leads: 9\n", "shop.dust", "wood", "shop:  # to do\n  dust: wood\nmotor:\n  leads: 9\n"},
		{"an empty file", "", "motor.power", "3 hp", "motor:\n  power: 3 hp\n"},
		{"a file of remarks", "# my job", "motor.power", "3 hp", "# my job\nmotor:\n  power: 3 hp\n"},
		{"carriage returns and mark stay", "\ufeffsupply:\r\n  run: 3 m\r\nnotes: x\r\n", "supply.voltage", "240 V", "\ufeffsupply:\r\n  voltage: 240 V\r\n  run: 3 m\r\nnotes: x\r\n"},
		{"an item's value", "loads:\n  - name: a\n  - name: b  # second\n", "loads[1].name", "lamp", "loads:\n  - name: a\n  - name: lamp  # second\n"},
		{"an item's new value", "loads:\n  - name: a\n  - name: b\n    fuse: 2 A\n", "loads[1].power", "1/8 hp", "loads:\n  - name: a\n  - name: b\n    power: 1/8 hp\n    fuse: 2 A\n"},
		{"an item's new first value", "loads:\n- fuse: 2 A\n", "loads[0].name", "lamp", "loads:\n- name: lamp\n  fuse: 2 A\n"},
		{"a block of lines", "notes: |\n  old\n  lines\n# end\n", "notes", "new\n\nlines: three", "notes: |\n  new\n\n  lines: three\n# end\n"},
		{"a block made of a line", "notes: old # x\n", "notes", "two\nlines", "notes: | # x\n  two\n  lines\n"},
		{"a block in a section", "machine:\n  box may go: here\n  moving parts: x\n", "machine.box may go", "one\ntwo", "machine:\n  box may go: |\n    one\n    two\n  moving parts: x\n"},
		{"lead groups in brackets", "motor:\n  lead groups: [[1,4],[2,5]] # ohmmeter\n", "motor.lead groups", "[[1,4],[2,5],[3,6]]", "motor:\n  lead groups: [[1,4],[2,5],[3,6]] # ohmmeter\n"},
		{"lead groups in lines", "motor:\n  lead groups:\n  - [1,4]\n  - [2,5]\n  leads: 9\n", "motor.lead groups", "[[1,4],[2,5],[3,6]]", "motor:\n  lead groups: [[1,4],[2,5],[3,6]]\n  leads: 9\n"},
		{"a whole file in brackets", "{motor: {leads: 9}}\n", "supply.run", "3 m", "{supply: {run: 3 m}, motor: {leads: 9}}\n"},
		{"other mistakes stay where they are", "suply: x\nmotor:\n  leads: 9\n", "motor.leads", "6", "suply: x\nmotor:\n  leads: 6\n"},
		{"a value that needs quotes and has none", "machine:\n  description: Lathe: grey\n", "machine.description", "Lathe, grey", "machine:\n  description: Lathe, grey\n"},
		{"spaces around the text", "motor:\n  leads: 9\n", "motor.leads", "  6 ", "motor:\n  leads: 6\n"},
		{"empty text removes", "motor:\n  leads: 9 # count again\n  frame: x\n", "motor.leads", " ", "motor:\n  frame: x\n"},
	} {
		f := Read("x", []byte(c.before))
		got, err := f.Set(c.path, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if d := cmp.Diff(c.after, string(got)); d != "" {
			t.Errorf("%s: want (-), got (+):\n%s", c.name, d)
		}
		if string(f.Bytes) != c.before {
			t.Errorf("%s: Set changed the file that it was called on", c.name)
		}
	}
}

func TestRemove(t *testing.T) {
	for _, c := range []struct{ name, before, path, after string }{
		{"a line", "motor:\n  power: 3 hp\n  leads: 9  # nine\n  # a remark\n  frame: x\n", "motor.leads", "motor:\n  power: 3 hp\n  # a remark\n  frame: x\n"},
		{"the last line without a break", "motor:\n  power: 3 hp\n  leads: 9", "motor.leads", "motor:\n  power: 3 hp\n"},
		{"carriage returns", "motor:\r\n  leads: 9\r\n  frame: x\r\n", "motor.leads", "motor:\r\n  frame: x\r\n"},
		{"the only key of a section", "motor:\n  leads: 9\nnotes: x\n", "motor.leads", "motor:\nnotes: x\n"},
		{"a block", "notes: |\n  a\n  b\n\nmotor:\n  leads: 9\n", "notes", "\nmotor:\n  leads: 9\n"},
		{"in brackets, first", "motor: {power: 3 hp, leads: 9}", "motor.power", "motor: {leads: 9}"},
		{"in brackets, last", "motor: {power: 3 hp, leads: 9}", "motor.leads", "motor: {power: 3 hp}"},
		{"in brackets, only", "motor: {leads: 9, }", "motor.leads", "motor: {}"},
		{"the first key of an item", "loads:\n  - name: a\n    power: 1 hp\n", "loads[0].name", "loads:\n  - power: 1 hp\n"},
		{"an item", "loads:\n  - name: a # first\n    power: 1 hp\n  # the lamp\n  - name: b\n", "loads[0]", "loads:\n  # the lamp\n  - name: b\n"},
		{"the last item takes the list along", "loads:\n  - name: a\nnotes: x\n", "loads[0]", "notes: x\n"},
		{"an item in brackets", "loads: [{name: a}, {name: b}]\nnotes: x\n", "loads[1]", "loads: [{name: a}]\nnotes: x\n"},
		{"what isn't there", "motor:\n  leads: 9\n", "supply.run", "motor:\n  leads: 9\n"},
	} {
		got, err := Read("x", []byte(c.before)).Remove(c.path)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if d := cmp.Diff(c.after, string(got)); d != "" {
			t.Errorf("%s: want (-), got (+):\n%s", c.name, d)
		}
	}
}

func TestAppend(t *testing.T) {
	lamp := map[string]string{"volt-amperes": "40 VA", "name": "lamp, grey"}
	for _, c := range []struct{ name, before, after string }{
		{"to a list", "loads:\n    - name: a # first\nnotes: x\n", "loads:\n    - name: a # first\n    - name: 'lamp, grey'\n      volt-amperes: 40 VA\nnotes: x\n"},
		{"no list yet", "motor:\n  leads: 9\nnotes: x\n", "motor:\n  leads: 9\nloads:\n  - name: 'lamp, grey'\n    volt-amperes: 40 VA\nnotes: x\n"},
		{"an empty list", "loads: []\n", "loads: [{name: 'lamp, grey', volt-amperes: 40 VA}]\n"},
		{"a list in brackets", "loads: [{name: a}]\n", "loads: [{name: a}, {name: 'lamp, grey', volt-amperes: 40 VA}]\n"},
		{"only the key", "loads: # later\n", "loads: # later\n  - name: 'lamp, grey'\n    volt-amperes: 40 VA\n"},
		{"an empty file", "", "loads:\n  - name: 'lamp, grey'\n    volt-amperes: 40 VA\n"},
	} {
		got, err := Read("x", []byte(c.before)).Append("loads", lamp)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if d := cmp.Diff(c.after, string(got)); d != "" {
			t.Errorf("%s: want (-), got (+):\n%s", c.name, d)
		}
	}
}

// TestSetRefuses lists the edits that are refused, with the kind of mistake.
func TestSetRefuses(t *testing.T) {
	for _, c := range []struct{ name, src, path, text, rule string }{
		{"no unit", "supply:\n  voltage: 240 V\n", "supply.voltage", "240", "missing-unit"},
		{"out of range", "", "motor.service factor", "11", "out-of-range"},
		{"not a listed word", "", "motor.enclosure", "open", "not-one-of"},
		{"no such value", "", "motor.breaker", "11 A", "unknown-key"},
		{"a section", "", "motor", "11 A", "unknown-key"},
		{"a list item that isn't there", "", "loads[0].name", "a", "cannot-edit"},
		{"an anchor", "motor:\n  power: &p 3 hp\n", "motor.power", "5 hp", "cannot-edit"},
		{"a list where a value belongs", "motor:\n  power: [3 hp]\n", "motor.power", "5 hp", "cannot-edit"},
		{"a value where a section belongs", "motor: 3 hp\n", "motor.power", "5 hp", "cannot-edit"},
		{"a file that is no mapping", "- a\n", "motor.power", "5 hp", "cannot-edit"},
		{"lines in a quantity", "", "motor.power", "5\nhp", "wrong-shape"},
		{"lead groups that are none", "", "motor.lead groups", "1-4, 2-5", "not-a-lead-group"},
		{"remarks among lead groups", "motor:\n  lead groups:\n    - [1,4] # sure\n    - [2,5]\n", "motor.lead groups", "[[1,4]]", "cannot-edit"},
	} {
		f := Read("x", []byte(c.src))
		got, err := f.Set(c.path, c.text)
		var refused *Refused
		if !errors.As(err, &refused) {
			t.Errorf("%s: got %q, %v, want a refusal", c.name, got, err)
			continue
		}
		if refused.Finding.Rule != c.rule || refused.Error() == "" {
			t.Errorf("%s: refused with %v, want %s", c.name, refused, c.rule)
		}
	}
}

// TestSetEverything writes every value of the format into every well-formed job, into an empty one and into one in
// brackets, and takes it out again.
func TestSetEverything(t *testing.T) {
	sources := map[string]string{"empty": "", "brackets": "{motor: {power: 3 hp}, loads: [{name: a}]}", "windows": "\ufeffsupply:\r\n  voltage: 240 V\r\nloads:\r\n- name: a\r\n"}
	for _, path := range wellFormed(t) {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		sources[path] = string(src)
	}
	for name, src := range sources {
		f := Read(name, []byte(src))
		for _, field := range Fields() {
			path := strings.ReplaceAll(field.Path, "[]", "[0]")
			if f.taker(path) == nil {
				continue // the file has no such list item
			}
			changed, err := f.Set(path, field.Example)
			if err != nil {
				t.Errorf("%s: %s: %v", name, path, err)
				continue
			}
			checkEdit(t, f, changed, path, field.Example)
			if f.Value(path) != nil {
				continue
			}
			back, err := Read(name, changed).Remove(path)
			if err != nil {
				t.Errorf("%s: removing %s: %v", name, path, err)
			} else if got := Read(name, back).written(); !maps.Equal(got, f.written()) {
				t.Errorf("%s: removing %s changed the values: %s", name, path, cmp.Diff(f.written(), got))
			}
		}
	}
}

// checkEdit checks that a file after an edit has the new value at path and differs in one place only.
func checkEdit(t *testing.T, f *File, changed []byte, path, text string) {
	t.Helper()
	after := Read(f.Name, changed)
	want := f.written()
	want[path] = text
	if d := cmp.Diff(want, after.written()); d != "" {
		t.Errorf("%s: %s: values after the edit: want (-), got (+):\n%s", f.Name, path, d)
	}
	at, err := f.find(path)
	if err != nil {
		t.Errorf("%s: %v", path, err)
		return
	}
	if at.entry >= 0 && at.mapping.entries[at.entry].value != nil { // all bytes before and behind the old value are still there
		old := at.mapping.entries[at.entry].value
		if !bytes.HasPrefix(changed, f.Bytes[:old.start]) || !bytes.HasSuffix(changed, f.Bytes[old.end:]) {
			t.Errorf("%s: %s: the edit changed more than its span", f.Name, path)
		}
		return
	}
	// An insertion: the old file is what remains when one stretch is taken out.
	start := 0
	for start < len(f.Bytes) && start < len(changed) && f.Bytes[start] == changed[start] {
		start++
	}
	if !bytes.HasSuffix(changed, f.Bytes[start:]) {
		t.Errorf("%s: %s: the edit is not one insertion:\n%s", f.Name, path, cmp.Diff(string(f.Bytes), string(changed)))
	}
}

// FuzzRead checks that nothing makes the reader fail, that all places lie inside the file, and that it does the same twice.
func FuzzRead(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		a, b := Read("x", []byte(text)), Read("x", []byte(text))
		if len(a.Problems) != len(b.Problems) || !maps.Equal(a.written(), b.written()) {
			t.Fatalf("%q is read differently the second time", text)
		}
		lines := strings.Count(text, "\n") + strings.Count(text, "\r") + 1
		last := 0
		for _, p := range a.Problems {
			places := []int{p.Span.Start, p.Span.End}
			for _, r := range p.Related {
				places = append(places, r.Span.Start, r.Span.End)
			}
			for _, at := range places {
				if at < 0 || at > len(text) {
					t.Fatalf("%q: %s points at byte %d of %d", text, p.Rule, at, len(text))
				}
			}
			if p.Span.End < p.Span.Start || p.Span.Line > lines || p.Span.Start < last || p.Message.Show(quantity.InchUnits) == "" {
				t.Fatalf("%q: bad problem %+v", text, p)
			}
			last = p.Span.Start
			if err := explainWrite(p, []byte(text)); err != nil {
				t.Fatal(err)
			}
		}
		for path := range a.written() {
			_, span, _ := a.taker(path).given()
			if span.Start < 0 || span.End > len(text) || span.Start >= span.End || span.Line < 1 || span.Line > lines || span.Column < 1 {
				t.Fatalf("%q: %s has the place %+v", text, path, span)
			}
		}
	})
}

// FuzzSet checks that an edit that isn't refused gives the new value and changes nothing else.
func FuzzSet(f *testing.F) {
	fields := Fields()
	src, err := os.ReadFile("testdata/lathe.job.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for n, field := range fields {
		f.Add(string(src), n, field.Example)
		f.Add("# x\n"+field.Key+": y # z\n", n, "a: b #c")
	}
	for n, s := range []string{"motor: {leads: 9, # x\n}", "{loads: [{name: a}, {}]}", "loads:\n- \n-\n  name: b\n", "notes: >\n  a\n\n   b\n", "machine: # x\n\n  # y\n\n  name: \"a\n    b\"\n\n\n"} {
		f.Add(s, n*31, "x, y")
	}
	f.Fuzz(func(t *testing.T, text string, n int, value string) {
		file := Read("x", []byte(text))
		path := strings.ReplaceAll(fields[(n%len(fields)+len(fields))%len(fields)].Path, "[]", "[0]")
		changed, err := file.Set(path, value)
		if err != nil {
			var refused *Refused
			if !errors.As(err, &refused) {
				t.Fatalf("%v is not a *Refused", err)
			}
			return
		}
		trimmed := strings.TrimSpace(strings.ReplaceAll(value, "\r\n", "\n"))
		if trimmed == "" || strings.ContainsAny(trimmed, "\n\r\t") {
			return
		}
		checkEdit(t, file, changed, path, trimmed)
	})
}

func BenchmarkSet(b *testing.B) {
	src, err := os.ReadFile("testdata/lathe.job.yaml")
	if err != nil {
		b.Fatal(err)
	}
	f := Read("lathe.job.yaml", src)
	for b.Loop() {
		if _, err := f.Set("supply.breaker", "50 A"); err != nil {
			b.Fatal(err)
		}
	}
}
