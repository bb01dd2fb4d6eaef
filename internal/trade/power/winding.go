package power

import (
	"math"
	"math/cmplx"
	"slices"
	"sync"
)

// coil is one coil of a winding: its phase (0, 1, 2) and its two terminals. Current that enters at start magnetises in the
// phase's own sense.
type coil struct{ phase, start, finish int }

// winding is a three-phase winding as a network of like coils. Terminals are numbered as NEMA MG 1 part 2 does for twelve
// leads: coils 1-4 and 7-10 belong to phase 0, 2-5 and 8-11 to phase 1, 3-6 and 9-12 to phase 2.
type winding struct {
	name   string
	coils  []coil
	inside [][]int // terminals that are joined inside the motor
	leads  []int   // terminals that come out
}

// The windings that come in practice. Groups of continuity, links and readings all follow from the coils.
var (
	sixCoils   = []coil{{0, 1, 4}, {1, 2, 5}, {2, 3, 6}, {0, 7, 10}, {1, 8, 11}, {2, 9, 12}}
	threeCoils = []coil{{0, 1, 4}, {1, 2, 5}, {2, 3, 6}}

	nineStar  = winding{"nine leads, star", sixCoils, [][]int{{10, 11, 12}}, []int{1, 2, 3, 4, 5, 6, 7, 8, 9}}
	nineDelta = winding{"nine leads, delta", sixCoils, [][]int{{1, 12}, {2, 10}, {3, 11}}, []int{1, 2, 3, 4, 5, 6, 7, 8, 9}}
	twelve    = winding{"twelve leads", sixCoils, nil, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}}
	six       = winding{"six leads, three coils", threeCoils, nil, []int{1, 2, 3, 4, 5, 6}}
	sixParts  = winding{"six leads, two stars", sixCoils, [][]int{{4, 5, 6}, {10, 11, 12}}, []int{1, 2, 3, 7, 8, 9}}
	// three is drawn as a star; whether it is one inside can't be seen from its leads, and makes no difference to them.
	three = winding{"three leads, joined inside", threeCoils, [][]int{{4, 5, 6}}, []int{1, 2, 3}}
)

// windings lists all windings that are told apart.
var windings = []*winding{&nineStar, &nineDelta, &twelve, &six, &sixParts, &three}

// findWinding returns the winding of the name, or nil.
func findWinding(name string) *winding {
	for _, w := range windings {
		if w.name == name {
			return w
		}
	}
	return nil
}

// terminals is one more than the largest terminal number.
const terminals = 13

// joined is a partition of the terminals into points that are connected with one another.
type joined [terminals]int

func separate() joined {
	var j joined
	for t := range j {
		j[t] = t
	}
	return j
}

// join connects the points of all the terminals.
func (j *joined) join(list ...int) {
	for _, t := range list[1:] {
		from, to := j[t], j[list[0]]
		for k := range j {
			if j[k] == from {
				j[k] = to
			}
		}
	}
}

// groups returns the leads that have continuity with one another, as an ohmmeter finds them before anything is linked.
func (w *winding) groups() [][]int {
	j := separate()
	for _, s := range w.inside {
		j.join(s...)
	}
	for _, c := range w.coils {
		j.join(c.start, c.finish)
	}
	var groups [][]int
	place := map[int]int{}
	for _, lead := range w.leads {
		n, ok := place[j[lead]]
		if !ok {
			n = len(groups)
			place[j[lead]] = n
			groups = append(groups, nil)
		}
		groups[n] = append(groups[n], lead)
	}
	return groups
}

// connection is a way to join the coils: the coils of a phase in parallel or in series, the phases in star or delta.
type connection struct{ parallel, delta bool }

