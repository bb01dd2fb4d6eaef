package job_test

import (
	"fmt"
	"os"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

func ExampleRead() {
	src := []byte("supply:\n  voltage: 240\n  breakr: 30 A\nmotor:\n  power: 3 hp   # by the plate\n")
	f := job.Read("drill.job.yaml", src)
	fmt.Println(f.Job.Motor.Power.Value.Show(quantity.MetricUnits), "at", f.Job.Motor.Power.Span)
	for _, p := range f.Problems {
		if err := explain.WriteFinding(os.Stdout, p, src, explain.TextForm{}); err != nil {
			fmt.Println(err)
		}
	}
	// Output:
	// 2.24 kW at drill.job.yaml:5:10
	// drill.job.yaml:2:12: must: supply voltage: "240" has no unit, expected a voltage such as 240 V  [missing-unit]
	//     voltage: 240
	//              ^^^  write 240 V
	// drill.job.yaml:3:3: must: there is no "breakr" in supply  [unknown-key]
	//     breakr: 30 A
	//     ^^^^^^  did you mean "breaker"?
}

func ExampleFile_Set() {
	f := job.Read("drill.job.yaml", []byte("supply:\n  voltage: 240 V   # measured\n\nmotor:\n  power: 3 hp\n"))
	changed, err := f.Set("supply.breaker", "30 A")
	fmt.Print(string(changed), err, "\n")
	_, err = f.Set("supply.breaker", "30 V")
	fmt.Println(err)
	// Output:
	// supply:
	//   voltage: 240 V   # measured
	//   breaker: 30 A
	//
	// motor:
	//   power: 3 hp
	// <nil>
	// supply.breaker: source overcurrent device: "30 V" has the unit "V", which is not a unit of current, expected a current such as 30 A; V is a unit of voltage
}
