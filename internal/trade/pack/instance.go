package pack

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
)

// Task is what is asked of an instance.
type Task int

// The tasks.
const (
	FitRoom   Task = iota // do the items fit the room?
	StripTop              // the least height of a strip of the room's width
	LeastArea             // the rectangle of least area
	Plates                // the smallest plate of a list, and the shortest wires on it
	Floor                 // a rectangle of small area in which the nets are short
)

// Instance is a problem as a file gives it, with what is asked.
type Instance struct {
	Name string
	Task Task
	Problem
	// Rooms are the plates that may be chosen, in the file's order.
	Rooms []Vec
	// Grid is the step at whose multiples everything lies on a plate, if the file gives one and all lengths are multiples of it.
	Grid int
	// Groups are nets of more than two pins, for Floor: a list of pins each, whose smallest bounding rectangle counts.
	Groups [][]Pin
	// entries are the nets of Plates, whose points depend on the plate that is chosen.
	entries []entry
}

// entry is one net's end that lies at a fraction of the plate.
type entry struct {
	net    int
	second bool // end B of the net
	u, v   float64
}

// In returns the instance's problem in a room of that size.
func (in *Instance) In(room Vec) Problem {
	p := in.Problem
	p.Room = room
	p.Nets = append([]Net(nil), p.Nets...)
	for _, e := range in.entries {
		at := Vec{int(math.Round(2 * e.u * float64(room[0]))), int(math.Round(2 * e.v * float64(room[1]))), 1}
		end := &p.Nets[e.net].A
		if e.second {
			end = &p.Nets[e.net].B
		}
		*end = Pin{Item: -1, At: at}
	}
	return p
}

// FileError is what is wrong with an instance's file, and where: line and column count from 1.
type FileError struct {
	Line, Column int
	Message      string
}

// Error returns the message with its place.
func (e *FileError) Error() string { return fmt.Sprintf("%d:%d: %s", e.Line, e.Column, e.Message) }

// most is the largest length that a file may give, so that no sum of lengths, area or wire overflows.
const most = 1 << 20

// Most items that a file may ask for.
const mostItems = 2000

// item is an item as the file has it.
type fileItem struct {
	ID     string `json:"id"`
	W      int    `json:"w"`
	H      int    `json:"h"`
	D      *int   `json:"d"`
	Rotate bool   `json:"rotate"`
	N      *int   `json:"n"`
	Clear  []int  `json:"clear"`
	Rail   int    `json:"rail"`
	Fixed  []int  `json:"fixed"`
}

// reader holds the file and where in it the value at hand began.
type reader struct {
	text  []byte
	dec   *json.Decoder
	start int64
}

// fail makes a FileError at the value at hand.
func (r *reader) fail(format string, args ...any) error { return r.failAt(r.start, format, args...) }

func (r *reader) failAt(offset int64, format string, args ...any) error {
	offset = min(max(offset, 0), int64(len(r.text)))
	before := r.text[:offset]
	return &FileError{
		Line:    1 + bytes.Count(before, []byte("\n")),
		Column:  len(before) - bytes.LastIndexByte(before, '\n'),
		Message: fmt.Sprintf(format, args...),
	}
}

// read reads the next value into v.
func (r *reader) read(v any) error {
	r.start = r.dec.InputOffset()
	for int(r.start) < len(r.text) && strings.IndexByte(" \t\r\n,:", r.text[r.start]) >= 0 {
		r.start++
	}
	return r.explain(r.dec.Decode(v))
}

// explain turns an error of the JSON reader into one with a place.
func (r *reader) explain(err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &syntax):
		return r.failAt(max(syntax.Offset-1, 0), "this isn't JSON: %v", syntax)
	case errors.As(err, &kind):
		what := kind.Value + " stands where " + kindName(kind.Type.Kind().String()) + " is wanted"
		if kind.Field != "" {
			what = fmt.Sprintf("%q: %s", kind.Field, what)
		}
		return r.failAt(r.start, "%s", what)
	default:
		return r.failAt(r.dec.InputOffset(), "the file ends too soon")
	}
}

// kindName is what a reader of the file calls a kind of value.
func kindName(kind string) string {
	switch kind {
	case "int":
		return "a whole number"
	case "float64":
		return "a number"
	case "string":
		return "a text"
	case "bool":
		return "true or false"
	case "slice", "array":
		return "a list"
	}
	return "an object"
}

// list reads a list value by value.
func (r *reader) list(each func() error) error {
	open, err := r.dec.Token()
	if err != nil {
		return r.explain(err)
	}
	if open == nil {
		return nil // null
	}
	if open != json.Delim('[') {
		return r.failAt(r.dec.InputOffset()-1, "a list is wanted here")
	}
	for r.dec.More() {
		if err := each(); err != nil {
			return err
		}
	}
	_, err = r.dec.Token()
	return r.explain(err)
}

// ReadInstance reads an instance in the JSON form in which packing problems are exchanged here: an object with task ("opp", "opp3",
// "strip", "bbox", "box", "area+hpwl"), bin, items, nets and, for a plate, boxes, keepouts, separations and entries. Keys that it
// doesn't know are passed over, unless they are a slip of one that it knows. Every error is a *FileError.
func ReadInstance(text []byte) (*Instance, error) {
	r := &reader{text: text, dec: json.NewDecoder(bytes.NewReader(text))}
	f := fileParts{first: map[string]int{}}
	open, err := r.dec.Token()
	if err != nil {
		return nil, r.explain(err)
	}
	if open != json.Delim('{') {
		return nil, r.failAt(0, "the file must hold one object")
	}
	for r.dec.More() {
		key, err := r.dec.Token()
		if err != nil {
			return nil, r.explain(err)
		}
		if err := f.value(r, key.(string)); err != nil {
			return nil, err
		}
	}
	if _, err := r.dec.Token(); err != nil {
		return nil, r.explain(err)
	}
	if err := r.ended(); err != nil {
		return nil, err
	}
	return f.instance(r)
}
