package sheet

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// prove lays out the Prove stage: what was broken on purpose, and the meter sheet.
func (b *builder) prove() {
	p := b.plan.Proof
	lead := "Before power: every single fault was tried on the circuit in the computer, and here are the meter readings that catch a wiring mistake with no power on. Neither replaces a functional test by the one who answers for the machine."
	if p == nil {
		lead = "This part isn't worked out here. It breaks every wire and every contact of the circuit in turn, and finds the meter readings that prove the wiring: drivewright prove prints it, and so does drivewright sheet."
		if b.proving {
			lead = "Being worked out: every wire and every contact of the circuit is broken in turn, and the meter readings that prove the wiring are chosen. It will stand here in a moment."
		}
	}
	b.section(1, "Prove", lead)
	if p == nil {
		return
	}
	b.broken(p.Report)
	b.meterSheet(p.Meter)
	b.taken(p)
	b.tests(p.Meter.Tests)
}

// classWords are what a class is called in the report.
var classWords = map[prove.Class]string{
	prove.StartsByItself: "starts by itself", prove.EmergencyStopLost: "emergency stop lost", prove.StopLost: "stop lost", prove.StopsLate: "stops late", prove.RunsAway: "runs away to full speed",
	prove.WrongWay: "runs the wrong way", prove.HiddenDanger: "hidden, dangerous with one more", prove.ProtectionLost: "protection lost", prove.IndicationLies: "a lamp lies", prove.StopsByItself: "stops while it should run",
	prove.CannotStart: "doesn't start", prove.Hidden: "hidden, harmless with one more", prove.Other: "something else changes", prove.Harmless: "nothing changes",
}

// mostFaults is how many rows of dangerous faults are printed; what comes behind them is counted.
const mostFaults = 60

// broken reports what comes of breaking everything in turn.
func (b *builder) broken(r prove.Report) {
	counts := map[prove.Class]int{}
	dangerous := 0
	for _, f := range r.Faults {
		counts[f.Class]++
		if f.Class.Dangerous() {
			dangerous++
		}
	}
	b.section(2, "Broken on purpose", fmt.Sprintf("%s tried, one at a time, through the steps of the script: wires off, contacts stuck open and welded, neighbours bridged, cores to ground, supplies lost. %s dangerous.",
		capital(many(len(r.Faults), "fault was", "faults were")), capital(many(dangerous, "is", "are"))))
	if len(r.Whole) > 0 {
		b.add(Caution{Severity: explain.Danger, Text: "This circuit is dangerous with nothing broken: " + listed(namesOf(r.Whole)) + "."})
		b.faults("With nothing broken", r.Whole, inFull)
	}
	if r.Problem != "" {
		b.add(Caution{Severity: explain.Check, Text: sentence(r.Problem)})
		return
	}
	if len(r.Faults) == 0 {
		b.add(Paragraph{Text: "Nothing was there to break: the circuit has no wires or no drive that a script could start."})
		return
	}
	b.functions(r)
	t := Table{Title: "The worst that each fault does", Head: []string{"what it does", "faults"}, Numeric: []bool{false, true}, Chosen: -1}
	for class := prove.StartsByItself; class <= prove.Harmless; class++ {
		if counts[class] > 0 || class.Dangerous() {
			t.Rows = append(t.Rows, []string{classWords[class], fmt.Sprint(counts[class])})
		}
	}
	b.add(t)
	b.byCause(slices.Collect(dangerousOf(r.Faults)))
	b.restOf(r.Faults)
	if r.PairsTried > 0 {
		pairs := slices.Collect(dangerousOf(r.Pairs))
		b.add(Paragraph{Text: fmt.Sprintf("Pairs: %d were tried; %s worse together than each by itself, of which %s dangerous. As data, with drivewright prove --pairs --format json, each stands by itself.", r.PairsTried, many(len(r.Pairs), "is", "are"), many(len(pairs), "is", "are"))})
		b.faults("Dangerous pairs, worst first", pairs, someOf)
	}
}

func namesOf(faults []prove.Fault) []string {
	var names []string
	for _, f := range faults {
		names = append(names, f.Name)
	}
	return names
}

// dangerousOf yields the faults that can hurt somebody.
func dangerousOf(faults []prove.Fault) func(func(prove.Fault) bool) {
	return func(yield func(prove.Fault) bool) {
		for _, f := range faults {
			if f.Class.Dangerous() && !yield(f) {
				return
			}
		}
	}
}

