package pdf_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"drivewright/internal/output/pdf"
	"drivewright/internal/output/pdf/pdftest"
	"drivewright/internal/output/typeface"
)

// sample is a document of two pages with a bit of everything.
func sample(t testing.TB) []byte {
	t.Helper()
	d := pdf.New(pdf.Info{Title: "Säge (5 hp)", Author: "a shop", Language: "en-US", Date: "2026-11-25", Producer: "drivewright"})
	to := &pdf.Place{}
	table := (*pdf.Element)(nil)
	for n := range 2 {
		p := d.Page(210, 297)
		h := d.Root().Add("H1")
		p.Begin(h)
		p.Text(20, 30, typeface.Semibold, 6, pdf.Grey(0), fmt.Sprintf("Page heading %d", n+1))
		p.Begin(d.Root().Add("P"))
		p.Text(20, 40, typeface.Regular, 4, pdf.Grey(0), "75 °C, 10 Ω, 2.5 mm², 3 µA, ½ in, 1 ≥ 2 × √3 → é")
		p.Text(20, 50, typeface.Italic, 4, pdf.Grey(0), "slanted words")
		p.Text(20, 60, typeface.Mono, 4, pdf.Grey(0), "supply.breaker")
		if table == nil {
			table = d.Root().Add("Table")
		}
		row := table.Add("TR")
		p.Begin(row.Add("TD"))
		p.Text(20, 70, typeface.Regular, 4, pdf.Grey(0), fmt.Sprintf("cell %d", n+1))
		p.Begin(d.Root().Add("Figure").Alternative("a bar of 100 mm"))
		p.Rectangle(50, 100, 100, 2, pdf.Grey(0))
		p.Arc(pdf.Stroke{Width: 0.3}, pdf.Spot{X: 100, Y: 150}, 20, 0, 0)
		p.Begin(nil)
		p.TurnedText(10, 200, typeface.Regular, 3, pdf.Grey(0.4), "running head")
		p.Link(20, 20, 30, 10, to)
		d.Bookmark(n+1, fmt.Sprintf("Ωutline %d", n+1), func() *pdf.Place { l := &pdf.Place{}; l.Set(p, 30); return l }())
		to.Set(p, 100)
	}
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestTheSameCallsGiveTheSameBytes(t *testing.T) {
	if !bytes.Equal(sample(t), sample(t)) {
		t.Error("two documents of the same calls differ")
	}
}

func TestAnOutsideToolFindsNothingWrong(t *testing.T) {
	if out := pdftest.Run(t, sample(t), "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
}

func TestTextComesOutAsItWentIn(t *testing.T) {
	out := pdftest.Run(t, sample(t), "pdftotext", "-layout", "FILE", "-")
	for _, want := range []string{"75 °C, 10 Ω, 2.5 mm², 3 µA, ½ in, 1 ≥ 2 × √3 → é", "slanted words", "supply.breaker", "Page heading 2"} {
		if !strings.Contains(out, want) {
			t.Errorf("pdftotext doesn't find %q in\n%s", want, out)
		}
	}
}

func TestFontsAreEmbeddedAndCut(t *testing.T) {
	out := pdftest.Run(t, sample(t), "pdffonts", "FILE")
	fonts := strings.Split(strings.TrimSpace(out), "\n")[2:]
	if len(fonts) != 4 {
		t.Errorf("want four fonts:\n%s", out)
	}
	for _, line := range fonts {
		if !strings.Contains(line, "yes yes yes") || !strings.Contains(line, "+Drivewright") {
			t.Errorf("not embedded, cut and with characters: %s", line)
		}
	}
}

// The marks of every page, not only of the first, must lead to their element in the structure tree.
func TestStructureReachesEveryPage(t *testing.T) {
	out := pdftest.Run(t, sample(t), "pdfinfo", "-struct-text", "FILE")
	for _, want := range []string{"Page heading 1", "Page heading 2", "cell 1", "cell 2", "Figure"} {
		if !strings.Contains(out, want) {
			t.Errorf("the structure tree doesn't hold %q:\n%s", want, out)
		}
	}
	if strings.Count(out, "Table") != 1 {
		t.Errorf("a table over two pages is one table:\n%s", out)
	}
	if strings.Contains(out, "running head") {
		t.Error("a running head is no content")
	}
	info := pdftest.Run(t, sample(t), "pdfinfo", "FILE")
	for _, want := range []string{"Tagged:          yes", "Säge (5 hp)", "(A4)", "Nov 25"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo doesn't say %q:\n%s", want, info)
		}
	}
}

func TestBookmarksNest(t *testing.T) {
	out := pdftest.Run(t, sample(t), "qpdf", "--json", "--json-key=outlines", "FILE")
	for _, want := range []string{"Ωutline 1", "Ωutline 2", `"kids"`} {
		if !strings.Contains(out, want) {
			t.Errorf("qpdf doesn't find %q in the outline:\n%s", want, out)
		}
	}
}

// Both pages link to a place 100 mm below the top of page 2: 197 mm above its foot, 558.425 points (1 pt = 1/72 in). A link
// whose place was never set is left out.
func TestLinksLeadWhereTheyWereTold(t *testing.T) {
	out := pdftest.Run(t, sample(t), "qpdf", "--qdf", "--object-streams=disable", "FILE", "-")
	if n := strings.Count(out, "/Subtype /Link"); n != 2 {
		t.Errorf("got %d links, want 2", n)
	}
	if n := strings.Count(out, "558.425"); n != 2 {
		t.Errorf("%d links lead 558.425 pt above the foot of the page, want 2", n)
	}
	d := pdf.New(pdf.Info{})
	d.Page(100, 100).Link(0, 0, 10, 10, &pdf.Place{})
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		t.Fatal(err)
	}
	if out := pdftest.Run(t, b.Bytes(), "qpdf", "--qdf", "--object-streams=disable", "FILE", "-"); strings.Contains(out, "/Subtype /Link") {
		t.Error("a link to nowhere was written")
	}
}

func BenchmarkWrite(b *testing.B) {
	for b.Loop() {
		sample(b)
	}
}
