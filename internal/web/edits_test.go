package web

import (
	"fmt"
	"testing"

	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
)

// TestEveryListOnTheSheetCanGrow: to each list to which the sheet offers to add, an item is added, twice, with names of their
// own; both read back.
func TestEveryListOnTheSheetCanGrow(t *testing.T) {
	const text = "drivewright: 1\ndevices:\n  - {tag: NEW2, kind: lamp}\n"
	lists := 0
	for _, s := range sheet.Build(plan.Make(job.Read("a.job.yaml", []byte(text))), sheet.Options{}).Sections {
		if s.Adds == "" {
			continue
		}
		lists++
		file := job.Read("a.job.yaml", []byte(text))
		before := 0
		for file.Job.Entries(fmt.Sprintf("%s[%d]", s.Adds, before)) != nil {
			before++
		}
		for range 2 {
			grown, what, err := addItem(file, request{Item: s.Adds})
			if err != nil {
				t.Fatalf("%s: %v", s.Adds, err)
			}
			if file = job.Read("a.job.yaml", grown); len(file.Problems) > 0 {
				t.Errorf("%s: %s: %s", s.Adds, what, file.Problems[0].Message.Format)
			}
		}
		names := map[string]bool{}
		key := newItems[s.Adds].key
		for n := range before + 2 {
			names[file.Typed(fmt.Sprintf("%s[%d].%s", s.Adds, n, key))] = true
		}
		if len(names) != before+2 || names[""] {
			t.Errorf("%s: got the names %v, want %d different ones", s.Adds, names, before+2)
		}
	}
	if lists != len(newItems) {
		t.Errorf("the sheet offers to add to %d lists, %d can grow", lists, len(newItems))
	}
}
