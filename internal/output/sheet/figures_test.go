package sheet

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestAFigureStaysWithItsUnit(t *testing.T) {
	got := figureWords("a device of 70 A, with 4 AWG (36 °F) and 2.5 mm² at ½ in: 3 hp. A wire of 12 A wires")
	want := []string{"a", "device", "of", "70 A,", "with", "4 AWG", "(36 °F)", "and", "2.5 mm²", "at", "½ in:", "3 hp.", "A", "wire", "of", "12 A", "wires"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
