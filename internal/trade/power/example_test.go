package power_test

import (
	"fmt"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/power"
)

// Size takes a job from the nameplate to every part between wall and motor; each value can be asked why.
func ExampleSize() {
	f := job.Read("lathe.job.yaml", []byte(`
drivewright: 1
supply: {voltage: 240 V, phases: 1}
motor:
  power: 5 hp
  voltage: 230/460 V
  current: 13.4/6.7 A
  lead groups: [[1, 4], [2, 5], [3, 6], [7, 8, 9]]
`))
	r := power.Size(&f.Job)
	fmt.Println(r.Connection.Text.Value)
	for _, current := range []interface{ Show(quantity.System) string }{
		r.Motor.Table.Why(), r.Drive.Needed.Why(), r.Drive.Input.Why(), r.Branch.Least.Why(),
	} {
		fmt.Println(current.Show(quantity.InchUnits))
	}
	why := r.MotorLead.Ampacity.Why()
	fmt.Println(why.InWords(), "=", why.Figures(quantity.InchUnits))
	// Output:
	// L1 to 1 and 7; L2 to 2 and 8; L3 to 3 and 9; join 4, 5 and 6
	// 15.2 A
	// 13.4 A
	// 37 A
	// 46.2 A
	// motor current × factor = 15.2 A × 125 %
}
