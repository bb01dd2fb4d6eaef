package sheet

import "testing"

// TestWhatIsHeldIsSaid: what a hand does by the rule of the script's words: a press lasts until it is let go, an emergency stop that is pushed in
// until it is pulled out, a guard until it is closed.
func TestWhatIsHeldIsSaid(t *testing.T) {
	var s leftSo
	for _, step := range []struct{ action, want string }{
		{"press stop (S1)", "press stop (S1)"},
		{"press start (S3)", "press start (S3), with stop (S1) held"},
		{"let go of start (S3)", "let go of start (S3), with stop (S1) held"},
		{"let go of stop (S1)", "let go of stop (S1)"},
		{"push emergency stop (S5) in", "push emergency stop (S5) in"},
		{"press start (S3)", "press start (S3), with emergency stop (S5) still in"},
		{"let go of start (S3)", "let go of start (S3), with emergency stop (S5) still in"},
		{"pull emergency stop (S5) out again", "pull emergency stop (S5) out again"},
		{"open the guard (S7)", "open the guard (S7)"},
		{"turn direction (S4) to reverse", "turn direction (S4) to reverse, with the guard (S7) still open"},
		{"close the guard (S7)", "close the guard (S7)"},
	} {
		if got := s.after(step.action); got != step.want {
			t.Errorf("got %q, want %q", got, step.want)
		}
	}
}
