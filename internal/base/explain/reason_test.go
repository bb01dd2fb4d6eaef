package explain

import (
	"errors"
	"math"
	"strings"
	"testing"

	"drivewright/internal/base/quantity"
)

// power is a formula to try things with: P = V · I.
var power = &Formula{
	Name: "apparent-power", Title: "apparent power of a single-phase load", Words: "{voltage} × {current}", Result: quantity.KindApparentPower,
	Inputs: []Parameter{
		{Name: "voltage", Kind: quantity.KindVoltage, Example: "240 V"},
		{Name: "current", Kind: quantity.KindCurrent, Example: "10 A", Default: "10 A"},
	},
	Source: Physics("definition of apparent power"),
	Compute: Of2(func(v quantity.Voltage, i quantity.Current) (Answer, error) {
		if v < 0 {
			return Answer{}, errors.New("the voltage is negative")
		}
		return Is(quantity.Apparent(v, i))
	}),
}

func TestDerive(t *testing.T) {
	volts := Assume("supply voltage", quantity.Voltage(240), Practice("common split-phase service"), Say("nobody said"))
	amperes := Constant("load current", quantity.Current(10), NEC("Table X"))
	p := Derive[quantity.ApparentPower](power, "load", volts, amperes)
	if !p.OK() || p.Value != 2400 || p.Why().Origin != Derived || p.Why().Formula != "apparent-power" || p.Why().ID() != "load" {
		t.Errorf("got %v, %+v", p.Value, p.Why())
	}
	if got := p.Why().Figures(quantity.InchUnits); got != "240 V × 10 A" {
		t.Errorf("figures are %q", got)
	}
	if got := p.Why().InWords(); got != "voltage × current" {
		t.Errorf("words are %q", got)
	}
	// A missing input makes the result missing, and says which.
	q := Derive[quantity.ApparentPower](power, "load", volts, Absent[quantity.Current]("load current", Say("measure it")))
	if q.OK() || !strings.Contains(q.Why().Note.Show(quantity.InchUnits), "load current") {
		t.Errorf("got %v, note %q", q.Value, q.Why().Note.Show(quantity.InchUnits))
	}
	// So does a refusal, a wrong number of inputs, a wrong kind of input and a wrong type of result.
	negative := Assume("supply voltage", quantity.Voltage(-1), Source{}, Phrase{})
	for name, k := range map[string]Because{
		"refusal":     Derive[quantity.ApparentPower](power, "load", negative, amperes),
		"too few":     Derive[quantity.ApparentPower](power, "load", volts),
		"wrong kind":  Derive[quantity.ApparentPower](power, "load", amperes, volts),
		"wrong type":  Derive[quantity.Power](power, "load", volts, amperes),
		"wrong input": Derive[quantity.ApparentPower](power, "load", Known[quantity.Voltage]{}, amperes),
	} {
		if r := k.Why(); r.Origin != Missing || r.Value != nil || r.Note.Empty() {
			t.Errorf("%s: %+v is not marked as missing", name, r)
		}
	}
}

