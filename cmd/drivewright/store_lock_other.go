//go:build !unix

package main

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"time"
)

// lock waits until no other save is under way in the folder, here or in another program, and returns what ends the turn.
// Where the system has no lock that dies with its holder, a file stands for it; one that is older than any save takes has
// been left behind by a program that died.
func (s *Store) lock() (unlock func(), err error) {
	s.mu.Lock()
	const patience = 3 * time.Second
	name := path.Join(ownFolder, "lock")
	if err := s.root.MkdirAll(ownFolder, 0o755); err != nil {
		s.mu.Unlock()
		return nil, err
	}
	for {
		f, err := s.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err == nil {
			_ = f.Close()
			return func() {
				_ = s.root.Remove(name)
				s.mu.Unlock()
			}, nil
		}
		if !errors.Is(err, fs.ErrExist) && !errors.Is(err, fs.ErrPermission) { // being deleted counts as taken
			s.mu.Unlock()
			return nil, err
		}
		if info, err := s.root.Stat(name); err == nil && time.Since(info.ModTime()) > patience {
			_ = s.root.Remove(name)
		}
		time.Sleep(20 * time.Millisecond)
	}
}
