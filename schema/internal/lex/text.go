package lex

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// escaped reads an escape that begins with a backslash: what it stands for and its length in
// bytes, 0 if it is none. Half a surrogate pair is given as it is.
func escaped(b []byte) (r rune, n int) {
	if len(b) < 2 || b[0] != '\\' {
		return 0, 0
	}
	switch b[1] {
	case '"', '\\', '/':
		return rune(b[1]), 2
	case 'b':
		return '\b', 2
	case 'f':
		return '\f', 2
	case 'n':
		return '\n', 2
	case 'r':
		return '\r', 2
	case 't':
		return '\t', 2
	case 'u':
		if len(b) < 6 {
			return 0, 0
		}
		for _, c := range b[2:6] {
			digit := strings.IndexByte("0123456789abcdef", c|0x20)
			if digit < 0 || c < '0' { // 0x10|0x20 is '0' too
				return 0, 0
			}
			r = r<<4 | rune(digit)
		}
		return r, 6
	}
	return 0, 0
}

// Unquote gives the text of a JSON string that [Reader.Next] gave; ok is false where it
// is not UTF-8 or holds half a surrogate pair, in the place of which U+FFFD stands.
func Unquote(quoted []byte) (text string, ok bool) {
	if len(quoted) < 2 {
		return "", false
	}
	b := quoted[1 : len(quoted)-1]
	out := make([]byte, 0, len(b))
	ok = true
	for len(b) > 0 {
		r, n := utf8.DecodeRune(b)
		if r == '\\' {
			r, n = escaped(b)
			if utf16.IsSurrogate(r) {
				other, m := escaped(b[n:])
				if pair := utf16.DecodeRune(r, other); m == 6 && pair != utf8.RuneError {
					r, n = pair, n+m
				} else {
					r, ok = utf8.RuneError, false
				}
			}
			if n == 0 {
				return string(out), false // no string of the reader's
			}
		} else if r == utf8.RuneError && n == 1 {
			ok = false
		}
		out = utf8.AppendRune(out, r)
		b = b[n:]
	}
	return string(out), ok
}

// AppendQuote writes a text as a JSON string; ok is false where it is not UTF-8, and
// U+FFFD stands there.
func AppendQuote(out []byte, text string) (_ []byte, ok bool) {
	const hex = "0123456789abcdef"
	ok = true
	out = append(out, '"')
	for i, r := range text {
		switch {
		case r == '"' || r == '\\':
			out = append(out, '\\', byte(r))
		case r >= ' ':
			if r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd") {
				ok = false
			}
			out = utf8.AppendRune(out, r)
		default:
			if short := strings.IndexRune("\bb\ff\nn\rr\tt", r); short >= 0 {
				out = append(out, '\\', "\bb\ff\nn\rr\tt"[short+1])
			} else {
				out = append(out, '\\', 'u', '0', '0', hex[r>>4], hex[r&15])
			}
		}
	}
	return append(out, '"'), ok
}

// AppendFloat writes a finite number as ECMAScript does: the fewest digits that read back as the
// same, with an exponent below 1e-6 and from 1e21 on.
func AppendFloat(out []byte, x float64) []byte {
	if abs := math.Abs(x); abs == 0 || abs >= 1e-6 && abs < 1e21 {
		return strconv.AppendFloat(out, x, 'f', -1, 64)
	}
	out = strconv.AppendFloat(out, x, 'e', -1, 64)
	if n := len(out); n >= 4 && out[n-4] == 'e' && out[n-2] == '0' {
		out = append(out[:n-2], out[n-1]) // e-9 for e-09
	}
	return out
}

// AppendPointer puts a name at the end of an RFC 6901 pointer.
func AppendPointer(path []byte, name string) []byte {
	path = append(path, '/')
	for _, r := range name {
		switch r {
		case '~':
			path = append(path, "~0"...)
		case '/':
			path = append(path, "~1"...)
		default:
			path = utf8.AppendRune(path, r)
		}
	}
	return path
}

// Parent gives the pointer to what the place stands in.
func Parent(pointer string) string { return pointer[:max(0, strings.LastIndexByte(pointer, '/'))] }
