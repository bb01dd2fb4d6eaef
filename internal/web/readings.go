package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"regexp"
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
	"drivewright/internal/plan"
	"drivewright/internal/trade/prove"
)

// A reading comes from the page as it was typed, is judged here with all that were taken before, and is written down for good
// unless nobody could know what it means. The page keeps it until it hears that it is written down, and sends it again if it
// doesn't: the records hold a line once.

// readingsState is what the page shows of the readings taken so far.
type readingsState struct {
	Mark     string                `json:"mark"` // of the circuit that they are judged against
	Beside   string                `json:"beside"`
	Proving  bool                  `json:"proving"`
	Taken    map[string]takenState `json:"taken"` // the latest of each reading or test
	Suspects []suspectState        `json:"suspects"`
	Next     *nextState            `json:"next"`
	// Refused are the keys of what was sent and can't be written down, with why.
	Refused map[string]string `json:"refused"`
}

type takenState struct {
	Value string `json:"value"`
	Shown string `json:"shown"`
	// Verdict is "right" or "wrong".
	Verdict string `json:"verdict"`
	Expect  string `json:"expect"`
	At      string `json:"at"`
	By      string `json:"by"`
}

type suspectState struct {
	Name   string `json:"name"`
	Odds   string `json:"odds"`
	Remedy string `json:"remedy"`
}

// nextState is the reading that would best tell the suspects apart; Card is its card where it isn't on the sheet.
type nextState struct {
	ID   string        `json:"id"`
	Card template.HTML `json:"card,omitempty"`
}

// takenRequest is what the page sends: readings in the order in which they were taken.
type takenRequest struct {
	Taken []takenLine `json:"taken"`
}

type takenLine struct {
	Key     string `json:"key"` // the page's own, for the answer
	Reading string `json:"reading"`
	Value   string `json:"value"`
	By      string `json:"by"`
	At      string `json:"at"`
	Meter   string `json:"meter"`
}

// mostTaken is how many readings one request may bring; a page that was away for a whole round brings some dozens.
const mostTaken = 300

// takenAt is the form of the time of a reading: what the clock on the wall shows.
var takenAt = regexp.MustCompile(`^20[0-9]{2}-[01][0-9]-[0-3][0-9] [0-2][0-9]:[0-5][0-9](:[0-5][0-9])?$`)

// proper reports whether the line can be written down at all.
func (l takenLine) proper() bool {
	short := func(text string, most int) bool {
		return len(text) <= most && !strings.ContainsFunc(text, func(c rune) bool { return c < ' ' || c == 0x7f })
	}
	return l.Reading != "" && short(l.Reading, 40) && strings.TrimSpace(l.Value) != "" && short(l.Value, 60) && short(l.By, 60) && short(l.Meter, 80) && takenAt.MatchString(l.At)
}

// readingsNow answers with the state of the readings.
func (s *server) readingsNow(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.fail(w, ErrMissing)
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	worked, ok := s.planOf(w, name, b)
	if !ok {
		return
	}
	s.answerReadings(w, name, b, &worked, nil)
}

// take writes down what was measured, and answers with the state of the readings.
func (s *server) take(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.fail(w, ErrMissing)
		return
	}
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	var q takenRequest
	if err := d.Decode(&q); err != nil || len(q.Taken) > mostTaken {
		status := http.StatusBadRequest
		if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
			status = http.StatusRequestEntityTooLarge
		}
		s.answer(w, status, refusal{Message: "the request can't be read"})
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	worked, ok := s.planOf(w, name, b)
	if !ok {
		return
	}
	if worked.Proof == nil { // whether a reading can be understood isn't known yet: the page sends it again
		s.answerReadings(w, name, b, &worked, nil)
		return
	}
	refused := map[string]string{}
	added := false
	for _, l := range q.Taken {
		t := prove.Taken{Reading: l.Reading, Value: strings.TrimSpace(l.Value), By: l.By, At: l.At, Meter: l.Meter}
		if !l.proper() {
			refused[l.Key] = "this can't be written down"
			continue
		}
		if why := unreadable(&worked, t); why != "" {
			refused[l.Key] = why
			continue
		}
		fresh, err := s.Store.Record(name, t.Line())
		if err != nil {
			s.fail(w, err)
			return
		}
		if fresh {
			worked.Taken = append(worked.Taken, t)
			added = true
		}
	}
	if added {
		b.tell()
	}
	s.answerReadings(w, name, b, &worked, refused)
}

// unreadable says why a value means nothing for its reading or test; "" if it does.
func unreadable(p *plan.Plan, t prove.Taken) string {
	for _, j := range p.Proof.Meter.Judge(&p.Circuit.Circuit, []prove.Taken{t}).Judged {
		return j.Problem
	}
	return "nobody judges it"
}

func (s *server) answerReadings(w http.ResponseWriter, name string, b *bench, p *plan.Plan, refused map[string]string) {
	state, err := s.readingsState(p, refused)
	if err != nil {
		s.fail(w, err)
		return
	}
	state.Beside = s.beside(name, b)
	s.answer(w, http.StatusOK, state)
}

// readingsState judges what was taken.
func (s *server) readingsState(p *plan.Plan, refused map[string]string) (readingsState, error) {
	state := readingsState{Mark: p.CircuitMark(), Taken: map[string]takenState{}, Suspects: []suspectState{}, Refused: refused, Proving: p.Proof == nil}
	if p.Proof == nil {
		return state, nil
	}
	c, m := &p.Circuit.Circuit, &p.Proof.Meter
	expect := map[string]string{}
	for _, r := range m.Readings {
		expect[r.ID] = shownBand(r.Expect)
	}
	for _, t := range m.Tests {
		expect[t.ID] = t.Expect
	}
	diagnosis := m.Judge(c, p.Taken)
	for _, j := range diagnosis.Judged { // the last of each reading stays
		if j.Problem != "" { // written by hand, or of a circuit that was changed since
			continue
		}
		verdict := "wrong"
		if j.Right {
			verdict = "right"
		}
		state.Taken[j.Taken.Reading] = takenState{Value: j.Taken.Value, Shown: together(j.Shown), Verdict: verdict, Expect: expect[j.Taken.Reading], At: j.Taken.At, By: j.Taken.By}
	}
	for _, suspect := range diagnosis.Suspects {
		state.Suspects = append(state.Suspects, suspectState{suspect.Name, shownOdds(suspect.Odds), suspect.Remedy})
	}
	if next := diagnosis.Next; next != nil {
		state.Next = &nextState{ID: next.ID}
		if !slices.ContainsFunc(m.Readings, func(r prove.Reading) bool { return r.ID == next.ID }) {
			card, err := newReadingCard(c, m, *next, nil)
			if err != nil {
				return state, err
			}
			var b strings.Builder
			if err := s.pages.ExecuteTemplate(&b, "reading", card); err != nil {
				return state, err
			}
			state.Next.Card = template.HTML(b.String()) // written by html/template: already escaped
		}
	}
	return state, nil
}

// shownOdds writes odds in whole percent: they rank, they don't measure.
func shownOdds(odds quantity.Ratio) string {
	if odds < quantity.Percent {
		return "under 1\u00a0%"
	}
	return fmt.Sprintf("%.0f\u00a0%%", float64(odds)*100)
}
