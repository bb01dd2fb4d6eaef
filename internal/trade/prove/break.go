package prove

import (
	"context"
	"runtime"
	"slices"
	"sync"

	"drivewright/internal/trade/circuit"
)

// Break runs the script on the circuit with nothing wrong, then with each single fault, and, if pairs is true, with each pair.
func Break(c *circuit.Circuit, pairs bool) Report {
	r, _ := BreakWithin(context.Background(), c, pairs)
	return r
}

// BreakWithin is Break that gives up when the context ends; the error is then the context's, and the report holds what was found
// until then.
func BreakWithin(ctx context.Context, c *circuit.Circuit, pairs bool) (Report, error) {
	m := newModel(c)
	if m.tooLarge {
		return Report{Problem: "the circuit has more than 256 contacts, coils or devices: it isn't simulated"}, nil
	}
	t := newTrial(m)
	report := Report{Script: t.steps(), Whole: t.wholeDangers()}
	b := newBreaking(t)
	if err := b.singles(ctx); err != nil {
		return report, err
	}
	if err := b.secondFaults(ctx); err != nil {
		return report, err
	}
	var err error
	if report.Faults, err = b.report(ctx); err != nil {
		return report, err
	}
	report.Functions = t.functions(report.Faults, report.Whole)
	if pairs {
		report.Pairs, report.PairsTried, err = b.pairs(ctx)
	}
	return report, err
}

// group is all faults that make the same networks: they do the same.
type group struct {
	first    int   // the first of them, in breaking.faults
	members  []int // all of them
	networks []*network
	verdict  verdict
	harmless bool // the networks are those of the whole circuit
	still    bool // the networks show the same as the whole circuit's in every standing that it goes through
	with     int  // the fault that makes a hidden one dangerous; -1
	fault    Fault
}

// breaking is the work on one circuit.
type breaking struct {
	t      *trial
	faults []breakage
	of     []int // the group of each fault
	groups []*group
	known  map[string]*network
	nets   []int32 // of the nodes of the whole circuit, joined by wires and links
	// neutral are the nets that carry a supply's neutral.
	neutral map[int32]bool
	crew    []*worker
	tried   sync.Map // Class by the name of the networks that two faults make: each pair is tried once, whichever of the two comes first
}

// worker has what one goroutine needs.
type worker struct {
	builder *builder
	machine *machine
	whole   *machine // runs the circuit with nothing wrong
}

func newBreaking(t *trial) *breaking {
	b := &breaking{t: t, known: map[string]*network{}}
	b.faults, b.nets = t.m.breakages()
	b.neutral = b.neutrals()
	for _, k := range t.networks {
		b.known[k.name] = k
	}
	for range max(1, min(runtime.GOMAXPROCS(0), 8)) {
		store := newShelf()
		w := &worker{builder: newBuilder(t.m), machine: newMachine(t.m, store), whole: newMachine(t.m, store)}
		w.whole.fit(t.networks, nil)
		b.crew = append(b.crew, w)
	}
	builder := b.crew[0].builder
	groups := map[string]int{}
	for n, f := range b.faults {
		networks, name := b.networks(builder, f.changes, b.known, true)
		if k, there := groups[name]; there {
			b.of = append(b.of, k)
			b.groups[k].members = append(b.groups[k].members, n)
			continue
		}
		groups[name] = len(b.groups)
		b.of = append(b.of, len(b.groups))
		b.groups = append(b.groups, &group{first: n, members: []int{n}, networks: networks, with: -1, harmless: slices.Equal(networks, t.networks) && !t.m.holds(f.changes)})
	}
	return b
}

// networks builds the networks of a circuit with changes, taking those that are known; a new one becomes known if keep is true.
// The name is the same for all faults that make the same networks.
func (b *breaking) networks(builder *builder, changes []Change, known map[string]*network, keep bool) (list []*network, name string) {
	var all []byte
	for _, p := range builder.build(changes...) {
		sign := builder.sign(p)
		k := known[string(sign)]
		if k == nil {
			k = builder.finish(p, string(sign))
			if keep {
				known[k.name] = k
			}
		}
		list = append(list, k)
		all = append(all, sign...)
		all = append(all, 0xff, 0xff)
	}
	for _, c := range changes {
		if c.Kind == NeverMoves { // it isn't seen to pull in
			all = append(all, byte(b.t.m.wiring.Parts[c.Part].Device))
		}
	}
	return list, string(append(all, byte(comesAbout(changes))))
}

// share has the crew do work(0) to work(n-1), each once, and stops early when the context ends.
func (b *breaking) share(ctx context.Context, n int, work func(w *worker, n int)) error {
	var wait sync.WaitGroup
	next := make(chan int, n)
	for k := range n {
		next <- k
	}
	close(next)
	for _, w := range b.crew {
		wait.Go(func() {
			for k := range next {
				if ctx.Err() != nil {
					return
				}
				work(w, k)
			}
		})
	}
	wait.Wait()
	return ctx.Err()
}

// singles judges every group.
func (b *breaking) singles(ctx context.Context) error {
	return b.share(ctx, len(b.groups), func(w *worker, n int) {
		g := b.groups[n]
		g.verdict = verdict{class: Harmless}
		if g.harmless {
			return
		}
		g.still = b.t.still(w.machine, g.networks, b.faults[g.first].changes)
		g.verdict = b.t.try(w.machine, g.networks, b.faults[g.first].changes, everything)
		if g.verdict.class == none {
			g.verdict.class = Hidden
		}
	})
}

