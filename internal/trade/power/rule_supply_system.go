package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// filterIn reports whether an interference filter leads to ground; where nothing is written it is taken to.
func filterIn(r Result) bool {
	switch r.Job.Drive.Filter.Value {
	case "none", "built in with link out":
		return false
	}
	return true
}

var filterOnUnearthed = explain.Rule[Result]{
	Name:     "filter-on-unearthed-supply",
	Title:    "the drive's filter is joined to ground on a supply that isn't",
	Why:      "at the first ground fault, which trips nothing there, the filter's capacitors get the full line voltage and burst",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("drive instructions for unearthed supplies"),
	Check: func(r Result, report *explain.Report) {
		if s := r.Job.Supply.System; s.Value == "unearthed" && filterIn(r) {
			report.At(s, explain.Say("the supply is unearthed and the drive's filter is joined to ground"),
				explain.Say("take the filter's link out as the drive's booklet shows and write filter: built in with link out; leakage is then {}", orLeak(r)))
		}
	},
}

// orLeak is the leakage with the link out, or words where it isn't known.
func orLeak(r Result) quantity.Value {
	if l := r.Job.Drive.LeakageOpen; l.Set {
		return l.Value
	}
	return quantity.Text("as its booklet says")
}

var filterOnCornerGrounded = explain.Rule[Result]{
	Name:     "filter-on-corner-grounded-supply",
	Title:    "the drive's filter is joined to ground on a corner-grounded supply",
	Why:      "one line stands at ground and the other at full line voltage against it, which many filters and surge arresters are not made for",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("drive instructions for corner-grounded supplies"),
	Check: func(r Result, report *explain.Report) {
		if s := r.Job.Supply.System; s.Value == "corner-grounded" && filterIn(r) {
			report.At(s, explain.Say("one corner of the supply is grounded and the drive's filter is joined to ground"),
				explain.Say("take the filter's link out unless the booklet allows this system at {}; leakage is then {}", orWord(knownVoltage(r)), orLeak(r)))
		}
	},
}

var neutralMissing = explain.Rule[Result]{
	Name:     "neutral-missing",
	Title:    "a load needs a neutral that doesn't reach the machine",
	Why:      "it would be fed between a live wire and ground, which puts its current on the casting",
	Severity: explain.Danger, Sets: onlyUS, Source: explain.NEC("250.6 and 250.142").Remembered(),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Supply
		c, plugged := catalogue.ReceptacleOf(string(s.Receptacle.Value))
		none := s.Neutral.Value == "no" || plugged && onCord(&r) && !c.Neutral
		if !none {
			return
		}
		for n := range r.Job.Loads {
			if l := &r.Job.Loads[n]; needsNeutral(l, r.Job) {
				report.At(l.Voltage, explain.Say("the {} needs {}, but no neutral reaches the machine", quantity.Text(loadName(l, n)), l.Voltage.Value),
					explain.Say("feed it by a transformer of {} to {} in the box, fused on both sides, or bring a neutral", orWord(knownVoltage(r)), l.Voltage.Value))
			}
		}
	},
}

var ventsInDust = explain.Rule[Result]{
	Name:     "vents-in-dust",
	Title:    "the box is open to dust that bridges or burns",
	Why:      "metal and grinding dust bridge the drive's terminals, wood dust blocks its fins and feeds a fire",
	Severity: explain.Must, Sets: explain.Everywhere, Source: explain.Practice("drives in shops: dust is what kills them"),
	Check: func(r Result, report *explain.Report) {
		c, dust := r.Job.Control.Cooling, r.Job.Shop.Dust
		if c.Value == "vents" && dust.Set && dust.Value != "clean" {
			report.At(c, explain.Say("the box has open vents in a shop with {} dust", dust.Value),
				explain.Say("use a sealed box with room to shed {}, or a fan with a filter on the side away from the dust, cleaned every week", orElse(r.Drive.Losses, "the drive's heat")))
		}
	},
}
