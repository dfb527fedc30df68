package schema

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"whorl.example/schema/internal/lex"
	"whorl.example/vitals"
)

// checker is a document that knows what is wrong with it beyond its structure.
type checker interface{ Check() vitals.Faults }

// roomy is a document that may be larger than MaxBytes: a request that carries files.
type roomy interface{ MaxBytes() int }

// Unmarshal reads one JSON document strictly into v, a pointer to a struct with json
// tags: every member known, none twice, those without omitempty and omitzero present,
// no null. Decimals and dates and times are strings. If v has a method Check its
// faults are added, and a method MaxBytes tells how long data may be in the place of
// [MaxBytes]. The error is a [vitals.Faults] with every fault found, at most
// [MaxFaults]; v then holds what could be read.
func Unmarshal(data []byte, v any) error {
	most := MaxBytes
	if r, ok := v.(roomy); ok {
		most = r.MaxBytes()
	}
	if len(data) > most {
		return vitals.Faults{fault(TooLarge, "", "most", strconv.Itoa(most>>20))}
	}
	err := unmarshal(data, v, 0)
	if m, ok := v.(minored); ok && err != nil && m.minor() > Minor {
		minor := m.minor()
		reflect.ValueOf(v).Elem().SetZero()
		return unmarshal(data, v, minor)
	}
	return err
}

// unmarshal is Unmarshal; of a document of a newer minor format what is not understood is kept.
func unmarshal(data []byte, v any, minor int) error {
	d := decoder{data: data, in: lex.NewReader(data), fields: fields{}, lengths: map[reflect.Type]int{}, minor: minor}
	whole := d.value(reflect.ValueOf(v).Elem())
	if f, ok := v.(*File); ok && minor > 0 {
		if err := f.adopt(); err != nil {
			return err
		}
	}
	if whole {
		d.end()
	}
	faults := d.faults
	if c, ok := v.(checker); ok && whole {
		faults = merge(faults, c.Check())
	}
	if len(faults) > MaxFaults {
		faults = faults[:MaxFaults]
	}
	return faults.Err()
}

type decoder struct {
	data   []byte
	in     *lex.Reader
	fields fields
	// lengths are those of the lists read last, by their type.
	lengths map[reflect.Type]int
	faults  vitals.Faults
	// minor is the newer minor format of the document, 0 where all of it is to be understood. keepers are the objects around what
	// is being read that keep what is not.
	minor   int
	keepers []keeper
}

// full reports whether no more faults are listed. The document is refused then, and nothing that a list
// still holds is kept: kind and format alone could change what is said.
func (d *decoder) full() bool { return len(d.faults) >= MaxFaults }

// add notes a fault at the value read last.
func (d *decoder) add(code vitals.FaultCode, args ...string) {
	if !d.full() {
		d.addAt(d.in.Pointer(), code, args...)
	}
}

func (d *decoder) addAt(path string, code vitals.FaultCode, args ...string) {
	if !d.full() {
		d.faults = append(d.faults, fault(code, path, args...))
	}
}

// broken notes that the text is no JSON from here on; nothing can be read after that.
func (d *decoder) broken(err error) bool {
	at := len(d.data)
	path := d.in.Pointer()
	if syntax, ok := errors.AsType[*lex.SyntaxError](err); ok {
		at, path = syntax.Offset, syntax.Pointer
	}
	before := d.data[:at]
	line := 1 + bytes.Count(before, []byte{'\n'})
	column := 1 + utf8.RuneCount(before[1+bytes.LastIndexByte(before, '\n'):])
	d.addAt(path, BadJSON, "line", strconv.Itoa(line), "column", strconv.Itoa(column))
	return false
}

// end looks for text after the document.
func (d *decoder) end() {
	rest := bytes.TrimLeft(d.data[d.in.Offset():], " \t\r\n")
	if len(rest) > 0 {
		d.addAt("", TrailingText)
	}
}

// skip reads past a value that is not wanted, and false if that cannot be done.
func (d *decoder) skip() bool {
	depth := d.in.Depth()
	for {
		if _, err := d.in.Next(); err != nil {
			return d.broken(err)
		}
		switch now := d.in.Depth(); {
		case now == depth:
			return true
		case now > MaxDepth:
			d.add(TooDeep, "most", strconv.Itoa(MaxDepth))
			return false
		}
	}
}

// want notes that the next value is of the wrong type, and reads past it.
func (d *decoder) want(code vitals.FaultCode) bool {
	if !d.skip() {
		return false
	}
	d.add(code)
	return true
}

// value reads the next value into v. It is false when the text cannot be read any
// further; a fault that leaves the text readable is true.
func (d *decoder) value(v reflect.Value) bool { return d.valueOf(d.in.Peek(), v) }

