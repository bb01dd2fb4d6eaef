package sheet

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
)

// binderFixture is a document by hand, long enough to break over pages: every kind of block, every severity and origin, a table
// of 80 rows, two figures of which one is at true scale with a bar of 100 mm, and the characters of the trade.
func binderFixture(paper Paper) Document {
	units := quantity.InchUnits
	given := func(name, typed string, v quantity.Value, line int) *explain.Reason {
		return &explain.Reason{Name: name, Value: v, Typed: typed, Origin: explain.Given, Path: "motor." + explain.Slug(name),
			Span: explain.Span{File: "engine-lathe.job.yaml", Line: line, Column: 12, Start: 10, End: 20}}
	}
	plate := given("nameplate current", "13.2/6.6 A", quantity.Currents{13.2, 6.6}, 31)
	power := given("nameplate power", "5 hp", 5*quantity.Horsepower, 29)
	share := &explain.Reason{Name: "share for continuous duty", Value: quantity.Ratio(1.25), Origin: explain.Looked, Source: explain.NEC("430.122(A)")}
	input := &explain.Reason{Name: "drive input current", Value: 27.5 * quantity.Ampere, Origin: explain.Derived,
		Words: "{motor current} × {ratio of input to output}", Source: explain.Practice("drive data sheets").Remembered(),
		Inputs: []explain.Input{{As: "motor current", Reason: plate}, {As: "ratio of input to output",
			Reason: &explain.Reason{Name: "ratio of input to output", Value: quantity.Factor(2.08), Origin: explain.Assumed,
				Note: explain.Say("single-phase rectifiers draw about twice the motor's current; enter your data sheet's")}}}}
	least := &explain.Reason{Name: "least branch ampacity", Value: 34.4 * quantity.Ampere, Origin: explain.Derived, Words: "{drive input current} × {share for continuous duty}",
		Formula: "drive-conductor-current", Source: explain.NEC("430.122(A)"),
		Inputs: []explain.Input{{As: input.Name, Reason: input}, {As: share.Name, Reason: share}}}
	conductor := &explain.Reason{Name: "branch conductor", Value: quantity.AWG(8), Origin: explain.Derived, Words: "smallest conductor that carries {least branch ampacity} as installed",
		Source: explain.NEC("Table 310.16"), Inputs: []explain.Input{{As: least.Name, Reason: least}}}
	warm := &explain.Reason{Name: "warmest shop temperature", Value: quantity.Celsius(40), Origin: explain.Assumed, Note: explain.Say("{} until you write yours", quantity.Celsius(40))}
	losses := &explain.Reason{Name: "drive losses", Value: 150 * quantity.Watt, Origin: explain.Catalogue, Source: explain.Source{Work: "typical part", Place: "drive, 5 hp, 240 V single-phase input"},
		Note: explain.Say("a typical figure: enter your data sheet's")}
	fault := &explain.Reason{Name: "available fault current at the panel", Origin: explain.Missing, Note: explain.Say("needs the utility's figure, or the transformer's rating and impedance")}
	row := func(r *explain.Reason, summary string, findings ...int) Value {
		return Value{ID: r.ID(), Label: r.Name, Text: r.Show(units), Origin: r.Origin, Path: r.Path, Typed: r.Typed, Reason: r, Summary: summary, Findings: findings}
	}
	var rows [][]string
	for n := range 80 {
		size := float64(n+1) / 2
		rows = append(rows, []string{fmt.Sprintf("step %d", n+1), fmt.Sprintf("%.1f Hz", size), fmt.Sprintf("%.0f rpm", size*30*0.96), fmt.Sprintf("%.2f", size/40),
			[]string{"short times only", "with a fan of its own", "all day", "the pull-out torque falls with the square of the frequency here"}[n*4/80]})
	}
	scale := drawing.Figure{ID: "check-bar", Title: "Check bar", Alt: "a bar of 100 mm, to be measured", Width: 140, Height: 20, TrueScale: true, Items: []drawing.Item{
		drawing.Line{Points: []drawing.Point{{X: 20, Y: 8}, {X: 120, Y: 8}, {X: 120, Y: 10}, {X: 20, Y: 10}}, Closed: true, Filled: true},
		drawing.Words{At: drawing.Point{X: 70, Y: 16}, Text: "100 mm", Size: 3.5, Anchor: drawing.Middle},
	}}
	path := drawing.SingleLine(drawing.Path{ID: "power-path", Title: "From the utility to the motor", Alt: "utility, 40 A breaker, main switch, drive, motor", Ground: "10 AWG", Width: 165,
		Parts: []drawing.PathPart{
			{Kind: drawing.Utility, Tag: "utility", Labels: []string{"120/240 V 1-phase"}}, {Kind: drawing.Conductor, Wires: 2},
			{Kind: drawing.Breaker, Tag: "panel breaker", Labels: []string{"40 A, 2-pole"}, Group: "panel"},
			{Kind: drawing.Conductor, Wires: 2, Labels: []string{"8 AWG copper, 35 ft"}},
			{Kind: drawing.Switch, Tag: "main switch", Labels: []string{"40 A"}, Group: "control box"},
			{Kind: drawing.DriveSymbol, Tag: "drive", Labels: []string{"5 hp, 240 V 1-phase", "15.2 A out"}, Group: "control box"},
			{Kind: drawing.Conductor, Wires: 3, Labels: []string{"12 AWG, 10 ft"}},
			{Kind: drawing.ThreePhaseMotor, Tag: "motor", Labels: []string{"5 hp, 13.2 A"}},
		}})
	return Document{
		Title: "Engine lathe, 13 in × 40 in", Subtitle: "Survey and power, by the National Electrical Code, 2023", File: "engine-lathe.job.yaml", Units: units, Paper: paper,
		Date: "2026-11-25", Version: "0.1",
		Verdict: Verdict{explain.Must, "Not yet: 2 things must change before parts are bought",
			"1 danger, 1 must, 1 check, 1 note to read below, gravest first. The sheet says what it checked and found; local codes and a licensed electrician have the last word."},
		Findings: []Finding{
			{Rule: "restart-after-power-returns", Title: "starts by itself", Severity: explain.Danger, Message: "the run command is a maintained switch: after a power cut the spindle starts by itself",
				Remedy: "use start and stop buttons with three-wire control, or set the drive to need a fresh start", Why: "the chuck comes to life while a hand is on the key", Source: "NFPA 79, 2021, 7.5.3", Place: "engine-lathe.job.yaml:52:10", ValueID: ""},
			{Rule: "branch-conductor-too-small", Title: "conductor too small", Severity: explain.Must, Message: "10 AWG carries 30 A here, 34.4 A is asked for", Remedy: "pull 8 AWG copper (40 A at 60 °C terminals)",
				Why: "the insulation bakes inside the wall", Source: "NFPA 70, 2023, 430.122(A)", Place: "engine-lathe.job.yaml:18:14", ValueID: "least-branch-ampacity"},
			{Rule: "warm-shop", Title: "temperature assumed", Severity: explain.Check, Message: "the warmest shop temperature is assumed", Remedy: "measure it on a hot afternoon", Why: "every 10 K halves the life of a capacitor",
				Source: "common practice", ValueID: "warmest-shop-temperature", Accepted: "the shop is a cellar, never above 75 °F"},
			{Rule: "fault-current-unknown", Title: "fault current not known", Severity: explain.Note, Message: "the available fault current isn't known", Remedy: "ask the utility", Why: "a breaker that can't break it bursts", ValueID: "available-fault-current-at-the-panel"},
		},
		Sections: []Section{
			{ID: "survey", Title: "Survey", Level: 1, Lead: "What is there, as it was written down. Everything below follows from it.", Blocks: []Block{
				Values{Title: "Motor", Rows: []Value{row(power, "given"), row(plate, "given"), row(warm, "assumed: 40 °C until you write yours", 2)}},
				Caution{explain.Danger, "Some feeds stay live with the main switch off: the lamp is fed ahead of it. Lock the panel breaker off as well."},
				Paragraph{"Old insulation is measured before anything is joined: 500 V, ≥ 1 MΩ to run at all, ≥ 5 MΩ wanted; 2.5 mm² → 14 AWG, ½ in knock-outs, √3 × 230 V ≈ 398 V, a gap of 50 µm — and note the readings."},
			}},
			{ID: "power", Title: "Power", Level: 1, Lead: "From the wall to the motor."},
			{ID: "power-path", Title: "The path of the power", Level: 2, Blocks: []Block{Figure{Figure: path}}},
			{ID: "branch-circuit", Title: "Branch circuit", Level: 2, Lead: "The wire from the breaker to the drive is sized by the drive's input current, not by the motor's.", Blocks: []Block{
				Values{Title: "Conductor", Rows: []Value{row(input, least.Figures(units)), row(least, least.Figures(units), 1), row(conductor, "smallest that carries 34.4 A"), row(losses, "typical part; enter your data sheet's figure"),
					row(fault, "needs the utility's figure, or the transformer's rating and impedance", 3)}},
				Table{Title: "Sizes looked at", Head: []string{"size", "ampacity at 75 °C", "as installed", "asked for", "verdict"}, Numeric: []bool{false, true, true, true, false},
					Rows:   [][]string{{"12 AWG", "25 A", "20 A", "34.4 A", "too small: small-conductor limit"}, {"10 AWG", "35 A", "30 A", "34.4 A", "too small"}, {"8 AWG", "50 A", "40 A", "34.4 A", "passes"}},
					Chosen: 2, Note: "Copper, 60 °C terminals, three conductors in the raceway."},
				Numbered{Title: "Ways out", Items: []string{"pull 8 AWG through the same ½ in conduit, if the fill allows it", "move the machine nearer to the panel", "fit a line choke: it takes about 15 % off the input current"}},
			}},
			{ID: "speeds", Title: "Speeds and what they ask of the motor", Level: 2, Lead: "A long table, to see how it breaks.", Blocks: []Block{
				Table{Title: "Every half hertz", Head: []string{"step", "frequency", "shaft speed", "share of plate speed", "how long"}, Numeric: []bool{false, true, true, true, false}, Rows: rows, Chosen: 37},
			}},
			{ID: "before-hands", Title: "Before hands go in", Level: 2, Blocks: []Block{
				Caution{explain.Danger, "The DC link holds its charge after the power is off. Wait, then measure."},
				Ticks{Title: "At the box", Items: []Tick{{Text: "Meter proved on a known live source"}, {Text: "Main switch off, padlock on, key in your own pocket"}, {Text: "Waited", Expect: "at least 5 min"},
					{Text: "Measured DC+ to DC−", Expect: "below 30 V"}, {Text: "Each motor lead to the frame with the drive unplugged, at 500 V for one minute", Expect: "5 MΩ or more"}}},
				Caution{explain.Check, "A meter with a flat battery reads 0 V."},
				Figure{Figure: scale},
			}},
		},
	}
}
