package web

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/output/drawing"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// lathe is the job file of the tests.
const lathe = `# the lathe by the window
drivewright: 1
rules: us
units: inch

machine:
  name: Window lathe     # as everybody calls it
  kind: lathe
  duty: 40 %

supply:
  voltage: 240 V
  breaker: 30 A          # read on the handle
  run: 45 ft

motor:
  power: 5 hp
  voltage: 230/460 V
  current: 13.4/6.7 A

loads:
  - name: lamp
    volt-amperes: 60 VA
`

// testSheet is a small sheet with made-up arithmetic: what is tested here is how a change travels, not engineering. It has
// what the real one has: inputs of every kind, a derived value that stands on them, findings, and one that may be accepted.
func testSheet(p plan.Plan, v View) sheet.Document {
	file, units := p.File(), v.Units
	j := &file.Job
	u := quantity.InchUnits
	if j.Units.Value == "metric" {
		u = quantity.MetricUnits
	}
	if units != nil {
		u = *units
	}
	title := "Machine without a name"
	if j.Machine.Name.Set {
		title = string(j.Machine.Name.Value)
	}
	d := sheet.Document{Title: title, Subtitle: "Survey and power", File: file.Name, Units: u, Paper: sheet.Letter, Version: "test"}

	current := job.Known(j.Motor.Currents).Why()
	share := explain.Constant("share for continuous duty", quantity.Ratio(1.25), explain.NEC("430.122(A)")).Why()
	least := &explain.Reason{Name: "least branch ampacity", Origin: explain.Missing, Note: explain.Say("write the motor's current")}
	if j.Motor.Currents.Set {
		least = &explain.Reason{Name: "least branch ampacity", Origin: explain.Derived, Value: j.Motor.Currents.Value[0] * 1.25, Words: "{motor current} × {share}",
			Inputs: []explain.Input{{As: "motor current", Reason: current}, {As: "share", Reason: share}}, Source: explain.NEC("430.122(A)")}
	}
	breaker := map[string][]int{}
	find := func(f sheet.Finding, at string) {
		breaker[at] = append(breaker[at], len(d.Findings))
		for _, a := range j.Accepted {
			if string(a.Rule.Value) == f.Rule {
				f.Accepted = string(a.Reason.Value)
			}
		}
		d.Findings = append(d.Findings, f)
	}
	if j.Supply.Breaker.Set && j.Supply.Breaker.Value < 40*quantity.Ampere {
		find(sheet.Finding{Rule: "breaker-too-small", Severity: explain.Must, Message: "the source breaker is smaller than 40 A", Remedy: "fit 40 A", Why: "it trips",
			ValueID: "source-overcurrent-device", Source: "NFPA 70, 2023, 430.52"}, "supply.breaker")
	}
	if !j.Shop.Ambient.Set {
		find(sheet.Finding{Rule: "shop-heat-unknown", Severity: explain.Check, Message: "how warm the shop gets is not written down", Remedy: "write it", Why: "heat shortens the drive's life"}, "")
	}
	for _, p := range file.Problems {
		find(sheet.Finding{Rule: p.Rule, Severity: p.Severity, Message: p.Message.Show(u), Remedy: p.Remedy.Show(u), Place: fmt.Sprintf("%s:%d:%d", p.Span.File, p.Span.Line, p.Span.Column)}, p.Path)
	}
	inputs := func(section string) []sheet.Block {
		var written, unwritten []sheet.Value
		for _, e := range j.Entries(section) {
			r := e.Reason
			v := sheet.Value{ID: r.ID(), Label: r.Name, Text: r.Show(u), Origin: r.Origin, Path: e.Path, Typed: r.Typed, Choices: e.Words, Help: e.Help, Summary: e.Help, Reason: r, Findings: breaker[e.Path]}
			if r.Origin == explain.Missing {
				unwritten = append(unwritten, v)
			} else {
				written = append(written, v)
			}
		}
		return []sheet.Block{sheet.Values{Rows: written}, sheet.Values{Title: "Not written down", Rows: unwritten, Unwritten: true}}
	}
	section := func(level int, title, lead string, blocks ...sheet.Block) {
		d.Sections = append(d.Sections, sheet.Section{ID: explain.Slug(title), Title: title, Level: level, Lead: lead, Blocks: blocks, Asks: level == 2 && len(d.Sections) < 6})
	}
	section(1, "Survey", "What is there. Everything below was written down by you or is asked of you; all the rest of the sheet follows from it.")
	section(2, "Machine", "", inputs("machine")...)
	section(2, "Shop", "", inputs("shop")...)
	section(2, "Supply", "Measure the voltage; read the breaker, the wire and the receptacle.", append([]sheet.Block{
		sheet.Caution{Severity: explain.Danger, Text: "The supply side of a panel is live even with its main breaker off."}}, inputs("supply")...)...)
	section(2, "Motor nameplate", "The plate, the ohmmeter and your eyes.", inputs("motor")...)
	var loads []sheet.Block
	for n := range j.Loads {
		blocks := inputs(fmt.Sprintf("loads[%d]", n))
		first := blocks[0].(sheet.Values)
		first.Title = fmt.Sprintf("Load %d", n+1)
		loads = append(loads, first, blocks[1])
	}
	section(2, "Other loads", "Each needs a named source ahead of the drive.", loads...)
	d.Sections[len(d.Sections)-1].Adds = "loads"
	section(1, "Power", "What has to stand between the wall and the motor.", sheet.Figure{Figure: drawing.Figure{ID: "path", Title: "From the wall to the motor", Alt: "breaker, drive, motor",
		Width: 170, Height: 30, Items: []drawing.Item{drawing.Line{Points: []drawing.Point{{X: 5, Y: 15}, {X: 165, Y: 15}}}, drawing.Circle{Centre: drawing.Point{X: 150, Y: 15}, Radius: 8},
			drawing.Words{At: drawing.Point{X: 30, Y: 12}, Text: least.Show(u), Size: 4}}}})
	section(2, "Branch circuit", "The drive's rated input current counts, not the motor's.",
		sheet.Values{Title: "Conductor", Rows: []sheet.Value{{ID: least.ID(), Label: least.Name, Text: least.Show(u), Origin: least.Origin, Reason: least, Summary: least.Figures(u)}}},
		sheet.Table{Title: "Sizes that were considered", Head: []string{"size", "as installed", "asked for", "verdict"}, Numeric: []bool{false, true, true, false},
			Rows: [][]string{{"14 AWG", "15 A", least.Show(u), "too small"}, {"10 AWG", "30 A", least.Show(u), "passes"}}, Chosen: 1},
		sheet.Ticks{Title: "Each time", Items: []sheet.Tick{{Text: "Main switch off"}, {Text: "Waited", Expect: "5 min"}}})
	section(2, "Drive control", "", inputs("drive control")...)
	section(1, "Prove", "What the circuit does when something in it breaks.")
	switch {
	case p.Proof != nil:
		section(2, "Broken on purpose", "", sheet.Paragraph{Text: p.Proof.Report.Faults[0].Name})
		section(2, "Meter sheet", "", sheet.Paragraph{Text: fmt.Sprintf("%d readings, %d taken", len(p.Proof.Meter.Readings), len(p.Taken))})
	case v.Proving:
		d.Sections[len(d.Sections)-1].Blocks = []sheet.Block{sheet.Paragraph{Text: "It is being worked out."}}
	}
	switch n := len(d.Findings); {
	case n > 0 && d.Findings[0].Severity == explain.Must:
		d.Verdict = sheet.Verdict{Severity: explain.Must, Headline: "Not yet: something must change before parts are bought", Detail: "Gravest first below."}
	default:
		d.Verdict = sheet.Verdict{Severity: explain.Check, Headline: "Nothing found that stops the job"}
	}
	return d
}

