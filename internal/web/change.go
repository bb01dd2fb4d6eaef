package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// bench is one job being worked on: its timeline, and the pages that are open on it. Its lock is held from reading the
// file to writing it, so that two pages can't interleave.
type bench struct {
	mu       sync.Mutex
	timeline timeline
	// listeners are told of each change made through this server; changes made by others come from the Store's watch.
	listeners map[chan struct{}]bool
	// work is the proof that is being worked out for this job, arranging the arrangement of its box.
	work      proofWork
	arranging arrangeWork
	box       openBox
	trial     *atomic.Bool // stops the search around places that aren't written yet; nil if there was none
}

func (s *server) bench(name string) *bench {
	s.mu.Lock()
	defer s.mu.Unlock()
	b := s.jobs[name]
	if b == nil {
		b = &bench{listeners: map[chan struct{}]bool{}}
		s.jobs[name] = b
	}
	return b
}

// request is what the page sends with a change.
type request struct {
	Token string            `json:"token"` // of the text that the page shows
	Units string            `json:"units"` // inch, metric or "" for the job's own
	Known map[string]string `json:"known"` // the parts on the page and the mark of each
	Path  string            `json:"path"`
	Text  string            `json:"text"`
	// Over is true when the user has seen what was changed meanwhile and wants the typed text all the same.
	Over    bool   `json:"over"`
	Item    string `json:"item"` // a list, or an item of one: "loads", "loads[0]"
	Rule    string `json:"rule"`
	Reason  string `json:"reason"`
	By      string `json:"by"`
	Version string `json:"version"`
	// Places are where a hand has put parts of the arrangement with the mark.
	Places []handPlace `json:"places"`
	Mark   string      `json:"mark"`
	// Values are those of a list's item, by key.
	Values map[string]string `json:"values"`
}

// refusal is why a change was not made.
type refusal struct {
	Message string `json:"message"`
	Path    string `json:"path,omitempty"`
	// What follows is for a change that came too late.
	Late   bool   `json:"late,omitempty"`
	Theirs string `json:"theirs,omitempty"` // what stands there now
	Yours  string `json:"yours,omitempty"`  // what was typed
	Token  string `json:"token,omitempty"`
	Lines  []line `json:"lines,omitempty"` // all that was changed meanwhile
}

// edit is one way to change a job file. It returns the new text and what was done, or a refusal for the user.
type edit func(file *job.File, q request) (text []byte, what string, err error)

// reply answers a change that was made. The bench's lock is held.
type reply func(w http.ResponseWriter, name string, b *bench, q request, said string)

// change answers a request to change the job in the given way: read, edit, save, work out, answer.
func (s *server) change(do edit, then reply) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		name, q, ok := s.asked(w, r)
		if !ok {
			return
		}
		b := s.bench(name)
		b.mu.Lock()
		defer b.mu.Unlock()
		text, token, err := s.Store.Load(name)
		if err != nil {
			s.fail(w, err)
			return
		}
		b.timeline.see(token, text, changedElsewhere)
		file := job.Read(name, text)
		said := ""
		if q.Token != token {
			base, known := b.timeline.find(q.Token)
			lines := difference(base, text)
			if !known {
				lines = nil
			}
			if !q.Over && (!known || clashes(name, base, file, q)) {
				s.answer(w, http.StatusConflict, refusal{Late: true, Path: q.Path, Theirs: typed(file, q.Path), Yours: q.Text, Token: token, Lines: lines,
					Message: "the file was changed elsewhere while you typed"})
				return
			}
			if len(lines) > 0 {
				said = "the file was also changed elsewhere, which is kept; "
			}
		}
		edited, what, err := do(file, q)
		if err != nil {
			s.answer(w, http.StatusUnprocessableEntity, refusal{Message: inWords(err, q.Units), Path: q.Path})
			return
		}
		if !bytes.Equal(edited, text) {
			saved, err := s.Store.Save(name, edited, token)
			if errors.Is(err, ErrConflict) { // someone saved between our reading and writing
				s.answer(w, http.StatusConflict, refusal{Late: true, Path: q.Path, Yours: q.Text, Message: "the file was changed elsewhere this very moment: try again"})
				return
			}
			if err != nil {
				s.fail(w, err)
				return
			}
			token, text = saved, edited
			b.timeline.see(token, text, what)
			b.tell()
		}
		then(w, name, b, q, said)
	}
}

// inWords is what is wrong and what to do, without the path: it stands at the very field.
func inWords(err error, units string) string {
	var refused *job.Refused
	if !errors.As(err, &refused) {
		return err.Error()
	}
	u := quantity.InchUnits
	if asked := system(units); asked != nil {
		u = *asked
	}
	text := refused.Finding.Message.Show(u)
	if remedy := refused.Finding.Remedy.Show(u); remedy != "" {
		text += " → " + remedy
	}
	return text
}

// changedElsewhere is what the timeline says of a change that wasn't made through this server.
const changedElsewhere = "what was changed outside this page"

