package prove

import (
	"math"

	"drivewright/internal/base/quantity"
)

// What a hand meter shows. Source: common practice; hand meters state 0.5 to 1.5 % and a few digits on their resistance
// ranges, and their leads have 0.2 to 0.5 ohm.
const (
	meterAccuracy = 0.015
	meterBelow    = 0.3 // ohm that it may show too little
	meterAbove    = 0.7 // ohm that it may show too much: its leads, and the contacts on the way
	joinedMost    = 2.0 // ohm that wires, closed contacts and leads may show together
	openLeast     = 500e3
	readableMost  = 200e3 // above it damp hands on the probes are as good as the circuit
	clearOhms     = 1.0   // how far outside the band a wrong value must lie to count as one that is seen
	clearPart     = 0.05
)

// shownLeast and shownMost are what a meter may show for a resistance.
func shownLeast(ohms float64) float64 { return max(0, ohms*(1-meterAccuracy)-meterBelow) }
func shownMost(ohms float64) float64  { return ohms*(1+meterAccuracy) + meterAbove }

// sort says what kind of reading a span gives.
func (s span) joined() bool { return s.most == 0 }
func (s span) open() bool   { return math.IsInf(s.least, 1) }

// useful reports whether a healthy reading of the span can be judged at all: joined, open, a readable resistance, or something
// that nobody can know but that is no short.
func (s span) useful() bool {
	return s.joined() || s.open() || s.most <= readableMost || math.IsInf(s.most, 1) && s.least <= readableMost
}

// shown returns the values that are right where the span is healthy.
func (s span) shown() (least, most float64) {
	switch {
	case s.joined():
		return 0, joinedMost
	case s.open():
		return openLeast, math.Inf(1)
	}
	return shownLeast(s.least), shownMost(s.most)
}

// tells reports whether a meter that finds wrong where healthy is expected surely shows so: what it may show lies clear of what
// is right.
func (b *deadBox) tells(healthy, wrong span) bool {
	least, most := healthy.shown()
	if healthy.joined() {
		most += b.wires
	}
	if wrong.least > healthy.most { // higher than it should be
		return shownLeast(wrong.least) > most*(1+clearPart)+clearOhms
	}
	if wrong.most < healthy.least {
		wrong := shownMost(wrong.most)
		return wrong+b.wires < least*(1-clearPart)-clearOhms
	}
	return false
}

// band makes the printed band of a healthy span; more is the resistance of long wires on the way, nominal what is between the
// probes when every part has its rated value.
func (s span) band(more, nominal float64) Band {
	least, most := s.shown()
	switch {
	case s.joined():
		return Band{Continuity: true, Most: quantity.Resistance(most + more)}
	case s.open():
		return Band{Open: true, Least: openLeast, Most: quantity.Resistance(math.Inf(1)), Nominal: quantity.Resistance(math.Inf(1))}
	case math.IsInf(s.most, 1):
		return Band{OrOpen: true, Least: quantity.Resistance(least), Most: quantity.Resistance(most), Nominal: quantity.Resistance(math.Inf(1))}
	}
	if math.IsNaN(nominal) {
		nominal = 0
	}
	return Band{Least: quantity.Resistance(least), Most: quantity.Resistance(most + more), Nominal: quantity.Resistance(nominal)}
}
