package catalogue

import (
	"math"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// TestSupplyFilesRead reads each data file of the supply side: a file that doesn't read would give an empty table unnoticed.
func TestSupplyFilesRead(t *testing.T) {
	for name, text := range map[string]string{
		"conductor_ampacity": conductorAmpacityFile, "conductor_correction": conductorCorrectionFile,
		"conductor_adjustment": conductorAdjustmentFile, "conductor_insulation": conductorInsulationFile,
		"conductor_resistance": conductorResistanceFile, "conductor_reactance": conductorReactanceFile,
		"conductor_grounding": conductorGroundingFile, "conductor_area": conductorAreaFile,
		"device_rating": deviceRatingFile, "device_rating_iec": deviceRatingIECFile,
		"device_small_conductor": deviceSmallConductorFile, "device_motor": deviceMotorFile,
		"raceway": racewayFile, "raceway_fill": racewayFillFile, "receptacle": receptacleFile,
		"cord": cordFile, "transformer": transformerFile,
	} {
		table, err := readTable(text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if table.column("trust") < 0 {
			t.Errorf("%s: no column says how far its rows can be trusted", name)
		}
	}
}

// TestRacewayAreaIsACircle holds every area of Chapter 9 Table 4, recalled or read, against π/4 of the diameter squared.
// The book rounds diameters to 0.001 in and areas to 0.001 in²: both roundings together stay under 0.35 % on the smallest.
func TestRacewayAreaIsACircle(t *testing.T) {
	if len(raceways()) < 50 {
		t.Fatalf("got %d raceway sizes, want at least 50", len(raceways()))
	}
	for _, r := range raceways() {
		d := float64(r.Diameter / quantity.Inch)
		circle := math.Pi / 4 * d * d
		got := float64(r.Area / quantity.SquareInch)
		if math.Abs(got-circle) > 0.0005+math.Pi/2*d*0.0005 {
			t.Errorf("%s %s: area %.4f in², π/4 d² is %.4f in²", r.Kind, r.Size, got, circle)
		}
	}
}

// TestResistanceIsCopper holds Chapter 9 Table 8 against annealed copper of 100 % conductivity (IEC 60028: 0.017241 Ω mm²/m
// at 20 °C, 0.00393 per kelvin) at 75 °C: solid within 1.2 %, stranded 0.8 to 3.6 % above, for the lay of the strands (ASTM B8).
func TestResistanceIsCopper(t *testing.T) {
	const copper75 = 0.017241e-6 * (1 + 0.00393*55)
	for size, m := range metals() {
		ideal := copper75 / float64(m.mils)
		if m.solid.there {
			if off := float64(m.solid.value)/ideal - 1; math.Abs(off) > 0.012 {
				t.Errorf("%s solid: %+.2f %% off copper, want within 1.2 %%", size.Show(quantity.InchUnits), off*100)
			}
		}
		if off := float64(m.stranded.value)/ideal - 1; off < 0.008 || off > 0.036 {
			t.Errorf("%s stranded: %+.2f %% off copper, want 0.8 to 3.6 %%", size.Show(quantity.InchUnits), off*100)
		}
	}
}

// TestCircularMilsAreGauge holds the circular mils of Table 8 against the gauge's definition (ASTM B258) within its rounding: 18 AWG is
// printed as 1620 to three digits, 0.26 % off.
func TestCircularMilsAreGauge(t *testing.T) {
	for size, m := range metals() {
		if off := math.Abs(float64(m.mils/size.Area()) - 1); off > 0.003 {
			t.Errorf("%s: %.0f cmil is %.2f %% off its gauge", size.Show(quantity.InchUnits), float64(m.mils/quantity.CircularMil), off*100)
		}
	}
}

// TestAmpacityRises holds the order that any table of ampacities must have: thicker carries more, and so does hotter insulation.
func TestAmpacityRises(t *testing.T) {
	sizes := ConductorSizes()
	if len(sizes) < 15 {
		t.Fatalf("got %d sizes, want at least 15", len(sizes))
	}
	for n, size := range sizes {
		a60, _, _ := Ampacity(size, 60)
		a75, _, _ := Ampacity(size, 75)
		a90, _, ok := Ampacity(size, 90)
		if !ok || a60 > a75 || a75 > a90 {
			t.Errorf("%s: %v, %v, %v A isn't rising with the insulation temperature", size.Show(quantity.InchUnits), a60, a75, a90)
		}
		if n > 0 {
			if thinner, _, _ := Ampacity(sizes[n-1], 75); thinner >= a75 {
				t.Errorf("%s carries no more than the size below", size.Show(quantity.InchUnits))
			}
		}
		if _, _, ok := ConductorResistance(size); !ok {
			t.Errorf("%s: no resistance", size.Show(quantity.InchUnits))
		}
		if _, _, ok := InsulatedArea(size, "THHN"); !ok {
			t.Errorf("%s: no insulated area", size.Show(quantity.InchUnits))
		}
	}
}

// TestTrustIsKept holds that a recalled figure stays marked as one.
func TestTrustIsKept(t *testing.T) {
	_, read, _ := Ampacity(quantity.AWG(10), 75)
	if read.Trust != explain.Published {
		t.Errorf("10 AWG at 75 °C: got trust %v, want published", read.Trust)
	}
	recalled, ok := ReceptacleOf("6-30")
	if !ok || recalled.Source.Trust != explain.FromMemory {
		t.Errorf("receptacle: got trust %v, want from memory", recalled.Source.Trust)
	}
}
