package quantity

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// TestConversionFactors checks the units against the factors of NIST Special Publication 811, 2008 edition, appendix B.8
// (factors for units listed alphabetically), as recalled, to the seven digits printed there; a half unit of the last
// digit is allowed.
func TestConversionFactors(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		text   string
		si     float64
		digits int // digits printed; 0 for exact
	}{
		{KindLength, "1 in", 2.54e-2, 0},
		{KindLength, "1 ft", 3.048e-1, 0},
		{KindLength, "1 yd", 9.144e-1, 0},
		{KindArea, "1 in²", 6.4516e-4, 0},
		{KindArea, "1 ft²", 9.290304e-2, 0},
		{KindMass, "1 lb", 4.535924e-1, 7},
		{KindMass, "1 oz", 2.834952e-2, 7},
		{KindForce, "1 lbf", 4.448222, 7},
		{KindPressure, "1 psi", 6.894757e+3, 7},
		{KindPressure, "1 in H₂O", 2.490889e+2, 7},
		{KindAirFlow, "1 cfm", 4.719474e-4, 7},
		{KindIrradiance, "1 W/ft²", 1.076391e+1, 7},
		{KindSpeed, "1 in/min", 4.233333e-4, 7},
		{KindTorque, "1 lbf·ft", 1.355818, 7},
		{KindTorque, "1 lbf·in", 1.129848e-1, 7},
		{KindInertia, "1 lb·ft²", 4.214011e-2, 7},
		{KindShaftPower, "1 hp", 7.456999e+2, 7},
		{KindShaftPower, "1 PS", 7.354988e+2, 7},
		{KindSpeed, "1 ft/min", 5.08e-3, 0},
		{KindDuration, "1 min", 6.0e+1, 0},
		{KindDuration, "1 h", 3.6e+3, 0},
		{KindEnergy, "1 kWh", 3.6e+6, 0},
		{KindEnergy, "1 Wh", 3.6e+3, 0},
		{KindTemperatureRise, "1 °F", 5.555556e-1, 7},
	} {
		v, err := Parse(c.kind, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		got, _ := SI(v)
		allowed := 1e-12 * c.si
		if c.digits > 0 {
			allowed = 0.5 * math.Pow(10, math.Floor(math.Log10(c.si))-float64(c.digits-1))
		}
		if math.Abs(got-c.si) > allowed*1.0001 {
			t.Errorf("%s is %.10g in SI units, want %.7g", c.text, got, c.si)
		}
	}
	// Revolution per minute, 1.047198 E-01 rad/s: a Rotation counts revolutions, so 2π comes on top.
	if got := 2 * math.Pi * float64(RevPerMinute); math.Abs(got-1.047198e-1) > 0.5e-7 {
		t.Errorf("1 rpm is %g rad/s, want 1.047198e-1", got)
	}
	// Circular mil, 5.067075 E-10 m².
	if got := float64(CircularMil); math.Abs(got-5.067075e-10) > 0.5e-16 {
		t.Errorf("1 circular mil is %g m², want 5.067075e-10", got)
	}
	// The constants and the parser must agree.
	for _, c := range []struct {
		kind     Kind
		text     string
		constant Value
	}{
		{KindShaftPower, "1 hp", Horsepower}, {KindLength, "1 in", Inch}, {KindLength, "1 ft", Foot}, {KindArea, "1 in²", SquareInch}, {KindArea, "1 mm²", SquareMM},
		{KindRotation, "1 rpm", RevPerMinute}, {KindLinearResistance, "1 ohm/kft", OhmPerKilofoot}, {KindLinearResistance, "1 ohm/km", OhmPerKilometre},
		{KindTemperature, "212 °F", Fahrenheit(212)}, {KindTemperature, "40 °C", Celsius(40)}, {KindRatio, "1 %", Percent}, {KindCurrent, "1 mA", Milliampere},
	} {
		v, err := Parse(c.kind, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		got, _ := SI(v)
		want, _ := SI(c.constant)
		if math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s is %v, the constant %v", c.text, got, want)
		}
	}
}

