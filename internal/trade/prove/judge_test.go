package prove

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestParseShown: what people type, and what it means.
func TestParseShown(t *testing.T) {
	open := math.Inf(1)
	for text, want := range map[string]float64{
		"4.7k": 4700, "4.7 k": 4700, "4k7": 4700, "4.7 kohm": 4700, "4,7 kΩ": 4700, "4,7 k\u2126": 4700, "4700": 4700, "4700 ohm": 4700, "4700 Ω": 4700, "4.7K": 4700,
		"0.3": 0.3, "0,3": 0.3, "0,312": 0.312, ".3 ohm": 0.3, "0": 0, "-0.1": 0, "300 mohm": 0.3, "300 mΩ": 0.3, "12R": 12, "1R2": 1.2, "1.2 ohms": 1.2, "1,234 kohm": 1234,
		"2M": 2e6, "2 M": 2e6, "2M2": 2.2e6, "2 Mohm": 2e6, "2.2 MΩ": 2.2e6, "2 megohm": 2e6, "1e3": -1,
		"open": open, "Open": open, "OL": open, "O.L": open, "0L": open, "inf": open, "∞": open, "no beep": open, " ol ": open, ">20M": open, "> 2 Mohm": open, "1.": open,
		"": -1, "ohm": -1, "k": -1, "1,200": -1, "1.2.3": -1, "1,2,3": -1, "5 V": -1, "5 mA": -1, "2m": -1, "2 m": -1, "-12": -1, "4k7k": -1, "4 k 7": -1, "4.7k2": -1, "12 12": -1, "many": -1, "NaN": -1, "0x10": -1,
	} {
		got, err := parseShown(text)
		switch {
		case want < 0 && err == nil:
			t.Errorf("%q: got %v ohm, want it refused", text, got.ohms)
		case want >= 0 && err != nil:
			t.Errorf("%q: got %v, want %v ohm", text, err, want)
		case want >= 0 && got.ohms != want && math.Abs(got.ohms-want) > 1e-9*want:
			t.Errorf("%q: got %v ohm, want %v", text, got.ohms, want)
		}
		if err != nil && !strings.Contains(err.Error(), fmt.Sprintf("%q", text)) {
			t.Errorf("%q: the message doesn't say what was typed: %v", text, err)
		}
	}
	for _, text := range []string{"1e12 Mohm", "1 e3", "4.7E+3 ohm"} {
		if _, err := parseShown(text); err == nil || !strings.Contains(err.Error(), "powers of ten") {
			t.Errorf("%q: got %v, want it said that powers of ten aren't read", text, err)
		}
	}
	for _, text := range []string{"beep", "Beeps", "short", "continuity"} {
		if got, err := parseShown(text); err != nil || !got.beep {
			t.Errorf("%q: got %+v, %v, want a beep", text, got, err)
		}
	}
}

// FuzzParseShown: whatever is typed gives a resistance that isn't negative, or a message.
func FuzzParseShown(f *testing.F) {
	for _, text := range []string{"4.7k", "4k7", "open", "beep", ">20M", "1,200", "µ", "K", "\xff", "2M2", "4,7 kΩ", "İ", "ẞk"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := parseShown(text)
		if err == nil && (math.IsNaN(v.ohms) || v.ohms < 0) {
			t.Errorf("%q: %v ohm", text, v.ohms)
		}
	})
}

// shows types what a meter would show for a span: what is likely in the middle of it.
func shows(s span) string {
	switch {
	case s.joined():
		return "0.4"
	case math.IsInf(s.most, 1):
		return "OL"
	case s.least < 1: // a winding that nobody measured
		return fmt.Sprintf("%.1f", math.Sqrt(max(s.least, 0.3)*s.most))
	}
	return strconv.FormatFloat(math.Sqrt(s.least*s.most), 'f', 1, 64)
}

// bench is the real box as it was wired: it says what the meter shows.
type bench struct {
	box     *deadBox
	change  altered
	through string // what it shows across a supply's electronics, where anything above some value is likely; "": that it is open
}

func (b *bench) take(r *Reading) Taken {
	s, _ := b.box.setupOf(r.Settings)
	var v view
	b.box.look(&v, &s, &b.change)
	between := v.between(b.box.wiring.At(r.From), b.box.wiring.At(r.To))
	if through, _ := parseShown(b.through); b.through != "" && math.IsInf(between.most, 1) && between.least < through.ohms {
		return Taken{Reading: r.ID, Value: b.through}
	}
	return Taken{Reading: r.ID, Value: shows(between)}
}

// rank returns at which place of the suspects a mistake is named, by itself or as one place of several; -1 where it isn't.
func rank(d Diagnosis, mistake int) int {
	return slices.IndexFunc(d.Suspects, func(s Suspect) bool { return s.Mistake == mistake || slices.Contains(s.Others, mistake) })
}

