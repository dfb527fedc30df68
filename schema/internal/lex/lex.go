// Package lex reads JSON (RFC 8259) token by token and says where each stands, as an
// RFC 6901 pointer. It knows the grammar only: duplicate names, broken UTF-8 and half
// surrogates are let through, for the caller to find in [Unquote] and to read on behind them.
package lex

import (
	"strconv"
	"unicode/utf8"
)

// MaxDepth is how deep lists and objects may stand in each other.
const MaxDepth = 1000

// Kind tells a token by its first character; every number is a [Number]. 0 is none.
type Kind byte

// The kinds of tokens.
const (
	None        Kind = 0
	Null        Kind = 'n'
	False       Kind = 'f'
	True        Kind = 't'
	String      Kind = '"'
	Number      Kind = '0'
	BeginObject Kind = '{'
	EndObject   Kind = '}'
	BeginList   Kind = '['
	EndList     Kind = ']'
)

// SyntaxError says where the text is no JSON from.
type SyntaxError struct {
	Offset  int    // in bytes
	Pointer string // what is broken, or what it stands in
}

// Error gives the place.
func (e *SyntaxError) Error() string {
	return "no JSON from byte " + strconv.Itoa(e.Offset) + " on, in " + strconv.Quote(e.Pointer)
}

// Reader reads the tokens of one document.
type Reader struct {
	data []byte
	at   int // behind the token read last
	open []level
}

// level is an object or a list that was begun.
type level struct {
	object bool
	n      int    // tokens in it so far: names and values, or elements
	name   []byte // the name read last, as it is written
}

// NewReader reads a document. The data must not change meanwhile.
func NewReader(data []byte) *Reader { return &Reader{data: data} }

// Offset is the number of bytes read.
func (r *Reader) Offset() int { return r.at }

// Depth is the number of lists and objects that the reader stands in.
func (r *Reader) Depth() int { return len(r.open) }

// Pointer is the place of the token read last.
func (r *Reader) Pointer() string { return r.pointer(before) }

// where tells the place of a token: before the next, at what separates them, at the next.
type where int

const (
	before where = iota
	between
	next
)

func (r *Reader) pointer(w where) string {
	var path []byte
	for i, l := range r.open {
		index := l.n - 1
		if i == len(r.open)-1 {
			named := l.object && l.n%2 == 1 // a name was read, and its value was not
			switch {
			case w == before && l.n == 0, w == between && !named, w == next && l.object && !named:
				return string(path)
			case w == next:
				index++
			}
		}
		if l.object {
			name, _ := Unquote(l.name)
			path = AppendPointer(path, name)
		} else {
			path = strconv.AppendInt(append(path, '/'), int64(index), 10)
		}
	}
	return string(path)
}

func (r *Reader) fault(at int, w where) error { return &SyntaxError{at, r.pointer(w)} }

// space gives the first place from at on that is no white space.
func (r *Reader) space(at int) int {
	for at < len(r.data) {
		switch r.data[at] {
		case ' ', '\t', '\n', '\r':
			at++
		default:
			return at
		}
	}
	return at
}

// start finds the next token, behind white space and what separates it from the one before.
func (r *Reader) start() (at int, kind Kind, err error) {
	at = r.space(r.at)
	first := at
	var mark byte
	if at < len(r.data) && (r.data[at] == ',' || r.data[at] == ':') {
		mark = r.data[at]
		at = r.space(at + 1)
	}
	kind = String // of what comes after the end, nothing is known
	if at < len(r.data) {
		kind = kindOf(r.data[at])
	} else if mark == 0 {
		return at, None, r.fault(at, between)
	}
	if mark != r.mark(kind) {
		return at, None, r.fault(first, between)
	}
	if at == len(r.data) {
		return at, None, r.fault(at, between)
	}
	return at, kind, nil
}

func kindOf(c byte) Kind {
	if c == '-' || c >= '0' && c <= '9' {
		return Number
	}
	return Kind(c)
}

