package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
)

type papersCommand struct {
	Job    string `arg:"" help:"The job file."`
	List   string `help:"One of the lists: ${papers}; all of them if left out."`
	Format string `help:"How to print: text, csv for a spreadsheet, or pdf; from the output file's ending if left out." enum:"text,csv,pdf,auto" default:"auto"`
	Output string `short:"o" help:"File to write; the terminal if left out." type:"path"`
	Units  string `help:"Unit system: ${enum}; the job's own if left out." enum:"inch,metric,job" default:"job"`
	Width  int    `help:"Columns of the text form." default:"100"`
}

// listParts are the sheet's parts that show each list.
var listParts = map[string]string{"wires": "wire-list", "cores": "cables-and-cores", "terminals": "terminal-plan", "parts": "parts-to-get", "labels": "labels", "order": "order-of-work"}

// Run prints the papers that the box is wired from.
func (c papersCommand) Run(b *bench) error {
	names := circuit.ListNames()
	if c.List != "" && !slices.Contains(names, c.List) {
		message := fmt.Sprintf("there is no list %q", c.List)
		if near := explain.Nearest(c.List, names); near != "" {
			return usage("%s; did you mean %s?", message, near)
		}
		return usage("%s: the lists are %s", message, strings.Join(names, ", "))
	}
	format := c.Format
	if format == "auto" {
		format = "text"
		if ending := strings.ToLower(filepath.Ext(c.Output)); ending == ".csv" || ending == ".pdf" {
			format = ending[1:]
		}
	}
	if format == "csv" && c.List == "" {
		return usage("a file for a spreadsheet holds one list: say which with --list, one of %s", strings.Join(names, ", "))
	}
	if format == "pdf" && c.Output == "" {
		return usage("a PDF isn't for a terminal: give a file with -o %s.pdf", strings.TrimSuffix(filepath.Base(c.Job), jobEnding))
	}
	file, err := readJob(c.Job)
	if err != nil {
		return err
	}
	p := plan.Make(file)
	units := p.Units()
	if c.Units != "job" {
		units = unitSystem(c.Units)
	}
	var out bytes.Buffer
	switch format {
	case "csv":
		papers := circuit.MakePapers(&p.Circuit.Circuit, p.Power.Discharge.Wait, p.Power.Discharge.Below)
		papers.NamePlate(p.Circuit.Brief)
		list := papers.List(c.List, units)
		err = list.WriteCSV(&out)
	case "pdf":
		id := "wire"
		if c.List != "" {
			id = listParts[c.List]
		}
		err = sheet.WritePDF(&out, sheet.Part(sheet.Build(p, sheet.Options{Units: &units, Version: b.version, Date: modified(c.Job)}), id, nil))
	default:
		err = c.text(&out, b, p, sheet.Options{Units: &units, Version: b.version})
	}
	if err != nil {
		return err
	}
	if c.Output == "" {
		_, err = b.out.Write(out.Bytes())
		return err
	}
	if err := os.WriteFile(c.Output, out.Bytes(), 0o644); err != nil {
		return usage("%w", err)
	}
	fmt.Fprintf(b.out, "wrote %s\n", c.Output)
	return nil
}

// text writes the papers as they stand on the sheet.
func (c papersCommand) text(out *bytes.Buffer, b *bench, p plan.Plan, options sheet.Options) error {
	width := c.Width
	if b.width > 0 {
		width = b.width
	}
	d := sheet.Build(p, options)
	id := "wire"
	if c.List != "" {
		id = listParts[c.List]
	}
	if c.List == "labels" { // drawn on the sheet, told in words here
		papers := circuit.MakePapers(&p.Circuit.Circuit, p.Power.Discharge.Wait, p.Power.Discharge.Below)
		papers.NamePlate(p.Circuit.Brief)
		d = sheet.Part(d, "", nil)
		list := papers.List(c.List, d.Units)
		d.Sections = []sheet.Section{{ID: "labels", Title: list.Title, Level: 2, Lead: "To be printed at true size from the sheet: drivewright sheet JOB -o sheet.pdf",
			Blocks: []sheet.Block{sheet.Table{Head: list.Head, Numeric: list.Numeric, Rows: list.Rows, Chosen: -1}}}}
	} else {
		d = sheet.Part(d, id, nil)
	}
	return sheet.WriteText(out, d, width, b.colour && c.Output == "")
}
