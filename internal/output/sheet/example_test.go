package sheet_test

import (
	"fmt"
	"os"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/sheet"
)

// Each writer takes the same document.
func ExampleWriteText() {
	d := sheet.Document{Title: "Pillar drill", Subtitle: "Power", File: "drill.job.yaml",
		Verdict:  sheet.Verdict{Severity: explain.Must, Headline: "Not yet: 1 thing must change before parts are bought"},
		Findings: []sheet.Finding{{Rule: "conductor-too-small", Severity: explain.Must, Message: "14 AWG carries 15 A here, 21.3 A is asked for", Remedy: "pull 10 AWG"}},
		Sections: []sheet.Section{{Title: "Branch circuit", Level: 1, Blocks: []sheet.Block{
			sheet.Values{Rows: []sheet.Value{{ID: "least-ampacity", Label: "least ampacity", Text: "21.3 A", Origin: explain.Derived, Summary: "17 A × 125 %", Findings: []int{0}}}},
			sheet.Ticks{Items: []sheet.Tick{{Text: "Breaker off and locked"}, {Text: "Between the lines", Expect: "0 V"}}},
		}}}}
	if err := sheet.WriteText(os.Stdout, d, 72, false); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Pillar drill
	// Power
	// drill.job.yaml · drivewright · inch units
	//
	// ◆ Not yet: 1 thing must change before parts are bought
	//
	// What was found
	// ══════════════
	// ◆ must    14 AWG carries 15 A here, 21.3 A is asked for
	//           Do: pull 10 AWG
	//           [conductor-too-small]
	//
	// Branch circuit
	// ══════════════
	//   least ampacity  21.3 A  17 A × 125 % → must [conductor-too-small]
	//
	// [ ] Breaker off and locked
	// [ ] Between the lines (expect 0 V) ________
}
