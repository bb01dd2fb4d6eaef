package sheet

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"drivewright/internal/output/pdf/pdftest"
)

// TestLabelsAreTrueToSize measures the check bar of each page of labels as another program draws it, at 300 dots to the inch: 100 mm
// within a dot at each end. Whoever cuts the labels out measures the same bar.
func TestLabelsAreTrueToSize(t *testing.T) {
	for _, name := range []string{"drum-sander", "tool-grinder"} {
		binder := writtenPDF(t, exampleDocument(t, name))
		measured := 0
		for n, text := range pageTexts(t, binder) {
			if !strings.Contains(text, "100 mm exactly") {
				continue
			}
			measured++
			folder := t.TempDir()
			page := strconv.Itoa(n + 1)
			pdftest.Run(t, binder, "pdftoppm", "-r", "300", "-gray", "-f", page, "-l", page, "-singlefile", "FILE", filepath.Join(folder, "page"))
			image, err := os.ReadFile(filepath.Join(folder, "page.pgm"))
			if err != nil {
				t.Fatal(err)
			}
			longest := longestDarkRun(t, image, 30) // the bar is 3 mm thick, 35 dots; nothing else on the page is
			if got := float64(longest) * 25.4 / 300; got < 99.9 || got > 100.1 {
				t.Errorf("%s, page %s: the bar of 100 mm measures %.2f mm", name, page, got)
			}
		}
		if measured == 0 {
			t.Errorf("%s: no page of labels", name)
		}
	}
}
