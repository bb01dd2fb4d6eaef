package heat

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// words are those that may stand in the field of a section of the job file.
func words(t *testing.T, section any, field string) []string {
	t.Helper()
	f, ok := reflect.TypeOf(section).FieldByName(field)
	if !ok || f.Tag.Get("words") == "" {
		t.Fatalf("the section %T has no field %s with words", section, field)
	}
	return strings.Split(f.Tag.Get("words"), ", ")
}

// TestJobFileWordsAreKnown: whatever the job file may say of the box, the tables know it.
func TestJobFileWordsAreKnown(t *testing.T) {
	for _, c := range []struct {
		section any
		field   string
		known   []string
	}{
		{job.Enclosure{}, "Mounted", catalogue.MountedWords()},
		{job.Enclosure{}, "Material", catalogue.WallMaterials()},
		{job.Shop{}, "Dust", catalogue.DustWords()},
		{job.Enclosure{}, "WarmFace", append([]string{"none", "front"}, "back", "left", "right", "top", "bottom")},
	} {
		for _, w := range words(t, c.section, c.field) {
			if !slices.Contains(c.known, w) {
				t.Errorf("%s: the tables don't know %q", c.field, w)
			}
		}
	}
	for _, w := range words(t, job.Enclosure{}, "Sun") {
		if g := Shine(given("sun", quantity.Text(w))); !g.OK() || (g.Value == 0) != (w == "no") {
			t.Errorf("the sun %q brings %v", w, g.Value)
		}
	}
	if Shine(explain.Known[quantity.Text]{}).OK() || Shine(given[quantity.Text]("sun", "moonlight")).OK() {
		t.Error("sunshine comes from nowhere")
	}
	// Each type lets dust in, is lost by any opening, or lies between: no word is left over.
	between := []quantity.Text{"type 12", "IP54"}
	for _, w := range words(t, job.Enclosure{}, "Seal") {
		kinds := 0
		for _, list := range [][]quantity.Text{openTypes, tightTypes, between} {
			if slices.Contains(list, quantity.Text(w)) {
				kinds++
			}
		}
		if kinds != 1 {
			t.Errorf("the box type %q stands in %d lists, want 1", w, kinds)
		}
	}
}

// TestWildFiguresDoNoHarm: with sizes, heat and flows of nothing, of less than nothing and beyond all bounds, nothing panics, and nothing that is shown is no number.
func TestWildFiguresDoNoHarm(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	wild := func() float64 { return []float64{0, -1, 1e-9, 1, 50, 1e9}[random.IntN(6)] }
	for range 3000 {
		b := randomBox(random)
		b.Height, b.Depth = given("height", quantity.Length(wild())), given("depth", quantity.Length(wild()))
		b.Parts[0].Loss, b.Parts[0].Limit = given("heat of drive U1", quantity.Power(wild())), given("limit of drive U1", quantity.Temperature(wild()))
		derate(&b, quantity.Current(wild()), quantity.Current(wild()))
		b.Parts[0].Derate = given("derating", quantity.Ratio(wild()))
		b.Altitude = given("altitude", quantity.Length(wild()))
		if b.Vents.there() {
			b.Vents.Upper, b.Vents.Between = given("upper vent", quantity.Area(wild())), given("between", quantity.Length(wild()))
		}
		if b.Fan.Flow.OK() {
			b.Fan.Flow = given("fan flow", quantity.AirFlow(max(wild(), 0)))
		}
		r := Work(b)
		for _, f := range explain.Judge(Rules(), explain.IEC, r) {
			_ = f.Message.Show(quantity.MetricUnits)
		}
		check := func(k explain.Because) {
			if w := k.Why(); w.There() {
				if si, ok := quantity.SI(w.Value); ok && math.IsNaN(si) {
					t.Fatalf("%s is no number, by %s", w.Name, w.Figures(quantity.MetricUnits))
				}
			}
		}
		for _, k := range []explain.Because{r.Rise, r.Inside, r.Second.Top, r.Second.Reckoned, r.Vented.Flow, r.Fanned.Full, r.Allowed, r.Mixed} {
			check(k)
		}
		for _, h := range r.Parts {
			check(h.Margin)
			check(h.Output)
		}
		for _, m := range r.Remedies {
			check(m.Figure)
		}
		for _, f := range r.Flows {
			check(f.Heat)
		}
	}
}
