package heat

import (
	"regexp"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// with returns the small box (40 W in the drive, clean shop, sealed: a little too hot) changed, and cool returns it with little heat.
func with(change func(b *Box)) Box {
	b := steelBox(40)
	change(&b)
	return b
}

func cool(change func(b *Box)) Box {
	b := steelBox(15)
	change(&b)
	return b
}

func asIs(*Box) {}

// ruleBoxes are a box that trips each rule and one, nearly the same, that doesn't.
var ruleBoxes = map[string]struct{ trips, quiet Box }{
	"too-hot-in-the-box": {with(asIs), cool(asIs)},
	"derated-below-the-motor": {
		cool(func(b *Box) { derate(b, 9.5, 9.4) }),
		cool(func(b *Box) { derate(b, 9.5, 7) }),
	},
	"close-to-its-heat-limit": {with(func(b *Box) { b.Parts[0].Loss = given[quantity.Power]("heat of drive U1", 25) }), cool(asIs)},
	"too-hot-by-the-second-method": {
		with(func(b *Box) { b.Parts[0].Loss = given[quantity.Power]("heat of drive U1", 27) }),
		cool(asIs),
	},
	"too-hot-with-a-full-filter": {
		with(func(b *Box) { *b = withFan(*b, 3.0/3600); b.Dust = given[quantity.Text]("dust", "wood") }),
		with(func(b *Box) { *b = withFan(*b, 20.0/3600); b.Dust = given[quantity.Text]("dust", "wood") }),
	},
	"shop-as-warm-as-the-parts-allow": {
		cool(func(b *Box) { b.Ambient = given[quantity.Temperature]("warmest", 52) }),
		cool(func(b *Box) { b.Ambient = given[quantity.Temperature]("warmest", 38) }),
	},
	"heat-of-a-part-not-known": {
		cool(func(b *Box) {
			b.Parts[1].Loss = explain.Absent[quantity.Power]("heat of supply G1", explain.Say("isn't given"))
		}),
		cool(asIs),
	},
	"heat-limit-of-the-drive-not-known": {
		cool(func(b *Box) { b.Parts[0].Limit = explain.Known[quantity.Temperature]{} }),
		cool(func(b *Box) { b.Parts[1].Limit = explain.Known[quantity.Temperature]{} }), // the supply's is no matter
	},
	"warmest-shop-not-known": {
		cool(func(b *Box) {
			b.Ambient = explain.Assume[quantity.Temperature]("warmest", 30, explain.Practice("a guess"), explain.Say("not said"))
		}),
		cool(asIs),
	},
	"sealed-plastic-box-round-a-drive": {
		with(func(b *Box) { b.Material = given[quantity.Text]("material", "plastic") }),
		cool(func(b *Box) { b.Material = given[quantity.Text]("material", "plastic") }),
	},
	"vents-with-metal-dust": {
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Dust = given[quantity.Text]("dust", "metal") }),
		with(func(b *Box) { *b = withVents(*b, 0.01) }),
	},
	"vents-with-wood-dust": {
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Dust = given[quantity.Text]("dust", "wood") }),
		with(func(b *Box) {
			*b = withVents(*b, 0.01)
			b.Dust, b.Vents.Opening = given[quantity.Text]("dust", "wood"), given[quantity.Text]("opening", "louvres with filter mat")
		}),
	},
	"fan-without-filter-in-dust": {
		with(func(b *Box) {
			*b = withFan(*b, 20.0/3600)
			b.Dust, b.Fan.Filter = given[quantity.Text]("dust", "wood"), given[quantity.Text]("filter", "no")
		}),
		with(func(b *Box) { *b = withFan(*b, 20.0/3600); b.Dust = given[quantity.Text]("dust", "wood") }),
	},
	"filter-fan-beside-grinding": {
		with(func(b *Box) { *b = withFan(*b, 20.0/3600); b.Dust = given[quantity.Text]("dust", "grinding") }),
		with(func(b *Box) { *b = withFan(*b, 20.0/3600); b.Dust = given[quantity.Text]("dust", "metal") }),
	},
	"vent-facing-up": {
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Vents.UpperFace = Top }),
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Vents.UpperFace, b.Vents.LowerFace = Left, Bottom }),
	},
	"vent-above-live-parts": {
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Vents.AboveLive = true }),
		with(func(b *Box) { *b = withVents(*b, 0.01) }),
	},
	"mats-stop-the-draught": {
		with(func(b *Box) {
			*b = withVents(*b, 0.008)
			b.Vents.Opening = given[quantity.Text]("opening", "louvres with filter mat")
		}),
		with(func(b *Box) { *b = withVents(*b, 0.008) }),
	},
	"upper-vent-too-small": {
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Vents.Upper = given[quantity.Area]("upper vent", 0.008) }),
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Vents.Upper = given[quantity.Area]("upper vent", 0.01) }),
	},
	"vents-at-one-height": {
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Vents.Between = given[quantity.Length]("between", 0.05) }),
		with(func(b *Box) { *b = withVents(*b, 0.01) }),
	},
	"one-vent-only": {
		with(func(b *Box) { *b = withVents(*b, 0.01); b.Vents.Lower = explain.Known[quantity.Area]{} }),
		with(func(b *Box) { *b = withVents(*b, 0.01) }),
	},
	"opening-undoes-the-box-type": {
		with(func(b *Box) { *b = withFan(*b, 20.0/3600); b.Type = given[quantity.Text]("protection", "type 4") }),
		with(func(b *Box) { *b = withFan(*b, 20.0/3600); b.Type = given[quantity.Text]("protection", "type 12") }),
	},
	"box-type-too-open-for-the-dust": {
		cool(func(b *Box) { b.Dust = given[quantity.Text]("dust", "metal") }),
		cool(func(b *Box) {
			b.Dust, b.Type = given[quantity.Text]("dust", "metal"), given[quantity.Text]("protection", "IP54")
		}),
	},
	"sun-on-the-box": {
		cool(func(b *Box) {
			b.Sun.Shine, b.Colour = given[quantity.Irradiance]("sun", 800), given[quantity.Text]("colour", "gray")
		}),
		cool(func(b *Box) { b.Sun.Shine = given[quantity.Irradiance]("sun", 0) }),
	},
	"warm-casting-at-the-box": {
		cool(func(b *Box) { b.Neighbour = Neighbour{given[quantity.Temperature]("warm face temperature", 60), Back} }),
		cool(func(b *Box) { b.Neighbour = Neighbour{given[quantity.Temperature]("warm face temperature", 36), Back} }),
	},
	"thin-air-cools-less": {
		cool(func(b *Box) { b.Altitude = given[quantity.Length]("altitude", 1600) }),
		cool(asIs),
	},
	"top-of-the-box-covered": {
		cool(func(b *Box) { b.Covered = []Face{Top} }),
		cool(func(b *Box) { b.Covered = []Face{Left} }),
	},
}

