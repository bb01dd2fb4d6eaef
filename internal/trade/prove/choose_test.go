package prove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// covers reports whether the chosen sets hold all rows that any set holds.
func covers(rows int, sets []bitset, chosen []int) bool {
	for r := range rows {
		holds := func(k int) bool { return sets[k].has(r) }
		if !slices.ContainsFunc(chosen, holds) {
			for k := range sets {
				if holds(k) {
					return false
				}
			}
		}
	}
	return true
}

// TestFewestAgainstBruteForce tries every choice of columns of small random questions.
func TestFewestAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 17))
	for round := range 1500 {
		rows, columns := 1+r.IntN(14), 1+r.IntN(13)
		sets, cost := make([]bitset, columns), make([]int, columns)
		for k := range sets {
			sets[k], cost[k] = newBitset(rows), r.IntN(9)
			for row := range rows {
				if r.IntN(4) == 0 {
					sets[k].add(row)
				}
			}
		}
		least := columns + 1
		for choice := range 1 << columns {
			var chosen []int
			for k := range columns {
				if choice>>k&1 == 1 {
					chosen = append(chosen, k)
				}
			}
			if len(chosen) < least && covers(rows, sets, chosen) {
				least = len(chosen)
			}
		}
		chosen, bound := fewest(rows, sets, cost)
		if !covers(rows, sets, chosen) || len(chosen) != least || bound != least {
			t.Fatalf("question %d: chose %v with bound %d, want %d columns, all rows covered", round, chosen, bound, least)
		}
	}
}

// affineLines returns the points and lines of the affine space of the dimension over three elements.
func affineLines(dimension int) (points int, lines [][3]int) {
	points = int(math.Pow(3, float64(dimension)))
	digit := func(p, n int) int { return p / int(math.Pow(3, float64(n))) % 3 }
	third := func(a, b int) int { // the point that lies on a line with both: the digits add up to a multiple of 3
		c := 0
		for n := range dimension {
			c += (6 - digit(a, n) - digit(b, n)) % 3 * int(math.Pow(3, float64(n)))
		}
		return c
	}
	for a := range points {
		for b := range a {
			if c := third(a, b); c < b {
				lines = append(lines, [3]int{a, b, c})
			}
		}
	}
	return points, lines
}

// TestFewestOnSteinerSystems solves hard covers with published answers: the fewest points that hit every line of the affine plane and
// space over three elements are 9 - 4 = 5 and 27 - 9 = 18, because the most points with no three in line are 4 and 9 (R. C. Bose, "Mathematical
// theory of the symmetrical factorial design", Sankhya 8 (1947), from memory). The same as the Steiner triple covers of 9 and 27
// points in D. R. Fulkerson, G. L. Nemhauser, L. E. Trotter, Mathematical Programming Study 2 (1974), from memory: 5 and 18.
func TestFewestOnSteinerSystems(t *testing.T) {
	for _, c := range []struct{ dimension, lines, want int }{{2, 12, 5}, {3, 117, 18}} {
		points, lines := affineLines(c.dimension)
		if len(lines) != c.lines {
			t.Fatalf("dimension %d: %d lines, want %d", c.dimension, len(lines), c.lines)
		}
		sets := make([]bitset, points)
		for p := range sets {
			sets[p] = newBitset(len(lines))
		}
		for n, l := range lines {
			for _, p := range l {
				sets[p].add(n)
			}
		}
		chosen, bound := fewest(len(lines), sets, make([]int, points))
		if !covers(len(lines), sets, chosen) || len(chosen) != c.want || bound > c.want {
			t.Errorf("dimension %d: %d points with bound %d, want %d", c.dimension, len(chosen), bound, c.want)
		}
		if c.dimension == 2 && bound != c.want {
			t.Errorf("dimension 2: bound %d, want it proven", bound)
		}
		t.Logf("dimension %d: %d points, bound %d", c.dimension, len(chosen), bound)
	}
}

