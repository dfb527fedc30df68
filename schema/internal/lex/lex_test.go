package lex_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"

	"whorl.example/schema/internal/lex"
)

// The names say what each is after; the oracle says what it is.
var seeds = []string{
	``, ` `, `null`, `nul`, `nulL`, `true`, `tru`, `false`, `falsy`, `0`, `-0`, `00`, `01`, `-`, `-x`, `1.`, `1.x`, `1.5`, `1e`, `1e+`,
	`1E+05`, `1e5x`, `.5`, `+1`, `Infinity`, `NaN`, `"`, `"a`, `"a"`, `"\`, `"\x"`, `"\u12`, `"\u12"`, `"\u12G4"`, `"\u1234"`, `"\ud800"`,
	`"\ud83d\ude00"`, `"\ud83d\u0041"`, `"\ude00\ud83d"`, `"\ud83dx"`, `"\/\b\f\n\r\t\"\\"`, "\"\x00\"", "\"\x1f\"", "\"\x7f\"", "\"\xff\"", "\"\xf0\x9f\"",
	"\"\xf0\x9f", "\"\u2028é🐴\"", `"\u0000"`, `[]`, `[`, `[1`, `[1,`, `[1,]`, `[,1]`, `[1 2]`, `[1}`, `[}`, `[1]]`, `[[1,2],[{"a":[3]}]]`,
	`{}`, `{`, `{"a"`, `{"a"}`, `{"a":`, `{"a":}`, `{"a" 1}`, `{"a",1}`, `{"a":1`, `{"a":1,`, `{"a":1,}`, `{,}`, `{1:2}`, `{[]:1}`, `{"a":1]`, `{]`,
	`{"a":1 "b":2}`, `{"a":1,"a":2}`, `{"a/b":{"c~d":[0,{"é":1}]}}`, `{"a":{"b":1,"c":x}}`, `[1,2,x]`, `1 2`, `1,2`, `1:2`, `{}{}`, `[:1]`, `{"a"::1}`, `[1,,2]`,
	"\ufeff{}", "{\"a\"\n:\r\n\t[ 1 , 2 ] }", `/*c*/1`, `'a'`, `{a:1}`, `9`, `-90.99e-99`, `[9,10]`, `" a "`, `[1,2 3]`, `[1:2]`, `[1,2,3 4]`, "\"\\u0\x101\x13\"", `"\u@00a"`, `"\u00:0"`, `"\u009F\u00aF"`, `[1,2`, `[1,2 ,`, `{"a":[1,{"b":tru`, "\"\\u00e9\xff\"", "\u00a01",
}

// oracle reads the document's tokens until it ends or breaks.
func oracle(data []byte) (tokens, pointers []string, at int, where string, whole bool) {
	d := jsontext.NewDecoder(bytes.NewBuffer(data), jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))
	for {
		kind := d.PeekKind()
		if kind == '{' || kind == '[' || kind == '}' || kind == ']' {
			if _, err := d.ReadToken(); err != nil {
				at, where = place(err, len(data), "")
				return
			}
			tokens = append(tokens, string(kind))
		} else {
			raw, err := d.ReadValue()
			if err != nil {
				at, where = place(err, len(data), "")
				return
			}
			tokens = append(tokens, string(raw))
		}
		pointers = append(pointers, string(d.StackPointer()))
		if d.StackDepth() == 0 {
			whole = true
			return
		}
	}
}

func place(err error, end int, where string) (int, string) {
	if syntax, ok := errors.AsType[*jsontext.SyntacticError](err); ok {
		return int(syntax.ByteOffset), string(syntax.JSONPointer)
	}
	return end, where
}

