package prove

import (
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"drivewright/internal/base/quantity"
)

// TestRecordsReadBack: what is written is read again, and one bad line costs nothing but itself.
func TestRecordsReadBack(t *testing.T) {
	whole := Taken{Reading: "R4KQX", Value: "4.7 kohm", At: "2026-11-25 14:05", By: "Ana | the \\ fitter", Meter: "pocket\nmeter"}
	bare := Taken{Reading: "#1", Value: "open"}
	text := "# a remark\n\n" + whole.Line() + bare.Line() + "R7 |\nR8\nR9 | 3 | a | b | c | d\n  R5 | beep\r\nR6 | 1\\q\nRB | 4.7 ko"
	taken, found := ReadRecords("lathe.readings", []byte(text))
	want := []Taken{whole, bare, {Reading: "R5", Value: "beep"}}
	if len(taken) != len(want) {
		t.Fatalf("got %d readings, want %d: %+v", len(taken), len(want), taken)
	}
	for n := range want {
		if taken[n] != want[n] {
			t.Errorf("reading %d: got %+v, want %+v", n+1, taken[n], want[n])
		}
	}
	var places []string
	for _, f := range found {
		places = append(places, f.Span.String()+" "+f.Message.Show(quantity.InchUnits))
		if got := text[f.Span.Start:f.Span.End]; f.Span.File != "lathe.readings" || strings.Contains(got, "\n") {
			t.Errorf("%s: points at %q", f.Message.Show(quantity.InchUnits), got)
		}
	}
	for n, want := range []string{"lathe.readings:5:1 the reading has no name or no value", `lathe.readings:6:1 "R8" has no value`, "lathe.readings:7:21 there are 6 fields", "lathe.readings:9:7 a backslash", "lathe.readings:10:1 the last line has no end"} {
		if n >= len(places) || !strings.HasPrefix(places[n], want) {
			t.Errorf("finding %d: got %q, want %s", n+1, places, want)
		}
	}
}

// TestTimeThatIsNone: a name where the time belongs is told, and the value counts; a date, a time or both are fine.
func TestTimeThatIsNone(t *testing.T) {
	taken, found := ReadRecords("x", []byte("R2 | 0.8 kohm | Bob | pocket meter\n"))
	if len(taken) != 1 || taken[0].Value != "0.8 kohm" || len(found) != 1 || !strings.Contains(found[0].Message.Show(quantity.InchUnits), `"Bob" stands where the date and time belong`) {
		t.Errorf("got %+v, %v, want the value and one finding", taken, found)
	}
	for _, at := range []string{"", "2026-11-25 14:05", "2026-11-25 14:05:09", "2026-11-25", "14:05", "2026-11-25T14:05:00Z", "11/25/2026", "25.11.2026 14:05"} {
		if _, found := ReadRecords("x", []byte(Taken{Reading: "R2", Value: "open", At: at, By: "Bob"}.Line())); found != nil {
			t.Errorf("%q isn't taken as a time: %v", at, found[0].Message.Show(quantity.InchUnits))
		}
	}
	for _, at := range []string{"25", "2026-13-01", "now"} {
		if _, found := ReadRecords("x", []byte(Taken{Reading: "R2", Value: "open", At: at}.Line())); found == nil {
			t.Errorf("%q is taken as a time", at)
		}
	}
}

// FuzzRecords: a line reads back as what was written, also between lines of anything else, and every finding lies in the text.
func FuzzRecords(f *testing.F) {
	f.Add("R4KQX", "4.7 kohm", "2026-11-25", "Ana", "meter", "# x\n")
	f.Add("#", "|", "\\", "\n", "\r\n", "R1 | 2")
	f.Add("a\\", "\\|", "  ", "\u0085x", "|", "\\\n|||")
	f.Add("\xff", "\x00", "é", "", "x", "R1 | 2 |\xff\n")
	f.Fuzz(func(t *testing.T, reading, value, at, by, meter, before string) {
		clean := func(s string) string {
			return strings.TrimFunc(strings.ReplaceAll(strings.ToValidUTF8(s, "\ufffd"), "\x00", ""), unicode.IsSpace)
		}
		want := Taken{Reading: clean(reading), Value: clean(value), At: clean(at), By: clean(by), Meter: clean(meter)}
		line := Taken{Reading: reading, Value: value, At: at, By: by, Meter: meter}.Line()
		if !strings.HasSuffix(line, "\n") || strings.Count(line, "\n") != 1 || !utf8.ValidString(line) {
			t.Fatalf("%q isn't one line", line)
		}
		if before != "" && !strings.HasSuffix(before, "\n") {
			before += "\n"
		}
		text := before + line
		taken, found := ReadRecords("x", []byte(text))
		for _, p := range found {
			if p.Span.Start < 0 || p.Span.End > len(text) || p.Span.Start > p.Span.End || p.Span.Line < 1 || p.Span.Column < 1 {
				t.Errorf("a finding lies at %+v of %d bytes", p.Span, len(text))
			}
		}
		if want.Reading == "" || want.Value == "" {
			return
		}
		if len(taken) == 0 || taken[len(taken)-1] != want {
			t.Errorf("wrote %+v as %q, read %+v", want, line, taken)
		}
	})
}

// TestReadingsFromASpreadsheet: columns with a comma or a semicolon between (RFC 4180, and what spreadsheets of countries with a decimal comma
// write), with or without a head.
func TestReadingsFromASpreadsheet(t *testing.T) {
	taken, found := ReadRecords("r.csv", []byte("reading,value\r\nRDK6X,beep\r\nR9XQH,\"4,7 kohm\"\r\nRQL84;4,7 kohm\r\nR2222,open,\r\n"))
	want := []Taken{{Reading: "RDK6X", Value: "beep"}, {Reading: "R9XQH", Value: "4,7 kohm"}, {Reading: "RQL84", Value: "4,7 kohm"}, {Reading: "R2222", Value: "open"}}
	if len(found) > 0 || !slices.Equal(taken, want) {
		t.Errorf("got %v and %v, want %v", taken, found, want)
	}
}
