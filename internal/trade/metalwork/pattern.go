package metalwork

import (
	"fmt"
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// PatternResult is a pattern of holes as it was found.
type PatternResult struct {
	Pattern *job.Pattern
	// Side is the side that it was measured and is shown from; Spread is how far a reading may be off, taken as twice its standard deviation.
	Side   explain.Known[quantity.Text]
	Spread explain.Known[quantity.Length]
	Holes  []PatternPlace
	// Readings are the distances, in the order of the job, with what is left of each.
	Readings []ReadingResult
	Photo    PhotoResult
	// Spare is the number of readings beyond what the places need; Lacking the number of places that nothing settles.
	Spare, Lacking quantity.Count
	// Fits is true when what is left of the readings is no more than their spread explains.
	Fits bool
	// ByOrder is true when only the order of the holes says which way round the pattern goes: the first three that don't lie in a row go
	// anticlockwise, seen from Side.
	ByOrder bool
	// Suspects are the readings that may be the wrong one, the likeliest first; more than one only where nothing tells them apart.
	Suspects []Suspect
	// Twin is true when another shape fits the readings as well.
	Twin bool
	// Advised are the readings to take next, with what each would do.
	Advised []AdvisedReading
	// Outline is the reason of the pattern as a whole, for findings.
	Outline explain.Known[quantity.Text]
}

// PatternPlace is one hole of a pattern, with its place and how far that may be off.
type PatternPlace struct {
	Hole   *job.PatternHole
	Name   string
	X, Y   explain.Known[quantity.Length]
	OffX   explain.Known[quantity.Length] // standard deviation
	OffY   explain.Known[quantity.Length]
	Placed bool // false where the readings leave it open
}

// ReadingResult is a caliper reading beside the pattern as found.
type ReadingResult struct {
	Reading *job.Distance
	Name    string // "A to C"
	// Middles is the distance between the middles that the reading stands for; Left is what the pattern as found has more than that.
	Middles, Left explain.Known[quantity.Length]
	// Sigmas is Left against the standard deviation that it should have; above 3.3 it happens once in a thousand. It is 0 where nothing
	// checks the reading.
	Sigmas  quantity.Factor
	Checked bool
	// Used is false for a reading that can't be used; Why then says why.
	Used bool
	Why  string
}

// Suspect is a reading that may be wrong, and what it would be if it were.
type Suspect struct {
	Reading int // index into Readings
	// Should is what the caliper would show if the other readings are right.
	Should explain.Known[quantity.Length]
}

// AdvisedReading is a distance that is worth measuring.
type AdvisedReading struct {
	From, To string
	For      string // "places C", "tells A to B from C to D", "checks the others"
	// Either and Or are the two figures that it tells apart, where it does.
	Either, Or quantity.Length
}

// Patterns finds every pattern of the job.
func Patterns(j *job.Job) []PatternResult {
	var list []PatternResult
	for n := range j.Patterns {
		list = append(list, findPattern(j, &j.Patterns[n]))
	}
	return list
}

// leastSquares is how a pattern is found.
var leastSquares = explain.Source{Work: "least squares adjustment of observations", Place: "Gauss-Newton; reliability after Baarda", Trust: explain.FromMemory}

// readingSpread is what a caliper over two drilled edges is good for; common practice.
const readingSpread = 0.1 * quantity.Millimetre

func mm(l quantity.Length) float64      { return float64(l / quantity.Millimetre) }
func length(mm float64) quantity.Length { return quantity.Length(mm) * quantity.Millimetre }

// finder gathers a pattern.
type finder struct {
	job     *job.Job
	result  PatternResult
	network network
	sigma   float64
	index   map[string]int
}

func findPattern(j *job.Job, p *job.Pattern) PatternResult {
	f := finder{job: j, index: map[string]int{}}
	r := &f.result
	r.Pattern = p
	r.Side = job.Or(p.Side, "front", explain.Practice("marking out"), explain.Say("taken as measured from the front"))
	r.Spread = job.Or(p.Spread, readingSpread, explain.Practice("calipers over drilled holes"), explain.Say("a caliper on the edges of drilled holes repeats to about {}", readingSpread))
	f.sigma = max(mm(r.Spread.Value)/2, 1e-4)
	for n := range j.Holes {
		h := &j.Holes[n]
		if h.Pattern.Set && h.Pattern.Value == p.Name.Value && h.Name.Set {
			if _, twice := f.index[string(h.Name.Value)]; twice {
				continue
			}
			f.index[string(h.Name.Value)] = len(r.Holes)
			r.Holes = append(r.Holes, PatternPlace{Hole: h, Name: string(h.Name.Value)})
		}
	}
	r.Photo = readPhoto(p, r.Holes)
	f.network.holes = len(r.Holes)
	f.observe()
	f.find()
	return *r
}

// observe turns everything that is written into observations.
func (f *finder) observe() {
	r := &f.result
	for n, h := range r.Holes {
		for _, at := range []struct {
			sort  sort
			given job.Given[quantity.Length]
		}{{fromLeft, h.Hole.X}, {fromBase, h.Hole.Y}} {
			if at.given.Set {
				f.network.seen = append(f.network.seen, observation{sort: at.sort, b: n, value: mm(at.given.Value), spread: fixed, source: -1})
			}
		}
	}
	for n, place := range r.Photo.places {
		f.network.photo = true
		f.network.seen = append(f.network.seen, observation{sort: seenX, b: n, value: place.at.x, spread: place.off.x, source: -1}, observation{sort: seenY, b: n, value: place.at.y, spread: place.off.y, source: -1})
	}
	slices.SortStableFunc(f.network.seen, func(a, b observation) int {
		if c := a.b - b.b; c != 0 && a.sort >= seenX && b.sort >= seenX {
			return c
		}
		return int(a.sort) - int(b.sort)
	})
	for n := range f.job.Distances {
		d := &f.job.Distances[n]
		if !d.Pattern.Set || d.Pattern.Value != r.Pattern.Name.Value {
			continue
		}
		reading := ReadingResult{Reading: d, Name: string(d.From.Value) + " to " + string(d.To.Value)}
		o, why := f.observation(d, &reading)
		reading.Why = why
		if why == "" {
			reading.Used = true
			o.source = len(r.Readings)
			f.network.seen = append(f.network.seen, o)
		}
		r.Readings = append(r.Readings, reading)
	}
}

var middlesOf = &explain.Formula{
	Name: "distance-of-middles", Title: "distance between the middles of two holes from a caliper reading", Words: "{reading}, with half of {first hole} and half of {second hole} added for {measured}",
	Inputs: []explain.Parameter{{Name: "reading", Kind: quantity.KindLength, Help: "what the caliper shows", Example: "100 mm"},
		{Name: "measured", Kind: quantity.KindText, Help: "which edges", Example: "inner edges", Choices: []string{"middles", "outer edges", "inner edges"}},
		{Name: "first hole", Kind: quantity.KindLength, Help: "its diameter", Example: "8 mm", Default: "0 mm"}, {Name: "second hole", Kind: quantity.KindLength, Help: "its diameter", Example: "10 mm", Default: "0 mm"}},
	Result: quantity.KindLength, Source: explain.Physics("geometry"),
	Compute: explain.Of4(func(reading quantity.Length, how quantity.Text, a, b quantity.Length) (explain.Answer, error) {
		value, words := reading, "{reading}"
		switch how {
		case "inner edges":
			value, words = reading+a/2+b/2, "{reading} + {first hole} ÷ 2 + {second hole} ÷ 2"
		case "outer edges":
			value, words = reading-a/2-b/2, "{reading} − {first hole} ÷ 2 − {second hole} ÷ 2"
		}
		if value <= 0 {
			return explain.Answer{}, fmt.Errorf("that leaves no distance between the middles: over the outer edges a reading is longer than the holes")
		}
		return explain.Answer{Value: value, Words: words}, nil
	}),
}

// observation is the reading as least squares sees it, or why it can't be used.
func (f *finder) observation(d *job.Distance, reading *ReadingResult) (observation, string) {
	r := &f.result
	from, edge := string(d.From.Value), false
	switch from {
	case "edge left", "edge bottom":
		edge = true
	}
	b, okB := f.index[string(d.To.Value)]
	a, okA := f.index[from]
	name := string(r.Pattern.Name.Value) + ", " + reading.Name
	switch {
	case !d.Reads.Set:
		return observation{}, "it has no figure"
	case !okB:
		return observation{}, fmt.Sprintf("the pattern has no hole %q", string(d.To.Value))
	case !edge && !okA:
		return observation{}, fmt.Sprintf("the pattern has no hole %q", from)
	case !edge && a == b:
		return observation{}, "it is from a hole to itself"
	}
	how := job.Or(d.How, "middles", explain.Practice("calipers"), explain.Say("taken between middles"))
	zero := explain.Constant("no hole", quantity.Length(0), explain.Physics("an edge has no diameter"))
	across := func(n int) explain.Known[quantity.Length] {
		h := r.Holes[n]
		if how.Value == "middles" && !h.Hole.Across.Set {
			return zero
		}
		return explain.Renamed(name+", diameter of "+h.Name, job.Known(h.Hole.Across))
	}
	first := zero
	if !edge {
		first = across(a)
	}
	reading.Middles = explain.Derive[quantity.Length](middlesOf, name+", between middles", explain.Renamed(name+", reading", job.Known(d.Reads)), how, first, across(b))
	if !reading.Middles.OK() {
		if how.Value != "middles" && (!edge && !r.Holes[a].Hole.Across.Set || !r.Holes[b].Hole.Across.Set) {
			return observation{}, "a reading over edges wants the diameters of its holes"
		}
		return observation{}, "over the outer edges it would be longer than its holes"
	}
	o := observation{sort: between, a: a, b: b, value: mm(reading.Middles.Value), spread: f.sigma}
	switch from {
	case "edge left":
		o.sort, o.a = fromLeft, 0
	case "edge bottom":
		o.sort, o.a = fromBase, 0
	}
	return o, ""
}

// solution is a pattern that the readings settle as well as they can.
type solution struct {
	u        []float64
	misfit   float64
	inverse  symmetric
	free     [][]float64
	gradient [][]float64 // of network.seen
	left     []float64   // calculated less observed
	share    []float64   // redundancy of each: 1 where the others say it all, 0 where nothing checks it
}

// best settles the network from its best starts, most of them at most; twin is a second shape that fits as well, nil if there is none.
func (n *network) best(most int) (s solution, twin []float64) {
	starts := n.start()
	if len(starts) == 0 || n.holes == 0 {
		return s, nil
	}
	n.chooseAxes(starts[0])
	type found struct {
		u      []float64
		misfit float64
	}
	var list []found
	for _, u := range starts[:min(len(starts), most)] {
		u, worse := n.settle(u)
		if !slices.ContainsFunc(list, func(f found) bool { return sameShape(n, f.u, u) }) {
			list = append(list, found{u, worse})
		}
	}
	slices.SortStableFunc(list, func(a, b found) int { return compare(a.misfit, b.misfit) })
	s = n.judge(list[0].u, list[0].misfit)
	if len(s.free) == 0 && len(list) > 1 && list[1].misfit < list[0].misfit+9 {
		twin = list[1].u
	}
	return s, twin
}

// sameShape reports whether two solutions are the same, or each other's mirror image where nothing tells these apart.
func sameShape(n *network, a, b []float64) bool {
	for i := range n.holes {
		for k := range i {
			if math.Abs(math.Hypot(a[2*i]-a[2*k], a[2*i+1]-a[2*k+1])-math.Hypot(b[2*i]-b[2*k], b[2*i+1]-b[2*k+1])) > 0.01 {
				return false
			}
		}
	}
	return true
}

// judge works out what u is worth: its inverse normal matrix, what is left of each observation and how well the others check it.
func (n *network) judge(u []float64, worse float64) solution {
	s := solution{u: u, misfit: worse}
	normal := newSymmetric(len(u))
	for k, o := range n.all() {
		g := make([]float64, len(u))
		v := o.read(u, g) - o.value
		normal.addOuter(g, 1/(o.spread*o.spread))
		if k < len(n.seen) {
			s.gradient, s.left = append(s.gradient, g), append(s.left, v)
		}
	}
	s.inverse, s.free = normal.inverse()
	for k, o := range n.seen {
		s.share = append(s.share, max(0, 1-dot(s.gradient[k], s.inverse.times(s.gradient[k]))/(o.spread*o.spread)))
	}
	return s
}
