package pack

import "fmt"

// Fit looks for an arrangement of all items in the room, or for a proof that there is none. Impossible is said only if a bound rules
// every arrangement out, or a search went through them all; every arrangement passes Check before it is called found.
func Fit(p *Problem, o Options) Answer {
	t, no, wrong := prepare(p)
	switch {
	case wrong != "":
		return Answer{Why: wrong}
	case no != "":
		return Answer{Verdict: Impossible, Why: no}
	case len(p.Items) == 0:
		return found(p, []Place{}, "there is nothing to arrange", 0)
	}
	if why := t.tooMuch(); why != "" {
		return Answer{Verdict: Impossible, Why: why}
	}
	if t.tooFine() {
		return Answer{Why: "the lengths have too few common divisors for a search; use a coarser unit"}
	}
	r := race{p: p, o: o, task: t}
	return r.run()
}

// found makes the answer of an arrangement, once Check has nothing against it.
func found(p *Problem, places []Place, why string, steps int64) Answer {
	if faults := Check(p, places); len(faults) > 0 {
		return Answer{Why: "a search gave a wrong arrangement, which was thrown away: " + faults[0].String(), Steps: steps}
	}
	return Answer{Verdict: Found, Why: why, Places: places, Wire: Measure(p, places), Steps: steps}
}

// tooFine reports whether the coordinates have more values than a search can hold.
func (t *task) tooFine() bool {
	total := 0
	for _, s := range t.solids {
		for axis := range 3 {
			total += int(s.high[axis] - s.low[axis])
		}
	}
	return total > 1<<22
}

// race lets the searches take turns.
type race struct {
	p    *Problem
	o    Options
	task *task
}

func (r *race) run() Answer {
	m := newModel(r.task)
	// The rounds grow, so that many short ones don't cost much and none takes long at first.
	for round := int64(500); ; round += round / 2 {
		if r.o.Steps > 0 {
			round = min(round, r.o.Steps-m.conflicts)
		}
		switch m.search(round, nil, r.o.Stop) {
		case satisfied:
			return found(r.p, m.places(), fmt.Sprintf("found after %d dead ends", m.conflicts), m.conflicts)
		case refuted:
			why := fmt.Sprintf("every arrangement was ruled out, over %d dead ends", m.conflicts)
			return Answer{Verdict: Impossible, Why: why, Steps: m.conflicts}
		}
		if r.o.stopped() || r.o.Steps > 0 && m.conflicts >= r.o.Steps {
			return Answer{Why: fmt.Sprintf("neither an arrangement nor a proof after %d dead ends", m.conflicts), Steps: m.conflicts}
		}
	}
}
