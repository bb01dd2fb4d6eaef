package web

import (
	"fmt"
	"html/template"
	"strings"

	qr "github.com/piglig/go-qr"
)

// Code is a text as a QR code (ISO/IEC 18004): a square of dark and light modules for a camera.
type Code struct{ square *qr.QrCode }

// quiet is the light margin that the standard asks for, in modules.
const quiet = 4

// NewCode makes the code of a text. It stands some dirt on the screen: error correction M.
func NewCode(text string) (Code, error) {
	square, err := qr.EncodeText(text, qr.Medium)
	if err != nil {
		return Code{}, fmt.Errorf("making the code of %q: %w", text, err)
	}
	return Code{square}, nil
}

// dark reports whether the module is; outside the square, in the margin, none is.
func (c Code) dark(x, y int) bool {
	n := c.square.Size()
	return x >= 0 && y >= 0 && x < n && y < n && c.square.Module(x, y)
}

// svg draws it in the colour of the text; the stylesheet gives it black on white.
func (c Code) svg() template.HTML {
	n := c.square.Size()
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="code" viewBox="0 0 %d %d" shape-rendering="crispEdges" role="img" aria-label="the address as a QR code"><path fill="currentColor" d="`, n+2*quiet, n+2*quiet)
	for y := range n {
		for x := range n {
			if c.dark(x, y) {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return template.HTML(b.String()) // numbers only
}

// Terminal draws it in lines of characters, each of which holds two modules one above the other. With colour it is black on
// white; without, it takes a dark terminal for granted and writes the light modules.
func (c Code) Terminal(colour bool) string {
	var b strings.Builder
	n := c.square.Size()
	for y := -quiet; y < n+quiet; y += 2 {
		if colour {
			b.WriteString("\x1b[38;5;16;48;5;231m")
		}
		for x := -quiet; x < n+quiet; x++ {
			upper, lower := c.dark(x, y), c.dark(x, y+1)
			if !colour {
				upper, lower = !upper, !lower
			}
			switch {
			case upper && lower:
				b.WriteRune('█')
			case upper:
				b.WriteRune('▀')
			case lower:
				b.WriteRune('▄')
			default:
				b.WriteByte(' ')
			}
		}
		if colour {
			b.WriteString("\x1b[0m")
		}
		b.WriteByte('\n')
	}
	return b.String()
}
