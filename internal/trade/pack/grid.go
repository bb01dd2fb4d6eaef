package pack

// onGrid returns the problem in steps of a grid, in which everything lies at multiples of the step. It reports false if a length isn't
// such a multiple, so that the grid would lose arrangements that only push things together, or a pin lies off the half steps.
func onGrid(p *Problem, step int) (Problem, bool) {
	if step < 2 {
		return *p, false
	}
	q, even := *p, true
	shrink := func(length *int) {
		even = even && *length%step == 0
		*length /= step
	}
	both := func(v *Vec) {
		shrink(&v[0])
		shrink(&v[1])
	}
	// The room's far walls only cut off.
	q.Room[0], q.Room[1] = p.Room[0]/step, p.Room[1]/step
	q.Items = append([]Item(nil), p.Items...)
	for n := range q.Items {
		it := &q.Items[n]
		both(&it.Size)
		both(&it.From)
		both(&it.To)
		for side := Left; side <= Top; side++ {
			shrink(&it.Air[side])
		}
		if it.Fixed != nil {
			fixed := *it.Fixed
			both(&fixed.At)
			it.Fixed = &fixed
		}
	}
	q.Blocks = append([]Block(nil), p.Blocks...)
	for n := range q.Blocks {
		both(&q.Blocks[n].At)
		both(&q.Blocks[n].Size)
	}
	q.Aparts = append([]Apart(nil), p.Aparts...)
	for n := range q.Aparts {
		shrink(&q.Aparts[n].Distance)
	}
	q.Nets = append([]Net(nil), p.Nets...)
	for n := range q.Nets {
		both(&q.Nets[n].A.At)
		both(&q.Nets[n].B.At)
	}
	return q, even
}

// offGrid gives an answer its lengths back.
func offGrid(a Answer, step int) Answer {
	places := make([]Place, len(a.Places))
	for n, place := range a.Places {
		place.At[0], place.At[1] = place.At[0]*step, place.At[1]*step
		places[n] = place
	}
	a.Places, a.Wire, a.Bound = places, a.Wire*step, a.Bound*step
	return a
}

// shortenOnGrid is Shorten with everything at multiples of the step, where the problem allows that.
func shortenOnGrid(p *Problem, from []Place, step int, o Options) Answer {
	q, even := onGrid(p, step)
	if !even {
		return Shorten(p, from, o)
	}
	start := make([]Place, len(from))
	for n, place := range from {
		place.At[0], place.At[1] = place.At[0]/step, place.At[1]/step
		start[n] = place
	}
	if len(Check(&q, start)) > 0 {
		start = nil
	}
	if watch := o.Watch; watch != nil {
		o.Watch = func(a Answer) { watch(offGrid(a, step)) }
	}
	a := Shorten(&q, start, o)
	if a.Verdict != Found {
		return a
	}
	a = offGrid(a, step)
	if len(Check(p, a.Places)) > 0 {
		return Shorten(p, from, o)
	}
	return a
}
