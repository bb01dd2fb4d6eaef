package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"drivewright/internal/web"
)

// Store keeps the job files of one folder. A save leaves either the old or the new text whole, whatever happens in the
// middle of it; it never overwrites what someone else has written since; and every text that it replaces is kept.
//
// Nothing outside the folder can be reached, through names or through links. Several programs may use the same folder: they
// take turns by a lock that the operating system drops when a program dies.
type Store struct {
	root *os.Root
	now  func() time.Time
	// poll is how often Watch looks at the file.
	poll time.Duration
	// keep is how many earlier texts of a file are kept.
	keep int

	mu    sync.Mutex // one save at a time within this program
	spare int        // number of the next temporary file
}

var _ web.Store = (*Store)(nil)

const (
	jobEnding = ".job.yaml"
	ownFolder = ".drivewright"
	tempBegin = ".drivewright-"
	tempEnd   = ".tmp"
)

// Conflict is the error of a save that would have overwritten what someone else wrote. It is also a web.ErrConflict.
type Conflict struct {
	Name  string
	Token string // of the text that is there now; "" if the file is gone
}

// Error says what happened.
func (c *Conflict) Error() string {
	if c.Token == "" {
		return c.Name + " has been deleted or renamed since it was read; nothing was written"
	}
	return c.Name + " has been changed by something else since it was read; nothing was written"
}

// Is makes errors.Is(err, web.ErrConflict) true.
func (c *Conflict) Is(target error) bool { return target == web.ErrConflict }

// openStore opens the folder, makes it if need be, and clears away what a killed save left behind. now is the clock for
// the times of versions.
func openStore(folder string, now func() time.Time) (*Store, error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	s := &Store{root: root, now: now, poll: 250 * time.Millisecond, keep: 200}
	unlock, err := s.lock()
	if err != nil {
		return nil, errors.Join(err, root.Close())
	}
	defer unlock()
	if err := s.clean("."); err != nil {
		return nil, errors.Join(err, root.Close())
	}
	kept, err := fs.ReadDir(root.FS(), path.Join(ownFolder, "history"))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, errors.Join(err, root.Close())
	}
	for _, e := range kept {
		if e.IsDir() {
			if err := s.clean(historyFolder(e.Name())); err != nil {
				return nil, errors.Join(err, root.Close())
			}
		}
	}
	return s, nil
}

// Close lets go of the folder.
func (s *Store) Close() error { return s.root.Close() }

// clean removes temporary files. Whoever holds the lock knows that no save is under way.
func (s *Store) clean(folder string) error {
	entries, err := fs.ReadDir(s.root.FS(), folder)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), tempBegin) && strings.HasSuffix(e.Name(), tempEnd) {
			if err := s.root.Remove(path.Join(folder, e.Name())); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
		}
	}
	return nil
}

// checkName refuses whatever is not the plain name of a job file.
func checkName(name string) error {
	stem, ok := strings.CutSuffix(name, jobEnding)
	switch {
	case !ok, stem == "":
		return fmt.Errorf("%q is not the name of a job file: it must end in %s", name, jobEnding)
	case strings.HasPrefix(name, "."), len(name) > 200, strings.ContainsAny(name, `/\:*?"<>|`), strings.ContainsFunc(name, func(c rune) bool { return c < ' ' || c == 0x7f || c == '\ufffd' }):
		return fmt.Errorf("%q can't be the name of a job file", name)
	}
	switch strings.ToUpper(strings.SplitN(stem, ".", 2)[0]) { // devices where file systems have them
	case "CON", "PRN", "AUX", "NUL", "COM1", "COM2", "COM3", "COM4", "COM5", "COM6", "COM7", "COM8", "COM9", "LPT1", "LPT2", "LPT3", "LPT4", "LPT5", "LPT6", "LPT7", "LPT8", "LPT9":
		return fmt.Errorf("%q can't be the name of a job file on every system", name)
	}
	return nil
}

// tokenOf is what a text is known by.
func tokenOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}

// List returns the job files of the folder, by name.
func (s *Store) List() ([]web.Entry, error) {
	entries, err := fs.ReadDir(s.root.FS(), ".")
	if err != nil {
		return nil, err
	}
	var list []web.Entry
	for _, e := range entries {
		if checkName(e.Name()) != nil || !e.Type().IsRegular() {
			continue
		}
		info, err := e.Info()
		if errors.Is(err, fs.ErrNotExist) {
			continue // deleted meanwhile
		} else if err != nil {
			return nil, err
		}
		list = append(list, web.Entry{Name: e.Name(), Changed: info.ModTime()})
	}
	slices.SortFunc(list, func(a, b web.Entry) int { return strings.Compare(a.Name, b.Name) })
	return list, nil
}

// Load returns a file's text with its token. The error is web.ErrMissing if there is no such file.
func (s *Store) Load(name string) (text []byte, token string, err error) {
	if err := checkName(name); err != nil {
		return nil, "", errors.Join(web.ErrMissing, err)
	}
	text, _, err = s.read(name)
	if err != nil {
		return nil, "", err
	}
	return text, tokenOf(text), nil
}

