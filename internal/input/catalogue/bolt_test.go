package catalogue

import (
	"math"
	"testing"
)

// TestBoltTablesRead reads both files and holds them to points of the standards: class 8.8 has a proof stress of 580 MPa up to M16 (ISO 898-1),
// grade 5 one of 85 ksi up to 1 in (SAE J429; used in Wentzell, Machine Design, example 6.1); cast iron wants 1.25 diameters of thread, aluminium 2.
func TestBoltTablesRead(t *testing.T) {
	for name, text := range map[string]string{"bolt_grade": boltGradeFile, "thread_engagement": threadEngagementFile} {
		if _, err := readTable(text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for grade, want := range map[string]float64{"8.8": 580e6, "10.9": 830e6, "grade 5": 85e3 * 6894.757, "grade 2": 55e3 * 6894.757, "grade 8": 120e3 * 6894.757} {
		g, ok := BoltGradeOf(grade)
		if !ok || math.Abs(float64(g.Proof)-want) > 0.5e6 {
			t.Errorf("%s: %v, want %v Pa", grade, g.Proof, want)
		}
		if g.Tensile <= g.Proof {
			t.Errorf("%s: the tensile strength isn't above the proof stress", grade)
		}
	}
	for metal, want := range map[string]float64{"cast iron": 1.25, "steel": 1, "aluminium": 2} {
		if e, ok := ThreadEngagementIn(metal); !ok || float64(e.Least) != want || e.Good < e.Least || e.Shear <= 0 || e.Edge < 1 {
			t.Errorf("%s: %+v", metal, e)
		}
	}
	if _, ok := ThreadEngagementIn("wood"); ok {
		t.Error("a thread is cut in wood")
	}
}
