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
// remedy stands on a line of its own. Lines that the form's width can't hold go on below, indented.
func WriteFinding(w io.Writer, f Finding, source []byte, form TextForm) error {
	var b strings.Builder
	head := f.Message.Show(form.Units)
	if f.Rule != "" {
		head += "  [" + f.Rule + "]"
	}
	word, place := f.Severity.String(), f.Span.String()
	if place != "" {
		place += ": "
	}
	head = Fold(place+word+": "+head, form.Width, margin[:2])
	// Coloured after folding: the colour's codes take no columns. The word stands behind the place, which may hold it too.
	b.WriteString(head[:len(place)] + strings.Replace(head[len(place):], word, paint(word, f.Severity, form.Colour), 1) + "\n")
	remedy := f.Remedy.Show(form.Units)
	if text, mark, ok := excerpt(f.Span, source); ok {
		b.WriteString(margin + text + "\n" + margin + paint(mark, f.Severity, form.Colour))
		if beside := margin + mark + "  " + remedy; remedy != "" && (form.Width <= 0 || displayWidth([]byte(beside)) <= form.Width) {
			b.WriteString("  " + remedy)
			remedy = ""
		}
		b.WriteByte('\n')
	}
	if remedy != "" {
		b.WriteString(Fold(margin+remedy, form.Width, margin) + "\n")
	}
	for _, r := range f.Related {
		line := margin
		if place := r.Span.String(); place != "" {
			line += place + ": "
		}
		b.WriteString(Fold(line+r.Message.Show(form.Units), form.Width, margin+margin) + "\n")
		if text, mark, ok := excerpt(r.Span, source); ok {
			b.WriteString(margin + margin + text + "\n" + margin + margin + mark + "\n")
		}
	}
	if f.Accepted != "" {
		b.WriteString(Fold(margin+"accepted: "+f.Accepted, form.Width, margin+margin) + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// TextForm is how text is written for a reader.
type TextForm struct {
	Units  quantity.System
	Colour bool // for a terminal
	Width  int  // columns; 0 for lines as long as they come
}

// Fold breaks the line at its spaces so that no part is wider than width columns; what follows is put below, indented. A
// word that is wider than that stands on a line of its own, and a number stays with its unit. A width of 0 or less leaves the line as it is.
func Fold(line string, width int, indent string) string {
	if width <= 0 || displayWidth([]byte(line)) <= width {
		return line
	}
	lead := line[:len(line)-len(strings.TrimLeft(line, " "))]
	var b strings.Builder
	b.WriteString(lead)
	column, begun := displayWidth([]byte(lead)), false
	rest := line[len(lead):]
	for rest != "" {
		gap := len(rest) - len(strings.TrimLeft(rest, " "))
		word := firstWord(rest[gap:])
		spaces, wide := rest[:gap], displayWidth([]byte(word))
		if begun && column+gap+wide > width {
			b.WriteString("\n" + indent)
			column, spaces = displayWidth([]byte(indent)), ""
		}
		b.WriteString(spaces + word)
		column += len(spaces) + wide
		begun = true
		rest = rest[gap+len(word):]
	}
	return b.String()
}

// firstWord is the text up to its first space; a number keeps what follows it, which is its unit.
func firstWord(text string) string {
	word, after, more := strings.Cut(text, " ")
	if more && word != "" && after != "" && after[0] != ' ' && strings.Trim(word, "0123456789.,/-") == "" {
		unit, _, _ := strings.Cut(after, " ")
		return word + " " + unit
	}
	return word
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