// derate gives the drive a current in warm air.
func derate(b *Box, rated, needed quantity.Current) {
	p := &b.Parts[0]
	p.Rated, p.Needed = given("output of drive U1", rated), given("current asked of drive U1", needed)
	p.From, p.Derate = given[quantity.Temperature]("from", 40), given[quantity.Ratio]("derating", 0.025)
}

// TestEachRuleTripsAndIsQuiet holds every rule to its two boxes, in both rule sets.
func TestEachRuleTripsAndIsQuiet(t *testing.T) {
	kebab := regexp.MustCompile(`^[a-z]+(-[a-z0-9]+)+$`)
	seen := map[string]bool{}
	for _, rule := range Rules() {
		if !kebab.MatchString(rule.Name) || seen[rule.Name] || rule.Title == "" || rule.Why == "" || rule.Source == (explain.Source{}) || len(rule.Sets) == 0 {
			t.Errorf("%s: the name isn't unique kebab-case words, or title, why, source or sets are missing", rule.Name)
		}
		seen[rule.Name] = true
		boxes, ok := ruleBoxes[rule.Name]
		if !ok {
			t.Errorf("%s has no boxes", rule.Name)
			continue
		}
		for _, set := range explain.Everywhere {
			one := []explain.Rule[Result]{rule}
			found := explain.Judge(one, set, Work(boxes.trips))
			if len(found) == 0 {
				t.Errorf("%s doesn't trip on its box", rule.Name)
			}
			for _, f := range found {
				if f.Message.Empty() || f.Remedy.Empty() {
					t.Errorf("%s finds without message or remedy", rule.Name)
				}
				for _, s := range []quantity.System{quantity.InchUnits, quantity.MetricUnits} {
					if text := f.Message.Show(s) + "; " + f.Remedy.Show(s); regexp.MustCompile(`\{|\}|not known|without limit|NaN`).MatchString(text) {
						t.Errorf("%s says %q", rule.Name, text)
					}
				}
				if set == explain.US {
					t.Logf("%s: %s\n    %s", rule.Name, f.Message.Show(quantity.InchUnits), f.Remedy.Show(quantity.InchUnits))
				}
			}
			for _, f := range explain.Judge(one, set, Work(boxes.quiet)) {
				t.Errorf("%s trips on its quiet box: %s", rule.Name, f.Message.Show(quantity.MetricUnits))
			}
		}
	}
	for name := range ruleBoxes {
		if !seen[name] {
			t.Errorf("boxes for %s, which is no rule", name)
		}
	}
	if len(seen) < 20 {
		t.Errorf("got %d rules, want at least 20", len(seen))
	}
}

// BenchmarkWork measures what a change on the live sheet costs of this stage.
func BenchmarkWork(b *testing.B) {
	box := withVents(steelBox(110), 0.01)
	for b.Loop() {
		explain.Judge(Rules(), explain.US, Work(box))
	}
}
