package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseError says what is wrong with a piece of text that should have been a quantity, and where in it.
type ParseError struct {
	Text          string
	Kind          Kind
	Offset        int // byte offset in Text of the part that is wrong
	Length        int // its length in bytes
	Message       string
	Expected      string
	Suggestion    string // the nearest right unit, or ""
	MissingNumber bool
}

// Error returns message, expectation and suggestion in one line.
func (e *ParseError) Error() string {
	text := fmt.Sprintf("%q %s", e.Text, e.Message)
	if e.Expected != "" {
		text += ", expected " + e.Expected
	}
	if e.Suggestion != "" {
		text += fmt.Sprintf("; did you mean %q?", e.Suggestion)
	}
	return text
}

// Parse reads a number with a unit as a value of kind k: "3 hp", "10-1/2 in", `6' 2"`, "75 °F", "1e3 mm". For KindText it
// returns the trimmed words, for KindConductor a Conductor. The error is a *ParseError.
func Parse(k Kind, text string) (Value, error) {
	switch k {
	case KindText:
		return Text(strings.TrimSpace(text)), nil
	case KindConductor:
		c, err := ParseConductor(text)
		if err != nil {
			return nil, err
		}
		return c, nil
	default:
		si, err := parse(k, text)
		if err != nil {
			return nil, err
		}
		return Of(k, si), nil
	}
}

func parse(k Kind, text string) (float64, error) {
	rest := strings.TrimSpace(text)
	if rest == "" {
		return 0, numberError(k, text, 0, 0)
	}
	total, terms := 0.0, 0
	for rest != "" {
		number, after, err := leadingNumber(rest)
		if err != nil {
			return 0, numberError(k, text, strings.Index(text, rest), len(strings.TrimRightFunc(rest, unicode.IsSpace)))
		}
		after = strings.TrimLeftFunc(after, unicode.IsSpace)
		symbol, beyond := leadingUnit(k, after)
		u, ok := findUnit(k, symbol)
		if !ok {
			offset := len(text) - len(after)
			if symbol == "" {
				offset = strings.Index(text, rest)
				return 0, &ParseError{Text: text, Kind: k, Offset: offset, Length: len(strings.TrimSpace(rest)),
					Message: "has no unit", Expected: k.WithArticle() + " such as " + k.Example()}
			}
			if symbol[0] == ',' && terms == 0 {
				return 0, &ParseError{Text: text, Kind: k, Offset: offset, Length: 1, Message: "has a comma in its number",
					Expected: "a point before decimals and nothing between thousands"}
			}
			if strings.ContainsRune("/-+.,_–", firstRune(symbol)) {
				return 0, numberError(k, text, 0, len(strings.TrimRightFunc(text, unicode.IsSpace)))
			}
			return 0, &ParseError{Text: text, Kind: k, Offset: offset, Length: len(symbol),
				Message: fmt.Sprintf("has the unit %q, which is not a unit of %s", symbol, k), Expected: k.WithArticle() + " such as " + k.Example(),
				Suggestion: nearestUnit(k, symbol)}
		}
		value := number*u.scale + u.offset
		if terms > 0 && k != KindLength && k != KindDuration && k != KindMass { // 6 ft 2 in, 1 min 30 s, 2 lb 3 oz; nothing else is written so
			return 0, &ParseError{Text: text, Kind: k, Offset: strings.Index(text, rest), Length: len(rest),
				Message: "has more than one number", Expected: "one " + k.String() + " such as " + k.Example()}
		}
		total += value
		terms++
		rest = strings.TrimLeftFunc(beyond, unicode.IsSpace)
	}
	if math.IsInf(total, 0) || math.IsNaN(total) {
		return 0, numberError(k, text, 0, len(text))
	}
	return total, nil
}

func numberError(k Kind, text string, offset, length int) *ParseError {
	return &ParseError{Text: text, Kind: k, Offset: max(offset, 0), Length: length, Message: "is not " + k.WithArticle(),
		Expected: "a number with its unit, such as " + k.Example(), MissingNumber: true}
}

