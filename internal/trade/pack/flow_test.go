package pack

import (
	"math/rand/v2"
	"testing"
)

// TestFlowAgainstEveryPlacement holds the network simplex against trying all coordinates of small problems, one after the other.
func TestFlowAgainstEveryPlacement(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	contradictions := 0
	for range 3000 {
		n := 2 + chance.IntN(3)
		room := 3 + chance.Int32N(4)
		low := make([]int32, n)
		var f flow
		f.begin(low)
		for v := range n {
			f.want(int32(v+1), 0, -room, endless)
		}
		for range chance.IntN(6) {
			a, b := chance.Int32N(int32(n+1)), chance.Int32N(int32(n+1))
			f.want(a, b, chance.Int32N(9)-4, 1+chance.Int32N(3))
		}
		bounded := chance.IntN(2)
		hard := func() {
			if a, b := chance.Int32N(int32(n+1)), chance.Int32N(int32(n+1)); a != b {
				f.want(a, b, chance.Int32N(4), endless)
			}
		}
		hard()
		ok := f.solve(1 << 40)
		for k := 0; ok && k < 2+bounded; k++ { // more arcs on what is solved already
			hard()
			ok = f.solve(1 << 40)
		}
		best, at := int64(-1), make([]int32, n+1)
		var try func(v int)
		try = func(v int) {
			if v > n {
				cost := int64(0)
				for _, a := range f.arcs {
					lack := a.worth - at[a.to] + at[a.from]
					if lack > 0 && a.capacity == endless {
						return
					}
					if lack > 0 {
						cost += int64(lack) * int64(a.capacity)
					}
				}
				if best < 0 || cost < best {
					best = cost
				}
				return
			}
			for at[v] = 0; at[v] <= room; at[v]++ {
				try(v + 1)
			}
		}
		try(1)
		switch {
		case !ok:
			contradictions++
			if best >= 0 {
				t.Fatalf("called contradictory, but a placement costs %d: %+v", best, f.arcs)
			}
			sum := int32(0)
			for _, e := range f.loop {
				sum += f.arcs[e].worth
			}
			if sum <= 0 {
				t.Fatalf("the loop %v contradicts nothing: %+v", f.loop, f.arcs)
			}
		case best != f.value:
			t.Fatalf("flow says %d, trying all %d: %+v", f.value, best, f.arcs)
		default:
			worth := int64(0)
			for _, a := range f.arcs {
				worth += int64(a.flow) * int64(a.worth)
			}
			if worth != f.value {
				t.Fatalf("the arcs carry %d, the value is %d", worth, f.value)
			}
		}
	}
	if contradictions < 100 {
		t.Errorf("only %d contradictions: the test doesn't try them", contradictions)
	}
}
