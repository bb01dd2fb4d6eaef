package job

import (
	"reflect"
	"strconv"

	"drivewright/internal/base/explain"
)

// Entry is one value that a section of the job can hold, with what is written for it.
type Entry struct {
	Field
	Reason *explain.Reason // given, or missing
}

// Entries returns the values of the section at the path ("supply", "loads[1]", "" for the top level), in the order of the
// file format, written or not; nil if there is no such section. Each entry's Path is that of the very value: loads[1].power.
func (j *Job) Entries(path string) []Entry {
	s, v, ok := locate(format(), reflect.ValueOf(j).Elem(), path)
	if !ok {
		return nil
	}
	var entries []Entry
	for _, f := range s.fields {
		given, ok := v.Field(f.order).Interface().(explain.Because)
		if f.sub != nil || !ok {
			continue
		}
		entry := Entry{Field: f.field(s), Reason: given.Why()}
		entry.Path = join(path, f.key)
		entries = append(entries, entry)
	}
	return entries
}

// locate returns the section and the struct at the path.
func locate(s *section, v reflect.Value, path string) (*section, reflect.Value, bool) {
	if path == "" {
		return s, v, true
	}
	for _, f := range s.fields {
		if f.sub == nil {
			continue
		}
		if !f.list && f.path == path {
			return f.sub, v.Field(f.order), true
		}
		if f.list {
			list := v.Field(f.order)
			for i := range list.Len() {
				if f.path+"["+strconv.Itoa(i)+"]" == path {
					return f.sub, list.Index(i), true
				}
			}
		}
	}
	return nil, reflect.Value{}, false
}