// faults adds faults in full: what is broken, what shows it, what would remove it. Faults that show in the same way stand in one
// row. Hidden ones, which nothing shows, have a table of their own.
func (b *builder) faults(title string, list []prove.Fault, names func([]string) string) {
	var shown []Table
	first := commonStep(list)
	hidden := Table{Title: title + ": hidden now", Head: []string{"what is broken", "dangerous when this comes to it", "what would remove it"}, Numeric: make([]bool, 3), Chosen: -1,
		Note: "Nothing shows these until the second fault comes. So they are looked for: by the meter now, and by the tests of every year."}
	for _, f := range list {
		remedy := capital(f.Remedy.Show(b.units))
		if f.Class.Waits() {
			hidden.Rows = append(hidden.Rows, []string{f.Name, toldTogether([]string{f.With}, false), remedy})
			continue
		}
		heading := title + ": " + classWords[f.Class]
		if len(shown) == 0 || shown[len(shown)-1].Title != heading {
			shown = append(shown, Table{Title: heading, Head: []string{"what is broken", "do this to see it", "what is seen, and what should be", "what would remove it"}, Numeric: make([]bool, 4), Chosen: -1})
			if first != "" {
				shown[len(shown)-1].Note = "Each begins with: " + first + "."
			}
		}
		seen := f.Seen
		if f.Expected != "" {
			seen += "; should be: " + f.Expected
		}
		steps := f.Sequence
		if first != "" {
			steps = steps[1:]
		}
		last := &shown[len(shown)-1]
		last.Rows = append(last.Rows, []string{f.Name, strings.Join(steps, ", then "), seen, remedy})
	}
	for _, t := range append(shown, hidden) {
		if len(t.Rows) == 0 {
			continue
		}
		t.Rows = alike(t.Rows, names)
		if more := len(t.Rows) - mostFaults; more > 0 {
			t.Rows = t.Rows[:mostFaults]
			t.Note = strings.TrimSpace(t.Note + fmt.Sprintf(" And %d rows more: as data, drivewright prove --format json has them all.", more))
		}
		last := len(t.Head) - 1
		if !slices.ContainsFunc(t.Rows, func(row []string) bool { return row[last] != "" }) {
			t.Note = strings.TrimSpace(t.Note + " No change of the circuit is known that would remove them: try Stop and the emergency stop often.")
		}
		b.add(withoutEmpty(t))
	}
}

// inFull names every fault that shows in the same way.
func inFull(names []string) string { return toldTogether(names, true) }

// someOf names a few pairs that show in the same way: there are thousands, and each differs from the next by one core.
func someOf(names []string) string {
	const few = 3
	text := strings.Join(names[:min(len(names), few)], "; ")
	if more := len(names) - few; more > 0 {
		text += fmt.Sprintf("; and %d more pairs like these", more)
	}
	return text
}

// commonStep returns the step that every sequence of the faults begins with and goes on from; "" if there is none.
func commonStep(list []prove.Fault) string {
	first, count := "", 0
	for _, f := range list {
		if f.Class.Waits() {
			continue
		}
		count++
		if len(f.Sequence) < 2 || first != "" && f.Sequence[0] != first {
			return ""
		}
		first = f.Sequence[0]
	}
	if count < 2 {
		return ""
	}
	return first
}

// readings adds the readings in their order, those with the switches alike under one title.
func (b *builder) readings(readings []prove.Reading) {
	var ticks Ticks
	for n, r := range readings {
		if title := standing(r.Settings); n == 0 || title != ticks.Title {
			if n > 0 {
				b.add(ticks)
			}
			ticks = Ticks{Title: title}
			if r.Clips {
				ticks.Lead = "A hand goes to the switch: clip both probes on, or have a helper hold it."
			}
		}
		ticks.Items = append(ticks.Items, Tick{Text: r.ID + ": " + b.probe(r.From) + " to " + b.probe(r.To) + ". " + capital(r.Proves), Expect: b.band(r.Expect)})
	}
	b.add(ticks)
}

// probe names where a probe goes, with the place where that isn't the box.
func (b *builder) probe(pin circuit.Pin) string {
	if d := b.plan.Circuit.Circuit.Device(pin.Device); d != nil && d.Place != "box" && d.Place != "" {
		return pin.String() + " (" + d.Place + ")"
	}
	return pin.String()
}

// standing says how the switches stand.
func standing(settings []prove.Setting) string {
	if len(settings) == 0 {
		return "Nothing touched, every switch at rest"
	}
	var held []string
	for _, s := range settings {
		held = append(held, s.Device+" "+s.Position)
	}
	return "With " + listed(held)
}

