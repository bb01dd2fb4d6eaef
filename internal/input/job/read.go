package job

import (
	"cmp"
	"reflect"
	"slices"

	"drivewright/internal/base/explain"
)

// File is a job file as read: its text, its typed form, and every mistake in it.
type File struct {
	Name  string
	Bytes []byte
	Job   Job
	// Problems are all mistakes, in file order, each of severity Must with the place and the nearest right word; only a
	// comment that may have been meant as a value is a Check. A value with a mistake counts as not written, so the rest
	// of the sheet still comes out.
	Problems []explain.Finding

	root *node
}

// Read decodes a job file. It never fails: what is wrong stands in Problems. Cost O(len(src)).
func Read(name string, src []byte) *File {
	f := &File{Name: name, Bytes: src}
	f.Job.Source = name
	r := newReader(name, src)
	f.root = r.read()
	d := decoder{r}
	v := reflect.ValueOf(&f.Job).Elem()
	placeAll(format(), v, "")
	switch {
	case f.root == nil:
		if len(r.problems) == 0 {
			r.problem(emptyFile, 0, 0, "the file holds no values", "begin with the machine, the supply and the motor")
			r.problems[0].Span = explain.Span{File: name}
		}
	case f.root.shape == mapping:
		d.section(format(), f.root, v, "")
	case f.root.shape != unread:
		r.problem(wrongShape, f.root.start, d.shown(f.root), "a job file is made of keys with values", "begin with: drivewright: 1")
	}
	slices.SortStableFunc(r.problems, func(a, b explain.Finding) int {
		return cmp.Or(cmp.Compare(a.Span.Start, b.Span.Start), cmp.Compare(a.Span.End, b.Span.End))
	})
	f.Problems = r.problems
	return f
}
