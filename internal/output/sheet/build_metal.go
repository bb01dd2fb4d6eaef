package sheet

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/drawing"
	"drivewright/internal/trade/metalwork"
)

// metal lays out what belongs to the machine's own metal: hole patterns and how they fit, places to shim. The bolts of the box stand with its place.
func (b *builder) metal() {
	m := &b.plan.Metal
	for n := range m.Patterns {
		b.pattern(&m.Patterns[n])
	}
	for n := range m.Matches {
		b.match(&m.Matches[n])
	}
	for n := range m.FitUps {
		b.fitUp(&m.FitUps[n])
	}
}

// pattern shows a hole pattern as its readings have it.
func (b *builder) pattern(r *metalwork.PatternResult) {
	name := string(r.Pattern.Name.Value)
	lead := fmt.Sprintf("Seen from the %s. %s beyond what the places need: that many check the others.", r.Side.Value, capital(many(int(r.Spare), "reading", "readings")))
	switch {
	case r.Lacking > 0:
		lead = fmt.Sprintf("Seen from the %s. The readings leave %s open: take the next ones below.", r.Side.Value, many(int(r.Lacking), "place", "places"))
	case !r.Fits:
		lead = fmt.Sprintf("Seen from the %s. The readings contradict one another by more than they may be off.", r.Side.Value)
	}
	b.section(2, "Pattern: "+name, lead)
	if r.Photo.Refused != "" {
		b.add(Caution{Severity: explain.Must, Text: sentence("the photo can't be used: " + r.Photo.Refused)})
	}
	b.values("", r.Side, r.Spread, r.Photo.Dot, r.Photo.Tap, r.Photo.Squashed, r.Photo.Camera)
	b.patternFigure(r, name)
	places := Table{Title: "Places of the holes", Head: []string{"hole", "across", "along", "may be off by, across", "along", "diameter", "bolt"}, Numeric: []bool{false, true, true, true, true, true, true}, Chosen: -1,
		Note: "Off by is the standard deviation: two thirds of the time a place is nearer than that."}
	for _, h := range r.Holes {
		if !h.Placed {
			places.Rows = append(places.Rows, []string{h.Name, "open", "open", "", "", shownOr(h.Hole.Across.Why(), b.units, "—"), shownOr(h.Hole.Bolt.Why(), b.units, "—")})
			continue
		}
		places.Rows = append(places.Rows, []string{h.Name, place(h.X.Value, b.units), place(h.Y.Value, b.units), shownOr(h.OffX.Why(), b.units, "—"), shownOr(h.OffY.Why(), b.units, "—"),
			shownOr(h.Hole.Across.Why(), b.units, "—"), shownOr(h.Hole.Bolt.Why(), b.units, "—")})
	}
	if len(places.Rows) > 0 {
		places.Head[1], places.Head[2] = "across, "+placeUnit(b), "along, "+placeUnit(b)
		b.add(places)
	}
	readings := Table{Title: "What is left of each reading", Head: []string{"reading", "between middles", "the pattern has more", "verdict"}, Numeric: []bool{false, true, true, false}, Chosen: -1}
	for n, x := range r.Readings {
		verdict := "agrees"
		switch {
		case !x.Used:
			verdict = "not used: " + x.Why
		case !x.Checked:
			verdict = "nothing checks it"
		case suspected(r, n):
			verdict = "likely the wrong one"
		case x.Sigmas > 3.3:
			verdict = "contradicts the others"
		}
		readings.Rows = append(readings.Rows, []string{x.Name, shownOr(x.Middles.Why(), b.units, "—"), shownOr(x.Left.Why(), b.units, "—"), verdict})
	}
	if len(readings.Rows) > 0 {
		b.add(readings)
	}
	next := Numbered{Title: "Measure these next"}
	for _, s := range r.Suspects {
		next.Items = append(next.Items, sentence("measure "+r.Readings[s.Reading].Name+" again: if the others are right the caliper shows "+shownOr(s.Should.Why(), b.units, "something else")))
	}
	for _, a := range r.Advised {
		text := a.From + " to " + a.To + ": " + a.For
		if a.Either > 0 && a.Or > 0 {
			text += "; it will read " + a.Either.Show(b.units) + " or " + a.Or.Show(b.units)
		}
		next.Items = append(next.Items, sentence(text))
	}
	if len(next.Items) > 0 {
		b.add(next)
	}
	if r.ByOrder {
		b.add(Paragraph{Text: "Distances alone don't say which way round a pattern goes: here the first three holes that don't lie in a row are taken anticlockwise. If they go clockwise on the metal, write the other side under seen from."})
	}
}

