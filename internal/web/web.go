// Package web is the live sheet: a server for this computer only, one page that lists the jobs and one page that is a
// job's whole sheet, where a value is changed in place and everything else is worked out again and repainted. The readings
// alone may be opened to a phone of the same network: phone.go.
//
// It does no engineering and writes no file: what a job file says is job's matter, what stands on the sheet is decided by
// the Build function, and files are kept by the Store, both given by the caller. Begin with New, then change.go (what happens
// to a typed value) and assets/live.js (the page's side of it).
package web

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/http"
	"sync"

	"drivewright/internal/base/quantity"
	"drivewright/internal/output/sheet"
	"drivewright/internal/output/typeface"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

//go:embed pages/*.tmpl assets/*
var files embed.FS

// Options are what the live sheet needs from outside.
type Options struct {
	Store Store
	// Build makes the document of a plan.
	Build func(p plan.Plan, v View) sheet.Document
	// Prove works out the Prove stage of a circuit; nil means plan.ProofOf. It runs beside the pages.
	Prove func(c *circuit.Circuit) prove.Proof
	// Arrange finds places for the parts in the box; nil means box.Arrange. It runs beside the pages.
	Arrange func(b box.Brief, o box.Options) box.Result
	// Starter returns the name and the text of a new job file for a machine called title.
	Starter func(title string) (name string, text []byte)
	// Downloads are the forms in which the sheet can be taken along.
	Downloads []Download
	Version   string
	// Phone opens the readings to a phone; nil opens them to nobody but this computer.
	Phone *Phone
}

// View is how a document is looked at.
type View struct {
	Units *quantity.System // nil: those that the job chose
	// Proving is true while the Prove stage is being worked out: the document is made again when it is there.
	Proving bool
	// Arranging is true while no arrangement of the box is there yet and one is being looked for.
	Arranging bool
}

// Download is one form in which the sheet can be taken along.
type Download struct {
	Label  string // what the link says: "PDF"
	Ending string // file ending without the point: "pdf"
	Type   string // media type: "application/pdf"
	Write  func(w io.Writer, d sheet.Document) error
}

// server is the live sheet's state: what can be undone, and who is listening.
type server struct {
	Options
	pages *template.Template

	proofs       memo[prove.Proof]
	arrangements memo[arrangement]

	mu   sync.Mutex
	jobs map[string]*bench // by file name
}

// New returns the live sheet. It answers only requests that name this computer as their host and come from its own pages.
func New(o Options) (http.Handler, error) {
	sheet, _, err := NewWithPhone(o)
	return sheet, err
}

