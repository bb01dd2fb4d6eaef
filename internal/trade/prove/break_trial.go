package prove

import (
	"reflect"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// trial is the script, run on the whole circuit, with all that is needed to compare a broken one with it.
type trial struct {
	watcher
	script   *script
	networks []*network
	// base is the machine with power on, behind the script's first actions; strikes the machine just before the fault in each
	// segment.
	base    moment
	dead    moment
	strikes []moment
	first   []sight   // behind each of the first actions
	shown   [][]sight // behind each action of each segment
	holds   [][]hands
	last    []sight
	visits  []visit
}

// visit is one standing of all drivers that the whole circuit goes through.
type visit struct {
	drivers  bits
	segments bits // in which it happens; the last bit stands for the first actions
	outcomes []*outcome
}

// beforeAll is the bit for the script's first actions among the segments.
const beforeAll = manyBits - 1

// newTrial runs the script on the whole circuit.
func newTrial(m *model) *trial {
	t := &trial{watcher: watcher{m: m}, script: newScript(m)}
	if len(t.script.segments) >= beforeAll {
		t.script.segments = t.script.segments[:beforeAll-1]
	}
	b := newBuilder(m)
	for _, p := range b.build() {
		name := string(b.sign(p))
		t.networks = append(t.networks, b.finish(p, name))
	}
	r := newMachine(m, newShelf())
	r.fit(t.networks, nil)
	index := map[bits]int{}
	segment := beforeAll
	r.visit = func(d *bits) {
		n, there := index[*d]
		if !there {
			n = len(t.visits)
			index[*d] = n
			t.visits = append(t.visits, visit{drivers: *d})
		}
		t.visits[n].segments.set(segment)
	}
	t.dead = m.dead(t.script.supply)
	r.now.copyFrom(&t.dead)
	for n := range t.script.first {
		r.do(&t.script.first[n])
		t.first = append(t.first, r.now.seen)
	}
	t.base.copyFrom(&r.now)
	t.strikes = make([]moment, len(t.script.segments))
	for n := range t.script.segments {
		s := &t.script.segments[n]
		segment = n
		r.now.copyFrom(&t.base)
		var shown []sight
		for k := range s.does {
			if k == s.strikes {
				t.strikes[n].copyFrom(&r.now)
			}
			r.do(&s.does[k])
			shown = append(shown, r.now.seen)
		}
		t.shown = append(t.shown, shown)
		if s.strikes >= len(s.does) || s.strikes >= 0 && t.ahead(n).torque == s.idle {
			s.strikes = -1 // it doesn't run there, or does where it should stand
		}
	}
	r.visit = nil
	for n := range t.visits {
		v := &t.visits[n]
		for k := range t.networks {
			v.outcomes = append(v.outcomes, r.look(k, &v.drivers))
		}
	}
	r.now.copyFrom(&t.base)
	for n := range t.script.last {
		r.do(&t.script.last[n])
		t.last = append(t.last, r.now.seen)
	}
	t.learn()
	return t
}

// ahead is what the whole circuit shows just before the fault happens in a segment.
func (t *trial) ahead(n int) *sight {
	if k := t.script.segments[n].strikes; k > 0 {
		return &t.shown[n][k-1]
	}
	return &t.base.seen
}

// learn finds out what stops the machine, and which lamps show that it runs.
func (t *trial) learn() {
	m := t.m
	for n := range m.circuit.Devices {
		d := &m.circuit.Devices[n]
		switch {
		case m.moves[n]:
		case d.Role == circuit.EmergencyRole || d.Kind == circuit.EmergencyStop && (d.Role == "" || d.Role == circuit.NoRole):
			t.emergencies.set(n)
		case d.Role == circuit.Stop || d.Role == circuit.Guard || d.Role == circuit.FootBrake || d.Kind == circuit.OverloadRelay:
			t.stops.set(n)
		}
	}
	lit, always, powered := bits{}, bits{}, bits{}
	for n := range m.circuit.Devices {
		always.set(n)
	}
	see := func(s *sight) {
		lit.add(&s.lamps)
		powered.add(&s.loads)
		for k := range always {
			if s.torque {
				always[k] &= s.lamps[k]
			} else {
				always[k] &^= s.lamps[k]
			}
		}
	}
	for n := range t.first {
		see(&t.first[n])
	}
	for n := range t.shown {
		for k := range t.shown[n] {
			see(&t.shown[n][k])
		}
	}
	t.shows = always.both(&lit)
	for n, d := range m.circuit.Devices {
		t.runs.put(n, d.Kind == circuit.Load && powered.has(n)) // what a switch of its own keeps off isn't the emergency stop's
	}
	// What takes the torque away for good, as an emergency stop does, is held to the same: a guard that acts as one.
	for n, s := range t.script.segments {
		for k := range s.does {
			a := &s.does[k]
			if a.device >= 0 && a.to != 0 && k > 0 && m.driven && mayBeEmergency(m.circuit.Devices[a.device].Role) && t.shown[n][k].safeOff && !t.shown[n][k-1].safeOff {
				t.emergencies.set(a.device)
				t.stops.clear(a.device)
			}
		}
	}
	at := make([]uint8, len(m.circuit.Devices))
	for _, s := range t.script.segments {
		clear(at)
		var holds []hands
		for k := range s.does {
			if d := s.does[k].device; d >= 0 {
				at[d] = s.does[k].to
			}
			holds = append(holds, t.holding(at))
		}
		t.holds = append(t.holds, holds)
	}
}

// everRuns reports whether the whole machine runs anywhere in the script.
func (t *trial) everRuns() bool { return t.runsAt(func(*sight) bool { return true }) }

func mayBeEmergency(r circuit.Role) bool { return r == circuit.Guard || r == circuit.FootBrake }

// spot is where the script shows something.
type spot struct {
	segment int16 // beforeAll for the first actions
	step    int16 // the action at which it is seen; -1: at the moment when the fault happens
	struck  bool  // the fault happened while the power was on
}

// verdict is what a fault does, the worst of it, and where the script shows that and every other danger first.
type verdict struct {
	class   Class
	reaches Classes
	shown   [shownClasses]spot // of what is worse than Other
	dark    spot               // where a lamp is dark
}

// shownClasses is how many classes a sequence can show: those up to Other.
const shownClasses = Other + 1

// add takes over what is new. Of equals the first stays: the script's plain segments come first.
func (v *verdict) add(found Classes, segment, step int, struck bool) {
	fresh := found &^ v.reaches
	if fresh == 0 {
		return
	}
	here := spot{int16(segment), int16(step), struck}
	if fresh&darkLamp != 0 {
		v.dark = here
	}
	if fresh&motorRunsOn != 0 {
		v.shown[EmergencyStopLost] = here
	}
	v.reaches |= fresh
	v.class = v.reaches.worst()
	for c := range shownClasses {
		if fresh.Has(c) {
			v.shown[c] = here
		}
	}
}

// lamps decides of lamps that are dark while nothing runs: on a machine that stops or doesn't start they say the truth.
func (v *verdict) lamps() {
	if v.reaches&darkLamp == 0 || v.reaches.Has(IndicationLies) || v.reaches.Has(StopsByItself) || v.reaches.Has(CannotStart) {
		return
	}
	v.reaches = v.reaches.with(IndicationLies)
	v.class = v.reaches.worst()
	v.shown[IndicationLies] = v.dark
}

// everywhere is every segment and the first actions.
var everywhere = bits{^uint64(0), ^uint64(0), ^uint64(0), ^uint64(0)}

// holds reports whether a change keeps a relay out that stands for the motor: that is seen whatever its contacts do.
func (m *model) holds(changes []Change) bool {
	for _, c := range changes {
		if c.Kind == NeverMoves && !m.driven && len(m.motor) == 0 && m.circuit.Devices[m.wiring.Parts[c.Part].Device].Role == circuit.HoldsRun {
			return true
		}
	}
	return false
}

// touched returns the segments in which the networks show anything else than the whole circuit's at the same standing of the
// drivers. In all others the machine goes through the same standings, and so does the same: an exact test, not a guess.
func (t *trial) touched(r *machine, networks []*network) bits {
	var touched bits
	var fresh []int // of networks, those that the whole circuit doesn't have
	var lost []int  // of t.networks, those that are gone
	for n, k := range networks {
		if !hasNetwork(t.networks, k) {
			fresh = append(fresh, n)
		}
	}
	for n, k := range t.networks {
		if !hasNetwork(networks, k) {
			lost = append(lost, n)
		}
	}
	for n := range t.visits {
		v := &t.visits[n]
		if v.segments.both(&touched) == v.segments {
			continue
		}
		var is, was outcome
		for _, k := range fresh {
			merge(&is, r.look(k, &v.drivers))
		}
		for _, k := range lost {
			merge(&was, v.outcomes[k])
		}
		if is != was {
			touched.add(&v.segments)
		}
	}
	return touched
}

func hasNetwork(list []*network, k *network) bool {
	for _, other := range list {
		if other == k {
			return true
		}
	}
	return false
}

// merge adds what a network shows.
func merge(o, more *outcome) {
	o.high.add(&more.high)
	o.low.add(&more.low)
	o.blown.add(&more.blown)
	o.overload = max(o.overload, more.overload)
	o.reference = max(o.reference, more.reference)
	o.motor = max(o.motor, more.motor)
	o.unsettled = o.unsettled || more.unsettled
}

// still reports whether a fault changes nothing in any standing that the whole circuit goes through.
func (t *trial) still(r *machine, networks []*network, changes []Change) bool {
	r.fit(networks, changes)
	return !t.m.holds(changes) && t.touched(r, networks) == bits{}
}

// try runs the script on the circuit with the networks that a fault makes: with the fault there before the power, and with the
// fault happening while the machine runs or stands. It stops looking when it has found something as bad as enough; with everything
// as enough it finds all that the fault does.
func (t *trial) try(r *machine, networks []*network, changes []Change, enough Class) verdict {
	r.fit(networks, changes)
	touched := t.touched(r, networks)
	if t.m.holds(changes) {
		touched = everywhere
	}
	if touched == (bits{}) {
		return verdict{class: none}
	}
	return t.run(r, touched, comesAbout(changes), enough)
}

// everything is a class that nothing is as bad as.
const everything = StartsByItself - 1

// run runs the segments that are touched, and all of them if the power comes up otherwise. The machine must have its networks.
func (t *trial) run(r *machine, touched bits, when coming, enough Class) verdict {
	v := verdict{class: none}
	base := &t.base
	otherwise := false
	if touched.has(beforeAll) {
		r.now.copyFrom(&t.dead)
		t.powerUp(r, &v)
		broken := r.now
		broken.at, broken.late = append([]uint8(nil), r.now.at...), append([]bool(nil), r.now.late...)
		base = &broken
		otherwise = !reflect.DeepEqual(broken, t.base)
	}
	for n := range t.script.segments {
		if otherwise || touched.has(n) {
			r.now.copyFrom(base)
			t.segment(r, n, false, &v)
		}
		if s := &t.script.segments[n]; s.strikes >= 0 && touched.has(n) && v.class > enough && (when == anyTime || when == whileRunning && !s.idle) {
			r.now.copyFrom(&t.strikes[n])
			t.segment(r, n, true, &v)
		}
		if v.class <= enough {
			break
		}
	}
	v.lamps()
	return v
}

// coming says when a fault can come about.
type coming uint8

const (
	beforePower coming = iota // wired or fitted so
	whileRunning
	anyTime
)

// comesAbout says when all of the changes can have come about: what is of the wrong type, or in the wrong way round, was so from the
// beginning; a contact welds where it is closed, not at rest.
func comesAbout(changes []Change) coming {
	when := anyTime
	for _, c := range changes {
		switch c.Kind {
		case Inverted, Turned, WireMoved, WiresSwapped:
			when = min(when, beforePower)
		case StuckClosed:
			when = min(when, whileRunning)
		case WireOff, Bridged, StuckOpen, Dead, NeverMoves:
		}
	}
	return when
}

// powerUp does the first actions.
func (t *trial) powerUp(r *machine, v *verdict) {
	before, was := r.now.seen, t.dead.seen
	for n := range t.script.first {
		r.do(&t.script.first[n])
		v.add(t.judge(&t.script.first[n], hands{}, &before, &r.now.seen, &was, &t.first[n]), beforeAll, n, false)
		before, was = r.now.seen, t.first[n]
	}
}

// striking is the action that is none: the fault happens.
var striking = action{aim: aimFault, device: -1}

// segment does the actions of a segment, from the strike on if the fault happens in it.
func (t *trial) segment(r *machine, n int, struck bool, v *verdict) {
	s := &t.script.segments[n]
	before, was := r.now.seen, t.base.seen
	k := 0
	if struck {
		k = s.strikes
		was = *t.ahead(n)
		r.settle()
		v.add(t.judge(&striking, hands{}, &before, &r.now.seen, &was, &was), n, k-1, true)
		before = r.now.seen
	}
	for ; k < len(s.does); k++ {
		a := &s.does[k]
		r.do(a)
		v.add(t.judge(a, t.holds[n][k], &before, &r.now.seen, &was, &t.shown[n][k]), n, k, struck)
		before, was = r.now.seen, t.shown[n][k]
	}
}

// steps tells the script and what the whole circuit shows.
func (t *trial) steps() []Step {
	var list []Step
	tell := func(actions []action, shown []sight) {
		for n, a := range actions {
			list = append(list, Step{a.words, t.state(&shown[n])})
		}
	}
	tell(t.script.first, t.first)
	for n, s := range t.script.segments {
		if !s.idle { // the next does the same
			tell(s.does, t.shown[n])
		}
	}
	tell(t.script.last, t.last)
	return list
}

// state tells what is seen.
func (t *trial) state(s *sight) State {
	out := State{Torque: s.torque, Reverse: s.reverse, Speed: quantity.Ratio(float64(s.speed) / 1000), SafeOff: s.safeOff, Chatters: s.chatters}
	for n, d := range t.m.circuit.Devices {
		if s.lamps.has(n) {
			out.Lamps = append(out.Lamps, d.Tag)
		}
		if s.loads.has(n) {
			out.Loads = append(out.Loads, d.Tag)
		}
		if s.pulled.has(n) {
			out.PulledIn = append(out.PulledIn, d.Tag)
		}
	}
	out.Overload = t.m.overloaded(s)
	return out
}

// overloaded returns the tag of the supply that can't give what is asked of it; empty where none is.
func (m *model) overloaded(s *sight) string {
	for _, f := range m.sources {
		if int(s.overload) == f.driver+1 {
			return m.circuit.Devices[f.device].Tag
		}
	}
	return ""
}

// runLamp reports whether the device is a lamp that should show that the machine runs.
func (m *model) runLamp(n int) bool {
	d := &m.circuit.Devices[n]
	return d.Kind == circuit.Lamp && d.Role == circuit.RunLamp
}
