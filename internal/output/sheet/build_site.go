package sheet

import (
	"fmt"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/output/drawing"
	"drivewright/internal/trade/site"
)

// site lays out where the box and the stations can go on the machine.
func (b *builder) site() {
	r := &b.plan.Site
	b.section(2, "Where the box sits", "The machine as rough blocks: what is metal, what moves, where you stand, and the places that you offered, the best first.")
	if len(r.Blocks) == 0 {
		b.add(Paragraph{Text: "No blocks yet. Write the machine down as a few rough boxes, the room that each moving part sweeps, the floor that you stand on, and one or more places where the box may go: then places are ranked, reach is measured, and the lengths of the cables follow."})
		return
	}
	b.add(Caution{Severity: explain.Danger, Text: "Move every slide, cover, table and handle by hand to both ends of its way, with the power off, before you believe the blocks: a sweep that was forgotten tears the box off."})
	blocks := Table{Title: "The blocks", Head: []string{"block", "kind", "right, towards you, up", "wide, deep, high"}, Numeric: []bool{false, false, true, true}, Chosen: -1, Note: "Right is x, towards you y, up z, of each block's left far lower corner."}
	for _, k := range r.Blocks {
		l := func(x float64) quantity.Length { return quantity.Length(x) }
		blocks.Rows = append(blocks.Rows, []string{string(k.Name.Value), string(k.Sort.Value), threeOf(l(k.At[0]), l(k.At[1]), l(k.At[2]), b.units), threeOf(l(k.Size[0]), l(k.Size[1]), l(k.Size[2]), b.units)})
	}
	b.add(blocks)
	if len(r.Places) == 0 {
		need := "write a block of the kind: place for the box"
		if !r.Brief.Height.OK() {
			need = "the size of the box, which is found in the stage above"
		}
		b.add(Paragraph{Text: "No place can be judged yet, for want of this: " + need + "."})
	} else {
		t := Table{Title: "Places for the box", Head: []string{"place", "door looks to", "handle at", "your hand to the door", "what speaks against it"}, Numeric: []bool{false, false, true, true, false}, Chosen: 0}
		for _, p := range r.Places {
			t.Rows = append(t.Rows, []string{p.Name, p.Facing, p.Handle.Why().Show(b.units), shownOr(p.Away.Why(), b.units, "—"), b.troubles(p.Troubles)})
		}
		b.add(t)
		b.siting(r)
		best := r.Places[0]
		if len(best.Cables) > 0 {
			t := Table{Title: "Cables from there", Head: []string{"to", "way along the machine", "written in the job"}, Numeric: []bool{false, true, true}, Chosen: -1, Note: "Along the edges, with a loop at either end. What moves needs its own loop at both ends of its way."}
			for _, c := range best.Cables {
				t.Rows = append(t.Rows, []string{c.To, c.Way.Why().Show(b.units), shownOr(c.Written.Why(), b.units, "—")})
			}
			b.add(t)
		}
	}
	if len(r.Stations) > 0 {
		t := Table{Title: "Places for the stations", Head: []string{"station", "height", "from your hand", "what speaks against it"}, Numeric: []bool{false, true, true, false}, Chosen: -1}
		for _, s := range r.Stations {
			t.Rows = append(t.Rows, []string{s.Name, s.Height.Why().Show(b.units), shownOr(s.Away.Why(), b.units, "—"), b.troubles(s.Troubles)})
		}
		b.add(t)
	}
	l := r.Limits
	b.values("Judged by", l.HandleLeast, l.HandleMost, l.ControlLeast, l.ControlMost, l.Reach, l.Free)
}

// troubles are what speaks against a place, in one cell.
func (b *builder) troubles(list []site.Trouble) string {
	if len(list) == 0 {
		return "nothing found"
	}
	var words []string
	for _, t := range list {
		text := t.Words.Show(b.units)
		if t.Grave {
			text = "ruled out: " + text
		}
		words = append(words, text)
	}
	return strings.Join(words, "; ")
}

func shownOr(r *explain.Reason, s quantity.System, none string) string {
	if !r.There() {
		return none
	}
	return r.Show(s)
}

// siting draws the blocks with the box in its best place.
func (b *builder) siting(r *site.Result) {
	s := drawing.Siting{ID: "siting", Title: "The machine and the box"}
	var said []string
	add := func(o site.Solid, name string, kind drawing.SitingKind) {
		s.Blocks = append(s.Blocks, drawing.SitingBlock{Solid: drawing.Solid{X: o.At[0] * 1000, Y: o.At[1] * 1000, Z: o.At[2] * 1000, W: o.Size[0] * 1000, D: o.Size[1] * 1000, H: o.Size[2] * 1000}, Name: name, Kind: kind})
	}
	for _, block := range r.Blocks {
		kind := drawing.Casting
		switch block.Sort.Value {
		case "operator stands", "supply point":
			kind = drawing.StandingFloor
		case "place for the box":
			kind = drawing.FreePlace
		case "place for a station":
			kind = drawing.PlacedBox
		case "moving part", "chips fly here":
			kind = drawing.Sweep
		}
		add(block.Solid, string(block.Name.Value), kind)
		said = append(said, fmt.Sprintf("%s (%s)", block.Name.Value, block.Sort.Value))
	}
	best := r.Places[0]
	add(best.Box, "box", drawing.PlacedBox)
	s.Alt = "the box at " + best.Name + "; blocks: " + strings.Join(said, ", ")
	for _, draw := range []func(string, float64, float64) drawing.Figure{s.FromFront, s.FromAbove} {
		wide, narrow := draw("", 165, 120), draw("", 84, 90)
		wide.ID = explain.Slug(wide.Title)
		narrow.ID = wide.ID + "-narrow"
		b.add(Figure{Figure: wide, Narrow: &narrow})
	}
}
