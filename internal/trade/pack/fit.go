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

// race lets several searches take turns at one problem, in rounds that are counted in steps and not in time.
type race struct {
	p     *Problem
	o     Options
	task  *task
	model *model
	plate *plate // nil unless it is one for a gapSearch
	round int64
	moves int64 // steps of arrange so far
}

// firstRound is how many dead ends the proof's search may meet before the others have their first turn: most problems are settled by then.
const firstRound = 1000

// A gapSearch is tried where less than this share of the plate stays free, as one part of so many.
const littleWaste = 40

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
	if f, plain := plateOf(p); plain && f.waste*littleWaste < int64(f.w)*int64(f.h) {
		r.plate = &f
	}
	return r, Answer{}, false
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
		if answer, over = r.others(); over {
			return answer, true
		}
		r.round += r.round / 2
	}
}

// others gives the other searches their turn.
func (r *race) others() (Answer, bool) {
	steps := r.model.conflicts
	if r.plate != nil {
		share := 5 * r.round
		if r.plate.waste == 0 {
			share *= 20 // it is best there
		}
		g := newGapSearch(*r.plate, &r.o, share)
		switch g.run() {
		case Found:
			return found(r.p, r.plate.places(r.p, g.spots), fmt.Sprintf("found by filling gaps, in %d steps", g.steps), steps), true
		case Impossible:
			why := fmt.Sprintf("every way of filling gaps was ruled out, in %d steps", g.steps)
			return Answer{Verdict: Impossible, Why: why, Steps: steps}, true
		}
	}
	o := r.o
	o.Seed += uint64(r.round)
	o.Steps = 2 * r.round
	if places, ok := arrange(r.p, o); ok {
		return found(r.p, places, "found by moving what was in the way", steps), true
	}
	return Answer{}, false
}
