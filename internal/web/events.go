package web

import (
	"fmt"
	"net/http"
	"time"
)

// heartbeat is how often a quiet stream says that it is alive, so that the page can tell a quiet file from a lost server.
const heartbeat = 10 * time.Second

// events is the stream that tells an open page the token of the file whenever it may have changed: saved from another tab,
// or by an editor; and the mark of what the sheet shows beside the file, when the proof has been worked out or a reading was
// taken. The page asks for the parts itself if token or mark isn't what it shows.
func (s *server) events(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.fail(w, ErrMissing)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	if err := out.SetWriteDeadline(time.Time{}); err != nil {
		s.fail(w, err)
		return
	}
	b := s.bench(name)
	here := b.listen(r.Context())
	elsewhere := s.Store.Watch(r.Context(), name)
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	last, lastBeside := "", ""
	for {
		_, token, err := s.Store.Load(name)
		b.mu.Lock()
		beside := s.beside(name, b)
		b.mu.Unlock()
		message := "event: beat\ndata: -\n\n"
		switch {
		case err != nil:
			message, last = "event: missing\ndata: -\n\n", "" // should it come back, its token is told anew
		case token != last:
			message, last = fmt.Sprintf("data: %s\n\n", token), token
		}
		if beside != lastBeside {
			message += fmt.Sprintf("event: beside\ndata: %s\n\n", beside)
			lastBeside = beside
		}
		if _, err := fmt.Fprint(w, message); err != nil {
			return
		}
		if out.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-here:
		case _, open := <-elsewhere:
			if !open {
				elsewhere = nil
			}
		case <-beat.C:
		}
	}
}