// clashes reports whether what the user changes was itself changed since the text that the page showed. Changes to other
// lines don't clash: both are kept.
func clashes(name string, base []byte, file *job.File, q request) bool {
	if q.Path == "" {
		return true
	}
	before := job.Read(name, base)
	if item := itemOf(q.Path); item != "" && (len(before.Job.Loads) != len(file.Job.Loads) || typed(before, item+".name") != typed(file, item+".name")) {
		return true // the number in the path may stand for another item now
	}
	return typed(before, q.Path) != typed(file, q.Path)
}

// itemOf returns the list item that the path lies in: "loads[0]" for "loads[0].power"; "" if it lies in none.
func itemOf(path string) string {
	item, _, in := strings.Cut(path, "].")
	if !in {
		return ""
	}
	return item + "]"
}

// behind answers and returns true when the page that asks hasn't seen the file as it is: it must look first.
func (s *server) behind(w http.ResponseWriter, q request, token string) bool {
	if q.Token == token {
		return false
	}
	s.answer(w, http.StatusConflict, refusal{Late: true, Token: token, Message: "the file was changed elsewhere meanwhile: look at it as it is now, then do it again"})
	return true
}

// step answers a request to undo (-1) or redo (+1).
func (s *server) step(steps int, then reply) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		name, q, ok := s.asked(w, r)
		if !ok {
			return
		}
		b := s.bench(name)
		b.mu.Lock()
		defer b.mu.Unlock()
		text, token, err := s.Store.Load(name)
		if err != nil {
			s.fail(w, err)
			return
		}
		b.timeline.see(token, text, changedElsewhere)
		if s.behind(w, q, token) {
			return
		}
		said := "took back " + b.timeline.undo() + "; "
		if steps > 0 {
			said = "did again " + b.timeline.redo() + "; "
		}
		m, ok := b.timeline.to(steps)
		if !ok {
			s.answer(w, http.StatusUnprocessableEntity, refusal{Message: "there is nothing more to take back or do again"})
			return
		}
		saved, err := s.Store.Save(name, m.text, token)
		if err != nil {
			s.fail(w, err)
			return
		}
		b.timeline.at += steps
		b.timeline.moments[b.timeline.at].token = saved
		b.tell()
		then(w, name, b, q, said)
	}
}

// bringBack answers a request to make an earlier version the present text. The present one stays in the versions, and the
// step can be undone.
func (s *server) bringBack(w http.ResponseWriter, r *http.Request) {
	name, q, ok := s.asked(w, r)
	if !ok {
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	text, token, err := s.Store.Load(name)
	if err != nil {
		s.fail(w, err)
		return
	}
	b.timeline.see(token, text, changedElsewhere)
	if s.behind(w, q, token) {
		return
	}
	old, err := s.Store.Version(name, q.Version)
	if err != nil {
		s.fail(w, err)
		return
	}
	saved, err := s.Store.Save(name, old, token)
	if err != nil {
		s.fail(w, err)
		return
	}
	b.timeline.see(saved, old, "bringing back an earlier version")
	b.tell()
	s.repaint(w, name, b, q, "brought back an earlier version; ")
}

// asked reads the request's name and body; it has answered by itself when they aren't proper.
func (s *server) asked(w http.ResponseWriter, r *http.Request) (name string, q request, ok bool) {
	name = r.PathValue("name")
	if !properName(name) {
		s.answer(w, http.StatusNotFound, refusal{Message: "there is no job of that name"})
		return "", q, false
	}
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(&q); err != nil {
		status := http.StatusBadRequest
		if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
			status = http.StatusRequestEntityTooLarge
		}
		s.answer(w, status, refusal{Message: "the request can't be read"})
		return "", q, false
	}
	return name, q, true
}

func (s *server) answer(w http.ResponseWriter, status int, body any) {
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(status)
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false) // it is read as JSON only: see guard
	_ = e.Encode(body)     // the asker went away: nobody to tell
}

// fail answers with what a Store said.
func (s *server) fail(w http.ResponseWriter, err error) {
	switch {
	case errors.Is(err, ErrMissing):
		s.answer(w, http.StatusNotFound, refusal{Message: "there is no job of that name"})
	case errors.Is(err, ErrConflict):
		s.answer(w, http.StatusConflict, refusal{Late: true, Message: "the file was changed elsewhere this very moment: try again"})
	default:
		s.answer(w, http.StatusInternalServerError, refusal{Message: "the file could not be read or written: " + err.Error()})
	}
}

// tell wakes every page that is open on the job. The lock is held.
func (b *bench) tell() {
	for l := range b.listeners {
		select {
		case l <- struct{}{}:
		default: // it has been woken and hasn't looked yet
		}
	}
}

// listen returns a channel that is sent to on each change made through this server, until the context is done.
func (b *bench) listen(ctx context.Context) <-chan struct{} {
	l := make(chan struct{}, 1)
	b.mu.Lock()
	b.listeners[l] = true
	b.mu.Unlock()
	context.AfterFunc(ctx, func() {
		b.mu.Lock()
		delete(b.listeners, l)
		b.mu.Unlock()
	})
	return l
}
