package catalogue

import (
	"testing"

	"drivewright/internal/base/quantity"
)

// TestFerrules holds the colours against the list of DIN 46228-4 as a wire dealer reprints it (product page on ferrules, read for
// this test), and the choice for gauges against what the trade puts into them.
func TestFerrules(t *testing.T) {
	if len(ferrules()) != 12 {
		t.Fatalf("got %d sizes, want 12", len(ferrules()))
	}
	for _, c := range []struct {
		wire       quantity.Conductor
		size, hue  string
		sleeveLess quantity.Length
	}{
		{quantity.SquareMillimetres(0.5), "0.5 mm²", "white", 9}, {quantity.SquareMillimetres(0.75), "0.75 mm²", "grey", 9}, {quantity.SquareMillimetres(1), "1 mm²", "red", 9},
		{quantity.SquareMillimetres(1.5), "1.5 mm²", "black", 9}, {quantity.SquareMillimetres(2.5), "2.5 mm²", "blue", 9}, {quantity.SquareMillimetres(6), "6 mm²", "yellow", 13},
		{quantity.SquareMillimetres(16), "16 mm²", "blue", 13}, {quantity.AWG(18), "0.75 mm²", "grey", 9}, {quantity.AWG(16), "1.5 mm²", "black", 9}, {quantity.AWG(10), "6 mm²", "yellow", 13},
		{quantity.AWG(19), "0.75 mm²", "grey", 9}, // in no list: the smallest that takes its 0.65 mm²
	} {
		f, ok := FerruleFor(c.wire)
		if got := f.Size.Show(quantity.MetricUnits); !ok || got != c.size || f.Colour != c.hue || f.Sleeve > c.sleeveLess*quantity.Millimetre {
			t.Errorf("%s: got %s, %s, %v m, want %s, %s", c.wire.Show(quantity.MetricUnits), got, f.Colour, f.Sleeve, c.size, c.hue)
		}
	}
	for _, none := range []quantity.Conductor{{}, quantity.SquareMillimetres(95), quantity.AWG(-3)} {
		if f, ok := FerruleFor(none); ok {
			t.Errorf("%s: got a ferrule of %s, want none", none.Show(quantity.MetricUnits), f.Size.Show(quantity.MetricUnits))
		}
	}
}

// TestSeparations: the farther apart the worse the pair; no distance is lost in reading the file.
func TestSeparations(t *testing.T) {
	list := Separations()
	if len(list) != 4 {
		t.Fatalf("got %d distances, want 4", len(list))
	}
	for n, s := range list {
		if s.Distance < 100*quantity.Millimetre || s.Pair == "" || s.Where == "" || n > 0 && s.Distance > list[n-1].Distance {
			t.Errorf("%q: %v m stands out of order", s.Pair, s.Distance)
		}
	}
}
