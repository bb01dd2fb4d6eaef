package power

import (
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

const standardMotor = "motor: {power: 2 hp, voltage: 230/460 V, current: 6.0/3.0 A, frequency: 60 Hz, speed: 1740 rpm}\n"

// TestOwnDriveGain: what the user's own drive can put on the motor, by what is written of it.
func TestOwnDriveGain(t *testing.T) {
	for _, c := range []struct {
		what, supply, drive string
		want                quantity.Voltage
	}{
		{"a plain drive follows its supply", "voltage: 236 V", "input voltage: 200-240 V, output voltage: 240 V, output current: 7 A", 236},
		{"a doubler by its two voltages", "voltage: 118 V", "input voltage: 100-120 V, output voltage: 240 V, output current: 7 A", 236},
		{"a doubler by its output alone", "voltage: 120 V", "output voltage: 230 V, output current: 7 A", 240},
		{"nothing but amperes: it makes no more than it is fed", "voltage: 120 V", "output current: 7 A", 120},
		{"a three-phase-input drive on one phase", "voltage: 240 V, phases: 1", "input phases: 3, output current: 14 A", 240 * 0.908},
		{"the same on three", "voltage: 240 V, phases: 3", "input phases: 3, output current: 14 A", 240},
	} {
		r := Size(motorJob(t, "drivewright: 1\nsupply: {"+c.supply+"}\n"+standardMotor+"drive: {"+c.drive+"}\n"))
		near(t, c.what, r.Voltage.Available, c.want, 0.001)
	}
}

// TestOwnDriveInput: the rated input current of the user's own drive, by what is written of it. The factors are 2.1 without a choke,
// 1.8 with one (from memory), 1.5 on three phases, and twice the three-phase figure at the same output (a maker's manual).
func TestOwnDriveInput(t *testing.T) {
	for _, c := range []struct {
		what, phases, drive string
		want                quantity.Current
		origin              explain.Origin
	}{
		{"as the data sheet says", "1", "input phases: 1, output current: 7 A, input current: 15.6 A", 15.6, explain.Given},
		{"estimated from the output", "1", "input phases: 1, output current: 7 A", 14.7, explain.Derived},
		{"estimated with a choke", "1", "input phases: 1, output current: 7 A, choke: 5 % line reactor", 12.6, explain.Derived},
		{"a three-phase figure, at half the output", "1", "input phases: 3, output current: 14 A, input current: 17 A", 17, explain.Derived},
		{"the maker's single-phase figures", "1", "input phases: 3, output current: 14 A, single-phase output current: 8 A, input current: 19 A", 19, explain.Given},
		{"on three phases", "3", "input phases: 3, output current: 10 A", 15, explain.Derived},
	} {
		r := Size(motorJob(t, "drivewright: 1\nsupply: {voltage: 240 V, phases: "+c.phases+"}\n"+standardMotor+"drive: {"+c.drive+"}\n"))
		near(t, c.what, r.Drive.Input, c.want, 0.001)
		if got := r.Drive.Input.Why().Origin; got != c.origin {
			t.Errorf("%s: got origin %s, want %s", c.what, got, c.origin)
		}
	}
}

// TestOneGivenFigureReplacesTheTypical: a single figure of the data sheet takes the typical one's place, the others stay typical.
func TestOneGivenFigureReplacesTheTypical(t *testing.T) {
	r := Size(motorJob(t, "drivewright: 1\nsupply: {voltage: 240 V}\n"+standardMotor+"drive: {losses: 91 W, overload: 180 %, discharge time: 8 min}\n"))
	if r.Drive.Own {
		t.Error("losses alone were taken for a drive of the user's own")
	}
	near(t, "losses", r.Drive.Losses, 91, 0)
	near(t, "overload", r.Drive.Overload, 1.8, 1e-9)
	near(t, "wait", r.Discharge.Wait, 480, 0)
	if o := r.Drive.Input.Why().Origin; o != explain.Catalogue {
		t.Errorf("input current: got origin %s, want a typical part's", o)
	}
	if p := r.Drive.Input.Why().Path; p != "drive.input current" {
		t.Errorf("a typical figure must say where the real one is written: got %q", p)
	}
}

// TestQuotedPricesReplaceTypicalOnes: what the user was quoted stands in the comparison.
func TestQuotedPricesReplaceTypicalOnes(t *testing.T) {
	r := Size(motorJob(t, "drivewright: 1\nsupply: {voltage: 240 V}\n"+standardMotor+"costs: {single-phase drive: 199, rotary converter: 777}\n"))
	for _, w := range r.Ways {
		quoted := w.Name == "single-phase-input drive" || w.Name == "rotary converter"
		if w.PriceQuoted != quoted {
			t.Errorf("%s: quoted %v, want %v", w.Name, w.PriceQuoted, quoted)
		}
		if w.Name == "rotary converter" && w.Price != quantity.Value(quantity.Money(777)) {
			t.Errorf("rotary converter: got %v, want 777", w.Price)
		}
	}
}

// TestShortTimeRatings: a motor rated for minutes may run for them in the hour at full load, longer at less.
func TestShortTimeRatings(t *testing.T) {
	for _, c := range []struct {
		rating, duty, load string
		trips              bool
	}{
		{"continuous", "100 %", "100 %", false}, {"60 min", "100 %", "100 %", true}, {"60 min", "90 %", "100 %", false}, {"60 min", "100 %", "50 %", false},
		{"30 min", "50 %", "100 %", true}, {"30 min", "40 %", "100 %", false}, {"15 min", "40 %", "100 %", true}, {"5 min", "5 %", "100 %", false}, {"5 min", "25 %", "100 %", true},
	} {
		text := strings.Replace(standardMotor, "speed: 1740 rpm", "speed: 1740 rpm, time rating: "+c.rating, 1)
		r := Size(motorJob(t, "drivewright: 1\nmachine: {duty: "+c.duty+", load: "+c.load+"}\nsupply: {voltage: 240 V}\n"+text))
		if got := tripped(r)["time-rated-motor-run-longer"]; got != c.trips {
			t.Errorf("rated %s, duty %s, load %s: reported %v, want %v", c.rating, c.duty, c.load, got, c.trips)
		}
	}
}
