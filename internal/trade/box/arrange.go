package box

import (
	"cmp"
	"fmt"
	"slices"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/pack"
)

// Options steer an arrangement.
type Options struct {
	// Effort is the most steps that a search takes in one room, the same on every machine; 0 is the usual.
	Effort int64
	// Stop is asked now and then; what was found until then is returned soon after it says true. Nil never stops.
	Stop func() bool
	// Watch, if not nil, is told of the first arrangement and of each better one.
	Watch func(Result)
	Seed  uint64
	// Quick ends with the first arrangement: no shorter wires, no near misses.
	Quick bool
}

// Efforts in dead ends of the search.
const (
	usualEffort  = 20000 // for a proof or an arrangement in one room
	glanceEffort = 60    // for one way to share out the rails, at first sight
	firstEffort  = 2000  // for one way to share out the rails
	nearEffort   = 1500  // for one near miss
)

// Arrange finds the smallest room that holds all bodies, says of each smaller one why not, and shortens the wires in it. The same brief
// with the same seed gives the same result, unless Stop ends it early.
//
// It first looks for any room that is filled with little effort, so that something can be shown at once, and then goes back to what is smaller. A
// room in which the parts would get too warm is only taken when no other holds them.
func Arrange(b Brief, o Options) Result {
	r := arrange(b, o, false)
	if r.Chosen < 0 && slices.ContainsFunc(r.Tried, func(t Tried) bool { return t.Verdict == TooWarm }) {
		return arrange(b, o, true)
	}
	return r
}

func arrange(b Brief, o Options, warm bool) Result {
	r := Result{Brief: b, Chosen: -1}
	s := search{brief: &b, o: o, warm: warm}
	if o.Effort <= 0 {
		s.o.Effort = usualEffort
	}
	r.Tried = make([]Tried, len(b.Rooms))
	first, found := -1, packing{}
	for n := range b.Rooms {
		t := &r.Tried[n]
		t.Room = b.Rooms[n]
		if first >= 0 {
			t.Why = "a smaller one holds everything"
		} else if *t, found = s.glance(&b.Rooms[n]); t.Verdict == Holds {
			first = n
		}
	}
	if first >= 0 && s.o.Watch != nil {
		early := r
		early.Chosen = first
		b.fill(&early, &b.Rooms[first], &found)
		s.o.Watch(copied(&early))
	}
	r.Chosen = first
	for n := range b.Rooms {
		if n == first {
			break
		}
		t := &r.Tried[n]
		if t.Verdict != NotFound || s.stopped() {
			continue
		}
		var p packing
		if *t, p = s.try(&b.Rooms[n]); t.Verdict == Holds {
			r.Chosen, found = n, p
			break
		}
	}
	for n := range r.Tried {
		if r.Chosen >= 0 && n > r.Chosen {
			r.Tried[n] = Tried{Room: b.Rooms[n], Why: "a smaller one holds everything"}
		}
	}
	if r.Chosen >= 0 {
		s.finish(&r, &b.Rooms[r.Chosen], found)
	}
	if !o.Quick {
		r.NearMisses = s.nearMisses(&r)
	}
	if r.Chosen < 0 && len(b.Rooms) > 0 {
		r.Clashes = b.settledClashes(&b.Rooms[len(b.Rooms)-1])
	}
	r.Steps = s.steps
	return r
}

// search holds what the attempts have in common.
type search struct {
	brief *Brief
	o     Options
	steps int64
	warm  bool // take sizes too that get too warm
}

func (s *search) stopped() bool { return s.o.Stop != nil && s.o.Stop() }

// packing is a problem with its items and an arrangement of them.
type packing struct {
	frame   frame
	items   []item
	problem pack.Problem
	places  []pack.Place
}

// glance rules the room out by a plain bound, or fills it with little effort.
func (s *search) glance(room *Room) (Tried, packing) {
	if why := s.brief.plainBound(room); why != "" {
		return Tried{Room: *room, Verdict: Impossible, Why: why}, packing{}
	}
	if room.Warm != "" && !s.warm {
		return Tried{Room: *room, Verdict: TooWarm, Why: room.Warm}, packing{}
	}
	if s.stopped() {
		return Tried{Room: *room, Why: "the search was stopped before it came to this size"}, packing{}
	}
	f := s.brief.frame(room)
	plans := s.brief.railPlans(&f)
	if p, ok := s.fill(room, &f, plans[:min(2, len(plans))], glanceEffort); ok {
		return Tried{Room: *room, Verdict: Holds, Why: holds}, p
	}
	return Tried{Room: *room, Why: "only looked at"}, packing{}
}

