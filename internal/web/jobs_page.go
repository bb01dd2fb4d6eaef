package web

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"time"

	"drivewright/internal/base/explain"
	"drivewright/internal/output/sheet"
)

// jobLine is one job in the list.
type jobLine struct {
	Name, Title, Link string
	Changed           time.Time
	Verdict           sheet.Verdict
	Tallies           []tally
	Broken            string
	Proving           bool // what the proof finds isn't counted yet
}

// list shows the jobs.
func (s *server) list(w http.ResponseWriter, _ *http.Request) {
	entries, err := s.Store.List()
	if err != nil {
		s.fail(w, err)
		return
	}
	var lines []jobLine
	for _, e := range entries {
		l := jobLine{Name: e.Name, Title: title(e.Name), Link: "/job/" + url.PathEscape(e.Name), Changed: e.Changed}
		text, _, err := s.Store.Load(e.Name)
		if err != nil {
			l.Broken = err.Error()
			lines = append(lines, l)
			continue
		}
		b := s.bench(e.Name)
		b.mu.Lock()
		worked, proved := s.workOut(e.Name, b, text)
		b.mu.Unlock()
		s.takeKnown(&worked)
		d := s.Build(worked, View{Proving: !proved})
		counts := map[explain.Severity]int{}
		for _, f := range d.Findings {
			if f.Accepted == "" {
				counts[f.Severity]++
			}
		}
		l.Title, l.Verdict, l.Tallies, l.Proving = d.Title, d.Verdict, tallies(counts), !proved
		lines = append(lines, l)
	}
	s.show(w, "jobs.tmpl", struct {
		Jobs    []jobLine
		Version string
	}{lines, s.Version})
}

// create makes a new job file from the starter, and says where its sheet is.
func (s *server) create(w http.ResponseWriter, r *http.Request) {
	var q struct {
		Title string `json:"title"`
	}
	if err := json.NewDecoder(r.Body).Decode(&q); err != nil {
		s.answer(w, http.StatusBadRequest, refusal{Message: "the request can't be read"})
		return
	}
	q.Title = strings.TrimSpace(q.Title)
	if q.Title == "" || len(q.Title) > 80 {
		s.answer(w, http.StatusUnprocessableEntity, refusal{Message: "say in a few words what you call the machine"})
		return
	}
	name, text := s.Starter(q.Title)
	if !properName(name) {
		s.answer(w, http.StatusUnprocessableEntity, refusal{Message: "that makes no name for a file: use some letters"})
		return
	}
	switch err := s.Store.Create(name, text); err {
	case nil:
		s.answer(w, http.StatusCreated, map[string]string{"link": "/job/" + url.PathEscape(name)})
	default:
		s.answer(w, http.StatusUnprocessableEntity, refusal{Message: name + ": " + err.Error()})
	}
}

// versionLine is one earlier text in the list of versions, with what the next one changed.
type versionLine struct {
	Version
	Lines []line
	More  int
}

// mostVersions is how many versions are shown; mostLines how many changed lines of each.
const (
	mostVersions = 60
	mostLines    = 6
)

// versions shows the earlier texts of a job, the latest first, each with the lines in which it differs from the text that
// came after it.
func (s *server) versions(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.missing(w)
		return
	}
	later, token, err := s.Store.Load(name)
	if err != nil {
		s.missing(w)
		return
	}
	kept, err := s.Store.Versions(name)
	if err != nil {
		s.fail(w, err)
		return
	}
	var lines []versionLine
	for _, v := range kept[:min(len(kept), mostVersions)] {
		text, err := s.Store.Version(name, v.ID)
		if err != nil { // pruned between listing and reading
			continue
		}
		l := versionLine{Version: v, Lines: difference(text, later)}
		if len(l.Lines) > mostLines {
			l.More, l.Lines = len(l.Lines)-mostLines, l.Lines[:mostLines]
		}
		if len(l.Lines) > 0 {
			lines = append(lines, l)
		}
		later = text
	}
	s.show(w, "versions.tmpl", struct {
		Name, Title, Token, Version string
		Versions                    []versionLine
	}{name, title(name), token, s.Version, lines})
}
