package sheet

import (
	"bytes"
	"encoding/json"
	"flag"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/input/job"
	"drivewright/internal/output/pdf/pdftest"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

var update = flag.Bool("update", false, "write the golden files anew; read their diff")

// shownThings lists what a document says, piece by piece: every form of the sheet has to show each of them.
func shownThings(d Document) []string {
	things := []string{d.Title, d.Subtitle, d.Verdict.Headline}
	for _, f := range d.Findings {
		things = append(things, f.Rule, f.Severity.String(), f.Message[1:], f.Remedy, f.Accepted)
	}
	for _, s := range d.Sections {
		things = append(things, s.Title, s.Lead)
		for _, block := range s.Blocks {
			switch b := block.(type) {
			case Paragraph:
				things = append(things, b.Text)
			case Caution:
				things = append(things, b.Text)
			case Values:
				things = append(things, b.Title)
				for _, v := range b.Rows {
					things = append(things, v.Label)
					if !b.Unwritten {
						things = append(things, v.Text)
					}
				}
			case Table:
				things = append(append(things, b.Title, b.Note), b.Head...)
				for _, r := range b.Rows {
					things = append(things, r...)
				}
			case Figure:
				things = append(things, b.Title)
			case Numbered:
				things = append(append(things, b.Title), b.Items...)
			case Ticks:
				things = append(things, b.Title)
				for _, item := range b.Items {
					things = append(things, item.Text, item.Expect)
				}
			}
		}
	}
	return slices.DeleteFunc(things, func(s string) bool { return strings.TrimSpace(s) == "" })
}

// bare returns the text without white space, so that it doesn't matter where lines were broken.
func bare(text string) string { return strings.Join(strings.Fields(text), "") }

// checkShows fails for each thing of the document that the output doesn't show.
func checkShows(t *testing.T, form, output string, d Document) {
	t.Helper()
	things := shownThings(onPaper(d))
	if len(things) < 50 {
		t.Fatalf("only %d things to look for: the check looks at nothing", len(things))
	}
	squeezed := bare(output)
	for _, thing := range things {
		if !strings.Contains(squeezed, bare(thing)) {
			t.Errorf("%s doesn't show %q", form, thing)
		}
	}
}

// documents are the fixture and the sheets of the example jobs.
func documents(t testing.TB) map[string]Document {
	t.Helper()
	all := map[string]Document{"fixture": binderFixture(Letter), "proved": provedFixture(t)}
	for _, name := range []string{"engine-lathe", "tool-grinder", "drum-sander"} {
		all[name] = exampleDocument(t, name)
	}
	return all
}

func exampleDocument(t testing.TB, name string) Document {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "..", "examples", name+".job.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	made, known := exampleDocuments[name]
	if !known {
		t.Fatalf("no example %q", name)
	}
	return made(src)
}

// exampleDocuments are made once, with the proof: it takes a while.
var exampleDocuments = map[string]func([]byte) Document{
	"engine-lathe": madeOnce("engine-lathe"), "tool-grinder": madeOnce("tool-grinder"), "drum-sander": madeOnce("drum-sander"),
}

func madeOnce(name string) func([]byte) Document {
	var once sync.Once
	var d Document
	return func(src []byte) Document {
		once.Do(func() {
			p := plan.Make(job.Read(name+".job.yaml", src))
			p.Prove()
			p.Arrange(box.Options{Quick: true})
			d = Build(p, Options{Version: "0", Date: "2026-11-25"})
		})
		return d
	}
}

func writtenPDF(t testing.TB, d Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WritePDF(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func writtenText(t testing.TB, d Document, width int, colour bool) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteText(&b, d, width, colour); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func writtenJSON(t testing.TB, d Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJSON(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestAllFormsShowTheSame(t *testing.T) {
	for name, d := range documents(t) {
		t.Run(name, func(t *testing.T) {
			checkShows(t, "the text", writtenText(t, d, 20000, false), d)

			var anything any
			if err := json.Unmarshal(writtenJSON(t, d), &anything); err != nil {
				t.Fatal(err)
			}
			checkShows(t, "the JSON", strings.Join(stringsOf(anything), "\n"), d)

			var page bytes.Buffer
			if err := WriteHTML(&page, d); err != nil {
				t.Fatal(err)
			}
			checkShows(t, "the HTML", withoutTags(page.String()), d)

			// -raw keeps the order in which the page was written, so that a cell's lines follow one another
			checkShows(t, "the PDF", pdftest.Run(t, writtenPDF(t, d), "pdftotext", "-raw", "FILE", "-"), d)
		})
	}
}

func stringsOf(anything any) []string {
	var all []string
	switch x := anything.(type) {
	case string:
		all = append(all, x)
	case []any:
		for _, e := range x {
			all = append(all, stringsOf(e)...)
		}
	case map[string]any:
		for _, e := range x {
			all = append(all, stringsOf(e)...)
		}
	}
	return all
}

// withoutTags returns what a page says: its text, and the values of its fields.
func withoutTags(page string) string {
	page = regexp.MustCompile(`(?s)<style.*?</style>|<script.*?</script>`).ReplaceAllString(page, "")
	page = regexp.MustCompile(`<[^>]*\bvalue="([^"]*)"[^>]*>`).ReplaceAllString(page, "$1")
	return html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, ""))
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.WriteFile(file, got, 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(got, want) {
		return
	}
	wantLines, gotLines := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	for n := range gotLines {
		if n >= len(wantLines) || gotLines[n] != wantLines[n] {
			t.Fatalf("%s: line %d is now\n%s\nrun with -update and read the diff", file, n+1, gotLines[n])
		}
	}
	t.Fatalf("%s: the end is missing", file)
}

func TestTextAndJSONAreAsBefore(t *testing.T) {
	d := binderFixture(A4)
	golden(t, "sheet.txt", []byte(writtenText(t, d, 80, false)))
	golden(t, "sheet-colour.txt", []byte(writtenText(t, d, 60, true)))
	golden(t, "sheet.json", writtenJSON(t, d))
}

func TestTextKeepsToItsWidth(t *testing.T) {
	for name, d := range documents(t) {
		for _, width := range []int{40, 60, 80, 132} {
			for n, line := range strings.Split(writtenText(t, d, width, true), "\n") {
				if got := count(plainText(line)); got > width {
					t.Errorf("%s at %d: line %d is %d wide: %s", name, width, n+1, got, line)
				}
			}
		}
	}
}

func TestPlainTextHasNoEscapes(t *testing.T) {
	d := binderFixture(A4)
	if strings.Contains(writtenText(t, d, 80, false), "\x1b") {
		t.Error("text without colour has escape sequences")
	}
	if got := plainText(writtenText(t, d, 80, true)); got != writtenText(t, d, 80, false) {
		t.Error("colour changes more than colours")
	}
}

// Every reason that a value or an input names stands among the reasons, and numbers are SI: 8 AWG is 8.37 mm² by ASTM B258,
// a temperature is in °C whatever the sheet prints.
func TestJSONReasonsAreWhole(t *testing.T) {
	for name, d := range documents(t) {
		var out jsonSheet
		if err := json.Unmarshal(writtenJSON(t, d), &out); err != nil {
			t.Fatal(err)
		}
		inputs := 0
		for key, r := range out.Reasons {
			for _, i := range r.Inputs {
				inputs++
				if _, ok := out.Reasons[i.Reason]; !ok {
					t.Errorf("%s: the reason %s rests on %q, which isn't there", name, key, i.Reason)
				}
			}
		}
		if len(out.Reasons) < 5 || inputs == 0 {
			t.Errorf("%s: only %d reasons with %d inputs", name, len(out.Reasons), inputs)
		}
		for _, s := range out.Sections {
			for _, b := range s.Blocks {
				for _, v := range b.Values {
					if _, ok := out.Reasons[v.Reason]; v.Reason != "" && !ok {
						t.Errorf("%s: the value %s names the reason %q, which isn't there", name, v.ID, v.Reason)
					}
				}
			}
		}
		if name != "fixture" {
			continue
		}
		if r := out.Reasons["branch-conductor"]; r.SI == nil || *r.SI < 8.36e-6 || *r.SI > 8.37e-6 || r.Unit != "m²" {
			t.Errorf("8 AWG is given as %v %s", r.SI, r.Unit)
		}
		if r := out.Reasons["warmest-shop-temperature"]; r.SI == nil || *r.SI != 40 || r.Unit != "°C" || r.Text != "104 °F" {
			t.Errorf("40 °C is given as %v %s, %s", r.SI, r.Unit, r.Text)
		}
		if r := out.Reasons["nameplate-current"]; !slices.Equal(r.SIList, []float64{13.2, 6.6}) || r.Unit != "A" {
			t.Errorf("13.2/6.6 A is given as %v %s", r.SIList, r.Unit)
		}
	}
}

func TestSameDocumentSameBytes(t *testing.T) {
	for name, d := range documents(t) {
		if !bytes.Equal(writtenPDF(t, d), writtenPDF(t, d)) {
			t.Errorf("%s: the PDF differs from run to run", name)
		}
		if !bytes.Equal(writtenJSON(t, d), writtenJSON(t, d)) {
			t.Errorf("%s: the JSON differs from run to run", name)
		}
	}
}

func TestAnEmptyDocumentIsWritten(t *testing.T) {
	for _, d := range []Document{{}, {Title: "x", Sections: []Section{{Title: "empty", Level: 1, Blocks: []Block{Values{}, Table{Chosen: -1}, Ticks{}, Numbered{}, Figure{}, Paragraph{}}}},
		Findings: []Finding{{Message: "", Severity: explain.Note}}}} {
		pdftest.Run(t, writtenPDF(t, d), "qpdf", "--check", "FILE")
		writtenText(t, d, 0, false)
		writtenJSON(t, d)
	}
}

func BenchmarkWritePDF(b *testing.B) {
	d := exampleDocument(b, "engine-lathe")
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := WritePDF(&out, d); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(out.Len())/1000, "kB")
}

func BenchmarkWriteText(b *testing.B) {
	d := exampleDocument(b, "engine-lathe")
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := WriteText(&out, d, 80, true); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteJSON(b *testing.B) {
	d := exampleDocument(b, "engine-lathe")
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := WriteJSON(&out, d); err != nil {
			b.Fatal(err)
		}
	}
}
