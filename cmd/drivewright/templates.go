package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
	"drivewright/internal/output/sheet"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/metalwork"
)

type templatesCommand struct {
	Job    string `arg:"" help:"The job file."`
	Face   string `help:"One face: plate, door, left wall, right wall, top, bottom, back; all of them if left out."`
	Format string `help:"How to print: text, csv for a spreadsheet or digital readout, pdf at true scale, svg of one face at true scale, or program for drilling one face (ISO 6983); from the output file's ending if left out." enum:"text,csv,pdf,svg,program,auto" default:"auto"`
	Output string `short:"o" help:"File to write; the terminal if left out." type:"path"`
	Units  string `help:"Unit system: ${enum}; the job's own if left out." enum:"inch,metric,job" default:"job"`
	Paper  string `help:"Paper of the pdf: ${enum}." enum:"a4,letter,job" default:"job"`
	Width  int    `help:"Columns of the text form." default:"100"`
}

// endings are the forms that a file's ending asks for.
var templateEndings = map[string]string{".csv": "csv", ".pdf": "pdf", ".svg": "svg", ".nc": "program", ".txt": "text"}

// Run prints where each hole of the box goes, and the templates.
func (c templatesCommand) Run(b *bench) error {
	format := c.Format
	if format == "auto" {
		format = "text"
		if f, ok := templateEndings[strings.ToLower(filepath.Ext(c.Output))]; ok {
			format = f
		}
	}
	if format == "pdf" && c.Output == "" {
		return usage("a PDF isn't for a terminal: give a file with -o %s-templates.pdf", strings.TrimSuffix(filepath.Base(c.Job), jobEnding))
	}
	file, err := readJob(c.Job)
	if err != nil {
		return err
	}
	p := plan.Make(file)
	p.Arrange(box.Options{Stop: b.after(arrangingMost)})
	if p.Marked == nil || len(p.Marked.Sheets) == 0 {
		return usage("there is nothing to mark out: no size of the box holds its parts; drivewright sheet %s says why", c.Job)
	}
	faces, err := c.faces(p.Marked)
	if err != nil {
		return err
	}
	if (format == "svg" || format == "program") && len(faces) != 1 {
		return usage("%s is for one face: say which with --face, one of %s", format, strings.Join(faceNames(p.Marked), ", "))
	}
	units := p.Units()
	if c.Units != "job" {
		units = unitSystem(c.Units)
	}
	options := sheet.Options{Units: &units, Version: b.version, Date: modified(c.Job)}
	if c.Paper != "job" {
		options.Paper = sheet.Paper(c.Paper)
	}
	var out bytes.Buffer
	switch format {
	case "csv":
		err = placesCSV(&out, p.Marked, faces, units)
	case "program":
		out.WriteString(p.Marked.Program(*faces[0], metalwork.DrillingOf(p.Job)))
	case "svg":
		err = drawing.WriteSVG(&out, sheet.TemplateOf(p, faces[0].Name, units), drawing.SVGOptions{})
	case "pdf":
		err = sheet.WritePDF(&out, c.part(p, options))
	default:
		width := c.Width
		if b.width > 0 {
			width = b.width
		}
		err = sheet.WriteText(&out, c.part(p, options), width, b.colour && c.Output == "")
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

// part is what of the sheet is about the faces.
func (c templatesCommand) part(p plan.Plan, options sheet.Options) sheet.Document {
	d := sheet.Build(p, options)
	if c.Face != "" {
		return sheet.Part(d, sheet.FaceID(c.Face), nil)
	}
	var kept []sheet.Section
	for _, s := range p.Marked.Sheets {
		kept = append(kept, sheet.Part(d, sheet.FaceID(s.Name), nil).Sections...)
	}
	d = sheet.Part(d, "", nil)
	d.Sections = kept
	return d
}

// faces are the sheets that were asked for.
func (c templatesCommand) faces(m *metalwork.Result) ([]*metalwork.Marked, error) {
	var list []*metalwork.Marked
	for n := range m.Sheets {
		if c.Face == "" || m.Sheets[n].Name == c.Face {
			list = append(list, &m.Sheets[n])
		}
	}
	if len(list) > 0 {
		return list, nil
	}
	names := faceNames(m)
	message := fmt.Sprintf("there is nothing to mark out on %q", c.Face)
	if near := explain.Nearest(c.Face, names); near != "" {
		return nil, usage("%s; did you mean %s?", message, near)
	}
	return nil, usage("%s: the faces with holes are %s", message, strings.Join(names, ", "))
}

func faceNames(m *metalwork.Result) []string {
	var names []string
	for _, s := range m.Sheets {
		names = append(names, s.Name)
	}
	return slices.Clip(names)
}

// placesCSV writes the places of all holes for a spreadsheet or a digital readout.
func placesCSV(out *bytes.Buffer, m *metalwork.Result, faces []*metalwork.Marked, units quantity.System) error {
	w := csv.NewWriter(out)
	unit, scale, digits := "mm", float64(quantity.Millimetre), 2
	if units == quantity.InchUnits {
		unit, scale, digits = "in", float64(quantity.Inch), 4
	}
	number := func(l quantity.Length) string { return fmt.Sprintf("%.*f", digits, float64(l)/scale) }
	rows := [][]string{{"face", "hole", "across " + unit, "along " + unit, "diameter " + unit, "how", "for"}}
	for _, f := range faces {
		for _, h := range f.Holes {
			rows = append(rows, []string{f.Name, h.Name, number(h.FromSide), number(h.FromEnd), number(h.Make.Across.Value), h.Make.Words.Show(units), asText(h.For)})
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	w.Flush()
	return w.Error()
}

// asText marks a cell that a spreadsheet would compute as text.
func asText(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