func placeUnit(b *builder) string {
	if b.units.String() == "inch" {
		return "in"
	}
	return "mm"
}

func suspected(r *metalwork.PatternResult, n int) bool {
	for _, s := range r.Suspects {
		if s.Reading == n {
			return true
		}
	}
	return false
}

// patternFigure draws the pattern with its readings.
func (b *builder) patternFigure(r *metalwork.PatternResult, name string) {
	p := drawing.Pattern{ID: "pattern-" + explain.Slug(name), Title: "The holes of the " + name + ", from the " + string(r.Side.Value)}
	at := map[string]int{}
	var said []string
	for _, h := range r.Holes {
		if !h.Placed {
			continue
		}
		at[h.Name] = len(p.Holes)
		p.Holes = append(p.Holes, drawing.PatternHole{Name: h.Name, X: mm(h.X.Value), Y: mm(h.Y.Value), Across: mm(h.Hole.Across.Value), OffX: mm(h.OffX.Value), OffY: mm(h.OffY.Value)})
		said = append(said, fmt.Sprintf("%s at %s, %s", h.Name, h.X.Value.Show(b.units), h.Y.Value.Show(b.units)))
	}
	if len(p.Holes) < 2 {
		return
	}
	for n, x := range r.Readings {
		from, ok := at[string(x.Reading.From.Value)]
		to, too := at[string(x.Reading.To.Value)]
		if ok && too && x.Used {
			p.Readings = append(p.Readings, drawing.PatternReading{From: from, To: to, Words: x.Reading.Reads.Value.Show(b.units), Wrong: suspected(r, n), Spare: !x.Checked})
		}
	}
	p.Alt = strings.Join(said, "; ")
	wide := drawing.DrawPattern(p, 165)
	p.ID += "-narrow"
	narrow := drawing.DrawPattern(p, 84)
	b.add(Figure{Figure: wide, Narrow: &narrow})
}

// match shows a pattern laid onto another.
func (b *builder) match(r *metalwork.MatchResult) {
	title := fmt.Sprintf("Fit: %s onto %s", r.Part, r.Onto)
	if r.Wanting != "" {
		b.section(2, title, sentence("can't be tried yet: "+r.Wanting))
		return
	}
	lead := "Every bolt goes in as the holes are"
	if !r.Fits {
		lead = "Not every bolt goes in as the holes are"
	}
	lead += ", with the part " + r.Turn
	if r.Mirrored {
		lead += " and its other face down"
	}
	b.section(2, title, lead+".")
	t := Table{Head: []string{"hole", "over", "out of line", "room for the bolt", "what to do"}, Numeric: []bool{false, false, true, true, false}, Chosen: -1,
		Note: "Out of line is the distance of the two middles; the bolt goes in where that is no more than its room."}
	for _, j := range r.Joints {
		action := j.Action.String()
		if j.Action == metalwork.SlotIt {
			action += fmt.Sprintf(" %s longer, towards %s across and %s along", shownOr(j.Slot.Why(), b.units, "—"), j.OffX.Show(b.units), j.OffY.Show(b.units))
		}
		t.Rows = append(t.Rows, []string{j.Hole, j.Onto, shownOr(j.Off.Why(), b.units, "—"), shownOr(j.Room.Why(), b.units, "—"), action})
	}
	b.add(t)
	b.values("", r.Worst)
	if r.Ways > 1 {
		b.add(Paragraph{Text: sentence(fmt.Sprintf("it goes on in %s equally well; the others: %s. Mark which way it is up", many(int(r.Ways), "way", "ways"), strings.Join(r.Others, "; ")))})
	}
	if len(r.Left) > 0 {
		b.add(Paragraph{Text: "Nothing of the part comes over: " + listed(r.Left) + "."})
	}
}