// byHandJob is the smallest circuit with everything in it: a supply, a stop, a start and a relay, one behind the other.
const byHandJob = `drivewright: 1
controls: {circuit: by hand only}
devices:
  - {tag: X1, kind: terminal block, terminals: "1, 2"}
  - {tag: S1, kind: push button, does: stop, contacts: 11-12 closed}
  - {tag: S2, kind: push button, does: start, contacts: 13-14 open}
  - {tag: K1, kind: relay, voltage: 24 V, resistance: 800 ohm, contacts: 11-14 open}
wires:
  - {name: 1, from: "X1:1", to: "S1:11"}
  - {name: 2, from: "S1:12", to: "S2:13"}
  - {name: 3, from: "S2:14", to: "K1:A1"}
  - {name: 4, from: "K1:A2", to: "X1:2"}
`

// TestSheetByHand holds the sheet of a circuit of four wires against what a person finds.
//
// Mistakes by hand, with what they do. Wires: 1, 2, 3, 4 missing (4 ways). Moved: 1 at X1 to 2, at S1 to 12; 2 at S1 to 11, at S2 to 14;
// 3 at S2 to 13, at K1 to A2; 4 at K1 to A1 or to 11 (an empty screw, the same as missing), at X1 to 1: nine, one of which looks like
// wire 4 missing, and each that puts both of its wires on one screw bridges a contact or coil and leaves the other screw empty.
// Swapped: 1 and 4 at X1, 1 and 2 at S1 (the button is the same both ways round: but a probe on the screw tells, as the wires change
// places there), 2 and 3 at S2, 3 and 4 at K1. Touching: X1:1-2, S1:11-12, S2:13-14, K1:A1-A2. Contacts: S1 and S2 of the wrong kind, never
// closing, never opening. The coil open.
//
// By hand, the reading from X1:1 to X1:2 with S2 pressed goes through everything in a row and shows 800 ohm ±15 %: it proves all four wires, both
// contacts' closing and the coil. With S2 at rest it must be open, with S1 pressed too.
func TestSheetByHand(t *testing.T) {
	c := circuitOf(t, "by-hand", byHandJob)
	sheet := Meter(c)
	if sheet.Bound != len(sheet.Readings) {
		t.Errorf("%d readings with bound %d, want it proven", len(sheet.Readings), sheet.Bound)
	}
	names := map[string]bool{}
	for _, m := range sheet.Mistakes {
		for _, n := range append([]string{m.Name}, m.Also...) {
			names[n] = m.CaughtBy != nil
		}
	}
	for _, want := range []string{
		"wire 1 is not fitted, or off at one end", "wire 2 is not fitted, or off at one end", "wire 3 is not fitted, or off at one end", "wire 4 is not fitted, or off at one end",
		"wire 1 sits on X1:2 instead of X1:1", "wire 1 sits on S1:12 instead of S1:11", "wire 2 sits on S1:11 instead of S1:12", "wire 2 sits on S2:14 instead of S2:13",
		"wire 3 sits on S2:13 instead of S2:14", "wire 3 sits on K1:A2 instead of K1:A1", "wire 4 sits on K1:A1 instead of K1:A2", "wire 4 sits on K1:11 instead of K1:A2", "wire 4 sits on X1:1 instead of X1:2",
		"wires 1 and 4 are swapped at X1:1 and X1:2", "wires 1 and 2 are swapped at S1:11 and S1:12", "wires 2 and 3 are swapped at S2:13 and S2:14", "wires 3 and 4 are swapped at K1:A1 and K1:A2",
		"X1:1 and X1:2 touch", "S1:11 and S1:12 touch", "S2:13 and S2:14 touch", "K1:A1 and K1:A2 touch",
		"contact 11-12 of S1 is normally open instead of normally closed", "contact 11-12 of S1 never closes", "contact 11-12 of S1 never opens",
		"contact 13-14 of S2 is normally closed instead of normally open", "contact 13-14 of S2 never closes", "contact 13-14 of S2 never opens",
		"the coil of K1 is open",
	} {
		caught, there := names[want]
		if !there || !caught {
			t.Errorf("%q: thought of: %v, caught: %v, want both", want, there, caught)
		}
		delete(names, want)
	}
	for n := range names {
		t.Errorf("%q isn't on the list made by hand", n)
	}
	through := func(band Band) bool {
		return !band.Open && !band.Continuity && band.Nominal == 800 && band.Least < 680 && band.Most > 920 && band.Least > 660 && band.Most < 940
	}
	if !slices.ContainsFunc(sheet.Readings, func(r Reading) bool { return through(r.Expect) }) {
		t.Error("no reading through the coil of 800 ohm ±15 %")
	}
}

