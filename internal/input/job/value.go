package job

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// mostValues is how many voltages or currents a nameplate line may have.
const mostValues = 4

// value reads the value of an entry into g, and marks g as wrong if there is a mistake in it.
func (d *decoder) value(f *field, e *entry, g taker) {
	before := len(d.problems)
	d.read(f, e, g)
	n := e.value
	if _, _, set := g.given(); set || n == nil && before == len(d.problems) || n != nil && n.shape != unread && before == len(d.problems) {
		return
	}
	if n == nil { // a value that was read as a comment
		g.refuse(d.problems[len(d.problems)-1].Span)
		return
	}
	g.refuse(d.span(n.start, n.end))
}

// read is value without the mark.
func (d *decoder) read(f *field, e *entry, g taker) {
	n := e.value
	if n == nil || n.shape == nothing {
		if comment, start, ok := d.rest(e.end()); ok && len(comment) > 1 && !isBlank(comment[1]) && comment[1] != '#' && n == nil {
			remedy := "put it in quotes: " + quote(string(comment))
			if c, err := quantity.ParseConductor(string(comment)); err == nil && f.sort == conductor {
				remedy = fmt.Sprintf("write %s, or put it in quotes: '%s'", c.Show(quantity.InchUnits), comment)
			}
			d.problem(swallowed, start, start+len(comment), fmt.Sprintf("%q is read as a comment, because it begins with #", comment), remedy)
		}
		return
	}
	if f.sort == leadGroups && n.shape != unread {
		d.leadGroups(f, n, g)
		return
	}
	switch n.shape {
	case mapping:
		d.problem(wrongShape, n.start, d.shown(n), fmt.Sprintf("%s is one value, not a section", f.name), "write it behind the colon, such as: "+f.key+": "+f.example())
	case sequence:
		d.problem(wrongShape, n.start, d.shown(n), fmt.Sprintf("%s is one value, not a list", f.name), "write it behind the colon, such as: "+f.key+": "+d.asOneLine(f, n))
	case scalar:
		d.scalar(f, n, g)
	case unread, nothing:
	}
}

// asOneLine proposes how to write a list as one value: 230/460 V for [230, 460].
func (d *decoder) asOneLine(f *field, n *node) string {
	if f.sort != voltages && f.sort != currents {
		if len(n.items) == 1 && n.items[0].value != nil && n.items[0].value.shape == scalar && len(parseAlone(f, n.items[0].value.text)) == 0 {
			return n.items[0].value.text
		}
		return f.example()
	}
	unit := "V"
	if f.sort == currents {
		unit = "A"
	}
	var numbers []string
	for _, i := range n.items {
		if i.value == nil || i.value.shape != scalar {
			return f.example()
		}
		numbers = append(numbers, strings.TrimSpace(strings.TrimRight(i.value.text, "VA ")))
	}
	proposal := strings.Join(numbers, "/") + " " + unit
	if _, err := quantity.ParseList(f.kind, proposal); err != nil {
		return f.example()
	}
	return proposal
}

// scalar reads one value.
func (d *decoder) scalar(f *field, n *node, g taker) {
	typed := strings.TrimSpace(n.text)
	if typed == "" {
		return
	}
	d.doubtfulComment(f, n)
	var value quantity.Value
	var numbers []quantity.Value
	switch f.sort {
	case freeText:
		value = quantity.Text(typed)
	case words:
		word, ok := d.word(f, n, typed)
		if !ok {
			return
		}
		value = quantity.Text(word)
	case severalWords:
		list, ok := d.several(f, n, typed)
		if !ok {
			return
		}
		value = list
	case voltages, currents:
		list, err := quantity.ParseList(f.kind, typed)
		if err != nil {
			d.notParsed(f, n, typed, err)
			return
		}
		if len(list) > mostValues {
			d.problem(tooManyValues, n.start, d.shown(n), fmt.Sprintf("%s has %d values, %d are the most", f.name, len(list), mostValues), "write one value for each voltage of the nameplate, such as "+f.example())
			return
		}
		numbers = list
		value = listOf(f.sort, list)
	case conductor, oneQuantity, count:
		q, err := quantity.Parse(f.kind, typed)
		if err != nil {
			d.notParsed(f, n, typed, err)
			return
		}
		value = q
		numbers = []quantity.Value{q}
	case leadGroups:
	}
	for _, q := range numbers {
		si, ok := quantity.SI(q)
		if !ok {
			continue
		}
		if f.sort == count && si != math.Trunc(si) {
			d.problem(notWhole, n.start, d.shown(n), fmt.Sprintf("%s %s is not a whole number", f.name, typed), "write a whole number from "+f.lowText+" to "+f.highText)
			return
		}
		if f.ranged && !inRange(f, si) {
			d.outside(f, n, typed, si, len(numbers))
			return
		}
	}
	g.take(value, typed, d.span(n.start, n.end))
}

