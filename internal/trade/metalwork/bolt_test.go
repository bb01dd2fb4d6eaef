package metalwork

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

func hung(t *testing.T, bolts ...string) BoltResult {
	t.Helper()
	text := "mounting: {weight: 16 kg, overhang: 125 mm, shake: 3, lean: 220 N, into: cast iron, metal there: 25 mm}\n"
	if len(bolts) > 0 {
		text += "bolts:\n  - " + strings.Join(bolts, "\n  - ") + "\n"
	}
	size := func(name string, v quantity.Length) explain.Known[quantity.Length] {
		return explain.Constant(name, v, explain.Physics("of the test"))
	}
	return Bolted(read(t, text), explain.IEC, Carried{Width: size("box width", 0.3), Height: size("box height", 0.4), Depth: size("box depth", 0.25)})
}

func m8(name string, x, y float64) string {
	return fmt.Sprintf("{name: %s, size: M8, grade: 8.8, x: %g mm, y: %g mm, thread in the metal: 14 mm, from edge: 30 mm}", name, x, y)
}

// TestBoltsInEquilibrium: the shears add up to the load, their moments to its moment; the pulls' moments about the lower edge to the tipping
// moment and the push's own share (statics, from nothing of the code's formulas).
func TestBoltsInEquilibrium(t *testing.T) {
	r := hung(t, m8("A", 60, 60), m8("B", 240, 60), m8("C", 60, 320), m8("D", 240, 320))
	load := 16 * 9.80665 * 3
	if math.Abs(float64(r.Load.Value)-load) > 1e-9 || !r.Enough || r.Offset.Value != 0 {
		t.Fatalf("load %v, enough %v, offset %v", r.Load.Value, r.Enough, r.Offset.Value)
	}
	moment, push := 0.0, 0.0
	for _, b := range r.Bolts {
		if math.Abs(float64(b.Shear.Value)-load/4) > 1e-6 {
			t.Errorf("%s: shear %v, want %v by symmetry", b.Name, b.Shear.Value, load/4)
		}
		pull := float64(b.Pull.Value) - 220.0/4
		moment += pull * float64(b.Bolt.Y.Value)
		push += 220.0 / 4
	}
	if want := load*0.125 + 220*0.4; math.Abs(moment-want) > 1e-6 || math.Abs(push-220) > 1e-9 {
		t.Errorf("the pulls' moment is %v, want %v", moment, want)
	}
}

// TestOffTheMiddle: with the bolts to one side the arrows still add up to the load, turn with its moment, and have the length that the formula says.
func TestOffTheMiddle(t *testing.T) {
	r := hung(t, m8("A", 20, 60), m8("B", 120, 60), m8("C", 20, 320), m8("D", 160, 320))
	var down, right, turn float64
	mx, my := (20+120+20+160)/4000.0, 0.19
	for _, b := range r.Bolts {
		down, right = down+float64(b.ShearY), right+float64(b.ShearX)
		turn += (float64(b.Bolt.X.Value)-mx)*float64(b.ShearY) - (float64(b.Bolt.Y.Value)-my)*float64(b.ShearX)
		if got := math.Hypot(float64(b.ShearX), float64(b.ShearY)); math.Abs(got-float64(b.Shear.Value)) > 1e-9 {
			t.Errorf("%s: arrow %v, shear %v", b.Name, got, b.Shear.Value)
		}
	}
	load := 16 * 9.80665 * 3
	if math.Abs(down+load) > 1e-6 || math.Abs(right) > 1e-6 || math.Abs(turn+load*(0.15-mx)) > 1e-6 {
		t.Errorf("down %v, right %v, turn %v; want %v, 0, %v", down, right, turn, -load, -load*(0.15-mx))
	}
}

// TestTwoBoltsEnoughOrNot: two good bolts high up hold what two small ones low down don't; the four that are proposed then do.
func TestTwoBoltsEnoughOrNot(t *testing.T) {
	if r := hung(t, m8("A", 60, 320), m8("B", 240, 320)); !r.Enough || len(r.Proposed) > 0 {
		t.Errorf("two M8 high up: used to %v", r.Worst.Value)
	}
	small := "{name: %s, size: M4, grade: 4.6, x: %g mm, y: 30 mm, thread in the metal: 6 mm, from edge: 30 mm}"
	r := hung(t, fmt.Sprintf(small, "A", 60.0), fmt.Sprintf(small, "B", 240.0))
	if r.Enough || r.Worst.Value <= 1 || len(r.Proposed) == 0 {
		t.Fatalf("two M4 low down: enough %v, used %v, proposed %v", r.Enough, r.Worst.Value, r.Proposed)
	}
	var bolts []string
	for n, p := range r.Proposed {
		bolts = append(bolts, fmt.Sprintf("{name: %s, size: %s, grade: unmarked, x: %g mm, y: %g mm, from edge: 50 mm}", letter(n), p.Size, mm(p.X), mm(p.Y)))
	}
	if again := hung(t, bolts...); !again.Enough {
		t.Errorf("what is proposed isn't enough: %v, used %v", r.Proposed, again.Worst.Value)
	}
	if r := hung(t); r.Enough || len(r.Proposed) == 0 || len(Metal(read(t, "machine: {name: x}"), explain.IEC, Carried{}).Bolted.Bolts) > 0 {
		t.Errorf("without bolts: enough %v, proposed %v", r.Enough, r.Proposed)
	}
}

// TestOneBoltSwings: one bolt off the middle of the weight has no answer.
func TestOneBoltSwings(t *testing.T) {
	if r := hung(t, m8("A", 60, 320)); r.Enough || r.Bolts[0].Shear.OK() {
		t.Errorf("one bolt: enough %v", r.Enough)
	}
}
