package prove

import "math"

// outcome is what a network shows in one state of its switches, sources and knobs.
type outcome struct {
	// high holds the eyes that see at least their upper limit, low those that see at least their lower one: between the two
	// a coil stays as it is.
	high, low bits
	// blown holds the drivers of fuses that carry too much.
	blown bits
	// overload is the driver of a source that can't give what is asked of it, and one more; 0 for none.
	overload int16
	// reference is the drive's analog input in thousandths of full scale; -1 where it isn't part of the network.
	reference int16
	// motor says how the motor is joined to what turns it.
	motor motorJoined
	// unsettled is true where no state of the sources and diodes agrees with itself.
	unsettled bool
}

type motorJoined uint8

const (
	notJoined motorJoined = iota
	joinedForward
	joinedReverse
	outputShorted // the drive's output touches something that it must not
)

// knobAt are the places where the script turns a knob, by the two bits of its driver: nought, the middle, full, and low, where a
// drive that watches its reference still takes it for one.
var knobAt = [4]float64{0, 0.5, 1, 0.06}

// leak is what a source at its limit leaks, in siemens: of two such sources in a row the stronger then pushes its own voltage up until
// it is seen that it isn't at its limit.
const leak = 1e-15

// mode says how a source or a diode is taken while the network is solved.
type mode uint8

const (
	holding  mode = iota // a source holds its voltage; a diode conducts
	blocking             // nothing flows
	limiting             // a source gives the most that it can
)

// solver solves networks, one at a time. Its buffers are reused, so that a solution allocates nothing.
//
// The unknowns are the voltages of the nets that switches leave apart; the equations are Kirchhoff's current law. Wires and
// closed contacts join nets and are no part of the equations. Alternating sources count with their effective value, each network
// by itself: what one network does doesn't hang on the phase of another.
type solver struct {
	m       *model
	parent  []int16
	number  []int16 // of each net's group
	groups  int
	g       []float64 // conductance between groups, lower triangle, row by row
	pushed  []float64 // current into each group
	rest    []float64 // conductance to the groups before it
	volts   []float64
	modes   []mode
	near    []int16
	visited int // networks solved so far
}

func (s *solver) ready(k *network) {
	if len(s.parent) < k.nets {
		s.parent, s.number = make([]int16, k.nets), make([]int16, k.nets)
		s.g = make([]float64, k.nets*k.nets)
		s.pushed, s.rest, s.volts = make([]float64, k.nets), make([]float64, k.nets), make([]float64, k.nets)
		s.near = make([]int16, k.nets)
	}
	if len(s.modes) < len(k.lives) {
		s.modes = make([]mode, len(k.lives))
	}
}

// Solutions are tried until sources and diodes agree with their modes: all at once at first, then one by one so that two can't
// chase each other.
const (
	triesAtOnce = 12
	triesInAll  = 80
)

// solve fills in what the network shows with the drivers standing as key says.
func (s *solver) solve(k *network, key *bits, out *outcome) {
	s.visited++
	s.ready(k)
	s.join(k, key)
	for n, l := range k.lives {
		s.modes[n] = holding
		if b := &s.m.branches[l.branch]; b.kind == diodeBranch || b.kind == sourceBranch && !key.has(b.driver) {
			s.modes[n] = blocking
		}
	}
	*out = outcome{reference: -1, unsettled: true}
	for try := range triesInAll {
		s.fill(k, key)
		s.eliminate()
		if !s.disagree(k, key, try >= triesAtOnce) {
			out.unsettled = false
			break
		}
	}
	s.read(k, key, out)
}

