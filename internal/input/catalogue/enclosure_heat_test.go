package catalogue

import (
	"math"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// TestHeatFilesRead reads each data file of the heat in the box: a file that doesn't read would give an empty table unnoticed.
func TestHeatFilesRead(t *testing.T) {
	for name, text := range map[string]string{
		"enclosure_surface_factor": enclosureSurfaceFactorFile, "heat_transfer": heatTransferFile, "temperature_rise_constant": temperatureRiseConstantFile,
		"temperature_distribution": temperatureDistributionFile, "vent_opening": ventOpeningFile, "filter_clogging": filterCloggingFile, "fan_filter": fanFilterFile,
		"altitude_fan": altitudeFanFile, "sunshine": sunshineFile, "sun_absorption": sunAbsorptionFile, "air": airFile, "part_losses": partLossesFile,
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

// TestRiseConstantsFall: a larger surface has a smaller constant everywhere, the table's own rows come back, and outside it there is an error. The rows
// up to 1.25 m² also lie within 1.5 % of one power law, fitted to them here: the curve of the report is smooth, and a slip of a digit would show.
func TestRiseConstantsFall(t *testing.T) {
	before := quantity.Factor(math.Inf(1))
	for a := 0.08; a <= 12; a *= 1.01 {
		k, source, err := RiseConstant(quantity.Area(a))
		if err != nil || k >= before || source.Trust != explain.FromMemory {
			t.Fatalf("%.3f m²: k %v after %v, %v, %v", a, k, before, source, err)
		}
		if law := 0.614 * math.Pow(a, -0.74); a < 1.25 && math.Abs(float64(k)/law-1) > 0.015 {
			t.Errorf("%.3f m²: k is %.3f, the others lead one to expect %.3f", a, float64(k), law)
		}
		before = k
	}
	for a, want := range map[quantity.Area]quantity.Factor{0.08: 3.973, 0.5: 1.029, 1.25: 0.524, 12: 0.08} {
		if k, _, err := RiseConstant(a); err != nil || math.Abs(float64(k-want)) > 1e-9 {
			t.Errorf("%v m²: got %v, %v, want %v", float64(a), k, err, want)
		}
	}
	for _, a := range []quantity.Area{0, -1, 0.05, 13, quantity.Area(math.NaN())} {
		if _, _, err := RiseConstant(a); err == nil {
			t.Errorf("%v m² gives no error", float64(a))
		}
	}
}

// TestTopIsWarmer: the air at the top is warmer than in the middle, the more so the taller the box, and never by more than half.
func TestTopIsWarmer(t *testing.T) {
	for _, mounted := range MountedWords() {
		for _, a := range []quantity.Area{0.4, 3} {
			before := quantity.Factor(1)
			for h := quantity.Length(0.2); h < 2.2; h += 0.1 {
				c, _, err := TopFactor(a, h, 0.8, 0.4, mounted)
				if err != nil || c < before-1e-9 || c > 1.5 {
					t.Errorf("%s, %v m², %v m high: %v after %v, %v", mounted, float64(a), float64(h), c, before, err)
				}
				before = c
			}
		}
	}
	if _, _, err := TopFactor(1, 0.4, 0.3, 0.2, "upside down"); err == nil {
		t.Error("an unknown way of mounting gives no error")
	}
}

// TestLossesOfParts: the next rating up is taken; beyond the table its largest row keeps its rating; laws and units are as the rows say.
// Figures: IEC 60898-1 limits and typical data sheets, recalled.
func TestLossesOfParts(t *testing.T) {
	for _, c := range []struct {
		kind  string
		rated quantity.Current
		law   LossLaw
		loss  quantity.Power
		size  quantity.Current
	}{
		{"breaker", 10, BySquare, 3, 10}, {"breaker", 11, BySquare, 3.5, 16}, {"breaker", 63, BySquare, 13, 63}, {"breaker", 100, BySquare, 13, 63},
		{"relay coil", 0, Steady, 1, 0}, {"line filter", 15, BySquare, 12, 20}, {"overload relay", 9, BySquare, 2.5, 0},
	} {
		p, err := TypicalLoss(c.kind, c.rated)
		if err != nil || p.Law != c.law || p.Loss != c.loss || p.Rated != c.size || p.Source.Trust != explain.FromMemory {
			t.Errorf("%s of %v A: %+v, %v", c.kind, float64(c.rated), p, err)
		}
	}
	if p, err := TypicalLoss("24 V supply", 0); err != nil || p.Law != ByShare || p.Share != 0.15 {
		t.Errorf("supply: %+v, %v", p, err)
	}
	for _, kind := range []string{"drive", "kettle", ""} {
		if _, err := TypicalLoss(kind, 0); err == nil {
			t.Errorf("%q gives no error", kind)
		}
	}
	for _, kind := range LossKinds() {
		if _, err := TypicalLoss(kind, 1); err != nil {
			t.Error(err)
		}
	}
	// Typical drives lose about what the table of drives says of them, as both are typical.
	for _, d := range SinglePhaseDrives() {
		loss, _ := TypicalDriveLoss(d.Power)
		if part := float64(d.Losses / loss); part < 0.7 || part > 1.3 {
			t.Errorf("%s: %v W in the list of drives, %v W in the table of losses", d.Name, float64(d.Losses), float64(loss))
		}
	}
}
