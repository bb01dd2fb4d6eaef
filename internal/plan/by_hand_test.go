package plan_test

import (
	"math"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
)

// byHand are figures of the example sheets, worked out with a pencil from the published tables. NEC is NFPA 70, 2023; its
// tables 250.122, 310.16, 430.250 and 240.6(A) were read in reprints, 430.128 is from memory.
var byHand = []struct {
	job, value, want string
	within           float64 // relative
	how              string
}{
	{"engine-lathe", "motor-full-load-current-from-the-table", "15.2 A", 0, "NEC Table 430.250, 5 hp, 230 V"},
	{"engine-lathe", "locked-rotor-current", "100.3 A", 0.002, "NEC Table 430.7(B), J: 7.99 kVA/hp × 5 hp ÷ (√3 × 230 V)"},
	{"engine-lathe", "full-load-slip", "3.333 %", 0.001, "(1800 − 1740) ÷ 1800"},
	{"engine-lathe", "least-ampacity-of-the-branch-conductor", "46.25 A", 0.0001, "NEC 430.122(A): 125 % of the drive's 37 A"},
	{"engine-lathe", "branch-conductor", "6 AWG", 0, "NEC Table 310.16 at 75 °C: 8 AWG carries 50 A and a 60 A device is above the next rating; 6 AWG carries 65 A"},
	{"engine-lathe", "equipment-grounding-conductor", "10 AWG", 0, "NEC Table 250.122, 60 A"},
	{"engine-lathe", "largest-overload-setting", "16.75 A", 0.0001, "NEC 430.32(A)(1), service factor 1.15: 125 % of 13.4 A"},
	{"engine-lathe", "least-rating-of-the-disconnect", "42.55 A", 0.0001, "NEC 430.128: 115 % of 37 A"},
	{"engine-lathe", "voltage-drop-at-rated-input", "1.64 V", 0.02, "2 × 45 ft × 37 A × 0.491 Ω/kft, NEC Chapter 9 Table 8, 6 AWG; reactance adds a little"},
	{"engine-lathe", "dc-link-at-the-highest-supply", "373.4 V", 0.0005, "√2 × 1.1 × 240 V"},
	{"engine-lathe", "connection-of-the-leads", "L1 to 1 and 7; L2 to 2 and 8; L3 to 3 and 9; join 4, 5 and 6", 0, "NEMA MG 1 part 2, nine leads, star, low voltage (from memory)"},

	{"drum-sander", "motor-full-load-current-from-the-table", "22 A", 0, "NEC Table 430.250, 7-1/2 hp, 230 V"},
	{"drum-sander", "least-ampacity-of-the-branch-conductor", "69.55 A", 0.0001, "125 % of 51 A, and 5.8 A of a 1/4 hp motor at 115 V, NEC Table 430.248"},
	{"drum-sander", "smallest-branch-conductor-that-passes", "4 AWG", 0, "NEC Table 310.16 at 60 °C: 6 AWG carries 55 A, 4 AWG 70 A"},
	{"drum-sander", "overcurrent-device", "70 A", 0, "NEC 240.6(A): the standard rating above 69.55 A"},
	{"drum-sander", "equipment-grounding-conductor", "8 AWG", 0, "NEC Table 250.122, above 60 A and up to 100 A"},
	{"drum-sander", "energy-in-the-dc-link", "188.2 J", 0.001, "½ × 2700 µF × (373.4 V)²"},
	{"drum-sander", "overload-setting", "19.4 A", 0, "NEC 430.6(A)(2): the nameplate, not the table"},
	{"drum-sander", "connection-of-the-leads", "L1 to 1, 6 and 7; L2 to 2, 4 and 8; L3 to 3, 5 and 9", 0, "NEMA MG 1 part 2, nine leads, delta, low voltage (from memory)"},

	{"tool-grinder", "motor-full-load-current-from-the-table", "4.8 A", 0, "NEC Table 430.250, 3 hp, 460 V"},
	{"tool-grinder", "base-frequency", "31.30 Hz", 0.001, "60 Hz × 240 V ÷ 460 V: volts per hertz are constant"},
	{"tool-grinder", "part-of-the-nameplate-power-that-is-left", "52.17 %", 0.001, "240 V ÷ 460 V"},
	{"tool-grinder", "largest-overload-setting", "5.06 A", 0.0001, "NEC 430.32(A)(1), all others: 115 % of 4.4 A"},
}

func TestExamplesByHand(t *testing.T) {
	values := map[string]map[string]*explain.Reason{}
	for _, c := range byHand {
		if values[c.job] == nil {
			values[c.job] = map[string]*explain.Reason{}
			name := c.job + ".job.yaml"
			for _, r := range plan.Make(job.Read(name, mustRead(t, name))).Values() {
				values[c.job][r.ID()] = r
			}
		}
		r := values[c.job][c.value]
		if r == nil || !r.There() {
			t.Errorf("%s: got no %s, want %s: %s", c.job, c.value, c.want, c.how)
			continue
		}
		got, number := quantity.SI(r.Value)
		if !number {
			if shown := r.Value.Show(quantity.InchUnits); shown != c.want {
				t.Errorf("%s: %s: got %s, want %s: %s", c.job, c.value, shown, c.want, c.how)
			}
			continue
		}
		want, err := quantity.Parse(r.Value.Kind(), c.want)
		if err != nil {
			t.Fatal(err)
		}
		si, _ := quantity.SI(want)
		if math.Abs(got-si) > c.within*math.Abs(si)+1e-9 {
			t.Errorf("%s: %s: got %s, want %s: %s", c.job, c.value, r.Show(quantity.InchUnits), c.want, c.how)
		}
	}
}
