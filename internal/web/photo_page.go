package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"strconv"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/trade/metalwork"
)

// The page for finding holes in a photo. The picture never leaves the browser: what is written into the job are dots of it, those of the corners of
// a sheet of known size and of the holes. What follows from them is the Make stage's matter.

// photoState is what the page shows of one pattern.
type photoState struct {
	Token    string            `json:"token"`
	Undo     string            `json:"undo"`
	Pattern  string            `json:"pattern"`
	Patterns []string          `json:"patterns"`
	Page     string            `json:"page"` // the kind of sheet
	Corners  map[string]string `json:"corners"`
	Holes    []photoHole       `json:"holes"`
	Refused  string            `json:"refused"` // why the photo can't be used; "" if it can, or if there is none yet
	Found    []string          `json:"found"`
}

type photoHole struct {
	Name string `json:"name"`
	Seen string `json:"seen"`
}

// cornerKeys are the keys of the corners in a pattern, in the order in which they are tapped.
var cornerKeys = []string{"lower left corner", "lower right corner", "upper right corner", "upper left corner"}

// photoOf is the state of a pattern as the file is now; of the first one if none is named. The bench's lock is held.
func (s *server) photoOf(name string, b *bench, pattern, units string) (photoState, string, error) {
	text, token, err := s.Store.Load(name)
	if err != nil {
		return photoState{}, "", err
	}
	b.timeline.see(token, text, changedElsewhere)
	file := job.Read(name, text)
	j := &file.Job
	state := photoState{Token: token, Undo: b.timeline.undo(), Pattern: pattern, Corners: map[string]string{}}
	title := title(name)
	if j.Machine.Name.Set {
		title = string(j.Machine.Name.Value)
	}
	u := systemOr(units, j)
	for _, r := range metalwork.Patterns(j) {
		p := r.Pattern
		state.Patterns = append(state.Patterns, string(p.Name.Value))
		if state.Pattern == "" {
			state.Pattern = string(p.Name.Value)
		}
		if string(p.Name.Value) != state.Pattern {
			continue
		}
		state.Page, state.Refused = string(p.Page.Value), r.Photo.Refused
		for n, c := range []job.Given[quantity.Text]{p.LowerLeft, p.LowerRight, p.UpperRight, p.UpperLeft} {
			state.Corners[cornerKeys[n]] = string(c.Value)
		}
		for _, h := range r.Holes {
			state.Holes = append(state.Holes, photoHole{h.Name, string(h.Hole.Seen.Value)})
			if r.Photo.Used && h.Hole.Seen.Set && h.Placed {
				found := fmt.Sprintf("%s at %s, %s", h.Name, lengthIn(h.X.Value, u), lengthIn(h.Y.Value, u))
				if off := 2 * max(h.OffX.Value, h.OffY.Value); mm(off) > 0.005 { // the first two holes are what the others are counted from
					found += ", good to about " + off.Show(u)
				}
				state.Found = append(state.Found, found)
			}
		}
	}
	return state, title, nil
}

// photoPage shows the page.
func (s *server) photoPage(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !properName(name) {
		s.missing(w)
		return
	}
	b := s.bench(name)
	b.mu.Lock()
	defer b.mu.Unlock()
	state, title, err := s.photoOf(name, b, r.PathValue("pattern"), r.FormValue("units"))
	if err != nil {
		s.missing(w)
		return
	}
	written, err := json.Marshal(state)
	if err != nil {
		s.fail(w, err)
		return
	}
	s.show(w, "photo.tmpl", struct{ Name, Title, State, Asked string }{name, title, string(written), r.FormValue("units")})
}

// answerPhoto answers a change with the state of the pattern.
func (s *server) answerPhoto(w http.ResponseWriter, name string, b *bench, q request, _ string) {
	state, _, err := s.photoOf(name, b, q.Item, q.Units)
	if err != nil {
		s.fail(w, err)
		return
	}
	s.answer(w, http.StatusOK, state)
}

// mostDots is the most that a picture can have on a side.
const mostDots = 100_000

// seenInPhoto writes what was tapped in a photo of the pattern q.Item: the kind of sheet and its corners from q.Values, the holes from q.Places.
func seenInPhoto(file *job.File, q request) (text []byte, what string, err error) {
	if q.Item == "" {
		return nil, "", errors.New("say in a word or two what the holes are in")
	}
	values := map[string]string{"name": q.Item, "sheet in the photo": q.Values["sheet in the photo"]}
	for _, key := range cornerKeys {
		if values[key] = q.Values[key]; values[key] == "" {
			return nil, "", errors.New("tap the four corners of the sheet first")
		}
	}
	if file, err = writeItem(file, "patterns", []string{"name"}, values); err != nil {
		return nil, "", err
	}
	for _, h := range q.Places {
		if h.Tag == "" || !(h.X >= 0 && h.X < mostDots && h.Y >= 0 && h.Y < mostDots) {
			return nil, "", errors.New("a hole has a name, and lies within the picture")
		}
		dots := strconv.Itoa(int(math.Round(h.X))) + ", " + strconv.Itoa(int(math.Round(h.Y)))
		if file, err = writeItem(file, "holes", []string{"pattern", "name"}, map[string]string{"pattern": q.Item, "name": h.Tag, "in the photo": dots}); err != nil {
			return nil, "", err
		}
	}
	return file.Bytes, "the photo of " + q.Item, nil
}
