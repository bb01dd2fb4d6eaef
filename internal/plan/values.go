package plan

import (
	"reflect"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// Units returns the unit system that the job chose; inch where it chose none.
func (p Plan) Units() quantity.System {
	if p.Job.Units.Set && string(p.Job.Units.Value) == quantity.MetricUnits.String() {
		return quantity.MetricUnits
	}
	return quantity.InchUnits
}

// Values returns the reasons of all values of the plan, results first in the order of the sheet, then what they were made
// of. Each name stands once.
func (p Plan) Values() []*explain.Reason {
	var found []*explain.Reason
	collect(reflect.ValueOf(p.Power), &found)
	collect(reflect.ValueOf(p.Circuit), &found)
	if p.Heat != nil {
		collect(reflect.ValueOf(*p.Heat), &found)
	}
	collect(reflect.ValueOf(p.Metal), &found)
	collect(reflect.ValueOf(p.Site), &found)
	if p.Arranged != nil {
		collect(reflect.ValueOf(*p.Arranged), &found)
	}
	if p.Marked != nil {
		collect(reflect.ValueOf(*p.Marked), &found)
	}
	seen := map[string]bool{}
	var all []*explain.Reason
	for len(found) > 0 {
		r := found[0]
		found = found[1:]
		if r.Name == "" || seen[r.ID()] {
			continue
		}
		seen[r.ID()] = true
		all = append(all, r)
		for _, i := range r.Inputs {
			found = append(found, i.Reason)
		}
	}
	return all
}

var because = reflect.TypeFor[explain.Because]()

// collect appends the reason of every value in the struct v, in the order of its fields, leaving out the job itself.
func collect(v reflect.Value, found *[]*explain.Reason) {
	if v.Type().Implements(because) && v.Kind() == reflect.Struct {
		*found = append(*found, v.Interface().(explain.Because).Why())
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				collect(v.Field(i), found)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			collect(v.Index(i), found)
		}
	default: // pointers lead to the job and into reasons, which are reached otherwise
	}
}
