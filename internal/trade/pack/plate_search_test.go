package pack

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// randomPlate is a small problem of plain rectangles, some of which may be turned and some alike, in a room that is little larger
// than they are.
func randomPlate(random *rand.Rand) *Problem {
	p := &Problem{Room: Vec{3 + random.IntN(7), 3 + random.IntN(7), 1}}
	free := p.Room[0] * p.Room[1]
	for range 2 + random.IntN(6) {
		it := Item{Size: Vec{1 + random.IntN(5), 1 + random.IntN(5), 1}, Turns: Turns(random.IntN(2))}
		for range 1 + random.IntN(2) {
			if free -= it.Size[0] * it.Size[1]; free < 0 {
				return p
			}
			p.Items = append(p.Items, it)
		}
	}
	return p
}

// TestPlateSearchesAgainstEveryPlace holds the verdict of each search of plates, brought to its end, against a look through every
// place of every rectangle.
func TestPlateSearchesAgainstEveryPlace(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 16))
	o := &Options{}
	said := map[Verdict]int{}
	for n := range 1500 {
		p := randomPlate(random)
		f, plain := plateOf(p)
		if len(p.Items) == 0 || !plain || f.cannot() != "" || len(p.Items) > 7 || f.waste > 14 {
			continue
		}
		want := Impossible
		if _, ok := tryAll(p); ok {
			want = Found
		}
		said[want]++
		check := func(search string, v Verdict, spots []spot) {
			t.Helper()
			if v != want {
				t.Fatalf("problem %d: %s says %d, want %d: %+v", n, search, v, want, *p)
			}
			if v == Found {
				if faults := Check(p, f.places(p, spots)); len(faults) > 0 {
					t.Fatalf("problem %d: %s: %v: %+v", n, search, faults, *p)
				}
			}
		}
		g := newGapSearch(f, o, 0)
		check("filling gaps", g.run(), g.spots)
		v, spots := newGapAgain(f, uint64(n)).run(o, 3000)
		if v != NotFound { // its searches are short
			check("filling gaps in haste", v, spots)
		}
		c := newColumnSearch(f, o, 0)
		check("columns", c.run(), c.spots)
		c = newColumnSearch(f.transposed(), o, 0)
		v = c.run()
		for i, s := range c.spots {
			c.spots[i].x, c.spots[i].y = s.y, s.x
		}
		check("columns of the lying plate", v, c.spots)
	}
	if said[Found] < 300 || said[Impossible] < 100 {
		t.Errorf("got %d problems with an arrangement and %d without, too few to tell", said[Found], said[Impossible])
	}
}

// TestLeastAgainstEveryPlace holds the least rooms of a few rectangles against all rooms, each looked through place by place.
func TestLeastAgainstEveryPlace(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 2))
	for n := range 150 {
		p := randomPlate(random)
		if len(p.Items) == 0 {
			continue
		}
		p.Items = p.Items[:min(4, len(p.Items))]
		fits := func(w, h int) bool {
			q := *p
			q.Room = Vec{w, h, 1}
			_, ok := tryAll(&q)
			return ok
		}
		box := 1
		for ; ; box++ {
			ok := false
			for w := 1; w <= box && !ok; w++ {
				ok = box%w == 0 && fits(w, box/w)
			}
			if ok {
				break
			}
		}
		if l := LeastBox(p, Options{}); l.Size != box || l.Lower != box {
			t.Errorf("problem %d: least area %d, at least %d, want %d: %+v", n, l.Size, l.Lower, box, *p)
		} else if p.Room = l.Room; len(Check(p, l.Places)) > 0 || l.Room[0]*l.Room[1] != l.Size {
			t.Errorf("problem %d: the arrangement isn't right: %v", n, Check(p, l.Places))
		}
		width := 5 + random.IntN(4)
		height := 1
		for !fits(width, height) {
			height++
		}
		p.Room = Vec{width, 0, 1}
		if l := LeastStrip(p, Options{}); l.Size != height || l.Lower != height {
			t.Errorf("problem %d: least height %d, at least %d, want %d: %+v", n, l.Size, l.Lower, height, *p)
		}
	}
}

// TestLeastStopsAndRepeats checks that a search that is stopped says so, and that the same steps give the same answer.
func TestLeastStopsAndRepeats(t *testing.T) {
	p := squares(19)
	better, asked := 0, 0
	l := LeastBox(p, Options{
		Watch: func(Answer) { better++ },
		Stop: func() bool {
			if better > 0 {
				asked++
			}
			return asked > 40
		},
	})
	if l.Verdict != Found || l.Lower >= l.Size || l.Lower < 2470 {
		t.Errorf("stopped: verdict %d, area %d, at least %d; want an area found and a lower bound from 2470, the squares' own area", l.Verdict, l.Size, l.Lower)
	}
	a, b := LeastBox(p, Options{Seed: 3, Steps: 200_000}), LeastBox(p, Options{Seed: 3, Steps: 200_000})
	if fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("the same steps gave %v and %v", a, b)
	}
}

// TestLeastOfWhatIsntPlain checks that nothing is said of problems that ask for more.
func TestLeastOfWhatIsntPlain(t *testing.T) {
	p := squares(4)
	p.Items[0].Air[Left] = 1
	if l := LeastBox(p, Options{}); l.Verdict != NotFound || l.Why == "" {
		t.Errorf("with air: verdict %d, %q; want no verdict and a reason", l.Verdict, l.Why)
	}
	if l := LeastStrip(&Problem{Room: Vec{3, 0, 1}, Items: squares(4).Items}, Options{}); l.Verdict != Impossible {
		t.Errorf("a square wider than the strip: verdict %d, want impossible", l.Verdict)
	}
}

// squares are the squares of sides 1 to n.
func squares(n int) *Problem {
	p := &Problem{}
	for side := n; side > 0; side-- {
		p.Items = append(p.Items, Item{Size: Vec{side, side, 1}})
	}
	return p
}