// links returns which leads are joined for the connection: first the three lines, then splices without a line. It is nil when
// the winding can't be joined so, which the balance of the coils' voltages shows.
func (w *winding) links(c connection) []Join {
	wish := separate()
	for _, s := range w.inside {
		wish.join(s...)
	}
	var first, last [3]int // terminals at which each phase begins and ends
	for phase := range 3 {
		var coils []coil
		for _, k := range w.coils {
			if k.phase == phase {
				coils = append(coils, k)
			}
		}
		first[phase], last[phase] = coils[0].start, coils[len(coils)-1].finish
		for n := 1; n < len(coils); n++ {
			if c.parallel {
				wish.join(coils[0].start, coils[n].start)
				wish.join(coils[0].finish, coils[n].finish)
			} else {
				wish.join(coils[n-1].finish, coils[n].start)
			}
		}
	}
	if c.delta { // each phase begins where the one before it ends: 1 with the end of the third
		for phase := range 3 {
			wish.join(first[phase], last[(phase+2)%3])
		}
	} else {
		wish.join(last[0], last[1], last[2])
	}
	var joins []Join
	seen := map[int]bool{}
	for phase := range 3 {
		joins = append(joins, Join{Line: lineNames[phase], Leads: w.leadsAt(wish, wish[first[phase]])})
		seen[wish[first[phase]]] = true
	}
	for _, lead := range w.leads {
		if at := wish[lead]; !seen[at] {
			seen[at] = true
			if together := w.leadsAt(wish, at); len(together) > 1 {
				joins = append(joins, Join{Leads: together})
			}
		}
	}
	if _, balanced := w.coilVoltages(joins); !balanced {
		return nil
	}
	return joins
}

var lineNames = [3]string{"L1", "L2", "L3"}

// leadsAt returns the leads at a point of the partition, in rising order, by their printed names.
func (w *winding) leadsAt(j joined, point int) []string {
	var names []string
	for _, lead := range w.leads {
		if j[lead] == point {
			names = append(names, leadName(lead))
		}
	}
	return names
}

var leadNames = [terminals]string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"}

func leadName(lead int) string { return leadNames[lead] }

func leadNumber(name string) int { return slices.Index(leadNames[:], name) }

// coilVoltages puts balanced line voltages of 1 on the lines of a connection, all coils having the same impedance, and
// returns the voltage across each coil. Balanced reports whether the joints make a sound winding: every coil carries the same
// voltage, coils of one phase pull together, and the phases follow one another by 120°. That is how a link list is told
// from one that shorts a coil or turns one round.
func (w *winding) coilVoltages(joins []Join) (volts []complex128, balanced bool) {
	j := separate()
	for _, s := range w.inside {
		j.join(s...)
	}
	var fixed [terminals]bool
	var potential [terminals]complex128
	turn := cmplx.Rect(1, -2*math.Pi/3)
	phasor := complex(1/math.Sqrt(3), 0) // star voltage of a line voltage of 1
	for _, joint := range joins {
		var at []int
		for _, name := range joint.Leads {
			if n := leadNumber(name); n > 0 {
				at = append(at, n)
			}
		}
		if len(at) > 0 {
			j.join(at...)
		}
	}
	for _, joint := range joins {
		if joint.Line == "" || len(joint.Leads) == 0 {
			continue
		}
		point := j[leadNumber(joint.Leads[0])]
		if fixed[point] {
			return nil, false // two lines meet: a dead short
		}
		fixed[point], potential[point] = true, phasor
		phasor *= turn
	}
	var free [terminals]bool
	for _, c := range w.coils {
		for _, t := range [2]int{j[c.start], j[c.finish]} {
			free[t] = !fixed[t]
		}
	}
	w.solve(j, free, &potential)
	for _, c := range w.coils {
		volts = append(volts, potential[j[c.start]]-potential[j[c.finish]])
	}
	const close = 1e-9
	first := volts[0]
	if cmplx.Abs(first) < close {
		return volts, false
	}
	expected := [3]complex128{first, first * turn, first * turn * turn}
	for n, c := range w.coils {
		if cmplx.Abs(volts[n]-expected[c.phase]) > close {
			return volts, false
		}
	}
	return volts, true
}

