package job

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// spell returns text as a value of field f on one line: plain where every YAML reader takes it for the same text, else in
// quotes.
func spell(f *field, text string, inBrackets bool) string {
	if f.sort == leadGroups || readsPlain(text, inBrackets) && !(f.sort == freeText && looksTyped(text)) {
		return text
	}
	if strings.ContainsFunc(text, func(c rune) bool {
		return c < ' ' || c >= 0x7f && c < 0xa0 || c == '\ufeff' || c == '\u2028' || c == '\u2029'
	}) {
		return doubleQuote(text)
	}
	return quote(text)
}

// readsPlain reports whether text without quotes reads back as itself.
func readsPlain(text string, inBrackets bool) bool {
	src := "k: " + text
	if inBrackets {
		src = "k: {k: " + text + "}"
	}
	r := newReader("", []byte(src))
	root := r.read()
	if len(r.problems) > 0 || root == nil || len(root.entries) != 1 || root.entries[0].value == nil {
		return false
	}
	n := root.entries[0].value
	if inBrackets {
		if len(n.entries) != 1 || n.entries[0].value == nil || n.end != len(src) {
			return false
		}
		n = n.entries[0].value
	}
	if n.shape != scalar || n.style != plain || n.text != text {
		return false
	}
	_, _, comment := r.rest(n.end)
	return !comment
}

// looksTyped reports whether another YAML reader may take plain text for a truth value, a number or nothing: then free
// text needs quotes. Source: YAML 1.2.2, 10.3.2 (core schema), and the truth values of YAML 1.1.
func looksTyped(text string) bool {
	switch strings.ToLower(text) {
	case "true", "false", "yes", "no", "on", "off", "y", "n", "null", "~", ".inf", "-.inf", "+.inf", ".nan":
		return true
	}
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return true
	}
	_, err := strconv.ParseInt(text, 0, 64) // 0x1F, 0o17, 1_000
	return err == nil
}

// doubleQuote returns the text in double quotes.
func doubleQuote(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range text {
		switch {
		case c == '"', c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case c == '\n':
			b.WriteString(`\n`)
		case c == '\t':
			b.WriteString(`\t`)
		case c < ' ', c >= 0x7f && c < 0xa0, c == '\u2028', c == '\u2029', c == '\ufeff':
			fmt.Fprintf(&b, `\u%04X`, c)
		default:
			b.WriteRune(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// newTaker returns an empty value for field f, and the value that it is part of.
func newTaker(f *field) (taker, reflect.Value) {
	v := reflect.New(f.goType)
	g, _ := v.Interface().(taker)
	return g, v
}
