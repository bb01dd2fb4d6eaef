package sheet

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/pdf/pdftest"
)

func TestPDFPassesAnOutsideCheck(t *testing.T) {
	for name, d := range documents(t) {
		if out := pdftest.Run(t, writtenPDF(t, d), "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors") {
			t.Errorf("%s: %s", name, out)
		}
	}
}

// Sizes: ISO 216 for A4; ANSI/ASME Y14.1 for Letter, 8.5 in × 11 in = 612 × 792 points.
func TestPDFIsOnThePaperAskedFor(t *testing.T) {
	for paper, want := range map[Paper]string{A4: "595.276 x 841.89 pts (A4)", Letter: "612 x 792 pts (letter)"} {
		info := pdftest.Run(t, writtenPDF(t, binderFixture(paper)), "pdfinfo", "FILE")
		for _, say := range []string{want, "Tagged:          yes", "Engine lathe, 13 in × 40 in", "Nov 25 00:00:00 2026"} {
			if !strings.Contains(info, say) {
				t.Errorf("%s: pdfinfo doesn't say %q:\n%s", paper, say, info)
			}
		}
	}
}

func TestPDFFontsAreAllEmbedded(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(pdftest.Run(t, writtenPDF(t, binderFixture(A4)), "pdffonts", "FILE")), "\n")
	if len(lines) != 2+4 {
		t.Fatalf("want four fonts, got\n%s", strings.Join(lines, "\n"))
	}
	for _, line := range lines[2:] {
		if !regexp.MustCompile(`^[A-Z]{6}\+Drivewright\S+\s+CID TrueType\s+Identity-H\s+yes yes yes`).MatchString(line) {
			t.Errorf("not an embedded, cut font with characters: %s", line)
		}
	}
}

// pageTexts returns the text of each page, in the order in which it was written.
func pageTexts(t *testing.T, pdf []byte) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(pdftest.Run(t, pdf, "pdftotext", "-raw", "FILE", "-"), "\f"), "\f")
}

func TestTheHeadOfATableIsRepeated(t *testing.T) {
	pages := pageTexts(t, writtenPDF(t, binderFixture(A4)))
	with := 0
	for n, text := range pages {
		rows := len(regexp.MustCompile(`(?m)^step \d+`).FindAllString(text, -1))
		if rows == 0 {
			continue
		}
		with++
		if rows == 1 {
			t.Errorf("page %d has a single row of the table", n+1)
		}
		if !strings.Contains(bare(text), bare("share of plate speed")) {
			t.Errorf("page %d has %d rows without the head of their table", n+1, rows)
		}
	}
	if with < 2 {
		t.Errorf("the table of 80 rows stands on %d pages: nothing was tested", with)
	}
}

func TestEveryPageIsNumbered(t *testing.T) {
	pages := pageTexts(t, writtenPDF(t, binderFixture(Letter)))
	for n, text := range pages {
		if want := fmt.Sprintf("Page %d of %d", n+1, len(pages)); !strings.Contains(text, want) {
			t.Errorf("page %d doesn't say %q", n+1, want)
		}
		if n > 0 && !strings.Contains(text, "Engine lathe, 13 in × 40 in") {
			t.Errorf("page %d has no running head", n+1)
		}
	}
}

// A heading is followed by something on its own page.
func TestNoHeadingStandsAlone(t *testing.T) {
	for name, d := range documents(t) {
		titles := map[string]bool{}
		for _, s := range d.Sections {
			titles[s.Title] = true
		}
		for n, text := range pageTexts(t, writtenPDF(t, d)) {
			lines := strings.Split(strings.TrimSpace(text), "\n")
			// the last lines are foot and head of the page, which are drawn at the end
			for m, line := range lines {
				if n > 0 && titles[line] && m+1 < len(lines) && strings.Contains(lines[m+1], "Local codes and a licensed") {
					t.Errorf("%s: the heading %q is the last thing on page %d", name, line, n+1)
				}
			}
		}
	}
}

