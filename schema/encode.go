package schema

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/schema/internal/lex"
	"whorl.example/vitals"
)

// Digits is the number of significant digits of a computed number. Processors may differ
// in the last of a float64's 17 (a fused multiply and add rounds once instead of
// twice); nine are far finer than any reading and the same everywhere.
const Digits = 9

// Marshal writes v in canonical form, without a newline: members in the order of the
// struct, those with omitempty or omitzero left out when empty, maps by their keys in
// byte order, nil lists as []. The error is a [vitals.Faults]: NaN, an infinity, text that is
// not UTF-8, or a date, time or decimal that the format cannot carry.
func Marshal(v any) ([]byte, error) {
	e := encoder{fields: fields{}}
	return e.marshal(v)
}

func (e *encoder) marshal(v any) ([]byte, error) {
	e.value(reflect.ValueOf(v))
	if err := e.faults.Err(); err != nil {
		return nil, err
	}
	return e.out, nil
}

type encoder struct {
	out    []byte
	path   []string
	fields fields
	faults vitals.Faults
	// restores: what is not understood is written where it was, and not as a list. kept is what the object at the first base
	// names of path keeps; what was written has no place any more.
	restores bool
	kept     []vitals.Unknown
	base     int
}

// add notes a fault at the value being written.
func (e *encoder) add(code vitals.FaultCode, args ...string) {
	var path []byte
	for _, name := range e.path {
		path = lex.AppendPointer(path, name)
	}
	e.faults = append(e.faults, fault(code, string(path), args...))
}

func (e *encoder) inside(name string, v reflect.Value) {
	e.path = append(e.path, name)
	e.value(v)
	e.path = e.path[:len(e.path)-1]
}

func (e *encoder) value(v reflect.Value) {
	if e.textual(v) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			e.out = append(e.out, "null"...)
			return
		}
		e.value(v.Elem())
	case reflect.Struct:
		e.object(v)
	case reflect.Map:
		e.mapping(v)
	case reflect.Slice:
		e.list(v)
	case reflect.String:
		e.text(v.String(), true, BadText)
	case reflect.Bool:
		e.out = strconv.AppendBool(e.out, v.Bool())
	case reflect.Int:
		e.out = strconv.AppendInt(e.out, v.Int(), 10)
	case reflect.Float64:
		e.float(v.Float())
	default:
		panic("schema: no writer for " + v.Type().String())
	}
}

func (e *encoder) object(v reflect.Value) {
	e.out = append(e.out, '{')
	list, kept, base := (*[]vitals.Unknown)(nil), e.kept, e.base
	if e.restores {
		if list = keeping(v); list != nil {
			e.kept, e.base = slices.Clone(*list), len(e.path)
		}
	}
	e.members(v, e.fields.of(v.Type()))
	if e.restores {
		e.restore(false)
	}
	if list != nil {
		// What has lost its place is not lost.
		rest := slices.DeleteFunc(e.kept, func(u vitals.Unknown) bool { return u.At == "" })
		if e.kept, e.base = kept, base; len(rest) > 0 {
			e.name("unknown")
			e.value(reflect.ValueOf(rest))
		}
	}
	e.out = append(e.out, '}')
}

// textual writes what is a struct in Go and a string in JSON.
func (e *encoder) textual(v reflect.Value) bool {
	if v.Kind() != reflect.Struct {
		return false
	}
	switch x := v.Interface().(type) {
	case time.Time:
		s, ok := timeText(x)
		e.text(s, ok, BadTime)
	case vitals.Date:
		s, ok := dateText(x)
		e.text(s, ok, BadDate)
	case decimal.Decimal:
		s, ok := decimalText(x)
		e.text(s, ok, BadDecimal)
	case decimal.NullDecimal:
		s, ok := decimalText(x.Decimal)
		e.text(s, ok, BadDecimal)
	default:
		return false
	}
	return true
}

func (e *encoder) text(s string, ok bool, code vitals.FaultCode) {
	out, valid := lex.AppendQuote(e.out, s)
	if !ok {
		e.add(code)
	} else if !valid {
		e.add(BadText)
	}
	e.out = out
}

func (e *encoder) float(x float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		e.add(NotFinite)
		return
	}
	// The largest float64, 1.797693134…e308, rounds down, so nothing passes it.
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', Digits-1, 64), 64)
	// Adding 0 makes 0 of -0.
	e.out = lex.AppendFloat(e.out, rounded+0)
}

// comma separates what is about to be written from what stands before it.
func (e *encoder) comma() {
	if last := e.out[len(e.out)-1]; last != '{' && last != '[' {
		e.out = append(e.out, ',')
	}
}

func (e *encoder) name(s string) {
	e.comma()
	e.text(s, true, BadText)
	e.out = append(e.out, ':')
}

func (e *encoder) members(v reflect.Value, list []field) {
	for _, f := range list {
		x := v.Field(f.index)
		switch {
		case f.inner != nil:
			e.members(x, f.inner)
		case e.restores && x.Type() == unknownType: // where it was
		case !f.leftOut(x):
			e.name(f.name)
			e.inside(f.name, x)
		}
	}
}

func (e *encoder) mapping(v reflect.Value) {
	keys := make([]string, 0, v.Len())
	for _, k := range v.MapKeys() {
		keys = append(keys, k.String())
	}
	slices.Sort(keys)
	e.out = append(e.out, '{')
	for _, k := range keys {
		e.name(k)
		e.inside(k, v.MapIndex(reflect.ValueOf(k).Convert(v.Type().Key())))
	}
	e.out = append(e.out, '}')
}

func (e *encoder) list(v reflect.Value) {
	e.out = append(e.out, '[')
	for i := range v.Len() {
		e.comma()
		e.inside(strconv.Itoa(i), v.Index(i))
	}
	if e.restores {
		e.restore(true)
	}
	e.out = append(e.out, ']')
}