// TestEveryMistakeIsNamed wires every mistake of several circuits, the examples among them, takes all readings of the sheet, and wants
// the mistake among the first three suspects, with none of these above it. On the small circuits it takes then those that the
// diagnosis asks for, none of them twice, and wants it among the first three at the end too, and counts how often it is first. What stands
// before it explains every reading as well: the readings can't tell the two apart, and the first is met more often.
func TestEveryMistakeIsNamed(t *testing.T) {
	all := circuits(t)
	for _, name := range []string{"seal-in", "maintained-switch", "two-channel-stop", "two-stations", "drum-sander", "tool-grinder", "engine-lathe"} {
		c := all[name]
		sheet := Meter(c)
		box := newDeadBox(Number(c))
		small := len(sheet.Mistakes) < 300
		first, tried, asked := 0, 0, 0
		for n, m := range sheet.Mistakes {
			if m.CaughtBy == nil {
				continue
			}
			tried++
			wired := &bench{box: box, change: box.alter(m.Changes...)}
			var taken []Taken
			for k := range sheet.Readings {
				taken = append(taken, wired.take(&sheet.Readings[k]))
			}
			d := sheet.Judge(c, taken)
			for k, j := range d.Judged {
				if slices.Contains(m.CaughtBy, k) && j.Right {
					t.Errorf("%s: %q: %s shows %s and counts as right", name, m.Name, j.Taken.Reading, j.Taken.Value)
				}
			}
			if at := rank(d, n); at < 0 || at > 2 {
				t.Errorf("%s: %q is suspect %d of %d by the sheet's readings; before it %v", name, m.Name, at+1, len(d.Suspects), d.Suspects[:min(3, len(d.Suspects))])
			}
			if rank(d, -1) == 0 {
				t.Errorf("%s: %q: none of these stands first", name, m.Name)
			}
			for range 8 {
				if d.Next == nil || !small {
					break
				}
				if slices.ContainsFunc(taken, func(k Taken) bool { return k.Reading == d.Next.ID }) {
					t.Errorf("%s: %q: %s is asked for once more", name, m.Name, d.Next.ID)
				}
				asked++
				taken = append(taken, wired.take(d.Next))
				d = sheet.Judge(c, taken)
			}
			at := rank(d, n)
			if at == 0 {
				first++
			}
			if at > 0 && !explainsAll(sheet, d.Suspects[0].Mistake, taken) {
				t.Errorf("%s: %q stands behind %q, which doesn't explain the readings", name, m.Name, d.Suspects[0].Name)
			}
			if at < 0 || at > 2 {
				t.Errorf("%s: %q is suspect %d of %d; before it %v", name, m.Name, at+1, len(d.Suspects), d.Suspects[:min(3, len(d.Suspects))])
			}
		}
		if small && first < tried*9/10 || first < tried*7/10 {
			t.Errorf("%s: of %d mistakes only %d are named first", name, tried, first)
		}
		t.Logf("%s: of %d mistakes %d are named first, with %.2f readings asked for beyond the sheet's", name, tried, first, float64(asked)/float64(tried))
	}
}

// explainsAll reports whether a mistake explains every reading taken.
func explainsAll(sheet MeterSheet, mistake int, taken []Taken) bool {
	if mistake < 0 {
		return false
	}
	known := sheet.found(sheet.weighing, taken)
	for _, k := range taken {
		found, _ := sheet.weighing.expected(known[k.Reading])
		value, err := parseShown(k.Value)
		if err != nil || found[mistake].explains(value) <= misread {
			return false
		}
	}
	return true
}

// TestOneReadingAlone: of the example jobs, each mistake by itself, with nothing measured but one reading that it makes wrong, is among the
// first three suspects; and what is broken comes before what is misplaced, because wires that are forgotten or loose are met most often
// (common practice).
func TestOneReadingAlone(t *testing.T) {
	all := circuits(t)
	for _, name := range []string{"drum-sander", "tool-grinder", "engine-lathe"} {
		c := all[name]
		sheet := Meter(c)
		box := newDeadBox(Number(c))
		broken, brokenFirst, tried, named := 0, 0, 0, 0
		for n, m := range sheet.Mistakes {
			wired := &bench{box: box, change: box.alter(m.Changes...)}
			for _, k := range m.CaughtBy {
				d := sheet.Judge(c, []Taken{wired.take(&sheet.Readings[k])})
				at := rank(d, n)
				tried++
				if at >= 0 && at < 3 {
					named++
				}
				if m.Changes[0].Kind == WireOff {
					broken++
					if at == 0 {
						brokenFirst++
					}
					if at < 0 || at > 2 {
						t.Errorf("%s: %q is suspect %d by %s alone", name, m.Name, at+1, sheet.Readings[k].ID)
					}
				}
			}
		}
		t.Logf("%s: %d of %d among the first three by one reading; of %d missing wires %d first", name, named, tried, broken, brokenFirst)
		if named < tried*99/100 || brokenFirst < broken*9/10 {
			t.Errorf("%s: by one reading %d of %d are among the first three; of %d missing wires %d are first", name, named, tried, broken, brokenFirst)
		}
	}
}