const holds = "every part has its place, with its air, checked one against the other"

// fill looks for an arrangement on the rails of one of the plans.
func (s *search) fill(room *Room, f *frame, plans [][][]int, effort int64) (packing, bool) {
	for _, rails := range plans {
		p := s.brief.problem(f, rails)
		a := pack.Fit(&p.problem, pack.Options{Seed: s.o.Seed, Steps: effort, Stop: s.o.Stop})
		s.steps += a.Steps
		if a.Verdict != pack.Found {
			continue
		}
		p.places = a.Places
		if s.wrong(room, &p) == "" {
			return p, true
		}
	}
	return packing{}, false
}

// try looks for an arrangement in the room, or for a proof that there is none.
func (s *search) try(room *Room) (Tried, packing) {
	b := s.brief
	f := b.frame(room)
	// The proof lets each part stand by itself, wherever there is room: if even that can't be, no rails and no order help.
	p := b.freeProblem(&f)
	a := pack.Fit(&p.problem, pack.Options{Seed: s.o.Seed, Steps: s.o.Effort, Stop: s.o.Stop})
	s.steps += a.Steps
	if a.Verdict == pack.Impossible {
		return Tried{Room: *room, Verdict: Impossible, Why: "even with every part by itself, off its rail: " + b.inWords(a.Why, p.items)}, packing{}
	}
	if p, ok := s.fill(room, &f, b.railPlans(&f), firstEffort); ok {
		return Tried{Room: *room, Verdict: Holds, Why: holds}, p
	}
	switch {
	case s.stopped():
		return Tried{Room: *room, Why: "the search was stopped"}, packing{}
	case a.Verdict == pack.Found:
		return Tried{Room: *room, Why: "the parts by themselves would fit, but none of the ways to put them on rails that were tried did"}, packing{}
	}
	return Tried{Room: *room, Why: fmt.Sprintf("neither an arrangement nor a proof after %d dead ends", a.Steps)}, packing{}
}

// problem makes the packing problem of the room with the rails given.
func (b *Brief) problem(f *frame, rails [][]int) packing {
	p := packing{frame: *f}
	onRail := map[int]bool{}
	for _, r := range rails {
		p.items = append(p.items, b.railItem(r))
		for _, n := range r {
			onRail[n] = true
		}
	}
	for n := range b.Bodies {
		if !onRail[n] && b.Bodies[n].On != Outside && b.Bodies[n].On != BackWall {
			p.items = append(p.items, b.single(n))
		}
	}
	b.pose(f, &p, true)
	return p
}

// freeProblem is the problem with every part by itself: what holds of it holds of every way to put parts on rails.
func (b *Brief) freeProblem(f *frame) packing {
	p := packing{frame: *f}
	for n := range b.Bodies {
		if b.Bodies[n].On != Outside && b.Bodies[n].On != BackWall {
			it := b.single(n)
			it.column = false // the shaft is thinner than its switch
			p.items = append(p.items, it)
		}
	}
	b.pose(f, &p, false)
	return p
}

// pose writes the items as a packing problem.
func (b *Brief) pose(f *frame, p *packing, strict bool) {
	p.problem.Room, p.problem.Open = f.space()
	// The room ends with the plate, so that parts that may be turned can stand at its very edge. In a search what is on the door keeps within it
	// too; a proof must not ask that of it.
	atEdge := !slices.ContainsFunc(p.items, func(it item) bool { return it.on == RightWall || it.on == TopWall || it.on == Door && !strict })
	if atEdge {
		p.problem.Room[0], p.problem.Room[1] = f.plate[0], f.plate[1]
	}
	of := map[string][2]int{} // by tag: the item and the place in it
	for k := range p.items {
		it := &p.items[k]
		item := pack.Item{Size: it.size, Air: it.air}
		if it.turns {
			item.Turns = pack.QuarterTurns
		}
		if it.column {
			item.Size[2], item.Air[pack.Front] = f.high[2], 0
		}
		wall := it.on != Plate && it.on != Door
		if wall {
			it.size = wallSize(it.on, it.size)
			item.Size, item.Air, item.Turns = it.size, [6]int{}, pack.Unturned
		}
		if strict && it.on == Door {
			item.Air = b.swingAir(f, it)
		}
		item.From, item.To = b.limits(f, it, strict)
		if atEdge && strict && it.turns {
			_, loose := b.limits(f, it, false)
			for axis := range 2 {
				if item.To[axis] == f.plate[axis]-max(it.size[0], it.size[1]) { // no air reaches as far as the wall
					item.To[axis] = max(item.To[axis], loose[axis])
				}
			}
		}
		if it.column {
			item.To[2] = 0
		}
		item.Fixed = b.settled(f, it)
		p.problem.Items = append(p.problem.Items, item)
		for m, n := range it.bodies {
			of[b.Bodies[n].Tag] = [2]int{k, m}
		}
	}
	b.keepApart(p, of)
	if strict {
		b.keepFromPower(p, of)
		b.join(f, p, of)
	}
}

