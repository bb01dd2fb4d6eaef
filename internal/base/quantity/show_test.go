package quantity

import (
	"bufio"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// TestShow lists how values are printed in both unit systems.
func TestShow(t *testing.T) {
	for _, c := range []struct {
		v            Value
		inch, metric string
	}{
		{3 * Horsepower, "3 hp", "2.24 kW"}, {7.5 * Horsepower, "7.5 hp", "5.59 kW"}, {ShaftPower(2200), "2.95 hp", "2.2 kW"}, {ShaftPower(60), "0.0805 hp", "60 W"},
		{10.5 * Inch, "10.5 in", "266.7 mm"}, {35 * Foot, "35 ft", "10.7 m"}, {74 * Inch, "6.17 ft", "1.88 m"}, {Inch / 8, "0.125 in", "3.175 mm"},
		{Voltage(240), "240 V", "240 V"}, {Voltage(239.96), "240 V", "240 V"}, {Voltage(7200), "7200 V", "7200 V"}, {Voltage(12470), "12.5 kV", "12.5 kV"}, {Voltage(197.7), "197.7 V", "197.7 V"}, {Voltage(1.649), "1.65 V", "1.65 V"}, {Voltage(-3.2), "-3.2 V", "-3.2 V"},
		{Current(13.2), "13.2 A", "13.2 A"}, {Current(0.005), "5 mA", "5 mA"}, {Current(0.25), "0.25 A", "0.25 A"}, {Current(24802), "24.8 kA", "24.8 kA"}, {Current(9.95), "9.95 A", "9.95 A"}, {Current(99.96), "100 A", "100 A"}, {Current(999.9), "1000 A", "1000 A"},
		{Celsius(40), "104 °F", "40 °C"}, {Celsius(0), "32 °F", "0 °C"}, {Fahrenheit(75), "75 °F", "24 °C"}, {Celsius(-0.2), "32 °F", "0 °C"}, {TemperatureRise(40), "40 °C", "40 K"},
		{Ratio(0.25), "25 %", "25 %"}, {Ratio(1.25), "125 %", "125 %"}, {Ratio(0.0312), "3.12 %", "3.12 %"}, {Factor(1.15), "1.15", "1.15"}, {Count(9), "9", "9"}, {Count(1950), "1950", "1950"},
		{Frequency(60), "60 Hz", "60 Hz"}, {Frequency(4000), "4 kHz", "4 kHz"}, {1725 * RevPerMinute, "1725 rpm", "1725 rpm"},
		{Resistance(0.82), "0.82 Ω", "0.82 Ω"}, {Resistance(0.0442), "44.2 mΩ", "44.2 mΩ"}, {Length(0), "0 ft", "0 m"}, {Resistance(12.34), "12.3 Ω", "12.3 Ω"}, {Resistance(2e6), "2 MΩ", "2 MΩ"}, {Resistance(0), "0 mΩ", "0 mΩ"},
		{1.24 * OhmPerKilofoot, "1.24 Ω/kft", "4.07 Ω/km"}, {Capacitance(1e-3), "1000 µF", "1000 µF"}, {Inductance(2e-3), "2 mH", "2 mH"},
		{2.5 * SquareMM, "0.00388 in²", "2.5 mm²"}, {Duration(0.02), "20 ms", "20 ms"}, {Duration(90), "90 s", "90 s"}, {Duration(300), "5 min", "5 min"}, {Duration(7200), "2 h", "2 h"},
		{Torque(20), "14.8 lbf·ft", "20 N·m"}, {Mass(9.0718474), "20 lb", "9.07 kg"}, {ApparentPower(25000), "25 kVA", "25 kVA"}, {Power(75), "75 W", "75 W"}, {Money(1250), "1250", "1250"},
		{AWG(10), "10 AWG", "10 AWG"}, {AWG(0), "1/0 AWG", "1/0 AWG"}, {AWG(-3), "4/0 AWG", "4/0 AWG"}, {Kcmil(250), "250 kcmil", "250 kcmil"}, {SquareMillimetres(2.5), "2.5 mm²", "2.5 mm²"},
		{Voltages{230, 460}, "230/460 V", "230/460 V"}, {Currents{13.2, 6.6}, "13.2/6.6 A", "13.2/6.6 A"}, {Currents{0.05, 1.2}, "50 mA/1.2 A", "50 mA/1.2 A"}, {Voltages{}, "", ""},
		{Voltage(math.NaN()), "not known", "not known"}, {Voltage(math.Inf(1)), "without limit", "without limit"}, {Text("delta"), "delta", "delta"}, {Conductor{}, "no size", "no size"},
	} {
		if got := c.v.Show(InchUnits); got != c.inch {
			t.Errorf("%T %v in inch units is %q, want %q", c.v, c.v, got, c.inch)
		}
		if got := c.v.Show(MetricUnits); got != c.metric {
			t.Errorf("%T %v in metric units is %q, want %q", c.v, c.v, got, c.metric)
		}
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct {
		x      float64
		digits int
		want   string
	}{{1243.2, 3, "1243"}, {0.012345, 3, "0.0123"}, {0, 3, "0"}, {math.Copysign(0, -1), 3, "0"}, {-0.0000001, 3, "-0.0000001"}, {9.996, 3, "10"}, {99.95, 3, "100"}, {0.09999, 3, "0.1"}, {1.5, 1, "2"}, {120, 3, "120"}, {1e-9, 3, "0.000000001"}, {-12.345, 3, "-12.3"}, {0.9999, 3, "1"}, {123456, 3, "123456"}, {10.04, 3, "10"}, {10.06, 3, "10.1"}} {
		if got := Round(c.x, c.digits); got != c.want {
			t.Errorf("Round(%v, %d) is %q, want %q", c.x, c.digits, got, c.want)
		}
	}
}

// TestShowThenParse checks at seeded random points that what is printed reads back within the rounding of the print.
func TestShowThenParse(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for k := KindRatio; k < kindLimit; k++ {
		for range 2000 {
			si := math.Pow(10, random.Float64()*10-4) * []float64{1, -1}[random.IntN(2)]
			for _, s := range []System{InchUnits, MetricUnits} {
				printed := Of(k, si).Show(s)
				back, err := Parse(k, printed)
				if err != nil {
					t.Fatalf("%s %g prints as %q, which doesn't read: %v", k, si, printed, err)
				}
				got, _ := SI(back)
				allowed := math.Abs(si) * 0.0051 // three digits: at worst 1.00 for 1.005
				if k == KindTemperature {
					allowed = 0.51 // printed in whole degrees
				}
				if math.Abs(got-si) > allowed+1e-12 {
					t.Errorf("%s %g prints as %q, which reads as %g", k, si, printed, got)
				}
			}
		}
	}
}

// TestShowIn prints in a unit that was asked for.
func TestShowIn(t *testing.T) {
	for _, c := range []struct {
		kind       Kind
		si         float64
		unit, want string
	}{{KindLength, 500, "ft", "1640 ft"}, {KindLength, 0.5, "m", "0.5 m"}, {KindCurrent, 0.5, "mA", "500 mA"}, {KindTemperature, 40, "°F", "104 °F"}, {KindFactor, 1.5, "", "1.5"}, {KindRatio, 0.5, "%", "50 %"}, {KindLength, 1, "furlong", "3.28 ft"}} {
		if got := ShowIn(c.kind, c.si, c.unit); got != c.want {
			t.Errorf("ShowIn(%s, %g, %q) is %q, want %q", c.kind, c.si, c.unit, got, c.want)
		}
	}
	for _, c := range []struct {
		kind       Kind
		text, want string
	}{{KindLength, `1/2"`, "in"}, {KindLength, "6 feet", "ft"}, {KindShaftPower, "3HP", "hp"}, {KindFactor, "1.15", ""}, {KindRatio, "5pct", "%"}} {
		if got, ok := UnitIn(c.kind, c.text); !ok || got != c.want {
			t.Errorf("UnitIn(%s, %q) is %q, %v, want %q", c.kind, c.text, got, ok, c.want)
		}
	}
	if !SameUnit(KindLength, `1/2"`, "0.5 in") || SameUnit(KindLength, "1 ft", "12 in") || SameUnit(KindLength, "x", "x") {
		t.Error("SameUnit is wrong about inches")
	}
}

// TestUnitsAreUnambiguous checks that no spelling stands for two units of one kind.
func TestUnitsAreUnambiguous(t *testing.T) {
	for k := Kind(0); k < kindLimit; k++ {
		seen := map[string]string{}
		for _, u := range kinds[k].units {
			for _, s := range append([]string{u.symbol}, u.also...) {
				if other, ok := seen[s]; ok {
					t.Errorf("%s: %q is both %q and %q", k, s, other, u.symbol)
				}
				seen[s] = u.symbol
			}
		}
		if k.String() == "" {
			t.Errorf("kind %d has no name", k)
		}
		for _, alternative := range strings.Split(k.Example(), " or ") {
			if _, err := Parse(k, alternative); err != nil {
				t.Errorf("%s: its own example: %v", k, err)
			}
		}
	}
}

// TestConductors reads every spelling, and checks gauges against published areas: Lessons in Electric Circuits, solid
// round copper wire table, as kept in testdata/gauges.csv (size, circular mils).
func TestConductors(t *testing.T) {
	for text, want := range map[string]Conductor{"14 AWG": AWG(14), "14AWG": AWG(14), "14 awg": AWG(14), "#14": AWG(14), "# 14": AWG(14), "#14 AWG": AWG(14), "14 ga": AWG(14), "4/0 AWG": AWG(-3), "4/0": AWG(-3), "1/0": AWG(0),
		"0 AWG": AWG(0), "#2/0": AWG(-1), "250 kcmil": Kcmil(250), "250 MCM": Kcmil(250), "250mcm": Kcmil(250), "2.5 mm²": SquareMillimetres(2.5), "2.5mm2": SquareMillimetres(2.5), "2.5 sq mm": SquareMillimetres(2.5), "2.5 mm^2": SquareMillimetres(2.5), "2.5 qmm": SquareMillimetres(2.5), " 10 AWG ": AWG(10)} {
		got, err := ParseConductor(text)
		if err != nil || got != want {
			t.Errorf("%q is %v (%v), want %v", text, got.Show(InchUnits), err, want.Show(InchUnits))
		}
		if back, err := ParseConductor(got.Show(InchUnits)); err != nil || back != got {
			t.Errorf("%q prints as %q, which reads as %v (%v)", text, got.Show(InchUnits), back, err)
		}
	}
	for _, text := range []string{"", "14", "AWG", "#", "-1 AWG", "+4 AWG", "41 AWG", "5/0", "0/0", "10.5 AWG", "NaN mm²", "inf mm²", "1e3 kcmil", "0 mm²", "-2.5 mm²", "100 kcmil", "3000 kcmil", "2.5 mm", "14 AWG 3", "14 mm² AWG", "##14", "2001 mm²"} {
		got, err := ParseConductor(text)
		var p *ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q is read as %s, want a *ParseError", text, got.Show(InchUnits))
		}
	}
	file, err := os.Open("testdata/gauges.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows := 0
	for s := bufio.NewScanner(file); s.Scan(); {
		size, area, ok := strings.Cut(s.Text(), ",")
		if !ok || strings.HasPrefix(size, "#") {
			continue
		}
		rows++
		c, err := ParseConductor(size + " AWG")
		if err != nil {
			t.Error(err)
			continue
		}
		mils, err := Parse(KindCount, area)
		if err != nil {
			t.Error(err)
			continue
		}
		want, _ := SI(mils)
		if got := float64(c.Area() / CircularMil); math.Abs(got-want) > 0.0006*want { // the table has four digits
			t.Errorf("%s AWG has %.1f circular mils, want %v", size, got, want)
		}
	}
	if rows < 20 {
		t.Errorf("only %d gauges in the table", rows)
	}
}

// FuzzParse checks every kind on any text: no panic, places inside the text, and what is printed reads back.
func FuzzParse(f *testing.F) {
	seeds := 0
	for k := KindText; k < kindLimit; k++ {
		for _, u := range UnitSpellings(k) {
			for _, n := range []string{"3 ", "10-1/2", "−½ ", "1.5e3", "6' 2"} {
				f.Add(int(k), n+u)
				seeds++
			}
		}
	}
	if seeds < 500 {
		f.Fatalf("only %d seeds", seeds)
	}
	f.Fuzz(func(t *testing.T, n int, text string) {
		k := Kind(((n % int(kindLimit)) + int(kindLimit)) % int(kindLimit))
		v, err := Parse(k, text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		si, number := SI(v)
		if !number {
			return
		}
		if math.IsNaN(si) || math.IsInf(si, 0) {
			t.Fatalf("%q is read as %v", text, si)
		}
		if math.Abs(si) > 1e12 || math.Abs(si) < 1e-9 && si != 0 {
			return
		}
		for _, s := range []System{InchUnits, MetricUnits} {
			printed := v.Show(s)
			back, err := Parse(k, printed)
			if err != nil {
				t.Fatalf("%q prints as %q, which doesn't read: %v", text, printed, err)
			}
			got, _ := SI(back)
			allowed := 0.0051 * math.Abs(si)
			if k == KindTemperature {
				allowed = max(allowed, 0.51)
			}
			if math.Abs(got-si) > allowed+1e-12 {
				t.Fatalf("%q is %g, prints as %q, which reads as %g", text, si, printed, got)
			}
		}
	})
}

// FuzzParseList checks lists in the same way.
func FuzzParseList(f *testing.F) {
	for _, s := range []string{"230/460 V", "208-230/460 V", "13.2 / 6.6 A", "200–240 V", "230 V/460 V", "/", "-/-", "1-2-3 V", "1/2/3/4/5 A", "800 mA/1.2 A", "½/¼ V", "3-/4 V", "1 1/2 V", "230/460", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range []Kind{KindVoltage, KindCurrent} {
			list, err := ParseList(k, text)
			if err != nil {
				checkError(t, text, err)
				continue
			}
			if len(list) != strings.Count(text, "/")+1 {
				t.Fatalf("%q has %d values", text, len(list))
			}
			for _, v := range list {
				if si, ok := SI(v); !ok || math.IsNaN(si) || math.IsInf(si, 0) || si < 0 || v.Kind() != k {
					t.Fatalf("%q holds %v", text, v)
				}
			}
		}
	})
}

// FuzzParseConductor checks that a size reads back from its print.
func FuzzParseConductor(f *testing.F) {
	for _, s := range []string{"14 AWG", "#12", "4/0", "250 kcmil", "2.5 mm²", "2.5 sq mm", "ga", "# 0", "1/0 ga", ".5 mm2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseConductor(text)
		if err != nil {
			checkError(t, text, err)
			return
		}
		if area := float64(c.Area()); !(area > 0) || area > 2e-3 || !c.Known() {
			t.Fatalf("%q has the area %v", text, area)
		}
		back, err := ParseConductor(c.Show(MetricUnits))
		if err != nil || back != c {
			t.Fatalf("%q prints as %q, which reads as %v (%v)", text, c.Show(MetricUnits), back, err)
		}
	})
}

func checkError(t *testing.T, text string, err error) {
	t.Helper()
	var p *ParseError
	if !errors.As(err, &p) {
		t.Fatalf("%q: %T is not a *ParseError", text, err)
	}
	if p.Offset < 0 || p.Length < 0 || p.Offset+p.Length > len(p.Text) || p.Message == "" || p.Error() == "" {
		t.Fatalf("%q: bad error %+v", text, p)
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse(KindLength, "10-1/2 in"); err != nil {
			b.Fatal(err)
		}
	}
}
