package sheet

import (
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/drawing"
	"drivewright/internal/trade/heat"
)

// heat lays out how warm it gets in the box and what to do about it.
func (b *builder) heat() {
	r := b.plan.Heat
	b.section(2, "Heat in the box", "In the hottest hour that the shop has, at the job's real load. It is reached after an hour or two: a box that is cool when it is shut says nothing.")
	if r == nil {
		b.add(Paragraph{Text: "The heat follows from the size of the box: write it under enclosure, or let the search above find one."})
		return
	}
	b.values("", r.Loss, r.Surface, r.Transfer, r.Cooling, r.Rise, r.Inside)
	if len(r.Unknown) > 0 {
		b.add(Paragraph{Text: sentence("not counted, because nobody knows their heat: " + listed(r.Unknown))})
	}
	if len(r.Flows) > 0 {
		wide, narrow := b.heatPicture(r).Figure("heat-flows", 165), b.heatPicture(r).Figure("heat-flows-narrow", 84)
		b.add(Figure{Figure: wide, Narrow: &narrow})
	}
	t := Table{Title: "Each part in its air", Head: []string{"part", "its heat", "air around it", "may have", "left"}, Numeric: []bool{false, true, true, true, true}, Chosen: -1,
		Note: "Warm air rises: what hangs higher stands in warmer air. “Left” is how much warmer it might still get; below zero the part is too hot."}
	derated := false
	for _, p := range r.Parts {
		t.Rows = append(t.Rows, []string{p.Name, shownOr(p.Loss.Why(), b.units, "—"), shownOr(p.Air.Why(), b.units, "—"), shownOr(p.Warmest.Why(), b.units, "—"), shownOr(p.Margin.Why(), b.units, "—")})
		derated = derated || p.Output.OK()
	}
	if len(t.Rows) > 0 {
		b.add(t)
	}
	if derated {
		for _, p := range r.Parts {
			if p.Output.OK() {
				b.values("What is left of "+p.Name+" in this air", p.Needed, p.Rated, p.Output)
			}
		}
	}
	list := Numbered{Title: "What to do, in this order"}
	for _, m := range r.Remedies {
		text := m.Name + ": " + m.Say.Show(b.units)
		if m.Enough {
			text += " (enough by itself)"
		}
		if !m.Against.Empty() {
			text += "; but " + m.Against.Show(b.units)
		}
		list.Items = append(list.Items, sentence(text))
	}
	if len(list.Items) > 0 {
		b.add(list)
	}
	second := []explain.Because{r.Second.Middle, r.Second.Top, r.Second.Reckoned}
	b.values("A second opinion, by the tables of IEC TR 60890 as they are recalled", second...)
	if r.Vented.Rise.OK() {
		b.values("With its vents", r.Vented.Opening, r.Vented.Flow, r.Vented.Draught, r.Vented.Rise)
	}
	if r.Fanned.Rise.OK() {
		b.values("With its fan", r.Fanned.Rise, r.Fanned.Left, r.Fanned.Clogged, r.Fanned.Full)
	}
}

// heatPicture is where the heat comes from and goes.
func (b *builder) heatPicture(r *heat.Result) drawing.HeatPicture {
	p := drawing.HeatPicture{ID: "heat-flows", Title: "Where the heat comes from, and where it goes", Inside: "air in the box " + shownOr(r.Inside.Why(), b.units, "not known")}
	var said []string
	for _, f := range r.Flows {
		if !f.Heat.OK() {
			continue
		}
		band := drawing.HeatBand{Name: f.Name, Watts: float64(f.Heat.Value), Words: f.Heat.Value.Show(b.units)}
		way := "out by "
		if f.Kind.In() {
			p.In = append(p.In, band)
			way = "in from "
		} else {
			p.Out = append(p.Out, band)
		}
		said = append(said, way+f.Name+" "+band.Words)
	}
	p.Alt = strings.Join(said, "; ") + "; " + p.Inside
	return p
}
