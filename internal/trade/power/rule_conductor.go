package power

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// onlyUS is the set of rules that stand in NFPA 70 or NFPA 79 alone.
var onlyUS = []explain.RuleSet{explain.US}

var conductorTooSmall = explain.Rule[Result]{
	Name:     "conductor-too-small",
	Title:    "the branch conductor carries less than the drive asks for",
	Why:      "a single-phase drive draws about twice the motor's current; the wire in the wall runs hot all day and can start a fire",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.NEC("430.122(A)"),
	Check: func(r Result, report *explain.Report) {
		b := r.Branch
		if b.tooSmall() && !b.wouldPassOtherwise(r) {
			report.At(r.Job.Supply.Conductor,
				explain.Say("{} carries {} here, but the drive's input of {} asks for {}", b.Conductor.Value, b.Ampacity.Value, b.Current.Value, b.Least.Value),
				sayConductor(b), seeAlso(r.Drive.Input, "the drive's input is {} here")...)
		}
	},
}

// tooSmall reports whether the conductor in the wall carries less than is asked for.
func (b Branch) tooSmall() bool {
	return b.Existing && b.Ampacity.OK() && b.Least.OK() && !covers(b.Ampacity.Value, b.Least.Value)
}

// wouldPassOtherwise reports whether one circumstance alone, of those that the next rules name, makes the conductor too small:
// the rule that names it then speaks, and the general one is silent.
func (b Branch) wouldPassOtherwise(r Result) bool {
	for _, circumstance := range []func(Result) (quantity.Current, bool){inCoolAir, byItself, onMarkedTerminals, asSingleWires} {
		if _, ok := circumstance(r); ok {
			return true
		}
	}
	return false
}

// seeAlso points at the other place in the job file that a finding turns on; nothing where the value isn't written there.
func seeAlso(about explain.Because, words string) []explain.Related {
	place := explain.Place(about.Why())
	if place == nil || place.Value == nil {
		return nil
	}
	return []explain.Related{{Span: place.Span, Message: explain.Say(words, place.Value)}}
}

// sayConductor says which conductor would pass.
func sayConductor(b Branch) explain.Phrase {
	if !b.Smallest.OK() {
		return explain.Say("no conductor of the table passes: bring the circuit to the machine another way")
	}
	return explain.Say("run {} or thicker, or choose a drive that draws less", b.Smallest.Value)
}

// eitherOr joins two remedies.
func eitherOr(first, second explain.Phrase) explain.Phrase {
	return explain.Phrase{Format: first.Format + "; or " + second.Format, Values: slices.Concat(first.Values, second.Values)}
}

// passesWith is the ampacity that the conductor in the wall, which is too small, would have under other circumstances; false
// where it wouldn't pass under those either.
func passesWith(b Branch, letters, terminals quantity.Text, ambient quantity.Temperature, together quantity.Count) (quantity.Current, bool) {
	i, ok := catalogue.InsulationOf(string(letters))
	if !ok || !b.tooSmall() || !b.Device.OK() {
		return 0, false
	}
	amperes, ok := installed(b.Conductor.Value, i, columnOf(terminals), ambient, together)
	return amperes, ok && covers(amperes, b.Least.Value) && suits(b.Conductor.Value, amperes, b.Device.Value)
}

// inCoolAir is the ampacity with which the conductor would pass in air of 30 °C.
func inCoolAir(r Result) (quantity.Current, bool) {
	b := r.Branch
	if !b.Ambient.OK() || b.Ambient.Value <= 30 {
		return 0, false
	}
	return passesWith(b, b.Insulation.Value, b.Terminals.Value, 30, b.Together.Value)
}

// byItself is the ampacity with which the conductor would pass with no others along.
func byItself(r Result) (quantity.Current, bool) {
	b := r.Branch
	if !b.Together.OK() || b.Together.Value <= 3 {
		return 0, false
	}
	return passesWith(b, b.Insulation.Value, b.Terminals.Value, b.Ambient.Value, 3)
}

// onMarkedTerminals is the ampacity with which the conductor would pass if its unmarked terminals were marked 75 °C.
func onMarkedTerminals(r Result) (quantity.Current, bool) {
	b := r.Branch
	if r.Job.Supply.Terminals.Set || !b.Ambient.OK() {
		return 0, false
	}
	return passesWith(b, b.Insulation.Value, column75, b.Ambient.Value, b.Together.Value)
}

