package prove

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"drivewright/internal/base/explain"
)

// The records of a meter sheet are plain text, one line a reading, in the order in which they were taken. Lines are only ever
// added. What somebody measured again stands twice, and the later one counts.
//
//	# readings of the lathe's box
//	R4KQX | 4.7 kohm | 2026-11-25 14:05 | Ana | pocket meter
//
// A line is the reading's name, the value as it was typed, and, each optional, when, who and with which instrument, with
// upright strokes between. A line that begins with # is a remark; an empty line is nothing. A stroke, a backslash or a line's
// end inside a field is written \|, \\ or \n. A last line without its end was torn off by a crash or a pulled plug: it is
// reported and not taken, because a value may have lost its last digit.

// recordFields is how many fields a line can have.
const recordFields = 5

// Line writes a taken reading as one line of text that ReadRecords reads, with the line's end. Bytes that are no UTF-8 text
// come out as the replacement character; blanks around a field are lost.
func (t Taken) Line() string {
	fields := []string{t.Reading, t.Value, t.At, t.By, t.Meter}
	last := 2
	for n, f := range fields {
		fields[n] = escapeField(f)
		if n >= last && fields[n] != "" {
			last = n + 1
		}
	}
	line := strings.TrimRight(strings.Join(fields[:last], " | "), " ")
	if strings.HasPrefix(line, "#") {
		line = `\` + line
	}
	return line + "\n"
}

func escapeField(text string) string {
	text = strings.TrimFunc(strings.ReplaceAll(strings.ToValidUTF8(text, "\ufffd"), "\x00", ""), unicode.IsSpace)
	return strings.NewReplacer(`\`, `\\`, "|", `\|`, "\r", `\r`, "\n", `\n`).Replace(text)
}

// ReadRecords reads taken readings as text, in the order in which they were taken. What can't be read is a finding with its
// place, in the file of the given name; the rest counts.
func ReadRecords(name string, text []byte) ([]Taken, []explain.Finding) {
	var taken []Taken
	var found []explain.Finding
	rest, line, start := string(text), 0, 0
	for rest != "" {
		line++
		row, after, whole := strings.Cut(rest, "\n")
		at := recordPlace{name, line, start}
		start += len(row) + 1
		rest = after
		row = strings.TrimSuffix(row, "\r")
		if blank := strings.TrimFunc(row, unicode.IsSpace); blank == "" || strings.HasPrefix(blank, "#") || line == 1 && isHead(blank) {
			continue
		}
		t, problem := readRecord(row, at)
		switch {
		case problem != nil:
			found = append(found, *problem)
		case !whole:
			found = append(found, at.finding(row, 0, len(row), "the last line has no end: it was torn off while it was written, and isn't taken",
				"take this reading again; or put the line's end behind it if it is whole"))
		default:
			taken = append(taken, t)
			if t.At != "" && !isTime(t.At) {
				found = append(found, at.finding(row, 0, len(row), fmt.Sprintf("%q stands where the date and time belong, and is none; the value counts all the same", t.At),
					"a line reads: name of the reading | value | when, such as 2026-11-25 14:05 | who | instrument; leave a field empty between its strokes where nobody knows"))
			}
		}
	}
	return taken, found
}

// isHead reports whether a line is the head of a spreadsheet's columns.
func isHead(row string) bool {
	first, _, _ := strings.Cut(strings.ToLower(row), ",")
	first, _, _ = strings.Cut(first, ";")
	return strings.Trim(first, " \"") == "reading"
}

// dayAndTime is how one writes when a reading was taken: 2026-11-25 10:30 is the form that is asked for; the parts by themselves, other
// orders of the date, and a time zone behind are taken too.
var dayAndTime = regexp.MustCompile(`^(\d{4}-(0?[1-9]|1[0-2])-(0?[1-9]|[12]\d|3[01])|(0?[1-9]|[12]\d|3[01])[./](0?[1-9]|[12]\d|3[01])[./]\d{4})?([ T]?([01]?\d|2[0-3]):[0-5]\d(:[0-5]\d)?(Z|[-+]\d\d:\d\d)?)?$`)

// isTime reports whether a text is a date, a time or both.
func isTime(text string) bool { return text != "" && dayAndTime.MatchString(text) }

// recordPlace is where a line stands.
type recordPlace struct {
	file        string
	line, start int
}

// finding reports the bytes from begin to end of the row.
func (p recordPlace) finding(row string, begin, end int, message, remedy string) explain.Finding {
	return explain.Finding{Rule: "reading-unreadable", Severity: explain.Check,
		Span:    explain.Span{File: p.file, Line: p.line, Column: utf8.RuneCountInString(row[:begin]) + 1, Start: p.start + begin, End: p.start + end},
		Message: explain.Say(message), Remedy: explain.Say(remedy), Source: explain.Physics("form of the records")}
}

// readRecord reads one line that is neither a remark nor empty.
func readRecord(row string, at recordPlace) (Taken, *explain.Finding) {
	if n := strings.IndexByte(row, 0); n >= 0 || !utf8.ValidString(row) {
		n = max(n, 0)
		f := at.finding(row, n, len(row), "this line holds what is no text", "a line reads: name of the reading | value | when | who | instrument")
		return Taken{}, &f
	}
	fields, starts, problem := splitRecord(row, at)
	if problem != nil {
		return Taken{}, problem
	}
	if len(fields) < 2 { // a spreadsheet writes commas or semicolons; behind the first, a comma belongs to the number
		if n := strings.IndexAny(row, ",;"); n > 0 && n < len(row)-1 {
			name, value := strings.Trim(row[:n], " \t\""), strings.Trim(row[n+1:], " \t\",;")
			if name != "" && value != "" {
				return Taken{Reading: name, Value: value}, nil
			}
		}
		f := at.finding(row, 0, len(row), fmt.Sprintf("%q has no value", fields[0]), "write the reading's name, an upright stroke and what the meter showed, such as: R4KQX | 4.7 kohm")
		return Taken{}, &f
	}
	if len(fields) > recordFields {
		f := at.finding(row, starts[recordFields], len(row), fmt.Sprintf("there are %d fields, expected %d at the most", len(fields), recordFields), `a line reads: name of the reading | value | when | who | instrument; write a stroke that is meant as itself \|`)
		return Taken{}, &f
	}
	fields = append(fields, make([]string, recordFields-len(fields))...)
	if fields[0] == "" || fields[1] == "" {
		f := at.finding(row, 0, len(row), "the reading has no name or no value", "write the reading's name, an upright stroke and what the meter showed, such as: R4KQX | 4.7 kohm")
		return Taken{}, &f
	}
	return Taken{Reading: fields[0], Value: fields[1], At: fields[2], By: fields[3], Meter: fields[4]}, nil
}

// splitRecord parts a row at its strokes and takes the backslashes away. starts are the fields' places in the row.
func splitRecord(row string, at recordPlace) (fields []string, starts []int, problem *explain.Finding) {
	var field strings.Builder
	starts = append(starts, 0)
	end := func() {
		fields = append(fields, strings.TrimFunc(field.String(), unicode.IsSpace))
		field.Reset()
	}
	for n := 0; n < len(row); n++ {
		switch row[n] {
		case '|':
			end()
			starts = append(starts, n+1)
		case '\\':
			n++
			letter := byte(0)
			if n < len(row) {
				letter = row[n]
			}
			switch letter {
			case '\\', '|', '#':
				field.WriteByte(letter)
			case 'n':
				field.WriteByte('\n')
			case 'r':
				field.WriteByte('\r')
			default:
				f := at.finding(row, n-1, min(n+1, len(row)), "a backslash stands before a letter that it has no meaning for", `write \\ for a backslash, \| for a stroke, \n for a line's end`)
				return nil, nil, &f
			}
		default:
			field.WriteByte(row[n])
		}
	}
	end()
	return fields, starts, nil
}