// inRange reports whether si lies within the field's range; a rounding error at the edge doesn't count.
func inRange(f *field, si float64) bool {
	slack := 1e-9 * max(math.Abs(f.low), math.Abs(f.high))
	return si >= f.low-slack && si <= f.high+slack
}

func listOf(s sort, list []quantity.Value) quantity.Value {
	if s == voltages {
		var l quantity.Voltages
		for _, v := range list {
			if q, ok := v.(quantity.Voltage); ok {
				l = append(l, q)
			}
		}
		return l
	}
	var l quantity.Currents
	for _, v := range list {
		if q, ok := v.(quantity.Current); ok {
			l = append(l, q)
		}
	}
	return l
}

// doubtfulComment notes a comment that looks like the end of the value: "name: lathe #2".
func (d *decoder) doubtfulComment(f *field, n *node) {
	if f.sort != freeText && f.sort != conductor || n.style != plain {
		return
	}
	comment, start, ok := d.rest(n.end)
	if !ok || len(comment) < 2 || comment[1] < '0' || comment[1] > '9' {
		return
	}
	whole := string(d.src[n.start : start+len(comment)])
	d.problem(possiblySwallowed, start, start+len(comment), fmt.Sprintf("%q is read as a comment, not as part of the value", comment), "if it belongs to the value, put the whole in quotes: "+quote(whole)+"; if not, put a space behind the #")
	d.problems[len(d.problems)-1].Severity = explain.Check
}

// otherWords are what people write for yes and no.
var otherWords = map[string]string{"true": "yes", "on": "yes", "y": "yes", "false": "no", "off": "no", "n": "no"}

// word finds the listed word that was written, whatever its capitals and spaces: 5mA is 5 mA.
func (d *decoder) word(f *field, n *node, typed string) (string, bool) {
	written := strings.Join(strings.Fields(typed), " ")
	folded := ""
	for _, w := range f.words {
		if w == written {
			return w, true
		}
		if strings.EqualFold(strings.ReplaceAll(w, " ", ""), strings.ReplaceAll(written, " ", "")) {
			folded = w
		}
	}
	if folded != "" {
		return folded, true
	}
	remedy := ""
	near := explain.Nearest(written, f.words)
	if other := otherWords[strings.ToLower(written)]; other != "" && strings.Contains(strings.Join(f.words, ","), other) {
		near = other
	}
	if near != "" {
		remedy = fmt.Sprintf("did you mean %q?", near)
	}
	expected := "expected " + strings.Join(f.words, ", ")
	if len(f.words) > 1 {
		expected = "expected one of: " + strings.Join(f.words, ", ")
	}
	d.problem(notOneOf, n.start, d.shown(n), fmt.Sprintf("%s can't be %q, %s", f.name, typed, expected), remedy)
	return "", false
}

// several reads words of the field's list with commas between.
func (d *decoder) several(f *field, n *node, typed string) (Several, bool) {
	var list Several
	sound := true
	for part := range strings.SplitSeq(typed, ",") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		at := *n
		if from, ok := d.inside(n, part); ok {
			at.start, at.end = from, from+len(part)
		}
		word, ok := d.word(f, &at, part)
		switch {
		case !ok:
			sound = false
		case slices.Contains(list, word):
			d.problem(notOneOf, at.start, d.shown(&at), fmt.Sprintf("%s names %q twice", f.name, word), "name it once")
			sound = false
		default:
			list = append(list, word)
		}
	}
	return list, sound && len(list) > 0
}