// settled returns the place of an item whose body stands already, or nil.
func (b *Brief) settled(f *frame, it *item) *pack.Place {
	if len(it.bodies) != 1 || b.Bodies[it.bodies[0]].Spot == nil {
		return nil
	}
	s := b.Bodies[it.bodies[0]].Spot
	place := pack.Place{}
	if s.Turned {
		place.Turn = pack.Quarter
	}
	x, y := tenthsNear(s.X.Value), tenthsNear(s.Y.Value)
	switch it.on {
	case Door:
		t := b.Sheet().Value // the door's corner is the enclosure's
		place.At = pack.Vec{f.low[0] + x - tenthsNear(t), f.low[1] + y - tenthsNear(t), f.high[2] - it.size[2]}
	case LeftWall, RightWall, TopWall, BottomWall:
		t := tenthsNear(b.Sheet().Value)
		z := tenthsNear(s.X.Value - f.back)
		place.At = pack.Vec{f.low[0], f.low[1] + y - t, 0}
		if it.on == TopWall || it.on == BottomWall {
			z = tenthsNear(s.Y.Value - f.back)
			place.At = pack.Vec{f.low[0] + x - t, f.low[1], 0}
		}
		switch it.on { // these two are looked at with the back on the far side
		case RightWall:
			z, place.At[0] = tenthsNear(f.depth-s.X.Value-f.back)-it.size[2], f.high[0]-it.size[0]
		case TopWall:
			z, place.At[1] = tenthsNear(f.depth-s.Y.Value-f.back)-it.size[2], f.high[1]-it.size[1]
		}
		place.At[2] = z
	case Plate, BackWall, Outside:
		place.At = pack.Vec{f.origin[0] + x, f.origin[1] + y, 0}
	}
	return &place
}

func tenthsNear(l quantity.Length) int { return tenths(l - tenth/2) }

// keepApart adds the distances that parts must keep.
func (b *Brief) keepApart(p *packing, of map[string][2]int) {
	for n := range b.Bodies {
		for _, a := range b.Bodies[n].Apart {
			x, ok := of[b.Bodies[n].Tag]
			y, there := of[a.Tag]
			if ok && there && x[0] != y[0] {
				p.problem.Aparts = append(p.problem.Aparts, pack.Apart{A: x[0], B: y[0], Distance: tenths(a.By.Value)})
			}
		}
	}
}

// besideGap is how far a strip of control terminals keeps from what carries power; common practice.
const besideGap = 25 * quantity.Millimetre

// keepFromPower keeps the strips of the controls off what carries power. It is good practice and no law of nature, so no proof rests on it.
func (b *Brief) keepFromPower(p *packing, of map[string][2]int) {
	for n := range b.Bodies {
		for m := range b.Bodies {
			x, y := &b.Bodies[n], &b.Bodies[m]
			if !x.Strip || x.Power || !y.Power || x.On != Plate || y.On != Plate || x.Spot != nil && y.Spot != nil {
				continue
			}
			i, k := of[x.Tag][0], of[y.Tag][0]
			a := pack.Apart{A: min(i, k), B: max(i, k), Distance: tenths(besideGap)}
			if i != k && !slices.Contains(p.problem.Aparts, a) {
				p.problem.Aparts = append(p.problem.Aparts, a)
			}
		}
	}
}

