package prove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"drivewright/internal/trade/circuit"
)

// equal makes an edge of one resistance between two groups.
func equal(a, b int, ohms float64) groupEdge { return groupEdge{a, b, ohms, ohms, ohms} }

// solved solves a network at its nominal values.
func solvedNetwork(nodes int, edges []groupEdge) *islands {
	var s islands
	s.solve(nodes, edges, func(e *groupEdge) float64 { return e.nominal })
	return &s
}

// TestClosedForms holds the effective resistance against networks whose answer textbooks print.
func TestClosedForms(t *testing.T) {
	cube := []groupEdge{}
	for a := range 8 {
		for bit := range 3 {
			if b := a ^ 1<<bit; a < b {
				cube = append(cube, equal(a, b, 1))
			}
		}
	}
	ladder := []groupEdge{} // ten sections of 1 ohm in line, 1 ohm across, from the far end: ratios of Fibonacci numbers
	for n := range 10 {
		ladder = append(ladder, equal(n+1, n, 1), equal(n, 11, 1))
	}
	all6 := []groupEdge{}
	for a := range 6 {
		for b := range a {
			all6 = append(all6, equal(a, b, 3))
		}
	}
	for _, c := range []struct {
		name, source string
		nodes        int
		edges        []groupEdge
		a, b         int
		want         float64
	}{
		{"series", "Ohm", 4, []groupEdge{equal(0, 1, 10), equal(1, 2, 20), equal(2, 3, 30)}, 0, 3, 60},
		{"parallel", "Ohm", 2, []groupEdge{equal(0, 1, 20), equal(1, 0, 30), equal(0, 1, 60)}, 0, 1, 10},
		{"balanced bridge", "Wheatstone: with 1/2 = 3/6 the middle carries nothing, so (1+2) beside (3+6)", 4,
			[]groupEdge{equal(0, 1, 1), equal(1, 3, 2), equal(0, 2, 3), equal(2, 3, 6), equal(1, 2, 5)}, 0, 3, 2.25},
		{"unbalanced bridge", "delta to star by hand: arms 1·2/8, 1·5/8, 2·5/8 of the upper delta; 0.25 + (0.625+3)·(1.25+4)/(3.625+5.25)", 4,
			[]groupEdge{equal(0, 1, 1), equal(0, 2, 2), equal(1, 2, 5), equal(1, 3, 3), equal(2, 3, 4)}, 0, 3, 0.25 + 3.625*5.25/8.875},
		{"cube, corner to far corner", "E. E. Brooks, A. W. Poyser, Magnetism and Electricity (1920), p. 277, from memory: 5/6 of an edge", 8, cube, 0, 7, 5.0 / 6},
		{"cube, across a face", "the same: 3/4", 8, cube, 0, 3, 3.0 / 4},
		{"cube, along an edge", "the same: 7/12", 8, cube, 0, 1, 7.0 / 12},
		{"ladder", "ratios of Fibonacci numbers: A. M. Morgan-Voyce, IRE Trans. CT-6 (1959), from memory; ten sections: F(21)/F(20)", 12, ladder, 10, 11, ladderByHand(10)},
		{"six points all joined", "2R/n by symmetry", 6, all6, 2, 5, 2 * 3.0 / 6},
	} {
		if got := solvedNetwork(c.nodes, c.edges).between(c.a, c.b); math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%s: got %.15g ohm, want %.15g (%s)", c.name, got, c.want, c.source)
		}
	}
	if fibonacci := 10946.0 / 6765; math.Abs(ladderByHand(10)-fibonacci) > 1e-12 {
		t.Errorf("a ladder of ten sections by the recursion: got %.15g, want F(21)/F(20) = %.15g", ladderByHand(10), fibonacci)
	}
}

// ladderByHand folds a ladder of sections from its far end: each is 1 ohm in line before 1 ohm across what follows.
func ladderByHand(sections int) float64 {
	r := math.Inf(1)
	for range sections {
		r = 1 + 1/(1+1/r)
	}
	return r
}

// TestFoster: in every network that hangs together, the effective resistances across the edges, each over the edge's own, add up to
// the number of nodes less one. Source: R. M. Foster, "The average impedance of an electrical network" (1949), from memory.
// And an island has no resistance to another.
func TestFoster(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for round := range 200 {
		nodes := 2 + r.IntN(14)
		var edges []groupEdge
		for n := 1; n < nodes; n++ {
			edges = append(edges, equal(n, r.IntN(n), 0.5+1e4*r.Float64()))
		}
		for range r.IntN(2 * nodes) {
			if a, b := r.IntN(nodes), r.IntN(nodes); a != b {
				edges = append(edges, equal(a, b, 0.5+1e4*r.Float64()))
			}
		}
		s := solvedNetwork(nodes+2, append(edges, equal(nodes, nodes+1, 7)))
		sum := 0.0
		for _, e := range edges {
			sum += s.between(e.a, e.b) / e.nominal
		}
		if math.Abs(sum-float64(nodes-1)) > 1e-9*float64(nodes) {
			t.Fatalf("network %d of %d nodes: the sum is %.12g, want %d", round, nodes, sum, nodes-1)
		}
		if d := s.between(0, nodes); !math.IsInf(d, 1) {
			t.Fatalf("network %d: got %v ohm to another island, want open", round, d)
		}
	}
}