// TestSheetHoldsWhatItSays checks the sheet of every circuit from outside the choice: each mistake that it says is caught puts the stated
// readings, and no others, clear of their bands by what a hand meter shows; and of what it says nothing can catch, every pair of wired
// terminals in every setup is looked at once more.
func TestSheetHoldsWhatItSays(t *testing.T) {
	for name, c := range circuits(t) {
		sheet := Meter(c)
		b := newDeadBox(Number(c))
		if sheet.Bound > len(sheet.Readings) {
			t.Errorf("%s: bound %d above %d readings", name, sheet.Bound, len(sheet.Readings))
		}
		if sheet.Bound < len(sheet.Readings) {
			t.Logf("%s: %d readings, bound %d: not proven", name, len(sheet.Readings), sheet.Bound)
		}
		caught, uncaught := 0, 0
		for _, m := range sheet.Mistakes {
			change := b.alter(m.Changes...)
			for n, r := range sheet.Readings {
				s, _ := b.setupOf(r.Settings)
				var v view
				b.look(&v, &s, &change)
				found := v.between(b.wiring.At(r.From), b.wiring.At(r.To))
				// What the meter may show with the mistake, its own error included.
				low, high := shownLeast(found.least), shownMost(found.most)
				if found.joined() {
					high = joinedMost
				}
				outside := low > float64(r.Expect.Most) || high < float64(r.Expect.Least)
				if stated := slices.Contains(m.CaughtBy, n); stated && !outside {
					t.Errorf("%s: %q is to be seen by %s, which may show %.4g to %.4g ohm where %.4g to %.4g is right", name, m.Name, r.ID, low, high, r.Expect.Least, r.Expect.Most)
				}
			}
			if m.CaughtBy != nil {
				caught++
				continue
			}
			uncaught++
			if m.Why == "" {
				t.Errorf("%s: nothing says why %q can't be caught", name, m.Name)
			}
			for _, s := range b.setups() {
				var sound, wrong view
				b.look(&sound, &s, &unaltered)
				b.look(&wrong, &s, &change)
				for i, p := range b.probes {
					for _, q := range b.probes[:i] {
						if healthy := sound.between(p, q); healthy.useful() && b.tells(healthy, wrong.between(p, q)) {
							t.Fatalf("%s: %q is said not to be caught, but %s to %s %v would: %v instead of %v", name, m.Name, b.wiring.Pins[p], b.wiring.Pins[q], s.settings, wrong.between(p, q), healthy)
						}
					}
				}
			}
		}
		if caught != sheet.Caught || caught < 9*uncaught {
			t.Errorf("%s: %d mistakes are caught (the sheet says %d) and %d not", name, caught, sheet.Caught, uncaught)
		}
		t.Logf("%s: %d readings, bound %d, of %d candidates; %d mistakes caught, %d not", name, len(sheet.Readings), sheet.Bound, sheet.Candidates, caught, uncaught)
	}
}

