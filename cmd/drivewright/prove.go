package main

import (
	"errors"
	"os"
	"path/filepath"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/prove"
)

type proveCommand struct {
	Job      string `arg:"" help:"The job file, or a circuit by itself: a job file with \"circuit: by hand only\" under controls."`
	Pairs    bool   `help:"Try every pair of faults as well; takes some seconds."`
	Format   string `help:"How to print: ${enum}." enum:"text,json" default:"text"`
	Readings string `help:"File of readings taken on the box, to be judged; the job's own records if left out." type:"path"`
	Units    string `help:"Unit system: ${enum}; the job's own if left out." enum:"inch,metric,job" default:"job"`
	Width    int    `help:"Columns of the text form." default:"100"`
}

// Run breaks the circuit on purpose, chooses the meter readings and judges those that were taken. It fails on a danger or a must
// that the simulation shows, and on a reading that is wrong or can't be judged.
func (c proveCommand) Run(b *bench) error {
	file, err := readJob(c.Job)
	if err != nil {
		return err
	}
	p := plan.Make(file)
	unreadable, err := takeReadings(b, &p, c.Job, c.Readings)
	if err != nil {
		return err
	}
	if c.Pairs {
		p.ProvePairs()
	} else {
		p.Prove()
	}
	options := sheet.Options{Version: b.version}
	if c.Units != "job" {
		units := unitSystem(c.Units)
		options.Units = &units
	}
	rules := append(sheet.ProofRules(), mistakeRules()...)
	if c.Format == "json" {
		err = sheet.WriteProofJSON(b.out, p, options)
	} else {
		width := c.Width
		if b.width > 0 {
			width = b.width
		}
		err = sheet.WriteText(b.out, sheet.Part(sheet.Build(p, options), "prove", rules), width, b.colour)
	}
	if err != nil {
		return err
	}
	blocked := slices.ContainsFunc(p.Findings, func(f explain.Finding) bool { return f.Severity.Blocks() && slices.Contains(rules, f.Rule) })
	if blocked || unreadable || anyWrong(&p) {
		return errFindings
	}
	return nil
}

// anyWrong reports whether a reading that was taken, and not taken again since, is wrong or can't be judged.
func anyWrong(p *plan.Plan) bool {
	wrong := map[string]bool{}
	for _, j := range p.Proof.Meter.Judge(&p.Circuit.Circuit, p.Taken).Judged {
		wrong[j.Taken.Reading] = !j.Right
	}
	for _, w := range wrong {
		if w {
			return true
		}
	}
	return false
}

// takeReadings reads the readings in the file, or, without one, the records beside the job, into the plan. What can't be read is
// printed with its place.
func takeReadings(b *bench, p *plan.Plan, of, path string) (unreadable bool, err error) {
	given := path != ""
	if !given {
		path = recordsName(of)
	}
	text, err := os.ReadFile(path)
	switch {
	case given && errors.Is(err, os.ErrNotExist):
		return false, usage("there is no file %s to read readings from", path)
	case err != nil && given:
		return false, usage("%w", err)
	case err != nil:
		return false, nil // nothing was measured yet
	}
	taken, found := prove.ReadRecords(filepath.Clean(path), text)
	p.Taken = taken
	for _, f := range found {
		if err := explain.WriteFinding(b.err, f, text, explain.TextForm{Units: p.Units(), Width: b.width}); err != nil {
			return false, err
		}
	}
	return len(found) > 0, nil
}

// mistakeRules are the names under which mistakes in the job file are reported: a circuit that can't be read proves nothing.
func mistakeRules() []string {
	var names []string
	for _, p := range job.Mistakes() {
		names = append(names, p.Name)
	}
	return names
}