// secondFaults looks for hidden faults that one more makes dangerous: another hidden one first, else one with which people go on working, such
// as a stop that comes late. A fault that stops the machine, or keeps it from starting, is repaired before it runs again, and a lamp that lies
// is seen at once: their pairs are among those of every two faults. Where the whole machine never runs, nothing shows anything and nothing is looked for.
func (b *breaking) secondFaults(ctx context.Context) error {
	if !b.t.everRuns() {
		return nil
	}
	var hidden, seen []int
	for n, g := range b.groups {
		switch c := g.verdict.class; {
		case c == Hidden:
			hidden = append(hidden, n)
		case c == Other || c == StopsLate:
			seen = append(seen, n)
		}
	}
	return b.share(ctx, len(hidden), func(w *worker, k int) {
		g := b.groups[hidden[k]]
		for _, others := range [][]int{hidden, seen} {
			for _, other := range b.likest(g, others) {
				if b.worse(w, g.first, other) {
					g.with = other
					return
				}
			}
		}
	})
}

// likest returns the faults to try beside a hidden one, one of each other group that can do anything together with it: what is of
// the same sort first, then what happens to the same device, then what stands nearest in the list. A person understands
// two contacts of one button, or two wires that touch ground, better than two strangers.
func (b *breaking) likest(g *group, others []int) []int {
	var list []int
	for _, n := range others {
		o := b.groups[n]
		if o == g || b.apart(g, o) {
			continue
		}
		list = append(list, b.nearest(g.first, o.members))
	}
	slices.SortFunc(list, func(x, y int) int { return b.far(g.first, x) - b.far(g.first, y) })
	return list
}

// far says how strange two faults are to each other.
func (b *breaking) far(one, other int) int {
	f, o := &b.faults[one], &b.faults[other]
	d := min(max(other-one, one-other), 1<<20)
	if o.device != f.device {
		d += 1 << 21
	}
	if o.sort != f.sort && !(earthed(o.sort) && earthed(f.sort)) {
		d += 1 << 22
	}
	return d
}

// nearest returns the least strange of several faults.
func (b *breaking) nearest(one int, others []int) int {
	return slices.MinFunc(others, func(x, y int) int { return b.far(one, x) - b.far(one, y) })
}

// seconds finds for each fault the second one to name: of the group that makes it dangerous the one that is likest it, if the two have
// been tried or do the same when they are.
func (b *breaking) seconds(ctx context.Context) ([]int, error) {
	second := make([]int, len(b.faults))
	err := b.share(ctx, len(b.faults), func(w *worker, n int) {
		second[n] = b.groups[b.of[n]].with
		if second[n] < 0 {
			return
		}
		if near := b.nearest(n, b.groups[b.of[second[n]]].members); near != n && b.worse(w, n, near) {
			second[n] = near
		}
	})
	return second, err
}

// apart reports whether two groups can do nothing together, an exact test: they change different networks, and those of each show the same
// as the whole circuit's wherever the machine goes, so that with both it goes nowhere else.
func (b *breaking) apart(one, other *group) bool {
	if !one.still || !other.still {
		return false
	}
	changed := func(g *group, k *network) bool { return !slices.Contains(g.networks, k) }
	for _, k := range b.t.networks {
		if changed(one, k) && changed(other, k) {
			return false
		}
	}
	return true
}

// worse reports whether a hidden fault and another are dangerous together, and worse than the other by itself.
func (b *breaking) worse(w *worker, hidden, other int) bool {
	return b.both(w, hidden, other) < min(HiddenDanger, b.alone(b.groups[b.of[other]]))
}

// both says what two faults do together.
func (b *breaking) both(w *worker, one, other int) Class {
	changes := append(append(make([]Change, 0, 8), b.faults[one].changes...), b.faults[other].changes...)
	networks, name := b.networks(w.builder, changes, b.known, false)
	if c, there := b.tried.Load(name); there {
		return c.(Class)
	}
	v := b.t.try(w.machine, networks, changes, WrongWay)
	b.tried.Store(name, v.class)
	for _, k := range networks {
		if b.known[k.name] != k {
			w.machine.store.forget(k)
		}
	}
	return v.class
}

// report writes the faults, worst first.
func (b *breaking) report(ctx context.Context) ([]Fault, error) {
	err := b.share(ctx, len(b.groups), func(w *worker, n int) {
		g := b.groups[n]
		g.fault = b.t.told(w, g.networks, b.faults[g.first].changes, g.verdict)
	})
	if err != nil {
		return nil, err
	}
	second, err := b.seconds(ctx)
	if err != nil {
		return nil, err
	}
	list := make([]Fault, 0, len(b.faults))
	for n, f := range b.faults {
		list = append(list, b.fault(n, f, second[n]))
	}
	slices.SortStableFunc(list, func(x, y Fault) int { return int(x.Class - y.Class) })
	return list, nil
}

// fault makes the report's fault of a single one.
func (b *breaking) fault(n int, f breakage, second int) Fault {
	g := b.groups[b.of[n]]
	out := g.fault
	out.Name, out.Changes, out.Place, out.Class, out.sort = f.name, f.changes, f.place, g.verdict.class, f.sort
	switch {
	case f.sort == bondSort:
		out.Class, out.With = HiddenDanger, "a live wire touches the metal that it bonds"
		out.Seen, out.Expected = "nothing", "nothing"
	case second >= 0:
		out.Class, out.With = HiddenDanger, b.faults[second].name
	}
	if then := b.protection(&f); then != "" {
		out.Reaches = out.Reaches.with(ProtectionLost)
		if out.Class == Hidden || out.Class == Harmless {
			out.Class, out.With = ProtectionLost, then
		}
	}
	out.Reaches = out.Reaches.with(out.Class)
	out.Remedy = b.remedy(&f, &out)
	return out
}
