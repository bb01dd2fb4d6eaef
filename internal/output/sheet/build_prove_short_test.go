package sheet

import (
	"strings"
	"testing"

	"drivewright/internal/trade/prove"
)

// TestShortClaimsOnlyWhatWasFound: what is said that no fault does goes away with the first fault that does it, and with a circuit
// that does it with nothing broken.
func TestShortClaimsOnlyWhatWasFound(t *testing.T) {
	for _, l := range lossWords {
		harmless := prove.Report{Faults: []prove.Fault{{Name: "wire 9 is off", Class: prove.Harmless}}}
		if text := inShort(harmless); !strings.Contains(text, l.words) {
			t.Errorf("no fault %s, and it isn't said: %s", l.words, text)
		}
		broken := prove.Report{Faults: []prove.Fault{{Name: "wire 7 is off", Class: l.class}}}
		if text := inShort(broken); strings.Contains(text, l.words) {
			t.Errorf("a fault %s: %s", l.words, text)
		}
		whole := prove.Report{Whole: []prove.Fault{{Class: l.class}}, Faults: harmless.Faults}
		if text := inShort(whole); strings.Contains(text, l.words) {
			t.Errorf("the whole circuit %s: %s", l.words, text)
		}
	}
	// A fault that starts the machine by itself may take the emergency stop away too: it stands in the worse class only.
	masking := prove.Report{Faults: []prove.Fault{{Name: "wire 7 is off", Class: prove.StartsByItself}}}
	if text := inShort(masking); strings.Contains(text, "none of") {
		t.Errorf("claimed beside a fault of a worse class: %s", text)
	}
}
