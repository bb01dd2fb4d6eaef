package pack

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// tryAll looks through every place of every item in every turn, by Check alone. It shares nothing with the searches.
func tryAll(p *Problem) ([]Place, bool) {
	spots, agree := everyPlace(p)
	chosen := make([]int, 0, len(p.Items))
	var next func() bool
	next = func() bool {
		n := len(chosen)
		if n == len(p.Items) {
			return true
		}
	spot:
		for i := range spots[n] {
			for b, j := range chosen {
				if !agree[n][b][i][j] {
					continue spot
				}
			}
			chosen = append(chosen, i)
			if next() {
				return true
			}
			chosen = chosen[:n]
		}
		return false
	}
	if !next() {
		return nil, false
	}
	places := make([]Place, len(chosen))
	for n, i := range chosen {
		places[n] = spots[n][i]
	}
	return places, len(Check(p, places)) == 0
}

// everyPlace returns the places that each item may take by itself, and which places of each two items agree, whatever the others do:
// agree[a][b][i][j] for b before a.
func everyPlace(p *Problem) (spots [][]Place, agree [][][][]bool) {
	spots = make([][]Place, len(p.Items)) // where each item may lie by itself
	for n := range p.Items {
		alone := Problem{Room: p.Room, Open: p.Open, Items: p.Items[n : n+1], Blocks: p.Blocks}
		for turn := AsGiven; turn <= TurnZXY && (p.Room[2] > 1 || turn <= Quarter); turn++ {
			for x := range p.Room[0] {
				for y := range p.Room[1] {
					for z := range p.Room[2] {
						place := Place{Vec{x, y, z}, turn}
						if mayTurn(&p.Items[n], turn) && len(Check(&alone, []Place{place})) == 0 {
							spots[n] = append(spots[n], place)
						}
					}
				}
			}
		}
	}
	// Two items' places agree or don't, whatever the others do.
	agree = make([][][][]bool, len(p.Items))
	for a := range p.Items {
		agree[a] = make([][][]bool, a)
		for b := range a {
			two := Problem{Room: p.Room, Open: p.Open, Items: []Item{p.Items[a], p.Items[b]}}
			for _, apart := range p.Aparts {
				if apart.A == a && apart.B == b || apart.A == b && apart.B == a {
					two.Aparts = append(two.Aparts, Apart{0, 1, apart.Distance})
				}
			}
			for _, x := range spots[a] {
				row := make([]bool, len(spots[b]))
				for m, y := range spots[b] {
					row[m] = len(Check(&two, []Place{x, y})) == 0
				}
				agree[a][b] = append(agree[a][b], row)
			}
		}
	}
	return spots, agree
}

// randomProblem makes a small problem that asks for something of everything.
func randomProblem(r *rand.Rand, solid bool) Problem {
	return randomOf(r, solid, 4, 3, 2+r.IntN(3))
}

// randomOf makes a problem of so many items, or copies of them, with sides up to longest, in a room with sides of at least side.
func randomOf(r *rand.Rand, solid bool, side, longest, items int) Problem {
	p := Problem{Room: Vec{side + r.IntN(side+1), side + r.IntN(side+1), 1}}
	if solid {
		p.Room = Vec{2 + r.IntN(4), 2 + r.IntN(3), 2 + r.IntN(3)}
	}
	for side := range p.Open {
		p.Open[side] = r.IntN(4) == 0
	}
	most := longest
	if solid {
		most = 2
	}
	rails := r.IntN(3) == 0
	for range items {
		it := Item{Size: Vec{1 + r.IntN(most), 1 + r.IntN(most), 1}}
		if solid {
			it.Size[2] = 1 + r.IntN(most)
		}
		switch {
		case r.IntN(3) == 0:
		case solid:
			it.Turns = AllTurns
		default:
			it.Turns = QuarterTurns
		}
		it.AirStays = r.IntN(4) == 0
		if r.IntN(2) == 0 {
			for side := range 4 {
				it.Air[side] = max(0, r.IntN(4)-1)
			}
			if solid {
				it.Air[Back], it.Air[Front] = r.IntN(2), r.IntN(2)
			}
		}
		if rails && r.IntN(2) == 0 {
			it.Rail = 1 + r.IntN(2)
			it.Size[1] = 1 + 2*r.IntN(2)
		}
		switch r.IntN(12) {
		case 0:
			it.Fixed = &Place{At: Vec{r.IntN(p.Room[0]), r.IntN(p.Room[1]), 0}}
		case 1:
			it.From = Vec{r.IntN(2), r.IntN(2), 0}
		case 2:
			it.To = Vec{1 + r.IntN(3), r.IntN(3), r.IntN(p.Room[2])}
		}
		p.Items = append(p.Items, it)
		if r.IntN(3) == 0 {
			p.Items = append(p.Items, it) // a copy, so that equal items occur
		}
	}
	p.Items = p.Items[:min(len(p.Items), items+1)]
	if r.IntN(4) == 0 {
		p.Blocks = append(p.Blocks, Block{Vec{r.IntN(p.Room[0]), r.IntN(p.Room[1]), 0}, Vec{1, 1 + r.IntN(2), 1}})
	}
	if r.IntN(3) == 0 {
		p.Aparts = append(p.Aparts, Apart{0, 1 + r.IntN(len(p.Items)-1), 1 + r.IntN(3)})
	}
	return p
}

