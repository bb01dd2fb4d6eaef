package power

import (
	"math"
	"testing"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// TestPlateRanges sizes motors whose plate gives a range for a connection. The currents are NFPA 70 Table 430.250: 1 hp takes
// 4.6 A at 208 V and 4.2 A at 230 V; a motor has its full power anywhere in its plate's range.
func TestPlateRanges(t *testing.T) {
	for _, c := range []struct {
		name, rules, supply, plate, amperes, power, frequency string
		wanted                                                quantity.Voltage
		base                                                  quantity.Frequency
		table                                                 quantity.Current // 0: not asked
		nameplate                                             quantity.Current
	}{
		{"208 V on 208-230", "us", "208 V", "208-230/460 V", "3.8-3.4/1.7 A", "1 hp", "60 Hz", 208, 60, 4.6, 3.8},
		{"208 V on 208-230, one current for it", "us", "208 V", "208-230/460 V", "3.4/1.7 A", "1 hp", "60 Hz", 208, 60, 4.6, 3.4},
		{"240 V on 208-230", "us", "240 V", "208-230/460 V", "3.8-3.4/1.7 A", "1 hp", "60 Hz", 230, 60, 4.2, 3.4},
		{"a range alone", "us", "208 V", "208-230 V", "3.4 A", "1 hp", "60 Hz", 208, 60, 4.6, 3.4},
		{"a range with a long dash", "us", "208 V", "208–230/460 V", "3.4/1.7 A", "1 hp", "60 Hz", 208, 60, 4.6, 3.4},
		{"230 V on 220-240/380-415", "iec", "230 V", "220-240/380-415 V", "3.2/1.85 A", "0.75 kW", "50 Hz", 230, 50, 0, 3.2},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := job.Read("test", []byte("drivewright: 1\nrules: "+c.rules+"\nsupply:\n  voltage: "+c.supply+"\n  phases: 1\nmotor:\n  power: "+c.power+
				"\n  voltage: "+c.plate+"\n  current: "+c.amperes+"\n  frequency: "+c.frequency+"\n"))
			if len(f.Problems) > 0 {
				t.Fatalf("the job doesn't read: %v", f.Problems)
			}
			r := Size(&f.Job)
			v := r.Voltage
			switch {
			case v.Wanted.Value != c.wanted:
				t.Errorf("connected for %v, want %v", v.Wanted.Value, c.wanted)
			case math.Abs(float64(v.BaseFrequency.Value-c.base)) > 1e-9 || v.FullPower.Value != 1 || !v.Enough:
				t.Errorf("full torque to %v and %v of the power, enough %v; want %v and all of it", v.BaseFrequency.Value, v.FullPower.Value, v.Enough, c.base)
			case c.table != 0 && r.Motor.Table.Value != c.table:
				t.Errorf("table current %v, want %v", r.Motor.Table.Value, c.table)
			case r.Motor.Nameplate.Value != c.nameplate:
				t.Errorf("plate current %v, want %v", r.Motor.Nameplate.Value, c.nameplate)
			}
		})
	}
}
