package sheet

import (
	"encoding/base64"
	"io/fs"
	"strings"

	"drivewright/internal/output/typeface"
)

// FontFaces returns the style rules that name the faces of the sheet, each found at the address that from gives for its
// file.
func FontFaces(from func(file string) string) string {
	var b strings.Builder
	for _, f := range []struct {
		face          typeface.Face
		family, style string
	}{
		{typeface.Regular, "Sheet", "font-weight:400"},
		{typeface.Semibold, "Sheet", "font-weight:600 700"},
		{typeface.Italic, "Sheet", "font-weight:400;font-style:italic"},
		{typeface.Mono, "Sheet Mono", "font-weight:400"},
	} {
		b.WriteString("@font-face{font-family:\"" + f.family + "\";" + f.style + ";font-display:swap;src:url(\"" + from(f.face.File()) + "\") format(\"truetype\")}\n")
	}
	return b.String()
}

// inlineFont returns the font file as an address that holds the file itself; "" if there is no such file.
func inlineFont(file string) string {
	font, err := fs.ReadFile(typeface.Files(), file)
	if err != nil {
		return ""
	}
	return "data:font/ttf;base64," + base64.StdEncoding.EncodeToString(font)
}