// notParsed reports a value that is no quantity of its kind.
func (d *decoder) notParsed(f *field, n *node, typed string, err error) {
	start, end := n.start, d.shown(n)
	var p *quantity.ParseError
	if !errors.As(err, &p) {
		d.problem(notAQuantity, start, end, fmt.Sprintf("%s: %v", f.name, err), "")
		return
	}
	symbol := ""
	if p.Offset >= 0 && p.Offset+p.Length <= len(p.Text) {
		symbol = strings.TrimSpace(p.Text[p.Offset : p.Offset+p.Length])
	}
	if from, ok := d.inside(n, p.Text); ok && p.Length > 0 {
		start, end = from+p.Offset, from+p.Offset+p.Length
	}
	message := fmt.Sprintf("%s: %q %s, expected %s", f.name, typed, p.Message, d.expected(f, p))
	if _, bare := strconv.Atoi(typed); f.sort == conductor && bare == nil {
		d.problem(missingUnit, start, end, fmt.Sprintf("%s: %q has no unit, expected %s", f.name, typed, p.Expected), fmt.Sprintf("write %s AWG or %s mm²", typed, typed))
		return
	}
	if figures := inFigures(f, typed); figures != "" {
		d.problem(notAQuantity, n.start, d.shown(n), message, "write "+figures)
		return
	}
	switch {
	case strings.HasPrefix(p.Message, "has no unit"):
		d.problem(missingUnit, start, end, message, withUnits(f, symbol))
	case strings.HasPrefix(p.Message, "has the unit") && len(f.kind.Units()) == 0:
		d.problem(notAQuantity, n.start, d.shown(n), fmt.Sprintf("%s: %q is not a number, expected %s", f.name, typed, d.expected(f, p)), "")
	case strings.HasPrefix(p.Message, "has a comma"):
		d.problem(notAQuantity, start, end, message, withoutComma(f, typed))
	case strings.HasPrefix(p.Message, "has the unit"):
		remedy := ""
		if p.Suggestion != "" {
			remedy = fmt.Sprintf("did you mean %q?", p.Text[:p.Offset]+p.Suggestion+p.Text[p.Offset+p.Length:])
		} else if others := quantity.KindsWithUnit(symbol); len(others) > 0 {
			remedy = fmt.Sprintf("%s is a unit of %s", symbol, others[0])
		}
		d.problem(wrongUnit, start, end, message, remedy)
	default:
		d.problem(notAQuantity, start, end, message, "")
	}
}

// numberWords are the numbers that people spell out: a nameplate has no more leads or motors than these.
var numberWords = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// inFigures proposes a value whose number is spelt out in figures: 9 for nine, 5 hp for five hp; "" if it isn't.
func inFigures(f *field, typed string) string {
	word, rest, _ := strings.Cut(strings.TrimSpace(typed), " ")
	n := slices.Index(numberWords, strings.ToLower(word))
	proposal := strings.TrimSpace(fmt.Sprint(n, " ", rest))
	if n < 0 || len(parseAlone(f, proposal)) > 0 {
		return ""
	}
	return proposal
}

// withoutComma proposes the number with its comma left out, if it stands before thousands, or made a point.
func withoutComma(f *field, typed string) string {
	for _, proposal := range []string{strings.ReplaceAll(typed, ",", ""), strings.Replace(typed, ",", ".", 1)} {
		_, after, _ := strings.Cut(typed, ",")
		thousands := len(after)-len(strings.TrimLeft(after, "0123456789")) == 3
		if thousands == !strings.Contains(proposal, ".") && len(parseAlone(f, proposal)) == 0 {
			return fmt.Sprintf("did you mean %q?", proposal)
		}
	}
	return "write decimals behind a point, and nothing between thousands"
}

// expected says what would have been right, with an example inside the field's range.
func (d *decoder) expected(f *field, p *quantity.ParseError) string {
	if f.sort == conductor {
		return p.Expected
	}
	if f.sort == count {
		return "a whole number"
	}
	return f.kind.WithArticle() + " such as " + f.example()
}

// inside returns where a value's text begins in the file, if it stands there as it is.
func (d *decoder) inside(n *node, text string) (int, bool) {
	i := strings.Index(string(d.src[n.start:n.end]), text)
	return n.start + i, i >= 0 && text != ""
}

// withUnits proposes the number with each unit that puts it in range.
func withUnits(f *field, number string) string {
	switch f.sort {
	case voltages:
		return "write " + number + " V"
	case currents:
		return "write " + number + " A"
	case oneQuantity, conductor, words, severalWords, freeText, count, leadGroups:
	}
	var proposals []string
	for _, u := range quantity.PrintedUnits(f.kind) {
		q, err := quantity.Parse(f.kind, number+" "+u)
		if err != nil {
			continue
		}
		if si, ok := quantity.SI(q); ok && (!f.ranged || inRange(f, si)) {
			proposals = append(proposals, number+" "+u)
		}
	}
	switch n := len(proposals); n {
	case 0:
		return "write the unit behind the number"
	case 1:
		return "write " + proposals[0]
	default:
		return "write " + strings.Join(proposals[:n-1], ", ") + " or " + proposals[n-1]
	}
}

