package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"drivewright/internal/output/pdf/pdftest"
)

// TestShortTicksStandBesideOneAnother: sixty short ticks take fewer pages, each of them once; with a reading to write they stand one beneath the
// other.
func TestShortTicksStandBesideOneAnother(t *testing.T) {
	pages := func(expect string) int {
		v := Ticks{Title: "Order"}
		for n := range 60 {
			v.Items = append(v.Items, Tick{Text: fmt.Sprintf("W1 core %d to TB1:%d", n, n), Expect: expect})
		}
		var b bytes.Buffer
		if err := WritePDF(&b, Document{Title: "Ticks", Paper: Letter, Sections: []Section{{ID: "a", Title: "A", Level: 1, Blocks: []Block{v}}}}); err != nil {
			t.Fatal(err)
		}
		text := pdftest.Run(t, b.Bytes(), "pdftotext", "-layout", "FILE", "-")
		for n := range v.Items {
			if count := strings.Count(text, fmt.Sprintf("TB1:%d ", n)) + strings.Count(text, fmt.Sprintf("TB1:%d\n", n)); count != 1 {
				t.Errorf("tick %d stands %d times, want once", n, count)
			}
		}
		return strings.Count(text, "\f")
	}
	if beside, beneath := pages(""), pages("0 V"); beside >= beneath {
		t.Errorf("short ticks take %d pages, with readings %d", beside, beneath)
	}
}