// asSingleWires is the ampacity with which house cable would pass if its wires lay in a raceway.
func asSingleWires(r Result) (quantity.Current, bool) {
	b, s := r.Branch, &r.Job.Supply
	if s.Insulation.Value != "NM-B" && s.Insulation.Value != "UF-B" || columnOf(b.Terminals.Value) < 75 {
		return 0, false
	}
	return passesWith(b, "THWN-2", b.Terminals.Value, b.Ambient.Value, b.Together.Value)
}

var conductorRunTooHot = explain.Rule[Result]{
	Name:     "conductor-run-too-hot",
	Title:    "heat along the run takes the conductor's margin away",
	Why:      "insulation in a hot attic or beside a furnace ages years in a season and then lets go",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("Table 310.15(B)(1)(1)"),
	Check: func(r Result, report *explain.Report) {
		b := r.Branch
		if cool, ok := inCoolAir(r); ok {
			report.At(b.Ambient, explain.Say("at {} along the run {} carries {}; in air of {} it would carry {}, and {} are asked for",
				b.Ambient.Value, b.Conductor.Value, b.Ampacity.Value, quantity.Celsius(30), cool, b.Least.Value),
				eitherOr(explain.Say("lead the run through cooler space"), sayConductor(b)))
		}
	},
}

var tooManyWiresTogether = explain.Rule[Result]{
	Name:     "too-many-wires-together",
	Title:    "wires together heat one another beyond what this conductor bears",
	Why:      "bundled wires can't shed their heat; the ones in the middle cook first and unseen",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("Table 310.15(C)(1)"),
	Check: func(r Result, report *explain.Report) {
		b := r.Branch
		if alone, ok := byItself(r); ok {
			report.At(b.Together, explain.Say("with {} wires together {} carries {}; with three or fewer it would carry {}, and {} are asked for",
				b.Together.Value, b.Conductor.Value, b.Ampacity.Value, alone, b.Least.Value),
				eitherOr(explain.Say("give this circuit a raceway of its own"), sayConductor(b)))
		}
	},
}

var terminalsUnproven = explain.Rule[Result]{
	Name:     "terminals-not-proven",
	Title:    "the conductor passes only if every terminal is marked 75 °C",
	Why:      "a terminal that runs hotter than it is made for loosens, arcs and burns the breaker or the drive",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("110.14(C)(1)(a)"),
	Check: func(r Result, report *explain.Report) {
		b := r.Branch
		if better, ok := onMarkedTerminals(r); ok {
			report.At(r.Job.Supply.Conductor, explain.Say("{} carries {} on unmarked terminals and {} on terminals marked 75 °C; {} are asked for",
				b.Conductor.Value, b.Ampacity.Value, better, b.Least.Value),
				eitherOr(explain.Say("look for 75 °C on the breaker, the receptacle and the drive and write terminals: 75 °C"), sayConductor(b)))
		}
	},
}

var terminalsMarkedTooHigh = explain.Rule[Result]{
	Name:     "terminals-marked-too-high",
	Title:    "terminals are taken for hotter than such terminals are",
	Why:      "90 °C is the number on the wire; breakers, receptacles and drives of this size are marked for 60 or 75 °C",
	Severity: explain.Check, Sets: onlyUS, Source: explain.NEC("110.14(C)"),
	Check: func(r Result, report *explain.Report) {
		if t := r.Job.Supply.Terminals; t.Set && t.Value > 75 {
			report.At(t, explain.Say("the terminals are said to be good for {}, but breakers and drives are marked for 60 or 75 °C", quantity.Text(t.Typed)),
				explain.Say("read the marking on the breaker, the receptacle and the drive; the sheet has counted with 75 °C"))
		}
	},
}

var cableSixtyColumn = explain.Rule[Result]{
	Name:     "cable-sixty-degree-column",
	Title:    "house cable is counted in a column that it may not use",
	Why:      "NM-B and UF-B may not run above 60 °C, whatever their wires and the terminals are marked",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("334.80 and 340.80").Remembered(),
	Check: func(r Result, report *explain.Report) {
		b, s := r.Branch, &r.Job.Supply
		if better, ok := asSingleWires(r); ok {
			report.At(s.Insulation, explain.Say("as {} the {} in the wall counts for {}, its 60 °C figure; as single wires in a raceway it would count for {}, and {} are asked for",
				s.Insulation.Value, b.Conductor.Value, b.Ampacity.Value, better, b.Least.Value), sayConductor(b))
		}
	},
}

