package schema

import (
	"bytes"
	"reflect"

	"whorl.example/vitals"
)

// earlier reports whether v is a draft whose every entry stands in o: what v says, o says
// too. It is a strict partial order, on which the order of merging rests: two drafts that
// say the same in another order are put in the order of their bytes.
func (v version) earlier(o version) bool {
	if v.Exam == nil || v.Exam.Status != vitals.Draft || bytes.Equal(v.text, o.text) || !within(*v.Exam, *o.Exam) {
		return false
	}
	return o.Exam.Status != vitals.Draft || !within(*o.Exam, *v.Exam) || bytes.Compare(v.text, o.text) < 0
}

// within reports whether exam b holds everything that draft a holds.
func within(a, b vitals.Exam) bool {
	type place struct {
		sign    vitals.SignID
		site    vitals.SiteID
		minutes int
	}
	in := make(map[place]vitals.Finding, len(b.Findings))
	for _, g := range b.Findings {
		in[place{g.Sign, g.Site, g.Minutes}] = g
	}
	for _, f := range a.Findings {
		g, found := in[place{f.Sign, f.Site, f.Minutes}]
		// A value may take the place of a bare absence, and nothing that of a value.
		filled := f.Absent != "" && f.Note == "" && g.Absent == ""
		if !found || !filled && !alike(f, g) {
			return false
		}
	}
	// A draft may become finished.
	a.Status, a.Findings, b.Findings = b.Status, nil, nil
	return filledIn(reflect.ValueOf(a), reflect.ValueOf(b))
}

// filledIn reports whether b differs from a at most by members that a leaves out.
func filledIn(a, b reflect.Value) bool {
	if a.Kind() == reflect.Pointer {
		return a.IsNil() || !b.IsNil() && filledIn(a.Elem(), b.Elem())
	}
	switch a.Type() {
	case reflect.TypeFor[vitals.Exam](), reflect.TypeFor[vitals.Story](), reflect.TypeFor[vitals.Air](), reflect.TypeFor[vitals.State]():
		for i := range a.NumField() {
			if !filledIn(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	}
	left := a.Kind() != reflect.Bool && a.Kind() != reflect.Int && isZero(a) || a.Kind() == reflect.Slice && a.Len() == 0
	return left || alike(a.Interface(), b.Interface())
}

// alike reports whether two values are written the same.
func alike(a, b any) bool {
	x, errA := Marshal(a)
	y, errB := Marshal(b)
	return errA == nil && errB == nil && bytes.Equal(x, y)
}
