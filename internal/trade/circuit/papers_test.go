package circuit_test

import (
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
)

// handMade reads a circuit of the test data.
func handMade(t *testing.T, text string) circuit.Circuit {
	t.Helper()
	file := job.Read("by-hand.job.yaml", []byte(text))
	for _, p := range file.Problems {
		t.Errorf("line %d: %s", p.Span.Line, p.Message.Show(quantity.InchUnits))
	}
	set := explain.US
	if file.Job.Rules.Value == "iec" {
		set = explain.IEC
	}
	r := circuit.Make(circuit.Brief{Job: &file.Job, Set: set})
	for _, m := range r.Mistakes {
		t.Errorf("%s: %s", m.Rule, m.Message.Show(quantity.InchUnits))
	}
	return r.Circuit
}

func relay(t *testing.T) circuit.Circuit {
	t.Helper()
	text, err := os.ReadFile("testdata/circuits/three-wire-relay.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return handMade(t, string(text))
}

// station is a small circuit with a cable: a pendant with a stop button on a screened cable of two pairs.
const station = `drivewright: 1
rules: iec
controls: {circuit: by hand only, speed by: drive keypad}
devices:
  - {tag: T1, kind: drive}
  - {tag: X1, kind: terminal block, terminals: "1, 2, 3"}
  - {tag: X0, kind: ground bar, terminals: "1, 2, 3"}
  - {tag: S1, kind: push button, does: stop, at: pendant, contacts: 11-12 closed}
cables:
  - {tag: W1, kind: twisted pairs, from: box, to: pendant, cores: 4, conductor: 0.5 mm², length: 3 m, screen: at the box}
wires:
  - {name: 1a, from: "T1:24V", to: "X1:1", conductor: 0.75 mm², colour: blue, length: 0.4 m}
  - {name: 1b, from: "X1:1", to: "S1:11", cable: W1, core: 1}
  - {name: 2a, from: "S1:12", to: "X1:2", cable: W1, core: 2}
  - {name: 2b, from: "X1:2", to: "X1:3", conductor: 0.75 mm², colour: blue, length: 0.1 m}
  - {name: 2c, from: "X1:3", to: "T1:DI3", conductor: 0.75 mm², colour: blue, length: 0.5 m}
  - {name: PE1, from: "X0:1", to: "T1:PE", conductor: 2.5 mm², colour: green-and-yellow, length: 0.3 m}
`

// TestTheOrderOfWorkTicksEveryWire: who follows the ticks has brought every end of every wire under a screw once, cores of cables
// one end at a time; and the wires named stand in the lists.
func TestTheOrderOfWorkTicksEveryWire(t *testing.T) {
	for name, c := range circuits(t) {
		ticksEveryWire(t, name, c)
	}
	r := rand.New(rand.NewPCG(7, 7))
	for n := range 200 {
		_, made := made(t, "mixture.job.yaml", randomJob(r))
		ticksEveryWire(t, fmt.Sprintf("mixture %d", n), made.Circuit)
	}
}

func ticksEveryWire(t *testing.T, name string, c circuit.Circuit) {
	t.Helper()
	p := circuit.MakePapers(&c, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
	ticked := map[string]int{}
	for _, s := range p.Order {
		if s.Title == "" || s.Lead == "" || len(s.Tasks) == 0 {
			t.Errorf("%s: stage %q has no words or no tasks", name, s.Title)
		}
		for _, task := range s.Tasks {
			for _, pin := range circuit.EndsOf(task) {
				ticked[task.Wire+" "+pin.String()]++
			}
		}
	}
	for _, w := range c.Wires {
		for _, pin := range []circuit.Pin{w.From, w.To} {
			key := w.Name + " " + pin.String()
			if ticked[key] != 1 {
				t.Errorf("%s: the end of wire %s at %s is ticked %d times, want once", name, w.Name, pin, ticked[key])
			}
			delete(ticked, key)
		}
	}
	for key := range ticked {
		t.Errorf("%s: %q is ticked, but there is no such end", name, key)
	}
}

// circuits are all circuits of the test data, and what the program makes of a job without a word.
func circuits(t *testing.T) map[string]circuit.Circuit {
	t.Helper()
	made := job.Read("", []byte("drivewright: 1\n"))
	all := map[string]circuit.Circuit{"station": handMade(t, station), "made": circuit.Make(circuit.Brief{Job: &made.Job, Set: explain.US}).Circuit}
	files, err := filepath.Glob("testdata/circuits/*.job.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no circuits", err)
	}
	jobs, err := filepath.Glob("../../../examples/*.job.yaml")
	if err != nil || len(jobs) < 3 {
		t.Fatal("no examples", err)
	}
	for _, f := range append(files, jobs...) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(f)] = handMade(t, string(text))
	}
	return all
}

