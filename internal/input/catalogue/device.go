package catalogue

import (
	_ "embed"
	"slices"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed device_rating.csv
var deviceRatingFile string

//go:embed device_rating_iec.csv
var deviceRatingIECFile string

//go:embed device_small_conductor.csv
var deviceSmallConductorFile string

//go:embed device_motor.csv
var deviceMotorFile string

// Ratings is a list of standard ratings of overcurrent devices, smallest first.
type Ratings struct {
	amperes []quantity.Current
	fuse    []quantity.Current // those of fuses, the ratings that only fuses have among them
	Source  explain.Source
}

// For returns the ratings of fuses or of breakers, smallest first. The caller may change the slice.
func (r Ratings) For(fuse bool) []quantity.Current {
	if fuse {
		return slices.Clone(r.fuse)
	}
	return slices.Clone(r.amperes)
}

// AtLeast returns the smallest standard rating that is not below i; false above the list.
func (r Ratings) AtLeast(i quantity.Current, fuse bool) (quantity.Current, bool) {
	for _, rating := range r.list(fuse) {
		if rating >= i*(1-1e-9) { // 125 % of 24 A computed as 30.000000001 A is still 30 A
			return rating, true
		}
	}
	return 0, false
}

// AtMost returns the largest standard rating that is not above i; false below the list.
func (r Ratings) AtMost(i quantity.Current, fuse bool) (quantity.Current, bool) {
	list := r.list(fuse)
	for n := len(list) - 1; n >= 0; n-- {
		if list[n] <= i*(1+1e-9) {
			return list[n], true
		}
	}
	return 0, false
}

// Standard reports whether i is one of the standard ratings.
func (r Ratings) Standard(i quantity.Current, fuse bool) bool {
	return slices.Contains(r.list(fuse), i)
}

func (r Ratings) list(fuse bool) []quantity.Current {
	if fuse {
		return r.fuse
	}
	return r.amperes
}

func ratingsOf(text string) Ratings {
	t := dataFile(text)
	r := Ratings{Source: t.sourceOf(0, "")}
	for row := range t.rows {
		a := t.figure(row, "amperes")
		r.fuse = append(r.fuse, quantity.Current(a))
		if t.text(row, "devices") == "any" {
			r.amperes = append(r.amperes, quantity.Current(a))
		}
	}
	return r
}

var (
	usRatings  = sync.OnceValue(func() Ratings { return ratingsOf(deviceRatingFile) })
	iecRatings = sync.OnceValue(func() Ratings { return ratingsOf(deviceRatingIECFile) })
)

// USRatings returns the standard ratings of fuses and inverse time breakers. Source: NFPA 70, 240.6(A).
func USRatings() Ratings { return usRatings() }

// IECRatings returns the preferred rated currents of miniature circuit-breakers. Source: IEC 60898-1.
func IECRatings() Ratings { return iecRatings() }

var smallConductors = sync.OnceValue(func() map[quantity.Conductor]cited[quantity.Current] {
	t := dataFile(deviceSmallConductorFile)
	m := map[quantity.Conductor]cited[quantity.Current]{}
	for row := range t.rows {
		name := t.text(row, "size")
		m[sizeOf(name)] = cite(t, row, "amperes", name+" AWG copper", func(n float64) quantity.Current { return quantity.Current(n) })
	}
	return m
})

// SmallConductorDevice returns the largest overcurrent device of a 14, 12 or 10 AWG copper conductor; false for other sizes,
// which have no such limit. Source: NFPA 70, 240.4(D).
func SmallConductorDevice(size quantity.Conductor) (quantity.Current, explain.Source, bool) {
	c := smallConductors()[size]
	return c.value, c.source, c.there
}

// MotorDevice is the limit on a motor's branch-circuit device, as a part of the motor's table current.
type MotorDevice struct {
	Percent quantity.Ratio // the next standard rating above is allowed, 430.52(C)(1)(a)
	// Exception is the most under 430.52(C)(1)(b), Exception 2 until 2020, where the ordinary limit will not carry the starting current; 0 if there is none.
	Exception quantity.Ratio
	Source    explain.Source
}

var motorDevices = sync.OnceValue(func() map[string]MotorDevice {
	t := dataFile(deviceMotorFile)
	m := map[string]MotorDevice{}
	for row := range t.rows {
		percent, ok := t.number(row, "percent")
		if !ok {
			continue
		}
		exception := t.figure(row, "exception percent")
		name := t.text(row, "device")
		m[name] = MotorDevice{quantity.Ratio(percent) * quantity.Percent, quantity.Ratio(exception) * quantity.Percent, t.sourceOf(row, name)}
	}
	return m
})

// MotorDeviceOf returns the limit on the branch-circuit device of an AC polyphase motor by the kind of device, named as the
// job file names it; false for a kind that the table doesn't have. Source: NFPA 70, Table 430.52(C)(1).
func MotorDeviceOf(kind string) (MotorDevice, bool) {
	d, ok := motorDevices()[kind]
	return d, ok
}

// IsFuse reports whether the kind of device, named as the job file names it, is a fuse.
func IsFuse(kind string) bool {
	switch kind {
	case "time-delay fuse", "non-time-delay fuse", "semiconductor fuse", "class J fuse", "class CC fuse":
		return true
	}
	return false
}
