package prove

import (
	"context"
	"slices"

	"drivewright/internal/base/explain"
)

// combined is a pair of faults that is worse than each of the two.
type combined struct {
	one, other int
	verdict    verdict
}

// pairs tries every pair of faults and keeps those that are dangerous together and worse than each by itself. Pairs that make
// the same networks share the work; two faults of which neither changes what any network shows, in different networks, change nothing
// together.
func (b *breaking) pairs(ctx context.Context) (list []Fault, tried int, err error) {
	rows := make([][]combined, len(b.faults))
	verdicts := make([]map[string]verdict, len(b.crew))
	seat := map[*worker]int{}
	for n, w := range b.crew {
		seat[w], verdicts[n] = n, map[string]verdict{}
	}
	err = b.share(ctx, len(b.faults), func(w *worker, one int) {
		rows[one] = b.row(ctx, w, verdicts[seat[w]], one)
	})
	for n := range rows {
		tried += n
	}
	if err != nil {
		return nil, 0, err
	}
	var found []combined
	for _, row := range rows {
		found = append(found, row...)
	}
	list = make([]Fault, len(found))
	err = b.share(ctx, len(found), func(w *worker, n int) { list[n] = b.tellPair(w, found[n]) })
	slices.SortStableFunc(list, func(x, y Fault) int { return int(x.Class - y.Class) })
	return list, tried, err
}

// row tries one fault with all before it in the list.
func (b *breaking) row(ctx context.Context, w *worker, known map[string]verdict, one int) []combined {
	var found []combined
	g := b.groups[b.of[one]]
	for other := range one {
		if other&63 == 0 && ctx.Err() != nil {
			return nil
		}
		o := b.groups[b.of[other]]
		alone := min(b.alone(g), b.alone(o))
		if alone == StartsByItself || !b.mayDiffer(g, o) {
			continue
		}
		if v := b.pair(w, known, one, other); v.class < alone && v.class < HiddenDanger {
			found = append(found, combined{one: other, other: one, verdict: v})
		}
	}
	return found
}

// alone is what a group does by itself.
func (b *breaking) alone(g *group) Class { return g.verdict.class }

// mayDiffer reports whether two faults together can do anything that neither does by itself. A harmless one may still bridge to
// where the other leads.
func (b *breaking) mayDiffer(g, o *group) bool {
	if g.harmless && o.harmless {
		return true
	}
	return !b.apart(g, o)
}

// pair tries two faults, or finds a pair that makes the same networks.
func (b *breaking) pair(w *worker, known map[string]verdict, one, other int) verdict {
	changes := append(append(make([]Change, 0, 8), b.faults[other].changes...), b.faults[one].changes...)
	networks, name := b.networks(w.builder, changes, b.known, false)
	v, there := known[name]
	if !there {
		v = b.t.try(w.machine, networks, changes, StartsByItself)
		known[name] = v
	}
	for _, k := range networks {
		if b.known[k.name] != k {
			w.machine.store.forget(k)
		}
	}
	return v
}

// tellPair makes the report's fault of a pair.
func (b *breaking) tellPair(w *worker, p combined) Fault {
	one, other := &b.faults[p.one], &b.faults[p.other]
	changes := append(append([]Change{}, one.changes...), other.changes...)
	networks, _ := b.networks(w.builder, changes, b.known, false)
	p.verdict.reaches &= motorRunsOn // it was looked for no further than the worst
	f := b.t.told(w, networks, changes, p.verdict)
	for _, k := range networks {
		if b.known[k.name] != k {
			w.machine.store.forget(k)
		}
	}
	f.Name, f.Changes, f.Place = one.name+", and "+other.name, changes, one.place
	f.Remedy = b.pairRemedy(one, other)
	return f
}

// pairRemedy says how the first of the two would be found before the second comes.
func (b *breaking) pairRemedy(one, other *breakage) explain.Phrase {
	hidden := func(f *breakage) bool {
		return b.groups[b.of[slices.IndexFunc(b.faults, func(g breakage) bool { return g.name == f.name })]].verdict.class == Hidden
	}
	switch {
	case hidden(one):
		return explain.Say("the first shows nothing by itself: look for it at every yearly check, before the second comes")
	case hidden(other):
		return explain.Say("the second shows nothing by itself: look for it at every yearly check, before the first comes")
	}
	return explain.Say("either shows by itself: repair it before anybody goes on working")
}
