package explain

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"drivewright/internal/base/quantity"
)

// WriteFinding writes a finding as text, the one form that every command prints:
//
//	lathe.job.yaml:14:12: must: service factor 11 is outside 1 to 2  [out-of-range]
//	    service factor: 11
//	                    ^^  did you mean 1.1?
//
// source is the text of the file that the spans point into; without it, or for a finding about the whole job, the
// remedy stands on a line of its own. With colour the severity and the marks are coloured for a terminal.
func WriteFinding(w io.Writer, f Finding, source []byte, units quantity.System, colour bool) error {
	var b strings.Builder
	if place := f.Span.String(); place != "" {
		b.WriteString(place + ": ")
	}
	b.WriteString(paint(f.Severity.String(), f.Severity, colour) + ": " + f.Message.Show(units))
	if f.Rule != "" {
		b.WriteString("  [" + f.Rule + "]")
	}
	b.WriteByte('\n')
	remedy := f.Remedy.Show(units)
	if text, mark, ok := excerpt(f.Span, source); ok {
		b.WriteString(margin + text + "\n" + margin + paint(mark, f.Severity, colour))
		if remedy != "" {
			b.WriteString("  " + remedy)
		}
		b.WriteByte('\n')
	} else if remedy != "" {
		b.WriteString(margin + remedy + "\n")
	}
	for _, r := range f.Related {
		b.WriteString(margin)
		if place := r.Span.String(); place != "" {
			b.WriteString(place + ": ")
		}
		b.WriteString(r.Message.Show(units) + "\n")
		if text, mark, ok := excerpt(r.Span, source); ok {
			b.WriteString(margin + margin + text + "\n" + margin + margin + mark + "\n")
		}
	}
	if f.Accepted != "" {
		b.WriteString(margin + "accepted: " + f.Accepted + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

const margin = "    "

// String returns file:line:column, or what is known of it; empty for no place.
func (s Span) String() string {
	switch {
	case !s.Known():
		return s.File
	case s.File == "":
		return fmt.Sprintf("line %d, column %d", s.Line, s.Column)
	}
	return fmt.Sprintf("%s:%d:%d", s.File, s.Line, s.Column)
}

// paint puts the severity's colour around text.
func paint(text string, s Severity, colour bool) string {
	if !colour {
		return text
	}
	code := "36" // cyan
	switch s {
	case Danger:
		code = "1;31" // bold red
	case Must:
		code = "31" // red
	case Check:
		code = "33" // yellow
	case Note:
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

// excerpt returns the line of source that the span begins on, without its indentation and with tabs as spaces, and the
// marks that stand under the span.
func excerpt(s Span, source []byte) (text, mark string, ok bool) {
	if !s.Known() || s.Start < 0 || s.End < s.Start || s.End > len(source) {
		return "", "", false
	}
	start, end := s.Start, s.Start
	for start > 0 && !isBreak(source[start-1]) {
		start--
	}
	for end < len(source) && !isBreak(source[end]) {
		end++
	}
	if end == start {
		return "", "", false
	}
	var line, under strings.Builder
	column := 0
	for p := start; p < end; {
		c, size := utf8.DecodeRune(source[p:end])
		shown, width := string(c), Width(c)
		switch {
		case c == '\t':
			width = 4 - column%4
			shown = strings.Repeat(" ", width)
		case c == utf8.RuneError && size == 1, unicode.IsControl(c):
			shown, width = "\ufffd", 1
		case c == '\ufeff':
			shown, width = "", 0
		}
		line.WriteString(shown)
		fill := " "
		if p >= s.Start && p < s.End {
			fill = "^"
		}
		under.WriteString(strings.Repeat(fill, width))
		column += width
		p += size
	}
	text = strings.TrimRight(line.String(), " ")
	mark = strings.TrimRight(under.String(), " ")
	if mark == "" { // an empty span: one mark at its place
		mark = strings.Repeat(" ", displayWidth(source[start:min(s.Start, end)])) + "^"
	}
	// Take the indentation off both, but keep the mark under its text.
	indent := min(len(text)-len(strings.TrimLeft(text, " ")), len(mark)-len(strings.TrimLeft(mark, " ")))
	return text[indent:], mark[indent:], true
}

func isBreak(c byte) bool { return c == '\n' || c == '\r' }

// displayWidth returns how many columns of a terminal the text takes, tabs to every fourth column.
func displayWidth(text []byte) int {
	column := 0
	for len(text) > 0 {
		c, size := utf8.DecodeRune(text)
		if c == '\t' {
			column += 4 - column%4
		} else {
			column += Width(c)
		}
		text = text[size:]
	}
	return column
}

// Width returns how many columns of a terminal a character takes: none for marks that combine with the one before, two
// for the wide ones of East Asian scripts and emoji. Source: Unicode Standard Annex 11 (wide and fullwidth), by block.
func Width(c rune) int {
	switch {
	case c == 0:
		return 0
	case c < 0x300:
		return 1
	case unicode.In(c, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case c >= 0x1100 && c <= 0x115f, c >= 0x2e80 && c <= 0x303e, c >= 0x3041 && c <= 0x33ff, c >= 0x3400 && c <= 0x4dbf, c >= 0x4e00 && c <= 0x9fff,
		c >= 0xa000 && c <= 0xa4cf, c >= 0xac00 && c <= 0xd7a3, c >= 0xf900 && c <= 0xfaff, c >= 0xfe30 && c <= 0xfe6f, c >= 0xff00 && c <= 0xff60,
		c >= 0xffe0 && c <= 0xffe6, c >= 0x1f300 && c <= 0x1f64f, c >= 0x1f900 && c <= 0x1f9ff, c >= 0x20000 && c <= 0x3fffd:
		return 2
	}
	return 1
}