// valueOf is value where the kind of the next token is known.
func (d *decoder) valueOf(kind lex.Kind, v reflect.Value) bool {
	if kind == lex.None {
		_, err := d.in.Next()
		return d.broken(err)
	}
	switch v.Kind() {
	case reflect.String:
		return d.text(kind, v)
	case reflect.Pointer:
		p := reflect.New(v.Type().Elem())
		v.Set(p)
		return d.valueOf(kind, p.Elem())
	case reflect.Struct:
		switch v.Type() {
		case timeType, dateType, decimalType:
			return d.text(kind, v)
		}
		return d.object(kind, v)
	case reflect.Slice:
		return d.list(kind, v)
	case reflect.Bool:
		if kind != lex.True && kind != lex.False {
			return d.want(NotBoolean)
		}
		v.SetBool(kind == lex.True)
		return d.skip()
	case reflect.Int:
		return d.whole(kind, v)
	}
	panic("schema: no reader for " + v.Type().String())
}

var (
	timeType     = reflect.TypeFor[time.Time]()
	dateType     = reflect.TypeFor[vitals.Date]()
	decimalType  = reflect.TypeFor[decimal.Decimal]()
	stringType   = reflect.TypeFor[string]()
	documentType = reflect.TypeFor[Document]()
	rawType      = reflect.TypeFor[vitals.Raw]()
	conflictType = reflect.TypeFor[Conflict]()
	unknownType  = reflect.TypeFor[[]vitals.Unknown]()
)

// text reads a JSON string into v: a string, or one of the structs that are written as one.
func (d *decoder) text(kind lex.Kind, v reflect.Value) bool {
	if kind != lex.String {
		return d.want(NotText)
	}
	raw, err := d.in.Next()
	if err != nil {
		return d.broken(err)
	}
	s, ok := unquote(raw)
	switch {
	case !ok:
		d.add(BadText)
	case len(s) > MaxText && v.Type() != documentType && v.Type() != rawType && utf8.RuneCountInString(s) > MaxText:
		d.add(TooLong, "most", strconv.Itoa(MaxText))
	default:
		if code := put(v, s); code != "" {
			d.add(code)
		}
	}
	return true
}

// put takes a text into v, and gives the code of the fault, or "".
func put(v reflect.Value, s string) vitals.FaultCode {
	if v.Kind() == reflect.String {
		// A type of its own is an id or one of a closed list, and "" is neither. Free text may be empty.
		if s == "" && v.Type() != stringType && v.Type() != documentType {
			return Empty
		}
		v.SetString(s)
		return ""
	}
	switch x := v.Addr().Interface().(type) {
	case *time.Time:
		if t, ok := parseTime(s); ok {
			*x = t
			return ""
		}
		return BadTime
	case *vitals.Date:
		if t, ok := vitals.ParseDate(s); ok {
			*x = t
			return ""
		}
		return BadDate
	case *decimal.Decimal:
		if n, ok := parseDecimal(s); ok {
			*x = n
			return ""
		}
	}
	return BadDecimal
}

// unquote gives the text of a JSON string; ok is false if it is not UTF-8, holds half a
// surrogate pair, or a NUL (which ends the text for many readers).
func unquote(raw []byte) (s string, ok bool) {
	if plain(raw) {
		return string(raw[1 : len(raw)-1]), true
	}
	s, ok = lex.Unquote(raw)
	return s, ok && strings.IndexByte(s, 0) < 0
}

// plain reports whether the text of a JSON string is the string as it is written, as nearly all are: ASCII without an
// escape. A character below the blank is no JSON and does not come this far.
func plain(raw []byte) bool {
	for _, c := range raw {
		if c == '\\' || c >= utf8.RuneSelf {
			return false
		}
	}
	return len(raw) >= 2
}

// whole reads a whole number. As in JSON Schema, 60, 60.0 and 6e1 are the same one.
func (d *decoder) whole(kind lex.Kind, v reflect.Value) bool {
	if kind != lex.Number {
		return d.want(NotNumber)
	}
	raw, err := d.in.Next()
	if err != nil {
		return d.broken(err)
	}
	if n, ok := digits(raw); ok {
		v.SetInt(n)
		return true
	}
	// From 2^53 on, a float64 cannot tell a whole number from its neighbour (RFC 7493, 2.2).
	const exact = 1<<53 - 1
	x, err := strconv.ParseFloat(string(raw), 64)
	switch {
	case err != nil || x > exact || x < -exact:
		d.add(NumberTooBig)
	case x != math.Trunc(x):
		d.add(NotWhole)
	default:
		v.SetInt(int64(x))
	}
	return true
}