func TestBookmarksLeadToTheSections(t *testing.T) {
	d := binderFixture(A4)
	out := pdftest.Run(t, writtenPDF(t, d), "qpdf", "--json", "--json-key=outlines", "FILE")
	for _, s := range d.Sections {
		if !strings.Contains(out, strconv.Quote(s.Title)) {
			t.Errorf("no bookmark for %q", s.Title)
		}
	}
	for _, want := range []string{`"What was found"`, `"Why each number"`} {
		if !strings.Contains(out, want) {
			t.Errorf("no bookmark %s", want)
		}
	}
}

// The structure tells headings, tables, lists and figures to those who can't see the page, on every page.
func TestPDFIsTaggedThroughout(t *testing.T) {
	d := binderFixture(A4)
	out := pdftest.Run(t, writtenPDF(t, d), "pdfinfo", "-struct-text", "FILE")
	for _, want := range []string{"H1", "H2", "H3", "Table", "TH", "TD", "LBody", "Figure", "step 80", "Why each number", "least branch ampacity"} {
		if !strings.Contains(out, want) {
			t.Errorf("the structure has no %q", want)
		}
	}
	if strings.Contains(out, "Page 2 of") {
		t.Error("page numbers are no content")
	}
	if n := strings.Count(out, "share of plate speed"); n != 1 {
		t.Errorf("the repeated head is read out %d times", n)
	}
}

// The check bar is measured on the page as another program draws it, at 300 dots to the inch: 100 mm within a dot at each end.
func TestAFigureAtTrueScaleIsTrue(t *testing.T) {
	for _, paper := range []Paper{A4, Letter} {
		binder := writtenPDF(t, binderFixture(paper))
		page := 0
		for n, text := range pageTexts(t, binder) {
			if strings.Contains(text, "100 mm") && strings.Contains(text, "Check bar") {
				page = n + 1
			}
		}
		if page == 0 {
			t.Fatal("no page with the check bar")
		}
		folder := t.TempDir()
		number := strconv.Itoa(page)
		pdftest.Run(t, binder, "pdftoppm", "-r", "300", "-gray", "-f", number, "-l", number, "-singlefile", "FILE", filepath.Join(folder, "page"))
		image, err := os.ReadFile(filepath.Join(folder, "page.pgm"))
		if err != nil {
			t.Fatal(err)
		}
		longest := longestDarkRun(t, image, 18) // the bar is 2 mm thick, 23 dots; rules and frames are thinner
		if got := float64(longest) * 25.4 / 300; got < 99.9 || got > 100.1 {
			t.Errorf("%s: the bar of 100 mm measures %.2f mm", paper, got)
		}
	}
}

// longestDarkRun returns the longest run of dark dots in the rows of a picture (PGM, P5) that repeats in as many rows as asked.
func longestDarkRun(t *testing.T, image []byte, rows int) int {
	t.Helper()
	var width, height, most int
	if _, err := fmt.Fscanf(bytes.NewReader(image), "P5\n%d %d\n%d\n", &width, &height, &most); err != nil {
		t.Fatal(err)
	}
	dots := image[len(image)-width*height:]
	longest, repeated, last := 0, 0, 0
	for y := range height {
		run, best := 0, 0
		for x := range width {
			if dots[y*width+x] < 128 {
				run++
				best = max(best, run)
			} else {
				run = 0
			}
		}
		if best == last {
			repeated++
		} else {
			repeated, last = 1, best
		}
		if repeated >= rows {
			longest = max(longest, best)
		}
	}
	return longest
}