func TestRunFormula(t *testing.T) {
	r, mistakes := power.Run(map[string]string{"voltage": "240 V", "Current": "5 A"})
	if len(mistakes) > 0 || r.Value != quantity.ApparentPower(1200) {
		t.Errorf("got %v, %v", r, mistakes)
	}
	r, mistakes = power.Run(map[string]string{"voltage": "240 V"})
	if len(mistakes) > 0 || r.Inputs[1].Origin != Assumed {
		t.Errorf("a default is not marked as assumed: %v, %v", r, mistakes)
	}
	_, mistakes = power.Run(map[string]string{"curent": "5", "current": "5 V"})
	var all []string
	for _, m := range mistakes {
		all = append(all, m.Error())
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{`no "curent"; did you mean "current"`, `current: "5 V" has the unit "V"`, `voltage is missing`} {
		if !strings.Contains(text, want) {
			t.Errorf("the mistakes lack %q:\n%s", want, text)
		}
	}
	if len(mistakes) != 3 {
		t.Errorf("got %d mistakes, want 3:\n%s", len(mistakes), text)
	}
}

func TestPlace(t *testing.T) {
	given := &Reason{Name: "breaker", Span: Span{Line: 3, Start: 5}, Path: "supply.breaker", Origin: Given, Value: quantity.Current(30), Typed: "30 A"}
	deep := &Reason{Name: "a", Inputs: []Input{{Reason: &Reason{Name: "b"}}, {Reason: &Reason{Name: "c", Inputs: []Input{{Reason: given}}}}}}
	if got := Place(deep); got != given {
		t.Errorf("the place of a derived value is %v", got)
	}
	if Place(&Reason{Name: "x"}) != nil || Place(nil) != nil {
		t.Error("a value that stands nowhere has a place")
	}
	rule := Rule[int]{Name: "too-big", Severity: Must, Sets: []RuleSet{US}, Check: func(n int, r *Report) {
		if n > 1 {
			r.At(Wrap[quantity.Current](given), Say("{} is too big", quantity.Current(30)), Say("take less"))
			r.Whole(Say("and all of it"), Phrase{})
		}
	}}
	if got := Judge([]Rule[int]{rule}, IEC, 2); len(got) != 0 {
		t.Errorf("a rule of another set found %v", got)
	}
	got := Judge([]Rule[int]{rule}, US, 2)
	if len(got) != 2 || got[0].Path != "supply.breaker" || got[0].Span.Line != 3 || got[1].Span.Known() || got[0].Message.Show(quantity.InchUnits) != "30 A is too big" {
		t.Errorf("got %+v", got)
	}
	if got := Judge([]Rule[int]{rule}, US, 1); len(got) != 0 {
		t.Errorf("a clean job is found guilty: %v", got)
	}
}

// TestShowReason echoes what the user wrote, with the other unit system's figure behind it.
func TestShowReason(t *testing.T) {
	given := func(v quantity.Value, typed string) *Reason { return &Reason{Value: v, Typed: typed, Origin: Given} }
	for _, c := range []struct {
		r            *Reason
		inch, metric string
	}{
		{given(3*quantity.Horsepower, "3 hp"), "3 hp", "3 hp (2.24 kW)"},
		{given(0.5*quantity.Inch, `1/2"`), `1/2"`, `1/2" (12.7 mm)`},
		{given(quantity.Voltage(240), "240 V"), "240 V", "240 V"},
		{given(quantity.AWG(10), "10 AWG"), "10 AWG", "10 AWG"},
		{given(quantity.Text("TEFC"), "tefc"), "tefc", "tefc"},
		{&Reason{Value: quantity.Celsius(40), Origin: Assumed}, "104 °F", "40 °C"},
		{&Reason{Origin: Missing}, "not known", "not known"},
		{nil, "not known", "not known"},
	} {
		if got := c.r.Show(quantity.InchUnits); got != c.inch {
			t.Errorf("got %q, want %q", got, c.inch)
		}
		if got := c.r.Show(quantity.MetricUnits); got != c.metric {
			t.Errorf("got %q, want %q", got, c.metric)
		}
	}
}

func TestPhrase(t *testing.T) {
	for _, c := range []struct {
		p    Phrase
		want string
	}{
		{Say("plain {} braces"), "plain {} braces"}, {Say("{} and {}", quantity.Voltage(1), quantity.Voltage(2)), "1 V and 2 V"},
		{Say("{}", quantity.Voltage(1), quantity.Voltage(2)), "1 V"}, {Say("{}", nil), "not known"}, {Say("a {} b", quantity.Voltage(math.NaN())), "a not known b"}, {Phrase{}, ""},
	} {
		if got := c.p.Show(quantity.InchUnits); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// TestNearest checks what counts as a slip and what as another word.
func TestNearest(t *testing.T) {
	words := []string{"breaker", "breaker kind", "voltage", "run", "us", "iec"}
	for written, want := range map[string]string{"breakr": "breaker", "Breaker": "breaker", "braeker": "breaker", "voltag": "voltage", "rnu": "run", "iecc": "iec", "breaker knid": "breaker kind", "colour": "", "x": "", "": "", "zzzzzzz": ""} {
		if got := Nearest(written, words); got != want {
			t.Errorf("nearest to %q is %q, want %q", written, got, want)
		}
	}
	// Parts of names: a beginning, a part spelt nearly so, several candidates; but a stranger with one part in common isn't near.
	names := []string{"existing-branch-conductor", "smallest-branch-conductor-that-passes", "conductor-too-small", "motor-power", "voltage-drop", "breaker kind"}
	for written, want := range map[string]string{"brnch-conductor": "existing-branch-conductor smallest-branch-conductor-that-passes",
		"conductr": "conductor-too-small existing-branch-conductor smallest-branch-conductor-that-passes", "power": "motor-power", "voltage-dorp": "voltage-drop",
		"kind": "breaker kind", "motor shaft": "", "no-such": "", "to": "", "--": ""} {
		if got := strings.Join(Near(written, names), " "); got != want {
			t.Errorf("near to %q is %q, want %q", written, got, want)
		}
	}
	for words, want := range map[string]string{"": "", "a": `did you mean "a"?`, "a b": `did you mean "a" or "b"?`, "a b c": `did you mean "a", "b" or "c"?`} {
		if got := DidYouMean(strings.Fields(words)); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	// Distances by hand (optimal string alignment, in which no part is edited twice: "ca" to "abc" is 3).
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"a", "", 1}, {"", "abc", 3}, {"kitten", "sitting", 3}, {"ca", "ac", 1}, {"ca", "abc", 3}, {"Größe", "Grösse", 2}} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("from %q to %q it is %d edits, want %d", c.a, c.b, got, c.want)
		}
		if got := editDistance(c.b, c.a); got != c.want {
			t.Errorf("back from %q to %q it is %d edits, want %d", c.b, c.a, got, c.want)
		}
	}
}

