package sheet

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/plan"
)

// Options are what the reader chooses about the sheet.
type Options struct {
	Units   *quantity.System // nil: as the job says
	Paper   Paper            // "": as the job says
	Date    string           // printed in the head; "" leaves it out
	Version string           // of the program
	// Proving is true while the Prove stage is being worked out and the sheet will be made again with it.
	Proving bool
	// Arranging is true while a first arrangement of the box is being looked for and the sheet will be made again with it.
	Arranging bool
}

// Build lays the plan out as a document, in the order of the work.
func Build(p plan.Plan, o Options) Document {
	units := p.Units()
	if o.Units != nil {
		units = *o.Units
	}
	b := &builder{plan: p, units: units, findings: map[string][]int{}, assumed: map[string]*explain.Reason{}, proving: o.Proving, arranging: o.Arranging, paper: o.Paper}
	for _, r := range p.Values() {
		if r.Origin == explain.Assumed && r.Path != "" {
			b.assumed[r.Path] = r
		}
	}
	d := Document{
		Title:    titleOf(p),
		Subtitle: stages(p) + ", by " + p.Power.Code.Name + ", " + p.Power.Code.Edition,
		File:     fileName(p.Job.Source), Units: units, Paper: paperOf(p, o.Paper), Date: o.Date, Version: o.Version,
	}
	d.Findings = b.listFindings()
	d.Verdict = b.verdict()
	b.survey()
	b.power()
	b.controls()
	b.box()
	b.make()
	b.wire()
	b.prove()
	d.Sections = b.sections
	return d
}

// Part returns the document with the one stage of the ID alone, or the one part of a stage, and without findings but those of the
// rules named. An ID that isn't there gives a document without sections.
func Part(d Document, id string, rules []string) Document {
	var kept []Section
	level := 0
	for _, s := range d.Sections {
		switch {
		case s.ID == id:
			level = max(s.Level, 1)
			kept = append(kept, s)
		case level > 0 && s.Level > level:
			kept = append(kept, s)
		default:
			level = 0
		}
	}
	d.Sections, d.Verdict = kept, Verdict{}
	d.Findings = slices.DeleteFunc(slices.Clone(d.Findings), func(f Finding) bool { return !slices.Contains(rules, f.Rule) })
	for n := range d.Sections { // the numbers of the findings have changed
		d.Sections[n].Blocks = slices.Clone(d.Sections[n].Blocks)
		for k, block := range d.Sections[n].Blocks {
			if v, ok := block.(Values); ok {
				v.Rows = slices.Clone(v.Rows)
				for r := range v.Rows {
					v.Rows[r].Findings = nil
				}
				d.Sections[n].Blocks[k] = v
			}
		}
	}
	return d
}

func titleOf(p plan.Plan) string {
	if p.Job.Machine.Name.Set {
		return string(p.Job.Machine.Name.Value)
	}
	return "Machine without a name"
}

