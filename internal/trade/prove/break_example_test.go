package prove_test

import (
	"fmt"
	"os"

	"drivewright/internal/input/job"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// A maintained switch starts the machine again when the supply returns: the circuit does it with nothing broken.
func ExampleBreak() {
	text, err := os.ReadFile("testdata/circuits/maintained-switch.job.yaml")
	if err != nil {
		fmt.Println(err)
		return
	}
	file := job.Read("maintained-switch.job.yaml", text)
	c := circuit.Make(circuit.Brief{Job: &file.Job}).Circuit
	report := prove.Break(&c, false)
	for _, danger := range report.Whole {
		for _, action := range danger.Sequence {
			fmt.Println(action)
		}
		fmt.Println("then", danger.Seen)
	}
	// Output:
	// switch the supply on
	// turn run switch (S1) to on
	// the supply fails
	// the supply returns
	// then the motor starts
}
