package pdf_test

import (
	"bytes"
	"fmt"

	"drivewright/internal/output/pdf"
	"drivewright/internal/output/typeface"
)

// A page is drawn in millimetres from its top left corner; what is drawn belongs to an element of the structure.
func Example() {
	d := pdf.New(pdf.Info{Title: "Check bar", Language: "en-US"})
	p := d.Page(210, 297)
	p.Begin(d.Root().Add("H1"))
	p.Text(20, 30, typeface.Semibold, 6, pdf.Grey(0), "Check bar")
	p.Begin(d.Root().Add("Figure").Alternative("a bar of 100 mm"))
	p.Rectangle(20, 40, 100, 2, pdf.Grey(0))
	var file bytes.Buffer
	if err := d.Write(&file); err != nil {
		fmt.Println(err)
	}
	fmt.Printf("%d page, %s\n", d.Pages(), file.Bytes()[:8])
	// Output: 1 page, %PDF-1.7
}
