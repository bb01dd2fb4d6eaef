package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

// A drawing is well-formed XML, says in words what it shows, and a true-scale one carries its size in millimetres whatever
// the page would like (SVG 2, 8.2: the viewBox maps to width and height).
func TestSVGIsWellFormedAndTrue(t *testing.T) {
	f := Figure{ID: "plate", Title: `holes <1> & "2"`, Alt: "two holes", Width: 120, Height: 40.5, TrueScale: true, Items: []Item{
		Line{Points: []Point{{0, 0}, {100, 0}}, Dashed: true}, Circle{Centre: Point{20, 20}, Radius: 5}, Circle{Centre: Point{20, 20}, Radius: 5, From: 90, To: 45, Ink: Accent},
		Words{At: Point{10, 10}, Text: `a < b & "c" Ω`, Size: 3, Turned: true, Anchor: End, Bold: true, Knockout: true, Ink: Alarm}, Line{},
	}}
	for _, o := range []SVGOptions{{}, {Inline: true}, {Inline: true, Fluid: true}} {
		var b bytes.Buffer
		if err := WriteSVG(&b, f, o); err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(&b)
		texts := ""
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%+v: %v", o, err)
			}
			switch x := token.(type) {
			case xml.StartElement:
				if x.Name.Local != "svg" {
					continue
				}
				got := map[string]string{}
				for _, a := range x.Attr {
					got[a.Name.Local] = a.Value
				}
				if got["width"] != "120mm" || got["height"] != "40.5mm" || got["viewBox"] != "0 0 120 40.5" || got["role"] != "img" {
					t.Errorf("%+v: the drawing's head is %v", o, got)
				}
			case xml.CharData:
				texts += string(x)
			}
		}
		for _, want := range []string{f.Title, f.Alt, `a < b & "c" Ω`} {
			if !strings.Contains(texts, want) {
				t.Errorf("%+v: the drawing doesn't say %q", o, want)
			}
		}
	}
}
