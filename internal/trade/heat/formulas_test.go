package heat

import (
	"regexp"
	"slices"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// TestFormulasAreWhole: each formula runs on its own example, its words name inputs that it has, and no two bear one name.
func TestFormulasAreWhole(t *testing.T) {
	braces := regexp.MustCompile(`\{([^}]*)\}`)
	names := map[string]bool{}
	for _, f := range Formulas() {
		if names[f.Name] {
			t.Errorf("%s is there twice", f.Name)
		}
		names[f.Name] = true
		inputs, parameters := map[string]string{}, []string{}
		for _, p := range f.Inputs {
			inputs[p.Name] = p.Example
			parameters = append(parameters, p.Name)
		}
		for _, m := range braces.FindAllStringSubmatch(f.Words, -1) {
			if !slices.Contains(parameters, m[1]) {
				t.Errorf("%s: its words name {%s}, which isn't an input", f.Name, m[1])
			}
		}
		if r, mistakes := f.Run(inputs); len(mistakes) > 0 || r.Value.Kind() != f.Result {
			t.Errorf("%s on its own example: %v", f.Name, mistakes)
		}
	}
}

// TestLossesAtTheRealLoad: what a part of the job gives off is its typical figure, brought to the real current, load and duty.
func TestLossesAtTheRealLoad(t *testing.T) {
	amperes := func(i quantity.Current) explain.Known[quantity.Current] { return given("current", i) }
	// A 20 A breaker takes the row of 25 A, 4.5 W a pole (IEC 60898-1, recalled): two poles at 12.5 A a quarter of 9 W.
	near(t, "breaker", CurrentLoss("breaker Q1", "breaker", amperes(20), given[quantity.Count]("poles", 2), amperes(12.5)), 2.25, 0.001)
	near(t, "overload relay", CurrentLoss("relay F1", "overload relay", amperes(10), given[quantity.Count]("poles", 3), amperes(5)), 1.875, 0.001)
	near(t, "coil", SteadyLoss("contactor K1", "AC contactor coil"), 3, 0)
	near(t, "supply", ConversionLoss("supply G1", "24 V supply", given[quantity.Power]("output", 20)), 3, 0.001)
	full := TypicalDriveLoss("drive U1", given("motor power", 3*quantity.Horsepower))
	near(t, "drive, full load", full, 126.3, 0.2)
	near(t, "drive, 75 % load, 40 % duty", DriveLoss("drive U1", full, given[quantity.Ratio]("load", 0.75), given[quantity.Ratio]("duty", 0.4)), 126.3*(0.2+0.4*(0.375+0.16875)), 0.2)
	for what, k := range map[string]explain.Known[quantity.Power]{
		"unknown kind": SteadyLoss("kettle", "kettle"), "other law": SteadyLoss("breaker Q1", "breaker"), "supply as a coil": SteadyLoss("supply", "24 V supply"),
		"coil by current": CurrentLoss("coil", "relay coil", amperes(1), given[quantity.Count]("poles", 1), amperes(1)), "drive by current": CurrentLoss("drive", "drive", amperes(1), given[quantity.Count]("poles", 1), amperes(1)),
		"no current": CurrentLoss("breaker", "breaker", amperes(10), given[quantity.Count]("poles", 2), explain.Known[quantity.Current]{}),
	} {
		if k.OK() || k.Why().Note.Empty() {
			t.Errorf("%s: got %v, want it missing with a word why", what, k.Value)
		}
	}
}

// TestMakersFlowTable holds the makers' factors (recalled) against the density of air: the factor of each row lies within what air of 35 °C needs at the two ends of
// the row's altitudes, or 1.5 % beside.
func TestMakersFlowTable(t *testing.T) {
	low := quantity.Length(0)
	for _, row := range catalogue.FlowFactors() {
		at := func(h quantity.Length) float64 { return 3600 / (density(35, h) * airHeat) }
		if row.Factor < at(low)*0.985 || row.Factor > at(row.UpTo)*1.015 {
			t.Errorf("up to %v: the table says %v, the density of air %.3f to %.3f", row.UpTo.Show(quantity.MetricUnits), row.Factor, at(low), at(row.UpTo))
		}
		low = row.UpTo
	}
	if low != 1000 {
		t.Errorf("the table ends at %v m, want 1000 m", float64(low))
	}
}