// TestGroundBeforePowerBeforeControlBeforeDrive: the stages stand in the order in which a panel is wired, ground first, electronics
// last. Source: common practice; the drive booklets ask for ground before power.
func TestGroundBeforePowerBeforeControlBeforeDrive(t *testing.T) {
	c := relay(t)
	p := circuit.MakePapers(&c, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
	var got []string
	for _, s := range p.Order {
		for _, task := range s.Tasks {
			if task.Wire != "" {
				got = append(got, task.Wire)
			}
		}
	}
	// PE2 goes to the motor, the three motor leads with it; 10 and 11 end at the drive's control terminals and come once more, last:
	// behind the supply, of which PE1 is first, because the drive's own 24 V is measured with nothing on them.
	want := "PE2 L3a L3b L4a L4b U V W 0a 0b 1 2a 2b 3a 3b 3c 10 11 PE1 L1a L2a 10 11"
	if joined := strings.Join(got, " "); joined != want {
		t.Errorf("got  %s\nwant %s", joined, want)
	}
}

// TestTheMachineRunsLast: settings are read back before the motor's leads go on, those before the functions are tried, and a station's
// buttons are mounted before their wires. Source: common practice; drive booklets ask for the settings before the first run.
func TestTheMachineRunsLast(t *testing.T) {
	p := unsizedJob(t, "", "")
	text := cells(p.List("order", quantity.MetricUnits))
	at := 0
	for _, want := range []string{"Apron: S1 stop button, S2 start button", "S4:11", "Meter sheet: every reading", "gland or conduit fitting", "XS1:L incoming", "Motor leads off T1:U, T1:V, T1:W", "“First power”",
		"power-up", "→ T1:24V drive", "motor leads back on", "“Functions”"} {
		next := strings.Index(text[at:], want)
		if next < 0 {
			t.Fatalf("%q doesn't come where it should in\n%s", want, text)
		}
		at += next
	}
}

// TestCoreChart: pairs, spares and the screen of the small circuit, counted by hand.
func TestCoreChart(t *testing.T) {
	c := handMade(t, station)
	p := circuit.MakePapers(&c, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
	var rows []string
	for _, r := range p.List("cores", quantity.MetricUnits).Rows {
		rows = append(rows, strings.Join(r, "|"))
	}
	want := []string{"W1|1|1|1b|X1:1|S1:11 stop button, pendant", "W1|2|1|2a|X1:2|S1:12 stop button, pendant",
		"W1|3|2||spare, grounded at one end: box|", "W1|4|2||spare, grounded at one end: box|", "W1|screen|||joined to ground all round at the box, cut back and insulated at the other end|"}
	if !slices.Equal(rows, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(rows, "\n"), strings.Join(want, "\n"))
	}
}

// TestTerminalPlan: the jumper, and which side what comes to.
func TestTerminalPlan(t *testing.T) {
	c := handMade(t, station)
	p := circuit.MakePapers(&c, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
	var rows []string
	for _, r := range p.List("terminals", quantity.MetricUnits).Rows[:3] {
		rows = append(rows, strings.Join(r, "|"))
	}
	want := []string{"X1|1|1a to T1:24V drive|1b to S1:11 stop button, pendant, W1 core 1|", "X1|2||2a to S1:12 stop button, pendant, W1 core 2|3", "X1|3|2c to T1:DI3 drive||2"}
	if !slices.Equal(rows, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(rows, "\n"), strings.Join(want, "\n"))
	}
}

// TestPartsAreCounted: three blue wires of 0.4, 0.1 and 0.5 m make 1 m, 1.1 m with the allowance of 10 %; each of four single wires
// gets two ferrules.
func TestPartsAreCounted(t *testing.T) {
	c := handMade(t, station)
	p := circuit.MakePapers(&c, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
	rows := map[string]string{}
	for _, r := range p.List("parts", quantity.MetricUnits).Rows {
		rows[r[0]+", "+r[1]] = r[2]
		rows[r[0]+" for "+r[3]] = r[2]
	}
	for what, want := range map[string]string{
		"push button for S1": "1",
		"terminal, feed-through, for the wires of the wire list":                        "3",
		"single wire, stranded, 0.75 mm², blue":                                         "1.1 m",
		"cable, 2 twisted pairs, 0.5 mm², screened":                                     "3.3 m",
		"ferrule with collar, 0.75 mm², grey":                                           "6",
		"ferrule with collar, 2.5 mm², blue":                                            "2",
		"wire marker, numbers as on the label sheet":                                    "12",
		"cable gland, to suit the cable's jacket, with contact to the screen all round": "1",
	} {
		if rows[what] != want {
			t.Errorf("%s: got %q, want %q", what, rows[what], want)
		}
	}
}

// TestListsForSpreadsheets: what is written is read back by a reader of RFC 4180, cell by cell, and no cell begins with a character
// that a spreadsheet takes for a formula.
func TestListsForSpreadsheets(t *testing.T) {
	for name, c := range circuits(t) {
		p := circuit.MakePapers(&c, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
		for _, list := range circuit.ListNames() {
			l := p.List(list, quantity.InchUnits)
			var b strings.Builder
			if err := l.WriteCSV(&b); err != nil {
				t.Fatal(err)
			}
			rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
			if err != nil || len(rows) != len(l.Rows)+1 || len(l.Numeric) != len(l.Head) {
				t.Fatalf("%s, %s: %d rows, %v", name, list, len(rows), err)
			}
			for n, row := range rows[1:] {
				for k, cell := range row {
					if strings.TrimPrefix(cell, "'") != l.Rows[n][k] {
						t.Errorf("%s, %s: got %q, want %q", name, list, cell, l.Rows[n][k])
					}
				}
			}
		}
	}
	evil := circuit.List{Head: []string{"a"}, Rows: [][]string{{"=1+1"}, {"@sum"}, {"-2"}, {"+3"}, {"\tx"}, {"plain, with a comma"}}}
	var b strings.Builder
	if err := evil.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	if want := "a\r\n'=1+1\r\n'@sum\r\n'-2\r\n'+3\r\n'\tx\r\n\"plain, with a comma\"\r\n"; b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
}

func TestByNumber(t *testing.T) {
	names := []string{"W1", "10", "2b", "L1", "2", "2a", "1", "007", "L10", "L2"}
	slices.SortFunc(names, circuit.ByNumber)
	if want := []string{"1", "2", "2a", "2b", "007", "10", "L1", "L2", "L10", "W1"}; !slices.Equal(names, want) {
		t.Errorf("got %v, want %v", names, want)
	}
}

// TestTheWarningLabelSaysHowLongToWait with the figures of the Power stage, or sends to the drive's own label.
func TestTheWarningLabelSaysHowLongToWait(t *testing.T) {
	c := relay(t)
	known := circuit.MakePapers(&c, explain.Constant("wait", 5*quantity.Minute, explain.Practice("test")), explain.Constant("below", 50*quantity.Volt, explain.Practice("test")))
	if text := known.Labels.Warnings[0].Text.Show(quantity.MetricUnits); !strings.Contains(text, "wait 5 min") || !strings.Contains(text, "below 50 V") {
		t.Errorf("got %q", text)
	}
	unknown := circuit.MakePapers(&c, explain.Known[quantity.Duration]{}, explain.Known[quantity.Voltage]{})
	if text := unknown.Labels.Warnings[0].Text.Show(quantity.MetricUnits); !strings.Contains(text, "drive's own label") {
		t.Errorf("got %q", text)
	}
}