// mark is what has to stand before the next token: a comma, a colon, or nothing (0).
func (r *Reader) mark(kind Kind) byte {
	if len(r.open) == 0 {
		return 0
	}
	switch l := r.open[len(r.open)-1]; {
	case l.object && l.n%2 == 1:
		return ':'
	case l.n > 0 && kind != EndObject && kind != EndList:
		return ','
	}
	return 0
}

// Peek gives the kind of the next token without reading it; None if there is none, and
// then [Reader.Next] says why.
func (r *Reader) Peek() Kind {
	_, kind, err := r.start()
	if err != nil {
		return None
	}
	return kind
}

// Next reads a token and gives it as it is written. The error is a [*SyntaxError].
func (r *Reader) Next() ([]byte, error) {
	at, kind, err := r.start()
	if err != nil {
		return nil, err
	}
	var last *level
	if len(r.open) > 0 {
		last = &r.open[len(r.open)-1]
	}
	name := last != nil && last.object && last.n%2 == 0
	end, ok := at+1, true
	switch kind {
	case EndObject:
		ok = name
	case EndList:
		ok = last != nil && !last.object
	case BeginObject, BeginList:
		ok = !name && len(r.open) < MaxDepth
	default:
		end, ok = r.scalar(at, kind)
		if !ok {
			return nil, r.fault(end, next)
		}
		ok = !name || kind == String
	}
	if !ok {
		return nil, r.fault(at, next)
	}
	token := r.data[at:end:end]
	r.at = end
	switch kind {
	case EndObject, EndList:
		r.open = r.open[:len(r.open)-1]
		return token, nil
	}
	if last != nil {
		last.n++
		if name {
			last.name = token
		}
	}
	if kind == BeginObject || kind == BeginList {
		r.open = append(r.open, level{object: kind == BeginObject})
	}
	return token, nil
}

// scalar gives the end of a string, a number or a literal that begins at a place, or the
// place from which on it is none.
func (r *Reader) scalar(at int, kind Kind) (int, bool) {
	switch kind {
	case String:
		return r.text(at)
	case Number:
		return r.number(at)
	case Null:
		return r.literal(at, "null")
	case False:
		return r.literal(at, "false")
	case True:
		return r.literal(at, "true")
	}
	return at, false
}

func (r *Reader) literal(at int, want string) (int, bool) {
	for i := range len(want) {
		if at+i == len(r.data) || r.data[at+i] != want[i] {
			return at + i, false
		}
	}
	return at + len(want), true
}

func (r *Reader) text(at int) (int, bool) {
	for at++; at < len(r.data); {
		switch c := r.data[at]; {
		case c == '"':
			return at + 1, true
		case c < ' ':
			return at, false
		case c == '\\':
			_, n := escaped(r.data[at:])
			if n == 0 {
				return at, false
			}
			at += n
		case c < utf8.RuneSelf:
			at++
		case !utf8.FullRune(r.data[at:]):
			return at, false
		default:
			_, n := utf8.DecodeRune(r.data[at:])
			at += n
		}
	}
	return at, false
}

// number is [ "-" ] ( "0" | nonzero digits ) [ "." digits ] [ ( "e" | "E" ) [ "+" | "-" ] digits ].
func (r *Reader) number(at int) (int, bool) {
	from := at
	if r.data[at] == '-' {
		at++
	}
	is := func(cs string) bool {
		for i := range len(cs) {
			if at < len(r.data) && r.data[at] == cs[i] {
				return true
			}
		}
		return false
	}
	digits := func() bool {
		first := at
		for at < len(r.data) && r.data[at] >= '0' && r.data[at] <= '9' {
			at++
		}
		return at > first
	}
	ok := true
	if is("0") {
		at++
	} else {
		ok = digits()
	}
	if ok && is(".") {
		at++
		ok = digits()
	}
	if ok && is("eE") {
		at++
		if is("+-") {
			at++
		}
		ok = digits()
	}
	if !ok && at == len(r.data) {
		at = from // cut off
	}
	return at, ok
}
