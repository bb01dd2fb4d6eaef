package sheet

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"sync"

	"drivewright/internal/output/drawing"
)

//go:embed html/*.tmpl html/sheet.css
var htmlFiles embed.FS

// htmlTemplates are the templates of the page, one for each kind of block; parsed when the first page is written.
var htmlTemplates = sync.OnceValue(func() *template.Template {
	return template.Must(template.ParseFS(htmlFiles, "html/*.tmpl"))
})

// Stylesheet returns the style sheet that the static page carries inline and the live sheet serves: one look for both.
func Stylesheet() []byte {
	style, err := htmlFiles.ReadFile("html/sheet.css")
	if err != nil { // it is embedded: the build would have failed
		return nil
	}
	return append(style, drawing.Style...)
}

// HTMLMode says who reads the page.
type HTMLMode int

// The modes of the page.
const (
	StaticPage HTMLMode = iota // a file: nothing can be changed
	LivePage                   // values that have a Path are controls, findings can be accepted
)

// HTMLPart is a piece of the page that can be written again by itself: the heading with the verdict, the findings, a
// section, the appendix of reasons, or the list of contents.
type HTMLPart struct {
	ID   string // the id of the part's outermost element
	HTML template.HTML
}

// The IDs of the parts that aren't a section of the document.
const (
	contentsPart = "contents"
	headingPart  = "heading"
	findingsPart = "findings"
	workingPart  = "working"
)

// HTMLParts writes the parts of the document in the order of the page, the contents first. The same document gives the
// same bytes, so that a part need only be repainted when its bytes differ.
func HTMLParts(d Document, mode HTMLMode) ([]HTMLPart, error) {
	v, err := newHTMLView(d, mode)
	if err != nil {
		return nil, err
	}
	type piece struct {
		id, template string
		data         any
	}
	pieces := []piece{{contentsPart, "contents", v}, {headingPart, "heading", v}, {findingsPart, "findings", v}}
	for n := range v.Sections {
		pieces = append(pieces, piece{v.Sections[n].ID, "section", &v.Sections[n]})
	}
	if len(v.Working) > 0 {
		pieces = append(pieces, piece{workingPart, "working", v})
	}
	// A long sheet is written at every change of a value: side by side it takes half the time.
	parts, failed := make([]HTMLPart, len(pieces)), make([]error, len(pieces))
	templates := htmlTemplates()
	var side sync.WaitGroup
	for n, p := range pieces {
		side.Go(func() {
			var b bytes.Buffer
			failed[n] = templates.ExecuteTemplate(&b, p.template, p.data)
			parts[n] = HTMLPart{ID: p.id, HTML: template.HTML(b.String())} // written by html/template: already escaped
		})
	}
	side.Wait()
	if err := errors.Join(failed...); err != nil {
		return nil, fmt.Errorf("writing the page: %w", err)
	}
	return parts, nil
}

// WriteHTML writes the document as one page that needs nothing else: styles, drawings and reasons are inside it. It works
// without a script, and prints.
func WriteHTML(w io.Writer, d Document) error {
	parts, err := HTMLParts(d, StaticPage)
	if err != nil {
		return err
	}
	page := struct {
		Title, File, Date, Version string
		Style                      template.CSS
		Contents                   template.HTML
		Parts                      []HTMLPart
		Paper                      Paper
	}{d.Title, d.File, d.Date, d.Version, template.CSS(FontFaces(inlineFont) + string(Stylesheet())), parts[0].HTML, parts[1:], d.Paper}
	if err := htmlTemplates().ExecuteTemplate(w, "page", page); err != nil {
		return fmt.Errorf("writing the page: %w", err)
	}
	return nil
}

// Mark returns the drawn mark of the severity; its shape is defined by Marks, which must stand once on the page.
func Mark(severity string) template.HTML { return fragment("mark", severity) }

// Marks returns the definitions of the marks.
func Marks() template.HTML { return fragment("marks", nil) }

func fragment(name string, data any) template.HTML {
	var b bytes.Buffer
	if err := htmlTemplates().ExecuteTemplate(&b, name, data); err != nil { // both take any data: tested
		return ""
	}
	return template.HTML(b.String()) // written by html/template: already escaped
}