// join puts nets that closed switches join into groups and numbers the groups.
func (s *solver) join(k *network, key *bits) {
	parent := s.parent[:k.nets]
	for n := range parent {
		parent[n] = int16(n)
	}
	find := func(n int16) int16 {
		for parent[n] != n {
			parent[n] = parent[parent[n]]
			n = parent[n]
		}
		return n
	}
	for _, l := range k.lives {
		b := &s.m.branches[l.branch]
		if b.kind != switchBranch || key.has(b.driver) == l.inverted {
			continue
		}
		x, y := find(l.a), find(l.b)
		if x > y {
			x, y = y, x
		}
		parent[y] = x
	}
	s.groups = 0
	for n := range parent {
		if r := find(int16(n)); int(r) == n {
			s.number[n] = int16(s.groups)
			s.groups++
		} else {
			s.number[n] = s.number[r]
		}
	}
}

// conductance returns that of a branch that isn't a switch, 0 where it is open.
func (s *solver) conductance(n int, l live, key *bits) float64 {
	b := &s.m.branches[l.branch]
	switch b.kind {
	case loadBranch:
		return 1 / b.ohms
	case fuseBranch:
		if key.has(b.driver) != l.inverted {
			return 1 / b.ohms
		}
	case knobBranch:
		return 1 / (b.ohms * trackPart(b, l, key))
	case sourceBranch, diodeBranch:
		switch s.modes[n] {
		case holding:
			return 1 / b.ohms
		case limiting:
			return leak
		case blocking:
		}
	case switchBranch:
	}
	return 0
}

// trackPart returns the part of a knob's track that lies between the wiper and this branch's end.
func trackPart(b *branch, l live, key *bits) float64 {
	at := knobAt[key[b.driver>>6]>>(b.driver&63)&1|boolBit(key.has(b.driver+1))<<1]
	if b.upper != l.inverted {
		at = 1 - at
	}
	return min(max(at, knobEndIn), 1-knobEndIn)
}

func boolBit(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}

// fill sets up the equations.
func (s *solver) fill(k *network, key *bits) {
	n := s.groups
	g := s.g[:n*n]
	clear(g)
	clear(s.pushed[:n])
	for i, l := range k.lives {
		a, b := s.number[l.a], s.number[l.b]
		if a == b {
			continue
		}
		r := &s.m.branches[l.branch]
		if r.kind == sourceBranch && s.modes[i] == limiting {
			s.pushed[a] += r.most
			s.pushed[b] -= r.most
		}
		c := s.conductance(i, l, key)
		if c == 0 {
			continue
		}
		if s.modes[i] == holding && (r.kind == sourceBranch || r.kind == diodeBranch) {
			s.pushed[a] += c * r.volts
			s.pushed[b] -= c * r.volts
		}
		if a < b {
			a, b = b, a
		}
		g[int(a)*n+int(b)] += c
	}
}

// eliminate solves the equations. Each group's own conductance is summed up anew from its neighbours instead of being carried
// along, so that only positive numbers are added and no digits are lost, however far apart the resistances are. A group without
// neighbours left is where its part of the network is measured from.
func (s *solver) eliminate() {
	n := s.groups
	g, pushed, rest, volts := s.g[:n*n], s.pushed[:n], s.rest[:n], s.volts[:n]
	for k := n - 1; k > 0; k-- {
		row := g[k*n : k*n+k]
		sum := 0.0
		near := s.near[:0]
		for j, c := range row {
			if c > 0 {
				sum += c
				near = append(near, int16(j))
			}
		}
		rest[k] = sum
		if sum == 0 {
			continue
		}
		for x, i := range near {
			part := row[i] / sum
			pushed[i] += pushed[k] * part
			for _, j := range near[:x] {
				g[int(i)*n+int(j)] += part * row[j]
			}
		}
	}
	volts[0] = 0
	for k := 1; k < n; k++ {
		v := 0.0
		if rest[k] > 0 {
			v = pushed[k]
			for j, c := range g[k*n : k*n+k] {
				if c > 0 {
					v += c * volts[j]
				}
			}
			v /= rest[k]
		}
		volts[k] = v
	}
}

// across returns the voltage from the branch's first end to its second.
func (s *solver) across(l live) float64 { return s.volts[s.number[l.a]] - s.volts[s.number[l.b]] }