// read returns the text and the permissions of a regular file.
func (s *Store) read(name string) ([]byte, fs.FileMode, error) {
	info, err := s.root.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, 0, web.ErrMissing
	case err != nil:
		return nil, 0, err
	case !info.Mode().IsRegular():
		return nil, 0, fmt.Errorf("%s is not a plain file: links and folders are not followed", name)
	}
	text, err := s.root.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, web.ErrMissing
	}
	return text, info.Mode().Perm(), err
}

// Save writes the text if the file still has the token, and returns the new token. The text that it replaces is kept. The
// error is a *Conflict if the file has changed since; then nothing has been written.
func (s *Store) Save(name string, text []byte, token string) (string, error) {
	if err := checkName(name); err != nil {
		return "", err
	}
	unlock, err := s.lock()
	if err != nil {
		return "", err
	}
	defer unlock()
	present, mode, err := s.unchanged(name, token)
	if err != nil {
		return "", err
	}
	if bytes.Equal(present, text) {
		return token, nil
	}
	if err := s.store(name, present); err != nil {
		return "", fmt.Errorf("keeping the text before: %w", err)
	}
	temp, err := s.writeTemp(".", text, mode)
	if err != nil {
		return "", err
	}
	// Writing took a while: look again, right before the new text takes the place of the old one.
	if _, _, err := s.unchanged(name, token); err != nil {
		return "", errors.Join(err, s.root.Remove(temp))
	}
	if err := s.rename(temp, name); err != nil {
		return "", errors.Join(err, s.root.Remove(temp))
	}
	s.syncFolder(".")
	// The new text is kept as well, in case another program overwrites it. Should that fail, the file itself has been
	// saved, and the next save keeps it.
	_ = s.store(name, text)
	return tokenOf(text), nil
}

// unchanged returns the present text if it still has the token.
func (s *Store) unchanged(name, token string) ([]byte, fs.FileMode, error) {
	present, mode, err := s.read(name)
	if errors.Is(err, web.ErrMissing) {
		return nil, 0, &Conflict{Name: name}
	} else if err != nil {
		return nil, 0, err
	}
	if have := tokenOf(present); have != token {
		return nil, 0, &Conflict{Name: name, Token: have}
	}
	return present, mode, nil
}

// Create writes a new file. The error is web.ErrExists if there is one of that name.
func (s *Store) Create(name string, text []byte) error {
	if err := checkName(name); err != nil {
		return err
	}
	unlock, err := s.lock()
	if err != nil {
		return err
	}
	defer unlock()
	if _, err := s.root.Lstat(name); err == nil {
		return web.ErrExists
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	temp, err := s.writeTemp(".", text, 0o644)
	if err != nil {
		return err
	}
	// A second name for the finished file fails where the name is taken, and so can't overwrite; not every disk can do it.
	switch err := s.root.Link(temp, name); {
	case err == nil:
		err = s.root.Remove(temp)
		s.syncFolder(".")
		return err
	case errors.Is(err, fs.ErrExist):
		return errors.Join(web.ErrExists, s.root.Remove(temp))
	}
	if err := s.rename(temp, name); err != nil {
		return errors.Join(err, s.root.Remove(temp))
	}
	s.syncFolder(".")
	return nil
}

// BringBack puts an earlier text in place of the present one, which is kept first. The error is a *Conflict if the file no
// longer has the token.
func (s *Store) BringBack(name, version, token string) (string, error) {
	text, err := s.Version(name, version)
	if err != nil {
		return "", err
	}
	return s.Save(name, text, token)
}

// writeTemp writes a whole temporary file in the folder and makes sure that it is on the disk.
func (s *Store) writeTemp(folder string, text []byte, mode fs.FileMode) (name string, err error) {
	s.spare++
	name = path.Join(folder, fmt.Sprintf("%s%d-%d%s", tempBegin, os.Getpid(), s.spare, tempEnd))
	f, err := s.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, mode)
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return "", errors.Join(err, s.root.Remove(name))
	}
	return name, nil
}

// rename puts a file in place of another. Where an open file can't be replaced it tries again for a second: virus scanners
// and indexers open files for moments.
func (s *Store) rename(from, to string) error {
	err := s.root.Rename(from, to)
	for tries := 0; err != nil && runtime.GOOS == "windows" && tries < 20; tries++ {
		time.Sleep(50 * time.Millisecond)
		err = s.root.Rename(from, to)
	}
	return err
}

// syncFolder makes sure that a new name is on the disk. Some systems can't; there the rename alone must do.
func (s *Store) syncFolder(folder string) {
	if d, err := s.root.Open(folder); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}

// Watch sends whenever the file or its records may have changed, until the context is done. It looks four times a second: one
// look costs microseconds, needs no module, and works on network shares and memory sticks, where change notices get lost.
func (s *Store) Watch(ctx context.Context, name string) <-chan struct{} {
	changes := make(chan struct{}, 1)
	if checkName(name) != nil {
		return changes
	}
	before := s.lookAt(name)
	go func() {
		ticker := time.NewTicker(s.poll)
		defer ticker.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-ticker.C:
			}
			now := s.lookAt(name)
			if same(before[0], now[0]) && same(before[1], now[1]) {
				continue
			}
			before = now
			select {
			case changes <- struct{}{}:
			default: // one notice is waiting already
			}
		}
	}()
	return changes
}

// same reports whether two looks at a file saw the same one, unchanged.
func same(a, b fs.FileInfo) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}
