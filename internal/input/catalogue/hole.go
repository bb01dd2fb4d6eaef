package catalogue

import (
	_ "embed"
	"fmt"
	"math"
	"strings"
	"sync"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

//go:embed clearance_hole.csv
var clearanceHoleFile string

//go:embed tap_drill.csv
var tapDrillFile string

//go:embed knockout.csv
var knockoutFile string

//go:embed cable_entry.csv
var cableEntryFile string

// ClearanceHole is the hole for a screw to go through.
type ClearanceHole struct {
	Screw, Fit string // "No. 10", "normal"
	Drill      string // name of the inch drill; "" for a metric screw
	Across     quantity.Length
	Source     explain.Source
}

var clearanceHoles = sync.OnceValue(func() []ClearanceHole {
	return eachRow(clearanceHoleFile, func(t table, row int) ClearanceHole {
		screw, fit := t.text(row, "screw"), t.text(row, "fit")
		s := t.sourceOf(row, screw+", "+fit+" fit")
		if strings.HasPrefix(screw, "M") {
			s.Work, s.Edition = "ISO 273", "1979"
		} else {
			s.Work, s.Edition = "ASME B18.2.8", "1999"
		}
		return ClearanceHole{screw, fit, t.text(row, "drill"), quantity.Length(t.figure(row, "mm")) * quantity.Millimetre, s}
	})
})

// ClearanceHoleFor returns the clearance hole of a screw ("No. 10", "1/4", "M5") in a fit (close, normal, loose); false if the table has none.
func ClearanceHoleFor(screw, fit string) (ClearanceHole, bool) {
	for _, h := range clearanceHoles() {
		if h.Screw == screw && h.Fit == fit {
			return h, true
		}
	}
	return ClearanceHole{}, false
}

// TapHole is a thread and the hole it is cut in.
type TapHole struct {
	Thread       string // "10-32", "M5"
	Major, Pitch quantity.Length
	Drill        string // name of the inch drill; "" for a metric thread
	Across       quantity.Length
	Source       explain.Source
}

var tapHoles = sync.OnceValue(func() []TapHole {
	return eachRow(tapDrillFile, func(t table, row int) TapHole {
		mm := func(column string) quantity.Length {
			return quantity.Length(t.figure(row, column)) * quantity.Millimetre
		}
		return TapHole{t.text(row, "thread"), mm("major"), mm("pitch"), t.text(row, "drill"), mm("mm"), t.sourceOf(row, t.text(row, "thread"))}
	})
})

// TapHoleFor returns the thread of the name, or the usual one of a screw size: 10-32 for No. 10, 1/4-20 for 1/4; false if the table
// has none.
func TapHoleFor(thread string) (TapHole, bool) {
	if usual, ok := usualThread[thread]; ok {
		thread = usual
	}
	for _, h := range tapHoles() {
		if h.Thread == thread {
			return h, true
		}
	}
	return TapHole{}, false
}

// usualThread is the thread that panel screws of a size have; common practice.
var usualThread = map[string]string{"No. 6": "6-32", "No. 8": "8-32", "No. 10": "10-32", "1/4": "1/4-20", "5/16": "5/16-18", "3/8": "3/8-16"}

// EntryHole is the hole for a conduit fitting or a cable gland.
type EntryHole struct {
	Size                 string          // trade size "3/4" or thread "M25"
	Across, Least, Most  quantity.Length // Least and Most are 0 where no limits are known
	Nut                  quantity.Length // of the locknut, over its corners
	CableFrom, CableUpTo quantity.Length // cable diameters that a metric gland takes; 0 for a conduit fitting
	Source               explain.Source
}

var entryHoles = sync.OnceValue(func() []EntryHole {
	list := eachRow(knockoutFile, func(t table, row int) EntryHole {
		in := func(column string) quantity.Length { return quantity.Length(t.figure(row, column)) * quantity.Inch }
		return EntryHole{Size: t.text(row, "size"), Across: in("nominal"), Least: in("least"), Most: in("most"), Nut: in("locknut"), Source: t.sourceOf(row, "trade size "+t.text(row, "size"))}
	})
	return append(list, eachRow(cableEntryFile, func(t table, row int) EntryHole {
		mm := func(column string) quantity.Length {
			return quantity.Length(t.figure(row, column)) * quantity.Millimetre
		}
		return EntryHole{Size: t.text(row, "size"), Across: mm("shop"), Least: mm("standard"), Most: mm("shop") + 0.5*quantity.Millimetre, Nut: mm("nut"), CableFrom: mm("least cable"), CableUpTo: mm("most cable"),
			Source: t.sourceOf(row, t.text(row, "size"))}
	})...)
})

// EntryHoleFor returns the hole of a trade size ("3/4") or metric entry thread ("M25"); false if the table has none.
func EntryHoleFor(size string) (EntryHole, bool) {
	for _, h := range entryHoles() {
		if h.Size == size {
			return h, true
		}
	}
	return EntryHole{}, false
}

// EntryFor returns the smallest entry of a family (metric glands or trade sizes) that a cable of the diameter goes through; for trade sizes the
// cable may fill three quarters of the hole, which its fitting and bushing leave; false if none is large enough.
func EntryFor(cable quantity.Length, metric bool) (EntryHole, bool) {
	for _, h := range entryHoles() {
		if metric != strings.HasPrefix(h.Size, "M") {
			continue
		}
		if metric && cable <= h.CableUpTo || !metric && cable <= 0.75*h.Across {
			return h, true
		}
	}
	return EntryHole{}, false
}

//go:embed drill.csv
var drillFile string

// Drill is one twist drill.
type Drill struct {
	Name   string // "7/32 in", "No. 21", "letter F", "4.2 mm"
	Across quantity.Length
	Metric bool
	Source explain.Source
}

// drills are all of them by size: fractions of an inch from 1/16 to 1/2 in by 64ths, numbers, letters, and metric ones from 1 to 13 mm by
// tenths.
var drills = sync.OnceValue(func() []Drill {
	list := eachRow(drillFile, func(t table, row int) Drill {
		name := "letter " + t.text(row, "size")
		if t.text(row, "series") == "number" {
			name = "No. " + t.text(row, "size")
		}
		return Drill{Name: name, Across: quantity.Length(t.figure(row, "inches")) * quantity.Inch, Source: t.sourceOf(row, name)}
	})
	for n := 4; n <= 32; n++ {
		over, under := n, 64
		for over%2 == 0 {
			over, under = over/2, under/2
		}
		list = append(list, Drill{Name: fmt.Sprintf("%d/%d in", over, under), Across: quantity.Length(n) / 64 * quantity.Inch, Source: explain.Physics("fractions of an inch")})
	}
	for n := 10; n <= 130; n++ {
		list = append(list, Drill{Name: fmt.Sprintf("%g mm", float64(n)/10), Across: quantity.Length(n) / 10 * quantity.Millimetre, Metric: true, Source: explain.Physics("tenths of a millimetre")})
	}
	return list
})

// NearestDrill returns the drill of the set (inch, metric or both) that is nearest to the diameter and not below least; false if none
// is, up to 13 mm. Of two equally near ones it takes a fraction before a number or letter.
func NearestDrill(across, least quantity.Length, inch, metric bool) (Drill, bool) {
	var best Drill
	found := false
	for _, d := range drills() {
		if d.Metric && !metric || !d.Metric && !inch || d.Across < least-1e-6 {
			continue
		}
		off, was := math.Abs(float64(d.Across-across)), math.Abs(float64(best.Across-across))
		if !found || off < was-1e-7 || off < was+1e-7 && strings.HasSuffix(d.Name, " in") {
			best, found = d, true
		}
	}
	if !found || best.Across > across+quantity.Millimetre {
		return Drill{}, false
	}
	return best, true
}
