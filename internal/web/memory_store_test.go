package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// memoryStore keeps job files in memory, with the same promises as a Store of files.
type memoryStore struct {
	mu       sync.Mutex
	files    map[string][]byte
	versions map[string][][]byte
	records  map[string][]byte
	watchers map[chan struct{}]string
}

func newMemoryStore(files map[string]string) *memoryStore {
	m := &memoryStore{files: map[string][]byte{}, versions: map[string][][]byte{}, records: map[string][]byte{}, watchers: map[chan struct{}]string{}}
	for name, text := range files {
		m.files[name] = []byte(text)
	}
	return m
}

func tokenOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

func (m *memoryStore) List() ([]Entry, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var list []Entry
	for name := range m.files {
		list = append(list, Entry{Name: name, Changed: time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)})
	}
	slices.SortFunc(list, func(a, b Entry) int {
		if a.Name < b.Name {
			return -1
		}
		return 1
	})
	return list, nil
}

func (m *memoryStore) Load(name string) ([]byte, string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	text, ok := m.files[name]
	if !ok {
		return nil, "", ErrMissing
	}
	return slices.Clone(text), tokenOf(text), nil
}

func (m *memoryStore) Save(name string, text []byte, token string) (string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if tokenOf(m.files[name]) != token {
		return "", ErrConflict
	}
	m.put(name, text)
	return tokenOf(text), nil
}

// put is Save without the token: what another program does.
func (m *memoryStore) put(name string, text []byte) {
	m.versions[name] = append(m.versions[name], m.files[name])
	m.files[name] = slices.Clone(text)
	m.wake(name)
}

// wake tells whoever watches the file. The lock is held.
func (m *memoryStore) wake(name string) {
	for w, of := range m.watchers {
		if of == name {
			select {
			case w <- struct{}{}:
			default:
			}
		}
	}
}

// editOutside is an editor that saves the file.
func (m *memoryStore) editOutside(name string, change func(string) string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.put(name, []byte(change(string(m.files[name]))))
}

// remove is somebody who moves the file away.
func (m *memoryStore) remove(name string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.files, name)
	for w := range m.watchers {
		select {
		case w <- struct{}{}:
		default:
		}
	}
}

func (m *memoryStore) text(name string) string {
	m.mu.Lock()
	defer m.mu.Unlock()
	return string(m.files[name])
}

func (m *memoryStore) Create(name string, text []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if _, there := m.files[name]; there {
		return ErrExists
	}
	m.files[name] = text
	return nil
}

func (m *memoryStore) Versions(name string) ([]Version, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var list []Version
	for n := len(m.versions[name]) - 1; n >= 0; n-- {
		list = append(list, Version{ID: fmt.Sprint(n), When: time.Date(2026, 11, 25, 10, n, 0, 0, time.UTC)})
	}
	return list, nil
}

func (m *memoryStore) Version(name, id string) ([]byte, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	n, err := strconv.Atoi(id)
	if err != nil || n < 0 || n >= len(m.versions[name]) {
		return nil, ErrMissing
	}
	return m.versions[name][n], nil
}

func (m *memoryStore) Records(name string) ([]byte, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Clone(m.records[name]), nil
}

func (m *memoryStore) Record(name, line string) (bool, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if _, there := m.files[name]; !there {
		return false, ErrMissing
	}
	line = strings.TrimSuffix(line, "\n") + "\n"
	if strings.Contains("\n"+string(m.records[name]), "\n"+line) {
		return false, nil
	}
	m.records[name] = append(m.records[name], line...)
	m.wake(name)
	return true, nil
}

func (m *memoryStore) Watch(ctx context.Context, name string) <-chan struct{} {
	w := make(chan struct{}, 1)
	m.mu.Lock()
	m.watchers[w] = name
	m.mu.Unlock()
	context.AfterFunc(ctx, func() {
		m.mu.Lock()
		delete(m.watchers, w)
		m.mu.Unlock()
	})
	return w
}
