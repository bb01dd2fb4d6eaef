package web

import (
	"net/http"
	"sync/atomic"
	"time"

	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

// The arrangement of the box takes up to some seconds. Like the proof it is worked out beside the sheet and kept under the mark of what it
// was worked out from. Unlike the proof it has something to show early: the first arrangement, and each better one while the search goes on.
// Whoever doesn't want to wait stops it, and what was found until then stands.

// arrangement is what is known of one brief.
type arrangement struct {
	result  *box.Result
	stopped bool // by the user, before the search had come to its end
}

// tellAtMost is how often the pages are told of a better arrangement: each time they work the sheet out anew.
const tellAtMost = 700 * time.Millisecond

// arrangeWork is the search for one job's arrangement. One at a time is under way; what is wanted meanwhile ends it, and only the latest of
// it waits.
type arrangeWork struct {
	running bool
	under   string       // mark of the brief that is being searched; "" if none is
	best    *box.Result  // the best of it so far; nil if there is none yet
	stop    *atomic.Bool // ends the search
	byHand  bool         // the user ended it
	wanted  *box.Brief
	mark    string // of the wanted one
	told    int    // how many were told of, so that pages see that something is new
}

// boxWork says how the arrangement stands that the sheet shows.
type boxWork struct {
	// Arranging is true while the search is under way, Found when something of it is there already.
	Arranging bool `json:"arranging"`
	Found     bool `json:"found"`
	Stopped   bool `json:"stopped"` // by the user, before its end
	// Said says it in words; "" when there is nothing to say.
	Said string `json:"said"`
}

// arrange gives the plan the arrangement that is known, and has a better one looked for. The bench's lock is held.
func (s *server) arrange(b *bench, p *plan.Plan) boxWork {
	brief := p.Boxed()
	if len(brief.Bodies) == 0 {
		return boxWork{}
	}
	mark := plan.BoxMark(&brief)
	if known, ok := s.arrangements.find(mark); ok {
		p.TakeArrangement(plan.Rebriefed(known.result, brief))
		if known.stopped {
			return boxWork{Found: true, Stopped: true, Said: "The search was stopped before its end. What stands here is the best that it had found."}
		}
		return boxWork{Found: true}
	}
	w := &b.arranging
	if w.under == mark {
		w.wanted, w.mark = nil, mark
	} else {
		if w.stop != nil {
			w.stop.Store(true) // nobody looks at a box that has been changed again
		}
		w.wanted, w.mark = &brief, mark
	}
	if !w.running {
		w.running = true
		go s.arrangeBeside(b)
	}
	if w.under == mark && w.best != nil {
		p.TakeArrangement(plan.Rebriefed(w.best, brief))
		room, _ := w.best.Room()
		return boxWork{Arranging: true, Found: true, Said: "This is the best arrangement so far, in " + room.Name + ". A smaller box and shorter wires are being looked for."}
	}
	return boxWork{Arranging: true, Said: "The parts are being arranged."}
}

// arrangeBeside works out the arrangement of what is wanted, and of what is wanted meanwhile, until nothing is.
func (s *server) arrangeBeside(b *bench) {
	b.mu.Lock()
	defer b.mu.Unlock()
	w := &b.arranging
	for w.wanted != nil {
		for seen := ""; seen != w.mark; { // until it stands still
			seen = w.mark
			b.mu.Unlock()
			time.Sleep(settled)
			b.mu.Lock()
		}
		if w.wanted == nil {
			break
		}
		brief, mark := *w.wanted, w.mark
		w.wanted, w.under, w.best, w.stop, w.byHand = nil, mark, nil, new(atomic.Bool), false
		stop := w.stop
		b.mu.Unlock()
		result, ok := s.arrangeSafely(brief, box.Options{Stop: stop.Load, Watch: s.watch(b, mark)})
		b.mu.Lock()
		if w.best != nil && result.Chosen < 0 { // stopped on its way back from a first one
			result = *w.best
		}
		if ok && (w.byHand || !stop.Load()) {
			s.arrangements.keep(mark, arrangement{&result, stop.Load()})
		}
		w.under, w.best, w.stop = "", nil, nil
		if ok {
			w.told++
			b.tell()
		}
	}
	w.running = false
}

// watch returns what takes over each better arrangement of the brief with the mark.
func (s *server) watch(b *bench, mark string) func(box.Result) {
	var last time.Time
	return func(r box.Result) {
		b.mu.Lock()
		defer b.mu.Unlock()
		if b.arranging.under != mark {
			return
		}
		b.arranging.best = &r
		if time.Since(last) > tellAtMost {
			last = time.Now()
			b.arranging.told++
			b.tell()
		}
	}
}

// arrangeSafely keeps a fault in the search from taking the program down with it.
func (s *server) arrangeSafely(b box.Brief, o box.Options) (r box.Result, ok bool) {
	defer func() {
		if fault := recover(); fault != nil {
			r, ok = box.Result{Brief: b, Chosen: -1, Tried: triedNone(b)}, false
		}
	}()
	return s.Arrange(b, o), true
}

// triedNone says of each size that nothing is known of it.
func triedNone(b box.Brief) []box.Tried {
	tried := make([]box.Tried, len(b.Rooms))
	for n := range tried {
		tried[n].Room = b.Rooms[n]
	}
	return tried
}

// arrangeNow gives the plan its arrangement and waits for it.
func (s *server) arrangeNow(p *plan.Plan) {
	brief := p.Boxed()
	if len(brief.Bodies) == 0 {
		return
	}
	mark := plan.BoxMark(&brief)
	known, ok := s.arrangements.find(mark)
	if !ok {
		r, worked := s.arrangeSafely(brief, box.Options{})
		if !worked {
			return
		}
		known.result = &r
		s.arrangements.keep(mark, known)
	}
	p.TakeArrangement(plan.Rebriefed(known.result, brief))
}

// takeKnown gives the plan its arrangement if it is known, and has none looked for: for the list of all jobs.
func (s *server) takeKnown(p *plan.Plan) {
	brief := p.Boxed()
	if known, ok := s.arrangements.find(plan.BoxMark(&brief)); ok {
		p.TakeArrangement(plan.Rebriefed(known.result, brief))
	}
}

// stopArranging ends the search for the job's arrangement: the best so far stands.
func (s *server) stopArranging(w http.ResponseWriter, r *http.Request) {
	name, _, ok := s.asked(w, r)
	if !ok {
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.arranging.stop != nil {
		b.arranging.byHand = true
		b.arranging.stop.Store(true)
	}
	if b.trial != nil {
		b.trial.Store(true)
	}
	s.answer(w, http.StatusOK, struct{}{})
}

// arrangeOn takes a search up again that was stopped.
func (s *server) arrangeOn(w http.ResponseWriter, r *http.Request) {
	name, q, ok := s.asked(w, r)
	if !ok {
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	text, _, err := s.Store.Load(name)
	if err != nil {
		s.fail(w, err)
		return
	}
	worked := s.plan(name, text)
	brief := worked.Boxed()
	mark := plan.BoxMark(&brief)
	if known, ok := s.arrangements.find(mark); ok && known.stopped {
		s.arrangements.forget(mark)
	}
	s.repaint(w, name, b, q, "")
}