// TestSupplyThatConducts: real supplies read some kohm and not open at their output; a single mistake stays the first thing to think
// of, and is among the first three.
func TestSupplyThatConducts(t *testing.T) {
	all := circuits(t)
	for _, name := range []string{"tool-grinder", "three-wire-relay", "two-channel-stop"} {
		sheet := Meter(all[name])
		box := newDeadBox(Number(all[name]))
		for _, through := range []string{"20 kohm", "3 kohm"} {
			conducted := false
			for n, m := range sheet.Mistakes {
				if m.CaughtBy == nil {
					continue
				}
				wired := &bench{box, box.alter(m.Changes...), through}
				var taken []Taken
				for k := range sheet.Readings {
					taken = append(taken, wired.take(&sheet.Readings[k]))
					conducted = conducted || taken[k].Value == through
				}
				d := sheet.Judge(all[name], taken)
				at := rank(d, n)
				if !slices.ContainsFunc(d.Judged, func(j Judged) bool { return !j.Right }) {
					t.Errorf("%s, %s through the supply: %q makes no reading wrong", name, through, m.Name)
				}
				if none := rank(d, -1); at < 0 || at > 2 || none >= 0 && none != len(d.Suspects)-1 {
					t.Errorf("%s, %s through the supply: %q is suspect %d, none of these %d of %d", name, through, m.Name, at+1, none+1, len(d.Suspects))
				}
			}
			if !conducted {
				t.Errorf("%s: no reading leads through the supply", name)
			}
		}
	}
}

// TestFirstWrongReadingHelps: somebody who stops at the first wrong reading and takes what is asked for gets there with few.
func TestFirstWrongReadingHelps(t *testing.T) {
	c := circuits(t)["two-stations"]
	sheet := Meter(c)
	box := newDeadBox(Number(c))
	total, named, tried := 0, 0, 0
	for n, m := range sheet.Mistakes {
		if m.CaughtBy == nil {
			continue
		}
		tried++
		wired := &bench{box: box, change: box.alter(m.Changes...)}
		var taken []Taken
		for k := range sheet.Readings {
			taken = append(taken, wired.take(&sheet.Readings[k]))
			if k == m.CaughtBy[0] {
				break
			}
		}
		d := sheet.Judge(c, taken)
		for range 12 {
			if d.Next == nil {
				break
			}
			total++
			taken = append(taken, wired.take(d.Next))
			d = sheet.Judge(c, taken)
		}
		if at := rank(d, n); at >= 0 && at < 3 {
			named++
		} else {
			t.Logf("%q comes out as suspect %d", m.Name, at+1)
		}
	}
	mean := float64(total) / float64(tried)
	t.Logf("%d of %d mistakes among the first three after %.1f more readings", named, tried, mean)
	if named < tried*95/100 || mean > 6 {
		t.Errorf("only %d of %d mistakes are among the first three, after %.1f more readings", named, tried, mean)
	}
}

// TestHealthyBox: a box that is wired right gives right readings and no suspect, also at the ends of what healthy parts may have.
func TestHealthyBox(t *testing.T) {
	for name, c := range circuits(t) {
		sheet := Meter(c)
		wired := &bench{box: newDeadBox(Number(c)), change: unaltered}
		var taken []Taken
		for k := range sheet.Readings {
			taken = append(taken, wired.take(&sheet.Readings[k]))
		}
		d := sheet.Judge(c, taken)
		for _, j := range d.Judged {
			if !j.Right || j.Problem != "" {
				t.Errorf("%s: %s of %s isn't right on a healthy box: %s", name, j.Taken.Value, j.Taken.Reading, j.Problem)
			}
		}
		if d.Suspects != nil || d.Next != nil {
			t.Errorf("%s: a healthy box has suspects: %v", name, d.Suspects)
		}
	}
}

