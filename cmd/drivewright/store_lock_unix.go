//go:build unix

package main

import (
	"errors"
	"os"
	"path"
	"syscall"
)

// lock waits until no other save is under way in the folder, here or in another program, and returns what ends the turn.
// The system drops the lock when a program dies.
func (s *Store) lock() (unlock func(), err error) {
	s.mu.Lock()
	f, err := s.lockFile()
	if err != nil {
		s.mu.Unlock()
		return nil, err
	}
	return func() {
		_ = f.Close() // closing drops the lock
		s.mu.Unlock()
	}, nil
}

func (s *Store) lockFile() (*os.File, error) {
	if err := s.root.MkdirAll(ownFolder, 0o755); err != nil {
		return nil, err
	}
	f, err := s.root.OpenFile(path.Join(ownFolder, "lock"), os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX)
		switch {
		case err == nil:
			return f, nil
		case errors.Is(err, syscall.EINTR):
		case errors.Is(err, syscall.ENOTSUP), errors.Is(err, syscall.ENOSYS):
			return f, nil // a disk without locks: the look right before the rename must do
		default:
			return nil, errors.Join(err, f.Close())
		}
	}
}
