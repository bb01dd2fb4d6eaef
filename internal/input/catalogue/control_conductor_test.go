package catalogue

import (
	"testing"

	"drivewright/internal/base/quantity"
)

// TestControlAmpacityRises: both tables rise with the size, and hold the figures of the works that they are from: NFPA 79
// Table 12.5.1, 18 AWG 7 A and 16 AWG 10 A; IEC 60204-1 Table 6 method B2, 1.5 mm² 13.1 A.
func TestControlAmpacityRises(t *testing.T) {
	gauges := []quantity.Conductor{quantity.AWG(24), quantity.AWG(22), quantity.AWG(20), quantity.AWG(18), quantity.AWG(16), quantity.AWG(14)}
	var metric []quantity.Conductor
	for _, mm2 := range []float64{0.2, 0.34, 0.5, 0.75, 1, 1.5, 2.5, 4} {
		metric = append(metric, quantity.SquareMillimetres(mm2))
	}
	for _, sizes := range [][]quantity.Conductor{gauges, metric} {
		last := quantity.Current(0)
		for _, size := range sizes {
			i, source, ok := ControlAmpacity(size)
			if !ok || i <= last || source.Work == "" {
				t.Errorf("%s: got %v after %v (%v), want more", size.Show(quantity.InchUnits), i, last, ok)
			}
			last = i
		}
	}
	for size, want := range map[quantity.Conductor]quantity.Current{quantity.AWG(18): 7, quantity.AWG(16): 10, quantity.SquareMillimetres(1.5): 13.1} {
		if got, _, _ := ControlAmpacity(size); got != want {
			t.Errorf("%s: got %v A, want %v A", size.Show(quantity.InchUnits), float64(got), float64(want))
		}
	}
}
