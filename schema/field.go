package schema

import (
	"reflect"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// field is one member of an object: where it is in the Go struct, and its name.
type field struct {
	name  string
	index int
	// inner are the members of an embedded struct, which stand in the object itself.
	inner     []field
	omitEmpty bool
	omitZero  bool
}

// required reports whether the member must be there when a document is read.
func (f field) required() bool { return !f.omitEmpty && !f.omitZero }

// fields are the members of struct types, by type. A document has few types and many
// values, so each is looked at once a document.
type fields map[reflect.Type][]field

func (fs fields) of(t reflect.Type) []field {
	if list, ok := fs[t]; ok {
		return list
	}
	var list []field
	for i := range t.NumField() {
		sf := t.Field(i)
		tag := sf.Tag.Get("json")
		switch {
		case sf.Anonymous && tag == "":
			list = append(list, field{index: i, inner: fs.of(sf.Type)})
			continue
		case !sf.IsExported() || tag == "-":
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		if name == "" {
			name = sf.Name
		}
		list = append(list, field{
			name: name, index: i,
			omitEmpty: options == "omitempty",
			omitZero:  options == "omitzero",
		})
	}
	fs[t] = list
	return list
}

// leftOut reports whether an optional member with this value is not written.
func (f field) leftOut(v reflect.Value) bool {
	switch {
	case f.omitZero:
		return isZero(v)
	case f.omitEmpty:
		switch v.Kind() {
		case reflect.Slice, reflect.Map:
			return v.Len() == 0
		}
		return v.IsZero()
	}
	return false
}

func isZero(v reflect.Value) bool {
	switch x := v.Interface().(type) {
	case time.Time:
		return x.IsZero()
	case vitals.Date:
		return x.IsZero()
	case decimal.NullDecimal:
		return !x.Valid
	}
	return v.IsZero()
}