// TestTemperatures checks fixed points that hold by the definition of the scales (NIST SP 811, B.8, footnotes).
func TestTemperatures(t *testing.T) {
	for _, c := range []struct {
		text    string
		celsius float64
	}{{"32 °F", 0}, {"212 °F", 100}, {"-40 °F", -40}, {"-40 °C", -40}, {"98.6 °F", 37}, {"75 °F", 23.888888889}, {"104F", 40}, {"0 C", 0}, {"40 deg C", 40}, {"-4 degF", -20}} {
		v, err := Parse(KindTemperature, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if got, _ := SI(v); math.Abs(got-c.celsius) > 1e-9 {
			t.Errorf("%s is %v °C, want %v", c.text, got, c.celsius)
		}
	}
	if got := Rise(Fahrenheit(104), Fahrenheit(86)); math.Abs(float64(got)-10) > 1e-9 {
		t.Errorf("104 °F is %v K above 86 °F, want 10", float64(got))
	}
	if got := Celsius(30).Warmer(10); got != 40 {
		t.Errorf("30 °C and 10 K more is %v", got)
	}
}

// TestParse lists the spellings that a shop writes, each with the SI value worked out by hand.
func TestParse(t *testing.T) {
	const in = 0.0254
	for _, c := range []struct {
		kind Kind
		text string
		si   float64
	}{
		{KindShaftPower, "3 hp", 2237.0996147}, {KindShaftPower, "3HP", 2237.0996147}, {KindShaftPower, "3 horsepower", 2237.0996147}, {KindShaftPower, "2.2 kW", 2200}, {KindShaftPower, "2.2kw", 2200},
		{KindShaftPower, "1/2 hp", 372.849935786}, {KindShaftPower, "1-1/2 hp", 1118.54980737}, {KindShaftPower, "1 1/2 hp", 1118.54980737}, {KindShaftPower, "1½ hp", 1118.54980737}, {KindShaftPower, "¾ hp", 559.274903679}, {KindShaftPower, "7.5 hp", 5592.749036787},
		{KindLength, "10-1/2 in", 10.5 * in}, {KindLength, "10 1/2 in", 10.5 * in}, {KindLength, `10-1/2"`, 10.5 * in}, {KindLength, `1/2"`, 0.5 * in}, {KindLength, "1/2 in", 0.5 * in}, {KindLength, "10½ in", 10.5 * in}, {KindLength, "10-½ in", 10.5 * in},
		{KindLength, `6' 2"`, 74 * in}, {KindLength, `6'2"`, 74 * in}, {KindLength, "6 ft 2 in", 74 * in}, {KindLength, "6ft2in", 74 * in}, {KindLength, `6' 2-1/2"`, 74.5 * in}, {KindLength, "35 ft", 10.668}, {KindLength, "35'", 10.668}, {KindLength, "35 feet", 10.668},
		{KindLength, "1e3 mm", 1}, {KindLength, "25.4mm", 0.0254}, {KindLength, "0.5 m", 0.5}, {KindLength, ".5 m", 0.5}, {KindLength, "2 yd", 1.8288}, {KindLength, "12 inches", 0.3048}, {KindLength, "7/8 in", 0.022225}, {KindLength, "5 cm", 0.05},
		{KindVoltage, "240 V", 240}, {KindVoltage, "240V", 240}, {KindVoltage, "240 volts", 240}, {KindVoltage, "240 VAC", 240}, {KindVoltage, "240 V AC", 240}, {KindVoltage, "7.2 kV", 7200}, {KindVoltage, "500 mV", 0.5},
		{KindCurrent, "13.2 A", 13.2}, {KindCurrent, "13.2A", 13.2}, {KindCurrent, "30 amps", 30}, {KindCurrent, "5 mA", 0.005}, {KindCurrent, "10 kA", 10000},
		{KindRotation, "1725 rpm", 28.75}, {KindRotation, "1725 RPM", 28.75}, {KindRotation, "1500 1/min", 25}, {KindRotation, "1500 r/min", 25}, {KindRotation, "1500 min-1", 25},
		{KindFrequency, "60 Hz", 60}, {KindFrequency, "60 cycles", 60}, {KindFrequency, "4 kHz", 4000}, {KindFrequency, "60~", 60},
		{KindRatio, "25 %", 0.25}, {KindRatio, "25%", 0.25}, {KindRatio, "0.25", 0.25}, {KindRatio, "1/4", 0.25}, {KindFactor, "1.15", 1.15}, {KindFactor, "115 %", 1.15}, {KindCount, "9", 9},
		{KindResistance, "0.8 ohm", 0.8}, {KindResistance, "0.8 Ω", 0.8}, {KindResistance, "0.8 \u2126", 0.8}, {KindResistance, "200 mΩ", 0.2}, {KindResistance, "2 Mohm", 2e6}, {KindResistance, "2 MΩ", 2e6}, {KindResistance, "50 kohm", 5e4}, {KindResistance, "5 megohms", 5e6}, {KindResistance, "100 Gohm", 1e11},
		{KindCapacitance, "1000 uF", 1e-3}, {KindCapacitance, "1000 µF", 1e-3}, {KindCapacitance, "1000 μF", 1e-3}, {KindCapacitance, "470 mfd", 470e-6}, {KindInductance, "2 mH", 2e-3},
		{KindTorque, "15 lb-ft", 15 * 1.3558179483314}, {KindTorque, "15 ft-lb", 15 * 1.3558179483314}, {KindTorque, "20 N·m", 20}, {KindTorque, "20 Nm", 20}, {KindTorque, "18 in-lb", 18 * 0.1129848290276},
		{KindDuration, "5 min", 300}, {KindDuration, "1 min 30 s", 90}, {KindDuration, "2 h", 7200}, {KindDuration, "20 ms", 0.02}, {KindMass, "2 lb 3 oz", 35 * 0.028349523125},
		{KindApparentPower, "25 kVA", 25000}, {KindLinearResistance, "1.24 ohm/kft", 1.24 / 304.8}, {KindLinearResistance, "1.24 ohm/1000 ft", 1.24 / 304.8}, {KindTemperatureRise, "40 K", 40}, {KindTemperatureRise, "40 °C", 40}, {KindTemperatureRise, "72 °F", 40},
		{KindSpeed, "4500 sfm", 22.86}, {KindSpeed, "30 m/s", 30}, {KindMoney, "350", 350}, {KindShaftPower, " 3  hp ", 2237.0996147}, {KindShaftPower, "3\u00a0hp", 2237.0996147}, {KindTemperature, "−10 °C", -10}, {KindTemperature, "+10 °C", 10},
		{KindLength, "-400 m", -400}, {KindCurrent, "1,5 A", math.NaN()}, {KindPower, "1,000 W", math.NaN()},
	} {
		v, err := Parse(c.kind, c.text)
		if math.IsNaN(c.si) {
			if err == nil {
				t.Errorf("%q is read as %v, want a refusal", c.text, v.Show(InchUnits))
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if got, _ := SI(v); math.Abs(got-c.si) > 1e-9*max(1e-6, math.Abs(c.si)) {
			t.Errorf("%q is %.12g in SI units, want %.12g", c.text, got, c.si)
		}
	}
}

// TestParseRefuses lists what is no quantity, with the part that is wrong.
func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		kind              Kind
		text, part, hint  string
		suggestion, where string
	}{
		{kind: KindVoltage, text: "240", part: "240", hint: "has no unit"},
		{kind: KindVoltage, text: "", part: "", hint: "is not a voltage"},
		{kind: KindVoltage, text: "V", part: "V", hint: "is not a voltage"},
		{kind: KindVoltage, text: "240 A", part: "A", hint: `has the unit "A"`},
		{kind: KindVoltage, text: "240 V 3", part: "3", hint: "has no unit"},
		{kind: KindVoltage, text: "240 V 3 V", part: "3 V", hint: "has more than one number"},
		{kind: KindVoltage, text: "240 Volt", part: "Volt", hint: `has the unit "Volt"`, suggestion: "V"},
		{kind: KindCurrent, text: "10 Ka", part: "Ka", hint: `has the unit "Ka"`, suggestion: "kA"},
		{kind: KindRotation, text: "1725 rmp", part: "rmp", hint: `has the unit "rmp"`, suggestion: "rpm"},
		{kind: KindShaftPower, text: "3 hpp", part: "hpp", hint: `has the unit "hpp"`, suggestion: "hp"},
		{kind: KindLength, text: "35 fet", part: "fet", hint: `has the unit "fet"`, suggestion: "ft"},
		{kind: KindLength, text: "1/0 in", part: "1/0 in", hint: "is not a length"},
		{kind: KindLength, text: "10--1 in", part: "10--1 in", hint: "is not a length"},
		{kind: KindLength, text: "1e999 m", part: "1e999 m", hint: "is not a length"},
		{kind: KindLength, text: "NaN m", part: "NaN m", hint: "is not a length"},
		{kind: KindLength, text: "inf m", part: "inf m", hint: "is not a length"},
		{kind: KindLength, text: "0x10 m", part: "x", hint: "has the unit"},
		{kind: KindLength, text: "1_000 m", part: "1_000 m", hint: "is not a length"},
		{kind: KindLength, text: "6 ft 30 s", part: "s", hint: "has the unit"},
		{kind: KindCurrent, text: "1,5 A", part: ",", hint: "has a comma"},
		{kind: KindTemperature, text: "75 K", part: "K", hint: "has the unit"},
	} {
		v, err := Parse(c.kind, c.text)
		var p *ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q is read as %v (%v), want a *ParseError", c.text, v, err)
			continue
		}
		if len(p.Message) < len(c.hint) || p.Message[:len(c.hint)] != c.hint {
			t.Errorf("%q: %q, want %q", c.text, p.Message, c.hint)
		}
		if p.Offset < 0 || p.Offset+p.Length > len(p.Text) {
			t.Errorf("%q: bytes %d to %d lie outside %q", c.text, p.Offset, p.Offset+p.Length, p.Text)
			continue
		}
		if got := p.Text[p.Offset : p.Offset+p.Length]; got != c.part {
			t.Errorf("%q: marks %q, want %q", c.text, got, c.part)
		}
		if c.suggestion != "" && p.Suggestion != c.suggestion {
			t.Errorf("%q: suggests %q, want %q", c.text, p.Suggestion, c.suggestion)
		}
	}
}