var bboxWord = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>`)

// Where each word stands, as another program reads the page: all within the margins, none upon another.
func TestNoWordLeavesThePageOrLiesOnAnother(t *testing.T) {
	type word struct {
		left, top, right, bottom float64
		text                     string
	}
	all := documents(t)
	crowded := binderFixture(A4)
	crowded.Title = strings.Repeat("A very long name of a machine ", 6)
	crowded.Findings[0].Place = strings.Repeat("a/very/long/folder/", 12) + "job.yaml:1:1"
	crowded.Sections[0].Blocks = append(crowded.Sections[0].Blocks,
		Values{Title: strings.Repeat("long title ", 20), Rows: []Value{{ID: "x", Label: strings.Repeat("unbrokenlabel", 6), Text: strings.Repeat("9", 80), Summary: strings.Repeat("w", 120)}}},
		Table{Chosen: 0, Numeric: []bool{true, false, true}, Head: []string{strings.Repeat("head", 12), "b", "c"},
			Rows: [][]string{{strings.Repeat("1", 60), strings.Repeat("word ", 500), strings.Repeat("2", 60)}, {"a"}, {"", "", "", "a column too many"}}},
		Ticks{Items: []Tick{{Text: strings.Repeat("tick ", 60), Expect: strings.Repeat("expected ", 30)}}}, Numbered{Items: []string{strings.Repeat("item ", 900)}})
	all["crowded"] = crowded
	// Whatever is higher than a page goes on upon the next.
	long := strings.Repeat("tall tale ", 1000)
	tall := binderFixture(A4)
	tall.Verdict = Verdict{Severity: explain.Must, Headline: long, Detail: long}
	tall.Findings = append(tall.Findings, Finding{Rule: "tall", Message: long, Remedy: long})
	tall.Sections = append(tall.Sections, Section{Title: long, Level: 2, Lead: long, Blocks: []Block{Caution{Severity: explain.Danger, Text: long},
		Values{Title: "tall rows", Rows: []Value{{ID: "tall", Label: long, Text: long, Summary: long}, {ID: "short", Label: "short", Text: "1"}}},
		Values{Rows: []Value{{Label: "a", Text: long}, {Label: "b", Text: "1"}, {Label: "c", Text: "1"}, {Label: "d", Text: "1"}}},
		Table{Chosen: -1, Head: []string{long, "b"}, Rows: [][]string{{long, long}}, Note: long}, Ticks{Items: []Tick{{Text: long, Expect: long}}}}})
	all["tall"] = tall
	for name, d := range all {
		for _, paper := range []Paper{A4, Letter} {
			d.Paper = paper
			for n, page := range strings.Split(pdftest.Run(t, writtenPDF(t, d), "pdftotext", "-bbox", "FILE", "-"), "<page ")[1:] {
				var size, height float64
				if _, err := fmt.Sscanf(page, `width="%f" height="%f"`, &size, &height); err != nil {
					t.Fatal(err)
				}
				var words []word
				for _, m := range bboxWord.FindAllStringSubmatch(page, -1) {
					var w word
					for k, to := range []*float64{&w.left, &w.top, &w.right, &w.bottom} {
						*to, _ = strconv.ParseFloat(m[k+1], 64)
					}
					w.text = m[5]
					// the band between the feet and the tops of small letters
					middle := (w.top + w.bottom) / 2
					w.top, w.bottom = middle-(w.bottom-w.top)*0.2, middle+(w.bottom-w.top)*0.2
					words = append(words, w)
				}
				left, right := leftMargin, rightMargin
				if strings.Contains(page, ">lay</word>") && strings.Contains(page, ">Template</word>") { // a template takes its page nearly to the edge
					left, right = pageEdge, pageEdge-6 // laid out for the job's own paper
				}
				for k, w := range words {
					if w.left < left*72/25.4-1 || w.right > size-right*72/25.4+1.5 || w.top < 20 || w.bottom > height-20 {
						t.Errorf("%s on %s, page %d: %q at %.0f to %.0f leaves the margins", name, paper, n+1, w.text, w.left, w.right)
					}
					for _, v := range words[k+1:] {
						if w.left+0.3 < v.right && v.left+0.3 < w.right && w.top < v.bottom && v.top < w.bottom {
							t.Errorf("%s on %s, page %d: %q lies on %q", name, paper, n+1, w.text, v.text)
						}
					}
				}
				if len(words) < 4 {
					t.Errorf("%s on %s, page %d has only %d words", name, paper, n+1, len(words))
				}
			}
		}
	}
}
