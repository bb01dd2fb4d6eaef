package pack

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// leastFamilies are the folders of testdata whose instances ask for a least room, with plain facts of published instances:
//
//	squares-box     least area of squares 1..n: OEIS A081287 and A038666, Korf (2003, 2004), Huang and Korf (2009)
//	korf-rect       1x2, 2x3, ... turned freely: Korf, Moffitt, Pollack (2010); 1xn, 2x(n-1), ... as they are: Huang, Korf (2010); least
//	                areas by another solver
//	hopper-turton   strips cut out of a full rectangle: Hopper and Turton (2001)
//	hopper-NT       the same: Hopper (2000)
//	burke           the same: Burke, Kendall, Whitwell (2004), Jakobs (1996)
//	beng            strips: Bengtsson (1982)
//	ngcut           strips: Beasley (1985)
var leastFamilies = []string{"squares-box", "korf-rect", "hopper-turton", "hopper-NT", "burke", "beng", "ngcut"}

// perfect are squared squares and rectangles, of Duijvestijn, Bouwkamp and others; the table of CSPLib's problem 9.
const perfect = "perfect"

// TestPublishedLeastRooms compares least areas and heights, all proved, with the published ones.
func TestPublishedLeastRooms(t *testing.T) {
	for _, family := range leastFamilies {
		list, _ := instances(t, family)
		for n, in := range list {
			t.Run(in.Name, func(t *testing.T) {
				want := optima(t, family)[n]
				l := leastOf(in, Options{})
				if l.Size != want || l.Lower != want {
					t.Errorf("size %d, at least %d, want %d", l.Size, l.Lower, want)
				}
				p := in.In(l.Room)
				if faults := Check(&p, l.Places); len(faults) > 0 {
					t.Error("the arrangement isn't right:", faults)
				}
			})
		}
	}
}

// optima are the known sizes of a family's instances, in the order of instances.
func optima(t *testing.T, family string) (sizes []int) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("testdata", family, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var k struct{ Known struct{ Optimum int } }
		if err := json.Unmarshal(text, &k); err != nil {
			t.Fatal(file, err)
		}
		sizes = append(sizes, k.Known.Optimum)
	}
	return sizes
}

func leastOf(in *Instance, o Options) Least {
	if in.Task == StripTop {
		return LeastStrip(&in.Problem, o)
	}
	return LeastBox(&in.Problem, o)
}

// TestSquaredSquares fills each with its squares.
func TestSquaredSquares(t *testing.T) {
	list, _ := instances(t, perfect)
	for _, in := range list {
		t.Run(in.Name, func(t *testing.T) {
			p := in.In(in.Room)
			f, _ := plateOf(&p)
			a := (&plateSearch{f: f, o: &Options{}}).run(&p, 1<<23)
			if a.Verdict != Found {
				t.Fatalf("verdict %d (%s), want found", a.Verdict, a.Why)
			}
			if faults := Check(&p, a.Places); len(faults) > 0 {
				t.Error("the arrangement isn't right:", faults)
			}
		})
	}
}

// BenchmarkLeast takes the time of each family's instances, all proved: beside it stands what another solver, clause learning in
// C++, took for the whole: squares 1 to 13 within 1 s and 1 to 17 in 4 s, 1x2 to 11x12 within 1 s.
func BenchmarkLeast(b *testing.B) {
	for _, family := range leastFamilies {
		list, _ := instances(b, family)
		for _, in := range list {
			b.Run(family+"/"+in.Name, func(b *testing.B) {
				for b.Loop() {
					if l := leastOf(in, Options{}); l.Lower != l.Size {
						b.Fatal("not proved")
					}
				}
			})
		}
	}
}

// BenchmarkSquaredSquares takes the time to fill each; clause learning in C++ filled none of 21 squares or more in 8 s.
func BenchmarkSquaredSquares(b *testing.B) {
	list, _ := instances(b, perfect)
	for _, in := range list {
		b.Run(in.Name, func(b *testing.B) {
			p := in.In(in.Room)
			f, _ := plateOf(&p)
			for b.Loop() {
				if a := (&plateSearch{f: f, o: &Options{}}).run(&p, 1<<23); a.Verdict != Found {
					b.Fatal(a.Why)
				}
			}
		})
	}
}