// TestSameCircuitSameSheet: the sheet depends on nothing but the circuit, and a reading keeps its name when something is added that has
// nothing to do with it.
func TestSameCircuitSameSheet(t *testing.T) {
	c := circuits(t)["two-stations"]
	one, other := Meter(c), Meter(c)
	one.weighing, other.weighing = nil, nil
	if d := cmp.Diff(one, other, cmp.AllowUnexported(MeterSheet{}), cmp.Comparer(func(a, b quantity.Resistance) bool { return a == b })); d != "" {
		t.Errorf("the same circuit gave two sheets:\n%s", d)
	}
	names := map[string]string{}
	for _, r := range one.Readings {
		at := fmt.Sprint(r.From, r.To, r.Settings)
		if names[r.ID] != "" {
			t.Errorf("%s names two readings", r.ID)
		}
		names[r.ID] = at
	}
	more := *c
	more.Devices = append([]circuit.Device{{Tag: "X0", Kind: circuit.TerminalBlock, Terminals: []string{"1", "2"}}}, c.Devices...)
	more.Wires = append(slices.Clone(c.Wires), circuit.Wire{Name: "99", Number: "99", From: circuit.Pin{Device: "X0", Terminal: "1"}, To: circuit.Pin{Device: "X0", Terminal: "2"}})
	kept := 0
	for _, r := range Meter(&more).Readings {
		if at, there := names[r.ID]; there {
			kept++
			back := fmt.Sprint(r.To, r.From, r.Settings)
			if now := fmt.Sprint(r.From, r.To, r.Settings); now != at && back != at {
				t.Errorf("%s was %s and is %s", r.ID, at, now)
			}
		}
	}
	if kept < len(one.Readings)*2/3 {
		t.Errorf("only %d of %d readings are still there", kept, len(one.Readings))
	}
}

// TestNoChangeIsNoMistake: what puts a wire on another screw of the same potential is no mistake, and a second wire beside one is
// one that no reading catches.
func TestNoChangeIsNoMistake(t *testing.T) {
	sheet := Meter(circuitOf(t, "same", `drivewright: 1
controls: {circuit: by hand only}
devices:
  - {tag: XG, kind: ground bar, terminals: "1, 2, 3, 4"}
  - {tag: X1, kind: terminal block, terminals: "1, 2"}
wires:
  - {name: a, from: "XG:1", to: "X1:1"}
  - {name: b, from: "XG:2", to: "X1:1"}
`))
	for _, m := range sheet.Mistakes {
		switch {
		case m.CaughtBy != nil:
			t.Errorf("%q is caught, and nothing can catch it", m.Name)
		case m.Changes[0].Kind != WireOff:
			t.Errorf("%q is taken for a mistake, and changes nothing", m.Name)
		}
	}
	if len(sheet.Mistakes) != 2 || len(sheet.Readings) != 0 {
		t.Errorf("got %d mistakes and %d readings, want the two wires missing and no reading", len(sheet.Mistakes), len(sheet.Readings))
	}
}

// TestMeterTakesWhatComes: nothing that can be written makes it fall over.
func TestMeterTakesWhatComes(t *testing.T) {
	for _, c := range []*circuit.Circuit{
		{},
		{Devices: []circuit.Device{{Tag: "X1", Terminals: []string{"1"}}}},
		{Devices: []circuit.Device{{Tag: "X1", Terminals: []string{"1", "2"}, Elements: []circuit.Element{{Kind: circuit.Coil, A: "1", B: "9"}, {Kind: circuit.KnobElement, A: "1", B: "2", Ohms: 5}}}},
			Wires: []circuit.Wire{{Name: "a", From: circuit.Pin{Device: "X1", Terminal: "1"}, To: circuit.Pin{Device: "X9", Terminal: "2"}}, {Name: "b", From: circuit.Pin{Device: "X1", Terminal: "1"}, To: circuit.Pin{Device: "X1", Terminal: "2"}}}},
	} {
		sheet := Meter(c)
		sheet.Judge(c, []Taken{{Reading: "R", Value: "open"}})
		sheet.Judge(nil, []Taken{{Reading: "R", Value: "open"}})
	}
}

// BenchmarkMeter chooses the readings of a circuit and proves them the fewest.
func BenchmarkMeter(b *testing.B) {
	for name, c := range circuits(b) {
		b.Run(name, func(b *testing.B) {
			var sheet MeterSheet
			for b.Loop() {
				sheet = Meter(c)
			}
			b.ReportMetric(float64(len(sheet.Readings)), "readings")
			b.ReportMetric(float64(sheet.Bound), "bound")
			b.ReportMetric(float64(len(sheet.Mistakes)), "mistakes")
		})
	}
}