func TestSortFindings(t *testing.T) {
	list := []Finding{
		{Rule: "d", Severity: Note, Span: Span{Line: 1}}, {Rule: "c", Severity: Must, Span: Span{Line: 9}}, {Rule: "b", Severity: Must, Span: Span{Line: 2, Column: 5}},
		{Rule: "z", Severity: Must, Span: Span{Line: 2, Column: 5}}, {Rule: "y", Severity: Must, Span: Span{Line: 2, Column: 1}}, {Rule: "a", Severity: Danger},
	}
	SortFindings(list)
	var order string
	for _, f := range list {
		order += f.Rule
	}
	if order != "aybzcd" {
		t.Errorf("the order is %s", order)
	}
	if !Danger.Blocks() || !Must.Blocks() || Check.Blocks() || Note.Blocks() {
		t.Error("what blocks is wrong")
	}
}

func TestSource(t *testing.T) {
	for _, c := range []struct {
		s    Source
		want string
	}{
		{NEC("430.122(A)"), "NFPA 70, 2023, 430.122(A)"}, {NEC("430.122(A)").Remembered(), "NFPA 70, 2023, 430.122(A) (from memory)"}, {Practice("motor shops"), "motor shops (common practice)"},
		{Physics("Ohm's law"), "Ohm's law (arithmetic)"}, {NEC("a").At("b"), "NFPA 70, 2023, b"}, {Source{Trust: CommonPractice}, "common practice"}, {Source{}, ""},
	} {
		if got := c.s.String(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	for name, want := range map[string]string{"Drive input current": "drive-input-current", "  87 Hz, delta! ": "87-hz-delta", "": ""} {
		if got := Slug(name); got != want {
			t.Errorf("%q becomes %q, want %q", name, got, want)
		}
	}
}