var conductorNotCopper = explain.Rule[Result]{
	Name:     "conductor-not-copper",
	Title:    "aluminium conductors are not worked out here",
	Why:      "aluminium of the same size carries about a fifth less, and its joints loosen and burn unless made with listed parts",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.NEC("Table 310.16, aluminium columns; 110.14"),
	Check: func(r Result, report *explain.Report) {
		if m := r.Job.Supply.Metal; m.Set && m.Value != "copper" {
			report.At(m, explain.Say("the run is {}, and every figure here is for copper", m.Value),
				explain.Say("run copper of {} or thicker, or have an electrician size and join the aluminium", orWord(r.Branch.Smallest)))
		}
	},
}

// orWord is the value, or words that suit its kind where there is none.
func orWord[V quantity.Value](k explain.Known[V]) quantity.Value {
	switch quantity.KindOf[V]() {
	case quantity.KindConductor:
		return orElse(k, "the size that the code asks for")
	case quantity.KindResistance:
		return orElse(k, "0.1 to 0.5 Ω")
	case quantity.KindVoltage:
		return orElse(k, "the supply's voltage")
	default:
		return orElse(k, "the rating that the code asks for")
	}
}

// orElse is the value, or the words where there is none.
func orElse[V quantity.Value](k explain.Known[V], words quantity.Text) quantity.Value {
	if k.OK() {
		return k.Value
	}
	return words
}

var flexibleCordInWall = explain.Rule[Result]{
	Name:     "flexible-cord-in-wall",
	Title:    "flexible cord is used as fixed wiring",
	Why:      "cord in walls, ceilings and raceways is crushed and overheats, and no one sees it",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("400.12"),
	Check: func(r Result, report *explain.Report) {
		if i := r.Job.Supply.Insulation; i.Value == "SOOW" {
			report.At(i, explain.Say("the run to the machine is {}, which is cord and not wiring for a wall", i.Value),
				explain.Say("run building wire of {} in a raceway, or house cable; keep the cord for plug to box", orWord(r.Branch.Smallest)))
		}
	},
}

var conductorNotInTable = explain.Rule[Result]{
	Name:     "conductor-not-in-table",
	Title:    "the conductor's size isn't in the ampacity table",
	Why:      "branch conductors thinner than 14 AWG may not be used at all, and a size from another series can't be judged by this table",
	Severity: explain.Must, Sets: onlyUS, Source: explain.NEC("310.3(A) and Table 310.16").Remembered(),
	Check: func(r Result, report *explain.Report) {
		c := r.Job.Supply.Conductor
		if !c.Set {
			return
		}
		if _, _, ok := catalogue.Ampacity(c.Value, 60); !ok {
			report.At(c, explain.Say("{} has no place in the table of copper building wire, which begins at 14 AWG", c.Value), sayConductor(r.Branch))
		}
	},
}

var smallerDeviceSavesWire = explain.Rule[Result]{
	Name:     "smaller-breaker-saves-wire",
	Title:    "a smaller breaker would allow a thinner wire",
	Why:      "the wire is chosen for the breaker that is there; a smaller one carries the machine as well, and copper costs more than a breaker",
	Severity: explain.Note, Sets: onlyUS, Source: explain.NEC("240.4"),
	Check: func(r Result, report *explain.Report) {
		b, least, breaker := r.Branch, r.Protection.Least, r.Job.Supply.Breaker
		if b.Existing || !breaker.Set || !least.OK() || !b.Smallest.OK() || breaker.Value <= least.Value || !within(least.Value, r.Protection.ForSource) {
			return
		}
		thinner := explain.Derive[quantity.Conductor](smallestBranchConductor, "smallest conductor behind the smaller device", b.Least, least, b.Insulation, b.Terminals, b.Ambient, b.Together)
		if thinner.OK() && thinner.Value.Area() < b.Smallest.Value.Area()*(1-1e-6) {
			report.At(breaker, explain.Say("{} at the source asks for {}; one of {} carries the machine and allows {}", breaker.Value, b.Smallest.Value, least.Value, thinner.Value),
				explain.Say("change the breaker for {} and run {}, or keep the {} and run {}", least.Value, thinner.Value, breaker.Value, b.Smallest.Value))
		}
	},
}
