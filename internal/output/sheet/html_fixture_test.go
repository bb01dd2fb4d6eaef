package sheet

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
)

// pageFixture is a document by hand with every kind of block, a chain of reasons that goes below the sheet, a value that stands
// in two places, and texts that would break a page which didn't escape them.
func pageFixture() Document {
	given := &explain.Reason{Name: "motor current on the plate", Value: quantity.Currents{13.4, 6.7}, Typed: "13.4/6.7 A", Origin: explain.Given,
		Span: explain.Span{File: "lathe.job.yaml", Line: 12, Column: 12, Start: 100, End: 110}, Path: "motor.current"}
	share := &explain.Reason{Name: "share for continuous duty", Value: quantity.Ratio(1.25), Origin: explain.Looked, Source: explain.NEC("430.122(A)")}
	input := &explain.Reason{Name: "drive input current", Value: 23 * quantity.Ampere, Origin: explain.Derived, Words: "{motor current on the plate} × {share for continuous duty}",
		Inputs: []explain.Input{{As: given.Name, Reason: given}, {As: share.Name, Reason: share}}, Source: explain.Physics("definition")}
	least := &explain.Reason{Name: "least branch ampacity", Value: 28.75 * quantity.Ampere, Origin: explain.Derived, Words: "{drive input current} × {share for continuous duty}",
		Inputs:  []explain.Input{{As: input.Name, Reason: input}, {As: share.Name, Reason: share}},
		Formula: "branch-ampacity", Source: explain.NEC("430.122(A)").Remembered()}
	warm := &explain.Reason{Name: "warmest shop temperature", Value: quantity.Celsius(30), Origin: explain.Assumed, Path: "shop.warmest",
		Note: explain.Say("{} is a warm day; write yours", quantity.Celsius(30))}
	dust := &explain.Reason{Name: "dust", Origin: explain.Missing, Path: "shop.dust", Note: explain.Say("say what flies about")}
	name := &explain.Reason{Name: "machine name", Value: quantity.Text(`lathe </script><script>alert("1")</script> & son`), Origin: explain.Given,
		Typed: `lathe </script><script>alert("1")</script> & son`, Span: explain.Span{File: "lathe.job.yaml", Line: 3}, Path: "machine.name"}
	row := func(r *explain.Reason, more func(*Value)) Value {
		v := Value{ID: r.ID(), Label: r.Name, Text: r.Show(quantity.InchUnits), Origin: r.Origin, Path: r.Path, Typed: r.Typed, Reason: r, Summary: r.Figures(quantity.InchUnits)}
		if more != nil {
			more(&v)
		}
		return v
	}
	return Document{
		Title: `lathe </script><script>alert("1")</script> & son`, Subtitle: "Survey and power", File: "lathe.job.yaml", Units: quantity.InchUnits,
		Paper: A4, Date: "2026-11-25", Version: "0",
		Verdict: Verdict{explain.Danger, "Do not build it like this: 1 danger found", "Read what was found."},
		Sections: []Section{
			{ID: "survey", Title: "Survey", Level: 1, Lead: "What is there.", Blocks: []Block{
				Values{Rows: []Value{row(name, nil), row(given, nil), row(warm, func(v *Value) { v.Findings = []int{1} }),
					row(dust, func(v *Value) { v.Choices = []string{"clean", "wood", "metal"}; v.Help = "what flies about" })}},
				Caution{explain.Danger, "Live even with the switch off."},
				Values{Title: "Not written down", Unwritten: true, Rows: []Value{{ID: "altitude", Label: "altitude", Text: "not known", Origin: explain.Missing, Path: "shop.altitude"}}},
			}},
			{ID: "branch-circuit", Title: "Branch circuit", Level: 2, Lead: "From the breaker to the drive.", Adds: "loads", Blocks: []Block{
				Values{Title: "Conductor", Rows: []Value{row(least, func(v *Value) { v.Findings = []int{0} })}},
				Table{Title: "Sizes", Head: []string{"size", "ampacity", "asked for", "verdict"}, Numeric: []bool{false, true, true, false},
					Rows: [][]string{{"12 AWG", "20 A", "28.8 A", "too small"}, {"10 AWG", "30 A", "28.8 A", "passes"}}, Chosen: 1, Note: "Copper at 60 °C."},
				Figure{Figure: drawing.Figure{ID: "path", Title: "From the wall to the motor", Alt: "breaker, drive, motor", Width: 120, Height: 40, Items: []drawing.Item{
					drawing.Line{Points: []drawing.Point{{X: 5, Y: 20}, {X: 115, Y: 20}}}, drawing.Circle{Centre: drawing.Point{X: 110, Y: 20}, Radius: 5},
					drawing.Words{At: drawing.Point{X: 20, Y: 15}, Text: "10 AWG <cu>", Size: 3}}}},
				Numbered{Title: "Ways out", Items: []string{"rewind", "transformer"}},
				Ticks{Title: "Before a hand goes in", Items: []Tick{{Text: "Main switch off"}, {Text: "Waited", Expect: "5 min"}}},
				Paragraph{"A paragraph with ½ in, 2.5 mm² & Ω."},
			}},
			{ID: "again", Title: "Once more", Level: 2, Blocks: []Block{Values{Rows: []Value{row(given, func(v *Value) { v.Findings = []int{0} })}}}},
		},
		Findings: []Finding{
			{Rule: "breaker-too-small", Title: "breaker trips", Why: "it trips", Severity: explain.Danger, Message: "30 A is asked for", Remedy: "fit 40 A", Source: "NFPA 70", Place: "lathe.job.yaml:12:12", ValueID: "least-branch-ampacity"},
			{Rule: "warm-shop", Title: "warm", Why: "heat", Severity: explain.Check, Message: "temperature is assumed", Remedy: "measure it", ValueID: "warmest-shop-temperature"},
			{Rule: "warm-shop", Title: "warm", Why: "heat", Severity: explain.Note, Message: "once more", Accepted: "the shop is a cellar"},
		},
	}
}
