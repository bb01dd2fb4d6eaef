package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"strings"
	"time"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/output/sheet"
)

// part is a piece of the page: its mark changes when its HTML does.
type part struct {
	ID   string        `json:"id"`
	Mark string        `json:"mark"`
	HTML template.HTML `json:"html,omitempty"` // left out when the page has it already
}

// painting is a whole sheet as the page needs it to repaint itself.
type painting struct {
	Token string `json:"token"`
	Units string `json:"units"` // the unit system that the sheet is shown in
	Parts []part `json:"parts"` // all, in the order of the page
	Said  string `json:"said"`  // for the line at the foot of the page and for a screen reader
	Undo  string `json:"undo"`  // what an undo would take back; "" if nothing
	Redo  string `json:"redo"`
	Title string `json:"title"`
	// Beside is the mark of what the sheet shows beside the file: the proof and the readings.
	Beside string `json:"beside"`
	// Proving is true while the Prove stage is being worked out: a painting with it follows.
	Proving bool `json:"proving"`
	// Box says how the arrangement of the box stands.
	Box boxWork `json:"box"`
}

// paint works the sheet out, all but a proof that isn't there yet, and writes its parts. The bench's lock is held.
func (s *server) paint(name string, b *bench, text []byte, units string) (painting, error) {
	worked, proved := s.workOut(name, b, text)
	work := s.arrange(b, &worked)
	d := s.Build(worked, View{Units: system(units), Proving: !proved, Arranging: work.Arranging && !work.Found})
	pieces, err := sheet.HTMLParts(d, sheet.LivePage)
	if err != nil {
		return painting{}, err
	}
	p := painting{Units: d.Units.String(), Title: d.Title, Said: summary(d), Beside: s.beside(name, b), Proving: !proved, Box: work}
	if !proved {
		p.Said += "; the proof of the circuit follows"
	}
	for _, piece := range pieces {
		sum := sha256.Sum256([]byte(piece.HTML))
		p.Parts = append(p.Parts, part{ID: piece.ID, Mark: hex.EncodeToString(sum[:6]), HTML: piece.HTML})
	}
	return p, nil
}

// repaint answers with what the page needs to show the file as it is now. The bench's lock is held.
func (s *server) repaint(w http.ResponseWriter, name string, b *bench, q request, said string) {
	text, token, err := s.Store.Load(name)
	if err != nil {
		s.fail(w, err)
		return
	}
	b.timeline.see(token, text, changedElsewhere)
	p, err := s.paint(name, b, text, q.Units)
	if err != nil {
		s.fail(w, err)
		return
	}
	p.Token, p.Undo, p.Redo, p.Said = token, b.timeline.undo(), b.timeline.redo(), said+p.Said
	for n := range p.Parts {
		if q.Known[p.Parts[n].ID] == p.Parts[n].Mark {
			p.Parts[n].HTML = ""
		}
	}
	s.answer(w, http.StatusOK, p)
}

// parts answers a page that has heard of a change: known marks come as the query's fields.
func (s *server) parts(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.fail(w, ErrMissing)
		return
	}
	q := request{Units: r.FormValue("units"), Known: map[string]string{}}
	for _, known := range strings.Split(r.FormValue("known"), ",") {
		if id, mark, ok := strings.Cut(known, ":"); ok {
			q.Known[id] = mark
		}
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	s.repaint(w, name, b, q, "")
}

// system is the unit system of that name; nil, the job's own, for any other.
func system(name string) *quantity.System {
	for _, s := range []quantity.System{quantity.InchUnits, quantity.MetricUnits} {
		if s.String() == name {
			return &s
		}
	}
	return nil
}

// summary says in one line what was found: "recomputed: 1 danger, 2 checks".
func summary(d sheet.Document) string {
	counts := map[explain.Severity]int{}
	for _, f := range d.Findings {
		if f.Accepted == "" {
			counts[f.Severity]++
		}
	}
	var found []string
	for _, c := range tallies(counts) {
		found = append(found, c.String())
	}
	if found == nil {
		return "worked out again: nothing found"
	}
	return "worked out again: " + strings.Join(found, ", ")
}

// tally is how many findings of a severity stand.
type tally struct {
	Word   string
	Number int
}

// String says it in words: "1 danger", "3 checks".
func (t tally) String() string {
	if t.Number == 1 {
		return "1 " + t.Word
	}
	return fmt.Sprintf("%d %ss", t.Number, t.Word)
}

func tallies(counts map[explain.Severity]int) []tally {
	var out []tally
	for _, s := range []explain.Severity{explain.Danger, explain.Must, explain.Check, explain.Note} {
		if counts[s] > 0 {
			out = append(out, tally{s.String(), counts[s]})
		}
	}
	return out
}

// typed is what stands in the file at the path now; "" if nothing does.
func typed(file *job.File, path string) string { return file.Typed(path) }

// page shows a job's sheet.
func (s *server) page(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.missing(w)
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	text, token, err := s.Store.Load(name)
	if err != nil {
		s.missing(w)
		return
	}
	b.timeline.see(token, text, changedElsewhere)
	asked := r.FormValue("units")
	if system(asked) == nil {
		asked = ""
	}
	p, err := s.paint(name, b, text, asked)
	if err != nil {
		s.fail(w, err)
		return
	}
	known := map[string]string{}
	for _, part := range p.Parts {
		known[part.ID] = part.Mark
	}
	marks, err := json.Marshal(known)
	if err != nil {
		s.fail(w, err)
		return
	}
	work, err := json.Marshal(p.Box)
	if err != nil {
		s.fail(w, err)
		return
	}
	s.show(w, "sheet.tmpl", struct {
		painting
		Name, Token, Known, BoxWork, Undo, Redo, Asked, Version string
		Contents                                                template.HTML
		Downloads                                               []Download
	}{p, name, token, string(marks), string(work), b.timeline.undo(), b.timeline.redo(), asked, s.Version, p.Parts[0].HTML, s.Downloads})
}

// download sends the sheet in one of its forms, or the job file itself.
func (s *server) download(w http.ResponseWriter, r *http.Request) {
	name, ending := r.PathValue("name"), r.PathValue("ending")
	if !properName(name) {
		s.missing(w)
		return
	}
	text, _, err := s.Store.Load(name)
	if err != nil {
		s.missing(w)
		return
	}
	send := func(kind, file string, body []byte) {
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Content-Disposition", "attachment; filename*=UTF-8''"+template.URLQueryEscaper(file))
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
	}
	if ending == "yaml" {
		send("application/yaml", name, text)
		return
	}
	for _, form := range s.Downloads {
		if form.Ending != ending {
			continue
		}
		var b bytes.Buffer
		if err := form.Write(&b, s.Build(s.whole(name, text), View{Units: system(r.FormValue("units"))})); err != nil {
			s.fail(w, err)
			return
		}
		send(form.Type, title(name)+"."+ending, b.Bytes())
		return
	}
	s.missing(w)
}

// title is the file's name without its endings.
func title(name string) string {
	return strings.TrimSuffix(strings.TrimSuffix(name, ".yaml"), ".job")
}

// show writes a page; it is written whole before the first byte is sent, so that a failure is an answer of its own.
func (s *server) show(w http.ResponseWriter, page string, data any) {
	var b bytes.Buffer
	if err := s.pages.ExecuteTemplate(&b, page, data); err != nil {
		s.fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(b.Bytes()) // the asker went away: nobody to tell
}

func (s *server) missing(w http.ResponseWriter) {
	w.WriteHeader(http.StatusNotFound)
	s.show(w, "missing.tmpl", nil)
}
