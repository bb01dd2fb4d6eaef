package catalogue

import (
	"math"
	"testing"

	"drivewright/internal/base/quantity"
)

// Every row reads, and every kind has a body that makes sense.
func TestEveryTypicalBodyReads(t *testing.T) {
	for name, text := range map[string]string{"part_body": partBodyFile, "enclosure_size": enclosureSizeFile, "wire_bending": wireBendingFile} {
		if _, err := readTable(text); err != nil {
			t.Errorf("%s.csv: %v", name, err)
		}
	}
	faces := map[string]bool{"plate": true, "rail": true, "door": true, "left wall": true, "right wall": true, "outside": true}
	before := PartBody{}
	for _, b := range partBodies() {
		if b.Width <= 0 || b.Height <= 0 || b.Depth <= 0 || b.Weight <= 0 || !faces[b.On] {
			t.Errorf("%s up to %g: %+v", b.Kind, b.Largest, b)
		}
		if b.On == "door" && b.Hole == 0 && b.CutWidth == 0 {
			t.Errorf("%s is on the door without a hole", b.Kind)
		}
		if b.Kind == before.Kind && b.Largest <= before.Largest {
			t.Errorf("%s: the row of %g stands behind that of %g", b.Kind, b.Largest, before.Largest)
		}
		if b.Screws > 0 && (b.Screw == "" || b.Across > b.Width && b.Kind != "ground bar" || b.Along > b.Height) {
			t.Errorf("%s up to %g: its screws lie outside it", b.Kind, b.Largest)
		}
		before = b
	}
}

// Figures of standards (recalled, as the table says): DIN 43880 gives modular devices 17.5 to 18 mm a pole, IEC 60947-5-1 a hole of 22.3 mm with
// least centres of 30 by 50 mm, drive makers 100 mm above and below small drives.
func TestTypicalBodiesAgainstStandards(t *testing.T) {
	mm := func(l quantity.Length) float64 { return math.Round(float64(l/quantity.Millimetre)*10) / 10 }
	breaker, _ := BodyOf("breaker", 32)
	if w := mm(breaker.Pole); w < 17.5 || w > 18 {
		t.Errorf("a pole of a breaker is %g mm, want 17.5 to 18", w)
	}
	button, _ := BodyOf("push button", 0)
	if mm(button.Hole) != 22.3 || mm(button.Width) < 30 || mm(button.Height) < 50 {
		t.Errorf("a push button has a hole of %g mm and takes %g by %g mm", mm(button.Hole), mm(button.Width), mm(button.Height))
	}
	drive, _ := BodyOf("drive", 3700)
	if drive.Largest != 4000 || mm(drive.Above) != 100 || mm(drive.Below) != 100 {
		t.Errorf("a 3.7 kW drive takes the row of %g W with %g and %g mm of air", drive.Largest, mm(drive.Above), mm(drive.Below))
	}
	if _, ok := BodyOf("flux capacitor", 1); ok {
		t.Error("a part that nobody knows has a body")
	}
	if b, _ := BodyOf("main switch", 5000); b.Largest != 200 {
		t.Errorf("beyond the table the largest row serves, got that of %g A", b.Largest)
	}
}

// NFPA 70, Table 312.6(A), one wire on each terminal, as reprinted.
func TestBendingSpace(t *testing.T) {
	for size, want := range map[quantity.Conductor]float64{quantity.AWG(8): 1.5, quantity.AWG(6): 1.5, quantity.AWG(4): 2, quantity.AWG(3): 2, quantity.AWG(2): 2.5, quantity.AWG(1): 3, quantity.AWG(0): 3.5, quantity.AWG(-3): 4} {
		got, source := BendingSpace(size)
		if math.Abs(float64(got/quantity.Inch)-want) > 1e-9 || source.Place == "" {
			t.Errorf("%s: got %g in, want %g", size.Name(), float64(got/quantity.Inch), want)
		}
	}
}

// A few sizes by North American and European catalogue practice.
func TestEnclosureSizes(t *testing.T) {
	found := 0
	for _, s := range EnclosureSizes() {
		switch s.Name {
		case "16 × 12 × 8 in":
			found++
			if s.Height != 16*quantity.Inch || s.Depth != 8*quantity.Inch || s.PlateHeight != 13*quantity.Inch || s.PlateWidth != 9*quantity.Inch || !s.Inch {
				t.Errorf("got %+v", s)
			}
		case "400 × 300 × 200 mm":
			found++
			if math.Abs(float64(s.PlateWidth)-0.25) > 1e-9 || s.Inch {
				t.Errorf("got %+v", s)
			}
		}
		if s.PlateHeight >= s.Height || s.PlateWidth >= s.Width || s.PlateHeight <= 0 || s.Depth <= 0 {
			t.Errorf("%s: the plate doesn't go in", s.Name)
		}
	}
	if found != 2 {
		t.Errorf("found %d of 2 sizes", found)
	}
}
