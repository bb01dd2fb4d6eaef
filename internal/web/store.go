package web

import (
	"context"
	"errors"
	"time"
)

// Store keeps job files. The web package opens no file itself.
type Store interface {
	// List returns the job files, by name.
	List() ([]Entry, error)
	// Load returns a job file's text and the token of that text. ErrMissing if there is no such file.
	Load(name string) (text []byte, token string, err error)
	// Save writes the text if the file still has the token, and returns the new token; ErrConflict if it was changed since,
	// and nothing is written. The text before is kept as a version.
	Save(name string, text []byte, token string) (string, error)
	// Create writes a new file. ErrExists if there is one of that name.
	Create(name string, text []byte) error
	// Versions returns what is kept of earlier texts, the latest first.
	Versions(name string) ([]Version, error)
	// Version returns an earlier text. ErrMissing if it isn't kept.
	Version(name, id string) ([]byte, error)
	// Records returns what was measured and written down for the job, one line each; nothing if nothing was.
	Records(name string) ([]byte, error)
	// Record adds a line to the job's records, and returns once it is kept. It adds nothing, and returns false, if the very same
	// line stands there already. No line is ever changed or taken away. ErrMissing if there is no such job.
	Record(name, line string) (added bool, err error)
	// Watch sends whenever the file or its records may have changed, until the context is done.
	Watch(ctx context.Context, name string) <-chan struct{}
}

// The errors that a Store tells apart.
var (
	ErrMissing  = errors.New("there is no such file")
	ErrConflict = errors.New("the file was changed meanwhile")
	ErrExists   = errors.New("there is a file of that name already")
)

// Entry is one job file in the list.
type Entry struct {
	Name    string
	Changed time.Time
}

// Version is an earlier text of a job file.
type Version struct {
	ID   string
	When time.Time
}