func compare(t *testing.T, data []byte) {
	t.Helper()
	if bytes.Count(data, []byte{'['})+bytes.Count(data, []byte{'{'}) > lex.MaxDepth {
		return // where to stop is a choice
	}
	tokens, pointers, at, where, whole := oracle(data)
	r := lex.NewReader(data)
	for i := 0; ; i++ {
		kind := r.Peek()
		token, err := r.Next()
		// A letter or a bracket is told by itself, right or not; that it is wrong, Next says.
		if kind == lex.None && err == nil || err == nil && !bytes.HasPrefix(token, []byte{byte(kind)}) && kind != lex.Number {
			t.Fatalf("%q: token %d, %q, was announced as %q", data, i, token, kind)
		}
		if err != nil {
			syntax, ok := errors.AsType[*lex.SyntaxError](err)
			switch {
			case !ok:
				t.Fatalf("%q: %v is no syntax error", data, err)
			case whole || i != len(tokens):
				t.Fatalf("%q: stopped at token %d with %v; the other read %q", data, i, err, tokens)
			case syntax.Offset != at:
				t.Fatalf("%q: broken from byte %d on; the other says %d", data, syntax.Offset, at)
			// For a bracket of the other kind the other reader names what the container stands in.
			case syntax.Pointer != where && !(at < len(data) && (data[at] == '}' || data[at] == ']') && strings.HasPrefix(syntax.Pointer, where)):
				t.Fatalf("%q: broken in %q; the other says %q", data, syntax.Pointer, where)
			}
			return
		}
		if i >= len(tokens) || string(token) != tokens[i] || r.Pointer() != pointers[i] {
			t.Fatalf("%q: token %d is %q at %q; the other read %q at %q", data, i, token, r.Pointer(), tokens, pointers)
		}
		if kind == lex.String {
			text, ok := lex.Unquote(token)
			other, err := jsontext.AppendUnquote(nil, token)
			if text != string(other) || ok != (err == nil) {
				t.Fatalf("%q: %q is %q (%v); the other says %q (%v)", data, token, text, ok, other, err)
			}
		}
		if r.Depth() == 0 {
			if !whole || i != len(tokens)-1 {
				t.Fatalf("%q: whole after %d tokens; the other read %q", data, i+1, tokens)
			}
			return
		}
	}
}

func TestTheReaderAgreesWithAnother(t *testing.T) {
	t.Parallel()
	for _, s := range seeds {
		compare(t, []byte(s))
		for cut := range len(s) {
			compare(t, []byte(s[:cut]))
			compare(t, []byte(s[:cut]+"\x80"+s[cut:]))
		}
	}
}

// Peer: github.com/go-json-experiment/json/jsontext, which the decoder was first built on.
func FuzzReader(f *testing.F) {
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) { compare(t, data) })
}

func FuzzWriting(f *testing.F) {
	for _, s := range seeds {
		f.Add(s, 0.0)
	}
	for _, x := range []float64{math.Copysign(0, -1), 1e-6, 9.99999999e-7, 1e21, 9.99999999e20, 1e-9, 1e-10, 5e-324, math.MaxFloat64, 0.1, -123.456} {
		f.Add("~/\u2028<>&", x)
	}
	for r := range rune(0x100) {
		f.Add(string(r), 0.0)
	}
	f.Fuzz(func(t *testing.T, text string, x float64) {
		quoted, ok := lex.AppendQuote([]byte("x"), text)
		other, err := jsontext.AppendQuote([]byte("x"), text)
		if string(quoted) != string(other) || ok != (err == nil) {
			t.Errorf("%q is written %q (%v); the other writes %q (%v)", text, quoted, ok, other, err)
		}
		if back, valid := lex.Unquote(quoted[1:]); ok && (back != text || !valid) {
			t.Errorf("%q comes back as %q (%v)", text, back, valid)
		}
		path := string(lex.AppendPointer([]byte("/a"), text))
		if other := string(jsontext.Pointer("/a").AppendToken(text)); path != other || lex.Parent(path) != "/a" {
			t.Errorf("the pointer is %q, its parent %q; the other says %q", path, lex.Parent(path), other)
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return
		}
		if got, other := string(lex.AppendFloat(nil, x)), jsontext.Float(x).String(); got != other {
			t.Errorf("%v is written %s; the other writes %s", x, got, other)
		}
	})
}

// A document of brackets is refused at the depth that is allowed, in linear time.
func TestDepthIsBounded(t *testing.T) {
	t.Parallel()
	r := lex.NewReader(bytes.Repeat([]byte{'['}, 10<<20))
	for range lex.MaxDepth {
		if _, err := r.Next(); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := r.Next(); err == nil {
		t.Errorf("deeper than %d", lex.MaxDepth)
	}
}
