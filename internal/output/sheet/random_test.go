package sheet

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
	"drivewright/internal/output/pdf/pdftest"
)

// randomDocument makes a document that nobody would write, from a seed.
func randomDocument(seed uint64) Document {
	r := rand.New(rand.NewPCG(seed, 1))
	pieces := []string{"a", "wire", "240 V", "Ω", "½", "\x1b[31m", "\x00", "\n", "\u202e", "🔧", "é", "e\u0301", "-", "/", "very-long-word-with-hyphens", strings.Repeat("x", 70), "%", "(", ")", "\\", "<b>", "&", "\"", "\xff", "⏚", "☐", "10 AWG", " "}
	text := func(most int) string {
		var b strings.Builder
		for range r.IntN(most + 1) {
			b.WriteString(pieces[r.IntN(len(pieces))])
			if r.IntN(3) > 0 {
				b.WriteByte(' ')
			}
		}
		return b.String()
	}
	severity := func() explain.Severity { return explain.Severity(r.IntN(5)) }
	d := Document{Title: text(8), Subtitle: text(5), File: text(3), Paper: []Paper{A4, Letter, ""}[r.IntN(3)], Date: []string{"2026-11-25", "", "soon"}[r.IntN(3)],
		Verdict: Verdict{severity(), text(6), text(30)}}
	for range r.IntN(8) {
		d.Findings = append(d.Findings, Finding{Rule: text(1), Severity: severity(), Message: text(20), Remedy: text(20), Why: text(10), Source: text(4), Place: text(3), ValueID: text(1), Accepted: text(1)})
	}
	reasons := []*explain.Reason{nil, {Name: "given", Origin: explain.Given, Value: quantity.Text(text(3)), Typed: text(2)}}
	for n := range 8 {
		reasons = append(reasons, &explain.Reason{Name: text(3), Value: quantity.Current(r.Float64()*100 - 10), Origin: explain.Origin(r.IntN(6)), Words: "{x} × {" + text(1) + "}", Note: explain.Say(text(5)),
			Inputs: []explain.Input{{As: "x", Reason: reasons[r.IntN(n+2)]}}})
	}
	for range r.IntN(7) {
		s := Section{ID: text(1), Title: text(6), Level: r.IntN(5) - 1, Lead: text(20)}
		for range r.IntN(6) {
			switch r.IntN(7) {
			case 0:
				s.Blocks = append(s.Blocks, Paragraph{text(150)})
			case 1:
				s.Blocks = append(s.Blocks, Caution{severity(), text(40)})
			case 2:
				v := Values{Title: text(3), Unwritten: r.IntN(4) == 0}
				for range r.IntN(20) {
					v.Rows = append(v.Rows, Value{ID: text(1), Label: text(5), Text: text(4), Origin: explain.Origin(r.IntN(6)), Summary: text(12), Reason: reasons[r.IntN(len(reasons))], Findings: []int{r.IntN(20) - 5}})
				}
				s.Blocks = append(s.Blocks, v)
			case 3:
				t := Table{Title: text(3), Chosen: r.IntN(12) - 2, Note: text(5)}
				columns := r.IntN(9)
				for range columns {
					t.Head = append(t.Head, text(3))
					t.Numeric = append(t.Numeric, r.IntN(2) == 0)
				}
				for range r.IntN(60) {
					var row []string
					for range max(columns+r.IntN(3)-1, 0) {
						row = append(row, text(6))
					}
					t.Rows = append(t.Rows, row)
				}
				s.Blocks = append(s.Blocks, t)
			case 4:
				s.Blocks = append(s.Blocks, Figure{Figure: drawing.Figure{ID: text(1), Title: text(3), Alt: text(6), Width: r.Float64() * 300, Height: r.Float64() * 500, TrueScale: r.IntN(2) == 0,
					Items: []drawing.Item{drawing.Words{At: drawing.Point{X: 10, Y: 10}, Text: text(3), Size: 3}}}})
			case 5:
				n := Numbered{Title: text(3)}
				for range r.IntN(8) {
					n.Items = append(n.Items, text(60))
				}
				s.Blocks = append(s.Blocks, n)
			case 6:
				t := Ticks{Title: text(3)}
				for range r.IntN(20) {
					t.Items = append(t.Items, Tick{text(20), text(4)})
				}
				s.Blocks = append(s.Blocks, t)
			}
		}
		d.Sections = append(d.Sections, s)
	}
	return d
}

// Whatever a document holds, each form comes out whole: text within its width and without steering the terminal, JSON that
// reads back, a PDF that an outside tool finds sound, the same bytes twice.
func TestAnyDocumentIsWrittenSoundly(t *testing.T) {
	for seed := range uint64(40) {
		d := randomDocument(seed)
		for _, width := range []int{40, 80} {
			for n, line := range strings.Split(strings.TrimSuffix(writtenText(t, d, width, false), "\n"), "\n") {
				if count(line) > width {
					t.Errorf("seed %d: line %d is %d wide, more than %d: %q", seed, n+1, count(line), width, line)
				}
				if strings.IndexFunc(line, steers) >= 0 {
					t.Errorf("seed %d: line %d steers the terminal: %q", seed, n+1, line)
				}
			}
		}
		var back jsonSheet
		if err := json.Unmarshal(writtenJSON(t, d), &back); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		if len(back.Findings) != len(d.Findings) || len(back.Sections) != len(d.Sections) {
			t.Errorf("seed %d: %d findings and %d sections became %d and %d", seed, len(d.Findings), len(d.Sections), len(back.Findings), len(back.Sections))
		}
		once := writtenPDF(t, randomDocument(seed))
		if !bytes.Equal(once, writtenPDF(t, d)) {
			t.Errorf("seed %d: the PDF differs from run to run", seed)
		}
		if out := pdftest.Run(t, once, "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors") {
			t.Errorf("seed %d: %s", seed, out)
		}
	}
}