// testOptions are what the tests give to New.
func testOptions(store Store) Options {
	return Options{
		Store: store, Build: testSheet, Prove: testProof, Arrange: testArrangement, Version: "test",
		Starter: func(title string) (string, []byte) {
			return explain.Slug(title) + ".job.yaml", []byte("drivewright: 1\nmachine:\n  name: " + title + "\n")
		},
		Downloads: []Download{{Label: "JSON", Ending: "json", Type: "application/json", Write: func(w io.Writer, d sheet.Document) error {
			proved := slices.ContainsFunc(d.Sections, func(s sheet.Section) bool { return s.ID == "meter-sheet" })
			return json.NewEncoder(w).Encode(map[string]any{"title": d.Title, "units": d.Units.String(), "proved": proved})
		}}},
	}
}

// testProof names the circuit that it is of.
func testProof(c *circuit.Circuit) prove.Proof {
	return prove.Proof{Report: prove.Report{Faults: []prove.Fault{{Name: proofName(c)}}},
		Meter: prove.MeterSheet{Tests: []prove.Test{
			{ID: "T1", Text: "Measure from the ground bar to the door with the four-wire meter.", Expect: "less than 0.1 Ω", Band: prove.Band{Most: 0.1}, Source: explain.Practice("bonding")},
			{ID: "T2", Text: "Insulation from the supply's conductors to ground, everything electronic unplugged.", Expect: "more than 1 MΩ", Caution: "500 V on the probes: nobody touches the wiring, and afterwards it is discharged.", Source: explain.Practice("insulation")}}}}
}

// testArrangement finds nothing, at once.
func testArrangement(b box.Brief, _ box.Options) box.Result {
	return box.Result{Brief: b, Chosen: -1, Tried: triedNone(b)}
}

func proofName(c *circuit.Circuit) string {
	return fmt.Sprintf("proof of %d wires, three-wire %v", len(c.Wires), c.Drive.ThreeWire)
}

// serve runs the live sheet on a port of its own.
func serve(t testing.TB, store Store) *httptest.Server {
	t.Helper()
	h, err := New(testOptions(store))
	if err != nil {
		t.Fatal(err)
	}
	return started(t, h)
}

// started serves the handler until the test ends. Pages that are still open hold streams that never end by themselves and would
// connect anew, so the door is shut first and what is open is cut.
func started(t testing.TB, h http.Handler) *httptest.Server {
	s := httptest.NewServer(h)
	t.Cleanup(func() {
		s.Listener.Close()
		s.CloseClientConnections()
		s.Close()
	})
	return s
}
