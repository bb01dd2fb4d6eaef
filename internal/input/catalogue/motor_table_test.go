package catalogue

import (
	"math"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// TestMotorTablesAreWhole: every row and column of the printed tables is there, larger motors take more current, and columns lie
// in inverse proportion to their voltages as far as the printed rounding goes.
func TestMotorTablesAreWhole(t *testing.T) {
	for _, c := range []struct {
		name    string
		columns []currentColumn
		rows    []int // per column
		trust   explain.Trust
	}{
		{"Table 430.250", threePhaseCurrents(), []int{5, 21, 21, 21, 21, 21}, explain.Published},
		{"Table 430.248", singlePhaseCurrents(), []int{12, 12, 12, 12}, explain.Published},
		{"Annex G", iecCurrents(), []int{24, 24, 24, 24}, explain.FromMemory},
	} {
		if len(c.columns) != len(c.rows) {
			t.Fatalf("%s: %d columns, want %d", c.name, len(c.columns), len(c.rows))
		}
		for n, column := range c.columns {
			if len(column.rows) != c.rows[n] {
				t.Errorf("%s, %v V: %d rows, want %d", c.name, column.voltage, len(column.rows), c.rows[n])
			}
			for k, row := range column.rows {
				if row.Source.Trust != c.trust {
					t.Errorf("%s: %s is marked %q", c.name, row.Name, row.Source.Trust)
				}
				if k > 0 && (row.Current <= column.rows[k-1].Current || row.Power <= column.rows[k-1].Power) {
					t.Errorf("%s, %v V: %s takes no more than the row above", c.name, column.voltage, row.Name)
				}
			}
		}
	}
	for _, high := range threePhaseCurrents()[4].rows { // 460 V against 230 V
		low, exact, err := ThreePhaseCurrent(high.Power, 230)
		if err != nil || !exact || math.Abs(float64(low.Current/high.Current)-2) > 0.05 {
			t.Errorf("%s: %v A at 230 V and %v A at 460 V (%v), want a ratio of 2", high.Name, low.Current, high.Current, err)
		}
	}
}

// TestBetweenRowsAndColumns: a power between rows takes the next larger, a voltage that no column serves another column's
// figure and says so, and beyond the table there is an error.
func TestBetweenRowsAndColumns(t *testing.T) {
	row, exact, err := ThreePhaseCurrent(4*quantity.Horsepower, 230)
	if err != nil || !exact || row.Name != "5 hp" {
		t.Errorf("4 hp: got %s, %v, %v, want the row of 5 hp", row.Name, exact, err)
	}
	if row, _, _ = ThreePhaseCurrent(0.1*quantity.Horsepower, 230); row.Name != "1/2 hp" {
		t.Errorf("0.1 hp: got %s, want the smallest row", row.Name)
	}
	if row, exact, _ = ThreePhaseCurrent(5*quantity.Horsepower, 400); exact || row.Column != 230 {
		t.Errorf("400 V: got the %v V column, exact %v, want the 230 V column, not exact", row.Column, exact)
	}
	if _, _, err = ThreePhaseCurrent(250*quantity.Horsepower, 460); err == nil {
		t.Error("250 hp: got a figure, want an error that says where the table ends")
	}
	if _, _, err = ThreePhaseCurrent(5*quantity.Horsepower, 115); err == nil {
		t.Error("5 hp at 115 V: got a figure, want an error: the column ends at 2 hp")
	}
}

// TestCodeLettersFollowOneAnother: each letter begins where the one before ended, and the letters that look like figures aren't used.
func TestCodeLettersFollowOneAnother(t *testing.T) {
	list := codeLetters()
	if len(list) != 19 {
		t.Fatalf("%d code letters, want 19", len(list))
	}
	for n := 1; n < len(list); n++ {
		gap := float64(list[n].Least-list[n-1].Most) / perHorsepower
		if math.Abs(gap-0.01) > 1e-9 {
			t.Errorf("%s ends and %s begins %.3f kVA/hp apart, want 0.01", list[n-1].Letter, list[n].Letter, gap)
		}
	}
	if !math.IsInf(float64(list[18].Most), 1) {
		t.Error("the last letter has an upper end")
	}
	for _, letter := range []string{"I", "O", "Q", "", "g"} {
		if _, ok := FindCodeLetter(letter); ok {
			t.Errorf("%q was taken for a code letter", letter)
		}
	}
}

// TestLockedRotorLimitIsACodeLetter: two tables of two publications must agree: a standard motor's largest locked-rotor current
// lies within the letters that such motors carry, L for 1 hp down to G for 15 hp and more.
func TestLockedRotorLimitIsACodeLetter(t *testing.T) {
	for _, c := range []struct {
		hp     float64
		letter string
	}{{1, "N"}, {1.5, "M"}, {2, "L"}, {3, "K"}, {5, "J"}, {7.5, "H"}, {10, "H"}, {15, "G"}, {20, "G"}, {50, "G"}} {
		p := quantity.ShaftPower(c.hp) * quantity.Horsepower
		i, _, err := LockedRotorLimit(p, 230)
		if err != nil {
			t.Fatal(err)
		}
		kVA := math.Sqrt(3) * 230 * float64(i) / 1000 / c.hp
		l, _ := FindCodeLetter(c.letter)
		if least, most := float64(l.Least)/perHorsepower, float64(l.Most)/perHorsepower; kVA < least-0.01 || kVA > most+0.01 {
			t.Errorf("%v hp: %.2f kVA/hp at the limit, outside letter %s (%.2f to %.2f)", c.hp, kVA, c.letter, least, most)
		}
	}
	at400, _, err := LockedRotorLimit(5*quantity.Horsepower, 400)
	if err != nil || math.Abs(float64(at400)-92*230/400.0) > 0.01 {
		t.Errorf("5 hp at 400 V: got %v A, %v, want 52.9 A", at400, err)
	}
	if _, _, err := LockedRotorLimit(60*quantity.Horsepower, 460); err == nil {
		t.Error("60 hp: got a figure, want an error that says where the table ends")
	}
}

// TestAlternativesGrow: among typical converters, motors and transformers a larger one never costs or loses less.
func TestAlternativesGrow(t *testing.T) {
	rotary := RotaryConverters()
	for n := 1; n < len(rotary); n++ {
		a, b := rotary[n-1], rotary[n]
		if b.Power <= a.Power || b.Input <= a.Input || b.Idle <= a.Idle || b.Price <= a.Price || b.Hard > b.Light {
			t.Errorf("rotary converter of %s isn't larger than the one before in all", b.Source.Place)
		}
	}
	for n, list := 1, SinglePhaseMotors(); n < len(list); n++ {
		if list[n].Power <= list[n-1].Power || list[n].Price < list[n-1].Price || list[n].Efficiency < list[n-1].Efficiency {
			t.Errorf("single-phase motor of %s isn't larger than the one before in all", list[n].Source.Place)
		}
	}
	for n, list := 1, StepUpTransformers(); n < len(list); n++ {
		if list[n].Rating <= list[n-1].Rating || list[n].Price <= list[n-1].Price || list[n].Losses <= list[n-1].Losses {
			t.Errorf("transformer of %s isn't larger than the one before in all", list[n].Source.Place)
		}
	}
	for n, list := 1, StaticConverters(); n < len(list); n++ {
		if list[n].Power <= list[n-1].Power || list[n].Price <= list[n-1].Price {
			t.Errorf("static converter of %s isn't larger than the one before in all", list[n].Source.Place)
		}
	}
	if len(rotary) != 8 || len(SinglePhaseMotors()) != 11 || len(StepUpTransformers()) != 11 || len(StaticConverters()) != 5 {
		t.Error("a data file lost rows")
	}
}
