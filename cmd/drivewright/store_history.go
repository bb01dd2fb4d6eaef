package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"

	"drivewright/internal/web"
)

// Earlier texts of lathe.job.yaml stand in .drivewright/history/lathe.job.yaml, one file each, named after the time at
// which it was saved or replaced and the beginning of its token. They are plain job files: without the program they can be
// copied back by hand.

// versionName is the form of their names; it keeps anything else out of the folder's list.
var versionName = regexp.MustCompile(`^[0-9]{8}T[0-9]{6}\.[0-9]{9}Z-[0-9a-f]{16}$`)

const timeForm = "20060102T150405.000000000Z"

// alwaysKept is how many of the newest texts are never thinned out.
const alwaysKept = 50

func historyFolder(name string) string { return path.Join(ownFolder, "history", name) }

// kept is an earlier text.
type kept struct {
	id   string
	when time.Time
}

// hash returns the beginning of the text's token.
func (v kept) hash() string { return v.id[len(timeForm)+1:] }

// versions returns what is kept of a file, the oldest first.
func (s *Store) versions(name string) ([]kept, error) {
	entries, err := fs.ReadDir(s.root.FS(), historyFolder(name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	var list []kept
	for _, e := range entries {
		id, ok := strings.CutSuffix(e.Name(), ".yaml")
		if !ok || !versionName.MatchString(id) || !e.Type().IsRegular() {
			continue
		}
		when, err := time.Parse(timeForm, id[:len(timeForm)])
		if err != nil {
			continue // not one of ours
		}
		list = append(list, kept{id, when})
	}
	slices.SortFunc(list, func(a, b kept) int { return strings.Compare(a.id, b.id) })
	return list, nil
}

// Versions returns what is kept of a file's earlier texts, the latest first. The present text is not among them.
func (s *Store) Versions(name string) ([]web.Version, error) {
	if err := checkName(name); err != nil {
		return nil, errors.Join(web.ErrMissing, err)
	}
	list, err := s.versions(name)
	if err != nil {
		return nil, err
	}
	present := ""
	if text, _, err := s.read(name); err == nil {
		present = tokenOf(text)[:16]
	}
	var earlier []web.Version
	for _, v := range slices.Backward(list) {
		if v.hash() != present {
			earlier = append(earlier, web.Version{ID: v.id, When: v.when})
		}
	}
	return earlier, nil
}

// Version returns an earlier text. The error is web.ErrMissing if it isn't kept, and another one if the disk has damaged it.
func (s *Store) Version(name, id string) ([]byte, error) {
	if err := checkName(name); err != nil {
		return nil, errors.Join(web.ErrMissing, err)
	}
	if !versionName.MatchString(id) {
		return nil, fmt.Errorf("%w: no version is called %q", web.ErrMissing, id)
	}
	text, _, err := s.read(path.Join(historyFolder(name), id+".yaml"))
	if err != nil {
		return nil, err
	}
	if !strings.HasPrefix(tokenOf(text), kept{id: id}.hash()) {
		return nil, fmt.Errorf("the version %s of %s is damaged", id, name)
	}
	return text, nil
}

// store keeps a text of a file. A text that is kept already is not stored twice; it moves to the present time.
func (s *Store) store(name string, text []byte) error {
	folder := historyFolder(name)
	if err := s.root.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	list, err := s.versions(name)
	if err != nil {
		return err
	}
	when := s.now().UTC()
	if n := len(list); n > 0 && !when.After(list[n-1].when) { // the order must hold even if the clock was set back
		when = list[n-1].when.Add(time.Nanosecond)
	}
	hash := tokenOf(text)[:16]
	id := when.Format(timeForm) + "-" + hash
	if n := slices.IndexFunc(list, func(v kept) bool { return v.hash() == hash }); n >= 0 {
		if n == len(list)-1 {
			return nil
		}
		err = s.rename(path.Join(folder, list[n].id+".yaml"), path.Join(folder, id+".yaml"))
		s.syncFolder(folder)
		return err
	}
	temp, err := s.writeTemp(folder, text, 0o644)
	if err != nil {
		return err
	}
	if err := s.rename(temp, path.Join(folder, id+".yaml")); err != nil {
		return errors.Join(err, s.root.Remove(temp))
	}
	s.syncFolder(folder)
	return s.thin(folder, append(list, kept{id, when}))
}

// thin removes texts until no more than s.keep are left. The first one and the newest stay; between them those go first
// that are closest in time to the one before, so that what is left tells of every day's work.
func (s *Store) thin(folder string, list []kept) error {
	if len(list) <= s.keep {
		return nil
	}
	if err := s.clean(folder); err != nil {
		return err
	}
	newest := min(alwaysKept, s.keep/2)
	for len(list) > max(s.keep, 2) {
		drop := 1
		for n := 1; n < len(list)-max(newest, 1); n++ {
			if list[n].when.Sub(list[n-1].when) < list[drop].when.Sub(list[drop-1].when) {
				drop = n
			}
		}
		if err := s.root.Remove(path.Join(folder, list[drop].id+".yaml")); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		list = slices.Delete(list, drop, drop+1)
	}
	return nil
}
