package sheet

import (
	"fmt"
	"slices"
	"testing"
)

// TestLongNarrowTableStandsSideBySide: no row is lost or said twice, and the upper half is read before the lower one; counted by hand.
func TestLongNarrowTableStandsSideBySide(t *testing.T) {
	narrow := Table{Head: []string{"terminal", "what it is"}, Numeric: []bool{false, false}, Chosen: -1}
	for n := range 13 {
		narrow.Rows = append(narrow.Rows, []string{fmt.Sprint("T", n), fmt.Sprint("does ", n)})
	}
	wide := sideBySide(narrow)
	if len(wide.Rows) != 7 || len(wide.Head) != 4 || len(wide.Numeric) != 4 {
		t.Fatalf("13 rows of 2 became %d of %d", len(wide.Rows), len(wide.Head))
	}
	if want := []string{"T0", "does 0", "T7", "does 7"}; !slices.Equal(wide.Rows[0], want) {
		t.Errorf("got %q first, want %q", wide.Rows[0], want)
	}
	if want := []string{"T6", "does 6", "", ""}; !slices.Equal(wide.Rows[6], want) {
		t.Errorf("got %q last, want %q", wide.Rows[6], want)
	}
	if short := (Table{Head: narrow.Head, Rows: narrow.Rows[:5]}); len(sideBySide(short).Rows) != 5 {
		t.Error("a short table is cut")
	}
}
