package web

import (
	"slices"
	"sync"
)

// mostKept is how many results of one kind are kept: those of the jobs that are open, and what undo goes back to.
const mostKept = 24

// memo keeps results under the mark of what they were worked out from, the latest used last.
type memo[T any] struct {
	mu   sync.Mutex
	kept []memory[T]
}

type memory[T any] struct {
	mark   string
	result T
}

// find returns the result with the mark.
func (m *memo[T]) find(mark string) (result T, ok bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	n := slices.IndexFunc(m.kept, func(k memory[T]) bool { return k.mark == mark })
	if n < 0 {
		return result, false
	}
	found := m.kept[n]
	m.kept = append(slices.Delete(m.kept, n, n+1), found)
	return found.result, true
}

// keep keeps a result in place of one with the same mark.
func (m *memo[T]) keep(mark string, result T) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.kept = slices.DeleteFunc(m.kept, func(k memory[T]) bool { return k.mark == mark })
	if extra := len(m.kept) + 1 - mostKept; extra > 0 {
		m.kept = slices.Delete(m.kept, 0, extra)
	}
	m.kept = append(m.kept, memory[T]{mark, result})
}

// forget takes the result with the mark out.
func (m *memo[T]) forget(mark string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.kept = slices.DeleteFunc(m.kept, func(k memory[T]) bool { return k.mark == mark })
}
