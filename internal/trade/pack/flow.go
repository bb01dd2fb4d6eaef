package pack

// Where things lie along one axis so that the wires are short, when it is settled which lies before which, is a linear programme
// of differences. Its dual is a flow of greatest worth round a net, and the network simplex solves that: the tree's potentials are
// the coordinates. Two properties make it the core of the search for short wires: the worth of any flow, finished or not, is a bound
// that no arrangement goes below, owed only to the arcs that carry flow; and new differences are new arcs, so that the work goes on
// from where it stood. (Ahuja, Magnanti and Orlin 1993, chapters 9 and 11; the rule against cycling is Cunningham's, 1976.)

// arc asks that potential[to] − potential[from] be at least worth. If it has a capacity it is a wish: falling short costs capacity
// for each unit. Without one it must hold.
type arc struct {
	from, to int32
	worth    int32
	capacity int32 // endless for what must hold
	flow     int32
}

const endless = 1 << 30

// flow is the state of the search for the best potentials. Node 0 is the room, with potential 0.
type flow struct {
	arcs      []arc
	potential []int32
	parent    []int32 // by node; of node 0 it is -1
	by        []int32 // arc between a node and its parent
	depth     []int32
	value     int64 // worth of the flow: no potentials cost less
	// loop holds, after solve has failed, the arcs that contradict one another.
	loop   []int32
	marked []int32 // stamps for below
	stamp  int32
}

// begin makes a net of so many nodes, each no lower than its limit. Arc n-1 is the limit of node n.
func (f *flow) begin(low []int32) {
	n := len(low) + 1
	f.arcs = f.arcs[:0]
	f.potential, f.parent = make([]int32, n), make([]int32, n)
	f.by, f.depth, f.marked = make([]int32, n), make([]int32, n), make([]int32, n)
	f.parent[0], f.by[0] = -1, -1
	for v := 1; v < n; v++ {
		f.arcs = append(f.arcs, arc{from: 0, to: int32(v), worth: low[v-1], capacity: endless})
		f.by[v], f.depth[v], f.potential[v] = int32(v-1), 1, low[v-1]
	}
	f.value = 0
}

// want adds an arc.
func (f *flow) want(from, to, worth, capacity int32) {
	f.arcs = append(f.arcs, arc{from: from, to: to, worth: worth, capacity: capacity})
}

// solve raises the flow's worth to the greatest, or until it reaches enough. It reports false if the arcs contradict one another.
func (f *flow) solve(enough int64) bool {
	for f.value < enough {
		enter, gain := int32(-1), int32(0)
		for n := range f.arcs {
			a := &f.arcs[n]
			lack := a.worth - f.potential[a.to] + f.potential[a.from]
			if lack > gain && a.flow < a.capacity {
				enter, gain = int32(n), lack
			} else if -lack > gain && a.flow > 0 {
				enter, gain = int32(n), -lack
			}
		}
		if enter < 0 {
			return true
		}
		if !f.pivot(enter, gain) {
			return false
		}
	}
	return true
}

// pivot sends flow round the circle that an arc closes with the tree, as much as passes, each unit of which is worth gain.
func (f *flow) pivot(enter, gain int32) bool {
	e := &f.arcs[enter]
	tail, head := e.from, e.to // the flow goes from tail to head over the arc, and from head to tail over the tree
	forward := f.potential[head]-f.potential[tail] < e.worth
	delta := int32(endless)
	if e.capacity < endless {
		delta = e.capacity - e.flow
	}
	if !forward {
		tail, head = head, tail
		delta = e.flow
	}
	// The flow comes down from the apex to tail, over the arc to head, and up again. Of the arcs that stop it the first on this way
	// leaves, which keeps every node within reach of flow from the root.
	leave, onTailSide := int32(-1), false
	u, v := tail, head
	for u != v {
		if f.depth[u] >= f.depth[v] {
			// Down from parent to u; those nearer the apex come later in this loop but earlier on the way, so that equals win.
			if room := f.room(u, f.parent[u]); room <= delta {
				delta, leave, onTailSide = room, u, true
			}
			u = f.parent[u]
			continue
		}
		// Up from v to parent: nearer tail's side is earlier on the way, so that only less wins. A stop on tail's side was met before.
		if room := f.room(v, v); room < delta {
			delta, leave, onTailSide = room, v, false
		}
		v = f.parent[v]
	}
	if delta >= endless/2 {
		f.loop = append(f.loop[:0], enter)
		for _, end := range [2]int32{tail, head} {
			for ; end != u; end = f.parent[end] {
				f.loop = append(f.loop, f.by[end])
			}
		}
		return false
	}
	if delta > 0 {
		f.value += int64(delta) * int64(gain)
		if forward {
			e.flow += delta
		} else {
			e.flow -= delta
		}
		for end := tail; end != u; end = f.parent[end] {
			f.send(end, f.parent[end], delta)
		}
		for end := head; end != u; end = f.parent[end] {
			f.send(end, end, delta)
		}
	}
	if leave < 0 {
		return true // the arc is full, or empty again, and stays outside the tree
	}
	// The part of the tree below the leaving arc is hung up by the entering one.
	low, high := head, tail
	if onTailSide {
		low, high = tail, head
	}
	f.rehang(low, high, leave, enter)
	shift := f.potential[high] - f.potential[low]
	if e.to == low {
		shift += e.worth
	} else {
		shift -= e.worth
	}
	f.settle(low, shift)
	return true
}

// settle moves what hangs from node top by shift, and finds the depths anew.
func (f *flow) settle(top, shift int32) {
	f.stamp += 2
	below, beside := f.stamp, f.stamp-1
	f.marked[0] = beside
	f.marked[top] = below
	f.potential[top] += shift
	f.depth[top] = f.depth[f.parent[top]] + 1
	for n := range f.parent {
		f.place(int32(n), below, beside, shift)
	}
}

// place finds out whether a node hangs from the one that was moved, and if so moves it along.
func (f *flow) place(n, below, beside, shift int32) int32 {
	if f.marked[n] == below || f.marked[n] == beside {
		return f.marked[n]
	}
	up := f.place(f.parent[n], below, beside, shift)
	f.marked[n] = up
	if up == below {
		f.potential[n] += shift
		f.depth[n] = f.depth[f.parent[n]] + 1
	}
	return up
}

// room is how much more flow passes over the arc between node n and its parent, of which it leaves the one called first.
func (f *flow) room(n, first int32) int32 {
	a := &f.arcs[f.by[n]]
	if a.from == first {
		if a.capacity == endless {
			return endless
		}
		return a.capacity - a.flow
	}
	return a.flow
}

// send adds to the flow between node n and its parent, of which it leaves the one called first.
func (f *flow) send(n, first, delta int32) {
	a := &f.arcs[f.by[n]]
	if a.from == first {
		a.flow += delta
	} else {
		a.flow -= delta
	}
}

// rehang turns round the path from low up to the node whose arc leaves, and hangs low from high.
func (f *flow) rehang(low, high, leave, enter int32) {
	at, parent, by := low, high, enter
	for {
		nextParent, nextBy := f.parent[at], f.by[at]
		f.parent[at], f.by[at] = parent, by
		if at == leave {
			return
		}
		parent, by = at, nextBy
		at = nextParent
	}
}
