package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"drivewright/internal/web"
)

// What was measured on the machine of lathe.job.yaml stands in lathe.readings, one line each, in the order in which it was
// done. Lines are only ever added: nothing that somebody measured is changed or taken away by the program.

const recordsEnding = ".readings"

// recordsName is the name of the records beside a job file.
func recordsName(name string) string { return strings.TrimSuffix(name, jobEnding) + recordsEnding }

// longestRecord and mostRecords bound what a page can make the file grow to.
const (
	longestRecord = 4 << 10
	mostRecords   = 8 << 20
)

// tornMark ends a line that a crash tore off. No record has as many fields, so prove.ReadRecords reports the line and doesn't take
// it: "4.7 kohm" may have lost its last letters.
const tornMark = " ||||| torn off\n"

// Records returns what was written down for the job; nothing if nothing was. The error is web.ErrMissing for a name that no job
// can have.
func (s *Store) Records(name string) ([]byte, error) {
	if err := checkName(name); err != nil {
		return nil, errors.Join(web.ErrMissing, err)
	}
	text, _, err := s.read(recordsName(name))
	if errors.Is(err, web.ErrMissing) {
		return nil, nil
	}
	return text, err
}

// Record adds a line to the job's records and returns once it is on the disk. added is false if the very same line stands there
// already: whoever isn't sure that a line arrived may send it again. A last line that a crash or a full disk left without its end
// stays, marked as torn off; the new one begins below it.
func (s *Store) Record(name, line string) (added bool, err error) {
	if err := checkName(name); err != nil {
		return false, errors.Join(web.ErrMissing, err)
	}
	line = strings.TrimSuffix(line, "\n")
	if line == "" || len(line) > longestRecord || strings.ContainsAny(line, "\n\r\x00") {
		return false, fmt.Errorf("%s: that is no single line", recordsName(name))
	}
	unlock, err := s.lock()
	if err != nil {
		return false, err
	}
	defer unlock()
	if _, _, err := s.read(name); err != nil {
		return false, err // no job, no records of it
	}
	present, err := s.Records(name)
	if err != nil {
		return false, err
	}
	end := bytes.LastIndexByte(present, '\n') + 1
	whole, torn := present[:end], string(present[end:])
	switch {
	case bytes.Contains(append([]byte("\n"), whole...), []byte("\n"+line+"\n")):
		return false, nil
	case len(present)+len(line) > mostRecords:
		return false, fmt.Errorf("%s is full: move it away, and a new one begins", recordsName(name))
	case torn == line: // all of it but its end arrived
		line = "\n"
	case torn != "":
		line = tornMark + line + "\n"
	default:
		line += "\n"
	}
	return true, s.appendTo(recordsName(name), line)
}

// appendTo writes the text behind all that the file holds. The lock is held.
func (s *Store) appendTo(name, text string) (err error) {
	f, err := s.root.OpenFile(name, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o644)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	// One write: another program that appends at the same time can't get in between.
	if _, err := f.WriteString(text); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	s.syncFolder(".")
	return nil
}

// lookAt returns what Watch compares: the job file and the records beside it; nil for what isn't there.
func (s *Store) lookAt(name string) [2]fs.FileInfo {
	var seen [2]fs.FileInfo
	for n, file := range []string{name, recordsName(name)} {
		if info, err := s.root.Lstat(file); err == nil {
			seen[n] = info
		}
	}
	return seen
}