// TestParseList lists the ways in which nameplates print several values.
func TestParseList(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want []float64
	}{
		{KindVoltage, "230/460 V", []float64{230, 460}}, {KindVoltage, "230 / 460V", []float64{230, 460}}, {KindVoltage, "230 V / 460 V", []float64{230, 460}}, {KindVoltage, "230V/460V", []float64{230, 460}},
		{KindVoltage, "460 V", []float64{460}}, {KindVoltage, "208-230/460 V", []float64{230, 460}}, {KindVoltage, "200-240 V", []float64{240}}, {KindVoltage, "220-240/380-415 V", []float64{240, 415}}, {KindVoltage, "200–240 V", []float64{240}},
		{KindCurrent, "13.2/6.6 A", []float64{13.2, 6.6}}, {KindCurrent, "13.2 / 6.6 A", []float64{13.2, 6.6}}, {KindCurrent, "800 mA / 1.2 A", []float64{0.8, 1.2}}, {KindCurrent, "13.6-13.2/6.6 A", []float64{13.2, 6.6}},
		{KindVoltage, "200 V - 240 V", []float64{240}},
	} {
		list, err := ParseList(c.kind, c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		var got []float64
		for _, v := range list {
			si, _ := SI(v)
			got = append(got, si)
		}
		if len(got) != len(c.want) {
			t.Errorf("%q is %v, want %v", c.text, got, c.want)
			continue
		}
		for n := range got {
			if math.Abs(got[n]-c.want[n]) > 1e-12 {
				t.Errorf("%q is %v, want %v", c.text, got, c.want)
			}
		}
	}
	for _, c := range []struct{ text, part string }{{"", ""}, {"/ V", ""}, {"230/ V", ""}, {"230/460", "230/460"}, {"230-208/460 V", ""}, {"230 A/460 V", "A"}, {"230//460 V", ""}, {"230/4x60 V", "x"}, {"230 V/460 V/", ""}, {"-230/460 V", ""}, {"x-230 V", ""}} {
		list, err := ParseList(KindVoltage, c.text)
		var p *ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q is read as %v, want a *ParseError", c.text, list)
			continue
		}
		if p.Text != c.text || p.Offset < 0 || p.Length < 0 || p.Offset+p.Length > len(p.Text) {
			t.Errorf("%q: marks %d+%d of %q", c.text, p.Offset, p.Length, p.Text)
			continue
		}
		if got := p.Text[p.Offset : p.Offset+p.Length]; c.part != "" && got != c.part {
			t.Errorf("%q: marks %q, want %q", c.text, got, c.part)
		}
	}
}

// TestParseRanges: both ends of each connection of a plate, with either dash, and a single figure as both ends.
func TestParseRanges(t *testing.T) {
	for text, want := range map[string][]Range{
		"208-230/460 V":     {{Voltage(208), Voltage(230)}, {Voltage(460), Voltage(460)}},
		"220–240/380–415 V": {{Voltage(220), Voltage(240)}, {Voltage(380), Voltage(415)}},
		"230 V":             {{Voltage(230), Voltage(230)}},
	} {
		got, err := ParseRanges(KindVoltage, text)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%s: got %v (%v), want %v", text, got, err, want)
		}
	}
	if got, err := ParseRanges(KindCurrent, "13.6-13.2/6.6 A"); err != nil || len(got) != 2 || got[0] != (Range{Current(13.6), Current(13.2)}) {
		t.Errorf("a range of currents, largest first: got %v (%v)", got, err)
	}
}