// digits reads a number of digits alone, as nearly all are, and few enough for a float64 to hold it.
func digits(raw []byte) (n int64, ok bool) {
	for _, c := range raw {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int64(c-'0')
	}
	return n, len(raw) <= 9
}

func (d *decoder) list(kind lex.Kind, v reflect.Value) bool {
	if kind != lex.BeginList {
		return d.want(NotList)
	}
	if _, err := d.in.Next(); err != nil {
		return d.broken(err)
	}
	var kept reflect.Value // in this object so far, before its list of what else is not understood
	if v.Type() == unknownType {
		kept = reflect.ValueOf(v.Interface())
	}
	v.SetZero()
	for n := 0; ; n++ {
		kind := d.in.Peek()
		if kind == lex.EndList {
			break
		}
		if n >= MaxItems || d.full() {
			if n == MaxItems {
				d.addAt(lex.Parent(d.in.Pointer()), TooMany, "most", strconv.Itoa(MaxItems))
			}
			if !d.skip() {
				return false
			}
			continue
		}
		if n == v.Cap() {
			room := max(n, 4) // twice as many: append by itself would copy a long list five times
			if before := d.lengths[v.Type()]; n == 0 && before > 0 {
				room = before
			}
			v.Grow(room)
		}
		v.SetLen(n + 1) // Grow left zeros there
		from, faults := d.in.Offset(), len(d.faults)
		if !d.valueOf(kind, v.Index(n)) {
			return false
		}
		if d.minor > 0 && foreign(v.Index(n), d.faults[faults:]) && d.keep(from, lex.Parent(d.in.Pointer())+"/-") {
			d.faults = d.faults[:faults]
			v.Index(n).SetZero()
			v.SetLen(n)
			n--
		}
	}
	_, err := d.in.Next()
	if err != nil {
		return d.broken(err)
	}
	// The next of its kind is as long, as a rule. A long one must not make room for many short ones.
	d.lengths[v.Type()] = min(v.Len(), 32)
	if kept.IsValid() {
		v.Set(reflect.AppendSlice(kept, v))
	}
	return true
}

func (d *decoder) object(kind lex.Kind, v reflect.Value) bool {
	if kind != lex.BeginObject {
		return d.want(NotObject)
	}
	if _, err := d.in.Next(); err != nil {
		return d.broken(err)
	}
	if d.minor > 0 {
		if list := keeping(v); list != nil {
			d.keepers = append(d.keepers, keeper{list, d.in.Pointer()})
			defer func() { d.keepers = d.keepers[:len(d.keepers)-1] }()
		}
	}
	list := d.fields.of(v.Type())
	seen := make([]string, 0, 16)
	for {
		raw, err := d.in.Next()
		if err != nil {
			return d.broken(err)
		}
		if lex.Kind(raw[0]) == lex.EndObject {
			break
		}
		name, ok := raw, true
		if plain(raw) {
			name = raw[1 : len(raw)-1]
		} else {
			var text string
			text, ok = unquote(raw)
			name = []byte(text)
		}
		f, to := member(v, list, name)
		known := f != nil
		switch {
		case !ok:
			d.add(BadText)
		case known && slices.Contains(seen, f.name):
			d.add(DuplicateMember, "name", string(name))
			known = false
		case !known && d.minor > 0 && v.Type() != conflictType:
			from := d.in.Offset()
			if !d.skip() {
				return false
			}
			if !d.keep(from, d.in.Pointer()) {
				d.add(UnknownMember, "name", string(name))
			}
			continue
		case !known:
			d.add(UnknownMember, "name", string(name))
		default:
			seen = append(seen, f.name)
		}
		if ok && known {
			ok = d.value(to)
		} else {
			ok = d.skip()
		}
		if !ok {
			return false
		}
	}
	d.missing(list, seen)
	return true
}

// member finds the member of a name, in v or in what is embedded in it; nil if there is none.
func member(v reflect.Value, list []field, name []byte) (*field, reflect.Value) {
	for i := range list {
		f := &list[i]
		switch {
		case f.inner != nil:
			if g, to := member(v.Field(f.index), f.inner, name); g != nil {
				return g, to
			}
		case f.name == string(name):
			return f, v.Field(f.index)
		}
	}
	return nil, reflect.Value{}
}

// missing notes the required members that were not seen.
func (d *decoder) missing(list []field, seen []string) {
	for _, f := range list {
		switch {
		case f.inner != nil:
			d.missing(f.inner, seen)
		case f.required() && !slices.Contains(seen, f.name) && !d.full():
			path := lex.AppendPointer([]byte(d.in.Pointer()), f.name)
			d.addAt(string(path), MissingMember, "name", f.name)
		}
	}
}
