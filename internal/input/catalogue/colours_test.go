package catalogue

import (
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// TestColours holds the tables against the clauses: IEC 60204-1:2016 10.2.1 allows white, grey, black and green for start and
// prefers white, never red; black is preferred for stop, never green; emergency is red, on yellow where there is one. NFPA 79:
// stop red, start green. 13.2: ungrounded alternating control red, direct blue, power black in both; the grounded side white, with
// a blue stripe for direct current, in NFPA 79; green-and-yellow, light blue and orange in IEC 60204-1.
func TestColours(t *testing.T) {
	for _, c := range []struct {
		set        explain.RuleSet
		what, want string
		of         func(explain.RuleSet, string) (Colour, bool)
	}{
		{explain.IEC, "start", "white", ControlColour}, {explain.IEC, "stop", "black", ControlColour}, {explain.IEC, "emergency stop", "red on yellow", ControlColour},
		{explain.US, "start", "green", ControlColour}, {explain.US, "stop", "red", ControlColour}, {explain.US, "emergency stop", "red on yellow", ControlColour},
		{explain.US, "control AC", "red", ConductorColour}, {explain.US, "control DC", "blue", ConductorColour}, {explain.US, "common DC", "white with blue stripe", ConductorColour},
		{explain.US, "foreign", "orange", ConductorColour}, {explain.IEC, "grounding", "green-and-yellow", ConductorColour}, {explain.IEC, "neutral", "light blue", ConductorColour},
		{explain.IEC, "power", "black", ConductorColour}, {explain.IEC, "foreign", "orange", ConductorColour},
	} {
		got, ok := c.of(c.set, c.what)
		if !ok || got.Name != c.want || got.Source.Place == "" {
			t.Errorf("%s, %s: got %+v, want %s", c.set, c.what, got, c.want)
		}
	}
	if got, ok := ControlColour(explain.US, "window"); ok {
		t.Errorf("a window has the colour %v", got)
	}
	// Both sets have the same rows, so that neither is left without a colour.
	for k := range conductorColours() {
		for _, set := range explain.Everywhere {
			if _, ok := ConductorColour(set, k.what); !ok {
				t.Errorf("%s has no colour for %s", set, k.what)
			}
		}
	}
	for k := range controlColours() {
		for _, set := range explain.Everywhere {
			if _, ok := ControlColour(set, k.what); !ok {
				t.Errorf("%s has no colour for %s", set, k.what)
			}
		}
	}
}

// TestLeastControlConductor: IEC 60204-1 Table 5 asks 1.0 mm² of a single flexible conductor of a power circuit outside, 1.5 of a
// stranded one, 0.75 of a core of three or more; inside it is content with 0.2 mm² for controls.
func TestLeastControlConductor(t *testing.T) {
	for _, c := range []struct {
		location, circuit, conductor string
		want                         float64
	}{
		{"outside", "power", "single flexible", 1}, {"outside", "power", "single stranded", 1.5}, {"outside", "power", "three-core or more", 0.75}, {"inside", "control", "single flexible", 0.2},
	} {
		got, source, ok := LeastControlConductor(c.location, c.circuit, c.conductor)
		if !ok || got != quantity.SquareMillimetres(c.want) || source.Place == "" {
			t.Errorf("%+v: got %s (%v)", c, got.Show(quantity.MetricUnits), ok)
		}
	}
	if _, _, ok := LeastControlConductor("on the moon", "power", "single flexible"); ok {
		t.Error("the moon is in the table")
	}
}
