package metalwork

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// sheetOf is a door of 300 × 400 mm with holes of every shape, from the job's own words and the plan's.
func sheetOf(t *testing.T, text string) Result {
	t.Helper()
	f := job.Read("test", []byte("drivewright: 1\n"+text))
	for _, p := range f.Problems {
		t.Fatalf("line %d: %s", p.Span.Line, p.Message.Show(quantity.MetricUnits))
	}
	mm := func(what string, x float64) explain.Known[quantity.Length] {
		return explain.Constant(what, quantity.Length(x/1000), explain.Source{})
	}
	b := Brief{Job: &f.Job, Set: explain.IEC, Sheets: []Sheet{{Name: "door", Width: mm("width", 300), Height: mm("height", 400), Thick: mm("thickness", 1.5)}, {Name: "plate", Width: mm("width", 250), Height: mm("height", 350), Thick: mm("thickness", 2)}},
		Holes: []Hole{{Sheet: 0, For: "S1, start", Shape: Notched, X: 0.1, Y: 0.3, Across: mm("hole", 22.3), Head: 0.03}, {Sheet: 0, For: "S2, stop", Shape: Notched, X: 0.15, Y: 0.3, Across: mm("hole", 22.3), Head: 0.04},
			{Sheet: 1, For: "U1", X: 0.02, Y: 0.03, Screw: "M5", Tapped: true}, {Sheet: 1, For: "U1", X: 0.138, Y: 0.03, Screw: "M5", Tapped: true}, {Sheet: 1, For: "rail", X: 0.2, Y: 0.3, Screw: "M5"}, {Sheet: 0, For: "readout", Shape: Square, X: 0.2, Y: 0.2, Width: mm("w", 68), Height: mm("h", 33)}}}
	return Mark(b)
}

// word is one word of a program: an address letter and its number.
type word struct {
	letter byte
	value  float64
}

// readProgram reads a drilling program by the word-address format of ISO 6983-1, 5 to 8: a block is a line; a word is a capital letter with a
// number; what stands in parentheses is for the operator (control out and in). It is the test's own reader and shares nothing with the writer.
func readProgram(t *testing.T, text string) [][]word {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) < 3 || lines[0] != "%" || lines[len(lines)-1] != "%" {
		t.Fatalf("a program begins and ends with %%: %q … %q", lines[0], lines[len(lines)-1])
	}
	var blocks [][]word
	for n, l := range lines[1 : len(lines)-1] {
		var block []word
		for i := 0; i < len(l); {
			switch c := l[i]; {
			case c == ' ':
				i++
			case c == '(':
				end := strings.IndexByte(l[i:], ')')
				if end < 0 || strings.Contains(l[i+1:i+end], "(") {
					t.Fatalf("line %d: parentheses don't match: %q", n+2, l)
				}
				i += end + 1
			case c >= 'A' && c <= 'Z':
				k := i + 1
				for k < len(l) && (l[k] == '-' || l[k] == '+' || l[k] == '.' || l[k] >= '0' && l[k] <= '9') {
					k++
				}
				v, err := strconv.ParseFloat(l[i+1:k], 64)
				if err != nil {
					t.Fatalf("line %d: %q is no number in %q", n+2, l[i+1:k], l)
				}
				block = append(block, word{c, v})
				i = k
			default:
				t.Fatalf("line %d: %q may not stand in a block: %q", n+2, c, l)
			}
		}
		if len(block) > 0 {
			blocks = append(blocks, block)
		}
	}
	return blocks
}

// drilled plays a program: where holes come, how deep, with which tool; and that the tool is never moved sideways in the work.
func drilled(t *testing.T, blocks [][]word) (holes []string) {
	t.Helper()
	unit, cycle, tool, z, spins := 0.0, false, 0, math.Inf(1), false
	var depth, from float64
	for _, b := range blocks {
		x, y, moves, change := math.NaN(), math.NaN(), false, false
		for _, w := range b {
			switch w.letter {
			case 'G':
				switch w.value {
				case 20:
					unit = 25.4
				case 21:
					unit = 1
				case 81:
					cycle = true
				case 80:
					cycle = false
				case 0, 17, 40, 90, 94, 98:
				default:
					t.Fatalf("G%g isn't expected", w.value)
				}
			case 'M':
				switch w.value {
				case 6:
					change = true
				case 3:
					spins = true
				case 5:
					spins = false
				case 30:
				default:
					t.Fatalf("M%g isn't expected", w.value)
				}
			case 'T':
				tool = int(w.value)
			case 'X':
				x, moves = w.value, true
			case 'Y':
				y = w.value
			case 'Z':
				if cycle {
					depth = w.value * unit
				} else {
					z = w.value * unit
				}
			case 'R':
				from = w.value * unit
			case 'S', 'F':
				if w.value <= 0 {
					t.Errorf("%c%g", w.letter, w.value)
				}
			}
		}
		if change && spins {
			t.Error("the tool is changed while it turns")
		}
		if moves {
			if !cycle || !spins || unit == 0 || z < 5 || from < 1 || from > z || depth > -1.5 {
				t.Fatalf("a hole at %g %g with cycle %v, spindle %v, unit %g, safe height %g, feeding from %g to %g", x, y, cycle, spins, unit, z, from, depth)
			}
			holes = append(holes, fmt.Sprintf("T%d %.1f %.1f", tool, x*unit, y*unit))
		}
	}
	return holes
}

func TestProgramDrillsTheHoles(t *testing.T) {
	r := sheetOf(t, "own holes:\n  - name: eye\n    face: door\n    x: 20 mm\n    y: 20 mm\n    diameter: 6.5 mm\n")
	got := drilled(t, readProgram(t, r.Program(r.Sheets[0], DrillingOf(r.Brief.Job))))
	want := []string{"T1 100.0 300.0", "T1 150.0 300.0", "T2 20.0 20.0"}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the door is drilled at %v, want %v", got, want)
	}
	got = drilled(t, readProgram(t, r.Program(r.Sheets[1], DrillingOf(r.Brief.Job))))
	if want := []string{"T1 20.0 30.0", "T1 138.0 30.0", "T2 200.0 300.0"}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the plate is drilled at %v, want %v", got, want)
	}
}

// The same door from its inside, in inches, from the lower right: left and right are changed, and the origin is at the drawn lower right.
func TestProgramFromTheInside(t *testing.T) {
	r := sheetOf(t, "marking out:\n  view: inside\n  datum: lower right\n  drills: inch drills\n  clear height: 1 in\n  spindle: 900 rpm\n  feed: 3 in/min\n")
	text := r.Program(r.Sheets[0], DrillingOf(r.Brief.Job))
	got := drilled(t, readProgram(t, text))
	// outside x = 100 mm is 200 mm from the right edge; seen from inside the right edge is the left one, and the drawn lower right is outside x = 0
	if want := []string{"T1 -100.0 300.0", "T1 -150.0 300.0"}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v\n%s", got, want, text)
	}
	for _, want := range []string{"G20", "S900 M3", "F3.", "Z1."} {
		if !strings.Contains(text, want) {
			t.Errorf("the program lacks %s:\n%s", want, text)
		}
	}
}
