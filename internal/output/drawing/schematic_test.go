package drawing

import (
	"fmt"
	"math"
	"testing"
)

// symbolSheet shows every symbol of two ends, level and upright, and the bodies.
func symbolSheet(standard Standard) SchematicSheet {
	s := SchematicSheet{ID: "symbols", Title: "Symbols of a schematic", Alt: "every symbol, level and upright", Standard: standard, Width: 680, Height: 720}
	for k := OpenContact; k <= InputEnd; k++ {
		n := int(k) - 1
		at := GridSpot{48 + n%8*80, 40 + n/8*64}
		s.Symbols = append(s.Symbols, SchematicSymbol{Kind: k, At: at, Mark: "R"}, SchematicSymbol{Kind: k, At: GridSpot{at.X, at.Y + 256}, Down: true, Mark: "R"})
	}
	s.Symbols = append(s.Symbols, SchematicSymbol{Kind: DiodeSymbol, At: GridSpot{608, 232}, Turned: true}, SchematicSymbol{Kind: TerminalCircle, At: GridSpot{560, 232}},
		SchematicSymbol{Kind: Earth, At: GridSpot{580, 228}}, SchematicSymbol{Kind: Arrow, At: GridSpot{520, 232}})
	for n, k := range []ControlSymbol{PlainBody, DriveBody, SupplyBody, WindingBody, MotorBody, KnobBody, BarBody, ScreenBody} {
		at := GridSpot{44 + n*80, 580}
		s.Symbols = append(s.Symbols, SchematicSymbol{Kind: k, At: at, From: GridSpot{at.X - 30, at.Y - 50}, To: GridSpot{at.X + 30, at.Y + 50}, Mark: "bonded",
			Ports: []GridSpot{{at.X - 30, at.Y - 36}, {at.X - 30, at.Y}, {at.X - 30, at.Y + 36}}})
	}
	s.Lines = []SchematicLine{{Points: []GridSpot{{20, 660}, {200, 660}, {200, 690}}}, {Points: []GridSpot{{20, 690}, {150, 690}}, Guide: true}}
	s.Dots = []GridSpot{{200, 660}}
	s.Texts = []SchematicText{{At: GridSpot{220, 660}, Text: "S1", Anchor: -1, Bold: true}, {At: GridSpot{300, 660}, Text: "stop, apron"}, {At: GridSpot{400, 660}, Text: "11", Anchor: 1, Faint: true},
		{At: GridSpot{460, 660}, Text: "2.4", Underlined: true}}
	return s
}

func TestSchematicSymbolsAreAsBefore(t *testing.T) {
	golden(t, "schematic-symbols-us", Schematic(symbolSheet(American)))
	golden(t, "schematic-symbols-iec", Schematic(symbolSheet(International)))
}

// strokes returns the ends and bends of the lines.
func strokes(items []Item) []Point {
	var list []Point
	for _, i := range items {
		if l, ok := i.(Line); ok {
			list = append(list, l.Points...)
		}
	}
	return list
}

// A conductor ends at the symbol's end: each symbol has a lead to exactly there on either side, whichever way it lies, and
// nothing of it reaches farther along the conductor.
func TestEachSymbolMeetsItsConductors(t *testing.T) {
	for _, standard := range []Standard{American, International} {
		for k := OpenContact; k <= InputEnd; k++ {
			for _, down := range []bool{false, true} {
				x := SchematicSymbol{Kind: k, Down: down, Mark: "R"}
				var before, after bool
				for _, p := range strokes(x.items(standard)) {
					along, across := p.X, p.Y
					if down {
						along, across = p.Y, p.X
					}
					before = before || math.Abs(along+controlHalf) < 1e-9 && math.Abs(across) < 1e-9
					after = after || math.Abs(along-controlHalf) < 1e-9 && math.Abs(across) < 1e-9
					if math.Abs(along) > controlHalf+1e-9 {
						t.Errorf("standard %d, symbol %d, down %v: a stroke reaches %.2f mm along the conductor", standard, k, down, along)
					}
				}
				if !before || !after && k != InputEnd {
					t.Errorf("standard %d, symbol %d, down %v: a lead before it %v, behind it %v", standard, k, down, before, after)
				}
			}
		}
	}
}

// An upright symbol is the level one with its two directions exchanged: what is above the one is on the left of the other
// (IEC 61082-1 and common practice have the actuator there).
func TestAnUprightSymbolIsTheLevelOneTurned(t *testing.T) {
	for _, standard := range []Standard{American, International} {
		for k := OpenContact; k <= InputEnd; k++ {
			if k == DirectSource || k == ReadoutBox || k == DelayCoil || k == Lamp { // signs and letters in them stay upright
				continue
			}
			level, upright := strokes(SchematicSymbol{Kind: k}.items(standard)), strokes(SchematicSymbol{Kind: k, Down: true}.items(standard))
			if len(level) != len(upright) {
				t.Errorf("symbol %d has %d points level, %d upright", k, len(level), len(upright))
				continue
			}
			for n, p := range level {
				if math.Hypot(p.X-upright[n].Y, p.Y-upright[n].X) > 1e-9 {
					t.Errorf("standard %d, symbol %d: %v level is %v upright", standard, k, p, upright[n])
				}
			}
		}
	}
}

// The leads of a motor end on its circle, and each port has one.
func TestAMotorHasALeadForEachPort(t *testing.T) {
	for _, ports := range []int{1, 3, 4, 6} {
		s := SchematicSymbol{Kind: MotorBody}
		for n := range ports {
			s.Ports = append(s.Ports, GridSpot{-44, (2*n - ports + 1) * 18})
		}
		leads := 0
		for _, item := range s.items(International) {
			l, ok := item.(Line)
			if !ok {
				continue
			}
			leads++
			last := l.Points[len(l.Points)-1]
			if r := math.Hypot(last.X, last.Y); math.Abs(r-6.5) > 1e-9 {
				t.Errorf("%d ports: a lead ends %.2f mm from the middle, want the circle of 6.5 mm", ports, r)
			}
		}
		if leads != ports {
			t.Errorf("got %d leads for %d ports", leads, ports)
		}
	}
}

func ExampleSchematic() {
	f := Schematic(SchematicSheet{ID: "rung", Title: "One rung", Width: 200, Height: 60,
		Symbols: []SchematicSymbol{{Kind: OpenPushButton, At: GridSpot{80, 30}}},
		Lines:   []SchematicLine{{Points: []GridSpot{{20, 30}, {60, 30}}}, {Points: []GridSpot{{100, 30}, {180, 30}}}},
		Texts:   []SchematicText{{At: GridSpot{80, 8}, Text: "S1", Bold: true}}})
	fmt.Printf("%.0f by %.0f mm, %d items\n", f.Width, f.Height, len(f.Items))
	// Output: 50 by 15 mm, 10 items
}
