package prove

import "drivewright/internal/trade/circuit"

// moment is how the whole machine stands: every device, source and the drive.
type moment struct {
	at      []uint8 // the position of each device; of a knob the place in knobAt
	late    []bool  // a delay relay whose coil is off while its contacts stay
	drivers bits    // sources that give, knobs, and whatever else isn't a device's position
	supply  bool    // the utility's supply is there
	tripped bool    // the breaker ahead of the box has tripped
	drive   driveMemory
	seen    sight
}

func (m *moment) copyFrom(other *moment) {
	at, late := append(m.at[:0], other.at...), append(m.late[:0], other.late...)
	*m = *other
	m.at, m.late = at, late
}

// sight is what can be seen of the machine, and what its motor gets.
type sight struct {
	torque, reverse bool
	safeOff         bool
	chatters        bool
	speed           int16 // thousandths
	overload        int16 // the driver of a source, and one more
	lamps, loads    bits  // by device
	pulled          bits
}

// machine runs a circuit with something wrong in it, or nothing.
type machine struct {
	m        *model
	solver   *solver
	networks []*network
	tables   []map[bits]*outcome
	keys     []bits
	shown    []*outcome
	now      moment
	// visit, if it isn't nil, is told each standing of the drivers that the machine goes through.
	visit  func(drivers *bits)
	joined outcome // of all networks together
	held   bits    // devices that don't move, so that they aren't said to
	store  *shelf
}

// shelf keeps the outcomes of networks that were solved. Each worker has its own.
type shelf struct {
	tables map[*network]map[bits]*outcome
	spare  []map[bits]*outcome // of networks that are forgotten again
	room   []outcome
}

func newShelf() *shelf { return &shelf{tables: map[*network]map[bits]*outcome{}} }

// table returns the outcomes known of a network.
func (s *shelf) table(k *network) map[bits]*outcome {
	t := s.tables[k]
	if t == nil {
		if n := len(s.spare); n > 0 {
			t = s.spare[n-1]
			s.spare = s.spare[:n-1]
		} else {
			t = map[bits]*outcome{}
		}
		s.tables[k] = t
	}
	return t
}

// forget gives up what is known of a network.
func (s *shelf) forget(k *network) {
	if t := s.tables[k]; t != nil {
		clear(t)
		s.spare = append(s.spare, t)
		delete(s.tables, k)
	}
}

func (s *shelf) outcome() *outcome {
	if len(s.room) == 0 {
		s.room = make([]outcome, 256)
	}
	o := &s.room[0]
	s.room = s.room[1:]
	return o
}

func newMachine(m *model, store *shelf) *machine {
	return &machine{m: m, solver: &solver{m: m}, store: store}
}

// fit gives the machine other networks, and leaves everything else as it stands.
func (r *machine) fit(networks []*network, changes []Change) {
	r.networks = append(r.networks[:0], networks...)
	r.tables, r.keys, r.shown = r.tables[:0], r.keys[:0], r.shown[:0]
	for _, k := range networks {
		r.tables = append(r.tables, r.store.table(k))
		r.keys = append(r.keys, bits{})
		r.shown = append(r.shown, nil)
	}
	r.held = bits{}
	for _, c := range changes {
		if c.Kind == NeverMoves {
			r.held.set(r.m.wiring.Parts[c.Part].Device)
		}
	}
}

// dead is the machine before any power: every device at rest, the knobs in the middle, the utility's supply there if the box
// has a main switch to turn on.
func (m *model) dead(supply bool) moment {
	start := moment{at: make([]uint8, len(m.circuit.Devices)), late: make([]bool, len(m.circuit.Devices)), supply: supply}
	for _, k := range m.knobs {
		start.at[k.device] = 1
	}
	return start
}

// look returns the outcome of network n with the drivers standing as given.
func (r *machine) look(n int, drivers *bits) *outcome {
	k := r.networks[n]
	key := drivers.both(&k.mask)
	if r.shown[n] != nil && key == r.keys[n] {
		return r.shown[n]
	}
	o := r.tables[n][key]
	if o == nil {
		o = r.store.outcome()
		r.solver.solve(k, &key, o)
		r.tables[n][key] = o
	}
	r.keys[n], r.shown[n] = key, o
	return o
}

// Limits of how often the machine is looked at until it rests. A circuit whose relays still move then never rests: it chatters.
const (
	relayTurns = 24
	driveTurns = 12
)

// settle lets relays, supplies and the drive act on one another until nothing moves any more. The drive looks only when the
// relays have come to rest: it takes longer than they do.
func (r *machine) settle() {
	r.now.seen.chatters = true
	for range driveTurns {
		rested := false
		for range relayTurns {
			r.see()
			if !r.act() {
				rested = true
				break
			}
		}
		if !r.drive() {
			r.now.seen.chatters = !rested
			break
		}
	}
	r.watch()
	if r.now.seen.chatters {
		r.listen()
	}
}

// listen watches a chattering machine for some more turns. What it shows in any of them counts: a motor that gets its torque in
// bursts turns.
func (r *machine) listen() {
	all := r.now.seen
	for range relayTurns / 4 {
		r.see()
		r.act()
		r.drive()
		r.watch()
		s := &r.now.seen
		all.torque, all.reverse, all.safeOff = all.torque || s.torque, all.reverse || s.reverse, all.safeOff && s.safeOff
		all.speed = max(all.speed, s.speed)
		all.lamps.add(&s.lamps)
		all.loads.add(&s.loads)
		all.pulled.add(&s.pulled)
	}
	all.chatters = true
	r.now.seen = all
}

