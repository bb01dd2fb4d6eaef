package drawing

import (
	"fmt"
	"strings"
	"testing"
)

// Wherever the probes stand in however long a row: both are drawn if one picture can hold them, on terminals of their own names,
// and nothing sticks out of the picture or lies upon another name.
func TestProbes(t *testing.T) {
	names := func(n int) []string {
		var list []string
		for i := range n {
			list = append(list, []string{fmt.Sprint(i + 1), "A1", "reference +", "PE", "24V", "0 V screen"}[i%6])
		}
		return list
	}
	for _, n := range []int{1, 2, 3, 6, 7, 8, 13, 40} {
		for a := range n {
			for b := a; b < n; b++ {
				r := ProbeRow{ID: "p", Title: "probes", Terminals: names(n), Probes: []ProbeAt{{a, "1"}}}
				if b > a {
					r.Probes = append(r.Probes, ProbeAt{b, "2"})
				}
				first, end, ok := ProbeWindow(n, r.Probes)
				if ok != (n <= probeMost || b-a < probeMost) || ok && (first > a || end <= b || first < 0 || end > n || end-first > probeMost) {
					t.Fatalf("%d terminals, probes at %d and %d: from %d to %d, %v", n, a, b, first, end, ok)
				}
				f := Probes(r)
				heads := 0
				var set []Words
				for _, item := range f.Items {
					w, words := item.(Words)
					if !words {
						continue
					}
					box := w.Bounds()
					if box.Left < -0.01 || box.Top < -0.01 || box.Right > f.Width+0.01 || box.Bottom > f.Height+0.01 {
						t.Errorf("%d, %d, %d: %q sticks out: %v", n, a, b, w.Text, box)
					}
					if w.Ink == Paper {
						heads++
						continue
					}
					for _, o := range set {
						other := o.Bounds()
						if box.Left < other.Right && other.Left < box.Right && box.Top < other.Bottom && other.Top < box.Bottom {
							t.Errorf("%d, %d, %d: %q lies upon %q", n, a, b, w.Text, o.Text)
						}
					}
					set = append(set, w)
				}
				want := 1
				if ok && b > a {
					want = 2
				}
				if heads != want || !strings.Contains(f.Alt, fmt.Sprintf("probe 1 on terminal %s, the %s of %d", r.Terminals[a], nth(a+1), n)) {
					t.Errorf("%d, %d, %d: %d probes are drawn, want %d; %s", n, a, b, heads, want, f.Alt)
				}
			}
		}
	}
}

func TestNth(t *testing.T) {
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 13: "13th", 21: "21st", 22: "22nd", 103: "103rd", 111: "111th"} {
		if got := nth(n); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}
