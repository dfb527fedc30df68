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
	if v.Exam == nil || v.Exam.Status != vitals.Draft || bytes.Equal(v.text, o.text) || !v.within(o) {
		return false
	}
	return o.Exam.Status != vitals.Draft || !o.within(v) || bytes.Compare(v.text, o.text) < 0
}

// entry is a finding by its place, and as it is written.
type entry struct {
	vitals.Finding
	text string
}

type place struct {
	sign    vitals.SignID
	site    vitals.SiteID
	minutes int
}

// entries gives the findings of an exam. A version is held against each other one of its id, so that they are
// written once.
func entries(e vitals.Exam) map[place]entry {
	out := make(map[place]entry, len(e.Findings))
	for _, f := range e.Findings {
		text, err := Marshal(f)
		if err != nil {
			text = nil // like no other
		}
		out[place{f.Sign, f.Site, f.Minutes}] = entry{f, string(text)}
	}
	return out
}

// within reports whether exam o holds everything that draft v holds.
func (v version) within(o version) bool {
	a, b := *v.Exam, *o.Exam
	if len(a.Findings) > len(b.Findings) {
		return false
	}
	in := o.entries()
	for at, f := range v.entries() {
		g, found := in[at]
		// A value may take the place of a bare absence, and nothing that of a value.
		filled := f.Absent != "" && f.Note == "" && g.Absent == ""
		if !found || !filled && (f.text == "" || f.text != g.text) {
			return false
		}
	}
	// A draft may become finished; what is remembered of a call is put together.
	a.Status, a.Findings, b.Findings = b.Status, nil, nil
	a.Call, b.Call = nil, nil
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
