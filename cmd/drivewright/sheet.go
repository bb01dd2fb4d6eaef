package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

type sheetCommand struct {
	Job    string `arg:"" help:"The job file."`
	Format string `help:"text, html, pdf or json; from the output file's ending if left out." enum:"text,html,pdf,json,auto" default:"auto"`
	Output string `short:"o" help:"File to write; the terminal if left out." type:"path"`
	Units  string `help:"Unit system: ${enum}; the job's own if left out." enum:"inch,metric,job" default:"job"`
	Paper  string `help:"Paper size: ${enum}; the job's own if left out." enum:"letter,a4,job" default:"job"`
	Width  int    `help:"Columns of the text form." default:"80"`
}

// Run writes the sheet.
func (c sheetCommand) Run(b *bench) error {
	file, err := readJob(c.Job)
	if err != nil {
		return err
	}
	format := c.Format
	if format == "auto" {
		if format = formOf(c.Output); format == "" {
			return usage("%s: a sheet is written as .txt, .html, .pdf or .json; give the file one of these endings, or say --format", filepath.Base(c.Output))
		}
	}
	if format == "pdf" && c.Output == "" {
		return usage("a PDF isn't for a terminal: give a file with -o %s.pdf", strings.TrimSuffix(filepath.Base(c.Job), jobEnding))
	}
	options := sheet.Options{Version: b.version, Date: modified(c.Job)}
	if c.Units != "job" {
		units := unitSystem(c.Units)
		options.Units = &units
	}
	if c.Paper != "job" {
		options.Paper = sheet.Paper(c.Paper)
	}
	p := plan.Make(file)
	if _, err := takeReadings(b, &p, c.Job, ""); err != nil {
		return err
	}
	p.Prove()
	p.Arrange(box.Options{Stop: b.after(arrangingMost)})
	d := sheet.Build(p, options)
	var buffer bytes.Buffer
	if err := writeSheet(&buffer, d, format, c.Width, b.colour && c.Output == ""); err != nil {
		return err
	}
	if c.Output == "" {
		_, err = b.out.Write(buffer.Bytes())
		return err
	}
	if err := os.WriteFile(c.Output, buffer.Bytes(), 0o644); err != nil {
		return usage("%w", err)
	}
	fmt.Fprintf(b.out, "wrote %s\n", c.Output)
	return nil
}

// formOf is the form that a file's ending asks for, text for the terminal; "" if the ending says nothing.
func formOf(output string) string {
	switch strings.ToLower(filepath.Ext(output)) {
	case ".pdf":
		return "pdf"
	case ".html", ".htm":
		return "html"
	case ".json":
		return "json"
	case ".txt", ".text":
		return "text"
	}
	if output == "" {
		return "text"
	}
	return ""
}

// writeSheet writes the document in one of the four forms.
func writeSheet(w io.Writer, d sheet.Document, format string, width int, colour bool) error {
	switch format {
	case "html":
		return sheet.WriteHTML(w, d)
	case "pdf":
		return sheet.WritePDF(w, d)
	case "json":
		return sheet.WriteJSON(w, d)
	default:
		return sheet.WriteText(w, d, width, colour)
	}
}

// modified is the day on which the job file was last changed: the date that the sheet carries, so that the same file always
// makes the same sheet. It is empty when the file can't be looked at.
func modified(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return info.ModTime().UTC().Format("2006-01-02")
}

type schemaCommand struct {
	Of string `arg:"" optional:"" help:"What the schema is of: ${enum}." enum:"job,sheet,proof" default:"job"`
}

// Run prints the JSON Schema.
func (c schemaCommand) Run(b *bench) error {
	text := job.Schema()
	switch c.Of {
	case "sheet":
		text = sheet.JSONSchema()
	case "proof":
		text = sheet.ProofJSONSchema()
	}
	_, err := b.out.Write(text)
	return err
}

type versionCommand struct{}

// Run prints the version.
func (versionCommand) Run(b *bench) error {
	_, err := fmt.Fprintln(b.out, "drivewright", b.version)
	return err
}
