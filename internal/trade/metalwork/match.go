package metalwork

import (
	"fmt"
	"math"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// MatchResult is a pattern laid onto another.
type MatchResult struct {
	Part, Onto string
	Pattern    *job.Pattern // the part's, for findings
	// Wanting says what is missing; nothing else is then set.
	Wanting string
	// Mirrored is true when the part lies on it with its other face; Turn is how far it is turned, in words: "turned 90° anticlockwise".
	Mirrored bool
	Turn     string
	Joints   []Joint
	// Fits is true when every bolt goes in as the holes are.
	Fits bool
	// Worst is the largest misalignment.
	Worst explain.Known[quantity.Length]
	// Ways is in how many ways it goes on equally well; Others are their words, this one left out.
	Ways   quantity.Count
	Others []string
	// Left are the holes of Onto that no hole of the part meets.
	Left []string
}

// Joint is a hole of the part over a hole of what it goes onto.
type Joint struct {
	Hole, Onto string
	// Off is the distance of their middles, Room what the bolt leaves; both misalignments are between middles.
	Off, Room explain.Known[quantity.Length]
	// OffX and OffY are where the other hole's middle lies from this hole's middle, in the part's own axes.
	OffX, OffY quantity.Length
	// Action is what to do.
	Action JointAction
	// Slot is how much longer the part's hole must be, towards OffX, OffY.
	Slot explain.Known[quantity.Length]
}

// JointAction is what to do with a hole that is to meet another.
type JointAction int

// The actions.
const (
	LinesUp JointAction = iota
	SlotIt              // file or mill it longer
	Redrill             // too far off for a slot
)

// String returns the words that the sheet prints.
func (a JointAction) String() string {
	switch a {
	case SlotIt:
		return "make a slot of it"
	case Redrill:
		return "drill a new hole"
	}
	return "lines up"
}

var boltRoom = &explain.Formula{
	Name: "bolt-room", Title: "how far two holes may be out of line for their bolt", Words: "({upper hole} − {bolt}) ÷ 2 + ({lower hole} − {bolt}) ÷ 2, nothing for a tapped hole",
	Inputs: []explain.Parameter{{Name: "bolt", Kind: quantity.KindLength, Help: "its diameter", Example: "8 mm"}, {Name: "upper hole", Kind: quantity.KindLength, Help: "its diameter", Example: "9 mm"},
		{Name: "lower hole", Kind: quantity.KindLength, Help: "its diameter; the bolt's for a tapped one", Example: "8 mm"}},
	Result: quantity.KindLength, Source: explain.Source{Work: "ASME Y14.5", Place: "fixed and floating fastener formulas", Trust: explain.FromMemory},
	Compute: explain.Of3(func(bolt, upper, lower quantity.Length) (explain.Answer, error) {
		if upper < bolt {
			return explain.Answer{}, fmt.Errorf("the bolt doesn't go through: its hole is %s", upper.Show(quantity.MetricUnits))
		}
		if lower <= bolt {
			return explain.Answer{Value: (upper - bolt) / 2, Words: "({upper hole} − {bolt}) ÷ 2"}, nil
		}
		return explain.Is((upper-bolt)/2 + (lower-bolt)/2)
	}),
}

var slotLonger = &explain.Formula{
	Name: "slot-longer", Title: "how much longer a hole must be for a bolt that is out of line", Words: "{out of line} − {room}",
	Inputs: []explain.Parameter{{Name: "out of line", Kind: quantity.KindLength, Help: "between the middles of the two holes", Example: "1.2 mm"}, {Name: "room", Kind: quantity.KindLength, Help: "that the bolt leaves", Example: "0.5 mm"}},
	Result: quantity.KindLength, Source: explain.Physics("geometry"),
	Compute: explain.Of2(func(off, room quantity.Length) (explain.Answer, error) {
		return explain.Is(max(0, off-room))
	}),
}

// Matches lays every pattern that goes onto another onto it.
func Matches(j *job.Job) []MatchResult { return matches(Patterns(j)) }

func matches(patterns []PatternResult) []MatchResult {
	var list []MatchResult
	for _, p := range patterns {
		if !p.Pattern.Fits.Set {
			continue
		}
		n := slices.IndexFunc(patterns, func(o PatternResult) bool { return o.Pattern.Name.Set && o.Pattern.Name.Value == p.Pattern.Fits.Value })
		m := MatchResult{Part: string(p.Pattern.Name.Value), Onto: string(p.Pattern.Fits.Value), Pattern: p.Pattern}
		switch {
		case n < 0:
			m.Wanting = "there is no pattern of that name"
		case m.Part == m.Onto:
			m.Wanting = "it is the same pattern"
		default:
			matchOnto(&m, p, patterns[n])
		}
		list = append(list, m)
	}
	return list
}

// fitting is one way of laying the part on.
type fitting struct {
	movement movement
	onto     []int // for each hole of the part, the hole it lies over; -1 for none
	inLine   int
	hope     int     // how many come into line when some of the others are given up, by least squares alone
	excess   float64 // of the worst joint over its room
	rms      float64
}

func matchOnto(m *MatchResult, part, onto PatternResult) {
	holes := func(p PatternResult) (list []PatternPlace, at []point) {
		for _, h := range p.Holes {
			if h.Placed {
				list, at = append(list, h), append(at, point{mm(h.X.Value), mm(h.Y.Value)})
			}
		}
		return list, at
	}
	a, from := holes(part)
	b, to := holes(onto)
	if len(a) < 2 || len(b) < 2 {
		m.Wanting = "each of the two patterns wants two holes whose places are known"
		return
	}
	// Measured from opposite sides, one pattern is the other's mirror image.
	over := part.Side.Value != onto.Side.Value
	ways := fittings(from, to, a, b, over, part.Pattern.Mirror.Value == "yes")
	if len(ways) == 0 {
		m.Wanting = "no two holes of it are as far apart as two holes of the other"
		return
	}
	room := rooms(a, b)
	best := ways[0]
	best.refine(from, to, room)
	m.tell(best, part, from, to, a, b)
	m.Mirrored = best.movement.mirrored != over
	m.Turn = turnWords(best.movement, m.Mirrored)
	for _, w := range ways[1:] {
		if w.hope < ways[0].hope {
			break
		}
		if w.inLine < len(from) {
			w.refine(from, to, room)
		}
		// What is closer than the spread of a reading can't be told apart.
		if w.inLine == best.inLine && math.Abs(max(0, w.excess)-max(0, best.excess)) <= mm(part.Spread.Value) && len(m.Others) < 7 {
			m.Others = append(m.Others, turnWords(w.movement, w.movement.mirrored != over))
		}
	}
	m.Ways = quantity.Count(1 + len(m.Others))
}

func turnWords(m movement, mirrored bool) string {
	words := "as measured"
	if turn := math.Remainder(m.angle*180/math.Pi, 360); math.Abs(turn) >= 0.5 {
		way := "anticlockwise"
		if turn < 0 {
			way = "clockwise"
		}
		words = fmt.Sprintf("turned %.0f° %s", math.Abs(turn), way)
	}
	if mirrored {
		words = "turned over left to right, then " + words
	}
	return words
}

// joinRoom is the room of a bolt through hole a of the part and hole b of what it goes onto.
func joinRoom(a, b PatternPlace) explain.Known[quantity.Length] {
	name := "room of the bolt through " + string(a.Hole.Pattern.Value) + " " + a.Name + " and " + string(b.Hole.Pattern.Value) + " " + b.Name
	bolt := job.Known(a.Hole.Bolt)
	if !bolt.OK() {
		bolt = job.Known(b.Hole.Bolt)
	}
	if !bolt.OK() || !a.Hole.Across.Set {
		return explain.Assume(name, quantity.Length(0), explain.Practice("bolted joints"), explain.Say("bolt or diameter isn't said: taken as no room at all"))
	}
	lower := job.Known(b.Hole.Across)
	if !lower.OK() {
		lower = bolt
	}
	k := explain.Derive[quantity.Length](boltRoom, name, bolt, job.Known(a.Hole.Across), lower)
	if !k.OK() {
		return explain.Assume(name, quantity.Length(0), explain.Practice("bolted joints"), k.Why().Note)
	}
	return k
}

// rooms are the rooms of every hole of the part over every hole of the other, in millimetres.
func rooms(a, b []PatternPlace) [][]float64 {
	list := make([][]float64, len(a))
	for i := range a {
		for k := range b {
			list[i] = append(list[i], mm(joinRoom(a[i], b[k]).Value))
		}
	}
	return list
}

// fittings tries every way that lays two holes of the part over two of the other that are about as far apart, best first.
func fittings(from, to []point, a, b []PatternPlace, over, mayMirror bool) []fitting {
	room := rooms(a, b)
	// Two holes that differ more than this can't both be used, not even as slots: half their distance is left to each.
	const most = 8.0
	var list []fitting
	for _, mirrored := range []bool{false, true} {
		if mirrored != over && !mayMirror {
			continue
		}
		for i := range from {
			for k := range i {
				for p := range to {
					for q := range to {
						if p == q || math.Abs(from[i].to(from[k])-to[p].to(to[q])) > most {
							continue
						}
						w := fitting{movement: bestMovement([]point{from[i], from[k]}, []point{to[p], to[q]}, nil, mirrored)}
						for range 2 {
							w.onto = assign(w.movement, from, to)
							x, y := paired(w.onto, from, to)
							w.movement = bestMovement(x, y, nil, mirrored)
						}
						w.measure(from, to, room)
						w.hope = w.inLine
						w.giveUp(from, to, func(rest []int, m movement) bool {
							tried := w
							tried.movement = m
							tried.measure(from, to, room)
							w.hope = max(w.hope, tried.inLine)
							return w.hope == len(from)
						})
						if !slices.ContainsFunc(list, func(o fitting) bool {
							return o.movement.mirrored == mirrored && slices.Equal(o.onto, w.onto)
						}) {
							list = append(list, w)
						}
					}
				}
			}
		}
	}
	slices.SortStableFunc(list, func(x, y fitting) int {
		switch {
		case x.hope != y.hope:
			return y.hope - x.hope
		case math.Abs(x.rms-y.rms) > 1e-6:
			return compare(x.rms, y.rms)
		}
		return compare(math.Abs(math.Remainder(x.movement.angle, 2*math.Pi)), math.Abs(math.Remainder(y.movement.angle, 2*math.Pi))-1e-9)
	})
	return list[:min(len(list), 12)]
}

// assign gives each hole of the part the nearest free hole of the other, the closest pairs first.
func assign(m movement, from, to []point) []int {
	type pair struct {
		i, k int
		off  float64
	}
	var pairs []pair
	for i := range from {
		p := m.of(from[i])
		for k := range to {
			pairs = append(pairs, pair{i, k, p.to(to[k])})
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return compare(a.off, b.off) })
	onto, taken := make([]int, len(from)), make([]bool, len(to))
	for i := range onto {
		onto[i] = -1
	}
	for _, p := range pairs {
		if onto[p.i] < 0 && !taken[p.k] {
			onto[p.i], taken[p.k] = p.k, true
		}
	}
	return onto
}

func paired(onto []int, from, to []point) (x, y []point) {
	for i, k := range onto {
		if k >= 0 {
			x, y = append(x, from[i]), append(y, to[k])
		}
	}
	return x, y
}

func (w *fitting) measure(from, to []point, room [][]float64) {
	w.inLine, w.excess, w.rms = 0, math.Inf(-1), 0
	n := 0.0
	for i, k := range w.onto {
		if k < 0 {
			continue
		}
		off := w.movement.of(from[i]).to(to[k])
		// a micrometre of grace for holes that just fit
		if off <= room[i][k]+1e-3 {
			w.inLine++
		}
		w.excess = max(w.excess, off-room[i][k])
		w.rms += off * off
		n++
	}
	w.rms = math.Sqrt(w.rms / max(n, 1))
}

// over are the holes that lie over another.
func (w *fitting) over() (holes []int) {
	for i, k := range w.onto {
		if k >= 0 {
			holes = append(holes, i)
		}
	}
	return holes
}

// giveUp leaves out holes one by one, each time the one whose absence leaves the others closest by least squares, and calls use with the
// rest and its movement until use returns true or two are left.
func (w *fitting) giveUp(from, to []point, use func(rest []int, m movement) bool) {
	for rest := w.over(); len(rest) > 2; {
		drop, least := 0, math.Inf(1)
		var best movement
		for n := range rest {
			var x, y []point
			for k, i := range rest {
				if k != n {
					x, y = append(x, from[i]), append(y, to[w.onto[i]])
				}
			}
			m, s := bestMovement(x, y, nil, w.movement.mirrored), 0.0
			for k := range x {
				s += square(m.of(x[k]).to(y[k]))
			}
			if s < least {
				drop, least, best = n, s, m
			}
		}
		rest = slices.Delete(slices.Clone(rest), drop, drop+1)
		if use(rest, best) {
			return
		}
	}
}

// refine moves the part until its worst hole is as little out of line as can be, against the room that its bolt has. Where not all can be in
// line, holes that are furthest off are given up, one by one, as long as more of the others then come into line.
func (w *fitting) refine(from, to []point, room [][]float64) {
	best := *w
	holes := w.over()
	best.movement, _ = leastWorst(w.movement, holes, w.onto, from, to, room)
	best.measure(from, to, room)
	if best.inLine < w.inLine {
		best = *w
	}
	if best.inLine < len(holes) {
		w.giveUp(from, to, func(rest []int, m movement) bool {
			tried := *w
			tried.movement, _ = leastWorst(m, rest, w.onto, from, to, room)
			tried.measure(from, to, room)
			if tried.inLine > best.inLine {
				best = tried
			}
			return best.inLine >= len(rest)
		})
	}
	*w = best
}

// leastWorst minimises the largest excess of the holes over their rooms from the movement m, by three golden-section searches in one another:
// turn, shift right, shift up. The largest of distances is a convex function of the shift, and over small turns of the turn as well.
func leastWorst(m movement, holes, onto []int, from, to []point, room [][]float64) (movement, float64) {
	n := len(holes)
	if n == 0 {
		return m, 0
	}
	reach, far := 0.0, 1.0
	targets := make([]point, n)
	for k, i := range holes {
		targets[k] = to[onto[i]]
		reach = max(reach, m.of(from[i]).to(targets[k]))
	}
	centre := middleOf(targets)
	for _, p := range targets {
		far = max(far, p.to(centre))
	}
	if reach < 1e-9 {
		return m, 0
	}
	moved := make([]point, n)
	for k, i := range holes {
		moved[k] = m.of(from[i]).minus(centre)
		targets[k] = targets[k].minus(centre)
	}
	spun := make([]point, n)
	worst := func(dx, dy float64) float64 {
		e := math.Inf(-1)
		for k, i := range holes {
			x, y := spun[k].x+dx-targets[k].x, spun[k].y+dy-targets[k].y
			e = max(e, math.Sqrt(x*x+y*y)-room[i][onto[i]])
		}
		return e
	}
	var dx, dy float64
	turn, excess := golden(2*reach/far, func(t float64) float64 {
		s, c := math.Sincos(t)
		for k, p := range moved {
			spun[k] = point{c*p.x - s*p.y, s*p.x + c*p.y}
		}
		var e float64
		dx, e = golden(2*reach, func(x float64) float64 {
			dy, e = golden(2*reach, func(y float64) float64 { return worst(x, y) })
			return e
		})
		return e
	})
	// the shift that belongs to the turn that was found
	s, c := math.Sincos(turn)
	for k, p := range moved {
		spun[k] = point{c*p.x - s*p.y, s*p.x + c*p.y}
	}
	dx, _ = golden(2*reach, func(x float64) float64 {
		_, e := golden(2*reach, func(y float64) float64 { return worst(x, y) })
		return e
	})
	dy, _ = golden(2*reach, func(y float64) float64 { return worst(dx, y) })
	// x → turn(m(x) − centre) + centre + d
	m.shift = m.shift.minus(centre).turned(turn).plus(centre).plus(point{dx, dy})
	m.angle += turn
	return m, excess
}

// golden finds the least value of f from -reach to reach; f has one valley.
func golden(reach float64, f func(float64) float64) (at, value float64) {
	const ratio = 0.6180339887498949
	a, b := -reach, reach
	c, d := b-ratio*(b-a), a+ratio*(b-a)
	fc, fd := f(c), f(d)
	for range 32 {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - ratio*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + ratio*(b-a)
			fd = f(d)
		}
	}
	if fc < fd {
		return c, fc
	}
	return d, fd
}

