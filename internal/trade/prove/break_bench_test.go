package prove

import (
	"context"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// BenchmarkSolve solves the largest network of each circuit, as it stands while the machine runs, and reports how many times faster
// that is than one run of ngspice's process on the same network, and than ngspice's own solution in one batch.
func BenchmarkSolve(b *testing.B) {
	needSpice(b)
	all := circuits(b)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		b.Run(name, func(b *testing.B) {
			m := newModel(all[name])
			t := newTrial(m)
			var k *network
			for _, other := range t.networks {
				if k == nil || len(other.lives) > len(k.lives) {
					k = other
				}
			}
			visit := t.visits[len(t.visits)/2]
			var list spice
			list.add(solveAll(m, visit.drivers).stand())
			few, many := list.time(b, 1), list.time(b, 2001)
			s := &solver{m: m}
			key := visit.drivers.both(&k.mask)
			var o outcome
			b.ReportAllocs()
			for b.Loop() {
				s.solve(k, &key, &o)
			}
			ours := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
			b.ReportMetric(float64(k.nets), "nets")
			b.ReportMetric(float64(few.Nanoseconds())/ours, "x-process")
			b.ReportMetric(float64((many-few).Nanoseconds())/2000/ours, "x-batch")
		})
	}
}

// time runs ngspice with the list solved n times and returns how long the process takes, the best of three.
func (l *spice) time(t testing.TB, n int) time.Duration {
	t.Helper()
	folder := t.TempDir()
	text := "network\n" + strings.Join(l.lines, "\n") + fmt.Sprintf("\n.control\nrepeat %d\nop\ndestroy all\nend\nquit\n.endc\n.end\n", n)
	if err := os.WriteFile(filepath.Join(folder, "in.cir"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	best := time.Hour
	for range 3 {
		c := exec.CommandContext(t.Context(), "ngspice", "-b", "in.cir")
		c.Dir = folder
		begin := time.Now()
		if out, err := c.CombinedOutput(); err != nil && !strings.Contains(string(out), "network") {
			t.Fatalf("ngspice: %v\n%s", err, out)
		}
		best = min(best, time.Since(begin))
	}
	return best
}

// BenchmarkBreak runs the whole script with every single fault.
func BenchmarkBreak(b *testing.B) {
	all := circuits(b)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		b.Run(name, func(b *testing.B) {
			var r Report
			for b.Loop() {
				r = Break(all[name], false)
			}
			b.ReportMetric(float64(len(r.Faults)), "faults")
			b.ReportMetric(float64(len(r.Faults)*b.N)/b.Elapsed().Seconds(), "faults/s")
		})
	}
}

// BenchmarkBreakPairs runs it with every pair of faults.
func BenchmarkBreakPairs(b *testing.B) {
	all := circuits(b)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		b.Run(name, func(b *testing.B) {
			var r Report
			for b.Loop() {
				var err error
				if r, err = BreakWithin(context.Background(), all[name], true); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(r.PairsTried), "pairs")
			b.ReportMetric(float64(r.PairsTried*b.N)/b.Elapsed().Seconds(), "pairs/s")
		})
	}
}
