package sheet

import (
	"strings"
	"testing"

	"drivewright/internal/trade/prove"
)

// TestFunctionClaimsOnlyWhatWasFound: that no fault takes something away is said only where none was found that does, and where the circuit
// doesn't do it with nothing broken.
func TestFunctionClaimsOnlyWhatWasFound(t *testing.T) {
	for lost := prove.StartsByItself; lost <= prove.WrongWay; lost++ {
		words, known := functionWords[lost]
		if !known {
			t.Fatalf("class %d has no words", lost)
		}
		for _, row := range []struct {
			name   string
			by     []int
			whole  bool
			want   string
			claims bool
		}{
			{"no fault", nil, false, "No single fault of the 318 tried " + words.does, true},
			{"one fault", []int{4}, false, "1 of the 318 single faults tried " + words.does, false},
			{"two faults", []int{4, 7}, false, "2 of the 318 single faults tried " + words.do, false},
			{"the whole circuit", nil, true, "With nothing broken", false},
			{"the whole circuit and a fault", []int{4}, true, "With nothing broken", false},
		} {
			text := functionText(prove.Function{Lost: lost, By: row.by, Tried: 318, Whole: row.whole})
			if !strings.HasPrefix(text, row.want) || row.claims != strings.Contains(text, "No single fault") {
				t.Errorf("%s: got %q, want %q", row.name, text, row.want)
			}
		}
	}
}

// TestFaultsOfAFunctionAreNamed: the first ones by name, the others by their number.
func TestFaultsOfAFunctionAreNamed(t *testing.T) {
	r := prove.Report{Faults: []prove.Fault{{Name: "contact 13-14 of S2 (start) doesn't open"}, {Name: "cores 3 (wire 12) and 4 (wire 13) of cable W2 touch"}}}
	got := takenBy(r, prove.Function{By: []int{0, 1}})
	want := "contact 13-14 of S2 doesn't open; cores 3 (wire 12) and 4 (wire 13) of cable W2 touch"
	if got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := takenBy(r, prove.Function{By: []int{0, 0, 0, 0, 0, 0, 1, 1}}); !strings.HasSuffix(got, "; and 2 more") {
		t.Errorf("got %q, want 2 more", got)
	}
}
