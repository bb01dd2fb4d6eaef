package drawing

import (
	"fmt"
	"testing"
)

// manyLabels are more labels than one page holds, some with far too much text.
func manyLabels() LabelSheet {
	s := LabelSheet{ID: "labels", Title: "Labels", Alt: "labels"}
	var markers, tags []Label
	for n := range 150 {
		markers = append(markers, Label{Kind: WireMarker, Text: fmt.Sprint(n)})
	}
	markers = append(markers, Label{Kind: WireMarker, Text: "a wire with a long name"})
	for n := range 30 {
		tags = append(tags, Label{Kind: DeviceTag, Text: fmt.Sprintf("K%d", n), Small: "relay that holds the run command until the stop button or the guard opens its coil circuit"})
	}
	var fields []string
	for n := range 45 {
		fields = append(fields, fmt.Sprint(n+1))
	}
	s.Groups = []LabelGroup{
		{"Warnings", []Label{{Kind: WarningSign, Text: "DANGER. Charged after the power is off. Switch off, lock off, wait 10 min, then measure DC+ to DC−: a hand goes in below 50 V only."}, {Kind: WarningSign, Text: "X"}}},
		{"Legends", []Label{{Kind: LegendPlate, Text: "EMERGENCY STOP"}, {Kind: LegendPlate, Text: "FORWARD - OFF - REVERSE - SOMETHING ELSE"}}},
		{"Strips", []Label{{Kind: StripMarker, Text: "X1", Fields: fields}}},
		{"Tags", tags}, {"Markers", markers},
	}
	return s
}

// TestLabelsHoldTheirWords: each label lies within its figure, each word within the outline around it, no two outlines over one
// another, and nothing is lost.
func TestLabelsHoldTheirWords(t *testing.T) {
	wide, narrow := Labels(manyLabels())
	for width, figures := range map[float64][]Figure{0: wide, 84: narrow} {
		words, outlines := map[string]int{}, 0
		for _, f := range figures {
			var boxes []Bounds
			for _, item := range f.Items {
				l, ok := item.(Line)
				if !ok || l.Ink != Faint || !l.Closed {
					continue
				}
				b := Bounds{l.Points[0].X, l.Points[0].Y, l.Points[2].X, l.Points[2].Y}
				if b.Left < 0 || b.Right > f.Width+0.01 || b.Bottom > f.Height+0.01 || b.Top < 0 {
					t.Errorf("%v mm: a label leaves its figure: %v in %v × %v", width, b, f.Width, f.Height)
				}
				for _, other := range boxes {
					if b.Left < other.Right && other.Left < b.Right && b.Top < other.Bottom && other.Top < b.Bottom {
						t.Errorf("%v mm: two labels lie over one another: %v and %v", width, b, other)
					}
				}
				boxes = append(boxes, b)
			}
			outlines += len(boxes)
			for _, item := range f.Items {
				w, ok := item.(Words)
				if !ok || w.Ink == Faint {
					continue
				}
				words[w.Text]++
				in := w.Bounds()
				held := false
				for _, b := range boxes {
					held = held || in.Left >= b.Left-0.01 && in.Right <= b.Right+0.01 && in.Top >= b.Top-0.01 && in.Bottom <= b.Bottom+0.3
				}
				if !held {
					t.Errorf("%v mm: %q at %v stands in no label", width, w.Text, in)
				}
			}
			if f.TrueScale && f.Height > 205 { // what is left of a Letter page between head and foot
				t.Errorf("%v mm: a figure of %v mm fits no page", width, f.Height)
			}
			if f.TrueScale != (width == 0) {
				t.Errorf("%v mm: true scale %v", width, f.TrueScale)
			}
		}
		for n := range 150 {
			if words[fmt.Sprint(n)] < 1 {
				t.Errorf("%v mm: marker %d is lost", width, n)
			}
		}
		if words["K29"] != 1 || words["EMERGENCY STOP"] != 1 || len(figures) < 2 || outlines < 185 {
			t.Errorf("%v mm: %d figures with %d labels: something is lost", width, len(figures), outlines)
		}
	}
}

// TestCheckBar: 100 mm long and true.
func TestCheckBar(t *testing.T) {
	wide, narrow := Labels(manyLabels())
	if len(wide) != len(narrow) {
		t.Errorf("%d figures for paper, %d for a phone", len(wide), len(narrow))
	}
	f := wide[0]
	l, ok := f.Items[0].(Line)
	if !ok || !f.TrueScale || l.Points[1].X-l.Points[0].X != 100 {
		t.Errorf("got %+v, want a bar of 100 mm at true scale", f.Items[0])
	}
}
