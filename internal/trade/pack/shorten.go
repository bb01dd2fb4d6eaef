package pack

import (
	"fmt"
	"slices"
)

// Shorten looks for the arrangement with the shortest wires, beginning with one that is right, or with none. It answers Found with the
// best that it has come to; Bound is what no arrangement goes below, so that Wire equal to Bound is proved shortest. Impossible is said
// if that is found out on the way.
func Shorten(p *Problem, from []Place, o Options) Answer {
	if from == nil || len(Check(p, from)) > 0 {
		first := Fit(p, o)
		if first.Verdict != Found {
			return first
		}
		from = first.Places
	}
	wire := Measure(p, from)
	answer := Answer{Verdict: Found, Why: "as it was given", Places: from, Wire: wire}
	if wire == 0 {
		answer.Why = "there are no wires to shorten"
		return answer
	}
	w := newWiring(p, o.Seed)
	if w == nil {
		return answer
	}
	s := shortener{w: w, o: o}
	return s.run(from)
}

// shortener runs the search for short wires: good arrangements first, then what is best nearby, and the proof that none is better.
type shortener struct {
	w     *wiring
	o     Options
	told  int64
	near  neighbourhoods
	steps int64 // what was done that isn't counted as dead ends: neighbourhoods and rounds
}

// tell passes on a better arrangement.
func (s *shortener) tell() {
	if s.w.best < s.told || s.told == 0 {
		s.told = s.w.best
		if s.o.Watch != nil {
			s.o.Watch(s.answer("better than before"))
		}
	}
}

func (s *shortener) answer(why string) Answer {
	w := s.w
	return Answer{Verdict: Found, Why: why, Places: slices.Clone(w.places), Wire: int(w.best), Bound: int(min(w.floor, w.best)), Steps: w.m.conflicts + s.steps}
}

// ended reports whether the caller has had enough.
func (s *shortener) ended() bool {
	return s.o.stopped() || s.o.Steps > 0 && s.w.m.conflicts+s.steps >= s.o.Steps
}

func (s *shortener) run(from []Place) Answer {
	w := s.w
	w.adopt(from)
	s.tell()
	c := newChurner(w, s.o.Seed)
	for range 3 {
		c.compose(300+30*len(w.yard.bodies), &s.o)
		s.tell()
	}
	s.near.begin(w, s.o.Seed)
	// A proof is within reach where there are few items. Where there are many, only good arrangements are; they get nearly all the effort.
	churns, proof := 100, int64(400)
	if w.yard.items > 12 {
		churns, proof = 500, 200
	}
	for round := 0; !s.ended(); round++ {
		c.run(churns, float64(w.best)*churnHeat, &s.o)
		s.tell()
		// A neighbourhood may be gone through without one dead end: the tries count as well.
		for end, improved := w.m.conflicts+s.steps+proof, true; (improved || w.m.conflicts+s.steps < end) && !s.ended() && !w.m.bad; {
			improved = s.near.try(w, &s.o)
			s.steps++
			s.tell()
		}
		s.steps++
		if !s.ended() && w.search(proof, nil, &s.o) == refuted {
			w.floor = w.best
			s.tell()
			return s.answer(fmt.Sprintf("every shorter arrangement was ruled out, over %d dead ends", w.m.conflicts))
		}
		s.tell()
		churns += churns / 2
		proof += proof / 2
	}
	return s.answer(s.gap())
}

// churnHeat is how much longer than the best an arrangement may be, as a part of it, to be gone on from once in e times at first.
var churnHeat = 0.02

// gap says how far the search has come.
func (s *shortener) gap() string {
	return fmt.Sprintf("the shortest found over %d dead ends", s.w.m.conflicts)
}