// fileName is the file's name without the folder that it happened to be read from: the sheet stays the same wherever it lies.
func fileName(path string) string {
	return path[strings.LastIndexAny(path, `/\`)+1:]
}

func paperOf(p plan.Plan, asked Paper) Paper {
	switch {
	case asked != "":
		return asked
	case p.Job.Paper.Set:
		return Paper(p.Job.Paper.Value)
	case p.Power.Code.Set == explain.US:
		return Letter
	}
	return A4
}

// builder gathers sections.
type builder struct {
	plan     plan.Plan
	units    quantity.System
	sections []Section
	// findings maps a value's ID or a job-file path to the indexes of the findings about it.
	findings map[string][]int
	// assumed maps a job-file path that nobody wrote to what the plan assumed in its place.
	assumed map[string]*explain.Reason
	proving bool
	// arranging is true while a first arrangement is being looked for.
	arranging bool
	paper     Paper // asked for; "" as the job says
}

// stages names the stages that the sheet has something to say about.
func stages(p plan.Plan) string {
	names := []string{"power"}
	if len(p.Circuit.Circuit.Devices) > 0 {
		names = append(names, "controls", "wiring")
	}
	if p.Arranged != nil {
		names = append(names, "box")
	}
	if p.Marked != nil && len(p.Marked.Sheets) > 0 {
		names = append(names, "holes")
	}
	if p.Proof != nil {
		names = append(names, "proof")
	}
	return "Survey, " + listed(names)
}

func (b *builder) listFindings() []Finding {
	papers := map[string]explain.Paper{}
	for _, p := range plan.Rules() {
		papers[p.Name] = p
	}
	for _, p := range mistakes() {
		papers[p.Name] = p
	}
	var list []Finding
	for n, f := range b.plan.Findings {
		paper := papers[f.Rule]
		out := Finding{Rule: f.Rule, Title: paper.Title, Why: paper.Why, Severity: f.Severity, Message: f.Message.Show(b.units),
			Remedy: f.Remedy.Show(b.units), Source: f.Source.String(), Path: f.Path, Accepted: f.Accepted}
		for _, r := range f.Related {
			if !r.Span.Known() { // no other place in the file, but what else shows the same
				out.Message += "; as simulated: " + r.Message.Show(b.units)
			}
		}
		if f.Span.Known() {
			out.Place = fmt.Sprintf("%s:%d:%d", fileName(f.Span.File), f.Span.Line, f.Span.Column)
		}
		if f.About != nil {
			out.ValueID = f.About.ID()
			b.findings[out.ValueID] = append(b.findings[out.ValueID], n)
		}
		if f.Path != "" {
			b.findings[f.Path] = append(b.findings[f.Path], n)
		}
		list = append(list, out)
	}
	return list
}

// verdict is the answer before any number: what stands in the way, the gravest first.
func (b *builder) verdict() Verdict {
	counts := map[explain.Severity]int{}
	var blocking []string
	for _, f := range b.plan.Findings {
		if f.Accepted != "" {
			continue
		}
		counts[f.Severity]++
		if f.Severity.Blocks() {
			blocking = append(blocking, sentence(f.Message.Show(b.units)))
		}
	}
	detail := strings.Join(blocking[:min(3, len(blocking))], " ")
	if more := len(blocking) - 3; more > 0 {
		detail += fmt.Sprintf(" And %d more.", more)
	}
	var besides []string
	if counts[explain.Check] > 0 {
		besides = append(besides, many(counts[explain.Check], "thing", "things")+" to look at")
	}
	if counts[explain.Note] > 0 {
		besides = append(besides, many(counts[explain.Note], "note", "notes"))
	}
	switch {
	case len(besides) > 0 && len(blocking) > 0:
		detail += " Besides: " + listed(besides) + "."
	case len(besides) > 0:
		detail = sentence(listed(besides))
	}
	if b.proving {
		detail += " The circuit is still being worked through: what that finds comes on top of this."
	}
	detail = strings.TrimSpace(detail + " The sheet says what it checked and what it found; local codes and a licensed electrician have the last word.")
	if wrong := b.plan.Power.Wrong; len(wrong) > 0 {
		return Verdict{Severity: explain.Must, Headline: "A drive is not the answer as things stand: " + wrong[0].Show(b.units), Detail: detail}
	}
	switch {
	case counts[explain.Danger] > 0:
		return Verdict{explain.Danger, "Do not build it like this: " + gravest(counts), detail}
	case counts[explain.Must] > 0:
		return Verdict{explain.Must, "Not yet: " + many(counts[explain.Must], "thing", "things") + " must change before parts are bought", detail}
	case counts[explain.Check] > 0:
		return Verdict{explain.Check, "Nothing found that stops the job; " + many(counts[explain.Check], "thing", "things") + " to look at", detail}
	}
	return Verdict{explain.Note, "Nothing found that stops the job", detail}
}

// gravest counts what blocks: "1 danger and 4 musts found".
func gravest(counts map[explain.Severity]int) string {
	text := many(counts[explain.Danger], "danger", "dangers")
	if counts[explain.Must] > 0 {
		text += " and " + many(counts[explain.Must], "must", "musts")
	}
	return text + " found"
}

// many counts in words: "no dangers", "1 danger", "3 dangers".
func many(n int, one, more string) string {
	switch n {
	case 0:
		return "no " + more
	case 1:
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// section begins a new section; blocks that follow belong to it.
func (b *builder) section(level int, title, lead string) {
	b.sections = append(b.sections, Section{ID: explain.Slug(title), Title: title, Level: level, Lead: lead})
}

func (b *builder) add(block Block) {
	last := &b.sections[len(b.sections)-1]
	last.Blocks = append(last.Blocks, block)
}

// few is how many missing values are shown as rows, each with what it needs; more are summed up in one sentence.
const few = 2

// values adds a list of derived values. Those that don't apply to this job are left out. Where many are missing, one
// sentence says which and what they need, so that a young job's sheet isn't a list of what it doesn't know.
func (b *builder) values(title string, values ...explain.Because) {
	var rows, known, missing []Value
	for _, v := range values {
		r := v.Why()
		if r.Name == "" || r.Origin == explain.NotNeeded {
			continue
		}
		row := b.row(r)
		rows = append(rows, row)
		if r.There() || len(row.Findings) > 0 {
			known = append(known, row)
		} else {
			missing = append(missing, row)
		}
	}
	switch {
	case len(rows) == 0:
	case len(missing) <= few && (len(known) > 0 || len(missing) == 1):
		b.add(Values{Title: title, Rows: rows})
	case len(known) == 0:
		if title == "" {
			title = "This part"
		}
		b.add(Paragraph{Text: title + " can't be worked out yet. It needs " + listed(needed(missing)) + "."})
	default:
		b.add(Values{Title: title, Rows: known})
		var names []string
		for _, row := range missing {
			names = append(names, row.Label)
		}
		b.add(Paragraph{Text: "Not worked out yet, for want of " + listed(needed(missing)) + ": " + strings.Join(names, "; ") + "."})
	}
}

// needed lists what the missing values need, each thing once.
func needed(rows []Value) []string {
	var needs []string
	for _, row := range rows {
		for _, need := range unanswered(row.Reason) {
			if !slices.Contains(needs, need) {
				needs = append(needs, need)
			}
		}
	}
	return needs
}

// needs says what a missing value needs, in terms of what the user can find out.
func (b *builder) needs(r *explain.Reason) string {
	for _, input := range r.Inputs {
		if input.Origin == explain.Missing {
			return "needs " + listed(unanswered(r))
		}
	}
	return r.Note.Show(b.units)
}

// unanswered returns the names of the missing values at the bottom of a missing value's reason.
func unanswered(r *explain.Reason) []string {
	var names []string
	for _, input := range r.Inputs {
		if input.Origin != explain.Missing {
			continue
		}
		for _, name := range unanswered(input.Reason) {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		names = append(names, r.Name)
	}
	return names
}

func (b *builder) row(r *explain.Reason) Value {
	v := Value{ID: r.ID(), Label: r.Name, Text: r.Show(b.units), Origin: r.Origin, Path: r.Path, Typed: r.Typed, Reason: r, Summary: b.summary(r)}
	v.Findings = slices.Clone(b.findings[v.ID])
	return v
}

// summary is half a line of why.
func (b *builder) summary(r *explain.Reason) string {
	switch r.Origin {
	case explain.Given:
		return "given"
	case explain.Missing:
		return b.needs(r)
	case explain.Assumed:
		return "assumed: " + r.Note.Show(b.units)
	case explain.Looked:
		return r.Source.String()
	case explain.Catalogue:
		return "typical part; enter your data sheet's figure"
	case explain.Derived, explain.NotNeeded:
	}
	if figures := r.Figures(b.units); figures != "" && figures != r.Show(b.units) {
		return figures
	}
	return r.InWords()
}

// numbered adds a list in order of preference; nothing when it is empty.
func (b *builder) numbered(title string, list []explain.Phrase) {
	var items []string
	for _, p := range list {
		items = append(items, p.Show(b.units))
	}
	if len(items) > 0 {
		b.add(Numbered{Title: title, Items: items})
	}
}
