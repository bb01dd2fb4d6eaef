package power

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestLinksShareTheVoltsEqually holds each connection to what it is for: the part of the line voltage that every coil gets.
// In star a phase gets 1/√3 of it, in delta all; in series two coils halve that.
func TestLinksShareTheVoltsEqually(t *testing.T) {
	for _, c := range []struct {
		w     *winding
		how   connection
		share float64
	}{
		{&nineStar, connection{parallel: true}, 1 / math.Sqrt(3)},
		{&nineStar, connection{}, 0.5 / math.Sqrt(3)},
		{&nineDelta, connection{parallel: true, delta: true}, 1},
		{&nineDelta, connection{delta: true}, 0.5},
		{&twelve, connection{parallel: true}, 1 / math.Sqrt(3)},
		{&twelve, connection{}, 0.5 / math.Sqrt(3)},
		{&twelve, connection{parallel: true, delta: true}, 1},
		{&twelve, connection{delta: true}, 0.5},
		{&six, connection{}, 1 / math.Sqrt(3)},
		{&six, connection{delta: true}, 1},
		{&sixParts, connection{parallel: true}, 1 / math.Sqrt(3)},
	} {
		joins := c.w.links(c.how)
		if joins == nil {
			t.Errorf("%s %+v: got no links", c.w.name, c.how)
			continue
		}
		volts, balanced := c.w.coilVoltages(joins)
		if !balanced {
			t.Errorf("%s %+v: %s doesn't balance", c.w.name, c.how, joinText(joins))
		}
		for n, v := range volts {
			if math.Abs(cmplx.Abs(v)-c.share) > 1e-6 {
				t.Errorf("%s %+v: coil %d gets %.4f of the line voltage, want %.4f", c.w.name, c.how, n, cmplx.Abs(v), c.share)
			}
		}
	}
}

// TestImpossibleConnectionsAreRefused asks each winding for what its inner joints forbid.
func TestImpossibleConnectionsAreRefused(t *testing.T) {
	for _, c := range []struct {
		w   *winding
		how connection
	}{
		{&nineStar, connection{parallel: true, delta: true}}, {&nineStar, connection{delta: true}},
		{&nineDelta, connection{parallel: true}}, {&nineDelta, connection{}},
		{&sixParts, connection{parallel: true, delta: true}},
	} {
		if joins := c.w.links(c.how); joins != nil {
			t.Errorf("%s %+v: got %s, want a refusal", c.w.name, c.how, joinText(joins))
		}
	}
}

// TestWrongLinkListsDontBalance tries link lists that are printed in places and are wrong, and mistakes of a tired hand.
func TestWrongLinkListsDontBalance(t *testing.T) {
	line := func(l string, leads ...string) Join { return Join{Line: l, Leads: leads} }
	splice := func(leads ...string) Join { return Join{Leads: leads} }
	for _, c := range []struct {
		what  string
		w     *winding
		joins []Join
	}{
		{"1-4, 2-5, 3-6 joined, as some pages say for high voltage: each pair is one coil, shorted", &nineStar,
			[]Join{line("L1", "1"), line("L2", "2"), line("L3", "3"), splice("1", "4"), splice("2", "5"), splice("3", "6")}},
		{"delta links on a star", &nineStar, []Join{line("L1", "1", "6", "7"), line("L2", "2", "4", "8"), line("L3", "3", "5", "9")}},
		{"star links on a delta", &nineDelta, []Join{line("L1", "1", "7"), line("L2", "2", "8"), line("L3", "3", "9"), splice("4", "5", "6")}},
		{"one coil turned round", &nineStar, []Join{line("L1", "4", "7"), line("L2", "2", "8"), line("L3", "3", "9"), splice("1", "5", "6")}},
		{"the star point forgotten on one lead", &nineStar, []Join{line("L1", "1", "7"), line("L2", "2", "8"), line("L3", "3", "9"), splice("4", "5")}},
		{"two lines on one joint", &six, []Join{line("L1", "1"), line("L2", "1"), line("L3", "3"), splice("4", "5", "6")}},
		{"delta closed wrongly", &six, []Join{line("L1", "1", "5"), line("L2", "2", "4"), line("L3", "3", "6")}},
	} {
		if _, balanced := c.w.coilVoltages(c.joins); balanced {
			t.Errorf("%s: %s balances, want it refused", c.what, joinText(c.joins))
		}
	}
}

