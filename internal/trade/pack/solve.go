package pack

import (
	"cmp"
	"fmt"
	"slices"
)

// Solution is the answer to an instance.
type Solution struct {
	Answer
	Room Vec // in which the places lie; the one asked about if there are none
	// Tried are the plates that were looked at, in the order of size.
	Tried []Tried
}

// Tried is what was found out of one room.
type Tried struct {
	Room Vec
	Verdict
	Why string
}

// Solve does what the instance asks.
func Solve(in *Instance, o Options) Solution {
	switch in.Task {
	case StripTop:
		return ofLeast(LeastStrip(&in.Problem, o))
	case LeastArea, Floor:
		return ofLeast(LeastBox(&in.Problem, o))
	case Plates:
		return solvePlates(in, o)
	}
	p := in.In(in.Room)
	return Solution{Answer: Fit(&p, o), Room: in.Room}
}

// ofLeast makes a solution of a smallest room: it is found if it was proved smallest.
func ofLeast(l Least) Solution {
	s := Solution{Answer: l.Answer, Room: l.Room}
	s.Bound = l.Lower
	return s
}

// solvePlates finds the smallest plate, by area and then by width, and the shortest wires on it.
func solvePlates(in *Instance, o Options) Solution {
	rooms := slices.Clone(in.Rooms)
	if len(rooms) == 0 {
		rooms = []Vec{in.Room}
	}
	slices.SortStableFunc(rooms, func(a, b Vec) int {
		return cmp.Or(cmp.Compare(a[0]*a[1], b[0]*b[1]), cmp.Compare(a[0], b[0]))
	})
	fit := o
	fit.Watch = nil
	which, answers := Smallest(rooms, &in.Problem, fit)
	s := Solution{Room: rooms[len(rooms)-1]}
	for n, a := range answers {
		s.Tried = append(s.Tried, Tried{rooms[n], a.Verdict, a.Why})
	}
	if which < 0 {
		s.Why = fmt.Sprintf("none of the %d plates", len(rooms))
		s.Verdict = Impossible
		for _, a := range answers {
			if a.Verdict != Impossible {
				s.Verdict = NotFound
			}
		}
		return s
	}
	p := in.In(rooms[which])
	s.Room = rooms[which]
	s.Answer = answers[which]
	s.Wire = Measure(&p, s.Places)
	if len(p.Nets) > 0 {
		s.Answer = shortenOnGrid(&p, s.Places, in.Grid, o)
	}
	return s
}
