package catalogue

import (
	"math"
	"testing"

	"drivewright/internal/base/quantity"
)

// TestHoleTablesRead reads every file of holes and drills.
func TestHoleTablesRead(t *testing.T) {
	for name, text := range map[string]string{"clearance_hole": clearanceHoleFile, "tap_drill": tapDrillFile, "knockout": knockoutFile, "cable_entry": cableEntryFile, "drill": drillFile} {
		if _, err := readTable(text); err != nil {
			t.Errorf("%s.csv: %v", name, err)
		}
	}
	if len(clearanceHoles()) < 50 || len(tapHoles()) < 20 || len(entryHoles()) != 14 || len(drills()) < 220 {
		t.Errorf("%d clearance holes, %d threads, %d entries, %d drills", len(clearanceHoles()), len(tapHoles()), len(entryHoles()), len(drills()))
	}
}

// Tap drills follow from the thread: the major diameter less 75 % or so of twice the thread's height, 1.299 × pitch (Machinery's Handbook,
// 31st edition, percentage of full thread). Each row of the table must give between 60 and 85 %.
func TestTapDrillsGiveAThread(t *testing.T) {
	for _, h := range tapHoles() {
		percent := 100 * float64(h.Major-h.Across) / (1.299 * float64(h.Pitch))
		if percent < 60 || percent > 85 {
			t.Errorf("%s: %.3f mm gives %.0f %% of a thread", h.Thread, float64(h.Across)*1000, percent)
		}
	}
}

// Published figures: ISO 273 M5 medium 5.5 mm; ASME B18.2.8 No. 10 normal fit No. 2 drill (0.221 in), both as reprinted in Machinery's
// Handbook; tap drills 4.2 mm for M5 and No. 21 for 10-32 from common charts.
func TestHolesOfScrews(t *testing.T) {
	for _, c := range []struct {
		screw, fit, drill string
		mm                float64
	}{{"M5", "normal", "", 5.5}, {"No. 10", "normal", "No. 2", 5.613}, {"1/4", "close", "17/64", 6.746}} {
		if h, ok := ClearanceHoleFor(c.screw, c.fit); !ok || h.Drill != c.drill || math.Abs(float64(h.Across)*1000-c.mm) > 0.01 {
			t.Errorf("%s %s: %+v", c.screw, c.fit, h)
		}
	}
	for thread, mm := range map[string]float64{"M5": 4.2, "10-32": 4.039, "No. 10": 4.039} {
		if h, ok := TapHoleFor(thread); !ok || math.Abs(float64(h.Across)*1000-mm) > 0.01 {
			t.Errorf("%s: %+v", thread, h)
		}
	}
	if _, ok := ClearanceHoleFor("M7", "normal"); ok {
		t.Error("there is no hole for M7 in the table")
	}
}

func TestNearestDrill(t *testing.T) {
	for _, c := range []struct {
		mm, least    float64
		inch, metric bool
		want         string
		none         bool
	}{{5.5, 5.4, true, false, "7/32 in", false}, {5.5, 5.4, false, true, "5.5 mm", false}, {4.039, 0, true, false, "No. 21", false}, {6.528, 0, true, true, "letter F", false},
		{22.3, 22.3, true, true, "", true}, {6.35, 0, true, false, "1/4 in", false}} {
		d, ok := NearestDrill(quantity.Length(c.mm/1000), quantity.Length(c.least/1000), c.inch, c.metric)
		if ok == c.none || d.Name != c.want && !c.none {
			t.Errorf("%g mm: %v %q, want %q", c.mm, ok, d.Name, c.want)
		}
	}
}

func TestEntryFor(t *testing.T) {
	for _, c := range []struct {
		mm     float64
		metric bool
		want   string
	}{{10.5, true, "M20"}, {14, true, "M25"}, {10, false, "1/2"}, {20, false, "3/4"}} {
		if h, ok := EntryFor(quantity.Length(c.mm/1000), c.metric); !ok || h.Size != c.want {
			t.Errorf("cable of %g mm: %q, want %q", c.mm, h.Size, c.want)
		}
	}
}