// vulgar maps the one-character fractions to their values.
var vulgar = map[rune]float64{'½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875, '⅓': 1.0 / 3, '⅔': 2.0 / 3}

// leadingNumber reads "10", "-40", "1.5", "1e3", "1/2", "10-1/2", "10 1/2" or "10½" and returns what follows.
func leadingNumber(text string) (number float64, rest string, err error) {
	t := text
	sign := 1.0
	switch {
	case strings.HasPrefix(t, "-"):
		sign, t = -1, t[1:]
	case strings.HasPrefix(t, "−"):
		sign, t = -1, t[len("−"):]
	case strings.HasPrefix(t, "+"):
		t = t[1:]
	}
	if r, size := utf8.DecodeRuneInString(t); vulgar[r] != 0 {
		return sign * vulgar[r], t[size:], nil
	}
	digits := decimalLength(t)
	if digits == 0 {
		return 0, text, strconv.ErrSyntax
	}
	whole, err := strconv.ParseFloat(t[:digits], 64)
	if err != nil {
		return 0, text, err
	}
	rest = t[digits:]
	if denominator, after, ok := over(rest); ok { // 1/2
		return sign * whole / denominator, after, nil
	}
	if r, size := utf8.DecodeRuneInString(rest); vulgar[r] != 0 {
		return sign * (whole + vulgar[r]), rest[size:], nil
	}
	// a mixed number: 10-1/2 or 10 1/2
	tail := strings.TrimPrefix(rest, "-")
	if tail == rest {
		tail = strings.TrimLeft(rest, " ")
	}
	if r, size := utf8.DecodeRuneInString(tail); tail != rest && vulgar[r] != 0 {
		return sign * (whole + vulgar[r]), tail[size:], nil
	}
	if n := integerLength(tail); n > 0 && tail != rest {
		if denominator, after, ok := over(tail[n:]); ok {
			numerator, err := strconv.ParseFloat(tail[:n], 64)
			if err != nil {
				return 0, text, err
			}
			return sign * (whole + numerator/denominator), after, nil
		}
	}
	return sign * whole, rest, nil
}

// over reads "/2" and returns the denominator and what follows; zero denominators don't count.
func over(text string) (denominator float64, rest string, ok bool) {
	t, found := strings.CutPrefix(text, "/")
	n := integerLength(t)
	if !found || n == 0 {
		return 0, text, false
	}
	d, err := strconv.ParseFloat(t[:n], 64)
	if err != nil || d == 0 {
		return 0, text, false
	}
	return d, t[n:], true
}

func integerLength(t string) int {
	n := 0
	for n < len(t) && t[n] >= '0' && t[n] <= '9' {
		n++
	}
	return n
}

// decimalLength returns how many bytes of t form a decimal number with optional exponent.
func decimalLength(t string) int {
	n := integerLength(t)
	if n < len(t) && t[n] == '.' {
		fraction := integerLength(t[n+1:])
		if n+fraction == 0 {
			return 0
		}
		n += 1 + fraction
	}
	if n > 0 && n < len(t) && (t[n] == 'e' || t[n] == 'E') {
		m := n + 1
		if m < len(t) && (t[m] == '-' || t[m] == '+') {
			m++
		}
		if e := integerLength(t[m:]); e > 0 {
			return m + e
		}
	}
	return n
}

// leadingUnit returns the unit that text begins with (the longest known spelling, else the word up to the next
// space or digit) and what follows.
func leadingUnit(k Kind, text string) (symbol, rest string) {
	best := ""
	consider := func(s string) {
		if len(s) > len(best) && strings.HasPrefix(text, s) && endsUnit(s, text[len(s):]) {
			best = s
		}
	}
	for _, u := range kinds[k].units {
		consider(u.symbol)
		for _, s := range u.also {
			consider(s)
		}
	}
	if best != "" {
		return best, text[len(best):]
	}
	end := strings.IndexFunc(text, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsDigit(r) })
	if end < 0 {
		end = len(text)
	}
	return text[:end], text[end:]
}

// endsUnit reports whether a unit spelled s may stop before after: not in the middle of a word.
func endsUnit(s, after string) bool {
	next, _ := utf8.DecodeRuneInString(after)
	last, _ := utf8.DecodeLastRuneInString(s)
	return after == "" || !unicode.IsLetter(next) || !unicode.IsLetter(last)
}

func findUnit(k Kind, symbol string) (unit, bool) {
	facts := kinds[k]
	if symbol == "" && facts.bare {
		return facts.units[0], true
	}
	for _, u := range facts.units {
		if u.symbol == symbol && symbol != "" {
			return u, true
		}
		for _, s := range u.also {
			if s == symbol {
				return u, true
			}
		}
	}
	return unit{}, false
}

// nearestUnit returns the unit of kind k that is spelled most like symbol: the same but for capitals, longer or shorter by
// an ending, or with one slip of the finger; "" when nothing is near.
func nearestUnit(k Kind, symbol string) string {
	for _, near := range []func(string) bool{
		func(s string) bool { return strings.EqualFold(s, symbol) },
		func(s string) bool {
			return len(s) > 1 && len(symbol) > 1 && (strings.HasPrefix(symbol, s) || strings.HasPrefix(s, symbol))
		},
		func(s string) bool { return oneSlip(strings.ToLower(s), strings.ToLower(symbol)) },
	} {
		for _, u := range kinds[k].units {
			for _, s := range append([]string{u.symbol}, u.also...) {
				if s != "" && near(s) {
					return u.symbol
				}
			}
		}
	}
	return ""
}

// oneSlip reports whether a and b, of three letters or more, differ by one letter added, left out or replaced, or by two
// neighbours swapped.
func oneSlip(a, b string) bool {
	s, t := []rune(a), []rune(b)
	if len(s) > len(t) {
		s, t = t, s
	}
	if len(t) < 3 || len(t)-len(s) > 1 {
		return false
	}
	n := 0
	for n < len(s) && s[n] == t[n] {
		n++
	}
	if len(t) > len(s) {
		return string(s[n:]) == string(t[n+1:])
	}
	if n+1 < len(s) && s[n] == t[n+1] && s[n+1] == t[n] && string(s[n+2:]) == string(t[n+2:]) {
		return true
	}
	return n < len(s) && string(s[n+1:]) == string(t[n+1:])
}

func firstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}