// solve finds the potentials of the free points of the network of equal coils by elimination; points that hang on nothing
// fixed stay at zero. At most twelve unknowns.
func (w *winding) solve(j joined, free [terminals]bool, potential *[terminals]complex128) {
	var order []int
	for t, f := range free {
		if f {
			order = append(order, t)
		}
	}
	n := len(order)
	matrix := make([][]complex128, n)
	for row := range matrix {
		matrix[row] = make([]complex128, n+1)
		matrix[row][row] = 1e-12 // a trace of leakage, so that a floating piece has an answer
	}
	for _, c := range w.coils {
		a, b := j[c.start], j[c.finish]
		if a == b {
			continue
		}
		for _, end := range [2][2]int{{a, b}, {b, a}} {
			row := slices.Index(order, end[0])
			if row < 0 {
				continue
			}
			matrix[row][row]++
			if column := slices.Index(order, end[1]); column >= 0 {
				matrix[row][column]--
			} else {
				matrix[row][n] += potential[end[1]]
			}
		}
	}
	for k := range n {
		pivot := k
		for row := k + 1; row < n; row++ {
			if cmplx.Abs(matrix[row][k]) > cmplx.Abs(matrix[pivot][k]) {
				pivot = row
			}
		}
		matrix[k], matrix[pivot] = matrix[pivot], matrix[k]
		for row := k + 1; row < n; row++ {
			factor := matrix[row][k] / matrix[k][k]
			for column := k; column <= n; column++ {
				matrix[row][column] -= factor * matrix[k][column]
			}
		}
	}
	for k := n - 1; k >= 0; k-- {
		sum := matrix[k][n]
		for column := k + 1; column < n; column++ {
			sum -= matrix[k][column] * potential[order[column]]
		}
		potential[order[k]] = sum / matrix[k][k]
	}
}

// resistance returns what an ohmmeter reads between two leads of the winding before anything is linked, in coils; false
// where there is no continuity.
func (w *winding) resistance(a, b int) (float64, bool) {
	j := separate()
	for _, s := range w.inside {
		j.join(s...)
	}
	reach := j
	for _, c := range w.coils {
		reach.join(c.start, c.finish)
	}
	if reach[a] != reach[b] {
		return 0, false
	}
	a, b = j[a], j[b]
	var free [terminals]bool
	for _, c := range w.coils {
		for _, t := range [2]int{j[c.start], j[c.finish]} {
			free[t] = t != a && t != b && reach[t] == reach[a]
		}
	}
	var potential [terminals]complex128
	potential[a] = 1
	w.solve(j, free, &potential)
	current := 0.0
	for _, c := range w.coils {
		s, f := j[c.start], j[c.finish]
		switch a {
		case s:
			current += real(potential[s] - potential[f])
		case f:
			current += real(potential[f] - potential[s])
		}
	}
	return math.Round(1e6/current) / 1e6, true // the trace of leakage in solve is far smaller
}

// Reading is what the ohmmeter must find between leads of a sound motor before anything is linked.
type Reading struct {
	Between [][2]string // pairs of leads that all read the same, within 5 %
	Coils   float64     // as a multiple of one coil
}

// readings returns the expected ohmmeter readings of the winding, lowest first; none for three leads, whose coils can't be
// told apart from outside.
func (w *winding) readings() []Reading {
	if len(w.leads) == 3 {
		return nil
	}
	var list []Reading
	for _, group := range w.groups() {
		for n, a := range group {
			for _, b := range group[n+1:] {
				ohms, ok := w.resistance(a, b)
				if !ok {
					continue
				}
				at := slices.IndexFunc(list, func(r Reading) bool { return r.Coils > ohms-1e-6 && r.Coils < ohms+1e-6 })
				if at < 0 {
					list = append(list, Reading{Coils: ohms})
					at = len(list) - 1
				}
				list[at].Between = append(list[at].Between, [2]string{leadName(a), leadName(b)})
			}
		}
	}
	slices.SortFunc(list, func(a, b Reading) int {
		if a.Coils < b.Coils {
			return -1
		}
		return 1
	})
	return list
}

// papers are what follows from a winding alone, worked out once.
type papers struct {
	groups   [][]int
	readings []Reading
}

var windingPapers = sync.OnceValue(func() map[string]papers {
	all := map[string]papers{}
	for _, w := range windings {
		all[w.name] = papers{w.groups(), w.readings()}
	}
	return all
})