// given returns what a holding source gives, or what flows forward through a conducting diode but for the sign.
func (s *solver) given(b *branch, l live) float64 { return (b.volts - s.across(l)) / b.ohms }

// disagree changes the mode of the sources and diodes that can't be as they were taken, or only of the first of them. It
// reports whether there was any.
func (s *solver) disagree(k *network, key *bits, one bool) bool {
	changed := false
	for n, l := range k.lives {
		b := &s.m.branches[l.branch]
		if b.kind != sourceBranch && b.kind != diodeBranch || b.kind == sourceBranch && !key.has(b.driver) {
			continue
		}
		m := s.modes[n]
		if b.kind == diodeBranch {
			switch {
			case m == holding && s.given(b, l) > 1e-9: // it would flow backwards
				m = blocking
			case m == blocking && s.across(l) > b.volts*(1+1e-9)+1e-12:
				m = holding
			}
		} else {
			switch {
			case m == holding && s.given(b, l) > b.most*(1+1e-9):
				m = limiting
			case m == holding && b.direct && s.given(b, l) < -1e-9:
				m = blocking
			case m == limiting && s.across(l) > b.volts*(1+1e-9):
				m = holding
			case m == blocking && s.across(l) < b.volts*(1-1e-9)-b.ohms*1e-9:
				m = holding
			}
		}
		if m != s.modes[n] {
			s.modes[n] = m
			changed = true
			if one {
				return true
			}
		}
	}
	return changed
}

// read looks at what the solution shows.
func (s *solver) read(k *network, key *bits, out *outcome) {
	for n, l := range k.lives {
		b := &s.m.branches[l.branch]
		switch {
		case b.kind == sourceBranch:
			if s.modes[n] == limiting && out.overload == 0 {
				out.overload = int16(b.driver) + 1
			}
		case b.kind == fuseBranch:
			if c := s.conductance(n, l, key); math.Abs(s.across(l))*c > b.most {
				out.blown.set(b.driver)
			}
		case int(l.branch) == s.m.reference:
			out.reference = int16(math.Round(1000 * min(max(s.across(l)/s.m.full, 0), 1)))
		}
		if len(b.eyes) == 0 {
			continue
		}
		v := math.Abs(s.across(l))
		for _, e := range b.eyes {
			eye := &s.m.eyes[e]
			if v >= eye.on {
				out.high.set(e)
			}
			if v >= eye.off {
				out.low.set(e)
			}
		}
	}
	if k.outs != nil {
		out.motor = s.joined(k, key)
	}
}

// joined says how the motor is joined to what turns it.
func (s *solver) joined(k *network, key *bits) motorJoined {
	group := func(net int16) int16 {
		if net < 0 {
			return -1
		}
		return s.number[net]
	}
	if s.m.driven {
		for n, out := range k.outs {
			at := group(out)
			if at < 0 {
				continue
			}
			if k.ground >= 0 && at == s.number[k.ground] {
				return outputShorted
			}
			for _, other := range k.outs[:n] {
				if group(other) == at {
					return outputShorted
				}
			}
			for i, l := range k.lives {
				b := &s.m.branches[l.branch]
				if b.kind == sourceBranch && s.modes[i] != blocking && (s.number[l.a] == at || s.number[l.b] == at) {
					return outputShorted
				}
			}
		}
	}
	if len(k.motor) < 2 {
		return notJoined
	}
	var to [3]int
	for n, lead := range k.motor {
		to[n] = -1
		for i, out := range k.outs {
			if group(lead) >= 0 && group(out) == group(lead) {
				to[n] = i
				break
			}
		}
		if to[n] < 0 {
			return notJoined
		}
		for _, other := range to[:n] {
			if other == to[n] {
				return notJoined
			}
		}
	}
	if len(k.motor) == 3 && (to[1]-to[0]+3)%3 == 2 {
		return joinedReverse
	}
	return joinedForward
}
