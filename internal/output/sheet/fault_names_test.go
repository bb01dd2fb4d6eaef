package sheet

import "testing"

func TestToldTogether(t *testing.T) {
	for _, c := range []struct {
		names []string
		words bool
		want  string
	}{
		{[]string{"wire L1 (X:1 to Q1:1) is off", "terminals 1 and 2 of X1 touch", "wire 2a (S1:12 to S2:13) is off", "cores 1 and 2 of cable W1 touch", "terminals 3 and 4 of X1 touch"}, false,
			"is off: wire L1, 2a; touch: terminals 1 and 2 of X1, cores 1 and 2 of cable W1, terminals 3 and 4 of X1"},
		{[]string{"contact 11-12 of S1 (stop button, door) doesn't open"}, true, "contact 11-12 of S1 (stop button, door) doesn't open"},
		{[]string{"contact 11-12 of S1 (stop button) doesn't open", "contact 21-22 of S2 (guard) doesn't open"}, true, "doesn't open: contact 11-12 of S1 (stop button), 21-22 of S2 (guard)"},
		{[]string{"something new", "something else"}, true, "something new; something else"},
		{nil, true, ""},
	} {
		if got := toldTogether(c.names, c.words); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}