// tell writes down what each hole does.
func (m *MatchResult) tell(w fitting, part PatternResult, from, to []point, a, b []PatternPlace) {
	m.Fits = true
	taken := map[int]bool{}
	name := m.Part + " on " + m.Onto
	worst := 0.0
	var because []explain.Because
	for i, k := range w.onto {
		if k < 0 {
			m.Fits = false
			m.Joints = append(m.Joints, Joint{Hole: a[i].Name, Action: Redrill})
			continue
		}
		taken[k] = true
		gap := to[k].minus(w.movement.of(from[i]))
		back := w.movement.back(gap)
		off := math.Hypot(gap.x, gap.y)
		j := Joint{Hole: a[i].Name, Onto: b[k].Name, OffX: length(back.x), OffY: length(back.y), Room: joinRoom(a[i], b[k])}
		j.Off = explain.Chosen(name+", "+j.Hole+" out of line", length(off), "after the part is laid on so that most holes line up, and the worst of them is as little off as can be", leastSquares, a[i].X, a[i].Y, b[k].X, b[k].Y)
		because = append(because, j.Off)
		worst = max(worst, off)
		j.Slot = explain.Derive[quantity.Length](slotLonger, name+", "+j.Hole+" longer by", j.Off, j.Room)
		if off > mm(j.Room.Value)+1e-3 {
			m.Fits = false
			j.Action = SlotIt
			// A slot longer than half a bolt leaves its head or washer hanging; common practice.
			bolt := max(a[i].Hole.Bolt.Value, b[k].Hole.Bolt.Value)
			if bolt == 0 {
				bolt = max(a[i].Hole.Across.Value, b[k].Hole.Across.Value)
			}
			if j.Slot.Value > bolt/2 {
				j.Action = Redrill
			}
		}
		m.Joints = append(m.Joints, j)
	}
	for k := range b {
		if !taken[k] {
			m.Left = append(m.Left, b[k].Name)
		}
	}
	if len(because) == 0 {
		because = append(because, part.Outline)
	}
	m.Worst = explain.Chosen(name+", worst hole", length(worst), "largest of the holes", explain.Physics("geometry"), because...)
}
