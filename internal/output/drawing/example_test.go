package drawing_test

import (
	"fmt"
	"os"

	"drivewright/internal/output/drawing"
)

// A power path is drawn from a plain list of what stands in it.
func ExampleSingleLine() {
	f := drawing.SingleLine(drawing.Path{ID: "path", Title: "From the wall to the motor", Ground: "10 AWG", Parts: []drawing.PathPart{
		{Kind: drawing.Breaker, Tag: "panel breaker", Labels: []string{"40 A"}, Group: "panel"},
		{Kind: drawing.Conductor, Wires: 2, Labels: []string{"8 AWG, 35 ft"}},
		{Kind: drawing.DriveSymbol, Tag: "drive", Labels: []string{"5 hp"}},
		{Kind: drawing.Conductor, Wires: 3},
		{Kind: drawing.ThreePhaseMotor, Tag: "motor"},
	}})
	for _, item := range f.Items {
		if w, ok := item.(drawing.Words); ok {
			fmt.Println(w.Text)
		}
	}
	// Output:
	// panel
	// panel breaker
	// 40 A
	// 8 AWG, 35 ft
	// drive
	// 5 hp
	// M
	// 3~
	// motor
	// equipment ground 10 AWG
}

// A drawing in a page leaves style and inks to the page.
func ExampleWriteSVG() {
	f := drawing.Figure{ID: "bar", Title: "Check bar", Alt: "100 mm", Width: 110, Height: 10, TrueScale: true, Items: []drawing.Item{
		drawing.Line{Points: []drawing.Point{{X: 5, Y: 5}, {X: 105, Y: 5}}, Width: 0.5},
	}}
	if err := drawing.WriteSVG(os.Stdout, f, drawing.SVGOptions{Inline: true}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// <svg class="drawing-figure" width="110mm" height="10mm" viewBox="0 0 110 10" role="img" aria-labelledby="bar-t bar-d">
	// <title id="bar-t">Check bar</title>
	// <desc id="bar-d">100 mm</desc>
	// <path d="M5 5L105 5" class="s m" stroke-width="0.5"/>
	// </svg>
}