// NewWithPhone returns the live sheet and what a phone gets of it: the readings. The second is nil without Options.Phone.
func NewWithPhone(o Options) (computer, phone http.Handler, err error) {
	pages, err := template.New("").Funcs(template.FuncMap{"mark": sheet.Mark, "marks": sheet.Marks}).ParseFS(files, "pages/*.tmpl")
	if err != nil {
		return nil, nil, fmt.Errorf("reading the pages: %w", err)
	}
	if o.Prove == nil {
		o.Prove = plan.ProofOf
	}
	if o.Arrange == nil {
		o.Arrange = box.Arrange
	}
	s := &server{Options: o, pages: pages, jobs: map[string]*bench{}}
	assets, err := fs.Sub(files, "assets")
	if err != nil {
		return nil, nil, fmt.Errorf("reading the pages: %w", err)
	}

	fonts := sheet.FontFaces(func(file string) string { return "fonts/" + file }) // beside the stylesheet
	stylesheet := func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		_, _ = io.WriteString(w, fonts+string(sheet.Stylesheet())) // the reader went away: nobody to tell
	}
	faces := kept(http.StripPrefix("/fonts/", http.FileServerFS(typeface.Files())))
	dress := http.StripPrefix("/assets/", http.FileServerFS(assets))

	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", s.list)
	m.HandleFunc("POST /jobs", s.create)
	m.HandleFunc("GET /job/{name}", s.page)
	m.HandleFunc("GET /job/{name}/parts", s.parts)
	m.HandleFunc("GET /job/{name}/events", s.events)
	m.HandleFunc("GET /job/{name}/versions", s.versions)
	m.HandleFunc("GET /job/{name}/readings", s.readings(""))
	m.HandleFunc("GET /job/{name}/readings/now", s.readingsNow)
	m.HandleFunc("POST /job/{name}/readings", s.take)
	m.HandleFunc("GET /job/{name}/box", s.boxPage)
	m.HandleFunc("GET /job/{name}/box/now", s.boxNow)
	m.HandleFunc("POST /job/{name}/box/try", s.tryPlaces)
	m.HandleFunc("POST /job/{name}/box/around", s.around)
	m.HandleFunc("POST /job/{name}/box/settle", s.change(settlePlaces, s.answerBox))
	m.HandleFunc("POST /job/{name}/box/free", s.change(freePlace, s.answerBox))
	m.HandleFunc("POST /job/{name}/box/undo", s.step(-1, s.answerBox))
	m.HandleFunc("POST /job/{name}/box/redo", s.step(+1, s.answerBox))
	m.HandleFunc("GET /job/{name}/photo", s.photoPage)
	m.HandleFunc("GET /job/{name}/photo/{pattern}", s.photoPage)
	m.HandleFunc("POST /job/{name}/photo", s.change(seenInPhoto, s.answerPhoto))
	m.HandleFunc("POST /job/{name}/photo/undo", s.step(-1, s.answerPhoto))
	m.HandleFunc("GET /job/{name}/as/{ending}", s.download)
	m.HandleFunc("PUT /job/{name}/value", s.change(setValue, s.repaint))
	m.HandleFunc("POST /job/{name}/add", s.change(addItem, s.repaint))
	m.HandleFunc("POST /job/{name}/remove", s.change(removeItem, s.repaint))
	m.HandleFunc("POST /job/{name}/accept", s.change(acceptFinding, s.repaint))
	m.HandleFunc("POST /job/{name}/unaccept", s.change(unacceptFinding, s.repaint))
	m.HandleFunc("POST /job/{name}/undo", s.step(-1, s.repaint))
	m.HandleFunc("POST /job/{name}/redo", s.step(+1, s.repaint))
	m.HandleFunc("POST /job/{name}/bring-back", s.bringBack)
	m.HandleFunc("POST /job/{name}/stop-arranging", s.stopArranging)
	m.HandleFunc("POST /job/{name}/arrange-on", s.arrangeOn)
	m.Handle("GET /assets/", dress)
	m.Handle("GET /fonts/", faces)
	m.HandleFunc("GET /sheet.css", stylesheet)
	computer = guard(thisComputer, m)
	if o.Phone == nil {
		return computer, nil, nil
	}
	if err := o.Phone.proper(); err != nil {
		return nil, nil, err
	}

	base := o.Phone.base()
	n := http.NewServeMux() // what isn't named here, a phone doesn't get
	n.HandleFunc("GET /{$}", s.phoneJobs)
	n.HandleFunc("GET /job/{name}/readings", s.readings(base))
	n.HandleFunc("GET /job/{name}/readings/now", s.readingsNow)
	n.HandleFunc("POST /job/{name}/readings", s.take)
	n.HandleFunc("GET /job/{name}/events", s.events)
	for _, file := range []string{"icon.svg", "light.js", "live.css", "readings.css", "readings.js", "notebook.js", "ask.js"} {
		n.Handle("GET /assets/"+file, dress)
	}
	n.Handle("GET /fonts/{file}", faces)
	n.HandleFunc("GET /sheet.css", stylesheet)
	return computer, guard(ownNetwork, s.secretly(*o.Phone, n)), nil
}

// kept lets the browser keep what is served for an hour, so that no page is painted twice while its fonts arrive.
func kept(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "private, max-age=3600")
		h.ServeHTTP(w, r)
	})
}
