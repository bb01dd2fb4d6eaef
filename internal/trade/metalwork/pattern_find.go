package metalwork

import (
	"fmt"
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// find settles the pattern and says what it is worth.
func (f *finder) find() {
	r := &f.result
	name := string(r.Pattern.Name.Value)
	r.Outline = explain.Renamed("pattern "+name, job.Known(r.Pattern.Name))
	// A dozen starts reach every fold that is worth a look; more only cost time.
	s, twin := f.network.best(12)
	if s.u == nil {
		return
	}
	f.faceTheRightWay(&s)
	r.ByOrder = !f.network.handed() && f.network.holes > 2
	spare := 0.0
	for _, share := range s.share {
		spare += share
	}
	r.Spare, r.Lacking = quantity.Count(math.Round(spare)), quantity.Count(len(s.free))
	r.Twin = twin != nil
	f.placeHoles(&s)
	worst := f.judgeReadings(&s)
	r.Fits = s.misfit <= chiSquared(math.Round(spare)) && worst <= oneInAThousand
	var without []solution
	if !r.Fits {
		without = f.suspect(&s)
	}
	f.advise(&s, twin, without)
}

// oneInAThousand is the standardised residual that chance exceeds once in a thousand readings (two-sided normal distribution; the critical value
// of Baarda's data snooping).
const oneInAThousand = 3.29

// chiSquared is the sum of squares that chance exceeds once in a thousand patterns, by Wilson and Hilferty's approximation.
func chiSquared(freedom float64) float64 {
	if freedom < 1 {
		return 1e-3
	}
	k := 2 / (9 * freedom)
	return freedom * math.Pow(1-k+3.09*math.Sqrt(k), 3)
}

// faceTheRightWay turns the pattern over where only the order of the holes tells its two faces apart: the first three that don't lie in a row go
// anticlockwise.
func (f *finder) faceTheRightWay(s *solution) {
	if f.network.handed() || f.network.holes < 3 {
		return
	}
	at := func(h int) point { return point{s.u[2*h], s.u[2*h+1]} }
	for h := 2; h < f.network.holes; h++ {
		// A row is what bends by less than a hundredth of its length.
		bend := offLine(at(0), at(1), at(h))
		if math.Abs(bend) < 0.01*at(0).to(at(1)) {
			continue
		}
		if bend > 0 {
			return
		}
		along, upright := 1, 0
		for _, o := range f.network.seen {
			if o.sort == fromBase {
				upright++
			}
		}
		if upright > 1 {
			along = 0
		}
		for k := range f.network.holes {
			if k > 0 {
				s.u[2*k+along] = 2*s.u[along] - s.u[2*k+along]
			}
		}
		*s = f.network.judge(s.u, misfit(f.network.all(), s.u))
		return
	}
}

// placeHoles writes down where each hole is and how far that may be off.
func (f *finder) placeHoles(s *solution) {
	r := &f.result
	name := string(r.Pattern.Name.Value)
	for n := range r.Holes {
		h := &r.Holes[n]
		h.Placed = true
		for _, v := range s.free {
			if math.Hypot(v[2*n], v[2*n+1]) > 1e-4 {
				h.Placed = false
			}
		}
		for k, axis := range []struct {
			word       string
			place, off *explain.Known[quantity.Length]
		}{{"x", &h.X, &h.OffX}, {"y", &h.Y, &h.OffY}} {
			title := fmt.Sprintf("%s, hole %s, %s", name, h.Name, axis.word)
			if !h.Placed {
				*axis.place = explain.Absent[quantity.Length](title, explain.Say("the readings leave it open"))
				*axis.off = explain.Absent[quantity.Length]("spread of "+title, explain.Say("the readings leave it open"))
				continue
			}
			because := f.readingsOf(n)
			value := length(s.u[2*n+k])
			if math.Abs(s.u[2*n+k]) < 1e-4 {
				value = 0 // a choice of axes, not a figure
			}
			*axis.place = explain.Chosen(title, value, "the place that fits all readings of the pattern best", leastSquares, because...)
			off := length(math.Sqrt(max(0, s.inverse[2*n+k][2*n+k])))
			if off < 2e-3*quantity.Millimetre {
				off = 0
			}
			*axis.off = explain.Chosen("spread of "+title, off, "what a spread of {"+r.Spread.Why().Name+"} in each reading makes of the place, as a standard deviation", leastSquares, r.Spread)
		}
	}
}

// readingsOf are the reasons of hole n: its readings and what is written of its place.
func (f *finder) readingsOf(n int) []explain.Because {
	r := &f.result
	var list []explain.Because
	for _, o := range f.network.seen {
		if o.source >= 0 && (o.a == n || o.b == n) {
			list = append(list, r.Readings[o.source].Middles)
		}
	}
	h := r.Holes[n].Hole
	for _, g := range []job.Given[quantity.Length]{h.X, h.Y} {
		if g.Set {
			list = append(list, job.Known(g))
		}
	}
	if h.Seen.Set {
		list = append(list, job.Known(h.Seen))
	}
	if len(list) == 0 {
		list = append(list, r.Outline)
	}
	return list
}

// judgeReadings writes down what is left of each reading and returns the largest in standard deviations.
func (f *finder) judgeReadings(s *solution) (worst float64) {
	r := &f.result
	for k, o := range f.network.seen {
		sigmas := 0.0
		if s.share[k] > 0.01 {
			sigmas = math.Abs(s.left[k]) / (o.spread * math.Sqrt(s.share[k]))
			if o.sort == between || o.source >= 0 {
				worst = max(worst, sigmas)
			}
		}
		if o.source < 0 {
			continue
		}
		reading := &r.Readings[o.source]
		reading.Sigmas, reading.Checked = quantity.Factor(sigmas), s.share[k] > 0.01
		title := string(r.Pattern.Name.Value) + ", " + reading.Name + ", left over"
		reading.Left = explain.Chosen(title, length(s.left[k]), "distance in the pattern as found − {"+reading.Middles.Why().Name+"}", leastSquares, reading.Middles)
	}
	return worst
}

// suspect names the readings without which the rest fits, the likeliest first, and returns the patterns without them.
func (f *finder) suspect(s *solution) []solution {
	r := &f.result
	type trial struct {
		at   int // index into network.seen
		s    solution
		rest network
	}
	var trials []trial
	least := math.Inf(1)
	for k, o := range f.network.seen {
		if o.source < 0 || s.share[k] <= 0.01 {
			continue
		}
		rest := f.network
		rest.seen = slices.Delete(slices.Clone(f.network.seen), k, k+1)
		u, worse := rest.settle(s.u)
		trials = append(trials, trial{k, solution{u: u, misfit: worse}, rest})
		least = min(least, worse)
	}
	if least > chiSquared(float64(r.Spare)-1) {
		// a gross mistake may have folded the pattern: begin afresh without each
		for n := range trials {
			t := &trials[n]
			if again, _ := t.rest.best(3); again.u != nil && again.misfit < t.s.misfit {
				t.s = again
			}
		}
	}
	slices.SortStableFunc(trials, func(a, b trial) int { return compare(a.s.misfit, b.s.misfit) })
	var list []solution
	for _, t := range trials {
		// A difference of 4 in the sum of squares is odds of 7 to 1.
		if t.s.misfit > trials[0].s.misfit+4 || t.s.misfit > s.misfit-6 {
			break
		}
		at := f.network.seen[t.at]
		reading := r.Readings[at.source]
		should := at.read(t.s.u, make([]float64, len(t.s.u)))
		title := string(r.Pattern.Name.Value) + ", " + reading.Name + ", by the other readings"
		r.Suspects = append(r.Suspects, Suspect{at.source, explain.Chosen(title, reading.Reading.Reads.Value+length(should-at.value), "what the caliper would show if only this reading is wrong", leastSquares, reading.Middles)})
		list = append(list, t.s)
	}
	return list
}

// pairs calls use with every two holes; taken says that their distance is among the readings.
func (f *finder) pairs(use func(a, b int, taken bool)) {
	for b := range f.network.holes {
		for a := range b {
			use(a, b, slices.ContainsFunc(f.network.seen, func(o observation) bool {
				return o.sort == between && (o.a == a && o.b == b || o.a == b && o.b == a)
			}))
		}
	}
}

// advise says what to measure next.
func (f *finder) advise(s *solution, twin []float64, without []solution) {
	r := &f.result
	distance := func(u []float64, a, b int) float64 {
		return math.Hypot(u[2*a]-u[2*b], u[2*a+1]-u[2*b+1])
	}
	apart := func(u, w []float64, words string) {
		most, from, to := 0.0, -1, -1
		f.pairs(func(a, b int, taken bool) {
			if d := math.Abs(distance(u, a, b) - distance(w, a, b)); !taken && d > most+1e-6 {
				most, from, to = d, a, b
			}
		})
		if from >= 0 && most > 4*f.sigma {
			r.Advised = append(r.Advised, AdvisedReading{r.Holes[from].Name, r.Holes[to].Name, words, length(distance(u, from, to)), length(distance(w, from, to))})
		}
	}
	switch {
	case len(s.free) > 0:
		f.adviseMissing(s)
	case twin != nil:
		apart(s.u, twin, "tells the two shapes apart")
	case len(without) > 1:
		a, b := r.Readings[r.Suspects[0].Reading].Name, r.Readings[r.Suspects[1].Reading].Name
		apart(without[0].u, without[1].u, "tells whether "+a+" or "+b+" is wrong")
	case len(without) == 1:
	case f.network.holes > 2:
		f.adviseCheck(s)
	}
}

// adviseMissing names readings, one after the other, that settle what is open.
func (f *finder) adviseMissing(s *solution) {
	r := &f.result
	net := f.network
	net.seen = slices.Clone(net.seen)
	at := *s
	for range 2 * net.holes {
		if len(at.free) == 0 {
			return
		}
		most, from, to := 1e-3, -1, -1
		f.pairs(func(a, b int, taken bool) {
			if taken || slices.ContainsFunc(r.Advised, func(v AdvisedReading) bool { return v.From == r.Holes[a].Name && v.To == r.Holes[b].Name }) {
				return
			}
			g := make([]float64, len(at.u))
			observation{sort: between, a: a, b: b}.read(at.u, g)
			reach := 0.0
			for _, v := range at.free {
				reach += square(dot(g, v))
			}
			if reach > most+1e-9 {
				most, from, to = reach, a, b
			}
		})
		if from < 0 {
			return
		}
		settles := r.Holes[to].Name
		if r.Holes[to].Placed && !r.Holes[from].Placed {
			settles = r.Holes[from].Name
		}
		r.Advised = append(r.Advised, AdvisedReading{From: r.Holes[from].Name, To: r.Holes[to].Name, For: "settles where " + settles + " is"})
		d := math.Hypot(at.u[2*from]-at.u[2*to], at.u[2*from+1]-at.u[2*to+1])
		net.seen = append(net.seen, observation{sort: between, a: from, b: to, value: d, spread: f.sigma, source: -1})
		at = net.judge(at.u, 0)
	}
}

// adviseCheck names the reading that leaves the least checked reading best checked, where one is hardly checked now.
func (f *finder) adviseCheck(s *solution) {
	r := &f.result
	least := 1.0
	for k, o := range f.network.seen {
		if o.source >= 0 {
			least = min(least, s.share[k])
		}
	}
	if least > 0.15 {
		return
	}
	best, total, from, to := least+1e-6, 0.0, -1, -1
	f.pairs(func(a, b int, taken bool) {
		if taken {
			return
		}
		g := make([]float64, len(s.u))
		observation{sort: between, a: a, b: b}.read(s.u, g)
		q := s.inverse.times(g)
		scale := 1 / (f.sigma*f.sigma + dot(g, q))
		low, sum := 1.0, 0.0
		for k, o := range f.network.seen {
			if o.source >= 0 {
				share := s.share[k] + square(dot(s.gradient[k], q))*scale/(o.spread*o.spread)
				low, sum = min(low, share), sum+share
			}
		}
		if low > best+1e-9 || low > best-1e-9 && sum > total {
			best, total, from, to = low, sum, a, b
		}
	})
	if from >= 0 {
		r.Advised = append(r.Advised, AdvisedReading{From: r.Holes[from].Name, To: r.Holes[to].Name, For: "checks the readings that nothing else checks"})
	}
}
