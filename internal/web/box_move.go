package web

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"

	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/box"
)

// moved returns the arrangement with parts where a hand has put them; the arrangement itself isn't changed.
func moved(r *box.Result, places []handPlace) *box.Result {
	own := *r
	own.Placed = slices.Clone(r.Placed)
	for _, at := range places {
		for n := range own.Placed {
			p := &own.Placed[n]
			if own.Brief.Bodies[p.Body].Tag != at.Tag {
				continue
			}
			if p.Turned != at.Turned {
				p.Turned, p.Size[0], p.Size[1] = at.Turned, p.Size[1], p.Size[0]
			}
			box.Move(&own, n, quantity.Length(at.X)*quantity.Millimetre, quantity.Length(at.Y)*quantity.Millimetre)
		}
	}
	return &own
}

// opened returns the arrangement with the mark: the one that the job's page shows, or another that is still known.
func (s *server) opened(b *bench, mark string) (*box.Result, bool) {
	b.mu.Lock()
	open := b.box
	b.mu.Unlock()
	if open.mark == mark && open.result != nil {
		return open.result, true
	}
	known, ok := s.arrangements.find(mark)
	return known.result, ok
}

// moving reads a request about places of an arrangement; it has answered by itself when there is no such arrangement.
func (s *server) moving(w http.ResponseWriter, r *http.Request) (b *bench, q request, result *box.Result, ok bool) {
	name, q, ok := s.asked(w, r)
	if !ok {
		return nil, q, nil, false
	}
	b = s.bench(name)
	if result, ok = s.opened(b, q.Mark); !ok {
		s.answer(w, http.StatusConflict, refusal{Late: true, Message: "the parts are arranged anew by now: move it once more"})
	}
	return b, q, result, ok
}

// tryPlaces answers what is wrong with the places where a hand holds parts. It is asked for each frame of a drag, so it works nothing out but
// that: the arrangement is the one that the page shows.
func (s *server) tryPlaces(w http.ResponseWriter, r *http.Request) {
	_, q, result, ok := s.moving(w, r)
	if !ok {
		return
	}
	state := stateOf(moved(result, q.Places), systemOr(q.Units, result.Brief.Job))
	state.Mark = q.Mark
	s.answer(w, http.StatusOK, state)
}

// around answers with the arrangement that is found around places which aren't written into the job yet. Whoever asked may stop it as any search.
func (s *server) around(w http.ResponseWriter, r *http.Request) {
	b, q, result, ok := s.moving(w, r)
	if !ok {
		return
	}
	brief := result.Brief
	u := systemOr(q.Units, brief.Job)
	for _, at := range q.Places {
		for n := range brief.Bodies {
			if brief.Bodies[n].Tag == at.Tag {
				brief = brief.Settle(n, inFile(at.X, u).value, inFile(at.Y, u).value, at.Turned)
			}
		}
	}
	mark := plan.BoxMark(&brief)
	known, have := s.arrangements.find(mark)
	if !have {
		stop := new(atomic.Bool)
		b.mu.Lock()
		b.trial = stop
		b.mu.Unlock()
		defer context.AfterFunc(r.Context(), func() { stop.Store(true) })()
		// The first of it may be all that there is when it is stopped.
		var first *box.Result
		found, worked := s.arrangeSafely(brief, box.Options{Stop: stop.Load, Watch: func(r box.Result) { first = &r }})
		if !worked {
			s.answer(w, http.StatusInternalServerError, refusal{Message: "the search broke off"})
			return
		}
		if found.Chosen < 0 && first != nil {
			found = *first
		}
		known = arrangement{&found, stop.Load()}
		if r.Context().Err() == nil {
			s.arrangements.keep(mark, known)
		}
	}
	state := stateOf(known.result, u)
	state.Mark, state.Trial = mark, true
	s.answer(w, http.StatusOK, state)
}

// fileLength is a length as it is written into a job file: the text, and what is read from it again.
type fileLength struct {
	text  string
	value quantity.Length
}

// inFile writes a length of a hand's place: to a tenth of a millimetre, or to a thousandth of an inch.
func inFile(millimetres float64, u quantity.System) fileLength {
	if u == quantity.InchUnits {
		text := trimmed(millimetres/25.4, 3)
		inches, _ := strconv.ParseFloat(text, 64) // our own figures
		return fileLength{text + " in", quantity.Length(inches) * quantity.Inch}
	}
	text := trimmed(millimetres, 1)
	figure, _ := strconv.ParseFloat(text, 64) // our own figures
	return fileLength{text + " mm", quantity.Length(figure) * quantity.Millimetre}
}

// trimmed writes a figure to some decimals, without zeros that say nothing.
func trimmed(figure float64, decimals int) string {
	text := strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(figure, 'f', decimals, 64), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// systemOr is the unit system asked for, else that of the job.
func systemOr(asked string, j *job.Job) quantity.System {
	if u := system(asked); u != nil {
		return *u
	}
	return plan.Plan{Job: j}.Units()
}

// settlePlaces writes places into the job, where a hand has put the parts.
func settlePlaces(file *job.File, q request) (text []byte, what string, err error) {
	var tags []string
	for _, at := range q.Places {
		u := systemOr(q.Units, &file.Job)
		turned := ""
		if at.Turned {
			turned = "yes"
		}
		values := map[string]string{"tag": at.Tag, "x": inFile(at.X, u).text, "y": inFile(at.Y, u).text, "turned": turned}
		if file, err = writeItem(file, "parts", []string{"tag"}, values); err != nil {
			return nil, "", err
		}
		tags = append(tags, at.Tag)
	}
	return file.Bytes, "settling " + strings.Join(tags, ", "), nil
}

// freePlace takes the settled place of the part q.Item out of the job.
func freePlace(file *job.File, q request) (text []byte, what string, err error) {
	for n := range file.Job.Parts {
		if string(file.Job.Parts[n].Tag.Value) != q.Item {
			continue
		}
		for _, key := range []string{"x", "y", "turned"} {
			text, err := file.Remove("parts[" + strconv.Itoa(n) + "]." + key)
			if err != nil {
				return nil, "", err
			}
			file = job.Read(file.Name, text)
		}
	}
	return file.Bytes, "freeing " + q.Item, nil
}

// writeItem returns the file with the values in the list's item that has the same under the keys, or in a new item. An empty value takes the key out.
func writeItem(file *job.File, list string, keys []string, values map[string]string) (*job.File, error) {
	for n := 0; ; n++ {
		at := list + "[" + strconv.Itoa(n) + "]"
		entries := file.Job.Entries(at)
		if entries == nil {
			break
		}
		if slices.ContainsFunc(keys, func(key string) bool { return file.Typed(at+"."+key) != values[key] }) {
			continue
		}
		for _, e := range entries {
			value, ok := values[strings.TrimPrefix(e.Path, at+".")]
			if !ok || value == file.Typed(e.Path) {
				continue
			}
			var text []byte
			var err error
			if value == "" {
				text, err = file.Remove(e.Path)
			} else {
				text, err = file.Set(e.Path, value)
			}
			if err != nil {
				return nil, err
			}
			file = job.Read(file.Name, text)
		}
		return file, nil
	}
	text, err := file.Append(list, values)
	if err != nil {
		return nil, err
	}
	return job.Read(file.Name, text), nil
}