// see solves every network that stands otherwise than before, and joins what they show.
func (r *machine) see() {
	m, now := r.m, &r.now
	d := now.drivers
	for n := range m.switches {
		v := &m.switches[n]
		if v.output == 0 {
			d.put(v.driver, v.in>>now.at[v.device]&1 == 1)
		}
	}
	for n := range m.knobs {
		v := &m.knobs[n]
		d.put(v.driver, now.at[v.device]&1 == 1)
		d.put(v.driver+1, now.at[v.device]&2 == 2)
	}
	now.drivers = d
	if r.visit != nil {
		r.visit(&d)
	}
	j := &r.joined
	*j = outcome{reference: 0}
	for n := range r.networks {
		o := r.look(n, &d)
		j.high.add(&o.high)
		j.low.add(&o.low)
		j.blown.add(&o.blown)
		if o.overload != 0 && j.overload == 0 {
			j.overload = o.overload
		}
		if o.reference >= 0 {
			j.reference = o.reference
		}
		j.motor = max(j.motor, o.motor)
	}
}

// act moves what the voltages move, and reports whether anything did.
func (r *machine) act() bool {
	m, now, j := r.m, &r.now, &r.joined
	moved := false
	for n := range m.sources {
		f := &m.sources[n]
		on := now.supply && !now.tripped
		if f.eye >= 0 {
			on = j.high.has(f.eye)
		} else if on && j.overload == int16(f.driver)+1 {
			now.tripped, on = true, false // the breaker ahead of the box
		}
		if on != now.drivers.has(f.driver) {
			now.drivers.put(f.driver, on)
			moved = true
		}
	}
	for n := range m.coils {
		c := &m.coils[n]
		switch at := &now.at[c.device]; {
		case j.high.has(c.eye):
			now.late[c.device] = false
			if *at != 1 {
				*at, moved = 1, true
			}
		case j.low.has(c.eye) || *at == 0: // a coil between its limits stays
		case c.late:
			now.late[c.device] = true
		default:
			*at, moved = 0, true
		}
	}
	if j.blown != (bits{}) {
		for n := range m.fuses {
			if f := &m.fuses[n]; j.blown.has(f.driver) && now.at[f.device] == 0 {
				now.at[f.device], moved = 1, true
			}
		}
	}
	return moved
}

// drive lets the drive act once, and reports whether an output of it changed.
func (r *machine) drive() bool {
	m, now := r.m, &r.now
	if !m.driven {
		return false
	}
	sees := driveSees{fed: m.driveFeed >= 0 && r.joined.high.has(m.driveFeed), has: m.inputs, reference: r.joined.reference, motor: r.joined.motor}
	for n := range m.eyes {
		if e := &m.eyes[n]; e.kind == inputEye {
			if r.joined.high.has(n) {
				sees.high.put(e.does, true)
			}
			if r.joined.low.has(n) {
				sees.low.put(e.does, true)
			}
		}
	}
	before := now.drive
	now.drive.step(&m.logic, &sees)
	changed := before.ready != now.drive.ready || before.fault != now.drive.fault || before.running != now.drive.running
	for n := range m.switches {
		v := &m.switches[n]
		if v.output == 0 {
			continue
		}
		at := uint8(0)
		if v.output <= len(m.logic.outputs) && now.drive.gives(m.logic.outputs[v.output-1]) {
			at = 1
		}
		if on := v.in>>at&1 == 1; on != now.drivers.has(v.driver) {
			now.drivers.put(v.driver, on)
			changed = true
		}
	}
	return changed
}

// watch notes what is to be seen.
func (r *machine) watch() {
	m, now := r.m, &r.now
	s := sight{chatters: now.seen.chatters, overload: r.joined.overload}
	if now.tripped {
		for n := range m.sources {
			if f := &m.sources[n]; f.eye < 0 {
				s.overload = int16(f.driver) + 1
				break
			}
		}
	}
	for n := range m.eyes {
		e := &m.eyes[n]
		if !r.joined.high.has(n) {
			continue
		}
		switch e.kind {
		case lampEye:
			s.lamps.set(e.device)
		case loadEye:
			s.loads.set(e.device)
		case coilEye, inputEye, feedEye:
		}
	}
	for n := range m.coils {
		if d := m.coils[n].device; now.at[d] == 1 && !r.held.has(d) {
			s.pulled.set(d)
		}
	}
	switch joined := r.joined.motor == joinedForward || r.joined.motor == joinedReverse; {
	case m.driven:
		d := &now.drive
		s.torque = d.running != 0 && (joined || len(m.motor) == 0)
		s.reverse = s.torque && (d.running < 0) != (r.joined.motor == joinedReverse)
		s.speed = d.speed
		s.safeOff = !d.alive || d.on&m.logic.safe != m.logic.safe
	case len(m.motor) > 0:
		s.torque = joined && now.supply && !now.tripped
		s.reverse = s.torque && r.joined.motor == joinedReverse
		s.speed, s.safeOff = keypadSpeed, !joined || !now.supply || now.tripped
	default: // nothing but relays: what holds the run counts as the motor
		for n, d := range m.circuit.Devices {
			s.torque = s.torque || d.Role == circuit.HoldsRun && s.pulled.has(n)
		}
		s.speed, s.safeOff = keypadSpeed, !s.torque
	}
	if !s.torque {
		s.speed, s.reverse = 0, false
	}
	now.seen = s
}