// scaled returns the problem with all lengths so many times as large, and a room that is no multiple of them.
func scaled(p Problem, by, more int) Problem {
	times := func(v Vec) Vec { return Vec{v[0] * by, v[1] * by, v[2]} }
	q := p
	q.Room = times(p.Room)
	q.Room[0] += more
	q.Room[1] += more
	q.Items = nil
	for _, it := range p.Items {
		it.Size, it.From = times(it.Size), times(it.From)
		if it.To != (Vec{}) {
			it.To = times(it.To)
			it.To[0] += more
		}
		for side := range it.Air {
			it.Air[side] *= by
		}
		if it.Fixed != nil {
			it.Fixed = &Place{times(it.Fixed.At), it.Fixed.Turn}
		}
		q.Items = append(q.Items, it)
	}
	q.Blocks, q.Aparts = nil, nil
	for _, b := range p.Blocks {
		q.Blocks = append(q.Blocks, Block{times(b.At), times(b.Size)})
	}
	for _, a := range p.Aparts {
		a.Distance *= by
		q.Aparts = append(q.Aparts, a)
	}
	return q
}

// describe writes a problem out, for a failure.
func describe(p *Problem) string {
	text := fmt.Sprintf("room %v open %v blocks %v aparts %v\n", p.Room, p.Open, p.Blocks, p.Aparts)
	for n, it := range p.Items {
		text += fmt.Sprintf("  item %d: %+v fixed %+v\n", n, it, it.Fixed)
	}
	return text
}

// TestProofsAgainstEveryArrangement compares verdicts with a search through every arrangement of small problems that have air,
// rails, distances, turns, blocks, limits and fixed places, in two and three dimensions.
func TestProofsAgainstEveryArrangement(t *testing.T) {
	count := 2500
	if testing.Short() {
		count = 400
	}
	verdicts := [3]int{}
	for n := range count {
		r := rand.New(rand.NewPCG(uint64(n), 7))
		p := randomProblem(r, n%4 == 3)
		_, want := tryAll(&p)
		a := Fit(&p, Options{})
		verdicts[a.Verdict]++
		if want && a.Verdict != Found || !want && a.Verdict != Impossible {
			t.Fatalf("problem %d: verdict %d (%s), but an arrangement exists: %v\n%s", n, a.Verdict, a.Why, want, describe(&p))
		}
		if p.Room[2] > 1 {
			continue
		}
		q := scaled(p, 10, r.IntN(10))
		if b := Fit(&q, Options{}); b.Verdict != a.Verdict {
			t.Fatalf("problem %d: verdict %d (%s), but ten times as large %d (%s)\n%s", n, a.Verdict, a.Why, b.Verdict, b.Why, describe(&p))
		}
	}
	if min(verdicts[Found], verdicts[Impossible]) < count/5 {
		t.Errorf("the problems are lopsided: %v", verdicts)
	}
}