// TestJudge: readings that are wrong, doubtful, taken twice, contradictory or of another circuit.
func TestJudge(t *testing.T) {
	c := circuitOf(t, "by-hand", byHandJob)
	sheet := Meter(c)
	through := slices.IndexFunc(sheet.Readings, func(r Reading) bool { return r.Expect.Nominal == 800 })
	if through < 0 {
		t.Fatal("no reading through the coil")
	}
	r := sheet.Readings[through]
	judge := func(values ...string) Diagnosis {
		var taken []Taken
		for n := 0; n < len(values); n += 2 {
			taken = append(taken, Taken{Reading: values[n], Value: values[n+1]})
		}
		return sheet.Judge(c, taken)
	}
	if d := judge(r.ID, "812 ohm"); !d.Judged[0].Right || d.Judged[0].Shown != "812 Ω" || d.Suspects != nil {
		t.Errorf("812 ohm through 800 ohm: got %+v", d)
	}
	d := judge(r.ID, "open")
	if d.Judged[0].Right || len(d.Suspects) < 3 || d.Next == nil {
		t.Errorf("open through 800 ohm: got %+v, want suspects and a next reading", d)
	}
	sum := 0.0
	for n, s := range d.Suspects {
		sum += float64(s.Odds)
		if n > 0 && s.Mistake >= 0 && s.Odds > d.Suspects[n-1].Odds {
			t.Errorf("suspect %d is likelier than the one before", n+1)
		}
		if s.Remedy == "" || s.Name == "" {
			t.Errorf("suspect %d has no name or remedy: %+v", n+1, s)
		}
		if s.Mistake >= 0 && slices.ContainsFunc(sheet.Mistakes[s.Mistake].Changes, func(c Change) bool { return c.Kind == Bridged }) {
			t.Errorf("an open circuit is put down to a bridge: %s", s.Name)
		}
	}
	if sum > 1+1e-9 {
		t.Errorf("the odds add up to %v", sum)
	}
	if d := judge(r.ID, "open", r.ID, "805"); d.Suspects != nil || d.Judged[0].Right || !d.Judged[1].Right {
		t.Errorf("measured again and right: got %+v, want no suspect", d)
	}
	if d := judge(r.ID, "beep"); d.Judged[0].Right || d.Judged[0].Problem != "" {
		t.Errorf("a beep through 800 ohm: got %+v, want it wrong", d.Judged[0])
	}
	if d := judge("R9999", "5"); d.Judged[0].Problem == "" {
		t.Error("a reading of another circuit isn't told")
	}
	if d := judge(r.ID, "five"); d.Judged[0].Problem == "" || d.Judged[0].Right || d.Suspects != nil {
		t.Errorf("a word that is no value: got %+v", d)
	}
	// Two that no single mistake explains: everything open, and the contact of the start button bridged at the same time.
	var values []string
	for _, x := range sheet.Readings {
		value := "open"
		if x.Expect.Open {
			value = "3.0"
		}
		values = append(values, x.ID, value)
	}
	d = judge(values...)
	if len(d.Suspects) == 0 || d.Suspects[0].Mistake != -1 {
		t.Errorf("contradictory readings: got %+v, want none of the single mistakes first", d.Suspects)
	}
	// A test is judged by its limit, or as passed.
	c = circuits(t)["two-stations"]
	sheet = Meter(c)
	for _, x := range sheet.Tests {
		for value, right := range map[string]bool{"ok": true, "not ok": false, "0.05": x.Kind == BondingTest && x.Band != Band{}, "20M": x.Kind == InsulationTest, "0.3 ohm": false} {
			j := sheet.Judge(c, []Taken{{Reading: x.ID, Value: value}}).Judged[0]
			if j.Right != right || (j.Problem != "") != (x.Band == Band{} && value[0] != 'o' && value[0] != 'n') {
				t.Errorf("%s test, %q: got right %v, problem %q, want right %v", x.Kind, value, j.Right, j.Problem, right)
			}
		}
	}
}

// TestSheetWithoutItsMaking: a sheet that was put together elsewhere is judged as well, from the circuit.
func TestSheetWithoutItsMaking(t *testing.T) {
	c := circuitOf(t, "by-hand", byHandJob)
	sheet := Meter(c)
	bare := MeterSheet{Readings: sheet.Readings, Mistakes: sheet.Mistakes}
	for _, r := range sheet.Readings {
		taken := []Taken{{Reading: r.ID, Value: "400 ohm"}}
		if a, b := sheet.Judge(c, taken), bare.Judge(c, taken); fmt.Sprint(a.Suspects) != fmt.Sprint(b.Suspects) {
			t.Errorf("%s: %v and %v", r.ID, a.Suspects, b.Suspects)
		}
	}
}

// BenchmarkJudge judges a whole sheet with one wrong reading, suspects and next reading included.
func BenchmarkJudge(b *testing.B) {
	c := circuits(b)["engine-lathe"]
	sheet := Meter(c)
	wired := &bench{box: newDeadBox(Number(c)), change: unaltered}
	var taken []Taken
	for k := range sheet.Readings {
		taken = append(taken, wired.take(&sheet.Readings[k]))
	}
	n := slices.IndexFunc(sheet.Readings, func(r Reading) bool { return r.Expect.Continuity })
	taken[n].Value = "open"
	for b.Loop() {
		if d := sheet.Judge(c, taken); len(d.Suspects) == 0 {
			b.Fatal("no suspects")
		}
	}
}
