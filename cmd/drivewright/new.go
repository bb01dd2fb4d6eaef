package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
)

// newCommand asks for what decides the most. Each flag answers one question beforehand.
type newCommand struct {
	File       string `arg:"" optional:"" help:"The job file to write; named after the machine if left out."`
	Name       string `help:"What you call the machine."`
	Kind       string `help:"The sort of machine: lathe, mill, saw, grinder …"`
	Power      string `help:"Motor power on the plate, such as \"5 hp\"."`
	Voltage    string `help:"All voltages on the plate, such as \"230/460 V\"."`
	Current    string `help:"All currents on the plate, in the same order, such as \"13.4/6.7 A\"."`
	Speed      string `help:"Full-load speed on the plate, such as \"1740 rpm\"."`
	Leads      string `help:"How many leads come out of the motor."`
	Supply     string `help:"Supply voltage as measured, such as \"240 V\"."`
	Breaker    string `help:"Breaker or fuse of the circuit, such as \"30 A\"."`
	Length     string `name:"run" help:"Length from breaker to machine, such as \"45 ft\"."`
	Connection string `help:"hard-wired, or cord and plug."`
	Duty       string `help:"How much of a working hour the motor runs, such as \"40 %\"."`
	Units      string `help:"inch or metric."`
	Yes        bool   `short:"y" help:"Ask nothing: what isn't given by an option is left for later."`
}

// question is one thing that new asks.
type question struct {
	path    string
	ask     string
	answer  *string
	example string
}

// Run asks, writes the file and says what to do next.
func (c newCommand) Run(b *bench) error {
	questions := []question{
		{"machine.name", "What do you call the machine?", &c.Name, "Engine lathe"},
		{"machine.kind", "What sort of machine is it?", &c.Kind, "lathe"},
		{"motor.power", "Motor power on the plate?", &c.Power, "5 hp"},
		{"motor.voltage", "All voltages on the plate?", &c.Voltage, "230/460 V"},
		{"motor.current", "All currents on the plate, in the same order?", &c.Current, "13.4/6.7 A"},
		{"motor.speed", "Full-load speed on the plate?", &c.Speed, "1740 rpm"},
		{"motor.leads", "How many leads come out of the motor?", &c.Leads, "9"},
		{"supply.voltage", "Supply voltage, measured between the two supply conductors?", &c.Supply, "240 V"},
		{"supply.breaker", "Breaker or fuse of the circuit?", &c.Breaker, "30 A"},
		{"supply.run", "Length of the run, breaker to machine, one way?", &c.Length, "45 ft"},
		{"supply.connection", "How is the machine connected?", &c.Connection, "hard-wired"},
		{"machine.duty", "How much of a working hour does the motor run?", &c.Duty, "40 %"},
		{"units", "Units for the sheet?", &c.Units, "inch"},
	}
	if err := c.fill(b, questions); err != nil {
		return err
	}
	path := c.File
	if path == "" {
		path = jobFileName(c.Name)
	}
	if !strings.HasSuffix(path, jobEnding) {
		path = strings.TrimSuffix(path, ".yaml") + jobEnding
	}
	text := starter(questions)
	file := job.Read(filepath.Base(path), text)
	if len(file.Problems) > 0 {
		f := file.Problems[0]
		return usage("%s", f.Message.Show(quantity.InchUnits))
	}
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return usage("%s is there already: give another name, or change it with drivewright set", path)
	}
	if err != nil {
		return usage("%w", err)
	}
	if _, err := out.Write(text); err != nil {
		return errors.Join(err, out.Close())
	}
	if err := out.Close(); err != nil {
		return err
	}
	fmt.Fprintf(b.out, "wrote %s: %s\n  drivewright sheet %s    the sheet\n  drivewright serve %s    the live sheet in a browser\n",
		path, countInWords(plan.Make(file).Findings), path, filepath.Dir(path))
	return nil
}

// fill answers the questions: from the options, else from the user; every answer is checked when it is given.
func (c newCommand) fill(b *bench, questions []question) error {
	lines := bufio.NewScanner(b.in)
	for n := range questions {
		q := &questions[n]
		if *q.answer != "" {
			if mistake := unfit(q.path, *q.answer); mistake != "" {
				return usage("%s", mistake)
			}
			continue
		}
		for !c.Yes {
			fmt.Fprintf(b.out, "%s  [such as %s; Enter to leave it for later] ", q.ask, q.example)
			if !lines.Scan() {
				fmt.Fprintln(b.out)
				c.Yes = true // the answers have ended: the rest is left for later
				if err := lines.Err(); err != nil {
					return err
				}
				break
			}
			answer := strings.TrimSpace(lines.Text())
			mistake := ""
			if answer != "" {
				mistake = unfit(q.path, answer)
			}
			if mistake == "" {
				*q.answer = answer
				break
			}
			fmt.Fprintf(b.out, "  %s\n", mistake)
		}
	}
	return nil
}

// unfit says why the text can't stand at the path in a job file; "" when it can.
func unfit(path, text string) string {
	_, err := job.Read("answer", []byte("drivewright: 1\n")).Set(path, text)
	if err != nil {
		return err.Error()
	}
	return ""
}

// starter is a commented job file that holds the answers, with everything else that can be said commented out beside its
// explanation.
func starter(questions []question) []byte {
	answers := map[string]string{"drivewright": "1", "rules": "us"}
	for _, q := range questions {
		if *q.answer != "" {
			answers[q.path] = *q.answer
		}
	}
	return job.Starter(answers)
}
