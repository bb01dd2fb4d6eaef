package quantity

import (
	"errors"
	"strings"
)

// ParseList reads several values that share one unit, as a nameplate prints them: "230/460 V", "13.2 / 6.6 A", or each
// with its own unit. A dash is a range on one connection, of which the second end counts: "208-230/460 V" is 230 V and
// 460 V, and "13.6-13.2/6.6 A" the currents that go with them. The error is a *ParseError whose place lies in the whole text.
func ParseList(k Kind, text string) ([]Value, error) {
	ranges, err := ParseRanges(k, text)
	if err != nil {
		return nil, err
	}
	var values []Value
	for _, r := range ranges {
		values = append(values, r.Second)
	}
	return values, nil
}

// Range is what a nameplate gives for one connection, in the order in which it stands there; a single figure is both ends.
type Range struct{ First, Second Value }

// ParseRanges is ParseList with both ends of each range: "208-230/460 V" is 208 to 230 V, and 460 V.
func ParseRanges(k Kind, text string) ([]Range, error) {
	type piece struct {
		start, end int
		lower      bool // the lower end of a range
	}
	var pieces []piece
	at := 0
	for _, part := range strings.Split(text, "/") {
		start := at
		at += len(part) + 1
		for _, dash := range []string{"-", "–"} {
			if low, _, ok := strings.Cut(part, dash); ok && strings.TrimSpace(low) != "" {
				pieces = append(pieces, piece{start, start + len(low), true})
				start += len(low) + len(dash)
				break
			}
		}
		pieces = append(pieces, piece{start: start, end: at - 1})
	}
	last := pieces[len(pieces)-1]
	_, shared, err := leadingNumber(strings.TrimSpace(text[last.start:last.end]))
	if err != nil {
		return nil, numberError(k, text, 0, len(text))
	}
	shared = strings.TrimSpace(shared)
	if shared == "" && !Bare(k) {
		return nil, &ParseError{Text: text, Kind: k, Length: len(text), Message: "has no unit", Expected: k.WithArticle() + " such as " + k.Example()}
	}
	// The last one is read first, because a mistake in its unit would show up in all of them.
	order := append([]piece{last}, pieces...)
	var values []Range
	low, ranged := 0.0, false
	for n, p := range order {
		part := text[p.start:p.end]
		trimmed := strings.TrimSpace(part)
		whole := trimmed
		if _, rest, err := leadingNumber(trimmed); err == nil && strings.TrimSpace(rest) == "" {
			whole = trimmed + " " + shared
		}
		si, err := parse(k, whole)
		var pe *ParseError
		switch {
		case errors.As(err, &pe):
			offset := p.start + strings.Index(part, trimmed) + pe.Offset
			return nil, &ParseError{Text: text, Kind: k, Offset: min(offset, len(text)), Length: max(min(pe.Length, p.end-offset), 0), Message: pe.Message,
				Expected: pe.Expected, Suggestion: pe.Suggestion, MissingNumber: pe.MissingNumber}
		case err != nil:
			return nil, err
		case si < 0, n > 0 && ranged && k == KindVoltage && si < low:
			return nil, numberError(k, text, p.start, len(part))
		case n == 0:
			continue
		case p.lower:
			low, ranged = si, true
			continue
		}
		if !ranged {
			low = si
		}
		ranged = false
		values = append(values, Range{Of(k, low), Of(k, si)})
	}
	return values, nil
}
