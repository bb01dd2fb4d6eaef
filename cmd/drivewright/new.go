package main

import (
	"cmp"
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
	File        string `arg:"" optional:"" help:"The job file to write; named after the machine if left out."`
	Rules       string `help:"Whose installation rules: us, or iec."`
	Units       string `help:"inch or metric."`
	Name        string `help:"What you call the machine."`
	Kind        string `help:"The sort of machine: lathe, mill, saw, grinder …"`
	Power       string `help:"Motor power on the plate, such as \"5 hp\"."`
	Voltage     string `help:"All voltages on the plate, such as \"230/460 V\"."`
	Current     string `help:"All currents on the plate, in the same order, such as \"13.4/6.7 A\"."`
	Speed       string `help:"Full-load speed on the plate, such as \"1740 rpm\"."`
	Leads       string `help:"How many leads come out of the motor."`
	Groups      string `help:"Leads with continuity between them, such as \"1-4 2-5 3-6 7-8-9\"."`
	Supply      string `help:"Supply voltage as measured, such as \"240 V\"."`
	Breaker     string `help:"Breaker or fuse of the circuit, such as \"30 A\"."`
	OwnCircuit  string `help:"Is nothing else on that breaker: yes or no."`
	Length      string `name:"run" help:"Length from breaker to machine, such as \"45 ft\"."`
	Ground      string `help:"Does an unbroken grounding conductor reach the machine: yes, no or unknown."`
	GroundFault string `help:"What would trip on leakage: none, class A 5 mA, 30 mA …"`
	Connection  string `help:"hard-wired, or cord and plug."`
	StartStop   string `help:"How you mean to start and stop it, such as \"buttons at the drive terminals\"."`
	Reverse     string `help:"Is reverse wanted: yes or no."`
	Duty        string `help:"How much of a working hour the motor runs, such as \"40 %\"."`
	Yes         bool   `short:"y" help:"Ask nothing: what isn't given by an option is left for later."`
}

// questions are what new asks, in the order in which one walks from the plate on the machine to the panel.
func (c *newCommand) questions() []question {
	return []question{
		{path: "rules", ask: "Whose installation rules?", answer: &c.Rules},
		{path: "units", ask: "Units for the sheet?", answer: &c.Units},
		{path: "machine.name", ask: "What do you call the machine?", answer: &c.Name},
		{path: "machine.kind", ask: "What sort of machine is it?", answer: &c.Kind},
		{path: "motor.power", ask: "Motor power on the plate?", answer: &c.Power},
		{path: "motor.voltage", ask: "All voltages on the plate?", answer: &c.Voltage},
		{path: "motor.current", ask: "All currents on the plate, in the same order?", answer: &c.Current},
		{path: "motor.speed", ask: "Full-load speed on the plate?", answer: &c.Speed},
		{path: "motor.leads", ask: "How many leads come out of the motor?", answer: &c.Leads},
		{path: "motor.lead groups", ask: "Which of them have continuity, by ohmmeter, with everything disconnected?", answer: &c.Groups,
			example: "1-4 2-5 3-6 7-8-9", unless: func() bool { return !manyLeads(c.Leads) }},
		{path: "supply.voltage", ask: "Supply voltage, measured between the two supply conductors?", answer: &c.Supply},
		{path: "supply.breaker", ask: "Breaker or fuse of the circuit?", answer: &c.Breaker},
		{path: "supply.own circuit", ask: "Is nothing else on that breaker?", answer: &c.OwnCircuit},
		{path: "supply.run", ask: "Length of the run, breaker to machine, one way?", answer: &c.Length},
		{path: "supply.equipment ground", ask: "Does an unbroken grounding conductor reach the machine?", answer: &c.Ground},
		{path: "supply.ground-fault protection", ask: "What would trip on leakage to ground?", answer: &c.GroundFault},
		{path: "supply.connection", ask: "How is the machine connected?", answer: &c.Connection},
		{path: "machine.start and stop", ask: "How do you mean to start and stop it?", answer: &c.StartStop},
		{path: "machine.reverse", ask: "Is reverse wanted?", answer: &c.Reverse},
		{path: "machine.duty", ask: "How much of a working hour does the motor run?", answer: &c.Duty},
	}
}

// manyLeads reports whether so many leads come out that they can be joined in more than one way.
func manyLeads(leads string) bool {
	n, err := quantity.Parse(quantity.KindCount, leads)
	count, ok := n.(quantity.Count)
	return err == nil && ok && count > 3
}

// Run asks, writes the file and says what to do next.
func (c *newCommand) Run(b *bench) error {
	questions := c.questions()
	if err := given(questions); err != nil {
		return err
	}
	if !c.Yes {
		asked := interview{bench: b, questions: questions, metric: func() bool { return c.system() == quantity.MetricUnits }}
		if err := asked.run(); err != nil {
			return err
		}
	}
	path := c.File
	if path == "" {
		path = jobFileName(c.Name)
	}
	if !strings.HasSuffix(path, jobEnding) {
		path = strings.TrimSuffix(path, ".yaml") + jobEnding
	}
	if c.Rules == "" && c.Units == quantity.MetricUnits.String() {
		fmt.Fprintln(b.out, "metric units: the iec rules and A4 paper are taken; give --rules us where NFPA 70 holds")
	}
	text := c.starter(questions)
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
	fmt.Fprintf(b.out, "wrote %s: %s\n  drivewright check %s    what to do about it\n  drivewright sheet %s    the sheet\n  drivewright serve %s    the live sheet in a browser\n",
		path, countInWords(plan.Broken(file, b.after(checkingMost)).Findings), path, path, filepath.Dir(path))
	return nil
}

// rules are the ones that were asked for, else those that go with the units.
func (c *newCommand) rules() string {
	if c.Rules == "" && c.Units == quantity.MetricUnits.String() {
		return "iec"
	}
	return cmp.Or(c.Rules, "us")
}

// system is the unit system that was asked for, else the one that goes with the rules.
func (c *newCommand) system() quantity.System {
	if c.Units == quantity.MetricUnits.String() || c.Units == "" && c.rules() == "iec" {
		return quantity.MetricUnits
	}
	return quantity.InchUnits
}

// starter is a commented job file that holds the answers, with everything else that can be said commented out beside its
// explanation.
func (c *newCommand) starter(questions []question) []byte {
	answers := map[string]string{"drivewright": "1"}
	for _, q := range questions {
		if *q.answer != "" {
			answers[q.path] = *q.answer
		}
	}
	answers["rules"] = c.rules()
	if c.system() == quantity.MetricUnits {
		answers["units"] = quantity.MetricUnits.String()
	}
	if c.rules() == "iec" {
		answers["paper"] = "a4"
	}
	return job.Starter(answers)
}