// TestRayleigh: with every resistance anywhere between its least and its most, the effective one lies between those with all at
// their least and all at their most. Source: Rayleigh's monotonicity law (Doyle and Snell, chapter 4, from memory).
func TestRayleigh(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for range 300 {
		nodes := 3 + r.IntN(8)
		var edges []groupEdge
		for n := 1; n < nodes; n++ {
			edges = append(edges, groupEdge{a: n, b: r.IntN(n)})
		}
		for range nodes {
			if a, b := r.IntN(nodes), r.IntN(nodes); a != b {
				edges = append(edges, groupEdge{a: a, b: b})
			}
		}
		for n := range edges {
			e := &edges[n]
			e.least = 1 + 100*r.Float64()
			e.most = e.least * (1 + r.Float64())
			e.nominal = e.least + r.Float64()*(e.most-e.least)
			if r.IntN(5) == 0 {
				e.most = math.Inf(1)
			}
		}
		var low, high islands
		low.solve(nodes, edges, func(e *groupEdge) float64 { return e.least })
		high.solve(nodes, edges, func(e *groupEdge) float64 { return e.most })
		between := solvedNetwork(nodes, edges)
		for a := range nodes {
			for b := range a {
				if x, l, h := between.between(a, b), low.between(a, b), high.between(a, b); x < l*(1-1e-12) || x > h*(1+1e-12) {
					t.Fatalf("between %d and %d: %v ohm isn't between %v and %v", a, b, x, l, h)
				}
			}
		}
	}
}

// TestWireOhms holds the resistance of wires against published tables, and what is neglected against what a meter's leads have.
func TestWireOhms(t *testing.T) {
	c := circuitOf(t, "wires", wiresJob)
	for _, w := range []struct {
		name, source string
		want, within float64
	}{
		// 18 AWG stranded: 7.95 ohm per 1000 ft at 75 °C, by note 2 of the table × (1 - 0.00323·55) at 20 °C. Here 100 ft.
		{"a", "NFPA 70, Chapter 9, Table 8, with its note 2", 0.795 * 0.82235, 1e-9},
		// The same wire solid has 6.385 ohm at 20 °C (NBS Handbook 100, Copper Wire Tables, from memory); stranding adds 2 %.
		{"a", "NBS Handbook 100, from memory, and 2 % for stranding", 0.6385 * 1.02, 0.004},
		{"b", "IEC 60228, class 5, 1 mm²: 19.5 ohm per km at 20 °C, from memory; classes 1 and 2 have 18.1", 1.81, 0.15},
	} {
		got, ok := wireOhms(c.Wire(w.name))
		if !ok || math.Abs(got-w.want) > w.within {
			t.Errorf("wire %s: got %.4f ohm, want %.4f within %g (%s)", w.name, got, w.want, w.within, w.source)
		}
	}
	if _, ok := wireOhms(&circuit.Wire{}); ok {
		t.Error("a wire of no size got a resistance all the same")
	}
	// A metre of 18 AWG against the 0.2 ohm of a good pair of leads: that is why wires count as nothing inside a box.
	if metre, _ := wireOhms(c.Wire("d")); metre > 0.2/5 {
		t.Errorf("a metre of 18 AWG has %.3f ohm, want a small part of a meter's leads", metre)
	}
}

const wiresJob = `drivewright: 1
controls: {circuit: by hand only}
devices:
  - {tag: X1, kind: terminal block, terminals: "1, 2, 3, 4"}
wires:
  - {name: a, from: "X1:1", to: "X1:2", conductor: 18 AWG, length: 100 ft}
  - {name: b, from: "X1:2", to: "X1:3", conductor: 1 mm², length: 100 m}
  - {name: d, from: "X1:1", to: "X1:4", conductor: 18 AWG, length: 1 m}
`

// BenchmarkLook is one look at the box: what is joined, and all resistances at their least and at their most.
func BenchmarkLook(b *testing.B) {
	all := circuits(b)
	for _, name := range []string{"engine-lathe", "drum-sander"} {
		b.Run(name, func(b *testing.B) {
			box := newDeadBox(Number(all[name]))
			s, _ := box.setupOf(nil)
			var v view
			for b.Loop() {
				box.look(&v, &s, &unaltered)
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "looks/s")
		})
	}
}

func (s span) String() string { return fmt.Sprintf("%.6g to %.6g ohm", s.least, s.most) }