// alike puts rows together that differ in their first cell only, which then says all of them together.
func alike(rows [][]string, together func([]string) string) [][]string {
	var list [][]string
	var firsts [][]string
	at := map[string]int{}
	for _, row := range rows {
		key := strings.Join(row[1:], "\x00")
		n, seen := at[key]
		if !seen {
			n = len(list)
			at[key] = n
			list, firsts = append(list, slices.Clone(row)), append(firsts, nil)
		}
		firsts[n] = append(firsts[n], row[0])
	}
	for n := range list {
		list[n][0] = together(firsts[n])
	}
	return list
}

// restOf sums up what isn't dangerous, a line for each class.
func (b *builder) restOf(faults []prove.Fault) {
	t := Table{Title: "The others", Head: []string{"what it does", "what is broken"}, Numeric: make([]bool, 2), Chosen: -1,
		Note: "These are found by trying the machine, or by the meter; each of them is worth knowing when one day it doesn't start."}
	for class := prove.ProtectionLost + 1; class <= prove.Harmless; class++ {
		var names []string
		for _, f := range faults {
			if f.Class == class {
				names = append(names, f.Name)
			}
		}
		if len(names) > 0 {
			t.Rows = append(t.Rows, []string{fmt.Sprintf("%s (%d)", classWords[class], len(names)), toldTogether(names, false)})
		}
	}
	if len(t.Rows) > 0 {
		b.add(t)
	}
}

// meterSheet adds the readings.
func (b *builder) meterSheet(m prove.MeterSheet) {
	b.section(2, "Meter sheet", coverage(m))
	if m.Problem != "" {
		b.add(Paragraph{Text: sentence(m.Problem)})
		return
	}
	if len(m.Readings) == 0 {
		b.add(Paragraph{Text: "There is nothing that a meter could tell here."})
		return
	}
	b.sections[len(b.sections)-1].Measures = true
	b.add(Caution{Severity: explain.Danger, Text: "An ohmmeter on a live circuit is destroyed and can burn the hand that holds it. Main switch off and locked, supply cable unplugged or its breaker locked off, the wait over, no voltage measured: only then turn the meter to ohms."})
	if len(m.Before) > 0 {
		b.add(Numbered{Title: "Before the first reading", Items: m.Before})
	}
	b.readings(m.Readings)
	b.add(Paragraph{Text: "Touch the probes together first and take that off small readings. Write down what the meter shows, also where it is right: the next reading may need it."})
	t := Table{Title: "What no reading can catch", Head: []string{"mistake", "why"}, Numeric: make([]bool, 2), Chosen: -1}
	for _, mistake := range m.Mistakes {
		if len(mistake.CaughtBy) == 0 {
			t.Rows = append(t.Rows, []string{mistake.Name, mistake.Why})
		}
	}
	if len(t.Rows) > 0 {
		t.Rows = alike(t.Rows, func(names []string) string { return strings.Join(names, "; ") })
		b.add(t)
	}
}

// coverage says how many mistakes the readings catch, and whether fewer readings could.
func coverage(m prove.MeterSheet) string {
	if len(m.Readings) == 0 {
		return "Readings on the wired box with no power on it."
	}
	text := fmt.Sprintf("%s on the wired box with no power on it catch %d of %d single wiring mistakes: wires missing or one terminal off, swapped ends, bridges, wrong or dead contacts.",
		capital(many(len(m.Readings), "reading", "readings")), m.Caught, len(m.Mistakes))
	switch {
	case m.Bound >= len(m.Readings):
		return text + " No fewer can: that is proven."
	case m.Bound > 0:
		return text + fmt.Sprintf(" Fewer than %d can't; whether %d are the fewest isn't proven.", m.Bound, len(m.Readings))
	}
	return text
}

// probes says where the probes go and what is held meanwhile.
func probes(r prove.Reading) string {
	text := r.From.String() + " to " + r.To.String()
	if len(r.Settings) > 0 {
		text += ", w" + standing(r.Settings)[1:]
	}
	return text
}

// band is what the meter may show, in words.
func (b *builder) band(band prove.Band) string { return bandText(band, b.units) }

func bandText(band prove.Band, units quantity.System) string {
	switch {
	case band.Open:
		return "open: above " + band.Least.Show(units)
	case band.Continuity:
		return "beeps: below " + band.Most.Show(units)
	case band.OrOpen:
		return "above " + band.Least.Show(units) + ", or open"
	case band.Least <= 0:
		return "below " + band.Most.Show(units)
	case band.Nominal > 0:
		return band.Nominal.Show(units) + " (" + band.Least.Show(units) + " to " + band.Most.Show(units) + ")"
	}
	return band.Least.Show(units) + " to " + band.Most.Show(units)
}

