package main

import (
	"fmt"

	"drivewright/internal/base/quantity"
	"drivewright/internal/plan"
)

type circuitCommand struct {
	Job string `arg:"" help:"The job file."`
}

// Run prints the whole circuit as a job file of its own: every device, wire and cable on a line. What is wrong with the job's own
// devices and wires goes to the error output.
func (c circuitCommand) Run(b *bench) error {
	file, err := readJob(c.Job)
	if err != nil {
		return err
	}
	p := plan.Make(file)
	for _, m := range p.Circuit.Mistakes {
		fmt.Fprintf(b.err, "%s: %s (%s)\n", file.Name, m.Message.Show(quantity.InchUnits), m.Rule)
	}
	fmt.Fprint(b.out, p.Circuit.Write())
	return nil
}