// fitUp shows what goes under a part, or comes off.
func (b *builder) fitUp(r *metalwork.FitUpResult) {
	if r.Wanting != "" {
		b.section(2, "Fit-up: "+r.Group, sentence("can't be worked out yet: "+r.Wanting))
		return
	}
	lead := "What to put under each place, or take off, so that the part sits without rocking or being bent by its bolts."
	if len(r.Stands) > 0 {
		lead += " With nothing under it, it stands on " + listed(r.Stands) + "."
	}
	b.section(2, "Fit-up: "+r.Group, lead)
	b.values("", r.Unflat)
	t := Table{Head: []string{"place", "shim", "skim"}, Numeric: []bool{false, true, true}, Chosen: -1, Note: "Loosen one bolt at a time with a dial on the foot: what still springs up is still bent."}
	for _, p := range r.Places {
		t.Rows = append(t.Rows, []string{p.Name, orNothing(p.Shim.Value > 0, p.Shim.Why(), b), orNothing(p.Skim.Value > 0, p.Skim.Why(), b)})
	}
	b.add(t)
}

func orNothing(there bool, r *explain.Reason, b *builder) string {
	if !there {
		return "—"
	}
	return r.Show(b.units)
}

// bolted shows the bolts that hold the box.
func (b *builder) bolted() {
	r := &b.plan.Metal.Bolted
	if !r.Asked {
		return
	}
	lead := "Every bolt and every thread carries what comes to it."
	switch {
	case r.Wanting != "":
		lead = sentence("the loads can't be worked out yet: " + r.Wanting)
	case !r.Enough:
		lead = "The bolts as they stand are not enough: see what is proposed."
	}
	b.section(2, "Bolts that hold the box", lead)
	b.add(Caution{Severity: explain.Must, Text: "Before a casting is drilled: what is behind it? Ribs, oil and bearings are where nobody expects them. Use existing bosses where you can; cast iron cracks at an edge, and a bolt too long bottoms and lifts the box off."})
	b.values("What they carry", r.Base, r.HeldBy, r.Weight, r.Shake, r.Overhang, r.Lean, r.Height, r.Load, r.Tipping, r.Worst)
	if len(r.Bolts) > 0 {
		t := Table{Head: []string{"bolt", "size", "shear", "pull", "used", "thread holds", "of it used", "tighten to"}, Numeric: []bool{false, false, true, true, true, true, true, true}, Chosen: -1,
			Note: "Used is the stress against the bolt's proof strength; the thread's share is its pull against what the metal's thread gives."}
		for _, l := range r.Bolts {
			t.Rows = append(t.Rows, []string{l.Name, string(l.Bolt.Size.Value), shownOr(l.Shear.Why(), b.units, "—"), shownOr(l.Pull.Why(), b.units, "—"), shownOr(l.Used.Why(), b.units, "—"),
				shownOr(l.PullOut.Why(), b.units, "—"), shownOr(l.ThreadUsed.Why(), b.units, "—"), shownOr(l.Torque.Why(), b.units, "—")})
		}
		b.add(t)
		b.boltFigure(r)
	}
	if len(r.Proposed) > 0 {
		t := Table{Title: "Bolts that would carry it", Head: []string{"size", "across", "up from the lower edge"}, Numeric: []bool{false, true, true}, Chosen: -1}
		for _, p := range r.Proposed {
			t.Rows = append(t.Rows, []string{p.Size, p.X.Show(b.units), p.Y.Show(b.units)})
		}
		b.add(t)
	}
}

// boltFigure draws the bolts with the shear that each takes.
func (b *builder) boltFigure(r *metalwork.BoltResult) {
	p := drawing.Pattern{ID: "bolts", Title: "The bolts, with the shear that each takes"}
	var said []string
	for _, l := range r.Bolts {
		if !l.Bolt.X.Set || !l.Bolt.Y.Set {
			continue
		}
		h := drawing.PatternHole{Name: l.Name, X: mm(l.Bolt.X.Value), Y: mm(l.Bolt.Y.Value), Across: mm(l.Across.Value)}
		if l.Shear.OK() {
			h.PullX, h.PullY = float64(l.ShearX), float64(l.ShearY)
			h.Words = l.Shear.Value.Show(b.units)
			said = append(said, l.Name+" takes "+h.Words)
		}
		p.Holes = append(p.Holes, h)
	}
	if len(p.Holes) < 2 {
		return
	}
	p.Alt = strings.Join(said, "; ")
	wide := drawing.DrawPattern(p, 165)
	p.ID += "-narrow"
	narrow := drawing.DrawPattern(p, 84)
	b.add(Figure{Figure: wide, Narrow: &narrow})
}