// taken adds the readings that were taken on the real box, what each says, and what they say together.
func (b *builder) taken(p *prove.Proof) {
	if len(b.plan.Taken) == 0 {
		return
	}
	d := diagnosed(p, &b.plan.Circuit.Circuit, b.plan.Taken)
	last := map[string]int{} // of several of one reading the last counts
	for n, j := range d.Judged {
		if j.Problem == "" {
			last[j.Taken.Reading] = n
		}
	}
	wrong := 0
	t := Table{Title: "As they were taken", Head: []string{"reading", "shown", "expected", "verdict", "by", "when", "meter"}, Numeric: make([]bool, 7), Chosen: -1}
	for n, j := range d.Judged {
		expected, verdict := expectedOf(p.Meter, j.Taken.Reading), "right"
		switch {
		case j.Problem != "":
			verdict = j.Problem
		case last[j.Taken.Reading] != n:
			verdict = "measured again since"
		case !j.Right:
			verdict = "wrong"
			wrong++
		}
		shown := j.Shown
		if shown == "" {
			shown = j.Taken.Value
		}
		t.Rows = append(t.Rows, []string{j.Taken.Reading, shown, expected, verdict, j.Taken.By, j.Taken.At, j.Taken.Meter})
	}
	lead := fmt.Sprintf("%s of %d taken, all as expected.", capital(many(len(last), "reading", "readings")), len(p.Meter.Readings))
	switch {
	case wrong > 0:
		lead = fmt.Sprintf("%s taken, %d wrong. Don't switch on: find the mistake first.", capital(many(len(last), "reading", "readings")), wrong)
	case len(last) == 0:
		lead = "What was written down can't be judged: see why."
	}
	b.section(2, "Readings taken", lead)
	if wrong > 0 && len(d.Suspects) > 0 {
		s := Table{Title: "What it may be, likeliest first", Head: []string{"mistake", "odds", "what to do"}, Numeric: []bool{false, true, false}, Chosen: -1}
		for _, suspect := range d.Suspects[:min(len(d.Suspects), 8)] {
			s.Rows = append(s.Rows, []string{suspect.Name, suspect.Odds.Show(b.units), suspect.Remedy})
		}
		b.add(s)
	}
	if wrong > 0 && d.Next != nil {
		b.add(Paragraph{Text: "Take next: " + probes(*d.Next) + ". It tells these apart best."})
	}
	b.add(withoutEmpty(t))
}

// expectedOf is what a reading or a test of the ID should show, in words; "" where there is none.
func expectedOf(m prove.MeterSheet, id string) string {
	for _, r := range m.Readings {
		if r.ID == id {
			return bandText(r.Expect, quantity.InchUnits) // ohms look the same in both
		}
	}
	for _, t := range m.Tests {
		if t.ID == id {
			return t.Expect
		}
	}
	return ""
}

// testTitle is what tests of a kind are called.
func testTitle(k prove.TestKind) string {
	switch k {
	case prove.BondingTest:
		return "Bonding"
	case prove.DiodeTest:
		return "Diodes, with the meter's diode range"
	case prove.InsulationTest:
		return "Insulation"
	case prove.PowerTest:
		return "First power"
	case prove.FunctionTest:
		return "Functions"
	}
	return ""
}

// tests adds the bonding and insulation tests, each caution before the test that it is about.
func (b *builder) tests(tests []prove.Test) {
	if len(tests) == 0 {
		return
	}
	b.section(2, "Bonding, insulation and first power", "What an ohmmeter on the control wires can't tell: whether every piece of metal is joined to ground well enough to open the breaker, whether the insulation holds, and whether the machine does what it should.")
	var ticks Ticks
	flush := func() {
		if len(ticks.Items) > 0 {
			b.add(ticks)
			ticks.Items = nil
		}
	}
	var sources []string
	said := "" // the caution that stands above
	for _, test := range tests {
		if title := testTitle(test.Kind); title != ticks.Title {
			flush()
			ticks.Title = title
		}
		if test.Caution != "" && test.Caution != said {
			said = test.Caution
			flush()
			b.add(Caution{Severity: explain.Danger, Text: test.Caution})
		}
		text := test.Text
		if test.ID != "" {
			text = test.ID + ": " + text
		}
		ticks.Items = append(ticks.Items, Tick{Text: text, Expect: test.Expect})
		if s := test.Source.String(); s != "" && !slices.Contains(sources, s) {
			sources = append(sources, s)
		}
	}
	flush()
	if len(sources) > 0 {
		b.add(Paragraph{Text: "Limits from: " + strings.Join(sources, "; ") + "."})
	}
}
