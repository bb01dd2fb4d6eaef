package pack

import "fmt"

// Fit looks for an arrangement of all items in the room, or for a proof that there is none. Impossible is said only if a bound rules
// every arrangement out, or a search went through them all; every arrangement passes Check before it is called found. Options.Steps
// counts dead ends of the proof's search; the other searches take their share beside it.
func Fit(p *Problem, o Options) Answer {
	r, answer, over := newRace(p, o)
	if over {
		return answer
	}
	r.invite()
	answer, _ = r.run(o.Steps)
	return answer
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

// race lets several searches take turns at one problem, in rounds that are counted in steps and not in time. Without guests it is the
// proof's search alone.
type race struct {
	p      *Problem
	o      Options
	task   *task
	model  *model
	round  int64
	guests bool
	plate  *plateSearch // nil unless the problem is a plate that little is left over of
	share  int64        // steps of the plate's next turn
}

const (
	// firstRound is how many dead ends the proof's search may meet before the others have their first turn: most problems are settled
	// by then.
	firstRound = 1000
	// plateSearch has turns where less than one part of the plate in so many stays free.
	littleWaste = 16
	firstShare  = 1 << 16
)

// newRace readies a race; over tells that the answer is known without one.
func newRace(p *Problem, o Options) (r *race, answer Answer, over bool) {
	t, no, wrong := prepare(p)
	switch {
	case wrong != "":
		return nil, Answer{Why: wrong}, true
	case no != "":
		return nil, Answer{Verdict: Impossible, Why: no}, true
	case len(p.Items) == 0:
		return nil, found(p, []Place{}, "there is nothing to arrange", 0), true
	}
	if why := t.bound(); why != "" {
		return nil, Answer{Verdict: Impossible, Why: why}, true
	}
	if t.tooFine() {
		return nil, Answer{Why: "the lengths have too few common divisors for a search; use a coarser unit"}, true
	}
	r = &race{p: p, o: o, task: t, round: firstRound}
	return r, Answer{}, false
}

// invite lets the other searches take turns.
func (r *race) invite() {
	r.guests = true
	if f, plain := plateOf(r.p); plain && !f.share(littleWaste) {
		r.plate = &plateSearch{f: f, o: &r.o, clause: r}
		r.share = firstShare
	}
}

// run goes on with the race until it is decided, or until the proof's search met so many dead ends in all (0: no limit). over is
// false if it can go on.
func (r *race) run(limit int64) (answer Answer, over bool) {
	if r.model == nil {
		r.model = newModel(r.task)
	}
	m := r.model
	for {
		round := r.round
		if limit > 0 {
			round = min(round, limit-m.conflicts)
		}
		switch m.search(round, nil, r.o.Stop) {
		case satisfied:
			return found(r.p, m.places(), fmt.Sprintf("found after %d dead ends", m.conflicts), m.conflicts), true
		case refuted:
			why := fmt.Sprintf("every arrangement was ruled out, over %d dead ends", m.conflicts)
			return Answer{Verdict: Impossible, Why: why, Steps: m.conflicts}, true
		}
		if r.o.stopped() || limit > 0 && m.conflicts >= limit {
			return Answer{Why: fmt.Sprintf("neither an arrangement nor a proof after %d dead ends", m.conflicts), Steps: m.conflicts}, false
		}
		if r.guests {
			r.guests = false // a plate's search gives this one its turns meanwhile
			answer, over = r.others()
			r.guests = true
			if over {
				return answer, true
			}
		}
		r.round += r.round / 2
	}
}

// others gives the other searches their turn.
func (r *race) others() (Answer, bool) {
	if r.plate != nil {
		a := r.plate.run(r.p, r.share)
		r.share *= 2
		return a, a.Verdict != NotFound
	}
	steps := r.model.conflicts
	o := r.o
	o.Seed += uint64(r.round)
	o.Steps = 2 * r.round
	if places, ok := arrange(r.p, o); ok {
		return found(r.p, places, "found by moving what was in the way", steps), true
	}
	return Answer{}, false
}
