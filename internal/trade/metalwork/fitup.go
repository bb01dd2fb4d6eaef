package metalwork

import (
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// FitUpResult is a part that is to sit on uneven places.
type FitUpResult struct {
	Group string
	// Wanting says what is missing; nothing else is then set.
	Wanting string
	Places  []FitUpPlace
	// Unflat is the height between the two closest parallel planes that hold all places.
	Unflat explain.Known[quantity.Length]
	// Stands are the places it stands on with nothing under the others.
	Stands []string
	Name   *job.Given[quantity.Text]
}

// FitUpPlace is one place: how much to put under there, or to take off.
type FitUpPlace struct {
	Name string
	Gap  *job.Gap
	// Shim is the thickness to put there; Skim what to take off. One of them is zero, both where the part touches.
	Shim, Skim explain.Known[quantity.Length]
}

// touching is what counts as touching: less than a feeler gauge shows.
const touching = 0.01 // mm

// plane is z = a + b·x + c·y.
type plane struct{ a, b, c float64 }

func (p plane) at(q spot) float64 { return p.a + p.b*q.x + p.c*q.y }

// spot is a place with its height, in millimetres.
type spot struct {
	x, y, z float64
	cut     bool // metal may be taken off
}

// through is the plane through three spots; false where they lie in a row.
func through(p, q, r spot) (plane, bool) {
	d := (q.x-p.x)*(r.y-p.y) - (r.x-p.x)*(q.y-p.y)
	if math.Abs(d) < 1e-6 {
		return plane{}, false
	}
	b := ((q.z-p.z)*(r.y-p.y) - (r.z-p.z)*(q.y-p.y)) / d
	c := ((q.x-p.x)*(r.z-p.z) - (r.x-p.x)*(q.z-p.z)) / d
	return plane{p.z - b*p.x - c*p.y, b, c}, true
}

// support is the plane that lies nowhere below a spot that may not be cut, with the least sum of gaps and cuts; such a plane goes through three
// spots (a corner of the linear program), so trying all threes is exact. Where nothing may be cut it is where a flat part comes to rest with
// its weight over the middle of the places. ok is false where all spots lie in a row.
func support(spots []spot) (best plane, ok bool) {
	least := math.Inf(1)
	for i := range spots {
		for k := range i {
			for l := range k {
				p, flat := through(spots[i], spots[k], spots[l])
				if !flat {
					continue
				}
				sum, under := 0.0, false
				for _, s := range spots {
					gap := p.at(s) - s.z
					under = under || gap < -1e-6 && !s.cut
					sum += math.Abs(gap)
				}
				if !under && sum < least-1e-9 {
					best, least, ok = p, sum, true
				}
			}
		}
	}
	return best, ok
}

// unflat is the least height between two parallel planes that hold all spots: twice Chebyshev's deviation from a plane, which is the largest of
// those of any four spots (E. W. Cheney, Introduction to Approximation Theory, chapter 2).
func unflat(spots []spot) float64 {
	most := 0.0
	for i := range spots {
		for k := range i {
			for l := range k {
				for m := range l {
					most = max(most, unflatFour(spots[i], spots[k], spots[l], spots[m]))
				}
			}
		}
	}
	return most
}

func unflatFour(p, q, r, s spot) float64 {
	area := func(a, b, c spot) float64 { return (b.x-a.x)*(c.y-a.y) - (c.x-a.x)*(b.y-a.y) }
	// weights that any plane makes vanish
	w := [4]float64{area(q, r, s), -area(p, r, s), area(p, q, s), -area(p, q, r)}
	sum, all := 0.0, 0.0
	for n, z := range [4]float64{p.z, q.z, r.z, s.z} {
		sum, all = sum+w[n]*z, all+math.Abs(w[n])
	}
	if all < 1e-6 {
		return 0
	}
	return 2 * math.Abs(sum) / all
}

// most places of a group: every four of them are tried.
const mostPlaces = 30

// FitUps works out every group of readings.
func FitUps(j *job.Job) []FitUpResult {
	var list []FitUpResult
	for n := range j.Gaps {
		g := &j.Gaps[n]
		if !g.Group.Set {
			continue
		}
		n := slices.IndexFunc(list, func(f FitUpResult) bool { return f.Group == string(g.Group.Value) })
		if n < 0 {
			n = len(list)
			list = append(list, FitUpResult{Group: string(g.Group.Value), Name: &g.Group})
		}
		list[n].Places = append(list[n].Places, FitUpPlace{Name: string(g.Place.Value), Gap: g})
	}
	for n := range list {
		list[n].work()
	}
	return list
}

func (f *FitUpResult) work() {
	var spots []spot
	var because []explain.Because
	for _, p := range f.Places {
		if !p.Gap.X.Set || !p.Gap.Y.Set || !p.Gap.Reads.Set {
			f.Wanting = "place " + p.Name + " lacks x, y or its reading"
			return
		}
		spots = append(spots, spot{mm(p.Gap.X.Value), mm(p.Gap.Y.Value), mm(p.Gap.Reads.Value), p.Gap.Cut.Value == "yes"})
		because = append(because, explain.Renamed(f.Group+", height at "+p.Name, job.Known(p.Gap.Reads)))
	}
	switch {
	case len(spots) < 3:
		f.Wanting = "three places at least are wanted"
		return
	case len(spots) > mostPlaces:
		f.Wanting = "thirty places are the most"
		return
	}
	p, ok := support(spots)
	if !ok {
		f.Wanting = "the places lie in a row"
		return
	}
	f.Unflat = explain.Chosen(f.Group+", out of flat", length(unflat(spots)), "height between the two closest parallel planes that hold all places", explain.Source{Work: "ISO 1101", Place: "flatness, minimum zone", Trust: explain.FromMemory}, because...)
	resting := explain.Source{Work: "linear programming", Place: "a flat part rests on three places", Trust: explain.Arithmetic}
	for n, s := range spots {
		gap := p.at(s) - s.z
		if math.Abs(gap) < touching {
			f.Stands = append(f.Stands, f.Places[n].Name)
			gap = 0
		}
		f.Places[n].Shim = explain.Chosen(f.Group+", shim at "+f.Places[n].Name, length(max(gap, 0)), "up to the plane of the three places that the part stands on", resting, because...)
		f.Places[n].Skim = explain.Chosen(f.Group+", skim at "+f.Places[n].Name, length(max(-gap, 0)), "down to the plane of the three places that the part stands on", resting, because...)
	}
}