// join adds the wires.
func (b *Brief) join(f *frame, p *packing, of map[string][2]int) {
	pin := func(tag string) (pack.Pin, bool) {
		if at, ok := of[tag]; ok {
			it := &p.items[at[0]]
			if len(it.bodies) == 1 {
				return pack.Pin{Item: at[0], Centre: true}, true
			}
			n := it.bodies[at[1]]
			s := b.single(n)
			return pack.Pin{Item: at[0], At: pack.Vec{2*it.at[at[1]][0] + s.size[0], 2*it.at[at[1]][1] + s.size[1], s.size[2]}}, true
		}
		if e, ok := b.entry(tag); ok {
			x, y := f.low[0]+f.high[0], f.low[1]+f.high[1]
			switch e.Face {
			case TopWall:
				y = 2 * f.high[1]
			case LeftWall:
				x = 2 * f.low[0]
			case RightWall:
				x = 2 * f.high[0]
			case Plate, Door, BottomWall, BackWall, Outside:
				y = 2 * f.low[1]
			}
			return pack.Pin{Item: -1, At: pack.Vec{x, y, f.high[2]}}, true
		}
		return pack.Pin{}, false
	}
	for _, w := range b.Wires {
		from, ok := pin(w.From)
		to, there := pin(w.To)
		if ok && there && (from.Item != to.Item || from.Item < 0) {
			p.problem.Nets = append(p.problem.Nets, pack.Net{A: from, B: to, Weight: max(w.Count, 1)})
		}
	}
	for n := range b.Bodies { // what must stand beside another is drawn to it by a strong thread
		x, ok := of[b.Bodies[n].Tag]
		y, there := of[b.Bodies[n].Beside]
		if ok && there && x[0] != y[0] {
			from, _ := pin(b.Bodies[n].Tag)
			to, _ := pin(b.Bodies[n].Beside)
			p.problem.Nets = append(p.problem.Nets, pack.Net{A: from, B: to, Weight: 100})
		}
	}
}

// railPlans are the ways to share out the parts that go on rails, those with the fewest rails first. What carries power and what
// doesn't never share one; a row that is longer than the plate is wide becomes two.
func (b *Brief) railPlans(f *frame) [][][]int {
	var power, control, strips []int
	for n := range b.Bodies {
		d := &b.Bodies[n]
		switch {
		case !d.OnRail || d.On != Plate || d.Spot != nil:
		case d.Power:
			power = append(power, n)
		case d.Strip:
			strips = append(strips, n)
		default:
			control = append(control, n)
		}
	}
	most := f.plate[0] - f.origin[0]
	var plans [][][]int
	add := func(groups ...[]int) {
		var rows [][]int
		for _, g := range groups {
			rows = append(rows, b.rows(g, most)...)
		}
		if !slices.ContainsFunc(plans, func(p [][]int) bool { return slices.EqualFunc(p, rows, slices.Equal[[]int]) }) {
			plans = append(plans, rows)
		}
	}
	both := slices.Concat(control, strips)
	add(power, both)
	add(power, control, strips)
	halves := func(g []int) ([]int, []int) { return g[:(len(g)+1)/2], g[(len(g)+1)/2:] }
	tall, low := b.byHeight(power)
	add(tall, low, both)
	add(tall, low, control, strips)
	p1, p2 := halves(power)
	add(p1, p2, both)
	add(p1, p2, control, strips)
	for _, n := range strips { // each strip by itself
		rest := slices.DeleteFunc(slices.Clone(strips), func(m int) bool { return m == n })
		add(power, control, []int{n}, rest)
	}
	return plans
}

// byHeight parts a group at the widest step in the height of its parts, so that low ones don't stand in a tall row.
func (b *Brief) byHeight(group []int) (tall, low []int) {
	var heights []quantity.Length
	for _, n := range group {
		heights = append(heights, b.Bodies[n].Height.Value)
	}
	slices.Sort(heights)
	step, at := quantity.Length(0), quantity.Length(0)
	for k := 1; k < len(heights); k++ {
		if d := heights[k] - heights[k-1]; d > step {
			step, at = d, heights[k]
		}
	}
	for _, n := range group {
		if step > 0 && b.Bodies[n].Height.Value >= at-slack {
			tall = append(tall, n)
		} else {
			low = append(low, n)
		}
	}
	return tall, low
}

// rows shares a group into rows no longer than most, longest parts first so that few rows are needed.
func (b *Brief) rows(group []int, most int) [][]int {
	if len(group) == 0 {
		return nil
	}
	if it := b.railItem(group); it.size[0] <= most {
		return [][]int{group}
	}
	sorted := slices.Clone(group)
	slices.SortStableFunc(sorted, func(x, y int) int {
		return cmp.Compare(b.Bodies[y].Width.Value, b.Bodies[x].Width.Value)
	})
	var rows [][]int
next:
	for _, n := range sorted {
		for k := range rows {
			if it := b.railItem(append(slices.Clone(rows[k]), n)); it.size[0] <= most {
				rows[k] = append(rows[k], n)
				continue next
			}
		}
		rows = append(rows, []int{n})
	}
	for k := range rows {
		slices.Sort(rows[k])
	}
	return rows
}
