package prove

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"drivewright/internal/base/quantity"
)

// beepMost is the resistance below which meters beep, between 10 and 50 ohm; common practice.
const beepMost = 50.0

// shownValue is what somebody read off the meter.
type shownValue struct {
	ohms float64 // infinite for open
	beep bool    // it beeped; the number wasn't read
}

// Show prints the value as it was understood.
func (v shownValue) Show() string {
	switch {
	case v.beep:
		return "beep"
	case math.IsInf(v.ohms, 1):
		return "open"
	}
	return quantity.Resistance(v.ohms).Show(quantity.InchUnits)
}

// openWords and beepWords are what people write for the two ends of the scale.
var openWords = []string{"open", "ol", "o.l", "o.l.", "0l", "0.l", "0.l.", ".0l", "inf", "infinite", "infinity", "∞", "overload", "overrange", "no beep", "nothing", "1.", "1 ."}

var beepWords = []string{"beep", "beeps", "beeped", "short", "shorted", "closed", "continuity", "tone"}

// unitWords are the multiples of an ohm as people write them; "m" by itself is no unit, because it could be milli or mega.
var unitWords = []struct {
	word  string
	scale float64
}{
	{"mohms", 1e-3}, {"mohm", 1e-3}, {"mω", 1e-3}, {"milliohm", 1e-3},
	{"kohms", 1e3}, {"kohm", 1e3}, {"kω", 1e3}, {"kiloohm", 1e3}, {"k", 1e3},
	{"megohms", 1e6}, {"megohm", 1e6}, {"meg", 1e6},
	{"ohms", 1}, {"ohm", 1}, {"ω", 1}, {"r", 1}, {"", 1},
}

// parseShown reads what somebody typed. An error says in words for the user what is wrong with it.
func parseShown(text string) (shownValue, error) {
	t := strings.TrimSpace(text)
	lower := strings.ToLower(strings.NewReplacer("\u2126", "ω", "Ω", "ω").Replace(t))
	for _, w := range openWords {
		if lower == w {
			return shownValue{ohms: math.Inf(1)}, nil
		}
	}
	for _, w := range beepWords {
		if lower == w {
			return shownValue{beep: true}, nil
		}
	}
	above := strings.HasPrefix(lower, ">")
	lower = strings.TrimSpace(strings.TrimPrefix(lower, ">"))
	t = strings.TrimSpace(strings.TrimPrefix(t, ">"))
	n := 0
	for n < len(lower) && strings.IndexByte("0123456789.,-+", lower[n]) >= 0 {
		n++
	}
	number, unit := lower[:n], strings.TrimSpace(lower[n:])
	if number == "" {
		return shownValue{}, fmt.Errorf("%q is no reading: write a number with its unit, such as 4.7 kohm, or open, or beep", text)
	}
	scale, tail, err := readUnit(unit, strings.TrimSpace(t[min(n, len(t)):]), text)
	if err != nil {
		return shownValue{}, err
	}
	if tail != "" { // 4k7: the multiple stands where the point does
		if strings.ContainsAny(number, ".,") {
			return shownValue{}, fmt.Errorf("%q has two points", text)
		}
		number += "." + tail
	}
	whole, decimals, comma := strings.Cut(number, ",")
	if comma {
		if strings.ContainsAny(decimals, ".,") || len(decimals) == 3 && whole != "0" && scale == 1 {
			return shownValue{}, fmt.Errorf("%q: a comma before three figures may be a thousand or a decimal: write 1200 or 1.2", text)
		}
		number = whole + "." + decimals
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return shownValue{}, fmt.Errorf("%q is no number: write it as the meter shows it, such as 4.7 kohm", text)
	}
	if v *= scale; v < -1 {
		return shownValue{}, fmt.Errorf("%q is below nought: no resistance is; look for a voltage on the wires before you go on", text)
	}
	if above && v >= openLeast {
		v = math.Inf(1)
	}
	return shownValue{ohms: max(v, 0)}, nil
}

// readUnit reads what stands behind the number: a unit, or a multiple with further figures behind it. unit is in small letters,
// as typed in the user's.
func readUnit(unit, typed, text string) (scale float64, tail string, err error) {
	if len(unit) > 1 && unit[0] == 'e' && strings.IndexByte("+-0123456789", unit[1]) >= 0 {
		return 0, "", fmt.Errorf("%q: powers of ten aren't read: write 4.7 kohm or 4700, or open where the meter shows no number", text)
	}
	multiple := strings.TrimRight(unit, "0123456789")
	if tail = unit[len(multiple):]; tail != "" && multiple != "k" && multiple != "m" && multiple != "r" {
		return 0, "", fmt.Errorf("%q has more than one number", text)
	}
	for _, prefix := range []string{"M", "m"} {
		if rest := strings.TrimRight(typed, "0123456789"); rest == prefix || tail == "" && strings.HasPrefix(typed, "M") && prefix == "M" && knownUnit(strings.ToLower(typed[1:])) {
			if prefix == "m" {
				return 0, "", fmt.Errorf("%q: a small m may be milli or mega: write 2 Mohm, or 0.002", text)
			}
			return 1e6, tail, nil
		}
	}
	for _, u := range unitWords {
		if multiple == u.word {
			return u.scale, tail, nil
		}
	}
	return 0, "", fmt.Errorf("%q: %q is no unit of resistance, expected ohm, kohm or Mohm", text, strings.TrimSpace(typed))
}

// knownUnit reports whether the word is ohm in any spelling.
func knownUnit(word string) bool {
	return word == "ohm" || word == "ohms" || word == "ω"
}

// passWords and failWords are what people write for a test that is passed or not.
var passWords = []string{"ok", "okay", "yes", "y", "pass", "passed", "right", "good", "done", "+", "✓"}

var failWords = []string{"no", "n", "fail", "failed", "wrong", "bad", "not ok", "-", "✗"}

// judge says what was written for a test: its resistance, or whether it was passed.
func (t Test) judge(value string) (shown string, right bool, problem string) {
	word := strings.ToLower(strings.TrimSpace(value))
	switch {
	case slices.Contains(passWords, word):
		return "passed", true, ""
	case slices.Contains(failWords, word):
		return "not passed", false, ""
	case t.Band == Band{}:
		return "", false, fmt.Sprintf("%q: this test is passed or not: write ok, or not ok", value)
	}
	v, err := parseShown(value)
	if err != nil {
		return "", false, err.Error()
	}
	right, problem = t.Band.right(v)
	return v.Show(), right, problem
}

// right reports whether the value lies in the band; problem says why that can't be told.
func (b Band) right(v shownValue) (right bool, problem string) {
	if v.beep {
		switch {
		case b.Continuity:
			return true, ""
		case b.Least > beepMost || b.Open:
			return false, ""
		case b.OrOpen && b.Least > joinedMost+clearOhms:
			return false, "the beep says only that it is below some 50 ohm, which may be right here: type the number"
		}
		return false, "the beep says only that it is below some 50 ohm, and here the number counts: type it"
	}
	switch {
	case b.Continuity:
		return v.ohms <= float64(b.Most), ""
	case b.Open, b.OrOpen:
		return v.ohms >= float64(b.Least), ""
	}
	return v.ohms >= float64(b.Least) && v.ohms <= float64(b.Most), ""
}