// TestAnySwapOfTwoLeadsIsNoticed takes each right link list and swaps two leads of different joints: no such list may balance,
// unless it only renames the phases or turns all coils round.
func TestAnySwapOfTwoLeadsIsNoticed(t *testing.T) {
	for _, w := range []*winding{&nineStar, &nineDelta, &six} {
		for _, level := range []string{lowLevel, highLevel} {
			refused := 0
			right, err := joinsFor(w, level)
			if err != nil {
				t.Fatal(err)
			}
			for a := range right {
				for b := a + 1; b < len(right); b++ {
					for i := range right[a].Leads {
						for k := range right[b].Leads {
							wrong := make([]Join, len(right))
							for n, j := range right {
								wrong[n] = Join{j.Line, slices.Clone(j.Leads)}
							}
							wrong[a].Leads[i], wrong[b].Leads[k] = wrong[b].Leads[k], wrong[a].Leads[i]
							volts, balanced := w.coilVoltages(wrong)
							if !balanced {
								refused++
								continue
							}
							// it balances: then it must be the same machine, each coil at its rightful voltage
							sound, _ := w.coilVoltages(right)
							for n := range volts {
								if math.Abs(cmplx.Abs(volts[n])-cmplx.Abs(sound[n])) > 1e-9 {
									t.Errorf("%s, %s: swapping %s and %s balances at another voltage", w.name, level, right[a].Leads[i], right[b].Leads[k])
								}
							}
						}
					}
				}
			}
			if refused == 0 {
				t.Errorf("%s, %s: not one swap was noticed", w.name, level)
			}
		}
	}
}

// TestGroupsAreToldWhateverTheirOrder shuffles the groups of each winding, and the leads in them.
func TestGroupsAreToldWhateverTheirOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 9))
	for _, w := range []*winding{&nineStar, &nineDelta, &twelve, &six, &sixParts} {
		for range 50 {
			var groups [][]int
			for _, g := range w.groups() {
				g = slices.Clone(g)
				random.Shuffle(len(g), func(i, k int) { g[i], g[k] = g[k], g[i] })
				groups = append(groups, g)
			}
			random.Shuffle(len(groups), func(i, k int) { groups[i], groups[k] = groups[k], groups[i] })
			got, err := windingOf(groups, len(w.leads))
			if err != nil || got != w {
				t.Fatalf("%v: got %v, %v, want %s", groups, got, err, w.name)
			}
		}
	}
}

// TestReadings holds the computed ohmmeter readings to Ohm's law done by hand: in a star the group of three reads two coils,
// in a delta the corner lead reads one coil to either neighbour and they read two between them.
func TestReadings(t *testing.T) {
	pairs := func(list ...string) [][2]string {
		var out [][2]string
		for n := 0; n < len(list); n += 2 {
			out = append(out, [2]string{list[n], list[n+1]})
		}
		return out
	}
	for _, c := range []struct {
		w    *winding
		want []Reading
	}{
		{&nineStar, []Reading{{pairs("1", "4", "2", "5", "3", "6"), 1}, {pairs("7", "8", "7", "9", "8", "9"), 2}}},
		{&nineDelta, []Reading{{pairs("1", "4", "1", "9", "2", "5", "2", "7", "3", "6", "3", "8"), 1}, {pairs("4", "9", "5", "7", "6", "8"), 2}}},
	} {
		if diff := cmp.Diff(c.want, c.w.readings()); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.w.name, diff)
		}
	}
}

// TestResistanceOfClosedWindings: between two corners of a delta one coil lies beside two in series, two thirds of a coil; between
// two ends of a star lie two coils.
func TestResistanceOfClosedWindings(t *testing.T) {
	delta := winding{"delta inside", threeCoils, [][]int{{1, 6}, {2, 4}, {3, 5}}, []int{1, 2, 3}}
	for _, c := range []struct {
		w    *winding
		want float64
	}{{&delta, 2.0 / 3}, {&three, 2}} {
		for _, pair := range [][2]int{{1, 2}, {2, 3}, {1, 3}} {
			got, ok := c.w.resistance(pair[0], pair[1])
			if !ok || math.Abs(got-c.want) > 1e-6 {
				t.Errorf("%s, %v: got %.4f coils, want %.4f", c.w.name, pair, got, c.want)
			}
		}
	}
	if _, ok := nineStar.resistance(1, 2); ok {
		t.Error("nine leads, star: continuity between 1 and 2, want none")
	}
}

// FuzzLeadGroups: whatever is written as groups is told or refused, never a crash; what is told has exactly its groups.
func FuzzLeadGroups(f *testing.F) {
	for _, w := range windings {
		f.Add(groupText(w.groups()))
	}
	for _, s := range []string{"", "[]", "[[]]", "[[1, 4], [2, 5]]", "1-1", "0-13", "1-2-3-4-5-6", "-1-2", "[[9]]"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		groups, err := readGroups(text)
		if err != nil {
			return
		}
		w, err := windingOf(groups, 0)
		if (w == nil) == (err == nil) {
			t.Fatalf("%q: got winding %v and error %v, want one of them", text, w, err)
		}
		if w != nil && !equalGroups(sortedGroups(groups), sortedGroups(w.groups())) {
			t.Fatalf("%q was told as %s", text, w.name)
		}
	})
}