// outside reports a value out of range, with the range in the unit that the user wrote.
func (d *decoder) outside(f *field, n *node, typed string, si float64, of int) {
	unit, _ := quantity.UnitIn(f.kind, typed)
	written := unit
	if of > 1 {
		fields := strings.Fields(typed)
		unit, _ = quantity.UnitIn(f.kind, "1 "+fields[len(fields)-1])
	}
	if f.kind == quantity.KindRatio && unit == "" {
		unit = "%"
	}
	value := typed
	if of > 1 {
		value = quantity.ShowIn(f.kind, si, unit)
	}
	low, high := quantity.ShowIn(f.kind, f.low, unit), quantity.ShowIn(f.kind, f.high, unit)
	if f.sort == count {
		low, high = f.lowText, f.highText
	}
	message := fmt.Sprintf("%s %s is outside %s to %s", f.name, value, low, high)
	if f.low == f.high {
		message = fmt.Sprintf("%s %s is not %s", f.name, value, high)
	}
	remedy := ""
	if near := slipped(f, typed, written); near != "" && of == 1 {
		remedy = fmt.Sprintf("did you mean %s?", near)
	}
	d.problem(outOfRange, n.start, d.shown(n), message, remedy)
}

// slipped proposes the value that a slipped unit (20 A for 20 mA) or decimal point (11 for 1.1) was meant to be.
func slipped(f *field, typed, unit string) string {
	number := strings.TrimSpace(typed[:len(typed)-len(strings.TrimLeft(typed, "0123456789.+-"))])
	x, err := strconv.ParseFloat(number, 64)
	if err != nil || f.low == f.high || strings.HasPrefix(strings.ToLower(typed[len(number):]), "e") || x < 0 {
		return "" // a power of ten or a sign is no slipped unit or point
	}
	fits := func(text string) bool {
		q, err := quantity.Parse(f.kind, text)
		if err != nil {
			return false
		}
		si, ok := quantity.SI(q)
		return ok && inRange(f, si)
	}
	units := quantity.PrintedUnits(f.kind)
	if n := slices.Index(units, unit); n >= 0 {
		for _, m := range []int{n - 1, n + 1} { // the next smaller or larger one with the same root
			if m >= 0 && m < len(units) && (strings.HasSuffix(units[m], unit) || strings.HasSuffix(unit, units[m]) || units[m][len(units[m])-1] == unit[len(unit)-1]) && fits(number+" "+units[m]) {
				return number + " " + units[m]
			}
		}
	} else if f.kind == quantity.KindRatio && fits(number+" %") {
		return number + " %"
	}
	if f.sort == count {
		return ""
	}
	if near := strings.TrimSpace(strconv.FormatFloat(x/10, 'f', -1, 64) + " " + unit); fits(near) {
		return near
	}
	return ""
}

// sixLeadMarks are the marks of six leads by IEC 60034-8 with the numbers that NEMA MG 1 gives the same ends (from memory):
// each winding begins at 1 and ends at 2.
var sixLeadMarks = map[string]int{"U1": 1, "V1": 2, "W1": 3, "U2": 4, "V2": 5, "W2": 6}

// leadGroups reads [[1,4],[2,5]], with T1 or U1 for 1 allowed.
func (d *decoder) leadGroups(f *field, n *node, g taker) {
	bad := func(at *node, message string) {
		d.problem(notALeadGroup, at.start, d.shown(at), message, "write one bracket for each group of leads with continuity, such as "+f.example())
	}
	if n.shape != sequence {
		bad(n, "lead groups are a list of groups")
		return
	}
	var groups LeadGroups
	for _, i := range n.items {
		if i.value == nil || i.value.shape == nothing {
			continue
		}
		if i.value.shape != sequence {
			bad(i.value, "each lead group is a list of lead numbers")
			return
		}
		var group []int
		for _, lead := range i.value.items {
			if lead.value == nil || lead.value.shape != scalar {
				bad(i.value, "a lead is a number from 1 to 12")
				return
			}
			label := strings.TrimSpace(lead.value.text)
			number, known := sixLeadMarks[strings.ToUpper(label)]
			if !known {
				var err error
				number, err = strconv.Atoi(strings.TrimLeft(label, "Tt"))
				if err != nil || number < 1 || number > 12 || len(label)-len(strings.TrimLeft(label, "Tt")) > 1 {
					bad(lead.value, fmt.Sprintf("%q is not a lead number from 1 to 12, nor U1, V1, W1, U2, V2 or W2", label))
					return
				}
			}
			group = append(group, number)
		}
		groups = append(groups, group)
	}
	g.take(groups, strings.TrimSpace(string(d.src[n.start:n.end])), d.span(n.start, n.end))
}
