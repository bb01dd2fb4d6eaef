package sheet

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// WriteProofJSON writes the plan's Prove stage as data, in the form that ProofJSONSchema describes: every fault with its class and
// the sequence that shows it, every reading with what is expected, how much of all mistakes they cover, and what the readings
// say that were taken. Texts are in the unit system, numbers SI. Same plan, same bytes. A plan without a proof gives the head alone.
// The error is the writer's.
func WriteProofJSON(w io.Writer, p plan.Plan, o Options) error {
	d := Build(p, o)
	out := jsonProof{Format: "drivewright proof", FormatVersion: jsonVersion, Title: d.Title, File: d.File, Units: d.Units.String(), Version: d.Version,
		Classes: []jsonClass{}, Faults: []jsonFault{}, Readings: []jsonReading{}, Mistakes: []jsonMistake{}, Findings: []jsonFinding{}}
	rules := ProofRules()
	for n, f := range d.Findings {
		if slices.Contains(rules, f.Rule) {
			out.Findings = append(out.Findings, findingAsJSON(n, f))
		}
	}
	if p.Proof != nil {
		out.report(p.Proof.Report, d.Units)
		out.meter(p.Proof.Meter, d.Units)
		out.judge(&p)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

// ProofJSONSchema returns the JSON Schema (draft 2020-12) of what WriteProofJSON writes.
func ProofJSONSchema() []byte { return schemaText[jsonProof]("drivewright proof") }

// ProofRules are the names of the rules that judge what the simulation showed.
func ProofRules() []string {
	var names []string
	for _, r := range prove.Rules() {
		names = append(names, r.Name)
	}
	return names
}

type jsonProof struct {
	Format        string        `json:"format" help:"what this file is" choices:"drivewright proof"`
	FormatVersion int           `json:"format_version" help:"raised when a field is renamed or changes its meaning; new fields do not raise it"`
	Title         string        `json:"title" help:"the machine"`
	File          string        `json:"file,omitempty" help:"the job file"`
	Units         string        `json:"units" help:"unit system of all texts" choices:"inch,metric"`
	Version       string        `json:"version,omitempty" help:"of the program"`
	Coverage      jsonCoverage  `json:"coverage" help:"how much was tried, and how much the readings catch"`
	Classes       []jsonClass   `json:"classes" help:"what a fault can do, worst first, with how many do it"`
	Functions     []jsonTrusted `json:"functions,omitempty" help:"what people trust the circuit for, and which single faults take it away; none where the machine never runs"`
	Problem       string        `json:"not_simulated_because,omitempty" help:"why nothing was broken: the circuit is larger than the simulation takes"`
	Script        []jsonStep    `json:"script,omitempty" help:"what is done to the whole machine, and what it does"`
	Whole         []jsonFault   `json:"nothing_broken,omitempty" help:"dangers of the circuit with nothing broken"`
	Faults        []jsonFault   `json:"faults" help:"every single fault, worst first"`
	Pairs         []jsonFault   `json:"pairs,omitempty" help:"pairs that are worse together than each by itself, worst first; only if asked for"`
	Before        []string      `json:"before_measuring,omitempty" help:"what is done before the first reading"`
	Readings      []jsonReading `json:"readings" help:"in the order in which to take them"`
	Mistakes      []jsonMistake `json:"mistakes" help:"every single wiring mistake that was thought of, and which readings catch it"`
	Tests         []jsonTest    `json:"tests,omitempty" help:"bonding and insulation"`
	Taken         []jsonTaken   `json:"taken,omitempty" help:"readings that were taken, and what each says"`
	Suspects      []jsonSuspect `json:"suspects,omitempty" help:"the mistakes that fit the readings taken, likeliest first"`
	Next          *jsonReading  `json:"next_reading,omitempty" help:"the reading that would best tell the suspects apart"`
	Findings      []jsonFinding `json:"findings" help:"what the rules say of the simulation, gravest first"`
}

type jsonCoverage struct {
	Faults         int  `json:"faults" help:"single faults that were tried"`
	Dangerous      int  `json:"dangerous" help:"of these, how many can hurt somebody"`
	Pairs          int  `json:"pairs_tried,omitempty" help:"pairs of faults that were tried"`
	Mistakes       int  `json:"mistakes" help:"single wiring mistakes that were thought of; those that no reading can tell apart count as one"`
	Caught         int  `json:"mistakes_caught" help:"of these, how many some reading catches"`
	Readings       int  `json:"readings" help:"how many readings that takes"`
	Least          int  `json:"least_readings,omitempty" help:"fewer than these can not catch as many: a lower bound"`
	ProvenFewest   bool `json:"proven_fewest" help:"whether the readings are as few as the lower bound"`
	Ways           int  `json:"ways,omitempty" help:"mistakes with each of those that no reading can tell apart counted by itself"`
	WaysCaught     int  `json:"ways_caught,omitempty" help:"of these, how many some reading catches"`
	PairsDangerous int  `json:"pairs_dangerous,omitempty" help:"pairs that can hurt somebody and are worse than each fault by itself"`
}

type jsonClass struct {
	Class     string `json:"class" help:"what the fault does"`
	Faults    int    `json:"faults" help:"how many do it"`
	Dangerous bool   `json:"dangerous" help:"whether it can hurt somebody"`
}

type jsonTrusted struct {
	Function string   `json:"function" help:"what is taken away"`
	Class    string   `json:"class" help:"what the faults that take it away do"`
	Text     string   `json:"text" help:"what was found, in a sentence"`
	Tried    int      `json:"tried" help:"single faults that were tried"`
	Whole    bool     `json:"with_nothing_broken" help:"whether the circuit does it with nothing broken"`
	By       []string `json:"taken_away_by" help:"the faults that do it in any step, also those of which something worse is said"`
}

type jsonShowing struct {
	Class    string   `json:"class" help:"what it does too"`
	Sequence []string `json:"sequence,omitempty" help:"what to do to see it"`
	Seen     string   `json:"seen,omitempty" help:"what is seen then"`
	Expected string   `json:"expected,omitempty" help:"what should be seen"`
}

type jsonStep struct {
	Action   string   `json:"action" help:"what is done"`
	Torque   bool     `json:"torque" help:"whether the drive drives the motor then"`
	Reverse  bool     `json:"reverse,omitempty" help:"backwards"`
	Speed    float64  `json:"speed" help:"part of full speed, while it has torque"`
	Lamps    []string `json:"lamps,omitempty" help:"tags of the lamps that are lit"`
	PulledIn []string `json:"pulled_in,omitempty" help:"tags of the relays and contactors that are pulled in"`
	Loads    []string `json:"has_power,omitempty" help:"tags of the loads and readouts that have power"`
	SafeOff  bool     `json:"torque_blocked,omitempty" help:"torque can not come: safe torque off, or no power at the drive"`
	Overload string   `json:"overloaded,omitempty" help:"tag of a supply that is shorted or overloaded"`
	Chatters bool     `json:"chatters,omitempty" help:"some relay never comes to rest"`
}

type jsonFault struct {
	Name      string        `json:"fault" help:"what is broken"`
	Class     string        `json:"class" help:"the worst that it does"`
	Dangerous bool          `json:"dangerous" help:"whether it can hurt somebody"`
	Sequence  []string      `json:"sequence,omitempty" help:"what to do to see it"`
	Seen      string        `json:"seen,omitempty" help:"what is seen then"`
	Expected  string        `json:"expected,omitempty" help:"what should be seen"`
	Remedy    string        `json:"remedy,omitempty" help:"what change of the circuit would remove it"`
	Classes   []string      `json:"classes,omitempty" help:"everything that it does in any step, worst first; single faults only"`
	Also      []jsonShowing `json:"also,omitempty" help:"the other dangers that it brings, each with what shows it"`
	With      string        `json:"with,omitempty" help:"the second fault that makes a hidden one dangerous"`
	Place     string        `json:"place,omitempty" help:"file:line:column of the thing in the job file"`
	Path      string        `json:"path,omitempty" help:"its job-file path"`
}

type jsonReading struct {
	ID       string        `json:"id" help:"stays the same while the circuit does"`
	From     string        `json:"from" help:"device and terminal of one probe"`
	To       string        `json:"to" help:"and of the other"`
	Settings []jsonSetting `json:"settings,omitempty" help:"the switches that do not stand in their rest position"`
	Kind     string        `json:"kind" help:"what is expected" choices:"open,beep,ohms,ohms or open"`
	Expect   string        `json:"expect" help:"the same in words"`
	Least    *float64      `json:"least_ohm,omitempty" help:"a lower value is wrong"`
	Most     *float64      `json:"most_ohm,omitempty" help:"a higher value is wrong"`
	Nominal  *float64      `json:"nominal_ohm,omitempty" help:"with every part at its rated value"`
	Proves   string        `json:"proves,omitempty" help:"what a right reading proves"`
}

type jsonSetting struct {
	Device   string `json:"device" help:"its tag"`
	Position string `json:"position" help:"where it is held"`
}

type jsonMistake struct {
	Name     string   `json:"mistake" help:"what is wrong"`
	Also     []string `json:"same_to_a_meter,omitempty" help:"mistakes that no reading can tell from it"`
	CaughtBy []string `json:"caught_by,omitempty" help:"ids of the readings that it makes wrong"`
	Why      string   `json:"not_caught_because,omitempty" help:"why no reading can catch it"`
}

type jsonTest struct {
	ID      string `json:"id,omitempty" help:"stays the same while the circuit does"`
	Kind    string `json:"kind,omitempty" help:"what sort of test it is" choices:"bonding,diodes,insulation,first power,function"`
	Text    string `json:"text" help:"what is tested"`
	Expect  string `json:"expect,omitempty" help:"the limit"`
	Caution string `json:"caution,omitempty" help:"what can hurt somebody or destroy something there"`
	Source  string `json:"source,omitempty" help:"where the limit was published"`
}

type jsonTaken struct {
	Reading string `json:"reading" help:"its id"`
	Value   string `json:"value" help:"as it was written down"`
	Shown   string `json:"shown,omitempty" help:"as it was understood"`
	Expect  string `json:"expect,omitempty" help:"what was expected"`
	Right   bool   `json:"right" help:"whether it is as expected"`
	Problem string `json:"problem,omitempty" help:"why it can not be judged"`
	By      string `json:"by,omitempty" help:"who took it"`
	At      string `json:"at,omitempty" help:"when"`
	Meter   string `json:"meter,omitempty" help:"with which instrument"`
}

type jsonSuspect struct {
	Name   string  `json:"mistake" help:"what may be wrong"`
	Odds   float64 `json:"odds" help:"from 0 to 1"`
	Remedy string  `json:"remedy,omitempty" help:"what to do"`
}

func (out *jsonProof) report(r prove.Report, units quantity.System) {
	counts := map[prove.Class]int{}
	for _, f := range r.Faults {
		counts[f.Class]++
		if f.Class.Dangerous() {
			out.Coverage.Dangerous++
		}
	}
	for class := prove.StartsByItself; class <= prove.Harmless; class++ {
		out.Classes = append(out.Classes, jsonClass{classWords[class], counts[class], class.Dangerous()})
	}
	for _, step := range r.Script {
		s := step.State
		out.Script = append(out.Script, jsonStep{Action: step.Action, Torque: s.Torque, Reverse: s.Reverse, Speed: round3(float64(s.Speed)), Lamps: s.Lamps, PulledIn: s.PulledIn,
			Loads: s.Loads, SafeOff: s.SafeOff, Overload: s.Overload, Chatters: s.Chatters})
	}
	for _, f := range r.Functions {
		t := jsonTrusted{Function: functionWords[f.Lost].function, Class: classWords[f.Lost], Text: functionText(f), Tried: f.Tried, Whole: f.Whole, By: []string{}}
		for _, n := range f.By {
			t.By = append(t.By, r.Faults[n].Name)
		}
		out.Functions = append(out.Functions, t)
	}
	out.Problem = r.Problem
	out.Whole, out.Pairs = faultsAsJSON(r.Whole, units), faultsAsJSON(r.Pairs, units)
	out.Faults = append(out.Faults, faultsAsJSON(r.Faults, units)...)
	out.Coverage.Faults, out.Coverage.Pairs = len(r.Faults), r.PairsTried
	for range dangerousOf(r.Pairs) {
		out.Coverage.PairsDangerous++
	}
}

func faultsAsJSON(faults []prove.Fault, units quantity.System) []jsonFault {
	var list []jsonFault
	for _, f := range faults {
		j := jsonFault{Name: f.Name, Class: classWords[f.Class], Dangerous: f.Class.Dangerous(), Sequence: f.Sequence, Seen: f.Seen, Expected: f.Expected, Remedy: f.Remedy.Show(units), With: f.With}
		for class := prove.StartsByItself; class <= prove.Harmless; class++ {
			if f.Reaches.Has(class) {
				j.Classes = append(j.Classes, classWords[class])
			}
		}
		for _, s := range f.Also {
			j.Also = append(j.Also, jsonShowing{classWords[s.Class], s.Sequence, s.Seen, s.Expected})
		}
		if place := explain.Place(f.Place); place != nil {
			j.Place, j.Path = fmt.Sprintf("%s:%d:%d", fileName(place.Span.File), place.Span.Line, place.Span.Column), place.Path
		}
		list = append(list, j)
	}
	return list
}

func (out *jsonProof) meter(m prove.MeterSheet, units quantity.System) {
	c := &out.Coverage
	c.Mistakes, c.Caught, c.Readings, c.Least, c.ProvenFewest = len(m.Mistakes), m.Caught, len(m.Readings), m.Bound, m.Bound >= len(m.Readings) && m.Bound > 0
	c.Ways, c.WaysCaught = m.Ways, m.WaysCaught
	out.Before = m.Before
	for n := range m.Readings {
		out.Readings = append(out.Readings, readingAsJSON(&m.Readings[n], units))
	}
	for _, mistake := range m.Mistakes {
		j := jsonMistake{Name: mistake.Name, Also: mistake.Also, Why: mistake.Why}
		for _, n := range mistake.CaughtBy {
			if n >= 0 && n < len(m.Readings) {
				j.CaughtBy = append(j.CaughtBy, m.Readings[n].ID)
			}
		}
		out.Mistakes = append(out.Mistakes, j)
	}
	for _, t := range m.Tests {
		out.Tests = append(out.Tests, jsonTest{t.ID, string(t.Kind), t.Text, t.Expect, t.Caution, t.Source.String()})
	}
}

func readingAsJSON(r *prove.Reading, units quantity.System) jsonReading {
	j := jsonReading{ID: r.ID, From: r.From.String(), To: r.To.String(), Kind: "ohms", Expect: bandText(r.Expect, units), Proves: r.Proves}
	switch {
	case r.Expect.Open:
		j.Kind = "open"
	case r.Expect.Continuity:
		j.Kind = "beep"
	case r.Expect.OrOpen:
		j.Kind = "ohms or open"
	}
	j.Least, j.Most, j.Nominal = finite(r.Expect.Least), finite(r.Expect.Most), finite(r.Expect.Nominal)
	for _, s := range r.Settings {
		j.Settings = append(j.Settings, jsonSetting(s))
	}
	return j
}

// finite returns a resistance as a number of ohms; nil for one that JSON has no number for.
func finite(r quantity.Resistance) *float64 {
	ohms := round3(float64(r))
	if math.IsInf(ohms, 0) || math.IsNaN(ohms) {
		return nil
	}
	return &ohms
}

// judge adds what the readings taken say.
func (out *jsonProof) judge(p *plan.Plan) {
	if len(p.Taken) == 0 {
		return
	}
	d := diagnosed(p.Proof, &p.Circuit.Circuit, p.Taken)
	units := quantity.InchUnits // ohms look the same in both
	for _, j := range d.Judged {
		t := jsonTaken{Reading: j.Taken.Reading, Expect: expectedOf(p.Proof.Meter, j.Taken.Reading), Value: j.Taken.Value, Shown: j.Shown, Right: j.Right, Problem: j.Problem, By: j.Taken.By, At: j.Taken.At, Meter: j.Taken.Meter}
		out.Taken = append(out.Taken, t)
	}
	for _, s := range d.Suspects {
		out.Suspects = append(out.Suspects, jsonSuspect{s.Name, round3(float64(s.Odds)), s.Remedy})
	}
	if d.Next != nil {
		next := readingAsJSON(d.Next, units)
		out.Next = &next
	}
}

// diagnosed is what the readings taken say of the circuit.
func diagnosed(p *prove.Proof, c *circuit.Circuit, taken []prove.Taken) prove.Diagnosis {
	return p.Meter.Judge(c, taken)
}
