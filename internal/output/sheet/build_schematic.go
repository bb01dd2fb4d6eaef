package sheet

import (
	"fmt"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/drawing"
	"drivewright/internal/trade/circuit"
)

// What a sheet of the schematic may take, in millimetres: the text of the narrower paper, and a phone's width.
const (
	schematicWidth  = 167.0
	schematicHeight = 208.0
	schematicNarrow = 92.0
)

// schematic adds the drawings of the power path and the control circuit: a figure for each sheet.
func (b *builder) schematic() {
	c := &b.plan.Circuit.Circuit
	standard := drawing.American
	if b.plan.Power.Code.Set == explain.IEC {
		standard = drawing.International
	}
	steps := func(millimetres float64) circuit.Step { return circuit.Step(millimetres / drawing.GridStep) }
	drawn := c.Schematic(standard == drawing.International, circuit.SchematicRoom{Width: steps(schematicWidth), Height: steps(schematicHeight), Narrow: steps(schematicNarrow),
		Measure: func(text string, bold bool) circuit.Step {
			return circuit.Step(drawing.GridLength(visible(text), bold))
		}})
	if len(drawn.Sheets) == 0 {
		return
	}
	read := "Each line of the circuit has a number at its left (on a narrow screen, where it runs downwards, at its foot), and 2.4 means sheet 2, line 4. The numbers over the conductors are those on the wires' ends; rings are terminals. " +
		"Beside a coil stand the lines where its contacts are, those of normally closed ones underlined. Everything is drawn without power, with nobody touching anything."
	if standard == drawing.International {
		read = "Each current path has a number at its foot, and 2.4 means sheet 2, path 4. The numbers beside the conductors are those on the wires' ends; rings are terminals. " +
			"Beneath a coil stand the paths where its contacts are: NO normally open, NC normally closed. Everything is drawn without power, with nobody touching anything."
	}
	b.add(Paragraph{Text: read})
	for _, s := range drawn.Sheets {
		title := fmt.Sprintf("Circuit, sheet %d of %d: %s", s.Number, len(drawn.Sheets), s.Title)
		figure := func(id string, g circuit.Grid) drawing.Figure {
			sheet := gridSheet(g)
			sheet.ID, sheet.Title, sheet.Alt, sheet.Standard = id, title, s.Words, standard
			return drawing.Schematic(sheet)
		}
		narrow := figure(fmt.Sprintf("circuit-%d-narrow", s.Number), s.Narrow)
		b.add(Figure{Figure: figure(fmt.Sprintf("circuit-%d", s.Number), s.Wide), Narrow: &narrow})
	}
}

// gridSheet translates a placed sheet into what the drawing takes.
func gridSheet(g circuit.Grid) drawing.SchematicSheet {
	spot := func(s circuit.Spot) drawing.GridSpot { return drawing.GridSpot{X: int(s.X), Y: int(s.Y)} }
	spots := func(list []circuit.Spot) []drawing.GridSpot {
		var out []drawing.GridSpot
		for _, s := range list {
			out = append(out, spot(s))
		}
		return out
	}
	out := drawing.SchematicSheet{Width: int(g.Width), Height: int(g.Height), Dots: spots(g.Dots)}
	for _, s := range g.Symbols {
		out.Symbols = append(out.Symbols, drawing.SchematicSymbol{Kind: controlSymbols[s.Shape], At: spot(s.At), Down: s.Down, Turned: s.Turned,
			From: spot(s.From), To: spot(s.To), Ports: spots(s.Ports), Mark: s.Mark})
	}
	for _, l := range g.Lines {
		out.Lines = append(out.Lines, drawing.SchematicLine{Points: spots(l.Points), Guide: l.Guide})
	}
	for _, t := range g.Texts {
		out.Texts = append(out.Texts, drawing.SchematicText{At: spot(t.At), Text: visible(t.Text), Anchor: t.Anchor, Bold: t.Bold, Faint: t.Faint, Underlined: t.Underlined})
	}
	return out
}

// controlSymbols says in which symbol each shape of the circuit is drawn.
var controlSymbols = map[circuit.Shape]drawing.ControlSymbol{
	circuit.ContactOpen: drawing.OpenContact, circuit.ContactClosed: drawing.ClosedContact,
	circuit.DelayedOpen: drawing.DelayedOpenContact, circuit.DelayedClosed: drawing.DelayedClosedContact,
	circuit.PushOpen: drawing.OpenPushButton, circuit.PushClosed: drawing.ClosedPushButton,
	circuit.MushroomOpen: drawing.OpenMushroom, circuit.MushroomClosed: drawing.ClosedMushroom,
	circuit.TurnOpen: drawing.OpenSelector, circuit.TurnClosed: drawing.ClosedSelector,
	circuit.PositionOpen: drawing.OpenPosition, circuit.PositionClosed: drawing.ClosedPosition,
	circuit.FootOpen: drawing.OpenFoot, circuit.FootClosed: drawing.ClosedFoot,
	circuit.OverloadClosed: drawing.ClosedOverload, circuit.OverloadOpen: drawing.OpenOverload,
	circuit.SwitchPole: drawing.SwitchContact, circuit.BreakerPole: drawing.BreakerContact, circuit.FusePole: drawing.FuseLink,
	circuit.ContactorPole: drawing.MainContact, circuit.CoilShape: drawing.CoilSymbol, circuit.DelayCoil: drawing.DelayCoil,
	circuit.LampShape: drawing.Lamp, circuit.ResistorShape: drawing.ResistorSymbol, circuit.DiodeShape: drawing.DiodeSymbol,
	circuit.LoadShape: drawing.LoadBox, circuit.ReadoutShape: drawing.ReadoutBox, circuit.DCSource: drawing.DirectSource,
	circuit.ACSource: drawing.WindingSource, circuit.InputShape: drawing.InputEnd, circuit.TerminalShape: drawing.TerminalCircle,
	circuit.EarthSign: drawing.Earth, circuit.ArrowShape: drawing.Arrow, circuit.BoxShape: drawing.PlainBody,
	circuit.DriveShape: drawing.DriveBody, circuit.SupplyShape: drawing.SupplyBody, circuit.WindingBox: drawing.WindingBody,
	circuit.MotorShape: drawing.MotorBody, circuit.KnobShape: drawing.KnobBody, circuit.BarShape: drawing.BarBody,
	circuit.ScreenShape: drawing.ScreenBody,
}
